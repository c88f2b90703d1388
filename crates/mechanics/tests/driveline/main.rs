//! The shock model against closed forms, an independent integration of the same equations, and the trade.

mod closed_form;
mod example;
mod reference;
mod robustness;
mod trade;
