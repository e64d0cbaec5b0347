//! Two prints side by side: what changed, what explains it, what cannot be said.

use handcoat_craft::measure::{AgentDose, Readable, RelativeHumidity, Span, Temperature, Uptake};
use handcoat_craft::print::{Conditions, Likelihood, Reading, compare, suspect};
use handcoat_craft::source::{BASE_TIME_STANDS_ON, Condition, Sign, causes};
use proptest::prelude::{Strategy, any, prop};
use proptest::{prop_assert, prop_assert_eq, proptest};

fn read<Q: Readable>(text: &str) -> Q {
    Q::read(text).expect(text)
}

fn usual() -> Conditions {
    let mut print = Conditions::default();
    print.set(Condition::Paper, Reading::word("Cotton rag 300"));
    print.set(Condition::PaperLot, Reading::word("A7"));
    print.set(Condition::RoomHumidity, read::<RelativeHumidity>("52%"));
    print.set(Condition::CoatPerArea, read::<Uptake>("0.38mL/100cm2"));
    print.set(Condition::AgentDose, read::<AgentDose>("0.5mg/mL"));
    print.set(Condition::ExposureTime, Reading::span(read::<Span>("6:00")));
    print.set(Condition::LampHours, Reading::hours(120.0));
    print.set(Condition::DeveloperTemperature, read::<Temperature>("20C"));
    print
}

fn changed(set: impl FnOnce(&mut Conditions)) -> Conditions {
    let mut print = usual();
    set(&mut print);
    print
}

#[test]
fn the_likeliest_change_comes_first_and_one_that_works_the_other_way_last() {
    let after = changed(|print| {
        print.set(Condition::ExposureTime, Reading::span(read::<Span>("8:00")));
        print.set(Condition::RoomHumidity, read::<RelativeHumidity>("30%"));
        print.set(Condition::PaperLot, Reading::word("B2"));
        print.set(Condition::DeveloperTemperature, read::<Temperature>("21C"));
    });
    let darker = compare(&usual(), &after, Some(Sign::Darker));
    let order: Vec<_> = darker.changed.iter().map(|own| (own.of, own.likelihood)).collect();
    assert_eq!(
        order,
        [
            (Condition::ExposureTime, Likelihood::Likely),
            (Condition::PaperLot, Likelihood::Possible),
            (Condition::RoomHumidity, Likelihood::Against),
        ]
    );
    assert_eq!((darker.changed[0].before.as_str(), darker.changed[0].after.as_str()), ("6:00", "8:00"));
    assert_eq!(darker.small.iter().map(|own| own.of).collect::<Vec<_>>(), [Condition::DeveloperTemperature]);
    // Lighter is darker the other way round: less light would explain it, more does not.
    let lighter = compare(&usual(), &after, Some(Sign::Lighter));
    assert_eq!(lighter.changed[0].of, Condition::RoomHumidity);
    assert_eq!(lighter.changed.last().map(|own| own.of), Some(Condition::ExposureTime));
}

#[test]
fn a_larger_change_goes_before_a_smaller_one_of_the_same_rank() {
    let after = changed(|print| {
        print.set(Condition::ExposureTime, Reading::span(read::<Span>("6:30")));
        print.set(Condition::RoomHumidity, read::<RelativeHumidity>("75%"));
    });
    let darker = compare(&usual(), &after, Some(Sign::Darker));
    assert_eq!(darker.changed[0].of, Condition::RoomHumidity, "five times what counts against one");
}

#[test]
fn what_reads_the_same_is_the_same() {
    let after = changed(|print| print.set(Condition::LampHours, Reading::hours(120.2)));
    let found = compare(&usual(), &after, None);
    assert!(found.changed.is_empty() && found.small.is_empty(), "{:?}", found.small);
    assert!(found.same.contains(&Condition::LampHours));
}

#[test]
fn unknown_is_never_the_same() {
    let mut bare = Conditions::default();
    bare.set(Condition::Paper, Reading::word("cotton RAG 300"));
    let found = compare(&bare, &usual(), None);
    assert_eq!(found.same, [Condition::Paper]);
    assert_eq!(found.unknown.len(), usual().known().count() - 1);
    assert!(found.changed.is_empty() && found.small.is_empty());
}

/// The trade (common practice, no source): a base time is kept until lot, lamp hours, developer, humidity or coating change.
#[test]
fn a_base_time_is_suspect_when_what_it_stands_on_changed() {
    for (of, now) in [
        (Condition::PaperLot, Reading::word("B2")),
        (Condition::LampHours, Reading::hours(180.0)),
        (Condition::Developer, Reading::word("ammonium citrate")),
        (Condition::RoomHumidity, read::<RelativeHumidity>("40%").into()),
        (Condition::CoatPerArea, read::<Uptake>("0.5mL/100cm2").into()),
    ] {
        let then = changed(|print| print.set(Condition::Developer, Reading::word("potassium oxalate")));
        let mut after = then.clone();
        after.set(of, now);
        let (changes, unknown) = suspect(&then, &after);
        assert_eq!(changes.iter().map(|own| own.of).collect::<Vec<_>>(), [of]);
        assert_eq!(unknown, []);
    }
    // The exposure time itself, and clearing, do not make it suspect.
    let after = changed(|print| {
        print.set(Condition::ExposureTime, Reading::span(read::<Span>("12:00")));
        print.set(Condition::ClearingTime, Reading::span(read::<Span>("30:00")));
    });
    assert_eq!(suspect(&usual(), &after), (Vec::new(), Vec::new()));
    let bare = Conditions::default();
    assert!(suspect(&usual(), &bare).1.contains(&Condition::LampHours), "what is not known cannot be trusted");
}

#[test]
fn every_sign_has_causes_and_names_none_twice() {
    for &sign in Sign::all() {
        let named: Vec<_> = causes(sign).iter().map(|cause| cause.of).collect();
        let mut once = named.clone();
        once.sort_unstable();
        once.dedup();
        assert!(!named.is_empty() && once.len() == named.len(), "{}", sign.words());
    }
    let mut once = BASE_TIME_STANDS_ON.value.to_vec();
    once.sort_unstable();
    once.dedup();
    assert_eq!(once.len(), BASE_TIME_STANDS_ON.value.len());
}

proptest! {
    /// Whatever differs stands in exactly one of the lists, and turning the pair round changes no membership.
    #[test]
    fn nothing_is_lost_and_nothing_is_counted_twice(first in some(), second in some(), sign in prop::sample::select(Sign::all().to_vec())) {
        let found = compare(&first, &second, Some(sign));
        let mut seen: Vec<Condition> = found.changed.iter().chain(&found.small).map(|own| own.of).collect();
        seen.extend(found.unknown.iter().chain(&found.same));
        seen.sort_unstable();
        let mut either: Vec<Condition> = first.known().chain(second.known()).map(|(of, _)| of).collect();
        either.sort_unstable();
        either.dedup();
        prop_assert_eq!(seen, either);
        let turned = compare(&second, &first, Some(sign));
        prop_assert_eq!(found.changed.len(), turned.changed.len());
        prop_assert_eq!(found.unknown, turned.unknown);
        prop_assert!(found.changed.is_sorted_by_key(|own| own.likelihood));
        prop_assert!(compare(&first, &first, Some(sign)).changed.is_empty());
    }
}

fn some() -> impl Strategy<Value = Conditions> {
    let one = (prop::sample::select(Condition::all().to_vec()), 0.0..200.0_f64, any::<bool>());
    prop::collection::vec(one, 0..20).prop_map(|rows| {
        let mut print = Conditions::default();
        for (of, value, word) in rows {
            let reading = if word { Reading::word(&format!("w{}", value as u32 % 3)) } else { Reading::ratio(value) };
            print.set(of, reading);
        }
        print
    })
}

/// Trap: "a longer exposure mends a flat or harsh print". It moves tones; only the range of the negative or the agent changes the scale.
#[test]
fn exposure_is_no_cause_of_flat_or_harsh() {
    for sign in [Sign::Flatter, Sign::Harsher] {
        let named: Vec<_> = causes(sign).iter().map(|cause| cause.of).collect();
        assert!(!named.contains(&Condition::ExposureTime));
        assert!(named.contains(&Condition::NegativeRange) && named.contains(&Condition::AgentDose));
    }
    let after = changed(|print| {
        print.set(Condition::ExposureTime, Reading::span(read::<Span>("12:00")));
        print.set(Condition::AgentDose, read::<AgentDose>("0.25mg/mL"));
    });
    let flat = compare(&usual(), &after, Some(Sign::Flatter));
    let order: Vec<_> = flat.changed.iter().map(|own| (own.of, own.likelihood)).collect();
    assert_eq!(order, [(Condition::AgentDose, Likelihood::Likely), (Condition::ExposureTime, Likelihood::Open)]);
}
