//! Solutions at the command line and on the page: keys, ranges, refusals that lead on.

use serde_json::Value;

use crate::books::{new_book, on};
use crate::command::{fresh_folder, handcoat, json};
use crate::papers::{poppler, read_back};
use crate::web::House;

#[track_caller]
fn near(value: &Value, expected: f64, tolerance: f64) {
    let value = value.as_f64().unwrap_or_else(|| panic!("{value} is no number"));
    assert!((value - expected).abs() <= tolerance, "{value} is not {expected} ± {tolerance}");
}

fn codes(plan: &Value) -> Vec<&str> {
    plan["warnings"].as_array().expect("warnings").iter().filter_map(|warning| warning["code"].as_str()).collect()
}

#[test]
fn ferric_oxalate_of_an_unstated_form_has_a_range_and_no_molarity() {
    let plan = json(&[
        "stock",
        "plan",
        "--salt",
        "Fe2(C2O4)3",
        "--percent",
        "27",
        "--make",
        "100mL",
        "--and",
        "H2C2O4·2H2O=2%",
    ]);
    assert_eq!((&plan["kind"], &plan["molarity_mol_per_l"]), (&Value::from("solution"), &Value::Null));
    // 270 g/L over 483.834 and 375.744 g/mol (periodictable 2.1.0).
    near(&plan["molarity_least_mol_per_l"], 0.558_043, 1e-6);
    near(&plan["molarity_most_mol_per_l"], 0.718_574, 1e-6);
    near(&plan["salt_g"], 27.0, 1e-9);
    near(&plan["solutes"][1]["weigh_g"], 2.0, 1e-9);
    near(&plan["solutes"][1]["molarity_mol_per_l"], 20.0 / 126.064, 1e-6);
    near(&plan["ready_after_h"], 24.0, 0.0);
    assert_eq!((&plan["strength_rel_u"], &plan["density_g_per_ml"]), (&Value::Null, &Value::Null));
    assert!(codes(&plan).contains(&"form_open") && codes(&plan).contains(&"purity_unstated"));
    assert!(plan["bottle"].as_str().is_some_and(|own| own.contains("brown")));
    assert_eq!(plan["tests"], serde_json::json!(["ferrous", "works-at-all", "fog strip"]));
}

#[test]
fn each_caution_stands_before_what_it_is_about() {
    let plan =
        json(&["stock", "plan", "--salt", "ferric oxalate", "--form", "6", "--make", "25mL", "--and", "KClO3=0.3g"]);
    let steps = plan["steps"].as_array().expect("steps");
    let place = |word: &str| {
        let found = |step: &Value| step["what"].as_str().is_some_and(|own| own.contains(word));
        steps.iter().position(found).unwrap_or_else(|| panic!("no step with `{word}`"))
    };
    // The chlorate goes in last, by itself, when the iron is cool; its caution stands in the step that opens its jar.
    let (iron, cool, chlorate, mark) =
        (place("weigh the ferric"), place("cool"), place("weigh the potassium chlorate"), place("mark"));
    assert!(iron < cool && cool < chlorate && chlorate < mark, "{steps:#?}");
    assert!(steps[chlorate]["care"].as_str().is_some_and(|own| own.contains("Never dry")));
    assert!(steps[cool]["care"].as_str().is_some_and(|own| own.contains("never warmed")));
    assert_eq!(codes(&plan)[..2], ["chlorate_apart", "chlorate_in_iron"]);
    // Water before acid.
    let acid = json(&["stock", "plan", "--salt", "HCl", "--percent", "0.5", "--from-stock", "12M", "--make", "1L"]);
    let what: Vec<&str> =
        acid["steps"].as_array().expect("steps").iter().filter_map(|own| own["what"].as_str()).collect();
    let water = what.iter().position(|own| own.starts_with("Distilled water into the beaker")).expect("water");
    let pour = what.iter().position(|own| own.contains("pour it into the water")).expect("acid");
    assert!(water < pour, "{what:#?}");
    // 5 g/L of 36.458 g/mol from 12 mol/L.
    near(&acid["stock_ml"], 5.0 / 36.458 / 12.0 * 1000.0, 1e-3);
}

#[test]
fn text_never_prints_a_molarity_of_an_unknown_form_as_certain() {
    for form in [&["--form", "unknown"][..], &[]] {
        let base =
            ["stock", "plan", "--salt", "ferric oxalate", "--percent", "27", "--make", "100mL", "--balance", "0.1g"];
        let text = handcoat(&[&base[..], form].concat()).data;
        let moles: Vec<&str> = text.lines().filter(|line| line.ends_with("mol/L")).collect();
        assert_eq!(moles.len(), 1, "{text}");
        assert!(moles[0].contains("0.56 to 0.72") && !moles[0].contains('±'), "{text}");
    }
}

#[test]
fn the_one_percent_chlorate_that_is_proposed_can_be_planned_as_said() {
    let plan = json(&["stock", "plan", "--salt", "KClO3", "--percent", "1", "--make", "50mL", "--balance", "0.01g"]);
    near(&plan["salt_g"], 0.5, 1e-9);
    near(&plan["molarity_mol_per_l"], 10.0 / 122.5453, 1e-5);
    assert!(plan["strength_rel_u"].as_f64().is_some_and(|own| own > 0.0 && own < 0.02));
    assert!(codes(&plan).contains(&"never_dry") && !codes(&plan).contains(&"chlorate_apart"));
}

#[test]
fn a_bench_sheet_of_each_kind_of_solution_is_one_page() {
    let folder = fresh_folder("solution-sheets");
    let cases: [(&str, &[&str]); 4] = [
        ("iron.pdf", &["--salt", "ferric oxalate", "--make", "25mL", "--and", "oxalic acid=2%", "--and", "KClO3=0.3g"]),
        ("bath.pdf", &["--salt", "tetrasodium EDTA", "--make", "1L", "--and", "sodium sulfite=2.5%"]),
        (
            "acid.pdf",
            &[
                "--salt",
                "HCl",
                "--percent",
                "0.5",
                "--from-stock",
                "37%",
                "--stock-density",
                "1.18g/mL",
                "--make",
                "1L",
            ],
        ),
        ("developer.pdf", &["--salt", "potassium oxalate", "--form", "1", "--make", "1L", "--added"]),
    ];
    for (name, arguments) in cases {
        let path = folder.join(name);
        let sheet = ["--balance", "0.01g", "--day", "2026-03-14", "--sheet", path.to_str().expect("text")];
        let outcome = handcoat(&[&["stock", "plan"], arguments, &sheet[..]].concat());
        assert_eq!(outcome.code, 0, "{name}: {}", outcome.messages);
        assert!(std::fs::read(&path).expect("a sheet").starts_with(b"%PDF"), "{name}");
    }
}

#[test]
fn a_solution_goes_from_its_jars_to_its_label() {
    let folder = fresh_folder("solutions");
    let book = new_book(&folder);
    on(&book, &["stock", "receive", "ferric oxalate", "--form", "hexahydrate", "--mass", "100g", "--name", "iron jar"]);
    on(&book, &["stock", "receive", "oxalic acid", "--mass", "500g", "--name", "acid jar"]);
    on(
        &book,
        &[
            "stock",
            "mix",
            "--from",
            "iron jar",
            "--mass",
            "27g",
            "--and",
            "acid jar=2g",
            "--make",
            "100mL",
            "--name",
            "A",
        ],
    );
    let shelf: Value = serde_json::from_str(&on(&book, &["stock", "shelf", "--json"])).expect("JSON");
    let bottle = shelf["items"].as_array().expect("items").iter().find(|own| own["name"] == "A").expect("A").clone();
    near(&bottle["dissolved"][0]["percent_wv"], 27.0, 1e-9);
    assert_eq!(bottle["dissolved"][0]["form_stated"], true);
    near(&bottle["dissolved"][0]["molarity_least_mol_per_l"], 0.558_043, 1e-6);
    near(&bottle["dissolved"][0]["molarity_most_mol_per_l"], 0.558_043, 1e-6);
    assert_eq!(bottle["dissolved"][1]["form_stated"], false);
    assert!(bottle["ready_after"].is_string());
    on(&book, &["stock", "test", "A", "passed"]);
    let text = on(&book, &["stock", "shelf"]);
    assert!(text.contains("27 % ferric oxalate (0.558 mol/L)") && text.contains("works-at-all test is due"), "{text}");
    on(&book, &["stock", "label", "A", "-o", folder.join("a.pdf").to_str().expect("text")]);
    on(&book, &["check"]);
}

#[test]
fn the_label_of_a_mixture_carries_every_sheet_and_says_which_is_missing() {
    let folder = fresh_folder("mixture-label");
    let book = new_book(&folder);
    for name in ["ferric oxalate", "oxalic acid", "potassium chlorate"] {
        on(&book, &["stock", "receive", name, "--mass", "100g", "--name", name]);
    }
    let sheet = |name: &str, statement: &str, word: &str| {
        let supplier = ["--supplier", "Alder Salts (invented)", "--date", "2026-01-20"];
        on(&book, &[&["stock", "hazards", name, "--statement", statement, "--signal", word], &supplier[..]].concat());
    };
    sheet("ferric oxalate", "H302", "Warning");
    sheet("potassium chlorate", "H271", "Danger");
    let mix = ["stock", "mix", "--from", "ferric oxalate", "--mass", "6.75g", "--make", "25mL", "--name", "B"];
    on(&book, &[&mix[..], &["--and", "oxalic acid=0.5g", "--and", "potassium chlorate=0.3g"]].concat());
    // And through a split: what was poured off holds the same.
    on(&book, &["stock", "split", "B", "--volume", "10mL", "--name", "small"]);
    for name in ["B", "small"] {
        let path = folder.join(format!("{name}.pdf"));
        on(&book, &["stock", "label", name, "-o", path.to_str().expect("text")]);
        if !poppler() {
            continue;
        }
        let words = read_back("pdftotext", &["-layout"], &path, &["-"]);
        assert!(words.contains("H302") && words.contains("H271") && words.contains("Danger"), "{name}: {words}");
        assert!(words.contains("not entered for all"), "{name}: {words}");
        assert!(words.contains("vented cap"), "{name}: {words}");
    }
}

#[test]
fn the_plan_page_makes_a_solution_with_its_steps() {
    let house = House::new("solution-page");
    let page =
        house.get("/stock/plan?salt=ferric+oxalate&make=100mL&percent=27&and=oxalic+acid%3D2%25&balance=0.1g").text;
    assert!(
        page.contains("0.56 to 0.72") && page.contains("Step by step") && page.contains("form not stated"),
        "{page}"
    );
    let refused = house.get("/stock/plan?salt=sodium+sulfite&make=1L&and=citric+acid%3D1%25").text;
    assert!(refused.contains("sulfur dioxide"), "{refused}");
    let sheet = house.get("/stock/plan/sheet?salt=citric+acid&make=1L&balance=0.1g");
    assert_eq!(sheet.status, 200);
}

proptest::proptest! {
    #[test]
    fn arbitrary_answers_make_a_solution_or_a_next_step(
        salt in 0_usize..8, other in 0_usize..8, number in 0_usize..6, flag in 0_usize..8, volume in 0_usize..6,
    ) {
        let salts =
            ["ferric oxalate", "Fe2(C2O4)3·6H2O", "KClO3", "HCl", "H2O2", "HAuCl4", "potassium oxalate", "sodium sulfite"];
        let numbers = ["0", "0.001", "0.5", "5", "60", "90000"];
        let flags = ["--percent", "--salt-mass", "--molarity", "--balance", "--purity", "--rinses", "--from-stock", "--added"];
        let units = ["%", "g", "M", "g", "%", "", "%"];
        let answer = match units.get(flag) {
            Some(unit) => format!("{}={}{unit}", flags[flag], numbers[number]),
            None => String::from("--added"),
        };
        let (make, and) = (format!("--make={}mL", numbers[volume]), format!("--and={}=1%", salts[other]));
        let outcome = handcoat(&["stock", "plan", "--salt", salts[salt], &make, &and, &answer, "--json"]);
        if outcome.code == 0 {
            let plan: Value = serde_json::from_str(&outcome.data).expect("JSON");
            for solute in plan["solutes"].as_array().expect("solutes") {
                proptest::prop_assert!(solute["percent_wv"].as_f64().is_some_and(|own| own > 0.0), "{}", outcome.data);
                let (least, most) = (&solute["molarity_least_mol_per_l"], &solute["molarity_most_mol_per_l"]);
                proptest::prop_assert!(least.as_f64() <= most.as_f64(), "{}", outcome.data);
            }
        } else {
            let error: Value = serde_json::from_str(&outcome.messages).expect("JSON");
            proptest::prop_assert!(error["error"]["remedies"].as_array().is_some_and(|own| !own.is_empty()), "{error}");
        }
    }
}
