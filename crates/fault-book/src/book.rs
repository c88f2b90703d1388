//! The fault book: read, checked, and asked.

use crate::model::{Cause, Caution, Complaint, Finding, Mode, Plans, Removal, Step};
use crate::problem::Problem;
use crate::read::{Part, read};
use std::collections::BTreeSet;
use std::sync::LazyLock;
use toothsayer_quantity::Kind;

/// The built-in book, by subject.
const PARTS: [Part<'static>; 4] = [
    Part { name: "pinion-and-spur.toml", text: include_str!("../data/pinion-and-spur.toml") },
    Part { name: "causes.toml", text: include_str!("../data/causes.toml") },
    Part { name: "findings.toml", text: include_str!("../data/findings.toml") },
    Part { name: "steps.toml", text: include_str!("../data/steps.toml") },
];
static BUILT_IN: LazyLock<FaultBook> =
    LazyLock::new(|| FaultBook::parse_parts(&FaultBook::built_in_parts()).unwrap_or_default());

/// What is known of causes, findings and work.
#[derive(Clone, Debug, Default)]
pub struct FaultBook {
    pub(crate) name: String,
    pub(crate) source: String,
    pub(crate) plans: Plans,
    pub(crate) cautions: Vec<Caution>,
    pub(crate) removals: Vec<Removal>,
    pub(crate) modes: Vec<Mode>,
    pub(crate) complaints: Vec<Complaint>,
    pub(crate) causes: Vec<Cause>,
    pub(crate) findings: Vec<Finding>,
    pub(crate) steps: Vec<Step>,
}

/// `own` laid over `base`: what has a known id replaces it.
fn lay<T>(base: &mut Vec<T>, own: Vec<T>, id: impl Fn(&T) -> &str) {
    for entry in own {
        match base.iter().position(|known| id(known) == id(&entry)) {
            Some(place) => base[place] = entry,
            None => base.push(entry),
        }
    }
}

impl FaultBook {
    /// The book that the program carries.
    pub fn built_in() -> &'static FaultBook {
        &BUILT_IN
    }

    /// The text of the book that the program carries.
    pub fn built_in_parts() -> [Part<'static>; 4] {
        PARTS
    }

    /// Reads and checks a book of one file.
    pub fn parse(text: &str) -> Result<FaultBook, Vec<Problem>> {
        Self::parse_parts(&[Part { name: "", text }])
    }

    /// Reads and checks a book of several parts.
    pub fn parse_parts(parts: &[Part<'_>]) -> Result<FaultBook, Vec<Problem>> {
        read(parts, || Self::built_in().clone())
    }

    /// This book with the entries of `own`, which replace those of the same id.
    pub(crate) fn with(mut self, own: FaultBook) -> FaultBook {
        lay(&mut self.cautions, own.cautions, |entry| &entry.id);
        lay(&mut self.removals, own.removals, |entry| &entry.id);
        lay(&mut self.modes, own.modes, |entry| &entry.id);
        lay(&mut self.complaints, own.complaints, |entry| &entry.id);
        lay(&mut self.causes, own.causes, |entry| &entry.id);
        lay(&mut self.findings, own.findings, |entry| &entry.id);
        lay(&mut self.steps, own.steps, |entry| &entry.id);
        self.plans.always.extend(own.plans.always);
        self.plans.new_truck.extend(own.plans.new_truck);
        if !own.name.is_empty() {
            self.name = own.name;
        }
        if !own.source.is_empty() {
            self.source = format!("{}; {}", self.source, own.source);
        }
        self
    }

    /// Findings and steps in bench order.
    pub(crate) fn sorted(mut self) -> FaultBook {
        self.findings.sort_by(|a, b| a.order.total_cmp(&b.order));
        self.steps.sort_by(|a, b| a.order.total_cmp(&b.order));
        self
    }

    /// The book's name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Where its numbers come from.
    pub fn source(&self) -> &str {
        &self.source
    }

    /// Every cause.
    pub fn causes(&self) -> &[Cause] {
        &self.causes
    }

    /// Every mode.
    pub fn modes(&self) -> &[Mode] {
        &self.modes
    }

    /// Every finding, in bench order.
    pub fn findings(&self) -> &[Finding] {
        &self.findings
    }

    /// What can come off.
    pub fn removals(&self) -> &[Removal] {
        &self.removals
    }

    /// Every step, in bench order.
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// Every caution.
    pub fn cautions(&self) -> &[Caution] {
        &self.cautions
    }

    /// Every complaint.
    pub fn complaints(&self) -> &[Complaint] {
        &self.complaints
    }

    /// Steps that plans have whatever they cure.
    pub fn plans(&self) -> &Plans {
        &self.plans
    }

    /// The complaint with this id; one that this book leaves out is as in the built-in book, as far as its checks and
    /// steps are here.
    pub fn complaint(&self, id: &str) -> Option<&Complaint> {
        let own = self.complaints.iter();
        own.chain(&Self::built_in().complaints).find(|complaint| complaint.id == id)
    }

    /// The cause with this id.
    pub fn cause(&self, id: &str) -> Option<&Cause> {
        self.causes.iter().find(|cause| cause.id == id)
    }

    /// The mode with this id.
    pub fn mode(&self, id: &str) -> Option<&Mode> {
        self.modes.iter().find(|mode| mode.id == id)
    }

    /// The finding with this id.
    pub fn finding(&self, id: &str) -> Option<&Finding> {
        self.findings.iter().find(|finding| finding.id == id)
    }

    /// The step with this id.
    pub fn step(&self, id: &str) -> Option<&Step> {
        self.steps.iter().find(|step| step.id == id)
    }

    /// The removal with this id.
    pub fn removal(&self, id: &str) -> Option<&Removal> {
        self.removals.iter().find(|removal| removal.id == id)
    }

    /// The caution's words.
    pub fn caution(&self, id: &str) -> Option<&str> {
        self.cautions.iter().find(|caution| caution.id == id).map(|caution| caution.text.as_str())
    }

    /// Ids of all findings.
    pub fn finding_ids(&self) -> Vec<&str> {
        self.findings.iter().map(|finding| finding.id.as_str()).collect()
    }

    /// What a check measures, if it measures.
    pub fn measured_kind(&self, check: &str) -> Option<Kind> {
        self.finding(check)?.value.as_ref().map(|value| value.kind)
    }

    /// Everything that must come off for `needs`, each once, in the order of taking off.
    pub fn removals_for<'a>(&self, needs: impl IntoIterator<Item = &'a str>) -> Vec<&Removal> {
        let mut order = Vec::new();
        let mut seen = BTreeSet::new();
        for need in needs {
            self.take_off(need, &mut seen, &mut order);
        }
        order
    }

    fn take_off<'b>(&'b self, id: &str, seen: &mut BTreeSet<String>, order: &mut Vec<&'b Removal>) {
        if !seen.insert(id.to_owned()) {
            return;
        }
        if let Some(removal) = self.removal(id) {
            removal.needs.iter().for_each(|need| self.take_off(need, seen, order));
            order.push(removal);
        }
    }

    /// Whether `id` is among what must be off before it.
    pub(crate) fn needs_itself(&self, id: &str) -> bool {
        let mut open: Vec<&str> = vec![id];
        let mut seen = BTreeSet::new();
        while let Some(next) = open.pop() {
            for need in self.removal(next).into_iter().flat_map(|removal| &removal.needs) {
                if need == id {
                    return true;
                }
                if seen.insert(need.as_str()) {
                    open.push(need);
                }
            }
        }
        false
    }
}
