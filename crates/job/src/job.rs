//! A job: the truck in its states, what was found, what the shop charges.

use crate::build::{MissingValue, pitches};
use crate::finding::Finding;
use crate::problem::Problem;
use crate::read;
use crate::sheet::{Entry, Fields, Origin, Sheet};
use crate::shop::Shop;
use crate::start::{complete, relay, usual_driver};
use toothsayer_fault_book::{Change, FaultBook};
use toothsayer_mechanics::gear::check_same_pitch;
use toothsayer_mechanics::material::gear_material;

/// The states of a truck that a verdict may speak of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum State {
    /// As the maker sells it.
    Stock,
    /// With its owner's parts and settings, in good order.
    Built,
    /// As it came to the bench.
    Found,
    /// With the recommended repair.
    Proposed,
    /// As it was measured when the work was done.
    After,
}

impl State {
    /// Every state, in the order of a truck's life.
    pub const ALL: [State; 5] = [State::Stock, State::Built, State::Found, State::Proposed, State::After];

    /// Its word.
    pub fn name(self) -> &'static str {
        match self {
            State::Stock => "stock",
            State::Built => "built",
            State::Found => "found",
            State::Proposed => "proposed",
            State::After => "after",
        }
    }
}

/// A value that nobody measured or stated.
#[derive(Clone, Debug, PartialEq)]
pub struct Assumption {
    /// Its key; fields of a joint carry the joint's name before it.
    pub key: String,
    /// Registry key.
    pub input: &'static str,
    /// The value with its range; none for words.
    pub entry: Option<Entry>,
    /// The word; none for numbers.
    pub word: Option<String>,
    /// Where it comes from.
    pub origin: Origin,
}

/// One job.
#[derive(Clone, Debug)]
pub struct Job {
    /// What the customer came with ("stripped", "check", ...).
    pub complaint: String,
    /// Whether the book says of that complaint that the teeth went.
    pub stripped: bool,
    /// Runs since the gears were new.
    pub runs_since_gears: f64,
    /// As sold; the built truck where the file names no other parts.
    pub stock: Sheet,
    /// Whether the file names what the maker sold.
    pub has_stock: bool,
    /// As built, complete.
    pub built: Sheet,
    /// As found; none where nothing was found.
    pub found: Option<Sheet>,
    /// What was measured when the work was done, to be laid over the proposed state.
    pub after: Option<Sheet>,
    /// The answered checks.
    pub findings: Vec<Finding>,
    /// Prices.
    pub shop: Shop,
    /// Where the file speaks twice, and what was taken.
    pub warnings: Vec<String>,
    /// The driver that is usual in the truck's class.
    pub usual_driver: Fields,
}

/// Why a file makes no job.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum JobError {
    /// The file has problems, all of them.
    #[error("{} in the job file", count(.0.len()))]
    Problems(Vec<Problem>),
    /// A value that the computation needs is neither given nor assumed.
    #[error("{0}")]
    Missing(#[from] MissingValue),
}

fn count(problems: usize) -> String {
    if problems == 1 { "one problem".into() } else { format!("{problems} problems") }
}

impl Job {
    /// Reads a job file and fills what it leaves open.
    pub fn parse(text: &str, book: &FaultBook) -> Result<Job, JobError> {
        let document = read::document(text, book).map_err(JobError::Problems)?;
        let built = complete(&document.built);
        let stock = document.stock.as_ref().map(|over| relay(&built, over));
        let mut warnings = Vec::new();
        let found = found(&built, document.found.as_ref(), &document.findings, book, &mut warnings);
        warnings.extend(found.as_ref().and_then(mixed_pitch));
        warnings.extend(document.findings.iter().filter_map(|finding| contradicts(finding, book)));
        for sheet in [Some(&built), stock.as_ref(), found.as_ref()].into_iter().flatten() {
            let off = ["pinion", "spur"].iter().filter_map(|gear| off_the_line(sheet, gear));
            let new: Vec<String> = off.filter(|told| !warnings.contains(told)).collect();
            warnings.extend(new);
        }
        let job = Job {
            stripped: book.complaint(&document.complaint).is_some_and(|complaint| complaint.stripped),
            complaint: document.complaint,
            runs_since_gears: document.runs_since_gears,
            has_stock: stock.is_some(),
            stock: stock.unwrap_or_else(|| built.clone()),
            found,
            after: document.after,
            findings: document.findings,
            shop: document.shop,
            warnings,
            usual_driver: usual_driver(&built),
            built,
        };
        for sheet in [Some(&job.stock), Some(&job.built), job.found.as_ref()].into_iter().flatten() {
            sheet.build()?;
        }
        Ok(job)
    }

    /// The truck as it came: as found, or as built where nothing was found.
    pub fn as_it_came(&self) -> &Sheet {
        self.found.as_ref().unwrap_or(&self.built)
    }

    /// Whether the complaint says that the teeth went.
    pub fn strip_happened(&self) -> bool {
        self.stripped
    }

    /// Every value that nobody measured or stated.
    pub fn assumptions(&self) -> Vec<Assumption> {
        let own = self.built.fields.keys().filter_map(|key| assumption(&self.built.fields, key, String::new()));
        let joints = self.built.joints.iter().flat_map(|joint| {
            let prefix = format!("{}: ", joint.name);
            joint.fields.keys().filter_map(move |key| assumption(&joint.fields, key, prefix.clone()))
        });
        own.chain(joints).collect()
    }
}

fn assumption(fields: &Fields, key: &'static str, prefix: String) -> Option<Assumption> {
    let entry = fields.numbers.get(key).cloned();
    let word = fields.words.get(key).cloned();
    let origin = entry.as_ref().map(|entry| &entry.origin).or(word.as_ref().map(|word| &word.origin))?.clone();
    let told = origin.is_assumed() && key != "truck.name";
    let named = format!("{prefix}{}", key.strip_prefix("joints.").unwrap_or(key));
    told.then_some(Assumption { key: named, input: key, entry, word: word.map(|word| word.text), origin })
}

/// Says of gears that do not belong together what is computed all the same.
fn mixed_pitch(sheet: &Sheet) -> Option<String> {
    let [pinion, spur] = pitches(&sheet.fields)?;
    let error = check_same_pitch(pinion, spur).err()?;
    Some(format!("as found, {error}; everything but the pitch is computed with the pair's `gears.module`"))
}

/// Says of a hardness that its material's strength line does not cover where it is taken.
fn off_the_line(sheet: &Sheet, gear: &str) -> Option<String> {
    let entry = sheet.fields.numbers.get(format!("gears.{gear}.hardness").as_str())?;
    let material = gear_material(sheet.fields.word(&format!("gears.{gear}.material"))?).ok()?;
    let range = material.hardness.filter(|_| !entry.origin.is_assumed())?;
    let (least, most) = (range.least.to_hv(), range.most.to_hv());
    // A reading at the very end may come from another scale.
    let off = entry.value < least - 1.0 || entry.value > most + 1.0;
    off.then(|| {
        format!(
            "the {gear}'s {:.0} HV lie outside the {least:.0} to {most:.0} HV of {}: its strength is taken at the nearer end",
            entry.value, material.name
        )
    })
}

/// The found state: the built one, what was measured laid over it, then what the findings set.
fn found(
    built: &Sheet,
    measured: Option<&Sheet>,
    findings: &[Finding],
    book: &FaultBook,
    warnings: &mut Vec<String>,
) -> Option<Sheet> {
    let effects: Vec<(&Finding, Vec<Change>)> = findings
        .iter()
        .filter(|finding| finding.yes)
        .map(|finding| (finding, finding.effects(book)))
        .filter(|(_, changes)| !changes.is_empty())
        .collect();
    if measured.is_none_or(Sheet::is_empty) && effects.is_empty() {
        return None;
    }
    let mut sheet = measured.map_or_else(|| built.clone(), |over| relay(built, over));
    for (finding, changes) in &effects {
        prefer_finding(&mut sheet, built, measured, finding, changes, warnings);
        sheet.change(changes, &built.fields, &Origin::Finding(finding.check.clone()));
    }
    Some(sheet)
}

/// A measured value that says the other thing than the answer beside it.
fn contradicts(finding: &Finding, book: &FaultBook) -> Option<String> {
    let measured = book.finding(&finding.check)?.value.as_ref()?;
    let (value, limit) = (finding.value?, measured.yes_above?);
    let (answer, says) = if finding.yes { ("yes", "no") } else { ("no", "yes") };
    let shown = |si: f64| toothsayer_quantity::show(measured.kind, si, toothsayer_quantity::System::Metric);
    (finding.yes != (value > limit)).then(|| {
        format!(
            "the finding \"{}\" is answered {answer}, but {} says {says} (yes is above {}): the answer was taken",
            finding.check,
            shown(value),
            shown(limit)
        )
    })
}

/// Where [found] and a finding speak of the same input the finding wins, and says so.
fn prefer_finding(
    sheet: &mut Sheet,
    built: &Sheet,
    measured: Option<&Sheet>,
    finding: &Finding,
    changes: &[Change],
    warnings: &mut Vec<String>,
) {
    for key in changes.iter().filter_map(Change::input) {
        if measured.is_some_and(|over| over.fields.has(key)) {
            warnings.push(format!(
                "[found] and the finding \"{}\" both speak of `{key}`: the finding was taken",
                finding.check
            ));
            if let (Some(input), Some(entry)) = (toothsayer_inputs::find(key), built.fields.numbers.get(key)) {
                sheet.fields.numbers.insert(input.key, entry.clone());
            }
        }
    }
}
