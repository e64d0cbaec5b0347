//! Numbers of judgement stand in `source` with their status; sums of money and of water are made once.

use std::fs;
use std::path::Path;

use handcoat_craft::measure::{Mass, Money, PricePerMass, Volume};
use handcoat_craft::source::{ABOVE_THE_TABLE, POURED_MARKS, Status};
use handcoat_craft::stock::{AgainstNeed, AsWeighed, Way, Weighed, room_taken};

use crate::bench::{Change, into, ml, near, powder, q};

/// Numbers that are no judgement: counts of atoms and halves, units, k = 2, guards against the last bits; 2.2 is the example of a gamma in words, and 0.10 that of an increment.
const PLAIN: [&str; 23] = [
    "0.0", "0.1", "1.0", "2.0", "3.0", "4.0", "6.0", "10.0", "20.0", "100.0", "1000.0", "1e-3", "1e6", "1e-6", "1e-9",
    "0.5", "1.5", "2.5", "9.0", "60.0", "25.4", "2.2", "0.10",
];
/// Files whose numbers are chemistry: what a formula holds, and which hydrates are tried.
const CHEMISTRY: [&str; 3] = ["meeting.rs", "parse.rs", "mod.rs"];

fn literals(line: &str) -> Vec<String> {
    let code = line.split("//").next().unwrap_or_default();
    let words = code.split(|c: char| !(c.is_ascii_alphanumeric() || matches!(c, '.' | '_' | '-')));
    let number = |word: &&str| {
        let digits = word.starts_with(|c: char| c.is_ascii_digit());
        digits
            && (word.contains('.') && word.parse::<f64>().is_ok() || word.contains('e') && word.parse::<f64>().is_ok())
    };
    words.filter(number).map(String::from).collect()
}

fn scan(folder: &Path, found: &mut Vec<String>) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            scan(&path, found);
            continue;
        }
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        if CHEMISTRY.contains(&name.as_str()) && !path.ends_with("plan/mod.rs") {
            continue;
        }
        for (place, line) in fs::read_to_string(&path).expect("text").lines().enumerate() {
            let odd = literals(line).into_iter().filter(|number| !PLAIN.contains(&number.as_str()));
            let hydrates = line.contains("let forms = [");
            found.extend(odd.filter(|_| !hydrates).map(|number| format!("{}:{}: {number}", path.display(), place + 1)));
        }
    }
}

#[test]
fn no_number_of_judgement_stands_outside_source() {
    assert_eq!(literals("if x < 0.99 && y > 1e-4 || z == 3 { a.0 } // 0.7"), ["0.99", "1e-4"]);
    let mut found = Vec::new();
    for station in [
        "src/stock",
        "src/paper",
        "src/coat",
        "src/session",
        "src/print",
        "src/expose",
        "src/tone",
        "src/negative",
        "../pixels/src/scan",
        "../work/src/tone/scan",
        "../work/src/expose/scan",
    ] {
        scan(&Path::new(env!("CARGO_MANIFEST_DIR")).join(station), &mut found);
    }
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn marks_and_the_glass_above_the_table_say_where_they_are_from() {
    assert_eq!((POURED_MARKS.cite.status, ABOVE_THE_TABLE.cite.status), (Status::CommonPractice, Status::Computed));
    near(ABOVE_THE_TABLE.value, 0.008, 1e-12);
}

#[test]
fn a_price_for_nothing_is_no_price() {
    let sum: Money = q("48EUR");
    assert!(PricePerMass::new(sum, Mass::ZERO).is_err());
    assert!(PricePerMass::new(sum, q("1g")).is_ok());
}

#[test]
fn money_per_millilitre_is_in_whole_units() {
    let per = |sum: &str, volume: &str| q::<Money>(sum).per_millilitre(q(volume)).expect("a share");
    near(per("126EUR", "60mL"), 2.1, 1e-12);
    near(per("12600JPY", "60mL"), 210.0, 1e-9);
    assert_eq!(q::<Money>("126EUR").per_millilitre(Volume::ZERO), None);
}

#[test]
fn chloride_is_told_by_its_side_of_the_need() {
    let side =
        |mass: &str| into(powder("PdCl2"), "4g", "44mL").with_chloride("NaCl", mass).plan().batch.against_the_need();
    assert!(matches!(side("2.5g"), Some(AgainstNeed::Under(part)) if (part - (1.0 - 2.5 / 2.636_58)).abs() < 1e-4));
    assert!(matches!(side("3g"), Some(AgainstNeed::Over(part)) if (part - (3.0 / 2.636_58 - 1.0)).abs() < 1e-4));
    let bare = into(powder("PdCl2"), "4g", "44mL").plan().batch.against_the_need();
    assert!(matches!(bare, Some(AgainstNeed::Over(part)) if part < 1e-6), "{bare:?}");
    assert_eq!(into(powder("K2PtCl4"), "4g", "44mL").plan().batch.against_the_need(), None);
}

#[test]
fn a_way_that_makes_less_says_how_much_water_stays_out() {
    let plan = into(powder("PdCl2"), "4g", "44mL").on_balance("0.01g").plan();
    let mut left_out = 0;
    for salt in ["3.95g", "3.8g", "3.5g", "3g", "2g", "1g"] {
        let now = AsWeighed::after(&plan, Weighed { salt: Some(q(salt)), ..Weighed::default() }).expect("a comparison");
        let out = now.ways.iter().find(|out| matches!(out.way, Way::MakeUpTo { .. })).expect("a way");
        let room = room_taken(plan.request.powder.salt(), out.batch.salt, &plan.request.chloride, out.batch.chloride);
        let all = ml(plan.water.dissolve) + 2.0 * ml(plan.water.rinse) + room.most_ml;
        let less = plan.water_to_leave_out(&out.batch).map_or(0.0, ml);
        assert!(all - less <= ml(out.batch.volume.best) + 1e-9, "{salt}: {less} mL of {all}");
        // No more than a mark too much.
        assert!(less == 0.0 || all - less > ml(out.batch.volume.best) - 0.51, "{salt}: {less} mL of {all}");
        left_out += usize::from(less > 0.0);
    }
    assert!((4..6).contains(&left_out), "{left_out}");
    assert_eq!(plan.water_to_leave_out(&plan.batch), None);
}
