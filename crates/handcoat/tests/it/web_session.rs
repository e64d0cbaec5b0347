//! The day's printing through the pages, tap by tap: begun, coated, timed, killed, gone on with, recorded; and the ledger closes.

use serde_json::Value;

use crate::books::{new_book, on};
use crate::command::fresh_folder;
use crate::web::{Answered, House, tags};

const ROW: [(&str, &str); 7] = [
    ("repeat", ""),
    ("title", "Heron"),
    ("image", "8x10in"),
    ("margin", "1cm"),
    ("paper", "cotton rag"),
    ("time", "6:00"),
    ("pours", "iron=23; palladium=23"),
];

fn house(name: &str) -> House {
    let book = new_book(&fresh_folder(name));
    for line in [
        &["stock", "receive", "Fe2(C2O4)3", "--volume", "50mL", "--percent", "27", "--name", "iron"][..],
        &[
            "stock",
            "receive",
            "Na2PdCl4",
            "--volume",
            "50mL",
            "--percent",
            "15",
            "--name",
            "palladium",
            "--price",
            "90EUR",
        ],
        &["keep", "paper", "cotton rag", "--low", "2"],
        &["keep", "lamp", "tube bank", "--hours", "10"],
        &["keep", "bath", "oxalate", "--work", "developer", "--made", "2026-01-02"],
        &["keep", "bath", "citric", "--work", "clearing", "--made", "2026-01-03", "--volume", "1L"],
    ] {
        on(&book, line);
    }
    House::over(book, None)
}

fn begin(house: &House, titles: &[&str]) -> Answered {
    let mut answers: Vec<(&str, &str)> = Vec::new();
    for title in titles {
        answers.extend(ROW.iter().map(|(name, value)| (*name, if *name == "title" { *title } else { *value })));
    }
    answers.extend([("lamp", "tube bank"), ("developer", "oxalate"), ("bath_1", "citric"), ("baths", "2")]);
    house.post("/session", &answers)
}

/// Taps the button of a screen that says so, as its own form does.
fn tap(house: &House, screen: &str, what: &str) -> Answered {
    let page = house.get(screen);
    assert_eq!(page.status, 200, "{}", page.text);
    house
        .post("/session/1", &form(&page.text, what).iter().map(|(name, value)| (&**name, &**value)).collect::<Vec<_>>())
}

/// The hidden fields of the form that does this.
fn form(page: &str, what: &str) -> Vec<(String, String)> {
    let marked = format!("name=\"do\" value=\"{what}\"");
    let own = page.split("<form").find(|form| form.contains(&marked)).unwrap_or_else(|| panic!("no {what} in {page}"));
    let own = own.split("</form>").next().unwrap_or_default();
    let inputs = tags(&format!("<form{own}"));
    let pair = |name: &str| {
        let tag = inputs.iter().find(|tag| tag.get("name") == Some(name))?;
        Some((name.to_owned(), tag.get("value").unwrap_or_default().to_owned()))
    };
    ["print", "seen", "do", "hand", "token", "key"].into_iter().filter_map(pair).collect()
}

fn heading(page: &Answered) -> String {
    let inside = page.text.split("<h1>").nth(1).and_then(|rest| rest.split("</h1>").next());
    inside.expect("a heading").into()
}

fn json(house: &House, line: &[&str]) -> Value {
    serde_json::from_str(&on(&house.book, &[line, &["--json"]].concat())).expect("JSON")
}

#[test]
fn a_whole_day_is_tapped_and_the_ledger_closes() {
    let mut house = house("web-session-day");
    let begun = begin(&house, &["Heron", "Weir", "Mill"]);
    assert_eq!((begun.status.as_u16(), begun.header("location")), (303, "/session/1"), "{}", begun.text);
    let first = house.get("/session/1");
    assert_eq!(heading(&first), "Mix the drops and coat");
    for words in ["Print 1, Heron", "<b>23</b>", "iron", "palladium", "Gloves and glasses", "Begin to coat"] {
        assert!(first.text.contains(words), "no {words} in {}", first.text);
    }
    tap(&house, "/session/1", "next");
    tap(&house, "/session/1?print=1", "drop-1");
    let coating = house.get("/session/1?print=1");
    assert!(coating.text.contains("<b>24</b>") && coating.text.contains("1 more than planned"), "{}", coating.text);
    let sent = tap(&house, "/session/1?print=1", "next");
    assert_eq!(sent.header("location"), "/session/1");
    // A drop that was one too many is taken back.
    tap(&house, "/session/1?print=2", "next");
    assert!(!house.get("/session/1?print=2").text.contains("−1 drop"));
    let stays = tap(&house, "/session/1?print=2", "drop-0");
    assert_eq!(stays.header("location"), "/session/1?print=2");
    assert!(house.get("/session/1?print=2").text.contains("−1 drop iron"));
    assert_eq!(tap(&house, "/session/1?print=2", "less-0").header("location"), "/session/1?print=2");
    assert!(!house.get("/session/1?print=2").text.contains("<b>24</b>"));
    let (mut killed, mut timed) = (false, false);
    for taps in 0.. {
        assert!(taps < 60, "the day does not end");
        let view = json(&house, &["session", "show", "1"]);
        if view["ended"] == true {
            break;
        }
        let place = view["in_turn"][0].as_u64().expect("a print");
        let screen = format!("/session/1?print={place}");
        let own = &view["prints"][usize::try_from(place).expect("small") - 1];
        if own["step"] == "clear" && own["in_hand"] == true && !timed {
            tap(&house, &screen, "timer");
            let page = house.get(&screen);
            assert!(page.text.contains("data-left=\"") && page.text.contains("role=\"timer\""), "{}", page.text);
            assert!(page.text.contains("7:00 left") || page.text.contains("6:59 left"), "{}", page.text);
            assert!(page.text.contains("It switches no lamp off"), "{}", page.text);
            timed = true;
        }
        if taps == 6 {
            // Killed and started again: everything goes on where it stood.
            let book = house.book.clone();
            drop(house);
            house = House::over(book, None);
            killed = true;
        }
        tap(&house, &screen, "next");
    }
    assert!(killed && timed);
    let over = house.get("/session/1");
    assert_eq!(heading(&over), "The day's printing is over");
    for print in 1..=3 {
        let link = format!("<a href=\"/print/{print}\">Write how print {print} looks</a>");
        assert!(over.text.contains(&link), "{}", over.text);
    }
    let prints = json(&house, &["print", "list"]);
    let all = prints["rows"].as_array().expect("prints");
    assert_eq!(all.len(), 3, "{prints}");
    let heron = json(&house, &["print", "show", "1"]).to_string();
    for words in ["tube bank", "oxalate", "citric", "6:00", "8x10in", "cotton rag"] {
        assert!(heron.contains(words), "no {words} in {heron}");
    }
    assert!(json(&house, &["coat", "open"]).to_string().matches("\"number\"").count() == 0);
    let place = on(&house.book, &["ledger", "where", "palladium"]);
    assert!(place.contains("print"), "{place}");
    on(&house.book, &["check", "--json"]);
    on(&house.book, &["check", "--strict"]);
    // The day as lines, and on paper.
    let plan = house.get("/session/1/plan");
    assert!(plan.status == 200 && plan.text.contains("<svg") && plan.text.contains("Heron"));
    let sheet = house.get("/session/1/sheet");
    assert_eq!((sheet.status.as_u16(), sheet.header("content-type")), (200, "application/pdf"));
    assert!(sheet.bytes.starts_with(b"%PDF-"));
}

#[test]
fn double_taps_and_two_tablets_do_one_thing_once() {
    let house = house("web-session-twice");
    begin(&house, &["Heron", "Weir"]);
    tap(&house, "/session/1?print=1", "next");
    let page = house.get("/session/1?print=1");
    let sent = form(&page.text, "next");
    let sent: Vec<(&str, &str)> = sent.iter().map(|(name, value)| (&**name, &**value)).collect();
    // The same form four times, and once from another tablet with a key of its own.
    for _ in 0..4 {
        assert_eq!(house.post("/session/1", &sent).status, 303);
    }
    let other: Vec<(&str, &str)> = sent.iter().copied().filter(|(name, _)| *name != "key").collect();
    assert_eq!(house.post("/session/1", &other).status, 303);
    let acts = on(&house.book, &["ledger", "acts"]);
    assert!(acts.contains("Coat 1") && !acts.contains("Coat 2"), "{acts}");
    assert_eq!(json(&house, &["session", "show", "1"])["prints"][0]["step"], "dry");
    // A form that names no print of the session does nothing, and says so.
    let lost = house.post("/session/1", &[("print", "9"), ("seen", "0"), ("do", "next")]);
    assert!(lost.status == 404 && lost.text.contains("session_print_unknown"), "{}", lost.text);
    let nothing = house.post("/session/1", &[]);
    assert_eq!(nothing.status, 404, "{}", nothing.text);
}

#[test]
fn a_refusal_stays_on_its_screen_and_beside_its_row() {
    let house = house("web-session-refused");
    let mut answers: Vec<(&str, &str)> = ROW.to_vec();
    answers.extend(ROW.iter().map(|(name, value)| (*name, if *name == "pours" { "silver=3" } else { *value })));
    let refused = house.post("/session", &answers);
    assert!(refused.status == 404 && refused.text.contains("item_unknown"), "{}", refused.text);
    let second = refused.text.split("Print 2</legend>").nth(1).expect("a second row");
    assert!(second.contains("item_unknown") && refused.text.matches("item_unknown").count() == 1);
    assert_eq!(house.get("/session/1").status, 404);
    let more = house.post("/session", &[&ROW[..], &[("more", "yes")]].concat());
    assert!(more.status == 200 && more.text.contains("Print 2</legend>") && more.text.contains("value=\"Heron\""));
    // The bottle is gone when the coat is done: the step stays, and says why.
    begin(&house, &["Heron"]);
    tap(&house, "/session/1", "next");
    on(&house.book, &["undo", "2"]);
    let page = house.get("/session/1");
    let sent = form(&page.text, "next");
    let sent: Vec<(&str, &str)> = sent.iter().map(|(name, value)| (&**name, &**value)).collect();
    let stays = house.post("/session/1", &sent);
    assert!(stays.status == 404 && stays.text.contains("item_unknown"), "{}", stays.text);
    assert_eq!(heading(&stays), "Mix the drops and coat");
    assert_eq!(json(&house, &["session", "show", "1"])["prints"][0]["in_hand"], true);
    for gone in ["/session/9", "/session/x", "/session/9/plan", "/session/9/sheet"] {
        assert_eq!(house.get(gone).status, 404, "{gone}");
    }
}

#[test]
fn what_is_hard_to_take_back_is_asked_once_more() {
    let house = house("web-session-sure");
    begin(&house, &["Heron"]);
    let first = house.get("/session/1");
    assert!(first.text.contains("Now. Then") && !first.text.contains("that is past"), "{}", first.text);
    tap(&house, "/session/1", "next");
    let page = house.get("/session/1").text;
    for (what, says, yes) in [
        ("skip", "Skip this step", "Yes, skip it"),
        ("recoated", "Coat a new sheet", "Yes, coat a new sheet"),
        ("spoiled", "It is spoiled", "Yes, it is spoiled"),
    ] {
        // The words alone open a question; only the button in it does something.
        let question = page.split("<details").find(|own| own.contains(&format!("<summary>{says}</summary>")));
        let question = question.and_then(|own| own.split("</details>").next()).unwrap_or_else(|| panic!("no {says}"));
        let act = format!("name=\"do\" value=\"{what}\"");
        assert!(question.contains(&act) && question.contains(yes), "{question}");
        assert_eq!(page.matches(&act).count(), 1);
        assert!(page.find(&act) > page.find("class=\"sides\""), "set apart, below");
    }
    tap(&house, "/session/1", "spoiled");
    assert_eq!(json(&house, &["session", "show", "1"])["prints"][0]["spoiled"], true);
    // And a fresh screen holds these buttons back as it holds the main one.
    let script = include_str!("../../assets/bench.js");
    assert!(script.contains(".sides, .sure"));
}

#[test]
fn a_step_that_was_not_begun_in_time_says_by_how_much() {
    let house = house("web-session-late");
    for (seconds, words) in [(100, "Now. Then"), (12 * 60 + 20, "12 min later than planned.")] {
        let begun = jiff::Timestamp::now() - jiff::SignedDuration::from_secs(seconds);
        let line = "Heron; time 6:00; pour iron=23; pour palladium=23";
        let shown = json(&house, &["session", "begin", "--print", line, "--at", &begun.to_string()]);
        let page = house.get(&format!("/session/{}", shown["session"]));
        assert!(page.text.contains(words) && !page.text.contains("that is past"), "no {words} in {}", page.text);
    }
}

#[test]
fn an_exposure_counts_down_large() {
    let house = house("web-session-exposure");
    begin(&house, &["Heron"]);
    for _ in 0..20 {
        let own = &json(&house, &["session", "show", "1"])["prints"][0];
        if own["step"] == "expose" && own["in_hand"] == true {
            break;
        }
        tap(&house, "/session/1", "next");
    }
    let page = house.get("/session/1");
    assert_eq!(heading(&page), "It is under the lamp");
    let target = tags(&page.text).into_iter().find(|tag| tag.get("class") == Some("target")).expect("a large figure");
    let left: i64 = target.get("data-left").and_then(|own| own.parse().ok()).expect("milliseconds");
    assert!((350_000..=360_000).contains(&left), "{left}");
    let figure = page.text.split("class=\"target\"").nth(1).and_then(|own| own.split(['>', '<']).nth(1));
    assert!(matches!(figure.map(str::trim), Some("6:00" | "5:59" | "5:58" | "5:57")), "{figure:?}");
    assert!(page.text.contains("Until ") && page.text.contains("It switches no lamp off"), "{}", page.text);
}

#[test]
fn a_coat_nobody_said_is_recorded_by_hand_and_not_forgotten() {
    let house = house("web-session-by-hand");
    let silent: Vec<(&str, &str)> =
        ROW.iter().map(|(name, value)| (*name, if *name == "pours" { "" } else { *value })).collect();
    assert_eq!(house.post("/session", &silent).status, 303);
    tap(&house, "/session/1", "next");
    let page = house.get("/session/1");
    assert!(page.text.contains("no metal is taken out of its bottles"), "{}", page.text);
    let main = page.text.split("class=\"main-two\"").nth(1).expect("the main way");
    assert!(main.find("Record what was poured") < main.find("It is coated"), "{main}");
    let link = tags(&page.text)
        .iter()
        .filter_map(|tag| tag.get("href").map(String::from))
        .find(|href| href.starts_with("/coat/made?"))
        .expect("a way to record it")
        .replace("&amp;", "&");
    let form = house.get(&link);
    for words in
        ["value=\"Heron\"", "value=\"8x10in\"", "value=\"1cm\"", "value=\"cotton rag\"", "value=\"/session/1\""]
    {
        assert!(form.text.contains(words), "no {words} in {}", form.text);
    }
    let made = [("title", "Heron"), ("pour", "iron=23"), ("pour", "palladium=23"), ("back", "/session/1")];
    let sent = house.post("/coat/made", &made);
    assert!(sent.status == 303 && sent.header("location").starts_with("/session/1?act="), "{}", sent.text);
    let elsewhere = house.get("/coat/made?back=//elsewhere.example/");
    assert!(!elsewhere.text.contains("\"//elsewhere"), "{}", elsewhere.text);
    let page = house.get("/session/1").text;
    assert!(page.contains("recorded by hand") && !page.contains("Record what was poured"), "{page}");
    for _ in 0..14 {
        tap_if(&house);
    }
    let print = json(&house, &["print", "show", "1"]).to_string();
    assert!(print.contains("palladium"), "{print}");
    assert_eq!(json(&house, &["coat", "open"]).to_string().matches("\"number\"").count(), 0);
}

#[test]
fn an_exposure_in_the_address_is_no_timer() {
    let house = house("web-session-address");
    let page = house.get("/session?title=Heron&time=6:00&pours=iron%3D23;pd%3D23").text;
    assert_eq!(page.matches("value=\"6:00\"").count(), 1, "{page}");
    assert!(page.contains("value=\"iron=23;pd=23\""), "{page}");
    assert!(page.find("<h2>Begin</h2>") < page.find("<h2>Timers</h2>"), "{page}");
}

#[test]
fn a_print_is_repeated_out_of_its_record() {
    let house = house("web-session-repeat");
    on(
        &house.book,
        &[
            "print",
            "record",
            "Old heron",
            "--pour",
            "iron=20",
            "--pour",
            "palladium=21",
            "--image",
            "5x7in",
            "--time",
            "4:30",
        ],
    );
    let asked = house.get("/session?repeat=1");
    for words in ["Old heron", "5x7in", "4:30", "iron=20; palladium=21"] {
        assert!(asked.text.contains(&format!("value=\"{words}\"")), "no {words} in {}", asked.text);
    }
    let begun = house.post("/session", &[("repeat", "1")]);
    assert_eq!(begun.status, 303, "{}", begun.text);
    tap(&house, "/session/1", "next");
    tap(&house, "/session/1", "next");
    for _ in 0..12 {
        tap_if(&house);
    }
    let again = json(&house, &["print", "show", "2"]);
    assert_eq!(again["repeats"], 1, "{again}");
}

fn tap_if(house: &House) {
    if json(house, &["session", "show", "1"])["ended"] != true {
        tap(house, "/session/1", "next");
    }
}

#[test]
fn timers_run_side_by_side_and_are_put_away() {
    let house = house("web-session-timers");
    for (name, time) in [("rinse", "7"), ("soak", "90s"), ("", "1:30")] {
        let started =
            house.post("/session/timers", &[("timer_name", name), ("timer_time", time), ("back", "/session")]);
        assert_eq!((started.status.as_u16(), started.header("location")), (303, "/session"), "{}", started.text);
    }
    let page = house.get("/session");
    assert_eq!(page.text.matches("role=\"timer\"").count(), 3);
    for wrong in ["", "soon", "0", "-3"] {
        let refused = house.post("/session/timers", &[("timer_name", "rinse"), ("timer_time", wrong)]);
        assert!(matches!(refused.status.as_u16(), 400 | 422), "{wrong}: {}", refused.text);
    }
    // Only a page of a session is a way back.
    let away = house.post("/session/timers", &[("away", "1"), ("back", "//elsewhere.example/")]);
    assert_eq!((away.status.as_u16(), away.header("location")), (303, "/session"));
    assert_eq!(json(&house, &["session", "timers"])["timers"].as_array().map(Vec::len), Some(2));
    assert_eq!(house.post("/session/timers", &[("away", "99")]).status, 404);
}
