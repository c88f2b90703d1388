//! From a sheet to a build, or to the value that is missing.

use super::MissingValue;
use super::parts::{
    Battery, Build, Controller, Driveline, Driver, GearBody, Gears, Joint, Motor, SetScrew, Stack, Support, Suspension,
    Tightening, Truck, Wheels,
};
use crate::sheet::{Entry, Fields, JointFields, Sheet};
use crate::stack;
use crate::start::module_m;
use toothsayer_mechanics::gear::{Gear, Member, PairSpec, PitchOf, Rack, check_same_pitch, worn_tip_shortening};
use toothsayer_quantity::{
    Angle, AngularSpeed, Area, Current, Force, Hardness, Inertia, Length, LinearDamping, LinearStiffness, Mass,
    MotorConstant, Pressure, Resistance, Speed, Temperature, Time, Torque, TorsionStiffness, Voltage,
};

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
    from.pair(module_m(fields)?, fields.number("gears.centre_distance").unwrap_or(0.0)).ok().map(with_worn_tips)
}

/// The pitch that the sheet gives the pair.
pub(crate) fn common_pitch(fields: &Fields) -> Option<PitchOf> {
    let angle_rad = fields.number("gears.pressure_angle").unwrap_or(0.0);
    Some(PitchOf { module: Length::m(module_m(fields)?), pressure_angle: Angle::rad(angle_rad) })
}

/// The pitches of pinion and spur: each gear's own where the sheet gives one, else the pair's.
pub(crate) fn pitches(fields: &Fields) -> Option<[PitchOf; 2]> {
    let common = common_pitch(fields)?;
    let of = |[module, pitch, angle]: [&str; 3]| {
        let module_m = fields.number(module).or_else(|| fields.number(pitch).map(|per_m| 1.0 / per_m));
        PitchOf {
            module: module_m.map_or(common.module, Length::m),
            pressure_angle: fields.number(angle).map_or(common.pressure_angle, Angle::rad),
        }
    };
    let [a, b, c, d, e, f] = OWN_PITCH;
    Some([of([a, b, c]), of([d, e, f])])
}

/// Where each gear's own pitch may stand, pinion first.
pub(crate) const OWN_PITCH: [&str; 6] = [
    "gears.pinion.module",
    "gears.pinion.diametral_pitch",
    "gears.pinion.pressure_angle",
    "gears.spur.module",
    "gears.spur.diametral_pitch",
    "gears.spur.pressure_angle",
];

/// Teeth worn past a point are shorter. What is out of range is refused where the tooth is made.
fn with_worn_tips(mut spec: PairSpec) -> PairSpec {
    let worn = |member| worn_tip_shortening(&spec.tooth_spec(member)).unwrap_or(0.0);
    (spec.pinion.tip_shortening, spec.spur.tip_shortening) = (worn(Member::Pinion), worn(Member::Spur));
    spec
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
        let module_m =
            self.own_module_m("gears.module", "gears.diametral_pitch").ok_or(MissingValue { key: "gears.module" })?;
        let spec = self.pair(module_m, self.si("gears.centre_distance")?)?;
        let common = PitchOf { module: spec.module, pressure_angle: spec.pressure_angle };
        let pitches = pitches(self.fields).unwrap_or([common; 2]);
        Ok(Gears {
            spec: with_worn_tips(self.with_own_pitch(spec, pitches)),
            pitches,
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

    /// The pair by the pitch that both gears were found to have; two different ones leave the common pitch.
    fn with_own_pitch(&self, spec: PairSpec, [pinion, spur]: [PitchOf; 2]) -> PairSpec {
        let own = OWN_PITCH.iter().any(|key| self.fields.has(key));
        if own && check_same_pitch(pinion, spur).is_ok() {
            return PairSpec { module: pinion.module, pressure_angle: pinion.pressure_angle, ..spec };
        }
        spec
    }

    fn own_module_m(&self, module: &'static str, pitch: &'static str) -> Option<f64> {
        self.maybe(module).or_else(|| self.maybe(pitch).map(|pitch_per_m| 1.0 / pitch_per_m))
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
