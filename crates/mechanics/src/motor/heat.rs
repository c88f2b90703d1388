//! How hot a motor gets in a run: winding and case as two masses, the winding's resistance growing with its heat.

use super::body::ThermalBody;
use super::copper::{COPPER_PER_K, REFERENCE_K};
use super::two_mass::{Step, TwoMass};
use crate::range::{OutOfRange, Range};
use toothsayer_quantity::{Current, Resistance, Temperature, Time};

/// Temperature past which no winding lasts and the figures end: the highest insulation class of IEC 60085 ends at 250 °C
/// (from memory).
pub const BURNT: Temperature = Temperature::k(573.15);

static AIR: Range = Range { what: "air temperature", min: 233.0, max: 333.0, unit: "K" };
static CURRENT: Range = Range { what: "current", min: 0.0, max: 5000.0, unit: "A" };
static RESISTANCE: Range = Range { what: "winding resistance", min: 1e-5, max: 20.0, unit: "ohm" };
static LOSS: Range = Range { what: "no-load loss", min: 0.0, max: 1e6, unit: "W" };
static STRETCH: Range = Range { what: "stretch of a run", min: 0.0, max: 36_000.0, unit: "s" };
static REPEATS: Range = Range { what: "times that a run's stretches come back", min: 1.0, max: 1e6, unit: "" };

/// Repeats beyond which a run is taken in longer stretches of the same shares: they are then far shorter than the
/// winding's time constant and only their mean counts.
const MOST_REPEATS: u32 = 2000;
/// Most growth of a runaway in one step: far past [`BURNT`], and still a finite number.
const MOST_GROWTH: f64 = 200.0;
/// Halvings until a time is settled to the last bit of a double.
const BISECTIONS: u32 = 60;

/// A part of a run with one current.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Root of the mean square of the current, 0 to 5000 A.
    pub current: Current,
    /// Loss without load (iron, bearings, brushes, wind), which heats the case, 0 to 1 MW.
    pub no_load_loss_w: f64,
    /// How long, 0 to 36 000 s.
    pub time: Time,
}

/// A run from the air's temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Duty<'a> {
    /// Winding resistance at 20 °C, 10 µohm to 20 ohm.
    pub resistance: Resistance,
    /// Temperature of the air, 233 to 333 K.
    pub air: Temperature,
    /// The stretches, in order.
    pub stretches: &'a [Stretch],
    /// How often they come one after the other, 1 to 10⁶.
    pub repeats: u32,
}

/// How a run ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Heated {
    /// Warm.
    To {
        /// Hottest that the winding was at the end of a stretch.
        winding: Temperature,
        /// The case at the end.
        case: Temperature,
    },
    /// The winding passed [`BURNT`].
    BurnsOut {
        /// How long into the run.
        after: Time,
    },
}

/// Heats a motor by a run.
///
/// Cw Tw' = I² R (1 + alpha (Tw - 20 °C)) - Gwc (Tw - Tc); Cc Tc' = P0 + Gwc (Tw - Tc) - Gca (Tc - Ta). The growth of
/// the resistance is linear in Tw, so each stretch has its exact solution. Magnets, torque constant and currents are
/// taken as cold; heat from controller, sun and brakes is left out.
pub fn after_run(body: &ThermalBody, duty: &Duty<'_>) -> Result<Heated, OutOfRange> {
    body.check()?;
    let air_k = AIR.check(duty.air.to_k())?;
    REPEATS.check(f64::from(duty.repeats))?;
    let repeats = duty.repeats.min(MOST_REPEATS);
    let longer = f64::from(duty.repeats) / f64::from(repeats);
    let legs =
        duty.stretches.iter().map(|stretch| Leg::new(body, duty, stretch, longer)).collect::<Result<Vec<_>, _>>()?;
    let burnt_k = BURNT.to_k() - air_k;
    let (mut rise_k, mut hottest_k, mut time_s) = ([0.0, 0.0], 0.0_f64, 0.0);
    for _ in 0..repeats {
        for leg in &legs {
            let next_k = leg.step.of(rise_k);
            if next_k[0] > burnt_k {
                let after_s = leg.until(rise_k, burnt_k);
                return Ok(Heated::BurnsOut { after: Time::s(time_s + after_s) });
            }
            (rise_k, time_s) = (next_k, time_s + leg.time_s);
            hottest_k = hottest_k.max(rise_k[0]);
        }
    }
    Ok(Heated::To { winding: Temperature::k(air_k + hottest_k), case: Temperature::k(air_k + rise_k[1]) })
}

/// Whether the winding's temperature would rise without end under a steady stretch, however long: its loss grows faster
/// with the temperature than the heat runs off, I² R alpha >= 1/(1/Gwc + 1/Gca).
pub fn runs_away(body: &ThermalBody, resistance: Resistance, current: Current) -> Result<bool, OutOfRange> {
    body.check()?;
    let growth_w_k = CURRENT.check(current.to_a())?.powi(2) * RESISTANCE.check(resistance.to_ohm())? * COPPER_PER_K;
    Ok(growth_w_k * (1.0 / body.winding_to_case_w_k + 1.0 / body.case_to_air_w_k) >= 1.0)
}

/// A stretch with its solution.
struct Leg {
    system: TwoMass,
    step: Step,
    time_s: f64,
}

impl Leg {
    fn new(body: &ThermalBody, duty: &Duty<'_>, stretch: &Stretch, longer: f64) -> Result<Self, OutOfRange> {
        let cold_w = CURRENT.check(stretch.current.to_a())?.powi(2) * RESISTANCE.check(duty.resistance.to_ohm())?;
        let no_load_w = LOSS.check(stretch.no_load_loss_w)?;
        let stated_s = longer * STRETCH.check(stretch.time.to_s())?;
        let growth_w_k = cold_w * COPPER_PER_K;
        let at_air_w = cold_w + growth_w_k * (duty.air.to_k() - REFERENCE_K);
        let ThermalBody { winding_j_k, case_j_k, winding_to_case_w_k, case_to_air_w_k } = *body;
        let system = TwoMass {
            rates: [
                [(growth_w_k - winding_to_case_w_k) / winding_j_k, winding_to_case_w_k / winding_j_k],
                [winding_to_case_w_k / case_j_k, -(winding_to_case_w_k + case_to_air_w_k) / case_j_k],
            ],
            heating: [at_air_w / winding_j_k, no_load_w / case_j_k],
        };
        let [fastest, _] = system.eigenvalues();
        let time_s = if fastest > 0.0 { stated_s.min(MOST_GROWTH / fastest) } else { stated_s };
        Ok(Self { system, step: system.step(time_s), time_s })
    }

    /// Time at which the winding passes a rise.
    fn until(&self, from_k: [f64; 2], rise_k: f64) -> f64 {
        let (mut low_s, mut high_s) = (0.0, self.time_s);
        for _ in 0..BISECTIONS {
            let middle_s = 0.5 * (low_s + high_s);
            if self.system.step(middle_s).of(from_k)[0] <= rise_k { low_s = middle_s } else { high_s = middle_s }
        }
        low_s
    }
}
