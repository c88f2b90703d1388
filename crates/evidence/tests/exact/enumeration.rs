//! The engine against brute force on random networks: posteriors, counterfactuals, information, comebacks.

use crate::oracle::Net;
use crate::sample::{Dice, Size};
use toothsayer_evidence::{CauseId, CauseSet, Evidence, FindingId, Network, NetworkParts, Posterior, State};

/// Both sides add a few thousand rounded products; the target is 1e-9.
pub const EXACT: f64 = 1e-11;
pub const SIZE: Size = Size { causes: 4, computed: 2, modes: 3, findings: 5 };
const N_NETWORKS: u64 = 60;

#[track_caller]
fn check(what: &str, seed: u64, got: f64, expected: f64) {
    assert!((got - expected).abs() <= EXACT, "{what}, seed {seed}: got {got}, expected {expected}");
}

/// Nodes 0.. are causes, then modes, then findings.
fn general(parts: &NetworkParts) -> Net {
    let mut net = Net::default();
    let (n_causes, n_modes) = (parts.causes.len(), parts.modes.len());
    for cause in &parts.causes {
        let prior = match cause.state {
            State::Prior(p) => p,
            State::Known(known) => f64::from(u8::from(known)),
        };
        net.add(&[], &[prior]);
    }
    let causes: Vec<usize> = (0..n_causes).collect();
    for mode in &parts.modes {
        net.add(&causes, &(0..1 << n_causes).map(|x| mode_yes(mode, x)).collect::<Vec<_>>());
    }
    let all: Vec<usize> = (0..n_causes + n_modes).collect();
    for finding in &parts.findings {
        net.add(&all, &(0..1 << all.len()).map(|state| finding_yes(finding, state, n_causes)).collect::<Vec<_>>());
    }
    net
}

/// The computed causes of the samples are the first ones, so the low bits of the vector are the table's row.
fn mode_yes(mode: &toothsayer_evidence::Mode, causes: usize) -> f64 {
    let mut off = (1.0 - mode.leak) * (1.0 - mode.trigger[causes & (mode.trigger.len() - 1)]);
    for link in &mode.links {
        off *= 1.0 - link.probability * (causes >> link.cause.0 & 1) as f64;
    }
    1.0 - off
}

fn finding_yes(finding: &toothsayer_evidence::Finding, state: usize, n_causes: usize) -> f64 {
    let mut off = 1.0 - finding.leak;
    for link in &finding.causes {
        off *= 1.0 - link.probability * (state >> link.cause.0 & 1) as f64;
    }
    for link in &finding.modes {
        off *= 1.0 - link.probability * (state >> (n_causes + link.mode.0) & 1) as f64;
    }
    1.0 - off
}

pub struct Case {
    pub seed: u64,
    pub parts: NetworkParts,
    pub evidence: Evidence,
    net: Net,
}

impl Case {
    pub fn all() -> impl Iterator<Item = Case> {
        (0..N_NETWORKS).map(|seed| {
            let mut dice = Dice(seed);
            let parts = crate::sample::parts(&mut dice, SIZE);
            let evidence = crate::sample::evidence(&mut dice, SIZE.findings);
            let net = general(&parts);
            Case { seed, parts, evidence, net }
        })
    }

    fn agrees(&self, state: usize) -> bool {
        let modes = state >> SIZE.causes & ((1 << SIZE.modes) - 1);
        let seen = |place: usize| state >> (SIZE.causes + SIZE.modes + place) & 1 == 1;
        let answers = self.evidence.answers.iter().enumerate();
        (!self.evidence.some_mode || modes != 0) && answers.into_iter().all(|(f, a)| a.is_none_or(|a| a == seen(f)))
    }

    /// P(keep, evidence).
    pub fn weigh(&self, keep: impl Fn(usize) -> bool) -> f64 {
        self.net.sum(|state| self.agrees(state) && keep(state))
    }

    fn finding_seen(&self, place: usize, state: usize) -> bool {
        state >> (SIZE.causes + SIZE.modes + place) & 1 == 1
    }
}

#[test]
fn posteriors_agree_with_enumeration() {
    for case in Case::all() {
        let network = Network::new(case.parts.clone()).unwrap();
        let posterior = Posterior::new(&network, case.evidence.clone()).unwrap();
        let total = case.weigh(|_| true);
        check("evidence", case.seed, posterior.evidence_probability(), total);
        for (place, present) in posterior.present().into_iter().enumerate() {
            check("present", case.seed, present, case.weigh(|state| state >> place & 1 == 1) / total);
        }
        let pair: CauseSet = [CauseId(0), CauseId(3)].into_iter().collect();
        let seen = posterior.belief().with_present(pair);
        for (place, present) in posterior.present().into_iter().enumerate() {
            let absent = matches!(case.parts.causes[place].state, State::Known(false));
            let expected = if pair.contains(CauseId(place)) && !absent { 1.0 } else { present };
            check("seen", case.seed, seen.present(CauseId(place)), expected);
        }
        let neither = case.weigh(|state| state & 0b1001 == 0) / total;
        check("none of", case.seed, posterior.belief().none_of(pair), neither);
    }
}

#[test]
fn information_agrees_with_enumeration() {
    for case in Case::all() {
        let network = Network::new(case.parts.clone()).unwrap();
        let posterior = Posterior::new(&network, case.evidence.clone()).unwrap();
        for (place, bits) in posterior.bits().into_iter().enumerate() {
            assert_eq!(bits.is_none(), case.evidence.answers[place].is_some());
            if let Some(bits) = bits {
                check("bits", case.seed, bits, mutual_information(&case, place));
            }
        }
    }
}

/// I(F; X | e) = sum over f, x of p(f, x) log2 (p(f, x) / (p(f) p(x))).
fn mutual_information(case: &Case, finding: usize) -> f64 {
    let total = case.weigh(|_| true);
    let p_yes = case.weigh(|state| case.finding_seen(finding, state)) / total;
    let mut bits = 0.0;
    for x in 0..1 << SIZE.causes {
        let here = |state: usize| state & ((1 << SIZE.causes) - 1) == x;
        let p_x = case.weigh(here) / total;
        let both = case.weigh(|state| here(state) && case.finding_seen(finding, state)) / total;
        for (joint, p_f) in [(both, p_yes), (p_x - both, 1.0 - p_yes)] {
            if joint > 1e-15 {
                bits += joint * (joint / (p_f * p_x)).log2();
            }
        }
    }
    bits
}

#[test]
fn the_belief_after_one_more_answer_is_the_posterior_with_it() {
    for case in Case::all() {
        let network = Network::new(case.parts.clone()).unwrap();
        let posterior = Posterior::new(&network, case.evidence.clone()).unwrap();
        for place in (0..SIZE.findings).filter(|place| case.evidence.answers[*place].is_none()) {
            let answered = posterior.answered(FindingId(place)).unwrap();
            let p_yes = case.weigh(|state| case.finding_seen(place, state)) / case.weigh(|_| true);
            check("yes", case.seed, answered.yes, p_yes);
            for (answer, belief) in [(true, answered.after_yes.unwrap()), (false, answered.after_no.unwrap())] {
                let with = case.evidence.clone().with(FindingId(place), answer);
                let direct = Posterior::new(&network, with).unwrap();
                for cause in 0..SIZE.causes {
                    check("after", case.seed, belief.present(CauseId(cause)), direct.present()[cause]);
                }
            }
        }
    }
}

#[test]
fn comebacks_agree_with_enumeration_for_every_set_of_cures() {
    for case in Case::all() {
        let network = Network::new(case.parts.clone()).unwrap();
        let posterior = Posterior::new(&network, case.evidence.clone()).unwrap();
        let choices =
            [CauseSet::only(CauseId(0)), CauseSet::only(CauseId(3)), [CauseId(1), CauseId(3)].into_iter().collect()];
        let all = posterior.belief().failures(network.modes(), CauseSet::EMPTY, &choices).unwrap();
        for (place, got) in all.into_iter().enumerate() {
            let made = choices.iter().enumerate().filter(|(bit, _)| place >> bit & 1 == 1);
            let cured = made.fold(CauseSet::EMPTY, |set, (_, choice)| set.union(*choice));
            let expected = failure_by_enumeration(&case, cured);
            check("every set", case.seed, got, expected);
            check("one set", case.seed, posterior.belief().failure(network.modes(), cured).unwrap(), expected);
        }
    }
}

fn failure_by_enumeration(case: &Case, cured: CauseSet) -> f64 {
    let mask: usize = cured.iter().map(|cause| 1 << cause.0).sum();
    let total = case.weigh(|_| true);
    let vectors = (0..1_usize << SIZE.causes).map(|x| {
        let p_x = case.weigh(|state| state & ((1 << SIZE.causes) - 1) == x) / total;
        let off: f64 = case.parts.modes.iter().map(|mode| 1.0 - mode_yes(mode, x & !mask)).product();
        p_x * (1.0 - off)
    });
    vectors.sum()
}

#[test]
fn what_mattered_agrees_with_every_fall_of_the_triggers() {
    let size = Size { causes: 3, computed: 2, modes: 2, findings: 3 };
    for seed in 0..N_NETWORKS {
        let mut dice = Dice(1000 + seed);
        let parts = crate::sample::parts(&mut dice, size);
        let evidence = crate::sample::evidence(&mut dice, size.findings);
        let network = Network::new(parts.clone()).unwrap();
        let posterior = Posterior::new(&network, evidence.clone()).unwrap();
        let expected = mattered_by_triggers(&parts, &evidence);
        for (place, got) in posterior.mattered().into_iter().enumerate() {
            check("mattered", seed, got, expected[place]);
        }
    }
}

/// One mode's triggers as they fell, with their probability: leak, each link, and the slice of U between two table
/// values, held by its middle.
fn falls(mode: &toothsayer_evidence::Mode) -> Vec<(f64, bool, Vec<bool>, f64)> {
    let mut cuts = [vec![0.0, 1.0], mode.trigger.clone()].concat();
    cuts.sort_by(f64::total_cmp);
    let mut rows = Vec::new();
    for coins in 0..1_usize << (1 + mode.links.len()) {
        let (leak, links) = (coins & 1 == 1, (0..mode.links.len()).map(|bit| coins >> (bit + 1) & 1 == 1));
        let links: Vec<bool> = links.collect();
        let of = |on: bool, p: f64| if on { p } else { 1.0 - p };
        let fell = mode.links.iter().zip(&links).map(|(link, on)| of(*on, link.probability)).product::<f64>();
        for slice in cuts.windows(2) {
            rows.push((
                of(leak, mode.leak) * fell * (slice[1] - slice[0]),
                leak,
                links.clone(),
                (slice[0] + slice[1]) / 2.0,
            ));
        }
    }
    rows
}

fn mattered_by_triggers(parts: &NetworkParts, evidence: &Evidence) -> Vec<f64> {
    let n = parts.causes.len();
    let (mut total, mut mattered) = (0.0, vec![0.0; n]);
    for x in 0..1_usize << n {
        let prior: f64 = (0..n).map(|place| cause_weight(parts, place, x >> place & 1 == 1)).product();
        for first in falls(&parts.modes[0]) {
            for second in falls(&parts.modes[1]) {
                let outcome = |x: usize| -> usize {
                    let on = |mode: usize, fall: &(f64, bool, Vec<bool>, f64)| {
                        let row = &parts.modes[mode];
                        let linked = row.links.iter().zip(&fall.2).any(|(l, on)| *on && x >> l.cause.0 & 1 == 1);
                        fall.1 || linked || fall.3 < row.trigger[x & (row.trigger.len() - 1)]
                    };
                    usize::from(on(0, &first)) | usize::from(on(1, &second)) << 1
                };
                let y = outcome(x);
                if evidence.some_mode && y == 0 {
                    continue;
                }
                let weight = prior * first.0 * second.0 * answers_weight(parts, evidence, x | y << n);
                total += weight;
                for (place, sum) in mattered.iter_mut().enumerate() {
                    if x >> place & 1 == 1 && y != 0 && outcome(x & !(1 << place)) == 0 {
                        *sum += weight;
                    }
                }
            }
        }
    }
    mattered.into_iter().map(|sum| sum / total).collect()
}

fn cause_weight(parts: &NetworkParts, place: usize, present: bool) -> f64 {
    match parts.causes[place].state {
        State::Prior(p) => {
            if present {
                p
            } else {
                1.0 - p
            }
        }
        State::Known(known) => f64::from(u8::from(known == present)),
    }
}

fn answers_weight(parts: &NetworkParts, evidence: &Evidence, state: usize) -> f64 {
    let of = |(finding, answer): (&toothsayer_evidence::Finding, &Option<bool>)| {
        let yes = finding_yes(finding, state, parts.causes.len());
        answer.map_or(1.0, |answer| if answer { yes } else { 1.0 - yes })
    };
    parts.findings.iter().zip(&evidence.answers).map(of).product()
}
