//! The fault book: read, checked, and asked.

use crate::check::check;
use crate::model::{Cause, Caution, Finding, Mode, Removal, Step};
use crate::problem::{Problem, place, place_of_id};
use crate::raw::{Fault, RawBook};
use std::collections::BTreeSet;
use std::sync::LazyLock;
use toothsayer_quantity::Kind;

static TEXT: &str = include_str!("../data/pinion-and-spur.toml");
static BUILT_IN: LazyLock<FaultBook> = LazyLock::new(|| FaultBook::parse(TEXT).unwrap_or_default());

/// What is known of causes, findings and work.
#[derive(Clone, Debug, Default)]
pub struct FaultBook {
    name: String,
    source: String,
    cautions: Vec<Caution>,
    removals: Vec<Removal>,
    modes: Vec<Mode>,
    causes: Vec<Cause>,
    findings: Vec<Finding>,
    steps: Vec<Step>,
}

impl FaultBook {
    /// The book that the program carries.
    pub fn built_in() -> &'static FaultBook {
        &BUILT_IN
    }

    /// Reads and checks a book.
    pub fn parse(text: &str) -> Result<FaultBook, Vec<Problem>> {
        let raw: RawBook = toml::from_str(text).map_err(|error| vec![syntax(text, &error)])?;
        let mut problems = Vec::new();
        let mut keep = |id: &str, fault: Fault| {
            let (line, column) = place_of_id(text, id);
            let Fault { message, hint } = fault;
            problems.push(Problem { line, column, id: id.to_owned(), message, hint });
        };
        let mut causes = Vec::new();
        for cause in raw.causes {
            let id = cause.id.clone();
            cause.read().map_or_else(|fault| keep(&id, fault), |cause| causes.push(cause));
        }
        let mut findings = Vec::new();
        for finding in raw.findings {
            let id = finding.id.clone();
            finding.read().map_or_else(|fault| keep(&id, fault), |finding| findings.push(finding));
        }
        findings.sort_by_key(|finding: &Finding| finding.order);
        let mut steps = raw.steps;
        steps.sort_by_key(|step| step.order);
        let (name, source, cautions, removals, modes) = (raw.name, raw.source, raw.cautions, raw.removals, raw.modes);
        let book = FaultBook { name, source, cautions, removals, modes, causes, findings, steps };
        if problems.is_empty() {
            problems = check(&book, text);
        }
        if problems.is_empty() { Ok(book) } else { Err(problems) }
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

fn syntax(text: &str, error: &toml::de::Error) -> Problem {
    let (line, column) = place(text, error.span().map_or(0, |span| span.start));
    let hint = "the sections are cautions, removals, modes, causes, findings, steps".to_owned();
    Problem { line, column, id: String::new(), message: error.message().replace('\n', ", "), hint }
}
