//! The equations of motion, and the power of every element beside them.

use pulp::Simd;

use super::branches::{Motion, Pieces};
use super::case::Wheels;
use super::derived::GRAVITY_M_S2;
use super::lanes::{Lanes, PerLane};
use super::motor::no_load_torque_n_m;
use super::real::Real;
use super::state::{self, State};
use super::system::System;
use super::tyre::Tyre;

/// Number of powers and rates that are summed beside the states.
pub(super) const SUM_COUNT: usize = 13;

/// What is summed beside the states; see the positions below.
pub(super) type Sums<T = f64> = [T; SUM_COUNT];

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

/// The numbers of a truck that the right-hand side needs, in lanes.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Plant<T = f64> {
    pub pinion_radius_m: T,
    pub spur_radius_m: T,
    pub ratio: T,
    pub per_rotor_inertia: T,
    pub per_spur_inertia: T,
    pub motor_constant: T,
    no_load_torque_n_m: T,
    per_current_lag: T,
    tyre: Tyre<T>,
    tyre_radius_m: T,
    wheel_inertia: T,
    per_road_mass: T,
    per_sprung_mass: T,
    per_unsprung_mass: T,
    drag_factor: T,
}

/// What turns the wheels, in lanes: shaft and tyre, or an outside stop at a rate.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct WheelRule<T = f64> {
    /// Change of speed per torque, 1/(kg·m²); 0 under a stop.
    pub per_torque: T,
    /// Change of speed under a stop, rad/s²; else 0.
    forced_rad_s2: T,
    /// 1 under a stop, else 0.
    is_forced: T,
}

/// The right-hand side between two events, in lanes.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Field<T = f64> {
    pub plant: Plant<T>,
    pub pieces: Pieces<T>,
    pub wheels: WheelRule<T>,
}

/// Derivatives of the states, and the powers.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rates<T = f64> {
    pub slopes: State<T>,
    pub powers: Sums<T>,
}

/// The loads that are looked at for their peaks.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Loads<T = f64> {
    pub mesh_n: T,
    pub shaft_n_m: T,
    pub ground_n: T,
    pub current_a: T,
}

impl Plant {
    pub fn new(system: &System) -> Self {
        Self {
            pinion_radius_m: system.pinion_radius_m,
            spur_radius_m: system.spur_radius_m,
            ratio: system.ratio,
            per_rotor_inertia: 1.0 / system.rotor_inertia,
            per_spur_inertia: 1.0 / system.spur_inertia,
            motor_constant: system.motor.constant,
            no_load_torque_n_m: system.motor.constant * system.motor.no_load_current_a,
            per_current_lag: 1.0 / system.current_lag_s,
            tyre: system.tyre,
            tyre_radius_m: system.tyre_radius_m,
            wheel_inertia: system.wheel_inertia,
            per_road_mass: 1.0 / system.road_mass_kg,
            per_sprung_mass: 1.0 / system.sprung_mass_kg,
            per_unsprung_mass: 1.0 / system.unsprung_mass_kg,
            drag_factor: system.drag_factor,
        }
    }
}

impl WheelRule {
    pub fn new(system: &System, wheels: Wheels) -> Self {
        match wheels {
            Wheels::Driven => Self { per_torque: 1.0 / system.wheel_inertia, forced_rad_s2: 0.0, is_forced: 0.0 },
            Wheels::Forced { rate_rad_s2 } => Self { per_torque: 0.0, forced_rad_s2: rate_rad_s2, is_forced: 1.0 },
        }
    }
}

impl<T: Real> Plant<T> {
    /// Every number the same.
    pub fn filled(value: T) -> Self {
        Self {
            pinion_radius_m: value,
            spur_radius_m: value,
            ratio: value,
            per_rotor_inertia: value,
            per_spur_inertia: value,
            motor_constant: value,
            no_load_torque_n_m: value,
            per_current_lag: value,
            tyre: Tyre::filled(value),
            tyre_radius_m: value,
            wheel_inertia: value,
            per_road_mass: value,
            per_sprung_mass: value,
            per_unsprung_mass: value,
            drag_factor: value,
        }
    }
}

impl<S: Simd> PerLane for Plant<Lanes<S>> {
    type One = Plant;

    fn put(&mut self, lane: usize, one: &Plant) {
        self.pinion_radius_m.put(lane, &one.pinion_radius_m);
        self.spur_radius_m.put(lane, &one.spur_radius_m);
        self.ratio.put(lane, &one.ratio);
        self.per_rotor_inertia.put(lane, &one.per_rotor_inertia);
        self.per_spur_inertia.put(lane, &one.per_spur_inertia);
        self.motor_constant.put(lane, &one.motor_constant);
        self.no_load_torque_n_m.put(lane, &one.no_load_torque_n_m);
        self.per_current_lag.put(lane, &one.per_current_lag);
        self.tyre.put(lane, &one.tyre);
        self.tyre_radius_m.put(lane, &one.tyre_radius_m);
        self.wheel_inertia.put(lane, &one.wheel_inertia);
        self.per_road_mass.put(lane, &one.per_road_mass);
        self.per_sprung_mass.put(lane, &one.per_sprung_mass);
        self.per_unsprung_mass.put(lane, &one.per_unsprung_mass);
        self.drag_factor.put(lane, &one.drag_factor);
    }
}

impl<T: Real> WheelRule<T> {
    /// Every number the same.
    pub fn filled(value: T) -> Self {
        Self { per_torque: value, forced_rad_s2: value, is_forced: value }
    }
}

impl<S: Simd> PerLane for WheelRule<Lanes<S>> {
    type One = WheelRule;

    fn put(&mut self, lane: usize, one: &WheelRule) {
        self.per_torque.put(lane, &one.per_torque);
        self.forced_rad_s2.put(lane, &one.forced_rad_s2);
        self.is_forced.put(lane, &one.is_forced);
    }
}

impl<S: Simd> PerLane for Field<Lanes<S>> {
    type One = Field;

    fn put(&mut self, lane: usize, one: &Field) {
        self.plant.put(lane, &one.plant);
        self.pieces.put(lane, &one.pieces);
        self.wheels.put(lane, &one.wheels);
    }
}

impl<S: Simd> PerLane for Rates<Lanes<S>> {
    type One = Rates;

    fn put(&mut self, lane: usize, one: &Rates) {
        self.slopes.put(lane, &one.slopes);
        self.powers.put(lane, &one.powers);
    }
}

impl<T: Real> Field<T> {
    /// Every number the same.
    pub fn filled(value: T) -> Self {
        Self { plant: Plant::filled(value), pieces: Pieces::filled(value), wheels: WheelRule::filled(value) }
    }

    /// The loads at a state.
    #[inline(always)]
    pub fn loads(&self, s: &State<T>) -> Loads<T> {
        let motion = Motion::of(&self.plant, s);
        Loads {
            mesh_n: self.pieces.mesh.exerted(motion.mesh.0, motion.mesh.1),
            shaft_n_m: self.pieces.shaft.torque_and_slip(motion.shaft.0, motion.shaft.1).0,
            ground_n: self.pieces.ground.exerted(motion.ground.0, motion.ground.1),
            current_a: s[state::CURRENT],
        }
    }

    /// The right-hand side:
    ///
    /// Jm dwm = Kt (I - I0 tanh(wm/50)) - Fn rb1, Js dws = Fn rb2 - Td, Jw dww = i Td - r Fx,
    /// m dv = Fx - 0.5 rho CdA v |v|, ms dus = Fs + Fc - ms g, mu duu = N - Fs - mu g, dI = (Icmd - I)/tau.
    #[inline(always)]
    pub fn rates(&self, s: &State<T>) -> Rates<T> {
        let motion = Motion::of(&self.plant, s);
        let mut rates = Rates { slopes: [s[0].of(0.0); state::COUNT], powers: [s[0].of(0.0); SUM_COUNT] };
        let (x, dx) = motion.mesh;
        let (y, dy) = motion.shaft;
        let mesh_n = self.pieces.mesh.force(x, dx);
        let (shaft_n_m, slip_rad_s) = self.pieces.shaft.torque_and_slip(y, dy);
        let twist_rad_s = dy - slip_rad_s;
        rates.powers[MESH_DAMPER] = self.pieces.mesh.loss(mesh_n, x, dx);
        rates.powers[SHAFT_DAMPER] = self.pieces.shaft.twist.loss(shaft_n_m, y, twist_rad_s);
        rates.powers[CLUTCH] = shaft_n_m * slip_rad_s;
        rates.powers[CLUTCH_SLIP] = slip_rad_s;
        rates.slopes[state::MESH] = dx;
        rates.slopes[state::TWIST] = twist_rad_s;
        rates.slopes[state::SPUR_SPEED] = (mesh_n * self.plant.spur_radius_m - shaft_n_m) * self.plant.per_spur_inertia;
        self.rotor(mesh_n, s, &mut rates);
        let ground_n = self.vertical(&motion, s, &mut rates);
        self.road(shaft_n_m, ground_n, s, &mut rates);
        rates
    }

    #[inline(always)]
    fn rotor(&self, mesh_n: T, s: &State<T>, rates: &mut Rates<T>) {
        let plant = &self.plant;
        let (speed_rad_s, current_a) = (s[state::ROTOR_SPEED], s[state::CURRENT]);
        let loss_n_m = no_load_torque_n_m(plant.no_load_torque_n_m, speed_rad_s);
        let torque_n_m = plant.motor_constant * current_a;
        let surplus_n_m = torque_n_m - loss_n_m - mesh_n * plant.pinion_radius_m;
        rates.slopes[state::CURRENT] = (self.pieces.current.at(speed_rad_s) - current_a) * plant.per_current_lag;
        rates.slopes[state::ROTOR_SPEED] = surplus_n_m * plant.per_rotor_inertia;
        rates.powers[PUT_IN] = torque_n_m * speed_rad_s;
        rates.powers[NO_LOAD] = loss_n_m * speed_rad_s;
    }

    /// Up and down; gives the force on the ground.
    #[inline(always)]
    fn vertical(&self, motion: &Motion<T>, s: &State<T>, rates: &mut Rates<T>) -> T {
        let (plant, pieces, gravity) = (&self.plant, &self.pieces, s[0].of(GRAVITY_M_S2));
        let ground_n = pieces.ground.force(motion.ground.0, motion.ground.1);
        let slap_n = pieces.slap.force(motion.slap.0, motion.slap.1);
        let (compression_m, rate_m_s) = motion.suspension;
        let suspension_n = pieces.suspension.force(compression_m, rate_m_s);
        rates.slopes[state::SPRUNG_HEIGHT] = s[state::SPRUNG_SPEED];
        rates.slopes[state::SPRUNG_SPEED] = (suspension_n + slap_n) * plant.per_sprung_mass - gravity;
        rates.slopes[state::UNSPRUNG_HEIGHT] = s[state::UNSPRUNG_SPEED];
        rates.slopes[state::UNSPRUNG_SPEED] = (ground_n - suspension_n) * plant.per_unsprung_mass - gravity;
        rates.powers[SUSPENSION_DAMPER] = pieces.suspension.damping * rate_m_s * rate_m_s;
        rates.powers[TYRE_DAMPER] = pieces.ground.loss(ground_n, motion.ground.0, motion.ground.1);
        rates.powers[SLAP_DAMPER] = pieces.slap.loss(slap_n, motion.slap.0, motion.slap.1);
        ground_n
    }

    /// Wheels, tyre and truck along the road.
    #[inline(always)]
    fn road(&self, shaft_n_m: T, ground_n: T, s: &State<T>, rates: &mut Rates<T>) {
        let (plant, wheels) = (&self.plant, &self.wheels);
        let (wheel_rad_s, speed_m_s, force_n) = (s[state::WHEEL_SPEED], s[state::TRUCK_SPEED], s[state::TYRE_FORCE]);
        let tread_m_s = plant.tyre_radius_m * wheel_rad_s;
        let free_n_m = plant.ratio * shaft_n_m - plant.tyre_radius_m * force_n;
        let drag_n = plant.drag_factor * speed_m_s * speed_m_s.abs();
        let stopped_n_m = (free_n_m - plant.wheel_inertia * wheels.forced_rad_s2) * wheels.is_forced;
        rates.slopes[state::WHEEL_SPEED] = free_n_m * wheels.per_torque + wheels.forced_rad_s2;
        rates.slopes[state::TRUCK_SPEED] = (force_n - drag_n) * plant.per_road_mass;
        rates.slopes[state::TYRE_FORCE] = plant.tyre.force_rate_n_s(force_n, ground_n, speed_m_s, tread_m_s);
        rates.powers[WHEEL_STOP] = stopped_n_m * wheel_rad_s;
        rates.powers[TYRE_SLIP] = force_n * (tread_m_s - speed_m_s);
        rates.powers[DRAG] = drag_n * speed_m_s;
        rates.powers[WHEEL_TURN] = wheel_rad_s;
    }
}
