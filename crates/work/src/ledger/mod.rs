//! What the ledger shows: balances, where a jar went, acts, and taking them back.

mod acts;
mod balance;
mod together;
mod undo;
mod whereabouts;

pub use acts::{ActRow, act, acts, acts_on, acts_on_record};
pub use balance::{BalanceRow, Valued, balance, value};
pub use together::{Holder, Together, balances_together, where_together};
pub use undo::undo;
pub(crate) use whereabouts::Followed;
pub use whereabouts::{Where, WhereRow, whereabouts_of};
