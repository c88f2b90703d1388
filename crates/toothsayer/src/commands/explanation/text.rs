//! A cause in sentences that can be read to a customer.

use super::{known_cause, numbers};
use crate::failure::Failure;
use crate::input::Desk;
use crate::paper::Paper;
use crate::words::{chance, list, sentence, value};
use toothsayer_fault_book::Cause;
use toothsayer_job::Job;
use toothsayer_verdict::{
    After, Beside, Explanation, FIRST_CAUSES, Known, LimitFrom, Measure, STRENGTHS, Speaks, Turn, strength,
};

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
    numbers::write(explanation, paper);
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
            LimitFrom::Build => {
                let end = if beside.least { "least" } else { "most" };
                format!("at {end} {limit} is wanted in this truck (common practice, no source)")
            }
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
