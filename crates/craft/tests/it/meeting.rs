//! What must not meet: every class is recognised and its near misses are not; every row of the table is found.

use handcoat_craft::source::{Class, Harm, INCOMPATIBLE};
use handcoat_craft::stock::{Request, Warning, classes, meetings};

use crate::bench::{Change, formula, into, powder};

/// A class, formulas that belong to it and formulas that nearly do.
struct Recognised {
    class: Class,
    belong: &'static [&'static str],
    near_misses: &'static [&'static str],
}

const fn row(class: Class, belong: &'static [&'static str], near_misses: &'static [&'static str]) -> Recognised {
    Recognised { class, belong, near_misses }
}

const RECOGNISED: [Recognised; 18] = [
    row(Class::Sulfite, &["Na2SO3", "NaHSO3", "Na2S2O5", "K2S2O5", "Na2SO3·7H2O"], &["Na2SO4", "Na2S2O3", "Na2S"]),
    row(
        Class::Thiosulfate,
        &["Na2S2O3·5H2O", "(NH4)2S2O3", "CaS2O3", "S2O3^2-"],
        &["Na2SO3", "Na2SO4", "Na2S4O6", "Na2S2O5", "Na2S2O8"],
    ),
    row(
        Class::Acid,
        &["HCl", "HNO3", "H2SO4", "H2C2O4·2H2O", "C6H8O7·H2O", "CH3COOH", "H3PO4"],
        &["NaCl", "NH4Cl", "K2C2O4", "Na3C6H5O7", "H2O"],
    ),
    row(Class::Hypochlorite, &["NaClO", "Ca(ClO)2", "HOCl", "ClO-"], &["NaCl", "KClO3", "NaClO2", "NaClO4", "NaOH"]),
    row(Class::Ammonium, &["NH4Cl", "(NH4)2PdCl4", "(NH4)3Fe(C2O4)3·3H2O", "NH4+"], &["NH3", "HNO3", "NaNO3"]),
    row(Class::Ammonia, &["NH3", "NH4OH", "NH3·H2O"], &["NH4Cl", "N2", "NH4NO3"]),
    row(
        Class::Edta,
        &["C10H16N2O8", "Na2C10H14N2O8·2H2O", "Na4C10H12N2O8", "NaFeC10H12N2O8"],
        &["C6H8O7", "C10H8", "C8H10N4O2"],
    ),
    row(
        Class::Ferricyanide,
        &["K3Fe(CN)6", "K4[Fe(CN)6]·3H2O", "[Fe(CN)6]^3-"],
        &["K3Fe(C2O4)3", "KSCN", "KCN", "FeCl3"],
    ),
    row(Class::Chlorate, &["KClO3", "NaClO3", "ClO3-"], &["KCl", "NaClO", "KClO4", "KBrO3"]),
    row(
        Class::Oxalate,
        &["Fe2(C2O4)3", "K2C2O4·H2O", "H2C2O4·2H2O", "(NH4)3Fe(C2O4)3·3H2O", "KHC2O4"],
        &["C6H8O7", "Na2CO3", "NaHCO3", "CH3COOH", "C6H12O6"],
    ),
    row(Class::Gold, &["HAuCl4·3H2O", "NaAuCl4·2H2O", "AuCl3"], &["AgNO3", "K2PtCl4", "PdCl2"]),
    row(Class::Peroxide, &["H2O2"], &["H2O", "NaOH", "Na2O2"]),
    row(Class::Iron, &["FeCl3", "Fe2(C2O4)3", "FeSO4·7H2O", "Fe3+"], &["K3Fe(CN)6", "CoCl2", "NiCl2"]),
    row(Class::Potassium, &["K2C2O4", "KCl", "K2PtCl4", "K+"], &["NaCl", "CaCl2", "Na2CrO4"]),
    row(Class::Caesium, &["CsCl", "Cs2PdCl4"], &["RbCl", "CaCl2", "CeCl3"]),
    row(
        Class::HexachloroPlatinate,
        &["Na2PtCl6·6H2O", "H2PtCl6·6H2O", "K2PtCl6", "[PtCl6]2-"],
        &["K2PtCl4", "Na2PdCl4", "PtCl2", "Na3RhCl6"],
    ),
    row(Class::Chromate, &["K2Cr2O7", "(NH4)2Cr2O7", "K2CrO4", "CrO4^2-"], &["CrCl3", "Cr2O3", "K2MnO4"]),
    row(
        Class::Organic,
        &["C6H8O7·H2O", "(NH4)2C6H6O7", "Na3C6H5O7", "Na4C10H12N2O8", "C12H22O11"],
        &["K2C2O4·H2O", "H2C2O4·2H2O", "Fe2(C2O4)3", "Na2CO3", "NaHCO3", "K3Fe(CN)6"],
    ),
];

#[test]
fn each_class_is_recognised_and_its_near_misses_are_not() {
    for Recognised { class, belong, near_misses } in RECOGNISED {
        for text in belong {
            assert!(classes(&formula(text)).contains(&class), "{text} is no {class:?}");
        }
        for text in near_misses {
            assert!(!classes(&formula(text)).contains(&class), "{text} is a {class:?}");
        }
    }
}

#[test]
fn every_class_of_the_table_is_in_this_one() {
    for pair in INCOMPATIBLE {
        for class in [pair.one, pair.other] {
            assert!(RECOGNISED.iter().any(|row| row.class == class), "{class:?}");
        }
    }
}

#[test]
fn every_pair_of_the_table_is_found_both_ways() {
    let example = |class| RECOGNISED.iter().find(|row| row.class == class).expect("a row").belong;
    for pair in INCOMPATIBLE {
        for one in example(pair.one) {
            for other in example(pair.other) {
                let found = |a: &str, b: &str| meetings(&formula(a), &formula(b)).iter().any(|m| m.row == pair);
                assert!(found(one, other) && found(other, one), "{one} with {other}: {}", pair.what);
            }
        }
    }
}

#[test]
fn what_is_harmless_says_nothing() {
    // A bench of the usual kind: metal salts, chlorides, oxalates and clearing baths that do meet every day.
    const EVERY_DAY: [(&str, &str); 8] = [
        ("PdCl2", "NaCl"),
        ("Na2PdCl4", "Fe2(C2O4)3"),
        ("K2PtCl4", "Fe2(C2O4)3·6H2O"),
        ("(NH4)2PtCl4", "(NH4)2PdCl4"),
        ("Na2PtCl6·6H2O", "Na2PdCl4"),
        ("Na2SO3", "Na4C10H12N2O8"),
        ("K2C2O4·H2O", "H2C2O4·2H2O"),
        ("H2O", "HCl"),
    ];
    for (one, other) in EVERY_DAY {
        let found = meetings(&formula(one), &formula(other));
        assert!(found.is_empty(), "{one} with {other}: {found:?}");
    }
}

#[test]
fn a_meeting_names_both_as_they_were_written() {
    let found = meetings(&formula("Na2PtCl6.6H2O"), &formula("NH4Cl"));
    let [only] = found.as_slice() else { panic!("{found:?}") };
    assert_eq!((only.one.as_str(), only.other.as_str()), ("Na2PtCl6·6H2O", "NH4Cl"));
    assert_eq!(only.row.harm, Harm::Precipitates);
    // One of the pair may be in both bottles; it is still one row.
    assert_eq!(meetings(&formula("(NH4)2PtCl6"), &formula("(NH4)2PtCl6")).len(), 1);
}

#[test]
fn dangerous_pairs_are_dangerous_and_the_rest_lose_metal() {
    for pair in INCOMPATIBLE {
        let platinum = pair.one == Class::HexachloroPlatinate || pair.other == Class::HexachloroPlatinate;
        assert_eq!(pair.harm == Harm::Precipitates, platinum, "{}", pair.what);
    }
}

#[test]
fn water_written_as_a_ligand_makes_no_hypochlorite() {
    // The same hydrates with their water in a bracket: as many oxygens as chlorines, and no bleach.
    for text in ["PdCl2(H2O)2", "Na2PtCl6(H2O)6", "LiCl(H2O)", "LiClH2O"] {
        let found = classes(&formula(text));
        assert!(!found.contains(&Class::Hypochlorite), "{text}: {found:?}");
    }
}

#[test]
fn chrome_alum_is_no_chromate() {
    // Chromium(III) among sulfates: the oxygen is the sulfur's.
    for text in ["KCr(SO4)2·12H2O", "Cr2(SO4)3"] {
        let found = classes(&formula(text));
        assert!(!found.contains(&Class::Chromate), "{text}: {found:?}");
    }
}

/// The pairs a plan warns of, with their code.
fn told(salt: &str, meets: &[&str]) -> Vec<(&'static str, String, String)> {
    let meets = meets.iter().map(|text| formula(text)).collect();
    let plan = Request { meets, ..into(powder(salt), "2g", "20mL") }.plan();
    let mut told = Vec::new();
    for warning in &plan.warnings {
        if let Warning::Meets(meetings) = warning {
            let words = warning.to_string();
            for (one, other) in &meetings.pairs {
                assert!(words.contains(&format!("{one} with {other}")), "{words}");
                told.push((warning.code(), one.clone(), other.clone()));
            }
        }
    }
    told
}

#[test]
fn what_the_stock_meets_is_checked_against_each_other() {
    let pair = |code, one: &str, other: &str| (code, String::from(one), String::from(other));
    assert_eq!(told("K2PtCl4", &["NaClO", "HCl"]), [pair("pair_dangerous", "NaClO", "HCl")]);
    assert_eq!(told("K2PtCl4", &["HCl", "Na2S2O3"]), [pair("pair_dangerous", "HCl", "Na2S2O3")]);
    assert!(told("K2PtCl4", &["Na2S2O3"]).is_empty());
}

#[test]
fn a_second_pair_under_the_same_row_is_not_hidden() {
    let found = told("Na2PtCl6·6H2O", &["NH4Cl", "(NH4)2PdCl4"]);
    let others: Vec<&str> = found.iter().map(|(_, _, other)| other.as_str()).collect();
    assert_eq!(others, ["NH4Cl", "(NH4)2PdCl4"]);
    // Named twice it is still one pair, whichever way round.
    assert_eq!(told("K2PtCl4", &["NaClO", "HCl", "NaClO"]).len(), 1);
    // Two acids and one bleach are two dangers, told in one sentence.
    let plan =
        Request { meets: ["NaClO", "HCl", "H2C2O4"].map(formula).to_vec(), ..into(powder("K2PtCl4"), "2g", "20mL") };
    let words: Vec<String> = plan.plan().warnings.iter().map(ToString::to_string).collect();
    assert!(
        words.contains(&"NaClO with HCl, and NaClO with H2C2O4, gives off chlorine; keep them apart".into()),
        "{words:?}"
    );
}
