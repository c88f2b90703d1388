//! Bearings of motor shaft and input shaft: rating life over the horizon, static load, and a pressed bearing's seat.
//!
//! Reactions come from the tooth force alone. The motor's front bearing takes the propped shaft's force and, with the
//! rear bearing a motor's length behind it, the moment at its end; the spur runs midway between its two bearings, which
//! share the tooth force alike.

use crate::Error;
use crate::bay::{Bay, sound_support};
use crate::load_path::LoadPath;
use crate::margin::{Limit, Margin};
use crate::motor::{REST_SPEED, truck_speeds};
use toothsayer_job::Build;
use toothsayer_mechanics::bearing::rub::{self, COVER_STIFFNESS, Pressed};
use toothsayer_mechanics::bearing::{self, Bearing, DutyStep, Life, LifeParameters, mean_duty};
use toothsayer_mechanics::gear::Member;
use toothsayer_mechanics::motor::TruckSpeeds;
use toothsayer_quantity::{AngularSpeed, Force, Length, Time};

/// Share of a run in which the truck moves (estimate, no source).
const TURNING_SHARE: f64 = 0.85;
/// Between the motor's bearings over the length of its can, and the can's length by the motor's mass (estimates, no
/// source).
const BEARINGS_OVER_CAN: f64 = 0.8;
const CAN_OF_1_KG: Length = Length::mm(80.0);
/// Loads beyond this part of C have no rating life: taken as it, they have at most that much.
const MOST_OF_RATING: f64 = 0.5;
/// Below this the rating life has no speed.
const SLOWEST: AngularSpeed = AngularSpeed::rpm(1.0);
/// Plastic about the bearing's outer ring (estimate, no source).
const WALL: Length = Length::mm(4.0);
/// What the cover is taken as where no joint tells its plastic: the weak end.
const WEAK_SEAT: &str = "pa66";

/// A bearing in its place.
struct Place {
    part: &'static str,
    rating: Force,
    reaction: fn(&Build, &Bay, Force) -> Result<Force, Error>,
    /// Turns of the rotor for one of the bearing.
    ratio: f64,
}

/// Life of every bearing that is known; static load of those that the shaft's own margins leave out; a pressed seat.
pub(crate) fn margins(path: &LoadPath<'_>, out: &mut Vec<Margin>) -> Result<(), Error> {
    let (build, bay) = (path.build, path.bay);
    let speeds = truck_speeds(build, bay)?;
    if let Some(rating) = support_dynamic_rating(build) {
        let place = Place { part: "support-bearing", rating, reaction: on_support, ratio: 1.0 };
        out.push(place.life(path, &speeds)?);
    }
    let optional = [
        (&build.motor.front_bearing, "motor-front-bearing", on_front as fn(&Build, &Bay, Force) -> _, 1.0),
        (&build.driveline.input_bearing, "input-bearing", on_input, bay.pair.ratio()),
    ];
    for (name, part, reaction, ratio) in optional {
        let Some(row) = name.as_deref().and_then(bearing::find) else { continue };
        for (case, force_n) in path.each() {
            let load = reaction(build, bay, Force::n(force_n))?;
            out.push(Margin::new(part, Limit::Static, case, load.to_n(), row.static_rating.to_n()));
        }
        out.push(Place { part, rating: row.dynamic_rating, reaction, ratio }.life(path, &speeds)?);
    }
    out.extend(seat(build, bay, &speeds)?);
    Ok(())
}

impl Place {
    fn life(&self, path: &LoadPath<'_>, speeds: &TruckSpeeds) -> Result<Margin, Error> {
        let driver = &path.build.driver;
        let full = (self.reaction)(path.build, path.bay, steady_tooth_force(path.bay, speeds))?;
        let speed = (speeds.at_top_speed.speed / self.ratio).max(SLOWEST);
        let steps =
            [(1.0, 1.0, driver.full_throttle_share), (driver.part_load, REST_SPEED, 1.0 - driver.full_throttle_share)];
        let most = self.rating * MOST_OF_RATING;
        let steps = steps.map(|(load, turning, time_share)| DutyStep {
            load: (full * load).min(most),
            speed: (speed * turning).max(SLOWEST),
            time_share,
        });
        let asked = driver.run * (path.horizon_runs * TURNING_SHARE);
        let lasts = self.lasts(&steps)?;
        let demand_s = lasts.map_or(0.0, |_| asked.to_s());
        Ok(Margin::new(self.part, Limit::Life, "any", demand_s, lasts.unwrap_or(asked).to_s()))
    }

    /// L10 of the duty; none where nothing loads the bearing.
    fn lasts(&self, steps: &[DutyStep]) -> Result<Option<Time>, Error> {
        let Some(mean) = mean_duty(steps)? else { return Ok(None) };
        let life = Life::basic(LifeParameters { rating: self.rating, load: mean.load })?;
        Ok(life.map(|life| life.at(mean.speed)).transpose()?)
    }
}

/// Tooth force of full throttle from rest, as motor, tyres or clutch let it be.
fn steady_tooth_force(bay: &Bay, speeds: &TruckSpeeds) -> Force {
    let loss_a = speeds.launch.current().to_a() - speeds.motor.no_load_current().to_a();
    let torque_n_m = speeds.motor.torque_constant_n_m_a() * loss_a.max(0.0);
    Force::n(torque_n_m / bay.pair.tooth(Member::Pinion).base_radius().to_m())
}

/// Dynamic rating of the support bearing, given or by its dimensions.
fn support_dynamic_rating(build: &Build) -> Option<Force> {
    let support = sound_support(build)?;
    support.dynamic_rating.or_else(|| Some(bearing::find(support.bearing.as_deref()?)?.dynamic_rating))
}

fn on_support(_: &Build, bay: &Bay, tooth_force: Force) -> Result<Force, Error> {
    Ok(bay.bend(tooth_force)?.support_reaction.abs())
}

fn on_front(build: &Build, bay: &Bay, tooth_force: Force) -> Result<Force, Error> {
    let bending = bay.bend(tooth_force)?;
    let can = build.motor.can_length.unwrap_or(CAN_OF_1_KG * build.motor.mass.to_kg().cbrt());
    let couple_n = bending.fixed_end_moment.to_n_m() / (can * BEARINGS_OVER_CAN).to_m();
    Ok(Force::n((tooth_force.to_n() - bending.support_reaction.to_n() + couple_n).abs()))
}

fn on_input(_: &Build, _: &Bay, tooth_force: Force) -> Result<Force, Error> {
    Ok(tooth_force / 2.0)
}

/// The seat of a support bearing that the pinion presses; none where it has room, or sits in metal.
fn seat(build: &Build, bay: &Bay, speeds: &TruckSpeeds) -> Result<Option<Margin>, Error> {
    let Some((row, shaft)) = pressed_bearing(build, bay) else { return Ok(None) };
    let Some(limit) = rub::seat_limit(cover_material(build)) else { return Ok(None) };
    let driver = &build.driver;
    let turning = driver.full_throttle_share + (1.0 - driver.full_throttle_share) * REST_SPEED;
    let speed = (speeds.at_top_speed.speed * turning).max(SLOWEST);
    let force = rub::press(bay.gap.abs(), COVER_STIFFNESS)?;
    let rub = Pressed { bearing: row, force, speed, wall: WALL, shaft }.rub()?;
    let bears_k = (limit.limit - driver.air_temperature).to_k().max(0.0);
    Ok(Some(Margin::new("support-bearing", Limit::Seat, "any", rub.rise_k, bears_k)))
}

fn pressed_bearing(build: &Build, bay: &Bay) -> Option<(&'static Bearing, Length)> {
    let support = sound_support(build).filter(|_| bay.gap.to_m() < 0.0)?;
    Some((bearing::find(support.bearing.as_deref()?)?, support.distance))
}

/// What the gear cover is made of: what its screws press on.
fn cover_material(build: &Build) -> &str {
    let cover = build.joints.iter().find(|joint| joint.carries == "input shaft");
    cover.map_or(WEAK_SEAT, |joint| joint.under_head.as_str())
}
