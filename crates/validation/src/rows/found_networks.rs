//! Tests, attributes and channels in examples that were looked up: what an answer tells.

use crate::check::{Check, Printed, Status};
use toothsayer_evidence::{
    Cause, CauseId, CauseLink, Error, Evidence, Finding, FindingId, Mode, ModeId, ModeLink, Network, NetworkParts,
    Posterior, State,
};

const BAYES: Printed = Printed {
    subject: "Inference",
    source: "Bayes' theorem in published screening examples",
    status: Status::Printed,
    unit: "",
    tolerance: 0.5e-3,
    because: "half of the last printed digit",
};

pub(super) fn rows() -> Vec<Check> {
    [screening(), attributes(), channel(), late()].concat()
}

/// A cause and a test of it: the chance of a yes with and without the cause, the first the greater.
#[derive(Clone, Copy)]
struct Test {
    prior: f64,
    with: f64,
    without: f64,
}

impl Test {
    fn network(self) -> Result<Network, Error> {
        let probability = 1.0 - (1.0 - self.with) / (1.0 - self.without);
        let link = CauseLink { cause: CauseId(0), probability };
        let yes = Finding { name: "yes".into(), leak: self.without, causes: vec![link], modes: vec![] };
        let cause = Cause { name: "cause".into(), state: State::Prior(self.prior) };
        Network::new(NetworkParts { causes: vec![cause], computed: vec![], modes: vec![], findings: vec![yes] })
    }

    /// Chance of the cause after a yes.
    fn after_yes(self) -> Result<f64, Error> {
        Ok(Posterior::new(&self.network()?, Evidence::none(1).with(FindingId(0), true))?.present()[0])
    }

    /// Mutual information of cause and answer.
    fn bits(self) -> Result<f64, Error> {
        Ok(Posterior::new(&self.network()?, Evidence::none(1))?.bits()[0].unwrap_or(f64::NAN))
    }

    /// Entropy of the cause before the test.
    fn entropy(self) -> Result<f64, Error> {
        Ok(Posterior::new(&self.network()?, Evidence::none(1))?.belief().entropy_bits())
    }

    /// Entropy of the cause after a yes.
    fn entropy_after_yes(self) -> Result<f64, Error> {
        let network = self.network()?;
        let answered = Posterior::new(&network, Evidence::none(1))?.answered(FindingId(0));
        Ok(answered.and_then(|answered| answered.after_yes).map_or(f64::NAN, |belief| belief.entropy_bits()))
    }
}

fn screening() -> Vec<Check> {
    let of = |prior, with, without| Test { prior, with, without }.after_yes();
    let of_rice = "Rice, Mathematical Statistics and Data Analysis, 3rd ed.: 1 %, 80 %, 10 %";
    vec![
        BAYES.row(of_rice, 0.075, of(0.01, 0.8, 0.1)),
        BAYES.row("a course on machine learning: 0.4 %, 80 %, 10 %", 0.031, of(0.004, 0.8, 0.1)),
        BAYES.with("", 0.5e-8).row("a solved exercise: 2.38 %, 85 %, 5 %", 0.29301854, of(0.0238, 0.85, 0.05)),
    ]
}

/// Days on which tennis is not played: 5 of 14.
fn attributes() -> Vec<Check> {
    let book = Printed {
        source: "Mitchell, Machine Learning (1997), section 3.4: 14 days, gain of an attribute, as public pages print it",
        ..BAYES
    };
    let day = |with, without| Test { prior: 5.0 / 14.0, with, without };
    let (damp, windy) = (day(4.0 / 5.0, 3.0 / 9.0), day(3.0 / 5.0, 3.0 / 9.0));
    let cut = Printed { tolerance: 1e-3, because: "the book subtracts entropies of three digits", ..book };
    let four = Printed { source: "a public page with four digits of the same gains", tolerance: 0.5e-4, ..book };
    vec![
        book.row("entropy of the days", 0.940, damp.entropy()),
        book.row("entropy of the days with high humidity", 0.985, damp.entropy_after_yes()),
        book.row("gain of wind", 0.048, windy.bits()),
        cut.row("gain of humidity", 0.151, damp.bits()),
        four.row("gain of humidity", 0.1518, damp.bits()),
        four.row("gain of wind", 0.0481, windy.bits()),
    ]
}

fn channel() -> Vec<Check> {
    let page = Printed { source: "binary symmetric channel that flips one bit in ten, on a public page", ..BAYES };
    let even = Test { prior: 0.5, with: 0.9, without: 0.1 };
    vec![page.row("capacity", 0.531, even.bits()), page.row("entropy of a flip", 0.469, even.entropy_after_yes())]
}

/// Strike 0.1, oversleeping 0.4; late with 0.5 (neither), 0.6 (strike), 0.5 (oversleeping), 0.8 (both).
fn late() -> Vec<Check> {
    let page = Printed {
        source: "Fenton, The notion of explaining away evidence (Queen Mary, London): a train strike and oversleeping",
        tolerance: 0.01,
        because: "the page cuts its figures off after two digits",
        ..BAYES
    };
    let network = || {
        let cause = |name: &str, prior| Cause { name: name.into(), state: State::Prior(prior) };
        let late = Mode { name: "late".into(), leak: 0.0, links: vec![], trigger: vec![0.5, 0.6, 0.5, 0.8] };
        let link = ModeLink { mode: ModeId(0), probability: 1.0 };
        let seen = Finding { name: "seen late".into(), leak: 0.0, causes: vec![], modes: vec![link] };
        Network::new(NetworkParts {
            causes: vec![cause("strike", 0.1), cause("oversleeps", 0.4)],
            computed: vec![CauseId(0), CauseId(1)],
            modes: vec![late],
            findings: vec![seen],
        })
    };
    let seen = || Evidence::none(1).with(FindingId(0), true);
    let chance = || Ok::<f64, Error>(Posterior::new(&network()?, seen())?.evidence_probability());
    let present = |cause: usize| Ok::<f64, Error>(Posterior::new(&network()?, seen())?.present()[cause]);
    vec![
        page.row("P(late)", 0.51, chance()),
        page.row("P(strike | late)", 0.13, present(0)),
        page.row("P(oversleeping | late)", 0.41, present(1)),
    ]
}
