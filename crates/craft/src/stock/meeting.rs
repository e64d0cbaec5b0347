//! Which substances must not meet: recognised from their formulas against the table of pairs.

use alloc::string::String;
use alloc::vec::Vec;
use core::fmt;

use super::Formula;
use crate::source::{Class, Element, INCOMPATIBLE, Incompatible};

/// Two formulas that make an incompatible pair.
#[derive(Clone, Debug, PartialEq)]
pub struct Meeting {
    /// The first formula.
    pub one: String,
    /// The second.
    pub other: String,
    /// The row of the table they fall under.
    pub row: &'static Incompatible,
}

/// The classes a formula belongs to. Recognition is by composition and errs on the side of saying something.
#[must_use]
pub fn classes(formula: &Formula) -> Vec<Class> {
    const ACIDS: [&str; 7] = ["HCl", "HNO3", "H2SO4", "H3PO4", "H2C2O4", "C6H8O7", "C2H4O2"];
    let dry = formula.dry();
    let count = |symbol: &str| Element::symbol(symbol).map_or(0.0, |element| dry.count(element));
    let (c, h, n, o) = (count("C"), count("H"), count("N"), count("O"));
    let (s, cl, fe, cr) = (count("S"), count("Cl"), count("Fe"), count("Cr"));
    let is = |text: &str| text.parse::<Formula>().is_ok_and(|other| other.counts() == dry.counts());
    // Ammonium salts of it carry more nitrogen: carbon and oxygen tell.
    let edta = c == 10.0 && o == 8.0 && n >= 2.0;
    let cyanide = fe > 0.0 && c == 6.0 && n == 6.0;
    let ammonia = is("NH3") || is("NH4OH");
    let rules = [
        (s > 0.0 && c == 0.0 && (o == 3.0 * s || o == 2.5 * s), Class::Sulfite),
        // Two sulfurs and no more: a tetrathionate has the same three oxygens to each two.
        (s == 2.0 && c == 0.0 && o == 3.0, Class::Thiosulfate),
        (ACIDS.iter().any(|acid| is(acid)), Class::Acid),
        (cl > 0.0 && o == cl && (h == 0.0 || is("HClO")), Class::Hypochlorite),
        (cl > 0.0 && o == 3.0 * cl, Class::Chlorate),
        (n > 0.0 && h >= 4.0 && !edta && !cyanide && !ammonia, Class::Ammonium),
        (ammonia, Class::Ammonia),
        (edta, Class::Edta),
        (cyanide, Class::Ferricyanide),
        (c > 0.0 && c % 2.0 == 0.0 && o == 2.0 * c, Class::Oxalate),
        (count("Au") > 0.0, Class::Gold),
        (is("H2O2"), Class::Peroxide),
        (fe > 0.0 && !cyanide, Class::Iron),
        (count("K") > 0.0, Class::Potassium),
        (count("Cs") > 0.0, Class::Caesium),
        (count("Pt") > 0.0 && cl == 6.0 * count("Pt"), Class::HexachloroPlatinate),
        (cr > 0.0 && [3.0, 3.5, 4.0].contains(&(o / cr)) && s == 0.0 && c == 0.0, Class::Chromate),
        // Carbonates and oxalates hold no hydrogen of their own, or have a class.
        (c > 0.0 && h > 0.0 && o != 2.0 * c && o != 3.0 * c, Class::Organic),
    ];
    rules.into_iter().filter_map(|(belongs, class)| belongs.then_some(class)).collect()
}

/// Pairs that come to the same, each named.
#[derive(Clone, Debug, PartialEq)]
pub struct Meetings {
    /// What they come to: all rows of these pairs say the same and do the same harm.
    pub row: &'static Incompatible,
    /// The pairs, each once whichever way round.
    pub pairs: Vec<(String, String)>,
}

impl fmt::Display for Meetings {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let many = self.pairs.len() > 1;
        for (place, (one, other)) in self.pairs.iter().enumerate() {
            let joint = match place {
                0 => "",
                last if last + 1 == self.pairs.len() => ", and ",
                _ => ", ",
            };
            write!(f, "{joint}{one} with {other}")?;
        }
        write!(f, "{} {}; keep them apart", if many { "," } else { "" }, self.row.what)
    }
}

/// Groups meetings by what they come to. Each pair stays named: a second pair under one row is a second danger.
#[must_use]
pub fn grouped(found: Vec<Meeting>) -> Vec<Meetings> {
    let mut groups: Vec<Meetings> = Vec::new();
    for Meeting { one, other, row } in found {
        match groups.iter_mut().find(|group| group.row.what == row.what && group.row.harm == row.harm) {
            None => groups.push(Meetings { row, pairs: Vec::from([(one, other)]) }),
            Some(group) => {
                let told = |(a, b): &(String, String)| (a == &one && b == &other) || (a == &other && b == &one);
                if !group.pairs.iter().any(told) {
                    group.pairs.push((one, other));
                }
            }
        }
    }
    groups
}

/// Every row of the table that two formulas fall under.
#[must_use]
pub fn meetings(one: &Formula, other: &Formula) -> Vec<Meeting> {
    let (first, second) = (classes(one), classes(other));
    INCOMPATIBLE
        .iter()
        .filter(|row| {
            (first.contains(&row.one) && second.contains(&row.other))
                || (first.contains(&row.other) && second.contains(&row.one))
        })
        .map(|row| Meeting { one: alloc::format!("{one}"), other: alloc::format!("{other}"), row })
        .collect()
}
