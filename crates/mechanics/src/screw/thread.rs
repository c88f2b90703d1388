//! Threads by size: the basic profile, its areas, and the head, hole and washer that go with it.

use super::ScrewError;
use toothsayer_quantity::{Area, Length};

/// Whose profile and stress area a thread follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Series {
    /// ISO metric, coarse pitch.
    Metric,
    /// Unified inch, coarse or fine.
    Unified,
}

/// One size with its socket cap head, clearance hole and flat washer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thread {
    /// Size as the trade writes it ("M4", "8-32").
    pub name: &'static str,
    /// Metric or Unified.
    pub series: Series,
    /// Major diameter d.
    pub diameter: Length,
    /// Pitch P.
    pub pitch: Length,
    /// Outside diameter of the socket cap head.
    pub head: Length,
    /// Clearance hole dh.
    pub hole: Length,
    /// Outside diameter of the flat washer.
    pub washer_outer: Length,
    /// Thickness of the flat washer.
    pub washer_thickness: Length,
}

/// d, P, head, hole, washer outside, washer thickness, all in mm.
const fn metric(name: &'static str, mm: [f64; 6]) -> Thread {
    row(name, Series::Metric, mm)
}

/// d, threads per inch, head, hole, washer outside, washer thickness: inch but for the second.
const fn unified(name: &'static str, inch: [f64; 6]) -> Thread {
    let [d, per_inch, head, hole, outer, thickness] = inch;
    const MM: f64 = 25.4;
    row(name, Series::Unified, [d * MM, MM / per_inch, head * MM, hole * MM, outer * MM, thickness * MM])
}

const fn row(name: &'static str, series: Series, mm: [f64; 6]) -> Thread {
    Thread {
        name,
        series,
        diameter: Length::mm(mm[0]),
        pitch: Length::mm(mm[1]),
        head: Length::mm(mm[2]),
        hole: Length::mm(mm[3]),
        washer_outer: Length::mm(mm[4]),
        washer_thickness: Length::mm(mm[5]),
    }
}

/// Sizes of the trade, small to large.
///
/// Metric: d and P of ISO 724/ISO 261 (coarse), heads ISO 4762, holes ISO 273 medium, washers ISO 7089.
/// Inch: d and threads per inch of ASME B1.1; heads ASME B18.3, holes ASME B18.2.8 normal fit and washers
/// ASME B18.21.1 type A narrow from memory.
pub static THREADS: &[Thread] = &[
    metric("M2", [2.0, 0.4, 3.8, 2.4, 5.0, 0.3]),
    metric("M2.5", [2.5, 0.45, 4.5, 2.9, 6.0, 0.5]),
    metric("M3", [3.0, 0.5, 5.5, 3.4, 7.0, 0.5]),
    metric("M4", [4.0, 0.7, 7.0, 4.5, 9.0, 0.8]),
    metric("M5", [5.0, 0.8, 8.5, 5.5, 10.0, 1.0]),
    metric("M6", [6.0, 1.0, 10.0, 6.6, 12.0, 1.6]),
    metric("M8", [8.0, 1.25, 13.0, 9.0, 16.0, 1.6]),
    unified("2-56", [0.086, 56.0, 0.140, 0.102, 0.250, 0.020]),
    unified("4-40", [0.112, 40.0, 0.183, 0.128, 0.312, 0.032]),
    unified("6-32", [0.138, 32.0, 0.226, 0.170, 0.375, 0.049]),
    unified("8-32", [0.164, 32.0, 0.270, 0.196, 0.438, 0.049]),
    unified("10-24", [0.190, 24.0, 0.312, 0.221, 0.500, 0.049]),
    unified("10-32", [0.190, 32.0, 0.312, 0.221, 0.500, 0.049]),
    unified("1/4-20", [0.250, 20.0, 0.375, 0.281, 0.625, 0.065]),
];

impl Thread {
    /// The row of this name; a leading `#` of inch sizes may be written or left out.
    ///
    /// # Errors
    /// [`ScrewError::UnknownThread`], which lists the table's sizes.
    pub fn find(size: &str) -> Result<&'static Thread, ScrewError> {
        let wanted = size.trim().trim_start_matches('#');
        THREADS.iter().find(|row| row.name.eq_ignore_ascii_case(wanted)).ok_or_else(|| {
            let names: Vec<_> = THREADS.iter().map(|row| row.name).collect();
            ScrewError::UnknownThread { size: size.to_owned(), known: names.join(", ") }
        })
    }

    /// Height of the sharp triangle, H = P √3/2.
    fn triangle_mm(&self) -> f64 {
        self.pitch.to_mm() * 3.0_f64.sqrt() / 2.0
    }

    /// Pitch diameter d2 = d - 3/4 H (ISO 724; ASME B1.1 has the same basic profile).
    pub fn pitch_diameter(&self) -> Length {
        Length::mm(self.diameter.to_mm() - 0.75 * self.triangle_mm())
    }

    /// Minor diameter of the internal thread D1 = d - 5/4 H (ISO 724).
    pub fn minor_diameter(&self) -> Length {
        Length::mm(self.diameter.to_mm() - 1.25 * self.triangle_mm())
    }

    /// Root diameter of the screw d3 = d - 17/12 H (ISO 898-1).
    pub fn root_diameter(&self) -> Length {
        Length::mm(self.diameter.to_mm() - 17.0 / 12.0 * self.triangle_mm())
    }

    /// Stress area: π/4 ((d2 + d3)/2)² for metric threads (ISO 898-1, 9.1.6), π/4 (d - 0.9743 P)² for inch
    /// threads (ASME B1.1, appendix B).
    pub fn stress_area(&self) -> Area {
        match self.series {
            Series::Metric => circle(0.5 * (self.pitch_diameter().to_mm() + self.root_diameter().to_mm())),
            Series::Unified => circle(self.diameter.to_mm() - 0.9743 * self.pitch.to_mm()),
        }
    }

    /// Area of the root circle A3 = π d3²/4 (VDI 2230).
    pub fn root_area(&self) -> Area {
        circle(self.root_diameter().to_mm())
    }

    /// Area of the nominal circle AN = π d²/4 (VDI 2230).
    pub fn nominal_area(&self) -> Area {
        circle(self.diameter.to_mm())
    }

    /// Mean diameter of the friction under the head, Dkm = (head + hole)/2 (VDI 2230). A washer spreads the
    /// pressure on the part and leaves it unchanged.
    pub fn head_friction_diameter(&self) -> Length {
        (self.head + self.hole) / 2.0
    }
}

fn circle(diameter_mm: f64) -> Area {
    Area::mm2(std::f64::consts::FRAC_PI_4 * diameter_mm * diameter_mm)
}
