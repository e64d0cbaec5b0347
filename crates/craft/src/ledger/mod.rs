//! The ledger's rule: nothing comes from nowhere and nothing goes away.
//!
//! A [`Line`] is an account, a commodity and a signed whole number. Lines become an entry in one way only:
//! a [`Draft`] collects moves, [`Draft::settle`] makes an [`Entry`] that sums to exactly zero in every
//! commodity, [`Entry::admit`] holds it against the [`Balances`] so that no jar or bottle goes below nothing,
//! and only the [`Admitted`] entry that comes out can be written into the book.
//!
//! | module | what it holds |
//! |---|---|
//! | `account` | who can hold something: the supplier, the owner, jars, bottles, vials, coats, prints, losses |
//! | `commodity` | what is held: a metal, a currency, or the contents of one item |
//! | `tally` | the signed whole number of a line |
//! | `entry` | draft, entry, admitted |
//! | `balances` | what every account holds |
//! | `draw` | taking a part out of an item, with the metal and the money that belong to it |
//! | `trace` | where what was in each item is now |
//! | `code` | the short number printed on an item, with its check digit |

mod account;
mod balances;
mod code;
mod commodity;
mod draw;
mod entry;
mod tally;
mod trace;

pub use account::{Account, AccountUnknown, CoatNumber, ItemKind, ItemNumber, PrintNumber};
pub use balances::{Balances, TallyOverflow};
pub use code::{CodeError, ItemCode};
pub use commodity::{Commodity, CommodityUnknown, ContentsIn};
pub use draw::{Draw, Overdraw, draw, share};
pub use entry::{Admitted, Draft, Entry, Line, NotAdmitted, Unsettled};
pub use tally::Tally;
pub use trace::{Trace, Whereabouts, whereabouts};
