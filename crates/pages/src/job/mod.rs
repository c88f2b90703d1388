//! The pages of one job, from its bench sheet on.

pub(crate) mod alternatives;
pub(crate) mod answering;
pub(crate) mod bench;
pub(crate) mod built;
pub(crate) mod deal;
pub(crate) mod drawing;
pub(crate) mod finding;
pub(crate) mod go_ahead;
pub(crate) mod hand_over;
pub(crate) mod hold;
pub(crate) mod lead;
pub(crate) mod lines;
pub(crate) mod margin_table;
pub(crate) mod matter;
pub(crate) mod offering;
pub(crate) mod offers;
pub(crate) mod opinion;
pub(crate) mod papers;
pub(crate) mod parts;
pub(crate) mod photo;
pub(crate) mod photos;
pub(crate) mod smallest;
pub(crate) mod tried;
pub(crate) mod verdict;
pub(crate) mod way;
pub(crate) mod work;
