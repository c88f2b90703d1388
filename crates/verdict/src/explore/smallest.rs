//! The smallest changes that make a truck hold, each computed in full.

use super::Combination;
use super::estimate::Guess;
use super::ground::Ground;
use super::space::Places;
use crate::Error;

/// How many are told.
pub(super) const TOLD: usize = 3;
/// Combinations computed in full in search of them, and those at a time.
const MOST_IN_FULL: usize = 128;
const BATCH: usize = 8;

/// What the smallest changes are.
#[derive(Clone, Debug)]
pub enum Answer {
    /// The truck fulfils the wishes as it is.
    Holds,
    /// These make it, the smallest first; nothing on the way to one of them does.
    Changes(Vec<Combination>),
    /// Nothing in the space does; the nearest, where one can be computed.
    Nearest(Option<Box<Combination>>),
}

/// The smallest changes among `guesses`; those that an estimate `slack` (a share) off could still lift are computed too.
pub(super) fn smallest(ground: &Ground<'_>, guesses: &[Guess], slack: f64) -> Result<Answer, Error> {
    let wanted = ground.wishes.least_margin;
    let mut near: Vec<&Guess> = guesses
        .iter()
        .filter(|guess| guess.changes > 0 && ground.wishes.suits(guess.top_m_s, guess.stop_m))
        // The least a change can be is one thing, and all of those are looked at in full.
        .filter(|guess| guess.changes == 1 || guess.nearness(wanted) * (1.0 + slack) >= 1.0)
        .collect();
    near.sort_by_key(|guess| (guess.changes, guess.steps, guess.price_minor, ground.space.number(&guess.places)));
    let mut found: Vec<(Places, Combination)> = Vec::new();
    let (mut computed, mut nearest) = (0, None::<Combination>);
    let mut waiting = near.into_iter();
    while found.len() < TOLD && computed < MOST_IN_FULL {
        let smaller = |places: &Places| found.iter().any(|(known, _)| ground.space.is_within(known, places));
        let batch: Vec<Places> =
            waiting.by_ref().map(|guess| guess.places).filter(|places| !smaller(places)).take(BATCH).collect();
        if batch.is_empty() {
            break;
        }
        computed += batch.len();
        for (places, one) in batch.iter().zip(ground.full(&batch)?) {
            let Some(one) = one else { continue };
            let known = found.iter().any(|(known, _)| ground.space.is_within(known, places));
            if ground.wishes.fulfilled(&one) {
                if !known && found.len() < TOLD {
                    found.push((*places, one));
                }
            } else if nearest.as_ref().is_none_or(|best| one.nearness(wanted) > best.nearness(wanted)) {
                nearest = Some(one);
            }
        }
    }
    if !found.is_empty() {
        return Ok(Answer::Changes(found.into_iter().map(|(_, one)| one).collect()));
    }
    Ok(Answer::Nearest(best_guess(ground, guesses)?.or(nearest).map(Box::new)))
}

/// The combination of the largest estimated margin among those that suit, in full.
fn best_guess(ground: &Ground<'_>, guesses: &[Guess]) -> Result<Option<Combination>, Error> {
    let suits = guesses.iter().filter(|guess| ground.wishes.suits(guess.top_m_s, guess.stop_m));
    let near = |guess: &Guess| guess.nearness(ground.wishes.least_margin);
    let best = suits.max_by(|a, b| near(a).total_cmp(&near(b)).then(b.changes.cmp(&a.changes)));
    let Some(best) = best else { return Ok(None) };
    Ok(ground.full(&[best.places])?.pop().flatten())
}
