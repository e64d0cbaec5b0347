//! Devices that were let in.

use handcoat_book::{Book, TokenHash};

#[test]
fn a_device_is_known_by_its_hash_until_it_is_forgotten() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("studio.handcoat");
    let mut book = Book::create(&path).expect("a new book");
    let at = "2026-03-14T10:00:00Z".parse().expect("an instant");
    let (one, other) = (TokenHash::new([7; 32]), TokenHash::new([8; 32]));
    assert_eq!(book.device(one).expect("read"), None);
    let phone = book.admit_device(one, "phone", at).expect("let in");
    book.admit_device(one, "again", at).expect_err("one token, one device");
    drop(book);

    let mut book = Book::open(&path).expect("opened again");
    assert_eq!(book.device(one).expect("read"), Some(phone.clone()));
    assert_eq!(book.device(other).expect("read"), None);
    assert_eq!(book.devices().expect("read"), vec![phone.clone()]);
    assert!(book.forget_device(phone.number).expect("written"));
    assert!(!book.forget_device(phone.number).expect("written"), "there is none any more");
    assert_eq!(book.device(one).expect("read"), None);
}

#[test]
fn a_hash_is_not_printed() {
    assert_eq!(format!("{:?}", TokenHash::new([0xAB; 32])), "TokenHash(…)");
}
