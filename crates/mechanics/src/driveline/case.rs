//! The load cases: what the truck does, and how each case begins.

use super::DrivelineError;
use super::derived::fall_speed_m_s;
use super::limits;
use super::motor::Command;
use super::state::State;
use super::{Parameters, state};
use crate::Error;

/// What the truck does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Case {
    /// Full throttle from rest.
    Launch,
    /// The brake at speed.
    FullBrake,
    /// A landing with the wheels spinning under full throttle.
    LandingOnThrottle,
    /// A landing with the wheels stopped by the brake.
    LandingOnBrake,
    /// A landing with the wheels rolling.
    LandingCoasting,
    /// The brake at speed, then full throttle.
    Reversal,
    /// The wheels are stopped from outside: an accident.
    WheelStop,
}

/// One event: a case and what may be set of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Event {
    /// The case.
    pub case: Case,
    /// Height of a landing's fall, m.
    pub drop_height_m: f64,
    /// Forward speed of a landing, m/s.
    pub landing_speed_m_s: f64,
    /// Speed that full brake, reversal and wheel stop start from, m/s; none: 0.9 of the loaded top speed.
    pub start_speed_m_s: Option<f64>,
    /// How far the lash stands open against the blow that comes, 0..1; none: the case's own.
    pub lash_phase: Option<f64>,
    /// Simulated time, s; none: the case's own.
    pub duration_s: Option<f64>,
}

/// Usual drop of a landing, m.
pub const DROP_HEIGHT_M: f64 = 0.8;
/// Usual forward speed of a landing, m/s.
pub const LANDING_SPEED_M_S: f64 = 8.0;
/// Start speed over loaded top speed.
const START_SHARE: f64 = 0.9;
/// Wheel speed over no-load speed when landing on the throttle.
const SPINNING_SHARE: f64 = 0.95;
/// Time that the reversal brakes before it drives, s.
const REVERSAL_BRAKE_S: f64 = 0.25;
/// Time in which a wheel stop brings the wheels to rest, s.
const WHEEL_STOP_S: f64 = 0.010;

/// A stretch of time with one command and one rule for the wheels.
#[derive(Clone, Copy, Debug)]
pub(super) struct Segment {
    pub until_s: f64,
    pub command: Command,
    pub wheels: Wheels,
}

/// What turns the wheels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Wheels {
    /// Shaft and tyre.
    Driven,
    /// An outside stop: they change speed at this rate, rad/s².
    Forced { rate_rad_s2: f64 },
}

impl Case {
    /// Every case once.
    pub const ALL: [Self; 7] = [
        Self::Launch,
        Self::FullBrake,
        Self::LandingOnThrottle,
        Self::LandingOnBrake,
        Self::LandingCoasting,
        Self::Reversal,
        Self::WheelStop,
    ];

    /// Name in files and commands.
    pub fn name(self) -> &'static str {
        match self {
            Self::Launch => "launch",
            Self::FullBrake => "full-brake",
            Self::LandingOnThrottle => "landing-on-throttle",
            Self::LandingOnBrake => "landing-on-brake",
            Self::LandingCoasting => "landing-coasting",
            Self::Reversal => "reversal",
            Self::WheelStop => "wheel-stop",
        }
    }

    /// All names, for messages.
    pub(super) fn names() -> String {
        Self::ALL.map(Self::name).join(", ")
    }

    /// Whether the truck comes from the air.
    pub fn is_landing(self) -> bool {
        matches!(self, Self::LandingOnThrottle | Self::LandingOnBrake | Self::LandingCoasting)
    }

    /// Usual duration, s.
    pub fn duration_s(self) -> f64 {
        if self == Self::Reversal { 0.6 } else { 0.3 }
    }

    /// Flank that the blow will load (+1 drive, -1 coast) and usual phase of the lash.
    fn blow(self) -> (f64, f64) {
        match self {
            Self::Launch => (1.0, 0.5),
            Self::FullBrake | Self::Reversal => (-1.0, 1.0),
            Self::LandingOnThrottle | Self::WheelStop => (1.0, 0.0),
            Self::LandingOnBrake | Self::LandingCoasting => (-1.0, 0.0),
        }
    }
}

impl std::str::FromStr for Case {
    type Err = DrivelineError;

    fn from_str(name: &str) -> Result<Self, DrivelineError> {
        let found = Self::ALL.into_iter().find(|case| case.name() == name);
        found.ok_or_else(|| DrivelineError::UnknownCase { name: name.to_owned() })
    }
}

impl Event {
    /// The case with its usual values.
    pub fn usual(case: Case) -> Self {
        Self {
            case,
            drop_height_m: DROP_HEIGHT_M,
            landing_speed_m_s: LANDING_SPEED_M_S,
            start_speed_m_s: None,
            lash_phase: None,
            duration_s: None,
        }
    }

    /// Simulated time, s.
    pub fn duration_s(&self) -> f64 {
        self.duration_s.unwrap_or(self.case.duration_s())
    }

    /// Refuses what no event is valid for.
    pub fn check(&self) -> Result<(), Error> {
        limits::DROP_HEIGHT.check(self.drop_height_m)?;
        limits::LANDING_SPEED.check(self.landing_speed_m_s)?;
        limits::DURATION.check(self.duration_s())?;
        if let Some(speed_m_s) = self.start_speed_m_s {
            limits::START_SPEED.check(speed_m_s)?;
        }
        if let Some(phase) = self.lash_phase {
            limits::LASH_PHASE.check(phase)?;
        }
        Ok(())
    }

    /// Speed of the truck at the start, m/s.
    pub fn first_speed_m_s(&self, truck: &Parameters) -> f64 {
        match self.case {
            Case::Launch => 0.0,
            case if case.is_landing() => self.landing_speed_m_s,
            _ => self.start_speed_m_s.unwrap_or_else(|| START_SHARE * truck.loaded_top_speed_m_s()),
        }
    }

    /// State at the start: truck, wheels, rotor and lash as the case says, no current, no tyre force.
    pub(super) fn start(&self, truck: &Parameters) -> State {
        let (flank, usual_phase) = self.case.blow();
        let open = flank * (1.0 - 2.0 * self.lash_phase.unwrap_or(usual_phase));
        let speed_m_s = self.first_speed_m_s(truck);
        let wheel_rad_s = match self.case {
            Case::LandingOnThrottle => SPINNING_SHARE * truck.no_load_wheel_speed_rad_s(),
            Case::LandingOnBrake => 0.0,
            _ => speed_m_s / truck.tyre_radius_m,
        };
        let mut state = [0.0; state::COUNT];
        state[state::MESH] = open * 0.5 * truck.normal_backlash_m;
        state[state::TWIST] = open * 0.5 * truck.spur_lash_rad();
        state[state::WHEEL_SPEED] = wheel_rad_s;
        state[state::SPUR_SPEED] = wheel_rad_s * truck.ratio_after_spur;
        state[state::ROTOR_SPEED] = state[state::SPUR_SPEED] * truck.mesh_ratio();
        state[state::TRUCK_SPEED] = speed_m_s;
        if self.case.is_landing() {
            let fall_m_s = fall_speed_m_s(self.drop_height_m);
            state[state::SPRUNG_SPEED] = -fall_m_s;
            state[state::UNSPRUNG_SPEED] = -fall_m_s;
        } else {
            (state[state::SPRUNG_HEIGHT], state[state::UNSPRUNG_HEIGHT]) = truck.static_heights_m();
        }
        state
    }

    /// The stretches of the event, in order; the last ends with the event.
    pub(super) fn segments(&self, start: &State) -> [Option<Segment>; 2] {
        let end_s = self.duration_s();
        let driven = |until_s: f64, command| Segment { until_s: until_s.min(end_s), command, wheels: Wheels::Driven };
        let forced = |until_s: f64, rate_rad_s2| {
            let wheels = Wheels::Forced { rate_rad_s2 };
            Segment { until_s: until_s.min(end_s), command: Command::Coast, wheels }
        };
        let (first, second) = match self.case {
            Case::Launch | Case::LandingOnThrottle => (driven(end_s, Command::Drive), None),
            Case::FullBrake | Case::LandingOnBrake => (driven(end_s, Command::Brake), None),
            Case::LandingCoasting => (driven(end_s, Command::Coast), None),
            Case::Reversal => (driven(REVERSAL_BRAKE_S, Command::Brake), Some(driven(end_s, Command::Drive))),
            Case::WheelStop => {
                let rate_rad_s2 = -start[state::WHEEL_SPEED] / WHEEL_STOP_S;
                (forced(WHEEL_STOP_S, rate_rad_s2), Some(forced(end_s, 0.0)))
            }
        };
        [Some(first), second.filter(|segment| segment.until_s > first.until_s)]
    }
}
