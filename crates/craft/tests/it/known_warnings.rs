//! Known traps: a wrong molar mass in print, a pair that precipitates, a percentage of three meanings.

use handcoat_craft::measure::{Bounded, GramsPer100MlWater, MassDensity, PercentByMass};
use handcoat_craft::source::Citation;
use handcoat_craft::stock::{Plan, Request, Warning};

use crate::bench::{Change, formula, into, powder, q, warns};
use crate::known_chemistry::Known;

/// A molar mass as printed somewhere, whether it is the formula's, and the hydrate it fits instead.
struct Printed {
    salt: &'static str,
    molar_mass: &'static str,
    wrong: bool,
    fits: Option<&'static str>,
    cite: Citation,
}

const PRINTED: [Printed; 5] = [
    // The formula was typed with two nitrogens too many, and its mass with it.
    Printed {
        salt: "(NH4)2PdCl4",
        molar_mass: "312.31g/mol",
        wrong: true,
        fits: None,
        cite: Citation::seen("wikipedia-en", "ammonium tetrachloropalladate(II), a copy"),
    },
    Printed {
        salt: "PdCl2",
        molar_mass: "177.33g/mol",
        wrong: false,
        fits: None,
        cite: Citation::seen("merck-index", "palladium(II) chloride, copy of a monograph"),
    },
    Printed {
        salt: "PdCl2",
        molar_mass: "213.36g/mol",
        wrong: true,
        fits: Some("PdCl2·2H2O"),
        cite: Citation::memory("merck-index", "the dihydrate"),
    },
    Printed {
        salt: "Na2PtCl6",
        molar_mass: "561.87g/mol",
        wrong: true,
        fits: Some("Na2PtCl6·6H2O"),
        cite: Citation::seen("wikipedia-en", "sodium hexachloroplatinate, a copy"),
    },
    Printed {
        salt: "Na2PtCl6",
        molar_mass: "453.77g/mol",
        wrong: false,
        fits: None,
        cite: Citation::seen("swedish-pt-1997", "table of compounds"),
    },
];

#[test]
fn a_printed_molar_mass_is_checked_against_the_formula() {
    for Printed { salt, molar_mass, wrong, fits, cite } in PRINTED {
        let answers = into(powder(salt), "2g", "25mL");
        let plan = Request { stated_molar_mass: Some(q(molar_mass)), ..answers }.plan();
        assert_eq!(warns(&plan, "molar_mass_disagrees"), wrong, "{salt}, {molar_mass} ({cite})");
        let found = plan.warnings.iter().find_map(|warning| match warning {
            Warning::MolarMassDisagrees { fits, .. } => fits.as_ref().map(ToString::to_string),
            _ => None,
        });
        assert_eq!(found.as_deref(), fits, "{salt}, {molar_mass} ({cite})");
    }
}

/// A plan of a platinum salt that will meet something.
fn meeting(salt: &str, other: &str) -> Plan {
    Request { meets: vec![formula(other)], ..into(powder(salt), "2g", "20mL") }.plan()
}

#[test]
fn a_hexachloroplatinate_meets_no_ammonium_potassium_or_caesium() {
    const SPARING: Citation = Citation::seen("perry", "table 2-122: 0.7 g (NH4)2PtCl6 in 100 g of water at 10 °C");
    // An ammonium-salt sensitizer is the usual way it happens.
    for other in ["NH4Cl", "(NH4)3Fe(C2O4)3·3H2O", "(NH4)2PdCl4", "(NH4)2PtCl4", "KCl", "K2PtCl4", "CsCl"] {
        let plan = meeting("Na2PtCl6·6H2O", other);
        assert!(warns(&plan, "pair_precipitates"), "{other} ({SPARING}): {:?}", plan.warnings);
        assert!(!warns(&plan, "pair_dangerous"), "{other}: {:?}", plan.warnings);
    }
    for other in ["NaCl", "LiCl", "Fe2(C2O4)3", "Na2PdCl4"] {
        let plan = meeting("Na2PtCl6·6H2O", other);
        assert!(!warns(&plan, "pair_precipitates"), "{other}: {:?}", plan.warnings);
    }
    // The tetrachloroplatinate does not do it.
    assert!(!warns(&meeting("K2PtCl4", "NH4Cl"), "pair_precipitates"));
    // Nor need the ammonium come from another bottle: added as the chloride it does the same.
    let added = into(powder("Na2PtCl6·6H2O"), "2g", "20mL").with_chloride("NH4Cl", "0.5g").plan();
    assert!(warns(&added, "pair_precipitates"), "{:?}", added.warnings);
}

#[test]
fn twenty_percent_has_three_meanings() {
    // Saturated ammonium chloride at 20 °C: by mass, per 100 g of water, and per 100 mL of solution.
    const BY_MASS: Citation = Citation::seen("nist-srd106", "system 66_125, 27.10 mass %");
    let water = MassDensity::grams_per_millilitre(1.0).expect("a density");
    let solution = MassDensity::grams_per_millilitre(1.075).expect("a density");
    let by_mass = PercentByMass::grams_per_100_g(27.10).expect("a percentage");
    let per_water = by_mass.per_100_ml_water(water).expect("a strength");
    Known { what: "per 100 g of water", value: 37.17, tolerance: 0.006, cite: BY_MASS }.is(per_water.to_grams());
    let by_volume = by_mass.by_volume(solution).expect("a strength");
    Known {
        what: "per 100 mL of solution",
        value: 29.13,
        tolerance: 0.006,
        cite: Citation::seen("supplier-pages", "density 1.075 of the saturated solution"),
    }
    .is(by_volume.to_grams_per_100_ml());
    // And each way back.
    let back = GramsPer100MlWater::grams(per_water.to_grams()).and_then(|r| r.by_mass(water)).expect("a percentage");
    Known { what: "back", value: 27.10, tolerance: 1e-9, cite: BY_MASS }.is(back.in_unit());
    let back = by_volume.by_mass(solution).expect("a percentage");
    Known { what: "back", value: 27.10, tolerance: 1e-9, cite: BY_MASS }.is(back.in_unit());
}
