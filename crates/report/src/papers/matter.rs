//! What the papers are written from: a verdict with its margins and care, and what the shop writes above it.

use super::agreed::{Offered, OwnLine, minutes_with, with_lines};
use super::standing::Standing;
use crate::Error;
use crate::typeset::{Fact, PaperSize, Words};
use crate::words::chance;
use jiff::civil::Date;
use toothsayer_figures::{BayScene, Figure, Frame, Look, Within, gear_bay};
use toothsayer_job::State;
use toothsayer_quantity::{Money, System};
use toothsayer_verdict::{Alternative, CareItem, Memo, Staged, StateMargins, Statement, Verdict};

/// Width of the drawings on paper, px: wide enough that their panels stand side by side, and their letters 7 pt high.
const DRAWING_PX: f64 = 780.0;
/// Widths of the page's drawings, px.
const PAGE_PX: [(&str, f64); 2] = [("wide", 984.0), ("narrow", 372.0)];
/// Letters of a name that are printed; what is longer ends with dots.
const LONGEST_NAME: usize = 120;
/// Letters of the notes.
const LONGEST_NOTES: usize = 6000;

/// What the shop writes on a paper; nothing of it is needed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cover {
    /// The shop.
    pub shop: Option<String>,
    /// Whose truck it is.
    pub customer: Option<String>,
    /// The job's number in the shop.
    pub number: Option<String>,
    /// The day.
    pub date: Option<Date>,
    /// Notes, in paragraphs.
    pub notes: Option<String>,
    /// Photos, in order.
    pub photos: Vec<Photo>,
    /// The repair that the customer took, as it was offered; the recommended one is told of where there is none.
    pub taken: Option<Offered>,
    /// What the shop added to the repair, in its own words.
    pub lines: Vec<OwnLine>,
    /// Up to which price the customer's yes goes; none without a yes, and where nobody has to give one.
    pub agreed: Option<Money>,
    /// Whether the shop or the maker pays.
    pub is_free: bool,
    /// How far the job is; done where nobody says.
    pub standing: Standing,
    /// The parts that were noted as fitted; none where nobody keeps a list of them.
    pub fitted: Option<Vec<String>>,
}

/// A photo as a file holds it.
#[derive(Clone, Debug, PartialEq)]
pub struct Photo {
    /// What is to be seen.
    pub told: String,
    /// JPEG or PNG.
    pub bytes: Vec<u8>,
}

/// What the papers of a job are written from.
pub struct Matter<'a> {
    /// The verdict.
    pub verdict: &'a Verdict<'a>,
    /// Its simulations.
    pub memo: &'a Memo,
    /// The margins of every state.
    pub margins: &'a [StateMargins],
    /// The care plan.
    pub care: &'a [CareItem],
    /// At which step what falls short.
    pub statement: &'a Statement,
    /// What the shop writes on it.
    pub cover: &'a Cover,
    /// Units that people see.
    pub system: System,
    /// The sheet.
    pub size: PaperSize,
}

impl<'a> Matter<'a> {
    /// The truck's name.
    pub(crate) fn truck(&self) -> String {
        shortened(self.verdict.job.built.fields.word("truck.name").unwrap_or("Truck"), LONGEST_NAME)
    }

    /// Shop, customer, number and day, as far as they are given.
    pub(crate) fn under_title(&self) -> String {
        let Cover { shop, customer, number, date, .. } = self.cover;
        let name = |text: &String| shortened(text, LONGEST_NAME);
        let parts = [
            shop.as_ref().map(name),
            customer.as_ref().map(|customer| format!("for {}", name(customer))),
            number.as_ref().map(|number| format!("job {}", name(number))),
            date.map(|date| date.to_string()),
        ];
        parts.into_iter().flatten().collect::<Vec<_>>().join(" · ")
    }

    /// The notes in paragraphs.
    pub(crate) fn notes(&self) -> Vec<String> {
        let text = self.cover.notes.as_deref().map_or_else(String::new, |text| shortened(text, LONGEST_NOTES));
        text.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect()
    }

    /// The frame of drawings.
    pub(crate) fn frame(&self) -> Result<Frame, Error> {
        Ok(Frame::new(DRAWING_PX, Look::Light, self.system)?)
    }

    /// The frames of the page's drawings: for a desk, and for a phone.
    pub(crate) fn page_frames(&self) -> Result<[Frame; 2], Error> {
        let frame = |(variant, width_px)| {
            let within = Within { variant, styled: true, linked: false };
            Frame::new(width_px, Look::Page, self.system).map(|frame| frame.within(within))
        };
        let [wide, narrow] = PAGE_PX.map(frame);
        Ok([wide?, narrow?])
    }

    /// The margins of a state.
    pub(crate) fn of(&self, state: State) -> Option<&'a StateMargins> {
        self.margins.iter().find(|margins| margins.state == state)
    }

    /// The truck as it leaves: as measured after the work, else as the recommended repair would leave it.
    pub(crate) fn leaving(&self) -> Option<&'a StateMargins> {
        self.of(State::After).or_else(|| self.of(State::Proposed)).or_else(|| self.of(State::Built))
    }

    /// The truck as it came.
    pub(crate) fn came(&self) -> Option<&'a StateMargins> {
        self.of(State::Found).or_else(|| self.of(State::Built))
    }

    /// The gear bay as it came.
    pub(crate) fn bay(&self, frame: &Frame) -> Result<Figure, Error> {
        let stage: &Staged = self.verdict.stage(State::Found)?;
        Ok(gear_bay(&[BayScene { stage, margins: self.of(stage.state) }], frame)?)
    }

    /// The same without its margins, as the customer sees it.
    pub(crate) fn plain_bay(&self, frame: &Frame) -> Result<Figure, Error> {
        Ok(gear_bay(&[BayScene { stage: self.verdict.stage(State::Found)?, margins: None }], frame)?)
    }

    pub(crate) fn recommended(&self) -> Option<&'a Alternative> {
        self.verdict.plan.recommended()
    }

    /// The repair that was taken, the recommended one where none was; none where the plan has what was taken no more.
    pub(crate) fn repair(&self) -> Option<&'a Alternative> {
        let Some(taken) = &self.cover.taken else { return self.recommended() };
        taken.find_in(&self.verdict.plan.alternatives, self.verdict.job)
    }

    /// What was taken and is no longer in the plan.
    pub(crate) fn gone(&self) -> Option<&'a Offered> {
        self.cover.taken.as_ref().filter(|_| self.repair().is_none())
    }

    /// Whether the repair is the recommended one, which the state proposed is computed for.
    pub(crate) fn takes_recommended(&self) -> bool {
        let cures = |one: Option<&'a Alternative>| one.map(|one| &one.cures);
        cures(self.repair()) == cures(self.recommended())
    }

    /// What the work costs: what was taken as it was offered, with the shop's own lines.
    pub(crate) fn price(&self) -> Option<Money> {
        let taken = self.cover.taken.as_ref().map(|taken| taken.price);
        taken.or_else(|| self.repair().map(|repair| repair.price)).map(|price| with_lines(price, &self.cover.lines))
    }

    /// Up to which price was agreed, and the price, where it is above that.
    pub(crate) fn rose(&self) -> Option<[Money; 2]> {
        let (agreed, price) = self.cover.agreed.zip(self.price())?;
        (price.minor > agreed.minor).then_some([agreed, price])
    }

    /// Minutes of a repair with those of the shop's own lines.
    pub(crate) fn minutes_of(&self, repair: &Alternative) -> f64 {
        minutes_with(repair.minutes, &self.cover.lines)
    }

    /// The price of a repair with the shop's own lines.
    pub(crate) fn price_of(&self, repair: &Alternative) -> Money {
        with_lines(repair.price, &self.cover.lines)
    }

    /// The chance of a comeback with the recommended repair.
    pub(crate) fn comeback(&self) -> Option<String> {
        self.recommended().map(|best| self.comeback_of(best))
    }

    /// "The chance of a comeback within 50 runs is 16 %; with new gears only it would be 94 %."
    pub(crate) fn comeback_of(&self, best: &Alternative) -> String {
        let runs = self.verdict.job.shop.horizon_runs;
        let told = format!("The chance of a comeback within {runs:.0} runs is {}", chance(best.comeback));
        match self.gears_beside(best) {
            Some(gears) => format!("{told}; with new gears only it would be {}.", chance(gears.comeback)),
            None => format!("{told}."),
        }
    }

    /// New gears only, where teeth went and a repair is more than that.
    pub(crate) fn gears_beside(&self, best: &Alternative) -> Option<&'a Alternative> {
        let gears = self.verdict.plan.alternative(toothsayer_verdict::NEW_GEARS_ONLY);
        gears.filter(|gears| gears.cures != best.cures && self.verdict.job.strip_happened())
    }

    /// A caution's words by its id.
    pub(crate) fn caution(&self, id: &str) -> Option<String> {
        self.verdict.diagnosis.book.caution(id).map(str::to_owned)
    }

    /// Name, mass, cells, motor and gears: which truck this is.
    pub(crate) fn truck_facts(&self) -> Vec<Fact> {
        let fields = &self.verdict.job.built.fields;
        let shown_in = |key: &str, system: System| {
            let kind = toothsayer_inputs::find(key).map(toothsayer_inputs::Input::kind)?;
            Some(crate::words::value(kind, fields.number(key)?, system))
        };
        let shown = |key: &str| shown_in(key, self.system);
        let teeth = |gear: &str| fields.number(&format!("gears.{gear}.teeth")).map(|teeth| format!("{teeth:.0}"));
        let mut facts = vec![Fact { name: "truck".into(), words: Words::strong(self.truck()) }];
        let mut put = |name: &str, text: Option<String>| {
            facts.extend(text.map(|text| Fact { name: name.into(), words: text.into() }));
        };
        put("mass ready to run", shown("truck.mass"));
        put("cells in series", fields.number("battery.cells").map(|cells| format!("{cells:.0}")));
        put("motor", shown("motor.kv"));
        // A module is told in mm everywhere.
        let pair = teeth("pinion").zip(teeth("spur")).zip(shown_in("gears.module", System::Metric));
        put("gears", pair.map(|((pinion, spur), module)| format!("{pinion}/{spur} teeth, module {module}")));
        facts
    }
}

/// At most so many letters, with dots where it was longer.
pub(crate) fn shortened(text: &str, most: usize) -> String {
    let text = text.trim();
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let kept: String = text.chars().take(most).collect();
    format!("{}…", kept.trim_end())
}
