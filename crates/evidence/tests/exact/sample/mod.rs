//! Random small networks, repeatable from a seed.

use toothsayer_evidence::{Cause, CauseId, CauseLink, Evidence, Finding, Mode, ModeId, ModeLink, NetworkParts, State};

/// How large a random network is.
#[derive(Clone, Copy, Debug)]
pub struct Size {
    pub causes: usize,
    pub computed: usize,
    pub modes: usize,
    pub findings: usize,
}

/// SplitMix64: small, and good enough to vary test inputs.
pub struct Dice(pub u64);

impl Dice {
    pub fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ z >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ z >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ z >> 31) >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn chance(&mut self, p: f64) -> bool {
        self.unit() < p
    }

    fn links(&mut self, n: usize, share: f64) -> Vec<(usize, f64)> {
        let places: Vec<usize> = (0..n).filter(|_| self.chance(share)).collect();
        places.into_iter().map(|place| (place, self.unit())).collect()
    }
}

/// A network of the given size; one cause in five is known.
pub fn parts(dice: &mut Dice, size: Size) -> NetworkParts {
    let causes = (0..size.causes).map(|place| cause(dice, place)).collect();
    let mode = |dice: &mut Dice, place: usize| Mode {
        name: format!("mode {place}"),
        leak: 0.1 * dice.unit(),
        links: cause_links(dice.links(size.causes, 0.4)),
        trigger: (0..1 << size.computed).map(|row| if row == 0 { 0.0 } else { dice.unit() }).collect(),
    };
    let modes = (0..size.modes).map(|place| mode(dice, place)).collect();
    let finding = |dice: &mut Dice, place: usize| Finding {
        name: format!("finding {place}"),
        leak: 0.05 + 0.1 * dice.unit(),
        causes: cause_links(dice.links(size.causes, 0.3)),
        modes: dice.links(size.modes, 0.4).into_iter().map(mode_link).collect(),
    };
    let findings = (0..size.findings).map(|place| finding(dice, place)).collect();
    NetworkParts { causes, computed: (0..size.computed).map(CauseId).collect(), modes, findings }
}

/// Some answers, and sometimes "at least one mode".
pub fn evidence(dice: &mut Dice, n_findings: usize) -> Evidence {
    let answers = (0..n_findings).map(|_| dice.chance(0.6).then(|| dice.chance(0.5))).collect();
    Evidence { answers, some_mode: dice.chance(0.5) }
}

fn cause(dice: &mut Dice, place: usize) -> Cause {
    let state = if dice.chance(0.2) { State::Known(dice.chance(0.7)) } else { State::Prior(dice.unit()) };
    Cause { name: format!("cause {place}"), state }
}

fn cause_links(links: Vec<(usize, f64)>) -> Vec<CauseLink> {
    links.into_iter().map(|(place, probability)| CauseLink { cause: CauseId(place), probability }).collect()
}

fn mode_link((place, probability): (usize, f64)) -> ModeLink {
    ModeLink { mode: ModeId(place), probability }
}
