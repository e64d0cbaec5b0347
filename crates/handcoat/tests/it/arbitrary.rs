//! Whatever is typed: an answer, or a refusal with a code of the house; in words and in JSON; never a panic.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use proptest::strategy::{Just, Strategy, Union};
use proptest::test_runner::TestCaseError;
use proptest::{collection, prop_assert, prop_assert_eq, proptest};
use serde_json::Value;

use crate::command::handcoat;
use crate::refusals::codes_in_sources;

static CODES: LazyLock<BTreeSet<String>> = LazyLock::new(codes_in_sources);

/// Runs a command line twice, in words and with `--json`; `last` are bare words, whatever they begin with.
fn answered_or_refused(flags: &[String], last: &[String]) -> Result<(), TestCaseError> {
    let run = |json: &[&str]| {
        let words = flags.iter().map(String::as_str).chain(json.iter().copied());
        let bare = if last.is_empty() { None } else { Some("--") };
        handcoat(&words.chain(bare).chain(last.iter().map(String::as_str)).collect::<Vec<_>>())
    };
    let (spoken, written) = (run(&[]), run(&["--json"]));
    prop_assert_eq!(spoken.code, written.code, "{:?} {:?}", flags, last);
    if spoken.code == 0 {
        prop_assert!(spoken.messages.is_empty() && !spoken.data.is_empty(), "{:?}", spoken);
        prop_assert!(
            serde_json::from_str::<Value>(&written.data).is_ok_and(|value| value.is_object()),
            "{:?}",
            written
        );
        return Ok(());
    }
    // 1 would be a failure of the program or the machine, and nothing was to be written.
    prop_assert!(matches!(spoken.code, 2 | 4) && spoken.data.is_empty(), "{:?}", spoken);
    let error: Value =
        serde_json::from_str(&written.messages).map_err(|error| TestCaseError::fail(error.to_string()))?;
    let code = error["error"]["code"].as_str().unwrap_or_default();
    prop_assert!(CODES.contains(code), "`{code}` is no code of the house: {written:?}");
    prop_assert!(spoken.messages.ends_with(&format!("[{code}]\n")), "{:?}", spoken);
    prop_assert!(error["error"]["message"].as_str().is_some_and(|text| !text.is_empty()), "{written:?}");
    prop_assert!(error["error"]["remedies"].as_array().is_some_and(|steps| !steps.is_empty()), "{written:?}");
    Ok(())
}

/// Any text, or one that looks like a formula: some are.
fn formula() -> impl Strategy<Value = String> {
    let pieces = [
        "Pd", "Pt", "Cl2", "Cl", "Cl4", "Cl6", "Na2", "K2", "NH4", "(NH4)2", "Fe2", "C2O4", "H2O", "(", ")", "[", "]3",
        "·", ".", "6", "1/2", "½", "x", "^", "2-", "+", "₂", "²⁻", " ", "O", "é", "-",
    ];
    let known = ["PdCl2", "K2PtCl4", "Na2PtCl6·6H2O", "Na2PdCl4", "Fe2(C2O4)3", "NaClO", "HCl"];
    let of = |words: &[&'static str]| Union::new(words.iter().map(|word| Just(*word)).collect::<Vec<_>>());
    let built = collection::vec(of(&pieces), 0..7).prop_map(|pieces| pieces.concat());
    let hydrate =
        (of(&known), of(&["·", ".", " * "]), "[0-9]{0,3}|[0-9][.,/][0-9]{1,2}|[½x]", of(&["H2O", "(H2O)", "Cl"]))
            .prop_map(|(salt, dot, waters, water)| format!("{salt}{dot}{waters}{water}"));
    Union::new([
        of(&known).prop_map(String::from).boxed(),
        hydrate.boxed(),
        built.boxed(),
        "\\PC{0,24}".boxed(),
        ".{0,12}".boxed(),
    ])
}

/// Any text, or one that looks like a quantity in this unit: some are.
fn quantity(unit: &'static str) -> impl Strategy<Value = String> {
    let sound = (0_u32..400_000, 0_usize..5).prop_map(move |(number, decimals)| {
        format!("{}{unit}", f64::from(number) / [1.0, 10.0, 100.0, 1e3, 1e4][decimals])
    });
    Union::new([sound.boxed(), "[-0-9.,eE a-zµ%/]{0,12}".boxed(), "\\PC{0,9}".boxed()])
}

fn waters() -> impl Strategy<Value = String> {
    let words = Union::new(["none", "unknown", "3", "2,5", "25", "-1"].map(Just)).prop_map(String::from);
    Union::new([words.boxed(), "\\PC{0,6}".boxed()])
}

/// `--flag=value`, so that a value may begin with a dash.
fn said(flag: &str, value: &str) -> String {
    format!("{flag}={value}")
}

fn command(words: [&str; 2], flags: &[Option<String>]) -> Vec<String> {
    words.map(String::from).into_iter().chain(flags.iter().flatten().cloned()).collect()
}

const PLAN_FLAGS: [(&str, &str); 14] = [
    ("--make", "mL"),
    ("--salt-mass", "g"),
    ("--bottle", "mL"),
    ("--budget", "EUR"),
    ("--molarity", "M"),
    ("--percent-complex", "%"),
    ("--salt-per-100ml", "%"),
    ("--metal-per-ml", "mg/mL"),
    ("--chloride-ratio", ""),
    ("--chloride-mass", "g"),
    ("--purity", "%"),
    ("--balance", "g"),
    ("--weighed", "g"),
    ("--glass", "mL"),
];

proptest! {
    #[test]
    fn plan(
        salt in formula(), make in quantity("mL"), water in waters(),
        price in "[0-9.,]{0,5}[A-Z€$]{0,4}/?[0-9]{0,2}[a-z]{0,2}",
        (flag, value) in Union::new(PLAN_FLAGS.map(|(flag, unit)| quantity(unit).prop_map(move |v| (flag, v)).boxed())),
    ) {
        let odd = said(flag, &value);
        let make = (flag != "--make").then(|| said("--make", &make));
        let all = [said("--salt", &salt), said("--hydrate", &water), said("--price-salt", &price), odd.clone()].map(Some);
        answered_or_refused(&command(["stock", "plan"], &[&all[..], &[make]].concat()), &[])?;
        // All sound but one answer, which is then what is looked at.
        let volume = (flag != "--make").then(|| "--make=60mL".into());
        answered_or_refused(&command(["stock", "plan"], &[Some("--salt=PdCl2".into()), Some(odd), volume]), &[])?;
    }

    #[test]
    fn strength(solid in formula(), percent in quantity("%"), water in waters(), with_water in proptest::bool::ANY) {
        let water = with_water.then(|| said("--hydrate", &water));
        let flags = command(["stock", "strength"], &[Some(said("--percent", &percent)), water]);
        answered_or_refused(&flags, &[solid])?;
        answered_or_refused(&flags, &["Fe2(C2O4)3".into()])?;
    }

    #[test]
    fn ladder(
        salt in formula(), from in quantity("%"), keep in quantity("mL"), rungs in "[0-9]{1,2}|\\PC{0,4}",
        balance in quantity("g"), purity in quantity("%"), of in "salt|metal|trace|unknown|\\PC{0,6}",
    ) {
        let all = [
            said("--from", &from), said("--keep", &keep), said("--rungs", &rungs), said("--balance", &balance),
            said("--purity", &purity), said("--purity-of", &of),
        ];
        for salt in [salt.as_str(), "Na2PtCl6·6H2O"] {
            let salt = Some(said("--salt", salt));
            answered_or_refused(&command(["stock", "ladder"], &[&[salt.clone()][..], &all.clone().map(Some)].concat()), &[])?;
            for one in &all {
                answered_or_refused(&command(["stock", "ladder"], &[salt.clone(), Some(one.clone())]), &[])?;
            }
        }
    }

    #[test]
    fn pairs(substances in collection::vec(formula(), 0..4)) {
        answered_or_refused(&command(["stock", "pairs"], &[]), &substances)?;
    }

    #[test]
    fn one_formula(text in formula()) {
        answered_or_refused(&command(["stock", "formula"], &[]), &[text])?;
    }

    #[test]
    fn words_that_are_no_command(words in collection::vec("stock|plan|pairs|--json|--salt|-[a-z]|--\\PC{0,6}|\\PC{0,6}", 1..4)) {
        let words: Vec<&str> = words.iter().map(String::as_str).filter(|word| !matches!(*word, "help" | "tour")).collect();
        let outcome = handcoat(&words);
        prop_assert!(matches!(outcome.code, 0 | 2 | 4), "{words:?}: {outcome:?}");
        prop_assert!(outcome.data.is_empty() != outcome.messages.is_empty(), "{words:?}: {outcome:?}");
    }
}
