//! `coat plan` and the bookless `paper` commands: the keys scripts rely on, bottles of a book, what the terminal shows.

use serde_json::Value;

use crate::books::{new_book, on};
use crate::command::{fresh_folder, handcoat, json};

#[track_caller]
fn near(value: &Value, expected: f64, tolerance: f64) {
    let value = value.as_f64().unwrap_or_else(|| panic!("{value} is no number"));
    assert!((value - expected).abs() <= tolerance, "{value} is not {expected} ± {tolerance}");
}

fn counts(plan: &Value) -> Vec<u64> {
    plan["drops"].as_array().expect("drops").iter().filter_map(|own| own["drops"].as_u64()).collect()
}

fn codes(plan: &Value) -> Vec<&str> {
    plan["warnings"].as_array().expect("warnings").iter().filter_map(|own| own["code"].as_str()).collect()
}

const CONTRACT: [&str; 12] = [
    "coat",
    "plan",
    "--image",
    "8x10in",
    "--margin",
    "1cm",
    "--tool",
    "brush",
    "--metal",
    "Pd",
    "--uptake",
    "0.38mL/100cm2",
];

#[test]
fn a_coat_plan_has_every_key_of_the_contract() {
    let plan = json(&[&CONTRACT[..], &["--drops-per-ml", "20"]].concat());
    for key in
        ["coated_area_cm2", "sensitizer_ml", "poured_ml", "drops", "metal_mg", "iron_to_metal", "cost", "warnings"]
    {
        assert!(plan.get(key).is_some(), "no `{key}`");
    }
    // 22.32 cm by 27.40 cm.
    near(&plan["coated_area_cm2"], 611.568, 1e-6);
    near(&plan["sensitizer_ml"], 6.115_68 * 0.38, 1e-6);
    near(&plan["poured_ml"], 46.0 / 20.0, 1e-6);
    assert_eq!(counts(&plan), [23, 23]);
    // 15 g of Na2PdCl4 (294.19954 g/mol) in 100 mL, Pd 106.42: 54.26 mg/mL.
    near(&plan["metal_mg"]["Pd"], 1.15 * 150.0 / 294.199_54 * 106.42, 1e-3);
    assert_eq!(plan["cost"], Value::Null);
    // 27 % is 1.116 to 1.437 mol/L of iron, whatever the form; the metal 0.50986.
    near(&plan["iron_to_metal_least"], 2.0 * 270.0 / 483.834 / 0.509_86, 1e-3);
    near(&plan["iron_to_metal_most"], 2.0 * 270.0 / 375.744 / 0.509_86, 1e-3);
    assert_eq!(plan["iron_form_known"], false);
    let rows = plan["drops"].as_array().expect("drops");
    assert_eq!(rows.iter().map(|own| own["role"].as_str().expect("a role")).collect::<Vec<_>>(), ["iron", "metal"]);
    assert!(rows.iter().all(|own| own["solution"].is_string() && own["ml"].is_number()), "{rows:?}");
}

#[test]
fn an_uptake_is_of_the_coated_area_and_a_habit_of_the_nominal_size() {
    let habit = json(&["coat", "plan", "--image", "8x10in", "--metal", "Pd"]);
    assert_eq!((habit["uptake_of"].as_str(), counts(&habit)), (Some("nominal"), vec![23, 23]));
    near(&habit["sensitizer_ml"], 5.161_28 * 0.45, 1e-6);
    near(&habit["coated_area_cm2"], 611.568, 1e-6);
    let said = json(&["coat", "plan", "--image", "8x10in", "--metal", "Pd", "--uptake", "0.38mL/100cm2"]);
    near(&said["sensitizer_ml"], 6.115_68 * 0.38, 1e-6);
    let none = json(&["coat", "plan", "--image", "8x10in", "--metal", "Pd", "--margin", "0cm"]);
    near(&none["sensitizer_ml"], 5.161_28 * 0.38, 1e-6);
}

#[test]
fn a_share_on_the_paper_costs_drops() {
    let all = json(&[&CONTRACT[..], &["--share", "100%"]].concat());
    let half = json(&[&CONTRACT[..], &["--share", "50%", "--share-off", "4%"]].concat());
    near(&half["to_pour_ml"], 2.0 * all["to_pour_ml"].as_f64().expect("a number"), 1e-9);
    assert_eq!(half["sensitizer_ml"], all["sensitizer_ml"]);
    near(&half["share_on_paper_u"], 0.02, 1e-12);
}

#[test]
fn droppers_are_said_for_all_or_for_one_solution() {
    let drops = ["--drops-per-ml", "25", "--drops-per-ml", "metal 18±0.4"];
    let plan = json(&[&CONTRACT[..], &drops].concat());
    assert_eq!(counts(&plan), [29, 21]);
    assert!(!codes(&plan).contains(&"dropper_not_calibrated"));
    near(&plan["metal_u_mg"]["Pd"], 21.0 / 18.0 * 54.26 * 0.2 / 18.0, 0.01);
    assert!(codes(&json(&CONTRACT)).contains(&"dropper_not_calibrated"));
}

#[test]
fn two_metals_and_a_search() {
    let two = ["--metal", "Pt", "--ratio", "1:1", "--ratio-by", "moles"];
    let plain = json(&[&CONTRACT[..], &two].concat());
    let kept = json(&[&CONTRACT[..], &two, &["--within", "2%"]].concat());
    assert_eq!((&plain["within"], &kept["within"]), (&Value::Null, &Value::Bool(true)));
    assert!(kept["ratio_error"].as_f64().expect("a number") <= 0.02 + 1e-9);
    near(&kept["metal_ratio"]["by_moles"][0], 0.5, 0.01);
    assert!(kept["metal_mg"]["Pt"].is_number() && kept["metal_mg"]["Pd"].is_number());
}

#[test]
fn trap_3_a_ratio_without_its_unit_is_refused() {
    let outcome = handcoat(&["coat", "plan", "--image", "8x10in", "--metal", "Pd", "--metal", "Pt", "--ratio", "1:1"]);
    assert_eq!(outcome.code, 4);
    for remedy in ["--ratio-by volume", "--ratio-by moles", "--ratio-by weight", "51:49 by moles and 37:63 by weight"] {
        assert!(outcome.messages.contains(remedy), "{}", outcome.messages);
    }
}

#[test]
fn contrast_replaces_or_is_added() {
    let chlorate = json(&[&CONTRACT[..], &["--contrast", "KClO3 0.4%", "--dose", "0.8mg/mL"]].concat());
    let on_top = json(&[&CONTRACT[..], &["--contrast", "Na2PtCl6", "--dose", "1mg/mL"]].concat());
    let [iron, replaced, metal] = counts(&chlorate)[..] else { panic!("{chlorate}") };
    assert_eq!((iron + replaced, metal), (23, 23));
    assert_eq!(counts(&on_top)[..2], [23, 23]);
    assert!(on_top["contrast_metal_mg"]["Pt"].as_f64().expect("a number") > 0.0);
    assert_eq!(on_top["drops"][2]["role"], "contrast_agent");
    // A rung that stands ready is used as it is.
    let rung = json(&[&CONTRACT[..], &["--contrast", "Na2PtCl6 2.5%", "--dose", "1mg/mL"]].concat());
    assert_eq!((rung["drops"][2]["percent_wv"].as_f64(), rung["drops"][2]["drops"].as_u64()), (Some(2.5), Some(2)));
}

#[test]
fn trap_2_the_water_of_a_palladium_salt_is_a_field() {
    let metal = |text: &str| json(&["coat", "plan", "--image", "8x10in", "--metal", text]);
    let mg = |plan: &Value| plan["metal_mg"]["Pd"].as_f64().expect("a number");
    let (dry, wet) = (metal("Na2PdCl4 15% anhydrous"), metal("Na2PdCl4·3H2O 15%"));
    assert!((mg(&wet) / mg(&dry) - 294.2 / 348.25).abs() < 1e-3);
    let open = metal("Na2PdCl4 15%");
    assert!(codes(&open).contains(&"metal_form_open") && !codes(&dry).contains(&"metal_form_open"));
    assert!(mg(&open) < mg(&dry) && mg(&open) > mg(&wet));
    let by_metal = metal("Na2PdCl4 54mg/mL");
    assert!(!codes(&by_metal).contains(&"metal_form_open"));
}

#[test]
fn bottles_of_the_shelf_are_drunk_from_in_thought_only() {
    let folder = fresh_folder("coat");
    let book = new_book(&folder);
    on(
        &book,
        &[
            "stock",
            "receive",
            "Na2PdCl4",
            "--volume",
            "20mL",
            "--metal-per-ml",
            "50mg/mL",
            "--price",
            "40",
            "--currency",
            "EUR",
            "--name",
            "spring batch",
        ],
    );
    let before = on(&book, &["stock", "shelf", "--json"]);
    let plan = ["coat", "plan", "--image", "8x10in", "--metal", "spring batch", "--drops-per-ml", "20", "--json"];
    let planned: Value = serde_json::from_str(&on(&book, &plan)).expect("JSON");
    assert_eq!(planned["drops"][1]["solution"], "spring batch");
    near(&planned["metal_mg"]["Pd"], 23.0 * 0.05 * 50.0, 0.01);
    // 40 EUR for 20 mL, 1.15 mL taken; the iron has no price and is named.
    assert_eq!(planned["cost"]["minor"], 230);
    assert_eq!(planned["cost_without"][0], "ferric oxalate 27 %");
    assert_eq!(planned["prints_left"], 17);
    assert_eq!(planned["bottles"][1]["holds_ml"], 20.0);
    assert_eq!(on(&book, &["stock", "shelf", "--json"]), before);
    // Beyond what the bottle holds: refused, with the number of sheets that go.
    let path = book.to_str().expect("text");
    let refused = handcoat(&[&plan[..], &["--sheets", "18", "--book", path]].concat());
    assert_eq!(refused.code, 4);
    assert!(
        refused.messages.contains("more_than_held") && refused.messages.contains("--sheets 17"),
        "{}",
        refused.messages
    );
    let fits = handcoat(&[&plan[..], &["--sheets", "17", "--book", path]].concat());
    assert_eq!(fits.code, 0, "{}", fits.messages);
}

#[test]
fn the_terminal_shows_counts_large_and_in_dropping_order() {
    let shown = handcoat(&["coat", "plan", "--image", "4x5in", "--metal", "Pd", "--drops-per-ml", "20"]).data;
    let iron = shown.find("drops of ferric oxalate").expect("iron");
    let metal = shown.find("drops of palladium, Na2PdCl4 15 %").expect("palladium");
    assert!(iron < metal, "{shown}");
    // 6 and 6: five rows each, of three double columns.
    assert!(
        shown.contains("  ██████\n  ██\n  ██████    drops of ferric oxalate 27 %\n  ██  ██\n  ██████\n"),
        "{shown}"
    );
    assert!(shown.contains("Can I use less?") && shown.contains("[care]"), "{shown}");
}

#[test]
fn humidities_droppers_and_shares_need_no_book() {
    let salt = json(&["paper", "humidity", "--salt", "NaCl", "--temperature", "20C"]);
    near(&salt["boxes"][0]["humidity_percent"], 75.3604, 1e-4);
    assert_eq!(json(&["paper", "humidity"])["boxes"].as_array().map(Vec::len), Some(10));
    let dropper = json(&["paper", "dropper", "35drops 2mL"]);
    near(&dropper["drops_per_ml"], 17.5, 1e-9);
    let water = json(&["paper", "dropper", "20drops 1g", "--water-at", "15C", "--balance", "0.01g"]);
    assert_eq!(water["official_dropper"], true);
    near(&water["water_drop_mg"], 50.0, 1e-6);
    let share = json(&[
        "paper",
        "share",
        "--paper",
        "21.80g-20.00g",
        "--brush",
        "31.15g-31.00g",
        "--glass",
        "40.05g-40.00g",
        "--balance",
        "0.01g",
        "--image",
        "8x10in",
    ]);
    near(&share["share_on_paper"], 0.9, 1e-9);
    near(&share["coated_area_cm2"], 611.568, 1e-6);
    for words in [
        &["paper", "humidity"][..],
        &["paper", "dropper", "35drops 2mL"],
        &["coat", "plan", "--image", "8x10in", "--metal", "Pd", "--double"],
    ] {
        let outcome = handcoat(words);
        assert!(outcome.code == 0 && !outcome.data.is_empty(), "{words:?}: {}", outcome.messages);
    }
}
