//! Parts: the list of what the shop keeps, what a job needs of it, the shelf, and what is to be ordered.

mod fit;
mod lists;
mod need;
mod part;
mod stock;

pub use fit::{Gear, KeptGear, Measures, PartRefusal, differences, wanted_gear};
pub use lists::{Advice, ORDER_COLUMNS, OrderLine, PickLine, Short, order_list, pick_list};
pub(crate) use need::{NEED, NEEDS};
pub use need::{Need, NeedState, needs_for, needs_of, needs_ordered};
pub(crate) use part::PART;
pub use part::{Part, every_part, parts_named};
pub(crate) use stock::{LEDGER, STOCK};
pub use stock::{Stock, StockChange, on_shelf, shelves, stock_of};
