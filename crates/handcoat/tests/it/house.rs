//! Rules of the house that a machine can hold.

use std::path::{Path, PathBuf};

use crate::command::{handcoat, root, shell_split};

/// Files over this many lines give a reason at their top.
const LONG: usize = 600;

/// Every file below a folder of the repository, by extension.
fn files(folder: &Path, extensions: &[&str], found: &mut Vec<PathBuf>) {
    let mut entries: Vec<_> =
        std::fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path()).collect();
    entries.sort();
    for path in entries {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if path.is_dir() {
            if !matches!(name.as_str(), "target" | ".git" | "handcoat-tour") {
                files(&path, extensions, found);
            }
        } else if extensions.iter().any(|own| path.extension().is_some_and(|e| e == *own)) {
            found.push(path);
        }
    }
}

fn texts(folder: &str, extensions: &[&str]) -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    files(&root().join(folder), extensions, &mut found);
    assert!(!found.is_empty(), "no files in {folder}");
    found.into_iter().map(|path| (path.clone(), std::fs::read_to_string(&path).expect("text"))).collect()
}

/// Every Rust file below a folder, with its text.
pub(crate) fn rust_files(folder: &str) -> Vec<(PathBuf, String)> {
    texts(folder, &["rs"])
}

#[test]
fn every_file_says_what_it_is_for_and_long_ones_why() {
    for (path, text) in rust_files("crates") {
        assert!(text.trim_start().starts_with("//!"), "{} does not begin with what it is for", path.display());
        let lines = text.lines().count();
        let reason = text.lines().take(20).any(|line| line.contains("Long because"));
        assert!(lines <= LONG || reason, "{} has {lines} lines and gives no reason", path.display());
    }
}

#[test]
fn files_are_nouns_of_the_trade() {
    for (path, _) in rust_files("crates") {
        let stem = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        for word in ["util", "helper", "manager", "common", "misc"] {
            assert!(!stem.contains(word), "{} says nothing of what is in it", path.display());
        }
    }
}

/// Whether a text holds a word that is not a piece of a longer one. What begins or ends in a sign is found anywhere.
fn holds_word(text: &str, word: &str) -> bool {
    let letter = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
    let joined = |inner: Option<char>, outer: Option<char>| letter(inner) && letter(outer);
    text.match_indices(word).any(|(at, _)| {
        let (before, after) = (text[..at].chars().next_back(), text[at + word.len()..].chars().next());
        !joined(word.chars().next(), before) && !joined(word.chars().next_back(), after)
    })
}

/// The search itself, tried before it is trusted.
fn whole_words_are_found_and_pieces_are_not() {
    // A sign at either end of a word needs no border.
    const CASES: [(&str, &str, bool); 7] = [
        ("two herons", "heron", false),
        ("two herons and a heron", "heron", true),
        ("(heron)", "heron", true),
        ("(osprey", "prey", false),
        ("#[skipped", "#[skip", false),
        ("#[skip]", "#[skip", true),
        ("at/some/place", "/some/", true),
    ];
    for (text, word, found) in CASES {
        assert_eq!(holds_word(text, word), found, "`{word}` in `{text}`");
    }
}

#[test]
fn words_that_have_no_place_here() {
    whole_words_are_found_and_pieces_are_not();
    // Put together from halves, so that this list does not find itself.
    let words = [
        ["/wo", "rk/main"],
        ["/ro", "ot/"],
        ["/tm", "p/"],
        ["../sh", "ared"],
        ["crates", ".io"],
        ["npm", "js"],
        ["py", "pi.org"],
        ["FI", "XME"],
        ["#[ig", "nore"],
        ["oo", "ps"],
        ["Success", "fully"],
    ]
    .map(|halves| halves.concat());
    let extensions = ["rs", "md", "toml", "typ", "css", "py", "bib", "csv", "txt", "html", "yml"];
    for (path, text) in texts(".", &extensions) {
        for word in &words {
            assert!(!holds_word(&text, word), "{} holds `{word}`", path.display());
        }
    }
}

#[test]
fn no_glob_imports() {
    for (path, text) in rust_files("crates") {
        for line in text.lines() {
            assert!(!line.trim_start().starts_with("use ") || !line.contains("::*"), "{}: {line}", path.display());
        }
    }
}

#[test]
fn the_map_names_every_crate_and_its_names_are_true() {
    let map = std::fs::read_to_string(root().join("ARCHITECTURE.md")).expect("the map");
    let names_in = |folder: &str| {
        let entries = std::fs::read_dir(root().join(folder)).expect("a folder");
        entries.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned()).collect::<Vec<_>>()
    };
    for name in names_in("crates") {
        assert!(map.contains(&format!("`crates/{name}`")), "the map does not name crates/{name}");
    }
    for name in names_in("crates/handcoat/src").iter().filter(|name| !name.contains('.')) {
        assert!(map.contains(&format!("(`{name}`")), "the map does not name the door {name}");
    }
    for name in names_in("scripts") {
        assert!(map.contains(&format!("`{name}`")) || map.contains(&format!("`scripts/{name}`")), "no scripts/{name}");
    }
    let (floors, walk) = map.split_once("## A gram of palladium").expect("the walk");
    let all: String = rust_files("crates").into_iter().map(|(_, text)| text).collect();
    for (test, function) in floors.split('`').skip(1).step_by(2).filter_map(|name| name.split_once("::")) {
        assert!(root().join(format!("crates/handcoat/tests/it/{test}.rs")).is_file(), "the map names {test}");
        assert!(all.contains(&format!("fn {function}(")), "the map names {test}::{function}");
    }
    let mut checked = 0;
    for name in walk.split('`').skip(1).step_by(2) {
        if name.starts_with("crates/") {
            assert!(root().join(name).is_file(), "the walk names {name}");
        } else if let Some((owner, function)) = name.split_once("::") {
            assert!(all.contains(owner), "the walk names {owner}");
            assert!(all.contains(&format!("fn {function}(")), "the walk names {name}");
        } else if name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_') {
            let declared = ["struct", "enum", "trait", "fn", "mod"]
                .iter()
                .any(|kind| [" ", "(", "<", ";", "{"].iter().any(|end| all.contains(&format!("{kind} {name}{end}"))));
            assert!(declared, "the walk names {name}");
        } else {
            continue;
        }
        checked += 1;
    }
    assert!(checked > 20, "only {checked} names checked");
}

#[test]
fn no_test_file_is_forgotten() {
    for runner in ["crates/craft/tests/it", "crates/handcoat/tests/it"] {
        let top = root().join(runner);
        for (path, _) in rust_files(runner) {
            let stem = path.file_stem().expect("a name").to_string_lossy().into_owned();
            let folder = path.parent().expect("a folder");
            let parent = if folder == top { top.join("main.rs") } else { folder.with_extension("rs") };
            let parent = std::fs::read_to_string(parent).expect("the module above");
            assert!(stem == "main" || parent.contains(&format!("mod {stem};")), "{} is in no runner", path.display());
        }
    }
}

#[test]
fn the_commands_of_the_readme_run_and_print_what_it_says() {
    let readme = std::fs::read_to_string(root().join("README.md")).expect("the README");
    // Files a reader would have in the folder at hand.
    let folder = crate::command::fresh_folder("readme");
    let place = |word: String| match word.as_str() {
        "studio.handcoat" | "label.pdf" | "copy.handcoat" | "tables" => folder.join(word).display().to_string(),
        _ => word,
    };
    let mut ran = 0;
    for block in readme.split("```console\n").skip(1) {
        let block = block.split("```").next().expect("a block");
        let (command, shown) = block.split_once('\n').expect("a line");
        let Some(line) = command.strip_prefix("$ handcoat ") else { continue };
        let words: Vec<String> = shell_split(line).into_iter().map(place).collect();
        let outcome = handcoat(&words.iter().map(String::as_str).collect::<Vec<_>>());
        assert_eq!(outcome.code, 0, "{command}: {}", outcome.messages);
        assert!(shown.is_empty() || outcome.data == shown, "{command} prints\n{}", outcome.data);
        ran += 1;
    }
    assert!(ran >= 16, "only {ran} commands found");
}
