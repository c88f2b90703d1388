//! Measuring aids: chordal thickness, span, thickness at a radius.

use super::geometry::spec;
use crate::check::{Check, Printed, Status};
use toothsayer_mechanics::Error;
use toothsayer_mechanics::gear::{Gear, Member, Rack, Tooth, ToothSpec, span_measurement, teeth_to_span};
use toothsayer_quantity::{Angle, Length};

const SUBJECT: &str = "Measuring aids";

pub(super) fn rows() -> Vec<Check> {
    [chordal(), spans(), thickness(), tips()].concat()
}

fn tooth(module_mm: f64, teeth: u32, shift: f64) -> Result<Tooth, Error> {
    Tooth::new(ToothSpec {
        module: Length::mm(module_mm),
        pressure_angle: Angle::deg(20.0),
        rack: Rack::ISO_53_A,
        gear: Gear { teeth, shift, thinning: Length::ZERO, tip_shortening: 0.0 },
    })
}

fn chordal() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "Elements of Metric Gear Technology, table 10-1 (m 10 mm, 12 teeth, x 0.3)",
        status: Status::Printed,
        unit: "mm",
        tolerance: 0.5e-4,
        because: "half of the last printed digit",
    };
    let of = |read: fn(&Tooth) -> f64| tooth(10.0, 12, 0.3).map(|tooth| read(&tooth));
    vec![
        table.row("tooth thickness", 17.8918, of(|tooth| tooth.reference_thickness().to_mm())),
        table.with("deg", 0.5e-5).row("half angle", 8.54270, of(|tooth| tooth.reference_half_angle().to_deg())),
        table.row("chordal thickness", 17.8256, of(|tooth| tooth.chordal_thickness().to_mm())),
        table.row("chordal addendum", 13.6657, of(|tooth| tooth.chordal_addendum().to_mm())),
    ]
}

fn spans() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "table of spans of unit module, 20°, in most handbooks",
        status: Status::Memory,
        unit: "mm",
        tolerance: 0.5e-4,
        because: "half of the last printed digit",
    };
    let printed = [
        (17, 2, 4.6663),
        (18, 3, 7.6324),
        (20, 3, 7.6604),
        (27, 4, 10.7106),
        (30, 4, 10.7526),
        (40, 5, 13.8448),
        (50, 6, 16.9370),
        (100, 12, 35.3501),
    ];
    let span = |teeth: u32, over: u32| {
        let tooth = tooth(1.0, teeth, 0.0)?;
        let span = span_measurement(&tooth, over)?;
        Ok::<f64, Error>(if teeth_to_span(&tooth) == over { span.length.to_mm() } else { f64::NAN })
    };
    printed.iter().map(|(z, k, mm)| table.row(format!("{z} teeth, over {k}"), *mm, span(*z, *k))).collect()
}

fn thickness() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "thickness at a radius, ISO 21771 (20 teeth, module 1 mm)",
        status: Status::Calculated,
        unit: "mm",
        tolerance: 0.5e-5,
        because: "half of the last digit",
    };
    let at = |radius: fn(&Tooth) -> Length| {
        let tooth = tooth(1.0, 20, 0.0)?;
        tooth.thickness_at(radius(&tooth)).map(Length::to_mm)
    };
    vec![
        table.row("at the base circle", 1.75618, at(Tooth::base_radius)),
        table.row("at the tip", 0.69488, at(Tooth::tip_radius)),
    ]
}

fn tips() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "tip thickness at full addendum, ISO 21771 (module 1 mm)",
        status: Status::Calculated,
        unit: "mm",
        tolerance: 0.5e-5,
        because: "half of the last digit",
    };
    let rows = [
        (17, 0.0, 0.67408),
        (12, 0.0, 0.62090),
        (12, 0.3, 0.43574),
        (10, 0.5, 0.19892),
        (8, 0.5, 0.07594),
        (11, 0.6, 0.15606),
    ];
    let tip = |teeth, shift| tooth(1.0, teeth, shift).map(|tooth| tooth.tip_thickness().to_mm());
    let mut out: Vec<Check> =
        rows.iter().map(|(z, x, mm)| table.row(format!("{z} teeth, x {x}"), *mm, tip(*z, *x))).collect();
    let shown = tooth(1.0, 20, 0.0).map(|tooth| tooth.tip_radius().to_mm() * 2.0);
    let of_pair = Tooth::new(spec([20, 40], 20.0).tooth_spec(Member::Pinion)).map(|tooth| tooth.tip_radius().to_mm());
    let diameter = Printed {
        source: "tip diameter of a full-depth gear, m (z + 2)",
        tolerance: 1e-12,
        because: "rounding",
        ..table
    };
    out.push(diameter.row("20 teeth", 22.0, shown));
    out.push(diameter.row("radius of 20 teeth", 11.0, of_pair));
    out
}
