//! Negatives in the pages: a picture comes in, becomes a negative in the queue, and is handed out; meanwhile pages answer.
#![cfg(target_os = "linux")]

use std::time::{Duration, Instant};

use handcoat_work::Studio;
use handcoat_work::negative::{Asked, KeptCurve, NegativeAnswers, Worker, add_job, curve_of_table};
use handcoat_work::sample::sample_picture;
use serde_json::Value;
use sha2::{Digest as _, Sha256};

use crate::books::{on, tiff};
use crate::command::{fresh_folder, handcoat};
use crate::web::{Answered, House, encoded, tags};
use crate::web_serving::Serving;

fn sent(house: &House, token: &str, name: &str, file: &[u8]) -> Answered {
    house.upload("/negative/upload", &[("token", token), ("key", "test-upload-1")], name, file)
}

/// Asks until it is so.
#[track_caller]
fn until(what: &str, mut so: impl FnMut() -> bool) {
    let end = Instant::now() + Duration::from_secs(120);
    while !so() {
        assert!(Instant::now() < end, "{what} did not come");
        std::thread::sleep(Duration::from_millis(30));
    }
}

#[test]
fn a_picture_that_comes_in_becomes_a_negative_that_is_handed_out() {
    let house = House::filled("web-negative");
    let folder = house.book.with_file_name("studio-pictures");
    let token = house.get("/negative/new").hidden("token");
    let picture = sample_picture();
    assert!(house.get("/negative/new").text.contains("No picture lies in the folder yet."));
    // Who has no token of this run leaves nothing, and what is no picture by its name does not either.
    assert_eq!(sent(&house, "another", "heron.tif", &picture).status, 403);
    assert!(!folder.exists(), "something was written for a form that is not ours");
    assert_eq!(sent(&house, &token, "heron.exe", &picture).status, 400);
    for kept in ["heron.tif", "heron-2.tif"] {
        let came = sent(&house, &token, "../../heron.tif", &picture);
        assert_eq!(came.status, 303, "{}", came.text);
        assert_eq!(came.header("location"), format!("/negative/new?picture={kept}"));
        assert!(std::fs::read(folder.join(kept)).expect("kept") == picture, "other bytes");
    }
    let files = || std::fs::read_dir(&folder).expect("a folder").count();
    assert_eq!(files(), 2, "nothing else is left there");

    let page = house.get("/negative/new?picture=heron.tif");
    assert!(page.text.contains("response 1 of rag, palladium"), "{}", page.text);
    let query = "picture=heron.tif&curve=1&tint=2,8";
    let proof = house.get(&format!("/negative/proof?{query}"));
    assert_eq!(proof.status, 200);
    assert!(proof.text.contains("As response 1") || proof.text.contains("as response 1"), "{}", proof.text);
    let shown = |which: &str| house.get(&format!("/negative/proof/{which}?{query}"));
    for which in ["before", "after"] {
        let own = shown(which);
        assert_eq!((own.header("content-type"), &own.bytes[..4]), ("image/png", &b"\x89PNG"[..]), "{which}");
    }
    assert!(shown("before").bytes != shown("after").bytes, "a print is no screen");
    assert_eq!(house.get("/negative/proof?picture=../studio.handcoat&curve=1").status, 404);
    for (address, kind) in [("/tone/1/link", &b"link"[..]), ("/tone/1/profile", b"prtr")] {
        let own = house.get(address);
        assert_eq!((own.header("content-type"), &own.bytes[12..16]), ("application/vnd.iccprofile", kind));
    }
    let refused = house.post("/negative/new", &[("picture", "../studio.handcoat"), ("curve", "1"), ("width", "2in")]);
    assert_eq!(refused.status, 404, "no name leads out of the folder");
    let missing = house.post("/negative/new", &[("picture", "heron.tif"), ("curve", "1"), ("packing", "lzw")]);
    assert_eq!(missing.status, 400, "{}", missing.text);
    assert!(
        missing.text.contains("answer_missing") && missing.text.contains("value=\"lzw\" checked"),
        "{}",
        missing.text
    );
    let large = [("picture", "heron.tif"), ("curve", "1"), ("width", "20in"), ("sheet", "letter")];
    let full = house.post("/negative/new", &large);
    assert_eq!(full.status, 422, "{}", full.text);
    assert!(full.text.contains("film_full") && full.text.contains("value=\"20in\""), "{}", full.text);
    assert!(!house.get("/negative").text.contains("/negative/jobs/"), "nothing was queued that cannot be made");
    let taken = [("picture", "heron.tif"), ("curve", "1"), ("width", "3in"), ("name", "heron")];
    let taken = house.post("/negative/new", &taken);
    assert!(taken.text.contains("was entered by hand") && taken.text.contains("Heron 2"), "{}", taken.text);
    let begun =
        house.post("/negative/new", &[("picture", "heron.tif"), ("curve", "1"), ("width", "3in"), ("name", "Gate")]);
    assert_eq!((begun.status.as_u16(), begun.header("location")), (303, "/negative#jobs"));
    until("the negative", || house.get("/negative").text.contains("href=\"/negative/2\""));

    // Film of a size that is not offered is written, and said by name when it is not.
    let other = [("picture", "heron.tif"), ("curve", "1"), ("width", "3in"), ("sheet", "other")];
    let open = house.post("/negative/new", &other);
    assert!(
        open.status == 400 && open.text.contains("answer_missing") && open.text.contains("9x12in"),
        "{}",
        open.text
    );
    let two = [&other[..], &[("sheet_other", "9x12in"), ("also", "heron-2.tif"), ("name", "Two")]].concat();
    let two = house.post("/negative/new", &two);
    assert_eq!((two.status.as_u16(), two.header("location")), (303, "/negative#jobs"), "{}", two.text);
    until("the second negative", || house.get("/negative").text.contains("href=\"/negative/3\""));
    let both = house.get("/negative/3").text;
    assert!(both.contains("on film of 229 × 305 mm") || both.contains("on film of 305 × 229 mm"), "{both}");
    assert!(both.contains("heron-2"), "the second picture is not on record: {both}");

    let shown = house.get("/negative/2");
    assert_eq!(shown.status, 200);
    assert!(shown.text.contains("through clear film with rag, palladium"), "no base exposure: {}", shown.text);
    // The form of a print offers it, with its image and its set-up.
    let offered = tags(&house.get("/print/new").text);
    let offered: Vec<&str> =
        offered.iter().filter_map(|own| own.get("href")).filter(|own| own.contains("negative=Gate")).collect();
    assert!(offered.len() == 1 && offered[0].contains("image=76x") && offered[0].contains("setup=rag"), "{offered:?}");
    let onward = ["Image 76 × ", "on film of ", "/print/new?negative=Gate", "/coat?image=76x", "100 %"];
    for words in onward.into_iter().chain(["Gate", "rag, palladium", "Download the file", "None yet."]) {
        assert!(shown.text.contains(words), "no {words}: {}", shown.text);
    }
    // What the code of squares on the film says leads to it, as the letters do.
    let told = handcoat(&["negative", "show", "gate", "--json", "--book", house.book.to_str().expect("text")]);
    let told: Value = serde_json::from_str(&told.data).expect("JSON");
    let mark = told["mark"].as_str().expect("a mark").to_owned();
    assert!(told["made"][0]["mark"] == *mark && shown.text.contains(&mark), "{told}");
    for asked in
        [mark.clone(), mark.to_lowercase(), format!("HANDCOAT{mark}"), format!("HANDCOAT {mark}"), "gate".into()]
    {
        let found = house.get(&format!("/negative?find={}", asked.replace(' ', "+")));
        assert_eq!((found.status.as_u16(), found.header("location")), (303, "/negative/2"), "{asked}");
        let told = handcoat(&["negative", "show", &asked, "--book", house.book.to_str().expect("text")]);
        assert!(told.data.contains("Negative 2  Gate") && told.data.contains(&format!("mark: {mark}")), "{asked}");
    }
    let none = house.get("/negative?find=HANDCOAT00000000");
    assert!(none.status == 200 && none.text.contains("is not in the book"), "{}", none.text);
    let file = house.get("/negative/2/file");
    assert_eq!(file.header("content-type"), "image/tiff");
    let sha256: String = Sha256::digest(&file.bytes).iter().map(|own| format!("{own:02x}")).collect();
    assert!(shown.text.contains(&sha256), "the file is not the one that was made");
    // In the light of a safelight a picture shines by the ground it lies on, and is black without one.
    assert!(shown.text.contains("<span class=\"lit\"><img src=\"/negative/2/small\""), "{}", shown.text);
    // Before and after stand on its page, and are pictures.
    for which in ["before", "after"] {
        let at = format!("/negative/proof/{which}?curve=1&amp;picture=heron.tif");
        let other = format!("/negative/proof/{which}?picture=heron.tif&amp;curve=1");
        assert!(shown.text.contains(&at) || shown.text.contains(&other), "no {which}: {}", shown.text);
        let own = house.get(&other.replace("&amp;", "&"));
        assert_eq!((own.header("content-type"), &own.bytes[..4]), ("image/png", &b"\x89PNG"[..]), "{which}");
    }
    let small = house.get("/negative/2/small");
    assert_eq!((small.header("content-type"), &small.bytes[..4]), ("image/png", &b"\x89PNG"[..]));
    // Something else under its name is said, and not handed out as it.
    let inside = folder.join("negatives").join("heron.tif");
    let (made, mut other) = (file.bytes.clone(), file.bytes.clone());
    *other.last_mut().expect("bytes") ^= 1;
    std::fs::write(&inside, &other).expect("written");
    for address in ["/negative/2/file", "/negative/2/small"] {
        let own = house.get(address);
        assert!(own.status == 404 && own.text.contains("negative_file_changed"), "{address}: {}", own.text);
    }
    let page = house.get("/negative/2").text;
    assert!(page.contains("is not the one that was made") && !page.contains("Download the file"), "{page}");
    std::fs::remove_file(&inside).expect("removed");
    assert!(house.get("/negative/2").text.contains("The file is not there any more"));
    std::fs::write(&inside, &made).expect("written");
    assert!(house.get("/negative/2/file").bytes == made && house.get("/negative/2").text.contains("Download the file"));
    assert!(
        page.contains(&format!("on which film that was”: <b>{mark}</b>").replace("on which", "On which")),
        "{page}"
    );
    // A print recorded from it stands on its page, and leads back.
    assert_eq!(house.get("/negative/1/file").status, 404, "one that was entered by hand has no file");
    // What lies elsewhere is not handed out, whatever the book says of it.
    std::fs::rename(&inside, folder.join("moved.tif")).expect("moved");
    std::os::unix::fs::symlink(&house.book, &inside).expect("a link");
    assert_eq!(house.get("/negative/2/file").status, 404, "a link leads to the book");
    // A film that was put away keeps its page, and is not offered for new prints.
    on(&house.book, &["keep", "away", "negative", "gate"]);
    let away = house.get("/negative/2");
    assert!(away.status == 200 && away.text.contains("It is put away") && away.text.contains(&mark), "{}", away.text);
    assert!(!away.text.contains("/print/new?negative") && !house.get("/print/new").text.contains("negative=Gate"));
    assert!(house.get("/negative").text.contains("Negative 2, Gate"), "nothing leads to it");
    assert_eq!(house.get(&format!("/negative?find={mark}")).header("location"), "/negative/2");
}

fn job(book: &std::path::Path, place: usize) -> Value {
    let listed = handcoat(&["negative", "jobs", "--json", "--book", book.to_str().expect("text")]);
    serde_json::from_str::<Value>(&listed.data).expect("JSON")["jobs"][place].clone()
}

fn form(serving: &Serving, path: &str, answers: &[(&str, &str)], token: &str) -> String {
    let own = [&[("token", token), ("key", "test-form-12345")], answers].concat();
    let (body, host) = (encoded(&own), &serving.address);
    serving.send(&format!(
        "POST {path} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nConnection: close\r\nContent-Type: \
         application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n{body}",
        body.len()
    ))
}

fn token(page: &str) -> String {
    let after = page.split_once("name=\"token\" value=\"").expect("a token").1;
    after.split('"').next().expect("its end").to_owned()
}

#[test]
fn pages_answer_while_a_job_runs_and_one_that_was_interrupted_waits_for_its_button() {
    let book = House::filled("web-negative-queue").book;
    let folder = book.with_file_name("studio-pictures");
    std::fs::create_dir_all(&folder).expect("a folder");
    // 40 megapixels of 8-bit grey, and no two rows alike.
    let pixels: Vec<u8> = (0..40_000_000_u32).map(|own| ((own / 40) ^ (own >> 13)) as u8).collect();
    let large = tiff(&[(256, 8000), (257, 5000), (278, 5000), (279, 40_000_000)], &pixels);
    std::fs::write(folder.join("large.tif"), large).expect("written");
    let mut serving = Serving::begin(&book, &[]);
    let own = token(&serving.get("/negative/new"));
    let answers = [("picture", "large.tif"), ("curve", "1"), ("width", "20in"), ("ppi", "1000")];
    assert!(form(&serving, "/negative/new", &answers, &own).starts_with("HTTP/1.1 303"));
    until("the first row", || job(&book, 0)["rows"].as_i64() > Some(0));

    // Counted while it runs, and not by a clock: a page that waited for the job would be none of these.
    let mut answered = 0;
    for _ in 0..50 {
        assert!(serving.get("/").starts_with("HTTP/1.1 200"));
        answered += i32::from(job(&book, 0)["state"] == "running");
    }
    assert!(answered >= 25, "only {answered} of 50 pages came while the job ran");
    assert!(serving.get("/negative").contains("svg class=\"bar\""));

    serving.child.kill().expect("killed");
    serving.child.wait().expect("waited");
    assert_eq!(job(&book, 0)["state"], "interrupted");
    let serving = Serving::begin(&book, &[]);
    let page = serving.get("/negative");
    assert!(page.contains("Interrupted") && page.contains("/negative/jobs/1/resume"), "{page}");
    std::thread::sleep(Duration::from_millis(300));
    assert_eq!(job(&book, 0)["state"], "interrupted", "it began by itself");
    assert!(form(&serving, "/negative/jobs/1/resume", &[], &token(&page)).starts_with("HTTP/1.1 303"));
    until("the negative", || job(&book, 0)["state"] == "made");
    let number = job(&book, 0)["negative"].to_string();
    assert!(serving.get(&format!("/negative/{number}")).contains("Download the file"));
}

/// The choices of a field in their order: value, whether it is chosen.
fn choices(page: &Answered, field: &str) -> Vec<(String, bool)> {
    let own = tags(&page.text).into_iter().filter(|tag| tag.name == "input" && tag.get("name") == Some(field));
    own.map(|tag| (tag.get("value").unwrap_or_default().to_owned(), tag.get("checked").is_some())).collect()
}

#[test]
fn no_curve_that_is_doubted_is_chosen_for_the_maker() {
    let house = House::filled("web-negative-curves");
    let folder = house.book.with_file_name("studio-pictures");
    std::fs::create_dir_all(&folder).expect("a folder");
    std::fs::write(folder.join("heron.tif"), sample_picture()).expect("written");
    let curves = || choices(&house.get("/negative/new"), "curve");
    assert_eq!(curves(), [("1".into(), false)], "nobody printed through it yet");
    let verified = |number: &str| {
        let file = house.book.with_file_name(format!("printed-{number}.csv"));
        let path = file.to_str().expect("a path in words");
        on(&house.book, &["tone", "verify", path, "--sample", "--of", number, "--keep"]);
    };
    verified("1");
    assert_eq!(curves(), [("1".into(), true)], "it holds");
    let onward = "href=\"/negative/new?curve=1\"";
    for path in ["/", "/tone/1"] {
        assert!(house.get(path).text.contains(onward), "{path} leads no further");
    }
    // Another lot of the paper: the one of the earlier lot is doubted, and the next one is not checked.
    on(&house.book, &["keep", "paper", "rag", "--change", "--lot", "B1"]);
    assert_eq!(curves(), [("1".into(), false)], "of a set-up that has changed");
    let chart = house.book.with_file_name("chart-b.csv");
    on(&house.book, &["tone", "fit", chart.to_str().expect("words"), "--sample", "--keep", "--setup", "1"]);
    assert_eq!(curves(), [("2".into(), false), ("1".into(), false)], "neither holds");
    verified("2");
    assert_eq!(curves(), [("2".into(), true), ("1".into(), false)], "the newest that holds");
    // One that is named by the page before is the maker's own choice.
    assert_eq!(choices(&house.get("/negative/new?curve=1"), "curve"), [("2".into(), false), ("1".into(), true)]);
    let page = house.get("/negative/new").text;
    let bars: Vec<&str> = page.split("class=\"choice doubted\"").collect();
    assert!(bars.len() == 2 && bars[1].contains("value=\"1\""), "the bar stands at the doubted one: {page}");
}

#[test]
fn a_job_that_failed_is_made_under_another_name_or_put_away() {
    let house = House::filled("web-negative-away");
    let folder = house.book.with_file_name("studio-pictures");
    std::fs::create_dir_all(folder.join("negatives")).expect("a folder");
    std::fs::write(folder.join("heron.tif"), sample_picture()).expect("written");
    let dead = Worker { holder: "another start of the machine", lives: &|_| false };
    let add = |name: &str| {
        let asked = Asked {
            answers: NegativeAnswers { width: Some("2in".into()), ..NegativeAnswers::default() },
            source: folder.join("heron.tif").display().to_string(),
            name: Some("Gate".into()),
            curve: KeptCurve::of(&curve_of_table("curve.csv", b"input,output\n0,0\n1,1\n").expect("a curve")),
            who: "test".into(),
            at: None,
        };
        let target = folder.join("negatives").join(name).display().to_string();
        let mut studio = Studio::open(&house.book).expect("a book");
        add_job(&mut studio, &asked, &target, dead, jiff::Timestamp::UNIX_EPOCH).expect("a job")
    };
    let (first, second) = (add("film.tif"), add("other.tif"));
    std::fs::write(folder.join("negatives").join("film.tif"), "of somebody").expect("written");
    assert_eq!(house.post(&format!("/negative/jobs/{first}/resume"), &[]).status, 303);
    until("its end", || job(&house.book, 1)["state"] == "failed");
    let page = house.get("/negative").text;
    assert!(
        page.contains("Make it as film-2.tif") && !page.contains(&format!("/negative/jobs/{first}/resume")),
        "{page}"
    );
    assert!(
        page.contains(&format!("/negative/jobs/{first}/away"))
            && page.contains(&format!("/negative/jobs/{second}/away"))
    );
    assert_eq!(house.post(&format!("/negative/jobs/{first}/another"), &[]).status, 303);
    until("the negative", || job(&house.book, 1)["state"] == "made");
    assert!(folder.join("negatives").join("film-2.tif").exists());
    assert_eq!(house.post(&format!("/negative/jobs/{second}/away"), &[]).status, 303);
    let page = house.get("/negative").text;
    assert!(!page.contains("other.tif") && !page.contains("Put away"), "{page}");
    assert_eq!(
        house.post(&format!("/negative/jobs/{first}/away"), &[]).status,
        422,
        "what is made is no job to put away"
    );
}

#[test]
fn the_demo_keeps_a_negative_that_is_handed_out() {
    let folder = fresh_folder("web-demo");
    let demo = Serving::of(&["demo", "--port", "0"], &[("TMPDIR", folder.to_str().expect("text"))]);
    let list = demo.get("/negative");
    assert!(list.contains("Still life") && list.contains("response "), "{list}");
    let (_, after) = list.split_once("href=\"/negative/").expect("a negative");
    let number = list
        .split("class=\"name\" href=\"/negative/")
        .filter_map(|own| own.split_once('"'))
        .find(|own| own.1.starts_with(">Still life"))
        .map_or(after.split('"').next().unwrap_or_default(), |own| own.0);
    let page = demo.get(&format!("/negative/{number}"));
    assert!(page.contains("Download the file") && page.contains("/keep/setup/") && !page.contains("stale"), "{page}");
    // Its picture was written after the instant the demo says, and its bytes are the ones that are on record.
    assert!(page.contains("As it would print"), "{page}");
}

#[test]
fn what_became_of_each_file_is_said_and_a_file_without_a_name_is_told_so() {
    let house = House::filled("web-negative-files");
    let folder = house.book.with_file_name("studio-pictures");
    std::fs::create_dir_all(folder.join("negatives")).expect("a folder");
    std::fs::write(folder.join("heron.tif"), sample_picture()).expect("written");
    let make = |file: &str| {
        let [source, target] =
            [folder.join("heron.tif"), folder.join("negatives").join(file)].map(|own| own.display().to_string());
        on(
            &house.book,
            &[
                "negative", "make", &source, "-o", &target, "--curve", "1", "--width", "2in", "--ppi", "150", "--keep",
                "Gate",
            ],
        );
    };
    make("first.tif");
    make("second.tif");
    assert!(!house.get("/negative/2").text.contains("The file is not there any more"));
    std::fs::remove_file(folder.join("negatives").join("first.tif")).expect("removed");
    let page = house.get("/negative/2").text;
    let earlier = page.split_once("Earlier files").expect("an earlier one").1;
    assert!(earlier.contains("first.tif. The file is not there any more."), "{earlier}");
    std::fs::remove_file(folder.join("negatives").join("second.tif")).expect("removed");
    let gone = house.get("/negative/2/file");
    assert!(gone.status == 404 && gone.text.contains("the file is not there any more"), "{}", gone.text);
    assert!(!gone.text.contains("what was made elsewhere"), "{}", gone.text);

    // The same bytes written anew are the picture; others are none.
    let later = std::time::SystemTime::now() + Duration::from_secs(60);
    let touch =
        || std::fs::File::options().write(true).open(folder.join("heron.tif")).and_then(|own| own.set_modified(later));
    touch().expect("touched");
    assert!(house.get("/negative/2").text.contains("As it would print"));
    let mut other = sample_picture();
    *other.last_mut().expect("bytes") ^= 1;
    std::fs::write(folder.join("heron.tif"), other).expect("written");
    touch().expect("touched");
    assert!(!house.get("/negative/2").text.contains("As it would print"));

    let token = house.get("/negative/new").hidden("token");
    let nameless = sent(&house, &token, "", &vec![7; 2_000_000]);
    assert!(
        nameless.status == 400 && nameless.text.contains("without a name"),
        "{} {}",
        nameless.status,
        nameless.text
    );
    // Where no file was chosen a browser sends an empty one without a name, and the form says what is missing.
    assert!(!sent(&house, &token, "", &[]).text.contains("without a name"));
}
