//! What the maker keeps beside the shelf: papers by lot, brushes and rods, droppers, lamps, baths, supplies, negatives.
//!
//! | module | what it holds |
//! |---|---|
//! | `tables` | which fields each of them has |
//! | `fields` | fields that were read, and reading them back |
//! | `act` | keeping one, changing it, counting, putting it away |
//! | `view` | what is kept, what was counted, and what is to be bought |

mod act;
mod fields;
mod tables;
mod view;

pub use handcoat_book::RecordKind;

pub use act::{Keep, change, keep, put_away, restock};
pub use tables::{fields_of, kinds, what_is};
pub use view::{Kept, ToBuy, kept, one_kept, shopping};

pub(crate) use act::{body as record_body, changed_in, find_among, kept_in, plain_name};
pub(crate) use fields::Fields;
pub(crate) use view::{AREA, HOURS, SHEETS, area_of, hours_of};
