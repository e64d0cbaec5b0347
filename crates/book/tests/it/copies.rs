//! Copies and putting them back.

use std::fs;

use handcoat_book::Book;

use crate::studio::{Studio, item, sort, sound};

#[test]
fn a_copy_opens_and_holds_the_same() {
    let mut studio = Studio::new();
    studio.receive("key-one-1", "big jar", 10_000_000).expect("received");
    let copy = studio.folder.path().join("copy.handcoat");
    studio.book.backup(&copy).expect("copied");
    assert_eq!(sort(&studio.book.backup(&copy).expect_err("a copy is never overwritten")), "exists");
    let opened = Book::open(&copy).expect("it is a book");
    sound(&opened);
    assert_eq!(opened.items().expect("items"), studio.book.items().expect("items"));
    assert_eq!(opened.journal().expect("journal"), studio.book.journal().expect("journal"));
    let names: Vec<String> = fs::read_dir(studio.folder.path())
        .expect("a folder")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    assert!(!names.iter().any(|name| name.contains(".part")), "{names:?}");
}

#[test]
fn a_copy_put_back_replaces_and_what_was_there_is_kept() {
    let mut studio = Studio::new();
    studio.receive("key-one-1", "big jar", 10_000_000).expect("received");
    let copy = studio.folder.path().join("copy.handcoat");
    studio.book.backup(&copy).expect("copied");
    let then = studio.book.balances().expect("balances");
    studio.lose("key-two-2", item(1), 5_000_000).expect("lost");
    let now = studio.book.balances().expect("balances");

    let other_reader = Book::open(studio.book.path()).expect("a second one");
    let aside = studio.folder.path().join("aside.handcoat");
    studio.book.restore(&copy, &aside).expect("put back");
    assert_eq!(studio.book.balances().expect("balances"), then);
    assert_eq!(other_reader.balances().expect("balances"), then, "one who had it open sees it too");
    assert_eq!(Book::open(&aside).expect("kept").balances().expect("balances"), now);
    sound(&studio.book);
    studio.lose("key-three", item(1), 1).expect("it goes on");
}

#[test]
fn an_unsound_copy_is_not_put_back() {
    let mut studio = Studio::new();
    for count in 0..100 {
        studio.receive(&format!("key-number-{count}"), &format!("jar {count}"), 1_000).expect("received");
    }
    let then = studio.book.balances().expect("balances");
    let copy = studio.folder.path().join("copy.handcoat");
    studio.book.backup(&copy).expect("copied");
    let whole = fs::read(&copy).expect("read");
    let (mut refused, tries) = (0, 40);
    for place in 0..tries {
        // One page overwritten, or the end cut off.
        let mut torn = whole.clone();
        if place % 2 == 0 {
            let page = place / 2 * (torn.len() / 4096) / 20;
            torn[page * 4096..][..4096].fill(0x5A);
        } else {
            torn.truncate(torn.len() * place / tries);
        }
        fs::write(&copy, &torn).expect("written");
        let aside = studio.folder.path().join(format!("aside-{place}.handcoat"));
        let outcome = studio.book.restore(&copy, &aside);
        refused += usize::from(outcome.is_err());
        assert_eq!(studio.book.balances().expect("balances"), then);
    }
    assert_eq!(refused, tries, "every torn copy is refused");
    sound(&studio.book);
}
