//! Found values beside their limits: of the checks, of what the book calls a cause, and of the mesh and stack.

use crate::Error;
use crate::bay::Bay;
use crate::diagnosis::{Diagnosis, beside};
use crate::measure::{MeshReadings, NEEDED_CONTACT_RATIO, StackReadings};
use toothsayer_fault_book::{Above, Cause, Change, Decision};
use toothsayer_quantity::Kind;

/// What was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Measure {
    /// What an answered check measured, by its id.
    Check(String),
    /// A value of the build as it came, by its key in the registry.
    Input(String),
    /// The contact ratio, the shaft straight.
    ContactRatio,
    /// The width on which the faces meet.
    Overlap,
}

/// Where a limit comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LimitFrom {
    /// The check's own: above it the answer is yes.
    Check,
    /// The book's: above it the cause is there.
    Book,
    /// The book's, as a factor on what is usual for the truck.
    Usual {
        /// The factor.
        factor: f64,
    },
    /// What mesh and stack of this build are set to, as `measure` tells it (common practice, no source).
    Build,
}

/// A value beside its limit, both in SI.
#[derive(Clone, Debug, PartialEq)]
pub struct Beside {
    /// What was found.
    pub measure: Measure,
    /// What it measures.
    pub kind: Kind,
    /// As found.
    pub found: f64,
    /// The limit.
    pub limit: f64,
    /// Where that comes from.
    pub from: LimitFrom,
    /// Whether the value may not fall below the limit, else whether it may not pass it.
    pub least: bool,
}

impl Beside {
    /// Whether the value lies on the wrong side.
    pub fn is_past(&self) -> bool {
        if self.least { self.found < self.limit } else { self.found > self.limit * (1.0 + 1e-9) }
    }
}

/// Everything measured that bears on a cause and has a limit.
pub(super) fn beside_limits(diagnosis: &Diagnosis<'_>, cause: &Cause) -> Result<Vec<Beside>, Error> {
    let mut rows = checks(diagnosis, cause);
    rows.extend(cause.decided_by.iter().filter_map(|decision| decided(diagnosis, decision)));
    rows.extend(of_build(diagnosis, cause)?);
    Ok(rows)
}

fn checks(diagnosis: &Diagnosis<'_>, cause: &Cause) -> Vec<Beside> {
    let linked = diagnosis.job.findings.iter().filter(|finding| cause.findings.contains_key(&finding.check));
    let row = |finding: &toothsayer_job::Finding| {
        let value = diagnosis.book.finding(&finding.check)?.value.as_ref()?;
        Some(Beside {
            measure: Measure::Check(finding.check.clone()),
            kind: value.kind,
            found: finding.value?,
            limit: value.yes_above?,
            from: LimitFrom::Check,
            least: false,
        })
    };
    linked.filter_map(row).collect()
}

fn decided(diagnosis: &Diagnosis<'_>, decision: &Decision) -> Option<Beside> {
    let passing = beside(decision, &diagnosis.job.as_it_came().fields, &diagnosis.usual)?;
    let from = match decision.above {
        Above::Usual(factor) => LimitFrom::Usual { factor },
        Above::Value(_) | Above::Other { .. } => LimitFrom::Book,
    };
    Some(Beside {
        measure: Measure::Input(decision.input.clone()),
        kind: toothsayer_inputs::find(&decision.input).map_or(Kind::Number, toothsayer_inputs::Input::kind),
        found: passing.value,
        limit: passing.limit,
        from,
        least: false,
    })
}

/// What the cause moves in mesh and stack, beside what these bear.
fn of_build(diagnosis: &Diagnosis<'_>, cause: &Cause) -> Result<Vec<Beside>, Error> {
    let moved = |key: &str| {
        cause.present.iter().find_map(|change| match change {
            Change::Add { input, amount_si, .. } if input == key => Some(*amount_si),
            _ => None,
        })
    };
    let [centre, overlap, run_out] = ["gears.centre_distance", "stack.overlap", "motor.run_out"].map(moved);
    if [centre, overlap, run_out].iter().all(Option::is_none) {
        return Ok(Vec::new());
    }
    let build = diagnosis.job.as_it_came().build()?;
    let bay = Bay::new(&build, diagnosis.job.runs_since_gears >= 1.0)?;
    let (mesh, stack) = (MeshReadings::new(&build.gears.spec, &bay), StackReadings::new(&build, &bay));
    let mut rows = Vec::new();
    if let Some(amount_si) = centre {
        rows.extend(distance(&mesh, amount_si > 0.0));
    }
    if centre.is_some_and(|amount_si| amount_si > 0.0) {
        let (found, limit) = (bay.pair.contact_ratio(), NEEDED_CONTACT_RATIO);
        rows.push(row(Measure::ContactRatio, Kind::Number, [found, limit], true));
    }
    if overlap.is_some() {
        let lengths = [stack.overlap.to_m(), stack.least_overlap.to_m()];
        rows.push(row(Measure::Overlap, Kind::Length, lengths, true));
    }
    if run_out.is_some() {
        let lengths = [build.motor.run_out.to_m(), mesh.allowed_run_out.to_m()];
        rows.push(row(Measure::Input("motor.run_out".into()), Kind::Length, lengths, false));
    }
    Ok(rows)
}

/// The centre distance beside the end of its window that the cause drives it to.
fn distance(mesh: &MeshReadings, opens: bool) -> Option<Beside> {
    let window = mesh.to_set()?;
    let limit = if opens { window.high } else { window.low };
    let lengths = [mesh.centre_distance.to_m(), limit.to_m()];
    Some(row(Measure::Input("gears.centre_distance".into()), Kind::Length, lengths, !opens))
}

fn row(measure: Measure, kind: Kind, [found, limit]: [f64; 2], least: bool) -> Beside {
    Beside { measure, kind, found, limit, from: LimitFrom::Build, least }
}
