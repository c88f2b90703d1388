//! The customer's answer: kept with who gave it, how and up to which price, and the job led on in the same write.

use crate::job::deal::Deal;
use crate::job::offering::Offering;
use crate::page::trouble::Trouble;
use crate::page::words::sentence;
use toothsayer_records::{
    Answer, Channel, Error, GoAhead, Id, Job, JobState, Offer, OfferAnswer, Result as Kept, Saved, Write, export,
    price_of,
};

/// Letters of a name, and of a reason, at most.
const LONGEST_NAME: usize = 120;
const LONGEST_REASON: usize = 1000;
/// Why an answer is to nothing that stands: somebody changed the job while it was written.
const CHANGED: &str = "Somebody else decided or changed something meanwhile: it now stands as told here.";
/// Why a yes to an offer that no longer is what the plan computes is not taken.
pub(crate) const ANEW: &str = "More is known since this was offered, or prices moved, and a yes to it would not hold: the \
    shop reckons it anew, and you are asked again.";
/// Why a job is declined where nobody said more.
const NO: &str = "the customer said no";

/// An offer as it stood on the page that was answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Chosen {
    /// Which offer.
    pub offer: Id<Offer>,
    /// In which version.
    pub version: i64,
}

impl Chosen {
    /// An offer as it stands.
    pub(crate) fn of(offer: &Offer) -> Self {
        Self { offer: offer.id, version: offer.version }
    }

    /// As forms carry it: the id, a colon, the version. None where it is nothing of the kind.
    pub(crate) fn parse(text: &str) -> Option<Self> {
        let (id, version) = text.split_once(':')?;
        Some(Self { offer: Id::parse(id).ok()?, version: version.parse().ok()? })
    }

    /// For a form.
    pub(crate) fn text(&self) -> String {
        format!("{}:{}", self.offer, self.version)
    }
}

/// What a customer said.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Said<'a> {
    /// How it was said.
    pub channel: Channel,
    /// By whom.
    pub said_by: &'a str,
    /// To which offer; none where the whole is declined.
    pub to: Option<Chosen>,
    /// Yes or no.
    pub yes: bool,
    /// Up to which price it goes, minor units of the job's currency; none for what the offer costs now.
    pub up_to: Option<i64>,
    /// Why not, where it was told.
    pub reason: &'a str,
    /// The job's version that stood on the page.
    pub version: i64,
    /// What the shop's own lines came to on it, minor units.
    pub lines: i64,
}

/// The repairs of a job, weighed before the write begins, as nobody else could write meanwhile.
#[derive(Clone, Copy)]
pub(crate) struct Reckoned<'a> {
    /// The job file that they come from.
    pub text: &'a str,
    /// The repairs.
    pub offering: &'a Offering,
}

/// What became of an answer.
pub(crate) enum Heard {
    /// It is written: the write is to be committed.
    Kept,
    /// It cannot be, for these reasons: the write is to be dropped.
    Not(Vec<String>),
}

impl Heard {
    fn not(why: impl Into<String>) -> Self {
        Self::Not(vec![why.into()])
    }
}

/// Keeps a customer's answer to the offers of a job, marks the offer that was taken, and leads the job on: through every
/// state in between, as far as its life cycle allows. Counter, telephone and link answer by this alone. A yes goes to what
/// is reckoned now and to nothing else.
pub(crate) async fn answer(
    write: &Write,
    job: &Job,
    said: &Said<'_>,
    reckoned: Reckoned<'_>,
) -> Result<Heard, Trouble> {
    let wrong = unfit(job, said);
    if !wrong.is_empty() {
        return Ok(Heard::Not(wrong));
    }
    if job.version != said.version || export(write, job).await? != reckoned.text {
        return Ok(Heard::not(CHANGED));
    }
    let deal = Deal::of(write, job).await?;
    let taken = match said.yes.then(|| chosen(&deal, said, reckoned.offering)) {
        None => None,
        Some(Ok(offer)) => Some(offer),
        Some(Err(why)) => return Ok(Heard::not(why)),
    };
    mark(write, deal.offers, taken).await?;
    let price = price_of(write, job).await?;
    let up_to = said.up_to.unwrap_or(price);
    if said.yes && up_to < price {
        let [price, up_to] = [price, up_to].map(|minor| crate::page::words::money(minor, &job.currency));
        return Ok(Heard::not(format!(
            "It costs {price}, and the yes goes up to {up_to} only: ask the customer again, or offer less."
        )));
    }
    let heard = GoAhead {
        said_by: said.said_by.trim().to_owned(),
        answer: if said.yes { Answer::Yes } else { Answer::No },
        up_to: if said.yes { up_to } else { 0 },
        ..GoAhead::yes(write, job.id, said.channel, 0)
    };
    write.add(heard).await?;
    let way = if said.yes { to_yes(job.state) } else { to_no(job.state) };
    let Some(way) = way else {
        let told = "The work is done already: an answer changes nothing any more.";
        return Ok(Heard::not(told));
    };
    let reason = if said.reason.trim().is_empty() { NO } else { said.reason.trim() };
    lead_through(write, job, way, if said.yes { "" } else { reason }).await
}

/// The offer that a yes goes to, or why there is none.
fn chosen(deal: &Deal, said: &Said<'_>, offering: &Offering) -> Result<Id<Offer>, &'static str> {
    let Some(to) = said.to else { return Err("Choose which of the repairs the yes is to.") };
    let offer = deal.offers.iter().find(|offer| Chosen::of(offer) == to);
    let offer = offer.ok_or("That offer has changed meanwhile: look at its price, then answer again.")?;
    if offering.repair_of(offer).is_none() {
        return Err(ANEW);
    }
    match deal.extra() == said.lines {
        true => Ok(offer.id),
        false => Err("What comes with every repair has changed meanwhile: look at the price, then answer again."),
    }
}

fn unfit(job: &Job, said: &Said<'_>) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut length = |what: &str, text: &str, least: usize, most: usize| {
        let letters = text.trim().chars().count();
        if letters < least || letters > most {
            wrong.push(format!("{what} has {letters} letters; {least} to {most} are allowed."));
        }
    };
    length("The name of who answered", said.said_by, 1, LONGEST_NAME);
    length("The reason", said.reason, 0, LONGEST_REASON);
    if said.up_to.is_some_and(|up_to| up_to < 0) {
        let up_to = crate::page::words::money(said.up_to.unwrap_or(0), &job.currency);
        wrong.push(format!("The yes goes up to {up_to}; 0 and more is allowed."));
    }
    wrong
}

/// The taken offer is taken, all others are not; at no moment are there two.
async fn mark(write: &Write, offers: Vec<Offer>, taken: Option<Id<Offer>>) -> Kept<()> {
    let (chosen, others): (Vec<Offer>, Vec<Offer>) = offers.into_iter().partition(|offer| Some(offer.id) == taken);
    let left = others.into_iter().map(|offer| Offer { answer: OfferAnswer::Declined, ..offer });
    let taken = chosen.into_iter().map(|offer| Offer { answer: OfferAnswer::Taken, ..offer });
    for offer in left.chain(taken) {
        // Read in this very write, so that nobody can have changed it since.
        let _ = write.save(offer).await?;
    }
    Ok(())
}

/// Leads a job through some states, one after the other.
pub(crate) async fn lead_through(write: &Write, job: &Job, way: &[JobState], reason: &str) -> Result<Heard, Trouble> {
    let mut job = job.clone();
    for state in way {
        job = match write.lead(&job, *state, reason).await {
            Ok(Saved::Saved(led)) => led,
            Ok(Saved::Clash { .. }) => {
                return Ok(Heard::not("Somebody else led this job on meanwhile: it now stands as told here."));
            }
            Err(Error::Refused(refusal)) => {
                return Ok(Heard::not(format!("{}: {}.", sentence(&refusal.to_string()), refusal.hint())));
            }
            Err(other) => return Err(other.into()),
        };
    }
    Ok(Heard::Kept)
}

use JobState::{
    Agreed, Checked, Collected, Declined, LookedAt, OnTheBench, Priced, Ready, Rechecked, TakenIn, WaitingForAnswer,
    WaitingForParts,
};

/// From where a job stands to the customer's yes; none where it is too late for one.
fn to_yes(from: JobState) -> Option<&'static [JobState]> {
    match from {
        TakenIn => Some(&[LookedAt, Priced, Agreed]),
        LookedAt => Some(&[Priced, Agreed]),
        Priced | WaitingForAnswer => Some(&[Agreed]),
        Declined => Some(&[Priced, Agreed]),
        // A yes to a price that rose: the work goes on where it is.
        Agreed | WaitingForParts | OnTheBench => Some(&[]),
        Checked | Ready | Collected | Rechecked => None,
    }
}

/// From where a job stands to the customer's no.
fn to_no(from: JobState) -> Option<&'static [JobState]> {
    match from {
        Declined => Some(&[]),
        TakenIn | LookedAt | Priced | WaitingForAnswer | Agreed | WaitingForParts | OnTheBench => Some(&[Declined]),
        Checked | Ready | Collected | Rechecked => None,
    }
}

/// From where a job stands to the question to the customer.
pub(crate) fn to_question(from: JobState) -> Option<&'static [JobState]> {
    match from {
        TakenIn => Some(&[LookedAt, Priced, WaitingForAnswer]),
        LookedAt => Some(&[Priced, WaitingForAnswer]),
        Priced | Agreed | WaitingForParts | OnTheBench => Some(&[WaitingForAnswer]),
        Declined => Some(&[Priced, WaitingForAnswer]),
        WaitingForAnswer => Some(&[]),
        Checked | Ready | Collected | Rechecked => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every way is one of the life cycle's, step by step, and ends where it should.
    #[track_caller]
    fn check(way: fn(JobState) -> Option<&'static [JobState]>, end: &[JobState]) {
        for from in JobState::ALL {
            let Some(steps) = way(from) else { continue };
            let mut stands = from;
            for step in steps {
                assert!(stands.next().contains(step), "{stands:?} does not lead to {step:?}");
                stands = *step;
            }
            assert!(end.contains(&stands), "from {from:?} to {stands:?}");
        }
    }

    #[test]
    fn every_way_to_an_answer_is_one_that_a_jobs_life_allows() {
        check(to_yes, &[Agreed, WaitingForParts, OnTheBench]);
        check(to_no, &[Declined]);
        check(to_question, &[WaitingForAnswer]);
    }

    #[test]
    fn a_chosen_offer_goes_through_a_form_and_back() {
        let id = "01890a5d-ac96-774b-bcce-b302099a8057";
        let chosen = Chosen::parse(&format!("{id}:3")).unwrap();
        assert_eq!((chosen.text(), chosen.version), (format!("{id}:3"), 3));
        for odd in ["", "3", ":3", "no-id:3", &format!("{id}:"), &format!("{id}:x")] {
            assert_eq!(Chosen::parse(odd), None, "{odd}");
        }
    }
}
