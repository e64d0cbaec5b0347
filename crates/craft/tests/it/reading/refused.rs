//! Refusals: every malformed text has its own stable code.

use std::collections::BTreeSet;

use handcoat_craft::measure::{
    Amount, AmountRatio, Currency, DropCount, Mass, MassFraction, Molarity, Money, PercentByVolume, ReadError,
    Readable, Span, Volume, read_price_per_mass,
};
use handcoat_craft::stock::{AlkaliChloride, Formula, MetalSalt};

use crate::bench::formula;

type Row = (&'static str, &'static str);

const MASSES: [Row; 42] = [
    ("", "value_missing"),
    (" \t", "value_missing"),
    ("g", "number_missing"),
    (".", "number_missing"),
    (",g", "number_missing"),
    ("--5g", "number_missing"),
    ("a lot", "number_missing"),
    ("½ g", "number_missing"),
    ("٣ g", "number_missing"),
    ("NaN g", "number_missing"),
    ("inf g", "number_missing"),
    ("≈5g", "number_missing"),
    ("1.2.3g", "number_two_marks"),
    ("1,500.0 g", "number_two_marks"),
    ("1.500,0 g", "number_two_marks"),
    ("1..5g", "number_two_marks"),
    ("1 500 g", "number_grouped"),
    ("1\u{a0}500 g", "number_grouped"),
    ("1'500 g", "number_grouped"),
    ("1’500 g", "number_grouped"),
    ("1_500g", "number_grouped"),
    ("1 1/2 g", "number_grouped"),
    ("5.g", "number_unfinished"),
    ("5,", "number_unfinished"),
    ("1234567890123456789g", "number_too_long"),
    ("0.12345678901234567890123456789 g", "number_too_long"),
    ("5", "unit_missing"),
    ("5 G", "unit_unknown"),
    ("5 lb", "unit_unknown"),
    ("5 gg", "unit_unknown"),
    ("5 g of it", "unit_unknown"),
    ("1e3g", "unit_unknown"),
    ("0x10 g", "unit_unknown"),
    ("1/2 g", "unit_unknown"),
    ("5±1 g", "unit_unknown"),
    ("5mL", "unit_of_another_kind"),
    ("5 %", "unit_of_another_kind"),
    ("5g/mol", "unit_of_another_kind"),
    ("-5g", "value_negative"),
    ("−5 g", "value_negative"),
    ("0.0000001g", "value_too_fine"),
    ("100001 g", "value_out_of_bounds"),
];

const VOLUMES: [Row; 5] = [
    ("25", "unit_missing"),
    ("25 g", "unit_of_another_kind"),
    ("1 gal", "unit_unknown"),
    ("0.5nL", "value_too_fine"),
    ("1001 L", "value_out_of_bounds"),
];

const TIMES: [Row; 23] = [
    ("", "value_missing"),
    ("90", "unit_missing"),
    ("4:60", "time_field_over_59"),
    ("1:99:00", "time_field_over_59"),
    ("4:0", "time_malformed"),
    ("4:000", "time_malformed"),
    (":30", "time_malformed"),
    ("4:", "time_malformed"),
    ("4::30", "time_malformed"),
    ("1:02:03:04", "time_malformed"),
    ("4:3a", "time_malformed"),
    ("-4:00", "time_malformed"),
    ("4:00s", "time_malformed"),
    ("12345:00", "time_malformed"),
    ("30s 4min", "time_malformed"),
    ("5min 5min", "time_malformed"),
    ("4m", "unit_unknown"),
    ("4 hours", "unit_unknown"),
    ("min", "number_missing"),
    ("4min30", "unit_missing"),
    ("-90s", "value_negative"),
    ("9999h", "value_out_of_bounds"),
    ("9999:59:59", "value_out_of_bounds"),
];

const SUMS: [Row; 12] = [
    ("", "value_missing"),
    ("EUR", "number_missing"),
    ("48", "currency_missing"),
    ("48$", "currency_ambiguous"),
    ("48 eur", "currency_unknown"),
    ("48 XXX", "currency_unknown"),
    ("48 EURO", "currency_unknown"),
    ("48.005EUR", "value_too_fine"),
    ("4800.5 JPY", "value_too_fine"),
    ("-48EUR", "value_negative"),
    ("10000000001 EUR", "value_out_of_bounds"),
    ("48 000 EUR", "number_grouped"),
];

const PRICES: [Row; 13] = [
    ("", "value_missing"),
    ("48EUR", "price_per_missing"),
    ("48EUR/0g", "price_per_missing"),
    ("48/g", "currency_missing"),
    ("48$/g", "currency_ambiguous"),
    ("48PLT/g", "currency_unknown"),
    ("EUR/g", "number_missing"),
    ("48.001EUR/g", "value_too_fine"),
    ("-48EUR/g", "value_negative"),
    ("48EUR/10", "unit_missing"),
    ("48EUR/10mL", "unit_of_another_kind"),
    ("48EUR/-1g", "value_negative"),
    ("48EUR/10 lb", "unit_unknown"),
];

const FORMULAS: [Row; 40] = [
    ("", "formula_missing"),
    ("   ", "formula_missing"),
    ("Xx2", "element_unknown"),
    ("NACL", "element_unknown"),
    ("Xe", "element_unlisted"),
    ("UO2", "element_unlisted"),
    ("pdcl2", "formula_unexpected_character"),
    ("Pd-Cl2", "formula_unexpected_character"),
    ("Pd Cl2", "formula_unexpected_character"),
    ("PdCl2?", "formula_unexpected_character"),
    ("Пд", "formula_unexpected_character"),
    ("(NH4", "bracket_unclosed"),
    ("K4[Fe(CN)6", "bracket_unclosed"),
    ("NH4)2", "bracket_unopened"),
    (")", "bracket_unopened"),
    ("(NH4]2", "bracket_mismatch"),
    ("{[Fe}]", "bracket_mismatch"),
    ("()2", "group_empty"),
    ("Fe[]", "group_empty"),
    ("((((((((((((Fe))))))))))))", "formula_nested_too_deep"),
    ("PdCl0", "count_zero"),
    ("PdCl02", "count_zero"),
    ("PdCl10000", "count_too_large"),
    ("PdCl99999999999", "count_too_large"),
    ("2NaCl", "formula_leading_number"),
    ("6H2O·NaCl", "formula_leading_number"),
    ("PdCl2·", "formula_part_missing"),
    ("·H2O", "formula_part_missing"),
    ("PdCl2··H2O", "formula_part_missing"),
    ("PdCl2·2", "formula_part_missing"),
    ("PdCl2·0H2O", "waters_malformed"),
    ("PdCl2·1/0H2O", "waters_malformed"),
    ("PdCl2·1/2/3H2O", "waters_malformed"),
    ("PdCl2·xH2O", "waters_open"),
    ("PdCl2·nH2O", "waters_open"),
    ("PdCl42-", "charge_ambiguous"),
    ("PdCl4^", "charge_malformed"),
    ("PdCl4^2", "charge_malformed"),
    ("PdCl4^+-", "charge_malformed"),
    ("Pb9999", "formula_too_heavy"),
];

fn all_refused<T>(rows: &[Row], read: impl Fn(&str) -> Result<T, &'static str>, codes: &mut BTreeSet<&'static str>) {
    for (text, code) in rows {
        assert_eq!(read(text).map(|_| "accepted"), Err(*code), "`{text}`");
        codes.insert(code);
    }
}

fn quantity<Q: Readable>(text: &str) -> Result<Q, &'static str> {
    Q::read(text).map_err(|error: ReadError| error.code())
}

#[test]
fn malformed_texts_have_their_codes() {
    let mut codes = BTreeSet::new();
    all_refused(&MASSES, quantity::<Mass>, &mut codes);
    all_refused(&VOLUMES, quantity::<Volume>, &mut codes);
    all_refused(&TIMES, quantity::<Span>, &mut codes);
    all_refused(&SUMS, quantity::<Money>, &mut codes);
    all_refused(&PRICES, |text| read_price_per_mass(text).map_err(|error| error.code()), &mut codes);
    all_refused(&FORMULAS, |text| text.parse::<Formula>().map_err(|error| error.code()), &mut codes);
    all_refused(&[("2.2 g", "unit_unwanted"), ("-2", "value_negative")], quantity::<AmountRatio>, &mut codes);
    all_refused(&[("1.5 drops", "value_too_fine"), ("12", "unit_missing")], quantity::<DropCount>, &mut codes);
    all_refused(&[("0 M", "value_out_of_bounds"), ("1 m", "unit_unknown")], quantity::<Molarity>, &mut codes);
    all_refused(
        &[("0 %", "value_out_of_bounds"), ("15 M", "unit_of_another_kind")],
        quantity::<PercentByVolume>,
        &mut codes,
    );
    all_refused(&[("100.1%", "value_out_of_bounds"), ("0.99", "unit_missing")], quantity::<MassFraction>, &mut codes);
    assert!(codes.len() >= 35, "{}: {codes:?}", codes.len());
}

#[test]
fn a_formula_longer_than_a_line_is_refused_before_it_is_read() {
    let long = "H2O".repeat(67);
    assert_eq!(long.parse::<Formula>().map_err(|error| error.code()), Err("formula_too_long"));
    assert!("H2".repeat(100).parse::<Formula>().is_ok());
}

#[test]
fn a_sum_too_large_to_count_is_out_of_bounds_and_not_too_fine() {
    for text in ["99999999999999999 EUR", "999999999999999999EUR", "999999999999999999 KWD"] {
        assert_eq!(Money::read(text).map_err(|error| error.code()), Err("value_out_of_bounds"), "`{text}`");
    }
    for text in ["99999999999999999 g", "999999999999999999kg"] {
        assert_eq!(Mass::read(text).map_err(|error| error.code()), Err("value_out_of_bounds"), "`{text}`");
    }
}

#[test]
fn a_price_for_a_volume_is_answered_with_what_it_is() {
    // `10mL` is already answered so; a bare unit must be too, and not with a missing number.
    for text in ["48EUR/mL", "48EUR/L"] {
        let code = read_price_per_mass(text).map(|_| "accepted").map_err(|error| error.code());
        assert_eq!(code, Err("unit_of_another_kind"), "`{text}`");
    }
}

#[test]
fn what_is_no_salt_or_chloride_is_refused_by_what_it_is() {
    const SALTS: [Row; 9] = [
        ("NaCl", "salt_without_metal"),
        ("PdPtCl4", "salt_with_two_metals"),
        ("[PdCl4]2-", "salt_charged"),
        ("H2PtCl6", "salt_not_planned"),
        ("Pd(NO3)2", "salt_not_planned"),
        ("PtCl2", "salt_not_planned"),
        ("NaKPdCl4", "salt_not_planned"),
        ("Na4Pd2Cl8", "salt_not_planned"),
        ("K2PtBr4", "salt_not_planned"),
    ];
    for (text, code) in SALTS {
        let found = MetalSalt::recognise(formula(text)).map(|_| "accepted").map_err(|error| error.code());
        assert_eq!(found, Err(code), "{text}");
    }
    for text in ["HCl", "CaCl2", "KBr", "NaKCl2", "Na2Cl2", "Cl-", "H2O", "K2PtCl4"] {
        assert!(AlkaliChloride::recognise(formula(text)).is_err(), "{text}");
    }
    for text in ["LiCl·H2O", "NaCl", "KCl", "NH4Cl", "CsCl", "LiCl"] {
        assert!(AlkaliChloride::recognise(formula(text)).is_ok(), "{text}");
    }
}

#[test]
fn a_refusal_says_what_was_found_and_what_is_expected() {
    let says = |error: ReadError| error.to_string();
    assert_eq!(
        Mass::read("60mL").map_err(says),
        Err("`60mL` is a volume; a mass was expected, as `5.4g` or `350mg`".into())
    );
    assert_eq!(Mass::read("100001 g").map_err(says), Err("a mass of 100001 g is outside 0 to 100000 g".into()));
    assert_eq!(
        Amount::read("-5 mol").map_err(says),
        Err("`-5 mol` is below zero; an amount of substance cannot be".into())
    );
    assert!(Amount::read("9999999 mol").map_err(says).is_err_and(|text| text.starts_with("an amount of substance of")));
    assert!(Currency::code("eur").is_err_and(|error| error.to_string().contains("`eur`")));
}

#[test]
fn a_refusal_repeats_what_was_typed_and_no_more_than_can_be_read() {
    let quantity = |text: &str| Mass::read(text).err().map(|error| error.to_string()).unwrap_or_default();
    let formula = |text: &str| text.parse::<Formula>().err().map(|error| error.to_string()).unwrap_or_default();
    assert!(quantity("1234567890123456789 g").starts_with("the number of `1234567890123456789 g` has more than 18"));
    assert!(formula("Pb9999").starts_with("`Pb9999` weighs 100000 g/mol or more"));
    // A point is read as the dot of a hydrate, and said back as a point.
    assert!(formula("(Pd.Cl2)").starts_with("`.` cannot stand here"), "{}", formula("(Pd.Cl2)"));
    assert!(formula("PdCl2·1.5½2H2O").starts_with("`1.5½2` is no number"), "{}", formula("PdCl2·1.5½2H2O"));
    assert!(formula("PdCl4^").starts_with("`^` is no charge"), "{}", formula("PdCl4^"));
    let pasted = format!("1{}9g", "0".repeat(5000));
    let cut = format!("`1{}…{}9g`", "0".repeat(35), "0".repeat(18));
    for text in [quantity(&pasted), quantity(&format!("5{}", &pasted[1..5000])), quantity(&"a cupful ".repeat(90))] {
        assert!(text.contains('…') && text.chars().count() < 200, "{text}");
    }
    assert!(quantity(&pasted).contains(&cut), "{}", quantity(&pasted));
    let long = formula(&"PdCl".repeat(300));
    assert!(long.starts_with("`PdClPdCl") && long.contains("PdCl` is longer") && long.chars().count() < 130, "{long}");
}
