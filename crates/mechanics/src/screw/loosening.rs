//! Loosening by slip: every event that moves the joint costs some of its clamp.

use super::{Clamp, ScrewError, Spread, limits};
use toothsayer_quantity::Force;

/// Share of the clamp that one event with slip margin below 1 costs (elicited, no source).
pub const SLIP_EVENT_LOSS: Spread = Spread { value: 0.005, low: 0.001, high: 0.02 };

/// A kind of event that loads the joint in shear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlipEvent {
    /// Shear on the worst screw, 0 to 1 MN.
    pub demand_per_screw: Force,
    /// How many there are in a run, 0 to 100 000.
    pub per_run: f64,
}

/// A clamped joint and the events of its runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loosening<'a> {
    /// The tightening, with embedding and creep.
    pub clamp: Clamp,
    /// Friction between the clamped faces, 0.02 to 0.6.
    pub friction: f64,
    /// Events of each run.
    pub events: &'a [SlipEvent],
    /// Share of the clamp lost per event that slips, 0 to 0.5.
    pub loss_per_event: f64,
}

impl Loosening<'_> {
    /// Clamp after any number of runs (0 to 10 000), stepped run by run.
    ///
    /// In each run an event slips when mu F < demand, F the clamp that embedding and creep leave at the end
    /// of the run (embedding comes early in it) times what the slips of earlier runs have left; each such
    /// event multiplies the clamp by 1 - loss. A part of a run has its part of the events.
    pub fn clamp_after(&self, runs: f64) -> Result<Force, ScrewError> {
        let runs = self.check(runs)?;
        let mut kept = 1.0;
        let mut done = 0.0;
        while done < runs {
            let step = (runs - done).min(1.0);
            done += step;
            let clamp_n = self.clamp.after(done)?.to_n() * kept;
            kept *= (1.0 - self.loss_per_event).powf(step * self.slips_per_run(clamp_n));
        }
        Ok(self.clamp.after(runs)? * kept)
    }

    fn slips_per_run(&self, clamp_n: f64) -> f64 {
        let slips = self.events.iter().filter(|event| self.friction * clamp_n < event.demand_per_screw.to_n());
        slips.map(|event| event.per_run).sum()
    }

    fn check(&self, runs: f64) -> Result<f64, ScrewError> {
        limits::FRICTION.check(self.friction)?;
        limits::EVENT_LOSS.check(self.loss_per_event)?;
        for event in self.events {
            limits::FORCE.check(event.demand_per_screw.to_n())?;
            limits::EVENTS.check(event.per_run)?;
        }
        Ok(limits::RUNS.check(runs)?)
    }
}
