//! The sheet tells what was weighed, what is taken as planned and what is still to be weighed, and nothing else.

use crate::papers::{poppler, read_back, sheet};

const PALLADIUM: [&str; 10] =
    ["stock", "plan", "--salt", "PdCl2", "--make", "40mL", "--balance", "0.01g", "--purity", "99%"];
const VIAL: [&str; 10] =
    ["stock", "plan", "--salt", "K2PtCl4", "--salt-mass", "2g", "--balance", "0.01g", "--purity", "99%"];

/// The words of a sheet, spaces and lines made one space each.
fn words(name: &str, base: &[&str], more: &[&str]) -> String {
    let path = sheet(name, &[base, more].concat());
    let text = read_back("pdftotext", &["-layout"], &path, &["-"]);
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[track_caller]
fn holds(words: &str, wanted: &[&str], unwanted: &[&str]) {
    for word in wanted {
        assert!(words.contains(word), "no `{word}` in\n{words}");
    }
    for word in unwanted {
        assert!(!words.contains(word), "`{word}` stands in\n{words}");
    }
}

#[test]
fn with_only_the_chloride_weighed_the_powder_is_still_to_come() {
    if !poppler() {
        return;
    }
    let words = words("chloride-only", &PALLADIUM, &["--chloride-weighed", "2.9g"]);
    holds(
        &words,
        &[
            "In the beaker: 2.90 g",
            "Still to be weighed: PdCl",
            "weigh the PdCl",
            "Follow the chloride",
            "Tick one way",
        ],
        &["On the pan", "weigh the NaCl"],
    );
}

#[test]
fn with_only_the_powder_weighed_the_chloride_is_taken_as_planned() {
    if !poppler() {
        return;
    }
    let words = words("powder-only", &PALLADIUM, &["--weighed", "3.97g"]);
    holds(
        &words,
        &["On the pan: 3.97 g", "NaCl is taken as planned", "If it is not in the water yet: weigh the NaCl"],
        &["Still to be weighed", "weigh the PdCl"],
    );
}

#[test]
fn with_both_weighed_nothing_is_weighed_again() {
    if !poppler() {
        return;
    }
    let words = words("both", &PALLADIUM, &["--weighed", "3.97g", "--chloride-weighed", "2.9g"]);
    holds(&words, &["On the pan: 3.97 g", "In the beaker: 2.90 g"], &["New paper", "still to be", "taken as planned"]);
}

#[test]
fn as_planned_goes_on_to_the_planned_mark() {
    if !poppler() {
        return;
    }
    let planned = crate::command::json(&PALLADIUM)["salt_g"].to_string();
    let words = words("as-planned", &PALLADIUM, &["--weighed", &format!("{planned}g")]);
    holds(
        &words,
        &["to the mark of the cylinder 40 mL", "Write the strength on the label"],
        &["Tick one way", "way chosen"],
    );
}

#[test]
fn what_is_mixed_is_not_mixed_again() {
    if !poppler() {
        return;
    }
    for (name, base) in [("mixed-jar", &PALLADIUM), ("mixed-vial", &VIAL)] {
        let mixed = words(name, base, &["--weighed", "2.06g", "--mixed"]);
        holds(
            &mixed,
            &["Write the strength of the way chosen"],
            &["New paper", "Weigh the sealed vial", "Stir until clear"],
        );
    }
    // The mark of the plan stands until a way is chosen: diluting is not making up.
    let vial = words("mixed-vial-mark", &VIAL, &["--weighed", "2.06g", "--mixed"]);
    holds(&vial, &["make up to the mark 10 mL", "Dilute to the label"], &["make up to the mark 10.3 mL"]);
}

#[test]
fn a_vial_beside_a_weighed_chloride_is_not_said_to_be_weighed() {
    if !poppler() {
        return;
    }
    let more = ["--chloride-mass", "0.5g", "--chloride-weighed", "0.6g"];
    let words = words("vial-chloride", &VIAL, &more);
    holds(
        &words,
        &["Still to be dissolved: one sealed vial", "In the beaker: 0.60 g", "Weigh the sealed vial"],
        &["In the vial:", "weigh the NaCl"],
    );
}

#[test]
fn a_mixed_vial_is_what_was_in_it() {
    if !poppler() {
        return;
    }
    let words = words("vial-mixed", &VIAL, &["--weighed", "2.20g", "--mixed"]);
    // 2 g in 10 mL is 20 g per 100 mL; 2.2 g in the same 10 mL is 22, in the weighing and in the strength.
    holds(&words, &["2.20 g", "powder as weighed 22 g"], &["powder as weighed 20 g"]);
}

#[test]
fn the_sheet_says_what_its_uncertainty_leaves_out() {
    let open = words("left-open", &PALLADIUM, &[]);
    holds(&open, &["not in the ±: the water in the powder"], &["the powder's purity"]);
    let closed = words("closed", &PALLADIUM, &["--hydrate", "none"]);
    holds(&closed, &["not in the ±: purity and damp of the chloride"], &["the water in the powder"]);
}
