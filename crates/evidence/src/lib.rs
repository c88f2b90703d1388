//! Exact inference over independent causes, modes and findings joined by noisy-OR, and what a finding is worth.
//!
//! This room knows nothing of what the causes are. The way through it: [`Network`] (checked once), [`Evidence`],
//! [`Posterior`], and from that the figures of each cause and finding, and the [`Belief`] that outlives the evidence.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod belief;
mod chance;
mod comeback;
mod drawn;
mod error;
mod evidence;
mod heaviest;
mod ids;
mod information;
mod joint;
mod layout;
mod mattered;
mod mode_sum;
mod mode_table;
mod network;
mod normal;
mod outlook;
mod present;
mod proportion;
mod rainflow;
mod sampling;
mod sensitivity;
mod stopping;
mod weight;

pub use belief::{Answered, Belief};
pub use drawn::Drawn;
pub use error::Error;
pub use evidence::Evidence;
pub use ids::{CauseId, CauseSet, FindingId, ModeId};
pub use joint::Posterior;
pub use network::{
    Cause, CauseLink, Finding, MAX_CAUSES, MAX_COMPUTED, MAX_MODES, MAX_UNDECIDED, Mode, ModeLink, Modes, Network,
    NetworkParts, State,
};
pub use normal::{LognormalDemand, normal_cdf};
pub use outlook::Outlook;
pub use proportion::{Proportion, Side, Tally};
pub use rainflow::{Cycle, rainflow};
pub use sampling::{REPLICATES, StatedRange, dealt, draw, empirical_quantile, normal_quantile};
pub use sensitivity::{MixedRow, SobolIndex, sobol_indices};
pub use stopping::{Blocks, SETTLED_SHARE, all_below_answered, blocks, settled};
pub use weight::{DECIBANS_PER_NAT, MOST_LOG_ODDS, Piece, Weight};
