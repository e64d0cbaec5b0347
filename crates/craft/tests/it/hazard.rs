//! Hazard codes are read or refused, never guessed; the exclamation mark gives way only where the rule says so.

use handcoat_craft::source::Pictogram::{Corrosion, ExclamationMark, Flame, HealthHazard, Skull};
use handcoat_craft::source::{
    EMERGENCY_DEFERS, HAZARD_STATEMENTS, HazardStatement, Pictogram, SignalWord, emergency, pictograms_shown,
};

fn statements(codes: &str) -> Vec<&'static HazardStatement> {
    codes.split_whitespace().map(|code| HazardStatement::from_code(code).expect("a code of the list")).collect()
}

#[test]
fn codes_are_found_again_and_stand_once() {
    for (place, row) in HAZARD_STATEMENTS.iter().enumerate() {
        assert_eq!(HazardStatement::from_code(row.code), Ok(row));
        assert!(HAZARD_STATEMENTS[..place].iter().all(|other| other.code != row.code), "{} twice", row.code);
        assert!(row.text.starts_with(char::is_uppercase) && !row.text.ends_with('.'), "{}", row.text);
        // What is said together is also said alone.
        assert!(row.code.split('+').all(|part| HazardStatement::from_code(part).is_ok()), "{}", row.code);
    }
    for sign in Pictogram::all() {
        assert_eq!(Pictogram::from_code(sign.code()), Ok(sign));
    }
    assert_eq!(Pictogram::from_code("ghs 5"), Ok(Corrosion));
    assert_eq!(HazardStatement::from_code("h 290").map(|row| row.text), Ok("May be corrosive to metals"));
    assert_eq!(HazardStatement::from_code("H301 + h311").map(|row| row.code), Ok("H301+H311"));
    assert_eq!("danger".parse(), Ok(SignalWord::Danger));
}

#[test]
fn case_behind_the_number_is_meaning() {
    let code = |text| HazardStatement::from_code(text).map(|row| row.code);
    assert_eq!((code("H360FD"), code("H360Fd")), (Ok("H360FD"), Ok("H360Fd")));
    // Could be any of three: refused and not chosen.
    assert!(code("h360fd").is_err());
}

#[test]
fn an_unknown_code_is_refused_with_what_was_written() {
    for written in ["H999", "H29", "H2900", "290", "", "H301+", "H301+H999", "P280", "GHS05"] {
        let error = HazardStatement::from_code(written).expect_err(written);
        assert_eq!(error.code(), "hazard_code_unknown");
        assert!(error.to_string().contains(&format!("`{written}`")), "{error}");
    }
    for written in ["GHS00", "GHS10", "GHS", "5", "GHS005", "", "GHS0", "H290"] {
        assert_eq!(Pictogram::from_code(written).expect_err(written).code(), "hazard_code_unknown");
    }
    assert!("Careful".parse::<SignalWord>().is_err());
}

#[test]
fn the_exclamation_mark_gives_way_by_the_rule() {
    let kept = |stated: &[Pictogram], codes| pictograms_shown(stated, &statements(codes)).contains(&ExclamationMark);
    // Corrosion covers irritation of skin and eyes, and nothing else.
    assert!(!kept(&[Corrosion, ExclamationMark], "H318 H315"));
    assert!(kept(&[Corrosion, ExclamationMark], "H318 H315 H302"));
    assert!(kept(&[Corrosion, ExclamationMark], "H290 H317 H318"));
    // The health hazard covers the skin's allergy only where it stands for the airways'.
    assert!(!kept(&[HealthHazard, ExclamationMark], "H334 H317 H319"));
    assert!(kept(&[HealthHazard, ExclamationMark], "H372 H317"));
    assert!(kept(&[HealthHazard, ExclamationMark], "H334 H317 H335"));
    // The skull covers all.
    assert!(!kept(&[Skull, ExclamationMark], "H301 H312 H335"));
    // Said together counts as each.
    assert!(kept(&[Corrosion, ExclamationMark], "H318 H302+H312"));
    // No reason known: it stays.
    assert!(kept(&[Corrosion, ExclamationMark], "H318"));
    assert!(kept(&[Corrosion, ExclamationMark], ""));
}

#[test]
fn nothing_else_is_left_out_and_the_order_is_that_of_the_codes() {
    assert_eq!(pictograms_shown(&[HealthHazard, Flame, Skull, Flame], &[]), [Flame, Skull, HealthHazard]);
    // A dichromate's sheet that shows skull and exclamation mark together (seen) is put right.
    let dichromate = statements("H272 H301 H312 H314 H317 H330 H334 H340 H350 H360FD H372 H400 H410");
    let stated = ["GHS03", "GHS05", "GHS06", "GHS07", "GHS08", "GHS09"]
        .map(|code| Pictogram::from_code(code).expect("a pictogram"));
    let shown: Vec<_> = pictograms_shown(&stated, &dichromate).iter().map(|sign| sign.code()).collect();
    assert_eq!(shown, ["GHS03", "GHS05", "GHS06", "GHS08", "GHS09"]);
}

#[test]
fn an_emergency_says_what_to_do_and_never_to_vomit() {
    let rows = emergency();
    assert_eq!(rows[0].when, "Eyes");
    for row in rows {
        assert!(!row.do_first.is_empty() && !row.then.is_empty(), "{}", row.when);
    }
    let all: String = rows.iter().flat_map(|row| row.then.iter().copied().chain([row.do_first, " "])).collect();
    for words in
        ["15 minutes", "contact lenses", "Do not make anyone vomit", "Platinum salts", "Never sweep", "fire service"]
    {
        assert!(all.contains(words), "no `{words}`");
    }
    assert!(EMERGENCY_DEFERS.text.contains("doctor"));
}
