//! The stages of a visit, from the counter to the collection, each at its time.

use crate::calendar::{OPEN_MINUTES, at};
use crate::visits::{End, Visit};
use toothsayer_records::{Error, Moment};

/// One stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Stage {
    TakeIn,
    LookAt,
    Price,
    Ask,
    Answer,
    Order,
    Arrive,
    Work,
    Check,
    Ready,
    Collect,
}

use Stage::{Answer, Arrive, Ask, Check, Collect, LookAt, Order, Price, Ready, TakeIn, Work};

impl Stage {
    /// The stages of a visit that ends so.
    pub(crate) fn of(end: End) -> &'static [Stage] {
        match end {
            End::LookedOver => &[TakeIn, LookAt, Ready, Collect],
            End::Declined => &[TakeIn, LookAt, Price, Ask, Answer, Collect],
            End::GearsOnly | End::Cured => {
                &[TakeIn, LookAt, Price, Ask, Answer, Order, Arrive, Work, Check, Ready, Collect]
            }
        }
    }

    /// Working days after the truck came, and the hour of the day.
    fn when(self) -> (i64, i64) {
        match self {
            TakeIn => (0, 2),
            LookAt => (0, 5),
            Price => (0, 7),
            Ask => (0, 8),
            Answer => (1, 1),
            Order => (1, 2),
            Arrive => (3, 1),
            Work => (3, 2),
            Check => (3, 7),
            Ready => (3, 8),
            Collect => (4, 8),
        }
    }
}

/// Something that happens in the shop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Event {
    pub(crate) at: Moment,
    /// Which visit, by its place in the list.
    pub(crate) visit: usize,
    pub(crate) stage: Stage,
}

/// Everything that happens, in its order.
pub(crate) fn events(visits: &[Visit]) -> Result<Vec<Event>, Error> {
    let mut events = Vec::new();
    for (place, visit) in visits.iter().enumerate() {
        // Nobody does two things at one moment.
        let own = (place as i64 * 7) % 50;
        for stage in Stage::of(visit.end).iter().take(visit.stages.saturating_add(1)) {
            let (days, hour) = stage.when();
            let at = at(visit.day + days, (hour * 60 + own).min(OPEN_MINUTES))?;
            events.push(Event { at, visit: place, stage: *stage });
        }
    }
    events.sort();
    Ok(events)
}
