//! Gears in books and tables that were looked up: textbook pairs, a shifted pair, sizes over wires, tooth forces.

use super::geometry::spec;
use crate::check::{Check, Printed, Status, misprint};
use std::f64::consts::PI;
use toothsayer_mechanics::Error;
use toothsayer_mechanics::gear::{
    Gear, LewisLoad, Member, Pair, PairSpec, Rack, Tooth, ToothFinish, ToothForces, inv, inv_inverse, lewis_stress,
    reference_centre_distance, size_over_pins, velocity_factor,
};
use toothsayer_quantity::{Angle, Force, Length, Speed, Torque};

const HALF_DIGIT: &str = "half of the last printed digit";
const BEVAN: Printed = Printed {
    subject: "Gear geometry",
    source: "Bevan, The Theory of Machines, chapter 10, examples 1 to 3 (48 teeth), as a public notebook works them",
    status: Status::Printed,
    unit: "in",
    tolerance: 0.5e-4,
    because: HALF_DIGIT,
};

/// Newtons in a pound-force.
const LBF_N: f64 = 4.448_221_615_260_5;
const INCH_M: f64 = 0.0254;

/// A force in pounds.
pub(super) fn lbf(pounds: f64) -> Force {
    Force::n(pounds * LBF_N)
}

/// Rows of the subject "Gear geometry".
pub(super) fn geometry() -> Vec<Check> {
    [pitches(), addendum(), paths(), interference(), shifted_angles(), shifted_circles(), centres()].concat()
}

/// Rows of the subject "Measuring aids".
pub(super) fn measuring() -> Vec<Check> {
    over_wires()
}

/// Rows of the subject "Tooth strength".
pub(super) fn strength() -> Vec<Check> {
    [tooth_forces(), lewis_loads()].concat()
}

fn reference_diameter(module: Length, teeth: u32) -> Result<Length, Error> {
    let spec = PairSpec { module, ..spec([teeth, 60], 20.0) };
    Ok(Tooth::new(spec.tooth_spec(Member::Pinion))?.reference_radius() * 2.0)
}

fn pitches() -> Vec<Check> {
    let of = |module: Length| reference_diameter(module, 48);
    let circular = |module: Length| of(module).map(|diameter| (diameter * PI / 48.0).to_inch());
    let (by_pitch, by_dp) = (Length::inch(0.75 / PI), Length::inch(0.25));
    let metric = Length::mm(6.0);
    vec![
        BEVAN.with("in", 0.5e-3).row("reference diameter, circular pitch 0.75 in", 11.459, of(by_pitch).map(inches)),
        BEVAN.with("in", 0.5).row("reference diameter, 4 teeth per inch", 12.0, of(by_dp).map(inches)),
        BEVAN.row("circular pitch, module 6 mm", 0.7421, circular(metric)),
        misprint(BEVAN.with("mm", 0.5).row(
            "reference diameter, module 6 mm: the notebook's 28.0 cm, cut to whole centimetres",
            280.0,
            of(metric).map(Length::to_mm),
        )),
    ]
}

fn inches(length: Length) -> f64 {
    length.to_inch()
}

/// Contact ratio and path of contact, in modules, of a pair with this addendum.
fn ratio_and_path(teeth: [u32; 2], angle_deg: f64, addendum: f64) -> Result<(f64, f64), Error> {
    let rack = Rack { addendum, ..Rack::ISO_53_A };
    let pair = Pair::new(PairSpec { rack, ..spec(teeth, angle_deg) })?;
    Ok((pair.contact_ratio(), pair.contact_ratio() * pair.base_pitch().to_mm()))
}

fn addendum() -> Vec<Check> {
    let book = Printed {
        source: "Bevan, chapter 10, example 5, in the notebook (25/25 teeth, arc of contact 1.6 pitches: addendum 0.32 pitches)",
        unit: "",
        tolerance: 0.022,
        because: "half of the addendum's last digit, in contact ratio",
        ..BEVAN
    };
    let ratio = ratio_and_path([25, 25], 20.0, 0.32 * PI).map(|(ratio, _)| ratio);
    vec![book.row("contact ratio with the book's addendum", 1.6, ratio)]
}

/// The notebook halves 45 teeth to 22: its figures must not come out.
fn paths() -> Vec<Check> {
    let book = Printed {
        source: "Bevan, chapter 10, example 6 (28/45 teeth), in a notebook that takes 45/2 for 22",
        unit: "modules",
        tolerance: 0.5e-2,
        because: HALF_DIGIT,
        ..BEVAN
    };
    let at = |angle_deg| ratio_and_path([28, 45], angle_deg, 1.0);
    let ratio = |angle_deg| at(angle_deg).map(|(ratio, _)| ratio);
    let path = |angle_deg| at(angle_deg).map(|(_, path)| path);
    vec![
        misprint(book.with("modules", 0.5e-3).row("path of contact at 14.5°", 6.092, path(14.5))),
        misprint(book.row("path of contact at 20°", 4.97, path(20.0))),
        misprint(book.with("pitches", 0.5e-2).row("arc of contact at 14.5°", 2.00, ratio(14.5))),
        misprint(book.with("pitches", 0.5e-3).row("arc of contact at 20°", 1.685, ratio(20.0))),
    ]
}

/// Fewest teeth of a pinion whose mate, `ratio` times as large, works on the involute alone.
fn fewest(ratio: u32) -> Result<f64, Error> {
    for teeth in 8..40 {
        if Pair::new(spec([teeth, ratio * teeth], 20.0))?.active_profile_start(Member::Pinion) >= Length::ZERO {
            return Ok(f64::from(teeth));
        }
    }
    Ok(f64::NAN)
}

fn interference() -> Vec<Check> {
    let book = Printed {
        source: "Bevan, chapter 10, example 4, in the notebook: fewest teeth without interference, 20°",
        unit: "",
        tolerance: 0.0,
        because: "a count",
        ..BEVAN
    };
    vec![book.row("on an equal pinion", 13.0, fewest(1)), book.row("on a wheel three times as large", 15.0, fewest(3))]
}

const SHIFTED: Printed = Printed {
    source: "a public worked example of a shifted pair (m 3 mm, 12/24 teeth, x 0.6/0.36, centres 56.5 mm)",
    unit: "mm",
    tolerance: 0.5e-3,
    ..BEVAN
};

/// The shifted pair; its tips are shortened by k = x1 + x2 - (a - a0)/m.
fn shifted() -> Result<Pair, Error> {
    let tip_shortening = 0.96 - 2.5 / 3.0;
    let gear = |teeth, shift| Gear { teeth, shift, thinning: Length::ZERO, tip_shortening };
    Pair::new(PairSpec {
        module: Length::mm(3.0),
        pinion: gear(12, 0.6),
        spur: gear(24, 0.36),
        centre_distance: Length::mm(56.5),
        ..spec([12, 24], 20.0)
    })
}

fn shifted_angles() -> Vec<Check> {
    let angle = || shifted().map(|pair| pair.working_pressure_angle());
    let back = inv_inverse(0.034317).map(Angle::to_deg);
    vec![
        SHIFTED.with("deg", 0.5e-4).row("working pressure angle", 26.0888, angle().map(Angle::to_deg)),
        SHIFTED.with("", 0.5e-6).row("involute function at 20°", 0.014904, inv(Angle::deg(20.0))),
        SHIFTED.with("", 0.5e-6).row("involute function at the working angle", 0.034317, angle().and_then(inv)),
        // Half a digit of the function is 0.00012 degrees.
        SHIFTED.with("deg", 1.2e-4).row("angle of the printed involute function", 26.0888, back),
        SHIFTED.with("", 0.5e-3).row("contact ratio", 1.202, shifted().map(|pair| pair.contact_ratio())),
    ]
}

fn shifted_circles() -> Vec<Check> {
    let of = |member: Member, read: fn(&Tooth) -> Length| shifted().map(|pair| 2.0 * read(pair.tooth(member)).to_mm());
    let working = |member: Member| shifted().map(|pair| 2.0 * pair.working_radius(member).to_mm());
    let (pinion, gear) = (Member::Pinion, Member::Spur);
    vec![
        SHIFTED.with("mm", 0.5e-4).row("base diameter, pinion", 33.8289, of(pinion, Tooth::base_radius)),
        SHIFTED.with("mm", 0.5e-4).row("base diameter, gear", 67.6579, of(gear, Tooth::base_radius)),
        SHIFTED.row("working diameter, pinion", 37.667, working(pinion)),
        SHIFTED.row("working diameter, gear", 75.333, working(gear)),
        SHIFTED.row("tip diameter, pinion", 44.840, of(pinion, Tooth::tip_radius)),
        SHIFTED.row("tip diameter, gear", 79.400, of(gear, Tooth::tip_radius)),
        SHIFTED.row("root diameter, pinion", 32.100, of(pinion, Tooth::root_radius)),
        SHIFTED.row("root diameter, gear", 66.660, of(gear, Tooth::root_radius)),
    ]
}

fn centres() -> Vec<Check> {
    let book = Printed {
        source: "Wentzell, Machine Design, example 11.3 (16/32 teeth, 8 per inch), as a public notebook works it",
        tolerance: 0.5e-2,
        ..BEVAN
    };
    let module = Length::inch(1.0 / 8.0);
    let centres = reference_centre_distance(&PairSpec { module, ..spec([16, 32], 20.0) }).to_inch();
    let pitch = reference_diameter(module, 16).map(|diameter| diameter.to_inch() * PI / 16.0);
    vec![book.sure("centre distance", 3.00, centres), book.row("circular pitch", 0.39, pitch)]
}

fn over_wires() -> Vec<Check> {
    let table = Printed {
        subject: "Measuring aids",
        source: "size over wires of 1.728 in over the pitch, 32 teeth, 20°, on a public page (text of Machinery's Handbook)",
        ..BEVAN
    };
    let over = |per_inch: f64| {
        let spec = PairSpec { module: Length::inch(1.0 / per_inch), ..spec([32, 60], 20.0) };
        let tooth = Tooth::new(spec.tooth_spec(Member::Pinion))?;
        size_over_pins(&tooth, Length::inch(1.728 / per_inch)).map(Length::to_inch)
    };
    vec![table.row("1 tooth per inch", 34.4130, over(1.0)), table.row("4 teeth per inch", 8.6032, over(4.0))]
}

const WENTZELL: Printed = Printed {
    subject: "Tooth strength",
    source: "Wentzell, example 12.1, in the notebook (20 teeth, 8 per inch, 63 000 · 5/1725 lbf·in)",
    unit: "lbf",
    tolerance: 0.5e-2,
    ..BEVAN
};

fn tooth_forces() -> Vec<Check> {
    let of = |read: fn(&ToothForces) -> Force| {
        let pair = Pair::new(inch_pair([20, 60], 8.0))?;
        let torque = Torque::n_m(63_000.0 * 5.0 / 1725.0 * LBF_N * INCH_M);
        ToothForces::from_torque(&pair, Member::Pinion, torque).map(|forces| read(&forces).to_n() / LBF_N)
    };
    vec![
        WENTZELL.row("transmitted", 146.09, of(|forces| forces.tangential)),
        WENTZELL.row("separating", 53.17, of(|forces| forces.radial)),
        WENTZELL.row("along the line of action", 155.46, of(|forces| forces.normal)),
    ]
}

fn inch_pair(teeth: [u32; 2], per_inch: f64) -> PairSpec {
    let sized = PairSpec { module: Length::inch(1.0 / per_inch), ..spec(teeth, 20.0) };
    PairSpec { centre_distance: reference_centre_distance(&sized), ..sized }
}

fn lewis_loads() -> Vec<Check> {
    let dynamic = Printed {
        source: "Wentzell, example 12.4, in the notebook: 146 lbf at 1129 ft/min by (600 + V)/600",
        tolerance: 1e-3,
        because: "metric and US constants are each rounded",
        ..WENTZELL
    };
    let speed = Speed::m_per_s(1129.0 * 0.3048 / 60.0);
    let load = velocity_factor(ToothFinish::Cast, speed).map(|factor| 146.0 * factor);
    let allowed = Printed {
        source: "Wentzell, example 12.7, in the notebook: 24 teeth, 16 per inch, face 1 in, 47 500 psi",
        ..WENTZELL
    };
    let per_pound = lewis_stress(&LewisLoad {
        tangential_force: lbf(1.0),
        face_width: Length::inch(1.0),
        module: Length::inch(1.0 / 16.0),
        teeth: 24,
        velocity_factor: 1.0,
    });
    let psi = LBF_N / (INCH_M * INCH_M);
    let force_lbf = per_pound.map(|stress| 47_500.0 * psi / stress.to_pa());
    vec![dynamic.share("dynamic load", 420.72, load), allowed.row("force allowed by Lewis", 1000.47, force_lbf)]
}
