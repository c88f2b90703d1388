//! Amounts as people type them: a number in the shop's currency, which need not be written behind it.

use crate::page::html::Html;
use crate::page::shell::{field, input};
use crate::page::typed::decimal_comma;
use toothsayer_quantity::{Currency, Money};

/// The minor units of what was typed.
///
/// # Errors
/// It is no amount of this currency; the text says so.
pub(crate) fn read(what: &str, typed: &str, currency: Currency) -> Result<i64, String> {
    let typed = typed.trim();
    let bare = decimal_comma(typed.trim_end_matches(&currency.to_string()).trim_end());
    let told = if bare.contains(' ') { bare.into_owned() } else { format!("{bare} {currency}") };
    match Money::parse(&told) {
        Ok(money) if money.currency == currency => Ok(money.minor),
        Ok(money) => Err(format!("{what} is in {}; the currency here is {currency}.", money.currency)),
        Err(_) => Err(format!(
            "{what} “{typed}” is no amount: write a number such as 14.50, in {currency}, with nothing between thousands."
        )),
    }
}

/// The number without its currency, as a field shows it.
pub(crate) fn shown(minor: i64, currency: Currency) -> String {
    let told = Money { minor, currency }.to_string();
    told.split(' ').next().unwrap_or_default().to_owned()
}

/// A field for an amount.
pub(crate) fn amount_field(label: &str, name: &str, value: &str, hint: &str) -> Html {
    let box_ = input("text", name).with("value", value).with("inputmode", "decimal").with("autocomplete", "off");
    field(label, box_.flag("required", true), hint)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(typed: &str, expected: Option<i64>) {
        assert_eq!(read("the price", typed, Currency::EUR).ok(), expected, "{typed}");
    }

    #[test]
    fn amounts_are_read_with_and_without_their_currency() {
        check("14.50", Some(1450));
        check(" 14 ", Some(1400));
        for typed in ["14.50 EUR", "14,50", " 14,5EUR ", "14,50 EUR"] {
            check(typed, Some(1450));
        }
        for wrong in ["", "EUR", "1,000", "1,000.00", "-3", "14.505", "14 GBP", "many", "99999999999"] {
            check(wrong, None);
        }
        assert_eq!(shown(1450, Currency::EUR), "14.50");
    }
}
