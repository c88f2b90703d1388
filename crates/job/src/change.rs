//! Applying the fault book's changes to a sheet.

use crate::sheet::{Entry, Fields, JointFields, Origin, Sheet};
use crate::stack;
use toothsayer_fault_book::Change;

impl Sheet {
    /// Applies `changes`; `usual` gives what "usual" means for an input, `because` says why in the sheet.
    pub fn change(&mut self, changes: &[Change], usual: &Fields, because: &Origin) {
        let rocks = changes.iter().any(|change| matches!(change, Change::Frees { carries } if moves_motor(carries)));
        for change in changes {
            match change {
                Change::Set { input, to_si } => self.set(input, Entry::exact(*to_si, because.clone())),
                Change::Add { input, amount_si, low, high } => {
                    self.add(input, [*low, *amount_si, *high], because);
                    if rocks && input == "gears.centre_distance" {
                        self.rock_travel_m += amount_si;
                    }
                }
                Change::Scale { input, by } => self.scale(input, *by, because),
                Change::Usual { input } => {
                    if let Some(entry) = usual.numbers.get(input.as_str()) {
                        self.set(input, Entry { origin: because.clone(), ..entry.clone() });
                    }
                }
                Change::Frees { carries } => self.free(carries),
            }
        }
        if changes.iter().any(|change| change.input() == Some("gears.backlash")) {
            self.fields.remove("gears.centre_distance");
            *self = crate::start::complete(self);
        }
    }

    /// The value of an input, or what follows of it from the stack's lengths.
    pub fn number(&self, key: &str) -> Option<f64> {
        self.current(key).map(|entry| entry.value)
    }

    /// Lets whatever holds `carries` hold it no longer.
    pub fn free(&mut self, carries: &str) {
        if carries == "pinion" {
            self.pinion_free = true;
        }
        for joint in self.joints.iter_mut().filter(|joint| joint.carries() == carries) {
            joint.free = true;
        }
    }

    /// Lets every joint that carries `carries` hold again, freshly tightened.
    pub fn tighten(&mut self, carries: &str) {
        let fresh = |joint: &mut JointFields| {
            joint.free = false;
            let runs = Entry::exact(0.0, Origin::Change("tightened".into()));
            joint.fields.numbers.insert("joints.runs_since_tightened", runs);
        };
        self.joints.iter_mut().filter(|joint| joint.carries() == carries).for_each(fresh);
    }

    fn set(&mut self, key: &str, entry: Entry) {
        if let Some(input) = toothsayer_inputs::find(key) {
            self.fields.numbers.insert(input.key, entry);
        }
    }

    fn add(&mut self, key: &str, [low, amount, high]: [f64; 3], because: &Origin) {
        let Some(base) = self.current(key) else { return };
        let entry =
            Entry { value: base.value + amount, low: base.low + low, high: base.high + high, origin: because.clone() };
        self.set(key, entry);
    }

    fn scale(&mut self, key: &str, factor: f64, because: &Origin) {
        if let Some(base) = self.current(key) {
            self.set(key, base.scaled(factor, because.clone()));
        }
    }

    /// The entry under `key`, or what follows from the stack's lengths.
    fn current(&self, key: &str) -> Option<Entry> {
        let value = |key| self.fields.number(key).ok_or(());
        let derived = || {
            let follows = match key {
                "stack.overlap" => stack::overlap_m(value),
                "stack.bearing_gap" => stack::gap_m(value),
                _ => Err(()),
            };
            follows.ok().map(|value| Entry::exact(value, Origin::Given))
        };
        self.fields.numbers.get(key).cloned().or_else(derived)
    }
}

fn moves_motor(carries: &str) -> bool {
    carries == "motor" || carries == "mount"
}
