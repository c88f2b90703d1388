//! The kinds of paper: their names, whom each is for, what stands on it.

use super::{Matter, appendix, bench_sheet, hand_over, label, quote, warranty};
use crate::Error;
use crate::typeset::Block;

/// The kinds of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaperKind {
    /// For the customer, when the truck goes home.
    HandOver,
    /// For the customer, before the work.
    Quote,
    /// For the technician.
    BenchSheet,
    /// For an engineer.
    Appendix,
    /// For the truck.
    Label,
    /// For the maker or dealer.
    WarrantyPack,
}

struct Row {
    name: &'static str,
    words: &'static str,
    told: &'static str,
    blocks: fn(&Matter<'_>) -> Result<Vec<Block>, Error>,
}

impl PaperKind {
    /// Every kind.
    pub const ALL: [PaperKind; 6] = [
        PaperKind::HandOver,
        PaperKind::Quote,
        PaperKind::BenchSheet,
        PaperKind::Appendix,
        PaperKind::Label,
        PaperKind::WarrantyPack,
    ];

    fn row(self) -> Row {
        match self {
            Self::HandOver => Row {
                name: "hand-over",
                words: "hand-over",
                told: "For the customer: what happened, what was done, what to do next",
                blocks: hand_over::blocks,
            },
            Self::Quote => Row {
                name: "quote",
                words: "quote",
                told: "For the customer: what each repair costs, how likely the truck comes back, a line to sign",
                blocks: quote::blocks,
            },
            Self::BenchSheet => Row {
                name: "bench-sheet",
                words: "bench sheet",
                told: "For the technician: the work with boxes to tick, the screw map, how tight and no tighter",
                blocks: bench_sheet::blocks,
            },
            Self::Appendix => Row {
                name: "appendix",
                words: "engineer's appendix",
                told: "For an engineer: every figure with its inputs, formula and source, and what was assumed",
                blocks: appendix::blocks,
            },
            Self::Label => Row {
                name: "label",
                words: "label",
                told: "For the truck: a label of 90 mm x 50 mm with a square code",
                blocks: |matter| Ok(label::blocks(matter)),
            },
            Self::WarrantyPack => Row {
                name: "warranty-pack",
                words: "warranty pack",
                told: "For the maker or dealer: as found, and at which step each part falls short, without blame",
                blocks: warranty::blocks,
            },
        }
    }

    /// Its name, as files and commands carry it.
    pub fn name(self) -> &'static str {
        self.row().name
    }

    /// Whom it is for, and what stands on it, in words.
    pub fn told(self) -> &'static str {
        self.row().told
    }

    /// Its name, as people read it.
    pub(super) fn words(self) -> &'static str {
        self.row().words
    }

    pub(super) fn blocks(self, matter: &Matter<'_>) -> Result<Vec<Block>, Error> {
        (self.row().blocks)(matter)
    }
}
