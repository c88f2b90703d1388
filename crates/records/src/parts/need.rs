//! What a job needs of the parts, and its way: wanted, ordered, arrived, used, returned.

use super::fit::{KeptGear, Measures, PartRefusal, differences};
use super::part::Part;
use super::stock::{StockChange, on_shelf};
use crate::error::{Error, Result};
use crate::id::Id;
use crate::job::Job;
use crate::moment::Moment;
use crate::reach::{Reach, list};
use crate::record::{Record, Saved};
use crate::sql;
use crate::table::{Column, Kind, Table};
use crate::write::Write;
use serde::{Deserialize, Serialize};

/// Where a needed part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum NeedState {
    /// It has to be found on the shelf or ordered.
    Wanted,
    /// It is on its way.
    Ordered,
    /// It lies on the shelf for this job.
    Arrived,
    /// It is in the truck.
    Used,
    /// It went back to the supplier.
    Returned,
    /// It is not needed any more.
    Dropped,
}

use NeedState::{Arrived, Dropped, Ordered, Returned, Used, Wanted};

/// Every step of a need's way, with what the shelf tells of it. The tables hold the same list.
const CYCLE: [(NeedState, NeedState, Option<StockChange>); 12] = [
    (Wanted, Ordered, None),
    (Wanted, Used, Some(StockChange::Used)),
    (Wanted, Dropped, None),
    (Ordered, Arrived, Some(StockChange::Arrived)),
    (Ordered, Wanted, None),
    (Ordered, Dropped, None),
    (Arrived, Used, Some(StockChange::Used)),
    (Arrived, Returned, Some(StockChange::Returned)),
    (Arrived, Wanted, None),
    (Used, Arrived, Some(StockChange::PutBack)),
    (Returned, Wanted, None),
    (Dropped, Wanted, None),
];

impl NeedState {
    /// Every state with its word.
    const WORDS: [(NeedState, &'static str); 6] = [
        (Wanted, "wanted"),
        (Ordered, "ordered"),
        (Arrived, "arrived"),
        (Used, "used"),
        (Returned, "returned"),
        (Dropped, "dropped"),
    ];

    /// Its word.
    pub fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(state, _)| *state == self).map_or("", |(_, word)| word)
    }

    /// The state of a word.
    pub fn of_word(word: &str) -> Option<NeedState> {
        Self::WORDS.iter().find(|(_, own)| *own == word).map(|(state, _)| *state)
    }

    /// What may follow.
    pub fn next(self) -> impl Iterator<Item = NeedState> {
        CYCLE.into_iter().filter(move |(from, _, _)| *from == self).map(|(_, to, _)| to)
    }

    pub(super) fn next_words(self) -> String {
        self.next().map(NeedState::word).collect::<Vec<_>>().join(", ")
    }
}

/// Parts that a job needs, or that the shelf is filled up with.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Need {
    /// Its id.
    pub id: Id<Need>,
    /// For which job; none for the shelf.
    pub job: Option<Id<Job>>,
    /// Which part of the list; none until one is chosen.
    pub part: Option<Id<Part>>,
    /// What is needed, in the fault book's words ("pinion 19").
    pub text: String,
    /// Which gear it must be, where it is one.
    #[serde(flatten)]
    pub gear: KeptGear,
    /// How many.
    pub quantity: i64,
    /// Where it is.
    pub state: NeedState,
    /// What else there is to say.
    pub note: String,
    /// Counts the changes.
    pub version: i64,
    /// When it was last changed.
    pub changed: Moment,
}

impl Record for Need {
    const TABLE: &'static Table = &NEED;
}

pub(crate) const NEED: Table = Table {
    name: "need",
    one: "needed part",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("job", Kind::Id).optional(),
        Column::new("part", Kind::Id).optional(),
        Column::text("text").personal(),
        Column::new("gear", Kind::Word(&["pinion", "spur"])).optional(),
        Column::new("teeth", Kind::Integer).optional(),
        Column::new("module_nm", Kind::Integer).optional(),
        Column::new("bore_nm", Kind::Integer).optional(),
        Column::new("quantity", Kind::Integer),
        Column::new("state", Kind::Word(&["wanted", "ordered", "arrived", "used", "returned", "dropped"])),
        Column::text("note").personal(),
        Column::new("version", Kind::Integer),
        Column::new("changed", Kind::Time),
    ],
};

impl Need {
    /// One piece of something that a job needs.
    pub fn new(write: &Write, job: Id<Job>, text: &str) -> Self {
        Self {
            id: write.id(),
            job: Some(job),
            part: None,
            text: text.to_owned(),
            gear: KeptGear::default(),
            quantity: 1,
            state: Wanted,
            note: String::new(),
            version: 1,
            changed: write.now(),
        }
    }

    /// Pieces that fill up the shelf.
    pub fn for_shelf(write: &Write, part: &Part, quantity: i64) -> Self {
        let (id, text, changed) = (write.id(), part.name.clone(), write.now());
        let (job, gear, part, note) = (None, part.gear, Some(part.id), String::new());
        Self { id, job, part, text, gear, quantity, state: Wanted, note, version: 1, changed }
    }

    /// The same as a gear of these measures.
    pub fn of(self, measures: &Measures) -> Self {
        Self { gear: measures.into(), ..self }
    }

    /// What gear it must be, where it is one.
    pub fn measures(&self) -> Option<Measures> {
        self.gear.measures()
    }
}

/// A job's needs.
///
/// # Errors
/// The database does not answer.
pub async fn needs_of(at: &impl Reach, job: Id<Job>) -> Result<Vec<Need>> {
    list(at, NEEDS, vec![sql::text(job)]).await
}

/// Who needs a part that is not there yet, jobs and shelf: what is wanted and what is on its way.
///
/// # Errors
/// The database does not answer.
pub async fn needs_for(at: &impl Reach, part: Id<Part>) -> Result<Vec<Need>> {
    let tail = "WHERE part = $1 AND state IN ('wanted', 'ordered') ORDER BY id";
    list(at, tail, vec![sql::text(part)]).await
}

/// Everything that was ordered and has not come, for jobs and for the shelf.
///
/// # Errors
/// The database does not answer.
pub async fn needs_ordered(at: &impl Reach) -> Result<Vec<Need>> {
    list(at, "WHERE state = 'ordered' AND part IS NOT NULL ORDER BY id", vec![]).await
}

impl Write {
    /// Chooses a part of the list for a need.
    ///
    /// # Errors
    /// It is another gear than the one that is needed: the error says what differs.
    pub async fn choose(&self, need: &Need, part: &Part) -> Result<Saved<Need>> {
        fits(need, part)?;
        self.save(Need { part: Some(part.id), ..need.clone() }).await
    }

    /// Leads a need to its next state; pieces come to the shelf or leave it in the same write.
    ///
    /// # Errors
    /// Its way has no such step, no part was chosen, it is the wrong one, or too few pieces lie on the shelf.
    pub async fn lead_need(&self, need: &Need, to: NeedState) -> Result<Saved<Need>> {
        let now: Need = self.get(need.id).await?;
        let led = Need { state: to, ..need.clone() };
        if now.version != need.version {
            return Ok(Saved::Clash { yours: led, theirs: now });
        }
        let step = CYCLE.into_iter().find(|(from, next, _)| (*from, *next) == (now.state, to));
        let (_, _, change) = step.ok_or(PartRefusal::NotNext { from: now.state, to })?;
        if !matches!(to, Wanted | Dropped) {
            let id = need.part.ok_or_else(|| PartRefusal::NotChosen { text: need.text.clone() })?;
            let part: Part = self.get(id).await?;
            fits(need, &part)?;
            if let Some(change) = change {
                self.move_pieces(need, &part, change).await?;
            }
        }
        self.save(led).await
    }

    async fn move_pieces(&self, need: &Need, part: &Part, change: StockChange) -> Result<()> {
        let there = on_shelf(self, part.id).await?;
        if change.takes() && there < need.quantity {
            let (part, on_shelf, wanted) = (part.name.clone(), there, need.quantity);
            return Err(Error::Part(PartRefusal::TooFew { part, on_shelf, wanted }));
        }
        let pieces = if change.takes() { -need.quantity } else { need.quantity };
        self.stock_line(part.id, Some(need.id), change, pieces, "").await.map(|_| ())
    }
}

impl Need {
    /// Whether a part is what is needed, as far as both are measured.
    pub fn takes(&self, part: &Part) -> bool {
        fits(self, part).is_ok()
    }
}

fn fits(need: &Need, part: &Part) -> Result<()> {
    let Some(wanted) = need.measures() else { return Ok(()) };
    let differs = differences(&wanted, part.measures().as_ref());
    if differs.is_empty() { Ok(()) } else { Err(PartRefusal::Wrong { part: part.name.clone(), differs }.into()) }
}

/// The end of the question for a job's needs.
pub(crate) const NEEDS: &str = "WHERE job = $1 ORDER BY id";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_and_states_are_one_to_one() {
        for (state, word) in NeedState::WORDS {
            assert_eq!(serde_json::to_value(state).unwrap(), word);
            assert_eq!((state.word(), NeedState::of_word(word)), (word, Some(state)));
        }
    }

    #[test]
    fn what_is_used_is_never_ordered_after_the_fact() {
        assert_eq!(Used.next().collect::<Vec<_>>(), [Arrived]);
        let refused = PartRefusal::NotNext { from: Used, to: Ordered };
        assert_eq!(refused.to_string(), "what is used cannot become ordered; next is arrived");
    }
}
