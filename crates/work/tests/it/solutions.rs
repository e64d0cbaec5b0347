//! Iron, chlorate, developers and clearing baths on the shelf: mixed from several jars, thinned, tested, labelled.

use handcoat_craft::measure::Bounded;
use handcoat_work::ledger::{balance, undo};
use handcoat_work::shelf::{
    Count, Dilute, Due, ItemView, LabelAnswers, Mix, Notice, Pour, Receive, Split, TestOf, count, dilute, label, mix,
    pour, receive, shelf, split, test,
};
use handcoat_work::stock::{Answers, AnyPlan, plan_any};
use handcoat_work::{Moment, Refusal};
use jiff::SignedDuration;

use crate::studio::{TestStudio, now, some};

fn jar(studio: &mut TestStudio, formula: &str, form: Option<&str>, mass: &str, name: &str, price: &str) {
    let answers = Receive {
        formula: some(formula),
        hydrate: form.map(String::from),
        mass: some(mass),
        name: some(name),
        price: some(price),
        currency: some("EUR"),
        ..Receive::default()
    };
    receive(&mut studio.studio, &now(), &answers).expect("received");
}

fn jars() -> TestStudio {
    let mut studio = TestStudio::new();
    jar(&mut studio, "ferric oxalate", None, "100g", "iron jar", "60");
    jar(&mut studio, "oxalic acid", Some("dihydrate"), "500g", "oxalic jar", "20");
    jar(&mut studio, "potassium chlorate", None, "100g", "chlorate jar", "10");
    studio
}

fn iron(and: &[&str], make: &str, name: &str) -> Mix {
    Mix {
        from: some("iron jar"),
        mass: some("27g"),
        and: and.iter().map(|own| String::from(*own)).collect(),
        make: some(make),
        name: some(name),
        balance: some("0.1g"),
        ..Mix::default()
    }
}

fn percents(item: &ItemView) -> Vec<(String, f64)> {
    let round = |own: f64| (own * 1e6).round() / 1e6;
    item.dissolved.iter().map(|own| (own.name.clone(), round(own.percent.in_unit()))).collect()
}

fn sum(studio: &TestStudio, commodity: &str) -> i64 {
    let rows = balance(&studio.studio).expect("balances");
    rows.iter().filter(|row| row.commodity.to_string() == commodity).map(|row| row.amount.to_units()).sum()
}

#[test]
fn an_iron_stock_is_mixed_of_two_jars_and_carries_their_money() {
    let mut studio = jars();
    mix(&mut studio.studio, &now(), &iron(&["oxalic jar=2g"], "100mL", "A")).expect("mixed");
    let bottle = studio.item("A");
    assert_eq!(percents(&bottle), [("ferric oxalate".into(), 27.0), ("oxalic acid".into(), 2.0)]);
    // 27/100 of 60 EUR and 2/500 of 20 EUR.
    assert_eq!(bottle.cost.iter().map(|own| own.to_minor()).collect::<Vec<_>>(), [1620 + 8]);
    assert_eq!((bottle.metal, sum(&studio, "EUR")), (None, 0));
    assert_eq!(studio.item("iron jar").mass.expect("powder").to_grams(), 73.0);
    assert_eq!(studio.item("oxalic jar").mass.expect("powder").to_grams(), 498.0);
    // Its form is not known: a range of moles (27 % is 0.558 mol/L as hexahydrate, 0.719 dry), never one number.
    let first = &bottle.dissolved[0];
    let (least, most) = first.molarity.expect("a range");
    assert!(first.form_open && (least.in_unit() - 0.558_043).abs() < 1e-6 && (most.in_unit() - 0.718_574).abs() < 1e-6);
    assert!(first.percent_rel_u.is_some_and(|own| own > 0.001 && own < 0.02), "{first:?}");
    assert!(!bottle.dissolved[1].form_open, "the dihydrate is stated");
    // It rests overnight, and is tested before it is used.
    assert!(bottle.due.iter().any(|due| matches!(due, Due::Rest(_))), "{:?}", bottle.due);
    let tests: Vec<&str> =
        bottle.due.iter().filter_map(|due| if let Due::Test(test, _) = due { Some(*test) } else { None }).collect();
    assert_eq!(tests, ["ferrous", "works-at-all", "fog strip"]);
    studio.sound();
}

#[test]
fn a_passed_test_is_not_due_and_says_nothing_of_another() {
    let mut studio = jars();
    mix(&mut studio.studio, &now(), &iron(&[], "100mL", "A")).expect("mixed");
    let done = |studio: &mut TestStudio, name: &str, verdict: &str| {
        let answers = TestOf { bottle: some("A"), test: some(name), verdict: some(verdict) };
        test(&mut studio.studio, &now(), &answers).expect("tested").said
    };
    let said = done(&mut studio, "ferrous", "failed");
    assert!(said.iter().any(|own| own.contains("iron(II)")), "{said:?}");
    done(&mut studio, "Fog strip", "passed");
    let bottle = studio.item("A");
    assert!(bottle.notices.contains(&Notice::TestFailed("ferrous".into())), "{:?}", bottle.notices);
    let due =
        |bottle: &ItemView, name: &str| bottle.due.iter().any(|due| matches!(due, Due::Test(test, _) if *test == name));
    assert!(!due(&bottle, "fog strip") && !due(&bottle, "ferrous") && due(&bottle, "works-at-all"), "{:?}", bottle.due);
    done(&mut studio, "ferrous", "passed");
    assert!(!studio.item("A").notices.iter().any(|own| matches!(own, Notice::TestFailed(_))));
}

#[test]
fn iron_with_chlorate_says_its_grams_its_cap_and_its_date() {
    let mut studio = jars();
    let answers = Mix { mass: some("6.75g"), ..iron(&["oxalic jar=0.5g", "chlorate jar=0.3g"], "25mL", "B") };
    let done = mix(&mut studio.studio, &now(), &answers).expect("recorded, though warned of");
    assert!(
        done.said.iter().any(|own| own.contains("0.3 g of chlorate") && own.contains("vented cap")),
        "{:?}",
        done.said
    );
    assert!(done.said.iter().any(|own| own.contains("chlorine dioxide")), "{:?}", done.said);
    let bottle = studio.item("B");
    assert_eq!(percents(&bottle).last().map(|own| own.1), Some(1.2));
    let notice = bottle.notices.iter().find(|own| matches!(own, Notice::ChlorateInIron(_)));
    assert!(notice.is_some_and(|own| own.to_string().contains("never warmed")), "{:?}", bottle.notices);
    // Weeks later it is to be tested again.
    let later = now().at + SignedDuration::from_hours(24 * 22);
    let items = shelf(&studio.studio, later).expect("a shelf");
    let bottle = items.iter().find(|own| own.name == "B").expect("the bottle");
    assert!(bottle.due.iter().any(|due| matches!(due, Due::Test("ferrous", why) if why.contains("vented"))));
}

#[test]
fn plain_iron_is_not_poured_into_iron_with_chlorate() {
    let mut studio = jars();
    mix(&mut studio.studio, &now(), &iron(&[], "100mL", "A")).expect("mixed");
    mix(&mut studio.studio, &now(), &iron(&["chlorate jar=0.4g"], "100mL", "B")).expect("mixed");
    let answers = Pour { from: some("A"), into: some("B"), volume: some("5mL") };
    assert_eq!(pour(&mut studio.studio, &now(), &answers).expect_err("refused").code, "salts_differ");
}

#[test]
fn thinned_poured_together_and_dried_up_the_percentage_follows() {
    let mut studio = jars();
    mix(&mut studio.studio, &now(), &iron(&["oxalic jar=2g"], "100mL", "A")).expect("mixed");
    split(&mut studio.studio, &now(), &Split { bottle: some("A"), volume: some("50mL"), name: some("half") })
        .expect("split");
    dilute(&mut studio.studio, &now(), &Dilute { bottle: some("half"), water: some("50mL") }).expect("thinned");
    assert_eq!(percents(&studio.item("half")), [("ferric oxalate".into(), 13.5), ("oxalic acid".into(), 1.0)]);
    // 50 mL of 27 % and 100 mL of 13.5 %: (1350 + 1350) / 150 = 18 %.
    pour(&mut studio.studio, &now(), &Pour { from: some("half"), into: some("A"), volume: None }).expect("poured");
    assert_eq!(percents(&studio.item("A"))[0].1, 18.0);
    let dried = Count { item: some("A"), volume: some("100mL"), evaporated: true, ..Count::default() };
    count(&mut studio.studio, &now(), &dried).expect("counted");
    assert_eq!(percents(&studio.item("A"))[0].1, 27.0);
    studio.sound();
}

#[test]
fn a_strong_acid_is_thinned_from_its_bottle_and_undone() {
    let mut studio = TestStudio::new();
    let strong = Receive {
        formula: some("hydrochloric acid"),
        volume: some("500mL"),
        percent: some("43.66%"),
        name: some("strong acid"),
        ..Receive::default()
    };
    receive(&mut studio.studio, &now(), &strong).expect("received");
    let bath = Mix {
        from: some("strong acid"),
        volume: some("10mL"),
        make: some("610mL"),
        name: some("bath"),
        ..Mix::default()
    };
    mix(&mut studio.studio, &now(), &bath).expect("thinned");
    // One part in 61: 43.66 / 61 = 0.715738 %.
    assert_eq!(percents(&studio.item("bath")), [("hydrochloric acid".into(), 0.715_738)]);
    undo(&mut studio.studio, &now(), "2").expect("undone");
    assert_eq!(studio.item("strong acid").volume.expect("a volume").to_millilitres(), 500.0);
    studio.sound();
}

#[test]
fn gold_goes_along_with_its_powder() {
    let mut studio = TestStudio::new();
    jar(&mut studio, "HAuCl4·3H2O", None, "1g", "gold", "90");
    let of_jar = studio.item("gold").metal.expect("gold").1;
    // 196.96657 of 393.82 g/mol: 0.5001 g in a gram.
    assert!((of_jar.to_grams() - 0.500_14).abs() < 1e-4, "{of_jar:?}");
    let answers =
        Mix { from: some("gold"), mass: some("1g"), make: some("20mL"), name: some("toner"), ..Mix::default() };
    mix(&mut studio.studio, &now(), &answers).expect("mixed");
    assert_eq!(studio.item("toner").metal.expect("gold").1, of_jar);
    assert_eq!((sum(&studio, "Au"), sum(&studio, "EUR")), (0, 0));
    // A bottle of unknown strength makes nothing that is known.
    let nameless =
        Receive { formula: some("ferric oxalate"), volume: some("50mL"), name: some("old"), ..Receive::default() };
    receive(&mut studio.studio, &now(), &nameless).expect("received");
    let into = Mix { from: some("old"), volume: some("5mL"), make: some("20mL"), ..Mix::default() };
    assert_eq!(mix(&mut studio.studio, &now(), &into).expect_err("refused").code, "contents_unknown");
    // Of an unstated form there is a middle, and a width.
    jar(&mut studio, "gold chloride", None, "1g", "nameless gold", "90");
    let open = studio.item("nameless gold");
    assert!(
        open.metal.expect("gold").1 < of_jar && open.facts.strength_rel_u.is_some_and(|own| own > 0.01),
        "{open:?}"
    );
}

#[test]
fn what_a_mix_cannot_be_is_refused_and_nothing_is_written() {
    let mut studio = jars();
    let before = balance(&studio.studio).expect("balances");
    let code = |studio: &mut TestStudio, answers: &Mix| -> &'static str {
        let refused: Refusal = mix(&mut studio.studio, &now(), answers).expect_err("refused");
        refused.code
    };
    let base = || iron(&[], "100mL", "A");
    let cases: [(Mix, &str); 8] = [
        (Mix { mass: some("101g"), ..base() }, "more_than_held"),
        (iron(&["oxalic jar=501g"], "100mL", "A"), "more_than_held"),
        (iron(&["iron jar=1g"], "100mL", "A"), "item_named_twice"),
        (iron(&["oxalic jar"], "100mL", "A"), "solute_unreadable"),
        (iron(&["nowhere=1g"], "100mL", "A"), "item_unknown"),
        (Mix { chloride: some("1g"), ..base() }, "answer_not_asked"),
        (Mix { mass: None, volume: some("5mL"), ..base() }, "powder_and_solution"),
        (Mix { make: some("0mL"), ..base() }, "nothing_asked"),
    ];
    for (answers, expected) in &cases {
        assert_eq!(code(&mut studio, answers), *expected, "{answers:?}");
    }
    assert_eq!(before, balance(&studio.studio).expect("balances"));
    // A stock of metal takes nothing else in, and no metal goes into a solution.
    studio.jar("PdCl2", "10g", "palladium jar");
    let metal = Mix { from: some("palladium jar"), mass: some("1g"), ..iron(&["oxalic jar=1g"], "100mL", "A") };
    assert_eq!(code(&mut studio, &metal), "answer_not_asked");
    assert_eq!(code(&mut studio, &iron(&["palladium jar=1g"], "100mL", "A")), "salts_differ");
}

#[test]
fn labels_of_solutions_are_set() {
    let mut studio = jars();
    let answers = Mix { mass: some("6.75g"), ..iron(&["oxalic jar=0.5g", "chlorate jar=0.3g"], "25mL", "B") };
    mix(&mut studio.studio, &now(), &answers).expect("mixed");
    let wanted = LabelAnswers { items: vec!["B".into(), "iron jar".into()], ..LabelAnswers::default() };
    let pdf = label(&studio.studio, &wanted, now().at).expect("labels");
    assert!(pdf.starts_with(b"%PDF"));
}

#[test]
fn a_plan_of_a_solution_and_a_plan_of_metal_come_by_the_same_door() {
    let plan = |answers: Answers| plan_any(&answers).expect("a plan");
    let of = |salt: &str| Answers { salt: some(salt), make: some("60mL"), ..Answers::default() };
    assert!(matches!(plan(of("PdCl2")), AnyPlan::Metal(_)));
    assert!(matches!(plan(of("ferric oxalate")), AnyPlan::Solution(_)));
    // Any solid whose strength is said, known here or not.
    assert!(matches!(plan(Answers { percent: some("10%"), ..of("NaCl") }), AnyPlan::Solution(_)));
    assert_eq!(plan_any(&of("NaCl")).expect_err("refused").code, "salt_without_metal");
}

/// The moment is the same for all: what differs is the key.
#[test]
fn the_same_mix_twice_is_done_once() {
    let mut studio = jars();
    let moment: Moment = now();
    let first = mix(&mut studio.studio, &moment, &iron(&[], "100mL", "A")).expect("mixed");
    let again = mix(&mut studio.studio, &moment, &iron(&[], "100mL", "A")).expect("answered");
    assert!(again.repeated && first.act == again.act);
    assert_eq!(studio.item("iron jar").mass.expect("powder").to_grams(), 73.0);
}
