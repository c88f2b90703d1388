//! Involute, pair geometry, contact ratio, interference.

use crate::check::{Check, Printed, Status, misprint};
use toothsayer_mechanics::Error;
use toothsayer_mechanics::gear::{
    Gear, Member, Pair, PairSpec, Rack, Tooth, inv, inv_inverse, reference_centre_distance,
};
use toothsayer_quantity::{Angle, Length};

const SUBJECT: &str = "Gear geometry";
const DIGIT_5: f64 = 0.5e-5;

pub(super) fn rows() -> Vec<Check> {
    [
        involute(),
        inverse(),
        shigley_opened(),
        khurmi(),
        contact_ratios(),
        opened(),
        interference(),
        undercut(),
        backlash(),
    ]
    .concat()
}

/// Gears of module 1 mm at their reference centre distance.
pub(super) fn spec(teeth: [u32; 2], angle_deg: f64) -> PairSpec {
    let gear = |teeth| Gear { teeth, shift: 0.0, thinning: Length::ZERO, tip_shortening: 0.0 };
    let spec = PairSpec {
        module: Length::mm(1.0),
        pressure_angle: Angle::deg(angle_deg),
        rack: Rack::ISO_53_A,
        pinion: gear(teeth[0]),
        spur: gear(teeth[1]),
        centre_distance: Length::ZERO,
    };
    at_reference(spec)
}

fn at_reference(spec: PairSpec) -> PairSpec {
    PairSpec { centre_distance: reference_centre_distance(&spec), ..spec }
}

fn involute() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "Machinery's Handbook, table of involute functions",
        status: Status::Memory,
        unit: "",
        tolerance: 0.5e-7,
        because: "half of the last printed digit",
    };
    let printed = [
        (14.5, 0.0055448),
        (15.0, 0.0061498),
        (20.0, 0.0149044),
        (22.5, 0.0215145),
        (25.0, 0.0299753),
        (30.0, 0.0537515),
    ];
    let at = |angle_deg: f64| inv(Angle::deg(angle_deg));
    let mut rows: Vec<Check> =
        printed.iter().map(|(angle, value)| table.row(format!("inv {angle}°"), *value, at(*angle))).collect();
    let page =
        Printed { source: "a page of the open web that prints inv 14.5° wrongly", status: Status::Printed, ..table };
    rows.push(misprint(page.with("", 1e-4).row("inv 14.5°", 0.00540, at(14.5))));
    let other =
        Printed { source: "tan a − a in ten digits", status: Status::Calculated, tolerance: 0.5e-10, ..table };
    let angles = [(17.5, 0.0098661698), (27.5, 0.0406015063), (35.0, 0.0893423000), (40.0, 0.1409679304)];
    rows.extend(angles.iter().map(|(angle, value)| other.row(format!("inv {angle}°"), *value, at(*angle))));
    rows
}

fn inverse() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "inverse involute, methods in Lopez Rosado et al., Math. Probl. Eng. 2019, 3586012",
        status: Status::Calculated,
        unit: "deg",
        tolerance: 0.5e-6,
        because: "half of the last digit",
    };
    let values = [(0.005, 14.016655), (0.02, 21.981102), (0.05, 29.337720), (0.1, 36.191422)];
    values.iter().map(|(of, deg)| table.row(format!("of {of}"), *deg, inv_inverse(*of).map(Angle::to_deg))).collect()
}

fn shigley_opened() -> Vec<Check> {
    let book = Printed {
        subject: SUBJECT,
        source: "Shigley, Mechanical Engineering Design, 8th to 10th ed., example 13-1 (16/40 teeth, 2 per inch, opened by 0.25 in)",
        status: Status::Memory,
        unit: "in",
        tolerance: 0.5e-3,
        because: "half of the last printed digit",
    };
    let gears = PairSpec { module: Length::inch(0.5), ..spec([16, 40], 20.0) };
    let pair = || Pair::new(PairSpec { centre_distance: Length::inch(14.25), ..gears });
    let of = |read: fn(&Pair) -> f64| pair().map(|pair| read(&pair));
    let radius = |member: Member| move |pair: Pair| pair.tooth(member).base_radius().to_inch();
    vec![
        book.sure("reference centre distance", 14.0, reference_centre_distance(&gears).to_inch()),
        book.with("in", 0.5e-2).row("base radius of the pinion", 3.76, pair().map(radius(Member::Pinion))),
        book.with("in", 0.5e-2).row("base radius of the gear", 9.40, pair().map(radius(Member::Spur))),
        book.row("working diameter of the pinion", 8.143, of(|p| 2.0 * p.working_radius(Member::Pinion).to_inch())),
        book.row("working diameter of the gear", 20.357, of(|p| 2.0 * p.working_radius(Member::Spur).to_inch())),
        book.with("deg", 0.5e-4).row(
            "working pressure angle, unrounded",
            22.6005,
            of(|p| p.working_pressure_angle().to_deg()),
        ),
        misprint(book.with("deg", 0.03).row(
            "working pressure angle as printed, with the base radius rounded first",
            22.56,
            of(|p| p.working_pressure_angle().to_deg()),
        )),
    ]
}

fn khurmi() -> Vec<Check> {
    let book = Printed {
        subject: SUBJECT,
        source: "Khurmi, Theory of Machines, example 12.3 (30/80 teeth, m 12 mm, addendum 10 mm)",
        status: Status::Memory,
        unit: "mm",
        tolerance: 0.1,
        because: "the book rounds on its way",
    };
    let rack = Rack { addendum: 10.0 / 12.0, ..Rack::ISO_53_A };
    let pair = || Pair::new(at_reference(PairSpec { module: Length::mm(12.0), rack, ..spec([30, 80], 20.0) }));
    let path = pair().map(|pair| pair.contact_ratio() * pair.base_pitch().to_mm());
    let arc = pair().map(|pair| pair.contact_ratio() * std::f64::consts::PI * 12.0);
    let ratio = pair().map(|pair| pair.contact_ratio());
    let other = Printed { source: "Khurmi, example 12.2 (40/40 teeth, m 6 mm, arc of contact 1.75 pitches)", ..book };
    let at = |addendum_mm: f64| {
        let rack = Rack { addendum: addendum_mm / 6.0, ..Rack::ISO_53_A };
        Pair::new(PairSpec { rack, ..spec([40, 40], 20.0) }).map(|pair| pair.contact_ratio())
    };
    vec![
        book.row("path of contact", 52.3, path),
        book.row("arc of contact", 55.7, arc),
        book.with("", 0.006).row("contact ratio", 1.48, ratio),
        other.with("", 0.5e-3).row("contact ratio at the exact addendum of 6.1444 mm", 1.75, at(6.1444)),
        other.with("", 7e-3).row("contact ratio at the book's addendum of 6.12 mm", 1.75, at(6.12)),
        misprint(other.with("", 3e-3).row(
            "contact ratio at 6.17 mm, a notebook's degrees taken for radians",
            1.75,
            at(6.17),
        )),
    ]
}

fn contact_ratios() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "contact ratio of standard pairs by the closed formula of ISO 21771",
        status: Status::Calculated,
        unit: "",
        tolerance: DIGIT_5,
        because: "half of the last digit",
    };
    let pairs = [
        ([12, 36], 20.0, 1.55639),
        ([17, 17], 20.0, 1.51480),
        ([18, 18], 20.0, 1.52977),
        ([20, 40], 20.0, 1.63519),
        ([17, 52], 20.0, 1.63810),
        ([30, 80], 20.0, 1.73963),
        ([50, 50], 20.0, 1.75467),
        ([13, 45], 20.0, 1.58915),
        ([12, 36], 25.0, 1.40667),
        ([32, 64], 14.5, 2.08830),
    ];
    let ratio = |teeth, angle| Pair::new(spec(teeth, angle)).map(|pair| pair.contact_ratio());
    let row = |([z1, z2], angle, ratio_of): ([u32; 2], f64, f64)| {
        table.row(format!("{z1}/{z2} teeth, {angle}°"), ratio_of, ratio([z1, z2], angle))
    };
    pairs.into_iter().map(row).collect()
}

fn opened() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "contact ratio of 13/46 teeth with the mesh opened, ISO 21771",
        status: Status::Calculated,
        unit: "",
        tolerance: DIGIT_5,
        because: "half of the last digit",
    };
    let at = |by_mm: f64| {
        let spec = spec([13, 46], 20.0);
        let opened = PairSpec { centre_distance: spec.centre_distance + Length::mm(by_mm), ..spec };
        Pair::new(opened).map(|pair| pair.contact_ratio())
    };
    let values = [(0.0, 1.59116), (0.05, 1.54195), (0.1, 1.49335), (0.2, 1.39787), (0.3, 1.30454)];
    values.iter().map(|(by, ratio)| table.row(format!("opened by {by} modules"), *ratio, at(*by))).collect()
}

/// The largest mate whose tip still clears the pinion's base circle.
fn largest_mate(pinion: u32) -> Result<f64, Error> {
    let mut largest = pinion;
    for spur in pinion..=1400 {
        if Pair::new(spec([pinion, spur.min(500)], 20.0))?.active_profile_start(Member::Pinion) < Length::ZERO {
            break;
        }
        largest = spur;
        if spur == 500 {
            break;
        }
    }
    Ok(f64::from(largest))
}

fn interference() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "Shigley, equation 13-11; Norton, Machine Design, table 12-5: largest gear without interference, 20°",
        status: Status::Memory,
        unit: "",
        tolerance: 0.0,
        because: "a count",
    };
    let rows = [(13, 16.0), (14, 26.0), (15, 45.0), (16, 101.0)];
    rows.iter().map(|(teeth, mate)| table.row(format!("with {teeth} teeth"), *mate, largest_mate(*teeth))).collect()
}

fn undercut() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "fewest teeth without undercut, 2/sin² a, in most handbooks",
        status: Status::Memory,
        unit: "",
        tolerance: 0.0,
        because: "a count",
    };
    // The handbooks' rule supposes a tool that is straight to a depth of one module.
    let sharp = Rack { addendum: 1.0, dedendum: 1.0, root_radius: 0.0 };
    let fewest = |angle_deg: f64| -> Result<f64, Error> {
        for teeth in 5..60 {
            let spec = PairSpec { rack: sharp, ..spec([teeth, 60], angle_deg) };
            if !Tooth::new(spec.tooth_spec(Member::Pinion))?.undercut() {
                return Ok(f64::from(teeth));
            }
        }
        Ok(f64::NAN)
    };
    let rows = [(14.5, 32.0), (20.0, 18.0), (25.0, 12.0)];
    let mut out: Vec<Check> =
        rows.iter().map(|(angle, teeth)| table.row(format!("at {angle}°"), *teeth, fewest(*angle))).collect();
    let shifts = Printed {
        source: "least profile shift without undercut, 1 − z sin² 20°/2",
        status: Status::Calculated,
        tolerance: DIGIT_5,
        because: "half of the last digit",
        ..table
    };
    let least = |teeth: u32| {
        let spec = PairSpec { rack: sharp, ..spec([teeth, 60], 20.0) };
        Tooth::new(spec.tooth_spec(Member::Pinion)).map(|tooth| tooth.least_shift_without_undercut())
    };
    let rows = [(8, 0.53209), (10, 0.41511), (12, 0.29813), (14, 0.18116), (16, 0.06418)];
    out.extend(rows.iter().map(|(teeth, shift)| shifts.row(format!("{teeth} teeth"), *shift, least(*teeth))));
    out
}

fn backlash() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "backlash by opening the centres, j = 2 da tan a, in most handbooks",
        status: Status::Memory,
        unit: "",
        tolerance: 2e-3,
        because: "the rule is of first order",
    };
    let per_opening = |angle_deg: f64| {
        const OPENED_MM: f64 = 0.01;
        let spec = spec([40, 40], angle_deg);
        let opened = PairSpec { centre_distance: spec.centre_distance + Length::mm(OPENED_MM), ..spec };
        Pair::new(opened).map(|pair| pair.circumferential_backlash().to_mm() / OPENED_MM)
    };
    let rows = [(14.5, 0.517), (20.0, 0.728), (25.0, 0.933)];
    rows.iter().map(|(angle, play)| table.row(format!("per opening at {angle}°"), *play, per_opening(*angle))).collect()
}
