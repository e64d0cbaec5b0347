//! What the ledger shows: balances, where a jar went, acts, and taking them back.

mod acts;
mod balance;
mod holder;
mod undo;
mod whereabouts;

pub use acts::{ActRow, act, acts, acts_on, acts_on_record};
pub use balance::{BalanceRow, Valued, balance, value};
pub use holder::{HeldRow, Holder, balance_by_holder, where_by_holder};
pub use undo::undo;
pub(crate) use whereabouts::Followed;
pub use whereabouts::{Together, Where, WhereRow, WhereTogether, ledger_together, whereabouts_of};
