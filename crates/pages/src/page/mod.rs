//! What every page is made of: HTML, the frame around it, its words, its assets, and what is said when something goes wrong.

pub(crate) mod amount;
pub(crate) mod assets;
pub(crate) mod form_only;
pub(crate) mod html;
pub(crate) mod shell;
pub(crate) mod stood;
pub(crate) mod trouble;
pub(crate) mod typed;
pub(crate) mod upload;
pub(crate) mod words;
