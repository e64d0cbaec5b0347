//! A migration that fails half way, one that goes through, and a book of version 1 that is opened today.

use std::path::Path;

use rusqlite::Connection;

use crate::{Book, schema};

/// The steps known here and one more.
fn and_then(step: &'static str) -> Vec<&'static str> {
    schema::MIGRATIONS.iter().copied().chain([step]).collect()
}

#[test]
fn an_older_book_is_copied_before_it_is_changed() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("studio.handcoat");
    let mut book = Book::create(&path).expect("a new book");
    let known = schema::newest();
    let snapshot = folder.path().join(format!("studio.handcoat.schema-{known}"));
    book.migrate(known, &and_then("CREATE TABLE later (n INTEGER) STRICT; NOT SQL;")).expect_err("the step is no SQL");
    assert_eq!(schema::version(&book.connection).expect("a version"), known);
    let count = "SELECT count(*) FROM sqlite_schema WHERE name = 'later'";
    let tables: i64 = book.connection.query_row(count, [], |row| row.get(0)).expect("a count");
    assert_eq!(tables, 0, "half a step must not stay");
    assert!(snapshot.exists());

    let later = and_then("CREATE TABLE later (n INTEGER) STRICT;");
    book.migrate(known, &later).expect("it goes through the second time");
    assert_eq!(schema::version(&book.connection).expect("a version"), known + 1);
    drop(book);
    Book::open(&path).expect_err("a version this program does not know");
    Book::open(&snapshot).expect("the snapshot is the older book");
}

/// A book as version 1 wrote it, with one act and one item in it.
fn book_of_version_1(path: &Path) {
    let mut connection = Connection::open(path).expect("a file");
    connection.pragma_update(None, "application_id", schema::APPLICATION_ID).expect("an id");
    schema::migrate(&mut connection, &schema::MIGRATIONS[..1]).expect("the first step");
    connection
        .execute_batch(
            "INSERT INTO acts (key, kind, who, at, body, before) VALUES ('key-of-old', 'receive', 'command line', \
             '2026-03-14T10:00:00Z', '{}', '{}');
             INSERT INTO items (kind, name, standing, facts) VALUES ('jar', 'Heron', 'here', '{}');",
        )
        .expect("an act and an item");
}

#[test]
fn a_book_of_version_1_is_opened_and_lets_devices_in() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("studio.handcoat");
    book_of_version_1(&path);
    let book = Book::open(&path).expect("it is brought up to date");
    assert_eq!(schema::version(&book.connection).expect("a version"), schema::newest());
    assert_eq!(book.items().expect("items")[0].name, "Heron");
    assert_eq!(book.latest_acts(9).expect("acts").len(), 1);
    assert_eq!(book.devices().expect("devices"), Vec::new());
    let copy = Connection::open(folder.path().join("studio.handcoat.schema-1")).expect("the copy made before");
    assert_eq!(schema::version(&copy).expect("a version"), 1);
    drop(book);
    Book::open(&path).expect("and once more");
}
