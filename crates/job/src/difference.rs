//! What differs between two states of a truck, by the part that was changed.

use crate::setting::Setting;
use crate::sheet::{Fields, JointFields, Sheet};
use std::collections::BTreeMap;

/// Values closer than this share of themselves count as the same.
const SAME: f64 = 1e-9;

impl Sheet {
    /// What has to be laid over this sheet to make it `other`, one change for each table and joint, named for it.
    pub fn differences(&self, other: &Sheet) -> Vec<Setting> {
        let mut tables: BTreeMap<&'static str, Fields> = BTreeMap::new();
        for key in other.fields.keys().filter(|key| differs(&self.fields, &other.fields, key)) {
            let table = key.split('.').next().unwrap_or(key);
            copy(&other.fields, key, tables.entry(table).or_default());
        }
        let of_tables = tables.into_iter().filter_map(|(table, fields)| {
            let input = fields.keys().next()?;
            let over = Sheet { fields, ..Sheet::default() };
            Some(Setting { key: table.replace('_', " "), input, joint: None, over })
        });
        let of_joints = other.joints.iter().filter_map(|joint| {
            let before = self.joints.iter().find(|known| known.name == joint.name)?;
            joint_difference(before, joint)
        });
        of_tables.chain(of_joints).collect()
    }
}

fn differs(before: &Fields, after: &Fields, key: &str) -> bool {
    match (before.number(key), after.number(key)) {
        (Some(a), Some(b)) => (a - b).abs() > SAME * a.abs().max(b.abs()),
        (None, None) => before.word(key) != after.word(key),
        _ => true,
    }
}

fn copy(from: &Fields, key: &'static str, to: &mut Fields) {
    if let Some(entry) = from.numbers.get(key) {
        to.numbers.insert(key, entry.clone());
    }
    if let Some(word) = from.words.get(key) {
        to.words.insert(key, word.clone());
    }
}

fn joint_difference(before: &JointFields, after: &JointFields) -> Option<Setting> {
    let mut fields = Fields::default();
    for key in after.fields.keys().filter(|key| differs(&before.fields, &after.fields, key)) {
        copy(&after.fields, key, &mut fields);
    }
    let input = fields.keys().next()?;
    let name = after.name.clone();
    let joint = JointFields { name: name.clone(), fields, free: after.free };
    let over = Sheet { joints: vec![joint], ..Sheet::default() };
    Some(Setting { key: name.clone(), input, joint: Some(name), over })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Job;
    use toothsayer_fault_book::FaultBook;

    fn truck() -> Sheet {
        let text = include_str!("../../../examples/tarnhorn.toml");
        Job::parse(text, FaultBook::built_in()).unwrap().built
    }

    #[test]
    fn the_same_truck_has_no_differences() {
        assert_eq!(truck().differences(&truck()), Vec::new());
    }

    #[test]
    fn differences_are_told_by_part_and_lead_from_one_truck_to_the_other() {
        let texts = ["wheels.mass=800 g", "wheels.diameter=200 mm", "joints.motor to mount.torque=2 N*m"];
        let other = texts.iter().fold(truck(), |sheet, text| {
            let setting = Setting::parse(text, &sheet).unwrap();
            sheet.overlaid(&setting.over)
        });
        let differences = truck().differences(&other);
        let keys: Vec<&str> = differences.iter().map(|one| one.key.as_str()).collect();
        assert_eq!(keys, ["wheels", "motor to mount"]);
        let led = differences.iter().fold(truck(), |sheet, one| sheet.overlaid(&one.over));
        assert_eq!(led.differences(&other), Vec::new());
    }
}
