//! The equations of motion, and the power of every element beside them.

use super::Parameters;
use super::branches::{Motion, Pieces};
use super::case::Wheels;
use super::clutch::Shaft;
use super::contact::Contact;
use super::derived::GRAVITY_M_S2;
use super::motor::Motor;
use super::state::{self, State};
use super::suspension::Suspension;
use super::tyre::Tyre;

/// Number of powers and rates that are summed beside the states.
pub(super) const SUM_COUNT: usize = 13;

/// What is summed beside the states; see the positions below.
pub(super) type Sums = [f64; SUM_COUNT];

/// Put in by the motor's current.
pub(super) const PUT_IN: usize = 0;
/// Lost in the motor without load.
pub(super) const NO_LOAD: usize = 1;
/// Lost in the mesh's damper.
pub(super) const MESH_DAMPER: usize = 2;
/// Lost in the shaft's damper.
pub(super) const SHAFT_DAMPER: usize = 3;
/// Lost in the clutch.
pub(super) const CLUTCH: usize = 4;
/// Lost in the suspension's damper.
pub(super) const SUSPENSION_DAMPER: usize = 5;
/// Lost in the tyres' vertical damper.
pub(super) const TYRE_DAMPER: usize = 6;
/// Lost in the slap.
pub(super) const SLAP_DAMPER: usize = 7;
/// Lost between tyre and road.
pub(super) const TYRE_SLIP: usize = 8;
/// Lost to the air.
pub(super) const DRAG: usize = 9;
/// Taken by an outside wheel stop.
pub(super) const WHEEL_STOP: usize = 10;
/// Turned by the wheels, rad.
pub(super) const WHEEL_TURN: usize = 11;
/// Slipped by the clutch, rad.
pub(super) const CLUTCH_SLIP: usize = 12;

/// A truck with everything that follows from its parameters at hand.
#[derive(Clone, Debug)]
pub(super) struct System {
    pub motor: Motor,
    pub mesh: Contact,
    pub shaft: Shaft,
    pub ground: Contact,
    pub slap: Contact,
    pub suspension: Suspension,
    pub tyre: Tyre,
    pub pinion_radius_m: f64,
    pub spur_radius_m: f64,
    pub ratio: f64,
    pub tyre_radius_m: f64,
    pub rotor_inertia: f64,
    pub spur_inertia: f64,
    pub wheel_inertia: f64,
    pub road_mass_kg: f64,
    pub sprung_mass_kg: f64,
    pub unsprung_mass_kg: f64,
    pub mesh_rad_s: f64,
    pub shaft_rad_s: f64,
    current_lag_s: f64,
    drag_factor: f64,
}

/// Derivatives of the states, and the powers.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rates {
    pub slopes: State,
    pub powers: Sums,
}

/// The loads that are looked at for their peaks.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Loads {
    pub mesh_n: f64,
    pub shaft_n_m: f64,
    pub ground_n: f64,
    pub current_a: f64,
}

impl System {
    pub fn new(truck: &Parameters) -> Self {
        Self {
            motor: truck.motor(),
            mesh: truck.mesh(),
            shaft: truck.shaft(),
            ground: truck.ground(),
            slap: truck.slap(),
            suspension: truck.suspension(),
            tyre: truck.tyre(),
            pinion_radius_m: truck.pinion_base_radius_m,
            spur_radius_m: truck.spur_base_radius_m,
            ratio: truck.ratio_after_spur,
            tyre_radius_m: truck.tyre_radius_m,
            rotor_inertia: truck.rotor_inertia_kg_m2,
            spur_inertia: truck.spur_inertia_kg_m2,
            wheel_inertia: truck.wheel_inertia_kg_m2(),
            road_mass_kg: truck.road_mass_kg(),
            sprung_mass_kg: truck.sprung_mass_kg(),
            unsprung_mass_kg: truck.unsprung_mass_kg(),
            mesh_rad_s: truck.mesh_frequency_rad_s(),
            shaft_rad_s: truck.shaft_frequency_rad_s(),
            current_lag_s: truck.current_lag_s,
            drag_factor: truck.drag_n(1.0),
        }
    }

    /// The loads at a state, on given branches.
    pub fn loads(&self, pieces: &Pieces, s: &State) -> Loads {
        let motion = Motion::of(self, s);
        Loads {
            mesh_n: pieces.mesh.exerted(motion.mesh.0, motion.mesh.1),
            shaft_n_m: pieces.shaft.torque_and_slip(motion.shaft.0, motion.shaft.1).0,
            ground_n: pieces.ground.exerted(motion.ground.0, motion.ground.1),
            current_a: s[state::CURRENT],
        }
    }

    /// The right-hand side:
    ///
    /// Jm dwm = Kt (I - I0 tanh(wm/50)) - Fn rb1, Js dws = Fn rb2 - Td, Jw dww = i Td - r Fx,
    /// m dv = Fx - 0.5 rho CdA v |v|, ms dus = Fs + Fc - ms g, mu duu = N - Fs - mu g, dI = (Icmd - I)/tau.
    pub fn rates(&self, pieces: &Pieces, wheels: Wheels, s: &State) -> Rates {
        let motion = Motion::of(self, s);
        let mut slopes = [0.0; state::COUNT];
        let mut powers = [0.0; SUM_COUNT];
        let (x, dx) = motion.mesh;
        let (y, dy) = motion.shaft;
        let mesh_n = pieces.mesh.force(x, dx);
        let (shaft_n_m, slip_rad_s) = pieces.shaft.torque_and_slip(y, dy);
        let twist_rad_s = dy - slip_rad_s;
        powers[MESH_DAMPER] = pieces.mesh.loss(mesh_n, x, dx);
        powers[SHAFT_DAMPER] = pieces.shaft.twist.loss(shaft_n_m, y, twist_rad_s);
        powers[CLUTCH] = shaft_n_m * slip_rad_s;
        powers[CLUTCH_SLIP] = slip_rad_s;
        slopes[state::MESH] = dx;
        slopes[state::TWIST] = twist_rad_s;
        slopes[state::SPUR_SPEED] = (mesh_n * self.spur_radius_m - shaft_n_m) / self.spur_inertia;
        self.rotor(pieces, mesh_n, s, &mut slopes, &mut powers);
        let ground_n = self.vertical(pieces, &motion, s, &mut slopes, &mut powers);
        self.road(wheels, shaft_n_m, ground_n, s, &mut slopes, &mut powers);
        Rates { slopes, powers }
    }

    #[inline(always)]
    fn rotor(&self, pieces: &Pieces, mesh_n: f64, s: &State, slopes: &mut State, powers: &mut Sums) {
        let (speed_rad_s, current_a) = (s[state::ROTOR_SPEED], s[state::CURRENT]);
        let commanded_a = pieces.current.at(speed_rad_s);
        let loss_n_m = self.motor.no_load_torque_n_m(speed_rad_s);
        let torque_n_m = self.motor.constant * current_a;
        slopes[state::CURRENT] = (commanded_a - current_a) / self.current_lag_s;
        slopes[state::ROTOR_SPEED] = (torque_n_m - loss_n_m - mesh_n * self.pinion_radius_m) / self.rotor_inertia;
        powers[PUT_IN] = torque_n_m * speed_rad_s;
        powers[NO_LOAD] = loss_n_m * speed_rad_s;
    }

    /// Up and down; gives the force on the ground.
    #[inline(always)]
    fn vertical(&self, pieces: &Pieces, motion: &Motion, s: &State, slopes: &mut State, powers: &mut Sums) -> f64 {
        let ground_n = pieces.ground.force(motion.ground.0, motion.ground.1);
        let slap_n = pieces.slap.force(motion.slap.0, motion.slap.1);
        let (compression_m, rate_m_s) = motion.suspension;
        let suspension_n = pieces.suspension.force(compression_m, rate_m_s);
        slopes[state::SPRUNG_HEIGHT] = s[state::SPRUNG_SPEED];
        slopes[state::SPRUNG_SPEED] = (suspension_n + slap_n) / self.sprung_mass_kg - GRAVITY_M_S2;
        slopes[state::UNSPRUNG_HEIGHT] = s[state::UNSPRUNG_SPEED];
        slopes[state::UNSPRUNG_SPEED] = (ground_n - suspension_n) / self.unsprung_mass_kg - GRAVITY_M_S2;
        powers[SUSPENSION_DAMPER] = pieces.suspension.damping * rate_m_s * rate_m_s;
        powers[TYRE_DAMPER] = pieces.ground.loss(ground_n, motion.ground.0, motion.ground.1);
        powers[SLAP_DAMPER] = pieces.slap.loss(slap_n, motion.slap.0, motion.slap.1);
        ground_n
    }

    /// Wheels, tyre and truck along the road.
    #[inline(always)]
    fn road(&self, wheels: Wheels, shaft_n_m: f64, ground_n: f64, s: &State, slopes: &mut State, powers: &mut Sums) {
        let (wheel_rad_s, speed_m_s, force_n) = (s[state::WHEEL_SPEED], s[state::TRUCK_SPEED], s[state::TYRE_FORCE]);
        let tread_m_s = self.tyre_radius_m * wheel_rad_s;
        let free_n_m = self.ratio * shaft_n_m - self.tyre_radius_m * force_n;
        let rate_rad_s2 = match wheels {
            Wheels::Driven => free_n_m / self.wheel_inertia,
            Wheels::Forced { rate_rad_s2 } => {
                powers[WHEEL_STOP] = (free_n_m - self.wheel_inertia * rate_rad_s2) * wheel_rad_s;
                rate_rad_s2
            }
        };
        let drag_n = self.drag_factor * speed_m_s * speed_m_s.abs();
        slopes[state::WHEEL_SPEED] = rate_rad_s2;
        slopes[state::TRUCK_SPEED] = (force_n - drag_n) / self.road_mass_kg;
        slopes[state::TYRE_FORCE] = self.tyre.force_rate_n_s(force_n, ground_n, speed_m_s, tread_m_s);
        powers[TYRE_SLIP] = force_n * (tread_m_s - speed_m_s);
        powers[DRAG] = drag_n * speed_m_s;
        powers[WHEEL_TURN] = wheel_rad_s;
    }
}
