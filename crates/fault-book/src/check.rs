//! The schema beyond single entries: ids, references, probabilities, cycles.

use crate::book::FaultBook;
use crate::problem::{Problem, place_of_id};
use std::collections::BTreeSet;
use toothsayer_quantity::nearest;

struct Checker<'a> {
    text: &'a str,
    problems: Vec<Problem>,
}

impl Checker<'_> {
    fn say(&mut self, id: &str, message: String, hint: String) {
        let (line, column) = place_of_id(self.text, id);
        self.problems.push(Problem { line, column, id: id.to_owned(), message, hint });
    }

    fn refer(&mut self, id: &str, what: &str, wanted: &str, known: &[&str]) {
        if !known.contains(&wanted) {
            let hint = nearest(wanted, known.iter().copied())
                .map_or_else(|| format!("known: {}", known.join(", ")), |near| format!("did you mean \"{near}\"?"));
            self.say(id, format!("refers to the {what} \"{wanted}\", which is not in the book"), hint);
        }
    }

    fn chance(&mut self, id: &str, what: &str, p: f64) {
        if !(0.0..=1.0).contains(&p) {
            self.say(id, format!("{what} is {p}, outside 0 to 1"), "write a probability".into());
        }
    }

    fn once<'i>(&mut self, ids: impl Iterator<Item = &'i str>) {
        let mut seen = BTreeSet::new();
        for id in ids {
            if !seen.insert(id) {
                self.say(id, "stands twice".into(), "give each entry an id of its own".into());
            }
        }
    }

    fn minutes(&mut self, id: &str, minutes: f64) {
        if !(0.0..=600.0).contains(&minutes) {
            self.say(id, format!("takes {minutes} minutes, outside 0 to 600"), "write minutes of work".into());
        }
    }
}

/// Everything wrong in the book.
pub(crate) fn check(book: &FaultBook, text: &str) -> Vec<Problem> {
    let mut checker = Checker { text, problems: Vec::new() };
    ids(book, &mut checker);
    causes(book, &mut checker);
    findings(book, &mut checker);
    work(book, &mut checker);
    checker.problems
}

fn ids(book: &FaultBook, checker: &mut Checker<'_>) {
    checker.once(book.causes().iter().map(|cause| cause.id.as_str()));
    checker.once(book.modes().iter().map(|mode| mode.id.as_str()));
    checker.once(book.findings().iter().map(|finding| finding.id.as_str()));
    checker.once(book.removals().iter().map(|removal| removal.id.as_str()));
    checker.once(book.steps().iter().map(|step| step.id.as_str()));
    for mode in book.modes() {
        checker.chance(&mode.id, "its leak", mode.leak);
    }
}

fn causes(book: &FaultBook, checker: &mut Checker<'_>) {
    let modes: Vec<&str> = book.modes().iter().map(|mode| mode.id.as_str()).collect();
    let steps: Vec<&str> = book.steps().iter().map(|step| step.id.as_str()).collect();
    let findings = book.finding_ids();
    for cause in book.causes() {
        if !(cause.prior.yes > 0.0 && cause.prior.no > 0.0) {
            checker.say(&cause.id, "its prior needs positive counts".into(), "prior = { yes = 1, no = 9 }".into());
        }
        for (kind, links, known) in [("mode", &cause.modes, &modes), ("finding", &cause.findings, &findings)] {
            for (to, p) in links {
                checker.refer(&cause.id, kind, to, known);
                checker.chance(&cause.id, &format!("its link to \"{to}\""), *p);
            }
        }
        for step in &cause.cured_by {
            checker.refer(&cause.id, "step", step, &steps);
        }
        if cause.cured_by.is_empty() || cause.findings.is_empty() {
            let hint = "name its step in `cured_by` and its checks in `findings`".to_owned();
            checker.say(&cause.id, "has no cure or no finding".into(), hint);
        }
    }
    let undecided = book.causes().iter().filter(|cause| cause.is_computed()).count();
    if undecided > crate::MOST_COMPUTED {
        let message = format!("{undecided} causes are computed, more than {}", crate::MOST_COMPUTED);
        checker.say("", message, "link the others to their modes by a probability".into());
    }
}

fn findings(book: &FaultBook, checker: &mut Checker<'_>) {
    let modes: Vec<&str> = book.modes().iter().map(|mode| mode.id.as_str()).collect();
    for finding in book.findings() {
        checker.chance(&finding.id, "its leak", finding.leak);
        checker.minutes(&finding.id, finding.minutes);
        for (from, p) in &finding.modes {
            checker.refer(&finding.id, "mode", from, &modes);
            checker.chance(&finding.id, &format!("its link from \"{from}\""), *p);
        }
        needs_and_cautions(book, checker, &finding.id, &finding.needs, &finding.cautions);
    }
}

fn work(book: &FaultBook, checker: &mut Checker<'_>) {
    for removal in book.removals() {
        checker.minutes(&removal.id, removal.off_minutes + removal.on_minutes);
        let cautions = [&removal.cautions[..], &removal.cautions_back].concat();
        needs_and_cautions(book, checker, &removal.id, &removal.needs, &cautions);
        tightens(checker, &removal.id, removal.tightens.as_deref());
        if book.needs_itself(&removal.id) {
            checker.say(&removal.id, "must be off before itself".into(), "break the circle in `needs`".into());
        }
    }
    for step in book.steps() {
        checker.minutes(&step.id, step.minutes);
        needs_and_cautions(book, checker, &step.id, &step.needs, &step.cautions);
        tightens(checker, &step.id, step.tightens.as_deref());
    }
}

fn tightens(checker: &mut Checker<'_>, id: &str, carries: Option<&str>) {
    if let Some(carries) = carries {
        checker.refer(id, "joint that carries the", carries, toothsayer_inputs::CARRIED);
    }
}

fn needs_and_cautions(book: &FaultBook, checker: &mut Checker<'_>, id: &str, needs: &[String], cautions: &[String]) {
    let removals: Vec<&str> = book.removals().iter().map(|removal| removal.id.as_str()).collect();
    let known: Vec<&str> = book.cautions().iter().map(|caution| caution.id.as_str()).collect();
    needs.iter().for_each(|need| checker.refer(id, "removal", need, &removals));
    cautions.iter().for_each(|caution| checker.refer(id, "caution", caution, &known));
}
