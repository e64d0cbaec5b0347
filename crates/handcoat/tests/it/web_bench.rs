//! Mixing at the bench through the pages, tap by tap.

use crate::books::on;
use crate::web::{Answered, House, tags};

/// The work of the filled book.
const WORK: &str = "/bench/1";

/// Answers the step that is on the screen, as its own form does.
fn tap(house: &House, answers: &[(&str, &str)]) -> Answered {
    let step = house.get(WORK).hidden("step");
    let all: Vec<(&str, &str)> = std::iter::once(("step", step.as_str())).chain(answers.iter().copied()).collect();
    let taken = house.post(WORK, &all);
    assert_eq!(taken.status, 303, "{step}: {}", taken.text);
    assert_eq!(taken.header("location"), WORK);
    house.get(WORK)
}

fn heading(page: &Answered) -> String {
    let inside = page.text.split("<h1>").nth(1).and_then(|rest| rest.split("</h1>").next());
    inside.expect("a heading").into()
}

#[test]
fn an_overweighed_bottle_is_mixed_to_its_label() {
    let house = House::filled("web-bench");
    assert_eq!(heading(&house.get(WORK)), "Glasses and gloves on");
    tap(&house, &[]);
    tap(&house, &[("reads", "61,2")]);
    let weigh = tap(&house, &[]);
    assert!(weigh.text.contains("It reads 1.21 g"), "{}", heading(&weigh));
    for _ in 0..3 {
        tap(&house, &[]);
    }
    let ways = tap(&house, &[("reads", "2.4")]);
    assert_eq!(heading(&ways), "2.40 g, planned 1.80 g", "the swept 0.03 g goes in first");
    for verb in ["Put some back", "Make more", "Keep it and relabel"] {
        assert!(ways.text.contains(verb), "no {verb}");
    }
    tap(&house, &[("way", "1")]);
    for _ in 0..4 {
        tap(&house, &[]);
    }
    let mark = house.get(WORK);
    assert_eq!(heading(&mark), "Distilled water to the mark");
    assert!(mark.text.contains("26.5"), "{}", mark.text);
    tap(&house, &[]);
    let done = tap(&house, &[("reads", "90.1")]);
    assert_eq!(heading(&done), "Look at it again tomorrow");
    let shelf = on(&house.book, &["stock", "shelf"]);
    assert!(shelf.contains("palladium stock 2"), "{shelf}");
    // The last tap again, as a slow network sends it: nothing is mixed twice.
    let acts = on(&house.book, &["ledger", "acts"]);
    house.post(WORK, &[("step", "full"), ("reads", "90.1")]);
    assert_eq!(on(&house.book, &["ledger", "acts"]), acts);
    on(&house.book, &["check", "--json"]);
}

#[test]
fn a_reading_that_cannot_be_stays_on_the_screen() {
    let house = House::filled("web-bench-refused");
    for _ in 0..2 {
        tap(&house, &[]);
    }
    let step = house.get(WORK).hidden("step");
    tap(&house, &[]);
    let refused = house.post(WORK, &[("step", "chloride"), ("reads", "1.2.1")]);
    assert_eq!(refused.status, 400);
    assert!(refused.text.contains("number_two_marks") && refused.text.contains("Weigh"), "{}", refused.text);
    // A tap that belongs to an earlier screen is no answer to this one.
    house.post(WORK, &[("step", &step)]);
    assert!(house.get(WORK).text.contains("It reads 1.21 g"));
    assert_eq!(house.get("/bench/99").status, 404);
    assert_eq!(house.get("/bench/next").status, 404);
}

#[test]
fn the_keys_of_the_screen_need_no_script() {
    let house = House::filled("web-bench-keys");
    for _ in 0..3 {
        tap(&house, &[]);
    }
    let mut page = house.get(&format!("{WORK}?typed="));
    for key in ["1", ".", "2", "5"] {
        let link = page
            .text
            .split("<a class=\"key\" href=\"")
            .skip(1)
            .find(|rest| rest.split('>').nth(1).is_some_and(|after| after.starts_with(&format!("{key}<"))))
            .and_then(|rest| rest.split('"').next())
            .unwrap_or_else(|| panic!("no key {key}"))
            .replace("&amp;", "&");
        page = house.get(&link);
    }
    let field = tags(&page.text).into_iter().find(|tag| tag.get("name") == Some("reads")).expect("the reading");
    assert_eq!(field.get("value"), Some("1.25"));
    assert!(!page.text.contains("typed=1.25."), "a second decimal mark can be typed");
    // Longer than any scale reads is not typed.
    let long = house.get(&format!("{WORK}?typed=123456789012345"));
    let field = tags(&long.text).into_iter().find(|tag| tag.get("name") == Some("reads")).expect("the reading");
    assert_eq!(field.get("value"), Some("123456789"));
}
