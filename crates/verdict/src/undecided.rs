//! How many causes may stay undecided, and which to look at first where they are too many.

use crate::Error;
use toothsayer_evidence::MAX_UNDECIDED;
use toothsayer_fault_book::{Cause, FaultBook};

/// Causes that the message names.
const NAMED: usize = 5;

/// Fails where the build leaves more causes undecided than can be weighed together; nothing was simulated by then.
pub(crate) fn not_too_many(book: &FaultBook, known: &[Option<bool>]) -> Result<(), Error> {
    let pairs = book.causes().iter().zip(known);
    let mut undecided: Vec<&Cause> = pairs.filter(|(_, known)| known.is_none()).map(|(cause, _)| cause).collect();
    if undecided.len() <= MAX_UNDECIDED {
        return Ok(());
    }
    undecided.sort_by(|a, b| a.prior.mean().total_cmp(&b.prior.mean()));
    let rarest: Vec<String> = undecided.iter().take(NAMED).map(|cause| format!("\"{}\"", cause.id)).collect();
    Err(Error::TooManyUndecided { count: undecided.len(), limit: MAX_UNDECIDED, rarest: rarest.join(", ") })
}
