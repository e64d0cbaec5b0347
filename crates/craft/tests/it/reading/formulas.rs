//! Formulas: every way the trade writes one, and errors that point at the right character.

use handcoat_craft::source::Element;
use handcoat_craft::stock::{Formula, FormulaError, molar_mass};

use crate::bench::{formula, near};

#[test]
fn one_hydrate_is_written_many_ways() {
    // Text, waters, text as it is written here.
    const TEXTS: [(&str, f64, &str); 16] = [
        ("Na2PtCl6·6H2O", 6.0, "Na2PtCl6·6H2O"),
        ("Na2PtCl6*6H2O", 6.0, "Na2PtCl6·6H2O"),
        ("Na2PtCl6.6H2O", 6.0, "Na2PtCl6·6H2O"),
        ("Na2PtCl6•6H2O", 6.0, "Na2PtCl6·6H2O"),
        ("Na2PtCl6⋅6H2O", 6.0, "Na2PtCl6·6H2O"),
        ("Na₂PtCl₆·6H₂O", 6.0, "Na2PtCl6·6H2O"),
        (" Na2PtCl6 · 6H2O ", 6.0, "Na2PtCl6·6H2O"),
        ("K2C2O4·H2O", 1.0, "K2C2O4·H2O"),
        ("K2C2O4·1H2O", 1.0, "K2C2O4·H2O"),
        ("PdCl2·½H2O", 0.5, "PdCl2·0.5H2O"),
        ("PdCl2·1/2H2O", 0.5, "PdCl2·0.5H2O"),
        ("PdCl2·0.5H2O", 0.5, "PdCl2·0.5H2O"),
        ("PdCl2·2.5H2O", 2.5, "PdCl2·2.5H2O"),
        ("PdCl2·2,5H2O", 2.5, "PdCl2·2.5H2O"),
        ("PdCl2·2½H2O", 2.5, "PdCl2·2.5H2O"),
        ("PdCl2·5/2H2O", 2.5, "PdCl2·2.5H2O"),
    ];
    for (text, waters, written) in TEXTS {
        let parsed = formula(text);
        near(parsed.waters(), waters, 1e-12);
        assert_eq!(parsed.to_string(), written, "{text}");
        assert_eq!(formula(written), parsed, "{text}");
        assert_eq!(parsed.dry().waters(), 0.0);
        near(parsed.count(Element::O) - parsed.dry().count(Element::O), waters, 1e-12);
    }
    assert_eq!(formula("Fe2(C2O4)3").with_waters(6.0).expect("a hydrate"), formula("Fe2(C2O4)3·6H2O"));
    assert_eq!(formula("Fe2(C2O4)3·5H2O").with_waters(6.0).expect("a hydrate"), formula("Fe2(C2O4)3·6H2O"));
}

#[test]
fn a_third_of_a_water_survives_being_written() {
    for text in ["PdCl2·⅓H2O", "PdCl2·1/3H2O", "PdCl2·⅔H2O", "PdCl2·12.125H2O", "K2PtCl6·1/7NaCl"] {
        let parsed = formula(text);
        let again = formula(&parsed.to_string());
        near(again.waters(), parsed.waters(), 1e-9);
        let masses = [&again, &parsed].map(|salt| molar_mass(salt).best.to_grams_per_mole());
        near(masses[0], masses[1], 1e-7);
    }
}

#[test]
fn charges_are_written_many_ways() {
    const TEXTS: [(&str, i32, &str); 15] = [
        ("PdCl4--", -2, "PdCl4^2-"),
        ("[PdCl4]2-", -2, "[PdCl4]^2-"),
        ("[PdCl4]²⁻", -2, "[PdCl4]^2-"),
        ("PdCl4^2-", -2, "PdCl4^2-"),
        ("PdCl4^-2", -2, "PdCl4^2-"),
        ("PdCl4 2-", -2, "PdCl4^2-"),
        ("NH4+", 1, "NH4^+"),
        ("(NH4)+", 1, "(NH4)^+"),
        ("H3O+", 1, "H3O^+"),
        ("Fe3+", 3, "Fe^3+"),
        ("Fe+++", 3, "Fe^3+"),
        ("Fe³⁺", 3, "Fe^3+"),
        ("SO4²⁻", -2, "SO4^2-"),
        ("SO4^2−", -2, "SO4^2-"),
        ("[Fe(CN)6]4-", -4, "[Fe(CN)6]^4-"),
    ];
    for (text, charge, written) in TEXTS {
        let parsed = formula(text);
        assert_eq!((parsed.charge(), parsed.to_string().as_str()), (charge, written), "{text}");
        assert_eq!(formula(written), parsed, "{text}");
    }
    // The digit before a sign is a count here and a charge there.
    assert_eq!((formula("NH4+").count(Element::H), formula("Fe3+").count(Element::FE)), (4.0, 1.0));
    assert_eq!(formula("[PdCl4]2-").count(Element::CL), 4.0);
}

#[test]
fn a_charge_stays_when_the_water_goes() {
    let ion = formula("[PdCl4]2-");
    assert_eq!(ion.dry(), ion);
    assert_eq!(ion.dry().to_string(), "[PdCl4]^2-");
    assert_eq!(formula(&ion.with_waters(2.0).expect("a hydrate").to_string()).charge(), -2);
}

#[test]
fn a_charge_no_ion_has_is_a_malformed_charge() {
    for text in ["[PdCl4]0-", "Fe0+", "[PdCl4]21-", "[PdCl4]99+", "PdCl4^21-", "PdCl4^0-"] {
        let code = text.parse::<Formula>().map(|_| "accepted").map_err(|error| error.code());
        assert_eq!(code, Err("charge_malformed"), "{text}");
    }
    // Two mercuries with two charges, run together: 22 is a count and a charge, and no weight.
    for text in ["Hg22+", "O22-"] {
        let code = text.parse::<Formula>().map(|_| "accepted").map_err(|error| error.code());
        assert!(matches!(code, Err("charge_ambiguous" | "charge_malformed")), "{text}: {code:?}");
    }
}

#[test]
fn whatever_parses_has_a_molar_mass() {
    // A proton stripped of more electrons than it has would weigh less than anything planned with here.
    for text in ["H+", "H15+", "[H]20+", "Pb400^20-"] {
        if let Ok(parsed) = text.parse::<Formula>() {
            assert!(molar_mass(&parsed).best.to_grams_per_mole() > 0.99, "{text}");
        }
    }
}

#[test]
fn a_number_of_waters_is_one_number() {
    for text in ["PdCl2·½½H2O", "PdCl2·½2H2O", "PdCl2·1/2½H2O", "PdCl2·2½3H2O"] {
        let code = text.parse::<Formula>().map(|_| "accepted").map_err(|error| error.code());
        assert_eq!(code, Err("waters_malformed"), "{text}");
    }
}

#[test]
fn brackets_nest_and_multiply() {
    let ferrocyanide = formula("K4[Fe(CN)6]·3H2O");
    let count = |symbol: &str| ferrocyanide.count(Element::symbol(symbol).expect("an element"));
    assert_eq!(["K", "Fe", "C", "N", "H", "O"].map(count), [4.0, 1.0, 6.0, 6.0, 6.0, 3.0]);
    assert_eq!(formula("{[(NH4)2]2Fe}3").count(Element::N), 12.0);
    assert_eq!(formula("(NH4)3Fe(C2O4)3·3H2O").count(Element::O), 15.0);
    // Double salts keep their second part as it is.
    let double = formula("Na2CO3·NaHCO3·2H2O");
    assert_eq!((double.waters(), double.count(Element::NA)), (2.0, 3.0));
    assert_eq!(double.to_string(), "Na2CO3·NaHCO3·2H2O");
    assert_eq!(formula("PdCl2·2NH3").count(Element::N), 2.0);
}

#[test]
fn print_lowers_counts_and_nothing_else() {
    const TEXTS: [(&str, &str); 6] = [
        ("Na2PtCl6·6H2O", "Na₂PtCl₆·6H₂O"),
        ("Fe2(C2O4)3", "Fe₂(C₂O₄)₃"),
        ("Na4C10H12N2O8", "Na₄C₁₀H₁₂N₂O₈"),
        ("PdCl2·2.5H2O", "PdCl₂·2.5H₂O"),
        ("NaCl", "NaCl"),
        ("[PdCl4]2-", "[PdCl₄]2-"),
    ];
    for (text, printed) in TEXTS {
        assert_eq!(formula(text).subscripted(), printed);
        // What is printed can be read again, as long as no charge follows.
        if formula(text).charge() == 0 {
            assert_eq!(formula(printed), formula(text));
        }
    }
}

#[test]
fn errors_point_at_the_character() {
    // Text and the part of it the refusal points at.
    const TEXTS: [(&str, &str); 24] = [
        ("Na2XyCl6", "Xy"),
        ("Na₂PtCl₆·6Qq", "Qq"),
        ("NaCl·UO2", "U"),
        ("Pdcl2", "c"),
        ("pdcl2", "p"),
        ("Pd Cl2", "C"),
        ("PdCl₂é", "é"),
        ("Fe2(C2O4", "("),
        ("K4[Fe(CN)6", "["),
        ("Fe2C2O4)3", ")"),
        ("Fe2(C2O4]3", "]"),
        ("Na2()Cl", "()"),
        ("PdCl0", "0"),
        ("Na₂PtCl₀₆", "₀₆"),
        ("PdCl10000", "10000"),
        ("2NaCl", "2"),
        ("  12NaCl", "12"),
        ("PdCl2·", "·"),
        ("PdCl2··H2O", "··"),
        ("PdCl2·xH2O", "x"),
        ("PdCl2·1/0H2O", "1/0"),
        ("PdCl42-", "42"),
        ("PdCl4^2", "^2"),
        ("PdCl4⁺⁻", "⁺⁻"),
    ];
    for (text, pointed) in TEXTS {
        let error = text.parse::<Formula>().expect_err(text);
        let at = error.at().unwrap_or_else(|| panic!("`{text}`: {error} points nowhere"));
        assert_eq!(text.get(at.clone()), Some(pointed), "`{text}`: {error} at {at:?}");
    }
    // The right one of several equal characters.
    let at = |text: &str| text.parse::<Formula>().expect_err("no formula").at().map(|at| at.start);
    assert_eq!(at("(NH4)2(Fe"), Some(6));
    assert_eq!(at("NH4)2)"), Some(3));
    assert_eq!(at("Na2PtCl6·xH2·xH2O"), Some(10));
}

#[test]
fn wrong_capitals_are_answered_with_what_was_meant() {
    for (text, meant) in [
        ("pdcl2", Some("PdCl2")),
        ("PDCL2", Some("PdCl2")),
        ("Pdcl2", Some("PdCl2")),
        (" nacl ", Some("NaCl")),
        ("k2ptcl4", Some("K2PtCl4")),
        ("(nh4)2pdcl4", Some("(NH4)2PdCl4")),
        ("pdcl3", None),
    ] {
        assert_eq!(text.parse::<Formula>().expect_err(text).meant(), meant, "`{text}`");
    }
    assert_eq!(FormulaError::Empty.meant(), None);
}
