//! Following one item at a time, written before all were followed at once: the slow, plain reference for
//! `handcoat_craft::ledger::whereabouts`.

use std::collections::BTreeMap;

use handcoat_craft::ledger::{Account, Commodity, Entry, ItemKind, ItemNumber, Line, Tally, share};

/// How much an account holds, and how much of that came from the item that is followed.
#[derive(Clone, Copy, Debug, Default)]
struct Holding {
    all: i128,
    of_origin: i128,
}

/// Follows a commodity (a metal, or money) from one item through every live entry, oldest first.
///
/// What is mixed is mixed evenly: whatever leaves an account takes along what came from the item in proportion, rounded to whole
/// units so that nothing is lost in the rounding. What a stocktake finds over is of the same mixture as what it is found in.
///
/// "Live" entries are those neither taken back nor taking back; the caller leaves both halves of a reversal out.
pub(crate) fn follow_one<'a>(
    entries: impl IntoIterator<Item = &'a Entry>,
    kind: ItemKind,
    item: ItemNumber,
    commodity: Commodity,
) -> (i64, Vec<(Account, i64)>) {
    let origin = Account::Item(kind, item);
    let mut holdings: BTreeMap<Account, Holding> = BTreeMap::new();
    let mut received = 0_i128;
    for entry in entries {
        let lines = || entry.lines().iter().filter(|line| line.commodity == commodity);
        // Several things that come from outside in one entry come side by side and are not mixed: each is all its own.
        let outside = |line: &Line| matches!(line.account, Account::Supplier | Account::Owner);
        if lines().filter(|line| line.amount.is_negative()).all(outside) {
            for line in lines().filter(|line| !line.amount.is_negative()) {
                let amount = i128::from(line.amount.to_units());
                let own = if line.account == origin { amount } else { 0 };
                received += own;
                let holding = holdings.entry(line.account).or_default();
                holding.all += amount;
                holding.of_origin += own;
            }
            continue;
        }
        let (mut pool, mut pool_of_origin) = (0_i128, 0_i128);
        let out_of_items: Vec<(i128, i128)> = lines()
            .filter(|line| line.amount.is_negative() && line.account.item().is_some())
            .map(|line| {
                let amount = -i128::from(line.amount.to_units());
                (amount, part_of(holdings.get(&line.account).copied().unwrap_or_default(), amount))
            })
            .collect();
        let from_items: i128 = out_of_items.iter().map(|(amount, _)| amount).sum();
        for line in lines().filter(|line| line.amount.is_negative()) {
            let amount = -i128::from(line.amount.to_units());
            let part = match line.account {
                // From outside: it belongs to whichever item it comes into.
                Account::Supplier | Account::Owner => {
                    if lines().any(|sink| sink.account == origin && !sink.amount.is_negative()) {
                        received += amount;
                        amount
                    } else {
                        0
                    }
                }
                // Poured beyond what the book knew of: of the same mixture as what it was poured out of.
                Account::Unexplained if from_items > 0 => {
                    let alike = out_of_items.iter().map(|(_, part)| portion(*part, amount, from_items)).sum();
                    holdings.entry(Account::Unexplained).or_default().of_origin -= alike;
                    alike
                }
                // Found over: of the same mixture as what it is found in.
                Account::Unexplained => {
                    let into = lines().find(|sink| !sink.amount.is_negative()).map(|sink| sink.account);
                    let found_in = into.and_then(|account| holdings.get(&account)).copied().unwrap_or_default();
                    let alike =
                        if into == Some(origin) && found_in.all == 0 { amount } else { part_of(found_in, amount) };
                    holdings.entry(Account::Unexplained).or_default().of_origin -= alike;
                    alike
                }
                account => {
                    let holding = holdings.entry(account).or_default();
                    let part = part_of(*holding, amount);
                    holding.all -= amount;
                    holding.of_origin -= part;
                    part
                }
            };
            pool += amount;
            pool_of_origin += part;
        }
        // Shared out by running sums, so that the parts add up to the pool whatever the rounding.
        let (mut run, mut given) = (0_i128, 0_i128);
        for line in lines().filter(|line| !line.amount.is_negative()) {
            let amount = i128::from(line.amount.to_units());
            run += amount;
            let upto = portion(pool_of_origin, run, pool);
            let holding = holdings.entry(line.account).or_default();
            holding.all += amount;
            holding.of_origin += upto - given;
            given = upto;
        }
    }
    let rows: Vec<(Account, i64)> = holdings
        .into_iter()
        .filter(|(_, holding)| holding.of_origin != 0)
        .map(|(account, holding)| (account, units(holding.of_origin).to_units()))
        .collect();
    (units(received).to_units(), rows)
}

/// The part of `amount`, taken from a holding, that came from the origin.
fn part_of(holding: Holding, amount: i128) -> i128 {
    portion(holding.of_origin, amount, holding.all)
}

fn portion(total: i128, part: i128, whole: i128) -> i128 {
    if whole <= 0 || total == 0 {
        return 0;
    }
    // More than there was can be found, so wholes are counted apart.
    total * (part / whole) + i128::from(share(units(total), units(part % whole), units(whole)).to_units())
}

/// Every sum here is of balances that were themselves 64 bits; the widening only keeps the sums of a loop safe.
fn units(count: i128) -> Tally {
    Tally::from_units(i64::try_from(count).unwrap_or(if count < 0 { i64::MIN } else { i64::MAX }))
}
