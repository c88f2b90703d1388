//! The trucks that stand behind the sets of causes.

use super::Computed;
use crate::Error;
use toothsayer_fault_book::{Change, FaultBook};
use toothsayer_job::{Build, Fields, Job, Origin, Sheet};

/// Inputs that bear on what the gears can take or how often they are asked, not on the blow.
const STILL: [&str; 10] = [
    "stack.",
    "support.",
    "motor.run_out",
    "gears.pinion.hardness",
    "gears.spur.hardness",
    "driver.landings",
    "driver.landings_on_throttle",
    "driver.launches",
    "driver.full_brakes",
    "driver.reversals",
];
/// The input that opens the mesh: blows are interpolated along it.
pub(super) const OPENS: &str = "gears.centre_distance";

/// How severe the causes of a set are, all of them alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Severity {
    Low,
    Usual,
    High,
}

/// Severities with their weights.
const SEVERITIES: [(Severity, f64); 3] = [(Severity::Low, 0.25), (Severity::Usual, 0.5), (Severity::High, 0.25)];

/// The computed causes of a job.
#[derive(Clone, Copy)]
pub(super) struct Causes<'a> {
    /// The truck without what findings say of causes.
    pub(super) base: &'a Sheet,
    pub(super) computed: &'a [Computed<'a>],
    pub(super) usual: &'a Fields,
}

impl Causes<'_> {
    /// The severities at which a set is judged: one where none of its causes has a range.
    pub(super) fn severities(&self, set: usize) -> &'static [(Severity, f64)] {
        let ranges = |change: &Change| matches!(change, Change::Add { low, high, .. } if high > low);
        let spread = self.of(set).any(|one| one.present.iter().any(ranges));
        if spread { &SEVERITIES } else { &[(Severity::Usual, 1.0)] }
    }

    /// The truck with the causes of `set` there and the others not.
    pub(super) fn build(&self, set: usize, severity: Severity) -> Result<Build, Error> {
        Ok(self.sheet(set, |change| Some(severe(change, severity))).build()?)
    }

    /// The truck by whose blows a set is judged, its mesh opened by `opening_m` beyond the one that was set.
    pub(super) fn hit(&self, movers: usize, opening_m: f64) -> Sheet {
        let mut sheet = self.sheet(movers, |change| (change.input() != Some(OPENS)).then(|| change.clone()));
        let open = Change::Add { input: OPENS.into(), amount_si: opening_m, low: opening_m, high: opening_m };
        sheet.change(&[open], self.usual, &Origin::Change("opened".into()));
        sheet
    }

    fn sheet(&self, set: usize, present: impl Fn(&Change) -> Option<Change>) -> Sheet {
        let mut sheet = self.base.clone();
        for (bit, computed) in self.computed.iter().enumerate() {
            let because = Origin::Change(computed.cause.id.clone());
            if set >> bit & 1 == 1 {
                let changes: Vec<Change> = computed.present.iter().filter_map(&present).collect();
                sheet.change(&changes, self.usual, &because);
            } else {
                sheet.change(&computed.cause.absent, self.usual, &because);
            }
        }
        sheet
    }

    /// How far a set opens the mesh, m.
    pub(super) fn opening_m(&self, set: usize, severity: Severity) -> f64 {
        let changes = self.of(set).flat_map(|one| &one.present);
        let amount = |change: &Change| match severe(change, severity) {
            Change::Add { input, amount_si, .. } if input == OPENS => Some(amount_si),
            _ => None,
        };
        changes.filter_map(amount).sum()
    }

    /// The causes that move the blows otherwise than by opening the mesh.
    pub(super) fn movers(&self) -> usize {
        let moves = |computed: &Computed<'_>| {
            let mut inputs = computed.present.iter().chain(&computed.cause.absent).filter_map(Change::input);
            inputs.any(|input| input != OPENS && !STILL.iter().any(|still| input.starts_with(still)))
        };
        self.computed.iter().enumerate().filter(|(_, computed)| moves(computed)).map(|(bit, _)| 1 << bit).sum()
    }

    fn of(&self, set: usize) -> impl Iterator<Item = &Computed<'_>> {
        self.computed.iter().enumerate().filter(move |(bit, _)| set >> bit & 1 == 1).map(|(_, computed)| computed)
    }
}

/// The truck as built, but for what was found of the inputs that decide on a cause: wheels and settings as they are.
pub(super) fn base(job: &Job, book: &FaultBook) -> Sheet {
    let mut base = job.built.clone();
    let decisive = book.causes().iter().flat_map(|cause| &cause.decided_by).map(|decision| decision.input.as_str());
    for (key, entry) in decisive.filter_map(|input| job.as_it_came().fields.numbers.get_key_value(input)) {
        base.fields.numbers.insert(key, entry.clone());
    }
    base
}

fn severe(change: &Change, severity: Severity) -> Change {
    match (change, severity) {
        (Change::Add { input, low, .. }, Severity::Low) => {
            Change::Add { input: input.clone(), amount_si: *low, low: *low, high: *low }
        }
        (Change::Add { input, high, .. }, Severity::High) => {
            Change::Add { input: input.clone(), amount_si: *high, low: *high, high: *high }
        }
        _ => change.clone(),
    }
}
