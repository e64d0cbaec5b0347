//! Traps of the trade that touch a record: judged wet, units that are no seconds, a shortfall that must not be lost.

use handcoat_craft::ledger::Account;
use handcoat_work::keep::{Keep, RecordKind, keep, one_kept};
use handcoat_work::ledger::balance;
use handcoat_work::print::{CoatMade, FIELDS, PrintMade, Repeat, Spoiled, coat, note, print, record, repeat, spoil};
use handcoat_work::shelf::{Receive, Retire, receive, retire};

use crate::studio::{TestStudio, fields, now};

fn with_bottles() -> TestStudio {
    let mut studio = TestStudio::new();
    for (formula, percent, name) in [("Fe2(C2O4)3", "27%", "iron"), ("Na2PdCl4", "15%", "palladium")] {
        let answers = Receive {
            formula: Some(formula.into()),
            volume: Some("50mL".into()),
            percent: Some(percent.into()),
            hydrate: (name == "palladium").then(|| "none".into()),
            name: Some(name.into()),
            ..Receive::default()
        };
        receive(&mut studio.studio, &now(), &answers).expect("received");
    }
    studio
}

/// Prints dry darker: a wet verdict and a dry one are two things, and one never overwrites the other.
#[test]
fn a_print_judged_wet_is_not_judged() {
    let mut studio = with_bottles();
    let made = PrintMade { title: Some("Heron".into()), fields: fields(&[("wet", "thin")]), ..PrintMade::default() };
    record(&mut studio.studio, &now(), &made).expect("recorded");
    let shown = print(&studio.studio, "1").expect("there");
    assert_eq!((shown.of("wet"), shown.of("dry")), (Some("thin"), None));
    note(&mut studio.studio, &now(), "1", &fields(&[("dry", "good")])).expect("noted");
    let shown = print(&studio.studio, "1").expect("there");
    assert_eq!((shown.of("wet"), shown.of("dry")), (Some("thin"), Some("good")));
}

/// Seconds and integrator units are different things: neither is read as the other, and a repeat gives back what was written.
#[test]
fn units_of_an_integrator_are_no_seconds() {
    let form = |key: &str| FIELDS.iter().find(|field| field.key == key).expect("a field").form;
    assert_ne!(form("time"), form("units"));
    let mut studio = with_bottles();
    let made = |own: &[(&'static str, &str)]| PrintMade {
        title: Some("Heron".into()),
        pours: vec!["iron=23".into(), "palladium=23".into()],
        fields: fields(own),
        ..PrintMade::default()
    };
    let refused = record(&mut studio.studio, &now(), &made(&[("time", "400")])).expect_err("a bare number is no time");
    assert_eq!(refused.code, "unit_missing");
    record(&mut studio.studio, &now(), &made(&[("units", "400")])).expect("recorded");
    let again =
        repeat(&studio.studio, &Repeat { print: Some("1".into()), ..Repeat::default() }, now().at).expect("planned");
    assert_eq!(again.time, None, "units do not become a time");
}

/// What was poured was poured: more than the book has is kept as a stocktake difference, and no bottle goes below nothing.
#[test]
fn a_coat_beyond_the_book_is_kept() {
    let mut studio = with_bottles();
    let pour = |drops: &str| CoatMade {
        title: Some("Gate".into()),
        pours: vec![format!("palladium={drops}")],
        drops_per_ml: Some("20drops/mL".into()),
        ..CoatMade::default()
    };
    let before = studio.item("palladium").metal.expect("known").1.to_micrograms();
    // 60 mL out of 50.
    let done = coat(&mut studio.studio, &now(), &pour("1200")).expect("it was made");
    assert!(
        done.said.iter().any(|said| said.contains("10 mL are posted as a stocktake difference")),
        "{:?}",
        done.said
    );
    let rows = balance(&studio.studio).expect("balances");
    let of = |wanted: &str| -> i64 {
        let own = rows.iter().filter(|row| row.commodity.to_string() == "Pd" && row.account.to_string() == wanted);
        own.map(|row| row.amount.to_units()).sum()
    };
    assert_eq!((of("coat:1"), of("unexplained")), (before * 6 / 5, -(before / 5)));
    assert!(rows.iter().all(|row| !row.amount.is_negative() || row.account.may_be_negative()));
    // And once more, out of a bottle that is empty by the book: how much metal that was is not known, and nothing is made up.
    let done = coat(&mut studio.studio, &now(), &pour("20")).expect("it was made");
    assert!(done.said.iter().any(|said| said.contains("is not known")), "{:?}", done.said);
    assert!(!balance(&studio.studio).expect("balances").iter().any(|row| matches!(row.account, Account::Coat(own) if own.get() == 2) && row.commodity.to_string() == "Pd"));
    studio.sound();
}

/// A margin nobody said is the customary one on the plan and on the record: 611.6 cm² for 8x10 in, and no other drops for saying so.
#[test]
fn a_margin_that_is_not_said_is_the_customary_one() {
    let mut studio = with_bottles();
    let made = PrintMade {
        title: Some("Heron".into()),
        pours: vec!["iron=23".into(), "palladium=23".into()],
        fields: fields(&[("image", "8x10in")]),
        ..PrintMade::default()
    };
    record(&mut studio.studio, &now(), &made).expect("recorded");
    let area = print(&studio.studio, "1").expect("there").area.expect("an image").to_square_centimetres();
    assert!((area - 611.6).abs() < 0.05, "{area}");
    let asked = Repeat { print: Some("1".into()), margin: Some("1cm".into()), ..Repeat::default() };
    let again = repeat(&studio.studio, &asked, now().at).expect("planned");
    assert_eq!(again.solutions.iter().map(|own| own.drops).collect::<Vec<_>>(), [23, 23]);
}

/// Iron with chlorate is not plain iron: it does not stand in for it, and an agent whose drops cannot be met is said to be unequal.
#[test]
fn a_repeat_says_what_cannot_be_equal() {
    let mut studio = with_bottles();
    let thin = Receive {
        formula: Some("Na2PtCl6".into()),
        volume: Some("20mL".into()),
        percent: Some("1.25%".into()),
        hydrate: Some("none".into()),
        name: Some("thin".into()),
        ..Receive::default()
    };
    receive(&mut studio.studio, &now(), &thin).expect("received");
    let made = PrintMade {
        title: Some("Heron".into()),
        pours: vec!["iron=23".into(), "palladium=23".into(), "thin=4".into()],
        fields: fields(&[("image", "8x10in"), ("coats", "2")]),
        ..PrintMade::default()
    };
    record(&mut studio.studio, &now(), &made).expect("recorded");
    let strong = Receive { percent: Some("20%".into()), name: Some("strong".into()), ..thin };
    receive(&mut studio.studio, &now(), &strong).expect("received");
    for name in ["thin", "iron"] {
        let gone = Retire { item: Some(name.into()), ..Retire::default() };
        retire(&mut studio.studio, &now(), &gone).expect("put away");
    }
    let again =
        repeat(&studio.studio, &Repeat { print: Some("1".into()), ..Repeat::default() }, now().at).expect("planned");
    let said = |words: &str| again.unequal.iter().any(|own| own.contains(words));
    assert!(said("No bottle of Fe2(C2O4)3"), "{:?}", again.unequal);
    assert!(said("Whole drops of strong are 300 % more"), "{:?}", again.unequal);
    assert!(said("1600 % of the strength") && said("2 coats"), "{:?}", again.unequal);
}

/// What was said of a sheet when it was coated stands in its print; a sheet is counted out once, when it is coated, spoiled or not.
#[test]
fn a_coated_sheet_is_counted_once_and_lends_its_print_what_it_knows() {
    let mut studio = with_bottles();
    let paper = Keep { name: Some("rag".into()), came: Some("5".into()), ..Keep::default() };
    keep(&mut studio.studio, &now(), RecordKind::Paper, &paper).expect("kept");
    let there = |studio: &TestStudio| one_kept(&studio.studio, RecordKind::Paper, "rag").expect("kept").there;
    let made = CoatMade {
        title: Some("Gate".into()),
        pours: vec!["palladium=23".into()],
        image: Some("8x10in".into()),
        paper: Some("rag".into()),
        ..CoatMade::default()
    };
    coat(&mut studio.studio, &now(), &made).expect("coated");
    spoil(&mut studio.studio, &now(), &Spoiled { coat: Some("1".into()), ..Spoiled::default() }).expect("spoiled");
    assert_eq!(there(&studio), Some(4), "a spoiled sheet is used");
    for coats in [&["2"][..], &["3", "4"]] {
        for _ in coats {
            coat(&mut studio.studio, &now(), &made).expect("coated");
        }
        let coats = coats.iter().map(|own| (*own).into()).collect();
        let print = PrintMade { title: Some("Gate".into()), coats, ..PrintMade::default() };
        record(&mut studio.studio, &now(), &print).expect("recorded");
    }
    assert_eq!(there(&studio), Some(2), "one sheet to a print, however many coats");
    let shown = print(&studio.studio, "1").expect("there");
    assert_eq!((shown.of("image"), shown.of("paper")), (Some("8x10in"), Some("rag")));
}
