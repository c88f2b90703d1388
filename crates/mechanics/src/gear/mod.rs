//! Spur gears.

/// Why a figure cannot be computed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum GearError {}
