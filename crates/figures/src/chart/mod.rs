//! Charts: axes with round steps, plots of curves, rows with a track.

mod axis;
mod measure;
mod panels;
mod plot;
mod series;
mod track;

pub(crate) use axis::Axis;
pub(crate) use measure::{Measure, tick};
pub(crate) use panels::panels;
pub(crate) use plot::{Plot, Ruler};
pub(crate) use series::{Mark, legend, legend_of_curves, marker, stroke_of};
pub(crate) use track::{Columns, Placed, Row, rulings, scale, scale_title};
