//! Exposure tests that are kept: which base exposure is in force, what makes it suspect, and the ladder out of the book.

use handcoat_work::expose::{
    Exposed, EyeAnswers, LadderAnswers, SetupView, StripAnswers, TabletAnswers, TestOfSetup, TestRead, Tested,
    WedgeAnswers, keep_test, ladder_of, no_base_words, one_setup, one_test, pasted, plain, readings_fit, stepwise,
    strip_sheet, tablet, test_sheet, tests, wedge,
};
use handcoat_work::keep::{Keep, RecordKind, change, keep};
use handcoat_work::ledger::undo;
use handcoat_work::print::{PrintMade, record};
use handcoat_work::{Day, Done, Moment, Refusal};

use crate::studio::{TestStudio, day, fields, now, some};

fn house() -> TestStudio {
    let mut house = TestStudio::new();
    for (kind, name, own) in [
        (RecordKind::Paper, "rag", &[("lot", "A7")][..]),
        (RecordKind::Lamp, "tubes", &[("hours", "12")]),
        (RecordKind::Bath, "oxalate", &[("work", "developer"), ("made", "2026-03-01")]),
        (
            RecordKind::Setup,
            "rag, palladium",
            &[
                ("paper", "RAG"),
                ("metal", "Pd"),
                ("agent", "hexachloroplatinate"),
                ("lamp", "tubes"),
                ("developer", "1"),
                ("film", "clear"),
            ],
        ),
    ] {
        let answers = Keep { name: some(name), fields: fields(own), came: None };
        keep(&mut house.studio, &now(), kind, &answers).expect("kept");
    }
    house
}

fn strips(house: &mut TestStudio, moment: &Moment, tapped: &str) -> Result<Done, Refusal> {
    let answers = StripAnswers { first: some("2:00"), until: some("8:00"), tapped: some(tapped), part: None };
    let place = TestOfSetup { setup: some("rag, palladium"), ..TestOfSetup::default() };
    keep_test(&mut house.studio, moment, &place, &Tested::Strip(&answers))
}

fn eye(house: &mut TestStudio, moment: &Moment, dose: &str, last_tone: &str) {
    let answers = EyeAnswers {
        test_time: some("8:00"),
        last_black: some("4"),
        last_tone: some(last_tone),
        ..EyeAnswers::default()
    };
    let place = TestOfSetup { setup: some("1"), dose: some(dose), ..TestOfSetup::default() };
    keep_test(&mut house.studio, moment, &place, &Tested::Eye(&answers)).expect("kept");
}

fn setup(house: &TestStudio, on: i64) -> SetupView {
    one_setup(&house.studio, "rag, palladium", day(on).at).expect("a set-up")
}

/// Test and seconds of the base exposure in force.
fn base(house: &TestStudio, on: i64) -> Option<(u32, f64)> {
    setup(house, on).base.map(|own| match own.exposed {
        Exposed::Time(time) => (own.test, time.set.best.to_seconds()),
        Exposed::Units(_) => panic!("a time was kept"),
    })
}

#[test]
fn the_newest_test_that_bracketed_is_in_force() {
    let mut house = house();
    assert_eq!(base(&house, 0), None);
    strips(&mut house, &day(0), "5").expect("kept");
    // Strip 5 is no blacker, so strip 4 with 4:00 in all is black: README has the same plan.
    assert_eq!(base(&house, 0), Some((1, 240.0)));
    let later = strips(&mut house, &day(2), "4").expect("kept");
    assert_eq!(base(&house, 2), Some((2, 190.0)));
    // One that did not bracket leaves it as it is.
    strips(&mut house, &day(3), "none").expect("kept");
    assert_eq!(base(&house, 3), Some((2, 190.0)));
    // One of an earlier day that is written down later is no newer.
    strips(&mut house, &day(1), "6").expect("kept");
    assert_eq!(base(&house, 3), Some((2, 190.0)));
    // One with another dose says nothing of this set-up, which has none.
    eye(&mut house, &day(4), "1mg/mL", "14");
    assert_eq!(base(&house, 4), Some((2, 190.0)));
    eye(&mut house, &day(5), "none", "14");
    assert_eq!(base(&house, 5).map(|own| own.0), Some(6));
    assert_eq!(setup(&house, 5).scale.map(|own| own.1), Some(6));
    // Taken back, and the one before is in force again; its number is not used again.
    undo(&mut house.studio, &now(), &(later.act + 4).to_string()).expect("taken back");
    undo(&mut house.studio, &now(), &later.act.to_string()).expect("taken back");
    assert_eq!(base(&house, 5), Some((4, 302.0)));
    one_test(&house.studio, "2").expect_err("it is gone");
    let numbers: Vec<u32> = tests(&house.studio, 9, None).expect("tests").iter().map(|own| own.number).collect();
    assert_eq!(numbers, [5, 4, 3, 1]);
    house.sound();
    house.reopen();
    assert_eq!(base(&house, 5), Some((4, 302.0)));
}

#[test]
fn what_changed_makes_it_suspect_and_is_said() {
    let mut house = house();
    strips(&mut house, &day(0), "5").expect("kept");
    let suspect = |house: &TestStudio, on: i64| setup(house, on).base.expect("a base").suspect;
    assert_eq!(suspect(&house, 90), Vec::<String>::new());
    assert_eq!(suspect(&house, 91), ["it is 91 days old"]);
    let change_of = |house: &mut TestStudio, kind, name: &str, own: &[(&'static str, &str)]| {
        let answers = Keep { fields: fields(own), ..Keep::default() };
        change(&mut house.studio, &now(), kind, name, &answers).expect("changed").act
    };
    // What was unknown and becomes known, or the other way, is not known to have changed.
    change_of(&mut house, RecordKind::Setup, "1", &[("film", "unknown"), ("ink", "black only"), ("note", "read this")]);
    assert_eq!(suspect(&house, 1), Vec::<String>::new());
    let lot = change_of(&mut house, RecordKind::Paper, "rag", &[("lot", "B2")]);
    assert_eq!(suspect(&house, 1), ["paper lot: A7 then, B2 now"]);
    undo(&mut house.studio, &now(), &lot.to_string()).expect("taken back");
    assert_eq!(suspect(&house, 1), Vec::<String>::new());
    change_of(&mut house, RecordKind::Bath, "oxalate", &[("made", "2026-03-20")]);
    change_of(&mut house, RecordKind::Setup, "1", &[("film", "frosted")]);
    assert_eq!(
        suspect(&house, 1),
        ["developer made: 2026-03-01 then, 2026-03-20 now", "film: clear then, frosted now"]
    );
    // Fifty hours more on the lamp; 49 are not enough.
    let print = |house: &mut TestStudio, time: &str| {
        let made = PrintMade {
            title: some("long"),
            fields: fields(&[("lamp", "tubes"), ("time", time)]),
            ..PrintMade::default()
        };
        record(&mut house.studio, &now(), &made).expect("recorded");
    };
    for _ in 0..7 {
        print(&mut house, "7h");
    }
    assert_eq!(suspect(&house, 1).len(), 2);
    print(&mut house, "1h");
    assert_eq!(suspect(&house, 1)[2..], ["the lamp burned 50 h more"]);
    house.sound();
}

const STEPS: [f64; 21] = [
    1.45, 1.45, 1.44, 1.44, 1.43, 1.41, 1.37, 1.29, 1.17, 0.99, 0.76, 0.53, 0.35, 0.23, 0.15, 0.11, 0.09, 0.08, 0.08,
    0.07, 0.07,
];

fn table() -> String {
    let rows = STEPS.iter().enumerate().map(|(place, own)| format!("{:.2};{own:.2}\n", 0.15 * place as f64));
    format!("step_density;print_density\n{}", rows.collect::<String>()).replace('.', ",")
}

#[test]
fn a_wedge_is_read_again_as_it_was_kept() {
    let mut house = house();
    let answers = WedgeAnswers { test_time: some("4:00"), decimal_mark: some("comma"), ..WedgeAnswers::default() };
    let first = wedge(&answers, table().as_bytes()).expect("read");
    let place = TestOfSetup { setup: some("1"), dose: some("2mg/mL"), note: some("new tubes") };
    let done =
        keep_test(&mut house.studio, &now(), &place, &Tested::Wedge(&answers, table().as_bytes())).expect("kept");
    assert_eq!((done.record, done.kind.as_str()), (Some(1), "expose"));
    let (own, again) = one_test(&house.studio, "1").expect("kept");
    let Some(TestRead::Wedge(again)) = again else { panic!("a wedge was kept: {again:?}") };
    assert_eq!(*again, first);
    // What was said that day, to the last bit but one of its JSON.
    let (Some(Exposed::Time(kept)), Some(Exposed::Time(said))) = (own.found.base, first.base) else {
        panic!("a time was said: {:?}", own.found)
    };
    assert_eq!(
        (kept.set.best, own.found.scale.map(|own| own.best)),
        (said.set.best, first.fit.scale.map(|own| own.best))
    );
    assert!((kept.set.standard() - said.set.standard()).abs() < 1e-12 * said.set.standard());
    assert_eq!((own.note.as_deref(), own.dose.as_deref()), (Some("new tubes"), Some("2 mg/mL")));
    // Its sheet, and one of strips.
    let facts = handcoat_work::expose::TestSheetFacts {
        studio: None,
        day: Day::read("2026-03-14").expect("a day"),
        invented: true,
        paper: some("letter"),
    };
    let sheet = test_sheet(&own, Some(&TestRead::Wedge(again)), &facts).expect("a sheet");
    assert!(sheet.starts_with(b"%PDF"));
    let plan = StripAnswers { first: some("2:00"), until: some("8:00"), ..StripAnswers::default() };
    assert!(strip_sheet(&plan, &facts).expect("a sheet").starts_with(b"%PDF"));
    // What was only planned is no test, and a table of another kind is too long.
    let place = TestOfSetup::default();
    let refusal = keep_test(&mut house.studio, &now(), &place, &Tested::Strip(&plan)).expect_err("nothing was tapped");
    assert_eq!(refusal.code, "answer_missing");
    assert_eq!(readings_fit(601).expect_err("too many").code, "readings_many");
    assert_eq!(done.act + 1, strips(&mut house, &now(), "5").expect("kept").act, "what is refused leaves no act");
}

#[test]
fn kept_wedges_stand_on_the_ladder_and_what_others_report_fades() {
    let mut house = house();
    let ladder = |house: &TestStudio| {
        let answers = LadderAnswers { setup: some("rag, palladium"), range: some("1.6"), ..LadderAnswers::default() };
        ladder_of(&house.studio, &answers, day(9).at).expect("a ladder")
    };
    let borrowed = |house: &TestStudio| {
        let own = ladder(house);
        own.rungs.iter().map(|rung| rung.1.borrowed).fold(0.0, f64::max)
    };
    let all = borrowed(&house);
    assert!((all - 1.0).abs() < 1e-12, "{all}");
    eye(&mut house, &day(0), "0.5mg/mL", "16");
    let one = borrowed(&house);
    eye(&mut house, &day(1), "2mg/mL", "13");
    let two = borrowed(&house);
    assert!(one < all && two < one, "{all} {one} {two}");
    // Strips have no scale, a wedge of another paper is another ladder's, and one without agent stands beside the line.
    strips(&mut house, &day(2), "5").expect("kept");
    eye(&mut house, &day(3), "none", "17");
    for (name, paper, film) in [("kozo", None, "clear"), ("rag, other film", Some("rag"), "frosted")] {
        let mut own =
            fields(&[("metal", "Pd"), ("agent", "hexachloroplatinate"), ("developer", "oxalate"), ("film", film)]);
        own.extend(paper.map(|paper| ("paper", String::from(paper))));
        keep(&mut house.studio, &now(), RecordKind::Setup, &Keep { name: some(name), fields: own, came: None })
            .expect("kept");
        let answers = EyeAnswers {
            test_time: some("8:00"),
            last_black: some("4"),
            last_tone: some("15"),
            ..EyeAnswers::default()
        };
        let place = TestOfSetup { setup: some(name), dose: some("1mg/mL"), ..TestOfSetup::default() };
        keep_test(&mut house.studio, &day(4), &place, &Tested::Eye(&answers)).expect("kept");
    }
    let read = ladder(&house);
    let own: Vec<Option<u32>> = read.points.iter().filter(|own| !own.borrowed).map(|own| own.test).collect();
    assert_eq!(own, [Some(6), Some(4), Some(2), Some(1)]);
    assert_eq!(read.ladder.own(), 3);
    assert!(read.points.iter().any(|own| own.borrowed));
    // The lamp of the other set-up is not said, so its time is nobody's.
    assert_eq!(read.points.iter().filter(|own| own.wedge.base.is_some()).count(), 3);
}

/// A scale by eye and one of 90 % are two measures: a ladder has the one of most wedges, and says which it left out and what changed.
#[test]
fn a_ladder_has_one_criterion() {
    let mut house = house();
    let ladder = |house: &TestStudio, on: i64| {
        let answers = LadderAnswers { setup: some("1"), ..LadderAnswers::default() };
        ladder_of(&house.studio, &answers, day(on).at).expect("a ladder")
    };
    let own = |read: &handcoat_work::expose::LadderRead| -> Vec<u32> {
        read.points.iter().filter_map(|own| own.test).collect()
    };
    let answers = WedgeAnswers { test_time: some("8:00"), decimal_mark: some("comma"), ..WedgeAnswers::default() };
    let place = TestOfSetup { setup: some("1"), dose: some("2mg/mL"), ..TestOfSetup::default() };
    eye(&mut house, &day(0), "0.5mg/mL", "16");
    keep_test(&mut house.studio, &day(1), &place, &Tested::Wedge(&answers, table().as_bytes())).expect("kept");
    // One of each: the newest.
    let read = ladder(&house, 2);
    assert_eq!((own(&read), read.otherwise.iter().map(|own| own.0).collect()), (vec![2], vec![1]));
    eye(&mut house, &day(-1), "1mg/mL", "14");
    let read = ladder(&house, 2);
    assert_eq!((own(&read), read.otherwise.iter().map(|own| own.0).collect()), (vec![1, 3], vec![2]));
    assert_eq!(read.criterion.as_deref(), Some(handcoat_work::expose::EYE_SCALE));
    assert_eq!(read.suspect, Vec::<String>::new());
    assert_eq!(ladder(&house, 90).suspect, ["it is 91 days old (test 3)"]);
    let answers = Keep { fields: fields(&[("lot", "B2")]), ..Keep::default() };
    change(&mut house.studio, &now(), RecordKind::Paper, "rag", &answers).expect("changed");
    assert_eq!(ladder(&house, 2).suspect, ["paper lot: A7 then, B2 now (tests 1, 3)"]);
}

#[test]
fn readings_are_taken_as_people_write_them() {
    let tablet = tablet(&TabletAnswers::default()).expect("the usual");
    let read = |text: &str| pasted(text, &tablet, false).expect("read");
    let expected = "step_density,print_density\n0.05,1.4\n0.2,1.3\n";
    for text in
        ["0.05 1.40\n0.20 1.30", "0,05;1,4\n0,2;1,3\n", "0.05\t1.4\r\n\r\n0.2\t1.3", "0.05,1.4\n0.20,1.3", "1.4\n1,3"]
    {
        assert_eq!(read(text), expected, "{text}");
    }
    assert_eq!(read("step_density,print_density\n0.05,1.4"), "step_density,print_density\n0.05,1.4");
    assert_eq!(pasted("1.4\n1.3", &tablet, true).expect("read"), "print_density\n1.4\n1.3\n");
    for (text, line) in
        [("1.4\nblack", "line 2"), ("0.05 1.4 3", "line 1"), ("0.05 9", "line 1"), ("1.4\n\n-1", "line 3")]
    {
        let refusal = pasted(text, &tablet, false).expect_err("no readings");
        assert!(refusal.code == "reading_unreadable" && refusal.cause.contains(line), "{text}: {}", refusal.cause);
    }
    assert_eq!(pasted(&"1.4\n".repeat(22), &tablet, false).expect_err("22 steps").code, "step_unknown");
    assert_eq!(pasted(" \n", &tablet, false).expect_err("nothing").code, "answer_missing");
    // A step that was not read is left out.
    let typed = stepwise(&[some("1,4"), None, some("1.2")], &tablet, false).expect("read");
    assert_eq!(typed, "step_density,print_density\n0.05,1.4\n0.35,1.2\n");
    let answers = WedgeAnswers { test_time: some("4:00"), decimal_mark: some("comma"), ..WedgeAnswers::default() };
    let own = wedge(&answers, table().as_bytes()).expect("read");
    let again = read(&plain(&own.readings));
    let point = WedgeAnswers { decimal_mark: None, ..answers };
    assert_eq!(wedge(&point, again.as_bytes()).expect("read").fit, own.fit);
}

#[test]
fn a_set_up_says_which_doses_have_a_base_exposure() {
    let mut house = house();
    assert_eq!(no_base_words(&setup(&house, 0)), "no base exposure yet: no test of it bracketed");
    eye(&mut house, &day(1), "0.5mg/mL", "15");
    let said = no_base_words(&setup(&house, 2));
    assert_eq!(said, "no base exposure yet with no contrast agent; a test bracketed with a dose of 0.5 mg/mL (test 1)");
    // A dose that differs by less than two coats do is that dose.
    for (dose, there) in [("0.501mg/mL", true), ("0.6mg/mL", false)] {
        let dose = Keep { fields: fields(&[("dose", dose)]), ..Keep::default() };
        change(&mut house.studio, &day(3), RecordKind::Setup, "rag, palladium", &dose).expect("changed");
        assert_eq!(base(&house, 4).is_some(), there);
    }
}

#[test]
fn a_day_that_is_yet_to_come_is_said_and_never_negative() {
    let mut house = house();
    let answers = StripAnswers { first: some("2:00"), until: some("8:00"), tapped: some("3"), part: None };
    let place = TestOfSetup { setup: some("rag, palladium"), ..TestOfSetup::default() };
    keep_test(&mut house.studio, &day(1500), &place, &Tested::Strip(&answers)).expect("kept");
    let own = setup(&house, 2).base.expect("a base exposure");
    assert_eq!(own.days, 0);
    assert!(own.suspect.iter().any(|own| own.ends_with("which is yet to come")), "{:?}", own.suspect);
    let then = setup(&house, 1501).base.expect("a base exposure");
    assert_eq!(then.days, 1);
    assert!(!then.suspect.iter().any(|own| own.contains("to come")));
}
