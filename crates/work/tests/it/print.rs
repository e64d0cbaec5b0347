//! Coats, prints, what is added to them, finding, repeating and comparing them.

use std::collections::BTreeMap;

use handcoat_craft::ledger::{Account, Commodity, Tally};
use handcoat_craft::print::Likelihood;
use handcoat_craft::source::Condition;
use handcoat_work::keep::{Keep, RecordKind, keep, kept, one_kept, put_away};
use handcoat_work::ledger::{BalanceRow, balance, undo, whereabouts_of};
use handcoat_work::print::{
    CoatMade, FIELDS, PrintMade, Repeat, Spoiled, add_picture, coat, compare, groups, note, open_coats, picture, print,
    prints, record, repeat, spoil, still_stands,
};
use handcoat_work::shelf::{Receive, Retire, receive, retire};
use handcoat_work::{Done, Refusal};
use proptest::prelude::{ProptestConfig, Strategy, any, prop};
use proptest::{prop_assert, prop_assert_eq, prop_oneof, proptest};

use crate::studio::{TestStudio, fields, now, some};

/// The smallest PNG there is: its eight first bytes, which is all that is looked at.
const PNG: &[u8] = &[0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a, 1, 2, 3];

fn bottle(house: &mut TestStudio, formula: &str, volume: &str, percent: &str, price: Option<&str>, name: &str) {
    let answers = Receive {
        formula: some(formula),
        volume: some(volume),
        percent: some(percent),
        price: price.map(String::from),
        name: some(name),
        ..Receive::default()
    };
    receive(&mut house.studio, &now(), &answers).expect("received");
}

/// Palladium bought in euros, iron in dollars, a contrast agent that came without a price.
fn house() -> TestStudio {
    let mut house = TestStudio::new();
    bottle(&mut house, "Na2PdCl4", "50mL", "15%", Some("300EUR"), "palladium");
    bottle(&mut house, "Fe2(C2O4)3", "50mL", "27%", Some("40USD"), "iron");
    bottle(&mut house, "Na2PtCl6", "10mL", "5%", None, "platinate");
    house
}

fn made(title: &str, pours: &[&str], answers: &[(&'static str, &str)]) -> PrintMade {
    PrintMade {
        title: some(title),
        pours: pours.iter().map(|own| (*own).into()).collect(),
        fields: fields(answers),
        ..PrintMade::default()
    }
}

fn recorded(house: &mut TestStudio, made: &PrintMade) -> Done {
    record(&mut house.studio, &now(), made).expect("recorded")
}

fn rows(house: &TestStudio) -> Vec<BalanceRow> {
    balance(&house.studio).expect("balances")
}

/// Each commodity over all accounts.
fn sums(rows: &[BalanceRow]) -> BTreeMap<Commodity, i64> {
    let mut sums = BTreeMap::new();
    rows.iter().for_each(|row| *sums.entry(row.commodity).or_insert(0) += row.amount.to_units());
    sums
}

fn held(rows: &[BalanceRow], account: &str, commodity: &str) -> i64 {
    let own = |row: &&BalanceRow| row.account.to_string() == account && row.commodity.to_string() == commodity;
    rows.iter().find(own).map_or(0, |row| row.amount.to_units())
}

fn refused<T: std::fmt::Debug>(result: Result<T, Refusal>) -> &'static str {
    result.expect_err("a refusal").code
}

#[test]
fn every_field_has_a_question_a_group_and_an_example_that_is_read() {
    for field in FIELDS {
        assert!(groups().contains(&field.group), "{}", field.key);
        let kept = field.read(field.example).expect("its own example");
        assert_eq!(kept.as_deref(), Some(field.example), "{}: kept as it was written", field.key);
        assert_eq!(field.read("unknown").expect("unknown is an answer"), None, "{}", field.key);
    }
    let mut keys: Vec<&str> = FIELDS.iter().map(|field| field.key).collect();
    keys.sort_unstable();
    keys.dedup();
    assert_eq!(keys.len(), FIELDS.len());
}

#[test]
fn a_print_takes_its_metal_and_its_money_out_of_the_bottles() {
    let mut house = house();
    let answers = [("image", "8x10in"), ("margin", "1cm"), ("time", "6:00")];
    recorded(&mut house, &made("Heron", &["iron=23", "palladium=1.15mL"], &answers));
    let rows = rows(&house);
    // 50 mL hold so much; 1.15 mL of them is the 1.15/50 of it, to the microgram.
    let bought = -held(&rows, "supplier", "Pd");
    let on_print = held(&rows, "print:1", "Pd");
    assert_eq!(on_print, (bought as f64 * 1.15 / 50.0).round() as i64);
    assert_eq!(held(&rows, "bottle:1", "Pd"), bought - on_print);
    // 300 EUR · 1.15/50 = 6.90 EUR; 40 USD · (23 drops at 20 to the mL)/50 = 0.92 USD.
    assert_eq!((held(&rows, "print:1", "EUR"), held(&rows, "print:1", "USD")), (690, 92));
    assert!(sums(&rows).values().all(|sum| *sum == 0));
    let own = print(&house.studio, "1").expect("a print");
    let mut cost: Vec<String> = own.whole_cost().iter().map(ToString::to_string).collect();
    cost.sort();
    assert_eq!(cost, ["0.92 USD", "6.90 EUR"]);
    assert!(!own.cost_incomplete);
    assert_eq!(own.pours.iter().map(|pour| pour.role.as_str()).collect::<Vec<_>>(), ["iron", "metal"]);
    assert_eq!((own.pours[0].drops, own.pours[1].drops), (Some(23), None));
    // 8x10 in and a centimetre around it: (20.32 + 2)(25.4 + 2) cm².
    let area = own.area.expect("an area").to_square_centimetres();
    assert!((area - 22.32 * 27.4).abs() < 0.01, "{area}");
    let uptake = own.uptake.expect("an uptake").to_millilitres_per_100_cm2();
    assert!((uptake - 2.3 / area * 100.0).abs() < 1e-6, "{uptake}");
    house.sound();
}

#[test]
fn what_came_without_a_price_is_said() {
    let mut house = house();
    recorded(&mut house, &made("Heron", &["palladium=20", "platinate=2"], &[]));
    let own = print(&house.studio, "1").expect("a print");
    assert!(own.cost_incomplete, "platinum came without a price");
    assert_eq!(own.pours[1].role, "agent", "six chlorides make it an agent");
    assert_eq!(own.metal.keys().map(String::as_str).collect::<Vec<_>>(), ["Pd", "Pt"]);
}

#[test]
fn more_than_the_book_says_is_poured_all_the_same() {
    let mut house = house();
    bottle(&mut house, "Na2PdCl4", "2mL", "15%", Some("12EUR"), "the last of it");
    let before = held(&rows(&house), "bottle:4", "Pd");
    let done = recorded(&mut house, &made("Heron", &["the last of it=3mL"], &[]));
    assert!(done.said.iter().any(|own| own.contains("1 mL are posted as a stocktake difference")), "{:?}", done.said);
    let rows = rows(&house);
    // Half as much again, of the same strength, found by the print; the money is what was there.
    assert_eq!(held(&rows, "print:1", "Pd"), before + before / 2);
    assert_eq!(held(&rows, "unexplained", "Pd"), -(before / 2));
    assert_eq!(held(&rows, "print:1", "EUR"), 1200);
    assert_eq!(held(&rows, "bottle:4", "Pd"), 0);
    assert!(sums(&rows).values().all(|sum| *sum == 0));
    assert_eq!(print(&house.studio, "1").expect("a print").pours[0].short.expect("short").to_millilitres(), 1.0);
    // From a bottle that is empty by the book: how much metal is not known, and that is said.
    let done = recorded(&mut house, &made("Heron again", &["the last of it=20"], &[]));
    assert!(done.said.iter().any(|own| own.contains("is not known")), "{:?}", done.said);
    house.sound();
}

#[test]
fn the_same_bottle_twice_finds_what_the_first_pour_left() {
    let mut house = house();
    bottle(&mut house, "Na2PdCl4", "2mL", "15%", None, "the last of it");
    let done = recorded(&mut house, &made("Heron", &["the last of it=1.5mL", "the last of it=1.5mL"], &[]));
    assert!(done.said.iter().any(|own| own.contains("held 0.5 mL")), "{:?}", done.said);
    house.sound();
}

#[test]
fn a_coat_becomes_a_print_or_is_spoiled_and_holds_its_metal_until_then() {
    let mut house = house();
    let answers = |title: &str| CoatMade {
        title: some(title),
        pours: vec!["iron=10".into(), "palladium=10".into()],
        ..CoatMade::default()
    };
    for title in ["Heron", "Tern", "Gate"] {
        coat(&mut house.studio, &now(), &answers(title)).expect("coated");
    }
    let on_coat = held(&rows(&house), "coat:1", "Pd");
    assert!(on_coat > 0);
    assert_eq!(open_coats(&house.studio).expect("coats").len(), 3);
    let done = recorded(
        &mut house,
        &PrintMade { coats: vec!["1".into(), "1".into()], ..made("Heron", &["palladium=2"], &[]) },
    );
    let own = print(&house.studio, "1").expect("a print");
    assert_eq!((own.coats.as_slice(), own.pours.len()), (&[1][..], 3), "a coat that is said twice is one coat");
    let spoiled = |coat: &str, thrown| Spoiled { coat: some(coat), because: some("a drip"), thrown };
    spoil(&mut house.studio, &now(), &spoiled("2", false)).expect("spoiled");
    spoil(&mut house.studio, &now(), &spoiled("3", true)).expect("spoiled");
    let after = rows(&house);
    assert_eq!(held(&after, "coat:1", "Pd"), 0);
    assert_eq!(held(&after, "print:1", "Pd"), on_coat + (on_coat as f64 / 5.0).round() as i64);
    assert_eq!((held(&after, "residue", "Pd"), held(&after, "loss", "Pd")), (on_coat, on_coat));
    assert!(open_coats(&house.studio).expect("coats").is_empty());
    for coat in ["1", "2"] {
        let again = record(&mut house.studio, &now(), &PrintMade { coats: vec![coat.into()], ..made("x", &[], &[]) });
        assert_eq!(refused(again), "coat_used");
    }
    // The coat is open again when the print is taken back; the coat itself cannot be, while a print stands on it.
    assert_eq!(refused(undo(&mut house.studio, &now(), "4")), "act_in_the_way");
    undo(&mut house.studio, &now(), &done.act.to_string()).expect("taken back");
    assert_eq!(open_coats(&house.studio).expect("coats")[0].number, 1);
    assert_eq!(held(&rows(&house), "coat:1", "Pd"), on_coat);
    assert_eq!(refused(print(&house.studio, "1")), "record_unknown");
    // Its number is never used again.
    recorded(&mut house, &made("Heron", &[], &[]));
    assert_eq!(
        prints(&house.studio, "", 9, None).expect("prints").iter().map(|own| own.number).collect::<Vec<_>>(),
        [2]
    );
    house.sound();
}

#[test]
fn every_field_may_be_unknown_and_become_unknown_again() {
    let mut house = house();
    recorded(&mut house, &made("Heron", &[], &[("time", "unknown"), ("paper", "")]));
    let own = print(&house.studio, "1").expect("a print");
    assert!(own.known.is_empty() && own.area.is_none() && own.metal.is_empty() && own.whole_cost().is_empty());
    let noted = note(&mut house.studio, &now(), "1", &fields(&[("dry", "good"), ("density_black", "1,45")]));
    noted.expect("noted");
    let own = print(&house.studio, "1").expect("a print");
    assert_eq!((own.of("dry"), own.of("density_black")), (Some("good"), Some("1,45")), "as it was written");
    note(&mut house.studio, &now(), "1", &fields(&[("dry", "unknown")])).expect("noted");
    assert_eq!(print(&house.studio, "1").expect("a print").of("dry"), None);
    assert_eq!(refused(note(&mut house.studio, &now(), "1", &BTreeMap::new())), "answer_missing");
    assert_eq!(refused(note(&mut house.studio, &now(), "1", &fields(&[("faults", "odd")]))), "sign_unknown");
}

#[test]
fn what_a_print_names_is_counted_and_an_undo_puts_the_counts_back() {
    let mut house = house();
    let things = [
        (RecordKind::Paper, "cotton rag", &[("lot", "A7"), ("price", "2.40EUR"), ("low", "24")][..], Some("25")),
        (RecordKind::Lamp, "tube bank", &[("hours", "120")], None),
        (RecordKind::Bath, "oxalate", &[("work", "developer"), ("made", "2026-03-04")], None),
        (RecordKind::Bath, "citric", &[("work", "clearing"), ("good_for", "0.1")], None),
        (RecordKind::Negative, "heron", &[("range", "1.8")], None),
    ];
    for (kind, name, answers, came) in things {
        let answers = Keep { name: some(name), fields: fields(answers), came: came.map(String::from) };
        keep(&mut house.studio, &now(), kind, &answers).expect("kept");
    }
    let answers = [
        ("image", "20x25cm"),
        ("margin", "0cm"),
        ("paper", "Cotton Rag"),
        ("lamp", "tube bank"),
        ("time", "30min"),
        ("developer", "oxalate"),
        ("bath_1", "citric"),
        ("negative", "heron"),
        ("tool", "a brush nobody kept"),
    ];
    let first = recorded(&mut house, &made("Heron", &[], &answers));
    assert!(first.said.iter().any(|own| own.contains("it is kept as words")), "{:?}", first.said);
    recorded(&mut house, &made("Heron", &[], &answers));
    let of = |house: &TestStudio, kind, name| one_kept(&house.studio, kind, name).expect("kept");
    let paper = of(&house, RecordKind::Paper, "cotton rag");
    assert_eq!((paper.there, paper.notices.len()), (Some(23), 1), "{:?}", paper.notices);
    assert_eq!(of(&house, RecordKind::Lamp, "tube bank").hours, Some(121.0));
    let bath = of(&house, RecordKind::Bath, "citric");
    assert_eq!(bath.area.map(|own| own.to_square_centimetres()), Some(1000.0));
    assert_eq!(bath.notices.len(), 1, "0.1 m² went through what is trusted with 0.1 m²");
    let second = print(&house.studio, "2").expect("a print");
    assert_eq!((second.paper_lot.as_deref(), second.lamp_hours), (Some("A7"), Some(120.5)));
    assert_eq!((second.developer_days, second.bath_area), (Some(10), Some(0.05)));
    assert_eq!(second.whole_cost().iter().map(ToString::to_string).collect::<Vec<_>>(), ["2.40 EUR"]);
    undo(&mut house.studio, &now(), &first.act.to_string()).expect("taken back");
    assert_eq!(of(&house, RecordKind::Paper, "cotton rag").there, Some(24));
    assert_eq!(of(&house, RecordKind::Lamp, "tube bank").hours, Some(120.5));
    house.sound();
}

#[test]
fn prints_are_found_by_any_word_and_any_field_page_by_page() {
    let mut house = house();
    for number in 1..=7 {
        let paper = if number % 2 == 0 { "cotton rag" } else { "kozo" };
        let title = if number == 5 { "Tern" } else { "Heron" };
        recorded(&mut house, &made(title, &[], &[("paper", paper), ("faults", "black-specks")]));
    }
    let newest = prints(&house.studio, "", 1, None).expect("the newest")[0].number;
    assert_eq!(newest, 7);
    let found = |asked: &str, most, before| -> Vec<u32> {
        prints(&house.studio, asked, most, before).expect("found").iter().map(|own| own.number).collect()
    };
    assert_eq!(found("tern", 9, None), [5]);
    assert_eq!(found("paper:cotton", 9, None), [6, 4, 2]);
    assert_eq!(found("heron paper:kozo", 9, None), [7, 3, 1]);
    assert_eq!(found("title:heron", 9, None), [] as [u32; 0], "a field that no record has");
    assert_eq!(found("faults:specks", 2, None), [7, 6]);
    assert_eq!(found("faults:specks", 2, Some(6)), [5, 4]);
    assert_eq!(found("", 3, Some(3)), [2, 1]);
    assert_eq!(found("nothing of that", 9, None), [] as [u32; 0]);
    // What was taken back is not counted among those that are shown.
    undo(&mut house.studio, &now(), &(3 + 7).to_string()).expect("taken back");
    let found: Vec<u32> =
        prints(&house.studio, "specks", 2, None).expect("found").iter().map(|own| own.number).collect();
    assert_eq!(found, [6, 5]);
}

#[test]
fn a_picture_is_kept_byte_for_byte_under_its_hash() {
    let mut house = house();
    recorded(&mut house, &made("Heron", &[], &[]));
    add_picture(&mut house.studio, &now(), "1", PNG).expect("kept");
    let again = add_picture(&mut house.studio, &now(), "1", PNG).expect("there already");
    assert!(again.said[0].contains("already"), "{:?}", again.said);
    let own = print(&house.studio, "1").expect("a print");
    // printf '\x89PNG\r\n\x1a\n\x01\x02\x03' | sha256sum
    assert_eq!(own.photos, ["7f47b756761a46e6d4a4d96f0d8a4448f8449235009d1f3ad1493f5c773c19e8"]);
    let found = picture(&house.studio, &own.photos[0]).expect("a picture");
    assert_eq!((found.media.as_str(), found.bytes.as_slice()), ("image/png", PNG));
    assert_eq!(refused(picture(&house.studio, "00")), "photo_unknown");
    assert_eq!(refused(add_picture(&mut house.studio, &now(), "1", b"GIF89a")), "photo_unreadable");
    assert_eq!(refused(add_picture(&mut house.studio, &now(), "1", &vec![0xff; 20_000_001])), "photo_too_large");
    house.sound();
}

#[test]
fn a_repeat_keeps_metal_to_the_area_whatever_the_bottle_and_the_size() {
    let mut house = house();
    let answers = [("image", "20x25cm"), ("margin", "0cm"), ("time", "6:00")];
    recorded(&mut house, &made("Heron", &["iron=24", "palladium=24"], &answers));
    let asked = |image: Option<&str>| Repeat { print: some("1"), image: image.map(String::from), ..Repeat::default() };
    let same = repeat(&house.studio, &asked(None), now().at).expect("a plan");
    assert_eq!(same.solutions.iter().map(|own| own.drops).collect::<Vec<_>>(), [24, 24]);
    assert_eq!((same.time.as_deref(), same.unequal.len()), (Some("6:00"), 0));
    // Half the area.
    let half = repeat(&house.studio, &asked(Some("12.5x20cm")), now().at).expect("a plan");
    assert_eq!(half.solutions.iter().map(|own| own.drops).collect::<Vec<_>>(), [12, 12]);
    // Another bottle of half the strength stands in: twice the drops, and both are said.
    bottle(&mut house, "Na2PdCl4", "20mL", "7.5%", None, "weak palladium");
    retire(&mut house.studio, &now(), &Retire { item: some("palladium"), ..Retire::default() }).expect("put away");
    let other = repeat(&house.studio, &asked(None), now().at).expect("a plan");
    let metal = &other.solutions[1];
    assert_eq!((metal.bottle.as_deref(), metal.drops), (Some("weak palladium"), 48));
    assert!((metal.strength.expect("known") - 0.5).abs() < 1e-3);
    assert!(metal.notices.iter().any(|own| own.contains("stands in for palladium")), "{:?}", metal.notices);
    // No iron at all.
    retire(&mut house.studio, &now(), &Retire { item: some("iron"), ..Retire::default() }).expect("put away");
    let none = repeat(&house.studio, &asked(None), now().at).expect("a plan");
    assert_eq!(none.solutions[0].bottle, None);
    assert!(none.unequal.iter().any(|own| own.contains("No bottle of Fe2(C2O4)3")), "{:?}", none.unequal);
    // Far from what was tried.
    let far = repeat(&house.studio, &asked(Some("90x90cm")), now().at).expect("a plan");
    assert!(far.unequal.iter().any(|own| own.contains("past what was tried")), "{:?}", far.unequal);
}

#[test]
fn two_prints_are_compared_and_the_likeliest_stands_first() {
    let mut house = house();
    let first = [("time", "6:00"), ("room_humidity", "55%"), ("lamp", "tube bank"), ("paper", "kozo")];
    let second = [("time", "12:00"), ("room_humidity", "56%"), ("lamp", "Tube Bank")];
    recorded(&mut house, &made("Heron", &["iron=24", "palladium=24"], &first));
    recorded(&mut house, &made("Heron", &["iron=24", "palladium=24"], &second));
    let found = compare(&house.studio, "1", "2", Some(&"darker".into())).expect("compared").found;
    assert_eq!((found.changed[0].of, found.changed[0].likelihood), (Condition::ExposureTime, Likelihood::Likely));
    assert!(found.small.iter().any(|own| own.of == Condition::RoomHumidity), "{:?}", found.small);
    assert!(found.same.contains(&Condition::Lamp) && found.unknown.contains(&Condition::Paper));
    let other = compare(&house.studio, "1", "2", Some(&"lighter".into())).expect("compared").found;
    let time = other.changed.iter().find(|own| own.of == Condition::ExposureTime).expect("the time");
    assert_eq!(time.likelihood, Likelihood::Against, "twice the time makes no print lighter");
    assert_eq!(refused(compare(&house.studio, "1", "9", None)), "record_unknown");
    assert_eq!(refused(compare(&house.studio, "1", "2", Some(&"odd".into()))), "sign_unknown");
}

#[test]
fn a_time_is_suspect_when_the_lot_the_lamp_or_the_room_is_another() {
    let mut house = house();
    let answers = Keep { name: some("rag"), fields: fields(&[("lot", "A7")]), ..Keep::default() };
    keep(&mut house.studio, &now(), RecordKind::Paper, &answers).expect("kept");
    recorded(&mut house, &made("Heron", &[], &[("paper", "rag"), ("time", "6:00"), ("room_humidity", "50%")]));
    let room = |text: &str| handcoat_craft::measure::Readable::read(text).ok();
    let same = still_stands(&house.studio, "1", now().at, room("50%")).expect("a standing");
    assert!(same.changed.is_empty(), "{:?}", same.changed);
    let answers = Keep { fields: fields(&[("lot", "B1")]), ..Keep::default() };
    handcoat_work::keep::change(&mut house.studio, &now(), RecordKind::Paper, "rag", &answers).expect("changed");
    let other = still_stands(&house.studio, "1", now().at, room("70%")).expect("a standing");
    let changed: Vec<Condition> = other.changed.iter().map(|own| own.of).collect();
    assert!(changed.contains(&Condition::PaperLot) && changed.contains(&Condition::RoomHumidity), "{changed:?}");
    // Nobody said how humid it is today: that is unknown, not the same.
    let open = still_stands(&house.studio, "1", now().at, None).expect("a standing");
    assert!(open.unknown.contains(&Condition::RoomHumidity), "{:?}", open.unknown);
    put_away(&mut house.studio, &now(), RecordKind::Paper, "rag").expect("put away");
    assert!(kept(&house.studio, RecordKind::Paper).expect("papers").is_empty());
    assert_eq!(print(&house.studio, "1").expect("a print").of("paper"), Some("rag"), "it keeps its name");
}

#[test]
fn answers_that_cannot_be_read_are_refused_and_nothing_is_written() {
    let mut house = house();
    let before = rows(&house);
    for (made, code) in [
        (made("", &[], &[]), "name_unreadable"),
        (PrintMade::default(), "answer_missing"),
        (made("x", &["iron"], &[]), "pour_unreadable"),
        (made("x", &["iron=0"], &[]), "pour_out_of_bounds"),
        (made("x", &["iron=6000"], &[]), "pour_out_of_bounds"),
        (made("x", &["iron=1.0"], &[]), "unit_missing"),
        (made("x", &["no such bottle=4"], &[]), "item_unknown"),
        (made("x", &["iron=4"], &[("time", "six")]), "number_missing"),
        (made("x", &["iron=4"], &[("density_black", "9")]), "field_unreadable"),
        (PrintMade { repeats: some("9"), ..made("x", &["iron=4"], &[]) }, "record_unknown"),
        (PrintMade { coats: vec!["9".into()], ..made("x", &[], &[]) }, "record_unknown"),
        (PrintMade { coats: vec!["one".into()], ..made("x", &[], &[]) }, "count_unreadable"),
    ] {
        assert_eq!(refused(record(&mut house.studio, &now(), &made)), code, "{made:?}");
    }
    assert!(rows(&house) == before && prints(&house.studio, "", 9, None).expect("prints").is_empty());
}

/// One act among those a day at the tray is made of.
#[derive(Clone, Debug)]
enum Deed {
    Coat(Vec<(usize, u32)>),
    Print(Vec<(usize, u32)>, Option<u32>, bool),
    Spoil(u32, bool),
    Note(u32),
    Undo(u32),
}

fn deeds() -> impl Strategy<Value = Vec<Deed>> {
    // Up to 700 drops are 35 mL of 50: bottles run dry, and more is poured than the book has.
    let pours = || prop::collection::vec((0_usize..3, 1_u32..700), 0..4);
    let deed = prop_oneof![
        pours().prop_map(Deed::Coat),
        (pours(), prop::option::of(1_u32..6), any::<bool>())
            .prop_map(|(pours, coat, size)| Deed::Print(pours, coat, size)),
        (1_u32..6, any::<bool>()).prop_map(|(coat, thrown)| Deed::Spoil(coat, thrown)),
        (1_u32..6).prop_map(Deed::Note),
        (4_u32..16).prop_map(Deed::Undo),
    ];
    prop::collection::vec(deed, 1..14)
}

fn run(house: &mut TestStudio, deed: &Deed) -> Result<Done, Refusal> {
    let written = |pours: &[(usize, u32)]| -> Vec<String> {
        pours.iter().map(|(at, drops)| format!("{}={drops}", ["palladium", "iron", "platinate"][*at])).collect()
    };
    match deed {
        Deed::Coat(pours) => {
            let made = CoatMade { title: some("c"), pours: written(pours), ..CoatMade::default() };
            coat(&mut house.studio, &now(), &made)
        }
        Deed::Print(pours, on, size) => {
            let answers = if *size { &[("image", "8x10in"), ("paper", "rag"), ("bath_1", "citric")][..] } else { &[] };
            let coats = on.iter().map(ToString::to_string).collect();
            record(&mut house.studio, &now(), &PrintMade { pours: written(pours), coats, ..made("p", &[], answers) })
        }
        Deed::Spoil(on, thrown) => {
            let answers = Spoiled { coat: Some(on.to_string()), because: None, thrown: *thrown };
            spoil(&mut house.studio, &now(), &answers)
        }
        Deed::Note(on) => note(&mut house.studio, &now(), &on.to_string(), &fields(&[("dry", "good")])),
        Deed::Undo(act) => undo(&mut house.studio, &now(), &act.to_string()),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn random_days_close_their_ledger_stay_sound_and_can_be_taken_back(deeds in deeds()) {
        let mut house = house();
        let paper = Keep { name: some("rag"), came: some("9"), ..Keep::default() };
        keep(&mut house.studio, &now(), RecordKind::Paper, &paper).expect("kept");
        keep(&mut house.studio, &now(), RecordKind::Bath, &Keep { name: some("citric"), ..Keep::default() }).expect("kept");
        let (before, things) = (rows(&house), kept(&house.studio, RecordKind::Paper).expect("papers"));
        for deed in &deeds {
            let was = rows(&house);
            if run(&mut house, deed).is_err() {
                prop_assert!(rows(&house) == was, "a refusal moved something");
            }
            let is = rows(&house);
            prop_assert!(sums(&is).values().all(|sum| *sum == 0));
            let below = is.iter().find(|row| row.account.item().is_some() && row.amount < Tally::ZERO);
            prop_assert!(below.is_none(), "{below:?}");
        }
        let checked = house.studio.check().expect("checked");
        prop_assert!(checked.damage.is_empty(), "{:?}", checked.damage);
        // What came in is somewhere, to the microgram, with what a print found over.
        for own in whereabouts_of(&house.studio, None).expect("whereabouts").iter() {
            let sum: i64 = own.rows.iter().map(|row| row.amount.to_units()).sum();
            prop_assert_eq!(sum, own.received.to_units());
        }
        // Newest first everything is taken back, and it is as if nothing had been.
        let acts = handcoat_work::ledger::acts(&house.studio, 99).expect("acts");
        let live = acts.iter().filter(|act| act.undone_by.is_none() && act.undoes.is_none());
        for act in live.filter(|act| matches!(act.kind.as_str(), "coat" | "print" | "spoil" | "print_note")) {
            undo(&mut house.studio, &now(), &act.act.to_string()).expect("taken back");
        }
        let after = rows(&house);
        let mine = |row: &&BalanceRow| matches!(row.account, Account::Coat(_) | Account::Print(_));
        prop_assert!(after.iter().find(mine).is_none());
        // Bottles and jars that an undo in the middle took away are put away as a whole, so only what stands is compared.
        if deeds.iter().all(|deed| !matches!(deed, Deed::Undo(4 | 5))) {
            prop_assert!(after == before);
            prop_assert!(kept(&house.studio, RecordKind::Paper).expect("papers") == things);
        }
        prop_assert!(prints(&house.studio, "", 9, None).expect("prints").is_empty());
        house.sound();
    }
}
