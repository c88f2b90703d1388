//! What bench tools should read on a truck's gears, and what a reading tells.

use crate::Error;
use crate::bay::Bay;
use toothsayer_job::Build;
use toothsayer_mechanics::gear::{
    Backlash, Gear, Member, PairSpec, PitchOf, Span, Tooth, ToothSpec, Window, WindowLimits, best_pin,
    centre_distance_for_backlash, size_over_pins, span_measurement, teeth_to_span, thinning_from_pins,
    thinning_from_span,
};
use toothsayer_mechanics::stack::{LEAST_GAP, NEEDED_OVERLAP_SHARE, WANDER_LIMIT};
use toothsayer_quantity::{Angle, Length};

/// Thinning at which a gear counts as worn, in modules (common practice, no source).
const WORN_MODULES: f64 = 0.1;
/// Play that a mesh is set to, in modules at the pitch circle (common practice, no source).
pub(crate) const MESH_PLAY_MODULES: [f64; 2] = [0.04, 0.12];
/// Contact ratio that a mesh should keep (common practice, no source).
pub(crate) const NEEDED_CONTACT_RATIO: f64 = 1.2;
/// A pin may be this much smaller than the one that touches at half height.
const LEAST_OF_BEST: f64 = 0.95;
/// Diameters of pins and drill shanks that a bench has, mm.
const PINS_MM: [f64; 12] = [0.7, 0.8, 1.0, 1.2, 1.4, 1.5, 1.6, 1.75, 2.0, 2.5, 3.0, 4.0];

/// What is read on one gear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GearReadings {
    /// Over the tips.
    pub tip_diameter: Length,
    /// Span over teeth, of a new gear; none where the jaws touch off the flanks.
    pub span: Option<NewAndWorn>,
    /// Teeth between the jaws.
    pub span_teeth: u32,
    /// Size over two pins; none where no usual pin fits.
    pub over_pins: Option<NewAndWorn>,
    /// Diameter of the pins.
    pub pin: Length,
}

/// A reading on a new gear and on one that counts as worn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NewAndWorn {
    /// New.
    pub new: Length,
    /// With its teeth thinner by a tenth of a module.
    pub worn: Length,
}

/// What is read on the mesh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshReadings {
    /// Centre distance of the state.
    pub centre_distance: Length,
    /// Backlash at the pitch circle.
    pub backlash: Length,
    /// The same as a dial or feeler reads it at the spur's rim, the pinion held.
    pub backlash_at_rim: Length,
    /// The same as an angle of the spur.
    pub swing: Angle,
    /// How far the shafts can be pushed together until the play is gone, negative where the mesh binds; none where the
    /// teeth are too thin to close.
    pub radial_play: Option<Length>,
    /// Centre distances that keep play and contact ratio; none where the teeth are too thin for any.
    pub window: Option<Window>,
    /// Run-out of the motor's shaft that stays within the window; nothing where the mesh lies outside it.
    pub allowed_run_out: Length,
}

impl MeshReadings {
    /// The centre distances to set, where there are any.
    pub fn to_set(&self) -> Option<&Window> {
        self.window.as_ref().filter(|window| !window.is_empty())
    }

    /// Whether the centre distance lies within the window.
    pub fn is_set(&self) -> bool {
        self.to_set().is_some_and(|window| (window.low..=window.high).contains(&self.centre_distance))
    }
}

/// What is read along the motor's shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StackReadings {
    /// Width on which the faces meet.
    pub overlap: Length,
    /// What it should be at least.
    pub least_overlap: Length,
    /// Gap between pinion and cover bearing, where the shaft has an outer bearing.
    pub gap: Option<Length>,
    /// What the gap should be, least and most.
    pub gap_limits: [Length; 2],
}

/// Readings of a build.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Readings {
    /// Pinion and spur.
    pub gears: [GearReadings; 2],
    /// The mesh.
    pub mesh: MeshReadings,
    /// Along the shaft.
    pub stack: StackReadings,
}

impl Readings {
    /// What tools should read on a build.
    pub fn new(build: &Build, bay: &Bay) -> Result<Readings, Error> {
        Ok(Readings {
            gears: [gear(build, Member::Pinion)?, gear(build, Member::Spur)?],
            mesh: MeshReadings::new(&build.gears.spec, bay),
            stack: StackReadings::new(build, bay),
        })
    }
}

impl StackReadings {
    /// What the stack should read.
    pub(crate) fn new(build: &Build, bay: &Bay) -> StackReadings {
        let least_gap = build.stack.gap_tolerance.max(LEAST_GAP);
        let narrow = build.gears.pinion.face_width.min(build.gears.spur.face_width);
        StackReadings {
            overlap: bay.overlap,
            least_overlap: narrow * NEEDED_OVERLAP_SHARE,
            gap: build.support.is_some().then_some(bay.gap),
            gap_limits: [least_gap, WANDER_LIMIT - least_gap],
        }
    }
}

fn gear(build: &Build, member: Member) -> Result<GearReadings, Error> {
    let worn = build.gears.pitches[member as usize].module * WORN_MODULES;
    let (new, worn) = (thinned(build, member, Length::ZERO)?, thinned(build, member, worn)?);
    let span_teeth = teeth_to_span(&new);
    let both = |read: &dyn Fn(&Tooth) -> Option<Length>| Some(NewAndWorn { new: read(&new)?, worn: read(&worn)? });
    let best = best_pin(&new)?;
    let over = |pin: Length| both(&|tooth| size_over_pins(tooth, pin).ok());
    let pin = usual_pins(best).find(|pin| over(*pin).is_some()).unwrap_or(best);
    Ok(GearReadings {
        tip_diameter: new.tip_radius() * 2.0,
        span: both(&|tooth| span_measurement(tooth, span_teeth).ok().map(|span| span.length)),
        span_teeth,
        over_pins: over(pin),
        pin,
    })
}

/// The gear by its own pitch, at full height, with its teeth thinner than nominal by `thinning`.
fn thinned(build: &Build, member: Member, thinning: Length) -> Result<Tooth, Error> {
    let nominal = build.gears.spec.tooth_spec(member);
    let PitchOf { module, pressure_angle } = build.gears.pitches[member as usize];
    let gear = Gear { thinning, tip_shortening: 0.0, ..nominal.gear };
    Ok(Tooth::new(ToothSpec { module, pressure_angle, gear, ..nominal })?)
}

/// The bench's pins from a little below the best one on, the smallest first: a pin must reach over the tips.
fn usual_pins(best: Length) -> impl Iterator<Item = Length> {
    let least_mm = LEAST_OF_BEST * best.to_mm();
    PINS_MM.into_iter().filter(move |pin_mm| *pin_mm >= least_mm).map(Length::mm)
}

impl MeshReadings {
    /// What the mesh should read.
    pub(crate) fn new(spec: &PairSpec, bay: &Bay) -> MeshReadings {
        let pair = &bay.pair;
        let backlash = pair.circumferential_backlash();
        let (tip, working) = (pair.tooth(Member::Spur).tip_radius(), pair.working_radius(Member::Spur));
        let normal = spec.module * spec.pressure_angle.to_rad().cos();
        let limits = WindowLimits {
            least_backlash: normal * MESH_PLAY_MODULES[0],
            most_backlash: normal * MESH_PLAY_MODULES[1],
            least_contact_ratio: NEEDED_CONTACT_RATIO,
        };
        // Very thin teeth keep more play than that however near their shafts come.
        let window = Window::new(spec, limits).ok();
        let closed = centre_distance_for_backlash(spec, Backlash::Normal(Length::ZERO)).ok();
        let room = window
            .map_or(Length::ZERO, |window| (spec.centre_distance - window.low).min(window.high - spec.centre_distance));
        MeshReadings {
            centre_distance: spec.centre_distance,
            backlash,
            backlash_at_rim: backlash * (tip / working),
            swing: Angle::rad(backlash / working),
            radial_play: closed.map(|closed| spec.centre_distance - closed),
            window,
            allowed_run_out: (room * 2.0).max(Length::ZERO),
        }
    }
}

/// A reading on one gear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum GearReading {
    /// Span over some teeth.
    Span {
        /// Teeth between the jaws; as many as the reading fits best where none is told.
        teeth: Option<u32>,
        /// Between the jaws.
        length: Length,
    },
    /// Size over two pins.
    OverPins {
        /// Diameter of the pins; the bench's usual ones where none is told.
        pin: Option<Length>,
        /// Over the pins.
        size: Length,
    },
}

/// How much thinner than nominal a gear's teeth are by a reading.
pub fn thinning_by(build: &Build, member: Member, reading: GearReading) -> Result<Length, Error> {
    let new = thinned(build, member, Length::ZERO)?;
    Ok(match reading {
        GearReading::Span { teeth, length } => {
            let teeth = teeth.unwrap_or_else(|| teeth_of_span(&new, length));
            thinning_from_span(&new, Span { teeth, length })?
        }
        GearReading::OverPins { pin, size } => {
            let usual = gear(build, member)?.pin;
            thinning_from_pins(&new, pin.unwrap_or(usual), size)?
        }
    })
}

/// How many teeth a span was read over: one more makes it a base pitch longer, far more than any wear.
fn teeth_of_span(new: &Tooth, length: Length) -> u32 {
    let usual = teeth_to_span(new);
    let off = |teeth: &u32| {
        let nominal = span_measurement(new, *teeth).map_or(f64::INFINITY, |span| span.length.to_m());
        (nominal - length.to_m()).abs()
    };
    (usual.saturating_sub(2).max(1)..=usual + 2).min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(usual)
}

/// What a backlash read at the spur's rim tells of the mesh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RimReading {
    /// Backlash at the pitch circle.
    pub backlash: Length,
    /// Centre distance.
    pub centre_distance: Length,
}

/// Backlash at the pitch circle and centre distance from a reading at the spur's rim.
pub fn mesh_by_rim(build: &Build, bay: &Bay, at_rim: Length) -> Result<RimReading, Error> {
    let (tip, working) = (bay.pair.tooth(Member::Spur).tip_radius(), bay.pair.working_radius(Member::Spur));
    let backlash = at_rim * (working / tip);
    let centre_distance = centre_distance_for_backlash(&build.gears.spec, Backlash::Circumferential(backlash))?;
    Ok(RimReading { backlash, centre_distance })
}
