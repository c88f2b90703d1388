//! Networks of up to sixteen causes against a plain sum over every vector, and larger ones against their own bound.

use crate::sample::{Dice, Size};
use toothsayer_evidence::{Evidence, Finding, Mode, Network, NetworkParts, Posterior, State};

/// The target of exactness; a few hundred thousand rounded products stay far below it.
const EXACT: f64 = 1e-9;

fn prior(parts: &NetworkParts, vector: usize) -> f64 {
    let side = |(place, cause): (usize, &toothsayer_evidence::Cause)| match (cause.state, vector >> place & 1 == 1) {
        (State::Prior(p), true) => p,
        (State::Prior(p), false) => 1.0 - p,
        (State::Known(known), present) => f64::from(u8::from(known == present)),
    };
    parts.causes.iter().enumerate().map(side).product()
}

fn off(leak: f64, links: &[toothsayer_evidence::CauseLink], vector: usize) -> f64 {
    let present = links.iter().filter(|link| vector >> link.cause.0 & 1 == 1);
    present.fold(1.0 - leak, |off, link| off * (1.0 - link.probability))
}

fn mode_off(mode: &Mode, vector: usize) -> f64 {
    off(mode.leak, &mode.links, vector) * (1.0 - mode.trigger[vector & (mode.trigger.len() - 1)])
}

fn answered(finding: &Finding, vector: usize, modes: usize) -> f64 {
    let present = finding.modes.iter().filter(|link| modes >> link.mode.0 & 1 == 1);
    present.fold(off(finding.leak, &finding.causes, vector), |off, link| off * (1.0 - link.probability))
}

/// P(evidence | vector, modes).
fn answers(parts: &NetworkParts, evidence: &Evidence, vector: usize, modes: usize) -> f64 {
    let seen = parts.findings.iter().zip(&evidence.answers).filter_map(|(finding, answer)| {
        answer.map(|yes| {
            let no = answered(finding, vector, modes);
            if yes { 1.0 - no } else { no }
        })
    });
    seen.product()
}

/// P(vector, modes, evidence), one row a vector and in it one figure a pattern of the modes.
fn joint(parts: &NetworkParts, evidence: &Evidence, vector: usize) -> Vec<f64> {
    let before = prior(parts, vector);
    let silent: Vec<f64> = parts.modes.iter().map(|mode| mode_off(mode, vector)).collect();
    let pattern = |modes: usize| {
        let happened = silent.iter().enumerate();
        let chance: f64 = happened.map(|(m, off)| if modes >> m & 1 == 1 { 1.0 - off } else { *off }).product();
        let possible = before > 0.0 && (!evidence.some_mode || modes > 0);
        if possible { before * chance * answers(parts, evidence, vector, modes) } else { 0.0 }
    };
    (0..1 << parts.modes.len()).map(pattern).collect()
}

/// P(vector, evidence), the modes summed one pattern after the other.
fn weight(parts: &NetworkParts, evidence: &Evidence, vector: usize) -> f64 {
    joint(parts, evidence, vector).into_iter().sum()
}

/// P(modes of `pattern` happen at `vector`, none would have happened at `without` | vector), by one uniform U a mode
/// that sets off the computed trigger where U < q. `without` lacks one cause of `vector` and has no other.
fn prevented(parts: &NetworkParts, vector: usize, without: usize, pattern: usize) -> f64 {
    let q = |mode: &Mode, vector: usize| mode.trigger[vector & (mode.trigger.len() - 1)];
    let of = |(place, mode): (usize, &Mode)| {
        let never = off(mode.leak, &mode.links, vector) * (1.0 - q(mode, vector).max(q(mode, without)));
        if pattern >> place & 1 == 1 { mode_off(mode, without) - never } else { never }
    };
    parts.modes.iter().enumerate().map(of).product()
}

/// I(F; x | e) = H(F | e) - sum P(x | e) H(F | x, e) from P(x, e) and P(yes, x, e) of every vector.
fn information(of_vectors: &[(f64, f64)]) -> f64 {
    let entropy = |p: f64| [p, 1.0 - p].into_iter().filter(|p| *p > 0.0).map(|p| -p * p.log2()).sum::<f64>();
    let total: f64 = of_vectors.iter().map(|(all, _)| all).sum();
    let yes: f64 = of_vectors.iter().map(|(_, yes)| yes).sum();
    let known = of_vectors.iter().filter(|(all, _)| *all > 0.0).map(|(all, yes)| all / total * entropy(yes / all));
    entropy(yes / total) - known.sum::<f64>()
}

#[track_caller]
fn check(what: &str, seed: u64, got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "{what}, seed {seed}: got {got}, expected {expected}");
}

#[test]
fn up_to_sixteen_causes_the_posterior_is_the_plain_sum() {
    for (seed, causes) in [(1, 8), (2, 12), (3, 14), (4, 16)] {
        let size = Size { causes, computed: 4, modes: 3, findings: 10 };
        let mut dice = Dice(seed);
        let parts = crate::sample::parts(&mut dice, size);
        let evidence = crate::sample::evidence(&mut dice, size.findings);
        let network = Network::new(parts.clone()).unwrap();
        let posterior = Posterior::new(&network, evidence.clone()).unwrap();
        let weights: Vec<f64> = (0..1 << causes).map(|vector| weight(&parts, &evidence, vector)).collect();
        let total: f64 = weights.iter().sum();
        check("evidence", seed, posterior.evidence_probability() / total, 1.0, EXACT);
        assert_eq!(posterior.neglected(), 0.0);
        for (place, present) in posterior.present().into_iter().enumerate() {
            let with = weights.iter().enumerate().filter(|(vector, _)| vector >> place & 1 == 1);
            check("present", seed, present, with.map(|(_, w)| w).sum::<f64>() / total, EXACT);
        }
    }
}

/// Sixteen causes of which the build decides none, up to eight of them computed together, with random tables.
fn all_undecided(seed: u64, size: Size) -> (NetworkParts, Evidence) {
    let mut dice = Dice(seed);
    let mut parts = crate::sample::parts(&mut dice, size);
    let known = parts.causes.iter_mut().filter(|cause| matches!(cause.state, State::Known(_)));
    known.for_each(|cause| cause.state = State::Prior(dice.unit()));
    (parts, crate::sample::evidence(&mut dice, size.findings))
}

#[test]
fn sixteen_undecided_causes_with_eight_computed_agree_with_the_plain_sum() {
    for (seed, computed, modes, findings) in
        [(21, 8, 3, 8), (22, 8, 3, 12), (23, 8, 4, 6), (24, 6, 2, 12), (25, 2, 4, 8)]
    {
        let (parts, evidence) = all_undecided(seed, Size { causes: 16, computed, modes, findings });
        let network = Network::new(parts.clone()).unwrap();
        let posterior = Posterior::new(&network, evidence.clone()).unwrap();
        let rows: Vec<Vec<f64>> = (0..1 << 16).map(|vector| joint(&parts, &evidence, vector)).collect();
        let weights: Vec<f64> = rows.iter().map(|row| row.iter().sum()).collect();
        let total: f64 = weights.iter().sum();
        check("evidence", seed, posterior.evidence_probability() / total, 1.0, EXACT);
        let (present, mattered) = (posterior.present(), posterior.mattered());
        for place in 0..16 {
            let with = || (0..1_usize << 16).filter(|vector| vector >> place & 1 == 1);
            check("present", seed, present[place], with().map(|vector| weights[vector]).sum::<f64>() / total, EXACT);
            let spared = |vector: usize| -> f64 {
                let patterns = 1..1 << modes;
                let of = |pattern| {
                    let told = answers(&parts, &evidence, vector, pattern);
                    prevented(&parts, vector, vector & !(1 << place), pattern) * told
                };
                prior(&parts, vector) * patterns.map(of).sum::<f64>()
            };
            check("mattered", seed, mattered[place], with().map(spared).sum::<f64>() / total, EXACT);
        }
        for (place, bits) in posterior.bits().into_iter().enumerate() {
            assert_eq!(bits.is_none(), evidence.answers[place].is_some());
            let Some(bits) = bits else { continue };
            let yes = |(vector, row): (usize, &Vec<f64>)| -> f64 {
                let of = |(modes, w): (usize, &f64)| w * (1.0 - answered(&parts.findings[place], vector, modes));
                row.iter().enumerate().map(of).sum()
            };
            let told = weights.iter().copied().zip(rows.iter().enumerate().map(yes)).collect::<Vec<_>>();
            check("bits", seed, bits, information(&told), EXACT);
        }
    }
}

/// Causes as rare as a bench finds them, more than every vector is visited of.
fn rare(seed: u64, causes: usize) -> (NetworkParts, Evidence) {
    let size = Size { causes, computed: 4, modes: 3, findings: 14 };
    let mut dice = Dice(seed);
    let mut parts = crate::sample::parts(&mut dice, size);
    parts.causes.iter_mut().for_each(|cause| cause.state = State::Prior(0.02 + 0.1 * dice.unit()));
    (parts, crate::sample::evidence(&mut dice, size.findings))
}

#[test]
fn beyond_sixteen_causes_the_error_stays_within_its_stated_bound() {
    for seed in 1..4 {
        let (parts, evidence) = rare(seed, 18);
        let network = Network::new(parts.clone()).unwrap();
        let posterior = Posterior::new(&network, evidence.clone()).unwrap();
        let weights: Vec<f64> = (0..1 << 18).map(|vector| weight(&parts, &evidence, vector)).collect();
        let total: f64 = weights.iter().sum();
        let missed = (total - posterior.evidence_probability()) / posterior.evidence_probability();
        let bound = posterior.neglected();
        assert!(missed <= bound + EXACT && bound < 0.05, "seed {seed}: missed {missed}, bound {bound}");
        for (place, present) in posterior.present().into_iter().enumerate() {
            let with = weights.iter().enumerate().filter(|(vector, _)| vector >> place & 1 == 1);
            check("present", seed, present, with.map(|(_, w)| w).sum::<f64>() / total, bound + EXACT);
        }
    }
}
