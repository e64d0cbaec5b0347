//! Known values of chemistry: molar masses, metal fractions, the chloride a powder needs.
//!
//! The columns of two libraries are read from `tests/known/`, where the scripts that made them lie too. Every
//! other number stands here beside its source and how far that source was checked.

use handcoat_craft::measure::Bounded;
use handcoat_craft::source::{CRYSTAL_DENSITIES, Citation, Element, SOLUBILITY, STANDARD_ATOMIC_WEIGHTS, Status};
use handcoat_craft::stock::{mass_fraction, molar_mass};

use crate::bench::{Change, formula, g, into, near, powder};

/// A number of somebody else's, how close ours must come, and where it stands.
pub(crate) struct Known {
    pub(crate) what: &'static str,
    pub(crate) value: f64,
    pub(crate) tolerance: f64,
    pub(crate) cite: Citation,
}

impl Known {
    /// Asserts that our number is theirs.
    #[track_caller]
    pub(crate) fn is(&self, ours: f64) {
        let Self { what, value, tolerance, cite } = self;
        assert!((ours - value).abs() <= *tolerance, "{what}: {ours} is not {value} ± {tolerance} ({cite})");
    }
}

/// A number computed by somebody else's program, or from somebody else's numbers.
pub(crate) const fn computed(key: &'static str, place: &'static str) -> Citation {
    Citation { key, place, status: Status::Computed }
}

const LIBRARY: Citation = computed("periodictable", "version 2.1.0");
const OTHER_LIBRARY: Citation = computed("molmass", "version 2026.1.8");
const ABRIDGED: Citation = Citation::second_hand("ciaaw", "abridged values of the parts, added up");

const MASSES: &str = include_str!("../../../../tests/known/molar_masses.csv");
const WEIGHTS: &str = include_str!("../../../../tests/known/atomic_weights.csv");

/// Rows of a table of numbers, first column a name, the heading left off.
fn rows(table: &'static str) -> impl Iterator<Item = (&'static str, Vec<f64>)> {
    table.lines().skip(1).map(|line| {
        let mut cells = line.split(',');
        let name = cells.next().expect("a name");
        (name, cells.map(|cell| cell.parse().expect("a number")).collect())
    })
}

fn grams_per_mole(text: &str) -> f64 {
    molar_mass(&formula(text)).best.to_grams_per_mole()
}

#[test]
fn molar_masses_of_two_libraries() {
    let mut seen = 0;
    for (what, columns) in rows(MASSES) {
        let [library, other] = columns.as_slice() else { panic!("{what}: {columns:?}") };
        let ours = grams_per_mole(what);
        Known { what, value: *library, tolerance: library * 1e-9, cite: LIBRARY }.is(ours);
        // The other library averages chlorine over isotopes: 35.4529, not 35.45.
        let complex = what.contains("Pd") || what.contains("Pt") || what.contains("Au");
        let tolerance = if complex { 0.02 } else { 0.007 };
        Known { what, value: *other, tolerance, cite: OTHER_LIBRARY }.is(ours);
        seen += 1;
    }
    assert!(seen >= 45, "only {seen} rows");
}

#[test]
fn atomic_weights_and_their_bounds() {
    let table: Vec<_> = rows(WEIGHTS).collect();
    let symbols: Vec<_> = table.iter().map(|(symbol, _)| *symbol).collect();
    let ours: Vec<_> = STANDARD_ATOMIC_WEIGHTS.iter().map(|row| row.symbol).collect();
    assert_eq!(symbols, ours, "the two tables list the same elements in the same order");
    for ((what, columns), row) in table.iter().zip(STANDARD_ATOMIC_WEIGHTS) {
        let [weight, bound, other] = columns.as_slice() else { panic!("{what}: {columns:?}") };
        Known { what, value: *weight, tolerance: 1e-12 * weight, cite: LIBRARY }.is(row.grams_per_mole);
        Known { what, value: *bound, tolerance: 1e-9 * bound, cite: LIBRARY }.is(row.bound);
        Known { what, value: *other, tolerance: 0.005, cite: OTHER_LIBRARY }.is(row.grams_per_mole);
    }
}

#[test]
fn the_bounds_hold_what_nature_does() {
    // Symbol, least and greatest weight in normal materials.
    const INTERVALS: [(&str, f64, f64, Citation); 3] = [
        ("Li", 6.938, 6.997, Citation::second_hand("ciaaw", "interval of lithium")),
        ("Cl", 35.446, 35.457, Citation::memory("ciaaw", "interval of chlorine")),
        // 106.42(1) since 1979: no interval, but an uncertainty.
        ("Pd", 106.41, 106.43, Citation::seen("ciaaw", "palladium")),
    ];
    for (symbol, least, most, cite) in INTERVALS {
        let row = Element::symbol(symbol).expect("a listed element").weight();
        let (low, high) = (row.grams_per_mole - row.bound, row.grams_per_mole + row.bound);
        assert!(low <= least + 1e-9 && high >= most - 1e-9, "{symbol}: {low} to {high} ({cite})");
    }
}

#[test]
#[rustfmt::skip]
fn molar_masses_of_the_abridged_table() {
    // Platinum is 195.08 there and 195.084 here: that is the largest difference.
    const TABLE: [(&str, f64); 34] = [
        ("PdCl2", 177.320), ("NaCl", 58.440), ("KCl", 74.548), ("NH4Cl", 53.489), ("Na2PdCl4", 294.200),
        ("(NH4)2PdCl4", 284.298), ("K2PtCl4", 415.076), ("(NH4)2PtCl4", 372.958), ("Na2PtCl6", 453.760),
        ("Na2PtCl6(H2O)6", 561.850), ("Fe2(C2O4)3", 375.744), ("Fe2(C2O4)3(H2O)6", 483.834),
        ("(NH4)3Fe(C2O4)3(H2O)3", 428.061), ("H2C2O4", 90.034), ("H2C2O4(H2O)2", 126.064), ("K2C2O4", 166.214),
        ("K2C2O4H2O", 184.229), ("KClO3", 122.545), ("K2Cr2O7", 294.181), ("Na4C10H12N2O8", 380.172),
        ("Na4C10H12N2O8(H2O)2", 416.202), ("Na4C10H12N2O8(H2O)4", 452.232), ("Na2C10H14N2O8(H2O)2", 372.238),
        ("C10H16N2O8", 292.244), ("C6H8O7", 192.123), ("C6H8O7H2O", 210.138), ("Na2SO3", 126.037),
        ("HCl", 36.458), ("(NH4)2C6H6O7", 226.185), ("Na3C6H5O7", 258.069), ("Na3C6H5O7(H2O)2", 294.099),
        ("H2O", 18.015), ("H2O2", 34.014), ("K2PdCl4", 326.416),
    ];
    for (what, value) in TABLE {
        Known { what, value, tolerance: 0.005, cite: ABRIDGED }.is(grams_per_mole(what));
    }
}

#[test]
fn molar_masses_as_reference_pages_print_them() {
    const MONOGRAPH: Citation = Citation::seen("merck-index", "palladium(II) chloride, copy of a monograph");
    const PAGES: Citation = Citation::seen("supplier-pages", "two chemical dictionaries");
    const PRINTED: [Known; 5] = [
        Known { what: "PdCl2", value: 177.33, tolerance: 0.011, cite: MONOGRAPH },
        Known { what: "H2C2O4·2H2O", value: 126.07, tolerance: 0.011, cite: PAGES },
        Known { what: "H2C2O4", value: 90.04, tolerance: 0.011, cite: PAGES },
        Known { what: "C6H8O7", value: 192.125, tolerance: 0.005, cite: PAGES },
        Known { what: "Na2PtCl6", value: 453.77, tolerance: 0.011, cite: Citation::seen("swedish-pt-1997", "table") },
    ];
    for known in PRINTED {
        known.is(grams_per_mole(known.what));
    }
    let part = |element| mass_fraction(&formula("PdCl2"), element).expect("a part").best.to_ratio();
    Known { what: "Pd in PdCl2", value: 0.6001, tolerance: 1e-4, cite: MONOGRAPH }.is(part(Element::PD));
    Known { what: "Cl in PdCl2", value: 0.3999, tolerance: 1e-4, cite: MONOGRAPH }.is(part(Element::CL));
}

#[test]
fn the_metal_in_each_salt() {
    const FRACTIONS: [(&str, f64); 9] = [
        ("PdCl2", 0.600158),
        ("Na2PdCl4", 0.361727),
        ("Li2PdCl4", 0.406028),
        ("(NH4)2PdCl4", 0.374326),
        ("K2PtCl4", 0.469991),
        ("(NH4)2PtCl4", 0.523067),
        ("Na2PtCl6", 0.429924),
        ("Na2PtCl6·6H2O", 0.347215),
        ("H2PtCl6·6H2O", 0.376690),
    ];
    // The trade's own rounding, three digits.
    const ROUNDED: [(&str, Element, f64); 7] = [
        ("Fe2(C2O4)3", Element::FE, 0.297),
        ("Fe2(C2O4)3·5H2O", Element::FE, 0.240),
        ("Fe2(C2O4)3·6H2O", Element::FE, 0.231),
        ("(NH4)3Fe(C2O4)3·3H2O", Element::FE, 0.130),
        ("PdCl2·2H2O", Element::PD, 0.499),
        ("Na2PdCl4·3H2O", Element::PD, 0.306),
        ("K2PtCl4", Element::PT, 0.470),
    ];
    let part = |text: &str, element| mass_fraction(&formula(text), element).expect("a part").best.to_ratio();
    for (what, value) in FRACTIONS {
        let element = if what.contains("Pd") { Element::PD } else { Element::PT };
        // As the values are given to six digits, so they must agree.
        Known { what, value, tolerance: 1e-6, cite: LIBRARY }.is(part(what, element));
    }
    for (what, element, value) in ROUNDED {
        Known { what, value, tolerance: 0.0006, cite: LIBRARY }.is(part(what, element));
    }
}

#[test]
fn the_chloride_one_gram_needs_and_the_complex_it_gives() {
    const NEEDED: [(&str, &str, f64); 3] =
        [("NaCl", "Na2PdCl4", 0.659145), ("NH4Cl", "(NH4)2PdCl4", 0.603305), ("KCl", "K2PdCl4", 0.840834)];
    for (what, complex, value) in NEEDED {
        let plan = into(powder("PdCl2"), "1g", "10mL").with_chloride(what, "1g").plan();
        Known { what, value, tolerance: 1e-5, cite: LIBRARY }.is(g(plan.batch.chloride_needed));
        assert_eq!(plan.complex, formula(complex));
        // All of it is in 10 mL, so a tenth of the percentage is the mass.
        let grams = plan.batch.strengths.complex.best.to_grams_per_100_ml() / 10.0;
        Known { what: complex, value: 1.0 + value, tolerance: 1e-5, cite: LIBRARY }.is(grams);
    }
}

/// Air of 1.2 kg/m3 and weights of 8000 kg/m3: what a balance's display is multiplied by.
fn buoyancy(crystal_density: f64) -> f64 {
    (1.0 - 1.2 / 8000.0) / (1.0 - 1.2 / (1000.0 * crystal_density))
}

#[test]
fn leaving_buoyancy_out_is_fine() {
    const FACTORS: [Known; 2] = [
        Known { what: "PdCl2", value: 1.000150, tolerance: 1e-6, cite: LIBRARY },
        Known { what: "NaCl", value: 1.000404, tolerance: 1e-6, cite: LIBRARY },
    ];
    for known in FACTORS {
        let (_, density, _) = CRYSTAL_DENSITIES.iter().find(|(solid, ..)| *solid == known.what).expect("a density");
        known.is(buoyancy(*density));
    }
    for &(solid, density, cite) in CRYSTAL_DENSITIES {
        // The metal salts and plain salt stay under 0.05 %. Ammonium chloride is the lightest crystal here, 0.064 %.
        let most = if solid == "NH4Cl" { 0.0007 } else { 0.0005 };
        let off = buoyancy(density) - 1.0;
        assert!((0.0..most).contains(&off), "{solid}, density {density} ({cite}): {off}");
        // Half a step of a hundredth-gram balance under a usual weighing of 2.3 g is three times as much.
        assert!(off < 0.005 / 2.3 / 3.0, "{solid}: {off}");
    }
}

#[test]
fn solubilities_agree_within_what_tables_do() {
    const AMMONIUM_CHLORIDE: [Known; 3] = [
        Known { what: "20 °C", value: 37.2, tolerance: 1.2, cite: Citation::seen("perry", "table 2-122") },
        Known { what: "20 °C", value: 37.56, tolerance: 1.2, cite: Citation::seen("supplier-pages", "table") },
        Known { what: "20 °C", value: 37.5, tolerance: 1.2, cite: Citation::memory("crc-inorganic", "27.27 mass %") },
    ];
    let row = SOLUBILITY.iter().find(|row| row.formula == "NH4Cl").expect("a row");
    near(row.celsius, 20.0, 0.0);
    for known in AMMONIUM_CHLORIDE {
        known.is(row.grams_per_100_g_water);
    }
}

#[test]
fn a_molar_mass_says_how_well_it_is_known() {
    // Of K2PtCl4 by hand: 2 × 0.0001, 0.009 and 4 × 0.01, each a rectangle, in quadrature.
    let by_hand = libm::sqrt((0.0002 * 0.0002 + 0.009 * 0.009 + 0.04 * 0.04) / 3.0);
    let ours = molar_mass(&formula("K2PtCl4"));
    near(ours.standard(), by_hand, 1e-12);
    near(ours.best.in_unit(), 415.0806, 1e-9);
    // Ammonium palladium chloride written three ways weighs the same.
    for text in ["(NH4)2PdCl4", "[NH4]2[PdCl4]", "N2H8PdCl4"] {
        near(grams_per_mole(text), 284.298, 1e-9);
    }
    // An electron's mass apart, and no more.
    near(grams_per_mole("PdCl4") - grams_per_mole("PdCl4^2-"), -2.0 * 5.485_799e-4, 1e-9);
}
