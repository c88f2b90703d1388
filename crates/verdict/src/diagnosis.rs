//! Causes: the network of the fault book with the mechanics' triggers, and what the findings say of it.

use crate::Error;
use crate::peaks::Memo;
use crate::trigger::{Asked, Chances, Computed, Triggered, Triggers, triggers};
use crate::undecided::not_too_many;
use crate::usual::{known_usual, usual};
use toothsayer_evidence::{
    Belief, Cause as Node, CauseId, CauseLink, CauseSet, Evidence, Finding as Sign, Mode as Failure, ModeId, ModeLink,
    Modes, Network, NetworkParts, Posterior, State as Known,
};
use toothsayer_fault_book::{Above, Cause, Change, Decision, FaultBook};
use toothsayer_job::{Fields, Finding, Job, Origin};

/// A cause stands out that mattered with more than this chance (no source).
const STANDS_OUT: f64 = 0.3;

/// What is believed of one cause.
#[derive(Clone, Debug)]
pub struct CauseVerdict {
    /// Its id in the fault book.
    pub id: String,
    /// P(present | evidence).
    pub present: f64,
    /// P(present, a strip happened, and none would have without it | evidence).
    pub mattered: f64,
    /// P(present) x P(it alone strips the next set within the horizon).
    pub next_set: f64,
    /// Whether the build itself decides on it.
    pub decided: bool,
    /// Whether the mechanics compute what it does.
    pub computed: bool,
}

/// An open check with what it would tell.
#[derive(Clone, Debug)]
pub struct OpenCheck {
    /// Its id in the fault book.
    pub id: String,
    /// Expected information on the causes, bits.
    pub bits: f64,
    /// Minutes, with what must come off first and is not off yet.
    pub minutes: f64,
    /// Its place among the book's findings.
    pub place: usize,
}

/// What a check would tell: chance of yes, belief after yes and after no.
pub type Told = (f64, Option<Belief>, Option<Belief>);

/// The job's causes, weighed.
pub struct Diagnosis<'a> {
    /// The job.
    pub job: &'a Job,
    /// The book.
    pub book: &'a FaultBook,
    /// The causes, as the book lists them.
    pub causes: Vec<CauseVerdict>,
    /// Open checks, the most telling a minute first.
    pub open: Vec<OpenCheck>,
    /// Causes that a finding shows to be there now, whatever brought them about.
    pub seen: CauseSet,
    /// Belief over the vectors of causes as they are now, those seen among them.
    pub belief: Belief,
    /// Beliefs after each open check's answer, as `open` lists them: chance of yes, belief after yes and after no.
    pub answered: Vec<Told>,
    /// The modes over the horizon.
    pub ahead: Modes,
    /// The same, were every blow at the low and at the high end of what model and inputs leave open.
    pub ahead_ends: [Modes; 2],
    /// What is usual.
    pub usual: Fields,
    /// The network that the causes are weighed in: the book's with the mechanics' triggers.
    pub network: Network,
    /// What is known of its findings, and whether a strip happened.
    pub evidence: Evidence,
    /// Most of the evidence's probability that was passed over, a share: 0 up to sixteen undecided causes.
    pub neglected: f64,
}

impl<'a> Diagnosis<'a> {
    /// Weighs the causes of a job.
    pub fn new(job: &'a Job, book: &'a FaultBook, memo: &Memo) -> Result<Self, Error> {
        let usual = usual(job);
        let known_usual = known_usual(job);
        let known: Vec<Option<bool>> = book.causes().iter().map(|cause| decided(cause, job, &known_usual)).collect();
        not_too_many(book, &known)?;
        let seen = seen(job, book);
        let weighed = Weighed { book, known: &known };
        let places = weighed.computed();
        let computed: Vec<Computed<'_>> = places.iter().map(|place| weighed.as_found(*place, job, seen)).collect();
        let triggers = triggers(&Asked { job, book, computed: &computed, usual: &usual }, memo)?;
        let ids: Vec<CauseId> = triggers.together.iter().map(|place| CauseId(places[*place])).collect();
        let network = Network::new(NetworkParts {
            causes: nodes(book, &known),
            computed: ids.clone(),
            modes: weighed.modes(&places, &triggers, |chances| chances.past),
            findings: signs(book),
        })?;
        let modes = |which: &dyn Fn(&Chances) -> Triggered| {
            Modes::new(known.len(), ids.clone(), weighed.modes(&places, &triggers, which))
        };
        let ahead = modes(&|chances| chances.ahead)?;
        let [low, high] = [0, 1].map(|end: usize| modes(&|chances| chances.ahead_ends[end]));
        let ahead_ends = [low?, high?];
        let evidence = evidence(job, book);
        let posterior = Posterior::new(&network, evidence.clone())?;
        let belief = posterior.belief().with_present(seen);
        let causes = verdicts(&weighed, &belief, &posterior.mattered(), &ahead);
        let (open, answered) = open_checks(job, book, &posterior, seen);
        let neglected = posterior.neglected();
        drop(posterior);
        Ok(Self {
            job,
            book,
            causes,
            open,
            seen,
            belief,
            answered,
            ahead,
            ahead_ends,
            usual,
            network,
            evidence,
            neglected,
        })
    }

    /// What is believed of a cause.
    pub fn cause(&self, id: &str) -> Option<&CauseVerdict> {
        self.causes.iter().find(|cause| cause.id == id)
    }

    /// The causes that matter for this job, the likeliest culprit first.
    pub fn ranked(&self) -> Vec<&CauseVerdict> {
        let weight = |cause: &CauseVerdict| self.concern(cause.mattered, cause.next_set);
        let mut ranked: Vec<&CauseVerdict> = self.causes.iter().collect();
        ranked.sort_by(|a, b| weight(b).total_cmp(&weight(a)));
        ranked
    }

    /// Whether the strip, where there was one, has a cause that stands out.
    pub fn stands_out(&self) -> bool {
        !self.job.strip_happened() || self.causes.iter().any(|cause| cause.mattered > STANDS_OUT)
    }

    /// What causes are ranked by.
    pub(crate) fn concern(&self, mattered: f64, next_set: f64) -> f64 {
        if self.job.strip_happened() { mattered.max(0.2 * next_set) } else { next_set }
    }
}

/// Whether the build as it came decides on the cause: yes if any condition holds, no if none does that can be told.
fn decided(cause: &Cause, job: &Job, usual: &Fields) -> Option<bool> {
    let holds = |decision: &Decision| Some(beside(decision, &job.as_it_came().fields, usual)?.passed());
    cause.decided_by.iter().filter_map(holds).reduce(|any, holds| any || holds)
}

/// A value of the build with what it must pass for a cause to be there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Passing {
    pub(crate) value: f64,
    pub(crate) limit: f64,
}

impl Passing {
    /// Whether it passes the limit, rounding aside.
    pub(crate) fn passed(self) -> bool {
        self.value > self.limit * (1.0 + 1e-9)
    }
}

/// The value of a decision beside its limit; none where one of them is not known.
pub(crate) fn beside(decision: &Decision, fields: &Fields, usual: &Fields) -> Option<Passing> {
    let value = fields.number(&decision.input)?;
    let limit = match &decision.above {
        Above::Value(limit) => *limit,
        Above::Usual(factor) => factor * usual.number(&decision.input)?,
        Above::Other { input, factor } => factor * fields.number(input)?,
    };
    Some(Passing { value, limit })
}

/// The book's causes with what the build decides of them.
struct Weighed<'a> {
    book: &'a FaultBook,
    known: &'a [Option<bool>],
}

impl<'a> Weighed<'a> {
    /// Places of the causes whose effect the mechanics compute: what they change where undecided, and what curing them
    /// changes where the build says that they are there.
    fn computed(&self) -> Vec<usize> {
        (0..self.known.len()).filter(|place| self.is_computed(*place) && self.known[*place] != Some(false)).collect()
    }

    fn is_computed(&self, place: usize) -> bool {
        let cause = &self.book.causes()[place];
        !cause.present.is_empty() || (self.known[place].is_some() && !cause.absent.is_empty())
    }

    fn as_found(&self, place: usize, job: &Job, seen: CauseSet) -> Computed<'a> {
        let cause = &self.book.causes()[place];
        let certain = self.known[place] == Some(true) || seen.contains(CauseId(place)) || answered_yes(cause, job);
        Computed { cause, certain, present: severity(cause, job, self.book) }
    }

    /// The modes with their tables, book links, and the links of computed causes outside the tables.
    fn modes(&self, places: &[usize], triggers: &Triggers, which: impl Fn(&Chances) -> Triggered) -> Vec<Failure> {
        let failure = |mode: &toothsayer_fault_book::Mode| {
            let link = |place: usize, cause: &Cause| {
                let decides = self.known[place].is_some() && self.is_computed(place) && cause.present.is_empty();
                let book = cause.modes.get(&mode.id).copied().filter(|_| mode.computed.is_none() || !decides);
                let outside = triggers.alone.iter().find(|(outside, _)| places[*outside] == place);
                let computed = outside.and_then(|(_, chances)| Some(which(chances).of(mode.computed?)));
                match (book, computed.filter(|q| *q > 0.0)) {
                    (Some(book), Some(computed)) => Some(1.0 - (1.0 - book) * (1.0 - computed)),
                    (book, computed) => book.or(computed),
                }
            };
            Failure {
                name: mode.id.clone(),
                leak: mode.leak,
                links: cause_links(self.book, link),
                trigger: mode
                    .computed
                    .map_or_else(Vec::new, |trigger| triggers.table.iter().map(|row| which(row).of(trigger)).collect()),
            }
        };
        self.book.modes().iter().map(failure).collect()
    }
}

/// Whether a check that is not the book's noise points at the cause and was answered yes.
fn answered_yes(cause: &Cause, job: &Job) -> bool {
    job.findings.iter().any(|finding| finding.yes && cause.findings.contains_key(&finding.check))
}

/// What the cause changes, with the bench's own measurement in place of the usual severity: what a finding of it adds
/// to an input that the cause moves.
fn severity(cause: &Cause, job: &Job, book: &FaultBook) -> Vec<Change> {
    let points = |finding: &&Finding| finding.yes && cause.findings.contains_key(&finding.check);
    let measured = |input: &str| {
        let mut findings = job.findings.iter().filter(points).filter(|finding| finding.value.is_some());
        findings.find_map(|finding| {
            let mut found = job.built.clone();
            found.change(&finding.effects(book), &job.built.fields, &Origin::Finding(finding.check.clone()));
            let added = found.number(input)? - job.built.number(input)?;
            (added != 0.0).then_some(added)
        })
    };
    let exact = |change: &Change| match change {
        Change::Add { input, .. } => match measured(input) {
            Some(si) => Change::Add { input: input.clone(), amount_si: si, low: si, high: si },
            None => change.clone(),
        },
        other => other.clone(),
    };
    cause.present.iter().map(exact).collect()
}

fn nodes(book: &FaultBook, known: &[Option<bool>]) -> Vec<Node> {
    let node = |(cause, known): (&Cause, &Option<bool>)| Node {
        name: cause.id.clone(),
        state: known.map_or(Known::Prior(cause.prior.mean()), Known::Known),
    };
    book.causes().iter().zip(known).map(node).collect()
}

fn signs(book: &FaultBook) -> Vec<Sign> {
    let sign = |finding: &toothsayer_fault_book::Finding| Sign {
        name: finding.id.clone(),
        leak: finding.leak,
        causes: cause_links(book, |_, cause| cause.findings.get(&finding.id).copied()),
        modes: book
            .modes()
            .iter()
            .enumerate()
            .filter_map(|(place, mode)| {
                finding.modes.get(&mode.id).map(|p| ModeLink { mode: ModeId(place), probability: *p })
            })
            .collect(),
    };
    book.findings().iter().map(sign).collect()
}

fn cause_links(book: &FaultBook, link: impl Fn(usize, &Cause) -> Option<f64>) -> Vec<CauseLink> {
    let places = book.causes().iter().enumerate();
    places
        .filter_map(|(place, cause)| {
            link(place, cause).map(|probability| CauseLink { cause: CauseId(place), probability })
        })
        .collect()
}

/// The answers, those that the complaint implies, and that a strip happened where the complaint says so.
fn evidence(job: &Job, book: &FaultBook) -> Evidence {
    let complaint = book.complaint(&job.complaint);
    let implied = |id: &str| complaint.filter(|complaint| complaint.implies.iter().any(|one| one == id)).map(|_| true);
    let given = |id: &str| job.findings.iter().find(|finding| finding.check == id).map(|finding| finding.yes);
    let answer = |id: &str| given(id).or_else(|| implied(id));
    let answers = book.findings().iter().map(|finding| answer(&finding.id)).collect();
    Evidence { answers, some_mode: job.strip_happened() }
}

fn verdicts(weighed: &Weighed<'_>, belief: &Belief, mattered: &[f64], ahead: &Modes) -> Vec<CauseVerdict> {
    let verdict = |(place, cause): (usize, &Cause)| {
        let present = belief.present(CauseId(place));
        CauseVerdict {
            id: cause.id.clone(),
            present,
            mattered: mattered[place],
            next_set: present * ahead.alone(CauseId(place)),
            decided: weighed.known[place].is_some(),
            computed: weighed.is_computed(place),
        }
    };
    weighed.book.causes().iter().enumerate().map(verdict).collect()
}

/// The causes that the job's findings show.
fn seen(job: &Job, book: &FaultBook) -> CauseSet {
    let yes = job.findings.iter().filter(|finding| finding.yes);
    yes.filter_map(|finding| book.finding(&finding.check))
        .fold(CauseSet::EMPTY, |set, entry| set.union(shown(book, entry)))
}

/// The causes that a yes to a check shows to be there: those of a check whose yes means a change of the build.
pub(crate) fn shown(book: &FaultBook, check: &toothsayer_fault_book::Finding) -> CauseSet {
    if check.means.is_empty() {
        return CauseSet::EMPTY;
    }
    let causes = book.causes().iter().enumerate().filter(|(_, cause)| cause.findings.contains_key(&check.id));
    causes.map(|(place, _)| CauseId(place)).collect()
}

fn open_checks(job: &Job, book: &FaultBook, posterior: &Posterior<'_>, seen: CauseSet) -> (Vec<OpenCheck>, Vec<Told>) {
    let done = job.findings.iter().filter_map(|finding| book.finding(&finding.check));
    let off: Vec<String> = done.flat_map(|finding| finding.needs.clone()).collect();
    let is_off: Vec<&str> =
        book.removals_for(off.iter().map(String::as_str)).iter().map(|removal| removal.id.as_str()).collect();
    let mut open: Vec<OpenCheck> = Vec::new();
    for (place, (finding, bits)) in book.findings().iter().zip(posterior.bits()).enumerate() {
        let Some(bits) = bits else { continue };
        let needed = book.removals_for(finding.needs.iter().map(String::as_str));
        let opening = needed.iter().filter(|removal| !is_off.contains(&removal.id.as_str()));
        let minutes = finding.minutes + opening.map(|removal| removal.off_minutes).sum::<f64>();
        open.push(OpenCheck { id: finding.id.clone(), bits, minutes, place });
    }
    open.sort_by(|a, b| (b.bits / b.minutes).total_cmp(&(a.bits / a.minutes)));
    let answered = open.iter().map(|check| {
        let after = posterior.answered(toothsayer_evidence::FindingId(check.place));
        let now = |belief: Option<Belief>, seen| belief.map(|belief| belief.with_present(seen));
        let by_yes = seen.union(shown(book, &book.findings()[check.place]));
        after.map_or((0.0, None, None), |after| (after.yes, now(after.after_yes, by_yes), now(after.after_no, seen)))
    });
    let answered = answered.collect();
    (open, answered)
}
