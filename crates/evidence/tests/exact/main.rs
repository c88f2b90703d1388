//! The engine against enumeration, textbook networks, and what must hold for every network.

mod enumeration;
mod oracle;
mod properties;
mod sample;
mod textbook;
mod vectors;
mod weight;
