//! Known strengths: what recipes come to, in plans and as plain percentages.
//!
//! Where a recipe's masses were read somewhere, its row says so; the strength they come to is arithmetic.

use handcoat_craft::measure::{MassDensity, PercentByMass, PercentByVolume};
use handcoat_craft::source::{Citation, Element};
use handcoat_craft::stock::{FormStrength, Goal, Hydrate, Plan, Strength, molar_mass, strengths_by_form};

use crate::bench::{Change, formula, into, ml, near, powder, q, request};
use crate::known_chemistry::{Known, computed};

const RECIPE: Citation = Citation::seen("ware-platino-palladiotype", "masses of the recipe; volumes from memory");
const NOMINAL: Citation = Citation::memory("ware1986", "volumes and nominal strengths");
const CIRCULATES: Citation = Citation::practice("recipe that circulates; found in no opened text");
const INVENTED: Citation = computed("periodictable", "the recipe with the chloride it needs");
const ARITHMETIC: Citation = computed("periodictable", "version 2.1.0, molar masses");

/// A recipe made up to a volume, and what it is.
struct Recipe {
    salt: &'static str,
    mass: &'static str,
    chloride: Option<(&'static str, &'static str)>,
    volume: &'static str,
    molarity: f64,
    cite: Citation,
}

const fn palladium(mass: &'static str, salt: &'static str, volume: &'static str, molarity: f64) -> Recipe {
    Recipe { salt: "PdCl2", mass, chloride: Some(("NaCl", salt)), volume, molarity, cite: CIRCULATES }
}

const fn ammonium(mass: &'static str, salt: &'static str, volume: &'static str, molarity: f64) -> Recipe {
    Recipe { salt: "PdCl2", mass, chloride: Some(("NH4Cl", salt)), volume, molarity, cite: RECIPE }
}

const fn platinum(salt: &'static str, mass: &'static str, volume: &'static str, molarity: f64) -> Recipe {
    Recipe { salt, mass, chloride: None, volume, molarity, cite: RECIPE }
}

const RECIPES: [Recipe; 11] = [
    palladium("5g", "3.5g", "40mL", 0.70494),
    palladium("5g", "3.5g", "50mL", 0.56395),
    palladium("5g", "3.5g", "55mL", 0.51268),
    palladium("5g", "3.5g", "60mL", 0.46996),
    Recipe { cite: INVENTED, ..palladium("5g", "3.3g", "40mL", 0.70494) },
    ammonium("3g", "1.8g", "25mL", 0.67674),
    platinum("(NH4)2PtCl4", "5g", "20mL", 0.67031),
    platinum("(NH4)2PtCl4", "5g", "22mL", 0.60937),
    platinum("(NH4)2PtCl4", "5g", "25mL", 0.53625),
    platinum("(NH4)2PtCl4", "5g", "19.1517mL", 0.70000),
    Recipe { salt: "K2PtCl4", mass: "10g", chloride: None, volume: "50mL", molarity: 0.481834, cite: CIRCULATES },
];

fn plan_of(recipe: &Recipe) -> Plan {
    let request = into(powder(recipe.salt), recipe.mass, recipe.volume);
    match recipe.chloride {
        Some((formula, mass)) => request.with_chloride(formula, mass).plan(),
        None => request.plan(),
    }
}

fn molarity(plan: &Plan) -> f64 {
    plan.batch.strengths.molarity.best.to_moles_per_litre()
}

#[test]
fn recipes_come_to_their_molarity() {
    for recipe in &RECIPES {
        let known = Known { what: recipe.mass, value: recipe.molarity, tolerance: 6e-6, cite: recipe.cite };
        known.is(molarity(&plan_of(recipe)));
    }
}

#[test]
fn the_chloride_of_three_recipes() {
    // mmol of Pd, added and total Cl to Pd, and what is over the need as a part of it.
    const ROWS: [(&Recipe, [f64; 4]); 3] = [
        (&RECIPES[0], [28.1976, 2.12396, 4.12396, 0.0620]),
        (&RECIPES[4], [28.1976, 2.00260, 4.00260, 0.0013]),
        (&RECIPES[5], [16.9186, 1.98904, 3.98904, -0.0055]),
    ];
    for (recipe, [millimoles, added, total, over]) in ROWS {
        let (what, cite) = (recipe.mass, recipe.cite);
        let plan = plan_of(recipe);
        let ratio = plan.batch.chloride_to_metal.best.to_ratio();
        Known { what, value: millimoles, tolerance: 6e-5, cite }.is(plan.batch.amount.to_moles() * 1e3);
        Known { what, value: added, tolerance: 6e-6, cite }.is(ratio);
        // Two chlorides come with the powder itself.
        Known { what, value: total, tolerance: 6e-6, cite }.is(ratio + 2.0);
        Known { what, value: over, tolerance: 6e-5, cite }.is(plan.batch.chloride_excess().expect("a need"));
    }
    let need = |mass, chloride| {
        let plan = into(powder("PdCl2"), mass, "40mL").with_chloride(chloride, "2g").plan();
        plan.batch.chloride_needed.to_grams()
    };
    Known { what: "NaCl for 5 g", value: 3.29572, tolerance: 6e-6, cite: ARITHMETIC }.is(need("5g", "NaCl"));
    Known { what: "NH4Cl for 3 g", value: 1.80991, tolerance: 6e-6, cite: ARITHMETIC }.is(need("3g", "NH4Cl"));
}

#[test]
fn the_metal_in_three_recipes() {
    const ROWS: [(usize, f64, f64); 4] =
        [(0, 40.0, 3.00079), (3, 60.0, 3.00079), (5, 25.0, 1.80047), (6, 20.0, 2.61533)];
    for (place, volume_ml, grams) in ROWS {
        let metal = plan_of(&RECIPES[place]).batch.strengths.metal.best.to_milligrams_per_millilitre();
        Known { what: "metal", value: grams, tolerance: 6e-6, cite: ARITHMETIC }.is(metal * volume_ml / 1000.0);
    }
    let platinum = plan_of(&RECIPES[10]).batch.strengths.metal.best.to_milligrams_per_millilitre();
    Known { what: "20 % K2PtCl4", value: 93.998, tolerance: 6e-4, cite: ARITHMETIC }.is(platinum);
}

#[test]
fn volumes_that_make_a_nominal_strength() {
    const ROWS: [(&str, &str, f64); 2] = [("PdCl2", "3g", 24.169), ("(NH4)2PtCl4", "5g", 19.1517)];
    for (what, mass, value) in ROWS {
        let plan = request(powder(what), Goal::Dissolve(q(mass), Strength::Molarity(q("0.7M")))).plan();
        Known { what, value, tolerance: 6e-4, cite: NOMINAL }.is(ml(plan.batch.volume.best));
    }
    // One twentieth of a millilitre of it, as a drop.
    let plan = request(powder("PdCl2"), Goal::Make(q("25mL"), Strength::Molarity(q("0.7M")))).plan();
    let metal = plan.batch.strengths.metal.best.to_milligrams_per_millilitre();
    Known { what: "a drop", value: 3.7247, tolerance: 6e-5, cite: ARITHMETIC }.is(metal * 0.05);
}

/// A solid in % w/v, and its molarity.
struct Dissolved {
    solid: &'static str,
    percent: f64,
    molarity: f64,
}

const fn w(solid: &'static str, percent: f64, molarity: f64) -> Dissolved {
    Dissolved { solid, percent, molarity }
}

const DISSOLVED: [Dissolved; 27] = [
    w("Fe2(C2O4)3", 20.0, 0.532277),
    w("Fe2(C2O4)3·6H2O", 20.0, 0.413365),
    w("Fe2(C2O4)3", 24.0, 0.638733),
    w("Fe2(C2O4)3·6H2O", 24.0, 0.496038),
    w("Fe2(C2O4)3", 26.0, 0.691960),
    w("Fe2(C2O4)3·6H2O", 26.0, 0.537374),
    w("Fe2(C2O4)3", 27.0, 0.718574),
    w("Fe2(C2O4)3·6H2O", 27.0, 0.558043),
    w("Na2PtCl6·6H2O", 2.0, 0.035596),
    w("Na2PtCl6", 2.0, 0.044076),
    w("Na2PtCl6·6H2O", 5.0, 0.088991),
    w("Na2PtCl6", 5.0, 0.110190),
    w("Na2PtCl6·6H2O", 10.0, 0.177982),
    w("Na2PtCl6", 10.0, 0.220379),
    w("Na2PtCl6·6H2O", 20.0, 0.355965),
    w("Na2PtCl6", 20.0, 0.440758),
    w("K2Cr2O7", 4.0, 0.135970),
    w("KClO3", 0.3 / 55.0 * 100.0, 0.044510),
    w("Na2C10H14N2O8·2H2O", 5.0, 0.134323),
    w("Na4C10H12N2O8·2H2O", 3.0, 0.072081),
    w("Na4C10H12N2O8·4H2O", 3.0, 0.066338),
    w("Na4C10H12N2O8", 3.0, 0.078912),
    w("C6H8O7", 1.0, 0.052050),
    w("C6H8O7·H2O", 1.0, 0.047588),
    w("K2PtCl4", 20.0, 0.481834),
    w("(NH4)3Fe(C2O4)3·3H2O", 60.0, 1.40167),
    w("(NH4)3Fe(C2O4)3·3H2O", 59.92854, 1.40000),
];

/// What a percentage comes to, for each form or for the one stated.
fn forms(solid: &str, percent: f64, waters: Option<f64>, metal: Element) -> Vec<FormStrength> {
    let percent = PercentByVolume::grams_per_100_ml(percent).expect("a percentage");
    let hydrate = waters.map_or(Hydrate::AsWritten, Hydrate::Stated);
    strengths_by_form(&formula(solid), hydrate, percent, Some(metal)).expect("strengths").forms
}

/// What it comes to with the water as the formula says.
fn stated(solid: &str, percent: f64, metal: Element) -> FormStrength {
    let (whole, dry) = (formula(solid), formula(solid).dry().to_string());
    let found = forms(&dry, percent, Some(whole.waters()), metal);
    let [only] = found.as_slice() else { panic!("{solid}: {found:?}") };
    assert_eq!(only.form, whole);
    only.clone()
}

#[test]
fn percentages_become_molarities() {
    for row in &DISSOLVED {
        let known = Known { what: row.solid, value: row.molarity, tolerance: 6e-6, cite: ARITHMETIC };
        known.is(stated(row.solid, row.percent, Element::FE).molarity.to_moles_per_litre());
    }
    // Fuming acid is sold by mass, and only its density makes that a molarity.
    let density = MassDensity::grams_per_millilitre(1.18).expect("a density");
    let percent = PercentByMass::grams_per_100_g(37.0).and_then(|w| w.by_volume(density)).expect("a percentage");
    let acid = stated("HCl", percent.to_grams_per_100_ml(), Element::CL).molarity.to_moles_per_litre();
    Known { what: "HCl, 37 % by mass", value: 11.9754, tolerance: 6e-5, cite: ARITHMETIC }.is(acid);
}

#[test]
fn ferric_oxalate_is_a_list_until_its_water_is_stated() {
    let open = forms("Fe2(C2O4)3", 27.0, None, Element::FE);
    let texts: Vec<_> = open.iter().map(|form| form.form.to_string()).collect();
    assert_eq!(texts, ["Fe2(C2O4)3", "Fe2(C2O4)3·5H2O", "Fe2(C2O4)3·6H2O"]);
    let (most, least) = (&open[0], &open[2]);
    near(most.molarity.to_moles_per_litre(), 0.72, 0.005);
    near(least.molarity.to_moles_per_litre(), 0.56, 0.005);
    let ratio = most.molarity.to_moles_per_litre() / least.molarity.to_moles_per_litre();
    Known { what: "of molar masses", value: 1.287669, tolerance: 1e-6, cite: ARITHMETIC }.is(ratio);
    // Two iron atoms to each formula.
    for (what, form, value) in [("anhydrous", most, 1.437149), ("hexahydrate", least, 1.116085)] {
        let iron = form.metal.expect("iron").to_milligrams_per_millilitre() / Element::FE.weight().grams_per_mole;
        Known { what, value, tolerance: 1e-6, cite: ARITHMETIC }.is(iron);
    }
    let asked = forms("Fe2(C2O4)3", 27.0, Some(6.0), Element::FE);
    let written = forms("Fe2(C2O4)3·6H2O", 27.0, None, Element::FE);
    assert_eq!(asked, std::slice::from_ref(least));
    assert_eq!(written, asked);
    // A historic "20 % normal iron solution" counts the anhydrous solid: molar mass 376.
    near(0.2 * 1000.0 / stated("Fe2(C2O4)3", 20.0, Element::FE).molarity.to_moles_per_litre(), 376.0, 0.5);
}

#[test]
fn fifteen_percent_palladium_is_two_things() {
    let open = forms("Na2PdCl4", 15.0, None, Element::PD);
    let [anhydrous, trihydrate] = open.as_slice() else { panic!("{open:?}") };
    let metal = |form: &FormStrength| form.metal.expect("palladium").to_milligrams_per_millilitre();
    near(anhydrous.molarity.to_moles_per_litre(), 0.51, 0.005);
    near(metal(anhydrous), 54.0, 0.5);
    near(trihydrate.molarity.to_moles_per_litre(), 0.43, 0.005);
    near(metal(trihydrate), 46.0, 0.5);
    near(1.0 - metal(trihydrate) / metal(anhydrous), 0.16, 0.005);
    // The contrast salt: the hexahydrate holds a fifth less.
    let platinum = |solid| metal(&stated(solid, 20.0, Element::PT));
    near(1.0 - platinum("Na2PtCl6·6H2O") / platinum("Na2PtCl6"), 0.19, 0.005);
}

#[test]
fn iron_to_palladium_in_equal_volumes() {
    const ROWS: [(&str, usize, f64); 3] =
        [("Fe2(C2O4)3", 0, 2.03868), ("Fe2(C2O4)3·6H2O", 0, 1.58323), ("Fe2(C2O4)3", 3, 3.05802)];
    for (what, recipe, value) in ROWS {
        let iron = 2.0 * stated(what, 27.0, Element::FE).molarity.to_moles_per_litre();
        let ratio = iron / molarity(&plan_of(&RECIPES[recipe]));
        Known { what, value, tolerance: 1e-5, cite: ARITHMETIC }.is(ratio);
    }
    // At the nominal strengths of the printing-out recipe it is two to one.
    let iron = stated("(NH4)3Fe(C2O4)3·3H2O", 59.92854, Element::FE).molarity.to_moles_per_litre();
    Known { what: "1.4 to 0.7", value: 2.0, tolerance: 2e-5, cite: NOMINAL }.is(iron / 0.7);
    // 70.0835 mmol of iron in 30 g, and the volume that makes 1.4 mol/L.
    let grams_per_mole = molar_mass(&formula("(NH4)3Fe(C2O4)3·3H2O")).best.to_grams_per_mole();
    near(30.0 / grams_per_mole * 1e3, 70.0835, 6e-5);
    near(50.0 * stated("(NH4)3Fe(C2O4)3·3H2O", 60.0, Element::FE).molarity.to_moles_per_litre() / 1.4, 50.0596, 6e-5);
}
