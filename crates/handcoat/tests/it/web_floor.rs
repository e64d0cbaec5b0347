//! The floor every request passes, against a table that was written apart from it.

use axum::body::Body;
use axum::http::header::{CONTENT_TYPE, HOST, ORIGIN};
use axum::http::{Method, Request};

use crate::web::{ELSEWHERE, House, IN_NETWORK, LOCAL, OURS, encoded};

/// Each value of a `Host` and whether it is one of the studio's, at port 8317 with the address 192.0.2.1.
const HOSTS: &[(Option<&str>, bool)] = &[
    (Some("127.0.0.1:8317"), true),
    (Some("localhost:8317"), true),
    (Some("[::1]:8317"), true),
    (Some("192.0.2.1:8317"), true),
    (None, false),
    (Some(""), false),
    (Some("127.0.0.1"), false),
    (Some("localhost"), false),
    (Some("localhost:80"), false),
    (Some("localhost:8318"), false),
    (Some("localhost.:8317"), false),
    (Some("LOCALHOST:8317"), false),
    (Some("localhost.evil.example:8317"), false),
    (Some("evil.example:8317"), false),
    (Some("127.0.0.1:8317.evil.example"), false),
    (Some("127.0.0.2:8317"), false),
    (Some("127.1:8317"), false),
    (Some("0.0.0.0:8317"), false),
    (Some("2130706433:8317"), false),
    (Some("[::ffff:127.0.0.1]:8317"), false),
    (Some("192.0.2.2:8317"), false),
    (Some(" 127.0.0.1:8317"), false),
    (Some("user@127.0.0.1:8317"), false),
    (Some("127.0.0.1:08317"), false),
];

/// How an `Origin` is made from the `Host`, and whether it is the studio's own then.
const ORIGINS: &[(&str, bool)] = &[
    ("own", true),
    ("none", false),
    ("null", false),
    ("https-own", false),
    ("own-slash", false),
    ("evil", false),
    ("own-suffix", false),
    ("another-own", false),
    ("twice", false),
];

/// `Sec-Fetch-Site` with mode and destination: whether reading is allowed, whether writing is.
const SITES: &[(&[&str], bool, bool)] = &[
    (&[], true, true),
    (&["same-origin", "navigate", "document"], true, true),
    (&["none", "navigate", "document"], true, true),
    (&["cross-site", "navigate", "document"], true, false),
    (&["same-site", "navigate", "document"], true, false),
    (&["cross-site", "no-cors", "image"], false, false),
    (&["cross-site", "navigate", "iframe"], false, false),
    (&["same-site", "cors", "empty"], false, false),
    (&["Same-Origin", "navigate", "iframe"], false, false),
];

/// The token of a form and whether it is the one of this run.
const TOKENS: [(&str, bool); 4] = [("own", true), ("none", false), ("short", false), ("wrong", false)];

fn origins(which: &str, host: &str) -> Vec<String> {
    match which {
        "own" => vec![format!("http://{host}")],
        "null" => vec!["null".into()],
        "https-own" => vec![format!("https://{host}")],
        "own-slash" => vec![format!("http://{host}/")],
        "evil" => vec!["http://evil.example".into()],
        "own-suffix" => vec![format!("http://{host}.evil.example")],
        "another-own" => vec![if host == OURS { "http://localhost:8317".into() } else { format!("http://{OURS}") }],
        "twice" => vec![format!("http://{host}"), format!("http://{host}")],
        _ => Vec::new(),
    }
}

/// What must become of it, written down from the rules and not from the code: the first rule that is broken answers.
fn expected(host: (Option<&str>, bool), method: &Method, origin: (&str, bool), site: (bool, bool), token: bool) -> u16 {
    let post = *method == Method::POST;
    let read = *method == Method::GET || *method == Method::HEAD;
    match host {
        (None, _) => return 403,
        (Some(_), false) => return 421,
        (Some(_), true) => {}
    }
    if !post && !read {
        return 405;
    }
    let (may_read, may_write) = site;
    let from_us = if post { origin.1 && may_write } else { (origin.1 || origin.0 == "none") && may_read };
    match (from_us, post, token) {
        (false, _, _) | (true, true, false) => 403,
        (true, true, true) => 303,
        (true, false, _) => 200,
    }
}

#[test]
fn every_knock_is_answered_as_expected() {
    let house = House::filled("web-floor");
    let token = house.get("/settings").hidden("token");
    let before = house.written();
    let mut seen = 0;
    for &host in HOSTS {
        for method in [
            Method::GET,
            Method::HEAD,
            Method::POST,
            Method::PUT,
            Method::DELETE,
            Method::OPTIONS,
            Method::from_bytes(b"BREW").expect("a method"),
        ] {
            for &origin in ORIGINS {
                for &(site, may_read, may_write) in SITES {
                    for (which, sound) in TOKENS {
                        if which != "own" && method != Method::POST {
                            continue;
                        }
                        let wrong = format!("{}0", token.get(1..).expect("a token"));
                        let given = match which {
                            "own" => token.as_str(),
                            "short" => token.get(..63).expect("a token"),
                            "wrong" => wrong.as_str(),
                            _ => "",
                        };
                        let path = if method == Method::POST { "/theme" } else { "/shelf" };
                        let mut request = Request::builder()
                            .method(&method)
                            .uri(path)
                            .header(CONTENT_TYPE, "application/x-www-form-urlencoded");
                        if let Some(host) = host.0 {
                            request = request.header(HOST, host);
                        }
                        for origin in origins(origin.0, host.0.unwrap_or_default()) {
                            request = request.header(ORIGIN, origin);
                        }
                        for (name, value) in ["sec-fetch-site", "sec-fetch-mode", "sec-fetch-dest"].iter().zip(site) {
                            request = request.header(*name, *value);
                        }
                        let body = encoded(&[("token", given), ("key", "key-of-this-test"), ("theme", "dark")]);
                        let answer = house.ask(LOCAL, request.body(Body::from(body)).expect("a request"));
                        let wanted = expected(host, &method, origin, (may_read, may_write), sound);
                        let case = format!("{host:?} {method} {origin:?} {site:?} token {which}");
                        assert_eq!(answer.status.as_u16(), wanted, "{case}: {}", answer.text);
                        assert_eq!(answer.header("set-cookie").is_empty(), wanted != 303, "{case}");
                        seen += 1;
                    }
                }
            }
        }
    }
    assert!(seen > 15_000, "only {seen} cases");
    assert!(house.written() == before, "something was written to the book");
}

#[test]
fn a_request_line_that_names_another_host_is_refused() {
    let house = House::new("web-floor-line");
    let request = Request::get("http://evil.example/shelf").header(HOST, OURS).body(Body::empty()).expect("a request");
    assert_eq!(house.ask(LOCAL, request).status, 421);
    let request = Request::get("/shelf").header(HOST, OURS).header(HOST, OURS).body(Body::empty()).expect("a request");
    assert_eq!(house.ask(LOCAL, request).status, 403, "two hosts are none");
}

#[test]
fn what_is_turned_away_says_what_to_do_and_writes_nothing() {
    let house = House::filled("web-floor-words");
    let before = house.written();
    let page = house.get("/settings");
    let (token, key) = (page.hidden("token"), page.hidden("key"));
    let seal = |more: &str| format!("token={token}&key={key}&formula=PdCl2&mass=10g{more}");
    let long = format!("&note={}", "n".repeat(70_000));
    let form = "application/x-www-form-urlencoded";
    for (kind, body, status, code) in [
        ("text/plain", seal(""), 415, "body_unreadable"),
        ("multipart/form-data; boundary=x", seal(""), 415, "body_unreadable"),
        ("", seal(""), 415, "body_unreadable"),
        (form, seal(&long), 413, "body_too_large"),
        (form, format!("key={key}&formula=PdCl2&mass=10g"), 403, "form_token_stale"),
        (form, format!("token={token}&formula=PdCl2&mass=10g"), 400, "form_key_missing"),
        (form, format!("token={token}&key=&formula=PdCl2&mass=10g"), 400, "form_key_missing"),
        (form, format!("token={token}&key=short&formula=PdCl2&mass=10g"), 400, "key_unreadable"),
        (form, String::new(), 403, "form_token_stale"),
    ] {
        let request = Request::post("/receive").header(HOST, OURS).header(ORIGIN, format!("http://{OURS}"));
        let request = request.header(CONTENT_TYPE, kind).body(Body::from(body)).expect("a request");
        let answer = house.ask(LOCAL, request);
        assert_eq!(answer.status, status, "{kind} {code}: {}", answer.text);
        assert!(answer.text.contains(code), "{code}: {}", answer.text);
        assert!(answer.text.contains("<h1>"), "{code} is no page");
    }
    for (path, status) in
        [("/nowhere", 404), ("/assets/none.css", 404), ("/undo", 405), ("/shelf/12", 404), ("/shelf/%FF", 404)]
    {
        let answer = house.get(path);
        assert_eq!(answer.status, status, "{path}: {}", answer.text);
        assert!(answer.text.contains("<h1>"), "{path} is no page");
    }
    assert!(house.written() == before, "something was written to the book");
}

#[test]
fn a_form_of_an_earlier_run_keeps_what_was_typed() {
    let house = House::new("web-floor-stale");
    let typed = [
        ("token", "of-yesterday"),
        ("key", "key-of-yesterday"),
        ("formula", "PdCl2"),
        ("mass", "10,5 g"),
        ("name", "<Heron>"),
    ];
    let answer = house.post("/receive", &typed);
    assert_eq!(answer.status, 403);
    assert_eq!((answer.hidden("formula"), answer.hidden("mass")), ("PdCl2".into(), "10,5 g".into()));
    assert!(answer.text.contains("&lt;Heron&gt;") && !answer.text.contains("<Heron>"), "{}", answer.text);
    let again = [
        ("token", answer.hidden("token")),
        ("key", answer.hidden("key")),
        ("formula", answer.hidden("formula")),
        ("mass", answer.hidden("mass")),
    ];
    let again: Vec<(&str, &str)> = again.iter().map(|(name, value)| (*name, value.as_str())).collect();
    let done = house.post_from(LOCAL, OURS, "", "/receive", &again);
    assert_eq!(done.status, 303, "{}", done.text);
}

#[test]
fn every_answer_carries_the_headers_of_the_house() {
    let house = House::filled("web-floor-headers");
    let foreign = Request::get("/").header(HOST, "evil.example").body(Body::empty()).expect("a request");
    let unpaired = Request::get("/").header(HOST, IN_NETWORK).body(Body::empty()).expect("a request");
    for (what, answer) in [
        ("a page", house.get("/")),
        ("a sheet", house.get("/stock/plan/sheet?salt=PdCl2&make=60mL")),
        ("a lost page", house.get("/nowhere")),
        ("a refused form", house.post("/receive", &[])),
        ("a foreign host", house.ask(LOCAL, foreign)),
        ("an unpaired device", house.ask(ELSEWHERE, unpaired)),
    ] {
        let policy = answer.header("content-security-policy");
        for part in [
            "default-src 'none'",
            "style-src 'self'",
            "script-src 'self'",
            "form-action 'self'",
            "base-uri 'none'",
            "frame-ancestors 'none'",
        ] {
            assert!(policy.split("; ").any(|own| own == part), "{what}: {policy}");
        }
        assert!(!policy.contains("unsafe") && !policy.contains('*'), "{what}: {policy}");
        assert_eq!(answer.header("x-content-type-options"), "nosniff", "{what}");
        assert_eq!(answer.header("referrer-policy"), "same-origin", "{what}");
        assert_eq!(answer.header("cross-origin-resource-policy"), "same-origin", "{what}");
        assert_eq!(answer.header("cache-control"), "no-store", "{what}");
        assert_eq!(answer.header("access-control-allow-origin"), "", "{what}");
        assert!(!answer.text.contains(env!("CARGO_MANIFEST_DIR")), "{what} tells a path");
    }
}
