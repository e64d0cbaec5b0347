//! Mixing at the bench, walked as a maker walks it.

use handcoat_work::bench::{Begin, BenchNumber, BenchView, Button, Reply, Step, begin, open_benches, reply, stand};
use handcoat_work::ledger::acts;

use crate::studio::{TestStudio, now};

fn palladium() -> Begin {
    Begin {
        jar: Some("palladium".into()),
        make: Some("40mL".into()),
        balance: Some("0.01g".into()),
        capacity: Some("50mL".into()),
        name: Some("march stock".into()),
        ..Begin::default()
    }
}

impl TestStudio {
    fn done(&mut self, work: BenchNumber) -> BenchView {
        let step = stand(&self.studio, work).expect("it stands").step;
        self.answer(work, Reply { step: Some(step), ..Reply::default() })
    }

    fn reads(&mut self, work: BenchNumber, text: &str) -> BenchView {
        let step = stand(&self.studio, work).expect("it stands").step;
        self.answer(work, Reply { step: Some(step), reads: Some(text.into()), ..Reply::default() })
    }

    fn way(&mut self, work: BenchNumber, verb: &str) -> BenchView {
        let shown = stand(&self.studio, work).expect("it stands");
        let Button::Ways(ways) = &shown.button else { panic!("no ways on at {:?}", shown.step) };
        let place = ways.iter().position(|way| way.verb == verb).unwrap_or_else(|| panic!("no {verb} in {ways:?}"));
        self.answer(work, Reply { step: Some(shown.step), way: Some(place), ..Reply::default() })
    }

    fn answer(&mut self, work: BenchNumber, answer: Reply) -> BenchView {
        // Every answer comes to a book that was opened anew: nothing is kept in a process.
        self.reopen();
        reply(&mut self.studio, &now(), work, &answer).expect("the step is taken")
    }
}

fn studio() -> TestStudio {
    let mut studio = TestStudio::new();
    studio.jar("PdCl2", "10g", "palladium");
    studio
}

#[test]
fn a_bottle_is_mixed_step_by_step() {
    let mut studio = studio();
    let work = begin(&mut studio.studio, &now(), &palladium()).expect("begun");
    let first = stand(&studio.studio, work).expect("it stands");
    assert_eq!((first.step, first.place), (Step::Protect, (1, 14)));
    assert!(first.caution.is_some() && !first.can_go_back);
    studio.done(work);
    studio.reads(work, "61,20");
    studio.done(work);
    let chloride = stand(&studio.studio, work).expect("it stands");
    assert_eq!(chloride.target, Some(("2.40".into(), "g")));
    assert_eq!(chloride.button, Button::Reads { target: "2.40 g".into() });
    assert_eq!(studio.done(work).step, Step::Dissolve);
    studio.done(work);
    assert_eq!(studio.done(work).step, Step::Powder);
    assert_eq!(studio.done(work).step, Step::Add, "as planned, so no ways on");
    for step in [Step::Stir, Step::Pour, Step::Rinse, Step::Mark, Step::Full] {
        assert_eq!(studio.done(work).step, step);
    }
    let last = studio.reads(work, "105.0 g");
    assert_eq!(last.step, Step::Tomorrow);
    assert_eq!(last.button, Button::Finished);
    assert!(last.act.is_some());
    let bottle = studio.item("march stock");
    assert_eq!(bottle.volume.map(|own| own.to_millilitres()), Some(40.0));
    assert!((bottle.percent.expect("a strength").to_grams_per_100_ml() - 14.99).abs() < 0.02);
    assert_eq!(bottle.facts.empty_ug, Some(61_200_000));
    assert!(open_benches(&studio.studio).expect("open work").is_empty());
    assert!((studio.item("palladium").mass.expect("powder").to_grams() - 6.35).abs() < 1e-9);
    studio.sound();
}

#[test]
fn an_overshoot_is_made_more_of() {
    let mut studio = studio();
    let work = begin(&mut studio.studio, &now(), &palladium()).expect("begun");
    for _ in 0..6 {
        studio.done(work);
    }
    let ways = studio.reads(work, "3.97g");
    assert_eq!(ways.step, Step::PowderWay);
    assert_eq!(ways.heading, "3.97 g, planned 3.65 g");
    let Button::Ways(buttons) = &ways.button else { panic!("no ways on") };
    let verbs: Vec<&str> = buttons.iter().map(|way| way.verb.as_str()).collect();
    assert_eq!(verbs, ["Put some back", "Make more", "Keep it and relabel"]);
    assert!(buttons[2].quiet && !buttons[1].quiet);
    let add = studio.way(work, "Make more");
    assert_eq!(add.step, Step::Add);
    assert!(add.note.expect("a note").contains("0.2 g more of the chloride"));
    for _ in 0..3 {
        studio.done(work);
    }
    let mark = studio.done(work);
    assert_eq!(mark.step, Step::Mark);
    let mark_ml: f64 = mark.target.expect("a mark").0.parse().expect("a number");
    assert!((mark_ml - 43.51).abs() < 0.02, "{mark_ml}");
    studio.done(work);
    studio.done(work);
    let bottle = studio.item("march stock");
    assert!((bottle.percent.expect("a strength").to_grams_per_100_ml() - 14.99).abs() < 0.03);
    studio.sound();
}

#[test]
fn some_is_put_back_and_weighed_again() {
    let mut studio = studio();
    let work = begin(&mut studio.studio, &now(), &palladium()).expect("begun");
    for _ in 0..6 {
        studio.done(work);
    }
    studio.reads(work, "3.97g");
    assert_eq!(studio.way(work, "Put some back").step, Step::Powder);
    assert_eq!(studio.reads(work, "3.65").step, Step::Add);
}

#[test]
fn a_second_tap_is_taken_once() {
    let mut studio = studio();
    let work = begin(&mut studio.studio, &now(), &palladium()).expect("begun");
    let tap = Reply { step: Some(Step::Protect), ..Reply::default() };
    assert_eq!(studio.answer(work, tap.clone()).step, Step::EmptyBottle);
    assert_eq!(studio.answer(work, tap).step, Step::EmptyBottle);
    for _ in 0..11 {
        studio.done(work);
    }
    let last = Reply { step: Some(Step::Full), ..Reply::default() };
    let once = studio.answer(work, last.clone());
    let twice = studio.answer(work, last);
    assert_eq!(once.act, twice.act);
    let mixes = acts(&studio.studio, 50).expect("acts").into_iter().filter(|act| act.kind == "mix").count();
    assert_eq!(mixes, 1);
}

#[test]
fn one_step_back_asks_again() {
    let mut studio = studio();
    let work = begin(&mut studio.studio, &now(), &palladium()).expect("begun");
    for _ in 0..7 {
        studio.done(work);
    }
    let back = studio.answer(work, Reply { back: true, ..Reply::default() });
    assert_eq!(back.step, Step::Powder);
    assert_eq!(studio.reads(work, "3.7").step, Step::PowderWay);
    studio.answer(work, Reply { back: true, ..Reply::default() });
    assert_eq!(studio.done(work).step, Step::Add);
}

#[test]
fn a_reading_that_cannot_be_leaves_the_work_where_it_stood() {
    let mut studio = studio();
    let work = begin(&mut studio.studio, &now(), &palladium()).expect("begun");
    for _ in 0..6 {
        studio.done(work);
    }
    for (text, code) in [
        ("much", "number_missing"),
        ("0", "nothing_asked"),
        ("3.1.2", "number_two_marks"),
        ("5mL", "unit_of_another_kind"),
    ] {
        let answer = Reply { step: Some(Step::Powder), reads: Some(text.into()), ..Reply::default() };
        let refused = reply(&mut studio.studio, &now(), work, &answer).expect_err(text);
        assert_eq!(refused.code, code, "{text}");
        assert_eq!(stand(&studio.studio, work).expect("it stands").step, Step::Powder);
    }
}

#[test]
fn a_vial_is_dissolved_whole() {
    let mut studio = TestStudio::new();
    studio.jar("K2PtCl4", "2.06g", "platinum");
    let answers = Begin {
        jar: Some("platinum".into()),
        salt_mass: Some("2g".into()),
        balance: Some("0.01g".into()),
        ..Begin::default()
    };
    let work = begin(&mut studio.studio, &now(), &answers).expect("begun");
    studio.done(work);
    let full = studio.done(work);
    assert_eq!(full.step, Step::VialFull);
    assert!(full.caution.expect("a caution").contains("allergic"));
    assert_eq!(full.button, Button::Reading { may_skip: false });
    studio.reads(work, "14.37");
    studio.done(work);
    let ways = studio.reads(work, "12.31");
    assert_eq!(ways.step, Step::PowderWay);
    let Button::Ways(buttons) = &ways.button else { panic!("no ways on") };
    assert_eq!(buttons.iter().map(|way| way.verb.as_str()).collect::<Vec<_>>(), ["Make more"]);
    assert_eq!(studio.way(work, "Make more").step, Step::Stir);
    for _ in 0..5 {
        studio.done(work);
    }
    assert_eq!(stand(&studio.studio, work).expect("it stands").step, Step::Tomorrow);
    let bottle = studio.item("platinum stock");
    assert!((bottle.volume.expect("a volume").to_millilitres() - 10.3).abs() < 0.05);
    studio.sound();
}

#[test]
fn swept_powder_goes_first() {
    let mut studio = studio();
    let sweep = handcoat_work::shelf::Sweep {
        from: Some("palladium".into()),
        mass: Some("0.05g".into()),
        into: Some("swept".into()),
    };
    handcoat_work::shelf::sweep(&mut studio.studio, &now(), &sweep).expect("swept");
    let work = begin(&mut studio.studio, &now(), &palladium()).expect("begun");
    for _ in 0..5 {
        studio.done(work);
    }
    let powder = studio.done(work);
    assert_eq!(powder.target, Some(("3.60".into(), "g")));
    for _ in 0..7 {
        studio.done(work);
    }
    assert_eq!(stand(&studio.studio, work).expect("it stands").step, Step::Tomorrow);
    let total: f64 = studio.item("march stock").metal.expect("metal").1.to_grams();
    assert!((total - 3.65 * 0.99 * 0.6002).abs() < 2e-3, "{total}");
    assert!(handcoat_work::shelf::shelf_item(&studio.studio, "swept", now().at).is_err(), "the empty vial is put away");
}

#[test]
fn what_cannot_be_is_told_before_the_gloves() {
    let mut studio = studio();
    for (answers, code) in [
        (Begin { jar: Some("gold".into()), ..palladium() }, "item_unknown"),
        (Begin { make: Some("400mL".into()), ..palladium() }, "more_than_held"),
        (Begin { name: Some("Palladium".into()), ..palladium() }, "name_taken"),
        (Begin { balance: Some("5".into()), ..palladium() }, "unit_missing"),
        (Begin { make: None, capacity: None, ..palladium() }, "goal_missing"),
    ] {
        let refused = begin(&mut studio.studio, &now(), &answers).expect_err(code);
        assert_eq!(refused.code, code, "{}", refused.cause);
    }
    assert!(open_benches(&studio.studio).expect("open work").is_empty());
}
