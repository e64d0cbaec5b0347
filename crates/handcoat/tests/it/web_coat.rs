//! The pages of the coat: the drops, the traps of the trade through the page, recording a coat, coats that wait.

use std::path::Path;

use serde_json::Value;

use crate::books::{new_book, on};
use crate::command::{fresh_folder, handcoat};
use crate::papers::{poppler, read_back};
use crate::web::{Answered, House, LOCAL, OURS, encoded, tags};
use crate::web_pages::looks_sound;

/// Bottles, a dropper for one of them, a paper and a brush that were weighed, and a coat of last time.
fn filled(book: &Path) {
    for line in [
        &[
            "stock",
            "receive",
            "Na2PdCl4",
            "--volume",
            "20mL",
            "--metal-per-ml",
            "50mg/mL",
            "--price",
            "140",
            "--currency",
            "EUR",
            "--name",
            "spring palladium",
        ][..],
        &["stock", "receive", "ferric oxalate", "--volume", "50mL", "--percent", "20", "--name", "iron"],
        &["stock", "receive", "KClO3", "--volume", "20mL", "--percent", "1", "--name", "chlorate"],
        &["paper", "dropper", "250drops 10mL", "--keep", "fine pipette", "--solution", "spring palladium"],
        &["keep", "paper", "cotton", "--uptake", "0.30mL/100cm2"],
        &["keep", "tool", "wide brush", "--sort", "brush", "--share", "80%", "--share-u", "1"],
        &[
            "coat",
            "made",
            "Heron",
            "--image",
            "20.3x25.4cm",
            "--paper",
            "cotton",
            "--pour",
            "iron=22",
            "--pour",
            "spring palladium=27",
        ],
    ] {
        on(book, line);
    }
}

fn house(name: &str) -> House {
    let book = new_book(&fresh_folder(name));
    filled(&book);
    House::over(book, None)
}

/// The page for these answers.
fn page(house: &House, answers: &[(&str, &str)]) -> Answered {
    house.get(&format!("/coat?{}", encoded(answers)))
}

const USUAL: [(&str, &str); 4] =
    [("image", "8x10in"), ("margin", "1cm"), ("metal", "spring palladium"), ("iron", "iron")];

fn with(more: &[(&'static str, &'static str)]) -> Vec<(&'static str, &'static str)> {
    [&USUAL[..], more].concat()
}

/// Counts and names in the order they stand on the page.
fn counts(answer: &Answered) -> Vec<(u32, String)> {
    let list =
        answer.text.split("class=\"counts\"").nth(1).unwrap_or_default().split("</ol>").next().unwrap_or_default();
    list.split("<li>")
        .skip(1)
        .map(|row| {
            let number = row.split("<b>").nth(1).and_then(|own| own.split("</b>").next()).expect("a count");
            let name = row.split("<strong>").nth(1).and_then(|own| own.split("</strong>").next()).expect("a name");
            (number.parse().expect("a number"), name.to_owned())
        })
        .collect()
}

/// The field a refusal stands beside.
fn blamed(answer: &Answered) -> Vec<String> {
    let slots = answer.text.split("-slot\" data-live>").skip(1);
    let before = answer.text.split("-slot\" data-live>");
    before
        .zip(slots)
        .filter(|(_, slot)| slot.starts_with("<div class=\"refused\""))
        .filter_map(|(before, _)| before.rsplit("id=\"coat-").next().map(String::from))
        .collect()
}

#[test]
fn the_drops_are_those_of_the_command_line_and_rest_on_the_records() {
    let house = house("web-coat");
    let shown = page(&house, &with(&[("paper", "cotton"), ("tool", "wide brush")]));
    assert_eq!(shown.status, 200, "{}", shown.text);
    looks_sound("/coat", &shown);
    let line = [
        "coat",
        "plan",
        "--image",
        "8x10in",
        "--margin",
        "1cm",
        "--metal",
        "spring palladium",
        "--iron",
        "iron",
        "--paper",
        "cotton",
        "--tool",
        "wide brush",
        "--json",
    ];
    let planned: Value = serde_json::from_str(&on(&house.book, &line)).expect("JSON");
    let typed: Vec<(u32, String)> = planned["drops"]
        .as_array()
        .expect("drops")
        .iter()
        .map(|own| (own["drops"].as_u64().expect("a count") as u32, own["solution"].as_str().expect("a name").into()))
        .collect();
    // 611.568 cm² at 0.30, a fifth lost: half of 2.2934 mL is 22.9 drops at 20 to the mL, 28.7 at 25; a fiftieth under at most.
    assert_eq!(typed, [(23, "iron".into()), (29, "spring palladium".into())]);
    assert_eq!(counts(&shown), typed);
    for words in [
        "last time 22",
        "last time 27",
        "coat 1, Heron",
        "also on cotton",
        "by the record of fine pipette",
        "80.0 ± 2.0 % (k = 2) of what is poured reaches the paper with wide brush",
        "of 18.9 mL, good for 16",
        "Can I use less?",
        "Care. ",
    ] {
        assert!(shown.text.contains(words), "no `{words}`: {}", shown.text);
    }
    // One warning before the drops at most; the rest folded below.
    let before = shown.text.split("class=\"counts\"").next().expect("the head");
    assert_eq!(before.matches("class=\"note\"").count(), 1);
    assert_eq!(shown.text.matches("class=\"note\"").count(), 1);
}

#[test]
fn every_key_of_a_plan_with_a_book_is_there() {
    let house = house("web-coat-contract");
    let line = [
        "coat",
        "plan",
        "--image",
        "8x10in",
        "--metal",
        "spring palladium",
        "--iron",
        "iron",
        "--paper",
        "cotton",
        "--json",
    ];
    let planned: Value = serde_json::from_str(&on(&house.book, &line)).expect("JSON");
    let mut keys: Vec<&str> = planned.as_object().expect("an object").keys().map(String::as_str).collect();
    keys.sort_unstable();
    assert_eq!(
        keys,
        [
            "bottles",
            "coated_area_cm2",
            "contrast_metal_mg",
            "cost",
            "cost_without",
            "dose_mg_per_ml",
            "dose_of",
            "drops",
            "iron_form_known",
            "iron_to_metal",
            "iron_to_metal_least",
            "iron_to_metal_most",
            "iron_to_metal_u",
            "last_time",
            "less",
            "metal_mg",
            "metal_ratio",
            "metal_u_mg",
            "poured_ml",
            "poured_u_ml",
            "prints_left",
            "ratio_error",
            "rounding_ml",
            "sensitizer_ml",
            "share_on_paper",
            "share_on_paper_u",
            "sheets",
            "to_pour_ml",
            "uptake_ml_per_100cm2",
            "uptake_of",
            "uptake_source",
            "used",
            "warnings",
            "water_ml",
            "within",
        ]
    );
    assert_eq!(planned["last_time"]["number"], 1);
    assert_eq!(planned["last_time"]["drops"][0]["drops"], 22);
    let origins = ["book", "said", "custom"];
    let used = planned["used"].as_array().expect("a list");
    assert!(used.iter().all(|own| origins.iter().any(|word| own["origin"] == *word) && own["words"].is_string()));
    assert!(planned["bottles"].as_array().expect("bottles").iter().all(|own| own["prints_left"].is_u64()));
}

#[test]
fn traps_of_the_trade_are_seen_on_the_page() {
    let house = house("web-coat-traps");
    // 1: the form of the iron salt is a field, its molarity a range.
    let open = page(&house, &USUAL);
    assert!(open.text.contains("form of the iron salt is not known"), "{}", open.text);
    let known = page(&house, &with(&[("hydrate", "6")]));
    assert!(!known.text.contains("form of the iron salt is not known"));
    // 2: the water of a palladium salt.
    let wet = page(&house, &[("image", "8x10in"), ("metal_by", "Na2PdCl4 15%")]);
    assert!(wet.text.contains("may be a sixth less"), "{}", wet.text);
    // 3: a ratio without its unit is refused beside its field.
    let ratio = page(&house, &with(&[("metal", "Pt"), ("ratio", "1:1")]));
    assert_eq!((ratio.status.as_u16(), blamed(&ratio)), (422, vec!["ratio_by".into()]), "{}", ratio.text);
    looks_sound("/coat", &ratio);
    // 4: the dropper decides the drops.
    assert_eq!((counts(&open)[0].0, counts(&open)[1].0), (23, 29));
    let said = page(&house, &with(&[("drops", "metal 40")]));
    assert_eq!(counts(&said)[1].0, 46);
    // Recorded it is by volume, for the record's own dropper gives other drops.
    assert!(said.text.contains("pour=spring+palladium%3D1.15mL") && !said.text.contains("drops=metal+40&amp;pour"));
    // 5: the volume follows the coated area: without a margin it is smaller.
    let bare = page(&house, &[("image", "8x10in"), ("margin", "0cm"), ("metal", "spring palladium"), ("iron", "iron")]);
    assert!(counts(&bare)[0].0 < counts(&open)[0].0);
    // 6: half the share is twice the drops.
    let all = page(&house, &with(&[("uptake", "0.38mL/100cm2"), ("share", "100%")]));
    let half = page(&house, &with(&[("uptake", "0.38mL/100cm2"), ("share", "50%")]));
    assert!(counts(&half)[0].0.abs_diff(2 * counts(&all)[0].0) <= 1);
    // 7: chlorate iron takes the place of plain iron, chlorate in water goes on top.
    let replaced = page(&house, &with(&[("contrast_by", "KClO3 0.4%"), ("dose", "0.8mg/mL")]));
    let on_top = page(&house, &with(&[("contrast", "chlorate"), ("dose", "0.3mg/mL")]));
    let (replaced, on_top) = (counts(&replaced), counts(&on_top));
    assert_eq!(replaced[0].0 + replaced[1].0, counts(&open)[0].0);
    assert_eq!(on_top[0].0, counts(&open)[0].0);
    assert_eq!(on_top[2].1, "chlorate, 1 %");
    // 8: a dose without an agent, and an agent without a dose, say nothing.
    for (answers, field) in [(with(&[("contrast", "chlorate")]), "dose"), (with(&[("dose", "1mg/mL")]), "dose")] {
        assert_eq!(blamed(&page(&house, &answers)), [field]);
    }
    // 12: whole drops are said for what they are.
    let rounded = page(&house, &with(&[("metal", "Pt"), ("ratio", "90:10"), ("ratio_by", "moles")]));
    assert!(rounded.text.contains("Whole drops pour"), "{}", rounded.text);
}

#[test]
fn what_cannot_be_is_refused_and_writes_nothing() {
    let house = house("web-coat-refused");
    let before = house.written();
    for (answers, status, code, field) in [
        (&[("metal", "Pd")][..], 400, "answer_missing", "image"),
        (&[("image", "8x10in")], 400, "answer_missing", "metal"),
        (&[("image", "8"), ("metal", "Pd")], 400, "size", "image"),
        (&with(&[("paper", "newsprint")]), 404, "record_unknown", "paper"),
        (&with(&[("tool", "a spoon")]), 404, "record_unknown", "tool"),
        (&with(&[("sheets", "40")]), 422, "more_than_held", "sheets"),
    ] {
        let refused = page(&house, answers);
        assert_eq!(refused.status, status, "{answers:?}: {}", refused.text);
        assert!(refused.text.contains(code), "{answers:?} expected {code}: {}", refused.text);
        assert_eq!(blamed(&refused), [field], "{answers:?}");
        looks_sound("/coat", &refused);
    }
    for (answers, code) in [
        (&[("title", "Heron")][..], "answer_missing"),
        (&[("title", "Heron"), ("pour", "iron")], "pour_unreadable"),
        (&[("title", "Heron"), ("pour", "gold=3")], "item_unknown"),
        (&[("pour", "iron=3")], "answer_missing"),
        (&[("title", "Heron"), ("pour", "iron=3"), ("paper", "newsprint")], "record_unknown"),
    ] {
        let refused = house.post("/coat/made", answers);
        assert!(refused.status.is_client_error() && refused.text.contains(code), "{answers:?}: {}", refused.text);
        looks_sound("/coat/made", &refused);
        for (name, value) in answers {
            let kept =
                tags(&refused.text).iter().any(|tag| tag.get("name") == Some(name) && tag.get("value") == Some(value));
            assert!(kept, "{name} is lost: {}", refused.text);
        }
    }
    for answers in [&[("coat", "99")][..], &[("coat", "x")], &[]] {
        let refused = house.post("/coat/spoiled", answers);
        assert!(refused.status.is_client_error(), "{answers:?}: {}", refused.text);
        looks_sound("/coat/open", &refused);
    }
    assert!(house.written() == before, "a refusal wrote something");
}

#[test]
fn the_script_is_given_the_drops_alone() {
    let house = house("web-coat-part");
    let path = format!("/coat?{}", encoded(&USUAL));
    let request = axum::http::Request::get(&path).header("host", OURS).header("x-handcoat-part", "live");
    let part = house.ask(LOCAL, request.body(axum::body::Body::empty()).expect("a request"));
    assert!(!part.text.contains("class=\"rivers\"") && !part.text.contains("name=\"token\""), "{}", part.text);
    assert_eq!(counts(&part), counts(&house.get(&path)));
}

#[test]
fn a_coat_is_recorded_with_other_counts_waits_and_is_spoiled() {
    let house = house("web-coat-made");
    let planned = page(&house, &with(&[("title", "Heron & weir")]));
    let link = tags(&planned.text)
        .iter()
        .filter_map(|tag| tag.get("href").map(String::from))
        .find(|href| href.starts_with("/coat/made?"))
        .expect("a way to record it")
        .replace("&amp;", "&");
    let form = house.get(&link);
    let values = |name: &str| -> Vec<String> {
        let own = tags(&form.text);
        own.iter()
            .filter(|tag| tag.get("name") == Some(name))
            .map(|tag| tag.get("value").unwrap_or_default().into())
            .collect()
    };
    assert_eq!(values("pour"), ["iron=23", "spring palladium=29", ""]);
    assert_eq!((values("image"), values("title")), (vec!["8x10in".into()], vec!["Heron &amp; weir".into()]));
    let session = tags(&planned.text)
        .iter()
        .filter_map(|tag| tag.get("href").map(String::from))
        .find(|href| href.starts_with("/session?"))
        .expect("a way to a session")
        .replace("&amp;", "&");
    let asked = house.get(&session);
    let asked_for = |name: &str| {
        let own = tags(&asked.text);
        own.iter().find(|tag| tag.get("name") == Some(name)).and_then(|tag| tag.get("value").map(String::from))
    };
    for (name, held) in [
        ("pours", "iron=23; spring palladium=29"),
        ("title", "Heron &amp; weir"),
        ("image", "8x10in"),
        ("margin", "1cm"),
    ] {
        assert_eq!(asked_for(name).as_deref(), Some(held), "{name} in {session}");
    }
    let answers = [
        ("key", "the-key-of-one-coat"),
        ("title", "Weir"),
        ("image", "8x10in"),
        ("pour", "iron=24"),
        ("pour", ""),
        ("pour", "spring palladium=30"),
    ];
    let (done, again) = (house.post("/coat/made", &answers), house.post("/coat/made", &answers));
    assert_eq!((done.status.as_u16(), done.header("location")), (303, again.header("location")), "{}", done.text);
    let waiting = house.get(done.header("location"));
    looks_sound("/coat/open", &waiting);
    assert!(waiting.text.contains("Coat 2 is recorded: Weir."), "{}", waiting.text);
    assert!(waiting.text.contains("30 drops of spring palladium, 1.2 mL"), "{}", waiting.text);
    assert!(waiting.text.contains("href=\"/print/new?coat=2\""));
    // The next plan shows it beside its own.
    assert!(page(&house, &USUAL).text.contains("last time 30"));
    let spoiled = house.post("/coat/spoiled", &[("coat", "2"), ("because", "a hair in the coat")]);
    assert_eq!(spoiled.status, 303, "{}", spoiled.text);
    let left = house.get(spoiled.header("location"));
    assert!(
        left.text.contains("Coat 2 is spoiled (a hair in the coat)") && !left.text.contains("coat=2\""),
        "{}",
        left.text
    );
    let twice = house.post("/coat/spoiled", &[("coat", "2")]);
    assert_eq!(twice.status, 422, "{}", twice.text);
    assert!(twice.text.contains("coat_used"));
    let long = "x".repeat(200);
    let refused = house.post("/coat/spoiled", &[("coat", "1"), ("because", &long)]);
    assert!(refused.text.contains("field_unreadable") && refused.text.contains("deed\" open"), "{}", refused.text);
    looks_sound("/coat/open", &refused);
    let checked = on(&house.book, &["check"]);
    assert!(checked.contains("in order") || !checked.is_empty());
}

#[test]
fn the_coat_sheet_is_one_page_of_either_size_with_every_count_on_it() {
    let house = house("web-coat-sheet");
    let asked = encoded(&with(&[
        ("paper", "cotton"),
        ("tool", "wide brush"),
        ("title", "Heron"),
        ("contrast", "chlorate"),
        ("dose", "0.6mg/mL"),
        ("sheets", "3"),
    ]));
    for (size, page_size) in [("a4", "595.276 x 841.89"), ("letter", "612 x 792")] {
        let sheet = house.get(&format!("/coat/sheet?{asked}&page={size}"));
        assert_eq!((sheet.status.as_u16(), sheet.header("content-type")), (200, "application/pdf"), "{}", sheet.text);
        if !poppler() {
            continue;
        }
        let path = fresh_folder(&format!("coat-sheet-{size}")).join("sheet.pdf");
        std::fs::write(&path, &sheet.bytes).expect("written");
        let about = read_back("pdfinfo", &[], &path, &[]);
        assert!(about.contains("Pages:           1") && about.contains(page_size), "{about}");
        let text = read_back("pdftotext", &["-layout"], &path, &["-"]);
        for words in [
            "Heron",
            "drops of iron",
            "drops of spring palladium",
            "drops of chlorate, 1 %",
            "23",
            "29",
            "last time 22",
            "Sheets coated",
            "Gloves",
        ] {
            assert!(text.contains(words), "no `{words}`: {text}");
        }
    }
    // Two coats of four solutions are the most there is, and still one page.
    let most = encoded(&[
        ("image", "8x10in"),
        ("metal", "spring palladium"),
        ("metal", "Pt"),
        ("ratio", "1:1"),
        ("ratio_by", "volume"),
        ("iron", "iron"),
        ("contrast_by", "KClO3 0.4%"),
        ("dose", "0.8mg/mL"),
        ("double", "yes"),
        ("sheets", "20"),
    ]);
    let sheet = house.get(&format!("/coat/sheet?{most}"));
    assert_eq!(sheet.status, 200, "{}", sheet.text);
    let wrong = house.get(&format!("/coat/sheet?{asked}&page=a0"));
    assert!(wrong.text.contains("paper_size_unreadable"), "{}", wrong.text);
    let file = fresh_folder("coat-sheet-typed").join("coat.pdf");
    let written = handcoat(&[
        "coat",
        "plan",
        "--image",
        "8x10in",
        "--metal",
        "Pd",
        "-o",
        file.to_str().expect("text"),
        "--page",
        "letter",
        "--invented",
    ]);
    assert_eq!(written.code, 0, "{}", written.messages);
    assert!(std::fs::read(&file).expect("a file").starts_with(b"%PDF-"));
}
