//! Books for tests: one that is in order, and some that are not.

use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use crate::command::{fresh_folder, handcoat};

/// Where the schema's number stands in the header of an SQLite file (SQLite file format, 1.3, offset 60, big-endian).
const USER_VERSION_AT: usize = 60;

/// Runs a command on a book; it must go through.
#[track_caller]
pub(crate) fn on(book: &Path, arguments: &[&str]) -> String {
    let book = book.to_str().expect("a path that is text");
    let outcome = handcoat(&[arguments, &["--book", book]].concat());
    assert_eq!(outcome.code, 0, "{arguments:?}: {}", outcome.messages);
    outcome.data
}

/// A new book.
pub(crate) fn new_book(folder: &Path) -> PathBuf {
    let book = folder.join("studio.handcoat");
    let outcome = handcoat(&["new", book.to_str().expect("a path that is text")]);
    assert_eq!(outcome.code, 0, "{}", outcome.messages);
    book
}

/// A folder with `studio.handcoat`, which holds a little of everything, and three files that are no book to be opened:
/// `notes.txt`, `later.handcoat`, `torn.handcoat`.
pub(crate) fn shelf_of_books() -> &'static Path {
    static FOLDER: OnceLock<PathBuf> = OnceLock::new();
    FOLDER.get_or_init(|| {
        let folder = fresh_folder("books");
        let book = new_book(&folder);
        for line in [
            &["stock", "receive", "PdCl2", "--mass", "10g", "--hydrate", "none", "--purity", "99%", "--name", "jar"][..],
            &["stock", "receive", "K2PtCl4", "--mass", "5g", "--purity", "99%", "--name", "platinum vial"],
            &["stock", "receive", "NaCl", "--mass", "500g", "--purity", "99%", "--name", "salt"],
            &["stock", "sweep", "--from", "jar", "--mass", "0.03g", "--into", "swept"],
            &["stock", "mix", "--from", "jar", "--mass", "5.42g", "--chloride", "3.7g", "--make", "60mL", "--name", "stock"],
            &["stock", "receive", "Na2PdCl4", "--volume", "50mL", "--percent", "15", "--name", "bought"],
            &["stock", "receive", "K2PtCl4", "--volume", "50mL", "--capacity", "60mL", "--name", "platinum"],
            &["stock", "receive", "unknown", "--volume", "5mL", "--name", "old bottle"],
            &["stock", "lose", "bought", "--amount", "1mL"],
        ] {
            on(&book, line);
        }
        on(&book, &["undo", "9"]);
        std::fs::write(folder.join("notes.txt"), "paper, three sheets").expect("written");
        let whole = std::fs::read(&book).expect("read");
        let mut later = whole.clone();
        later[USER_VERSION_AT..USER_VERSION_AT + 4].copy_from_slice(&99_u32.to_be_bytes());
        std::fs::write(folder.join("later.handcoat"), later).expect("written");
        let mut torn = whole;
        torn[4096..].fill(0xA5);
        std::fs::write(folder.join("torn.handcoat"), torn).expect("written");
        folder
    })
}
