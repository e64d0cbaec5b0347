//! How much room a solid takes, as a crystal and in solution.
//!
//! Only for estimates: "add 25 mL of water" ends at a little more than 25 mL, and by how much lies between
//! what the ions take up in very dilute solution and what the crystals took up dry.

use super::Citation;

/// A row: formula or ion, value, source.
pub type SoluteRow = (&'static str, f64, Citation);

const CRC: Citation = Citation::second_hand("crc-inorganic", "physical constants of inorganic compounds");
const SH88: Citation = Citation::second_hand("shock-helgeson1988", "standard partial molal volumes, 25 °C");

/// Crystal densities, in g/cm3.
pub const CRYSTAL_DENSITIES: &[SoluteRow] = &[
    ("PdCl2", 4.0, CRC),
    ("NaCl", 2.17, CRC),
    ("KCl", 1.988, CRC),
    ("NH4Cl", 1.519, CRC),
    ("LiCl", 2.07, CRC),
    ("CsCl", 3.988, CRC),
    ("K2PtCl4", 3.38, CRC),
    ("(NH4)2PtCl4", 2.936, CRC),
    ("Na2PtCl6·6H2O", 2.50, CRC),
    ("K2PdCl4", 2.67, Citation::memory("crc-inorganic", "not found there")),
    ("(NH4)2PdCl4", 2.17, Citation::second_hand("wikipedia-en", "ammonium tetrachloropalladate(II)")),
];

/// Standard partial molal volumes of ions at infinite dilution in water, 25 °C, with that of the proton
/// taken as zero, in cm3/mol. E. L. Shock and H. C. Helgeson, Geochim. Cosmochim. Acta 52 (1988) 2009-2036,
/// values as transcribed in the data files of a thermodynamics library.
pub const ION_VOLUMES: &[SoluteRow] = &[
    ("Cl", 17.79, SH88),
    ("Na", -1.11, SH88),
    ("K", 9.06, SH88),
    ("Li", -0.87, SH88),
    ("NH4", 18.13, SH88),
    ("Cs", 21.42, SH88),
];
