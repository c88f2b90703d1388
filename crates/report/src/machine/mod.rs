//! A verdict for machines: JSON in SI units, the unit at the end of each key; the same from the command line and from the
//! shop's interface.

mod assumed;
mod care;
mod causes;
mod margins;
mod plan;

pub use assumed::assumptions;
pub use care::care;
pub use causes::causes;
pub use margins::{margins, states};
pub use plan::plan;
