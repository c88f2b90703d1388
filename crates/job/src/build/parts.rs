//! The parts of a build, every value typed.

use toothsayer_mechanics::gear::{PairSpec, PitchOf};
use toothsayer_quantity::{
    Angle, AngularSpeed, Area, Current, Force, Hardness, Inertia, Length, LinearDamping, LinearStiffness, Mass,
    MotorConstant, Pressure, Resistance, Speed, Temperature, Time, Torque, TorsionStiffness, Voltage,
};

/// Chassis and air.
#[derive(Clone, Debug)]
pub struct Truck {
    /// Mass ready to run.
    pub mass: Mass,
    /// Drag coefficient times frontal area.
    pub drag_area: Area,
}

/// The pack.
#[derive(Clone, Debug)]
pub struct Battery {
    /// Cells in series.
    pub cells: f64,
    /// Open-circuit voltage of the pack.
    pub voltage: Voltage,
    /// Resistance of pack, leads and plugs.
    pub resistance: Resistance,
}

/// The motor and its shaft.
#[derive(Clone, Debug)]
pub struct Motor {
    /// Kv.
    pub kv: MotorConstant,
    /// Winding resistance.
    pub resistance: Resistance,
    /// Current when running free.
    pub no_load_current: Current,
    /// Rotor's inertia.
    pub rotor_inertia: Inertia,
    /// Diameter of the shaft under the pinion.
    pub shaft_diameter: Length,
    /// Yield strength of the shaft.
    pub shaft_yield: Pressure,
    /// From the front bearing to mid-mesh.
    pub overhang: Length,
    /// Swing of the shaft beside the pinion in one turn (total indicator reading).
    pub run_out: Length,
    /// Mass of the motor.
    pub mass: Mass,
    /// Length of the can, where given.
    pub can_length: Option<Length>,
    /// The winding's limit.
    pub temperature_limit: Temperature,
    /// How well the case is cooled, against a bare can.
    pub cooling: f64,
    /// The front bearing, by its ISO size, where given.
    pub front_bearing: Option<String>,
    /// Time constant of the current.
    pub current_lag: Time,
    /// The maker's speed limit.
    pub max_speed: Option<AngularSpeed>,
}

/// The controller's limits and settings.
#[derive(Clone, Debug)]
pub struct Controller {
    /// Limit of the drive current.
    pub drive_current: Current,
    /// Limit of the brake current.
    pub brake_current: Current,
    /// Brake strength, 0 to 1.
    pub brake_strength: f64,
    /// Throttle strength, 0 to 1.
    pub throttle_strength: f64,
    /// Cells that the maker allows.
    pub max_cells: Option<f64>,
}

/// One gear's body.
#[derive(Clone, Debug)]
pub struct GearBody {
    /// Toothed width.
    pub face_width: Length,
    /// Material, by its name in the material file.
    pub material: String,
    /// Hardness.
    pub hardness: Hardness,
}

/// The pair of gears.
#[derive(Clone, Debug)]
pub struct Gears {
    /// Their geometry at the state's centre distance, by the pair's common pitch.
    pub spec: PairSpec,
    /// What decides the base pitch of pinion and spur, each its own; alike where they are one pair.
    pub pitches: [PitchOf; 2],
    /// The pinion's body.
    pub pinion: GearBody,
    /// The spur's body.
    pub spur: GearBody,
}

impl Gears {
    /// How far the base pitches of pinion and spur differ, without sign; nothing where they are one pair.
    pub fn pitch_error(&self) -> Length {
        let [pinion, spur] = self.pitches;
        (pinion.base_pitch() - spur.base_pitch()).abs()
    }
}

/// From the spur to the wheels.
#[derive(Clone, Debug)]
pub struct Driveline {
    /// Inertia of spur and input shaft.
    pub spur_inertia: Inertia,
    /// Turns of the spur for one of the wheels.
    pub ratio_after_spur: f64,
    /// Stiffness, at the spur.
    pub stiffness: TorsionStiffness,
    /// Damping ratio.
    pub damping_ratio: f64,
    /// Play, at the wheels.
    pub lash: Angle,
    /// Torque at which the clutch slips, at the spur.
    pub clutch_torque: Option<Torque>,
    /// A bearing of the spur's shaft, by its ISO size, where given.
    pub input_bearing: Option<String>,
}

/// The wheels.
#[derive(Clone, Debug)]
pub struct Wheels {
    /// How many the truck stands on.
    pub count: f64,
    /// How many of them are driven.
    pub driven: f64,
    /// Share of the weight that the driven ones carry.
    pub driven_load: f64,
    /// Mass of one.
    pub mass: Mass,
    /// Diameter of the tyre.
    pub diameter: Length,
    /// Radius of gyration over tyre radius.
    pub gyration: f64,
    /// Coefficient of grip.
    pub grip: f64,
    /// Vertical stiffness of one tyre.
    pub vertical_stiffness: LinearStiffness,
    /// Vertical damping of one tyre.
    pub vertical_damping: LinearDamping,
    /// Stiffness factor of the slip curve.
    pub slip_stiffness: f64,
    /// Shape factor of the slip curve.
    pub slip_shape: f64,
    /// Travel in which the tyre's force builds up.
    pub relaxation_length: Length,
    /// The maker's speed limit.
    pub max_speed: Option<AngularSpeed>,
}

/// The whole truck's suspension.
#[derive(Clone, Debug)]
pub struct Suspension {
    /// Stiffness.
    pub stiffness: LinearStiffness,
    /// Damping.
    pub damping: LinearDamping,
    /// Travel to the stop.
    pub travel: Length,
    /// Stiffness of the stop.
    pub stop_stiffness: LinearStiffness,
    /// Chassis to ground at full droop, where it slaps.
    pub clearance: Option<Length>,
}

/// How pinion, spur and cover bearing lie along the motor's shaft.
#[derive(Clone, Debug)]
pub struct Stack {
    /// Width on which both toothed faces meet.
    pub overlap: Length,
    /// Between pinion and cover bearing; negative when the cover cannot seat.
    pub gap: Length,
    /// Root-sum-square of the lengths' tolerances.
    pub gap_tolerance: Length,
    /// From the mount's plane to the middle of the pinion's face.
    pub mount_to_mid_face: Length,
}

/// How tight a screw is.
#[derive(Clone, Debug, PartialEq)]
pub enum Tightening {
    /// A known torque.
    Torque(Torque),
    /// A word for it: "loose", "hand", "set"; for set screws the tool.
    Word(String),
}

/// The pinion's set screw.
#[derive(Clone, Debug)]
pub struct SetScrew {
    /// Size.
    pub size: String,
    /// How tight.
    pub tightening: Tightening,
    /// Whether it presses on a flat.
    pub on_flat: bool,
}

/// The outer bearing of the motor's shaft.
#[derive(Clone, Debug)]
pub struct Support {
    /// ISO dimensions, where known.
    pub bearing: Option<String>,
    /// Dynamic rating, where given.
    pub dynamic_rating: Option<Force>,
    /// Static rating, where given.
    pub static_rating: Option<Force>,
    /// From the motor's front bearing.
    pub distance: Length,
    /// Stiffness of the seat; 0 when the bearing is gone.
    pub stiffness: LinearStiffness,
}

/// One joint.
#[derive(Clone, Debug)]
pub struct Joint {
    /// Its name.
    pub name: String,
    /// What it carries.
    pub carries: String,
    /// Number of screws.
    pub screws: u32,
    /// Thread size.
    pub size: String,
    /// Property class.
    pub class: String,
    /// Screw length under the head.
    pub length: Length,
    /// Thickness of the clamped part.
    pub clamped: Length,
    /// Usable depth of the threaded hole.
    pub hole_depth: Length,
    /// Material of the threaded part.
    pub thread_in: String,
    /// Material under the head.
    pub under_head: String,
    /// Whether a washer lies under the head.
    pub washer: bool,
    /// Bolt circle.
    pub circle: Option<Length>,
    /// Clamp that each screw must keep, where given.
    pub needed_clamp: Option<Force>,
    /// Torque that the maker prints.
    pub printed_torque: Option<Torque>,
    /// How tight.
    pub tightening: Tightening,
    /// Runs since it was tightened.
    pub runs_since_tightened: f64,
    /// How often the screws have been out.
    pub removals: u32,
    /// Found to let its part move: clamps nothing.
    pub free: bool,
}

/// What a run asks of the truck.
#[derive(Clone, Debug)]
pub struct Driver {
    /// Length of a run.
    pub run: Time,
    /// Share of it at full throttle.
    pub full_throttle_share: f64,
    /// Launches a run.
    pub launches: f64,
    /// Full brakings a run.
    pub full_brakes: f64,
    /// Reversals a run.
    pub reversals: f64,
    /// Landings a run.
    pub landings: f64,
    /// Height of the drop.
    pub drop_height: Length,
    /// Speed on landing.
    pub landing_speed: Speed,
    /// Speed from which the driver brakes; 0.9 of the loaded top speed where not given.
    pub brake_from_speed: Option<Speed>,
    /// Share of landings with the throttle open.
    pub landings_on_throttle: f64,
    /// Share of landings with the brake on.
    pub landings_on_brake: f64,
    /// Current in the rest of a run over that at full throttle.
    pub part_load: f64,
    /// Temperature of the air.
    pub air_temperature: Temperature,
}

/// One state of the truck with its driver.
#[derive(Clone, Debug)]
pub struct Build {
    /// Chassis and air.
    pub truck: Truck,
    /// The pack.
    pub battery: Battery,
    /// The motor and its shaft.
    pub motor: Motor,
    /// The controller.
    pub controller: Controller,
    /// The pair of gears.
    pub gears: Gears,
    /// From the spur to the wheels.
    pub driveline: Driveline,
    /// The driven wheels.
    pub wheels: Wheels,
    /// The suspension.
    pub suspension: Suspension,
    /// Along the motor's shaft.
    pub stack: Stack,
    /// The pinion's set screw.
    pub set_screw: SetScrew,
    /// The outer bearing of the motor's shaft, where there is one.
    pub support: Option<Support>,
    /// The joints.
    pub joints: Vec<Joint>,
    /// The driver.
    pub driver: Driver,
    /// Travel of the pinion, stop to stop, when the motor is rocked by hand.
    pub rock_travel: Length,
    /// Whether the pinion can move along the shaft.
    pub pinion_free: bool,
}
