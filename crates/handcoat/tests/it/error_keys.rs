//! The keys of a refusal in JSON: which argument, what was seen and where, what was expected, what to do.

use serde_json::Value;

use crate::command::{handcoat, root};

/// The JSON of a refusal.
fn error(arguments: &[&str]) -> Value {
    let written = handcoat(&[arguments, &["--json"][..]].concat());
    let error: Value = serde_json::from_str(&written.messages).expect("JSON on stderr");
    error["error"].clone()
}

#[test]
fn json_of_an_argument_not_understood_names_it_and_what_was_seen() {
    // Arguments; the argument named; what was seen; words of the message; the first remedy.
    type Row = (&'static [&'static str], Option<&'static str>, Option<&'static str>, &'static str, &'static str);
    const ROWS: [Row; 9] = [
        (&["stock", "plan", "--slat", "PdCl2"], Some("--slat"), Some("--slat"), "`--slat`", "write --salt"),
        (&["stock", "plan", "loose"], Some("loose"), Some("loose"), "`loose`", "handcoat stock plan --help"),
        (&["stock", "plan", "--sheet="], Some("--sheet"), None, "`FILE`", "handcoat stock plan --help"),
        (
            &["stock", "plan", "--mixed=yes"],
            Some("--mixed"),
            Some("yes"),
            "`yes`",
            "write --mixed and nothing behind it",
        ),
        (
            &["stock", "plan", "--make", "1mL", "--make", "2mL"],
            Some("--make"),
            None,
            "--make",
            "handcoat stock plan --help",
        ),
        (&["stock", "formula"], Some("FORMULA"), None, "FORMULA", "handcoat stock formula --help"),
        (&["stock", "plann"], None, Some("plann"), "`plann`", "handcoat stock plan"),
        (&["stock"], None, None, "`ladder`", "handcoat stock --help"),
        (&[], None, None, "`tour`", "handcoat --help"),
    ];
    for (arguments, argument, seen, words, remedy) in ROWS {
        let error = error(arguments);
        assert_eq!(error["argument"].as_str(), argument, "{arguments:?}: {error}");
        assert_eq!(error["seen"].as_str(), seen, "{arguments:?}: {error}");
        let message = error["message"].as_str().expect("a message");
        assert!(message.contains(words) && message.contains("expected"), "{arguments:?}: {message}");
        assert_eq!(error["remedies"][0], remedy, "{arguments:?}: {error}");
    }
    assert_eq!(error(&["stock"])["code"], "command_missing");
}

#[test]
fn every_refusal_has_the_keys_the_readme_names() {
    let readme = std::fs::read_to_string(root().join("README.md")).expect("the README");
    let named = readme.split("{\"error\": {").nth(1).and_then(|rest| rest.split('}').next()).expect("the keys");
    let mut named: Vec<&str> = named.split(',').map(|key| key.trim().trim_matches('"')).collect();
    named.sort_unstable();
    for arguments in [&["stock", "plann"][..], &["stock", "plan"], &["stock", "formula", "Xx"]] {
        let error = error(arguments);
        let mut keys: Vec<&str> = error.as_object().expect("an object").keys().map(String::as_str).collect();
        keys.sort_unstable();
        assert_eq!(keys, named, "{arguments:?}");
    }
}

#[test]
fn json_of_an_answer_not_understood_names_its_argument_and_place() {
    let error = error(&["stock", "plan", "--make", "60mL", "--salt", "PdXl2"]);
    assert_eq!(error["argument"], "--salt");
    assert_eq!((&error["seen"], &error["seen_at"]), (&Value::from("PdXl2"), &serde_json::json!([2, 4])));
}

#[cfg(unix)]
#[test]
fn bytes_that_are_no_text_are_refused_with_their_argument() {
    use std::ffi::OsString;
    use std::os::unix::ffi::OsStringExt;

    let words = |last: &[u8]| -> Vec<OsString> {
        let mut words: Vec<OsString> = ["handcoat", "stock", "plan", "--json"].map(OsString::from).to_vec();
        words.extend(last.split(|byte| *byte == b' ').map(|word| OsString::from_vec(word.to_vec())));
        words
    };
    for typed in [&b"--studio M\xfcller"[..], b"--studio=M\xfcller"] {
        let outcome = handcoat::run(&words(typed));
        let error: Value = serde_json::from_str(&outcome.messages).expect("JSON on stderr");
        assert_eq!((outcome.code, error["error"]["code"].as_str()), (2, Some("argument_not_text")), "{error}");
        assert_eq!(error["error"]["argument"], "--studio", "{error}");
        assert_eq!(error["error"]["seen"], "M\u{fffd}ller", "{error}");
    }
}
