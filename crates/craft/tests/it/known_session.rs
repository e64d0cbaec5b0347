//! Plans against what is known of schedules outside: the round of a workshop, and theorems on machines in a row and
//! side by side.

use handcoat_craft::session::{Bound, BoundBy, Means, Resource, Schedule, Sheet, Spans};
use handcoat_craft::source::{Citation, Status};
use proptest::{collection, prop_assert, proptest};

use crate::session::{minutes, nothing, sheet, to_minutes};

/// Eight people, one lamp of 12 minutes, one frame: 96 minutes a round. Common practice, no source; the product is its own.
#[test]
fn eight_people_on_one_lamp_take_96_minutes_a_round() {
    let round = vec![sheet(Spans { expose: minutes(12), ..nothing() }); 8];
    let plan = Schedule::make(&round, &Means { people: 8, ..Means::default() }).expect("a plan");
    assert_eq!(plan.total(), minutes(96));
    let bound = Bound::of(&round, &Means { people: 8, ..Means::default() }).expect("a bound");
    assert_eq!((bound.span, bound.by, bound.busy), (minutes(96), BoundBy::Busy(Resource::Lamp), minutes(96)));
    // With all the steps and frames enough the lamp still decides, and is never idle from its first sheet to its last.
    let spans = Spans { expose: minutes(12), ..Spans::usual() };
    let means = Means { people: 8, drying: 8, frames: 8, wash: 8, developer: 2, clearing: [2; 3], ..Means::default() };
    let whole = vec![sheet(spans); 8];
    let plan = Schedule::make(&whole, &means).expect("a plan");
    let bound = Bound::of(&whole, &means).expect("a bound");
    assert_eq!((bound.by, bound.busy), (BoundBy::Busy(Resource::Lamp), minutes(96)));
    assert_eq!(plan.total(), bound.span);
    // Two lamps: two lots of four.
    let two = Bound::of(&whole, &Means { lamps: 2, ..means }).expect("a bound");
    assert_eq!(to_minutes(bound.span) - to_minutes(two.span), 48.0);
}

/// Two machines in a row: hanging needs no place, so coating (a hand) and exposing (a lamp) are the two.
fn row(first: u64, second: u64) -> Sheet {
    sheet(Spans { coat: minutes(first), expose: minutes(second), ..nothing() })
}

/// Johnson's rule: the optimum of two machines in a row.
fn johnson(jobs: &[(u64, u64)]) -> u64 {
    let mut order: Vec<_> = jobs.to_vec();
    order.sort_by_key(|&(a, b)| if a < b { (0, a) } else { (1, u64::MAX - b) });
    let (mut first, mut second) = (0, 0);
    for (a, b) in order {
        first += a;
        second = second.max(first) + b;
    }
    second
}

/// Johnson (1954), the worked example of five items, optimum 47: from memory, computed again by his rule.
#[test]
fn johnsons_example_of_two_machines_in_a_row() {
    const CITE: Citation = Citation::memory("johnson1954", "example of five items");
    assert_eq!(CITE.status, Status::Memory);
    let jobs = [(4, 5), (4, 1), (30, 4), (6, 30), (2, 3)];
    assert_eq!(johnson(&jobs), 47);
    let sheets: Vec<Sheet> = jobs.iter().map(|&(a, b)| row(a, b)).collect();
    let total = to_minutes(Schedule::make(&sheets, &Means::default()).expect("a plan").total());
    assert!((47.0..=1.15 * 47.0).contains(&total), "{total} min against 47");
}

proptest! {
    /// Graham (1966), from memory: a list on m machines side by side is at most 2 - 1/m times the best there is. The
    /// best is at least the larger of the longest job and the mean load, which is our bound.
    #[test]
    fn grahams_bound_for_hands_side_by_side(coats in collection::vec(1..60_u64, 1..24), people in 1..5_u16) {
        let sheets: Vec<Sheet> = coats.iter().map(|&coat| row(coat, 0)).collect();
        let means = Means { people, ..Means::default() };
        let total = to_minutes(Schedule::make(&sheets, &means).expect("a plan").total());
        let longest = *coats.iter().max().expect("one") as f64;
        let load = coats.iter().sum::<u64>() as f64 / f64::from(people);
        prop_assert!(total <= (load + longest * (1.0 - 1.0 / f64::from(people))) + 1e-9);
        let bound = to_minutes(Bound::of(&sheets, &means).expect("a bound").span);
        prop_assert!((bound - longest.max(load)).abs() < 1e-3, "{bound} against {longest} and {load}");
    }

    /// No plan beats the optimum of two machines in a row, nor does the bound.
    #[test]
    fn johnsons_optimum_is_never_beaten(jobs in collection::vec((1..40_u64, 1..40_u64), 1..8)) {
        let sheets: Vec<Sheet> = jobs.iter().map(|&(a, b)| row(a, b)).collect();
        let best = johnson(&jobs) as f64;
        let total = to_minutes(Schedule::make(&sheets, &Means::default()).expect("a plan").total());
        let bound = to_minutes(Bound::of(&sheets, &Means::default()).expect("a bound").span);
        prop_assert!(bound <= best && best <= total + 1e-9, "{bound} {best} {total}");
    }
}

/// Graham (1969), from memory: longest first on m machines is at most 4/3 - 1/(3m) of the best, and his tight example
/// for three machines, 5 5 4 4 3 3 3, comes to 11 where 9 is possible.
#[test]
fn grahams_tight_example_of_longest_first() {
    const CITE: Citation = Citation::memory("graham1969", "the bound for longest processing time first");
    assert_eq!(CITE.status, Status::Memory);
    let sheets: Vec<Sheet> = [5, 5, 4, 4, 3, 3, 3].iter().map(|&coat| row(coat, 0)).collect();
    let total = Schedule::make(&sheets, &Means { people: 3, ..Means::default() }).expect("a plan").total();
    assert!(total <= minutes(11) && total >= minutes(9), "{total:?}");
}
