//! Life of a tooth's root: its force history over an event, the cycles in it, and Miner's sum on the line of strength.

mod limits;
mod mean_stress;
mod miner;
mod root_line;
mod tooth_history;

pub use mean_stress::{mean_ratio, mean_stress_factor};
pub use miner::{Damage, damage};
pub use root_line::{RootLine, RootLineParameters, RootMetal};
pub use tooth_history::{Flank, ToothTurns, tooth_cycles};
