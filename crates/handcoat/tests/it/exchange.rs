//! What goes out of a book and comes in again.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

use crate::books::{new_book, on, shelf_of_books};
use crate::command::{fresh_folder, handcoat};

/// Runs the program itself, in a time zone and a language of its own.
fn in_zone(zone: &str, language: &str, arguments: &[&str]) {
    let done = Command::new(env!("CARGO_BIN_EXE_handcoat"))
        .args(arguments)
        .env("TZ", zone)
        .env("LC_ALL", language)
        .env("LANG", language)
        .output()
        .expect("the program runs");
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
}

fn contents(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let entries = std::fs::read_dir(folder).expect("a folder").map(|own| own.expect("an entry").path());
    let mut files: Vec<(String, Vec<u8>)> = entries
        .map(|path| {
            let name = path.file_name().expect("a name").to_string_lossy().into_owned();
            (name, std::fs::read(path).expect("a file"))
        })
        .collect();
    files.sort();
    files
}

fn text(path: &Path) -> &str {
    path.to_str().expect("a path that is text")
}

fn shelf(book: &Path) -> Vec<Value> {
    let shelf: Value = serde_json::from_str(&on(book, &["stock", "shelf", "--json"])).expect("JSON");
    shelf["items"].as_array().expect("items").clone()
}

/// A book to hand out: a copy of the one of `books`, with a name a spreadsheet would take for a formula.
fn book_in(folder: &Path) -> PathBuf {
    let book = folder.join("studio.handcoat");
    on(&shelf_of_books().join("studio.handcoat"), &["backup", text(&book)]);
    for words in [
        &[
            "stock",
            "receive",
            "PdCl2",
            "--mass",
            "4.5g",
            "--name",
            "=jar; of: a  \"friend\"",
            "--price",
            "200",
            "--currency",
            "EUR",
        ][..],
        &["stock", "lose", "=jar; of: a  \"friend\"", "--amount", "0.333333g"],
    ] {
        on(&book, words);
    }
    book
}

#[test]
fn the_same_book_gives_the_same_bytes_in_any_zone_and_language() {
    let folder = fresh_folder("export-zones");
    let book = book_in(&folder);
    let (one, other) = (folder.join("one"), folder.join("other"));
    in_zone("Pacific/Kiritimati", "de_DE.UTF-8", &["export", text(&one), "--book", text(&book)]);
    // An empty folder will do as well as none.
    std::fs::create_dir(&other).expect("a folder");
    in_zone("America/Adak", "C", &["export", text(&other), "--book", text(&book)]);
    let files = contents(&one);
    assert_eq!(files, contents(&other));
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, handcoat_work::exchange::NAMES);
    for (name, bytes) in &files {
        let text = std::str::from_utf8(bytes).expect("UTF-8");
        assert!(text.ends_with('\n') && !text.contains('\r'), "{name}");
    }
    let checked = Command::new("sha256sum").args(["--check", "--strict", "manifest.sha256"]).current_dir(&one).output();
    let checked = checked.expect("sha256sum of coreutils");
    assert!(checked.status.success(), "{}", String::from_utf8_lossy(&checked.stdout));
    assert_eq!(String::from_utf8_lossy(&checked.stdout).lines().count(), names.len() - 1);
}

#[test]
fn the_document_holds_everything_with_its_keys_in_order() {
    let folder = fresh_folder("export-document");
    let book = book_in(&folder);
    on(&book, &["export", text(&folder.join("out"))]);
    let written = std::fs::read_to_string(folder.join("out/book.json")).expect("read");
    let document: Value = serde_json::from_str(&written).expect("JSON");
    assert_eq!(document["schema"], 1);
    let acts: Value = serde_json::from_str(&on(&book, &["ledger", "acts", "--most", "999", "--json"])).expect("JSON");
    assert_eq!(document["acts"].as_array().map(Vec::len), acts["acts"].as_array().map(Vec::len));
    let balances: Value = serde_json::from_str(&on(&book, &["ledger", "balance", "--json"])).expect("JSON");
    assert_eq!(document["balances"].as_array().map(Vec::len), balances["rows"].as_array().map(Vec::len));
    fn ordered(value: &Value) -> bool {
        match value {
            Value::Object(map) => map.keys().is_sorted() && map.values().all(ordered),
            Value::Array(list) => list.iter().all(ordered),
            _ => true,
        }
    }
    assert!(ordered(&document));
    let journal = std::fs::read_to_string(folder.join("out/journal.ledger")).expect("read");
    // Two spaces end an account in a journal, a colon parts it and a semicolon begins a remark.
    assert!(journal.contains("    shelf:jar:10 =jar, of a \"friend\"  -14.81 EUR\n"), "{journal}");
    assert!(journal.contains(") loss: 0.333333 g of =jar, of: a \"friend\" are lost.\n"), "{journal}");
    let items = std::fs::read_to_string(folder.join("out/items.csv")).expect("read");
    assert!(items.contains("\"=jar; of: a  \"\"friend\"\"\""), "data stay as they are: {items}");
}

#[test]
fn an_export_is_whole_or_not_there() {
    let folder = fresh_folder("export-whole");
    let book = book_in(&folder);
    let out = folder.join("out");
    let export = || handcoat(&["export", text(&out), "--book", text(&book)]);
    // Something in the way of the half-written folder that is not ours stays, and is said.
    let part = folder.join("out.part");
    std::fs::create_dir(&part).expect("a folder");
    std::fs::write(part.join("items.csv"), "half").expect("written");
    std::fs::write(part.join("a letter.txt"), "dear friend").expect("written");
    let refused = export();
    assert_eq!((refused.code, out.exists()), (4, false), "{}", refused.messages);
    assert!(part.join("a letter.txt").exists());
    std::fs::remove_file(part.join("a letter.txt")).expect("removed");
    // Left by a try that was cut off.
    std::fs::write(part.join("items.csv"), "half").expect("written");
    assert_eq!(export().code, 0);
    assert!(!part.exists() && out.join("manifest.sha256").exists());
    let before = contents(&out);
    assert_eq!(export().code, 4, "what is there is never written over");
    assert_eq!(contents(&out), before);
    #[cfg(unix)]
    {
        let link = folder.join("link");
        std::fs::create_dir(folder.join("empty")).expect("a folder");
        std::os::unix::fs::symlink(folder.join("empty"), &link).expect("a link");
        assert_eq!(handcoat(&["export", text(&link), "--book", text(&book)]).code, 4, "never through a link");
    }
}

#[test]
fn a_shelf_comes_back_as_it_went_out() {
    let folder = fresh_folder("round-trip");
    let book = book_in(&folder);
    on(&book, &["export", text(&folder.join("out"))]);
    let table = folder.join("out/items.csv");
    let fresh = new_book(&fresh_folder("round-trip-fresh"));
    let import = ["import", text(&table), "--decimal-mark", "point"];
    let look = on(&fresh, &[&import[..], &["--json"]].concat());
    let look: Value = serde_json::from_str(&look).expect("JSON");
    assert_eq!((&look["would_import"], look["findings"].as_array().map(Vec::len)), (&Value::Bool(true), Some(0)));
    assert!(shelf(&fresh).is_empty(), "a dry run keeps nothing");
    on(&fresh, &[&import[..], &["--yes"]].concat());
    let keys = [
        "kind",
        "name",
        "formula",
        "mass_g",
        "volume_ml",
        "metal",
        "metal_mg",
        "metal_mg_per_ml",
        "percent_wv",
        "cost",
    ];
    let amounts = |book: &Path| -> Vec<Vec<Value>> {
        let full = |item: &&Value| item["mass_g"].as_f64().or(item["volume_ml"].as_f64()).is_some_and(|own| own > 0.0);
        shelf(book).iter().filter(full).map(|item| keys.map(|key| item[key].clone()).to_vec()).collect()
    };
    assert_eq!(amounts(&book), amounts(&fresh));
    assert!(amounts(&fresh).len() >= 8);
    on(&fresh, &["check"]);
    // And out again: the amounts of the table are the same.
    on(&fresh, &["export", text(&folder.join("again"))]);
    let rows = |path: &Path| -> Vec<String> {
        let text = std::fs::read_to_string(path).expect("read");
        let here = text.lines().filter(|line| line.contains(",here,"));
        here.map(|line| line.split(",here,").nth(1).expect("a row").split(",2026-").next().expect("cells").into())
            .collect()
    };
    assert_eq!(rows(&table).len(), rows(&folder.join("again/items.csv")).len());
    // Taken back, the shelf is empty and the names are free.
    on(&fresh, &["undo", "1"]);
    assert!(shelf(&fresh).is_empty());
    on(&fresh, &[&import[..], &["--yes"]].concat());
}

#[test]
fn an_import_is_one_act_and_all_or_nothing() {
    let folder = fresh_folder("import-whole");
    let book = new_book(&folder);
    let table = folder.join("shelf.csv");
    let rows = "formula;name;mass_g;volume_ml;percent_wv;cost_EUR;cost_USD\n\
                PdCl2;jar;8,25;;;400,50;\nK2PtCl4;vial jar;2;;;;99,90\nNa2PdCl4;bought;;42,5;15;;\n";
    std::fs::write(&table, format!("{rows}PdCl2;jar;1.5;;;;\nXx;bad;1;;;;\n")).expect("written");
    let import = ["import", text(&table), "--decimal-mark", "comma", "--key", "import-of-march"];
    let look = on(&book, &import);
    for words in
        ["line 5, column mass_g: `1.5` has a point", "line 6, column formula: ", "takes: grams of powder", "Found 2;"]
    {
        assert!(look.contains(words), "{words}: {look}");
    }
    let refused = handcoat(&[&import[..], &["--yes", "--book", text(&book)]].concat());
    assert_eq!(refused.code, 2, "{}", refused.messages);
    assert!(refused.messages.contains("line 5, column mass_g: ") && refused.messages.contains("(and 1 more)"));
    assert!(shelf(&book).is_empty(), "a sound row comes in only with all others");
    std::fs::write(&table, rows).expect("written");
    let done = on(&book, &[&import[..], &["--yes"]].concat());
    assert!(done.contains("jar is on the shelf: 8.25 g.") && done.contains("Act 1."), "{done}");
    // The same again is done once.
    let again = on(&book, &[&import[..], &["--yes"]].concat());
    assert!(again.contains("nothing was done twice"), "{again}");
    assert_eq!(shelf(&book).len(), 3);
    // Each jar of the list is its own: what came in with one did not come in with the others.
    let went: Value = serde_json::from_str(&on(&book, &["ledger", "where", "jar", "--json"])).expect("JSON");
    let received = went["items"][0]["received"].as_i64().expect("a number");
    let jar = shelf(&book)[0]["metal_mg"].as_f64().expect("a number");
    assert!((received as f64 / 1000.0 - jar).abs() < 1e-6, "{went}");
    let rows = went["rows"].as_array().expect("rows");
    let metal =
        rows.iter().filter(|row| row["commodity"] == "Pd" && row["account"] != "supplier" && row["amount_ug"] != 0);
    assert_eq!(metal.count(), 1, "{went}");
    let balance = on(&book, &["ledger", "balance"]);
    assert!(balance.contains("400.50 EUR") && balance.contains("99.90 USD"), "{balance}");
}

#[test]
fn a_sample_is_a_table_that_comes_in() {
    let folder = fresh_folder("import-sample");
    let book = new_book(&folder);
    for mark in ["point", "comma"] {
        let table = folder.join(format!("{mark}.csv"));
        let words = ["import", text(&table), "--decimal-mark", mark];
        assert_eq!(handcoat(&[&words[..], &["--sample"]].concat()).code, 0);
        let look = on(&book, &words);
        assert!(look.contains("To put 3 on the shelf"), "{look}");
        // The other mark is not taken for this one.
        let other = if mark == "point" { "comma" } else { "point" };
        let look = on(&book, &["import", text(&table), "--decimal-mark", other]);
        assert!(look.contains("[decimal_mark_other]"), "{look}");
    }
}

#[test]
fn a_name_the_program_gives_is_one_that_may_be_asked_for() {
    let folder = fresh_folder("long-names");
    let book = new_book(&folder);
    on(&book, &["stock", "receive", "(NH4)2PdCl4", "--mass", "5g"]);
    for _ in 0..3 {
        on(&book, &["stock", "sweep", "--from", "ammonium tetrachloropalladate(II)", "--mass", "0.01g"]);
    }
    let names: Vec<String> = shelf(&book).iter().map(|item| item["name"].as_str().expect("a name").into()).collect();
    assert!(names.len() == 4 && names.iter().all(|name| name.chars().count() <= 40), "{names:?}");
    on(&book, &["export", text(&folder.join("out"))]);
    let fresh = new_book(&fresh_folder("long-names-fresh"));
    on(&fresh, &["import", text(&folder.join("out/items.csv")), "--decimal-mark", "point", "--yes"]);
    let back: Vec<String> = shelf(&fresh).iter().map(|item| item["name"].as_str().expect("a name").into()).collect();
    assert_eq!(names, back);
}
