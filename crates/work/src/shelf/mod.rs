//! Acts on jars, bottles and vials, and the shelf as it stands.
//!
//! Each act is one function: it reads the answers, looks at what the accounts hold, and posts one entry in the transaction that
//! read it. What it says of itself is kept in the act, so that asking twice gives the same answer.

mod change;
mod content;
mod find;
mod hazards;
mod label;
mod lose;
mod mix;
mod receive;
mod solution;
mod stocktake;
mod tests_done;
mod view;

pub use change::{Dilute, Pour, Split, dilute, pour, split};
pub(crate) use content::{Contents, Held, account_of, contents_of, held_mass, millilitres, take};
pub use find::Shelf;
pub use hazards::{EnterHazards, SuppliersSheet, enter_hazards, suppliers_sheets};
pub use label::{LabelAnswers, label, label_sheets, printer_page, wall_page};
pub use lose::{Lose, Retire, Sweep, lose, retire, sweep};
pub(crate) use mix::mix_once;
pub use mix::{Mix, mix};
pub(crate) use receive::Came;
pub use receive::{Receive, receive};
pub use solution::{Solute, solutes};
pub use stocktake::{Count, count};
pub use tests_done::{Look, TestOf, look, test};
pub use view::{Due, ItemView, Notice, shelf, shelf_item};
