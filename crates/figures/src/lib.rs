//! Drawings of a job as SVG: one visual language for page and paper, from data alone; nothing is decided here.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod bay;
mod canvas;
mod error;
mod figure;
mod frame;
mod lettering;
mod spread;
mod theme;
mod view;
mod words;

pub use bay::{BayScene, gear_bay};
pub use error::Error;
pub use figure::Figure;
pub use frame::{Frame, NARROWEST, WIDEST};
pub use lettering::text_width;
pub use theme::{Look, Role, contrast};
