//! Which vectors of causes are visited: all of them while they are few, else the heaviest, and what is passed over.

use crate::chance::{Chance, NoisyOr};
use crate::layout::Layout;
use crate::network::{Finding, Network, State};

/// Most vectors that are visited: every one of them up to sixteen undecided causes.
pub(crate) const MOST_VECTORS: usize = 1 << 16;

/// Vectors with their weight before the "yes" answers, and a bound of the weight of all that were passed over.
#[derive(Clone, Debug)]
pub(crate) struct Heaviest {
    /// (vector, prior times what the "no" answers say of causes).
    pub rows: Vec<(usize, f64)>,
    /// No vectors together weigh more than this beside those of `rows`.
    pub passed_over: f64,
}

/// Weight of a cause absent and present.
#[derive(Clone, Copy)]
struct Sides {
    position: usize,
    absent: f64,
    present: f64,
    told: bool,
}

impl Heaviest {
    /// Decides the causes one after the other, those of "yes" answers first. Where more vectors open than may be
    /// visited, those go whose bound is least: weight so far, times both sides of each cause still open, times each
    /// "yes" as if every cause still open and every mode brought it about.
    pub fn new(network: &Network, layout: &Layout, answers: &[Option<bool>]) -> Self {
        let (sides, always) = sides(network, layout, answers);
        let told = |finding: &&(&Finding, &Option<bool>)| *finding.1 == Some(true);
        let pairs: Vec<(&Finding, &Option<bool>)> = network.findings.iter().zip(answers).collect();
        let yes: Vec<NoisyOr> = pairs.iter().filter(told).map(|(finding, _)| hopeful(finding, layout)).collect();
        let mut still: f64 = sides.iter().map(|side| side.absent + side.present).product();
        let mut open: usize = sides.iter().map(|side| 1 << side.position).sum();
        let mut kept = Self { rows: vec![(0, always)], passed_over: 0.0 };
        for side in &sides {
            still /= side.absent + side.present;
            open &= !(1 << side.position);
            let present: Vec<(usize, f64)> =
                kept.rows.iter().map(|(vector, w)| (vector | 1 << side.position, w * side.present)).collect();
            kept.rows.iter_mut().for_each(|row| row.1 *= side.absent);
            kept.rows.extend(present);
            kept.rows.retain(|row| row.1 > 0.0);
            if kept.rows.len() > MOST_VECTORS {
                kept.cut(|vector, w| yes.iter().map(|yes| yes.at(vector | open).hit).product::<f64>() * w * still);
            }
        }
        kept
    }

    fn cut(&mut self, bound: impl Fn(usize, f64) -> f64) {
        let mut rated: Vec<(f64, (usize, f64))> = self.rows.iter().map(|row| (bound(row.0, row.1), *row)).collect();
        rated.select_nth_unstable_by(MOST_VECTORS, |a, b| b.0.total_cmp(&a.0));
        self.passed_over += rated[MOST_VECTORS..].iter().map(|(bound, _)| bound).sum::<f64>();
        self.rows = rated[..MOST_VECTORS].iter().map(|(_, row)| *row).collect();
    }
}

/// The undecided causes with their "no" answers, those of "yes" answers first, and the weight of what is decided.
fn sides(network: &Network, layout: &Layout, answers: &[Option<bool>]) -> (Vec<Sides>, f64) {
    let mut sides: Vec<Sides> = Vec::new();
    for (id, cause) in layout.undecided().iter().filter_map(|id| Some((id, network.causes.get(id.0)?))) {
        let State::Prior(prior) = cause.state else { continue };
        let position = sides.len();
        let mut side = Sides { position, absent: 1.0 - prior, present: prior, told: false };
        for (finding, answer) in network.findings.iter().zip(answers) {
            let link = finding.causes.iter().find(|link| link.cause == *id);
            match (link, answer) {
                (Some(link), Some(false)) => side.present *= 1.0 - link.probability,
                (Some(_), Some(true)) => side.told = true,
                _ => {}
            }
        }
        sides.push(side);
    }
    sides.sort_by_key(|side| !side.told);
    let denied = network.findings.iter().zip(answers).filter(|(_, answer)| **answer == Some(false));
    let always = denied.map(|(finding, _)| NoisyOr::new(layout, finding.leak, &finding.causes).at(0).miss).product();
    (sides, always)
}

/// A "yes" with every mode behind it.
fn hopeful(finding: &Finding, layout: &Layout) -> NoisyOr {
    let modes = finding.modes.iter().map(|link| Chance::of(link.probability));
    let leak = modes.fold(Chance::of(finding.leak), Chance::or).hit;
    NoisyOr::new(layout, leak, &finding.causes)
}
