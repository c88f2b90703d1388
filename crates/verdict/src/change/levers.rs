//! What can be turned on a truck to make it hold: each lever's steps, the smallest first.

use crate::joint::Windows;
use toothsayer_job::Sheet;
use toothsayer_mechanics::screw::SetScrewRow;

/// One lever with its steps, each as the changes that a person would type.
pub(super) struct Lever {
    /// What is done, in words.
    pub(super) words: String,
    /// From the smallest step to the largest; a step may be of several changes.
    pub(super) steps: Vec<Vec<String>>,
}

/// Shares of the present value that are tried (common practice, no source).
const LIGHTER: [f64; 5] = [0.9, 0.8, 0.7, 0.6, 0.5];
const SHORTER_DROP: [f64; 4] = [0.8, 0.6, 0.4, 0.25];
/// Settings that a controller offers, in per cent.
const STRENGTHS: [f64; 7] = [90.0, 80.0, 70.0, 60.0, 50.0, 40.0, 30.0];
/// Fewest teeth of a pinion that is still offered.
const FEWEST_TEETH: f64 = 9.0;

/// The levers of a truck: only towards less load or more strength, never beyond a tightening window.
pub(super) fn levers(sheet: &Sheet, windows: &Windows) -> Vec<Lever> {
    let mut levers = vec![
        strength(sheet, "controller.brake_strength", "lower the brake strength"),
        strength(sheet, "controller.throttle_strength", "lower the throttle strength"),
        fewer(sheet, "gears.pinion.teeth", FEWEST_TEETH, 5, "fit a smaller pinion"),
        fewer(sheet, "battery.cells", 1.0, 3, "use fewer cells"),
        shares(sheet, Scaled { key: "wheels.mass", unit: "kg", of: &LIGHTER }, "fit lighter wheels"),
        shares(sheet, Scaled { key: "driver.drop_height", unit: "m", of: &SHORTER_DROP }, "land from less height"),
        Lever {
            words: "fit gears of case-hardened steel".into(),
            steps: vec![
                ["pinion", "spur"]
                    .iter()
                    .flat_map(|gear| {
                        [format!("gears.{gear}.material=case-hardened"), format!("gears.{gear}.hardness=700 HV")]
                    })
                    .collect(),
            ],
        },
        set_screw(sheet),
    ];
    levers.extend(sheet.joints.iter().filter_map(|joint| tighter(&joint.name, windows)));
    levers.retain(|lever| !lever.steps.is_empty());
    levers
}

fn strength(sheet: &Sheet, key: &'static str, words: &'static str) -> Lever {
    let now = 100.0 * sheet.fields.number(key).unwrap_or(0.0);
    let weaker = STRENGTHS.iter().filter(|percent| **percent < now - 1e-6);
    Lever { words: words.into(), steps: weaker.map(|percent| vec![format!("{key}={percent} %")]).collect() }
}

fn fewer(sheet: &Sheet, key: &'static str, fewest: f64, most_steps: u32, words: &'static str) -> Lever {
    let now = sheet.fields.number(key).unwrap_or(0.0);
    let counts = (1..=most_steps).map(|step| now - f64::from(step)).filter(|count| *count >= fewest);
    Lever { words: words.into(), steps: counts.map(|count| vec![format!("{key}={count}")]).collect() }
}

/// A quantity tried at some shares of its value.
struct Scaled {
    key: &'static str,
    unit: &'static str,
    of: &'static [f64],
}

fn shares(sheet: &Sheet, scaled: Scaled, words: &'static str) -> Lever {
    let now = sheet.fields.number(scaled.key).unwrap_or(0.0);
    let text = |share: &f64| {
        // A thousandth of a unit is finer than anybody weighs or jumps.
        vec![format!("{}={:.3} {}", scaled.key, share * now, scaled.unit)]
    };
    Lever { words: words.into(), steps: if now > 0.0 { scaled.of.iter().map(text).collect() } else { Vec::new() } }
}

fn set_screw(sheet: &Sheet) -> Lever {
    let size = sheet.fields.word("set_screw.size").unwrap_or("");
    let torque = SetScrewRow::find(size).ok().map(|row| row.torque.to_n_m());
    let now = sheet.fields.number("set_screw.torque").unwrap_or(0.0);
    let tighter = torque.filter(|torque| *torque > now + 1e-9);
    let step = tighter.map(|torque| vec![format!("set_screw.torque={torque} N*m"), "set_screw.seat=flat".to_owned()]);
    let words = "seat the set screw on the flat with the table's torque".to_owned();
    Lever { words, steps: step.into_iter().collect() }
}

/// The joint at its window's upper end, rounded down to what a torque driver shows.
fn tighter(name: &str, windows: &Windows) -> Option<Lever> {
    let window = windows.get(name).filter(|window| window.is_open())?;
    let torque = (window.high.to_n_m() * 100.0).floor() / 100.0;
    let step = vec![format!("joints.{name}.torque={torque} N*m"), format!("joints.{name}.runs_since_tightened=0")];
    Some(Lever { words: format!("tighten the joint \"{name}\" to the upper end of its window"), steps: vec![step] })
}
