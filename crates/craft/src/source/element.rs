//! Elements and their standard atomic weights.
//!
//! T. Prohaska et al., "Standard atomic weights of the elements 2021 (IUPAC Technical Report)", Pure Appl.
//! Chem. 94 (2022) 573-600; for elements whose weight is an interval in nature (H, Li, C, N, O, S, Cl …) the
//! abridged value and its ± of the same report. Typed from the copy of that table in the Python library
//! periodictable 2.1.0, which names its source; `tests/known/` compares them again.
//!
//! The ± of that table is a *bound*, not a standard uncertainty. IUPAC's reading of it (Possolo, van der Veen,
//! Meija and Hibbert, Pure Appl. Chem. 90 (2018) 395-424, abstract seen) takes it as rectangular: u = U/√3.

use core::fmt;

use super::{Citation, Fact};

/// One row of the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StandardAtomicWeight {
    /// Symbol.
    pub symbol: &'static str,
    /// Name.
    pub name: &'static str,
    /// Weight, in g/mol.
    pub grams_per_mole: f64,
    /// Bound of that weight in normal materials, in g/mol.
    pub bound: f64,
    /// Source.
    pub cite: Citation,
}

const fn w(symbol: &'static str, name: &'static str, grams_per_mole: f64, bound: f64) -> StandardAtomicWeight {
    let cite = Citation::second_hand("prohaska2022", "table 1, 2021 values");
    StandardAtomicWeight { symbol, name, grams_per_mole, bound, cite }
}

/// Standard atomic weights 2021 of the elements that bench chemicals are made of.
#[rustfmt::skip]
pub const STANDARD_ATOMIC_WEIGHTS: &[StandardAtomicWeight] = &[
    w("H", "hydrogen", 1.0080, 0.0002),
    w("Li", "lithium", 6.94, 0.06),
    w("B", "boron", 10.81, 0.02),
    w("C", "carbon", 12.011, 0.002),
    w("N", "nitrogen", 14.007, 0.001),
    w("O", "oxygen", 15.999, 0.001),
    w("F", "fluorine", 18.998403162, 0.000000005),
    w("Na", "sodium", 22.98976928, 0.00000002),
    w("Mg", "magnesium", 24.305, 0.002),
    w("Al", "aluminium", 26.9815384, 0.0000003),
    w("Si", "silicon", 28.085, 0.001),
    w("P", "phosphorus", 30.973761998, 0.000000005),
    w("S", "sulfur", 32.06, 0.02),
    w("Cl", "chlorine", 35.45, 0.01),
    w("K", "potassium", 39.0983, 0.0001),
    w("Ca", "calcium", 40.078, 0.004),
    w("Ti", "titanium", 47.867, 0.001),
    w("V", "vanadium", 50.9415, 0.0001),
    w("Cr", "chromium", 51.9961, 0.0006),
    w("Mn", "manganese", 54.938043, 0.000002),
    w("Fe", "iron", 55.845, 0.002),
    w("Co", "cobalt", 58.933194, 0.000003),
    w("Ni", "nickel", 58.6934, 0.0004),
    w("Cu", "copper", 63.546, 0.003),
    w("Zn", "zinc", 65.38, 0.02),
    w("As", "arsenic", 74.921595, 0.000006),
    w("Se", "selenium", 78.971, 0.008),
    w("Br", "bromine", 79.904, 0.003),
    w("Rb", "rubidium", 85.4678, 0.0003),
    w("Sr", "strontium", 87.62, 0.01),
    w("Mo", "molybdenum", 95.95, 0.01),
    w("Ru", "ruthenium", 101.07, 0.02),
    w("Rh", "rhodium", 102.90549, 0.00002),
    w("Pd", "palladium", 106.42, 0.01),
    w("Ag", "silver", 107.8682, 0.0002),
    w("Cd", "cadmium", 112.414, 0.004),
    w("Sn", "tin", 118.710, 0.007),
    w("Sb", "antimony", 121.760, 0.001),
    w("I", "iodine", 126.90447, 0.00003),
    w("Cs", "caesium", 132.90545196, 0.00000006),
    w("Ba", "barium", 137.327, 0.007),
    w("Ce", "cerium", 140.116, 0.001),
    w("W", "tungsten", 183.84, 0.01),
    w("Re", "rhenium", 186.207, 0.001),
    w("Os", "osmium", 190.23, 0.03),
    w("Ir", "iridium", 192.217, 0.002),
    w("Pt", "platinum", 195.084, 0.009),
    w("Au", "gold", 196.966570, 0.000004),
    w("Hg", "mercury", 200.592, 0.003),
    w("Tl", "thallium", 204.38, 0.01),
    w("Pb", "lead", 207.2, 1.1),
    w("Bi", "bismuth", 208.98040, 0.00001),
];

/// Molar mass of the electron, in g/mol: an ion has lost or gained that much.
pub const ELECTRON_MOLAR_MASS: Fact<f64> = Fact {
    value: 5.485_799_096_2e-4,
    cite: Citation::second_hand("codata2022", "electron molar mass, 5.485 799 0962(17)e-7 kg/mol"),
};

/// Every element's symbol, so that "xenon" and "no such element" are told apart.
#[rustfmt::skip]
const SYMBOLS: &[&str] = &["H", "He", "Li", "Be", "B", "C", "N", "O", "F", "Ne", "Na", "Mg", "Al", "Si", "P", "S", "Cl", "Ar", "K", "Ca", "Sc", "Ti", "V", "Cr", "Mn", "Fe", "Co", "Ni", "Cu", "Zn", "Ga", "Ge", "As", "Se", "Br", "Kr", "Rb", "Sr", "Y", "Zr", "Nb", "Mo", "Tc", "Ru", "Rh", "Pd", "Ag", "Cd", "In", "Sn", "Sb", "Te", "I", "Xe", "Cs", "Ba", "La", "Ce", "Pr", "Nd", "Pm", "Sm", "Eu", "Gd", "Tb", "Dy", "Ho", "Er", "Tm", "Yb", "Lu", "Hf", "Ta", "W", "Re", "Os", "Ir", "Pt", "Au", "Hg", "Tl", "Pb", "Bi", "Po", "At", "Rn", "Fr", "Ra", "Ac", "Th", "Pa", "U", "Np", "Pu", "Am", "Cm", "Bk", "Cf", "Es", "Fm", "Md", "No", "Lr", "Rf", "Db", "Sg", "Bh", "Hs", "Mt", "Ds", "Rg", "Cn", "Nh", "Fl", "Mc", "Lv", "Ts", "Og"];

/// An element of [`STANDARD_ATOMIC_WEIGHTS`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Element(u8);

impl Element {
    /// Hydrogen.
    pub const H: Self = Self::listed("H");
    /// Carbon.
    pub const C: Self = Self::listed("C");
    /// Nitrogen.
    pub const N: Self = Self::listed("N");
    /// Oxygen.
    pub const O: Self = Self::listed("O");
    /// Sodium.
    pub const NA: Self = Self::listed("Na");
    /// Sulfur.
    pub const S: Self = Self::listed("S");
    /// Chlorine.
    pub const CL: Self = Self::listed("Cl");
    /// Potassium.
    pub const K: Self = Self::listed("K");
    /// Iron.
    pub const FE: Self = Self::listed("Fe");
    /// Palladium.
    pub const PD: Self = Self::listed("Pd");
    /// Lithium.
    pub const LI: Self = Self::listed("Li");
    /// Caesium.
    pub const CS: Self = Self::listed("Cs");
    /// Platinum.
    pub const PT: Self = Self::listed("Pt");
    /// Gold.
    pub const AU: Self = Self::listed("Au");

    /// The element with this symbol, if its weight is listed.
    #[must_use]
    pub fn symbol(symbol: &str) -> Option<Self> {
        STANDARD_ATOMIC_WEIGHTS.iter().position(|row| row.symbol == symbol).and_then(|i| u8::try_from(i).ok()).map(Self)
    }

    /// Whether any element, listed here or not, has this symbol.
    #[must_use]
    pub fn exists(symbol: &str) -> bool {
        SYMBOLS.contains(&symbol)
    }

    /// Its row in the table.
    #[must_use]
    pub fn weight(self) -> &'static StandardAtomicWeight {
        // OK because an `Element` is only ever made from a place in this table.
        &STANDARD_ATOMIC_WEIGHTS[self.0 as usize]
    }

    /// Finds a symbol while compiling; a symbol that is not in the table does not compile.
    const fn listed(symbol: &str) -> Self {
        let mut i = 0;
        while i < STANDARD_ATOMIC_WEIGHTS.len() {
            let (a, b) = (STANDARD_ATOMIC_WEIGHTS[i].symbol.as_bytes(), symbol.as_bytes());
            if a.len() == b.len() && a[0] == b[0] && (a.len() == 1 || a[1] == b[1]) {
                return Self(i as u8);
            }
            i += 1;
        }
        // OK because every use is in a constant: it stops the compiler, never the program.
        panic!("no such row")
    }
}

impl fmt::Debug for Element {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.weight().symbol)
    }
}

impl fmt::Display for Element {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.weight().symbol)
    }
}
