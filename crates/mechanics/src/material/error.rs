//! What can be wrong with a material asked for.

/// Why a material's figure cannot be given.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum MaterialError {
    /// No row has this name.
    #[error("{kind} \"{name}\" is not known{}; known are: {known}", .nearest.as_ref().map(|word| format!(", did you mean \"{word}\"")).unwrap_or_default())]
    Unknown {
        /// Which table: "gear material", "joint material", "screw class".
        kind: &'static str,
        /// The name asked for.
        name: String,
        /// The known name nearest to it, if one is near.
        nearest: Option<String>,
        /// All names, comma between.
        known: String,
    },
    /// The hardness is outside what the material can have.
    #[error("{material} has {least_hv} to {most_hv} HV, {value_hv} HV is outside its strength lines")]
    Hardness {
        /// The material.
        material: String,
        /// The hardness asked for.
        value_hv: f64,
        /// Least hardness of its lines.
        least_hv: f64,
        /// Largest hardness of its lines.
        most_hv: f64,
    },
    /// Temperature asked of a material whose strength is not known over temperature.
    #[error("{material} is no plastic; its strength is not given over temperature")]
    NotPlastic {
        /// The material.
        material: String,
    },
    /// A data file does not read; the tests read every row, so that a build with this does not leave the bench.
    #[error("the table of {kind}s does not read: {why}")]
    Unreadable {
        /// Which table.
        kind: &'static str,
        /// The reader's words.
        why: String,
    },
}
