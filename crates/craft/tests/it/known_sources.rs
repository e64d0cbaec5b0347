//! Every constant has a source, and every source an entry in `SOURCES.bib`; codes that check themselves do.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use handcoat_craft::measure::{Currency, ISO_4217};
use handcoat_craft::source::{
    BORROWED_SCALES, BOX_SALTS, CRYSTAL_DENSITIES, CYLINDERS, Citation, ELECTRON_MOLAR_MASS, HAZARD_STATEMENTS,
    HYDRATES, INCOMPATIBLE, ION_VOLUMES, KEEPING, LESS, NAMED, PRECEDENCE, PREPARED, Pictogram, SHOULDER_PART,
    SOLUBILITY, STANDARD_ATOMIC_WEIGHTS, Sign, Status, TESTS, TOE_ABOVE, UPTAKE_HABITS, USUAL_DROPS, USUAL_DROPS_OFF,
    WATER_DENSITY, causes, emergency,
};
use handcoat_craft::stock::named;

use crate::bench::formula;

fn crate_dir() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn text(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Rust files of a folder of this crate.
fn rust_files(folder: &str) -> Vec<(PathBuf, String)> {
    let entries = fs::read_dir(crate_dir().join(folder)).expect("a folder of this crate");
    let paths = entries.map(|entry| entry.expect("an entry").path());
    let mut files: Vec<_> = paths.filter(|path| path.extension().is_some_and(|e| e == "rs")).collect();
    files.sort();
    files.into_iter().map(|path| (path.clone(), text(&path))).collect()
}

/// Entries of the bibliography: key to body.
fn bibliography() -> BTreeMap<String, String> {
    let bib = text(&crate_dir().join("../../SOURCES.bib"));
    let mut entries = BTreeMap::new();
    for entry in bib.split("\n@").skip(1) {
        let (head, body) = entry.split_once(',').expect("a key ends with a comma");
        let (_, key) = head.split_once('{').expect("a key follows a brace");
        assert!(entries.insert(key.trim().to_owned(), body.to_owned()).is_none(), "{key} stands twice");
    }
    entries
}

/// Every citation that a table of the crate carries.
fn citations() -> Vec<(String, Citation)> {
    let solutes = CRYSTAL_DENSITIES.iter().chain(ION_VOLUMES);
    let mut all: Vec<(String, Citation)> = Vec::new();
    all.extend(STANDARD_ATOMIC_WEIGHTS.iter().map(|row| (row.symbol.into(), row.cite)));
    all.extend(NAMED.iter().map(|row| (row.formula.into(), row.cite)));
    all.extend(HYDRATES.iter().map(|row| (row.anhydrous.into(), row.cite)));
    all.extend(CYLINDERS.iter().map(|row| (format!("{} mL", row.capacity_ml), row.cite)));
    all.extend(INCOMPATIBLE.iter().map(|row| (row.what.into(), row.cite)));
    all.extend(SOLUBILITY.iter().map(|row| (row.formula.into(), row.cite)));
    all.extend(solutes.map(|(what, _, cite)| ((*what).into(), *cite)));
    all.extend(HAZARD_STATEMENTS.iter().map(|row| (row.code.into(), row.cite)));
    all.extend(emergency().iter().map(|row| (row.when.into(), row.cite)));
    all.push(("precedence".into(), PRECEDENCE.cite));
    all.extend(Pictogram::all().iter().map(|sign| (sign.code().into(), sign.cite())));
    all.extend(Sign::all().iter().flat_map(|sign| causes(*sign).iter().map(|own| (own.why.into(), own.cite))));
    all.extend(BOX_SALTS.iter().map(|row| (row.formula.into(), row.cite)));
    all.extend(UPTAKE_HABITS.iter().map(|row| (format!("{:?}", row.spread), row.cite)));
    all.extend(LESS.iter().map(|row| (row.what.into(), row.cite)));
    all.extend([USUAL_DROPS, USUAL_DROPS_OFF].map(|fact| ("usual drops".into(), fact.cite)));
    all.push(("water".into(), WATER_DENSITY.cite));
    all.extend(PREPARED.iter().map(|row| (row.formula.into(), row.cite)));
    all.extend(TESTS.iter().map(|row| (row.name.into(), row.cite)));
    all.extend(KEEPING.iter().map(|row| (row.advice.into(), row.cite)));
    all.extend(BORROWED_SCALES.iter().map(|row| (format!("{:?}", row.by), row.cite)));
    all.extend([TOE_ABOVE, SHOULDER_PART].map(|fact| ("criteria of a scale".into(), fact.cite)));
    all.push(("electron".into(), ELECTRON_MOLAR_MASS.cite));
    all
}

#[test]
fn every_citation_leads_to_the_bibliography() {
    let entries = bibliography();
    for (what, cite) in citations() {
        assert!(!cite.place.is_empty(), "{what}: no place");
        if cite.status == Status::CommonPractice {
            assert!(cite.key.is_empty(), "{what}: common practice has no work, but names {}", cite.key);
        } else {
            assert!(entries.contains_key(cite.key), "{what}: {} is not in SOURCES.bib", cite.key);
        }
    }
}

#[test]
fn every_key_written_anywhere_is_in_the_bibliography() {
    // The tables above are listed by hand; the text of the crate and of its tests is searched whole.
    const OPENERS: [&str; 4] =
        ["Citation::seen(\"", "Citation::second_hand(\"", "Citation::memory(\"", concat!("computed", "(\"")];
    let entries = bibliography();
    let mut found = BTreeSet::new();
    let stations = [
        "src/source",
        "src/stock",
        "src/paper",
        "src/coat",
        "src/print",
        "src/session",
        "src/measure",
        "src/expose",
        "src/tone",
        "src/negative",
    ];
    for folder in stations.into_iter().chain(["src/numerics", "tests/it"]) {
        for (path, text) in rust_files(folder) {
            for opener in OPENERS {
                for after in text.split(opener).skip(1) {
                    let (key, _) = after.split_once('"').expect("a closed string");
                    // A place that only speaks of an opener leaves an odd tail, not a key.
                    if key.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-') {
                        assert!(entries.contains_key(key), "{}: {key} is not in SOURCES.bib", path.display());
                        found.insert(key.to_owned());
                    }
                }
            }
        }
    }
    assert!(found.len() >= 12, "{found:?}");
}

#[test]
fn every_entry_can_be_found_again() {
    for (key, body) in bibliography() {
        let has = |field: &str| body.lines().any(|line| line.trim_start().starts_with(field) && line.contains('='));
        assert!(has("title") && has("year"), "{key}: no title or year");
        assert!(has("author") || has("editor"), "{key}: nobody wrote it");
        let place = ["journal", "publisher", "institution", "howpublished"];
        assert!(place.iter().any(|field| has(field)), "{key}: nowhere to find it");
        // An article says its pages; what was not opened says so in a note.
        assert!(!has("journal") || has("pages"), "{key}: no pages");
    }
}

/// Whether a type named in `text` holds a citation in each of its values.
fn carries_citation(text: &str, name: &str) -> bool {
    let alias = format!("pub type {name} = ");
    if let Some(line) = text.lines().find(|line| line.starts_with(&alias)) {
        return line.contains("Citation");
    }
    let head = format!("pub struct {name}");
    let Some((_, after)) = text.split_once(&head) else {
        return false;
    };
    let (body, _) = after.split_once("\n}").expect("a closed struct");
    body.contains("Citation")
}

#[test]
fn every_public_constant_carries_its_source() {
    let files = rust_files("src/source");
    let whole: String = files.iter().map(|(_, text)| text.as_str()).collect();
    let mut seen = 0;
    for (path, text) in &files {
        let lines: Vec<&str> = text.lines().collect();
        for (place, line) in lines.iter().enumerate() {
            let Some(declared) = line.trim_start().strip_prefix("pub const ").filter(|rest| !rest.starts_with("fn "))
            else {
                continue;
            };
            let (name, after) = declared.split_once(": ").expect("a constant has a type");
            let (kind, _) = after.split_once(" =").expect("a constant has a value");
            let at = format!("{}:{}: {name}", path.display(), place + 1);
            // A constant of an element is its place in the table of weights, whose rows are cited.
            let handle = kind == "Self" && line.contains("Self::listed(");
            let row = kind.trim_start_matches("super::").trim_start_matches("&[").trim_end_matches(']');
            let row = row.split('<').next().expect("a type has a name");
            assert!(handle || carries_citation(&whole, row), "{at}: {kind} carries no citation");
            let mut above = lines[..place].iter().rev().skip_while(|line| line.trim_start().starts_with("#["));
            assert!(above.next().is_some_and(|line| line.trim_start().starts_with("///")), "{at}: not explained");
            seen += 1;
        }
    }
    assert!(seen >= 30, "only {seen} constants");
}

/// The check digit of a CAS number: the others, weighted 1, 2, 3 … from the right, modulo ten.
fn cas_checks(number: &str) -> bool {
    let parts: Vec<&str> = number.split('-').collect();
    let [first, second, check] = parts.as_slice() else {
        return false;
    };
    if !(2..=7).contains(&first.len()) || second.len() != 2 || check.len() != 1 {
        return false;
    }
    let digits = first.chars().chain(second.chars()).rev().map(|c| c.to_digit(10));
    let sum = digits.zip(1..).map(|(digit, weight)| digit.map(|digit| digit * weight)).sum::<Option<u32>>();
    sum.is_some_and(|sum| check.chars().next().and_then(|c| c.to_digit(10)) == Some(sum % 10))
}

#[test]
fn cas_numbers_check_themselves() {
    // Water, and water with two digits swapped: the rule itself.
    assert!(cas_checks("7732-18-5") && !cas_checks("7723-18-5") && !cas_checks("7732-18"));
    let mut numbers = BTreeSet::new();
    for compound in NAMED {
        let Some(cas) = compound.cas else { continue };
        assert!(cas_checks(cas), "{}: {cas}", compound.formula);
        assert!(numbers.insert(cas), "{cas} stands for two compounds");
    }
    assert!(numbers.len() >= 15);
}

#[test]
fn named_formulas_parse_and_are_found_again() {
    for compound in NAMED {
        assert_eq!(formula(compound.formula).to_string(), compound.formula);
        assert_eq!(named(&formula(compound.formula)), Some(compound));
        assert!(!compound.name.is_empty());
    }
    for row in HYDRATES {
        let dry = formula(row.anhydrous);
        assert_eq!((dry.to_string().as_str(), dry.waters()), (row.anhydrous, 0.0));
        assert!(row.waters.len() > 1 && row.waters.is_sorted(), "{}: {:?}", row.anhydrous, row.waters);
        for &waters in row.waters {
            let hydrate = formula(&dry.with_waters(waters).expect("a hydrate").to_string());
            assert_eq!((hydrate.waters(), hydrate.dry().counts()), (waters, dry.counts()), "{}", row.anhydrous);
        }
    }
}

/// Ours that the library `iso_currency` 0.7.1 does not have as a current one, and why they stay.
const KEPT: [(&str, &str); 3] = [
    ("ANG", "replaced by XCG in 2025; old prices are in it (from memory)"),
    ("BGN", "replaced by EUR in 2026; old prices are in it (from memory)"),
    ("VES", "the standard lists VES and VED side by side (from memory)"),
];

#[test]
fn currencies_have_the_decimals_of_the_standard() {
    let kept: Vec<_> = KEPT.iter().map(|(code, _)| *code).collect();
    for &(code, digits) in ISO_4217 {
        assert_eq!(Currency::code(code).map(Currency::minor_digits), Ok(digits));
        let theirs = iso_currency::Currency::from_code(code);
        if let Some(known) = theirs {
            assert_eq!(known.exponent(), Some(u16::from(digits)), "{code}");
        }
        let current = theirs.is_some_and(|known| known.flags().is_empty());
        assert!(current || kept.contains(&code), "{code} is not current");
    }
    assert!(ISO_4217.is_sorted(), "the table is in order");
}

#[test]
fn no_current_currency_is_missing() {
    let letters = || b'A'..=b'Z';
    let codes = letters().flat_map(|a| letters().flat_map(move |b| letters().map(move |c| [a, b, c])));
    let mut missing = Vec::new();
    for code in codes {
        let code = String::from_utf8(code.to_vec()).expect("three letters");
        let current = iso_currency::Currency::from_code(&code).is_some_and(|known| known.flags().is_empty());
        if current && Currency::code(&code).is_err() {
            missing.push(code);
        }
    }
    assert_eq!(missing, Vec::<String>::new(), "current in the library iso_currency 0.7.1");
}
