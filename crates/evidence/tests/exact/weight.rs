//! Weight of evidence against enumeration, closed forms and a textbook network.

use crate::enumeration::{Case, EXACT, SIZE};
use toothsayer_evidence::{
    Cause, CauseId, CauseLink, DECIBANS_PER_NAT, Evidence, Finding, FindingId, Network, NetworkParts, Piece, Posterior,
    State,
};

/// Two logarithms of exactly known ratios.
const ROUNDING: f64 = 1e-12;

/// An error of the probabilities is this many times as large in log-odds: d ln(p/(1 - p)) = dp/(p (1 - p)).
fn allowed(present: f64) -> f64 {
    EXACT / (present * (1.0 - present))
}

/// P(cause | evidence) of a case, by brute force.
fn present(case: &Case, place: usize) -> f64 {
    case.weigh(|state| state >> place & 1 == 1) / case.weigh(|_| true)
}

fn log_odds(p: f64) -> f64 {
    (p / (1.0 - p)).ln()
}

#[test]
fn every_weight_is_the_step_of_log_odds_that_enumeration_finds() {
    let mut weighed = 0;
    for mut case in Case::all() {
        let network = Network::new(case.parts.clone()).unwrap();
        let evidence = case.evidence.clone();
        let posterior = Posterior::new(&network, evidence.clone()).unwrap();
        for place in 0..SIZE.causes {
            let weights = posterior.weights(CauseId(place)).unwrap();
            if matches!(case.parts.causes[place].state, State::Known(_)) {
                assert!(weights.is_empty() && posterior.log_odds(CauseId(place)).is_none());
                continue;
            }
            assert_eq!(weights.iter().map(|weight| weight.piece).collect::<Vec<_>>(), evidence.pieces());
            let with = present(&case, place);
            for weight in weights {
                case.evidence = evidence.without(weight.piece);
                let without = present(&case, place);
                case.evidence = evidence.clone();
                let expected = log_odds(with) - log_odds(without);
                let tolerance = allowed(with) + allowed(without);
                let off = (weight.nats - expected).abs();
                assert!(off <= tolerance, "seed {}, cause {place}, {weight:?}: {expected}", case.seed);
                assert!((weight.without - log_odds(without)).abs() <= tolerance, "seed {}", case.seed);
                weighed += 1;
            }
        }
    }
    assert!(weighed > 300, "{weighed} weights were held");
}

/// One cause of prior 0.1 with findings of its own: leak and link of each.
fn alone(findings: &[(f64, f64)]) -> Network {
    let finding = |(leak, link): &(f64, f64)| Finding {
        name: "seen".into(),
        leak: *leak,
        causes: vec![CauseLink { cause: CauseId(0), probability: *link }],
        modes: vec![],
    };
    Network::new(NetworkParts {
        causes: vec![Cause { name: "loose".into(), state: State::Prior(0.1) }],
        computed: vec![],
        modes: vec![],
        findings: findings.iter().map(finding).collect(),
    })
    .unwrap()
}

#[test]
fn findings_that_share_no_other_cause_add_up_to_the_whole_step() {
    // Weights of independent things add (Good 1985): ln P(yes | loose)/P(yes | fast) with P(yes | loose) =
    // 1 - (1 - leak)(1 - link).
    let network = alone(&[(0.02, 0.9), (0.1, 0.5)]);
    let evidence = Evidence::none(2).with(FindingId(0), true).with(FindingId(1), false);
    let posterior = Posterior::new(&network, evidence).unwrap();
    let [rocks, rattles] = posterior.weights(CauseId(0)).unwrap()[..] else { panic!("two weights") };
    assert!((rocks.nats - (1.0_f64 - 0.98 * 0.1).ln() + 0.02_f64.ln()).abs() <= ROUNDING, "{rocks:?}");
    // "No" says ln(1 - link), whatever the leak.
    assert!((rattles.nats - 0.5_f64.ln()).abs() <= ROUNDING, "{rattles:?}");
    let [prior, after] = [posterior.prior_log_odds(CauseId(0)), posterior.log_odds(CauseId(0))].map(Option::unwrap);
    assert!((prior - (1.0_f64 / 9.0).ln()).abs() <= ROUNDING);
    assert!((after - prior - rocks.nats - rattles.nats).abs() <= ROUNDING);
}

#[test]
fn a_ban_is_ten_decibans() {
    // A thing ten times as likely with the cause as without weighs one ban (Good 1950, from memory).
    let link = 1.0 - (1.0 - 0.5) / (1.0 - 0.05);
    let network = alone(&[(0.05, link)]);
    let posterior = Posterior::new(&network, Evidence::none(1).with(FindingId(0), true)).unwrap();
    let weight = posterior.weights(CauseId(0)).unwrap()[0];
    assert!((weight.nats * DECIBANS_PER_NAT - 10.0).abs() <= 1e-9, "{weight:?}");
    assert_eq!(weight.piece, Piece::Answer(FindingId(0), true));
}

#[test]
fn without_evidence_the_odds_are_those_beforehand() {
    let network = alone(&[(0.02, 0.9)]);
    let posterior = Posterior::new(&network, Evidence::none(1)).unwrap();
    assert!(posterior.weights(CauseId(0)).unwrap().is_empty());
    let [prior, now] = [posterior.prior_log_odds(CauseId(0)), posterior.log_odds(CauseId(0))].map(Option::unwrap);
    assert!((prior - now).abs() <= ROUNDING);
    assert!(posterior.log_odds(CauseId(5)).is_none() && posterior.prior_log_odds(CauseId(5)).is_none());
}
