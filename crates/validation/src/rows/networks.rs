//! Textbook networks.

use crate::check::{Check, Printed, Status};
use toothsayer_evidence::{
    Cause, CauseId, CauseLink, Error, Evidence, Finding, FindingId, Mode, ModeId, ModeLink, Network, NetworkParts,
    Posterior, State, normal_cdf, normal_quantile,
};

const SUBJECT: &str = "Inference";

pub(super) fn rows() -> Vec<Check> {
    [burglary(), fever(), quantiles()].concat()
}

/// Burglary, earthquake, alarm, two neighbours who call: the alarm is a mode whose table is its trigger, a call is a
/// noisy-OR with leak l and link 1 − (1 − p)/(1 − l).
fn burglary_network() -> Result<Network, Error> {
    let cause = |name: &str, prior| Cause { name: name.into(), state: State::Prior(prior) };
    let trigger = vec![0.001, 0.94, 0.29, 0.95];
    Network::new(NetworkParts {
        causes: vec![cause("burglary", 0.001), cause("earthquake", 0.002)],
        computed: vec![CauseId(0), CauseId(1)],
        modes: vec![Mode { name: "alarm".into(), leak: 0.0, links: vec![], trigger }],
        findings: vec![call(0.05, 0.90), call(0.01, 0.70)],
    })
}

fn burglary() -> Vec<Check> {
    let book = Printed {
        subject: SUBJECT,
        source: "Russell and Norvig, Artificial Intelligence, the burglary network",
        status: Status::Printed,
        unit: "",
        tolerance: 0.5e-6,
        because: "half of the last printed digit",
    };
    let both = Evidence::none(2).with(FindingId(0), true).with(FindingId(1), true);
    let given_both = || -> Result<f64, Error> { Ok(Posterior::new(&burglary_network()?, both.clone())?.present()[0]) };
    let john = |burglar: bool| -> Result<f64, Error> {
        let known = |name: &str, state| Cause { name: name.into(), state };
        let parts = NetworkParts {
            causes: vec![known("burglary", State::Known(burglar)), known("earthquake", State::Prior(0.002))],
            computed: vec![CauseId(0), CauseId(1)],
            modes: vec![Mode {
                name: "alarm".into(),
                leak: 0.0,
                links: vec![],
                trigger: vec![0.001, 0.94, 0.29, 0.95],
            }],
            findings: vec![call(0.05, 0.90), call(0.01, 0.70)],
        };
        let network = Network::new(parts)?;
        Ok(Posterior::new(&network, Evidence::none(2).with(FindingId(0), true))?.evidence_probability())
    };
    vec![
        book.with("", 0.5e-3).row("P(burglary | both call)", 0.284, given_both()),
        book.row("P(john calls | burglary)", 0.849017, john(true)),
    ]
}

fn call(leak: f64, p: f64) -> Finding {
    let modes = vec![ModeLink { mode: ModeId(0), probability: 1.0 - (1.0 - p) / (1.0 - leak) }];
    Finding { name: "a call".into(), leak, causes: vec![], modes }
}

fn fever() -> Vec<Check> {
    let book = Printed {
        subject: SUBJECT,
        source: "Russell and Norvig, noisy-OR of cold (0.6), flu (0.2) and malaria (0.1): P(fever)",
        status: Status::Printed,
        unit: "",
        tolerance: 1e-12,
        because: "rounding",
    };
    let chance = |row: usize| -> Result<f64, Error> {
        let inhibition = [0.6, 0.2, 0.1];
        let known = |(bit, name): (usize, &str)| Cause { name: name.into(), state: State::Known(row >> bit & 1 == 1) };
        let link = |place: usize| CauseLink { cause: CauseId(place), probability: 1.0 - inhibition[place] };
        let fever = Finding { name: "fever".into(), leak: 0.0, causes: (0..3).map(link).collect(), modes: vec![] };
        let causes = ["cold", "flu", "malaria"].into_iter().enumerate().map(known).collect();
        let network = Network::new(NetworkParts { causes, computed: vec![], modes: vec![], findings: vec![fever] })?;
        let answered = Posterior::new(&network, Evidence::none(1))?.answered(FindingId(0));
        Ok(answered.map_or(f64::NAN, |answered| answered.yes))
    };
    let rows = [
        ("none", 0.0),
        ("cold", 0.4),
        ("flu", 0.8),
        ("cold and flu", 0.88),
        ("malaria", 0.9),
        ("cold and malaria", 0.94),
        ("flu and malaria", 0.98),
        ("all three", 0.988),
    ];
    rows.iter().enumerate().map(|(row, (name, p))| book.row(*name, *p, chance(row))).collect()
}

fn quantiles() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "NIST/SEMATECH e-Handbook, table 1.3.6.7.1, and its quantiles of the normal distribution",
        status: Status::Memory,
        unit: "",
        tolerance: 0.5e-5,
        because: "half of the last printed digit",
    };
    let cdf = [(0.5, 0.69146), (1.0, 0.84134), (1.645, 0.95002), (1.96, 0.97500), (2.326, 0.98999), (3.0, 0.99865)];
    let mut rows: Vec<Check> = cdf.iter().map(|(z, p)| table.sure(format!("Φ({z})"), *p, normal_cdf(*z))).collect();
    let quantile = [(0.9, 1.28155), (0.95, 1.64485), (0.975, 1.95996), (0.99, 2.32635), (0.999, 3.09023)];
    rows.extend(quantile.iter().map(|(p, z)| table.sure(format!("quantile of {p}"), *z, normal_quantile(*p))));
    rows
}
