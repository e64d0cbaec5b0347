//! Chemical formulas: what is in a solid, counted.

mod error;
mod parse;

use alloc::string::String;
use alloc::vec::Vec;
use core::fmt;

pub use error::FormulaError;

use crate::measure::{Bounded, MolarMass, shortened};
use crate::source::{ELECTRON_MOLAR_MASS, Element};

/// A parsed formula: nested groups, water of crystallisation, charge.
///
/// ```
/// use handcoat_craft::stock::Formula;
///
/// let salt: Formula = "Na2PtCl6.6H2O".parse()?;
/// assert_eq!(salt.to_string(), "Na2PtCl6·6H2O");
/// assert_eq!(salt.waters(), 6.0);
/// assert_eq!(salt.dry().to_string(), "Na2PtCl6");
/// # Ok::<(), handcoat_craft::stock::FormulaError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Formula {
    dry: String,
    text: String,
    counts: Vec<(Element, f64)>,
    waters: f64,
    charge: i32,
}

impl Formula {
    /// How many atoms of an element one formula unit holds.
    #[must_use]
    pub fn count(&self, element: Element) -> f64 {
        self.counts.iter().find(|(own, _)| *own == element).map_or(0.0, |(_, count)| *count)
    }

    /// Every element with its count, in the order of the table of weights.
    #[must_use]
    pub fn counts(&self) -> &[(Element, f64)] {
        &self.counts
    }

    /// Waters written as a part of their own (`·6H2O`), per formula unit.
    #[must_use]
    pub fn waters(&self) -> f64 {
        self.waters
    }

    /// Charge in elementary charges.
    #[must_use]
    pub fn charge(&self) -> i32 {
        self.charge
    }

    /// The formula with its water of crystallisation left off.
    #[must_use]
    pub fn dry(&self) -> Self {
        self.rewatered(0.0)
    }

    /// The formula with `waters` of water of crystallisation instead of what it has.
    ///
    /// # Errors
    /// [`FormulaError::TooHeavy`] when that weighs more than any compound planned with.
    pub fn with_waters(&self, waters: f64) -> Result<Self, FormulaError> {
        self.rewatered(waters).weighed()
    }

    /// The same formula, refused when its molar mass is beyond the bounds of one.
    fn weighed(self) -> Result<Self, FormulaError> {
        let electrons = -f64::from(self.charge) * ELECTRON_MOLAR_MASS.value;
        let grams = self.counts.iter().fold(electrons, |sum, (own, count)| sum + own.weight().grams_per_mole * count);
        if grams < MolarMass::MOST {
            Ok(self)
        } else {
            Err(FormulaError::TooHeavy { text: shortened(&self.text), grams: MolarMass::MOST })
        }
    }

    fn rewatered(&self, waters: f64) -> Self {
        // Fewer than none, or no number, is none.
        let waters = if waters > 0.0 { waters } else { 0.0 };
        let change = waters - self.waters;
        let mut counts = self.counts.clone();
        for (element, each) in [(Element::H, 2.0), (Element::O, 1.0)] {
            match counts.iter_mut().find(|(own, _)| *own == element) {
                Some((_, count)) => *count += each * change,
                None => counts.push((element, each * change)),
            }
        }
        counts.retain(|(_, count)| *count > 1e-9);
        counts.sort_by_key(|(element, _)| *element);
        let text = written(&self.dry, waters, self.charge);
        Self { dry: self.dry.clone(), text, counts, waters, charge: self.charge }
    }

    /// How many waters this formula holds over `other`, when it is `other` and nothing but water besides; none when
    /// it is another solid. Water counts wherever it is written, as `·2H2O` or in a bracket.
    #[must_use]
    pub fn waters_over(&self, other: &Self) -> Option<f64> {
        let over = |element| self.count(element) - other.count(element);
        let waters = over(Element::O);
        let own = self.counts.iter().chain(&other.counts).map(|(element, _)| *element);
        let same = own.into_iter().all(|element| {
            let expected = match element {
                Element::O => waters,
                Element::H => 2.0 * waters,
                _ => 0.0,
            };
            libm::fabs(over(element) - expected) < 1e-9
        });
        let none = libm::fabs(waters) < 1e-9;
        (same && self.charge == other.charge && (none || waters > 0.0)).then_some(if none { 0.0 } else { waters })
    }

    /// The formula as print has it, with subscript digits: `Na₂PtCl₆·6H₂O`.
    #[must_use]
    pub fn subscripted(&self) -> String {
        let mut out = String::new();
        let mut lowered = false;
        for c in self.text.chars() {
            match c {
                '^' => {
                    // A charge is written as it was read.
                    let rest = self.text.split_once('^').map_or("", |(_, charge)| charge);
                    out.push_str(rest);
                    return out;
                }
                '0'..='9' if lowered => {
                    // OK because ten subscript digits follow U+2080 in order.
                    out.push(char::from_u32(0x2080 + (c as u32 - '0' as u32)).expect("BUG: no subscript digit"));
                }
                _ => {
                    lowered = c.is_ascii_alphabetic() || matches!(c, ')' | ']' | '}');
                    out.push(c);
                }
            }
        }
        out
    }
}

/// The text of a formula: dry part, water, charge.
fn written(dry: &str, waters: f64, charge: i32) -> String {
    let mut text = String::from(dry);
    if waters > 0.0 {
        text.push('·');
        if waters != 1.0 {
            text.push_str(&multiple(waters));
        }
        text.push_str("H2O");
    }
    if charge != 0 {
        text.push('^');
        if charge.unsigned_abs() != 1 {
            text.push_str(&alloc::format!("{}", charge.unsigned_abs()));
        }
        text.push(if charge > 0 { '+' } else { '-' });
    }
    text
}

/// A multiple as it is read again: a decimal where that is short, a fraction where it is not (`1/3`).
fn multiple(times: f64) -> String {
    let whole = |parts: f64| libm::fabs(times * parts - libm::round(times * parts)) < 1e-9;
    let short_decimal = [1.0, 2.0, 4.0, 5.0, 8.0, 10.0].into_iter().any(whole);
    match (2..=12).map(f64::from).find(|&parts| whole(parts)) {
        Some(parts) if !short_decimal => alloc::format!("{}/{parts}", libm::round(times * parts)),
        _ => alloc::format!("{times}"),
    }
}

impl fmt::Display for Formula {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

impl core::str::FromStr for Formula {
    type Err = FormulaError;

    fn from_str(text: &str) -> Result<Self, FormulaError> {
        parse::parse(text)
    }
}
