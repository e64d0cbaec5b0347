//! What the pages take care of: the supplier's sheet of an item, who it is of in an emergency, and a mix that is not taken back by a slip.

use handcoat_craft::source::Pictogram;

use crate::books::on;
use crate::web::{House, tags};

/// The code of something on the shelf.
fn code(house: &House, name: &str) -> String {
    let shelf: serde_json::Value = serde_json::from_str(&on(&house.book, &["stock", "shelf", "--json"])).expect("JSON");
    let items = shelf["items"].as_array().expect("items");
    let own = items.iter().find(|item| item["name"] == name).expect("on the shelf");
    own["code"].as_str().expect("a code").into()
}

const SHEET: &[(&str, &str)] = &[
    ("supplier", "an invented supplier"),
    ("date", "2026-01-20"),
    ("signal_word", "Danger"),
    ("statements", "H290, H302; H317"),
    ("pictograms", "GHS05"),
    ("pictograms", "GHS07"),
];

#[test]
fn a_suppliers_sheet_is_entered_on_the_page_of_its_item_and_named_in_an_emergency() {
    let house = House::filled("web-cautions-sheet");
    let jar = code(&house, "palladium(II) chloride");
    assert!(house.get("/emergency").text.contains("None was entered yet"));
    let form = house.get(&format!("/shelf/{jar}")).text;
    for sign in Pictogram::all() {
        let (code, name) = (sign.code(), sign.name());
        assert!(
            form.contains(&format!("value=\"{code}\"")) && form.contains(&format!(">{name}<")),
            "no {code}, {name}"
        );
    }

    let done = house.post(&format!("/shelf/{jar}/hazards"), SHEET);
    assert_eq!(done.status, 303, "{}", done.text);
    let page = house.get(done.header("location")).text;
    assert!(page.contains("3 statements and 2 pictograms from an invented supplier's sheet of 2026-01-20"), "{page}");
    assert!(page.contains("an invented supplier, 2026-01-20: Danger, H290, H302, H317, GHS05, GHS07"), "{page}");
    // To be amended, the form begins with what was entered.
    let all = tags(&page);
    let ticked = |value: &str| {
        all.iter().any(|tag| tag.get("value") == Some(value) && tag.attributes.iter().any(|(own, _)| own == "checked"))
    };
    assert!(ticked("GHS05") && ticked("GHS07") && ticked("Danger") && !ticked("GHS06"));
    let field = all.iter().find(|tag| tag.get("name") == Some("statements")).expect("a field");
    assert_eq!(field.get("value"), Some("H290, H302, H317"));

    let emergency = house.get("/emergency").text;
    let row = emergency.split("id=\"sheets\"").nth(1).expect("the list");
    for said in ["palladium(II) chloride", "an invented supplier", "2026-01-20", &format!("/shelf/{jar}")] {
        assert!(row.contains(said), "no {said} in {row}");
    }
    let folder = house.book.parent().expect("a folder").join("wall.pdf");
    let pdf = folder.display().to_string();
    let said: serde_json::Value =
        serde_json::from_str(&on(&house.book, &["emergency", "-o", &pdf, "--json"])).expect("JSON");
    assert_eq!(
        said["suppliers_sheets"],
        serde_json::json!([{ "item": "palladium(II) chloride", "code": jar, "supplier": "an invented supplier",
            "date": "2026-01-20", "of_pure_substance": false }])
    );
    let again = folder.with_file_name("wall-2.pdf").display().to_string();
    let words = on(&house.book, &["emergency", "-o", &again]);
    assert!(words.contains("an invented supplier") && words.contains("2026-01-20"), "{words}");
}

#[test]
fn a_code_that_is_none_stands_beside_its_field_and_the_ticks_stay() {
    let house = House::filled("web-cautions-refused");
    let jar = code(&house, "palladium(II) chloride");
    for (wrong, value, status) in [("statements", "H999", 400), ("supplier", "", 400), ("date", "yesterday", 400)] {
        let mut answers: Vec<(&str, &str)> = SHEET.iter().copied().filter(|(name, _)| *name != wrong).collect();
        answers.push((wrong, value));
        let before = house.written();
        let refused = house.post(&format!("/shelf/{jar}/hazards"), &answers);
        assert_eq!(refused.status, status, "{wrong}: {}", refused.text);
        assert!(house.written() == before, "{wrong} wrote something");
        let all = tags(&refused.text);
        let invalid = all.iter().find(|tag| tag.get("aria-invalid").is_some()).expect("a field that is wrong");
        assert_eq!(invalid.get("name"), Some(wrong));
        let ticked = all.iter().filter(|tag| {
            tag.get("name") == Some("pictograms") && tag.attributes.iter().any(|(own, _)| own == "checked")
        });
        assert_eq!(ticked.count(), 2, "{wrong}");
    }
}

#[test]
fn a_mix_is_taken_back_when_it_was_asked_about_and_not_before() {
    let house = House::filled("web-cautions-undo");
    let before = house.written();
    let asked = house.post("/undo", &[("act", "5")]);
    assert_eq!(asked.status, 200, "{}", asked.text);
    assert!(house.written() == before, "asking wrote something");
    assert!(asked.text.contains("Take all of it back") && asked.text.contains("Leave it as it is"), "{}", asked.text);
    let sure = tags(&asked.text).into_iter().find(|tag| tag.get("name") == Some("sure")).expect("the answer");
    assert_eq!(sure.get("value"), Some("yes"));
    let done = house.post("/undo", &[("act", "5"), ("sure", "yes")]);
    assert_eq!(done.status, 303, "{}", done.text);
    assert!(!on(&house.book, &["stock", "shelf"]).contains("palladium stock"));
    // What is small is taken back at once, and what was taken back is not asked about again.
    let again = house.post("/undo", &[("act", "5")]);
    assert_eq!(again.status, 409, "{}", again.text);
    assert!(again.text.contains("act_undone_before"), "{}", again.text);
}

#[test]
fn a_fresh_step_waits_and_a_typed_reading_does_not() {
    let house = House::filled("web-cautions-fresh");
    let waits = |path: &str| {
        let page = house.get(path);
        let bench = tags(&page.text).into_iter().find(|tag| tag.get("class") == Some("bench")).expect("the bench");
        assert!(page.text.contains("/assets/bench-"), "no script on {path}");
        bench.attributes.iter().any(|(own, _)| own == "data-fresh")
    };
    assert!(waits("/bench/1"));
    assert!(!waits("/bench/1?typed=3.9") && !waits("/bench/1?typed="));
}
