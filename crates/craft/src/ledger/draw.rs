//! Taking a part out of an item, with the metal and the money that belong to it.

use alloc::vec::Vec;

use super::{Account, Balances, Commodity, ContentsIn, Draft, ItemKind, ItemNumber, Tally};

/// A part of an item: so much of its contents, and the metal and money that go with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draw {
    from: Account,
    contents: Commodity,
    amount: Tally,
    shares: Vec<(Commodity, Tally)>,
}

/// More is taken than there is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{account}` holds {holds} and {asked} are taken from it")]
pub struct Overdraw {
    /// Whose.
    pub account: Account,
    /// What it holds, in the unit of its contents.
    pub holds: Tally,
    /// What was asked for.
    pub asked: Tally,
}

/// `part` of `whole` of `total`, rounded to the nearest unit (halves up); all of it when the part is the whole.
///
/// `part` and `whole` are not negative, and `whole` is not below `part`.
#[must_use]
pub fn share(total: Tally, part: Tally, whole: Tally) -> Tally {
    if part >= whole {
        return total;
    }
    let (total, part, whole) =
        (i128::from(total.to_units()), i128::from(part.to_units()), i128::from(whole.to_units()));
    let rounded = (2 * total * part + whole).div_euclid(2 * whole);
    // OK because a part of a total is no larger than the total, which was 64 bits.
    Tally::from_units(i64::try_from(rounded).expect("BUG: a share larger than its total"))
}

/// Takes `amount` of the contents out of an item.
///
/// The metal and the money in it go along in proportion, each rounded to its own unit; the draw that empties the item
/// takes all that is left, so that no remainder stays in a jar that is empty.
///
/// # Errors
/// [`Overdraw`] when the item holds less.
pub fn draw(
    balances: &Balances,
    kind: ItemKind,
    item: ItemNumber,
    unit: ContentsIn,
    amount: Tally,
) -> Result<Draw, Overdraw> {
    let account = Account::Item(kind, item);
    let contents = Commodity::Contents(item, unit);
    let holds = balances.of(account, contents);
    if amount.is_negative() || amount > holds {
        return Err(Overdraw { account, holds, asked: amount });
    }
    let others = balances.held_by(account).filter(|(commodity, _)| *commodity != contents);
    let shares = others.map(|(commodity, total)| (commodity, share(total, amount, holds))).collect();
    Ok(Draw { from: account, contents, amount, shares })
}

impl Draw {
    /// How much of a metal or a currency goes along.
    #[must_use]
    pub fn of(&self, commodity: Commodity) -> Tally {
        self.shares.iter().find(|(own, _)| *own == commodity).map_or(Tally::ZERO, |&(_, tally)| tally)
    }

    /// Metal and money that go along.
    #[must_use]
    pub fn shares(&self) -> &[(Commodity, Tally)] {
        &self.shares
    }

    /// How much of the contents.
    #[must_use]
    pub fn amount(&self) -> Tally {
        self.amount
    }

    /// Writes it into a draft: metal and money to `to`, the contents to `contents_to`.
    pub fn post(&self, draft: &mut Draft, to: Account, contents_to: Account) {
        draft.move_from(self.from, contents_to, self.contents, self.amount);
        for &(commodity, tally) in &self.shares {
            draft.move_from(self.from, to, commodity, tally);
        }
    }
}
