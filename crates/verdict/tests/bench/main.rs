//! The whole verdict on trucks: the examples, the facts of the trade, five facts alone, and random sheets.

mod bench;
mod bent_shaft;
mod care;
mod changes;
mod comeback;
mod examples;
mod explanation;
mod explore;
mod fails_at;
mod five_facts;
mod life;
mod motor;
mod next_strip;
mod properties;
mod registry;
mod stories;
mod story_blows;
mod trade_blows;
mod trade_causes;
mod trade_screws;
mod trade_stack;
mod uncertainty;
mod walk;
mod worth;
