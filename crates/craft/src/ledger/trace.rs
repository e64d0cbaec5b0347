//! Where what was in one item is now.

use alloc::collections::BTreeMap;
use alloc::vec::Vec;

use super::{Account, Commodity, Entry, Line, Tally, share};

/// What became of the metal of one jar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Whereabouts {
    /// All that ever came in from outside.
    pub received: Tally,
    /// Where it is, by account. The rows sum to `received` exactly; a stocktake that found more stands as a negative
    /// row of the unexplained.
    pub rows: Vec<(Account, Tally)>,
}

/// How much an account holds, and how much of that came from each item.
#[derive(Clone, Debug, Default)]
struct Holding {
    all: i128,
    of: BTreeMap<Account, i128>,
}

impl Holding {
    /// Takes an amount out, with its part of every origin.
    fn take(&mut self, amount: i128) -> BTreeMap<Account, i128> {
        let parts = self.parts_of(amount);
        self.all -= amount;
        for (origin, part) in &parts {
            *self.of.entry(*origin).or_default() -= part;
        }
        parts
    }

    /// The part of every origin in an amount of this mixture.
    fn parts_of(&self, amount: i128) -> BTreeMap<Account, i128> {
        self.of.iter().map(|(origin, held)| (*origin, portion(*held, amount, self.all))).collect()
    }
}

fn add(parts: &mut BTreeMap<Account, i128>, more: impl IntoIterator<Item = (Account, i128)>) {
    for (origin, part) in more {
        *parts.entry(origin).or_default() += part;
    }
}

/// Follows a commodity (a metal, or money) through every live entry, oldest first, from every item it came in with. The keys
/// are the accounts of those items.
///
/// What is mixed is mixed evenly: whatever leaves an account takes along what came from each item in proportion, rounded to whole
/// units so that nothing is lost in the rounding. What a stocktake finds over is of the same mixture as what it is found in.
///
/// "Live" entries are those neither taken back nor taking back; the caller leaves both halves of a reversal out.
#[must_use]
pub fn whereabouts<'a>(
    entries: impl IntoIterator<Item = &'a Entry>,
    commodity: Commodity,
) -> BTreeMap<Account, Whereabouts> {
    let mut holdings: BTreeMap<Account, Holding> = BTreeMap::new();
    let mut received: BTreeMap<Account, i128> = BTreeMap::new();
    let outside = |line: &Line| matches!(line.account, Account::Supplier | Account::Owner);
    for entry in entries {
        let lines = || entry.lines().iter().filter(|line| line.commodity == commodity);
        let sources = || lines().filter(|line| line.amount.is_negative());
        let sinks = || lines().filter(|line| !line.amount.is_negative());
        // Several things that come from outside in one entry come side by side and are not mixed: each is all its own.
        if sources().all(outside) {
            for line in sinks() {
                let amount = i128::from(line.amount.to_units());
                add(&mut received, [(line.account, amount)]);
                let holding = holdings.entry(line.account).or_default();
                holding.all += amount;
                add(&mut holding.of, [(line.account, amount)]);
            }
            continue;
        }
        let (mut pool, mut parts) = (0_i128, BTreeMap::new());
        let into = sinks().next().map(|sink| sink.account);
        for line in sources() {
            let amount = -i128::from(line.amount.to_units());
            pool += amount;
            match line.account {
                // From outside, beside something else: it belongs to what it comes into.
                Account::Supplier | Account::Owner => {
                    add(&mut received, into.map(|account| (account, amount)));
                    add(&mut parts, into.map(|account| (account, amount)));
                }
                // Found over: of the same mixture as what it is found in; in what held nothing, all its own.
                Account::Unexplained => {
                    let found_in = into.and_then(|account| holdings.get(&account)).filter(|own| own.all != 0);
                    let alike = match (found_in, into) {
                        (Some(holding), _) => holding.parts_of(amount),
                        (None, into) => into.into_iter().map(|account| (account, amount)).collect(),
                    };
                    let owed = alike.iter().map(|(origin, part)| (*origin, -part));
                    add(&mut holdings.entry(Account::Unexplained).or_default().of, owed);
                    add(&mut parts, alike);
                }
                account => add(&mut parts, holdings.entry(account).or_default().take(amount)),
            }
        }
        // Shared out by running sums, so that the parts add up to the pool whatever the rounding.
        let (mut run, mut given) = (0_i128, BTreeMap::new());
        for line in sinks() {
            let amount = i128::from(line.amount.to_units());
            run += amount;
            let holding = holdings.entry(line.account).or_default();
            holding.all += amount;
            for (origin, part) in &parts {
                let upto = portion(*part, run, pool);
                let before = given.insert(*origin, upto).unwrap_or(0);
                add(&mut holding.of, [(*origin, upto - before)]);
            }
        }
    }
    let rows = |origin: Account| {
        let held = holdings.iter().filter_map(|(account, own)| Some((*account, *own.of.get(&origin)?)));
        held.filter(|(_, part)| *part != 0).map(|(account, part)| (account, units(part))).collect()
    };
    received
        .into_iter()
        .map(|(origin, all)| (origin, Whereabouts { received: units(all), rows: rows(origin) }))
        .collect()
}

fn portion(total: i128, part: i128, whole: i128) -> i128 {
    if whole <= 0 || total == 0 {
        return 0;
    }
    i128::from(share(units(total), units(part), units(whole)).to_units())
}

/// Every sum here is of balances that were themselves 64 bits; the widening only keeps the sums of a loop safe.
fn units(count: i128) -> Tally {
    Tally::from_units(i64::try_from(count).unwrap_or(if count < 0 { i64::MIN } else { i64::MAX }))
}
