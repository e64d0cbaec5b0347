//! The day's printing as a maker taps it: what is posted, what is not posted twice, what is not lost, and timers by a clock that is set.
//!
//! Long because every test walks the same day, with the same clock and the same bottles.

use handcoat_craft::session::{BootClock, Judged, Reading, SinceBoot, Step, WallClock};
use handcoat_work::ledger::{acts, undo};
use handcoat_work::print::{CoatMade, PrintMade, coat, open_coats, prints, record};
use handcoat_work::session::{
    BeginSession, Came, PrintAnswers, SessionAnswers, SessionNumber, SessionView, Tap, Tapped, begin, put_timer_away,
    session, sessions, start_timer, tap, timers,
};
use handcoat_work::shelf::{Receive, receive};
use handcoat_work::{Moment, Refusal};
use proptest::prelude::Strategy;
use proptest::{collection, prop_assert, prop_assert_eq, prop_oneof, proptest};

use crate::studio::{TestStudio, now};

/// A clock that is set by hand: seconds after an instant, the start of the machine, and how far the wall is off, in seconds.
#[derive(Clone, Copy, Debug)]
struct FakeClock {
    seconds: u64,
    boot: u32,
    wall_off: i64,
}

const EARLY: FakeClock = FakeClock { seconds: 0, boot: 1, wall_off: 0 };

impl FakeClock {
    fn at(self, seconds: u64) -> Self {
        Self { seconds, ..self }
    }

    fn reading(self) -> Reading {
        let wall = 1_773_482_400_000 + i64::try_from(self.seconds).expect("seconds") * 1000 + self.wall_off * 1000;
        let since = SinceBoot::milliseconds(77_000 + self.seconds * 1000);
        Reading {
            wall: WallClock::milliseconds(wall),
            boot: Some(BootClock { boot: format!("boot-{}", self.boot), since }),
        }
    }
}

fn bottle(studio: &mut TestStudio, formula: &str, name: &str, percent: &str) {
    let answers = Receive {
        formula: Some(formula.into()),
        volume: Some("50mL".into()),
        percent: Some(percent.into()),
        name: Some(name.into()),
        price: Some("90EUR".into()),
        ..Receive::default()
    };
    receive(&mut studio.studio, &now(), &answers).expect("received");
}

fn studio() -> TestStudio {
    let mut studio = TestStudio::new();
    bottle(&mut studio, "Fe2(C2O4)3", "iron", "27");
    bottle(&mut studio, "Na2PdCl4", "palladium", "15");
    studio
}

fn print(title: &str) -> PrintAnswers {
    PrintAnswers {
        title: Some(title.into()),
        image: Some("8x10in".into()),
        margin: Some("1cm".into()),
        time: Some("6:00".into()),
        pours: vec!["iron=23".into(), "palladium=23".into()],
        ..PrintAnswers::default()
    }
}

fn three() -> BeginSession {
    BeginSession {
        prints: ["Heron", "Weir", "Mill"].map(print).to_vec(),
        plan: SessionAnswers { start: Some("10:00".into()), ..SessionAnswers::default() },
        lamp: Some("tube bank".into()),
        developer: Some("oxalate".into()),
        bath_names: vec!["citric 1".into(), "EDTA 1".into()],
        ..BeginSession::default()
    }
}

struct Day {
    house: TestStudio,
    number: SessionNumber,
    clock: FakeClock,
}

impl Day {
    fn new(answers: &BeginSession) -> Self {
        let mut house = studio();
        let number = begin(&mut house.studio, &now(), &EARLY.reading(), answers).expect("begun");
        Self { house, number, clock: EARLY }
    }

    fn view(&self) -> SessionView {
        session(&self.house.studio, &self.clock.reading(), self.number).expect("it stands")
    }

    fn tap(&mut self, print: usize, what: Tapped) -> Result<Came, Refusal> {
        let seen = self.view().prints.get(print).map(|own| own.seen);
        self.tap_seen(print, seen, what)
    }

    fn tap_seen(&mut self, print: usize, seen: Option<u32>, what: Tapped) -> Result<Came, Refusal> {
        tap(&mut self.house.studio, &now(), &self.clock.reading(), self.number, &Tap { print, seen, what })
    }

    fn next(&mut self, print: usize) -> Came {
        // Every tap comes to a book that was opened anew: nothing is kept in a process.
        self.house.reopen();
        self.tap(print, Tapped::Next).expect("the step is taken")
    }

    fn step(&self, print: usize) -> (Option<Step>, bool) {
        let view = self.view();
        let own = &view.prints[print];
        (own.step, own.in_hand)
    }

    /// Goes on with whoever is needed, waiting until then, until nothing is left.
    fn go_to_the_end(&mut self) {
        for _ in 0..200 {
            let view = self.view();
            let Some(own) = view.in_turn(None).first().copied().cloned() else { return };
            self.clock.seconds = self.clock.seconds.max(own.due.to_milliseconds().div_ceil(1000));
            self.next(own.place);
        }
        panic!("the day does not end: {:?}", self.view().prints);
    }
}

fn kinds(day: &Day) -> Vec<String> {
    acts(&day.house.studio, 100)
        .expect("acts")
        .into_iter()
        .rev()
        .map(|row| row.kind)
        .filter(|kind| kind != "receive")
        .collect()
}

#[test]
fn a_day_of_three_prints_is_tapped_to_its_records() {
    let mut day = Day::new(&three());
    assert_eq!(day.step(0), (Some(Step::Coat(1)), false));
    day.go_to_the_end();
    let view = day.view();
    assert!(view.ended && view.prints.iter().all(|own| own.recorded.is_some()));
    assert_eq!(kinds(&day), ["coat", "coat", "coat", "print", "print", "print"]);
    let made = prints(&day.house.studio, "", 10, None).expect("prints");
    let heron = made.iter().find(|own| own.title == "Heron").expect("the first print");
    for (key, words) in [
        ("image", "8x10in"),
        ("margin", "1cm"),
        ("time", "6:00"),
        ("lamp", "tube bank"),
        ("developer", "oxalate"),
        ("developing_time", "3:00"),
        ("bath_1", "citric 1"),
        ("bath_2", "EDTA 1"),
        ("clearing_time", "21:00"),
        ("washing", "30:00"),
        ("coats", "1"),
    ] {
        assert_eq!(heron.of(key), Some(words), "{key}");
    }
    assert_eq!(heron.pours.iter().map(|pour| pour.drops).collect::<Vec<_>>(), [Some(23), Some(23)]);
    assert!(open_coats(&day.house.studio).expect("coats").is_empty());
    // Tapped when it was due, it is no longer than planned, and never shorter than can be.
    let planned = begin(&mut day.house.studio, &now(), &EARLY.reading(), &three()).expect("the same day again");
    let planned = session(&day.house.studio, &EARLY.reading(), planned).expect("it stands").plan;
    let (total, bound) = (view.plan.schedule.total(), planned.bound.span);
    assert!(bound <= total && total <= planned.schedule.total(), "{bound:?} {total:?} {:?}", planned.schedule.total());
    day.house.sound();
}

#[test]
fn a_second_tap_and_a_second_tablet_do_nothing_twice() {
    let mut day = Day::new(&three());
    day.next(0);
    let seen = Some(day.view().prints[0].seen);
    assert!(!day.tap_seen(0, seen, Tapped::Next).expect("coated").stale);
    for _ in 0..3 {
        assert!(day.tap_seen(0, seen, Tapped::Next).expect("a second tap").stale);
    }
    assert_eq!(day.step(0), (Some(Step::Dry(1)), true));
    // A drop more, tapped twice on one screen, is one drop.
    day.next(1);
    let seen = Some(day.view().prints[1].seen);
    for _ in 0..2 {
        day.tap_seen(1, seen, Tapped::Drop(0)).expect("a drop");
    }
    assert_eq!(day.view().prints[1].pours[0].drops, Some(24));
    // Another tablet, on a book of its own, is at another print: neither is in the other's way.
    let mut other =
        handcoat_work::Studio::open(&day.house.folder.path().join("studio.handcoat")).expect("opened twice");
    let third = Tap { print: 2, seen: Some(0), what: Tapped::Next };
    let late = Tap { print: 1, seen, what: Tapped::Spoiled };
    assert!(!tap(&mut other, &now(), &day.clock.reading(), day.number, &third).expect("begun").stale);
    assert!(tap(&mut other, &now(), &day.clock.reading(), day.number, &late).expect("a stale screen").stale);
    day.next(1);
    assert_eq!(kinds(&day), ["coat", "coat"]);
    assert_eq!(open_coats(&day.house.studio).expect("coats")[1].pours[0].drops, Some(24));
    day.house.sound();
}

#[test]
fn begun_twice_under_one_key_is_one_session() {
    let mut house = studio();
    let moment = Moment { key: "begun-under-this".into(), ..now() };
    let first = begin(&mut house.studio, &moment, &EARLY.reading(), &three()).expect("begun");
    assert_eq!(begin(&mut house.studio, &moment, &EARLY.reading(), &three()).expect("again"), first);
    assert_eq!(sessions(&house.studio, 10).expect("sessions").len(), 1);
}

/// A machine that goes out after the act and before the state: the book has the coat, the session does not know.
#[test]
fn a_machine_that_goes_out_between_act_and_state_coats_once() {
    let mut day = Day::new(&three());
    day.next(0);
    let path = day.house.folder.path().join("studio.handcoat");
    let before = day.view().prints[0].seen;
    let mut book = handcoat_book::Book::open(&path).expect("the book");
    let body = book.session(day.number).expect("read").expect("there").body;
    day.next(0);
    let after = book.session(day.number).expect("read").expect("there").body;
    assert!(book.keep_session(day.number, now().at, &after, &body, false).expect("kept"), "put back as it was");
    drop(book);
    assert_eq!(day.view().prints[0].seen, before);
    // Whatever is tapped from the old screen: the coat in the book has happened, and is in it once.
    let came = day.tap(0, Tapped::Drop(0)).expect("a late drop");
    assert!(came.stale);
    assert_eq!(day.step(0), (Some(Step::Dry(1)), true));
    day.go_to_the_end();
    assert_eq!(kinds(&day).iter().filter(|kind| *kind == "coat").count(), 3);
    assert!(open_coats(&day.house.studio).expect("coats").is_empty());
    day.house.sound();
}

/// The state of a session put back as it was, as if the machine had gone out before it was kept.
fn lose_state(day: &mut Day, act: impl FnOnce(&mut Day)) {
    let path = day.house.folder.path().join("studio.handcoat");
    let mut book = handcoat_book::Book::open(&path).expect("the book");
    let body = book.session(day.number).expect("read").expect("there").body;
    act(day);
    let after = book.session(day.number).expect("read").expect("there").body;
    assert!(book.keep_session(day.number, now().at, &after, &body, false).expect("kept"), "put back as it was");
}

#[test]
fn a_machine_that_goes_out_after_the_print_act_stops_no_session() {
    // Without what was seen, as on the command line; with it, as on a screen; and whatever is tapped.
    for (seen, what) in [
        (false, Tapped::Next),
        (true, Tapped::Next),
        (false, Tapped::Skip),
        (true, Tapped::Spoiled),
        (false, Tapped::Timer),
    ] {
        let mut day = Day::new(&BeginSession { prints: vec![print("Heron"), print("Weir")], ..three() });
        while day.step(0) != (Some(Step::Wash), true) {
            day.next(0);
        }
        lose_state(&mut day, |day| {
            day.next(0);
        });
        assert_eq!(day.step(0), (Some(Step::Wash), true), "the state does not know");
        let before = seen.then(|| day.view().prints[0].seen);
        assert!(day.tap_seen(0, before, what.clone()).expect("caught up").stale, "{what:?}");
        let heron = day.view().prints[0].clone();
        assert_eq!((heron.step, heron.recorded, heron.spoiled), (None, Some(1), false), "{what:?}");
        day.go_to_the_end();
        assert!(day.view().ended);
        assert_eq!(kinds(&day).iter().filter(|kind| *kind == "print").count(), 2);
        day.house.sound();
    }
    // The last print of the day: with it the session ends.
    let mut day = Day::new(&BeginSession { prints: vec![print("Heron")], ..three() });
    while day.step(0) != (Some(Step::Wash), true) {
        day.next(0);
    }
    lose_state(&mut day, |day| {
        day.next(0);
    });
    assert!(day.tap_seen(0, None, Tapped::Next).expect("caught up").stale);
    assert!(day.view().ended);
}

#[test]
fn what_was_caught_up_is_kept_though_the_tap_is_refused() {
    let mut day = Day::new(&three());
    day.next(0);
    lose_state(&mut day, |day| {
        day.next(0);
    });
    let refused = day.tap(1, Tapped::Drop(9)).expect_err("no such pour");
    assert_eq!(refused.code, "pour_not_there");
    assert_eq!(day.step(0), (Some(Step::Dry(1)), true), "the coat of print 1 has happened all the same");
    // And one tap after such a loss ends no drying.
    let mut day = Day::new(&three());
    day.next(0);
    lose_state(&mut day, |day| {
        day.next(0);
    });
    assert!(day.tap_seen(0, None, Tapped::Next).expect("caught up").stale);
    assert_eq!(day.step(0), (Some(Step::Dry(1)), true));
    assert_eq!(kinds(&day), ["coat"]);
}

#[test]
fn a_repeat_takes_over_how_the_old_print_was_worked_unless_said_otherwise() {
    let mut day = Day::new(&BeginSession { prints: vec![print("Heron")], ..three() });
    let fields = [
        ("lamp", "old lamp"),
        ("tool", "rod"),
        ("developer", "old oxalate"),
        ("developing_time", "2:30"),
        ("bath_1", "citric old"),
        ("bath_2", "EDTA old"),
        ("clearing_time", "17:00"),
        ("washing", "45:00"),
        ("time", "5:00"),
    ];
    let old = PrintMade {
        title: Some("Old heron".into()),
        fields: fields.into_iter().map(|(key, value)| (key, value.into())).collect(),
        ..PrintMade::default()
    };
    record(&mut day.house.studio, &now(), &old).expect("recorded");
    let again = PrintAnswers { repeat: Some("1".into()), ..PrintAnswers::default() };
    let plain = BeginSession { prints: vec![again.clone()], ..BeginSession::default() };
    day.number = begin(&mut day.house.studio, &now(), &EARLY.reading(), &plain).expect("begun");
    while day.step(0) != (Some(Step::Develop), true) {
        day.next(0);
    }
    let span = day.view().prints[0].span;
    assert_eq!(span.clock(), "2:30", "the plan goes by it too");
    let today = handcoat_work::Day::read("2026-03-14").expect("a day");
    let view = day.view();
    let screen = view.screen(&day.house.studio, &view.prints[0], today).expect("read").expect("a screen");
    assert!(screen.bath.as_deref().is_some_and(|own| own.contains("citric old")), "{screen:?}");
    // In hand, the developer's caution stays until the print is out of it; the next bath's stands beside it.
    let caution = screen.caution.expect("a caution");
    assert!(caution.contains("Oxalates are poisonous") && caution.contains("acid on sulfite"), "{caution}");
    day.go_to_the_end();
    let made = prints(&day.house.studio, "", 1, None).expect("prints").remove(0);
    for (key, value) in fields {
        assert_eq!(made.of(key), Some(value), "{key}");
    }
    assert_eq!(made.of("bath_3"), None);
    // What is said is said.
    let said = BeginSession {
        prints: vec![again],
        plan: SessionAnswers {
            develop: Some("4min".into()),
            clear: Some("6min".into()),
            baths: Some("3".into()),
            ..SessionAnswers::default()
        },
        lamp: Some("new lamp".into()),
        bath_names: vec!["citric new".into()],
        ..BeginSession::default()
    };
    day.number = begin(&mut day.house.studio, &now(), &EARLY.reading(), &said).expect("begun");
    day.clock = EARLY;
    day.go_to_the_end();
    let made = prints(&day.house.studio, "", 1, None).expect("prints").remove(0);
    for (key, value) in [
        ("lamp", "new lamp"),
        ("developing_time", "4:00"),
        ("bath_1", "citric new"),
        ("bath_2", "EDTA old"),
        ("clearing_time", "18:00"),
        ("washing", "45:00"),
        ("tool", "rod"),
    ] {
        assert_eq!(made.of(key), Some(value), "{key}");
    }
}

#[test]
fn a_coat_recorded_by_hand_goes_into_the_print_whose_pours_were_not_said() {
    let silent = PrintAnswers { pours: Vec::new(), ..print("Heron") };
    let mut day = Day::new(&BeginSession { prints: vec![silent, print("Weir")], ..three() });
    day.next(0);
    let made = CoatMade {
        title: Some("Heron".into()),
        pours: vec!["iron=20".into(), "palladium=21".into()],
        ..CoatMade::default()
    };
    coat(&mut day.house.studio, &now(), &made).expect("recorded by hand");
    let other = CoatMade { title: Some("Another".into()), ..made };
    coat(&mut day.house.studio, &now(), &other).expect("recorded by hand");
    day.go_to_the_end();
    let heron = prints(&day.house.studio, "heron", 1, None).expect("prints").remove(0);
    assert_eq!((heron.coats.len(), heron.pours.len()), (1, 2), "{heron:?}");
    let open: Vec<String> = open_coats(&day.house.studio).expect("coats").into_iter().map(|own| own.title).collect();
    assert_eq!(open, ["Another"]);
    day.house.sound();
}

#[test]
fn a_drop_that_was_more_is_taken_back() {
    let mut day = Day::new(&BeginSession { prints: vec![print("Heron")], ..three() });
    day.next(0);
    for what in [Tapped::Drop(1), Tapped::Drop(1), Tapped::Less(1)] {
        day.tap(0, what).expect("a drop");
    }
    assert_eq!(day.view().prints[0].pours[1].drops, Some(24));
    day.tap(0, Tapped::Less(1)).expect("a drop");
    let refused = day.tap(0, Tapped::Less(1)).expect_err("none was more");
    assert_eq!(refused.code, "pour_not_drops");
    assert_eq!(day.view().prints[0].pours[1].drops, Some(23));
}

#[test]
fn what_is_spoiled_or_coated_anew_is_in_the_ledger() {
    let mut day = Day::new(&three());
    day.next(0);
    day.next(0);
    let came = day.tap(0, Tapped::Recoated).expect("given up");
    assert!(came.said.iter().any(|own| own.contains("given up and coated anew at dry")), "{came:?}");
    assert_eq!(day.step(0), (Some(Step::Coat(1)), false));
    day.next(1);
    // Poured, and the brush left its hair in it: the coat is in the book, and spoiled.
    day.tap(1, Tapped::Spoiled).expect("spoiled");
    assert_eq!(kinds(&day), ["coat", "spoil", "coat", "spoil"]);
    day.go_to_the_end();
    let made: Vec<Vec<u32>> =
        prints(&day.house.studio, "", 10, None).expect("prints").iter().map(|own| own.coats.clone()).collect();
    assert_eq!(made.len(), 2);
    assert!(made.iter().all(|coats| coats.len() == 1 && !coats.contains(&1) && !coats.contains(&2)), "{made:?}");
    assert!(day.view().prints[1].spoiled && day.view().prints[1].recorded.is_none());
    day.house.sound();
}

#[test]
fn a_refused_act_leaves_the_step_and_says_why() {
    let mut day = Day::new(&three());
    day.next(0);
    let receipt = acts(&day.house.studio, 10)
        .expect("acts")
        .into_iter()
        .find(|row| row.said.iter().any(|own| own.contains("palladium")));
    let receipt = receipt.expect("the bottle came in").act;
    undo(&mut day.house.studio, &now(), &receipt.to_string()).expect("taken back");
    let refused = day.tap(0, Tapped::Next).expect_err("no such bottle");
    assert_eq!(refused.code, "item_unknown");
    assert_eq!(day.step(0), (Some(Step::Coat(1)), true));
    assert!(kinds(&day).iter().all(|kind| kind != "coat"));
    // Another bottle that takes its name stands in for it.
    bottle(&mut day.house, "Na2PdCl4", "palladium", "15");
    day.next(0);
    assert_eq!(day.step(0), (Some(Step::Dry(1)), true));
    // A coat that was taken back in the ledger is no reason not to record the print.
    let coat = acts(&day.house.studio, 1).expect("acts")[0].act;
    undo(&mut day.house.studio, &now(), &coat.to_string()).expect("taken back");
    day.go_to_the_end();
    let heron = prints(&day.house.studio, "heron", 10, None).expect("prints");
    assert!(heron[0].coats.is_empty());
    day.house.sound();
}

#[test]
fn the_time_in_a_bath_is_what_its_timer_ran() {
    let mut day = Day::new(&BeginSession { prints: vec![print("Heron")], ..three() });
    while day.step(0) != (Some(Step::Clear(1)), true) {
        day.next(0);
    }
    for _ in 0..2 {
        day.tap(0, Tapped::Timer).expect("a timer");
    }
    let running = timers(&day.house.studio, &day.clock.reading()).expect("timers");
    assert_eq!(running.iter().map(|own| own.name.as_str()).collect::<Vec<_>>(), ["1. Heron: clear 1"]);
    assert_eq!(running[0].span.clock(), "7:00");
    day.clock.seconds += 9 * 60;
    assert_eq!(timers(&day.house.studio, &day.clock.reading()).expect("timers")[0].words(), ("2:00".into(), "over"));
    day.next(0);
    assert!(timers(&day.house.studio, &day.clock.reading()).expect("timers").is_empty(), "put away with its step");
    day.go_to_the_end();
    let heron = prints(&day.house.studio, "", 1, None).expect("prints");
    assert_eq!(heron[0].of("clearing_time"), Some("23:00"), "nine minutes in the first bath, seven in two others");
}

#[test]
fn timers_are_right_whatever_happens_to_the_wall_clock() {
    let mut house = studio();
    let start = |house: &mut TestStudio, name: &str, time: &str| {
        start_timer(&mut house.studio, &EARLY.reading(), None, Some(&name.into()), Some(&time.into())).expect("started")
    };
    let first = start(&mut house, "rinse", "7");
    assert_eq!(start(&mut house, "rinse", "7min"), first, "one tap of a wet glove");
    for name in ["a", "b", "c"] {
        start(&mut house, name, "90s");
    }
    // An hour on, an hour back, asleep, killed: the time since the start of the machine holds.
    for wall_off in [0, 3600, -3600] {
        for seconds in [1, 59, 200, 419, 420, 421, 4000] {
            house.reopen();
            let clock = FakeClock { seconds, wall_off, ..EARLY };
            let own = timers(&house.studio, &clock.reading()).expect("timers").remove(0);
            let expected = seconds.abs_diff(420);
            let (words, side) = own.words();
            assert_eq!(words, format!("{}:{:02}", expected / 60 % 60, expected % 60), "{clock:?}");
            assert_eq!((side, own.left.judged), (if seconds < 420 { "left" } else { "over" }, Judged::ByBoot));
            assert_eq!(own.notice(), None);
        }
    }
    // Started anew: by the wall, and it says so.
    let anew = FakeClock { seconds: 100, boot: 2, wall_off: 0 };
    let own = timers(&house.studio, &anew.reading()).expect("timers").remove(0);
    assert_eq!(own.words(), ("5:20".into(), "left"));
    assert!(own.notice().expect("a notice").contains("started anew"));
    let all = timers(&house.studio, &anew.reading()).expect("timers");
    assert_eq!(all.len(), 4);
    put_timer_away(&mut house.studio, &anew.reading(), &first.to_string()).expect("put away");
    put_timer_away(&mut house.studio, &anew.reading(), &first.to_string()).expect("away already");
    assert_eq!(timers(&house.studio, &anew.reading()).expect("timers").len(), 3);
    assert_eq!(put_timer_away(&mut house.studio, &anew.reading(), "99").expect_err("none").code, "timer_unknown");
}

#[test]
fn a_session_goes_on_where_the_wall_clock_was_put_back() {
    let mut day = Day::new(&three());
    day.clock = EARLY.at(60);
    day.next(0);
    // Another start of the machine, and a wall clock an hour behind: nothing happens before what happened last.
    day.clock = FakeClock { seconds: 600, boot: 2, wall_off: -3600 };
    day.next(0);
    assert_eq!(day.step(0), (Some(Step::Dry(1)), true));
    assert_eq!(day.view().now.clock(), "1:00");
}

#[derive(Clone, Copy, Debug)]
enum Random {
    Tap(usize, u8, u64),
    Undo(u8),
    Reopen,
}

fn taps() -> impl Strategy<Value = Vec<Random>> {
    let tap = (0..4_usize, 0..20_u8, 0..900_u64).prop_map(|(print, what, seconds)| Random::Tap(print, what, seconds));
    collection::vec(
        prop_oneof![12 => tap, 1 => (0..6_u8).prop_map(Random::Undo), 1 => proptest::strategy::Just(Random::Reopen)],
        1..60,
    )
}

fn what(number: u8) -> Tapped {
    match number {
        0 => Tapped::Skip,
        1 => Tapped::Spoiled,
        2 => Tapped::Recoated,
        3 => Tapped::Late(Some("4min".into())),
        4 => Tapped::Drop(0),
        5 => Tapped::Drop(7),
        6 => Tapped::Timer,
        7 => Tapped::Late(None),
        _ => Tapped::Next,
    }
}

/// Two of the same thing at the same time, in what is ahead and what was planned of it.
fn used_twice(view: &SessionView) -> Option<String> {
    let mut all: Vec<_> =
        view.plan.schedule.tasks.iter().flat_map(|task| task.uses.iter().map(move |own| (own, task))).collect();
    all.retain(|(own, _)| own.begins < own.ends);
    all.sort_by_key(|(own, _)| (own.resource, own.unit, own.begins));
    let twice = all.windows(2).find(|pair| {
        let [(one, _), (other, _)] = pair else { return false };
        (one.resource, one.unit) == (other.resource, other.unit) && other.begins < one.ends
    });
    twice.map(|pair| format!("{pair:?}"))
}

proptest! {
    #![proptest_config(proptest::test_runner::Config { cases: 12, ..proptest::test_runner::Config::default() })]

    #[test]
    fn random_taps_lose_nothing_and_use_nothing_twice(taps in taps()) {
        let mut day = Day::new(&three());
        for one in &taps {
            match *one {
                Random::Reopen => day.house.reopen(),
                Random::Undo(back) => {
                    let rows = acts(&day.house.studio, 6).expect("acts");
                    if let Some(row) = rows.get(usize::from(back)).filter(|row| row.kind == "coat") {
                        // Refused where something stands on it.
                        let _ = undo(&mut day.house.studio, &now(), &row.act.to_string());
                    }
                }
                Random::Tap(print, number, seconds) => {
                    day.clock.seconds += seconds;
                    let before = day.view();
                    match day.tap(print, what(number)) {
                        Ok(_) => {}
                        Err(refusal) => {
                            let known = ["session_print_unknown", "print_finished", "step_not_coating", "pour_not_there", "step_not_begun", "session_ended"];
                            prop_assert!(known.contains(&refusal.code), "{refusal:?}");
                            let after = day.view();
                            prop_assert_eq!(&before.prints, &after.prints);
                        }
                    }
                    prop_assert_eq!(used_twice(&day.view()), None);
                }
            }
        }
        day.go_to_the_end();
        // Every coat of the session became a print, was spoiled, or was taken back: none waits for nothing.
        let open = open_coats(&day.house.studio).expect("coats");
        prop_assert!(open.is_empty(), "{open:?}");
        let posted = acts(&day.house.studio, 500).expect("acts").into_iter().filter(|row| row.kind == "print" && row.undone_by.is_none()).count();
        let made = prints(&day.house.studio, "", 100, None).expect("prints").len();
        prop_assert_eq!(posted, made);
        day.house.sound();
    }
}
