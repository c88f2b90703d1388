//! What is usual for a truck: as its maker sold it, or else as its class is.

use toothsayer_job::{Entry, Fields, Job, Origin};

/// Mass of a usual wheel as a share of the truck's (estimate, no source).
const WHEEL_SHARE: f64 = 0.04;

/// Values that "usual" stands for in the fault book: the stock truck's where the file names one, else the class's.
pub(crate) fn usual(job: &Job) -> Fields {
    if job.has_stock {
        return job.stock.fields.clone();
    }
    let mut fields = job.built.fields.clone();
    if let Some(mass_kg) = fields.number("truck.mass") {
        let wheel = Entry::exact(WHEEL_SHARE * mass_kg, Origin::Rule("4 % of the truck's mass"));
        fields.numbers.insert("wheels.mass", wheel);
    }
    fields.lay(&job.usual_driver);
    fields
}

/// What is known to be usual for the truck, and not merely taken over from how it came: the stock truck's values where
/// the file names them; else the class's wheels and driver.
pub(crate) fn known_usual(job: &Job) -> Fields {
    let usual = usual(job);
    if job.has_stock {
        return usual;
    }
    let mut known = Fields::default();
    if let Some(wheel) = usual.numbers.get("wheels.mass") {
        known.numbers.insert("wheels.mass", wheel.clone());
    }
    known.lay(&job.usual_driver);
    known
}
