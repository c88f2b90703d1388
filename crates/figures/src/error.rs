//! Why a figure cannot be drawn.

/// Why a figure cannot be drawn.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// The verdict has no figures to draw.
    #[error("{0}")]
    Verdict(#[from] toothsayer_verdict::Error),
    /// The mechanics refuse what is to be drawn.
    #[error("{0}")]
    Mechanics(#[from] toothsayer_mechanics::Error),
    /// The sheet is too narrow or too wide.
    #[error("a figure {width_px} px wide: 320 to 2400 px are allowed")]
    Width {
        /// What was asked for, px.
        width_px: f64,
    },
    /// There is nothing to draw.
    #[error("no {what} to draw")]
    Nothing {
        /// What is missing.
        what: &'static str,
    },
}
