//! What must hold for every network, and what is refused.

use crate::sample::{Dice, Size};
use toothsayer_evidence::{
    Cause, CauseId, CauseLink, CauseSet, Error, Evidence, Finding, FindingId, Mode, Modes, Network, NetworkParts,
    Posterior, State,
};

/// Sums of a few thousand terms may end this far past a bound.
const ROUNDING: f64 = 1e-12;

#[track_caller]
fn check_bounds(seed: u64, size: Size) {
    let mut dice = Dice(seed);
    let network = Network::new(crate::sample::parts(&mut dice, size)).unwrap();
    let mut evidence = crate::sample::evidence(&mut dice, size.findings);
    evidence.some_mode &= size.modes > 0;
    let posterior = Posterior::new(&network, evidence).unwrap();
    let entropy = posterior.belief().entropy_bits();
    for (present, mattered) in posterior.present().into_iter().zip(posterior.mattered()) {
        assert!((0.0..=1.0).contains(&present), "seed {seed}: present {present}");
        assert!((0.0..=present + ROUNDING).contains(&mattered), "seed {seed}: mattered {mattered} of {present}");
    }
    for bits in posterior.bits().into_iter().flatten() {
        assert!((0.0..=entropy.min(1.0) + ROUNDING).contains(&bits), "seed {seed}: {bits} bits of {entropy}");
    }
    for cause in (0..size.causes).map(CauseId) {
        assert!((0.0..=1.0).contains(&network.modes().alone(cause)));
    }
}

#[test]
fn probabilities_and_bits_stay_within_their_bounds() {
    for seed in 0..20 {
        check_bounds(seed, Size { causes: 10, computed: 5, modes: 6, findings: 25 });
        check_bounds(100 + seed, Size { causes: 6, computed: 0, modes: 0, findings: 8 });
        check_bounds(200 + seed, Size { causes: 9, computed: 8, modes: 8, findings: 12 });
    }
}

fn cause(name: &str, state: State) -> Cause {
    Cause { name: name.into(), state }
}

/// Two causes that share one mode, and a finding on the first.
fn small() -> NetworkParts {
    let link = |place, probability| CauseLink { cause: CauseId(place), probability };
    NetworkParts {
        causes: vec![cause("loose", State::Prior(0.2)), cause("strong", State::Prior(0.1))],
        computed: vec![CauseId(0), CauseId(1)],
        modes: vec![Mode { name: "sheared".into(), leak: 0.0, links: vec![], trigger: vec![0.0, 0.0, 0.0, 0.9] }],
        findings: vec![Finding { name: "rocks".into(), leak: 0.02, causes: vec![link(0, 0.95)], modes: vec![] }],
    }
}

#[test]
fn two_causes_that_only_strip_together_both_mattered() {
    let network = Network::new(small()).unwrap();
    let posterior = Posterior::new(&network, Evidence { some_mode: true, ..Evidence::none(1) }).unwrap();
    // Only the pair can strip, so each was present and without each there was no strip.
    for figure in posterior.present().into_iter().chain(posterior.mattered()) {
        assert!((figure - 1.0).abs() <= ROUNDING, "{figure}");
    }
    assert_eq!(network.modes().alone(CauseId(0)), 0.0);
}

#[test]
fn curing_either_of_an_interacting_pair_ends_it() {
    let network = Network::new(small()).unwrap();
    let posterior = Posterior::new(&network, Evidence { some_mode: true, ..Evidence::none(1) }).unwrap();
    let choices = [CauseSet::only(CauseId(0)), CauseSet::only(CauseId(1))];
    let chances = posterior.belief().failures(network.modes(), CauseSet::EMPTY, &choices).unwrap();
    assert!((chances[0] - 0.9).abs() <= ROUNDING, "{chances:?}");
    assert!(chances[1..].iter().all(|chance| *chance <= ROUNDING), "{chances:?}");
}

#[test]
fn a_known_cause_can_be_cured_too() {
    let mut parts = small();
    parts.causes[0].state = State::Known(true);
    parts.causes[1].state = State::Known(true);
    let network = Network::new(parts).unwrap();
    let posterior = Posterior::new(&network, Evidence::none(1)).unwrap();
    let chances = posterior.belief().failures(network.modes(), CauseSet::EMPTY, &[CauseSet::only(CauseId(1))]).unwrap();
    assert!((chances[0] - 0.9).abs() <= ROUNDING && chances[1] <= ROUNDING, "{chances:?}");
}

#[test]
fn without_a_strip_nothing_is_accused() {
    let network = Network::new(small()).unwrap();
    let posterior = Posterior::new(&network, Evidence::none(1)).unwrap();
    assert!((posterior.present()[1] - 0.1).abs() <= ROUNDING);
    assert!((posterior.mattered()[0] - 0.2 * 0.1 * 0.9).abs() <= ROUNDING);
}

#[test]
fn an_answered_finding_has_nothing_left_to_tell() {
    let network = Network::new(small()).unwrap();
    let posterior = Posterior::new(&network, Evidence::none(1).with(FindingId(0), true)).unwrap();
    assert_eq!(posterior.bits(), [None]);
    assert!(posterior.answered(FindingId(0)).is_none() && posterior.answered(FindingId(7)).is_none());
}

#[track_caller]
fn refuse(change: impl FnOnce(&mut NetworkParts), message: &str) {
    let mut parts = small();
    change(&mut parts);
    let error = Network::new(parts).unwrap_err();
    assert_eq!(error.to_string(), message);
    assert!(!error.hint().is_empty());
}

#[test]
fn networks_that_make_no_sense_are_refused_with_the_reason() {
    refuse(|p| p.causes[0].state = State::Prior(1.2), "prior of `loose` is 1.2, outside 0 to 1");
    refuse(|p| p.causes[0].state = State::Prior(f64::NAN), "prior of `loose` is NaN, outside 0 to 1");
    refuse(|p| p.modes[0].leak = -0.1, "leak of mode `sheared` is -0.1, outside 0 to 1");
    refuse(|p| p.modes[0].trigger[2] = 7.0, "trigger row 2 of mode `sheared` is 7, outside 0 to 1");
    refuse(
        |p| p.modes[0].trigger.truncate(3),
        "the trigger of mode `sheared` has 3 rows, and 4 subsets need one each (or none at all)",
    );
    refuse(|p| p.findings[0].causes[0].cause = CauseId(9), "finding `rocks` names cause number 9, and there are 2");
    refuse(
        |p| p.findings[0].causes[0].probability = 2.0,
        "link from cause number 0 to finding `rocks` is 2, outside 0 to 1",
    );
    refuse(|p| p.computed = vec![CauseId(0), CauseId(0)], "the list of computed causes names cause number 0 twice");
    let many = |p: &mut NetworkParts| p.causes = vec![cause("one of many", State::Prior(0.1)); 29];
    refuse(many, "29 undecided causes are more than the 28 that are computed exactly");
}

#[test]
fn evidence_that_contradicts_itself_is_refused() {
    let mut parts = small();
    parts.causes[0].state = State::Known(false);
    let network = Network::new(parts).unwrap();
    let error = Posterior::new(&network, Evidence { some_mode: true, ..Evidence::none(1) }).unwrap_err();
    assert_eq!(error, Error::Contradiction);
    let error = Posterior::new(&network, Evidence::none(3)).unwrap_err();
    assert_eq!(error.to_string(), "3 answers were given for 1 findings");
}

#[test]
fn modes_of_another_network_are_refused() {
    let network = Network::new(small()).unwrap();
    let posterior = Posterior::new(&network, Evidence::none(1)).unwrap();
    let other = Modes::new(5, vec![], vec![]).unwrap();
    assert!(posterior.belief().failure(&other, CauseSet::EMPTY).is_err());
    let choices = vec![CauseSet::EMPTY; 17];
    let error = posterior.belief().failures(network.modes(), CauseSet::EMPTY, &choices).unwrap_err();
    assert_eq!(error.to_string(), "17 choices are more than the 16 that are computed exactly");
}
