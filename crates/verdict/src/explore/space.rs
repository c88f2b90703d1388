//! The space that is explored: what may be fitted or set on a truck, and every combination of it.

use crate::Error;
use std::collections::BTreeSet;
use toothsayer_job::{Setting, Sheet, Shop};
use toothsayer_mechanics::material::{GearMaterial, Quality, gear_materials};

/// Things that may be changed.
pub(super) const THINGS: usize = 8;

/// Teeth more or fewer that are offered where the shop lists none (common practice, no source).
const TEETH_EITHER_WAY: i32 = 2;
/// Gears that the mount's slot reaches: teeth more or fewer than now, 2 modules of centre distance (common practice, no
/// source).
const REACHED_TEETH: i32 = 4;
const TEETH: [i32; 2] = [9, 500];
/// Backlashes that a mesh is set to, mm (common practice, no source); one this near to the present is that.
const BACKLASHES_MM: [f64; 4] = [0.05, 0.1, 0.15, 0.2];
const SAME_BACKLASH_MM: f64 = 0.02;
/// Settings that a controller offers, per cent.
const BRAKES: [f64; 7] = [40.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0];
const THROTTLES: [f64; 4] = [40.0, 60.0, 80.0, 100.0];
/// Other wheels where the file names no stock ones: share of the mass, share of the diameter (estimates, no source).
const WHEELS: [(f64, f64, &str); 3] = [
    (0.8, 1.0, "wheels a fifth lighter"),
    (0.6, 1.0, "wheels two fifths lighter"),
    (0.8, 0.9, "wheels a tenth smaller"),
];
/// Cells fewer that are offered.
const FEWER_CELLS: i32 = 2;

/// What a choice changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) enum Thing {
    Pinion,
    Spur,
    Backlash,
    Material,
    Wheels,
    Cells,
    Brake,
    Throttle,
}

/// One value of a thing.
#[derive(Clone, Debug)]
pub(super) struct Choice {
    /// In words, as part of a sentence; empty for what the truck has.
    pub(super) words: String,
    /// As typed behind `--set`.
    pub(super) set: Vec<String>,
    /// How far from what the truck has, and which way; 0 is what it has.
    pub(super) steps: i32,
    /// Which way: choices of different ways are not nearer or farther than one another.
    pub(super) way: u32,
    over: Sheet,
}

/// A thing with its values; the first is what the truck has.
#[derive(Clone, Debug)]
pub(super) struct Axis {
    pub(super) thing: Thing,
    pub(super) choices: Vec<Choice>,
}

/// A combination: the place of each thing's choice.
pub(super) type Places = [u8; THINGS];

/// Every combination of what the shop can fit and set.
#[derive(Clone, Debug)]
pub(super) struct Space {
    pub(super) axes: Vec<Axis>,
}

/// A choice before it is read.
struct Offer {
    words: String,
    set: Vec<String>,
    steps: i32,
    way: u32,
}

impl Space {
    /// The space about a truck.
    pub(super) fn new(truck: &Sheet, stock: &Sheet, shop: &Shop) -> Result<Space, Error> {
        let offers = [
            (Thing::Pinion, gears(truck, shop, "pinion")),
            (Thing::Spur, gears(truck, shop, "spur")),
            (Thing::Backlash, backlashes(truck)),
            (Thing::Material, materials(truck)?),
            (Thing::Wheels, wheels(truck, stock)),
            (Thing::Cells, cells(truck, stock)),
            (Thing::Brake, strengths(truck, "brake", &BRAKES)),
            (Thing::Throttle, strengths(truck, "throttle", &THROTTLES)),
        ];
        Ok(Space { axes: offers.into_iter().map(|(thing, offers)| Axis::new(thing, offers, truck)).collect() })
    }

    /// Number of combinations.
    pub(super) fn len(&self) -> usize {
        self.axes.iter().map(|axis| axis.choices.len()).product()
    }

    /// The number of a combination.
    pub(super) fn number(&self, places: &Places) -> usize {
        let axes = self.axes.iter().zip(places);
        axes.fold(0, |number, (axis, place)| number * axis.choices.len() + usize::from(*place))
    }

    /// The choices of a combination that differ from what the truck has.
    pub(super) fn changes<'a>(&'a self, places: &Places) -> impl Iterator<Item = (Thing, &'a Choice)> {
        let picked = self.axes.iter().zip(*places).map(|(axis, place)| (axis.thing, &axis.choices[usize::from(place)]));
        picked.filter(|(_, choice)| choice.steps != 0)
    }

    /// The truck with a combination's choices.
    pub(super) fn sheet(&self, truck: &Sheet, places: &Places) -> Sheet {
        let mut over = Sheet::default();
        self.changes(places).for_each(|(_, choice)| over.lay(&choice.over));
        if over.is_empty() { truck.clone() } else { truck.overlaid(&over) }
    }

    /// Whether each choice of `one` is what the truck has, or lies on the way to that of `other`.
    pub(super) fn is_within(&self, one: &Places, other: &Places) -> bool {
        self.axes.iter().zip(one.iter().zip(other)).all(|(axis, (one, other))| {
            let [one, other] = [one, other].map(|place| &axis.choices[usize::from(*place)]);
            one.steps == 0 || (one.way == other.way && one.steps <= other.steps)
        })
    }
}

impl Axis {
    /// What the file cannot take, such as teeth beyond the registry's, is not offered.
    fn new(thing: Thing, offers: Vec<Offer>, truck: &Sheet) -> Axis {
        let present = Choice { words: String::new(), set: Vec::new(), steps: 0, way: 0, over: Sheet::default() };
        let read = |offer: Offer| {
            let mut over = Sheet::default();
            for text in &offer.set {
                over.lay(&Setting::parse(text, truck).ok()?.over);
            }
            Some(Choice { words: offer.words, set: offer.set, steps: offer.steps, way: offer.way, over })
        };
        Axis { thing, choices: std::iter::once(present).chain(offers.into_iter().filter_map(read)).collect() }
    }
}

/// Gears that the shop lists besides the present one, or else some teeth either way.
fn gears(truck: &Sheet, shop: &Shop, gear: &str) -> Vec<Offer> {
    let now = truck.fields.number(&format!("gears.{gear}.teeth")).unwrap_or(0.0) as i32;
    let listed = shop.parts.iter().filter_map(|part| part.name.strip_prefix(gear)?.trim().parse::<i32>().ok());
    let reached = |teeth: &i32| *teeth != now && (*teeth - now).abs() <= REACHED_TEETH;
    let mut teeth: BTreeSet<i32> = listed.filter(reached).collect();
    if teeth.is_empty() {
        teeth = (now - TEETH_EITHER_WAY..=now + TEETH_EITHER_WAY).filter(reached).collect();
    }
    let formed = teeth.into_iter().filter(|teeth| (TEETH[0]..=TEETH[1]).contains(teeth));
    let offer = |teeth: i32| Offer {
        words: format!("a {gear} of {teeth} teeth instead of {now}"),
        set: vec![format!("gears.{gear}.teeth={teeth}")],
        steps: (teeth - now).abs(),
        way: u32::from(teeth > now),
    };
    formed.map(offer).collect()
}

fn backlashes(truck: &Sheet) -> Vec<Offer> {
    let now_mm = super::backlash_m(truck).map(|play_m| 1000.0 * play_m);
    let near = |mm: f64| now_mm.is_some_and(|now| (mm - now).abs() < SAME_BACKLASH_MM);
    let offer = |(place, mm): (usize, f64)| {
        let wider = now_mm.is_some_and(|now| mm > now);
        Offer {
            words: format!("the mesh set to {mm} mm of backlash"),
            set: vec![format!("gears.backlash={mm} mm")],
            steps: if wider { place as i32 + 1 } else { (BACKLASHES_MM.len() - place) as i32 },
            way: u32::from(wider),
        }
    };
    BACKLASHES_MM.into_iter().enumerate().filter(|(_, mm)| !near(*mm)).map(offer).collect()
}

/// Both gears of another steel: the first alloy steel and each hardened one, of the modest grade that a part without a
/// certificate is worth.
fn materials(truck: &Sheet) -> Result<Vec<Offer>, Error> {
    let now = ["pinion", "spur"].map(|gear| truck.fields.word(&format!("gears.{gear}.material")).unwrap_or(""));
    let modest = |row: &&GearMaterial| row.quality == Some(Quality::Ml) && row.surface_hardened;
    let rows = gear_materials()?.iter().filter(modest).filter(|row| now != [row.name.as_str(); 2]);
    let offer = |(place, row): (usize, &GearMaterial)| {
        let of = |gear: &str| {
            let hardness = row.hardness.map(|range| format!("gears.{gear}.hardness={} HV", range.usual.to_hv()));
            [Some(format!("gears.{gear}.material={}", row.name)), hardness]
        };
        Offer {
            words: format!("both gears of {}", row.words),
            set: ["pinion", "spur"].into_iter().flat_map(of).flatten().collect(),
            steps: 1,
            way: place as u32,
        }
    };
    Ok(rows.enumerate().map(offer).collect())
}

/// The maker's wheels where the truck has others, and lighter or smaller ones.
fn wheels(truck: &Sheet, stock: &Sheet) -> Vec<Offer> {
    let keys = ["wheels.mass", "wheels.diameter"];
    let [now, sold] = [truck, stock].map(|sheet| keys.map(|key| sheet.fields.number(key).unwrap_or(0.0)));
    let set = |[mass_kg, diameter_m]: [f64; 2]| {
        let both = [
            (mass_kg, now[0], format!("wheels.mass={:.0} g", 1e3 * mass_kg)),
            (diameter_m, now[1], format!("wheels.diameter={:.0} mm", 1e3 * diameter_m)),
        ];
        both.into_iter().filter(|(wanted, now, _)| wanted != now).map(|(_, _, text)| text).collect()
    };
    let mut offers = Vec::new();
    if sold != now {
        offers.push(Offer { words: "the maker's wheels".into(), set: set(sold), steps: 1, way: 0 });
    }
    offers.extend(WHEELS.iter().enumerate().map(|(place, (mass, diameter, words))| Offer {
        words: (*words).into(),
        set: set([mass * now[0], diameter * now[1]]),
        // The two lighter ones lie on one way.
        steps: if place == 1 { 2 } else { 1 },
        way: if place < 2 { 1 } else { 2 },
    }));
    offers
}

/// Fewer cells, the maker's, and more up to what the controller's maker allows.
fn cells(truck: &Sheet, stock: &Sheet) -> Vec<Offer> {
    let count = |sheet: &Sheet, key: &str| sheet.fields.number(key).map(|cells| cells.round() as i32);
    let now = count(truck, "battery.cells").unwrap_or(1);
    let most = count(truck, "controller.max_cells").unwrap_or(now).max(now);
    let mut cells: BTreeSet<i32> = (now - FEWER_CELLS..=most).filter(|cells| *cells >= 1).collect();
    cells.extend(count(stock, "battery.cells").filter(|cells| *cells <= most));
    let offer = |cells: i32| Offer {
        words: format!("{cells} cells instead of {now}"),
        set: vec![format!("battery.cells={cells}")],
        steps: (cells - now).abs(),
        way: u32::from(cells > now),
    };
    cells.into_iter().filter(|cells| *cells != now).map(offer).collect()
}

fn strengths(truck: &Sheet, which: &str, percents: &[f64]) -> Vec<Offer> {
    let key = format!("controller.{which}_strength");
    let now = 100.0 * truck.fields.number(&key).unwrap_or(0.0);
    let other = percents.iter().filter(|percent| (**percent - now).abs() > 1e-6);
    let offer = |percent: &f64| Offer {
        words: format!("{which} strength {percent} % instead of {now:.0} %"),
        set: vec![format!("{key}={percent} %")],
        steps: ((percent - now).abs() / 10.0).ceil() as i32,
        way: u32::from(*percent > now),
    };
    other.map(offer).collect()
}
