//! The customer's link: given out and revoked by the shop, and the one page that it opens.

pub(crate) mod answer;
pub(crate) mod give;
pub(crate) mod page;
