//! A small studio to test with: a jar that can be received, drawn from and written off.

use handcoat_book::{ActKey, Acted, Book, BookError, Deed, Facts, PostError, Stamp};
use handcoat_craft::ledger::{Account, Commodity, ContentsIn, Draft, ItemKind, ItemNumber, Tally, draw};
use handcoat_craft::source::Element;
use serde_json::json;

pub(crate) struct Studio {
    pub(crate) folder: tempfile::TempDir,
    pub(crate) book: Book,
}

impl Studio {
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let book = Book::create(&folder.path().join("studio.handcoat")).expect("a new book");
        Self { folder, book }
    }

    /// A jar of so many micrograms, six tenths of them palladium.
    pub(crate) fn receive(&mut self, key: &str, name: &str, mass: i64) -> Result<Acted, PostError> {
        self.book.act(&stamp(key), "receive", |acting| {
            let facts = Facts { formula: Some("PdCl2".into()), metal: Some("Pd".into()), ..Facts::default() };
            let jar = acting.add_item(ItemKind::Jar, name, &facts)?;
            let (account, contents) =
                (Account::Item(ItemKind::Jar, jar), Commodity::Contents(jar, ContentsIn::Micrograms));
            let mut draft = Draft::default();
            draft.move_from(Account::Supplier, account, contents, Tally::from_units(mass));
            draft.move_from(Account::Supplier, account, pd(), Tally::from_units(mass * 6 / 10));
            Ok(Deed { body: json!({ "item": jar.get() }), entry: acting.admit(draft)? })
        })
    }

    /// Some of it is lost.
    pub(crate) fn lose(&mut self, key: &str, jar: ItemNumber, mass: i64) -> Result<Acted, PostError> {
        self.book.act(&stamp(key), "loss", |acting| {
            let mut item = acting.items_here()?.into_iter().find(|item| item.number == jar).expect("it was received");
            item.facts.note = Some(format!("lost {mass}"));
            acting.change_item(&item)?;
            let balances = acting.balances()?;
            let part = draw(&balances, ItemKind::Jar, jar, ContentsIn::Micrograms, Tally::from_units(mass));
            let mut draft = Draft::default();
            match part {
                Ok(part) => part.post(&mut draft, Account::Loss, Account::Loss),
                // Left to the admission, which must refuse it as well.
                Err(_) => draft.move_from(
                    Account::Item(ItemKind::Jar, jar),
                    Account::Loss,
                    Commodity::Contents(jar, ContentsIn::Micrograms),
                    Tally::from_units(mass),
                ),
            }
            Ok(Deed { body: json!({}), entry: acting.admit(draft)? })
        })
    }
}

pub(crate) fn pd() -> Commodity {
    Commodity::Metal(Element::PD)
}

pub(crate) fn stamp(key: &str) -> Stamp {
    Stamp {
        key: ActKey::new(key).expect("a sound key"),
        who: "test".into(),
        at: "2026-03-14T10:00:00Z".parse().expect("a time"),
        asked: None,
    }
}

pub(crate) fn item(number: u32) -> ItemNumber {
    ItemNumber::new(number).expect("numbers begin at one")
}

pub(crate) fn sound(book: &Book) {
    let findings = book.check().expect("the check runs");
    let damage: Vec<_> = findings.iter().filter(|own| own.kind == handcoat_book::FindingKind::Damage).collect();
    assert!(damage.is_empty(), "{damage:?}");
}

/// A second connection, as another program would have it.
pub(crate) fn raw(studio: &Studio) -> rusqlite::Connection {
    rusqlite::Connection::open(studio.book.path()).expect("a second connection")
}

/// What an error of the book is, in one word, for comparison.
pub(crate) fn sort(error: &BookError) -> &'static str {
    match error {
        BookError::Missing(_) => "missing",
        BookError::Exists(_) => "exists",
        BookError::Foreign(_) => "foreign",
        BookError::Newer { .. } => "newer",
        BookError::Damaged(_) => "damaged",
        BookError::KeyUsed { .. } => "key",
        BookError::Busy => "busy",
        BookError::Disk { .. } => "disk",
        BookError::Database(_) => "database",
    }
}
