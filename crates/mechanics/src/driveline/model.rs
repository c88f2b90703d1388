//! The equations of motion on one set of branches, with the energy that flows in and is lost.

use super::Parameters;
use super::case::{Segment, Wheels};
use super::clutch::{Shaft, ShaftBranch, ShaftPiece};
use super::contact::{Contact, Piece, Touch};
use super::derived::GRAVITY_M_S2;
use super::motor::{Command, Motor};
use super::state::{self, State};
use super::suspension::{Stand, Suspension};
use super::tyre::Tyre;

/// Number of branch ends that are watched.
pub(super) const GUARDS: usize = 11;

/// The branch that each element is on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Branches {
    mesh: Touch,
    shaft: ShaftBranch,
    ground: Touch,
    slap: Touch,
    suspension: Stand,
}

/// The straight pieces of the branches.
#[derive(Clone, Copy, Debug, Default)]
struct Pieces {
    mesh: Piece,
    shaft: ShaftPiece,
    ground: Piece,
    slap: Piece,
    suspension: Piece,
}

/// What acts at one instant.
#[derive(Clone, Copy, Debug)]
pub(super) struct Forces {
    /// Along the line of action, N; positive on the drive flank.
    pub mesh_n: f64,
    /// Of the shaft at the spur, N·m.
    pub shaft_n_m: f64,
    /// Of the ground on all tyres, N.
    pub ground_n: f64,
}

/// A force with its rate of change.
#[derive(Clone, Copy, Debug)]
pub(super) struct Moving {
    pub value: f64,
    pub rate: f64,
}

/// The model of one truck on its present branches.
#[derive(Clone, Debug)]
pub(super) struct Model {
    truck: Constants,
    motor: Motor,
    tyre: Tyre,
    mesh: Contact,
    shaft: Shaft,
    ground: Contact,
    slap: Contact,
    suspension: Suspension,
    branches: Branches,
    pieces: Pieces,
    command: Command,
    wheels: Wheels,
}

/// Numbers of the truck that the equations need as such.
#[derive(Clone, Copy, Debug)]
struct Constants {
    rb1_m: f64,
    rb2_m: f64,
    ratio: f64,
    tyre_radius_m: f64,
    mass_kg: f64,
    sprung_kg: f64,
    unsprung_kg: f64,
    rotor_kg_m2: f64,
    spur_kg_m2: f64,
    wheels_kg_m2: f64,
    lag_s: f64,
    drag_kg_m: f64,
}

impl Model {
    pub(super) fn new(truck: &Parameters, segment: &Segment, state: &State) -> Self {
        let mut model = Self {
            truck: Constants::of(truck),
            motor: truck.motor(),
            tyre: truck.tyre(),
            mesh: truck.mesh(),
            shaft: truck.shaft(),
            ground: truck.ground(),
            slap: truck.slap(),
            suspension: truck.suspension(),
            branches: Branches {
                mesh: Touch::Open,
                shaft: ShaftBranch::Held(Touch::Open),
                ground: Touch::Open,
                slap: Touch::Open,
                suspension: Stand::Free,
            },
            pieces: Pieces::default(),
            command: segment.command,
            wheels: segment.wheels,
        };
        model.settle(state);
        model
    }

    /// Another stretch of the event: its command, its rule for the wheels.
    pub(super) fn enter(&mut self, segment: &Segment, state: &State) {
        self.command = segment.command;
        self.wheels = segment.wheels;
        self.settle(state);
    }

    /// Takes the branches that the state itself is on.
    fn settle(&mut self, state: &State) {
        let m = Motion::of(&self.truck, state);
        self.branches = Branches {
            mesh: self.mesh.touch(m.mesh_m, m.mesh_m_s),
            shaft: self.shaft.branch(m.twist_rad, m.twist_rad_s),
            ground: self.ground.touch(m.sink_m, m.sink_m_s),
            slap: self.slap.touch(m.chassis_m, m.chassis_m_s),
            suspension: self.suspension.stand(m.compression_m),
        };
        self.take_pieces();
    }

    fn take_pieces(&mut self) {
        self.pieces = Pieces {
            mesh: self.mesh.piece(self.branches.mesh),
            shaft: self.shaft.piece(self.branches.shaft),
            ground: self.ground.piece(self.branches.ground),
            slap: self.slap.piece(self.branches.slap),
            suspension: self.suspension.piece(self.branches.suspension),
        };
    }

    /// Whether the mesh carries a force.
    pub(super) fn mesh_is_closed(&self) -> bool {
        self.branches.mesh.is_closed()
    }

    /// Speed at which the flanks close, m/s.
    pub(super) fn mesh_speed_m_s(&self, state: &State) -> f64 {
        Motion::of(&self.truck, state).mesh_m_s
    }

    /// Rates of all states and of the energy put in and lost.
    pub(super) fn rates(&self, state: &State) -> State {
        let t = &self.truck;
        let m = Motion::of(t, state);
        let p = &self.pieces;
        let mesh_n = p.mesh.force(m.mesh_m, m.mesh_m_s);
        let (shaft_n_m, slip_rad_s) = p.shaft.torque_and_slip(m.twist_rad, m.twist_rad_s);
        let twist_rate = m.twist_rad_s - slip_rad_s;
        let ground_n = p.ground.force(m.sink_m, m.sink_m_s);
        let slap_n = p.slap.force(m.chassis_m, m.chassis_m_s);
        let suspension_n = p.suspension.force(m.compression_m, m.compression_m_s);
        let rotor_rad_s = state[state::ROTOR_SPEED];
        let wheel_rad_s = state[state::WHEEL_SPEED];
        let speed_m_s = state[state::TRUCK_SPEED];
        let current_a = state[state::CURRENT];
        let road_n = state[state::TYRE_FORCE];
        let tread_m_s = t.tyre_radius_m * wheel_rad_s;
        let drag_n = t.drag_kg_m * speed_m_s * speed_m_s.abs();
        let no_load_n_m = self.motor.no_load_torque_n_m(rotor_rad_s);
        let motor_n_m = self.motor.constant * current_a;
        let wheel_n_m = t.ratio * shaft_n_m - t.tyre_radius_m * road_n;
        let (wheel_rate, stop_w) = match self.wheels {
            Wheels::Driven => (wheel_n_m / t.wheels_kg_m2, 0.0),
            Wheels::Forced { rate_rad_s2 } => (rate_rad_s2, (wheel_n_m - t.wheels_kg_m2 * rate_rad_s2) * wheel_rad_s),
        };
        let mut rates = [0.0; state::COUNT];
        rates[state::MESH] = m.mesh_m_s;
        rates[state::TWIST] = twist_rate;
        rates[state::ROTOR_SPEED] = (motor_n_m - no_load_n_m - mesh_n * t.rb1_m) / t.rotor_kg_m2;
        rates[state::SPUR_SPEED] = (mesh_n * t.rb2_m - shaft_n_m) / t.spur_kg_m2;
        rates[state::WHEEL_SPEED] = wheel_rate;
        rates[state::TRUCK_SPEED] = (road_n - drag_n) / t.mass_kg;
        rates[state::CURRENT] = (self.motor.commanded_current_a(self.command, rotor_rad_s) - current_a) / t.lag_s;
        rates[state::TYRE_FORCE] = self.tyre.force_rate_n_s(road_n, ground_n, speed_m_s, tread_m_s);
        rates[state::SPRUNG_HEIGHT] = state[state::SPRUNG_SPEED];
        rates[state::SPRUNG_SPEED] = (suspension_n + slap_n) / t.sprung_kg - GRAVITY_M_S2;
        rates[state::UNSPRUNG_HEIGHT] = state[state::UNSPRUNG_SPEED];
        rates[state::UNSPRUNG_SPEED] = (ground_n - suspension_n) / t.unsprung_kg - GRAVITY_M_S2;
        rates[state::ENERGY_IN] = motor_n_m * rotor_rad_s;
        rates[state::ENERGY_LOST] = no_load_n_m * rotor_rad_s
            + p.mesh.loss(mesh_n, m.mesh_m, m.mesh_m_s)
            + p.shaft.twist.loss(shaft_n_m, m.twist_rad, twist_rate)
            + shaft_n_m * slip_rad_s
            + p.ground.loss(ground_n, m.sink_m, m.sink_m_s)
            + p.slap.loss(slap_n, m.chassis_m, m.chassis_m_s)
            + p.suspension.loss(suspension_n, m.compression_m, m.compression_m_s)
            + road_n * (tread_m_s - speed_m_s)
            + drag_n * speed_m_s
            + stop_w;
        rates
    }

    /// Functions of the state, each divided by the least amount that counts: a branch ends where one passes 1.
    pub(super) fn guards(&self, state: &State) -> [f64; GUARDS] {
        let m = Motion::of(&self.truck, state);
        let [mesh_a, mesh_b] = self.mesh.guards(self.branches.mesh, m.mesh_m, m.mesh_m_s);
        let [shaft_a, shaft_b, shaft_c] = self.shaft.guards(self.branches.shaft, m.twist_rad, m.twist_rad_s);
        let [ground_a, ground_b] = self.ground.guards(self.branches.ground, m.sink_m, m.sink_m_s);
        let [slap_a, slap_b] = self.slap.guards(self.branches.slap, m.chassis_m, m.chassis_m_s);
        let [stand_a, stand_b] = self.suspension.guards(self.branches.suspension, m.compression_m);
        let mesh = Resolution::new(MESH_RESOLUTION_M, self.mesh.stiffness);
        let shaft = Resolution::new(TWIST_RESOLUTION_RAD, self.shaft.contact.stiffness);
        let ground = Resolution::new(HEIGHT_RESOLUTION_M, self.ground.stiffness);
        let slap = Resolution::new(HEIGHT_RESOLUTION_M, self.slap.stiffness.max(1.0));
        let closed = |touch: Touch| touch != Touch::Open;
        let slips = !matches!(self.branches.shaft, ShaftBranch::Held(Touch::Open));
        [
            mesh.count(closed(self.branches.mesh), mesh_a),
            mesh.count(false, mesh_b),
            shaft.count(slips, shaft_a),
            shaft.count(false, shaft_b),
            shaft.count(true, shaft_c),
            ground.count(closed(self.branches.ground), ground_a),
            ground.count(false, ground_b),
            slap.count(closed(self.branches.slap), slap_a),
            slap.count(false, slap_b),
            ground.count(false, stand_a),
            ground.count(false, stand_b),
        ]
    }

    /// Takes the branch behind the guard with this number; tells whether flanks met.
    pub(super) fn cross(&mut self, guard: usize) -> bool {
        let was_closed = self.mesh_is_closed();
        match guard {
            0 | 1 => self.branches.mesh = self.branches.mesh.after(guard),
            2..=4 => self.branches.shaft = self.branches.shaft.after(guard - 2),
            5 | 6 => self.branches.ground = self.branches.ground.after(guard - 5),
            7 | 8 => self.branches.slap = self.branches.slap.after(guard - 7),
            _ => self.branches.suspension = self.branches.suspension.after(guard - 9),
        }
        self.take_pieces();
        !was_closed && self.mesh_is_closed()
    }

    /// The forces at one state.
    pub(super) fn forces(&self, state: &State) -> Forces {
        let m = Motion::of(&self.truck, state);
        Forces {
            mesh_n: self.pieces.mesh.force(m.mesh_m, m.mesh_m_s),
            shaft_n_m: self.pieces.shaft.torque_and_slip(m.twist_rad, m.twist_rad_s).0,
            ground_n: self.pieces.ground.force(m.sink_m, m.sink_m_s),
        }
    }

    /// Mesh force, shaft torque and ground force with their rates of change.
    pub(super) fn moving(&self, state: &State, rates: &State) -> [Moving; 3] {
        let t = &self.truck;
        let m = Motion::of(t, state);
        let of = |piece: &Piece, value: f64, speed: f64, acceleration: f64| Moving {
            value,
            rate: piece.stiffness * speed + piece.damping * acceleration,
        };
        let forces = self.forces(state);
        let mesh_m_s2 = t.rb1_m * rates[state::ROTOR_SPEED] - t.rb2_m * rates[state::SPUR_SPEED];
        let twist_rad_s2 = rates[state::SPUR_SPEED] - t.ratio * rates[state::WHEEL_SPEED];
        [
            of(&self.pieces.mesh, forces.mesh_n, m.mesh_m_s, mesh_m_s2),
            of(&self.pieces.shaft.twist, forces.shaft_n_m, rates[state::TWIST], twist_rad_s2),
            of(&self.pieces.ground, forces.ground_n, m.sink_m_s, -rates[state::UNSPRUNG_SPEED]),
        ]
    }

    /// Kinetic energy, springs and height, J.
    pub(super) fn stored_j(&self, state: &State) -> f64 {
        let t = &self.truck;
        let m = Motion::of(t, state);
        let kinetic = |inertia: f64, speed: f64| 0.5 * inertia * speed * speed;
        kinetic(t.rotor_kg_m2, state[state::ROTOR_SPEED])
            + kinetic(t.spur_kg_m2, state[state::SPUR_SPEED])
            + kinetic(t.wheels_kg_m2, state[state::WHEEL_SPEED])
            + kinetic(t.mass_kg, state[state::TRUCK_SPEED])
            + kinetic(t.sprung_kg, state[state::SPRUNG_SPEED])
            + kinetic(t.unsprung_kg, state[state::UNSPRUNG_SPEED])
            + self.mesh.stored(m.mesh_m)
            + self.shaft.contact.stored(m.twist_rad)
            + self.ground.stored(m.sink_m)
            + self.slap.stored(m.chassis_m)
            + self.suspension.stored_j(m.compression_m)
            + GRAVITY_M_S2 * (t.sprung_kg * state[state::SPRUNG_HEIGHT] + t.unsprung_kg * state[state::UNSPRUNG_HEIGHT])
    }
}

/// Least distances that decide on a branch: far below what moves a peak by 0.01 %.
const MESH_RESOLUTION_M: f64 = 1e-13;
const TWIST_RESOLUTION_RAD: f64 = 1e-11;
const HEIGHT_RESOLUTION_M: f64 = 1e-12;

/// The least travel that counts in a guard, or the least force.
struct Resolution {
    travel: f64,
    force: f64,
}

impl Resolution {
    fn new(travel: f64, stiffness: f64) -> Self {
        Self { travel, force: travel * stiffness }
    }

    fn count(&self, is_force: bool, guard: f64) -> f64 {
        guard / if is_force { self.force } else { self.travel }
    }
}

/// Travels and speeds that the elements see.
struct Motion {
    mesh_m: f64,
    mesh_m_s: f64,
    twist_rad: f64,
    twist_rad_s: f64,
    sink_m: f64,
    sink_m_s: f64,
    chassis_m: f64,
    chassis_m_s: f64,
    compression_m: f64,
    compression_m_s: f64,
}

impl Motion {
    fn of(t: &Constants, state: &State) -> Self {
        Self {
            mesh_m: state[state::MESH],
            mesh_m_s: t.rb1_m * state[state::ROTOR_SPEED] - t.rb2_m * state[state::SPUR_SPEED],
            twist_rad: state[state::TWIST],
            twist_rad_s: state[state::SPUR_SPEED] - t.ratio * state[state::WHEEL_SPEED],
            sink_m: -state[state::UNSPRUNG_HEIGHT],
            sink_m_s: -state[state::UNSPRUNG_SPEED],
            chassis_m: -state[state::SPRUNG_HEIGHT],
            chassis_m_s: -state[state::SPRUNG_SPEED],
            compression_m: state[state::UNSPRUNG_HEIGHT] - state[state::SPRUNG_HEIGHT],
            compression_m_s: state[state::UNSPRUNG_SPEED] - state[state::SPRUNG_SPEED],
        }
    }
}

impl Constants {
    fn of(truck: &Parameters) -> Self {
        Self {
            rb1_m: truck.pinion_base_radius_m,
            rb2_m: truck.spur_base_radius_m,
            ratio: truck.ratio_after_spur,
            tyre_radius_m: truck.tyre_radius_m,
            mass_kg: truck.truck_mass_kg,
            sprung_kg: truck.sprung_mass_kg(),
            unsprung_kg: truck.unsprung_mass_kg(),
            rotor_kg_m2: truck.rotor_inertia_kg_m2,
            spur_kg_m2: truck.spur_inertia_kg_m2,
            wheels_kg_m2: truck.wheel_inertia_kg_m2(),
            lag_s: truck.current_lag_s,
            drag_kg_m: truck.drag_n(1.0),
        }
    }
}
