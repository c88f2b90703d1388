//! stack
