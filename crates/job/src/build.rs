//! A build: one state of the truck and its driver, every value typed and at hand.

use crate::sheet::{Entry, Fields, JointFields, Sheet};
use crate::stack;
use crate::start::module_m;
use toothsayer_mechanics::gear::{Gear, PairSpec, Rack};
use toothsayer_quantity::{
    Angle, AngularSpeed, Area, Current, Force, Hardness, Inertia, Length, LinearDamping, LinearStiffness, Mass,
    MotorConstant, Pressure, Resistance, Speed, Temperature, Time, Torque, TorsionStiffness, Voltage,
};

/// A value that a build needs and the sheet does not have.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{key}` has no value")]
pub struct MissingValue {
    /// Its key.
    pub key: &'static str,
}

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
    /// Their geometry at the state's centre distance.
    pub spec: PairSpec,
    /// The pinion's body.
    pub pinion: GearBody,
    /// The spur's body.
    pub spur: GearBody,
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

/// Which value of an entry a build takes.
pub type Pick<'a> = &'a dyn Fn(&str, &Entry) -> f64;

impl Sheet {
    /// The build at the sheet's point values.
    pub fn build(&self) -> Result<Build, MissingValue> {
        self.build_with(&|_, entry| entry.value)
    }

    /// The build with each value picked from its entry.
    pub fn build_with(&self, pick: Pick<'_>) -> Result<Build, MissingValue> {
        let from = Source { fields: &self.fields, pick };
        Ok(Build {
            truck: from.truck()?,
            battery: from.battery()?,
            motor: from.motor()?,
            controller: from.controller()?,
            gears: from.gears()?,
            driveline: from.driveline()?,
            wheels: from.wheels()?,
            suspension: from.suspension()?,
            stack: from.stack()?,
            set_screw: from.set_screw()?,
            support: from.support(),
            joints: self.joints.iter().map(|joint| joint_of(joint, pick)).collect::<Result<_, _>>()?,
            driver: from.driver()?,
            rock_travel: Length::m(self.rock_travel_m),
            pinion_free: self.pinion_free,
        })
    }
}

/// Gear geometry from a sheet whose values may not be complete.
pub(crate) fn pair_spec(fields: &Fields) -> Option<PairSpec> {
    let from = Source { fields, pick: &|_, entry| entry.value };
    from.pair(module_m(fields)?, fields.number("gears.centre_distance").unwrap_or(0.0)).ok()
}

struct Source<'a> {
    fields: &'a Fields,
    pick: Pick<'a>,
}

impl Source<'_> {
    fn maybe(&self, key: &'static str) -> Option<f64> {
        self.fields.numbers.get(key).map(|entry| (self.pick)(key, entry))
    }

    fn si(&self, key: &'static str) -> Result<f64, MissingValue> {
        self.maybe(key).ok_or(MissingValue { key })
    }

    fn word(&self, key: &'static str) -> Result<String, MissingValue> {
        self.fields.word(key).map(str::to_owned).ok_or(MissingValue { key })
    }

    fn truck(&self) -> Result<Truck, MissingValue> {
        Ok(Truck { mass: Mass::si(self.si("truck.mass")?), drag_area: Area::si(self.si("truck.drag_area")?) })
    }

    fn battery(&self) -> Result<Battery, MissingValue> {
        let cells = self.si("battery.cells")?;
        Ok(Battery {
            cells,
            voltage: Voltage::v(cells * self.si("battery.cell_voltage")?),
            resistance: Resistance::si(self.si("battery.resistance")?),
        })
    }

    fn motor(&self) -> Result<Motor, MissingValue> {
        Ok(Motor {
            kv: MotorConstant::si(self.si("motor.kv")?),
            resistance: Resistance::si(self.si("motor.resistance")?),
            no_load_current: Current::si(self.si("motor.no_load_current")?),
            rotor_inertia: Inertia::si(self.si("motor.rotor_inertia")?),
            shaft_diameter: Length::si(self.si("motor.shaft_diameter")?),
            shaft_yield: Pressure::si(self.si("motor.shaft_yield")?),
            overhang: Length::si(self.si("motor.overhang")?),
            run_out: Length::si(self.si("motor.run_out")?),
            mass: Mass::si(self.si("motor.mass")?),
            can_length: self.maybe("motor.can_length").map(Length::si),
            temperature_limit: Temperature::si(self.si("motor.temperature_limit")?),
            cooling: self.si("motor.cooling")?,
            front_bearing: self.fields.word("motor.front_bearing").map(str::to_owned),
            current_lag: Time::si(self.si("motor.current_lag")?),
            max_speed: self.maybe("motor.max_speed").map(AngularSpeed::si),
        })
    }

    fn controller(&self) -> Result<Controller, MissingValue> {
        Ok(Controller {
            drive_current: Current::si(self.si("controller.drive_current")?),
            brake_current: Current::si(self.si("controller.brake_current")?),
            brake_strength: self.si("controller.brake_strength")?,
            throttle_strength: self.si("controller.throttle_strength")?,
            max_cells: self.maybe("controller.max_cells"),
        })
    }

    fn gears(&self) -> Result<Gears, MissingValue> {
        let pitch = || self.maybe("gears.diametral_pitch").map(|pitch_per_m| 1.0 / pitch_per_m);
        let module_m = self.maybe("gears.module").or_else(pitch).ok_or(MissingValue { key: "gears.module" })?;
        Ok(Gears {
            spec: self.pair(module_m, self.si("gears.centre_distance")?)?,
            pinion: GearBody {
                face_width: Length::si(self.si("gears.pinion.face_width")?),
                material: self.word("gears.pinion.material")?,
                hardness: Hardness::si(self.si("gears.pinion.hardness")?),
            },
            spur: GearBody {
                face_width: Length::si(self.si("gears.spur.face_width")?),
                material: self.word("gears.spur.material")?,
                hardness: Hardness::si(self.si("gears.spur.hardness")?),
            },
        })
    }

    fn pair(&self, module_m: f64, centre_distance_m: f64) -> Result<PairSpec, MissingValue> {
        Ok(PairSpec {
            module: Length::m(module_m),
            pressure_angle: Angle::si(self.si("gears.pressure_angle")?),
            rack: Rack {
                addendum: self.si("gears.addendum")?,
                dedendum: self.si("gears.dedendum")?,
                root_radius: self.si("gears.root_radius")?,
            },
            pinion: self.gear(["gears.pinion.teeth", "gears.pinion.shift", "gears.pinion.thinning"])?,
            spur: self.gear(["gears.spur.teeth", "gears.spur.shift", "gears.spur.thinning"])?,
            centre_distance: Length::m(centre_distance_m),
        })
    }

    fn gear(&self, [teeth, shift, thinning]: [&'static str; 3]) -> Result<Gear, MissingValue> {
        Ok(Gear {
            teeth: self.si(teeth)?.round() as u32,
            shift: self.si(shift)?,
            thinning: Length::si(self.si(thinning)?),
            tip_shortening: 0.0,
        })
    }

    fn driveline(&self) -> Result<Driveline, MissingValue> {
        Ok(Driveline {
            spur_inertia: Inertia::si(self.si("driveline.spur_inertia")?),
            ratio_after_spur: self.si("driveline.ratio_after_spur")?,
            stiffness: TorsionStiffness::si(self.si("driveline.stiffness")?),
            damping_ratio: self.si("driveline.damping_ratio")?,
            lash: Angle::si(self.si("driveline.lash")?),
            clutch_torque: self.maybe("driveline.clutch_torque").map(Torque::si),
            input_bearing: self.fields.word("driveline.input_bearing").map(str::to_owned),
        })
    }

    fn wheels(&self) -> Result<Wheels, MissingValue> {
        let count = self.si("wheels.count")?;
        let driven = self.maybe("wheels.driven").unwrap_or(count);
        Ok(Wheels {
            count,
            driven,
            driven_load: self.maybe("wheels.driven_load").unwrap_or(driven / count).min(1.0),
            mass: Mass::si(self.si("wheels.mass")?),
            diameter: Length::si(self.si("wheels.diameter")?),
            gyration: self.si("wheels.gyration")?,
            grip: self.si("wheels.grip")?,
            vertical_stiffness: LinearStiffness::si(self.si("wheels.vertical_stiffness")?),
            vertical_damping: LinearDamping::si(self.si("wheels.vertical_damping")?),
            slip_stiffness: self.si("wheels.slip_stiffness")?,
            slip_shape: self.si("wheels.slip_shape")?,
            relaxation_length: Length::si(self.si("wheels.relaxation_length")?),
            max_speed: self.maybe("wheels.max_speed").map(AngularSpeed::si),
        })
    }

    fn suspension(&self) -> Result<Suspension, MissingValue> {
        Ok(Suspension {
            stiffness: LinearStiffness::si(self.si("suspension.stiffness")?),
            damping: LinearDamping::si(self.si("suspension.damping")?),
            travel: Length::si(self.si("suspension.travel")?),
            stop_stiffness: LinearStiffness::si(self.si("suspension.stop_stiffness")?),
            clearance: self.maybe("suspension.clearance").map(Length::si),
        })
    }

    fn stack(&self) -> Result<Stack, MissingValue> {
        let overhang_m = self.si("motor.overhang")?;
        let pinion_face_m = self.si("gears.pinion.face_width")?;
        let face_start_m = self.maybe("stack.spacer").zip(self.maybe("stack.pinion_face_start")).map(|(a, b)| a + b);
        Ok(Stack {
            overlap: Length::m(stack::overlap_m(|key| self.si(key))?.max(0.0)),
            gap: Length::m(stack::gap_m(|key| self.si(key))?),
            gap_tolerance: Length::m(self.gap_tolerance_m()),
            mount_to_mid_face: Length::m(face_start_m.map_or(overhang_m, |start| start + pinion_face_m / 2.0)),
        })
    }

    /// Root-sum-square of the half ranges of what makes the gap; a guess is no tolerance of manufacture.
    fn gap_tolerance_m(&self) -> f64 {
        let measured = |key: &str| self.fields.numbers.get(key).filter(|entry| !entry.origin.is_assumed());
        let half = |key: &str| measured(key).map_or(0.0, |entry| (entry.high - entry.low) / 2.0);
        let keys: &[&str] = if self.fields.has("stack.bearing_gap") {
            &["stack.bearing_gap"]
        } else {
            &["stack.spacer", "stack.pinion_length", "stack.cover_bearing"]
        };
        keys.iter().map(|key| half(key).powi(2)).sum::<f64>().sqrt()
    }

    fn set_screw(&self) -> Result<SetScrew, MissingValue> {
        let torque = self.maybe("set_screw.torque").map(|si| Tightening::Torque(Torque::si(si)));
        let tool = || Tightening::Word(self.fields.word("set_screw.tool").unwrap_or("driver").to_owned());
        Ok(SetScrew {
            size: self.word("set_screw.size")?,
            tightening: torque.unwrap_or_else(tool),
            on_flat: self.fields.word("set_screw.seat") != Some("round"),
        })
    }

    fn support(&self) -> Option<Support> {
        Some(Support {
            bearing: self.fields.word("support.bearing").map(str::to_owned),
            dynamic_rating: self.maybe("support.c").map(Force::si),
            static_rating: self.maybe("support.c0").map(Force::si),
            distance: Length::si(self.maybe("support.distance")?),
            stiffness: LinearStiffness::si(self.maybe("support.stiffness")?),
        })
    }

    fn driver(&self) -> Result<Driver, MissingValue> {
        Ok(Driver {
            run: Time::si(self.si("driver.run_minutes")?),
            full_throttle_share: self.si("driver.full_throttle_share")?,
            launches: self.si("driver.launches")?,
            full_brakes: self.si("driver.full_brakes")?,
            reversals: self.si("driver.reversals")?,
            landings: self.si("driver.landings")?,
            drop_height: Length::si(self.si("driver.drop_height")?),
            landing_speed: Speed::si(self.si("driver.landing_speed")?),
            brake_from_speed: self.maybe("driver.brake_from_speed").map(Speed::si),
            landings_on_throttle: self.si("driver.landings_on_throttle")?,
            landings_on_brake: self.si("driver.landings_on_brake")?,
            part_load: self.si("driver.part_load")?,
            air_temperature: Temperature::si(self.si("driver.air_temperature")?),
        })
    }
}

fn joint_of(joint: &JointFields, pick: Pick<'_>) -> Result<Joint, MissingValue> {
    let from = Source { fields: &joint.fields, pick };
    let torque = from.maybe("joints.torque").map(|si| Tightening::Torque(Torque::si(si)));
    let word = || Tightening::Word(joint.fields.word("joints.tightness").unwrap_or("set").to_owned());
    Ok(Joint {
        name: joint.name.clone(),
        carries: joint.carries().to_owned(),
        screws: from.si("joints.screws")?.round() as u32,
        size: from.word("joints.size")?,
        class: from.word("joints.class")?,
        length: Length::si(from.si("joints.length")?),
        clamped: Length::si(from.si("joints.clamped")?),
        hole_depth: Length::si(from.si("joints.hole_depth")?),
        thread_in: from.word("joints.thread_in")?,
        under_head: from.word("joints.under_head")?,
        washer: from.maybe("joints.washer").unwrap_or(0.0) > 0.0,
        circle: from.maybe("joints.circle").map(Length::si),
        needed_clamp: from.maybe("joints.needed_clamp").map(Force::si),
        printed_torque: from.maybe("joints.printed_torque").map(Torque::si),
        tightening: torque.unwrap_or_else(word),
        runs_since_tightened: from.si("joints.runs_since_tightened")?,
        removals: from.si("joints.removals")?.round() as u32,
        free: joint.free,
    })
}
