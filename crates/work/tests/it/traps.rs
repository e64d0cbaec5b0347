//! Traps of the trade that touch a record: judged wet, units that are no seconds, a shortfall that must not be lost.

use std::collections::BTreeMap;

use handcoat_craft::ledger::Account;
use handcoat_work::ledger::balance;
use handcoat_work::print::{CoatMade, FIELDS, PrintMade, Repeat, coat, note, print, record, repeat};
use handcoat_work::shelf::{Receive, receive};

use crate::studio::{TestStudio, now};

fn fields(own: &[(&'static str, &str)]) -> BTreeMap<&'static str, String> {
    own.iter().map(|(key, text)| (*key, (*text).into())).collect()
}

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
