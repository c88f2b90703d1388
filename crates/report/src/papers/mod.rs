//! The papers of a job, each from the same verdict: nothing is decided here.

mod agreed;
mod appendix;
pub(crate) mod bench_sheet;
pub(crate) mod hand_over;
mod kind;
mod label;
mod matter;
pub(crate) mod quote;
mod standing;
pub(crate) mod tables;
mod warranty;

pub use agreed::{Offered, OwnLine};
pub use hand_over::work_of;
pub use kind::PaperKind;
pub use matter::{Cover, Matter, Photo};
pub use standing::Standing;

use crate::Error;
use crate::typeset::{Block, Faces, Length, Paper, PaperSize, pdf};

/// A written paper or page.
#[derive(Clone, Debug, PartialEq)]
pub struct Written {
    /// The PDF or HTML.
    pub bytes: Vec<u8>,
    /// Its title.
    pub title: String,
    /// Letters that no face has: a box stands for each.
    pub missing: Vec<char>,
}

/// Pages of a hand-over, where the notes leave them.
const HAND_OVER_PAGES: usize = 2;

/// Writes a paper; `more` is a font for scripts that the embedded faces lack.
pub fn write_paper(kind: PaperKind, matter: &Matter<'_>, more: Option<&[u8]>) -> Result<Written, Error> {
    let faces = Faces::new(more)?;
    let mut blocks = kind.blocks(matter)?;
    let missing = faces.missing(&typed(matter));
    if !missing.is_empty() {
        blocks.push(unprinted(&missing));
    }
    let title = format!("{}: {}", matter.truck(), kind.words());
    let size = if kind == PaperKind::Label { PaperSize::Label } else { matter.size };
    let length = match kind {
        PaperKind::HandOver => Length::AtMost(HAND_OVER_PAGES),
        PaperKind::WarrantyPack => Length::Shortest,
        _ => Length::Any,
    };
    let paper = Paper { title: title.clone(), foot: title.clone(), size, length, blocks: &blocks };
    Ok(Written { bytes: pdf(&paper, &faces)?, title, missing })
}

/// Everything that people typed.
fn typed(matter: &Matter<'_>) -> String {
    let joints = matter.verdict.job.built.joints.iter().map(|joint| joint.name.as_str());
    let parts = matter.verdict.job.shop.parts.iter().map(|part| part.name.as_str());
    let own = matter.cover.lines.iter().map(|line| line.text.as_str());
    let names: Vec<&str> = joints.chain(parts).chain(own).collect();
    [matter.truck(), matter.under_title(), matter.notes().join(" "), names.join(" ")].join(" ")
}

/// Letters that are told at most.
const TOLD_LETTERS: usize = 12;

fn unprinted(missing: &[char]) -> Block {
    let codes: Vec<String> =
        missing.iter().take(TOLD_LETTERS).map(|letter| format!("U+{:04X}", u32::from(*letter))).collect();
    Block::small(format!(
        "□ stands for letters that the paper's own font lacks ({}{}). A font that has them can be added (--font).",
        codes.join(", "),
        if missing.len() > TOLD_LETTERS { " and more" } else { "" }
    ))
}

/// The shop's notes.
fn notes(matter: &Matter<'_>, blocks: &mut Vec<Block>) {
    let lines = matter.notes();
    if !lines.is_empty() {
        blocks.push(Block::heading("Notes"));
        blocks.extend(lines.into_iter().map(Block::text));
    }
}
