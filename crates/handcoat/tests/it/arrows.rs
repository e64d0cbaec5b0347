//! The arrows between crates, as cargo sees them, and the order of modules inside `craft`.

use std::collections::BTreeMap;

use cargo_metadata::MetadataCommand;

use crate::command::root;
use crate::house::rust_files;

/// Who may use whom. All nine crates of the house, also those that are not built yet.
const ARROWS: [(&str, &[&str]); 9] = [
    ("handcoat", &["work", "figures", "craft"]),
    ("work", &["book", "pixels", "sheets", "exchange", "figures", "craft"]),
    ("sheets", &["figures", "craft"]),
    ("book", &["craft"]),
    ("pixels", &["craft"]),
    ("figures", &["craft"]),
    ("exchange", &["craft"]),
    ("craft", &[]),
    ("trials", &["work", "book", "pixels", "sheets", "exchange", "figures", "craft", "handcoat"]),
];

/// What a crate may not take from outside, whoever asks.
const FORBIDDEN: [(&str, &[&str]); 4] = [
    ("craft", &["clap", "serde_json", "rusqlite", "axum", "tokio", "maud", "typst"]),
    ("figures", &["clap", "rusqlite", "axum", "tokio", "typst"]),
    ("sheets", &["clap", "rusqlite", "axum", "tokio", "maud"]),
    ("work", &["clap", "axum", "tokio", "maud", "typst"]),
];

/// Reading order of the modules of `craft`.
const ORDER: [&str; 13] = [
    "measure", "numerics", "colour", "source", "ledger", "stock", "paper", "coat", "expose", "tone", "negative",
    "print", "session",
];

fn short(name: &str) -> &str {
    name.strip_prefix("handcoat-").unwrap_or(name)
}

/// Every dependency of every crate of the house, tests and build scripts included.
fn dependencies() -> BTreeMap<String, Vec<String>> {
    let metadata = MetadataCommand::new()
        .manifest_path(root().join("Cargo.toml"))
        .no_deps()
        .other_options(vec!["--offline".into(), "--locked".into()])
        .exec()
        .expect("cargo metadata");
    metadata
        .packages
        .iter()
        .map(|package| {
            let all = package.dependencies.iter().map(|dependency| short(&dependency.name).to_owned()).collect();
            (short(&package.name).to_owned(), all)
        })
        .collect()
}

#[test]
fn crates_use_only_what_is_below_them() {
    let dependencies = dependencies();
    assert!(dependencies.len() >= 5, "{dependencies:?}");
    for (package, used) in &dependencies {
        let (_, allowed) = ARROWS
            .iter()
            .find(|(name, _)| name == package)
            .unwrap_or_else(|| panic!("`{package}` is no crate of the house; ARROWS names them all"));
        let ours = used.iter().filter(|name| ARROWS.iter().any(|(own, _)| own == name));
        for name in ours {
            assert!(allowed.contains(&name.as_str()), "`{package}` may not use `{name}`");
        }
    }
}

#[test]
fn crates_take_nothing_forbidden_from_outside() {
    let dependencies = dependencies();
    for (package, forbidden) in FORBIDDEN {
        let used = &dependencies[package];
        for name in forbidden {
            assert!(!used.iter().any(|own| own == name), "`{package}` may not use `{name}`");
        }
    }
}

#[test]
fn modules_of_craft_use_only_what_stands_before_them() {
    let source = root().join("crates/craft/src");
    let place = |module: &str| ORDER.iter().position(|own| *own == module);
    let mut seen = 0;
    for (path, text) in rust_files("crates/craft/src") {
        let inside = path.strip_prefix(&source).expect("a file of craft");
        let Some(module) = inside.components().next().map(|part| part.as_os_str().to_string_lossy().into_owned())
        else {
            continue;
        };
        let module = module.trim_end_matches(".rs");
        if module == "lib" {
            continue;
        }
        let own = place(module).unwrap_or_else(|| panic!("`{module}` has no place in ORDER"));
        for used in text.split("crate::").skip(1) {
            let name: String = used.chars().take_while(|c| c.is_ascii_alphanumeric() || *c == '_').collect();
            if let Some(other) = place(&name) {
                seen += 1;
                assert!(other <= own, "{}: `{module}` uses `{name}`, which stands after it", inside.display());
            }
        }
    }
    assert!(seen > 30, "only {seen} uses found: is the scan blind?");
}
