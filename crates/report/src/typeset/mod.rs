//! Setting a paper: content in blocks becomes strips, strips become pages, pages become a tagged PDF.
//!
//! Lengths here are PostScript points (1/72 inch) in `f32`, as the PDF library takes them.

mod block;
mod draw;
mod faces;
mod flow;
mod lines;
mod measures;
mod notice;
mod photo;
mod setter;
mod strip;
mod table;
mod tags;

pub(crate) use block::{Block, Code, Fact, Head, Item, List, Marker, Notice, Picture, Span, Style, Table, Tone, Words};
pub(crate) use draw::{Length, Paper, pdf};
pub use faces::EMBEDDED;
pub(crate) use faces::Faces;
pub(crate) use lines::splits_number_and_unit;
pub use measures::PaperSize;
