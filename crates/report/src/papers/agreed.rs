//! What was agreed on with the customer: the repair as it was offered, and the lines that the shop added to it.

use crate::words::{name_words, sentence};
use toothsayer_job::Job;
use toothsayer_quantity::Money;
use toothsayer_verdict::Alternative;

/// A chance is kept in millionths.
const PPM: f64 = 1e6;

/// A repair as it is offered: what it is called, and its sums.
#[derive(Clone, Debug, PartialEq)]
pub struct Offered {
    /// The names of the alternatives that it is, in words.
    pub name: String,
    /// Its price, without the shop's own lines.
    pub price: Money,
    /// Whole minutes of work.
    pub minutes: i64,
    /// The chance of a comeback, millionths, where it was told.
    pub comeback_ppm: Option<i64>,
}

impl Offered {
    /// An alternative of a plan as it would be offered, under a name.
    pub fn of(one: &Alternative, name: String) -> Self {
        let (minutes, comeback_ppm) = (one.minutes.round() as i64, Some((PPM * one.comeback).round() as i64));
        Self { name, price: one.price, minutes, comeback_ppm }
    }

    /// The chance of a comeback that was told with it.
    pub fn comeback(&self) -> Option<f64> {
        self.comeback_ppm.map(|ppm| ppm as f64 / PPM)
    }

    /// Whether both are one work. No offer keeps what it cures, and names tell what part a repair has in a plan; so its
    /// sums decide: of other work the minutes differ, or price and chance both do. New findings move the chance of the
    /// same work, new prices its price.
    fn is_one_work(&self, other: &Offered) -> bool {
        let told = self.comeback_ppm.is_some() && self.comeback_ppm == other.comeback_ppm;
        self.minutes == other.minutes && (self.price == other.price || told)
    }

    fn shares_a_name(&self, other: &Offered) -> bool {
        let plain = |part: &str| sentence(&part.trim().replace('-', " "));
        self.name.split(',').any(|one| other.name.split(',').any(|part| plain(one) == plain(part)))
    }

    /// Which of these it is, one of its name before others; none where the plan has no such work any more.
    pub fn place_in(&self, plan: &[Offered]) -> Option<usize> {
        let same: Vec<usize> = (0..plan.len()).filter(|place| self.is_one_work(&plan[*place])).collect();
        let named = same.iter().find(|place| self.shares_a_name(&plan[**place]));
        named.or(same.first()).copied()
    }

    /// The alternative that it is.
    pub(crate) fn find_in<'a>(&self, alternatives: &'a [Alternative], job: &Job) -> Option<&'a Alternative> {
        let named = |one: &Alternative| Offered::of(one, name_words(one.name, job).to_owned());
        let plan: Vec<Offered> = alternatives.iter().map(named).collect();
        self.place_in(&plan).and_then(|place| alternatives.get(place))
    }
}

/// Work or a part in the shop's own words, that counts whichever repair is taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnLine {
    /// What it is.
    pub text: String,
    /// Work, or else a part.
    pub is_work: bool,
    /// How many.
    pub quantity: i64,
    /// The price of one.
    pub each: Money,
    /// Minutes of work for all of them.
    pub minutes: i64,
}

impl OwnLine {
    /// The price of all of them.
    pub fn price(&self) -> Money {
        Money { minor: self.each.minor.saturating_mul(self.quantity), ..self.each }
    }

    /// "2 × Body clips".
    pub fn told(&self) -> String {
        if self.quantity == 1 { self.text.clone() } else { format!("{} × {}", self.quantity, self.text) }
    }
}

/// A price with the shop's own lines.
pub(crate) fn with_lines(price: Money, lines: &[OwnLine]) -> Money {
    let minor = lines.iter().map(|line| line.price().minor).fold(price.minor, i64::saturating_add);
    Money { minor, ..price }
}

/// Minutes with those of the shop's own lines.
pub(crate) fn minutes_with(minutes: f64, lines: &[OwnLine]) -> f64 {
    lines.iter().map(|line| line.minutes as f64).fold(minutes, |sum, minutes| sum + minutes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use toothsayer_quantity::Currency;

    fn offered(name: &str, minor: i64, minutes: i64, comeback_ppm: i64) -> Offered {
        let price = Money { minor, currency: Currency::EUR };
        Offered { name: name.into(), price, minutes, comeback_ppm: Some(comeback_ppm) }
    }

    #[track_caller]
    fn check(taken: &Offered, expected: Option<usize>) {
        let plan = [offered("New gears only", 9_000, 53, 900_000), offered("Recommended", 11_000, 76, 160_000)];
        assert_eq!(taken.place_in(&plan), expected, "{taken:?}");
    }

    #[test]
    fn the_same_work_is_found_where_findings_or_prices_moved() {
        check(&offered("Smallest sound, recommended", 11_000, 76, 160_000), Some(1));
        check(&offered("Recommended", 11_000, 76, 300_000), Some(1));
        check(&offered("Recommended", 10_500, 76, 160_000), Some(1));
        check(&offered("Sturdiest", 11_000, 76, 160_000), Some(1));
    }

    #[test]
    fn other_work_under_an_old_name_is_not_taken_for_it() {
        check(&offered("Recommended", 10_000, 60, 160_000), None);
        check(&offered("Recommended", 10_500, 76, 300_000), None);
        check(&Offered { comeback_ppm: None, ..offered("Recommended", 10_500, 76, 0) }, None);
    }

    #[test]
    fn of_repairs_with_the_same_sums_the_named_one_is_meant() {
        let plan = [offered("Smallest sound", 1, 1, 1), offered("Sturdiest", 1, 1, 1)];
        assert_eq!(offered("recommended, sturdiest", 1, 1, 1).place_in(&plan), Some(1));
    }
}
