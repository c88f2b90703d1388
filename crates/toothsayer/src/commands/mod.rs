//! One command, one file: ask the verdict, lay out what it says.

mod alternatives;
pub mod backup;
pub mod begin;
pub mod care;
pub mod change;
pub mod demo;
pub mod explanation;
pub mod explore;
pub mod fault_book;
pub mod figure;
pub mod gears;
pub mod identify;
pub mod life;
pub mod manual;
pub mod margins;
pub mod materials;
pub mod measure;
pub mod motor;
pub mod paper;
pub mod plan;
pub mod records;
pub mod restore;
pub mod screws;
pub mod shock;
pub mod statement;
pub mod walk;
pub mod why;
