//! shaft
