//! Where what was in each item is now.

use alloc::collections::{BTreeMap, VecDeque};
use alloc::vec::Vec;

use super::{Account, Commodity, Entry, Line, Tally, Unsettled, share};

/// What became of the metal of one jar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Whereabouts {
    /// All that ever came in from outside.
    pub received: Tally,
    /// Where it is, by account. The rows sum to `received` exactly; a stocktake that found more stands as a negative
    /// row of the unexplained.
    pub rows: Vec<(Account, Tally)>,
}

/// Follows every metal and every currency from every item it came in with, entry by entry, and goes on where it stood.
///
/// What is mixed is mixed evenly: whatever leaves an account takes along what came from each item in proportion, rounded to whole
/// units so that nothing is lost in the rounding. What is found over is of the same mixture as what it is found in; where something was
/// poured beyond what the book knew of, it is of the mixture of the bottles it was poured out of.
///
/// Contents stay where they are and are passed over. Only entries that count are followed: neither taken back nor taking back. The
/// newest can be [taken off again](Self::back), for one that was taken back after it was followed.
///
/// Sums here wrap around at 64 bits: what comes out is right whenever it fits, as every balance does, and going back is exact.
#[derive(Clone, Debug, Default)]
pub struct Trace {
    kept: BTreeMap<Commodity, Mixtures>,
    newest: Newest,
    scratch: Vec<(Account, i64, i64)>,
}

/// Of how many entries it is remembered what they changed: more than a maker takes back in a day.
const MOST_BACK: usize = 256;

/// What the newest entries changed, so that they can be taken off.
#[derive(Clone, Debug, Default)]
struct Newest {
    changes: VecDeque<(Commodity, Change)>,
    /// How many of the changes belong to each entry, oldest first.
    of_entry: VecDeque<usize>,
}

#[derive(Clone, Copy, Debug)]
enum Change {
    /// An account holds more, or less.
    Held(Account, i64),
    /// The part of an account that came from an item.
    Part(Account, Account, i64),
    /// An item received more.
    Received(Account, i64),
}

/// One commodity: what every account holds and from which items that came.
#[derive(Clone, Debug, Default)]
struct Mixtures {
    held: BTreeMap<Account, Mixture>,
    received: BTreeMap<Account, i64>,
}

/// How much an account holds, and how much of that came from each item, by item. A book holds one of these for every print, so it is
/// kept small.
#[derive(Clone, Debug, Default)]
struct Mixture {
    all: i64,
    of: Vec<(Account, i64)>,
}

impl Mixture {
    fn add(&mut self, origin: Account, more: i64) {
        match self.of.binary_search_by_key(&origin, |(own, _)| *own) {
            Ok(at) => {
                if let Some((_, part)) = self.of.get_mut(at) {
                    *part = part.wrapping_add(more);
                }
            }
            Err(at) => self.of.insert(at, (origin, more)),
        }
    }

    fn is_nothing(&self) -> bool {
        self.all == 0 && self.of.iter().all(|(_, part)| *part == 0)
    }
}

impl Mixtures {
    fn change(&mut self, change: Change) {
        match change {
            Change::Held(account, more) => {
                let mixture = self.held.entry(account).or_default();
                mixture.all = mixture.all.wrapping_add(more);
            }
            Change::Part(account, origin, more) => self.held.entry(account).or_default().add(origin, more),
            Change::Received(origin, more) => {
                let received = self.received.entry(origin).or_default();
                *received = received.wrapping_add(more);
            }
        }
    }

    /// The part of every origin in an amount of what an account holds.
    fn parts(&self, account: Account, amount: i64) -> impl Iterator<Item = (Account, i64)> + '_ {
        let mixture = self.held.get(&account);
        let all = mixture.map_or(0, |own| own.all);
        let of = mixture.map_or(&[][..], |own| &own.of);
        of.iter().map(move |(origin, held)| (*origin, portion(*held, amount, all))).filter(|(_, part)| *part != 0)
    }

    /// Forgets an account that holds nothing: an empty bottle, a coat that became a print.
    fn tidy(&mut self, account: Account) {
        if self.held.get(&account).is_some_and(Mixture::is_nothing) {
            self.held.remove(&account);
        }
    }
}

impl Trace {
    /// Follows the lines of one entry, in the order of their accounts.
    ///
    /// # Errors
    /// [`Unsettled`] when they do not sum to zero; then nothing is followed.
    pub fn follow(&mut self, lines: &[Line]) -> Result<(), Unsettled> {
        for commodity in commodities(lines) {
            let own = lines.iter().filter(|line| line.commodity == commodity);
            let sum: i128 = own.map(|line| i128::from(line.amount.to_units())).sum();
            if sum != 0 {
                return Err(Unsettled::Unbalanced { commodity, sum: units(sum) });
            }
        }
        let before = self.newest.changes.len();
        for commodity in commodities(lines) {
            self.follow_one(lines, commodity);
        }
        self.newest.of_entry.push_back(self.newest.changes.len() - before);
        if self.newest.of_entry.len() > MOST_BACK {
            let oldest = self.newest.of_entry.pop_front().unwrap_or(0);
            self.newest.changes.drain(..oldest);
        }
        Ok(())
    }

    /// Takes the newest entry off again. False when it is not remembered any more: then everything has to be followed anew.
    pub fn back(&mut self) -> bool {
        let Some(count) = self.newest.of_entry.pop_back() else { return false };
        for _ in 0..count {
            let Some((commodity, change)) = self.newest.changes.pop_back() else { return false };
            let mixtures = self.kept.entry(commodity).or_default();
            mixtures.change(match change {
                Change::Held(account, more) => Change::Held(account, more.wrapping_neg()),
                Change::Part(account, origin, more) => Change::Part(account, origin, more.wrapping_neg()),
                Change::Received(origin, more) => Change::Received(origin, more.wrapping_neg()),
            });
        }
        true
    }

    /// How many of the newest entries can be taken off.
    #[must_use]
    pub fn remembered(&self) -> usize {
        self.newest.of_entry.len()
    }

    /// What was followed, in the order of commodities: metals first, then money.
    pub fn commodities(&self) -> impl Iterator<Item = Commodity> + '_ {
        self.kept.keys().copied()
    }

    /// Where it is, by the account of the item it came in with. One pass over all accounts, however many items there are.
    #[must_use]
    pub fn whereabouts(&self, commodity: Commodity) -> BTreeMap<Account, Whereabouts> {
        let Some(mixtures) = self.kept.get(&commodity) else { return BTreeMap::new() };
        let begun = |(origin, all): (&Account, &i64)| {
            (*origin, Whereabouts { received: Tally::from_units(*all), rows: Vec::new() })
        };
        let mut found: BTreeMap<Account, Whereabouts> =
            mixtures.received.iter().filter(|(_, all)| **all != 0).map(begun).collect();
        for (account, mixture) in &mixtures.held {
            for (origin, part) in mixture.of.iter().filter(|(_, part)| *part != 0) {
                if let Some(own) = found.get_mut(origin) {
                    own.rows.push((*account, Tally::from_units(*part)));
                }
            }
        }
        found
    }

    fn follow_one(&mut self, lines: &[Line], commodity: Commodity) {
        let mixtures = self.kept.entry(commodity).or_default();
        let log = &mut self.newest.changes;
        let mut change = |mixtures: &mut Mixtures, change: Change| {
            log.push_back((commodity, change));
            mixtures.change(change);
        };
        let lines = || lines.iter().filter(|line| line.commodity == commodity).map(|line| (line.account, line.amount));
        let sources =
            || lines().filter(|(_, amount)| amount.is_negative()).map(|(own, amount)| (own, -amount.to_units()));
        let sinks =
            || lines().filter(|(_, amount)| !amount.is_negative()).map(|(own, amount)| (own, amount.to_units()));
        let outside = |account: Account| matches!(account, Account::Supplier | Account::Owner);
        // Several things that come from outside in one entry come side by side and are not mixed: each is all its own.
        if sources().all(|(account, _)| outside(account)) {
            for (account, amount) in sinks() {
                change(mixtures, Change::Received(account, amount));
                change(mixtures, Change::Held(account, amount));
                change(mixtures, Change::Part(account, account, amount));
            }
            return;
        }
        let into = sinks().next().map(|(account, _)| account);
        let mut pool = 0_i64;
        let mut from_items = 0_i64;
        // Origin, its part of the pool, and how much of that is given to a sink already.
        let parts = &mut self.scratch;
        parts.clear();
        // Items first: what was found over beside them is of their mixture.
        for (account, amount) in sources().filter(|(account, _)| account.item().is_some()) {
            from_items = from_items.wrapping_add(amount);
            take(mixtures, &mut change, parts, account, amount);
        }
        let of_items = parts.len();
        pool = pool.wrapping_add(from_items);
        for (account, amount) in sources().filter(|(account, _)| account.item().is_none()) {
            pool = pool.wrapping_add(amount);
            match account {
                // From outside, beside something else: it belongs to what it comes into.
                Account::Supplier | Account::Owner => {
                    if let Some(into) = into {
                        change(mixtures, Change::Received(into, amount));
                        parts.push((into, amount, 0));
                    }
                }
                // Found over: of the mixture of what it came out of, or else of what it is found in; in what held nothing, all its own.
                Account::Unexplained => {
                    let Some(into) = into else { continue };
                    let owed = parts.len();
                    if from_items > 0 {
                        for at in 0..of_items {
                            let Some((origin, part, _)) = parts.get(at).copied() else { continue };
                            parts.push((origin, portion(part, amount, from_items), 0));
                        }
                    } else if mixtures.held.get(&into).is_none_or(|own| own.all == 0) {
                        parts.push((into, amount, 0));
                    } else {
                        parts.extend(mixtures.parts(into, amount).map(|(origin, part)| (origin, part, 0)));
                    }
                    for (origin, part, _) in parts.iter().skip(owed) {
                        change(mixtures, Change::Part(account, *origin, part.wrapping_neg()));
                    }
                }
                account => take(mixtures, &mut change, parts, account, amount),
            }
        }
        // One part for each origin, whichever accounts it came out of.
        parts.sort_unstable_by_key(|(origin, ..)| *origin);
        parts.dedup_by(|later, first| {
            let same = later.0 == first.0;
            if same {
                first.1 = first.1.wrapping_add(later.1);
            }
            same
        });
        // Shared out by running sums, so that the parts add up to the pool whatever the rounding.
        let mut run = 0_i64;
        for (account, amount) in sinks() {
            run = run.wrapping_add(amount);
            change(mixtures, Change::Held(account, amount));
            for (origin, part, given) in parts.iter_mut() {
                let upto = portion(*part, run, pool);
                change(mixtures, Change::Part(account, *origin, upto.wrapping_sub(*given)));
                *given = upto;
            }
            mixtures.tidy(account);
        }
    }
}

/// Takes an amount out of an account, with the part of every origin in it.
fn take(
    mixtures: &mut Mixtures,
    change: &mut impl FnMut(&mut Mixtures, Change),
    parts: &mut Vec<(Account, i64, i64)>,
    account: Account,
    amount: i64,
) {
    let taken = parts.len();
    parts.extend(mixtures.parts(account, amount).map(|(origin, part)| (origin, part, 0)));
    for (origin, part, _) in parts.iter().skip(taken) {
        change(mixtures, Change::Part(account, *origin, part.wrapping_neg()));
    }
    change(mixtures, Change::Held(account, amount.wrapping_neg()));
    mixtures.tidy(account);
}

/// What lines move, contents left out, each once.
fn commodities(lines: &[Line]) -> impl Iterator<Item = Commodity> + '_ {
    let first = |at: usize, line: &Line| lines.iter().take(at).all(|before| before.commodity != line.commodity);
    let of_value = |line: &Line| !matches!(line.commodity, Commodity::Contents(..));
    lines
        .iter()
        .enumerate()
        .filter(move |(at, line)| of_value(line) && first(*at, line))
        .map(|(_, line)| line.commodity)
}

/// Follows a commodity (a metal, or money) through every live entry, oldest first. The keys are the accounts of the items it came in
/// with; see [`Trace`] for the rule.
///
/// "Live" entries are those neither taken back nor taking back; the caller leaves both halves of a reversal out.
#[must_use]
pub fn whereabouts<'a>(
    entries: impl IntoIterator<Item = &'a Entry>,
    commodity: Commodity,
) -> BTreeMap<Account, Whereabouts> {
    let mut trace = Trace::default();
    for entry in entries {
        // OK because an entry sums to zero.
        trace.follow(entry.lines()).expect("BUG: an entry that does not sum to zero");
    }
    trace.whereabouts(commodity)
}

/// As [`share`], but of a part that may be more than the whole: found over can be more than was there.
fn portion(total: i64, part: i64, whole: i64) -> i64 {
    if whole <= 0 || total == 0 {
        return 0;
    }
    let (wholes, rest) = (part / whole, part % whole);
    let of_rest = share(Tally::from_units(total), Tally::from_units(rest), Tally::from_units(whole)).to_units();
    total.wrapping_mul(wholes).wrapping_add(of_rest)
}

/// As it can be said; a sum beyond 64 bits is as wrong as the largest.
fn units(count: i128) -> Tally {
    Tally::from_units(i64::try_from(count).unwrap_or(if count < 0 { i64::MIN } else { i64::MAX }))
}
