//! Draft, entry, admitted: three types, each the only way to the next.

use alloc::vec::Vec;

use super::{Account, Balances, Commodity, Tally};

/// One account, one commodity, one signed amount. Never zero inside an [`Entry`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Line {
    /// Whose.
    pub account: Account,
    /// Of what.
    pub commodity: Commodity,
    /// How much: plus comes in, minus goes out.
    pub amount: Tally,
}

/// Moves that are being collected.
#[derive(Clone, Debug, Default)]
pub struct Draft {
    lines: Vec<Line>,
}

/// Lines that sum to exactly zero in every commodity, one per account and commodity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    lines: Vec<Line>,
}

/// An entry that leaves no account with less than nothing that may not have less.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Admitted(Entry);

/// Why a draft is no entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unsettled {
    /// It moves nothing.
    #[error("nothing is moved")]
    Nothing,
    /// Its lines do not sum to zero.
    #[error("the lines in `{commodity}` sum to {sum} and not to zero")]
    Unbalanced {
        /// In what.
        commodity: Commodity,
        /// To what they sum.
        sum: Tally,
    },
    /// A sum passes what can be kept.
    #[error("the amounts in `{commodity}` pass what can be kept; look for a slip")]
    TooLarge {
        /// In what.
        commodity: Commodity,
    },
}

/// Why an entry is not admitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{account}` holds {holds} of `{commodity}` and {asked} are taken from it")]
pub struct NotAdmitted {
    /// Whose balance.
    pub account: Account,
    /// Of what.
    pub commodity: Commodity,
    /// What it holds.
    pub holds: Tally,
    /// What would go out.
    pub asked: Tally,
}

impl Draft {
    /// Moves `amount` of `commodity`; a negative amount moves the other way.
    pub fn move_from(&mut self, from: Account, to: Account, commodity: Commodity, amount: Tally) {
        self.line(Line { account: from, commodity, amount: -amount });
        self.line(Line { account: to, commodity, amount });
    }

    /// Adds a line as it stands: for lines that were written by someone else.
    pub fn line(&mut self, line: Line) {
        self.lines.push(line);
    }

    /// Joins lines of the same account and commodity, drops what cancels, and holds every commodity against zero.
    ///
    /// # Errors
    /// [`Unsettled`].
    pub fn settle(mut self) -> Result<Entry, Unsettled> {
        // Sorted and joined in place: a long book is read through here, entry by entry.
        self.lines.sort_by_key(|line| (line.account, line.commodity));
        let mut lines: Vec<Line> = Vec::with_capacity(self.lines.len());
        let mut sums: Vec<(Commodity, Tally)> = Vec::new();
        for line in self.lines {
            let too_large = Unsettled::TooLarge { commodity: line.commodity };
            match lines.last_mut().filter(|last| (last.account, last.commodity) == (line.account, line.commodity)) {
                Some(last) => last.amount = last.amount.plus(line.amount).ok_or(too_large)?,
                None => lines.push(line),
            }
            match sums.iter_mut().find(|(commodity, _)| *commodity == line.commodity) {
                Some((_, sum)) => *sum = sum.plus(line.amount).ok_or(too_large)?,
                None => sums.push((line.commodity, line.amount)),
            }
        }
        if let Some(&(commodity, sum)) = sums.iter().find(|(_, sum)| !sum.is_zero()) {
            return Err(Unsettled::Unbalanced { commodity, sum });
        }
        lines.retain(|line| !line.amount.is_zero());
        if lines.is_empty() { Err(Unsettled::Nothing) } else { Ok(Entry { lines }) }
    }
}

impl Entry {
    /// Its lines, by account and then commodity.
    #[must_use]
    pub fn lines(&self) -> &[Line] {
        &self.lines
    }

    /// The entry that takes this one back.
    #[must_use]
    pub fn reversed(&self) -> Self {
        let back = |line: &Line| Line { amount: -line.amount, ..*line };
        Self { lines: self.lines.iter().map(back).collect() }
    }

    /// Holds the entry against what the accounts have.
    ///
    /// # Errors
    /// [`NotAdmitted`] names the first account that would be left with less than nothing.
    pub fn admit(self, balances: &Balances) -> Result<Admitted, NotAdmitted> {
        for &Line { account, commodity, amount } in &self.lines {
            if account.may_be_negative() || !amount.is_negative() {
                continue;
            }
            let holds = balances.of(account, commodity);
            // A sum beyond 64 bits cannot come from taking out of what is not negative.
            if holds.plus(amount).is_none_or(Tally::is_negative) {
                return Err(NotAdmitted { account, commodity, holds, asked: -amount });
            }
        }
        Ok(Admitted(self))
    }
}

impl Admitted {
    /// The entry.
    #[must_use]
    pub fn entry(&self) -> &Entry {
        &self.0
    }
}
