//! Prints and what is kept, on pages: found, recorded, repeated, compared, written down, with pictures.

use axum::body::Body;
use axum::http::Request;
use axum::http::header::{CONTENT_TYPE, HOST, ORIGIN};

use crate::books::on;
use crate::web::{Answered, House, LOCAL, OURS, tags};

/// A picture by its first eight bytes, which is all that is looked at, with a line break and a boundary-like part in it.
const PNG: &[u8] = b"\x89PNG\r\n\x1a\n\r\n--y\x00\xff";

/// A form with a picture, as a browser sends it.
fn send(house: &House, path: &str, token: &str, file: &[u8]) -> Answered {
    let mut body = Vec::new();
    for (name, value) in [("token", token), ("key", "key-of-one-picture")] {
        body.extend(format!("--xyz\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n").bytes());
    }
    body.extend(b"--xyz\r\nContent-Disposition: form-data; name=\"photo\"; filename=\"../x.png\"\r\nContent-Type: image/png\r\n\r\n");
    body.extend(file);
    body.extend(b"\r\n--xyz--\r\n");
    let request = Request::post(path)
        .header(HOST, OURS)
        .header(ORIGIN, format!("http://{OURS}"))
        .header(CONTENT_TYPE, "multipart/form-data; boundary=xyz");
    house.ask(LOCAL, request.body(Body::from(body)).expect("a request"))
}

fn value(page: &Answered, name: &str) -> String {
    let all = tags(&page.text);
    let tag = all.iter().find(|tag| tag.get("name") == Some(name)).unwrap_or_else(|| panic!("no field {name}"));
    tag.get("value").unwrap_or_default().to_owned()
}

fn ticked(page: &Answered, name: &str) -> Vec<String> {
    let all = tags(&page.text);
    let on = all.iter().filter(|tag| tag.get("name") == Some(name) && tag.get("checked").is_some());
    on.map(|tag| tag.get("value").unwrap_or_default().to_owned()).collect()
}

#[test]
fn a_picture_comes_in_and_goes_out_byte_for_byte() {
    let house = House::filled("web-prints-photo");
    let token = house.get("/print/1").hidden("token");
    let kept = send(&house, "/print/1/photo", &token, PNG);
    assert_eq!(kept.status, 303, "{}", kept.text);
    let page = house.get(kept.header("location"));
    let all = tags(&page.text);
    let image = all.iter().find(|tag| tag.name == "img").expect("the picture");
    assert!(image.get("alt").is_some_and(|words| words.contains("Heron")), "{image:?}");
    let shown = house.get(image.get("src").expect("an address"));
    assert_eq!(shown.bytes, PNG);
    for (name, held) in [
        ("content-type", "image/png"),
        ("x-content-type-options", "nosniff"),
        ("cache-control", "immutable"),
        ("content-disposition", "inline; filename=\""),
        ("content-security-policy", "default-src 'none'"),
    ] {
        assert!(shown.header(name).contains(held), "{name}: {}", shown.header(name));
    }
    // In the darkroom it is hidden until it is tapped.
    let folded = |theme: &str| {
        let request = Request::get("/print/1").header(HOST, OURS).header("cookie", format!("theme={theme}"));
        let page = house.ask(LOCAL, request.body(Body::empty()).expect("a request"));
        let all = tags(&page.text);
        let own = all.iter().find(|tag| tag.get("class") == Some("picture")).expect("the picture");
        own.get("open").is_none()
    };
    assert!(folded("amber") && folded("red") && !folded("paper") && !folded("dark"));
    assert_eq!(house.get("/print/photo/00").status, 404);
}

#[test]
fn a_picture_that_is_none_too_large_or_sent_elsewhere_is_turned_away() {
    let house = House::filled("web-prints-photo-refused");
    let token = house.get("/print/1").hidden("token");
    let before = house.written();
    let large = vec![0xff; 21 * 1024 * 1024];
    let fits_the_floor_only = [&PNG[..8], &vec![0; 20_000_000]].concat();
    for (path, token, file, status, code) in [
        ("/print/1/photo", token.as_str(), &b"GIF89a"[..], 400, "photo_unreadable"),
        ("/print/1/photo", &token, b"", 400, "answer_missing"),
        ("/print/1/photo", &token, &large, 413, "body_too_large"),
        ("/print/1/photo", &token, &fits_the_floor_only, 422, "photo_too_large"),
        ("/print/1/photo", "stale", PNG, 403, "form_token_stale"),
        ("/print/9/photo", &token, PNG, 404, "record_unknown"),
        // No other form takes a file, or more than 64 KiB.
        ("/print/1/note", &token, PNG, 415, "body_unreadable"),
        ("/receive", &token, PNG, 415, "body_unreadable"),
        ("/print/1/photo/x", &token, PNG, 415, "body_unreadable"),
    ] {
        let answer = send(&house, path, token, file);
        assert_eq!(answer.status, status, "{path} {code}: {}", answer.text);
        assert!(answer.text.contains(code), "{path} {code}: {}", answer.text);
    }
    assert!(house.written() == before, "something was written to the book");
}

#[test]
fn a_print_is_recorded_with_what_was_poured_and_can_be_taken_back() {
    let house = House::filled("web-prints-record");
    let answers = [
        ("title", "Tern"),
        ("bottle-0", "iron"),
        ("drops-0", "10"),
        ("bottle-2", "00064"),
        ("drops-2", "0,5 mL"),
        ("coat", "1"),
        ("image", "20x25 cm"),
        ("faults", "veil"),
        ("faults", "grainy"),
        ("repeats", "1"),
    ];
    let code = house.get("/shelf").text;
    let code = code.split("\">bought</a>").next().expect("the bottle").rsplit("/shelf/").next().expect("its code");
    let answers: Vec<(&str, &str)> =
        answers.iter().map(|(name, own)| (*name, if *own == "00064" { code } else { *own })).collect();
    let done = house.post("/print/new", &answers);
    assert_eq!(done.status, 303, "{}", done.text);
    assert!(done.header("location").starts_with("/print/3?act="), "{}", done.header("location"));
    let page = house.get(done.header("location"));
    for held in ["Tern", "print 1 again", "made of coats", "20x25 cm", "grey veil", "grainy", "<b>0.5</b>", "<b>10</b>"]
    {
        assert!(page.text.contains(held), "{held}: {}", page.text);
    }
    assert!(!house.get("/print/new").text.contains("coat 1: Gate"), "the coat is a print now");
    let act = done.header("location").rsplit('=').next().expect("a number").to_owned();
    assert_eq!(house.post("/undo", &[("act", &act)]).status, 303);
    assert_eq!(house.get("/print/3").status, 404);
    assert!(house.get("/print/new").text.contains("coat 1: Gate"));
}

#[test]
fn a_refused_print_keeps_what_was_typed_beside_what_was_wrong() {
    let house = House::filled("web-prints-refused");
    for (answers, status, code, beside) in [
        (&[("title", "Tern"), ("bottle-0", "nowhere"), ("drops-0", "10")][..], 404, "item_unknown", "print-pours-slot"),
        (&[("title", "Tern"), ("bottle-1", "iron")], 400, "", "print-pours-slot"),
        (&[("title", ""), ("time", "6:00")], 400, "answer_missing", "print-title-slot"),
        (&[("title", "Tern"), ("time", "six")], 400, "number_missing", "print-time-slot"),
        (&[("title", "Tern"), ("coat", "7")], 404, "record_unknown", "print-coat-slot"),
        (&[("title", "Tern"), ("repeats", "7")], 404, "record_unknown", "page"),
    ] {
        let refused = house.post("/print/new", answers);
        assert_eq!(refused.status, status, "{answers:?}: {}", refused.text);
        let slot = refused.text.split(&format!("id=\"{beside}\"")).nth(1).unwrap_or(&refused.text);
        let slot: String = slot.chars().take(900).collect();
        assert!(slot.contains("class=\"code\"") && slot.contains(code), "{answers:?}: {slot}");
        for (name, typed) in answers.iter().filter(|(name, _)| *name != "coat") {
            assert_eq!(value(&refused, name), *typed, "{name}");
        }
    }
}

#[test]
fn a_form_begins_like_another_print_a_coat_or_a_repeat() {
    let house = House::filled("web-prints-begin");
    let like = house.get("/print/new?like=1");
    for (name, held) in [
        ("title", "Heron"),
        ("bottle-0", "iron"),
        ("drops-0", "23"),
        ("bottle-1", "bought"),
        ("image", "8x10in"),
        ("paper", "rag"),
        ("time", "6:00"),
        ("dry", ""),
    ] {
        assert_eq!(value(&like, name), held, "{name}");
    }
    assert!(ticked(&like, "faults").is_empty(), "a verdict is not carried on");
    assert_eq!(value(&house.get("/print/new?like=last"), "title"), "Heron again");
    let coat = house.get("/print/new?coat=1");
    assert_eq!((value(&coat, "title"), ticked(&coat, "coat")), ("Gate".into(), vec!["1".into()]));
    // 23 drops on (20.32 + 2)(25.4 + 2) cm² are 18.9 on 22.4 cm squared.
    // What a repeat links to carries its drops, its size and what it repeats.
    let repeat = house.get("/print/1/repeat?image=20.4x20.4cm");
    let all = tags(&repeat.text);
    let record =
        all.iter().filter_map(|tag| tag.get("href")).find(|href| href.starts_with("/print/new")).expect("a link");
    let begun = house.get(&record.replace("&amp;", "&"));
    for (name, held) in [
        ("repeats", "1"),
        ("title", "Heron"),
        ("image", "20.4x20.4cm"),
        ("bottle-0", "iron"),
        ("drops-0", "19"),
        ("lamp", "tube bank"),
    ] {
        assert_eq!(value(&begun, name), held, "{name}");
    }
    // And so does the one to a session.
    let plan = all.iter().filter_map(|tag| tag.get("href")).find(|href| href.starts_with("/session?")).expect("a link");
    let planned = house.get(&plan.replace("&amp;", "&"));
    assert_eq!(planned.status, 200, "{}", planned.text);
    for (name, held) in [("repeat", "1"), ("image", "20.4x20.4cm"), ("time", "6:00"), ("pours", "iron=19; bought=19")] {
        assert_eq!(value(&planned, name), held, "{name}");
    }
    assert_eq!(house.get("/print/new?like=99").status, 404);
    assert_eq!(house.get("/print/99/repeat").status, 404);
    assert_eq!(house.get("/print/1/repeat?image=large").status, 400);
}

#[test]
fn verdicts_are_written_down_part_by_part_and_nothing_else_is_touched() {
    let house = House::filled("web-prints-note");
    let page = house.get("/print/1");
    assert_eq!(
        (value(&page, "dry"), ticked(&page, "faults")),
        ("good".into(), vec!["veil".into(), "black-specks".into()])
    );
    let verdict = [
        ("part", "Verdict"),
        ("dry", "a little thin"),
        ("density_black", "1,41"),
        ("faults", "grainy"),
        ("where", "box 3"),
    ];
    let done = house.post("/print/1/note", &verdict);
    assert_eq!(done.status, 303, "{}", done.text);
    let page = house.get("/print/1");
    assert_eq!((value(&page, "dry"), ticked(&page, "faults")), ("a little thin".into(), vec!["grainy".into()]));
    assert_eq!((value(&page, "image"), value(&page, "time")), ("8x10in".into(), "6:00".into()), "of another part");
    assert!(page.text.contains("box 3"));
    let refused = house.post("/print/1/note", &[("part", "Verdict"), ("density_black", "dark")]);
    assert_eq!(refused.status, 400);
    assert!(
        refused.text.contains("field_unreadable") && value(&refused, "density_black") == "dark",
        "{}",
        refused.text
    );
    assert_eq!(house.post("/print/1/note", &[]).status, 400, "nothing was asked to be written");
}

#[test]
fn prints_are_found_and_listed_page_by_page() {
    let house = House::new("web-prints-list");
    assert!(house.get("/print").text.contains("No print is recorded yet"));
    for count in 0..52 {
        let title = if count == 3 { "Tern" } else { "Heron" };
        on(&house.book, &["print", "record", title, "--paper", if count % 2 == 0 { "kozo" } else { "rag" }]);
    }
    let numbers = |path: &str| -> Vec<u32> {
        let page = house.get(path);
        let all = tags(&page.text);
        let own = all.iter().filter_map(|tag| tag.get("href")?.strip_prefix("/print/")?.parse().ok());
        own.collect()
    };
    let older = |path: &str| -> Option<String> {
        let page = house.get(path);
        let all = tags(&page.text);
        all.iter()
            .find(|tag| tag.get("rel") == Some("next"))
            .and_then(|tag| tag.get("href"))
            .map(|own| own.replace("&amp;", "&"))
    };
    assert_eq!(numbers("/print"), (3..=52).rev().collect::<Vec<_>>());
    assert_eq!(numbers(&older("/print").expect("older ones")), [2, 1]);
    assert_eq!(older("/print?before=3"), None);
    assert_eq!(numbers("/print?find=tern"), [4]);
    assert_eq!(numbers("/print?find=paper%3Akozo").len(), 26);
    assert!(house.get("/print?find=gull").text.contains("No print answers all of"));
}

#[test]
fn what_is_kept_is_counted_changed_and_put_away() {
    let house = House::filled("web-prints-keep");
    let done = house.post("/keep/supply", &[("name", "gloves"), ("came", "6"), ("low", "10"), ("unit", "pairs")]);
    assert_eq!(
        (done.status.as_u16(), done.header("location").starts_with("/keep/supply/1?act=")),
        (303, true),
        "{}",
        done.text
    );
    assert!(house.get("/keep/shopping").text.contains("gloves") && house.get("/").text.contains("gloves: 6 left"));
    for (path, answers, said) in [
        ("/keep/supply/1/count", &[("there", "12")][..], "12 of gloves are there; the book had 6."),
        ("/keep/paper/1/count", &[("came", "25")], "25 came; 33 are there."),
        ("/keep/paper/1/change", &[("name", "rag 300"), ("lot", "B1"), ("low", "")], "rag 300 is changed."),
        ("/keep/lamp/1/away", &[], "tube bank is put away."),
    ] {
        let done = house.post(path, answers);
        assert_eq!(done.status, 303, "{path}: {}", done.text);
        assert!(
            house.get(done.header("location")).text.contains(said),
            "{path}: {}",
            house.get(done.header("location")).text
        );
    }
    assert!(!house.get("/keep/shopping").text.contains("gloves"));
    assert!(house.get("/keep/paper/1").text.contains("B1"));
    assert_eq!(house.get("/keep/lamp/1").status, 404);
    for (path, answers, status, code) in [
        ("/keep/paper", &[("name", "Rag 300")][..], 422, "name_taken"),
        ("/keep/paper", &[("name", "")], 400, "answer_missing"),
        ("/keep/bath/1/count", &[("came", "3")], 422, "not_counted"),
        ("/keep/paper/1/count", &[], 400, "answer_missing"),
        ("/keep/paper/1/change", &[("name", "rag"), ("sheet", "large")], 400, "size_malformed"),
        ("/keep/paper/7/away", &[], 404, "record_unknown"),
        ("/keep/print/1/away", &[], 404, "kind_unknown"),
        ("/keep/coat", &[("name", "x")], 404, "kind_unknown"),
    ] {
        let before = house.written();
        let refused = house.post(path, answers);
        assert_eq!(refused.status, status, "{path}: {}", refused.text);
        assert!(refused.text.contains(code), "{path} expected {code}: {}", refused.text);
        assert!(house.written() == before, "{path} wrote something");
    }
}

#[test]
fn today_shows_what_waits_and_what_was_printed_lately() {
    let house = House::filled("web-prints-today");
    let page = house.get("/").text;
    for held in ["Coated and waiting", "/print/new?coat=1", "rag: 8 left", "Printed lately", "/print/2"] {
        assert!(page.contains(held), "{held}: {page}");
    }
}
