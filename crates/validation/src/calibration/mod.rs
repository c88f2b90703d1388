//! A self-test of the diagnosis: trucks drawn from the book's own model, and from a book that is wrong.
//!
//! It shows that the inference does what the model says, and how it degrades where the model is wrong; not that the
//! book's numbers are those of real trucks.

mod page;
mod reliability;
mod sessions;
mod truth;

pub use page::page;
pub use reliability::{Bin, Reliability};
pub use sessions::Minutes;

use reliability::reliability;
use sessions::minutes;
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job;
use toothsayer_verdict::{Diagnosis, Memo};
use truth::another_book;

/// The example of which only the complaint is known.
const EXAMPLE: &str = include_str!("../../../../examples/tarnhorn.toml");
const SEED: u64 = 6;

/// How many trucks are drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    /// Of the book's own model.
    pub own: u64,
    /// Of another book.
    pub other: u64,
    /// For the minutes of looking.
    pub sessions: u32,
}

/// What the documents show.
pub const FULL: Size = Size { own: 2000, other: 2000, sessions: 12 };

/// What the self-test found.
#[derive(Clone, Debug, PartialEq)]
pub struct Calibration {
    /// Trucks of the book's own model.
    pub own: Reliability,
    /// Trucks of another book.
    pub other: Reliability,
    /// Looking.
    pub minutes: Minutes,
}

/// Draws the trucks and weighs them.
pub fn calibration(size: Size) -> Result<Calibration, Box<dyn std::error::Error + Send + Sync>> {
    let unopened = EXAMPLE.split("[[findings]]").next().unwrap_or_default();
    let book = FaultBook::built_in();
    let job = Job::parse(unopened, book).map_err(|error| format!("{error:?}"))?;
    let network = Diagnosis::new(&job, book, &Memo::default())?.network;
    Ok(Calibration {
        own: reliability(&network, &network, size.own, SEED)?,
        other: reliability(&another_book(&network)?, &network, size.other, SEED)?,
        minutes: minutes(unopened, size.sessions, SEED)?,
    })
}
