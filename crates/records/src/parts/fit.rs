//! Whether a part is the one that was asked for: pitch, teeth and bore, and in words what differs.

use super::need::NeedState;
use serde::{Deserialize, Serialize};
use toothsayer_job::Sheet;
use toothsayer_quantity::{Kind, Length, System, show};

/// Modules within one part of so many are the same: printed figures are rounded; 0.8 mm and 32 teeth per inch
/// (0.79375 mm) differ by 0.8 % and are not the same. The tables hold the same figure, and the next one.
const SAME_MODULE_PARTS: i64 = 1_000;
/// Bores within so many nanometres are the same: a slide fit plays by some 0.01 mm (common practice, no source).
const SAME_BORE_NM: i64 = 20_000;

/// Which gear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Gear {
    /// On the motor's shaft.
    Pinion,
    /// What it drives.
    Spur,
}

impl Gear {
    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Pinion => "pinion",
            Self::Spur => "spur",
        }
    }
}

/// What a gear is, or must be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measures {
    /// Which gear.
    pub gear: Gear,
    /// Its teeth.
    pub teeth: i64,
    /// Its module.
    pub module: Length,
    /// Its bore, where known.
    pub bore: Option<Length>,
}

/// What a row keeps of a gear; nothing where it is none.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptGear {
    /// Which gear.
    pub gear: Option<Gear>,
    /// Its teeth.
    pub teeth: Option<i64>,
    /// Its module, nanometres.
    pub module_nm: Option<i64>,
    /// Its bore, nanometres.
    pub bore_nm: Option<i64>,
}

impl From<&Measures> for KeptGear {
    fn from(measures: &Measures) -> Self {
        Self {
            gear: Some(measures.gear),
            teeth: Some(measures.teeth),
            module_nm: Some(nm(measures.module)),
            bore_nm: measures.bore.map(nm),
        }
    }
}

impl KeptGear {
    /// The gear; none where a column that tells it is empty.
    pub fn measures(&self) -> Option<Measures> {
        let [module, bore] = [self.module_nm, self.bore_nm].map(|nm| nm.map(|nm| Length::si(nm as f64 * 1e-9)));
        Some(Measures { gear: self.gear?, teeth: self.teeth?, module: module?, bore })
    }
}

/// Why a part, or a piece of one, may not go there.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PartRefusal {
    /// The part is another gear than the one that is needed.
    #[error("{part} is not what the job needs: {}", .differs.join("; "))]
    Wrong {
        /// The part's name.
        part: String,
        /// What differs, each in words.
        differs: Vec<String>,
    },
    /// No part of the list was chosen yet.
    #[error("no part of the list was chosen for {text}")]
    NotChosen {
        /// What is needed.
        text: String,
    },
    /// A need has no such step.
    #[error("what is {} cannot become {}; next is {}", .from.word(), .to.word(), .from.next_words())]
    NotNext {
        /// Where it stands.
        from: NeedState,
        /// Where it was to go.
        to: NeedState,
    },
    /// Fewer pieces lie on the shelf than would have to leave it.
    #[error("{on_shelf} of {part} lie on the shelf, {wanted} would have to leave it")]
    TooFew {
        /// The part's name.
        part: String,
        /// How many lie there.
        on_shelf: i64,
        /// How many would leave.
        wanted: i64,
    },
}

impl PartRefusal {
    /// The way out.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Wrong { .. } => "choose another part, or change what the job needs if the truck was built otherwise",
            Self::NotChosen { .. } => "choose a part of the list first",
            Self::NotNext { .. } => "take the steps in between",
            Self::TooFew { .. } => "count the shelf again, or order",
        }
    }
}

fn module_words(module: Length) -> String {
    let per_inch = Length::inch(1.0).to_si() / module.to_si();
    format!("{} ({per_inch:.1} teeth per inch of diameter)", length(module))
}

/// As the tables keep it.
fn nm(length: Length) -> i64 {
    (length.to_si() * 1e9).round() as i64
}

fn length(length: Length) -> String {
    show(Kind::Length, length.to_si(), System::Metric)
}

/// Everything in which a part differs from what is wanted, in words; empty where it is the right one. A bore that is
/// not known on one side is no difference.
pub fn differences(wanted: &Measures, is: Option<&Measures>) -> Vec<String> {
    let Some(is) = is else { return vec![format!("it is no gear, wanted is a {}", wanted.gear.word())] };
    let mut found = Vec::new();
    if is.gear != wanted.gear {
        found.push(format!("it is a {}, wanted is a {}", is.gear.word(), wanted.gear.word()));
    }
    if is.teeth != wanted.teeth {
        found.push(format!("it has {} teeth, wanted are {}", is.teeth, wanted.teeth));
    }
    if (nm(is.module) - nm(wanted.module)).abs() * SAME_MODULE_PARTS > nm(wanted.module) {
        let [is, wanted] = [is, wanted].map(|gear| module_words(gear.module));
        found.push(format!("its module is {is}, wanted is {wanted}"));
    }
    if let (Some(is), Some(wanted)) = (is.bore, wanted.bore)
        && (nm(is) - nm(wanted)).abs() > SAME_BORE_NM
    {
        found.push(format!("its bore is {}, wanted is {}", length(is), length(wanted)));
    }
    found
}

/// What a gear of this truck must be; none where the sheet does not tell its teeth or pitch. A pinion's bore is the
/// motor's shaft, where somebody stated it.
pub fn wanted_gear(sheet: &Sheet, gear: Gear) -> Option<Measures> {
    let fields = &sheet.fields;
    let per_m = || fields.number("gears.diametral_pitch").map(|pitch_per_m| 1.0 / pitch_per_m);
    let shaft = fields.numbers.get("motor.shaft_diameter").filter(|shaft| !shaft.origin.is_assumed());
    Some(Measures {
        gear,
        teeth: fields.number(&format!("gears.{}.teeth", gear.word()))?.round() as i64,
        module: Length::si(fields.number("gears.module").or_else(per_m)?),
        bore: shaft.filter(|_| gear == Gear::Pinion).map(|shaft| Length::si(shaft.value)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const WANTED: Measures =
        Measures { gear: Gear::Pinion, teeth: 19, module: Length::mm(0.8), bore: Some(Length::mm(5.0)) };

    #[track_caller]
    fn check(is: Measures, expected: &[&str]) {
        assert_eq!(differences(&WANTED, Some(&is)), expected);
    }

    #[test]
    fn the_right_part_differs_in_nothing() {
        check(WANTED, &[]);
        check(Measures { bore: Some(Length::mm(5.02)), ..WANTED }, &[]);
        check(Measures { bore: None, ..WANTED }, &[]);
    }

    #[test]
    fn a_wrong_part_is_told_by_what_differs() {
        check(Measures { teeth: 17, ..WANTED }, &["it has 17 teeth, wanted are 19"]);
        check(Measures { gear: Gear::Spur, ..WANTED }, &["it is a spur, wanted is a pinion"]);
        check(Measures { bore: Some(Length::mm(8.0)), ..WANTED }, &["its bore is 8 mm, wanted is 5 mm"]);
        assert_eq!(differences(&WANTED, None), ["it is no gear, wanted is a pinion"]);
    }

    #[test]
    fn thirty_two_teeth_per_inch_are_not_the_module_that_looks_alike() {
        // An inch is 25.4 mm (the international yard of 1959), so that 32 teeth per inch are a module of 0.79375 mm.
        let told = differences(&WANTED, Some(&Measures { module: Length::mm(25.4 / 32.0), ..WANTED }));
        assert_eq!(told.len(), 1);
        assert!(told[0].contains("32.0 teeth per inch") && told[0].contains("0.8 mm"), "{told:?}");
    }
}
