//! Devices of the local network: the code, its limits, what a stranger sees, and what a device may do.

use std::time::{Duration, Instant};

use axum::body::Body;
use axum::http::Request;
use axum::http::header::{COOKIE, HOST};
use handcoat::web::{GOOD_FOR, Pairing, READ, Tried, WRITTEN};

use crate::books::new_book;
use crate::command::fresh_folder;
use crate::web::{Answered, ELSEWHERE, House, IN_NETWORK, LOCAL, OURS, tags};

fn open_house(name: &str) -> (House, String) {
    let pairing = Pairing::begin(Instant::now()).expect("a code");
    let code = pairing.code(Instant::now()).expect("it is good").to_owned();
    (House::over(new_book(&fresh_folder(name)), Some(pairing)), code)
}

fn get_from_network(house: &House, path: &str, cookie: &str) -> Answered {
    let request = Request::get(path).header(HOST, IN_NETWORK).header(COOKIE, cookie);
    house.ask(ELSEWHERE, request.body(Body::empty()).expect("a request"))
}

/// Types a code on the pairing page of a device.
fn pair(house: &House, code: &str) -> Answered {
    let page = get_from_network(house, "/pair", "");
    let (token, key) = (page.hidden("token"), page.hidden("key"));
    let answers = [("token", token.as_str()), ("key", &key), ("code", code), ("name", "tablet at the sink")];
    house.post_from(ELSEWHERE, IN_NETWORK, "", "/pair", &answers)
}

/// The cookie a device keeps.
fn cookie(answer: &Answered) -> String {
    answer.header("set-cookie").split(';').next().unwrap_or_default().to_owned()
}

#[test]
fn a_stranger_sees_the_pairing_page_and_nothing_else() {
    let (house, _) = open_house("web-pairing-stranger");
    let before = house.written();
    for cookie in ["", "handcoat-device-8317=", "handcoat-device-8317=0000", "handcoat-device-8317=' OR 1=1"] {
        for address in READ {
            let path = address.replace("{code}", "00013");
            let answer = get_from_network(&house, &path, cookie);
            match path.as_str() {
                "/pair" => assert_eq!(answer.status, 200),
                _ => assert_eq!((answer.status.as_u16(), answer.header("location")), (303, "/pair"), "{path} {cookie}"),
            }
        }
    }
    // The token of the pairing page, which a stranger has seen, opens no other form; nor does the token of the forms open a door.
    let page = get_from_network(&house, "/pair", "");
    let own = house.get("/settings").hidden("token");
    for token in [page.hidden("token"), own] {
        for address in WRITTEN.iter().filter(|address| **address != "/pair") {
            let path = address.replace("{code}", "00013").replace("{act}", "look");
            let answer =
                house.post_from(ELSEWHERE, IN_NETWORK, "", &path, &[("token", &token), ("key", "key-of-a-stranger")]);
            assert_eq!(answer.status, 403, "{path}");
        }
    }
    let stranger = page.hidden("token");
    let answer = house.post_from(LOCAL, OURS, "", "/settings", &[("token", &stranger), ("key", "key-of-a-stranger")]);
    assert_eq!(answer.status, 403, "the token of the pairing page is for the pairing page");
    assert!(house.written() == before, "a stranger wrote to the book");
}

#[test]
fn a_code_lets_one_device_in_until_it_is_forgotten() {
    let (house, code) = open_house("web-pairing-once");
    let (first, second) = code.split_at_checked(4).expect("eight signs");
    let paired = pair(&house, &format!(" {}-{second} ", first.to_lowercase()));
    assert_eq!((paired.status.as_u16(), paired.header("location")), (303, "/"), "{}", paired.text);
    let said = paired.header("set-cookie");
    for part in ["handcoat-device-8317=", "; HttpOnly", "; SameSite=Strict", "; Path=/"] {
        assert!(said.contains(part), "{said}");
    }
    let cookie = cookie(&paired);
    let token = cookie.split('=').next_back().expect("a token");
    assert_eq!(token.len(), 64);
    assert!(
        !house.written().iter().any(|bytes| bytes.windows(64).any(|own| own == token.as_bytes())),
        "the token is in the book"
    );
    assert_eq!(pair(&house, &code).status, 403, "a code is good once");

    let page = get_from_network(&house, "/settings", &cookie);
    assert_eq!(page.status, 200, "{}", page.text);
    let (form, key) = (page.hidden("token"), page.hidden("key"));
    let jar = [("token", form.as_str()), ("key", &key), ("formula", "PdCl2"), ("mass", "10g")];
    let done = house.post_from(ELSEWHERE, IN_NETWORK, &cookie, "/receive", &jar);
    assert_eq!(done.status, 303, "{}", done.text);
    assert!(
        get_from_network(&house, "/", &cookie).text.contains("device: tablet at the sink"),
        "who did it stands beside it"
    );
    // A fresh code is given out on the computer itself and nowhere else.
    let elsewhere = house.post_from(ELSEWHERE, IN_NETWORK, &cookie, "/pair/code", &[("token", &form), ("key", &key)]);
    assert_eq!((elsewhere.status.as_u16(), elsewhere.header("location")), (303, "/settings"));
    let fresh = house.post("/pair/code", &[]);
    assert!(fresh.status == 200 && fresh.text.contains("<svg class=\"qr\""), "{}", fresh.text);

    let forms = tags(&house.get("/settings").text);
    let device =
        forms.iter().find(|tag| tag.get("name") == Some("device")).and_then(|tag| tag.get("value")).expect("a device");
    assert_eq!(house.post("/settings/forget", &[("device", device)]).status, 303);
    assert_eq!(get_from_network(&house, "/settings", &cookie).status, 303, "it is forgotten");
}

#[test]
fn wrong_codes_are_few() {
    let (house, code) = open_house("web-pairing-wrong");
    for _ in 0..5 {
        assert_eq!(pair(&house, "22222222").status, 403);
    }
    assert_eq!(pair(&house, &code).status, 429, "not even the right one is looked at");
    assert_eq!(pair(&house, "22222222").status, 429);
}

#[test]
fn a_code_lasts_ten_minutes_and_a_minute_forgives() {
    let start = Instant::now();
    let later = |seconds: u64| start + Duration::from_secs(seconds);
    let fresh = || {
        let pairing = Pairing::begin(start).expect("a code");
        let code = pairing.code(start).expect("it is good").to_owned();
        (pairing, code)
    };
    let (mut pairing, code) = fresh();
    assert_eq!(GOOD_FOR, Duration::from_secs(600));
    assert!(pairing.code(later(599)).is_some() && pairing.code(later(600)).is_none());
    assert_eq!(pairing.attempt(&code, later(600)), Tried::Wrong, "it has expired");

    let (mut pairing, code) = fresh();
    for second in 0..5 {
        assert_eq!(pairing.attempt("2222 2222", later(second)), Tried::Wrong);
    }
    assert_eq!(pairing.attempt(&code, later(59)), Tried::TooMany);
    assert_eq!(pairing.attempt(&code, later(60)), Tried::Right, "the first wrong one is a minute old");
    assert_eq!(pairing.attempt(&code, later(200)), Tried::Wrong, "used up");
    assert_eq!(pairing.attempt("", later(201)), Tried::Wrong, "nothing is no code");
    let renewed = pairing.renew(later(202)).expect("a code").to_owned();
    assert!(renewed != code && renewed.len() == 8);
    assert_eq!(pairing.attempt(&renewed, later(203)), Tried::Right);
}

#[test]
fn without_lan_nobody_is_let_in() {
    let house = House::new("web-pairing-closed");
    assert_eq!(pair(&house, "22222222").status, 404);
    assert_eq!(get_from_network(&house, "/shelf", "").status, 303);
}
