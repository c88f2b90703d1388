//! The life of a job: which state may follow which, and what has to be so before.

use serde::{Deserialize, Serialize};
use toothsayer_quantity::{Currency, Money};

/// Where a job stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum JobState {
    /// The truck was taken in.
    TakenIn,
    /// It was opened and looked at.
    LookedAt,
    /// The repairs were priced.
    Priced,
    /// The customer was asked and thinks.
    WaitingForAnswer,
    /// The customer said no.
    Declined,
    /// The customer said yes.
    Agreed,
    /// Parts are on their way.
    WaitingForParts,
    /// The work is being done.
    OnTheBench,
    /// The work was checked.
    Checked,
    /// The truck can be collected.
    Ready,
    /// The customer has it.
    Collected,
    /// It came back for its check after the first runs.
    Rechecked,
}

use JobState::{
    Agreed, Checked, Collected, Declined, LookedAt, OnTheBench, Priced, Ready, Rechecked, TakenIn, WaitingForAnswer,
    WaitingForParts,
};

/// A state's row.
struct Stage {
    state: JobState,
    /// Its word, in the tables and for machines.
    word: &'static str,
    /// Whether the shop still has to do something.
    open: bool,
    /// Whether work is done that the customer must have agreed to.
    wants_yes: bool,
    /// What may follow.
    next: &'static [JobState],
}

/// A job's life, in its order. Everything else about states is read from here.
#[rustfmt::skip]
static LIFE: [Stage; 12] = [
    Stage { state: TakenIn, word: "taken-in", open: true, wants_yes: false, next: &[LookedAt, Declined] },
    Stage { state: LookedAt, word: "looked-at", open: true, wants_yes: false, next: &[Priced, Ready, Declined] },
    Stage { state: Priced, word: "priced", open: true, wants_yes: false, next: &[WaitingForAnswer, Agreed, Declined] },
    Stage { state: WaitingForAnswer, word: "waiting-for-answer", open: true, wants_yes: false, next: &[Priced, Agreed, Declined] },
    Stage { state: Declined, word: "declined", open: true, wants_yes: false, next: &[Priced, Collected] },
    Stage { state: Agreed, word: "agreed", open: true, wants_yes: true, next: &[Priced, WaitingForAnswer, WaitingForParts, OnTheBench, Declined] },
    Stage { state: WaitingForParts, word: "waiting-for-parts", open: true, wants_yes: true, next: &[Priced, WaitingForAnswer, OnTheBench, Declined] },
    Stage { state: OnTheBench, word: "on-the-bench", open: true, wants_yes: true, next: &[Priced, WaitingForAnswer, WaitingForParts, Checked, Declined] },
    Stage { state: Checked, word: "checked", open: true, wants_yes: true, next: &[OnTheBench, Ready] },
    Stage { state: Ready, word: "ready", open: true, wants_yes: false, next: &[OnTheBench, Collected] },
    Stage { state: Collected, word: "collected", open: false, wants_yes: false, next: &[Rechecked] },
    Stage { state: Rechecked, word: "rechecked", open: false, wants_yes: false, next: &[] },
];

impl JobState {
    /// Every state, in the order of a job's life.
    pub const ALL: [JobState; LIFE.len()] = {
        let mut all = [TakenIn; LIFE.len()];
        let mut place = 0;
        while place < LIFE.len() {
            all[place] = LIFE[place].state;
            place += 1;
        }
        all
    };
    /// The words of [`JobState::ALL`].
    pub const WORDS: [&'static str; LIFE.len()] = {
        let mut words = [""; LIFE.len()];
        let mut place = 0;
        while place < LIFE.len() {
            words[place] = LIFE[place].word;
            place += 1;
        }
        words
    };

    fn stage(self) -> &'static Stage {
        &LIFE[self as usize]
    }

    /// Its word.
    pub fn word(self) -> &'static str {
        self.stage().word
    }

    /// The state of a word.
    pub fn of_word(word: &str) -> Option<JobState> {
        Self::ALL.into_iter().find(|state| state.word() == word)
    }

    /// Whether the shop still has to do something.
    pub fn is_open(self) -> bool {
        self.stage().open
    }

    /// What may follow.
    pub fn next(self) -> &'static [JobState] {
        self.stage().next
    }

    /// Whether going there from `from` has to be explained: a no, and every step back.
    fn wants_reason(self, from: JobState) -> bool {
        self == Declined || (self < from && from != Declined) || (self == Ready && from == LookedAt)
    }
}

/// What has to be known of a job before it goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Facts<'a> {
    /// What the agreed work costs the customer, minor units.
    pub price: i64,
    /// Up to which price the customer's last answer goes; none without a yes.
    pub agreed_up_to: Option<i64>,
    /// The currency of both.
    pub currency: Currency,
    /// How many clocks still run on it.
    pub clocks: i64,
    /// Why it goes there.
    pub reason: &'a str,
}

/// Why a job may not go there.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// The life cycle has no such step.
    #[error("a job that is {from} cannot become {to}; next is {}", words(.from.next()))]
    NotNext {
        /// Where it stands.
        from: Word,
        /// Where it was to go.
        to: Word,
    },
    /// A reason is missing.
    #[error("becoming {to} needs a reason")]
    NoReason {
        /// Where it was to go.
        to: Word,
    },
    /// The customer did not say yes.
    #[error("becoming {to} needs the customer's go-ahead")]
    NoYes {
        /// Where it was to go.
        to: Word,
    },
    /// The price rose above what the customer agreed to.
    #[error("the price of {price} is above the {up_to} that the customer agreed to")]
    PriceRose {
        /// The price now.
        price: Money,
        /// What was agreed.
        up_to: Money,
    },
    /// Somebody's clock still runs on the job.
    #[error("{clocks} of the bench's clocks still run on this job")]
    ClockRuns {
        /// How many.
        clocks: i64,
    },
}

/// A state, shown by its word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Word(pub JobState);

impl std::ops::Deref for Word {
    type Target = JobState;

    fn deref(&self) -> &JobState {
        &self.0
    }
}

impl std::fmt::Display for Word {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0.word().replace('-', " "))
    }
}

fn words(states: &[JobState]) -> String {
    let words: Vec<String> = states.iter().map(|state| Word(*state).to_string()).collect();
    if words.is_empty() { "nothing".into() } else { words.join(", ") }
}

impl Refusal {
    /// The way out.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::NotNext { .. } => "take the steps in between",
            Self::NoReason { .. } => "say why, in a few words",
            Self::NoYes { .. } => "ask the customer, and note the answer with how it was given and up to which price",
            Self::PriceRose { .. } => "ask the customer again, and note the answer with the new price",
            Self::ClockRuns { .. } => "stop the clocks first",
        }
    }
}

/// The one way from state to state.
///
/// # Errors
/// The step is no step of the life cycle, or what it needs is not so.
pub fn step(from: JobState, to: JobState, facts: &Facts<'_>) -> Result<(), Refusal> {
    if !from.next().contains(&to) {
        return Err(Refusal::NotNext { from: Word(from), to: Word(to) });
    }
    if to.wants_reason(from) && facts.reason.trim().is_empty() {
        return Err(Refusal::NoReason { to: Word(to) });
    }
    if to.stage().wants_yes {
        match facts.agreed_up_to {
            None => return Err(Refusal::NoYes { to: Word(to) }),
            Some(up_to) if facts.price > up_to => {
                let [price, up_to] = [facts.price, up_to].map(|minor| Money { minor, currency: facts.currency });
                return Err(Refusal::PriceRose { price, up_to });
            }
            Some(_) => {}
        }
    }
    if to > OnTheBench && facts.clocks > 0 {
        return Err(Refusal::ClockRuns { clocks: facts.clocks });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    const AGREED: Facts<'static> =
        Facts { price: 9_000, agreed_up_to: Some(9_000), currency: Currency::EUR, clocks: 0, reason: "" };

    #[track_caller]
    fn check(from: JobState, to: JobState, facts: Facts<'_>, expected: Result<(), Refusal>) {
        assert_eq!(step(from, to, &facts), expected);
    }

    #[test]
    fn a_job_that_goes_well_goes_straight_through() {
        let way = [TakenIn, LookedAt, Priced, WaitingForAnswer, Agreed, WaitingForParts, OnTheBench, Checked, Ready];
        for pair in way.windows(2) {
            check(pair[0], pair[1], AGREED, Ok(()));
        }
        check(Ready, Collected, AGREED, Ok(()));
        check(Collected, Rechecked, AGREED, Ok(()));
    }

    #[test]
    fn no_work_without_a_yes_and_none_above_it() {
        let silent = Facts { agreed_up_to: None, ..AGREED };
        check(Priced, Agreed, silent, Err(Refusal::NoYes { to: Word(Agreed) }));
        let dearer = Facts { price: 9_001, ..AGREED };
        let [price, up_to] = [9_001, 9_000].map(|minor| Money { minor, currency: Currency::EUR });
        check(Agreed, OnTheBench, dearer, Err(Refusal::PriceRose { price, up_to }));
        let told = Refusal::PriceRose { price, up_to }.to_string();
        assert_eq!(told, "the price of 90.01 EUR is above the 90.00 EUR that the customer agreed to");
        check(OnTheBench, WaitingForAnswer, Facts { reason: "the bearing is gone too", ..dearer }, Ok(()));
    }

    #[test]
    fn a_no_and_every_step_back_say_why() {
        check(Priced, Declined, AGREED, Err(Refusal::NoReason { to: Word(Declined) }));
        check(Checked, OnTheBench, AGREED, Err(Refusal::NoReason { to: Word(OnTheBench) }));
        check(Ready, OnTheBench, Facts { reason: "the mesh binds", ..AGREED }, Ok(()));
    }

    #[test]
    fn nothing_is_checked_while_a_clock_runs() {
        check(OnTheBench, Checked, Facts { clocks: 1, ..AGREED }, Err(Refusal::ClockRuns { clocks: 1 }));
    }

    #[test]
    fn words_and_states_are_one_to_one() {
        for (place, state) in JobState::ALL.into_iter().enumerate() {
            assert_eq!(state as usize, place, "the table stands in the order of the states");
            assert_eq!(JobState::of_word(state.word()), Some(state));
            assert_eq!(serde_json::to_value(state).unwrap(), state.word());
        }
        assert_eq!(JobState::of_word("lost"), None);
    }

    #[test]
    fn a_refusal_tells_what_would_do() {
        let error = step(Collected, Agreed, &AGREED).unwrap_err();
        assert_eq!(error.to_string(), "a job that is collected cannot become agreed; next is rechecked");
        assert!(!error.hint().is_empty());
    }
}
