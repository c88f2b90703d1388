//! Textbook networks with published posteriors: they check the enumerator, and the engine where its family allows.

use crate::oracle::Net;
use toothsayer_evidence::{
    Cause, CauseId, CauseLink, Evidence, Finding, FindingId, Mode, ModeId, ModeLink, Network, NetworkParts, Posterior,
    State,
};

/// Rounding over a few thousand products.
const EXACT: f64 = 1e-12;

#[track_caller]
fn check(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected}");
}

/// Half of the last digit that is printed.
fn printed(digits: i32) -> f64 {
    0.5 * 10_f64.powi(-digits)
}

/// Burglary, earthquake, alarm, John calls, Mary calls (Russell and Norvig, "Artificial Intelligence", chapter on
/// probabilistic reasoning, the burglary network's tables).
fn alarm() -> Net {
    let mut net = Net::default();
    let (b, e) = (net.add(&[], &[0.001]), net.add(&[], &[0.002]));
    let a = net.add(&[b, e], &[0.001, 0.94, 0.29, 0.95]);
    net.add(&[a], &[0.05, 0.90]);
    net.add(&[a], &[0.01, 0.70]);
    net
}

#[test]
fn enumeration_gives_the_burglary_networks_published_figures() {
    let net = alarm();
    // Published as <.284, .716>, .000628, .849017, .6586138, .592243.
    check(net.given(&[(0, true)], &[(3, true), (4, true)]), 0.284, printed(3));
    let calls_without_cause = [(3, true), (4, true), (2, true), (0, false), (1, false)];
    check(net.joint(&calls_without_cause), 0.000628, printed(6));
    check(net.given(&[(3, true)], &[(0, true)]), 0.849017, printed(6));
    check(net.given(&[(4, true)], &[(0, true)]), 0.6586138, printed(7));
    check(net.given(&[(3, true), (4, true)], &[(0, true)]), 0.592243, printed(6));
}

/// The same network in the engine's family: the alarm is a mode whose trigger table is its whole probability table, and
/// a call is a noisy-OR with leak l and link 1 - (1 - p) / (1 - l).
fn alarm_in_the_engine() -> Network {
    let cause = |name: &str, prior| Cause { name: name.into(), state: State::Prior(prior) };
    let trigger = vec![0.001, 0.94, 0.29, 0.95];
    let call = |name: &str, leak: f64, p: f64| Finding {
        name: name.into(),
        leak,
        causes: vec![],
        modes: vec![ModeLink { mode: ModeId(0), probability: 1.0 - (1.0 - p) / (1.0 - leak) }],
    };
    Network::new(NetworkParts {
        causes: vec![cause("burglary", 0.001), cause("earthquake", 0.002)],
        computed: vec![CauseId(0), CauseId(1)],
        modes: vec![Mode { name: "alarm".into(), leak: 0.0, links: vec![], trigger }],
        findings: vec![call("john calls", 0.05, 0.90), call("mary calls", 0.01, 0.70)],
    })
    .unwrap()
}

#[test]
fn the_engine_gives_the_burglary_networks_published_posterior() {
    let network = alarm_in_the_engine();
    let evidence = Evidence::none(2).with(FindingId(0), true).with(FindingId(1), true);
    let posterior = Posterior::new(&network, evidence).unwrap();
    // Published as .284; .284172 by enumeration.
    check(posterior.present()[0], 0.284, printed(3));
    check(posterior.present()[0], alarm().given(&[(0, true)], &[(3, true), (4, true)]), EXACT);
    check(posterior.evidence_probability(), alarm().joint(&[(3, true), (4, true)]), EXACT);
}

#[test]
fn fever_rows_of_the_noisy_or_table_come_back() {
    // Russell and Norvig, noisy-OR of cold (inhibition .6), flu (.2), malaria (.1): the eight rows of P(fever).
    let rows = [0.0, 0.4, 0.8, 0.88, 0.9, 0.94, 0.98, 0.988];
    for (row, expected) in rows.into_iter().enumerate() {
        let known = |(bit, name): (usize, &str)| Cause { name: name.into(), state: State::Known(row >> bit & 1 == 1) };
        let inhibition = [0.6, 0.2, 0.1];
        let link = |place: usize| CauseLink { cause: CauseId(place), probability: 1.0 - inhibition[place] };
        let fever = Finding { name: "fever".into(), leak: 0.0, causes: (0..3).map(link).collect(), modes: vec![] };
        let causes = ["cold", "flu", "malaria"].into_iter().enumerate().map(known).collect();
        let parts = NetworkParts { causes, computed: vec![], modes: vec![], findings: vec![fever] };
        let network = Network::new(parts).unwrap();
        let posterior = Posterior::new(&network, Evidence::none(1)).unwrap();
        check(posterior.answered(FindingId(0)).unwrap().yes, expected, EXACT);
    }
}

/// Asia, smoking, tuberculosis, lung cancer, bronchitis, either, X-ray, dyspnoea (Lauritzen and Spiegelhalter 1988).
fn asia() -> Net {
    let mut net = Net::default();
    let (a, s) = (net.add(&[], &[0.01]), net.add(&[], &[0.5]));
    let t = net.add(&[a], &[0.01, 0.05]);
    let l = net.add(&[s], &[0.01, 0.1]);
    let b = net.add(&[s], &[0.3, 0.6]);
    let e = net.add(&[t, l], &[0.0, 1.0, 1.0, 1.0]);
    net.add(&[e], &[0.05, 0.98]);
    net.add(&[b, e], &[0.1, 0.8, 0.7, 0.9]);
    net
}

#[test]
fn enumeration_gives_the_chest_clinics_published_marginals() {
    let net = asia();
    let prior = [(2, 0.0104, 4), (3, 0.055, 4), (4, 0.45, 4), (5, 0.064828, 6), (6, 0.11029, 5), (7, 0.435971, 6)];
    for (node, expected, digits) in prior {
        check(net.joint(&[(node, true)]), expected, printed(digits));
    }
    check(net.given(&[(6, true)], &[(2, false)]), 0.10115, printed(5));
    check(net.given(&[(2, true)], &[(6, false)]), 0.000233784, printed(9));
    check(net.given(&[(2, true)], &[(6, false), (7, true)]), 0.000449821, printed(9));
    // Exact column of a worked example with A and D seen, from memory.
    let seen = [(0, true), (7, true)];
    for (node, expected) in [(4, 0.8114), (5, 0.1823), (3, 0.0995), (1, 0.6259), (2, 0.0878), (6, 0.2195)] {
        check(net.given(&[(node, true)], &seen), expected, printed(4));
    }
}

#[test]
fn enumeration_gives_the_sprinklers_published_figures() {
    // Cloudy, sprinkler, rain, wet grass; figures from memory.
    let mut net = Net::default();
    let c = net.add(&[], &[0.5]);
    let (s, r) = (net.add(&[c], &[0.5, 0.1]), net.add(&[c], &[0.2, 0.8]));
    let w = net.add(&[s, r], &[0.0, 0.9, 0.9, 0.99]);
    check(net.joint(&[(w, true)]), 0.6471, printed(4));
    check(net.given(&[(s, true)], &[(w, true)]), 0.4298, printed(4));
    check(net.given(&[(r, true)], &[(w, true)]), 0.7079, printed(4));
    check(net.given(&[(s, true)], &[(w, true), (r, true)]), 0.1945, printed(4));
}
