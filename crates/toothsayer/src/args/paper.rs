//! What may be typed about papers.

use clap::builder::PossibleValue;
use clap::{Args, ValueEnum};
use std::path::PathBuf;
use toothsayer_report::PaperKind;

/// What is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaperName {
    /// A paper.
    Paper(PaperKind),
    /// The verdict as one page.
    Page,
}

impl PaperName {
    /// Every one.
    const ALL: [PaperName; 7] = {
        let mut all = [PaperName::Page; 7];
        let mut place = 0;
        while place < PaperKind::ALL.len() {
            all[place] = PaperName::Paper(PaperKind::ALL[place]);
            place += 1;
        }
        all
    };

    /// The name of its file.
    pub fn file(self) -> String {
        match self {
            Self::Paper(kind) => format!("{}.pdf", kind.name()),
            Self::Page => "page.html".into(),
        }
    }
}

impl ValueEnum for PaperName {
    fn value_variants<'a>() -> &'a [Self] {
        &Self::ALL
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        Some(match self {
            Self::Paper(kind) => PossibleValue::new(kind.name()).help(kind.told()),
            Self::Page => PossibleValue::new("page")
                .help("The verdict as one HTML file without script, to send or to open offline"),
        })
    }
}

/// Sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SheetName {
    /// 210 mm x 297 mm
    A4,
    /// 8.5 in x 11 in
    Letter,
}

#[derive(Debug, Args)]
pub struct PaperArgs {
    /// The job file
    pub file: PathBuf,
    /// Which paper
    #[arg(long, value_enum, default_value = "hand-over")]
    pub kind: PaperName,
    /// Every paper, the page and every drawing, into the folder that -o names
    #[arg(long, conflicts_with = "kind")]
    pub all: bool,
    /// The sheet
    #[arg(long, value_enum, default_value = "a4")]
    pub size: SheetName,
    /// The shop's name
    #[arg(long, value_name = "NAME")]
    pub shop: Option<String>,
    /// Whose truck it is
    #[arg(long, value_name = "NAME")]
    pub customer: Option<String>,
    /// The job's number in the shop
    #[arg(long, value_name = "NUMBER")]
    pub job_number: Option<String>,
    /// The day on the paper (2026-12-01)
    #[arg(long, value_name = "DAY")]
    pub date: Option<String>,
    /// A text file with notes for the reader
    #[arg(long, value_name = "FILE")]
    pub notes: Option<PathBuf>,
    /// A photo (JPEG or PNG) for the warranty pack; again for more
    #[arg(long, value_name = "FILE")]
    pub photo: Vec<PathBuf>,
    /// A font (TrueType or OpenType) for scripts that the own one lacks
    #[arg(long, value_name = "FILE")]
    pub font: Option<PathBuf>,
    /// Margins at point values only: faster, without ranges
    #[arg(long)]
    pub points: bool,
    /// Write it here; with --all, the folder
    #[arg(short, long, value_name = "FILE")]
    pub output: PathBuf,
}
