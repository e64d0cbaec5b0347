//! The tour: what it leaves, and that it can be taken again and not over somebody's own files.

use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;

use crate::command::{fresh_folder, handcoat};

fn content(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = std::fs::read_dir(folder).expect("a folder");
    entries
        .map(|entry| {
            let entry = entry.expect("an entry");
            let name = entry.file_name().to_string_lossy().into_owned();
            // Acts have keys drawn at random: the book is there, and its bytes are its own.
            let bytes =
                if name.ends_with(".handcoat") { Vec::new() } else { std::fs::read(entry.path()).expect("a file") };
            (name, bytes)
        })
        .collect()
}

fn take(folder: &Path) -> handcoat::Outcome {
    handcoat(&["tour", &folder.to_string_lossy()])
}

#[test]
fn it_leaves_what_its_index_shows_and_the_same_bytes_again() {
    let folder = fresh_folder("tour");
    let first = take(&folder);
    assert_eq!(first.code, 0, "{}", first.messages);
    let left = content(&folder);
    assert!(left.contains_key("bench-sheet.pdf") && left.contains_key("1-plan.json"));
    let index = String::from_utf8(left["index.html"].clone()).expect("text");
    for link in index.split("href=\"").skip(1).filter_map(|rest| rest.split('"').next()) {
        assert!(left.contains_key(link), "index.html links to {link}, which is not there");
    }
    for name in left.keys().filter(|name| name.ends_with(".pdf") || name.ends_with(".json")) {
        assert!(index.contains(name.as_str()), "index.html does not show {name}");
    }
    // A phone wraps a command between its words and never at the hyphens of a flag.
    assert!(index.contains(".flag{white-space:nowrap}"));
    let commands: Vec<&str> =
        index.split("<pre class=\"command\"").skip(1).filter_map(|rest| rest.split("</pre>").next()).collect();
    let flags = |text: &str| text.matches(" --").count() + text.matches(">--").count();
    assert!(
        commands.len() >= 10 && commands.iter().any(|own| own.contains("<span class=\"flag\">--price-salt</span> 61"))
    );
    for own in commands {
        assert_eq!(flags(own), own.matches("<span class=\"flag\">--").count(), "{own}");
    }
    for reach in ["<script", "<link", "<iframe", "href=\"http", "src=\"http", "url(http", "@import"] {
        assert!(!index.contains(reach), "the index needs nothing from outside, and has {reach}");
    }
    assert_eq!(take(&folder).code, 0);
    assert!(content(&folder) == left, "the second tour left other bytes");
    let listed = crate::command::json(&["tour", &folder.to_string_lossy()]);
    let files = listed["files"].as_array().expect("files");
    assert!(files.iter().all(|file| left.contains_key(file.as_str().expect("a name"))));
    assert_eq!(files.len() + 1, left.len(), "every file but the mark is listed");
}

#[test]
fn what_it_shows_is_what_it_ran() {
    let folder = fresh_folder("shown").join("a tour's own folder");
    let outcome = take(&folder);
    assert_eq!(outcome.code, 0, "{}", outcome.messages);
    let index = std::fs::read_to_string(folder.join("index.html")).expect("the index");
    // Everything anew, the book too.
    std::fs::remove_file(folder.join("studio.handcoat")).expect("the book it left");
    let mut ran = 0;
    for line in outcome.data.lines().filter_map(|line| line.strip_prefix("$ ")) {
        // As a shell takes it apart, quotes and all.
        let words =
            Command::new("sh").args(["-c", &format!("printf '%s\\0' {line}")]).output().expect("a shell").stdout;
        let words: Vec<String> =
            String::from_utf8(words).expect("text").split_terminator('\0').map(String::from).collect();
        assert_eq!(words[0], "handcoat");
        let sheet = words
            .iter()
            .position(|word| ["--sheet", "-o", "--pdf"].contains(&word.as_str()))
            .map(|place| Path::new(&words[place + 1]));
        let before = sheet.map(|path| std::fs::read(path).expect("the sheet it left"));
        sheet.map_or(Ok(()), std::fs::remove_file).expect("the sheet removed");
        if let Some(place) = words.iter().position(|word| word == "--overlay") {
            std::fs::remove_file(&words[place + 1]).expect("the picture it left");
        }
        let again = handcoat(&words[1..].iter().map(String::as_str).collect::<Vec<_>>());
        let said = format!("{}{}", again.data, again.messages);
        assert!(outcome.data.contains(&format!("$ {line}\n{said}")), "{line} prints\n{said}");
        assert!(sheet.map(|path| std::fs::read(path).expect("a sheet")) == before, "{line} leaves another sheet");
        ran += 1;
    }
    assert_eq!(ran, index.matches("<section").count());
    assert_eq!(index.matches(">--sheet</span> ").count(), 3, "the index shows what makes its sheets");
}

#[test]
fn it_never_writes_over_a_folder_that_is_not_its_own() {
    let folder = fresh_folder("not-a-tour");
    std::fs::write(folder.join("index.html"), "mine").expect("a file");
    let outcome = take(&folder);
    assert_eq!(outcome.code, 4);
    assert!(outcome.messages.contains("[file_exists]"), "{}", outcome.messages);
    assert_eq!(content(&folder).len(), 1);
    assert_eq!(std::fs::read_to_string(folder.join("index.html")).expect("a file"), "mine");
}
