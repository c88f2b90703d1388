//! Drawings of a job as SVG: one visual language for page and paper, from data alone; nothing is decided here.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod bay;
mod canvas;
mod causes;
mod chart;
mod clamp;
mod comeback;
mod error;
mod evidence;
mod figure;
mod force;
mod frame;
mod front;
mod lettering;
mod life;
mod margins;
mod mesh_cycle;
mod removal;
mod screws;
mod spread;
mod stack;
mod sweep;
mod theme;
mod view;
pub mod words;

pub use bay::{BayScene, gear_bay, part_names};
pub use causes::causes;
pub use clamp::clamp_over_runs;
pub use comeback::{Comebacks, comeback_over_runs};
pub use error::Error;
pub use evidence::cause_evidence;
pub use figure::Figure;
pub use force::{tooth_force, worst_tooth_force};
pub use frame::{Frame, NARROWEST, WIDEST, Within};
pub use front::price_and_comeback;
pub use lettering::text_width;
pub use life::life_curves;
pub use margins::margins;
pub use mesh_cycle::mesh_cycle;
pub use removal::removal_map;
pub use screws::screw_map;
pub use stack::axial_stack;
pub use sweep::{Sweep, Swept, margins_against};
pub use theme::{Look, Role, contrast};
