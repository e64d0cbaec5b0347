//! Responses that are kept: what makes them doubtful, what a print through their curve says, and the fit that comes back as it went.

use handcoat_craft::tone::{Doubt, PriorUse, SetupPart, Standing, Target, ToneError};
use handcoat_work::expose::{EyeAnswers, TestOfSetup, Tested, keep_test};
use handcoat_work::keep::{Keep, RecordKind, change, keep};
use handcoat_work::ledger::undo;
use handcoat_work::sample::sample_chart;
use handcoat_work::tone::{
    ChartAnswers, LevelAnswers, NextAnswers, ReportFacts, ResponseOfSetup, ToneRead, chart_levels, check, check_report,
    curve_csv, curve_to_use, document, fit_chart, followed_by, keep_check, keep_response, next, next_levels,
    one_response, pasted_chart, read_document, readings_csv, report, responses,
};
use handcoat_work::{Day, Question, Remedy};

use crate::studio::{TestStudio, day, fields, now, some};

const SETUP: &str = "rag, palladium";
/// The column of the sample chart that holds what was read.
const L_STAR: usize = 2;

fn house() -> TestStudio {
    let mut house = TestStudio::new();
    for (kind, name, own) in [
        (RecordKind::Paper, "rag", &[("lot", "A7")][..]),
        (RecordKind::Setup, SETUP, &[("paper", "rag"), ("metal", "Pd"), ("ink", "black only")]),
    ] {
        let answers = Keep { name: some(name), fields: fields(own), came: None };
        keep(&mut house.studio, &now(), kind, &answers).expect("kept");
    }
    house
}

fn sample() -> ToneRead {
    fit_chart(&ChartAnswers::default(), sample_chart(None).as_bytes(), None).expect("a fit")
}

#[test]
fn a_fit_comes_back_as_it_went_and_serves_as_prior() {
    let read = sample();
    assert_eq!(read.fit.outliers.len(), 1, "the wrong reading of the sample");
    let written = document(&read);
    assert_eq!(written["response"].as_array().expect("rows").len(), 257);
    assert_eq!(written["predicted"].as_array().expect("rows").len(), 257);
    assert_eq!(written["correction"].as_array().expect("entries").len(), 257);
    assert_eq!(written["response"][256]["input"], 1.0);
    for key in ["outliers", "quality", "memory", "target", "white", "black", "predicted", "warnings", "prior"] {
        assert!(!written[key].is_null(), "{key}");
    }
    let back = read_document(Question::Prior, written.to_string().as_bytes()).expect("read back");
    assert_eq!(back.rows, read.rows);
    assert_eq!(back.fit.outliers, read.fit.outliers);
    for (own, was) in back.correction.inputs().iter().zip(read.correction.inputs()) {
        assert!((own - was).abs() < 1e-12);
    }
    // Another print of the same paper: each reading a little off.
    let other: Vec<String> = (sample_chart(None).lines().enumerate())
        .map(|(row, line)| {
            let mut cells: Vec<String> = line.split(',').map(String::from).collect();
            if let (true, Some(own)) = (row > 0, cells.get_mut(L_STAR)) {
                let by = if row % 2 == 0 { 0.2 } else { -0.2 };
                *own = format!("{:.2}", own.parse::<f64>().expect("a lightness") + by);
            }
            cells.join(",")
        })
        .collect();
    let next = fit_chart(&ChartAnswers::default(), other.join("\n").as_bytes(), Some(&back)).expect("a fit");
    assert_eq!(next.fit.prior, PriorUse::Used);
    let again = fit_chart(&ChartAnswers::default(), readings_csv(&read).as_bytes(), None).expect("a fit");
    assert_eq!(again.fit, read.fit, "the readings it gives are the readings it had");
    for (bytes, says) in
        [(&b"{"[..], "no JSON"), (b"[1, 2]", "not that of a fit"), (br#"{"response": []}"#, "missing field")]
    {
        let refusal = read_document(Question::Prior, bytes).expect_err("no fit");
        assert_eq!(refusal.code, "fit_unreadable");
        assert!(refusal.cause.contains(says), "{}", refusal.cause);
    }
    type Torn = fn(&mut serde_json::Value);
    let wrong: [(Torn, &str); 8] = [
        (|own| own["response"][100]["l_star"] = 90.0.into(), "falls at row"),
        (|own| own["response"][0]["l_star"] = 1e300.into(), "falls at row"),
        (|own| own["response"][9]["l_star_sd"] = (-0.1).into(), "uncertainty"),
        (|own| own["response"][9]["input"] = 0.5.into(), "another input"),
        (|own| own["memory"]["values"][3] = 1e300.into(), "memory"),
        (|own| own["memory"]["covariance"][0] = (-1.0).into(), "memory"),
        (|own| own["memory"]["covariance"][1] = 15.0.into(), "memory"),
        (|own| own["quality"]["noise_l_star"] = 1e300.into(), "quality"),
    ];
    for (place, (tear, says)) in wrong.into_iter().enumerate() {
        let mut torn = written.clone();
        tear(&mut torn);
        let refusal = read_document(Question::Prior, torn.to_string().as_bytes()).expect_err("no fit");
        assert_eq!((refusal.code, refusal.about), ("fit_unreadable", Some(Question::Prior)), "{place}");
        assert!(refusal.cause.contains(says), "{place}: {}", refusal.cause);
    }
    let mut torn = written;
    torn["memory"]["values"] = serde_json::json!([1.0]);
    let refusal = read_document(Question::Prior, torn.to_string().as_bytes()).expect_err("no memory");
    assert!(refusal.cause.contains("memory"), "{}", refusal.cause);
}

#[test]
fn a_chart_given_as_its_own_prior_counts_once() {
    let (read, answers) = (sample(), ChartAnswers::default());
    let chart = sample_chart(None);
    let (head, rest) = chart.split_once('\n').expect("rows");
    let turned = std::iter::once(head).chain(rest.lines().rev()).collect::<Vec<_>>().join("\n");
    let kept = read_document(Question::Prior, document(&read).to_string().as_bytes()).expect("read back");
    for (table, prior) in [(&chart, &read), (&chart, &kept), (&turned, &kept)] {
        let again = fit_chart(&answers, table.as_bytes(), Some(prior)).expect("a fit");
        let alone = fit_chart(&answers, table.as_bytes(), None).expect("a fit");
        assert_eq!(again.fit.prior, PriorUse::Repeated);
        assert_eq!(again.fit.response, alone.fit.response, "as if nothing had been known");
        assert!(again.warnings.iter().any(|own| own.code() == "prior_repeated"), "{:?}", again.warnings);
        let back = read_document(Question::Prior, document(&again).to_string().as_bytes()).expect("read back");
        assert_eq!(back.fit.prior, PriorUse::Repeated);
    }
    // Nor does a print through the curve teach what was known from it.
    let checked = check(&answers, chart.as_bytes(), &read).expect("checked");
    assert!(checked.update.is_none(), "the chart itself is no print through its curve");
    assert!(matches!(checked.verified.update, Err(ToneError::ReadBefore)));
    let printed = sample_chart(Some(&read.correction));
    let taught = check(&answers, printed.as_bytes(), &read).expect("checked").update.expect("an update");
    assert!(check(&answers, printed.as_bytes(), &taught).expect("checked").update.is_none(), "it was learnt already");
}

#[test]
fn a_response_is_kept_checked_improved_and_doubted() {
    let mut house = house();
    let read = sample();
    let place = ResponseOfSetup { setup: some(SETUP), note: some("first chart"), scan: None };
    let done = keep_response(&mut house.studio, &day(1), &place, &read).expect("kept");
    assert_eq!(done.record, Some(1));
    let own = one_response(&house.studio, "1", day(2).at).expect("there");
    assert_eq!(own.setup, Some((1, SETUP.into())));
    assert_eq!(own.doubts, [Doubt::NeverVerified]);
    assert_eq!(curve_csv(&own.read), curve_csv(&read), "the curve that was kept");

    let answers = ChartAnswers::default();
    let printed = sample_chart(Some(&own.read.correction));
    let checked = check(&answers, printed.as_bytes(), &own.read).expect("checked");
    assert!(checked.verified.within_noise(), "{}", checked.verified.rms);
    let done = keep_check(&mut house.studio, &day(3), "1", &checked, true).expect("kept");
    assert_eq!(done.record, Some(2));
    let own = one_response(&house.studio, "1", day(4).at).expect("there");
    assert_eq!(own.standing(), Standing::Holds);
    let better = one_response(&house.studio, "2", day(4).at).expect("there");
    assert_eq!(better.follows, Some(1));
    let all = responses(&house.studio, None, 10, None, day(4).at).expect("listed");
    assert_eq!((followed_by(&all, 1), followed_by(&all, 2)), (Some(2), None));
    assert_eq!((curve_to_use(&all, Some(1)), curve_to_use(&all, None)), (Some(1), None), "verified, and holds");
    assert!(better.read.correction.expected_rms() < own.read.correction.expected_rms());

    // Another ink, and months later.
    let ink = Keep { fields: fields(&[("ink", "another black")]), ..Keep::default() };
    let changed = change(&mut house.studio, &day(5), RecordKind::Setup, SETUP, &ink).expect("changed");
    let own = one_response(&house.studio, "1", day(120).at).expect("there");
    assert_eq!(own.doubts, [Doubt::Changed(SetupPart::Ink), Doubt::Old(119)]);
    assert_eq!(own.standing(), Standing::Stale);
    let (code, said) = own.doubt_words().remove(0);
    assert_eq!(code, "setup_changed");
    assert!(said.starts_with("the ink changed since (ink: black only then, another black now): "), "{said}");
    let all = responses(&house.studio, None, 10, None, day(120).at).expect("listed");
    assert_eq!(curve_to_use(&all, Some(1)), None, "both are stale, and a stale curve is nobody's to use");
    undo(&mut house.studio, &day(6), &changed.act.to_string()).expect("taken back");
    assert_eq!(one_response(&house.studio, "1", day(7).at).expect("there").standing(), Standing::Holds);
    // Another lot of the same paper is another paper.
    let lot = Keep { fields: fields(&[("lot", "B2")]), ..Keep::default() };
    change(&mut house.studio, &day(8), RecordKind::Paper, "rag", &lot).expect("changed");
    assert_eq!(one_response(&house.studio, "1", day(9).at).expect("there").doubts, [Doubt::Changed(SetupPart::Paper)]);

    // What a print said is taken back with all it left.
    undo(&mut house.studio, &day(10), &done.act.to_string()).expect("taken back");
    assert!(one_response(&house.studio, "2", day(11).at).is_err());
    assert_eq!(one_response(&house.studio, "1", day(11).at).expect("there").checked, None);
    assert_eq!(responses(&house.studio, some(SETUP).as_deref(), 10, None, day(11).at).expect("listed").len(), 1);
    assert_eq!(responses(&house.studio, None, 10, Some(1), day(11).at).expect("listed").len(), 0);
    let refusal = responses(&house.studio, Some("nowhere"), 10, None, day(11).at).expect_err("no such set-up");
    assert_eq!(refusal.code, "record_unknown");
}

#[test]
fn a_set_up_is_not_taken_back_under_what_was_found_for_it() {
    let mut house = TestStudio::new();
    let setup = |house: &mut TestStudio, name: &str| {
        let answers = Keep { name: some(name), fields: fields(&[("metal", "Pd")]), came: None };
        keep(&mut house.studio, &now(), RecordKind::Setup, &answers).expect("kept").act
    };
    let (made, other) = (setup(&mut house, SETUP), setup(&mut house, "another"));
    let eye = |house: &mut TestStudio| {
        let answers = EyeAnswers {
            test_time: some("8:00"),
            last_black: some("4"),
            last_tone: some("18"),
            ..EyeAnswers::default()
        };
        let place = TestOfSetup { setup: some(SETUP), ..TestOfSetup::default() };
        keep_test(&mut house.studio, &day(1), &place, &Tested::Eye(&answers)).expect("kept").act
    };
    let (first, second) = (eye(&mut house), eye(&mut house));
    let read = sample();
    let place = ResponseOfSetup { setup: some(SETUP), note: None, scan: None };
    let kept = keep_response(&mut house.studio, &day(2), &place, &read).expect("kept").act;
    let checked = check(&ChartAnswers::default(), sample_chart(Some(&read.correction)).as_bytes(), &read);
    let check = keep_check(&mut house.studio, &day(3), "1", &checked.expect("checked"), false).expect("kept").act;
    let mut back = |act: i64| undo(&mut house.studio, &day(4), &act.to_string());

    let refusal = back(made).expect_err("tests and a response stand on it");
    assert_eq!(refusal.code, "act_in_the_way");
    let order = [check, kept, second, first];
    assert_eq!(refusal.remedies, order.map(Remedy::UndoFirst), "newest first, as they can be taken back");
    for act in [(check, "tone_check"), (kept, "tone"), (first, "expose")] {
        assert!(refusal.cause.contains(&format!("{} ({})", act.0, act.1)), "{}", refusal.cause);
    }
    // One test does not stand on its sister, and nothing on a set-up without any.
    back(other).expect("nothing stands on it");
    back(first).expect("a later test of the same set-up is not in the way");
    for act in [check, kept, second] {
        assert_eq!(back(made).expect_err("still").code, "act_in_the_way");
        back(act).expect("in the order that was named");
    }
    back(made).expect("nothing stands on it any more");
    house.sound();
}

#[test]
fn reports_are_one_page_and_the_same_again() {
    let read = sample();
    let facts = ReportFacts {
        title: "Response 1".into(),
        setup: some(SETUP),
        studio: some("Lapwing Weir Studio (invented)"),
        day: Day::read("2026-03-14").expect("a day"),
        invented: true,
        paper: None,
    };
    let page = report(&read, &facts).expect("a page");
    assert!(page.starts_with(b"%PDF"));
    assert_eq!(report(&read, &facts).expect("a page"), page);
    let letter = ReportFacts { paper: some("letter"), ..facts.clone() };
    assert_ne!(report(&read, &letter).expect("a page"), page);
    let printed = sample_chart(Some(&read.correction));
    let checked = check(&ChartAnswers::default(), printed.as_bytes(), &read).expect("checked");
    assert!(check_report(&checked, &letter).expect("a page").starts_with(b"%PDF"));
}

#[test]
fn what_is_pasted_is_a_table_or_pairs() {
    assert_eq!(pasted_chart("0 22.4\n0,5\t48,2\n\n1;93\n").expect("pairs"), "input,l_star\n0,22.4\n0.5,48.2\n1,93\n");
    assert_eq!(pasted_chart("0% 22\n50 % 48.2").expect("pairs"), "input,l_star\n0,22\n0.5,48.2\n");
    assert_eq!(pasted_chart("0.5,48.2").expect("pairs"), "input,l_star\n0.5,48.2\n");
    assert_eq!(pasted_chart("input,l_star\n0,22\n").expect("a table"), "input,l_star\n0,22\n");
    for (text, line) in
        [("0% 22\n50 % grey\n", "line 2"), ("0 22\n0.5 grey\n", "line 2"), ("0 22 1\n", "line 1"), ("0.5\n", "line 1")]
    {
        let refusal = pasted_chart(text).expect_err("no pairs");
        assert_eq!(refusal.code, "reading_unreadable");
        assert!(refusal.cause.starts_with(line), "{}", refusal.cause);
    }
    assert_eq!(pasted_chart(" \n").expect_err("nothing").code, "answer_missing");
    let refusal =
        fit_chart(&ChartAnswers { target: some("even"), ..ChartAnswers::default() }, b"", None).expect_err("no target");
    assert_eq!(refusal.code, "target_unknown");
    let soft = ChartAnswers { target: some("Soft-Whites"), ..ChartAnswers::default() };
    assert_eq!(fit_chart(&soft, sample_chart(None).as_bytes(), None).expect("a fit").target(), Target::SoftWhites);
}

#[test]
fn next_patches_cost_what_they_are_wide() {
    let read = sample();
    let asked = |patch: &str, most: &str| {
        next(&NextAnswers { patch: some(patch), most: some(most) }, &read.fit).expect("patches")
    };
    let (small, large) = (asked("5mm", "4"), asked("20mm", "4"));
    assert_eq!(small.patches.len(), large.patches.len());
    assert!((small.area.to_square_centimetres() - 0.25).abs() < 1e-12);
    for (a, b) in small.patches.iter().zip(&large.patches) {
        assert!((a.gain_per_cm2 / b.gain_per_cm2 - 16.0).abs() < 1e-6);
    }
    assert!(small.now > read.fit.quality.expected, "another day knows less");
    for (patch, most, code) in
        [("0mm", "4", "patch_empty"), ("10", "4", "unit_missing"), ("10mm", "0", "count_unreadable")]
    {
        let refusal = next(&NextAnswers { patch: some(patch), most: some(most) }, &read.fit).expect_err("refused");
        assert_eq!(refusal.code, code);
    }
}

#[test]
fn a_chart_to_print_has_every_level_once_and_its_places_on_the_sheet() {
    let text = chart_levels(&LevelAnswers::default()).expect("a chart");
    assert_eq!(text, chart_levels(&LevelAnswers::default()).expect("a chart"), "the same again");
    let rows = |text: &str| -> Vec<(f64, f64, f64)> {
        let number = |own: Option<&str>| own.expect("a cell").parse::<f64>().expect("a number");
        let row = |line: &str| {
            let cells: Vec<&str> = line.split(',').collect();
            (number(cells.get(1).copied()), number(cells.get(3).copied()), number(cells.get(4).copied()))
        };
        text.lines().skip(1).map(row).collect()
    };
    let own = rows(&text);
    assert!(!own.is_sorted_by(|a, b| a.0 < b.0), "in no order of tone");
    let mut inputs: Vec<f64> = own.iter().map(|own| own.0).collect();
    inputs.sort_by(f64::total_cmp);
    assert_eq!((inputs.len(), inputs.first(), inputs.last()), (31, Some(&0.0), Some(&1.0)));
    assert!(inputs.windows(2).all(|own| (own[1] - own[0] - 1.0 / 30.0).abs() < 2e-4));
    for (place, (_, x, y)) in own.iter().enumerate() {
        assert!((5.0..=195.0).contains(x) && (5.0..=135.0).contains(y), "{x} {y}");
        for (_, other_x, other_y) in own.iter().skip(place + 1) {
            assert!((x - other_x).abs() >= 9.99 || (y - other_y).abs() >= 9.99, "one over another");
        }
    }
    // Once its readings are filled in it is a chart.
    let filled: String = text.lines().map(|own| format!("{}\n", own.replacen(",,", ",50,", 1))).collect();
    let refusal = fit_chart(&ChartAnswers::default(), filled.as_bytes(), None).expect_err("all the same");
    assert_eq!(refusal.code, "chart_flat");
    // Of the next patches two of one level do not lie side by side.
    let read = sample();
    let found = next(&NextAnswers::default(), &read.fit).expect("patches");
    let own = rows(&next_levels(&LevelAnswers::default(), &found).expect("a chart"));
    assert_eq!(own.len(), found.patches.len());
    let most = found.levels().iter().map(|own| own.1).max();
    assert!(most <= Some(3), "{most:?} of one level");
    for (place, one) in own.iter().enumerate() {
        let alike = own.iter().skip(place + 1).filter(|other| other.0 == one.0);
        assert!(alike.clone().all(|other| (other.1 - one.1).hypot(other.2 - one.2) > 60.0));
    }
    let small = LevelAnswers { sheet: some("30x20mm"), ..LevelAnswers::default() };
    assert_eq!(chart_levels(&small).expect_err("no room").code, "patches_no_room");
}
