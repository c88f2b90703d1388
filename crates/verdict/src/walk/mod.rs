//! A mesh that walks: the motor slides a little in each event, and the next one begins where the last one ended.

mod deck;
mod mesh;

pub use deck::Driven;

use crate::Error;
use crate::joint::Windows;
use crate::joint::{JointFriction, TightJoint};
use crate::measure::NEEDED_CONTACT_RATIO;
use crate::ranges::FACE_FRICTION;
use crate::states::Loaded;
use deck::Deck;
use mesh::OpenMeshes;
use toothsayer_job::Joint;
use toothsayer_mechanics::driveline::Case;
use toothsayer_mechanics::screw::{EventForces, Place, SLIP_EVENT_LOSS, SLIP_FRICTION, Thread, WalkingJoint};
use toothsayer_quantity::{Force, Length, Torque};

/// Contact ratio below which one pair of teeth lets go before the next one takes over: the teeth ride over each other.
const RIDES_OVER: f64 = 1.0;
/// Events after which a walk is given up.
pub const MOST_EVENTS: u32 = 10_000;
/// Runs after which a joint that was just tightened is taken: its embedding comes early in the first.
const EMBEDDED_RUNS: f64 = 1.0;

/// How well clamped faces hold, and what slipping costs them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grip {
    /// Friction between the faces.
    pub friction: f64,
    /// Share of the clamp lost in an event that slips.
    pub loss_per_event: f64,
}

impl Grip {
    /// As is usual.
    pub const USUAL: Self = Self { friction: SLIP_FRICTION, loss_per_event: SLIP_EVENT_LOSS.value };
    /// The ends of what is stated of both: what walks soonest and latest.
    pub const ENDS: [Self; 2] = [
        Self { friction: FACE_FRICTION.low, loss_per_event: SLIP_EVENT_LOSS.high },
        Self { friction: FACE_FRICTION.high, loss_per_event: SLIP_EVENT_LOSS.low },
    ];
}

/// What a walk is asked for; what is not given is as the state has it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WalkAsk<'a> {
    /// The events.
    pub driven: Driven,
    /// The joint that may slide, by its name; none: the first that carries the motor.
    pub joint: Option<&'a str>,
    /// Torque that its screws are tightened to.
    pub torque: Option<Torque>,
    /// Free travel of its screws in their holes or slots; none: that of ISO 273's medium holes.
    pub clearance: Option<Length>,
    /// Friction, and what slipping costs.
    pub grip: Grip,
}

/// The mesh after some events.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WalkPoint {
    /// The last event; none before the first.
    pub case: Option<Case>,
    /// Centre distance after it.
    pub centre_distance: Length,
    /// Clamp of one screw after it.
    pub clamp: Force,
    /// Contact ratio after it, under the force that it came to.
    pub contact_ratio: f64,
    /// Largest tooth force in it, or in the first one to come.
    pub peak: Force,
    /// Friction of the worst screw after it over the shear of such an event.
    pub slip_margin: f64,
    /// Static strength of the weaker root over its stress under that force.
    pub root_margin: f64,
}

/// How a walk ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WalkEnd {
    /// Nothing slips: it never begins.
    Holds,
    /// The contact ratio falls below 1.
    RidesOver,
    /// The screws meet the ends of their holes.
    AtTheHole,
    /// Nothing slips any more.
    Rests,
    /// Not within [`MOST_EVENTS`].
    GoesOn,
}

/// The walk of a joint.
#[derive(Clone, Debug)]
pub struct Walk {
    /// The joint's name.
    pub joint: String,
    /// Its screws.
    pub screws: u32,
    /// Free travel that it had from where it stood.
    pub clearance: Length,
    /// Before the first event, then after each.
    pub points: Vec<WalkPoint>,
    /// How it ended.
    pub end: WalkEnd,
}

impl Walk {
    /// Events until the motor first moved.
    pub fn first_moved(&self) -> Option<usize> {
        let start = self.points.first()?.centre_distance;
        self.points.iter().position(|point| point.centre_distance > start)
    }

    /// Events until the contact ratio is below the needed one.
    pub fn first_short(&self) -> Option<usize> {
        self.points.iter().position(|point| point.contact_ratio < NEEDED_CONTACT_RATIO)
    }

    /// Events until a blow exceeds the root's static strength.
    pub fn first_broken(&self) -> Option<usize> {
        self.points.iter().position(|point| point.case.is_some() && point.root_margin < 1.0)
    }
}

/// How the motor walks away from the spur under the driver's events.
///
/// The motor's mass slides by [`WalkingJoint::event`]: m x'' = |Fn| sin aw - mu n F, on either flank away from the spur,
/// for that is where the pressure angle points on both. The centre distance grows by x; play, contact ratio and blows of
/// the next event are computed anew. An event in which the worst screw's shear passes mu F costs 0.5 % of the clamp.
pub fn walk(loaded: &Loaded, run_in: bool, windows: &Windows, ask: &WalkAsk<'_>) -> Result<Walk, Error> {
    let joint = the_joint(&loaded.build.joints, ask.joint)?;
    let hole = match ask.clearance {
        Some(clearance) => clearance,
        None => free_travel(joint)?,
    };
    let moving = WalkingJoint {
        mass: loaded.build.motor.mass,
        screws: joint.screws,
        friction: ask.grip.friction,
        clearance: (hole - loaded.build.rock_travel).max(Length::ZERO),
        loss_per_event: ask.grip.loss_per_event,
    };
    let start = Place { clamp: first_clamp(loaded, joint, windows, ask.torque)?, travel: Length::ZERO };
    let mut meshes = OpenMeshes::new(&loaded.build, joint, run_in);
    let mut deck = Deck::new(ask.driven, &loaded.build.driver);
    let (points, end) = go(&moving, start, &mut meshes, &mut deck)?;
    Ok(Walk { joint: joint.name.clone(), screws: joint.screws, clearance: moving.clearance, points, end })
}

fn go(
    moving: &WalkingJoint,
    start: Place,
    meshes: &mut OpenMeshes<'_>,
    deck: &mut Deck,
) -> Result<(Vec<WalkPoint>, WalkEnd), Error> {
    let mut place = start;
    let mut points: Vec<WalkPoint> = Vec::new();
    let (mut quiet, mut ever) = (0, false);
    for _ in 0..MOST_EVENTS {
        let case = deck.next();
        let mesh = meshes.at(case, place.travel)?;
        let point = |case: Option<Case>, place: Place| mesh.point(case, place, moving.friction);
        if points.is_empty() {
            let before = point(None, place)?;
            points.push(before);
            if before.contact_ratio < RIDES_OVER {
                return Ok((points, WalkEnd::RidesOver));
            }
        }
        let forces =
            EventForces { trace: &mesh.trace, pressure_angle: mesh.pressure_angle, worst_shear: mesh.worst_shear };
        let walked = moving.event(place, &forces)?;
        place = walked.place;
        let after = point(Some(case), place)?;
        points.push(after);
        if after.contact_ratio < RIDES_OVER {
            return Ok((points, WalkEnd::RidesOver));
        }
        if walked.at_the_hole {
            return Ok((points, WalkEnd::AtTheHole));
        }
        quiet = if walked.slipped { 0 } else { quiet + 1 };
        ever |= walked.slipped;
        if quiet >= deck.round() {
            return Ok((points, if ever { WalkEnd::Rests } else { WalkEnd::Holds }));
        }
    }
    Ok((points, WalkEnd::GoesOn))
}

/// The joint of a name, or the first one that carries the motor.
fn the_joint<'a>(joints: &'a [Joint], name: Option<&str>) -> Result<&'a Joint, Error> {
    let carrying = || joints.iter().filter(|joint| crate::joint::carries_motor(joint) && joint.circle.is_some());
    match name {
        None => {
            carrying().find(|joint| joint.carries == "motor").or_else(|| carrying().next()).ok_or(Error::NoMotorJoint)
        }
        Some(name) => carrying().find(|joint| joint.name == name).ok_or_else(|| Error::NotMotorJoint {
            name: name.to_owned(),
            known: carrying().map(|joint| joint.name.clone()).collect::<Vec<_>>().join(", "),
        }),
    }
}

/// From one end of a medium clearance hole (ISO 273) to the other.
fn free_travel(joint: &Joint) -> Result<Length, Error> {
    let thread = Thread::find(&joint.size)?;
    Ok((thread.hole - thread.diameter).max(Length::ZERO))
}

/// The clamp that the walk begins with: as the state has it, embedded at least; or that of a torque, embedded, also of a
/// motor that was found to rock.
fn first_clamp(loaded: &Loaded, joint: &Joint, windows: &Windows, torque: Option<Torque>) -> Result<Force, Error> {
    let Loaded { build, peaks, .. } = loaded;
    if let Some(torque) = torque {
        let held = Joint { free: false, ..joint.clone() };
        return TightJoint::new(&held, build, &[], JointFriction::NOMINAL)?.clamp_after(torque, EMBEDDED_RUNS);
    }
    let tight = TightJoint::new(joint, build, peaks, JointFriction::NOMINAL)?;
    let set = tight.torque(&tight.window_among(windows)?);
    if joint.runs_since_tightened >= EMBEDDED_RUNS {
        return tight.clamp_after(set, joint.runs_since_tightened);
    }
    // The events of the first run are those that are still to come here.
    TightJoint::new(joint, build, &[], JointFriction::NOMINAL)?.clamp_after(set, EMBEDDED_RUNS)
}
