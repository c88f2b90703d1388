//! The truck's way up and down in a general rigid-body engine (rapier2d 0.36): two bodies that slide along the vertical,
//! and a sliding joint with a spring and damper of the engine's own for tyres, suspension and slap.
//!
//! The engine solves the springs implicitly with its joints; here it is only told, before each step, which straight piece of
//! its law each spring is on: a tyre pushes and never pulls, the suspension has its stops.

use rapier2d_f64::prelude::*;
use toothsayer_mechanics::driveline::Parameters;

/// Acceleration of fall, m/s².
const GRAVITY_M_S2: f64 = 9.81;

/// What the engine sees of a fall.
#[derive(Clone, Copy, Debug, Default)]
pub struct Fall {
    /// Largest force on the ground, N.
    pub peak_n: f64,
    /// When, s.
    pub peak_s: f64,
    /// Largest compression of the suspension, m.
    pub travel_m: f64,
}

/// A fall to compute.
#[derive(Clone, Copy)]
pub struct Drop {
    /// Height of the fall, m.
    pub height_m: f64,
    /// Time after touch-down, s.
    pub duration_s: f64,
    /// The engine's step, s.
    pub step_s: f64,
}

/// A straight piece of a spring's law between two bodies: stiffness (target - x) - damping v on the upper body, where x is the
/// upper's height over the lower's; none where it does not act.
type Pull = Option<(f64, f64, f64)>;

/// Lets a truck fall from a height; time begins where the tyres touch.
pub fn fall(truck: &Parameters, drop: Drop) -> Fall {
    let mut world = World::new(truck, (2.0 * GRAVITY_M_S2 * drop.height_m).sqrt(), drop.step_s);
    let mut fall = Fall::default();
    for index in 1..=(drop.duration_s / drop.step_s).round() as u64 {
        world.step(truck);
        let pushed_n = world.ground_n(truck);
        if pushed_n > fall.peak_n {
            (fall.peak_n, fall.peak_s) = (pushed_n, index as f64 * drop.step_s);
        }
        fall.travel_m = fall.travel_m.max(world.height(world.wheels).0 - world.height(world.chassis).0);
    }
    fall
}

/// The engine with its bodies and joints.
struct World {
    pipeline: PhysicsPipeline,
    parameters: IntegrationParameters,
    islands: IslandManager,
    broad: BroadPhaseBvh,
    narrow: NarrowPhase,
    bodies: RigidBodySet,
    colliders: ColliderSet,
    joints: ImpulseJointSet,
    multibodies: MultibodyJointSet,
    soft: SoftBodySet,
    ccd: CCDSolver,
    wheels: RigidBodyHandle,
    chassis: RigidBodyHandle,
    tyre: ImpulseJointHandle,
    suspension: ImpulseJointHandle,
    slap: ImpulseJointHandle,
}

impl World {
    fn new(truck: &Parameters, fall_m_s: f64, step_s: f64) -> Self {
        let unsprung_kg = f64::from(truck.wheel_count) * truck.wheel_mass_kg;
        let body = |mass_kg: f64| {
            let sliding = RigidBodyBuilder::dynamic().lock_rotations().enabled_translations(false, true);
            sliding.additional_mass(mass_kg).linvel(Vector::new(0.0, -fall_m_s)).can_sleep(false)
        };
        let mut bodies = RigidBodySet::new();
        let ground = bodies.insert(RigidBodyBuilder::fixed());
        let wheels = bodies.insert(body(unsprung_kg));
        let chassis = bodies.insert(body(truck.truck_mass_kg - unsprung_kg));
        let mut joints = ImpulseJointSet::new();
        let mut slide = |lower, upper| {
            let spring = PrismaticJointBuilder::new(Vector::new(0.0, 1.0)).motor_model(MotorModel::ForceBased);
            joints.insert(lower, upper, spring.motor_position(0.0, 1.0, 0.0), true)
        };
        let [tyre, suspension, slap] = [slide(ground, wheels), slide(wheels, chassis), slide(ground, chassis)];
        Self {
            pipeline: PhysicsPipeline::new(),
            parameters: IntegrationParameters { dt: step_s, num_solver_iterations: 1, ..Default::default() },
            islands: IslandManager::new(),
            broad: BroadPhaseBvh::new(),
            narrow: NarrowPhase::new(),
            bodies,
            colliders: ColliderSet::new(),
            joints,
            multibodies: MultibodyJointSet::new(),
            soft: SoftBodySet::new(),
            ccd: CCDSolver::new(),
            wheels,
            chassis,
            tyre,
            suspension,
            slap,
        }
    }

    /// Height and speed of a body.
    fn height(&self, body: RigidBodyHandle) -> (f64, f64) {
        let body = &self.bodies[body];
        (body.translation().y, body.linvel().y)
    }

    fn step(&mut self, truck: &Parameters) {
        let (wheels, chassis) = (self.height(self.wheels), self.height(self.chassis));
        self.set(self.tyre, tyre(truck, wheels));
        self.set(self.suspension, Some(suspension(truck, wheels.0 - chassis.0)));
        self.set(self.slap, slap(truck, chassis));
        self.pipeline.step(
            Vector::new(0.0, -GRAVITY_M_S2),
            &self.parameters,
            &mut self.islands,
            &mut self.broad,
            &mut self.narrow,
            &mut self.bodies,
            &mut self.colliders,
            &mut self.joints,
            &mut self.multibodies,
            &mut self.soft,
            &mut self.ccd,
            &(),
            &(),
        );
    }

    /// Sets a joint's spring and damper, or lets it go.
    fn set(&mut self, joint: ImpulseJointHandle, pull: Pull) {
        let data = &mut self.joints.get_mut(joint, true).unwrap().data;
        if let Some((stiffness, damping, target)) = pull {
            data.set_motor_position(JointAxis::LinX, target, stiffness, damping);
        }
        data.set_motor_max_force(JointAxis::LinX, if pull.is_some() { f64::MAX } else { 0.0 });
    }

    /// Force on the ground by the engine's heights and speeds, N.
    fn ground_n(&self, truck: &Parameters) -> f64 {
        let (height_m, speed_m_s) = self.height(self.wheels);
        tyre(truck, (height_m, speed_m_s))
            .map_or(0.0, |(stiffness, damping, _)| -stiffness * height_m - damping * speed_m_s)
    }
}

/// All tyres as one spring and damper that pushes where it is pressed, and never pulls.
fn tyre(truck: &Parameters, (height_m, speed_m_s): (f64, f64)) -> Pull {
    let count = f64::from(truck.wheel_count);
    let (stiffness, damping) = (count * truck.tyre_stiffness_n_m, count * truck.tyre_damping_n_s_m);
    pushes((stiffness, damping, 0.0), (height_m, speed_m_s))
}

/// The chassis on the ground, in the same way.
fn slap(truck: &Parameters, chassis: (f64, f64)) -> Pull {
    let clearance_m = truck.chassis_clearance_m?;
    pushes((truck.slap_stiffness_n_m, truck.slap_damping_n_s_m, -clearance_m), chassis)
}

fn pushes((stiffness, damping, target): (f64, f64, f64), (height_m, speed_m_s): (f64, f64)) -> Pull {
    let acts = height_m < target && stiffness * (target - height_m) - damping * speed_m_s > 0.0;
    acts.then_some((stiffness, damping, target))
}

/// Spring and damper between the stops; beyond the travel the stop's spring beside them, below droop the stop's instead.
fn suspension(truck: &Parameters, compression_m: f64) -> (f64, f64, f64) {
    let (spring, stop, travel_m) =
        (truck.suspension_stiffness_n_m, truck.stop_stiffness_n_m, truck.suspension_travel_m);
    let (stiffness, target) = if compression_m < 0.0 {
        (stop, 0.0)
    } else if compression_m <= travel_m {
        (spring, 0.0)
    } else {
        (spring + stop, -stop * travel_m / (spring + stop))
    };
    (stiffness, truck.suspension_damping_n_s_m, target)
}
