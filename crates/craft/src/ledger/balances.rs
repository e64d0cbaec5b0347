//! What every account holds.

use alloc::collections::BTreeMap;

use super::{Account, Commodity, Entry, Tally};

/// Balances by account and commodity. Nothing is kept for a balance of nothing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Balances(BTreeMap<Account, BTreeMap<Commodity, Tally>>);

/// A balance that passes what 64 bits hold: some ten thousand tonnes in micrograms.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the balance of `{account}` in `{commodity}` would pass what can be kept; look for a slip in the amount")]
pub struct TallyOverflow {
    /// Whose balance.
    pub account: Account,
    /// Of what.
    pub commodity: Commodity,
}

impl Balances {
    /// What `account` holds of `commodity`.
    #[must_use]
    pub fn of(&self, account: Account, commodity: Commodity) -> Tally {
        self.0.get(&account).and_then(|held| held.get(&commodity)).copied().unwrap_or_default()
    }

    /// Everything `account` holds, in the order of commodities.
    pub fn held_by(&self, account: Account) -> impl Iterator<Item = (Commodity, Tally)> + '_ {
        self.0.get(&account).into_iter().flatten().map(|(&commodity, &tally)| (commodity, tally))
    }

    /// Every balance, by account and then commodity.
    pub fn rows(&self) -> impl Iterator<Item = (Account, Commodity, Tally)> + '_ {
        self.0.iter().flat_map(|(&account, held)| held.iter().map(move |(&own, &tally)| (account, own, tally)))
    }

    /// Sets one balance: for balances that were read from a book.
    pub fn set(&mut self, account: Account, commodity: Commodity, tally: Tally) {
        if !tally.is_zero() {
            self.0.entry(account).or_default().insert(commodity, tally);
        } else if let Some(held) = self.0.get_mut(&account) {
            held.remove(&commodity);
            if held.is_empty() {
                self.0.remove(&account);
            }
        }
    }

    /// Adds an entry's lines.
    ///
    /// # Errors
    /// [`TallyOverflow`], and then nothing is changed.
    pub fn apply(&mut self, entry: &Entry) -> Result<(), TallyOverflow> {
        let mut after = alloc::vec::Vec::with_capacity(entry.lines().len());
        for line in entry.lines() {
            let (account, commodity) = (line.account, line.commodity);
            let sum = self.of(account, commodity).plus(line.amount).ok_or(TallyOverflow { account, commodity })?;
            after.push((account, commodity, sum));
        }
        for (account, commodity, sum) in after {
            self.set(account, commodity, sum);
        }
        Ok(())
    }
}
