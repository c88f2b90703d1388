//! Reading each kind of entry.

use super::entry::Entry;
use crate::model::{Cause, Caution, Complaint, Figure, Finding, Mode, Plans, Prior, Removal, Step, Trigger};

const FIGURES: [(&str, Figure); 2] = [("mesh-play", Figure::MeshPlay), ("set-screw", Figure::SetScrew)];
const TRIGGERS: [(&str, Trigger); 3] =
    [("root", Trigger::Root), ("engagement", Trigger::Engagement), ("overlap", Trigger::Overlap)];

impl Entry<'_, '_, '_> {
    pub(crate) fn caution(&self) -> Caution {
        let caution = Caution { id: self.text("id"), text: self.text("text") };
        self.finish();
        caution
    }

    pub(crate) fn removal(&self) -> Removal {
        let removal = Removal {
            id: self.text("id"),
            name: self.text("name"),
            off_minutes: self.number("off_minutes"),
            on_minutes: self.number("on_minutes"),
            needs: self.list("needs"),
            tools: self.list("tools"),
            cautions: self.list("cautions"),
            cautions_back: self.list("cautions_back"),
            tightens: self.tightened(),
            figure: self.word("figure", &FIGURES),
        };
        self.finish();
        removal
    }

    pub(crate) fn mode(&self) -> Mode {
        let mode = Mode {
            id: self.text("id"),
            name: self.text("name"),
            plain: self.text("plain"),
            leak: self.number("leak"),
            computed: self.word("computed", &TRIGGERS),
        };
        self.finish();
        mode
    }

    fn prior(&self) -> Prior {
        let Some(prior) = self.get("prior").and_then(|value| self.inner("prior", value)) else {
            if self.get("prior").is_none() {
                self.say(self.byte, "has no `prior`".into(), "prior = { yes = 1, no = 9 }".into());
            }
            return Prior { yes: 1.0, no: 1.0 };
        };
        let read = Prior { yes: prior.number("yes"), no: prior.number("no") };
        prior.finish();
        read
    }

    pub(crate) fn cause(&self) -> Cause {
        let cause = Cause {
            id: self.text("id"),
            name: self.text("name"),
            plain: self.text("plain"),
            prior: self.prior(),
            outlives_gear_change: self.flag("outlives_gear_change"),
            present: self.changes("present"),
            decided_by: self.decisions(),
            absent: self.changes("absent"),
            modes: self.links("modes"),
            findings: self.links("findings"),
            cured_by: self.list("cured_by"),
            cautions: self.list("cautions"),
        };
        self.finish();
        cause
    }

    pub(crate) fn finding(&self) -> Finding {
        let finding = Finding {
            id: self.text("id"),
            question: self.text("question"),
            how: self.text("how"),
            minutes: self.number("minutes"),
            order: self.number("order"),
            needs: self.list("needs"),
            tools: self.list("tools"),
            cautions: self.list("cautions"),
            leak: self.number("leak"),
            modes: self.links("modes"),
            frees: self.freed(),
            means: self.changes("means"),
            value: self.measured(),
        };
        self.finish();
        finding
    }

    pub(crate) fn step(&self) -> Step {
        let step = Step {
            id: self.text("id"),
            name: self.text("name"),
            what: self.text("what"),
            minutes: self.number("minutes"),
            stage: self.text_if("stage"),
            order: self.number("order"),
            needs: self.list("needs"),
            parts: self.list("parts"),
            tools: self.list("tools"),
            cautions: self.list("cautions"),
            tightens: self.tightened(),
            figure: self.word("figure", &FIGURES),
        };
        self.finish();
        step
    }

    pub(crate) fn complaint(&self) -> Complaint {
        let complaint = Complaint {
            id: self.text("id"),
            name: self.text("name"),
            plain: self.text("plain"),
            stripped: self.flag("stripped"),
            implies: self.list("implies"),
            steps: self.list("steps"),
        };
        self.finish();
        complaint
    }

    pub(crate) fn plans(&self) -> Plans {
        let plans = Plans { always: self.list("always"), new_truck: self.list("new_truck") };
        self.finish();
        plans
    }
}
