//! fault-book
