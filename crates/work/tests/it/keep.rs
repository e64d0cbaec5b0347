//! Papers, tools, droppers, lamps, baths, supplies and negatives.

use std::collections::BTreeMap;

use handcoat_work::keep::{
    Keep, RecordKind, change, fields_of, keep, kept, kinds, one_kept, put_away, restock, shopping,
};
use handcoat_work::ledger::undo;
use handcoat_work::{Done, Field, Form, Refusal};

use crate::studio::{TestStudio, now, some};

fn answers(name: &str, fields: &[(&'static str, &str)]) -> Keep {
    let fields = fields.iter().map(|(key, text)| (*key, (*text).into())).collect();
    Keep { name: some(name), fields, came: None }
}

fn kept_new(house: &mut TestStudio, kind: RecordKind, answers: &Keep) -> Done {
    keep(&mut house.studio, &now(), kind, answers).expect("kept")
}

fn refused<T: std::fmt::Debug>(result: Result<T, Refusal>) -> &'static str {
    result.expect_err("a refusal").code
}

#[test]
fn every_kind_keeps_every_field_as_it_was_written() {
    let mut house = TestStudio::new();
    let bottle = handcoat_work::shelf::Receive {
        formula: some("Na2PdCl4"),
        volume: some("9mL"),
        percent: some("15%"),
        name: some("palladium stock"),
        ..Default::default()
    };
    handcoat_work::shelf::receive(&mut house.studio, &now(), &bottle).expect("received");
    for &kind in kinds() {
        // What a set-up is made of is kept already, as the first of its kind.
        let written = |field: &'static Field| if matches!(field.form, Form::Record(_)) { "one" } else { field.example };
        let all: Vec<(&'static str, &str)> = fields_of(kind).iter().map(|field| (field.key, written(field))).collect();
        kept_new(&mut house, kind, &answers("one", &all));
        let own = one_kept(&house.studio, kind, "ONE").expect("by its name, however it is written");
        let known: BTreeMap<&str, &str> = own.known.iter().map(|(field, text)| (field.key, text.as_str())).collect();
        assert_eq!(known, all.iter().copied().collect(), "{kind:?}");
        assert_eq!(one_kept(&house.studio, kind, "1").expect("by its number").name, "one");
        // Each made unknown again.
        let none: Vec<(&'static str, &str)> = fields_of(kind).iter().map(|field| (field.key, "unknown")).collect();
        change(&mut house.studio, &now(), kind, "one", &Keep { name: None, ..answers("", &none) }).expect("changed");
        assert!(one_kept(&house.studio, kind, "one").expect("still there").known.is_empty(), "{kind:?}");
    }
    house.sound();
}

#[test]
fn a_name_belongs_to_one_and_a_change_can_be_taken_back() {
    let mut house = TestStudio::new();
    kept_new(&mut house, RecordKind::Lamp, &answers("tube bank", &[("distance", "12cm")]));
    kept_new(&mut house, RecordKind::Paper, &answers("tube bank", &[]));
    let again = keep(&mut house.studio, &now(), RecordKind::Lamp, &answers("Tube Bank", &[]));
    assert_eq!(refused(again), "name_taken");
    for name in ["", "17", "two\nlines", &"x".repeat(61)] {
        assert_eq!(refused(keep(&mut house.studio, &now(), RecordKind::Lamp, &answers(name, &[]))), "name_unreadable");
    }
    let renamed = answers("sun", &[("distance", "60,5 cm")]);
    let done = change(&mut house.studio, &now(), RecordKind::Lamp, "tube bank", &renamed).expect("changed");
    assert_eq!(refused(one_kept(&house.studio, RecordKind::Lamp, "tube bank")), "record_unknown");
    undo(&mut house.studio, &now(), &done.act.to_string()).expect("taken back");
    let own = one_kept(&house.studio, RecordKind::Lamp, "tube bank").expect("as it was");
    assert_eq!(own.known[0].1, "12cm");
    // Put away, the name is free; then putting it back is refused by name.
    let away = put_away(&mut house.studio, &now(), RecordKind::Lamp, "tube bank").expect("put away");
    kept_new(&mut house, RecordKind::Lamp, &answers("tube bank", &[]));
    assert_eq!(refused(undo(&mut house.studio, &now(), &away.act.to_string())), "name_taken");
    assert_eq!(kept(&house.studio, RecordKind::Lamp).expect("lamps")[0].number, 2);
    house.sound();
}

#[test]
fn pieces_are_counted_in_out_and_anew() {
    let mut house = TestStudio::new();
    let gloves = Keep { came: some("20"), ..answers("gloves", &[("low", "10"), ("unit", "pairs")]) };
    kept_new(&mut house, RecordKind::Supply, &gloves);
    kept_new(&mut house, RecordKind::Paper, &answers("rag", &[("low", "5")]));
    kept_new(&mut house, RecordKind::Lamp, &answers("sun", &[]));
    assert!(shopping(&house.studio).expect("a list").is_empty(), "a paper that was never counted is not low");
    let mut count = |kind, name: &str, came: Option<&str>, there: Option<&str>| {
        let (came, there) = (came.map(String::from), there.map(String::from));
        restock(&mut house.studio, &now(), kind, name, came.as_ref(), there.as_ref())
    };
    let counted = count(RecordKind::Supply, "gloves", None, Some("7")).expect("counted");
    assert_eq!(counted.said, ["7 of gloves are there; the book had 20."]);
    let came = count(RecordKind::Paper, "rag", Some("3"), None).expect("counted");
    assert_eq!(came.said, ["3 came; 3 are there."]);
    for (kind, name, came, there, code) in [
        (RecordKind::Lamp, "sun", Some("3"), None, "not_counted"),
        (RecordKind::Lamp, "sun", None, Some("3"), "not_counted"),
        (RecordKind::Supply, "gloves", Some("-3"), None, "count_unreadable"),
        (RecordKind::Supply, "gloves", Some("1000001"), None, "count_unreadable"),
        (RecordKind::Supply, "gloves", None, None, "answer_missing"),
        (RecordKind::Supply, "hats", Some("3"), None, "record_unknown"),
    ] {
        assert_eq!(refused(count(kind, name, came, there)), code, "{name} {came:?} {there:?}");
    }
    let list = shopping(&house.studio).expect("a list");
    let list: Vec<(&str, i64, u32)> = list.iter().map(|own| (own.name.as_str(), own.there, own.low)).collect();
    assert_eq!(list, [("rag", 3, 5), ("gloves", 7, 10)]);
    undo(&mut house.studio, &now(), &counted.act.to_string()).expect("taken back");
    assert_eq!(one_kept(&house.studio, RecordKind::Supply, "gloves").expect("gloves").there, Some(20));
    house.sound();
}

#[test]
fn a_bottle_that_a_dropper_is_for_is_on_the_shelf() {
    let mut house = TestStudio::new();
    let no_bottle = keep(&mut house.studio, &now(), RecordKind::Dropper, &answers("d", &[("solution", "nowhere")]));
    assert_eq!(refused(no_bottle), "item_unknown");
    let bad = keep(&mut house.studio, &now(), RecordKind::Bath, &answers("b", &[("made", "31.2.2026")]));
    assert_eq!(refused(bad), "day_unreadable");
    assert!(kept(&house.studio, RecordKind::Dropper).expect("droppers").is_empty());
}
