//! How strongly evidence speaks, in words.

use toothsayer_evidence::DECIBANS_PER_NAT;

/// From which weight on evidence is told with which word.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strength {
    /// Least weight either way, decibans.
    pub from_decibans: f64,
    /// The word: "speaks ... for it".
    pub word: &'static str,
}

/// The words, the weakest first. One deciban is about the least that a person feels (Good 1985); 5, 10 and 20 are where
/// Jeffreys' grades of evidence begin (half a ban, a ban, two bans: "Theory of Probability", appendix B, from memory).
/// The words are this project's.
pub static STRENGTHS: [Strength; 5] = [
    Strength { from_decibans: 0.0, word: "hardly" },
    Strength { from_decibans: 1.0, word: "a little" },
    Strength { from_decibans: 5.0, word: "clearly" },
    Strength { from_decibans: 10.0, word: "strongly" },
    Strength { from_decibans: 20.0, word: "very strongly" },
];

/// The word for a weight of evidence in natural units.
pub fn strength(log_odds_nat: f64) -> &'static Strength {
    let decibans = log_odds_nat.abs() * DECIBANS_PER_NAT;
    let reached = STRENGTHS.iter().rev().find(|row| decibans >= row.from_decibans);
    reached.unwrap_or(&STRENGTHS[0])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_begins_at_its_decibans() {
        for (place, row) in STRENGTHS.iter().enumerate() {
            let at = row.from_decibans / DECIBANS_PER_NAT;
            assert_eq!([strength(at + 1e-9), strength(-at - 1e-9)], [row, row]);
            if place > 0 {
                assert_eq!(strength(at - 1e-9), &STRENGTHS[place - 1]);
            }
        }
    }

    #[test]
    fn jeffreys_grades_are_half_a_ban_one_and_two() {
        for (odds, word) in [(3.17, "clearly"), (3.15, "a little"), (10.1, "strongly"), (101.0, "very strongly")] {
            assert_eq!(strength(f64::ln(odds)).word, word, "{odds} to one");
        }
    }
}
