//! A coat planned with what the studio knows: papers, tools and droppers of its records, bottles of its shelf.

use std::collections::BTreeMap;

use handcoat_craft::coat::Role;
use handcoat_craft::paper::{DropperFrom, UptakeRule};
use handcoat_craft::source::Element;
use handcoat_work::coat::{CoatAnswers, Coated, Origin, choices, last_words, plan};
use handcoat_work::keep::{Keep, RecordKind, keep, one_kept};
use handcoat_work::ledger::undo;
use handcoat_work::paper::{
    DropperAnswers, KeepDropper, KeepShare, ShareAnswers, calibrate_dropper, keep_dropper, keep_share, share_on_paper,
};
use handcoat_work::print::{CoatMade, PrintMade, Spoiled, coat, compare, open_coats, print, record, spoil};
use handcoat_work::shelf::{Receive, receive};

use handcoat_work::Moment;
use jiff::Timestamp;

use crate::studio::{TestStudio, now, some};

fn answers() -> CoatAnswers {
    CoatAnswers {
        image: some("8x10in"),
        margin: some("1cm"),
        metals: vec!["palladium".into()],
        iron: some("iron"),
        ..CoatAnswers::default()
    }
}

fn received(house: &mut TestStudio, formula: &str, percent: &str, name: &str) {
    let answers = Receive {
        formula: some(formula),
        volume: some("50mL"),
        percent: some(percent),
        name: some(name),
        ..Receive::default()
    };
    receive(&mut house.studio, &now(), &answers).expect("received");
}

fn kept(house: &mut TestStudio, kind: RecordKind, name: &str, fields: &[(&'static str, &str)]) {
    let fields: BTreeMap<_, _> = fields.iter().map(|(key, text)| (*key, (*text).to_owned())).collect();
    keep(&mut house.studio, &now(), kind, &Keep { name: some(name), fields, came: None }).expect("kept");
}

/// Two bottles, two droppers for the palladium of which the newer counts, a paper and a brush that were weighed.
fn house() -> TestStudio {
    let mut house = TestStudio::new();
    received(&mut house, "Na2PdCl4", "15%", "palladium");
    received(&mut house, "Fe2(C2O4)3", "20%", "iron");
    let dropper = |drops: &'static str| {
        [("solution", "palladium"), ("drops_per_ml", drops), ("drops_per_ml_u", "0.2"), ("measured", "2026-02-01")]
    };
    kept(&mut house, RecordKind::Dropper, "old pipette", &dropper("18drops/mL"));
    kept(&mut house, RecordKind::Dropper, "new pipette", &dropper("24drops/mL"));
    kept(&mut house, RecordKind::Dropper, "iron pipette", &[("solution", "iron"), ("drops_per_ml", "18drops/mL")]);
    kept(&mut house, RecordKind::Paper, "Cotton", &[("uptake", "0.30mL/100cm2")]);
    kept(&mut house, RecordKind::Tool, "Wide brush", &[("sort", "brush"), ("share", "80%"), ("share_u", "1")]);
    house
}

/// So many minutes after now.
fn later(minutes: i64) -> Moment {
    let now = now();
    Moment { at: Timestamp::from_second(now.at.as_second() + minutes * 60).expect("a time"), ..now }
}

fn planned(house: &TestStudio, answers: &CoatAnswers) -> Coated {
    plan(answers, Some(&house.studio)).expect("a plan")
}

fn drops(coated: &Coated, role: Role) -> u32 {
    let pours = coated.plan.coats.iter().flat_map(|coat| &coat.pours);
    pours.filter(|pour| pour.role == role).map(|pour| pour.drops.to_drops()).sum()
}

fn origin(coated: &Coated, what: &str, words: &str) -> Origin {
    let own = coated.used.iter().find(|own| own.what == what && own.words.contains(words));
    own.unwrap_or_else(|| panic!("no {what} with `{words}` in {:?}", coated.used)).origin
}

#[test]
fn records_fill_what_is_not_said() {
    let house = house();
    let named = CoatAnswers { paper: some("cotton"), tool: some("wide brush"), ..answers() };
    let coated = planned(&house, &named);
    // 611.568 cm² at 0.30, a fifth lost: 2.2934 mL, half of each; 18 and 24 drops to the mL, a fiftieth under at most.
    assert!((coated.plan.to_pour_ml() - 6.115_68 * 0.30 / 0.8).abs() < 1e-9);
    assert_eq!((drops(&coated, Role::Iron), drops(&coated, Role::Metal)), (21, 27));
    let UptakeRule::Measured { share, .. } = coated.plan.request.uptake else { panic!("not measured") };
    assert!((share.standard() - 0.01).abs() < 1e-12);
    let from: Vec<DropperFrom> = coated.plan.request.droppers.iter().map(|own| own.from).collect();
    // Without its ± a figure is the maker's word.
    assert_eq!(from, [DropperFrom::Stated, DropperFrom::Calibrated(1)]);
    assert_eq!(origin(&coated, "uptake", "by the record of Cotton"), Origin::Book);
    assert_eq!(origin(&coated, "share", "80.0 ± 2.0 % (k = 2)"), Origin::Book);
    assert_eq!(
        origin(&coated, "drops", "palladium: 24.0 ± 0.4 drops/mL (k = 2), by the record of new pipette"),
        Origin::Book
    );
    assert_eq!(origin(&coated, "iron", "iron, 20 %"), Origin::Book);
    assert!(coated.used.iter().all(|own| own.origin == Origin::Book || own.what == "margin"), "{:?}", coated.used);
}

#[test]
fn what_is_said_goes_before_what_is_known() {
    let house = house();
    let said = CoatAnswers {
        paper: some("Cotton"),
        tool: some("Wide brush"),
        uptake: some("0.38mL/100cm2"),
        drops_per_ml: vec!["iron 20".into(), "metal 20".into()],
        ..answers()
    };
    let coated = planned(&house, &said);
    assert!(matches!(coated.plan.request.uptake, UptakeRule::Stated(_)));
    assert_eq!((drops(&coated, Role::Iron), drops(&coated, Role::Metal)), (23, 23));
    assert_eq!(origin(&coated, "uptake", "as said"), Origin::Said);
    assert_eq!(origin(&coated, "drops", "iron: 20 drops/mL, as said"), Origin::Said);
    // Drops for all bottles stand behind those that were measured.
    let for_all = CoatAnswers { drops_per_ml: vec!["30".into()], ..answers() };
    assert_eq!(origin(&planned(&house, &for_all), "drops", "palladium: 24.0"), Origin::Book);
}

#[test]
fn nothing_known_is_the_habit_of_a_brush_and_the_usual_drop() {
    let open = CoatAnswers { iron: None, metals: vec!["Pd".into()], ..answers() };
    let coated = plan(&open, None).expect("a plan");
    assert!(matches!(coated.plan.request.uptake, UptakeRule::Habit { .. }));
    // One dropper stands in for all bottles.
    assert_eq!(coated.plan.request.droppers.len(), 1);
    assert_eq!(coated.plan.request.droppers[0].from, DropperFrom::Usual);
    assert!(coated.used.iter().all(|own| own.origin == Origin::Custom), "{:?}", coated.used);
    assert!(coated.last.is_none());
}

#[test]
fn a_tool_without_measurements_has_its_habit_and_a_share_alone_is_of_no_use() {
    let mut house = house();
    kept(&mut house, RecordKind::Tool, "glass", &[("sort", "glass rod")]);
    let coated = planned(&house, &CoatAnswers { tool: some("glass"), margin: None, ..answers() });
    assert_eq!(origin(&coated, "uptake", "usual with a glass rod"), Origin::Custom);
    let coated = planned(&house, &CoatAnswers { tool: some("Wide brush"), ..answers() });
    assert_eq!(origin(&coated, "uptake", "its share is of no use before"), Origin::Custom);
    for (unknown, code) in [
        (CoatAnswers { tool: some("a spoon"), ..answers() }, "record_unknown"),
        (CoatAnswers { paper: some("newsprint"), ..answers() }, "record_unknown"),
    ] {
        assert_eq!(plan(&unknown, Some(&house.studio)).expect_err("a refusal").code, code);
    }
}

#[test]
fn bottles_are_as_strong_as_what_is_dissolved_in_them() {
    let mut house = house();
    received(&mut house, "KClO3", "1%", "chlorate");
    received(&mut house, "H2O2", "3%", "peroxide");
    for (bottle, dose) in [("chlorate", "0.5mg/mL"), ("peroxide", "1mg/mL")] {
        let with = CoatAnswers { contrast: some(bottle), dose: some(dose), ..answers() };
        let coated = planned(&house, &with);
        let plain = planned(&house, &answers());
        // On top: iron and metal stay as they are.
        for role in [Role::Iron, Role::Metal] {
            assert_eq!(drops(&coated, role), drops(&plain, role), "{bottle}");
        }
        let rung = coated.plan.coats[0].pours[2].rung.expect("a strength").to_grams_per_100_ml();
        assert!((rung - if bottle == "chlorate" { 1.0 } else { 3.0 }).abs() < 1e-9);
        // By hand: drops at 20 to the mL, so many mg in each.
        let mg = f64::from(drops(&coated, Role::Agent)) / 20.0 * rung * 10.0;
        let ml = f64::from(drops(&coated, Role::Iron)) / 18.0 + f64::from(drops(&coated, Role::Metal)) / 24.0;
        assert!((coated.plan.dose.expect("a dose").to_milligrams_per_millilitre() - mg / ml).abs() < 1e-9);
        let own = coated.plan.for_all.iter().find(|own| own.name == bottle).expect("its bottle");
        assert_eq!(own.sheets_left, Some((50.0 * 20.0) as u64 / u64::from(drops(&coated, Role::Agent))));
    }
    let all = choices(&house.studio, now().at).expect("choices");
    let names = |own: &[(String, String)]| own.iter().map(|(name, _)| name.clone()).collect::<Vec<_>>();
    assert_eq!(names(&all.metals), ["palladium"]);
    assert_eq!(names(&all.iron), ["iron"]);
    assert_eq!(names(&all.agents), ["chlorate", "peroxide"]);
}

/// A bottle of `percent` of `formula` whose water is on record beside it.
fn received_as(house: &mut TestStudio, formula: &str, percent: &str, hydrate: &str, name: &str) {
    let answers = Receive {
        formula: some(formula),
        volume: some("50mL"),
        percent: some(percent),
        hydrate: some(hydrate),
        name: some(name),
        ..Receive::default()
    };
    receive(&mut house.studio, &now(), &answers).expect("received");
}

/// The water on record is counted once: a bottle plans as the same solution that is written out.
#[test]
fn an_iron_bottle_with_its_water_on_record_is_planned_with() {
    let mut house = house();
    received_as(&mut house, "Fe2(C2O4)3", "27%", "6", "hexahydrate iron");
    received_as(&mut house, "Fe2(C2O4)3", "27%", "none", "dry iron");
    received_as(&mut house, "(NH4)3Fe(C2O4)3", "27%", "3", "ammonium iron");
    let pairs = [
        ("hexahydrate iron", "Fe2(C2O4)3.6H2O 27%"),
        ("dry iron", "Fe2(C2O4)3 27% anhydrous"),
        ("ammonium iron", "(NH4)3Fe(C2O4)3.3H2O 27%"),
    ];
    for (bottle, written) in pairs {
        let ratio = |iron: &str| planned(&house, &CoatAnswers { iron: some(iron), ..answers() }).plan.iron_to_metal;
        let (own, other) = (ratio(bottle), ratio(written));
        assert!(own.form_known, "{bottle}");
        assert!((own.least / other.least - 1.0).abs() < 1e-9, "{bottle}: {own:?}, {other:?}");
    }
    // Saying it again with the plan is no contradiction; another water is one.
    let said = |waters: &str| {
        let with = CoatAnswers { iron: some("hexahydrate iron"), hydrate: some(waters), ..answers() };
        plan(&with, Some(&house.studio))
    };
    assert!(said("6").is_ok());
    assert_eq!(said("4").expect_err("another water").code, "hydrate_said_twice");
}

/// The same bottle is the same solution however its water is said: on the label, beside it, or written out with the plan. By
/// hand, with IUPAC's abridged weights: Na2PtCl6·6H2O is 561.87 g/mol, Pt 195.084, so 200 mg/mL hold 69.44 mg; dry it is
/// 453.78 g/mol, 85.98 mg.
#[test]
fn a_bottle_of_hexachloroplatinate_has_the_platinum_of_the_shelf() {
    let mut house = house();
    received_as(&mut house, "Na2PtCl6", "20%", "6", "hexahydrate");
    received_as(&mut house, "Na2PtCl6", "20%", "none", "dry");
    received(&mut house, "Na2PtCl6.6H2O", "20%", "written");
    received(&mut house, "Na2PtCl6", "20%", "open");
    let rows = [
        ("hexahydrate", 69.44, "Na2PtCl6·6H2O"),
        ("dry", 85.98, "Na2PtCl6, anhydrous"),
        ("written", 69.44, "Na2PtCl6·6H2O"),
        ("Na2PtCl6.6H2O 20%", 69.44, "Na2PtCl6·6H2O"),
        // Halfway between the two forms.
        ("open", 77.71, "Na2PtCl6, its water not said"),
        ("Na2PtCl6 20%", 77.71, "Na2PtCl6, its water not said"),
    ];
    for (agent, mg_per_ml, of) in rows {
        let with = CoatAnswers { contrast: some(agent), dose: some("4mg/mL"), ..answers() };
        let plan = planned(&house, &with).plan;
        let pour = plan.coats[0].pours.iter().find(|pour| pour.role == Role::Agent).expect("the agent");
        assert!((pour.rung.expect("a strength").to_grams_per_100_ml() - 20.0).abs() < 1e-3, "{agent}: {pour:?}");
        let platinum = plan.metals.iter().find(|own| own.element == Element::PT).expect("platinum");
        let found = platinum.mass.best.to_grams() * 1000.0 / pour.ml;
        // Mass is kept to the microgram, and a drop is a twentieth of a millilitre.
        assert!((found - mg_per_ml).abs() < 0.025, "{agent}: {found}");
        // The dose is of the solid as its solution says its strength: 200 mg to the mL for each of them.
        let dose = plan.dose.expect("a dose").to_milligrams_per_millilitre();
        assert!((dose - 200.0 * pour.ml / plan.coats[0].sensitizer_ml()).abs() < 1e-3, "{agent}: {dose}");
        assert_eq!(plan.request.contrast.expect("contrast").dose_of(), of);
    }
}

/// 0.2 mL of 1 % chlorate is 2 mg; in 2.2 mL of everything poured that is 0.909 mg/mL.
#[test]
fn the_dose_of_a_print_is_known_for_chlorate_and_peroxide() {
    let mut house = house();
    received(&mut house, "KClO3", "1%", "chlorate");
    received(&mut house, "H2O2", "3%", "peroxide");
    for (agent, mg_per_ml) in [("chlorate", 10.0 * 0.2 / 2.2), ("peroxide", 30.0 * 0.2 / 2.2)] {
        let pours = ["iron=1mL".into(), "palladium=1mL".into(), format!("{agent}=0.2mL")].to_vec();
        let made = PrintMade { title: some("Heron"), pours, ..PrintMade::default() };
        record(&mut house.studio, &now(), &made).expect("recorded");
        let without = ["iron=1mL".into(), "palladium=1mL".into()].to_vec();
        let plain = PrintMade { title: some("Heron"), pours: without, ..PrintMade::default() };
        record(&mut house.studio, &now(), &plain).expect("recorded");
        let numbers: Vec<String> = [0, 1].map(|back| (prints_made(&house) - back).to_string()).to_vec();
        let changed = compare(&house.studio, &numbers[0], &numbers[1], None).expect("compared");
        let text = format!("{changed:?}");
        let shown = format!("{mg_per_ml:.2} mg/mL").replace("0.91 ", "0.909 ");
        assert!(text.contains("AgentDose") && text.contains(&shown), "{agent} {shown}: {text}");
    }
}

fn prints_made(house: &TestStudio) -> u32 {
    (1..).take_while(|number| print(&house.studio, &number.to_string()).is_ok()).last().expect("a print")
}

#[test]
fn a_calibration_that_is_kept_is_used_by_the_next_plan_and_the_next_pour() {
    let mut house = house();
    let runs = DropperAnswers { runs: vec!["300drops 10mL".into()], ..DropperAnswers::default() };
    let (found, _) = calibrate_dropper(&runs).expect("calibrated");
    let nobody = KeepDropper { name: "third".into(), solution: None };
    let missing = keep_dropper(&mut house.studio, &now(), &nobody, &found).expect_err("no bottle");
    assert_eq!(missing.code, "answer_missing");
    let whose = KeepDropper { name: "third".into(), solution: some("Palladium") };
    keep_dropper(&mut house.studio, &now(), &whose, &found).expect("kept");
    let coated = planned(&house, &answers());
    assert_eq!(origin(&coated, "drops", "palladium: 30.0"), Origin::Book);
    let pours = vec!["palladium=30".into()];
    coat(&mut house.studio, &now(), &CoatMade { title: some("Heron"), pours, ..CoatMade::default() }).expect("coated");
    let open = open_coats(&house.studio).expect("coats");
    assert!((open[0].pours[0].volume.to_millilitres() - 1.0).abs() < 1e-6);
    // Drop and strength are off apart from each other: the squares of their parts add.
    let strength = coated.plan.request.metal.strength.relative().expect("a strength");
    let both = (found.relative().powi(2) + strength.powi(2)).sqrt();
    assert!((open[0].pours[0].metal_rel_u.expect("known") - both).abs() < 1e-6, "{both}");
    // Measured again, it is the same dropper; taken back, it is as it was.
    let again = DropperAnswers { runs: vec!["250drops 10mL".into()], ..DropperAnswers::default() };
    let (found, _) = calibrate_dropper(&again).expect("calibrated");
    let whose = KeepDropper { name: "Third".into(), solution: None };
    let done = keep_dropper(&mut house.studio, &now(), &whose, &found).expect("changed");
    assert_eq!(origin(&planned(&house, &answers()), "drops", "palladium: 25.0"), Origin::Book);
    undo(&mut house.studio, &now(), &done.act.to_string()).expect("undone");
    assert_eq!(origin(&planned(&house, &answers()), "drops", "palladium: 30.0"), Origin::Book);
}

#[test]
fn a_share_that_is_kept_belongs_to_the_tool_and_what_was_taken_to_the_paper() {
    let mut house = house();
    let weighed = ShareAnswers {
        paper: some("21.80g-20.00g"),
        brush: some("31.15g-31.00g"),
        glass: some("40.05g-40.00g"),
        balance: some("0.01g"),
        ..ShareAnswers::default()
    };
    let on = KeepShare { name: "Wide brush".into(), paper: some("cotton") };
    let found = share_on_paper(&weighed).expect("a share");
    assert_eq!(keep_share(&mut house.studio, &now(), &on, &found).expect_err("no size").code, "answer_missing");
    let sized = ShareAnswers { image: some("8x10in"), density: some("1.1g/mL"), ..weighed };
    let found = share_on_paper(&sized).expect("a share");
    let done = keep_share(&mut house.studio, &now(), &on, &found).expect("kept");
    let named = CoatAnswers { paper: some("Cotton"), tool: some("Wide brush"), ..answers() };
    // 1.80 g of 1.1 g/mL on the paper is what the same sheet takes again: 0.9 of what is poured.
    assert!((planned(&house, &named).plan.to_pour_ml() - 1.8 / 1.1 / 0.9).abs() < 1e-4);
    // One act, undone as one.
    undo(&mut house.studio, &now(), &done.act.to_string()).expect("undone");
    assert!((planned(&house, &named).plan.to_pour_ml() - 6.115_68 * 0.30 / 0.8).abs() < 1e-9);
    // Without a paper the uptake is the tool's.
    let alone = KeepShare { name: "rod of spring".into(), paper: None };
    keep_share(&mut house.studio, &now(), &alone, &found).expect("kept");
    let own = one_kept(&house.studio, RecordKind::Tool, "rod of spring").expect("there");
    let keys: Vec<&str> = own.known.iter().map(|(field, _)| field.key).collect();
    assert_eq!(keys, ["uptake", "share", "share_u", "measured"]);
}

#[test]
fn last_time_is_the_newest_of_the_same_size_and_on_the_same_paper_first() {
    let mut house = house();
    kept(&mut house, RecordKind::Paper, "Kozo", &[]);
    let made = |image: &str, paper: Option<&str>, drops: u32| CoatMade {
        title: some("Heron"),
        image: some(image),
        paper: paper.map(String::from),
        pours: vec![format!("iron={drops}"), format!("palladium={drops}")],
        ..CoatMade::default()
    };
    for (image, paper, drops) in
        [("20.3x25.4cm", Some("Cotton"), 20), ("4x5in", Some("Cotton"), 5), ("10x8in", Some("Kozo"), 22)]
    {
        coat(&mut house.studio, &later(i64::from(drops)), &made(image, paper, drops)).expect("coated");
    }
    let last = |house: &TestStudio, paper: Option<&str>| {
        let coated = planned(house, &CoatAnswers { paper: paper.map(String::from), ..answers() });
        let last = coated.last.expect("a last time");
        (last.number, last.same_paper, last.drops_of("iron"))
    };
    assert_eq!(last(&house, None), (3, false, Some(22)));
    assert_eq!(last(&house, Some("Cotton")), (1, true, Some(20)));
    // A spoiled sheet says nothing.
    let spoiled = Spoiled { coat: some("3"), because: some("dust"), thrown: false };
    spoil(&mut house.studio, &now(), &spoiled).expect("spoiled");
    assert_eq!(last(&house, None), (1, false, Some(20)));
    let fields = BTreeMap::from([("image", String::from("8x10in"))]);
    let print = PrintMade { title: some("Heron"), pours: vec!["iron=25".into()], fields, ..PrintMade::default() };
    record(&mut house.studio, &later(60), &print).expect("recorded");
    let coated = planned(&house, &answers());
    let words = last_words(&coated.last.expect("a last time"));
    assert!(words[0].starts_with("print 1, Heron") && words[1].starts_with("25 drops of iron"), "{words:?}");
}
