//! A migration that fails half way, and one that goes through.

use crate::{Book, schema};

#[test]
fn an_older_book_is_copied_before_it_is_changed() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("studio.handcoat");
    let mut book = Book::create(&path).expect("a new book");
    let later = [schema::MIGRATIONS[0], "CREATE TABLE later (n INTEGER) STRICT; NOT SQL;"];
    book.migrate(1, &later).expect_err("the second step is no SQL");
    assert_eq!(schema::version(&book.connection).expect("a version"), 1);
    let count = "SELECT count(*) FROM sqlite_schema WHERE name = 'later'";
    let tables: i64 = book.connection.query_row(count, [], |row| row.get(0)).expect("a count");
    assert_eq!(tables, 0, "half a step must not stay");
    assert!(folder.path().join("studio.handcoat.schema-1").exists());

    let later = [schema::MIGRATIONS[0], "CREATE TABLE later (n INTEGER) STRICT;"];
    book.migrate(1, &later).expect("it goes through the second time");
    assert_eq!(schema::version(&book.connection).expect("a version"), 2);
    drop(book);
    Book::open(&path).expect_err("a version this program does not know");
    Book::open(&folder.path().join("studio.handcoat.schema-1")).expect("the snapshot is the older book");
}
