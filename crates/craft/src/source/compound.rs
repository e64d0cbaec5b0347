//! Names, CAS numbers and common hydrates.
//!
//! Palladium and platinum salts are confused in speech and on old labels, so a page or a paper shows the
//! formula and the CAS number beside the name. A CAS number does not settle the water: suppliers use one
//! number for several hydrates.

use super::Citation;

/// A compound with a name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Compound {
    /// Formula as it is written here.
    pub formula: &'static str,
    /// Name.
    pub name: &'static str,
    /// CAS registry number; none where none could be checked.
    pub cas: Option<&'static str>,
    /// Where the CAS number was read.
    pub cite: Citation,
}

const fn named(formula: &'static str, name: &'static str, cas: &'static str, cite: Citation) -> Compound {
    Compound { formula, name, cas: Some(cas), cite }
}

const CRC: Citation = Citation::second_hand("crc-inorganic", "physical constants of inorganic compounds");
const MERCK: Citation = Citation::second_hand("merck-index", "monograph");
const NOT_OPENED: Citation = Citation::memory("merck-index", "monograph, not opened");

/// The compounds this program speaks of by name.
#[rustfmt::skip]
pub const NAMED: &[Compound] = &[
    named("PdCl2", "palladium(II) chloride", "7647-10-1", MERCK),
    named("PdCl2·2H2O", "palladium(II) chloride dihydrate", "10038-97-8", Citation::memory("crc-inorganic", "not found there")),
    named("Na2PdCl4", "sodium tetrachloropalladate(II)", "13820-53-6", Citation::second_hand("wikipedia-fr", "tétrachloropalladate de sodium")),
    named("K2PdCl4", "potassium tetrachloropalladate(II)", "10025-98-6", Citation::memory("crc-inorganic", "seen once, unsourced")),
    named("(NH4)2PdCl4", "ammonium tetrachloropalladate(II)", "13820-40-1", Citation::second_hand("supplier-pages", "catalogue page")),
    named("Li2PdCl4", "lithium tetrachloropalladate(II)", "15525-45-8", Citation::second_hand("supplier-pages", "catalogue page")),
    Compound { formula: "Cs2PdCl4", name: "caesium tetrachloropalladate(II)", cas: None, cite: Citation::practice("name only") },
    named("K2PtCl4", "potassium tetrachloroplatinate(II)", "10025-99-7", CRC),
    named("(NH4)2PtCl4", "ammonium tetrachloroplatinate(II)", "13820-41-2", CRC),
    named("Na2PtCl6", "sodium hexachloroplatinate(IV)", "16923-58-3", Citation::seen("swedish-pt-1997", "table of compounds")),
    named("Na2PtCl6·6H2O", "sodium hexachloroplatinate(IV) hexahydrate", "19583-77-8", Citation::memory("crc-inorganic", "not found there")),
    named("NaCl", "sodium chloride, plain salt", "7647-14-5", CRC),
    named("KCl", "potassium chloride", "7447-40-7", CRC),
    named("NH4Cl", "ammonium chloride", "12125-02-9", MERCK),
    named("LiCl", "lithium chloride", "7447-41-8", MERCK),
    named("CsCl", "caesium chloride", "7647-17-8", MERCK),
    named("Fe2(C2O4)3", "iron(III) oxalate", "2944-66-3", Citation::second_hand("wikipedia-en", "ferric oxalate")),
    named("K2C2O4·H2O", "potassium oxalate monohydrate", "6487-48-5", CRC),
    named("Fe2(C2O4)3·6H2O", "iron(III) oxalate hexahydrate", "166897-40-1", NOT_OPENED),
    Compound { formula: "Fe2(C2O4)3·5H2O", name: "iron(III) oxalate pentahydrate", cas: None, cite: Citation::practice("name only") },
    named("(NH4)3Fe(C2O4)3·3H2O", "ammonium iron(III) oxalate trihydrate", "13268-42-3", NOT_OPENED),
    named("H2C2O4", "oxalic acid", "144-62-7", NOT_OPENED),
    named("H2C2O4·2H2O", "oxalic acid dihydrate", "6153-56-6", NOT_OPENED),
    named("K2C2O4", "potassium oxalate", "583-52-8", NOT_OPENED),
    named("KClO3", "potassium chlorate", "3811-04-9", Citation::seen("miyamoto1987", "page 113")),
    named("K2Cr2O7", "potassium dichromate", "7778-50-9", NOT_OPENED),
    named("(NH4)2C6H6O7", "diammonium hydrogen citrate", "3012-65-5", NOT_OPENED),
    named("(NH4)3C6H5O7", "triammonium citrate", "3458-72-8", NOT_OPENED),
    named("Na3C6H5O7", "trisodium citrate", "68-04-2", NOT_OPENED),
    named("Na3C6H5O7·2H2O", "trisodium citrate dihydrate", "6132-04-3", NOT_OPENED),
    named("C6H8O7", "citric acid", "77-92-9", NOT_OPENED),
    named("C6H8O7·H2O", "citric acid monohydrate", "5949-29-1", NOT_OPENED),
    named("Na2C10H14N2O8", "disodium EDTA", "139-33-3", NOT_OPENED),
    named("Na2C10H14N2O8·2H2O", "disodium EDTA dihydrate", "6381-92-6", NOT_OPENED),
    named("Na4C10H12N2O8", "tetrasodium EDTA", "64-02-8", NOT_OPENED),
    named("Na4C10H12N2O8·2H2O", "tetrasodium EDTA dihydrate", "10378-23-1", NOT_OPENED),
    named("Na4C10H12N2O8·4H2O", "tetrasodium EDTA tetrahydrate", "13235-36-4", NOT_OPENED),
    named("Na2SO3", "sodium sulfite", "7757-83-7", NOT_OPENED),
    named("Na2SO3·7H2O", "sodium sulfite heptahydrate", "10102-15-5", NOT_OPENED),
    named("HCl", "hydrochloric acid", "7647-01-0", NOT_OPENED),
    named("H2O2", "hydrogen peroxide", "7722-84-1", NOT_OPENED),
    named("HAuCl4·3H2O", "tetrachloroauric(III) acid trihydrate", "16961-25-4", NOT_OPENED),
];

/// Hydrates of one solid that are sold or met under the same name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hydrates {
    /// Formula without water.
    pub anhydrous: &'static str,
    /// Waters per formula of the forms met; zero for the anhydrous solid.
    pub waters: &'static [f64],
    /// Source.
    pub cite: Citation,
}

const fn met(anhydrous: &'static str, waters: &'static [f64], cite: Citation) -> Hydrates {
    Hydrates { anhydrous, waters, cite }
}

/// Solids whose name leaves the water open. Others are taken as their formula says.
#[rustfmt::skip]
pub const HYDRATES: &[Hydrates] = &[
    met("PdCl2", &[0.0, 2.0], MERCK),
    met("Na2PdCl4", &[0.0, 3.0], Citation::second_hand("wikipedia-fr", "sold as the trihydrate")),
    met("Na2PtCl6", &[0.0, 6.0], Citation::second_hand("wikipedia-en", "sodium hexachloroplatinate")),
    met("Fe2(C2O4)3", &[0.0, 5.0, 6.0], Citation::second_hand("wikipedia-en", "ferric oxalate; pentahydrate from memory")),
    met("K2C2O4", &[0.0, 1.0], CRC),
    met("H2C2O4", &[0.0, 2.0], Citation::memory("crc-inorganic", "oxalic acid")),
    met("C6H8O7", &[0.0, 1.0], Citation::memory("merck-index", "citric acid")),
    met("Na3C6H5O7", &[0.0, 2.0], Citation::memory("merck-index", "sodium citrate")),
    met("Na2C10H14N2O8", &[0.0, 2.0], Citation::memory("merck-index", "edetate disodium")),
    met("Na4C10H12N2O8", &[0.0, 2.0, 4.0], Citation::practice("labels of tetrasodium EDTA")),
    met("Na2SO3", &[0.0, 7.0], Citation::memory("merck-index", "sodium sulfite")),
    met("HAuCl4", &[3.0, 4.0], Citation::memory("merck-index", "gold trichloride acid")),
];
