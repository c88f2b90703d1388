//! Machine-readable output: SI, the unit at the end of each key.

use crate::failure::Failure;
use serde::Serialize;

/// One value as indented JSON with a newline.
pub fn text(value: &impl Serialize) -> Result<String, Failure> {
    let mut text = serde_json::to_string_pretty(value)
        .map_err(|error| Failure::could(format!("the result cannot be written: {error}"), ""))?;
    text.push('\n');
    Ok(text)
}
