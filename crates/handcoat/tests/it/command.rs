//! Running a command line in process.

use std::ffi::OsString;
use std::path::PathBuf;

use handcoat::Outcome;
use serde_json::Value;

/// The root of the repository.
pub(crate) fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Runs `handcoat` with these arguments.
pub(crate) fn handcoat(arguments: &[&str]) -> Outcome {
    let arguments: Vec<OsString> =
        std::iter::once("handcoat").chain(arguments.iter().copied()).map(OsString::from).collect();
    handcoat::run(&arguments)
}

/// Runs it with `--json` and gives what it printed; it must succeed.
#[track_caller]
pub(crate) fn json(arguments: &[&str]) -> Value {
    let outcome = handcoat(&[arguments, &["--json"]].concat());
    assert_eq!(outcome.code, 0, "{arguments:?}: {}", outcome.messages);
    serde_json::from_str(&outcome.data).expect("JSON on stdout")
}

/// Splits a command line as a shell would, single quotes only.
pub(crate) fn shell_split(line: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '\'' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            c => words.last_mut().expect("a word").push(c),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

/// A fresh folder of this test's own.
pub(crate) fn fresh_folder(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder");
    folder
}
