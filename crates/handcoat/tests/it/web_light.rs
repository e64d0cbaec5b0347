//! Exposure and tone on pages: what Today says of them, a chart that is read, kept, held against a print and taken along as files, tests that
//! are kept, and what an address alone may ask for.

use axum::body::Body;
use axum::http::Request;
use axum::http::header::{CONTENT_TYPE, HOST, ORIGIN};

use crate::books::on;
use crate::web::{Answered, House, LOCAL, OURS, encoded, tags};

/// What is read on a page, without its tags.
fn read(page: &Answered) -> String {
    let mut text = String::new();
    for part in page.text.split('<') {
        text.push_str(part.split_once('>').map_or(part, |own| own.1));
        text.push(' ');
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What stands on Today of exposure and tone.
fn light(house: &House) -> String {
    let page = read(&house.get("/"));
    page.split_once(" Light ").map_or(String::new(), |own| own.1.chars().take(600).collect())
}

fn sample(house: &House) -> String {
    std::fs::read_to_string(house.book.with_file_name("chart.csv")).expect("the chart of the filled book")
}

/// Readings of so many patches as pairs.
fn pairs(count: usize) -> String {
    let one = |place: usize| {
        let input = place as f64 / (count - 1) as f64;
        format!("{input:.4} {:.2}\n", 22.0 + 70.0 * input)
    };
    (0..count).map(one).collect()
}

fn all_hrefs(page: &Answered) -> Vec<String> {
    tags(&page.text).iter().filter_map(|own| own.get("href")).map(|own| own.replace("&amp;", "&")).collect()
}

#[test]
fn today_says_which_base_is_suspect_and_which_response_is_doubted() {
    let house = House::filled("web-light-today");
    let before = light(&house);
    assert!(before.contains("Response 1 rag, palladium no print through this curve was read yet"), "{before}");
    assert!(!before.contains("find its base exposure anew"), "{before}");
    on(&house.book, &["keep", "setup", "kozo"]);
    assert!(light(&house).contains("kozo no base exposure yet"), "{}", light(&house));
    // Another lot of the paper: the time and the curve were found for the other.
    on(&house.book, &["keep", "paper", "rag", "--change", "--lot", "B2"]);
    let after = light(&house);
    assert!(after.contains("rag, palladium find its base exposure anew: paper lot: A7 then, B2 now"), "{after}");
    assert!(after.contains("Response 1 rag, palladium the paper changed since: print a chart again"), "{after}");
    let tone = house.get("/tone/1");
    assert!(tone.text.contains("It does not hold any more."));
    let told = read(&tone);
    assert!(told.contains("The paper changed since (paper lot: A7 then, B2 now)"), "{told}");
    // A stale curve is not the first thing to take: a new chart is, with this one known.
    let all = tags(&tone.text);
    let first = all.iter().find(|own| own.get("class") == Some("btn")).and_then(|own| own.get("href"));
    assert!(first.is_some_and(|own| own.starts_with("/tone/new?") && own.contains("prior=1")), "{first:?}");
    assert!(!house.get("/tone").text.contains("Use this curve"));
    let expose = read(&house.get("/expose"));
    assert!(expose.contains("Find it anew. Since then: Paper lot: A7 then, B2 now"), "{expose}");
    // One tap leads to the same kind of test for the same set-up, which stays said until it is kept.
    let test = all_hrefs(&house.get("/expose")).into_iter().find(|own| own.starts_with("/expose/tests/"));
    let test = house.get(&test.expect("the test of the base exposure in force"));
    assert!(read(&test).contains("Find it anew. Since then"), "{}", read(&test));
    for page in [&house.get("/expose"), &test] {
        let anew = tags(&page.text).into_iter().find(|own| own.get("class") == Some("btn")).expect("a step on");
        // 4:00 was known: strips from a stop below it to a stop above.
        let strips = "/expose/strip?setup=rag%2C+palladium&first=2%3A00&until=8%3A00";
        assert_eq!(anew.get("href").map(|own| own.replace("&amp;", "&")).as_deref(), Some(strips));
    }
    let begun = house.get("/expose/wedge?setup=rag%2C+palladium");
    assert!(
        begun.text.contains("name=\"setup\" value=\"rag, palladium\"") && read(&begun).contains("For rag, palladium.")
    );
    for way in ["strip", "eye"] {
        let begun = house.get(&format!("/expose/{way}?setup=rag%2C+palladium"));
        assert!(begun.status == 200 && !begun.text.contains("answer_missing"), "{way} blames what was not asked yet");
    }
    let strips = house.get("/expose/strip?setup=rag%2C+palladium&first=2:00&until=8:00");
    let bench = all_hrefs(&strips).into_iter().find(|own| own.starts_with("/expose/strip/bench"));
    assert!(bench.is_some_and(|own| own.contains("setup=rag")), "the set-up is lost on the way to the lamp");
    // As it was, and all is well again but for the print nobody made.
    on(&house.book, &["keep", "paper", "rag", "--change", "--lot", "A7"]);
    assert!(!light(&house).contains("find its base exposure anew"));
}

#[test]
fn an_address_asks_for_small_fits_and_a_form_for_any() {
    let house = House::filled("web-light-address");
    let asked = |path: &str, count: usize| {
        let readings = encoded(&[("readings", &pairs(count))]);
        read(&house.get(&format!("{path}?{readings}")))
    };
    for (path, found, waits) in [
        ("/tone/new", "How good it is", "so many are fitted once you press Fit it"),
        ("/tone/1/verify", "readings and coat explain", "so many are fitted once you press Hold it against the target"),
    ] {
        let (small, large) = (asked(path, 21), asked(path, 41));
        assert!(small.contains(found) && !small.contains(waits), "{path}: {small}");
        assert!(!large.contains(found) && large.contains(waits), "{path}: {large}");
        let pressed = read(&house.post(path, &[("readings", &pairs(41)), ("do", "fit")]));
        assert!(pressed.contains(found) && !pressed.contains(waits), "{path}: {pressed}");
    }
}

#[test]
fn a_chart_is_read_kept_held_against_a_print_and_taken_along() {
    let house = House::filled("web-light-chart");
    let chart = sample(&house);
    let chart = chart.as_str();
    let with = |way: &'static str, more: &[(&'static str, &'static str)]| {
        let mut all = vec![("readings", chart), ("setup", "rag, palladium"), ("do", way)];
        all.extend(more);
        house.post("/tone/new", &all)
    };
    let curve = with("curve", &[]);
    assert!(curve.text.starts_with("input,output\n") && curve.text.lines().count() > 200, "{}", curve.text);
    assert!(with("report", &[]).bytes.starts_with(b"%PDF"));
    // The chart that response 1 was made from, with response 1 as the earlier one.
    let twice = read(&with("fit", &[("prior", "1")]));
    assert!(twice.contains("would count twice"), "{twice}");
    let kept = with("keep", &[("note", "second reading")]);
    assert_eq!((kept.status.as_u16(), kept.header("location").split('?').next()), (303, Some("/tone/2")));
    assert!(read(&house.get("/tone/2")).contains("second reading"));
    assert_eq!(house.get("/tone/2/curve").text, curve.text, "the curve that was kept");
    assert!(house.get("/tone/2/report?page=letter").bytes.starts_with(b"%PDF"));

    let file = house.book.with_file_name("printed.csv");
    let path = file.to_str().expect("a path in words");
    on(&house.book, &["tone", "verify", path, "--sample", "--of", "2"]);
    let printed = std::fs::read_to_string(&file).expect("the print");
    let printed = printed.as_str();
    let held = |way: &'static str, more: &[(&'static str, &'static str)]| {
        let mut all = vec![("readings", printed), ("do", way)];
        all.extend(more);
        house.post("/tone/2/verify", &all)
    };
    let said = read(&held("read", &[]));
    assert!(said.contains("which is what readings and coat scatter by themselves"), "{said}");
    assert!(held("curve", &[]).text.starts_with("input,output\n"));
    assert!(held("report", &[]).bytes.starts_with(b"%PDF"));
    let kept = held("keep", &[("update", "yes")]);
    assert_eq!((kept.status.as_u16(), kept.header("location").split('?').next()), (303, Some("/tone/3")));
    assert!(read(&house.get("/tone/3")).contains("response 2 and a print through it"));
    let checked = read(&house.get("/tone/2"));
    assert!(checked.contains("Checked ") && checked.contains("with 31 patches: off by 0.2 L*"), "{checked}");
    let list = read(&house.get("/tone"));
    assert!(list.contains("Followed by response 3"), "{list}");
    // The chart itself is no print through its curve, and is said to be a chart.
    let raw = house.post("/tone/2/verify", &[("readings", chart), ("do", "read")]);
    let told = read(&raw);
    assert!(told.contains("looks like a chart that did not go through the curve of response 2"), "{told}");
    assert!(told.contains("Read it as a new chart") && told.contains("would count twice"), "{told}");
    // The set-up stays as long as all this stands on it.
    let acts: serde_json::Value = serde_json::from_str(&on(&house.book, &["ledger", "acts", "--json"])).expect("JSON");
    let made = acts["acts"].as_array().expect("acts").iter().rfind(|own| {
        own["said"].as_array().is_some_and(|said| {
            said.iter().any(|line| line.as_str().is_some_and(|line| line.contains("rag, palladium")))
        })
    });
    let act = made.expect("the act that made the set-up")["act"].to_string();
    let undo = house.post("/undo", &[("act", &act)]);
    assert_eq!(undo.status, 409, "{}", read(&undo));
    assert!(read(&undo).contains(&format!("Later acts stand on act {act}")), "{}", read(&undo));
}

#[test]
fn charts_to_print_come_as_tables() {
    let house = House::filled("web-light-levels");
    let table = |path: &str| {
        let found = house.get(path);
        assert!(found.header("content-type").starts_with("text/csv"), "{path}: {}", found.header("content-type"));
        found.text
    };
    let chart = table("/tone/levels");
    assert!(chart.starts_with("patch,input,l_star,x_mm,y_mm"), "{chart}");
    assert_eq!((chart.lines().count(), table("/tone/levels?most=21&patch=12mm").lines().count()), (32, 22));
    assert_eq!(house.get("/tone/levels?sheet=10x10mm").status, 422, "no room");
    let next = table("/tone/1/levels?most=4");
    assert_eq!(next.lines().count(), 5, "{next}");
}

#[test]
fn tests_of_exposure_are_kept_from_pages() {
    let house = House::filled("web-light-tests");
    let keep = |answers: &[(&str, &str)]| house.post("/expose/tests", answers);
    // Under a set-up of its own, made with the test.
    let eye = [("way", "eye"), ("test_time", "4:00"), ("last_black", "5"), ("last_tone", "15")];
    let kept = keep(&[&eye[..], &[("new_name", "kozo"), ("new_paper", "rag"), ("agentless", "yes")]].concat());
    assert_eq!((kept.status.as_u16(), kept.header("location").split('?').next()), (303, Some("/expose/tests/3")));
    let page = read(&house.get("/expose/tests/3"));
    assert!(page.contains("kozo"), "{page}");
    assert!(read(&house.get("/expose")).contains("kozo"), "the set-up is there");
    let kept = keep(&[("way", "strip"), ("first", "2:00"), ("until", "8:00"), ("tapped", "5"), ("setup", "kozo")]);
    assert_eq!(kept.header("location").split('?').next(), Some("/expose/tests/4"), "{}", read(&kept));
    // What is refused loses nothing of what was read.
    let refused =
        keep(&[("way", "strip"), ("first", "2:00"), ("until", "8:00"), ("tapped", "5"), ("setup", "none such")]);
    assert!(refused.status.is_client_error(), "{}", refused.status);
    let carried =
        tags(&refused.text).iter().any(|own| own.get("name") == Some("tapped") && own.get("value") == Some("5"));
    assert!(carried, "{}", refused.text);
    // A wedge out of a file.
    let mut body = String::new();
    let token = house.get("/settings").hidden("token");
    let sealed = [("token", token.as_str()), ("key", "key-of-one-wedge")];
    for (name, value) in sealed.into_iter().chain([("how", "file"), ("test_time", "4:00")]) {
        body.push_str(&format!("--xyz\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n"));
    }
    body.push_str("--xyz\r\nContent-Disposition: form-data; name=\"file\"; filename=\"w.csv\"\r\n\r\nstep_density,print_density\n");
    for (step, density) in [1.42, 1.41, 1.40, 1.30, 1.05, 0.75, 0.48, 0.28, 0.15, 0.09, 0.06, 0.06].iter().enumerate() {
        body.push_str(&format!("{:.2},{density}\n", 0.05 + 0.15 * step as f64));
    }
    body.push_str("\r\n--xyz--\r\n");
    let request = Request::post("/expose/wedge")
        .header(HOST, OURS)
        .header(ORIGIN, format!("http://{OURS}"))
        .header(CONTENT_TYPE, "multipart/form-data; boundary=xyz");
    let found = house.ask(LOCAL, request.body(Body::from(body)).expect("a request"));
    assert_eq!(found.status, 303, "{}", read(&found));
    let address = found.header("location").split('#').next().unwrap_or_default().to_owned();
    let shown = read(&house.get(&address));
    assert!(shown.contains("Base exposure") && shown.contains("Keep this test"), "{shown}");
    assert!(house.get("/expose/tests/3/sheet").bytes.starts_with(b"%PDF"));
    assert!(house.get("/expose/strip/sheet?first=2:00&until=8:00").bytes.starts_with(b"%PDF"));
}
