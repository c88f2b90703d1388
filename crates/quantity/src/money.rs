//! Money: decimal, in minor units of a named currency.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use std::fmt;

/// A currency's three letters (ISO 4217).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Currency([u8; 3]);

impl Currency {
    /// The euro.
    pub const EUR: Currency = Currency(*b"EUR");

    /// Three capital letters, as ISO 4217 writes them.
    pub fn parse(text: &str) -> Option<Currency> {
        let code: [u8; 3] = text.as_bytes().try_into().ok()?;
        code.iter().all(u8::is_ascii_uppercase).then_some(Currency(code))
    }

    /// Digits behind the point: ISO 4217 gives 0 to a few, 2 to most.
    fn exponent(self) -> u32 {
        match &self.0 {
            b"JPY" | b"KRW" | b"ISK" | b"CLP" | b"VND" => 0,
            _ => 2,
        }
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{}", char::from(*byte)))
    }
}

/// An amount in minor units (cents); sums are exact.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Money {
    /// Minor units.
    pub minor: i64,
    /// Whose minor units.
    pub currency: Currency,
}

/// Why a text is not an amount.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("`{text}` is not an amount such as \"{example}\"")]
pub struct MoneyError {
    /// What was written.
    pub text: String,
    /// What would do.
    pub example: &'static str,
}

/// The largest amount taken, in major units.
const MOST_MAJOR: i64 = 10_000_000;

impl Money {
    /// Reads "14.50 EUR".
    pub fn parse(text: &str) -> Result<Money, MoneyError> {
        read_amount(text).ok_or_else(|| MoneyError { text: text.to_owned(), example: "14.50 EUR" })
    }

    /// Reads an hourly rate, "55 EUR/h", as the amount of one hour.
    pub fn parse_hourly(text: &str) -> Result<Money, MoneyError> {
        let hour = text.trim().strip_suffix("/h").and_then(read_amount);
        hour.ok_or_else(|| MoneyError { text: text.to_owned(), example: "55 EUR/h" })
    }

    /// The amount for `minutes` at this hourly rate, rounded half away from zero.
    pub fn for_minutes(self, minutes: f64) -> Money {
        Money { minor: (self.minor as f64 * minutes / 60.0).round() as i64, ..self }
    }
}

fn read_amount(text: &str) -> Option<Money> {
    let (number, code) = text.trim().split_once(' ')?;
    let currency = Currency::parse(code.trim())?;
    let amount = Decimal::from_str_exact(number).ok()?;
    if amount.is_sign_negative() || amount > Decimal::from(MOST_MAJOR) {
        return None;
    }
    let minor = amount * Decimal::from(10_i64.pow(currency.exponent()));
    minor.is_integer().then(|| minor.to_i64()).flatten().map(|minor| Money { minor, currency })
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", Decimal::new(self.minor, self.currency.exponent()), self.currency)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_exact_and_come_back_as_written() {
        let price = Money::parse("14.50 EUR").unwrap();
        assert_eq!(price.minor, 1450);
        assert_eq!(price.to_string(), "14.50 EUR");
        assert_eq!(Money::parse_hourly("55 EUR/h").unwrap().for_minutes(90.0).minor, 8250);
    }

    #[test]
    fn odd_amounts_are_refused() {
        for text in ["14.50", "EUR 14", "-3 EUR", "14.505 EUR", "nan EUR", "1e9 EUR", "99999999999 EUR", "3 eur"] {
            assert!(Money::parse(text).is_err(), "{text}");
        }
    }
}
