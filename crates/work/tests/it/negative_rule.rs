//! The rule of 100 mm: what is measured on a film that was made by a figure does not undo that figure.

use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

use handcoat_work::keep::{Keep, RecordKind, change, keep};
use handcoat_work::negative::{
    CurveOf, FilmSetup, Hooks, Negative, NegativeAnswers, curve_of_table, make, with_rule_film, with_setup,
};
use handcoat_work::{Question, Remedy};

use crate::negative_book::{keep_film, small_picture};
use crate::studio::{TestStudio, fields, now, some};

static GO_ON: AtomicBool = AtomicBool::new(false);

fn straight() -> CurveOf {
    curve_of_table("straight.csv", b"input,output\n0,0\n1,1\n").expect("a curve")
}

fn by_setup(rule_measured: Option<&str>) -> CurveOf {
    let setup = FilmSetup {
        name: "rag, palladium".into(),
        rule_measured: rule_measured.map(String::from),
        ..FilmSetup::default()
    };
    CurveOf { setup: Some(setup), ..straight() }
}

/// Ten inches at 72 to the inch: 720 pixels where nothing is corrected.
fn answers(measured: Option<&str>, on: Option<&str>) -> NegativeAnswers {
    NegativeAnswers {
        width: some("254mm"),
        ppi: some("72"),
        force: true,
        rule_measured: measured.map(String::from),
        rule_on: on.map(String::from),
        ..NegativeAnswers::default()
    }
}

struct Bench {
    folder: tempfile::TempDir,
    source: PathBuf,
}

impl Bench {
    fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let source = small_picture(folder.path(), "heron.tif", 3);
        Self { folder, source }
    }

    fn made(&self, answers: &NegativeAnswers, curve: &CurveOf) -> Negative {
        let target = self.folder.path().join("film.tif");
        make(answers, &self.source, &target, curve, &Hooks::of(&|_, _| {}, &GO_ON)).expect("a negative")
    }

    /// Pixels across, and the codes of what is said of the rule.
    fn width(&self, measured: Option<&str>, on: Option<&str>, curve: &CurveOf) -> (u32, String) {
        let own = self.made(&answers(measured, on), curve);
        let codes: Vec<&str> = own.warnings.iter().map(|own| own.0).filter(|own| own.starts_with("rule")).collect();
        (own.picture.width, codes.join(" "))
    }
}

#[test]
fn a_film_made_by_the_set_ups_figure_is_measured_against_that_figure() {
    let bench = Bench::new();
    let kept = by_setup(Some("99mm"));
    // 720/0.99, and 720/(0.99 × 1.002): by itself 100.2 mm would be left as it is, and the next film would be 1 % short again.
    assert_eq!(bench.width(None, None, &kept), (727, "rule_corrected".into()));
    assert_eq!(bench.width(Some("100.2mm"), None, &kept), (726, "rule_corrected".into()));
    assert_eq!(bench.width(Some("100mm"), None, &kept), (727, "rule_corrected".into()));
    // Half a percent more than the set-up keeps is said: its next film would go by 99 mm.
    assert_eq!(bench.width(Some("100.5mm"), None, &kept), (724, "rule_corrected rule_other".into()));
    // Measured on a film without correction it is as it is, and that is said when asked for.
    assert_eq!(bench.width(Some("100.2mm"), Some("none"), &kept), (720, "rule_near rule_other".into()));
    assert_eq!(bench.width(Some("99.1mm"), Some("none"), &kept), (727, "rule_corrected".into()));
    // A set-up that keeps none, or one that corrects nothing.
    assert_eq!(bench.width(Some("99mm"), None, &by_setup(None)), (727, "rule_corrected rule_other".into()));
    assert_eq!(bench.width(Some("99mm"), None, &by_setup(Some("99.9mm"))), (727, "rule_corrected rule_other".into()));
    assert_eq!(bench.width(Some("99mm"), None, &straight()), (727, "rule_corrected".into()));

    let own = bench.made(&answers(Some("100.5mm"), None), &kept);
    let said = |code: &str| own.warnings.iter().find(|own| own.0 == code).map(|own| own.1.as_str()).expect("said");
    let corrected = said("rule_corrected");
    assert!(corrected.contains("made by the 99 mm that set-up rag, palladium keeps, so 99.495 mm"), "{corrected}");
    assert!(corrected.contains("--rule-on none"), "{corrected}");
    assert!(said("rule_other").contains("write 99.495 mm with the set-up"), "{}", said("rule_other"));
    let plain = bench.made(&answers(Some("99mm"), None), &straight());
    assert!(plain.warnings.iter().any(|own| own.1.contains("on a film made without correction")), "{plain:?}");
}

#[test]
fn a_film_that_is_named_is_measured_against_the_figure_it_was_made_by() {
    let bench = Bench::new();
    let mut house = TestStudio::new();
    let at = now().at;
    let first = keep_film(&mut house, "Gate", &answers(Some("98mm"), None), &straight(), &bench.source, "gate.tif");
    keep_film(&mut house, "Plain", &answers(None, None), &straight(), &bench.source, "plain.tif");
    let curve = |on: &str| with_rule_film(&house.studio, straight(), some(on).as_ref(), at);
    // 720/0.98 and then 720/(0.98 × 1.001), by name, by number, and by the mark on the film.
    for on in ["gate", "1", first.mark.as_str(), &format!("HANDCOAT{}", first.mark)] {
        let own = bench.made(&answers(Some("100.1mm"), Some(on)), &curve(on).expect("a curve"));
        assert_eq!(own.picture.width, 734, "{on}");
        assert!(
            own.warnings.iter().any(|own| own.1.contains("negative 1 (Gate), which was made by a figure of 98 mm"))
        );
    }
    let plain = curve("plain").expect("a curve");
    assert_eq!(bench.width(Some("100.1mm"), Some("plain"), &plain), (720, "rule_near".into()));
    // The file that was made anew is another film: its mark says which of the two was measured.
    let second = keep_film(&mut house, "Gate", &answers(Some("96mm"), None), &straight(), &bench.source, "gate-2.tif");
    let curve = |on: &str| with_rule_film(&house.studio, straight(), some(on).as_ref(), at);
    let correction = |on: &str| curve(on).expect("a curve").rule_film.expect("a film").correction;
    assert_eq!((correction(&first.mark), correction(&second.mark), correction("gate")), (0.98, 0.96, 0.96));

    keep(&mut house.studio, &now(), RecordKind::Negative, &Keep { name: some("Pier"), ..Keep::default() })
        .expect("kept");
    let curve = |on: &str| with_rule_film(&house.studio, straight(), some(on).as_ref(), at);
    assert_eq!(curve("pier").expect_err("nobody knows").code, "rule_film_unknown");
    assert_eq!(curve("nowhere").expect_err("not there").code, "record_unknown");
    let target = bench.folder.path().join("no.tif");
    let refused = |measured: Option<&str>, on: &str| {
        let own =
            make(&answers(measured, Some(on)), &bench.source, &target, &straight(), &Hooks::of(&|_, _| {}, &GO_ON));
        own.expect_err("refused").code
    };
    assert_eq!(refused(None, "none"), "answer_missing");
    assert_eq!(refused(Some("99mm"), "gate"), "rule_film_unknown", "a name nobody looked up is no correction of none");
}

#[test]
fn a_set_up_whose_figure_is_changed_says_on_which_film_it_counts() {
    let mut house = TestStudio::new();
    let with = |rule: &str| Keep { fields: fields(&[("rule_measured", rule)]), ..Keep::default() };
    let new = Keep { name: some("rag, palladium"), ..with("99mm") };
    keep(&mut house.studio, &now(), RecordKind::Setup, &new).expect("kept");
    let said = change(&mut house.studio, &now(), RecordKind::Setup, "1", &with("100.2mm")).expect("changed").said;
    assert!(said.iter().any(|own| own.contains("99mm") && own.contains("--rule-measured 100.2mm")), "{said:?}");
    let said = change(&mut house.studio, &now(), RecordKind::Setup, "1", &with("100.2mm")).expect("changed").said;
    assert_eq!(said.len(), 1, "{said:?}");
    let curve = with_setup(&house.studio, straight(), some("rag, palladium").as_ref(), now().at).expect("a curve");
    assert_eq!(curve.setup.expect("a set-up").number, Some(1));
    let _: &Path = house.folder.path();
}

#[test]
fn a_rule_the_film_does_not_carry_is_not_believed() {
    let bench = Bench::new();
    let mut house = TestStudio::new();
    let at = now().at;
    let four = NegativeAnswers { width: some("101.6mm"), ..answers(None, None) };
    let bare = NegativeAnswers { no_border: true, ..answers(None, None) };
    let made = keep_film(&mut house, "Ten", &answers(None, None), &straight(), &bench.source, "ten.tif");
    assert_eq!(made.rules_mm(), [100.0]);
    let made = keep_film(&mut house, "Four", &four, &straight(), &bench.source, "four.tif");
    assert_eq!(made.rules_mm(), [50.0]);
    keep_film(&mut house, "Bare", &bare, &straight(), &bench.source, "bare.tif");
    let curve = |on: &str| with_rule_film(&house.studio, straight(), some(on).as_ref(), at).expect("a curve");
    let refused = |measured: &str, on: &str| {
        let own = answers(Some(measured), Some(on)).check_rule(&curve(on)).expect_err("refused");
        assert_eq!(own.code, "rule_not_on_film", "{own}");
        own.cause
    };
    assert!(refused("49.8mm", "ten").contains("negative 1 (Ten) carries a rule of 100 mm"));
    assert!(refused("100mm", "four").contains("carries a rule of 50 mm"));
    for measured in ["49.8mm", "99.8mm"] {
        assert!(refused(measured, "bare").contains("carries no rule"));
    }
    for (measured, on) in [("99.5mm", "ten"), ("49.5mm", "four")] {
        answers(Some(measured), Some(on)).check_rule(&curve(on)).expect("its own rule");
    }
    // Of what was made before that was kept only a film without a border is known to have none.
    let before = |rules_mm| {
        let film = handcoat_work::negative::RuleFilm { words: "negative 1".into(), correction: 1.0, rules_mm };
        answers(Some("49.8mm"), Some("ten")).check_rule(&CurveOf { rule_film: Some(film), ..straight() })
    };
    assert!(before(None).is_ok() && before(Some(Vec::new())).is_err());
}

#[test]
fn a_figure_no_rule_measures_is_refused_where_it_is_kept_and_named_where_an_old_book_has_it() {
    let mut house = TestStudio::new();
    let with = |rule: &str| Keep { name: some("rag"), fields: fields(&[("rule_measured", rule)]), ..Keep::default() };
    assert_eq!(
        keep(&mut house.studio, &now(), RecordKind::Setup, &with("70mm")).expect_err("no rule").code,
        "rule_far"
    );
    keep(&mut house.studio, &now(), RecordKind::Setup, &with("99mm")).expect("kept");
    let refused = change(&mut house.studio, &now(), RecordKind::Setup, "rag", &with("70mm")).expect_err("no rule");
    assert!(refused.code == "rule_far" && refused.about.is_some_and(|own| own.asks().contains("rule")), "{refused:?}");
    change(&mut house.studio, &now(), RecordKind::Setup, "rag", &with("49.6mm")).expect("of the short rule");
    change(&mut house.studio, &now(), RecordKind::Setup, "rag", &with("unknown")).expect("unknown again");

    let refused = answers(None, None).check_rule(&by_setup(Some("70mm"))).expect_err("an old book");
    assert!(refused.code == "rule_far" && refused.cause.contains("set-up rag, palladium keeps"), "{refused}");
    let way = Remedy::ChangeSetup("rag, palladium".into(), Question::RuleMeasured, "99.5mm".into());
    assert!(refused.remedies.contains(&way) && !refused.remedies.iter().any(|own| matches!(own, Remedy::LeaveOut(_))));
    answers(Some("99.5mm"), Some("none")).check_rule(&by_setup(Some("70mm"))).expect("what is said goes before");
}

#[test]
fn what_is_left_as_it_is_asks_for_nothing_to_be_written() {
    let bench = Bench::new();
    // 0.4 % of the short rule is what a ruler does not read on it; on the long one it is.
    assert_eq!(bench.width(Some("49.8mm"), None, &by_setup(None)), (720, "rule_near".into()));
    assert_eq!(bench.width(Some("49.8mm"), None, &by_setup(Some("99.9mm"))), (720, "rule_near".into()));
    assert_eq!(bench.width(Some("49.8mm"), None, &by_setup(Some("100.1mm"))), (720, "rule_near".into()));
    assert_eq!(bench.width(Some("99.6mm"), None, &by_setup(None)), (723, "rule_corrected rule_other".into()));
    // Beside a figure that is in force the short rule is held to what is read on it: 0.995 × 0.994 and 0.995 × 0.996.
    assert_eq!(bench.width(Some("49.8mm"), None, &by_setup(Some("99.5mm"))), (727, "rule_corrected".into()));
    assert_eq!(bench.width(Some("49.6mm"), None, &by_setup(Some("99.5mm"))), (729, "rule_corrected rule_other".into()));
    // And where the next film would go by a figure that this film does not need, that is said.
    assert_eq!(
        bench.width(Some("49.8mm"), Some("none"), &by_setup(Some("98.5mm"))),
        (720, "rule_near rule_other".into())
    );
}
