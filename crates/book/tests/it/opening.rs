//! What is opened and what is left alone.

use std::fs;

use handcoat_book::Book;

use crate::studio::{Studio, raw, sort};

#[test]
fn a_file_that_is_no_book_is_left_as_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("notes");
    assert_eq!(sort(&Book::open(&path).expect_err("nothing there")), "missing");
    for (content, what) in [
        (Vec::new(), "empty"),
        (b"paper, three sheets".to_vec(), "text"),
        (vec![0; 8192], "zeros"),
        (b"SQLite format 3\0 and then something else altogether".repeat(40), "a torn header"),
    ] {
        fs::write(&path, &content).expect("written");
        assert_eq!(sort(&Book::open(&path).expect_err(what)), "foreign", "{what}");
        assert_eq!(sort(&Book::create(&path).expect_err(what)), "exists", "{what}");
        assert_eq!(fs::read(&path).expect("read"), content, "{what} was changed");
    }
    assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), 1, "a file was left beside it");
}

#[test]
fn a_database_of_another_program_is_left_as_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("other.db");
    let other = rusqlite::Connection::open(&path).expect("made");
    other.execute_batch("PRAGMA application_id = 77; CREATE TABLE theirs (n);").expect("written");
    drop(other);
    let content = fs::read(&path).expect("read");
    assert_eq!(sort(&Book::open(&path).expect_err("not ours")), "foreign");
    assert_eq!(fs::read(&path).expect("read"), content);
}

#[test]
fn a_later_book_is_refused_by_name() {
    let studio = Studio::new();
    raw(&studio).pragma_update(None, "user_version", 99).expect("written");
    let error = Book::open(studio.book.path()).expect_err("too new");
    assert_eq!(sort(&error), "newer");
    assert!(error.to_string().contains("99"), "{error}");
}

#[test]
fn a_torn_book_is_damaged_or_says_so_when_checked() {
    let mut studio = Studio::new();
    for count in 0..200 {
        studio.receive(&format!("key-number-{count}"), &format!("jar {count}"), 1_000).expect("received");
    }
    let copy = studio.folder.path().join("copy.handcoat");
    studio.book.backup(&copy).expect("copied");
    let whole = fs::read(&copy).expect("read");
    // A page in the middle overwritten, as a failing disk does it.
    let mut torn = whole.clone();
    let middle = torn.len() / 2 / 4096 * 4096;
    torn[middle..middle + 4096].fill(0xA5);
    fs::write(&copy, &torn).expect("written");
    let said = Book::open(&copy).and_then(|book| book.check());
    match said {
        Err(error) => assert_eq!(sort(&error), "damaged"),
        Ok(findings) => assert!(!findings.is_empty()),
    }
}

#[test]
fn a_writer_who_does_not_end_is_said_to_be_busy() {
    let studio = Studio::new();
    let other = raw(&studio);
    other.execute_batch("BEGIN IMMEDIATE").expect("begun");
    let mut book = Book::open(studio.book.path()).expect("reading is always possible");
    let error = book.set_fact("studio", "x").expect_err("the other one writes");
    assert_eq!(sort(&error), "busy");
    other.execute_batch("ROLLBACK").expect("ended");
    book.set_fact("studio", "Elder Lane").expect("now it is free");
    assert_eq!(studio.book.fact("studio").expect("read").as_deref(), Some("Elder Lane"));
}
