//! What a check is worth, by enumeration: every state of a small book's causes, modes and checks, weighed by hand.

use crate::bench::{MEMO, unopened, with};
use std::fmt::Write;
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job;
use toothsayer_verdict::Verdict;

const CAUSES: usize = 4;
const MODES: usize = 2;
const CHECKS: usize = 4;

/// A made-up cause: counts with and without it, its links, and the step that cures it.
struct Cause {
    yes: u32,
    no: u32,
    modes: [f64; MODES],
    checks: [f64; CHECKS],
    step: usize,
}

const BOOK: [Cause; CAUSES] = [
    Cause { yes: 2, no: 8, modes: [0.8, 0.1], checks: [0.9, 0.0, 0.0, 0.3], step: 0 },
    Cause { yes: 3, no: 9, modes: [0.15, 0.3], checks: [0.2, 0.6, 0.0, 0.0], step: 0 },
    Cause { yes: 1, no: 5, modes: [0.0, 0.7], checks: [0.0, 0.85, 0.7, 0.0], step: 1 },
    Cause { yes: 1, no: 3, modes: [0.5, 0.0], checks: [0.0, 0.0, 0.4, 0.8], step: 2 },
];
const MODE_LEAKS: [f64; MODES] = [0.01, 0.02];
const CHECK_LEAKS: [f64; CHECKS] = [0.05, 0.1, 0.03, 0.08];
const CHECK_MODES: [[f64; MODES]; CHECKS] = [[0.4, 0.0], [0.7, 0.5], [0.0, 0.6], [0.0, 0.0]];
const CHECK_MINUTES: [f64; CHECKS] = [1.0, 2.0, 1.0, 4.0];
/// The first two checks and the first two steps need the cover off.
const UNDER_COVER: usize = 2;
const COVER_OFF_MIN: f64 = 2.0;
const COVER_ON_MIN: f64 = 3.0;
const STEP_MINUTES: [f64; 3] = [8.0, 5.0, 30.0];
const STEP_PARTS_CENT: [f64; 3] = [0.0, 250.0, 6400.0];
const LABOUR_CENT_PER_H: f64 = 5500.0;
const COMEBACK_CENT: f64 = 12_000.0;

/// A chance of a comeback by another order of the same products.
const ROUNDING: f64 = 1e-9;

fn links(names: &str, p: &[f64]) -> String {
    let all = p.iter().enumerate().filter(|(_, p)| **p > 0.0).map(|(at, p)| format!("{names}-{at} = {p}"));
    all.collect::<Vec<_>>().join(", ")
}

/// The book above as a shop writes it.
fn book() -> FaultBook {
    let mut text = "name = \"small\"\nsource = \"made up\"\n".to_owned();
    let _ = write!(
        text,
        "[[removals]]\nid = \"cover\"\nname = \"cover\"\noff_minutes = {COVER_OFF_MIN}\non_minutes = {COVER_ON_MIN}\n"
    );
    let needs = |at: usize| if at < UNDER_COVER { "needs = [\"cover\"]\n" } else { "" };
    for (at, leak) in MODE_LEAKS.iter().enumerate() {
        let _ = write!(text, "[[modes]]\nid = \"mode-{at}\"\nname = \"m\"\nplain = \"m\"\nleak = {leak}\n");
    }
    for (at, Cause { yes, no, modes, checks, step }) in BOOK.iter().enumerate() {
        let _ = write!(
            text,
            "[[causes]]\nid = \"cause-{at}\"\nname = \"c\"\nplain = \"c\"\nprior = {{ yes = {yes}, no = {no} }}\n\
             outlives_gear_change = true\nmodes = {{ {} }}\nfindings = {{ {} }}\ncured_by = [\"step-{step}\"]\n",
            links("mode", modes),
            links("check", checks)
        );
    }
    for at in 0..CHECKS {
        let _ = write!(
            text,
            "[[findings]]\nid = \"check-{at}\"\nquestion = \"q?\"\nhow = \"look\"\nminutes = {}\norder = {at}\n{}\
             leak = {}\nmodes = {{ {} }}\n",
            CHECK_MINUTES[at],
            needs(at),
            CHECK_LEAKS[at],
            links("mode", &CHECK_MODES[at])
        );
    }
    for (at, minutes) in STEP_MINUTES.iter().enumerate() {
        let _ = write!(
            text,
            "[[steps]]\nid = \"step-{at}\"\nname = \"s\"\nwhat = \"s\"\nminutes = {minutes}\norder = {}\n{}\
             parts = [\"part {at}\"]\n",
            10 + at,
            needs(at)
        );
    }
    FaultBook::parse(&text).unwrap_or_else(|problems| panic!("{problems:?}"))
}

/// The example truck with the book's prices, a complaint and answers.
fn job(complaint: &str, answers: &[(usize, bool)], book: &FaultBook) -> Job {
    let euro = |cent: f64| format!("\"{:.2} EUR\"", cent / 100.0);
    let price = |at: usize| format!("  {{ part = \"part {at}\", price = {} }},\n", euro(STEP_PARTS_CENT[at]));
    let priced = format!("parts = [\n{}", (0..3).map(price).collect::<String>());
    let text = with(&with(&unopened(), "parts = [\n", &priced), "\"stripped\"", &format!("\"{complaint}\""));
    assert!(text.contains("labour_rate = \"55 EUR/h\"") && text.contains("comeback_cost = \"120 EUR\""));
    let word = |yes| if yes { "yes" } else { "no" };
    let found =
        answers.iter().map(|(at, yes)| format!("[[findings]]\ncheck = \"check-{at}\"\nanswer = \"{}\"\n", word(*yes)));
    Job::parse(&(text + &found.collect::<String>()), book).unwrap_or_else(|error| panic!("{error:?}"))
}

/// 1 - (1 - leak) prod over what is present (1 - p).
fn noisy_or(leak: f64, links: impl Iterator<Item = (bool, f64)>) -> f64 {
    1.0 - links.filter(|(present, _)| *present).fold(1.0 - leak, |off, (_, p)| off * (1.0 - p))
}

fn bit(state: usize, at: usize) -> bool {
    state >> at & 1 == 1
}

/// Causes in the lowest bits, then modes, then checks.
fn probability(state: usize) -> f64 {
    let of = |on: bool, p: f64| if on { p } else { 1.0 - p };
    let causes = (0..CAUSES).map(|k| {
        let (yes, no) = (f64::from(BOOK[k].yes), f64::from(BOOK[k].no));
        of(bit(state, k), yes / (yes + no))
    });
    let modes = (0..MODES).map(|m| of(bit(state, CAUSES + m), mode(m, state)));
    let checks = (0..CHECKS).map(|f| {
        let causes = (0..CAUSES).map(|k| (bit(state, k), BOOK[k].checks[f]));
        let modes = (0..MODES).map(|m| (bit(state, CAUSES + m), CHECK_MODES[f][m]));
        of(bit(state, CAUSES + MODES + f), noisy_or(CHECK_LEAKS[f], causes.chain(modes)))
    });
    causes.chain(modes).chain(checks).product()
}

fn mode(m: usize, causes: usize) -> f64 {
    noisy_or(MODE_LEAKS[m], (0..CAUSES).map(|k| (bit(causes, k), BOOK[k].modes[m])))
}

/// What is known: whether a strip happened, and answers.
struct Known<'a> {
    strip: bool,
    answers: &'a [(usize, bool)],
}

impl Known<'_> {
    fn agrees(&self, state: usize) -> bool {
        let stripped = state >> CAUSES & ((1 << MODES) - 1) != 0;
        (!self.strip || stripped) && self.answers.iter().all(|(f, yes)| bit(state, CAUSES + MODES + f) == *yes)
    }

    fn weight(&self) -> f64 {
        self.mean(|_| 1.0)
    }

    /// Sum over the states that agree of P(state) times a value.
    fn mean(&self, value: impl Fn(usize) -> f64) -> f64 {
        let states = (0..1_usize << (CAUSES + MODES + CHECKS)).filter(|state| self.agrees(*state));
        states.map(|state| probability(state) * value(state)).sum()
    }

    /// P(some mode on the next set | known), some causes cured.
    fn comeback(&self, cured: usize) -> f64 {
        let strips = |state: usize| 1.0 - (0..MODES).map(|m| 1.0 - mode(m, state & !cured)).product::<f64>();
        self.mean(strips) / self.weight()
    }

    /// Least price and expected cost of a comeback over some repairs.
    fn least(&self, repairs: &[usize]) -> f64 {
        let cost = |cured: &usize| price_cent(*cured) + COMEBACK_CENT * self.comeback(*cured);
        repairs.iter().map(cost).fold(f64::MAX, f64::min)
    }
}

fn labour_cent(minutes: f64) -> f64 {
    (LABOUR_CENT_PER_H * minutes / 60.0).round()
}

/// Each step and the cover once.
fn price_cent(cured: usize) -> f64 {
    let done: Vec<usize> = (0..3).filter(|step| (0..CAUSES).any(|k| bit(cured, k) && BOOK[k].step == *step)).collect();
    let cover = if done.iter().any(|step| *step < UNDER_COVER) { COVER_OFF_MIN + COVER_ON_MIN } else { 0.0 };
    let minutes = cover + done.iter().map(|step| STEP_MINUTES[*step]).sum::<f64>();
    labour_cent(minutes) + done.iter().map(|step| STEP_PARTS_CENT[*step]).sum::<f64>()
}

/// Holds a job's front and the worth of its open checks; gives how many are worth looking at.
#[track_caller]
fn check(complaint: &str, answers: &[(usize, bool)]) -> usize {
    let book = book();
    let job = job(complaint, answers, &book);
    let verdict = Verdict::new(&job, &book, &MEMO).expect("a verdict");
    let known = Known { strip: complaint == "stripped", answers };
    let place = |id: &String| id.trim_start_matches("cause-").parse::<usize>().expect("a cause of the book");
    let mut repairs = Vec::new();
    for point in &verdict.plan.front {
        let cured = point.cures.iter().map(|id| 1 << place(id)).sum();
        assert_eq!(point.price.minor as f64, price_cent(cured), "{complaint} {answers:?}, price of {:?}", point.cures);
        assert!((point.comeback - known.comeback(cured)).abs() <= ROUNDING, "{complaint} {answers:?}: {point:?}");
        repairs.push(cured);
    }
    assert!(repairs.len() > 1 && verdict.diagnosis.open.len() + answers.len() == CHECKS);
    let cover_is_off = answers.iter().any(|(at, _)| *at < UNDER_COVER);
    let mut pay = 0;
    for (open, worth) in verdict.diagnosis.open.iter().zip(&verdict.plan.worth) {
        let at: usize = open.id.trim_start_matches("check-").parse().expect("a check of the book");
        let opening = if at < UNDER_COVER && !cover_is_off { COVER_OFF_MIN } else { 0.0 };
        let after = |yes: bool| {
            let answers = [answers, &[(at, yes)]].concat();
            let then = Known { strip: known.strip, answers: &answers };
            then.weight() / known.weight() * then.least(&repairs)
        };
        let saved = known.least(&repairs) - after(true) - after(false);
        let expected = saved.round() - labour_cent(CHECK_MINUTES[at] + opening);
        assert_eq!(worth.minor as f64, expected, "{complaint} {answers:?}, worth of {} in cents", open.id);
        pay += usize::from(expected > 0.0);
    }
    pay
}

#[test]
fn a_check_is_worth_what_enumeration_of_every_answer_saves() {
    let paying = [
        check("stripped", &[]),
        check("stripped", &[(1, true)]),
        check("stripped", &[(0, true), (3, false)]),
        check("check", &[]),
        check("check", &[(2, true), (3, true)]),
    ];
    let [some, none] = [paying.iter().any(|pay| *pay > 0), paying.contains(&0)];
    assert!(some && none, "jobs in which a check pays and in which none does: {paying:?}");
}
