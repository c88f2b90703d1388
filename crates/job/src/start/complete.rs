//! Filling what a sheet leaves open: class first, then rules, then defaults.

use super::rules::RULES;
use super::{Class, class_for, module_m};
use crate::build::pair_spec;
use crate::sheet::{Entry, Fields, JointFields, Origin, Sheet, Word};
use toothsayer_inputs::{Absent, DRIVER_ROWS, Input, JOINT_ROWS, build_inputs, find};
use toothsayer_mechanics::gear::{self, Backlash};
use toothsayer_quantity::{Kind, Length, parse};

/// The stack's lengths that give the overlap, and those that give the gap.
const OVERLAP_LENGTHS: [&str; 3] = ["stack.spacer", "stack.pinion_face_start", "stack.spur_face_start"];
const GAP_LENGTHS: [&str; 3] = ["stack.spacer", "stack.pinion_length", "stack.cover_bearing"];

/// The sheet with every open value filled and marked with where it came from.
pub fn complete(given: &Sheet) -> Sheet {
    let mut sheet = given.clone();
    let mass_kg = sheet.fields.number("truck.mass").unwrap_or(1.0);
    if let Some(class) = class_for(sheet.fields.word("truck.start"), mass_kg) {
        fill_from_class(&mut sheet, class);
    }
    build_inputs().for_each(|input| fill_default(&mut sheet.fields, input));
    fill_from_rules(&mut sheet.fields);
    fill_centre_distance(&mut sheet.fields);
    for joint in &mut sheet.joints {
        JOINT_ROWS.iter().for_each(|input| fill_default(&mut joint.fields, input));
    }
    sheet
}

/// Lays `over` on a completed sheet and estimates anew what was assumed in the tables that it speaks of.
pub(crate) fn relay(sheet: &Sheet, over: &Sheet) -> Sheet {
    let mut laid = sheet.clone();
    let touched: Vec<&str> = over.fields.keys().filter_map(|key| key.split('.').next()).collect();
    let stale = |key: &str| key.split('.').next().is_some_and(|table| touched.contains(&table));
    laid.fields.numbers.retain(|key, entry| !(stale(key) && matches!(entry.origin, Origin::Rule(_))));
    if over.fields.keys().any(resets_mesh) {
        keep_backlash(sheet, &mut laid.fields);
    }
    for [one, other] in TWO_NAMES {
        if over.fields.has(one) || over.fields.has(other) {
            laid.fields.remove(one);
            laid.fields.remove(other);
        }
    }
    laid.lay(over);
    complete(&laid)
}

/// Keys that say the same thing in two ways: the newer word stands alone.
const TWO_NAMES: [[&str; 2]; 4] = [
    ["gears.module", "gears.diametral_pitch"],
    ["gears.pinion.module", "gears.pinion.diametral_pitch"],
    ["gears.spur.module", "gears.spur.diametral_pitch"],
    ["set_screw.torque", "set_screw.tool"],
];

/// Whether a change of `key` means that the mesh was set anew.
fn resets_mesh(key: &str) -> bool {
    let geometry = ["gears.pinion.teeth", "gears.spur.teeth", "gears.module", "gears.diametral_pitch"];
    let mesh = ["gears.backlash", "gears.mesh_set"];
    geometry.contains(&key) || mesh.contains(&key)
}

/// Other gears in the same mount are set to the same backlash.
fn keep_backlash(before: &Sheet, laid: &mut Fields) {
    let backlash = pair_spec(&before.fields).and_then(|spec| gear::Pair::measured(spec).ok());
    if let (Some(pair), Some(entry)) = (backlash, before.fields.numbers.get("gears.centre_distance")) {
        let play = Entry::exact(pair.circumferential_backlash().to_m().max(0.0), entry.origin.clone());
        laid.numbers.insert("gears.backlash", play);
    }
    laid.remove("gears.centre_distance");
}

/// The driver that is usual in the truck's class.
pub(crate) fn usual_driver(sheet: &Sheet) -> Fields {
    let mass_kg = sheet.fields.number("truck.mass").unwrap_or(1.0);
    let class = class_for(sheet.fields.word("truck.start"), mass_kg);
    let mut driver = Fields::default();
    for input in DRIVER_ROWS {
        if let Some(entry) = class.and_then(|class| class.usual.fields.numbers.get(input.key)) {
            driver.numbers.insert(input.key, entry.clone());
        }
    }
    driver
}

fn fill_default(fields: &mut Fields, input: &'static Input) {
    if fields.has(input.key) {
        return;
    }
    match input.absent {
        Absent::Default { low, usual, high, why } if !input.key.starts_with("support.") || has_support(fields) => {
            fields.numbers.insert(input.key, Entry { value: usual, low, high, origin: Origin::Default(why) });
        }
        Absent::DefaultWord(word) => {
            fields.words.insert(input.key, Word { text: word.into(), origin: Origin::Default("usual") });
        }
        _ => {}
    }
}

fn has_support(fields: &Fields) -> bool {
    fields.has("support.distance")
}

fn fill_from_class(sheet: &mut Sheet, class: &Class) {
    let origin = || Origin::Class(class.name.clone());
    let set_screw_known = sheet.fields.has("set_screw.torque");
    let shaft_known = sheet.fields.keys().any(tells_of_shaft);
    let left_out = |key: &str| shaft_known && key.starts_with("support.");
    for (key, entry) in class.usual.fields.numbers.iter().filter(|(key, _)| !left_out(key)) {
        let own = || Entry { origin: origin(), ..entry.clone() };
        sheet.fields.numbers.entry(*key).or_insert_with(own);
    }
    for (key, word) in &class.usual.fields.words {
        if left_out(key) || (*key == "set_screw.tool" && set_screw_known) {
            continue;
        }
        sheet.fields.words.entry(*key).or_insert_with(|| Word { text: word.text.clone(), origin: origin() });
    }
    for joint in &class.usual.joints {
        let carried = joint.carries();
        if !sheet.joints.iter().any(|own| own.carries() == carried) {
            sheet.joints.push(assumed_joint(joint, &origin()));
        }
    }
}

/// Whoever measured the motor's shaft or its stack would have named an outer bearing.
fn tells_of_shaft(key: &str) -> bool {
    key == "motor.overhang" || key.starts_with("stack.") || key.starts_with("support.")
}

fn assumed_joint(joint: &JointFields, origin: &Origin) -> JointFields {
    let mut own = joint.clone();
    own.fields.numbers.values_mut().for_each(|entry| entry.origin = origin.clone());
    own.fields.words.values_mut().for_each(|word| word.origin = origin.clone());
    own
}

fn fill_from_rules(fields: &mut Fields) {
    for rule in RULES {
        if fields.has(rule.key) || known_from_lengths(fields, rule.key) {
            continue;
        }
        if let Some(ends) = (rule.estimate)(fields) {
            let (least, most) = find(rule.key).map_or((f64::MIN, f64::MAX), |input| (input.least, input.most));
            let [low, value, high] = ends.map(|end| end.clamp(least, most));
            fields.numbers.insert(rule.key, Entry { value, low, high, origin: Origin::Rule(rule.why) });
        }
    }
}

fn known_from_lengths(fields: &Fields, key: &str) -> bool {
    match key {
        "stack.overlap" => OVERLAP_LENGTHS.iter().all(|key| fields.has(key)),
        "stack.bearing_gap" => GAP_LENGTHS.iter().all(|key| fields.has(key)),
        _ => false,
    }
}

/// Centre distance from the backlash, from how the mesh was set, or usual.
fn fill_centre_distance(fields: &mut Fields) {
    if fields.has("gears.centre_distance") {
        return;
    }
    let entry = from_backlash(fields).or_else(|| from_paper(fields)).or_else(|| usual_centre_distance(fields));
    if let Some(entry) = entry {
        fields.numbers.insert("gears.centre_distance", entry);
    }
}

fn from_backlash(fields: &Fields) -> Option<Entry> {
    let backlash = fields.numbers.get("gears.backlash")?;
    let at = |play_m: f64| centre_distance_m(fields, play_m);
    let (value, low, high) = (at(backlash.value)?, at(backlash.low)?, at(backlash.high)?);
    Some(Entry { value, low, high, origin: backlash.origin.clone() })
}

/// A strip of paper lies on both flanks of the tooth that presses it: its play is up to twice its thickness,
/// less where the paper gives way (x 1.6 [1..2]; estimate, no source).
fn from_paper(fields: &Fields) -> Option<Entry> {
    let thickness_m = paper_thickness_m(fields.word("gears.mesh_set")?)?;
    let at = |share: f64| centre_distance_m(fields, share * thickness_m);
    let origin = Origin::Rule("a paper strip leaves 1.6 [1..2] of its thickness as backlash");
    Some(Entry { value: at(1.6)?, low: at(1.0)?, high: at(2.0)?, origin })
}

/// The thickness in "paper 0.1 mm".
pub(crate) fn paper_thickness_m(text: &str) -> Option<f64> {
    let thickness = text.trim().strip_prefix("paper")?;
    parse(Kind::Length, thickness).ok().map(|reading| reading.si).filter(|si| (0.0..=1e-3).contains(si))
}

fn usual_centre_distance(fields: &Fields) -> Option<Entry> {
    let tight_m = centre_distance_m(fields, 0.0)?;
    let module_m = module_m(fields)?;
    let at = |share: f64| tight_m + share * module_m;
    let origin = Origin::Rule("play-free centre distance + 0.1 module [0.03..0.2]");
    Some(Entry { value: at(0.1), low: at(0.03), high: at(0.2), origin })
}

/// The centre distance that leaves `play_m` of circumferential backlash.
fn centre_distance_m(fields: &Fields, play_m: f64) -> Option<f64> {
    let spec = pair_spec(fields)?;
    gear::centre_distance_for_backlash(&spec, Backlash::Circumferential(Length::m(play_m))).ok().map(Length::to_m)
}
