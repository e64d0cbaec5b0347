//! Random acts on one book through `work`: after each the book agrees with itself, and what is taken back had never been.
//!
//! `HANDCOAT_RANDOM_ACTS` sets how many are played and `HANDCOAT_SEED` with what; `scripts/deep/acts` plays more.

use std::collections::BTreeMap;

use handcoat_trials::{Dice, moment, some_act};
use handcoat_work::Studio;
use handcoat_work::ledger::{BalanceRow, balance, undo};
use handcoat_work::shelf::{ItemView, shelf};

fn number(name: &str, usual: u64) -> u64 {
    std::env::var(name).ok().and_then(|text| text.parse().ok()).unwrap_or(usual)
}

/// All that a door can show of a book.
type Seen = (Vec<BalanceRow>, Vec<ItemView>);

fn seen(studio: &Studio, seconds: i64) -> Seen {
    let now = moment("for the hour", seconds).at;
    (balance(studio).expect("balances"), shelf(studio, now).expect("the shelf"))
}

fn holds(studio: &Studio, (balances, _): &Seen, what: &str) {
    let found = studio.check().expect("the check runs");
    assert!(found.damage.is_empty(), "{what}: {:?}", found.damage);
    let mut sums: BTreeMap<String, i128> = BTreeMap::new();
    for row in balances {
        assert!(row.account.item().is_none() || !row.amount.is_negative(), "{what}: {row:?}");
        *sums.entry(row.commodity.to_string()).or_default() += i128::from(row.amount.to_units());
    }
    assert!(sums.values().all(|sum| *sum == 0), "{what}: {sums:?}");
}

#[test]
fn after_every_random_act_the_book_agrees_with_itself() {
    let (wanted, seed) = (number("HANDCOAT_RANDOM_ACTS", 300), number("HANDCOAT_SEED", 7));
    let folder = tempfile::tempdir().expect("a folder");
    let mut dice = Dice::new(seed);
    let mut kinds: BTreeMap<String, usize> = BTreeMap::new();
    let mut codes: BTreeMap<&'static str, usize> = BTreeMap::new();
    let mut taken_back = 0_usize;
    let mut studio = Studio::create(&folder.path().join("studio-0.handcoat")).expect("a new book");
    for played in 0..wanted {
        // A check replays the whole book: a new one now and then keeps that from growing with the square.
        if played > 0 && played % 1000 == 0 {
            studio = Studio::create(&folder.path().join(format!("studio-{played}.handcoat"))).expect("a new book");
        }
        let seconds = i64::try_from(played).expect("a small number") * 60;
        let before = seen(&studio, seconds);
        let what = format!("seed {seed}, act {played}");
        let key = format!("acts-{seed}-{played}");
        match some_act(&mut studio, &mut dice, &moment(&key, seconds)) {
            Ok(done) => {
                *kinds.entry(done.kind.clone()).or_default() += 1;
                let after = seen(&studio, seconds);
                holds(&studio, &after, &format!("{what} ({})", done.kind));
                if done.kind != "undo" && dice.once_in(4) {
                    let key = format!("{key}-back");
                    undo(&mut studio, &moment(&key, seconds), &done.act.to_string()).expect("the newest act");
                    let back = seen(&studio, seconds);
                    assert_eq!(back, before, "{what} ({}) taken back", done.kind);
                    holds(&studio, &back, &what);
                    taken_back += 1;
                }
            }
            Err(refusal) => {
                *codes.entry(refusal.code).or_default() += 1;
                let slip = ["entry_not_admitted", "book_failed", "book_damaged"].contains(&refusal.code);
                assert!(!slip, "{what}: {refusal} [{}]", refusal.code);
                assert_eq!(seen(&studio, seconds), before, "{what} was refused [{}]", refusal.code);
            }
        }
    }
    // A trial that plays no acts, or only easy ones, proves nothing.
    for kind in ["receive", "mix", "split", "pour", "dilute", "sweep", "loss", "count", "retire", "import", "undo"] {
        assert!(kinds.contains_key(kind), "no {kind} was played: {kinds:?}");
    }
    let done: usize = kinds.values().sum();
    let half = usize::try_from(wanted).expect("a small number") / 2;
    assert!(done > half && taken_back * 8 > done && codes.len() >= 3, "{kinds:?} {codes:?}, {taken_back} taken back");
}
