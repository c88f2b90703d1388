//! The version that stood on a page, so that a form changes nothing that its sender has not seen.

use serde::Deserialize;

/// A form that says nothing else.
#[derive(Deserialize)]
pub(crate) struct Stood {
    /// Of what the form is about.
    pub version: i64,
}
