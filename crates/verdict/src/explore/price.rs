//! What a combination costs: parts at the shop's prices, labour by the fault book's steps.

use super::space::{Choice, Thing};
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Shop;
use toothsayer_quantity::Money;

/// The step of the fault book that each change is made by.
static STEPS: [(Thing, &str); 8] = [
    (Thing::Pinion, "fit-smaller-pinion"),
    (Thing::Spur, "new-gears"),
    (Thing::Backlash, "set-mesh"),
    (Thing::Material, "fit-hardened-pair"),
    (Thing::Wheels, "fit-usual-wheels"),
    (Thing::Cells, "fewer-cells"),
    (Thing::Brake, "lower-brake"),
    (Thing::Throttle, "soften-throttle"),
];
/// Other gears are set to their backlash.
const SET_MESH: &str = "set-mesh";

/// Price and time of a combination.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Cost {
    /// Labour and the parts whose price is known.
    pub(super) price: Money,
    pub(super) minutes: f64,
    /// Parts that the shop lists no price for, counted at that of one of the same sort.
    pub(super) unlisted: Vec<String>,
    /// Parts that no price is known for: they are not counted.
    pub(super) unpriced: Vec<String>,
}

/// Where prices come from, with the minutes of every set of changed things.
pub(super) struct Prices<'a> {
    shop: &'a Shop,
    minutes: Vec<f64>,
}

impl<'a> Prices<'a> {
    pub(super) fn new(shop: &'a Shop, book: &FaultBook) -> Self {
        Self { shop, minutes: (0..1 << STEPS.len()).map(|set| minutes(book, set)).collect() }
    }

    /// The cost of some changes.
    pub(super) fn of<'c>(&self, changes: impl Iterator<Item = (Thing, &'c Choice)>) -> Cost {
        let changes: Vec<(Thing, &Choice)> = changes.collect();
        let set = changes.iter().fold(0, |set, (thing, _)| set | 1 << *thing as usize);
        let minutes = self.minutes[set];
        let mut price = self.shop.labour_rate.for_minutes(minutes);
        let (mut unlisted, mut unpriced) = (Vec::new(), Vec::new());
        for (name, sort) in parts(&changes) {
            match (self.listed(&name), self.of_sort(sort)) {
                (Some(known), _) => price.minor += known.minor,
                (None, Some(alike)) => {
                    price.minor += alike.minor;
                    unlisted.push(name);
                }
                (None, None) => unpriced.push(name),
            }
        }
        Cost { price, minutes, unlisted, unpriced }
    }

    fn listed(&self, name: &str) -> Option<Money> {
        self.shop.parts.iter().find(|part| part.name == name).map(|part| part.price)
    }

    fn of_sort(&self, sort: &str) -> Option<Money> {
        let alike = |name: &str| name.strip_prefix(sort).is_some_and(|rest| rest.starts_with(' '));
        self.shop.parts.iter().find(|part| !sort.is_empty() && alike(&part.name)).map(|part| part.price)
    }
}

/// Names of the parts, each with the sort whose price stands in.
fn parts(changes: &[(Thing, &Choice)]) -> Vec<(String, &'static str)> {
    let has = |wanted: Thing| changes.iter().any(|(thing, _)| *thing == wanted);
    let mut parts = Vec::new();
    for (thing, gear) in [(Thing::Pinion, "pinion"), (Thing::Spur, "spur")] {
        if has(Thing::Material) {
            parts.push((format!("hardened {gear}"), gear));
        } else if let Some((_, choice)) = changes.iter().find(|(known, _)| *known == thing) {
            let teeth = choice.set.first().and_then(|text| text.rsplit_once('=')).map_or("", |(_, teeth)| teeth);
            parts.push((format!("{gear} {teeth}"), gear));
        }
    }
    if has(Thing::Wheels) {
        parts.push(("wheels".into(), ""));
    }
    if has(Thing::Cells) {
        parts.push(("pack".into(), ""));
    }
    parts
}

/// Minutes of the steps of a set of things, each removal once.
fn minutes(book: &FaultBook, set: usize) -> f64 {
    let changed = |thing: Thing| set >> thing as usize & 1 == 1;
    let gears = changed(Thing::Pinion) || changed(Thing::Spur) || changed(Thing::Material);
    let own = STEPS.iter().filter(|(thing, _)| changed(*thing)).map(|(_, id)| *id);
    let mut ids: Vec<&str> = own.chain(gears.then_some(SET_MESH)).collect();
    ids.sort_unstable();
    ids.dedup();
    let steps: Vec<_> = ids.into_iter().filter_map(|id| book.step(id)).collect();
    let off = book.removals_for(steps.iter().flat_map(|step| step.needs.iter().map(String::as_str)));
    let moving: f64 = off.iter().map(|removal| removal.off_minutes + removal.on_minutes).sum();
    moving + steps.iter().map(|step| step.minutes).sum::<f64>()
}
