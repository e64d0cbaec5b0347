//! Timers within one start of the machine, after another, and on a machine that has only the wall clock.

use handcoat_craft::measure::Span;
use handcoat_craft::session::{BootClock, Judged, Reading, SinceBoot, Timer, WallClock};
use proptest::{prop_assert, prop_assert_eq, proptest};

fn reading(wall: i64, boot: Option<(&str, u64)>) -> Reading {
    let boot = boot.map(|(boot, since)| BootClock { boot: boot.into(), since: SinceBoot::milliseconds(since) });
    Reading { wall: WallClock::milliseconds(wall), boot }
}

fn timer(begun: Reading, span: u64) -> Timer {
    Timer { begun, span: Span::milliseconds(span).expect("a span") }
}

proptest! {
    #[test]
    fn within_one_start_the_wall_clock_may_do_what_it_likes(
        begun in 0..1_000_000_000_u64, ran in 0..1_000_000_000_u64, span in 0..100_000_000_u64,
        then in i64::MIN..i64::MAX, now in i64::MIN..i64::MAX,
    ) {
        let timer = timer(reading(then, Some(("one", begun))), span);
        let left = timer.left(&reading(now, Some(("one", begun + ran))));
        prop_assert_eq!(left.judged, Judged::ByBoot);
        prop_assert_eq!(left.ran.to_milliseconds(), ran);
        prop_assert_eq!(left.left.to_milliseconds(), span.saturating_sub(ran));
        prop_assert_eq!(left.over.to_milliseconds(), ran.saturating_sub(span));
    }

    #[test]
    fn after_another_start_the_wall_clock_is_believed_and_that_is_said(
        ran in 0..1_000_000_000_i64, span in 0..100_000_000_u64, since in 0..1_000_000_u64,
    ) {
        const THEN: i64 = 1_790_000_000_000;
        let timer = timer(reading(THEN, Some(("one", 5_000))), span);
        let left = timer.left(&reading(THEN + ran, Some(("another", since))));
        prop_assert_eq!(left.judged, Judged::ByWallAfterRestart);
        prop_assert_eq!(left.ran.to_milliseconds(), ran.unsigned_abs());
        prop_assert!(left.left == Span::ZERO || left.over == Span::ZERO);
    }
}

#[test]
fn a_clock_put_back_an_hour_changes_nothing() {
    let timer = timer(reading(7_200_000, Some(("one", 60_000))), 360_000);
    let left = timer.left(&reading(3_600_000, Some(("one", 120_000))));
    assert_eq!((left.left.clock(), left.judged), ("5:00".into(), Judged::ByBoot));
    // After a restart it cannot be known; the timer is not shown as longer than it was set.
    let left = timer.left(&reading(3_600_000, Some(("two", 1_000))));
    assert_eq!((left.left.clock(), left.judged), ("6:00".into(), Judged::ByWallAfterRestart));
}

#[test]
fn a_machine_with_only_the_wall_clock_says_so() {
    let timer = timer(reading(0, None), 360_000);
    for now in [reading(400_000, None), reading(400_000, Some(("one", 1)))] {
        let left = timer.left(&now);
        assert_eq!((left.over.clock(), left.judged), ("0:40".into(), Judged::ByWallOnly));
    }
    let long_ago = timer.left(&reading(i64::MAX, None));
    assert_eq!(long_ago.ran, Span::LONGEST);
}
