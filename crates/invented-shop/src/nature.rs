//! What the invented trucks are like: the network that the verdict makes of the scenario's truck.

use crate::error::Error;
use toothsayer_evidence::{Modes, Network};
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job;
use toothsayer_verdict::{Diagnosis, Memo};

/// The scenario's truck; everything before the findings tells of it as built.
const TRUCK: &str = include_str!("../../../examples/tarnhorn.toml");

/// What cases are drawn from: the same network that is asked when one of them is judged.
#[derive(Clone, Debug)]
pub struct Nature {
    /// Causes, modes and findings of a truck of which only the complaint is known.
    pub network: Network,
    /// The modes over the runs to come: what brings a truck back.
    pub ahead: Modes,
}

impl Nature {
    /// Computes the network of the scenario's truck.
    ///
    /// # Errors
    /// The book or the truck cannot be computed.
    pub fn of(book: &FaultBook) -> Result<Self, Error> {
        let job = Job::parse(unopened(), book).map_err(Error::model)?;
        let diagnosis = Diagnosis::new(&job, book, &Memo::default()).map_err(Error::model)?;
        Ok(Self { network: diagnosis.network, ahead: diagnosis.ahead })
    }
}

/// The truck's file without anything that was found.
pub(crate) fn unopened() -> &'static str {
    TRUCK.split("[[findings]]").next().unwrap_or(TRUCK)
}
