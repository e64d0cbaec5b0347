//! The journal of a random book, read by a general accounting program: it balances there, and to the last microgram as here.
//!
//! Which one: Debian's `hledger`. Where it is not there the test says so and is over; with `HANDCOAT_HLEDGER` set it must be there.

use std::collections::BTreeMap;
use std::io::Write as _;
use std::path::Path;
use std::process::Command;

use handcoat_craft::ledger::{Account, Commodity, ContentsIn};
use handcoat_trials::{Dice, moment, some_act};
use handcoat_work::Studio;
use handcoat_work::exchange::{DecimalMark, export, import};
use handcoat_work::ledger::balance;
use handcoat_work::shelf::{ItemView, Receive, receive, shelf};
use serde_json::Value;

/// Amounts by account and commodity, as a whole count and its decimals.
type Held = BTreeMap<(String, String), (i128, u32)>;

fn hledger(journal: &Path, words: &[&str]) -> Option<String> {
    let done = Command::new("hledger").arg("-f").arg(journal).args(words).env("LC_ALL", "C.UTF-8").output();
    match done {
        Ok(done) => {
            assert!(done.status.success(), "{words:?}: {}", String::from_utf8_lossy(&done.stderr));
            Some(String::from_utf8(done.stdout).expect("UTF-8"))
        }
        Err(error) => {
            assert!(std::env::var_os("HANDCOAT_HLEDGER").is_none(), "hledger does not run: {error}");
            let _ = std::io::stdout().write_all(b"skipped: hledger is not there to read the journal\n");
            None
        }
    }
}

fn books_of_others(json: &str) -> Held {
    let report: Value = serde_json::from_str(json).expect("JSON of hledger");
    let mut held = Held::new();
    for row in report[0].as_array().expect("rows") {
        for amount in row[3].as_array().expect("amounts") {
            let quantity = &amount["aquantity"];
            let mantissa = i128::from(quantity["decimalMantissa"].as_i64().expect("a mantissa"));
            let places = u32::try_from(quantity["decimalPlaces"].as_u64().expect("places")).expect("few places");
            let account = row[0].as_str().expect("an account").to_owned();
            let commodity = amount["acommodity"].as_str().expect("a commodity").to_owned();
            held.insert((account, commodity), (mantissa, places));
        }
    }
    held
}

/// Ours, under the names the journal uses. Names of items are left out: the number says which.
fn own_books(studio: &Studio) -> Held {
    let rows = balance(studio).expect("balances");
    rows.iter()
        .map(|row| {
            let account =
                row.account.item().map_or_else(|| row.account.to_string(), |_| format!("shelf:{}", row.account));
            let (commodity, places) = match row.commodity {
                Commodity::Metal(element) => (element.to_string(), 6),
                Commodity::Money(currency) => (currency.to_string(), u32::from(currency.minor_digits())),
                Commodity::Contents(item, ContentsIn::Micrograms) => (format!("contents {item} g"), 6),
                Commodity::Contents(item, ContentsIn::Nanolitres) => (format!("contents {item} mL"), 6),
            };
            ((account, commodity), (i128::from(row.amount.to_units()), places))
        })
        .collect()
}

/// `shelf:jar:3 palladium chloride` becomes `shelf:jar:3`.
fn without_name(account: &str) -> String {
    match account.split_once(' ') {
        Some((number, _)) if account.starts_with("shelf:") => number.into(),
        _ => account.into(),
    }
}

/// What stands on the shelf and holds anything: kind, name, contents, metal and cost.
fn full(studio: &Studio) -> Vec<(String, Held)> {
    let rows = balance(studio).expect("balances");
    let items = shelf(studio, moment("for the hour", 0).at).expect("the shelf");
    let held = |item: &ItemView| -> Held {
        let account = Account::Item(item.kind, item.number);
        let own = rows.iter().filter(|row| row.account == account);
        own.map(|row| {
            let thing = if matches!(row.commodity, Commodity::Contents(..)) {
                "contents".into()
            } else {
                row.commodity.to_string()
            };
            ((item.kind.word().into(), thing), (i128::from(row.amount.to_units()), 0))
        })
        .collect()
    };
    items.iter().map(|item| (item.name.clone(), held(item))).filter(|(_, held)| !held.is_empty()).collect()
}

#[test]
fn the_shelf_of_a_random_book_comes_back_to_the_last_microgram() {
    for seed in 1..7 {
        let folder = tempfile::tempdir().expect("a folder");
        let mut studio = Studio::create(&folder.path().join("studio.handcoat")).expect("a new book");
        let mut dice = Dice::new(seed);
        for played in 0..120_i64 {
            let _ = some_act(&mut studio, &mut dice, &moment(&format!("back-{seed}-{played}"), played));
        }
        let files = export(&studio).expect("the files");
        let (_, table) = files.iter().find(|(name, _)| *name == "items.csv").expect("the shelf");
        let mut fresh = Studio::create(&folder.path().join("fresh.handcoat")).expect("a new book");
        let when = moment("import-back", 0);
        import(&mut fresh, &when, table, DecimalMark::Point).expect("every row is taken");
        assert!(full(&fresh).len() > 4, "seed {seed}");
        assert_eq!(full(&studio), full(&fresh), "seed {seed}");
        assert_eq!(fresh.check().expect("the check runs").damage, []);
    }
}

/// Both as whole counts of the finer unit.
fn finest((count, places): (i128, u32)) -> i128 {
    count * 10_i128.pow(12 - places)
}

#[test]
fn another_program_balances_the_journal_and_finds_the_same() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut studio = Studio::create(&folder.path().join("studio.handcoat")).expect("a new book");
    // Names that mean something in a journal, currencies without and with three decimals, and a date nobody would type.
    let odd = [
        "a; b",
        "* star",
        "(bracket)",
        "x  y\u{3000}z",
        "[date:2026-13-45]",
        "\"quoted\"",
        "-5.0 EUR",
        "jar:sub",
        "a | b",
        "~ = @",
    ];
    for (count, name) in odd.iter().enumerate() {
        let currency = ["JPY", "KWD", "EUR"][count % 3];
        let answers = Receive {
            formula: Some("PdCl2".into()),
            mass: Some(format!("{}.000001g", count + 1)),
            name: Some((*name).into()),
            price: Some(format!("{}{currency}", 100 * (count + 1))),
            note: Some("; remark".into()),
            ..Receive::default()
        };
        let mut when = moment(&format!("journal-odd-{count}"), 0);
        if count == 3 {
            when.at = "-000400-03-14T10:30:00Z".parse().expect("an instant");
        }
        receive(&mut studio, &when, &answers).expect("received");
    }
    let mut dice = Dice::new(41);
    for played in 0..150_i64 {
        // Refusals are part of the play.
        let _ = some_act(&mut studio, &mut dice, &moment(&format!("journal-{played}"), played * 7_200));
    }
    for (name, bytes) in export(&studio).expect("the files") {
        std::fs::write(folder.path().join(name), bytes).expect("written");
    }
    let journal = folder.path().join("journal.ledger");
    let Some(json) = hledger(&journal, &["balance", "--flat", "--no-elide", "-O", "json"]) else { return };
    let others: BTreeMap<(String, String), i128> = books_of_others(&json)
        .into_iter()
        .map(|((account, commodity), own)| ((without_name(&account), commodity), finest(own)))
        .filter(|(_, amount)| *amount != 0)
        .collect();
    let own: BTreeMap<(String, String), i128> =
        own_books(&studio).into_iter().map(|(place, own)| (place, finest(own))).collect();
    assert!(own.len() > 100, "only {} balances", own.len());
    assert_eq!(own, others);
    // And it reads as many transactions as there are acts that moved anything.
    let moved = std::fs::read_to_string(folder.path().join("lines.csv")).expect("read");
    let acts: std::collections::BTreeSet<&str> =
        moved.lines().skip(1).filter_map(|line| line.split(',').next()).collect();
    let stats = hledger(&journal, &["print", "-O", "csv"]).expect("it ran before");
    let seen: std::collections::BTreeSet<&str> =
        stats.lines().skip(1).filter_map(|line| line.split(',').next()).collect();
    assert_eq!(seen.len(), acts.len());
}
