//! A coat planned with what the studio knows: papers and droppers as a record keeps them.

use handcoat_craft::coat::Role;
use handcoat_craft::paper::{DropperFrom, UptakeRule};
use handcoat_work::coat::{CoatAnswers, Coated, DropperFacts, Known, PaperFacts, plan};

fn answers() -> CoatAnswers {
    CoatAnswers {
        image: Some("8x10in".into()),
        margin: Some("1cm".into()),
        metals: vec!["Pd".into()],
        ..CoatAnswers::default()
    }
}

fn known() -> Known {
    let dropper =
        |of: &str, drops_per_ml: f64| DropperFacts { of: of.into(), drops_per_ml, drops_per_ml_u: 0.2, runs: 3 };
    Known {
        paper: Some(PaperFacts {
            name: "a heavy cotton paper, lot of spring".into(),
            tool: Some("rod".into()),
            uptake_ml_per_100cm2: Some(0.30),
            share: Some(0.8),
            share_u: Some(0.01),
        }),
        droppers: vec![dropper("iron", 18.0), dropper("palladium, na2pdcl4 15 %", 24.0)],
    }
}

fn drops(coated: &Coated, role: Role) -> u32 {
    let pours = coated.plan.coats.iter().flat_map(|coat| &coat.pours);
    pours.filter(|pour| pour.role == role).map(|pour| pour.drops.to_drops()).sum()
}

#[test]
fn a_record_of_paper_and_droppers_fills_what_is_not_said() {
    let coated = plan(&answers(), None, &known()).expect("a plan");
    assert!(matches!(coated.plan.request.uptake, UptakeRule::Measured { .. }));
    // 611.568 cm² at 0.30, a fifth lost: 2.2934 mL, half of each; 18 and 24 drops to the mL, a fiftieth under at most.
    assert!((coated.plan.to_pour_ml() - 6.115_68 * 0.30 / 0.8).abs() < 1e-9);
    assert_eq!((drops(&coated, Role::Iron), drops(&coated, Role::Metal)), (21, 27));
    assert!(coated.plan.request.droppers.iter().all(|own| own.from == DropperFrom::Calibrated(3)));
}

#[test]
fn what_is_said_goes_before_what_is_known() {
    let said = CoatAnswers {
        uptake: Some("0.38mL/100cm2".into()),
        drops_per_ml: vec!["iron 20".into(), "metal 20".into()],
        ..answers()
    };
    let coated = plan(&said, None, &known()).expect("a plan");
    assert!(matches!(coated.plan.request.uptake, UptakeRule::Stated(_)));
    assert_eq!((drops(&coated, Role::Iron), drops(&coated, Role::Metal)), (23, 23));
}

#[test]
fn nothing_known_is_the_habit_of_a_brush_and_the_usual_drop() {
    let coated = plan(&answers(), None, &Known::default()).expect("a plan");
    assert!(matches!(coated.plan.request.uptake, UptakeRule::Habit { .. }));
    // One dropper stands in for all bottles.
    assert_eq!(coated.plan.request.droppers.len(), 1);
    assert_eq!(coated.plan.request.droppers[0].from, DropperFrom::Usual);
    let text = serde_json::to_string(&known()).expect("a record");
    assert_eq!(serde_json::from_str::<Known>(&text).expect("the record again"), known());
}
