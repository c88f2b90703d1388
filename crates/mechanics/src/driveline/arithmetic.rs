//! How much arithmetic a step takes: counted by running the very step on numbers that keep a tally.

use std::cell::Cell;
use std::ops::{Add, Div, Mul, Neg, Sub};

use super::real::Real;
use super::wide::Wide;

/// Floating-point operations of one lane.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Operations {
    /// Sums, differences and changes of sign.
    pub sums: u64,
    /// Products.
    pub products: u64,
    /// Quotients.
    pub quotients: u64,
    /// Square roots.
    pub roots: u64,
    /// Comparisons; the choices that follow them are not counted.
    pub comparisons: u64,
}

impl Operations {
    /// All operations that give a number: sums, products, quotients and roots.
    pub fn count(&self) -> u64 {
        self.sums + self.products + self.quotients + self.roots
    }
}

/// What one step of one lane takes: its stages, its error, its middle, the loads and guards there, and going on to the next.
///
/// It is the same for every truck and branch, since a branch is data; what is looked at lane by lane (a branch that ends, a
/// peak that rises) comes on top. `has_implicit`: whether mesh and shaft are taken implicitly.
pub fn of_step(has_implicit: bool) -> Operations {
    let tally = Cell::new(Operations::default());
    let mut wide = Wide::filled(Counted { value: 0.0, tally: &tally });
    wide.has_implicit = has_implicit;
    wide.take();
    wide.advance();
    tally.get()
}

/// A number that keeps a tally of what is done with it and its like.
#[derive(Clone, Copy, Debug)]
struct Counted<'a> {
    value: f64,
    tally: &'a Cell<Operations>,
}

impl Counted<'_> {
    /// The value that an operation gives, noted where `of` says.
    fn gives(self, value: f64, of: impl Fn(&mut Operations) -> &mut u64) -> Self {
        let mut operations = self.tally.get();
        *of(&mut operations) += 1;
        self.tally.set(operations);
        Self { value, ..self }
    }
}

impl Add for Counted<'_> {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        self.gives(self.value + other.value, |all| &mut all.sums)
    }
}

impl Sub for Counted<'_> {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        self.gives(self.value - other.value, |all| &mut all.sums)
    }
}

impl Mul for Counted<'_> {
    type Output = Self;

    fn mul(self, other: Self) -> Self {
        self.gives(self.value * other.value, |all| &mut all.products)
    }
}

impl Div for Counted<'_> {
    type Output = Self;

    fn div(self, other: Self) -> Self {
        self.gives(self.value / other.value, |all| &mut all.quotients)
    }
}

impl Neg for Counted<'_> {
    type Output = Self;

    fn neg(self) -> Self {
        self.gives(-self.value, |all| &mut all.sums)
    }
}

impl Real for Counted<'_> {
    type Mask = bool;

    fn of(self, value: f64) -> Self {
        Self { value, ..self }
    }

    fn above(self, other: Self) -> bool {
        self.gives(0.0, |all| &mut all.comparisons);
        self.value > other.value
    }

    fn pick(mask: bool, yes: Self, no: Self) -> Self {
        if mask { yes } else { no }
    }

    fn sqrt(self) -> Self {
        self.gives(self.value.sqrt(), |all| &mut all.roots)
    }
}

#[cfg(test)]
mod tests {
    use super::super::elementary::tanh;
    use super::*;

    #[test]
    fn a_formula_is_counted_as_it_is_written() {
        let tally = Cell::new(Operations::default());
        let x = Counted { value: 2.0, tally: &tally };
        let y = (x * x + x / x.of(4.0)).sqrt() - -x;
        assert_eq!(y.value, (4.0_f64 + 0.5).sqrt() + 2.0);
        check(tally.get(), Operations { sums: 3, products: 1, quotients: 1, roots: 1, comparisons: 0 });
        tally.set(Operations::default());
        tanh(x);
        // By hand: |x| and its bound, 2 comparisons and a change of sign; the scaling, a product; the series, 1 + 12 + 1 products
        // and 12 + 1 sums; 7 squarings; 2 sums and a quotient; the sign of the answer, a comparison and a change of sign.
        check(tally.get(), Operations { sums: 17, products: 22, quotients: 1, roots: 0, comparisons: 3 });
    }

    #[test]
    fn an_explicit_step_takes_less_than_one_with_an_implicit_part() {
        assert!(of_step(false).count() < of_step(true).count());
        assert!(of_step(false).quotients < of_step(true).quotients);
    }

    #[track_caller]
    fn check(got: Operations, expected: Operations) {
        assert_eq!(got, expected);
    }
}
