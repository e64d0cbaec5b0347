//! Many random acts, and what must hold of the book meanwhile.
//!
//! After each act: nothing that cannot holds less than nothing and every commodity sums to zero; coats that wait hold what their bottles gave; what was refused, or was done and taken
//! back, had never been. Every so often, and before a book is closed: the book agrees with itself to the last line, and where everything went
//! comes out the same for one who followed it act by act and one who opens the book now.

use std::collections::BTreeMap;
use std::path::Path;

use handcoat_craft::ledger::{Account, Commodity};
use handcoat_work::keep::{Kept, kept, kinds};
use handcoat_work::ledger::{BalanceRow, balance, undo, whereabouts_of};
use handcoat_work::print::{CoatView, PrintView, open_coats, prints};
use handcoat_work::shelf::{ItemView, shelf};
use handcoat_work::{Refusal, Studio};

use crate::{Dice, moment, some_act};

/// A check replays the whole book: a new one now and then keeps that from growing with the square.
const ACTS_A_BOOK: u64 = 1000;

/// So many of the newest prints are held against what they were.
const NEWEST_PRINTS: u32 = 40;

/// Origins are rounded each by itself, half a unit at each mixing; on a sheet that is few units.
const ROUNDED: i64 = 200;

/// Which acts are played.
#[derive(Clone, Copy, Debug)]
pub struct Played {
    /// The first, counted from zero; a multiple of a thousand, for each book has dice of its own.
    pub from: u64,
    /// How many.
    pub acts: u64,
    /// The same seed gives the same acts.
    pub seed: u64,
    /// A full check after so many acts.
    pub check_each: u64,
}

/// What came of them.
#[derive(Clone, Debug, Default)]
pub struct Held {
    /// Acts that were done, by kind.
    pub kinds: BTreeMap<String, u64>,
    /// Acts that were refused, by code.
    pub codes: BTreeMap<&'static str, u64>,
    /// Acts that were taken back at once.
    pub taken_back: u64,
    /// Full checks.
    pub checks: u64,
}

impl Held {
    /// How many acts were done.
    #[must_use]
    pub fn done(&self) -> u64 {
        self.kinds.values().sum()
    }

    fn add(&mut self, other: Self) {
        for (kind, count) in other.kinds {
            *self.kinds.entry(kind).or_default() += count;
        }
        for (code, count) in other.codes {
            *self.codes.entry(code).or_default() += count;
        }
        self.taken_back += other.taken_back;
        self.checks += other.checks;
    }
}

/// All that a door can show of a book.
#[derive(Clone, Debug, Default, PartialEq)]
struct Seen {
    balances: Vec<BalanceRow>,
    shelf: Vec<ItemView>,
    coats: Vec<CoatView>,
    prints: Vec<PrintView>,
    kept: Vec<Kept>,
}

fn seen(studio: &Studio, seconds: i64) -> Result<Seen, String> {
    let now = moment("for the hour", seconds).at;
    let all = || {
        let mut kept_all = Vec::new();
        for kind in kinds() {
            kept_all.extend(kept(studio, *kind)?);
        }
        Ok::<_, Refusal>(Seen {
            balances: balance(studio)?,
            shelf: shelf(studio, now)?,
            coats: open_coats(studio)?,
            prints: prints(studio, "", NEWEST_PRINTS, None)?,
            kept: kept_all,
        })
    };
    all().map_err(|error| error.to_string())
}

/// What can be told from the balances alone.
fn sums(balances: &[BalanceRow]) -> Result<(), String> {
    let mut sums = BTreeMap::new();
    for row in balances {
        if !row.account.may_be_negative() && row.amount.is_negative() {
            return Err(format!("{row:?}"));
        }
        *sums.entry(row.commodity).or_insert(0_i128) += i128::from(row.amount.to_units());
    }
    match sums.iter().find(|(_, sum)| **sum != 0) {
        Some((commodity, sum)) => Err(format!("{commodity} sums to {sum}")),
        None => Ok(()),
    }
}

/// A coat that waits holds the metal its pours gave, and a sheet that does not wait holds none.
fn waiting(seen: &Seen) -> Result<(), String> {
    let mut poured: BTreeMap<(u32, String), i64> = BTreeMap::new();
    for coat in &seen.coats {
        for (metal, mass) in coat.pours.iter().filter_map(|pour| pour.metal.as_ref()) {
            *poured.entry((coat.number, metal.clone())).or_default() += mass.to_micrograms();
        }
    }
    poured.retain(|_, units| *units != 0);
    let holds = seen.balances.iter().filter_map(|row| match (row.account, row.commodity) {
        (Account::Coat(number), Commodity::Metal(element)) if !row.amount.is_zero() => {
            Some(((number.get(), element.to_string()), row.amount.to_units()))
        }
        _ => None,
    });
    let mut holds: BTreeMap<(u32, String), i64> = holds.collect();
    // Poured out of a bottle that was all but empty by the book: how much metal that was nobody can tell, and the sheet holds the rest of it.
    let untold = |number: u32| {
        let pours = seen.coats.iter().filter(|coat| coat.number == number).flat_map(|coat| &coat.pours);
        pours.into_iter().any(|pour| pour.short.is_some() && pour.metal.is_none())
    };
    if let Some((whose, units)) = poured.iter().find(|(whose, units)| holds.get(whose).is_none_or(|own| own < units)) {
        return Err(format!("{whose:?} was given {units} and holds {:?}", holds.get(whose)));
    }
    holds.retain(|(number, _), _| !untold(*number));
    poured.retain(|(number, _), _| !untold(*number));
    if holds == poured { Ok(()) } else { Err(format!("coats hold {holds:?} and were given {poured:?}")) }
}

/// Everything.
fn whole(studio: &Studio) -> Result<(), String> {
    let found = studio.check().map_err(|error| error.to_string())?;
    if !found.damage.is_empty() {
        return Err(format!("{:?}", found.damage));
    }
    let followed = whereabouts_of(studio, None).map_err(|error| error.to_string())?;
    let opened = Studio::open(studio.path()).map_err(|error| error.to_string())?;
    let anew = whereabouts_of(&opened, None).map_err(|error| error.to_string())?;
    if followed != anew {
        return Err(format!("followed act by act: {followed:?}; at once: {anew:?}"));
    }
    let mut traced: BTreeMap<(Account, Commodity), i64> = BTreeMap::new();
    for own in anew.iter() {
        if own.account.item().is_none() {
            return Err(format!("{} is where something came from", own.account));
        }
        for row in &own.rows {
            *traced.entry((row.account, own.commodity)).or_default() += row.amount.to_units();
        }
        let together: i64 = own.rows.iter().map(|row| row.amount.to_units()).sum();
        if together != own.received.to_units() {
            return Err(format!("{own:?} sums to {together}"));
        }
    }
    // All there is on sheets and in prints came from some item, but for what the rounding of each origin by itself adds and takes.
    for row in balance(studio).map_err(|error| error.to_string())? {
        let value = !matches!(row.commodity, Commodity::Contents(..));
        let on_paper = matches!(row.account, Account::Coat(_) | Account::Print(_));
        let own = traced.get(&(row.account, row.commodity)).copied().unwrap_or(0);
        if value && on_paper && (own - row.amount.to_units()).abs() > ROUNDED {
            return Err(format!(
                "{} holds {} of {} and {own} are traced to it",
                row.account, row.amount, row.commodity
            ));
        }
    }
    Ok(())
}

/// Plays acts and holds the book against all that.
///
/// # Errors
/// What did not hold, with the seed and the act.
pub fn play(folder: &Path, played: Played) -> Result<Held, String> {
    let mut held = Held::default();
    let end = played.from + played.acts;
    for first in (played.from..end).step_by(usize::try_from(ACTS_A_BOOK).unwrap_or(1)) {
        let path = folder.join(format!("studio-{}-{first}.handcoat", played.seed));
        let own = Played { from: first, acts: ACTS_A_BOOK.min(end - first), ..played };
        let before = format!("seed {}, book {first}", played.seed);
        held.add(book(&path, own).map_err(|what| format!("{before}, {what}"))?);
        // A book that held is in the way of the next million.
        for tail in ["", "-wal", "-shm"] {
            let _ = std::fs::remove_file(format!("{}{tail}", path.display()));
        }
    }
    Ok(held)
}

fn book(path: &Path, played: Played) -> Result<Held, String> {
    let mut held = Held::default();
    let mut studio = Studio::create(path).map_err(|error| error.to_string())?;
    let mut dice = Dice::of_text(&format!("{}-{}", played.seed, played.from));
    let mut before = Seen::default();
    for count in played.from..played.from + played.acts {
        let seconds = i64::try_from(count - played.from).unwrap_or(0) * 60;
        let what = |error: String| format!("act {count}: {error}");
        let key = format!("acts-{}-{count}", played.seed);
        match some_act(&mut studio, &mut dice, &moment(&key, seconds)) {
            Ok(done) => {
                *held.kinds.entry(done.kind.clone()).or_default() += 1;
                // Every second: the shelf at this minute, not at the last one, is what an undo must give back.
                let back = done.kind != "undo" && dice.once_in(4);
                let after = seen(&studio, seconds).map_err(what)?;
                sums(&after.balances).map_err(what)?;
                waiting(&after).map_err(what)?;
                if back {
                    if dice.once_in(2) {
                        // Followed, so that it has to be gone back from.
                        whereabouts_of(&studio, None).map_err(|error| what(error.to_string()))?;
                    }
                    let key = format!("{key}-back");
                    undo(&mut studio, &moment(&key, seconds), &done.act.to_string())
                        .map_err(|error| what(format!("the newest act is not taken back: {error}")))?;
                    let again = seen(&studio, seconds).map_err(what)?;
                    if !same(&again, &before) {
                        return Err(what(format!("({}) taken back: {again:?} and not {before:?}", done.kind)));
                    }
                    held.taken_back += 1;
                } else {
                    before = after;
                }
            }
            Err(refusal) => {
                *held.codes.entry(refusal.code).or_default() += 1;
                if ["entry_not_admitted", "book_failed", "book_damaged"].contains(&refusal.code) {
                    return Err(what(format!("{refusal} [{}]", refusal.code)));
                }
                let now = seen(&studio, seconds).map_err(what)?;
                if !same(&now, &before) {
                    return Err(what(format!("refused [{}]: {now:?} and not {before:?}", refusal.code)));
                }
            }
        }
        if (count + 1) % played.check_each == 0 || count + 1 == played.from + played.acts {
            whole(&studio).map_err(what)?;
            held.checks += 1;
        }
    }
    Ok(held)
}

/// The same but for what the hour alone changes: how old a thing is and what is due.
fn same(one: &Seen, other: &Seen) -> bool {
    let still =
        |item: &ItemView, like: &ItemView| ItemView { age_days: like.age_days, due: like.due.clone(), ..item.clone() };
    (&one.balances, &one.coats, &one.prints, &one.kept) == (&other.balances, &other.coats, &other.prints, &other.kept)
        && one.shelf.len() == other.shelf.len()
        && one.shelf.iter().zip(&other.shelf).all(|(one, other)| still(one, other) == *other)
}
