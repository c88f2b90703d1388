//! `why FILE --explain CAUSE`: one cause in sentences to be read aloud, and the numbers behind them below.

use crate::failure::Failure;
use crate::input::Desk;
use crate::paper::{Cell, Paper, Table};
use crate::words::{chance, list, sentence, value};
use serde_json::{Map, Value, json};
use toothsayer_fault_book::{Cause, FaultBook};
use toothsayer_job::Job;
use toothsayer_quantity::{Kind, nearest};
use toothsayer_verdict::{
    After, Beside, DECIBANS_PER_NAT, Explanation, FIRST_CAUSES, Known, LimitFrom, Measure, STRENGTHS, Speaks, Turn,
    strength,
};

/// The cause that was meant, or what there is.
pub fn known_cause<'a>(book: &'a FaultBook, id: &str) -> Result<&'a Cause, Failure> {
    let ids = || book.causes().iter().map(|cause| cause.id.as_str());
    book.cause(id).ok_or_else(|| {
        let hint = nearest(id, ids())
            .map_or("`toothsayer fault-book` lists the causes".into(), |near| format!("did you mean \"{near}\"?"));
        Failure::usage(format!("the fault book has no cause \"{id}\""), hint)
    })
}

/// For machines.
pub fn as_json(explanation: &Explanation) -> Value {
    let [prior_nat, now_nat] = explanation.log_odds_nat.map_or([None; 2], |odds| odds.map(Some));
    json!({
        "cause": explanation.cause.id,
        "place": explanation.place,
        "prior": explanation.prior,
        "present": explanation.cause.present,
        "mattered": explanation.cause.mattered,
        "next_set": explanation.cause.next_set,
        "decided_by_build": explanation.cause.decided,
        "computed": explanation.cause.computed,
        "shown_by": explanation.shown_by,
        "prior_log_odds_nat": prior_nat,
        "log_odds_nat": now_nat,
        "weights": explanation.speaks.iter().map(weight_json).collect::<Vec<_>>(),
        "limits": explanation.beside.iter().map(beside_json).collect::<Vec<_>>(),
        "neglected": explanation.neglected,
        "open_checks": explanation.turns.iter().map(turn_json).collect::<Vec<_>>(),
    })
}

fn weight_json(speaks: &Speaks) -> Value {
    let (check, answer, by_complaint) = match &speaks.known {
        Known::Check { id, yes, by_complaint } => (Some(id), *yes, *by_complaint),
        Known::Strip => (None, true, true),
    };
    json!({
        "check": check,
        "answer": if answer { "yes" } else { "no" },
        "by_complaint": by_complaint,
        "log_odds_nat": speaks.log_odds_nat,
        "decibans": speaks.log_odds_nat * DECIBANS_PER_NAT,
        "present_without": speaks.without,
        "strength": strength(speaks.log_odds_nat).word,
    })
}

fn beside_json(beside: &Beside) -> Value {
    let suffix = beside.kind.key_suffix();
    let key = |name: &str| if suffix.is_empty() { name.to_owned() } else { format!("{name}_{suffix}") };
    let (what, name) = match &beside.measure {
        Measure::Check(id) => ("check", id.as_str()),
        Measure::Input(key) => ("input", key.as_str()),
        Measure::ContactRatio => ("figure", "contact_ratio"),
        Measure::Overlap => ("figure", "face_overlap"),
    };
    let mut map = Map::new();
    map.insert(what.into(), json!(name));
    map.insert(key("found"), json!(beside.found));
    map.insert(key("limit"), json!(beside.limit));
    map.insert("past".into(), json!(beside.is_past()));
    Value::Object(map)
}

fn turn_json(turn: &Turn) -> Value {
    let after = |after: &Option<After>| {
        let after = after.as_ref()?;
        Some(json!({ "present": after.present, "first_causes": after.first, "reorders": after.reorders }))
    };
    json!({
        "check": turn.check,
        "yes": turn.yes,
        "after_yes": after(&turn.after_yes),
        "after_no": after(&turn.after_no),
        "mean_move": turn.moves,
    })
}

/// For people: what can be read aloud, then the numbers.
pub fn write(desk: &Desk<'_>, job: &Job, explanation: &Explanation, paper: &mut Paper) -> Result<(), Failure> {
    let cause = known_cause(&desk.book, &explanation.cause.id)?;
    let sheet = Sheet { desk, job, explanation, cause };
    paper.paragraph(&sheet.first_sentence());
    paper.paragraph(&sheet.before_and_after());
    sheet.for_and_against(paper);
    sheet.limits(paper);
    sheet.changes(paper);
    sheet.provenance(paper);
    sheet.numbers(paper);
    Ok(())
}

/// What the texts are written from.
struct Sheet<'a> {
    desk: &'a Desk<'a>,
    job: &'a Job,
    explanation: &'a Explanation,
    cause: &'a Cause,
}

impl Sheet<'_> {
    fn first_sentence(&self) -> String {
        let verdict = &self.explanation.cause;
        let there = match verdict.present {
            p if verdict.decided && p > 0.5 => "there, as the truck's own values say".to_owned(),
            _ if verdict.decided => "not there, as the truck's own values say".to_owned(),
            p => format!("{} ({})", likelihood(p), chance(p)),
        };
        let mut told = format!("{}: {there}. {}", sentence(&self.cause.name), self.cause.plain);
        if self.job.strip_happened() {
            told += &format!(
                " Chance that it was there and the teeth would have held without it: {}.",
                chance(verdict.mattered)
            );
        }
        told + &format!(
            " Chance that it is there and takes the next set by itself within {:.0} runs if it stays: {}.",
            self.job.shop.horizon_runs,
            chance(verdict.next_set)
        )
    }

    fn before_and_after(&self) -> String {
        let Some(prior) = self.explanation.prior else {
            return "No chance and no evidence is weighed where the truck's own values decide.".into();
        };
        let counts = self.cause.prior;
        let before = format!(
            "Before anything was looked at, {} of trucks have it ({} in {}; {}).",
            chance(prior),
            counts.yes,
            counts.yes + counts.no,
            self.desk.book.source()
        );
        let now = self.explanation.cause.present;
        let step = match self.explanation.speaks.is_empty() {
            true => "Nothing is known yet that could change that.".to_owned(),
            false if now > prior => format!("All that is known raises it to {}.", chance(now)),
            false => format!("All that is known lowers it to {}.", chance(now)),
        };
        let shown: Vec<String> = self.explanation.shown_by.iter().map(|id| self.question(id)).collect();
        if shown.is_empty() {
            return format!("{before} {step}");
        }
        format!("{before} {step} The yes to {} shows it directly, whatever brought it about.", list(&shown))
    }

    fn question(&self, check: &str) -> String {
        self.desk.book.finding(check).map_or(check.to_owned(), |entry| format!("\"{}\"", entry.question))
    }

    /// What speaks, the strongest first; what hardly does in one line.
    fn for_and_against(&self, paper: &mut Paper) {
        if self.explanation.speaks.is_empty() {
            return;
        }
        paper.heading("What speaks for it and against it");
        let (loud, quiet): (Vec<&Speaks>, Vec<&Speaks>) = self.explanation.speaks.iter().partition(|one| is_loud(one));
        for one in &loud {
            let known = sentence(&self.known(&one.known));
            paper.item("·", &format!("{known} speaks {} {}.", loudness(one), side(one)));
        }
        if loud.is_empty() {
            paper.paragraph("Nothing that is known says much about it.");
        }
        if !quiet.is_empty() {
            let names: Vec<String> = quiet.iter().map(|one| self.known(&one.known)).collect();
            paper.item("·", &format!("Hardly says anything either way: {}.", list(&names)));
        }
        let against = self.explanation.speaks.iter().any(|one| is_loud(one) && one.log_odds_nat < 0.0);
        if !loud.is_empty() && !against {
            paper.paragraph("Nothing that is known speaks against it.");
        }
    }

    /// A thing that is known, in words.
    fn known(&self, known: &Known) -> String {
        match known {
            Known::Strip => "that the teeth went".to_owned(),
            Known::Check { id, yes, by_complaint } => {
                let answer = if *yes { "yes" } else { "no" };
                let by = if *by_complaint { " (the complaint says so)" } else { "" };
                format!("{} {answer}{by}", self.question(id))
            }
        }
    }

    fn limits(&self, paper: &mut Paper) {
        if self.explanation.beside.is_empty() {
            return;
        }
        paper.heading("Found, and what it may be");
        for beside in &self.explanation.beside {
            paper.item("·", &self.beside(beside));
        }
    }

    fn beside(&self, beside: &Beside) -> String {
        let shown = |si: f64| value(beside.kind, si, self.desk.system);
        let what = match &beside.measure {
            Measure::Check(id) => self.question(id),
            Measure::Input(key) => toothsayer_inputs::find(key).map_or(key.clone(), |input| sentence(input.help)),
            Measure::ContactRatio => "Contact ratio (pairs of teeth that carry at a time, on average)".into(),
            Measure::Overlap => "Width on which the faces meet".into(),
        };
        let limit = shown(beside.limit);
        let bound = match beside.from {
            LimitFrom::Check => format!("above {limit} the answer counts as yes"),
            LimitFrom::Book => format!("above {limit} it counts as this cause"),
            LimitFrom::Usual { factor } => {
                format!("above {limit}, {factor:.2} times what is usual here, it counts as this cause")
            }
            LimitFrom::Build if beside.least => format!("this truck needs at least {limit}"),
            LimitFrom::Build => format!("this truck bears at most {limit}"),
        };
        let word = match (beside.is_past(), beside.least) {
            (true, true) => "short of it",
            (true, false) => "past it",
            (false, _) => "within it",
        };
        format!("{what}: found {}; {bound}: {word}.", shown(beside.found))
    }

    fn changes(&self, paper: &mut Paper) {
        paper.heading("What would change this");
        let turns = &self.explanation.turns;
        let Some(first) = turns.first() else {
            let told = if self.explanation.prior.is_none() {
                "Another value in the file, where one of these is wrong: no check changes what the build decides."
            } else {
                "No open check would move it by as much as half a percentage point."
            };
            paper.paragraph(told);
            return;
        };
        let entry = self.desk.book.finding(&first.check);
        let how = entry.map_or("", |entry| entry.how.as_str());
        paper.paragraph(&format!("Most would be told by {} {how}", self.question(&first.check)));
        for caution in entry.iter().flat_map(|entry| &entry.cautions).filter_map(|id| self.desk.book.caution(id)) {
            paper.item("  caution:", caution);
        }
        for turn in turns {
            paper.item("·", &format!("{} {}", self.question(&turn.check), self.turn(turn)));
        }
        if !turns.iter().any(reorders) {
            paper.paragraph(&format!(
                "None of these answers would change the order of the causes that come first (at most {FIRST_CAUSES})."
            ));
        }
    }

    fn turn(&self, turn: &Turn) -> String {
        let branch = |answer: &str, after: &Option<After>| {
            let after = after.as_ref()?;
            let order =
                if after.reorders { format!(", and first would come {}", self.names(after)) } else { String::new() };
            Some(format!("{answer}: {}{order}", chance(after.present)))
        };
        let branches = [branch("Yes", &turn.after_yes), branch("No", &turn.after_no)];
        format!("{}.", branches.into_iter().flatten().collect::<Vec<_>>().join(". "))
    }

    fn names(&self, after: &After) -> String {
        let name = |id: &String| self.desk.book.cause(id).map_or(id.clone(), |cause| cause.name.clone());
        after.first.iter().map(name).collect::<Vec<_>>().join(", then ")
    }

    fn provenance(&self, paper: &mut Paper) {
        let verdict = &self.explanation.cause;
        let there = if verdict.decided {
            "Whether it is there is read off the truck's own values"
        } else {
            "The chance that it is there comes from the fault book's experience and the answers, by exact inference"
        };
        let does = if verdict.computed {
            "what it does to the teeth is computed from this truck's gears, joints and blows"
        } else {
            "what it does to the teeth is the fault book's estimate, not computed"
        };
        paper.blank();
        paper.paragraph(&format!("{there}; {does}. A cause is a probability, not an accusation."));
    }

    fn numbers(&self, paper: &mut Paper) {
        let explanation = self.explanation;
        paper.heading("For an engineer");
        let odds_of = |nat: f64| [number(nat.exp()), signed(nat, 3), signed(nat * DECIBANS_PER_NAT, 1)];
        if let Some([prior, now]) = explanation.log_odds_nat {
            let mut table = Table::new(&["odds of the cause", "probability>", "odds>", "ln odds, nat>", "decibans>"]);
            for (name, nat) in [("beforehand", prior), ("by all that is known", now)] {
                let [odds, nats, decibans] = odds_of(nat);
                let cells = [name.to_owned(), number(1.0 / (1.0 + (-nat).exp())), odds, nats, decibans];
                table.row(cells.map(Cell::plain).into());
            }
            let [factor, nats, decibans] = odds_of(now - prior);
            let cells = ["the whole step".to_owned(), String::new(), format!("x {factor}"), nats, decibans];
            table.row(cells.map(Cell::plain).into());
            paper.table(&table);
            paper.blank();
        }
        if !explanation.speaks.is_empty() {
            paper.table(&self.weights(&odds_of));
            paper.blank();
            paper.paragraph(
                "A weight is the difference of the log-odds with and without that one answer, all others known \
                 (weight of evidence, Good 1985). Weights do not add up to the whole step: answers that say the same \
                 share what they say.",
            );
        }
        let verdict = &explanation.cause;
        paper.item("present:", &number(verdict.present));
        paper.item("mattered:", &number(verdict.mattered));
        paper.item("takes the next set:", &number(verdict.next_set));
        paper.item("place in the ranking:", &explanation.place.to_string());
        paper.item("share of the evidence passed over:", &format!("at most {}", number(explanation.neglected)));
        let scale: Vec<String> =
            STRENGTHS.iter().map(|row| format!("{} from {}", row.word, row.from_decibans)).collect();
        paper.item("words by decibans:", &format!("{}.", scale.join(", ")));
    }

    fn weights(&self, odds_of: &dyn Fn(f64) -> [String; 3]) -> Table {
        let heads = ["evidence", "answer", "odds x>", "weight, nat>", "decibans>", "without it>"];
        let mut table = Table::new(&heads);
        for one in &self.explanation.speaks {
            let (name, answer) = match &one.known {
                Known::Strip => ("teeth went".to_owned(), "yes"),
                Known::Check { id, yes, .. } => (id.clone(), if *yes { "yes" } else { "no" }),
            };
            let [factor, nats, decibans] = odds_of(one.log_odds_nat);
            let cells = [name, answer.to_owned(), factor, nats, decibans, number(one.without)];
            table.row(cells.map(Cell::plain).into());
        }
        table
    }
}

/// A figure of the engineer's tables: four digits.
fn number(figure: f64) -> String {
    value(Kind::Number, figure, toothsayer_quantity::System::Metric)
}

/// With its sign, and none on nothing.
fn signed(figure: f64, decimals: usize) -> String {
    let text = format!("{figure:+.decimals$}");
    if text.chars().any(|digit| ('1'..='9').contains(&digit)) { text } else { text.replace(['+', '-'], "") }
}

/// How likely a cause is, in words.
fn likelihood(present: f64) -> &'static str {
    match present {
        p if p >= 0.95 => "almost surely there",
        p if p >= 0.7 => "likely there",
        p if p >= 0.3 => "it may be there",
        p if p >= 0.05 => "not likely there",
        _ => "hardly there",
    }
}

fn is_loud(speaks: &Speaks) -> bool {
    strength(speaks.log_odds_nat) != &STRENGTHS[0]
}

fn loudness(speaks: &Speaks) -> &'static str {
    strength(speaks.log_odds_nat).word
}

fn side(speaks: &Speaks) -> &'static str {
    if speaks.log_odds_nat > 0.0 { "for it" } else { "against it" }
}

fn reorders(turn: &Turn) -> bool {
    [&turn.after_yes, &turn.after_no].into_iter().flatten().any(|after| after.reorders)
}
