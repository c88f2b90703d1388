//! The deal of a job: what was offered and answered, what the shop added, and whether the price is still what was agreed on.

use crate::job::offering::{Offering, Repair};
use toothsayer_records::{
    GoAhead, Job, JobKind, JobState, Line, Offer, OfferAnswer, Reach, Result, go_aheads_of, lines_of, offers_of, owed,
    price_of,
};

/// States of a job whose work the customer must have agreed to.
const WORKED_ON: [JobState; 3] = [JobState::Agreed, JobState::WaitingForParts, JobState::OnTheBench];

/// What was offered, what was said to it, what it comes to.
pub(crate) struct Deal {
    /// The offers.
    pub offers: Vec<Offer>,
    /// The shop's own lines.
    pub lines: Vec<Line>,
    /// The customer's answers, the oldest first.
    pub answers: Vec<GoAhead>,
    /// What the work costs now: the offer that was taken, and the lines.
    pub price: i64,
    /// What the customer owes.
    pub owes: i64,
    state: JobState,
    /// Whether the shop or the maker pays.
    pub is_free: bool,
}

impl Deal {
    /// As the records hold it.
    pub(crate) async fn of(at: &impl Reach, job: &Job) -> Result<Self> {
        Ok(Self {
            offers: offers_of(at, job.id).await?,
            lines: lines_of(at, job.id).await?,
            answers: go_aheads_of(at, job.id).await?,
            price: price_of(at, job).await?,
            owes: owed(at, job).await?,
            state: job.state,
            is_free: job.kind == JobKind::Warranty,
        })
    }

    /// The lines together.
    pub(crate) fn extra(&self) -> i64 {
        self.lines.iter().map(|line| line.price.saturating_mul(line.quantity)).fold(0, i64::saturating_add)
    }

    /// What was taken.
    pub(crate) fn taken(&self) -> Option<&Offer> {
        self.offers.iter().find(|offer| !offer.was_not_taken())
    }

    /// Whether something is offered that nobody decided on.
    pub(crate) fn is_open(&self) -> bool {
        self.offers.iter().any(|offer| offer.answer == OfferAnswer::Open)
    }

    /// Whether the customer was asked and has not answered.
    pub(crate) fn waits(&self) -> bool {
        self.state == JobState::WaitingForAnswer && self.is_open()
    }

    /// Up to which price the customer's last answer goes; none without a yes.
    pub(crate) fn agreed(&self) -> Option<i64> {
        self.answers.last()?.limit()
    }

    /// Whether somebody said yes, or nobody has to.
    pub(crate) fn is_agreed(&self) -> bool {
        self.is_free || self.agreed().is_some()
    }

    /// Whether the work costs more than what was agreed on.
    pub(crate) fn is_above(&self) -> bool {
        !self.is_free && self.agreed().is_some_and(|up_to| self.price > up_to)
    }

    /// Whether the customer has to be asked again before the work goes on: it costs more than was agreed on.
    pub(crate) fn rose(&self) -> bool {
        WORKED_ON.contains(&self.state) && !self.is_free && self.price > self.agreed().unwrap_or(0)
    }

    /// Whether work was agreed on that the plan no longer has: it is not to be gone on with before it is offered anew.
    pub(crate) fn is_gone(&self, offering: &Offering) -> bool {
        WORKED_ON.contains(&self.state) && self.taken().is_some_and(|taken| !offering.has_work_of(taken))
    }

    /// What the customer is to answer, with the repairs as they are reckoned now.
    pub(crate) fn asked<'a>(&'a self, offering: &'a Offering) -> Asked<'a> {
        let waits = self.waits();
        let put = self.offers.iter().filter(|offer| !waits || offer.answer == OfferAnswer::Open);
        let of = put.filter_map(|offer| offering.repair_of(offer).map(|repair| (offer, repair))).collect();
        let stands = match waits {
            true => offering.is_offered(&self.offers),
            false => self.taken().is_some_and(|taken| offering.repair_of(taken).is_some()),
        };
        match (waits || self.rose(), stands) {
            (false, _) => Asked::Nothing,
            (true, true) => Asked::Of(of),
            (true, false) => Asked::Anew,
        }
    }
}

/// What a customer is to answer.
pub(crate) enum Asked<'a> {
    /// Nothing.
    Nothing,
    /// What was offered is reckoned anew first: a yes to it would be to what no longer holds.
    Anew,
    /// These offers.
    Of(Vec<(&'a Offer, &'a Repair)>),
}
