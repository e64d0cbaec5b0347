//! Commodities: what is held.

use alloc::string::String;
use core::fmt;
use core::str::FromStr;

use super::ItemNumber;
use crate::measure::Currency;
use crate::source::Element;

/// The metals that are kept account of.
const METALS: [Element; 3] = [Element::PD, Element::PT, Element::AU];

/// How the contents of an item are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ContentsIn {
    /// Powder, in micrograms.
    Micrograms,
    /// Solution, in nanolitres.
    Nanolitres,
}

/// What a line counts. Written `Pd`, `EUR`, `contents:3:ug`; the contents of two items are never the same thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Commodity {
    /// A metal, in micrograms of the element.
    Metal(Element),
    /// Money, in minor units.
    Money(Currency),
    /// What is in one item: balanced against what was bought, made and used.
    Contents(ItemNumber, ContentsIn),
}

impl Commodity {
    /// Metals first, then money, then contents, each in the order of its own text or number.
    fn rank(&self) -> (u8, &'static str, u32, u8) {
        match self {
            Self::Metal(element) => (0, element.weight().symbol, 0, 0),
            Self::Money(currency) => (1, currency.letters(), 0, 0),
            Self::Contents(item, unit) => (2, "", item.get(), *unit as u8),
        }
    }
}

impl PartialOrd for Commodity {
    fn partial_cmp(&self, other: &Self) -> Option<core::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Commodity {
    fn cmp(&self, other: &Self) -> core::cmp::Ordering {
        match (self, other) {
            // As their ranks stand, without the words: a long book has thousands of these.
            (Self::Contents(item, unit), Self::Contents(other_item, other_unit)) => {
                (item, unit).cmp(&(other_item, other_unit))
            }
            _ => self.rank().cmp(&other.rank()),
        }
    }
}

impl fmt::Display for Commodity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Metal(element) => f.write_str(element.weight().symbol),
            Self::Money(currency) => f.write_str(currency.letters()),
            Self::Contents(item, ContentsIn::Micrograms) => write!(f, "contents:{item}:ug"),
            Self::Contents(item, ContentsIn::Nanolitres) => write!(f, "contents:{item}:nl"),
        }
    }
}

/// Words that name no commodity.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{written}` is no commodity; expected one such as `Pd`, `EUR` or `contents:3:ug`")]
pub struct CommodityUnknown {
    /// What was written.
    pub written: String,
}

impl FromStr for Commodity {
    type Err = CommodityUnknown;

    fn from_str(text: &str) -> Result<Self, CommodityUnknown> {
        let unknown = || CommodityUnknown { written: text.into() };
        if let Some(rest) = text.strip_prefix("contents:") {
            let (number, unit) = rest.split_once(':').ok_or_else(unknown)?;
            let plain = number.bytes().all(|byte| byte.is_ascii_digit()) && !number.starts_with('0');
            let number = plain.then(|| number.parse().ok()).flatten().and_then(ItemNumber::new).ok_or_else(unknown)?;
            return match unit {
                "ug" => Ok(Self::Contents(number, ContentsIn::Micrograms)),
                "nl" => Ok(Self::Contents(number, ContentsIn::Nanolitres)),
                _ => Err(unknown()),
            };
        }
        // Metals have two letters and currencies three, so neither can be taken for the other.
        if let Some(metal) = METALS.into_iter().find(|metal| metal.weight().symbol == text) {
            return Ok(Self::Metal(metal));
        }
        Currency::code(text).map(Self::Money).map_err(|_| unknown())
    }
}
