//! Acts are done once, whole or not at all, and can be taken back.

use handcoat_book::{ActNumber, Acted, BookError, Deed, PostError, Stamp, Standing, UndoError};
use handcoat_craft::ledger::{Account, Commodity, ContentsIn, ItemKind};

use serde_json::Value;

use crate::studio::{Studio, item, pd, raw, sound, stamp};

#[test]
fn the_same_key_is_done_once() {
    let mut studio = Studio::new();
    let first = studio.receive("key-one-1", "big jar", 10_000_000).expect("received");
    let again = studio.receive("key-one-1", "other jar", 99).expect("asked again");
    assert!(matches!(first, Acted::Done(_)) && matches!(again, Acted::Before(_)));
    assert_eq!(first.act(), again.act());
    assert_eq!(studio.book.items().expect("items").len(), 1);
    let jar = Account::Item(ItemKind::Jar, item(1));
    assert_eq!(studio.book.balances().expect("balances").of(jar, pd()).to_units(), 6_000_000);
}

#[test]
fn the_same_key_with_other_answers_is_refused() {
    let mut studio = Studio::new();
    let nothing = |_: &mut handcoat_book::Acting<'_>| Ok::<_, BookError>(Deed { body: Value::Null, entry: None });
    let asked = |digest: Option<&str>| Stamp { asked: digest.map(String::from), ..stamp("key-one-1") };
    assert!(matches!(studio.book.act(&asked(Some("ab")), "look", nothing), Ok(Acted::Done(_))));
    assert!(matches!(studio.book.act(&asked(Some("ab")), "look", nothing), Ok(Acted::Before(_))));
    assert!(matches!(studio.book.act(&asked(Some("cd")), "look", nothing), Err(BookError::KeyUsed { act: 1, .. })));
    // Where nobody says what is asked for, the key alone tells.
    assert!(matches!(studio.book.act(&asked(None), "look", nothing), Ok(Acted::Before(_))));
    assert_eq!(studio.book.latest_acts(9).expect("acts").len(), 1);
}

#[test]
fn a_refused_act_leaves_nothing() {
    let mut studio = Studio::new();
    studio.receive("key-one-1", "big jar", 10_000_000).expect("received");
    let before = (studio.book.items().expect("items"), studio.book.balances().expect("balances"));
    let refused = studio.lose("key-two-2", item(1), 10_000_001).expect_err("more than there is");
    assert!(matches!(refused, PostError::NotAdmitted(_)), "{refused}");
    assert_eq!(before, (studio.book.items().expect("items"), studio.book.balances().expect("balances")));
    assert_eq!(studio.book.latest_acts(9).expect("acts").len(), 1);
    // The key is free still: a corrected form may come with it.
    studio.lose("key-two-2", item(1), 1).expect("lost");
}

#[test]
fn undo_is_as_if_it_had_not_been() {
    let mut studio = Studio::new();
    studio.receive("key-one-1", "big jar", 10_000_000).expect("received");
    let before = (studio.book.items().expect("items"), studio.book.balances().expect("balances"));
    let lost = studio.lose("key-two-2", item(1), 3_333_333).expect("lost");
    studio.book.undo(&stamp("key-undo-1"), lost.act().number).expect("taken back");
    assert_eq!(before, (studio.book.items().expect("items"), studio.book.balances().expect("balances")));
    sound(&studio.book);
    let again = studio.book.undo(&stamp("key-undo-2"), lost.act().number).expect_err("only once");
    assert!(matches!(again, UndoError::AlreadyUndone { .. }));
    let undo = ActNumber::new(lost.act().number.get() + 1);
    assert!(matches!(studio.book.undo(&stamp("key-undo-3"), undo), Err(UndoError::IsUndo(_))));
    assert!(matches!(studio.book.undo(&stamp("key-undo-4"), ActNumber::new(99)), Err(UndoError::NoSuchAct(_))));
    let journal = studio.book.journal().expect("the journal");
    assert_eq!((journal.entries.len(), journal.live().count()), (3, 1));
}

#[test]
fn what_stands_on_an_act_is_named_newest_first() {
    let mut studio = Studio::new();
    let received = studio.receive("key-one-1", "big jar", 10_000_000).expect("received").act().number;
    studio.receive("key-other", "small jar", 10).expect("received");
    for key in ["key-lose-1", "key-lose-2"] {
        studio.lose(key, item(1), 1_000).expect("lost");
    }
    let Err(UndoError::InTheWay { later, .. }) = studio.book.undo(&stamp("key-undo-1"), received) else {
        panic!("two losses stand on it");
    };
    let numbers: Vec<i64> = later.iter().map(|own| own.number.get()).collect();
    assert_eq!(numbers, [4, 3]);
    for act in later {
        let key = format!("key-undo-of-{}", act.number);
        studio.book.undo(&stamp(&key), act.number).expect("in the order that was named");
    }
    studio.book.undo(&stamp("key-undo-9"), received).expect("nothing stands on it now");
    let jar = studio.book.item(item(1)).expect("read").expect("it is remembered");
    assert_eq!(jar.standing, Standing::Undone);
    let balances = studio.book.balances().expect("balances");
    assert_eq!(balances.held_by(Account::Item(ItemKind::Jar, item(1))).count(), 0);
    sound(&studio.book);
    // Its name is free again.
    studio.receive("key-again-1", "Big Jar", 5).expect("received");
}

#[test]
fn a_name_taken_meanwhile_is_said() {
    let mut studio = Studio::new();
    studio.receive("key-one-1", "big jar", 10).expect("received");
    let retired = studio
        .book
        .act::<PostError>(&stamp("key-retire"), "retire", |acting| {
            let mut jar = acting.items_here()?.remove(0);
            jar.standing = Standing::Retired;
            acting.change_item(&jar)?;
            Ok(handcoat_book::Deed { body: serde_json::json!({}), entry: None })
        })
        .expect("retired");
    studio.receive("key-two-2", "big jar", 10).expect("the name is free");
    let refused = studio.book.undo(&stamp("key-undo-1"), retired.act().number).expect_err("the name is taken");
    assert!(matches!(refused, UndoError::NameTaken { ref name, .. } if name == "big jar"), "{refused}");
}

#[test]
fn the_tripwires_hold_against_a_stranger() {
    let mut studio = Studio::new();
    studio.receive("key-one-1", "big jar", 10_000_000).expect("received");
    let stranger = raw(&studio);
    for sql in [
        "UPDATE acts SET who = 'nobody'",
        "DELETE FROM acts",
        "UPDATE lines SET amount = 1",
        "DELETE FROM lines",
        "UPDATE entries SET act = 2",
        "DELETE FROM entries",
        "DELETE FROM items",
        "INSERT INTO lines VALUES (1, 'loss', 'Pd', 0)",
        "UPDATE balances SET amount = -1 WHERE account = 'jar:1'",
        "BEGIN; INSERT INTO lines VALUES (7, 'loss', 'Pd', 1); INSERT INTO entries VALUES (7, 1); COMMIT;",
        "INSERT INTO items (kind, name, standing, facts) VALUES ('jar', 'BIG JAR', 'here', '{}')",
    ] {
        stranger.execute_batch(sql).expect_err(sql);
        let _ = stranger.execute_batch("ROLLBACK");
    }
    sound(&studio.book);
}

#[test]
fn two_who_write_at_once_both_get_through() {
    let studio = Studio::new();
    let path = studio.book.path().to_owned();
    std::thread::scope(|scope| {
        for writer in 0..4 {
            let path = path.clone();
            scope.spawn(move || {
                let mut own = handcoat_book::Book::open(&path).expect("opened");
                for count in 0..25 {
                    let name = format!("jar {writer} {count}");
                    own.act::<PostError>(&stamp(&format!("key-{writer}-{count}-x")), "receive", |acting| {
                        let jar = acting.add_item(ItemKind::Jar, &name, &handcoat_book::Facts::default())?;
                        let mut draft = handcoat_craft::ledger::Draft::default();
                        draft.move_from(
                            Account::Supplier,
                            Account::Item(ItemKind::Jar, jar),
                            Commodity::Contents(jar, ContentsIn::Micrograms),
                            handcoat_craft::ledger::Tally::from_units(1),
                        );
                        Ok(handcoat_book::Deed { body: serde_json::json!({}), entry: acting.admit(draft)? })
                    })
                    .expect("written");
                }
            });
        }
    });
    assert_eq!(studio.book.items().expect("items").len(), 100);
    sound(&studio.book);
}
