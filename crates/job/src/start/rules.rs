//! Estimation rules: what stands in for a value that nobody gave, from the values that somebody did.

use crate::sheet::Fields;
use std::f64::consts::PI;

/// One rule: which key it fills, how, in words, and the estimate as low, usual, high in SI.
pub(super) struct Rule {
    pub(super) key: &'static str,
    pub(super) why: &'static str,
    pub(super) estimate: fn(&Fields) -> Option<[f64; 3]>,
}

const GRAVITY_M_S2: f64 = 9.81;
const STEEL_KG_M3: f64 = 7850.0;
/// Mean density of a rotor (magnets, stack, shaft), kg/m³.
const ROTOR_KG_M3: f64 = 7300.0;

const fn rule(key: &'static str, why: &'static str, estimate: fn(&Fields) -> Option<[f64; 3]>) -> Rule {
    Rule { key, why, estimate }
}

/// In the order in which they build on each other.
pub(super) static RULES: &[Rule] = &[
    rule("motor.mass", "9 % [6..12] of the truck", motor_mass),
    rule("motor.kv", "27000 rpm [20000..36000] at the pack's voltage", kv_from_pack),
    rule(
        "motor.rotor_inertia",
        "radius 0.27 D, length 0.62 L of the can, or 3.5e-5 kg·m² (M / 0.9 kg)^(5/3)",
        rotor_inertia,
    ),
    rule("motor.resistance", "14 mΩ (980 rpm/V / Kv)² (10.4 kg / M)", motor_resistance),
    rule("battery.resistance", "1.5 mΩ a cell and 3 mΩ of leads", pack_resistance),
    rule("controller.drive_current", "450 W/kg over the pack's voltage", drive_current),
    rule("controller.brake_current", "0.85 of the drive current", brake_current),
    rule("gears.pinion.face_width", "11 modules", |sheet| modules(sheet, [7.0, 11.0, 15.0])),
    rule("gears.spur.face_width", "10 modules", |sheet| modules(sheet, [6.0, 10.0, 13.0])),
    rule("driveline.spur_inertia", "a disc of the spur's size, 0.6 [0.3..1.0] of it solid", spur_inertia),
    rule("driveline.ratio_after_spur", "a no-load top speed of 20 m/s [13..28]", ratio_after_spur),
    rule("driveline.stiffness", "40 N·m/rad [15..100] x truck mass / 10 kg", driveline_stiffness),
    rule("driveline.lash", "5° [2..10]", |_| Some([2.0, 5.0, 10.0].map(f64::to_radians))),
    rule("wheels.vertical_stiffness", "static sag 1 to 2.5 % of the diameter", tyre_stiffness),
    rule("wheels.vertical_damping", "30 N·s/m [x 0.4..2.5] x truck mass / 10 kg", tyre_damping),
    rule("suspension.travel", "60 mm (M / 10 kg)^(1/3) [x 0.7..1.45]", suspension_travel),
    rule("suspension.stiffness", "sag of the sprung weight 25 % [15..35] of the travel", suspension_stiffness),
    rule("suspension.damping", "damping ratio of the sprung mass 0.5 [0.3..0.8]", suspension_damping),
    rule("stack.overlap", "the narrower face, whole [85..100 %]", overlap),
    rule("stack.bearing_gap", "0.3 mm [0.1..0.8]", |_| Some([0.1e-3, 0.3e-3, 0.8e-3])),
];

fn spread(usual: f64, low: f64, high: f64) -> Option<[f64; 3]> {
    Some([usual * low, usual, usual * high])
}

fn pack_voltage_v(sheet: &Fields) -> Option<f64> {
    Some(sheet.number("battery.cells")? * sheet.number("battery.cell_voltage")?)
}

/// Whether somebody stated `key`.
fn stated(sheet: &Fields, key: &str) -> bool {
    sheet.numbers.get(key).is_some_and(|entry| !entry.origin.is_assumed())
}

/// Module in metres, from either way of giving the pitch.
pub(crate) fn module_m(sheet: &Fields) -> Option<f64> {
    let pitch = || sheet.number("gears.diametral_pitch").map(|pitch_per_m| 1.0 / pitch_per_m);
    sheet.number("gears.module").or_else(pitch)
}

fn modules(sheet: &Fields, counts: [f64; 3]) -> Option<[f64; 3]> {
    let module = module_m(sheet)?;
    Some(counts.map(|count| (count * module).clamp(0.5e-3, 0.1)))
}

fn motor_mass(sheet: &Fields) -> Option<[f64; 3]> {
    spread(0.09 * sheet.number("truck.mass")?, 6.0 / 9.0, 12.0 / 9.0)
}

fn kv_from_pack(sheet: &Fields) -> Option<[f64; 3]> {
    let rad_s = 2.0 * PI / 60.0 * 27000.0;
    spread(rad_s / pack_voltage_v(sheet)?, 20.0 / 27.0, 36.0 / 27.0)
}

fn rotor_inertia(sheet: &Fields) -> Option<[f64; 3]> {
    let can = sheet.number("motor.can_diameter").zip(sheet.number("motor.can_length"));
    if let Some((diameter, length)) = can {
        let at = |radius: f64, share: f64| PI / 2.0 * ROTOR_KG_M3 * share * length * (radius * diameter).powi(4);
        return Some([at(0.24, 0.5), at(0.27, 0.62), at(0.31, 0.75)]);
    }
    let usual = 3.5e-5 * (sheet.number("motor.mass")? / 0.9).powf(5.0 / 3.0);
    if stated(sheet, "motor.mass") { spread(usual, 1.0 / 1.8, 1.8) } else { spread(usual, 0.5 / 1.8, 1.6 * 1.8) }
}

fn motor_resistance(sheet: &Fields) -> Option<[f64; 3]> {
    let kv_rpm = sheet.number("motor.kv")? * 60.0 / (2.0 * PI);
    spread(14e-3 * (980.0 / kv_rpm).powi(2) * 10.4 / sheet.number("truck.mass")?, 0.45, 2.2)
}

fn pack_resistance(sheet: &Fields) -> Option<[f64; 3]> {
    spread(1.5e-3 * sheet.number("battery.cells")? + 3e-3, 0.6, 1.6)
}

fn drive_current(sheet: &Fields) -> Option<[f64; 3]> {
    spread(450.0 * sheet.number("truck.mass")? / pack_voltage_v(sheet)?, 0.5, 1.8)
}

/// The range of the drive current carries over where that one is a guess too.
fn brake_current(sheet: &Fields) -> Option<[f64; 3]> {
    let drive = sheet.numbers.get("controller.drive_current")?;
    let wide = |end: f64, share: f64| 0.85 * if drive.has_spread() { end } else { drive.value * share };
    Some([wide(drive.low, 0.6), 0.85 * drive.value, wide(drive.high, 1.2)])
}

fn spur_inertia(sheet: &Fields) -> Option<[f64; 3]> {
    let module = module_m(sheet)?;
    let radius = module * sheet.number("gears.spur.teeth")? / 2.0;
    let solid = 0.5 * STEEL_KG_M3 * PI * radius.powi(4) * 10.0 * module;
    spread(solid * 0.6, 0.5, 1.0 / 0.6)
}

fn ratio_after_spur(sheet: &Fields) -> Option<[f64; 3]> {
    let motor_rad_s = sheet.number("motor.kv")? * pack_voltage_v(sheet)?;
    let spur_rad_s = motor_rad_s * sheet.number("gears.pinion.teeth")? / sheet.number("gears.spur.teeth")?;
    let at = |speed: f64| spur_rad_s * sheet.number("wheels.diameter").unwrap_or(0.0) / 2.0 / speed;
    Some([at(28.0), at(20.0), at(13.0)])
}

fn driveline_stiffness(sheet: &Fields) -> Option<[f64; 3]> {
    spread(40.0 * sheet.number("truck.mass")? / 10.0, 15.0 / 40.0, 100.0 / 40.0)
}

fn tyre_stiffness(sheet: &Fields) -> Option<[f64; 3]> {
    let load_n = sheet.number("truck.mass")? * GRAVITY_M_S2 / sheet.number("wheels.count")?;
    let diameter = sheet.number("wheels.diameter")?;
    Some([0.025, 0.0175, 0.01].map(|sag| load_n / (sag * diameter)))
}

fn tyre_damping(sheet: &Fields) -> Option<[f64; 3]> {
    spread(30.0 * sheet.number("truck.mass")? / 10.0, 0.4, 2.5)
}

fn suspension_travel(sheet: &Fields) -> Option<[f64; 3]> {
    spread(0.060 * (sheet.number("truck.mass")? / 10.0).cbrt(), 0.7, 1.45)
}

fn sprung_mass_kg(sheet: &Fields) -> Option<f64> {
    let wheels = sheet.number("wheels.count")? * sheet.number("wheels.mass")?;
    Some(sheet.number("truck.mass")? - wheels).filter(|mass| *mass > 0.0)
}

fn suspension_stiffness(sheet: &Fields) -> Option<[f64; 3]> {
    let weight_n = sprung_mass_kg(sheet)? * GRAVITY_M_S2;
    let travel = sheet.number("suspension.travel")?;
    Some([0.35, 0.25, 0.15].map(|share| weight_n / (share * travel)))
}

fn suspension_damping(sheet: &Fields) -> Option<[f64; 3]> {
    let critical = 2.0 * (sheet.number("suspension.stiffness")? * sprung_mass_kg(sheet)?).sqrt();
    Some([0.3, 0.5, 0.8].map(|ratio| ratio * critical))
}

fn overlap(sheet: &Fields) -> Option<[f64; 3]> {
    let narrow = sheet.number("gears.pinion.face_width")?.min(sheet.number("gears.spur.face_width")?);
    spread(narrow, 0.85, 1.0)
}
