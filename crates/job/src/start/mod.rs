//! Starting builds: what is usual in a class of truck, where nobody has measured.

mod complete;
mod rules;

pub use complete::complete;
pub(crate) use complete::{paper_thickness_m, relay, usual_driver};
pub(crate) use rules::module_m;

use crate::problem::Problem;
use crate::read;
use crate::sheet::Sheet;
use std::sync::LazyLock;
use toml::de::DeTable;
use toothsayer_quantity::{Kind, parse};

/// One class of trucks.
#[derive(Clone, Debug)]
pub struct Class {
    /// Its name, as `truck.start` gives it.
    pub name: String,
    /// The mass of a usual truck of the class, kg.
    pub usual_mass_kg: f64,
    /// What is usual in it.
    pub usual: Sheet,
}

static TEXT: &str = include_str!("../../data/starting-builds.toml");
static CLASSES: LazyLock<Vec<Class>> = LazyLock::new(|| read_classes(TEXT).unwrap_or_default());

/// Every class, lightest first.
pub fn classes() -> &'static [Class] {
    &CLASSES
}

/// The class of this name, or the one whose usual mass is nearest (as a ratio).
pub fn class_for(name: Option<&str>, mass_kg: f64) -> Option<&'static Class> {
    let apart = |class: &Class| (class.usual_mass_kg / mass_kg).ln().abs();
    let named = name.and_then(|name| classes().iter().find(|class| class.name == name));
    named.or_else(|| classes().iter().min_by(|a, b| apart(a).total_cmp(&apart(b))))
}

fn read_classes(text: &str) -> Result<Vec<Class>, Vec<Problem>> {
    let (root, _) = DeTable::parse_recoverable(text);
    let entries = root.get_ref().get("class").and_then(|value| value.get_ref().as_array());
    entries
        .into_iter()
        .flatten()
        .filter_map(|entry| entry.get_ref().as_table())
        .map(|table| read_class(text, table))
        .collect()
}

fn read_class(text: &str, table: &DeTable<'_>) -> Result<Class, Vec<Problem>> {
    let word = |key: &str| table.get(key).and_then(|value| value.get_ref().as_str()).unwrap_or("");
    let build = table.get("build").and_then(|value| value.get_ref().as_table());
    let usual = build.map_or(Ok(Sheet::default()), |build| read::sheet_of(text, build))?;
    let usual_mass_kg = parse(Kind::Mass, word("usual_mass")).map_or(f64::NAN, |reading| reading.si);
    Ok(Class { name: word("name").to_owned(), usual_mass_kg, usual })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_data_file_reads_without_a_problem() {
        let classes = read_classes(TEXT).unwrap();
        assert_eq!(classes.len(), 6);
        for class in &classes {
            assert!(class.usual_mass_kg > 0.0, "{}", class.name);
            assert!(class.usual.joints.len() >= 2, "{}", class.name);
        }
    }

    #[test]
    fn a_truck_without_a_named_class_gets_the_one_nearest_in_mass() {
        assert_eq!(class_for(None, 10.4).map(|class| class.name.as_str()), Some("1/6 electric 4WD"));
        assert_eq!(class_for(None, 1.0).map(|class| class.name.as_str()), Some("1/10 electric 2WD brushed"));
        let named = class_for(Some("1/5 electric 4WD"), 10.4);
        assert_eq!(named.map(|class| class.name.as_str()), Some("1/5 electric 4WD"));
    }
}
