//! The gear bay of one build: mesh, shaft, stack and materials, ready for loads.

use crate::Error;
use toothsayer_job::{Build, Stack};
use toothsayer_mechanics::bearing;
use toothsayer_mechanics::driveline::Parameters;
use toothsayer_mechanics::gear::{
    FaceFactors, FaceLoad, Member, MeshFlank, MeshStiffness, Pair, ToothRoot, face_factors, mesh_stiffness, tooth_root,
};
use toothsayer_mechanics::material::{ElasticPair, GearMaterial, gear_material};
use toothsayer_mechanics::shaft::{Bending, OuterSupport, Pocket, Shaft, ShaftParameters};
use toothsayer_quantity::{Angle, Force, Hardness, Length, LinearStiffness, Speed};

/// Mesh damping ratio of the shock model.
const MESH_DAMPING_RATIO: f64 = 0.07;
/// Stiffness and damping of a chassis that slaps the ground.
const SLAP_N_PER_M: f64 = 100e3;
const SLAP_N_S_PER_M: f64 = 200.0;
/// Supports softer than this carry nothing: the bearing is gone.
const LEAST_SUPPORT_N_PER_MM: f64 = 1.0;
/// A mesh nearer than this many sums of the base radii has no working pressure angle.
const CLOSEST: f64 = 1.0 + 1e-9;
/// Share of the pinion's face that a free pinion loses when no bearing stops it (common practice, no source).
const WANDER_SHARE: f64 = 0.6;

/// Everything of a build that the tooth force meets.
#[derive(Clone, Debug)]
pub struct Bay {
    /// The pair at the state's centre distance.
    pub pair: Pair,
    /// Motor's shaft with its outer support.
    pub shaft: Shaft,
    /// Stiffness of the teeth.
    pub stiffness: MeshStiffness,
    /// Stiffness of teeth and shaft in series along the line of action.
    pub mesh_stiffness: LinearStiffness,
    /// Width on which the faces meet.
    pub overlap: Length,
    /// Gap between pinion and cover bearing.
    pub gap: Length,
    /// Materials of pinion and spur.
    pub materials: [&'static GearMaterial; 2],
    /// Tilt of a rocking motor.
    pub tilt: Angle,
    roots: [ToothRoot; 2],
    swing: Option<Swing>,
    pitch_line_speed: Speed,
    run_in: bool,
}

/// What a bent shaft makes of the mesh: its centre distance swings by half the run-out either way once a turn.
#[derive(Clone, Debug)]
struct Swing {
    /// The pair at the wide end.
    wide: Pair,
    roots: [ToothRoot; 2],
    /// Normal backlash at the narrow end, or at the closest place that the teeth's base circles leave.
    least_backlash: Length,
}

impl Swing {
    fn new(pair: &Pair, run_out: Length) -> Result<Option<Swing>, Error> {
        let half = run_out / 2.0;
        if half <= Length::ZERO {
            return Ok(None);
        }
        let centre_distance = pair.spec().centre_distance;
        let wide = pair.at_centre_distance(centre_distance + half)?;
        let [pinion, spur] = Member::BOTH.map(|member| pair.tooth(member).base_radius());
        let closest = (pinion + spur) * CLOSEST;
        let narrow = pair.at_centre_distance((centre_distance - half).max(closest))?;
        Ok(Some(Swing {
            roots: [tooth_root(&wide, Member::Pinion)?, tooth_root(&wide, Member::Spur)?],
            least_backlash: narrow.normal_backlash(),
            wide,
        }))
    }
}

impl Bay {
    /// The bay of `build`; `run_in` says whether its gears have run.
    pub fn new(build: &Build, run_in: bool) -> Result<Bay, Error> {
        let pair = Pair::measured(build.gears.spec)?;
        let shaft = shaft_of(build)?;
        let materials = [gear_material(&build.gears.pinion.material)?, gear_material(&build.gears.spur.material)?];
        let stiffness = mesh_stiffness(&pair, &elastic(materials))?;
        let overlap = overlap_of(build);
        let roots = [tooth_root(&pair, Member::Pinion)?, tooth_root(&pair, Member::Spur)?];
        let teeth_n_per_m = stiffness.over(overlap).to_n_per_m();
        let series = 1.0 / (1.0 / teeth_n_per_m + 1.0 / shaft.stiffness().to_n_per_m());
        let swing = Swing::new(&pair, build.motor.run_out)?;
        let tilt = Angle::rad(build.rock_travel / build.stack.mount_to_mid_face.max(Length::mm(1.0)));
        let mut bay = Bay {
            pair,
            shaft,
            stiffness,
            mesh_stiffness: LinearStiffness::n_per_m(series),
            overlap,
            gap: build.stack.gap,
            materials,
            tilt,
            roots,
            swing,
            pitch_line_speed: Speed::ZERO,
            run_in,
        };
        let top_m_s = bay.parameters(build).loaded_top_speed_m_s();
        let rotor_rad_s =
            top_m_s / (build.wheels.diameter.to_m() / 2.0) * build.driveline.ratio_after_spur * bay.pair.ratio();
        bay.pitch_line_speed = Speed::m_per_s(rotor_rad_s * bay.pair.tooth(Member::Pinion).reference_radius().to_m());
        Ok(bay)
    }

    /// Form and stress correction of a tooth.
    pub fn root(&self, member: Member) -> &ToothRoot {
        &self.roots[member as usize]
    }

    /// Material of a gear.
    pub fn material(&self, member: Member) -> &'static GearMaterial {
        self.materials[member as usize]
    }

    /// What a tooth force does to the shaft.
    pub fn bend(&self, force: Force) -> Result<Bending, Error> {
        Ok(self.shaft.bend(force)?)
    }

    /// Load factors across the face under a tooth force, with the shaft's slope and the motor's tilt.
    pub fn face_factors(&self, build: &Build, force: Force) -> Result<FaceFactors, Error> {
        let bending = self.bend(force)?;
        let flank = |member: Member| MeshFlank::of(self.material(member), self.hardness(build, member));
        let spec = self.pair.spec();
        let working = self.pair.working_pressure_angle().to_rad();
        let load = FaceLoad {
            tangential_force: force * spec.pressure_angle.to_rad().cos(),
            face_width: self.overlap,
            steady_misalignment: self.overlap * bending.slope.to_rad().abs(),
            rocking_misalignment: self.overlap * (self.tilt.to_rad().abs() * working.sin()),
            pinion: flank(Member::Pinion)?,
            spur: flank(Member::Spur)?,
            run_in: self.run_in,
            pitch_line_speed: self.pitch_line_speed,
        };
        Ok(face_factors(&self.pair, &self.stiffness, &load)?)
    }

    /// Hardness of a gear, at the nearer end of its material's line where the file gives one outside it.
    pub fn hardness(&self, build: &Build, member: Member) -> Hardness {
        let given = match member {
            Member::Pinion => build.gears.pinion.hardness,
            Member::Spur => build.gears.spur.hardness,
        };
        self.material(member).hardness.map_or(given, |range| given.max(range.least).min(range.most))
    }

    /// Moduli of both gears.
    pub fn elastic(&self) -> ElasticPair {
        elastic(self.materials)
    }

    /// Whether a bent shaft swings the centre distance.
    pub fn swings(&self) -> bool {
        self.swing.is_some()
    }

    /// The pair where it stands widest apart: as it is, or at the wide end of a bent shaft's swing.
    pub fn widest(&self) -> &Pair {
        self.swing.as_ref().map_or(&self.pair, |swing| &swing.wide)
    }

    /// Normal backlash where the mesh is tightest: as it is, or at the narrow end of a bent shaft's swing.
    pub fn least_backlash(&self) -> Length {
        self.swing.as_ref().map_or(self.pair.normal_backlash(), |swing| swing.least_backlash)
    }

    /// The places at which a tooth's root is judged: the mean mesh, and the wide end of a bent shaft's swing.
    pub fn root_places(&self, member: Member) -> impl Iterator<Item = (&Pair, &ToothRoot)> {
        let wide = self.swing.iter().map(move |swing| (&swing.wide, &swing.roots[member as usize]));
        std::iter::once((&self.pair, self.root(member))).chain(wide)
    }

    /// Contact ratio where the mesh is widest, with the shaft bent away by a tooth force.
    pub fn loaded_contact_ratio(&self, force: Force) -> Result<f64, Error> {
        let pair = self.widest();
        let opening = self.bend(force)?.centre_distance_opening(pair.working_pressure_angle());
        let loaded = pair.at_centre_distance(pair.spec().centre_distance + opening)?;
        Ok(loaded.contact_ratio())
    }

    /// The build as the shock model sees it: with the play of the widest mesh, and none where it binds there.
    pub fn parameters(&self, build: &Build) -> Parameters {
        Parameters {
            truck_mass_kg: build.truck.mass.to_kg(),
            wheel_count: build.wheels.count.round() as u32,
            driven_wheels: build.wheels.driven.round() as u32,
            driven_load_share: build.wheels.driven_load,
            wheel_mass_kg: build.wheels.mass.to_kg(),
            tyre_radius_m: build.wheels.diameter.to_m() / 2.0,
            gyration_ratio: build.wheels.gyration,
            grip: build.wheels.grip,
            drag_area_m2: build.truck.drag_area.to_m2(),
            battery_voltage_v: build.battery.voltage.to_v(),
            battery_resistance_ohm: build.battery.resistance.to_ohm(),
            motor_kv_rad_s_v: build.motor.kv.to_rad_per_s_v(),
            motor_resistance_ohm: build.motor.resistance.to_ohm(),
            no_load_current_a: build.motor.no_load_current.to_a(),
            rotor_inertia_kg_m2: build.motor.rotor_inertia.to_kg_m2(),
            current_lag_s: build.motor.current_lag.to_s(),
            drive_current_a: build.controller.drive_current.to_a(),
            brake_current_a: build.controller.brake_current.to_a(),
            brake_strength: build.controller.brake_strength,
            throttle_strength: build.controller.throttle_strength,
            pinion_base_radius_m: self.pair.tooth(Member::Pinion).base_radius().to_m(),
            spur_base_radius_m: self.pair.tooth(Member::Spur).base_radius().to_m(),
            normal_backlash_m: self.widest().normal_backlash().to_m().max(0.0),
            mesh_stiffness_n_m: self.mesh_stiffness.to_n_per_m(),
            mesh_damping_ratio: MESH_DAMPING_RATIO,
            spur_inertia_kg_m2: build.driveline.spur_inertia.to_kg_m2(),
            ratio_after_spur: build.driveline.ratio_after_spur,
            shaft_stiffness_n_m_rad: build.driveline.stiffness.to_n_m_per_rad(),
            shaft_damping_ratio: build.driveline.damping_ratio,
            lash_rad: build.driveline.lash.to_rad(),
            clutch_torque_n_m: build.driveline.clutch_torque.map(|torque| torque.to_n_m()),
            suspension_stiffness_n_m: build.suspension.stiffness.to_n_per_m(),
            suspension_damping_n_s_m: build.suspension.damping.to_n_s_per_m(),
            suspension_travel_m: build.suspension.travel.to_m(),
            stop_stiffness_n_m: build.suspension.stop_stiffness.to_n_per_m(),
            tyre_stiffness_n_m: build.wheels.vertical_stiffness.to_n_per_m(),
            tyre_damping_n_s_m: build.wheels.vertical_damping.to_n_s_per_m(),
            chassis_clearance_m: build.suspension.clearance.map(Length::to_m),
            slap_stiffness_n_m: SLAP_N_PER_M,
            slap_damping_n_s_m: SLAP_N_S_PER_M,
            tyre_slip_stiffness: build.wheels.slip_stiffness,
            tyre_slip_shape: build.wheels.slip_shape,
            relaxation_length_m: build.wheels.relaxation_length.to_m(),
        }
    }
}

fn elastic(materials: [&GearMaterial; 2]) -> ElasticPair {
    ElasticPair { pinion: materials[0].elastic, spur: materials[1].elastic }
}

/// The outer support, unless its bearing is gone.
pub(crate) fn sound_support(build: &Build) -> Option<&toothsayer_job::Support> {
    build.support.as_ref().filter(|support| support.stiffness.to_n_per_mm() >= LEAST_SUPPORT_N_PER_MM)
}

/// Static rating of the support bearing, given or by its dimensions.
pub(crate) fn support_static_rating(build: &Build) -> Option<Force> {
    let support = sound_support(build)?;
    support.static_rating.or_else(|| Some(bearing::find(support.bearing.as_deref()?)?.static_rating))
}

fn shaft_of(build: &Build) -> Result<Shaft, Error> {
    let support =
        sound_support(build).map(|support| OuterSupport { distance: support.distance, stiffness: support.stiffness });
    Ok(Shaft::new(ShaftParameters {
        diameter: build.motor.shaft_diameter,
        overhang: build.motor.overhang,
        support,
        pocket: if build.set_screw.on_flat { Pocket::OnFlat } else { Pocket::None },
    })?)
}

/// Width on which the faces meet, less what a free pinion loses by wandering: the gap where a bearing stops it.
fn overlap_of(build: &Build) -> Length {
    let Stack { overlap, gap, .. } = build.stack;
    let lost = match (build.pinion_free, sound_support(build)) {
        (false, _) => Length::ZERO,
        (true, Some(_)) => gap.max(Length::ZERO),
        (true, None) => build.gears.pinion.face_width * WANDER_SHARE,
    };
    (overlap - lost).max(Length::mm(0.01))
}
