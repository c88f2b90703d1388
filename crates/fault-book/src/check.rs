//! The schema beyond single entries: ids, references, chances, circles.

use crate::book::FaultBook;
use crate::read::{FREED, Places, near_or_all};
use std::collections::BTreeSet;

struct Checker<'c, 'p> {
    places: &'c mut Places<'p>,
}

impl Checker<'_, '_> {
    fn say(&mut self, id: &str, key: &str, message: String, hint: String) {
        self.places.say(id, key, message, hint);
    }

    /// `wanted`, which stands under `key` of the entry `id`, must be among `known`.
    fn refer(&mut self, id: &str, key: &str, (what, known): (&str, &[&str]), wanted: &str) {
        if !known.contains(&wanted) {
            let message = format!("refers to the {what} \"{wanted}\", which is not in the book");
            self.say(id, &format!("{key}.{wanted}"), message, near_or_all(wanted, known));
        }
    }

    fn chance(&mut self, id: &str, key: &str, what: &str, p: f64) {
        if !(0.0..=1.0).contains(&p) {
            self.say(id, key, format!("{what} is {p}, outside 0 to 1"), "write a probability".into());
        }
    }

    fn minutes(&mut self, id: &str, key: &str, minutes: f64) {
        if !(0.0..=600.0).contains(&minutes) {
            let message = format!("takes {minutes} minutes, outside 0 to 600");
            self.say(id, key, message, "write minutes of work".into());
        }
    }
}

/// Most steps, and most removals, of a book: every combination of repairs is priced from them.
pub const MOST_STEPS: usize = 512;

/// Whether each id of a book stands once among its kind.
pub(crate) fn once(book: &FaultBook, places: &mut Places<'_>) {
    let mut each = |ids: Vec<&str>| {
        let mut seen = BTreeSet::new();
        for id in ids {
            if !seen.insert(id) {
                places.say(id, "", "stands twice".into(), "give each entry an id of its own".into());
            }
        }
    };
    each(book.cautions().iter().map(|entry| entry.id.as_str()).collect());
    each(book.removals().iter().map(|entry| entry.id.as_str()).collect());
    each(book.modes().iter().map(|entry| entry.id.as_str()).collect());
    each(book.complaints().iter().map(|entry| entry.id.as_str()).collect());
    each(book.causes().iter().map(|entry| entry.id.as_str()).collect());
    each(book.findings().iter().map(|entry| entry.id.as_str()).collect());
    each(book.steps().iter().map(|entry| entry.id.as_str()).collect());
}

/// Everything wrong in the whole book.
pub(crate) fn check(book: &FaultBook, places: &mut Places<'_>) {
    let mut checker = Checker { places };
    for mode in book.modes() {
        checker.chance(&mode.id, "leak", "its leak", mode.leak);
    }
    causes(book, &mut checker);
    findings(book, &mut checker);
    for (what, count) in [("steps", book.steps().len()), ("removals", book.removals().len())] {
        if count > MOST_STEPS {
            let message = format!("the book has {count} {what}, more than {MOST_STEPS}");
            checker.say("", "", message, format!("leave out {what} that no cause of the shop needs"));
        }
    }
    work(book, &mut checker);
    visits(book, &mut checker);
}

fn causes(book: &FaultBook, checker: &mut Checker<'_, '_>) {
    if book.causes().is_empty() {
        let hint = "write [[causes]], or put extends = \"built-in\" at the top".to_owned();
        checker.say("", "", "the book has no cause".into(), hint);
    }
    let modes: Vec<&str> = book.modes().iter().map(|mode| mode.id.as_str()).collect();
    let steps: Vec<&str> = book.steps().iter().map(|step| step.id.as_str()).collect();
    let findings = book.finding_ids();
    for cause in book.causes() {
        if !(cause.prior.yes > 0.0 && cause.prior.no > 0.0) {
            let hint = "prior = { yes = 1, no = 9 }".to_owned();
            checker.say(&cause.id, "prior", "its prior needs positive counts".into(), hint);
        }
        for (key, kind, links, known) in
            [("modes", "mode", &cause.modes, &modes), ("findings", "finding", &cause.findings, &findings)]
        {
            for (to, p) in links {
                checker.refer(&cause.id, key, (kind, known), to);
                checker.chance(&cause.id, &format!("{key}.{to}"), &format!("its link to \"{to}\""), *p);
            }
        }
        for step in &cause.cured_by {
            checker.refer(&cause.id, "cured_by", ("step", &steps), step);
        }
        cautions(book, checker, &cause.id, "cautions", &cause.cautions);
        if cause.cured_by.is_empty() || cause.findings.is_empty() {
            let hint = "name its step in `cured_by` and its checks in `findings`".to_owned();
            checker.say(&cause.id, "", "has no cure or no finding".into(), hint);
        }
    }
}

fn findings(book: &FaultBook, checker: &mut Checker<'_, '_>) {
    let modes: Vec<&str> = book.modes().iter().map(|mode| mode.id.as_str()).collect();
    for finding in book.findings() {
        checker.chance(&finding.id, "leak", "its leak", finding.leak);
        checker.minutes(&finding.id, "minutes", finding.minutes);
        for (from, p) in &finding.modes {
            checker.refer(&finding.id, "modes", ("mode", &modes), from);
            checker.chance(&finding.id, &format!("modes.{from}"), &format!("its link from \"{from}\""), *p);
        }
        needs(book, checker, &finding.id, &finding.needs);
        cautions(book, checker, &finding.id, "cautions", &finding.cautions);
        if let Some(freed) = &finding.frees {
            checker.refer(&finding.id, "frees", ("joint that carries the", &FREED), freed);
        }
    }
}

fn work(book: &FaultBook, checker: &mut Checker<'_, '_>) {
    for removal in book.removals() {
        checker.minutes(&removal.id, "off_minutes", removal.off_minutes);
        checker.minutes(&removal.id, "on_minutes", removal.on_minutes);
        needs(book, checker, &removal.id, &removal.needs);
        cautions(book, checker, &removal.id, "cautions", &removal.cautions);
        cautions(book, checker, &removal.id, "cautions_back", &removal.cautions_back);
        if book.needs_itself(&removal.id) {
            let message = "must be off before itself".to_owned();
            checker.say(&removal.id, "needs", message, "break the circle in `needs`".into());
        }
    }
    for step in book.steps() {
        checker.minutes(&step.id, "minutes", step.minutes);
        needs(book, checker, &step.id, &step.needs);
        cautions(book, checker, &step.id, "cautions", &step.cautions);
    }
}

/// What customers come with: words of a job file, and steps and findings that the book has.
fn visits(book: &FaultBook, checker: &mut Checker<'_, '_>) {
    let steps: Vec<&str> = book.steps().iter().map(|step| step.id.as_str()).collect();
    let findings = book.finding_ids();
    let words = toothsayer_inputs::COMPLAINTS;
    for complaint in book.complaints() {
        if !words.contains(&complaint.id.as_str()) {
            let message = "is no complaint of a job file".to_owned();
            checker.say(&complaint.id, "", message, near_or_all(&complaint.id, words));
        }
        complaint.implies.iter().for_each(|id| checker.refer(&complaint.id, "implies", ("finding", &findings), id));
        complaint.steps.iter().for_each(|id| checker.refer(&complaint.id, "steps", ("step", &steps), id));
    }
    for (key, ids) in [("always", &book.plans().always), ("new_truck", &book.plans().new_truck)] {
        ids.iter().for_each(|id| checker.refer("plans", key, ("step", &steps), id));
    }
}

fn needs(book: &FaultBook, checker: &mut Checker<'_, '_>, id: &str, needs: &[String]) {
    let removals: Vec<&str> = book.removals().iter().map(|removal| removal.id.as_str()).collect();
    needs.iter().for_each(|need| checker.refer(id, "needs", ("removal", &removals), need));
}

fn cautions(book: &FaultBook, checker: &mut Checker<'_, '_>, id: &str, key: &str, cautions: &[String]) {
    let known: Vec<&str> = book.cautions().iter().map(|caution| caution.id.as_str()).collect();
    cautions.iter().for_each(|caution| checker.refer(id, key, ("caution", &known), caution));
}
