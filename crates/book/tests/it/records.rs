//! Records beside the shelf: numbers, undo, counts, search, pictures, sessions and timers.

use handcoat_book::{Book, BookError, Deed, Instant, Photo, Record, RecordKind, Standing, UndoError};
use handcoat_craft::ledger::{Account, Draft, PrintNumber, Tally};
use serde_json::{Value, json};

use crate::studio::{Studio, pd, sound, stamp};

fn add(book: &mut Book, key: &str, kind: RecordKind, name: &str, facts: &Value) -> Record {
    let mut made = None;
    book.act::<BookError>(&stamp(key), "keep", |acting| {
        made = Some(acting.add_record(kind, name, facts)?);
        Ok(Deed { body: json!({}), entry: None })
    })
    .expect("kept");
    made.expect("made in the act")
}

fn found(book: &Book, asked: &str) -> Vec<u32> {
    book.search_records(RecordKind::Print, asked, 9, None).expect("a search").iter().map(|own| own.ordinal).collect()
}

#[test]
fn each_kind_counts_for_itself_and_a_number_is_never_used_again() {
    let mut studio = Studio::new();
    let book = &mut studio.book;
    let first = add(book, "key-one-1", RecordKind::Print, "Gate", &json!({}));
    let paper = add(book, "key-one-2", RecordKind::Paper, "Rag 300", &json!({ "lot": "A7" }));
    assert_eq!((first.ordinal, paper.ordinal), (1, 1));
    let act = book.latest_acts(9).expect("acts").last().expect("two").number;
    book.undo(&stamp("key-undo-1"), act).expect("nothing stands on it");
    assert_eq!(book.record(RecordKind::Print, 1).expect("read").expect("remembered").standing, Standing::Undone);
    assert_eq!(add(book, "key-one-3", RecordKind::Print, "Gate", &json!({})).ordinal, 2);
    assert_eq!(found(book, ""), [2]);
    assert_eq!(book.how_many_records(RecordKind::Print).expect("a count"), 1);
    sound(book);
}

#[test]
fn a_changed_record_is_put_back_and_what_stands_on_it_is_named() {
    let mut studio = Studio::new();
    let book = &mut studio.book;
    let mut paper = add(book, "key-one-1", RecordKind::Paper, "Rag 300", &json!({ "lot": "A7" }));
    paper.facts = json!({ "lot": "B2" });
    let change = |acting: &mut handcoat_book::Acting<'_>| {
        acting.change_record(&paper)?;
        Ok::<_, BookError>(Deed { body: json!({}), entry: None })
    };
    let changed = book.act(&stamp("key-two-1"), "keep", change).expect("changed").act().number;
    let made = handcoat_book::ActNumber::new(1);
    let Err(UndoError::InTheWay { later, .. }) = book.undo(&stamp("key-undo-1"), made) else {
        panic!("it was changed")
    };
    assert_eq!(later.iter().map(|own| (own.number, own.item)).collect::<Vec<_>>(), [(changed, None)]);
    book.undo(&stamp("key-undo-2"), changed).expect("nothing stands on it");
    assert_eq!(book.records(RecordKind::Paper).expect("read")[0].facts, json!({ "lot": "A7" }));
    book.undo(&stamp("key-undo-3"), made).expect("nothing stands on it now");
    // The name is free, and then it is not.
    add(book, "key-one-2", RecordKind::Paper, "rag 300", &json!({}));
    book.act::<BookError>(&stamp("key-one-4"), "keep", |acting| {
        acting.add_record(RecordKind::Paper, "RAG 300", &json!({}))?;
        Ok(Deed { body: json!({}), entry: None })
    })
    .expect_err("two papers of one name");
    sound(book);
}

#[test]
fn counts_add_up_and_an_undo_counts_back_without_standing_in_the_way() {
    let mut studio = Studio::new();
    let book = &mut studio.book;
    let bath = add(book, "key-one-1", RecordKind::Bath, "Citric 1", &json!({}));
    let mut through = |key: &str, area: i64| {
        book.act::<BookError>(&stamp(key), "count", |acting| {
            acting.count(&bath, "mm2", area);
            acting.count(&bath, "sheets", 1);
            acting.count(&bath, "nothing", 0);
            Ok(Deed { body: json!({}), entry: None })
        })
        .expect("counted")
        .act()
        .number
    };
    let first = through("key-two-1", 51_600);
    through("key-two-2", 10_000);
    book.undo(&stamp("key-undo-1"), first).expect("a later count is not in the way");
    let counts = book.counts(&bath).expect("counts");
    assert_eq!(counts.into_iter().collect::<Vec<_>>(), [("mm2".into(), 10_000), ("sheets".into(), 1)]);
    sound(book);
}

#[test]
fn any_field_can_be_asked_for() {
    let mut studio = Studio::new();
    let book = &mut studio.book;
    let facts = |paper: &str, percent: f64, fault: &str| json!({ "paper": paper, "iron": { "percent": percent }, "faults": [fault], "note": null, "spoiled": false });
    add(book, "key-one-1", RecordKind::Print, "Heron, morning", &facts("Cotton rag", 27.5, "fog"));
    add(book, "key-one-2", RecordKind::Print, "Gate", &facts("Kozo thin", 20.0, "none"));
    add(book, "key-one-3", RecordKind::Paper, "Heron", &json!({}));
    assert_eq!(found(book, "heron"), [1], "papers are not prints");
    assert_eq!(found(book, "paper:cot"), [1]);
    assert_eq!(found(book, "name:cotton"), Vec::<u32>::new());
    assert_eq!(found(book, "percent:27.5"), [1]);
    assert_eq!(found(book, "percent:2"), Vec::<u32>::new(), "a number is asked for whole");
    assert_eq!(found(book, "faults:fog rag"), [1]);
    assert_eq!(found(book, "number:2"), [2]);
    // Marks that mean something to a search engine mean nothing here.
    for odd in ["\"", "*", "NOT", "heron OR gate", "a:b:c", "-", "(", "kind=paper", "^x", "NEAR(a b)"] {
        found(book, odd);
    }
    assert_eq!(found(book, "\" *"), [2, 1], "nothing is asked");
}

#[test]
fn a_print_holds_metal_only_while_it_is_in_the_book() {
    let mut studio = Studio::new();
    let print = add(&mut studio.book, "key-one-1", RecordKind::Print, "Gate", &json!({}));
    let account = Account::Print(PrintNumber::new(print.ordinal).expect("from one"));
    let give = |acting: &mut handcoat_book::Acting<'_>, to| {
        let mut draft = Draft::default();
        draft.move_from(Account::Supplier, to, pd(), Tally::from_units(63_000));
        Ok::<_, handcoat_book::PostError>(Deed { body: json!({}), entry: acting.admit(draft)? })
    };
    studio.book.act(&stamp("key-two-1"), "print", |acting| give(acting, account)).expect("given");
    sound(&studio.book);
    assert_eq!(studio.book.balances().expect("balances").of(account, pd()), Tally::from_units(63_000));
    let nowhere = Account::Print(PrintNumber::new(7).expect("from one"));
    studio.book.act(&stamp("key-two-2"), "print", |acting| give(acting, nowhere)).expect("given");
    let found: Vec<_> = studio.book.check().expect("checked").into_iter().map(|own| own.code).collect();
    assert_eq!(found, ["record_wrong"]);
}

#[test]
fn a_picture_stays_as_it_came() {
    let mut studio = Studio::new();
    let photo = Photo { sha256: "ab".repeat(32), media: "image/jpeg".into(), bytes: vec![0xff, 0xd8, 0, 7] };
    for key in ["key-one-1", "key-one-2"] {
        let at = stamp(key).at;
        studio
            .book
            .act::<BookError>(&stamp(key), "photo", |acting| {
                acting.add_photo(&photo, at)?;
                Ok(Deed { body: json!({}), entry: None })
            })
            .expect("taken in, and a second time is no other picture");
    }
    assert_eq!(studio.book.photo(&photo.sha256).expect("read"), Some(photo));
    assert_eq!(studio.book.photo("00").expect("read"), None);
    let other = crate::studio::raw(&studio);
    other.execute("UPDATE photos SET bytes = x'00'", []).expect_err("a tripwire");
    other.execute("DELETE FROM photos", []).expect_err("a tripwire");
}

#[test]
fn a_session_is_kept_only_where_it_stood_and_timers_outlive_the_program() {
    let mut studio = Studio::new();
    let at = stamp("key-one-1").at;
    let (was, now) = (json!({ "at": 1 }), json!({ "at": 2 }));
    let session = studio.book.begin_session(at, &was).expect("begun");
    assert!(studio.book.keep_session(session, at, &was, &now, false).expect("kept"));
    assert!(!studio.book.keep_session(session, at, &was, &json!({}), true).expect("asked"), "another tablet went on");
    let begun = Instant { wall: at, boot: Some(("boot-1".into(), 12_345)) };
    let timer = studio.book.start_timer(Some(session), "Expose Gate", 360_000, &begun).expect("started");
    let unsure = Instant { wall: at, boot: None };
    let second = studio.book.start_timer(None, "Wash", 1_800_000, &unsure).expect("started");
    let path = studio.book.path().to_owned();
    drop(studio.book);
    let mut book = Book::open(&path).expect("opened again");
    let running = book.running_timers().expect("timers");
    assert_eq!(running.iter().map(|own| own.number).collect::<Vec<_>>(), [timer, second]);
    assert_eq!((&running[0].begun, &running[1].begun), (&begun, &unsure));
    book.end_timer(timer, at).expect("put away");
    assert_eq!(book.running_timers().expect("timers").len(), 1);
    assert_eq!(book.timer(timer).expect("read").expect("remembered").ended, Some(at));
    assert_eq!(book.session(session).expect("read").expect("remembered").body, now);
    assert!(book.keep_session(session, at, &now, &now, true).expect("kept"));
    assert_eq!(book.newest_sessions(3).expect("sessions")[0].ended, Some(at));
}
