//! From the mesh's force over an event to the loads of one tooth.

use std::f64::consts::TAU;

use toothsayer_evidence::{Cycle, rainflow};

use super::limits;
use crate::Error;
use crate::driveline::{MeshPoint, TracePoint};

/// A flank of the tooth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flank {
    /// Loaded when the motor drives: positive tooth force.
    Drive,
    /// Loaded when it brakes: negative tooth force.
    Coast,
}

impl Flank {
    /// Both.
    pub const BOTH: [Self; 2] = [Self::Drive, Self::Coast];

    /// The force on this flank, 0 where the other is loaded; what is no number stays none.
    fn force_n(self, mesh_n: f64) -> f64 {
        let own_n = if self == Self::Drive { mesh_n } else { -mesh_n };
        if own_n < 0.0 { 0.0 } else { own_n }
    }
}

/// The moments at which a gear has made one more turn in an event.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ToothTurns {
    ends_s: Vec<f64>,
}

impl ToothTurns {
    /// From the rotor's speed in a trace of the event, straight between its points; `per_rotor_turn` turns of the gear
    /// for one of the rotor: 1 for the pinion, z1/z2 for the spur (0.001 to 1000). Turns either way count.
    pub fn of(trace: &[TracePoint], per_rotor_turn: f64) -> Result<Self, Error> {
        let per_rotor_turn = limits::GEAR_TURNS.check(per_rotor_turn)?;
        let (mut turned, mut ends_s) = (0.0, Vec::new());
        for pair in trace.windows(2) {
            let [from, to] = [&pair[0], &pair[1]];
            let speed_rad_s = 0.5
                * (limits::ROTOR_SPEED.check(from.rotor_speed_rad_s)?.abs()
                    + limits::ROTOR_SPEED.check(to.rotor_speed_rad_s)?.abs());
            let turns_per_s = speed_rad_s * per_rotor_turn / TAU;
            let after = turned + turns_per_s * (to.time_s - from.time_s).max(0.0);
            let mut next = turned.floor() + 1.0;
            while next <= after {
                ends_s.push(from.time_s + (next - turned) / turns_per_s);
                next += 1.0;
            }
            turned = after;
        }
        Ok(Self { ends_s })
    }

    /// How many.
    pub fn count(&self) -> usize {
        self.ends_s.len()
    }
}

/// The load cycles that an event puts on one flank of the tooth that fares worst (rainflow, ASTM E1049-85).
///
/// The simulated force is the mesh's: each moment's falls on another tooth. Taken on the safe side, one and the same
/// tooth gets every cycle of the mesh's force, as if it stood in mesh at each hardest moment; and since a tooth leaves
/// the mesh once a turn, its force returns to zero there, so that a force that lasts over many turns is borne anew in
/// each. It begins and ends unloaded.
pub fn tooth_cycles(history: &[MeshPoint], turns: &ToothTurns, flank: Flank) -> Result<Vec<Cycle>, Error> {
    let mut loads_n = Vec::with_capacity(history.len() + turns.count() + 2);
    loads_n.push(0.0);
    let mut ends = turns.ends_s.iter().peekable();
    for point in history {
        while ends.next_if(|end_s| **end_s <= point.time_s).is_some() {
            loads_n.push(0.0);
        }
        loads_n.push(flank.force_n(point.force_n));
    }
    loads_n.push(0.0);
    Ok(rainflow(loads_n)?)
}
