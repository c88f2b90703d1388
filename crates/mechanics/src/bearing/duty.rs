//! Load and speed that wear a bearing like a whole duty.

use super::{LOAD, SPEED};
use crate::range::{OutOfRange, Range};
use toothsayer_quantity::{AngularSpeed, Force};

static SHARE: Range = Range { what: "share of time", min: 0.0, max: 1.0, unit: "" };

/// One part of a duty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DutyStep {
    /// Equivalent load, 0 to 1 MN.
    pub load: Force,
    /// Speed, 0.001 to 300 000 rpm.
    pub speed: AngularSpeed,
    /// Share of the time, 0 to 1.
    pub time_share: f64,
}

/// Load and speed that wear a bearing like the whole duty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeanDuty {
    /// Cubic mean load, weighted by revolutions.
    pub load: Force,
    /// Mean speed over the time that the steps cover.
    pub speed: AngularSpeed,
}

/// Cubic mean Pm = (sum Pi³ ni ti/sum ni ti)^(1/3), which has the life that Miner's rule gives the duty
/// (ISO 281's exponent 3); none for a duty without time.
pub fn mean_duty(steps: &[DutyStep]) -> Result<Option<MeanDuty>, OutOfRange> {
    let (mut damage, mut revolutions, mut time) = (0.0, 0.0, 0.0);
    for step in steps {
        let (load_n, speed_rpm) = (LOAD.check(step.load.to_n())?, SPEED.check(step.speed.to_rpm())?);
        let share = SHARE.check(step.time_share)?;
        damage += load_n.powi(3) * speed_rpm * share;
        revolutions += speed_rpm * share;
        time += share;
    }
    Ok((revolutions > 0.0).then(|| MeanDuty {
        load: Force::n((damage / revolutions).cbrt()),
        speed: AngularSpeed::rpm(revolutions / time),
    }))
}
