//! Negatives in the pages: a picture comes in, becomes a negative in the queue, and is handed out; meanwhile pages answer.
#![cfg(target_os = "linux")]

use std::time::{Duration, Instant};

use axum::body::Body;
use axum::http::Request;
use axum::http::header::{CONTENT_TYPE, HOST, ORIGIN};
use handcoat_work::sample::sample_picture;
use serde_json::Value;
use sha2::{Digest as _, Sha256};

use crate::books::tiff;
use crate::command::handcoat;
use crate::web::{Answered, House, LOCAL, OURS, encoded};
use crate::web_serving::Serving;

/// A form with a file, as browsers send it.
fn sent(house: &House, token: &str, name: &str, file: &[u8]) -> Answered {
    let mut body = Vec::new();
    for (field, value) in [("token", token), ("key", "test-upload-1")] {
        body.extend(
            format!("--xyz\r\nContent-Disposition: form-data; name=\"{field}\"\r\n\r\n{value}\r\n").into_bytes(),
        );
    }
    body.extend(
        format!("--xyz\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\nContent-Type: image/tiff\r\n\r\n")
            .into_bytes(),
    );
    body.extend(file);
    body.extend(b"\r\n--xyz--\r\n");
    let request = Request::post("/negative/upload")
        .header(HOST, OURS)
        .header(ORIGIN, format!("http://{OURS}"))
        .header(CONTENT_TYPE, "multipart/form-data; boundary=xyz");
    house.ask(LOCAL, request.body(Body::from(body)).expect("a request"))
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
    assert!(page.text.contains("Response 1 of rag, palladium"), "{}", page.text);
    let refused = house.post("/negative/new", &[("picture", "../studio.handcoat"), ("curve", "1"), ("width", "2in")]);
    assert_eq!(refused.status, 404, "no name leads out of the folder");
    let missing = house.post("/negative/new", &[("picture", "heron.tif"), ("curve", "1"), ("packing", "lzw")]);
    assert_eq!(missing.status, 303, "what is wrong with the size is found by the job");
    until("the refusal", || house.get("/negative").text.contains("answer_missing"));
    let begun =
        house.post("/negative/new", &[("picture", "heron.tif"), ("curve", "1"), ("width", "3in"), ("name", "Gate")]);
    assert_eq!((begun.status.as_u16(), begun.header("location")), (303, "/negative#jobs"));
    until("the negative", || house.get("/negative").text.contains("href=\"/negative/2\""));

    let shown = house.get("/negative/2");
    assert_eq!(shown.status, 200);
    for words in ["Gate", "rag, palladium", "Download the file", "None yet."] {
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
    let small = house.get("/negative/2/small");
    assert_eq!((small.header("content-type"), &small.bytes[..4]), ("image/png", &b"\x89PNG"[..]));
    // A print recorded from it stands on its page, and leads back.
    assert_eq!(house.get("/negative/1/file").status, 404, "one that was entered by hand has no file");
    // What lies elsewhere is not handed out, whatever the book says of it.
    // The job that failed keeps its name: it may be gone on with.
    let inside = folder.join("negatives").join("heron-2.tif");
    std::fs::rename(&inside, folder.join("moved.tif")).expect("moved");
    std::os::unix::fs::symlink(&house.book, &inside).expect("a link");
    assert_eq!(house.get("/negative/2/file").status, 404, "a link leads to the book");
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
