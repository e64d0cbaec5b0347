//! The keys and numbers scripts rely on.

use serde_json::Value;

use crate::command::json;

#[track_caller]
fn near(value: &Value, expected: f64, tolerance: f64) {
    let value = value.as_f64().unwrap_or_else(|| panic!("{value} is no number"));
    assert!((value - expected).abs() <= tolerance, "{value} is not {expected} ± {tolerance}");
}

fn codes(plan: &Value) -> Vec<&str> {
    plan["warnings"].as_array().expect("warnings").iter().filter_map(|warning| warning["code"].as_str()).collect()
}

#[test]
fn a_plan_has_every_key_of_the_contract() {
    let plan =
        json(&["stock", "plan", "--salt", "PdCl2", "--with", "NaCl", "--make", "60mL", "--percent-complex", "15"]);
    let keys = [
        "salt_g",
        "chloride_g",
        "chloride_stoichiometric_g",
        "chloride_to_metal",
        "molarity_mol_per_l",
        "metal_mg_per_ml",
        "complex_formula",
        "complex_percent_wv",
        "volume_ml",
        "water_dissolve_ml",
        "water_rinse_ml",
        "cost",
        "strength_rel_u",
        "warnings",
    ];
    for key in keys {
        assert!(plan.get(key).is_some(), "no `{key}`");
    }
    // 15 g of Na2PdCl4 (294.19954 g/mol) per 100 mL, PdCl2 177.32 g/mol: computed from periodictable 2.1.0.
    near(&plan["molarity_mol_per_l"], 150.0 / 294.199_54, 1e-6);
    near(&plan["salt_g"], 0.06 * 150.0 / 294.199_54 * 177.32, 1e-5);
    near(&plan["chloride_to_metal"], 2.0, 1e-6);
    near(&plan["volume_ml"], 60.0, 1e-9);
    assert_eq!(plan["complex_formula"], "Na2PdCl4");
    assert_eq!((&plan["cost"], &plan["strength_rel_u"]), (&Value::Null, &Value::Null));
    assert_eq!(plan["chloride_g"], plan["chloride_stoichiometric_g"]);
    assert!(codes(&plan).contains(&"purity_unstated"));
}

#[test]
fn each_way_of_asking_gives_the_same_stock() {
    let base = ["stock", "plan", "--salt", "PdCl2", "--make", "60mL"];
    let by_percent = json(&[&base[..], &["--percent-complex", "15"]].concat());
    let molarity = format!("{}M", by_percent["molarity_mol_per_l"].as_f64().expect("a number"));
    let metal = format!("{:.9}mg/mL", by_percent["metal_mg_per_ml"].as_f64().expect("a number"));
    let mass = format!("{:.6}g", by_percent["salt_g"].as_f64().expect("a number"));
    let molarity: String = molarity.chars().take(12).chain(['M']).collect();
    for more in [["--molarity", &molarity], ["--metal-per-ml", &metal], ["--salt-mass", &mass]] {
        let other = json(&[&base[..], &more].concat());
        for key in ["salt_g", "molarity_mol_per_l", "complex_percent_wv"] {
            near(&other[key], by_percent[key].as_f64().expect("a number"), 2e-5);
        }
    }
}

#[test]
fn a_scale_rounds_and_brings_a_plus_minus() {
    let plan = json(&[
        "stock",
        "plan",
        "--salt",
        "PdCl2",
        "--make",
        "60mL",
        "--percent-complex",
        "15",
        "--balance",
        "0.1g",
        "--purity",
        "99%",
        "--price-salt",
        "48EUR/g",
    ]);
    near(&plan["salt_g"], 5.5, 1e-9);
    assert_eq!(plan["cost"], serde_json::json!({ "minor": 26_400, "currency": "EUR" }));
    let relative = plan["strength_rel_u"].as_f64().expect("a number");
    // 0.1 g / √6 over 5.5 g, and a 100 mL class B cylinder (±1 mL, rectangular) at 60 mL.
    let expected = ((0.1 / 6_f64.sqrt() / 5.5).powi(2) + (1.0 / 3_f64.sqrt() / 60.0).powi(2)).sqrt();
    assert!((relative / expected - 1.0).abs() < 1e-3, "{relative} against {expected}");
    assert!(!codes(&plan).contains(&"purity_unstated"));
    near(&plan["molarity_u_mol_per_l"], relative * plan["molarity_mol_per_l"].as_f64().expect("a number"), 1e-9);
}

#[test]
fn ratio_and_mass_of_chloride_are_obeyed() {
    let base = ["stock", "plan", "--salt", "PdCl2", "--salt-mass", "5.4g", "--make", "60mL"];
    near(&json(&[&base[..], &["--chloride-ratio", "2.2"]].concat())["chloride_to_metal"], 2.2, 1e-5);
    near(&json(&[&base[..], &["--chloride-mass", "3.7g"]].concat())["chloride_g"], 3.7, 1e-9);
    assert!(codes(&json(&[&base[..], &["--chloride-mass", "3.4g"]].concat())).contains(&"chloride_short"));
    assert!(codes(&json(&[&base[..], &["--chloride-mass", "5.5g"]].concat())).contains(&"chloride_excess"));
}

#[test]
fn what_was_weighed_adds_its_keys() {
    let plan = json(&[
        "stock",
        "plan",
        "--salt",
        "PdCl2",
        "--salt-mass",
        "2.3g",
        "--make",
        "25mL",
        "--chloride-mass",
        "2.0g",
        "--weighed",
        "2.6g",
        "--bottle",
        "30mL",
    ]);
    near(&plan["put_back_g"], 0.3, 1e-9);
    near(&plan["make_up_to_ml"], 28.26, 0.005);
    near(&plan["chloride_for_weighed_g"], 1.714, 0.0005);
    near(&plan["chloride_same_ratio_g"], 2.261, 0.0005);
    near(&plan["chloride_to_add_g"], 0.261, 0.0005);
    near(&plan["chloride_must_add_g"], 0.0, 0.0);
    assert_eq!(plan["ways"][1]["facts"]["bottle_holds"], true);
    near(&plan["as_weighed"]["stronger"], 2.6 / 2.3 - 1.0, 1e-6);
}

#[test]
fn two_readings_are_subtracted_by_the_program() {
    let base = ["stock", "plan", "--salt", "PdCl2", "--salt-mass", "4.8g", "--make", "50mL"];
    let net = json(&[&base[..], &["--weighed", "5.02g"]].concat());
    let readings = json(&[&base[..], &["--weighed", "7.13g-2.11g"]].concat());
    assert_eq!(net, readings);
}

#[test]
fn added_water_is_an_estimate_and_says_so() {
    let plan = json(&[
        "stock",
        "plan",
        "--salt",
        "PdCl2",
        "--salt-mass",
        "2.3g",
        "--make",
        "25mL",
        "--chloride-mass",
        "2.0g",
        "--added",
    ]);
    assert_eq!(plan["volume_is_estimate"], true);
    near(&plan["volume_ml"], 26.3, 0.2);
    near(&plan["water_added_ml"], 25.0, 0.0);
}

#[test]
fn a_decimal_comma_is_a_decimal_point() {
    let comma = json(&["stock", "plan", "--salt", "PdCl2", "--salt-mass", "4,6 g", "--make", "50,5 mL"]);
    let point = json(&["stock", "plan", "--salt", "PdCl2", "--salt-mass", "4.6g", "--make", "50.5mL"]);
    assert_eq!(comma, point);
}

#[test]
fn a_budget_is_compared_with_the_price_by_the_gram_and_says_so() {
    let base = ["stock", "plan", "--salt", "PdCl2", "--budget", "300EUR", "--balance", "0.1g", "--price-salt"];
    let jar = [&base[..], &["480EUR/10g"]].concat();
    let plan = json(&jar);
    // 300 EUR at 48 EUR/g buy 6.25 g; the scale shows tenths, and the budget is not passed.
    near(&plan["salt_g"], 6.2, 1e-9);
    assert_eq!(plan["cost"], serde_json::json!({ "minor": 29_760, "currency": "EUR" }));
    assert_eq!(plan, json(&[&base[..], &["48EUR/g"]].concat()));
    let text = crate::command::handcoat(&jar).data;
    assert!(text.contains("for 300.00 EUR at 480.00 EUR for 10 g: as much powder as that buys by the gram"), "{text}");
    let other = crate::command::handcoat(&["stock", "plan", "--salt", "PdCl2", "--make", "60mL"]).data;
    assert!(!other.contains("by the gram"), "{other}");
}

#[test]
fn help_is_data_and_carries_examples() {
    for arguments in
        [&["--help"][..], &["stock", "plan", "--help"], &["stock", "ladder", "--help"], &["tour", "--help"]]
    {
        let outcome = crate::command::handcoat(arguments);
        assert_eq!(outcome.code, 0);
        assert!(outcome.data.contains("handcoat tour") || outcome.data.contains("Example"), "{}", outcome.data);
        assert!(outcome.messages.is_empty());
    }
}

#[test]
fn a_ladder_of_palladium_speaks_of_no_vial_and_shows_its_uncertainty() {
    let base = ["stock", "ladder", "--keep", "1mL", "--balance", "0.01g", "--salt"];
    let text = |salt| crate::command::handcoat(&[&base[..], &[salt]].concat()).data;
    for salt in ["K2PdCl4", "Na2PdCl4"] {
        let text = text(salt);
        assert!(!text.contains("vial") && text.contains('±') && text.contains("purity_unstated"), "{text}");
    }
    assert!(text("Na2PdCl4").contains("hydration_unstated"));
    let vial = text("K2PtCl4");
    assert!(vial.contains("sealed vial") && vial.contains("sealed_vial"), "{vial}");
    let plain = crate::command::handcoat(&["stock", "ladder", "--salt", "K2PdCl4"]).data;
    assert!(!plain.contains('±'), "{plain}");
    let ladder = json(&[&base[..], &["K2PtCl4"]].concat());
    assert_eq!(ladder["warnings"][0]["code"], "sealed_vial");
}

#[test]
fn ways_say_what_scale_and_glass_can_do() {
    let plan = [
        "stock",
        "plan",
        "--salt",
        "PdCl2",
        "--salt-mass",
        "2.3g",
        "--make",
        "25mL",
        "--chloride-mass",
        "1.6g",
        "--balance",
        "0.1g",
        "--weighed",
        "2.6g",
    ];
    let out = json(&plan);
    let words = |place: usize| out["ways"][place]["words"].as_str().expect("words").to_owned();
    // 0.114 g is missing: 0.1 g would not be enough, and 0.114 g cannot be weighed.
    assert!(words(1).contains("make up to 28.3 mL; add at least 0.2 g of NaCl, 0.2 g keeps the ratio"), "{}", words(1));
    near(&out["ways"][1]["facts"]["chloride_must_add_g"], 0.2, 1e-9);
    near(&out["chloride_must_add_g"], 2.6 * 0.659_145 - 1.6, 1e-4);
    assert!(words(2).contains("then add at least 0.2 g of NaCl"), "{}", words(2));
}

#[test]
fn the_chloride_of_a_salt_that_takes_none_is_null() {
    let plan = json(&["stock", "plan", "--salt", "K2PtCl4", "--make", "20mL", "--with", "KCl"]);
    assert_eq!(plan["chloride_formula"], Value::Null);
    assert!(codes(&plan).contains(&"chloride_unused"));
    let plan = json(&["stock", "plan", "--salt", "PdCl2", "--make", "20mL", "--with", "KCl"]);
    assert_eq!(plan["chloride_formula"], "KCl");
    assert!(!codes(&plan).contains(&"chloride_unused"));
}

#[test]
fn what_no_uncertainty_holds_is_said_beside_it_and_moves_no_number() {
    let base = ["stock", "plan", "--salt", "PdCl2", "--make", "40mL", "--balance", "0.01g"];
    let with = |more: &[&'static str]| [&base[..], more].concat();
    let cases: [(&[&'static str], &str); 6] = [
        (&[], "not in the ±: the water in the powder, the powder's purity, and purity and damp of the chloride\n"),
        (&["--hydrate", "none"], "not in the ±: the powder's purity, and purity and damp of the chloride\n"),
        (&["--purity", "99%"], "not in the ±: the water in the powder, and purity and damp of the chloride\n"),
        (
            &["--purity", "99%", "--purity-of", "unknown", "--hydrate", "none"],
            "not in the ±: what the purity is a percentage of, and purity and damp of the chloride\n",
        ),
        (
            &["--purity", "99.9%", "--purity-of", "trace", "--hydrate", "none"],
            "not in the ±: the powder's purity, and purity and damp of the chloride\n",
        ),
        // Without a chloride nothing of it is open.
        (&["--purity", "59%", "--purity-of", "metal", "--chloride-mass", "0g"], ""),
    ];
    for (more, words) in cases {
        let text = crate::command::handcoat(&with(more)).data;
        assert!(text.contains(words) && text.contains("not in the ±") != words.is_empty(), "{more:?}: {text}");
        assert_eq!(json(&with(more))["not_in_uncertainty"].as_array().expect("a list").is_empty(), words.is_empty());
    }
    let closed = ["--purity", "100%", "--hydrate", "none"];
    assert_eq!(json(&base)["strength_rel_u"], json(&with(&closed))["strength_rel_u"]);
    // Without a scale there is no ± to leave anything out of.
    assert!(!crate::command::handcoat(&base[..6]).data.contains("not in the ±"));
    let ladder = ["stock", "ladder", "--salt", "Na2PdCl4", "--balance", "0.01g"];
    assert!(crate::command::handcoat(&ladder).data.contains("not in the ±: the water in the powder"));
}

#[test]
fn the_text_says_what_was_weighed_and_what_is_to_come() {
    let base = ["stock", "plan", "--salt", "PdCl2", "--make", "40mL", "--balance", "0.01g"];
    let text = |more: &[&'static str]| crate::command::handcoat(&[&base[..], more].concat()).data;
    assert!(text(&["--chloride-weighed", "2.9g"]).contains("Still to be weighed: PdCl₂"));
    assert!(text(&["--weighed", "3.9g"]).contains("NaCl is taken as planned"));
    assert!(text(&["--weighed", "3.9g", "--chloride-weighed", "2.9g"]).contains("In the beaker: 2.90 g of NaCl"));
}

#[test]
fn what_the_studio_says_of_itself_is_kept_at_the_command_line_too() {
    let folder = crate::command::fresh_folder("settings");
    let book = crate::books::new_book(&folder);
    crate::books::on(&book, &["settings", "--studio", "Weir Yard", "--balance", "0.01g"]);
    crate::books::on(&book, &["settings", "--balance", "0.001g"]);
    let own: Value = serde_json::from_str(&crate::books::on(&book, &["settings", "--json"])).expect("JSON");
    assert_eq!((&own["studio"], &own["balance"]), (&Value::from("Weir Yard"), &Value::from("0.001g")));
    assert_eq!(own["emergency_number"], Value::Null);
    // The code of a chart names whose book it is.
    let chart = folder.join("chart.tif");
    let chart = ["tone", "chart", "-o", chart.to_str().expect("text"), "--levels", "12", "--ppi", "200", "--json"];
    let made: Value = serde_json::from_str(&crate::books::on(&book, &chart)).expect("JSON");
    assert!(made.to_string().contains("WEIRYARD"), "{made}");
    crate::books::on(&book, &["settings", "--studio", ""]);
    assert!(crate::books::on(&book, &["settings"]).contains("Studio: not said"));
}
