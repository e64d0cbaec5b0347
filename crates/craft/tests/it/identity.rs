//! A solid is known by what it is made of: every spelling has the name, the water and the room of the first.

use handcoat_craft::measure::Mass;
use handcoat_craft::source::{CRYSTAL_DENSITIES, HYDRATES, NAMED, SOLUBILITY};
use handcoat_craft::stock::{AlkaliChloride, Formula, MetalSalt, hydrates_met, named, room_taken};
use proptest::{prop_assert_eq, proptest};

use crate::bench::{Change, formula, powder, q, usual};

/// A spelling of the tables, and other spellings of the same solid.
const SPELLED: [(&str, &[&str]); 7] = [
    ("PdCl2", &["Cl2Pd", "[PdCl2]", "Pd(Cl)2"]),
    ("PdCl2·2H2O", &["Cl2Pd·2H2O", "PdCl2(H2O)2", "Pd(H2O)2Cl2", "PdCl2·H2O·H2O"]),
    ("Na2PdCl4", &["Na2[PdCl4]", "(NaCl)2PdCl2", "PdCl2·2NaCl"]),
    ("Na2PtCl6", &["Na2[PtCl6]", "Na2(PtCl6)", "Cl6Na2Pt"]),
    ("Na2PtCl6·6H2O", &["Na2[PtCl6]·6H2O", "Cl6Na2Pt.6H2O"]),
    ("(NH4)2PtCl4", &["[NH4]2[PtCl4]", "N2H8PtCl4"]),
    ("NH4Cl", &["ClNH4", "[NH4]Cl", "(NH4)Cl"]),
];

#[test]
fn every_spelling_has_the_name_and_the_number() {
    for (row, spellings) in SPELLED {
        let known = named(&formula(row)).unwrap_or_else(|| panic!("{row} has no name"));
        for text in spellings {
            assert_eq!(named(&formula(text)), Some(known), "{text}");
        }
    }
    // Near misses: another charge, one chlorine more, one water more.
    for text in ["PdCl4^2-", "PdCl3", "Na2PtCl6·5H2O", "Na3PtCl6", "PdCl2^+"] {
        assert_eq!(named(&formula(text)), None, "{text}");
    }
}

#[test]
fn every_spelling_leaves_the_water_as_open() {
    for (row, spellings) in SPELLED {
        if MetalSalt::recognise(formula(row)).is_err() {
            continue;
        }
        let codes = |text: &str| -> Vec<&str> {
            usual(powder(text), "40mL").plan().warnings.iter().map(|warning| warning.code()).collect()
        };
        for text in spellings {
            assert_eq!(codes(text), codes(row), "{text} is {row}");
        }
    }
    let codes = usual(powder("Na2[PtCl6]"), "40mL").plan().warnings;
    assert!(codes.iter().any(|warning| warning.code() == "hydration_unstated"), "{codes:?}");
}

#[test]
fn every_spelling_takes_the_same_room_and_dissolves_as_much() {
    let (mass, none) = (q::<Mass>("5g"), AlkaliChloride::plain_salt());
    for (row, spellings) in SPELLED {
        let Ok(salt) = MetalSalt::recognise(formula(row)) else { continue };
        let room = room_taken(&salt, mass, &none, Mass::ZERO);
        for text in spellings {
            let spelled = MetalSalt::recognise(formula(text)).expect("a salt");
            assert_eq!(room_taken(&spelled, mass, &none, Mass::ZERO), room, "{text}");
        }
    }
    for text in ["NH4Cl", "[NH4]Cl", "ClNH4"] {
        let plan = usual(powder("PdCl2"), "20mL").with_chloride(text, "9g").plan();
        assert!(crate::bench::warns(&plan, "solubility_exceeded"), "{text}: {:?}", plan.warnings);
    }
}

#[test]
fn every_row_of_the_tables_is_a_formula() {
    let named = NAMED.iter().map(|row| row.formula);
    let hydrates = HYDRATES.iter().map(|row| row.anhydrous);
    let densities = CRYSTAL_DENSITIES.iter().map(|row| row.0);
    for text in named.chain(hydrates).chain(densities).chain(SOLUBILITY.iter().map(|row| row.formula)) {
        assert!(text.parse::<Formula>().is_ok(), "{text}");
    }
    for row in HYDRATES {
        assert_eq!(hydrates_met(&formula(row.anhydrous)), Some((row, 0.0)));
    }
}

proptest! {
    #[test]
    fn a_hydrate_is_its_solid_and_so_many_waters(row in 0..HYDRATES.len(), waters in 0..25_u32) {
        let dry = formula(HYDRATES[row].anhydrous);
        let wet = dry.with_waters(f64::from(waters)).expect("a hydrate");
        prop_assert_eq!(wet.waters_over(&dry), Some(f64::from(waters)));
        prop_assert_eq!(dry.waters_over(&wet), (waters == 0).then_some(0.0));
    }
}
