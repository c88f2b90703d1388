//! Reading "12.5 mm": a number, a unit, and what is wrong with them.

use crate::{Kind, Unit, nearest};

/// A value read from text, with the unit it was written in.
#[derive(Clone, Copy, Debug)]
pub struct Reading {
    /// The value in SI.
    pub si: f64,
    /// The unit of the text; none for plain numbers.
    pub unit: Option<&'static Unit>,
}

/// Why a text is not a quantity of the wanted kind.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ParseError {
    /// Nothing but a number stands where a unit is needed.
    #[error("`{text}` has no unit")]
    NoUnit {
        /// What was written.
        text: String,
        /// What was wanted.
        kind: Kind,
    },
    /// The text does not begin with a number.
    #[error("`{text}` does not begin with a number")]
    NoNumber {
        /// What was written.
        text: String,
        /// What was wanted.
        kind: Kind,
    },
    /// Not a number or without bound.
    #[error("`{text}` is not a finite number")]
    NotFinite {
        /// What was written.
        text: String,
    },
    /// A comma stands where the point belongs.
    #[error("`{text}` has a comma in its number")]
    Comma {
        /// What was written.
        text: String,
    },
    /// The unit is in no table.
    #[error("`{unit}` is not a unit known here")]
    UnknownUnit {
        /// The unit as written.
        unit: String,
        /// What was wanted.
        kind: Kind,
    },
    /// The unit measures something else.
    #[error("`{unit}` measures {is}, and {wanted} is expected", is = .is.with_article(), wanted = .wanted.with_article())]
    WrongKind {
        /// The unit as written.
        unit: String,
        /// What it measures.
        is: Kind,
        /// What was wanted.
        wanted: Kind,
    },
}

impl ParseError {
    /// The way out, apart from the message so that a page can lay it out.
    pub fn hint(&self) -> String {
        match self {
            Self::NoUnit { text, kind } => match Unit::of_kind(*kind).next() {
                Some(usual) => format!(
                    "put its unit behind it, such as \"{} {}\"; {}",
                    text.trim(),
                    usual.symbol,
                    units_line(*kind)
                ),
                None => "write a number".into(),
            },
            Self::NoNumber { kind, .. } => format!("write a number and a unit; {}", units_line(*kind)),
            Self::NotFinite { .. } => "write an ordinary number".into(),
            Self::Comma { text } => format!("write a point: \"{}\"", text.replace(',', ".")),
            Self::UnknownUnit { unit, kind } => {
                let near = nearest(unit, Unit::of_kind(*kind).map(|unit| unit.symbol));
                let ask = near.map_or(String::new(), |symbol| format!("did you mean \"{symbol}\"? "));
                format!("{ask}{}", units_line(*kind))
            }
            Self::WrongKind { wanted, .. } => units_line(*wanted),
        }
    }
}

/// "units of a length: mm, cm, m".
fn units_line(kind: Kind) -> String {
    let symbols: Vec<_> = Unit::of_kind(kind).map(|unit| unit.symbol).collect();
    format!("units of {}: {}", kind.with_article(), symbols.join(", "))
}

/// Reads `text` as a quantity of `kind`: a number, then a unit of that kind (none for [`Kind::Number`]).
pub fn parse(kind: Kind, text: &str) -> Result<Reading, ParseError> {
    let (number, unit_text) = split(kind, text)?;
    if kind == Kind::Number && unit_text.is_empty() {
        return Ok(Reading { si: number, unit: None });
    }
    if unit_text.is_empty() {
        return Err(ParseError::NoUnit { text: text.to_owned(), kind });
    }
    let unit = Unit::find(unit_text).ok_or_else(|| ParseError::UnknownUnit { unit: unit_text.to_owned(), kind })?;
    if unit.kind != kind {
        return Err(ParseError::WrongKind { unit: unit_text.to_owned(), is: unit.kind, wanted: kind });
    }
    Ok(Reading { si: unit.to_si(number), unit: Some(unit) })
}

/// Splits "-12.5e3 mm" into its number and the unit's text.
fn split(kind: Kind, text: &str) -> Result<(f64, &str), ParseError> {
    let trimmed = text.trim();
    let bare = trimmed.trim_start_matches(['+', '-']).to_ascii_lowercase();
    if bare.starts_with("nan") || bare.starts_with("inf") {
        return Err(ParseError::NotFinite { text: text.to_owned() });
    }
    let end = number_end(trimmed);
    if trimmed[end..].starts_with(',') {
        return Err(ParseError::Comma { text: text.to_owned() });
    }
    let number: f64 = trimmed[..end].parse().map_err(|_| ParseError::NoNumber { text: text.to_owned(), kind })?;
    if !number.is_finite() {
        return Err(ParseError::NotFinite { text: text.to_owned() });
    }
    Ok((number, trimmed[end..].trim()))
}

/// Where the number at the start of `text` ends, in bytes.
fn number_end(text: &str) -> usize {
    let digits = |from: usize| text[from..].bytes().take_while(u8::is_ascii_digit).count();
    let sign = usize::from(text.starts_with(['+', '-']));
    let mut end = sign + digits(sign);
    if text[end..].starts_with('.') {
        end += 1 + digits(end + 1);
    }
    if text[end..].starts_with(['e', 'E']) {
        let signed = end + 1 + usize::from(text[end + 1..].starts_with(['+', '-']));
        let count = digits(signed);
        if count > 0 {
            end = signed + count;
        }
    }
    end
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(kind: Kind, text: &str, si: f64) {
        let got = parse(kind, text).unwrap().si;
        assert!((got - si).abs() <= 1e-12 * si.abs().max(1.0), "{text}: {got}");
    }

    #[test]
    fn numbers_and_units_are_read_as_people_write_them() {
        check(Kind::Length, "12.5 mm", 0.0125);
        check(Kind::Length, "12.5mm", 0.0125);
        check(Kind::Torque, "1.8 N*m", 1.8);
        check(Kind::Torque, "1.8 N·m", 1.8);
        // NIST SP 811 appendix B.8: one pound-force inch is 0.112 984 829 0 N·m.
        check(Kind::Torque, "35 lbf*in", 35.0 * 0.112_984_829_027_616_7);
        check(Kind::Inertia, "3.4e-5 kg*m^2", 3.4e-5);
        check(Kind::Fraction, "60 %", 0.6);
        check(Kind::Temperature, "212 degF", 373.15);
        check(Kind::Number, "5.1", 5.1);
        check(Kind::PerLength, "32 1/in", 32.0 / 0.0254);
    }

    #[track_caller]
    fn refuse(kind: Kind, text: &str, message: &str, hint: &str) {
        let error = parse(kind, text).unwrap_err();
        assert_eq!(error.to_string(), message);
        assert!(error.hint().contains(hint), "{}", error.hint());
    }

    #[test]
    fn what_is_wrong_is_said_with_the_way_out() {
        refuse(Kind::Mass, "10.4", "`10.4` has no unit", "put its unit behind it, such as \"10.4 kg\"");
        refuse(Kind::Mass, "10,4 kg", "`10,4 kg` has a comma in its number", "10.4 kg");
        refuse(Kind::Mass, "nan kg", "`nan kg` is not a finite number", "ordinary");
        refuse(Kind::Mass, "1e999 kg", "`1e999 kg` is not a finite number", "ordinary");
        refuse(Kind::Torque, "3 n*m", "`n*m` is not a unit known here", "did you mean \"N*m\"?");
        refuse(Kind::Torque, "3 mm", "`mm` measures a length, and a torque is expected", "lbf*in");
        refuse(Kind::Length, "wide", "`wide` does not begin with a number", "mm");
        refuse(Kind::Length, "", "`` does not begin with a number", "mm");
    }
}
