//! Shapley's value in games that were looked up, as the shares of wanted changes are computed.

use crate::check::{Check, Printed, Status};
use toothsayer_verdict::shapley;

const GLOVES: Printed = Printed {
    subject: "Shares of changes",
    source: "Shapley's value of the glove game (two right gloves, one left), encyclopaedia article",
    status: Status::Printed,
    unit: "",
    tolerance: 1e-12,
    because: "rounding",
};

pub(super) fn rows() -> Vec<Check> {
    [gloves(), three(), inheritance(), council()].concat()
}

/// Worth of every set of members, bit i for the i-th, from what a set is worth.
fn game(members: u32, worth: impl Fn(usize) -> f64) -> Vec<f64> {
    (0..1usize << members).map(worth).collect()
}

/// One row a member.
fn shares(printed: &Printed, names: &[&str], expected: &[f64], values: &[f64]) -> Vec<Check> {
    let got = shapley(values).unwrap_or_default();
    let each = names.iter().zip(expected).enumerate();
    each.map(|(place, (name, share))| printed.sure(*name, *share, got.get(place).copied().unwrap_or(f64::NAN)))
        .collect()
}

fn gloves() -> Vec<Check> {
    let wins = |set: usize| if set & 0b100 != 0 && set & 0b011 != 0 { 1.0 } else { 0.0 };
    let expected = [1.0 / 6.0, 1.0 / 6.0, 2.0 / 3.0];
    shares(&GLOVES, &["first right glove", "second right glove", "left glove"], &expected, &game(3, wins))
}

/// Games of three that manuals of open libraries print: worth of 1, 2, 3, 12, 13, 23, 123.
fn three() -> Vec<Check> {
    let names = ["first", "second", "third"];
    let games = [
        (
            "a shared taxi, fares 6, 12 and 42, manual of an open library",
            [6.0, 12.0, 42.0, 12.0, 42.0, 42.0, 42.0],
            [2.0, 5.0, 35.0],
            1e-9,
        ),
        (
            "a production game of three, manual of an open library",
            [68.0, 102.0, 0.0, 170.0, 710.0, 762.0, 992.0],
            [229.0, 272.0, 491.0],
            1e-9,
        ),
        (
            "a cost game of three, manual of an open library",
            [1.0, 1.0, 2.0, 1.0, 2.0, 2.0, 2.0],
            [0.3333333, 0.3333333, 1.333333],
            0.5e-6,
        ),
        (
            "a game of three in the tests of an open library",
            [2.0, 4.0, 5.0, 18.0, 14.0, 9.0, 24.0],
            [9.5, 8.0, 6.5],
            1e-9,
        ),
    ];
    let row = |(source, [a, b, c, ab, ac, bc, abc], expected, tolerance): (_, [f64; 7], [f64; 3], f64)| {
        let printed = Printed { source, tolerance, because: "half of the last printed digit", ..GLOVES };
        shares(&printed, &names, &expected, &[0.0, a, b, ab, c, ac, bc, abc])
    };
    games.into_iter().flat_map(row).collect()
}

/// A set of heirs has a claim to what the largest of them claims.
fn inheritance() -> Vec<Check> {
    let talmud = Printed {
        source: "Aumann, Some non-superadditive games, Int. J. Game Theory 39 (2010): Ibn Ezra's 120, claimed whole, 1/2, 1/3, 1/4",
        tolerance: 0.5e-5,
        because: "half of the last printed digit",
        ..GLOVES
    };
    let claims = [120.0f64, 60.0, 40.0, 30.0];
    let largest = |set: usize| {
        let own = claims.iter().enumerate().filter(|(heir, _)| set >> heir & 1 == 1);
        own.fold(0.0, |most, (_, claim)| claim.max(most))
    };
    let names = ["claims 120", "claims 60", "claims 40", "claims 30"];
    shares(&talmud, &names, &[80.83333, 20.83333, 10.83333, 7.5], &game(4, largest))
}

/// Nine of fifteen votes, with those of all five permanent members.
fn council() -> Vec<Check> {
    let article = Printed {
        source: "Shapley and Shubik's index of the Security Council, a public article: 4/2145 and 19.6 %",
        tolerance: 0.5e-3,
        because: "half of the last printed digit",
        ..GLOVES
    };
    let passes = |set: usize| if set & 0b11111 == 0b11111 && set.count_ones() >= 9 { 1.0 } else { 0.0 };
    let got = shapley(&game(15, passes)).unwrap_or_default();
    let of = |member: usize| got.get(member).copied().unwrap_or(f64::NAN);
    vec![
        article.sure("a permanent member", 0.196, of(0)),
        article.with("", 1e-12).sure("another member", 4.0 / 2145.0, of(14)),
    ]
}
