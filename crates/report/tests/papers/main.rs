//! Papers and the verdict page, held against independent readers: poppler, qpdf, and a reader of square codes.

mod agreed;
mod label;
mod layout;
mod page;
mod readers;
mod shop;
mod standard;
