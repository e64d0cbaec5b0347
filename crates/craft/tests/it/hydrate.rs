//! The water in a powder: stated, not known, or as the formula is written; never twice.

use handcoat_craft::measure::PercentByVolume;
use handcoat_craft::stock::{
    FormsError, Hydrate, HydrateError, Hydration, MetalSalt, Powder, Purity, Warning, strengths_by_form,
};

use crate::bench::{Change, formula, near, usual, warns};

fn said(salt: &str, hydrate: Hydrate) -> Result<Powder, HydrateError> {
    Powder::new(MetalSalt::recognise(formula(salt)).expect("a salt"), hydrate, Purity::Unstated)
}

#[test]
fn water_is_never_added_twice() {
    // Written with a dot, in brackets, or as a ligand.
    for salt in ["PdCl2·2H2O", "Pd(H2O)2Cl2", "PdCl2(H2O)2", "Na2PtCl6(H2O)6", "K2PtCl4·H2O"] {
        for hydrate in [Hydrate::Stated(2.0), Hydrate::Stated(0.0), Hydrate::Unknown] {
            let refused = said(salt, hydrate).expect_err(salt);
            assert_eq!(
                (refused.code(), matches!(refused, HydrateError::SaidTwice { .. })),
                ("hydrate_said_twice", true)
            );
        }
        assert!(said(salt, Hydrate::AsWritten).is_ok_and(|powder| powder.hydration() == Hydration::Stated), "{salt}");
    }
    let percent = PercentByVolume::grams_per_100_ml(15.0).expect("a percentage");
    for solid in ["Fe2(C2O4)3·6H2O", "Fe2(C2O4)3(H2O)6", "NaCl·2H2O"] {
        let refused = strengths_by_form(&formula(solid), Hydrate::Stated(2.0), percent, None).expect_err(solid);
        assert!(matches!(refused, FormsError::Hydrate(HydrateError::SaidTwice { .. })), "{refused:?}");
    }
}

#[test]
fn unknown_water_stays_unknown_where_no_other_form_is_met() {
    for salt in ["K2PtCl4", "(NH4)2PtCl4", "Li2PdCl4"] {
        let unknown = said(salt, Hydrate::Unknown).expect("a powder");
        assert_eq!(unknown.hydration(), Hydration::Unknown, "{salt}");
        let plan = usual(unknown, "40mL").plan();
        assert!(warns(&plan, "hydration_unknown"), "{salt}: {:?}", plan.warnings);
        let written = usual(said(salt, Hydrate::AsWritten).expect("a powder"), "40mL").plan();
        assert!(!warns(&written, "hydration_unknown") && !warns(&written, "hydration_unstated"), "{salt}");
    }
    let plan = usual(said("K2PtCl4", Hydrate::Unknown).expect("a powder"), "40mL").plan();
    let less = plan.warnings.iter().find_map(|warning| match warning {
        Warning::HydrationUnknown { less } => Some(*less),
        _ => None,
    });
    // One water, 18.015 g/mol, in K2PtCl4·H2O, 433.095 g/mol: from the atomic weights.
    near(less.expect("a part"), 18.015 / 433.095, 1e-5);
}

#[test]
fn unknown_water_is_a_list_where_several_forms_are_met() {
    for hydrate in [Hydrate::Unknown, Hydrate::AsWritten] {
        assert!(matches!(said("PdCl2", hydrate).map(|powder| powder.hydration()), Ok(Hydration::Unstated(_))));
    }
    let percent = PercentByVolume::grams_per_100_ml(15.0).expect("a percentage");
    let known = |solid: &str, hydrate| {
        let found = strengths_by_form(&formula(solid), hydrate, percent, None).expect("strengths");
        (found.forms.len(), found.known)
    };
    assert_eq!(known("PdCl2", Hydrate::Unknown), (2, false));
    assert_eq!(known("PdCl2", Hydrate::Stated(0.0)), (1, true));
    assert_eq!(known("K2PtCl4", Hydrate::AsWritten), (1, true));
    assert_eq!(known("K2PtCl4", Hydrate::Unknown), (1, false));
}

#[test]
fn stated_water_is_in_the_formula() {
    let powder = said("Na2[PtCl6]", Hydrate::Stated(6.0)).expect("a powder");
    assert_eq!((powder.salt().waters(), powder.hydration()), (6.0, Hydration::Stated));
    assert_eq!(powder.salt().formula().to_string(), "Na2[PtCl6]·6H2O");
    // Water out of brackets is written behind the dot.
    let salt = MetalSalt::recognise(formula("PdCl2(H2O)2")).expect("a salt");
    assert_eq!(salt.with_waters(1.0).expect("a hydrate").formula().to_string(), "PdCl2·H2O");
}
