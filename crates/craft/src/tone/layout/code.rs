//! What the code of squares of a chart says: `HANDCOAT 1/40/1234567/STUDIO/P`. Version, levels, seed, book, and whether the chart goes through a
//! curve (C) or not (P); capitals and digits alone, so that it is always of 25 squares a side.

use alloc::format;
use alloc::string::String;
use core::fmt;

use super::ChartSize;

/// The version of the layout that is made. A later one leaves this as it is, so that an old chart stays readable.
pub const LAYOUT_VERSION: u32 = 1;

const NAME: &str = "HANDCOAT";
/// Letters of a tag.
const TAG_MOST: usize = 8;

/// A few letters that say of which book a chart is.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct BookTag(String);

impl BookTag {
    /// Up to eight capitals and digits of a name; what is neither is left out.
    #[must_use]
    pub fn of(name: &str) -> Self {
        let letters = name.chars().filter(char::is_ascii_alphanumeric).map(|own| own.to_ascii_uppercase());
        Self(letters.take(TAG_MOST).collect())
    }

    /// The letters; none where no book was named.
    #[must_use]
    pub fn letters(&self) -> &str {
        &self.0
    }
}

/// What a chart says of itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChartCode {
    /// How many levels and copies.
    pub size: ChartSize,
    /// What its order follows from.
    pub seed: u32,
    /// Of which book it is.
    pub book: BookTag,
    /// Whether it goes through a curve, so that inputs are wanted tones.
    pub through_curve: bool,
}

impl fmt::Display for ChartCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let way = if self.through_curve { 'C' } else { 'P' };
        let (levels, tag) = (self.size.levels(), self.book.letters());
        write!(f, "{NAME} {LAYOUT_VERSION}/{levels}/{}/{tag}/{way}", self.seed)
    }
}

/// A code that is of no chart this program reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoCode {
    /// It says something else.
    Foreign,
    /// It is of a later version.
    Later(u32),
}

impl ChartCode {
    /// Reads what the squares say.
    ///
    /// # Errors
    /// [`NoCode`] when it is of another thing, or of a later program.
    pub fn read(text: &str) -> Result<Self, NoCode> {
        let rest = text.strip_prefix(NAME).and_then(|own| own.strip_prefix(' ')).ok_or(NoCode::Foreign)?;
        let mut parts = rest.split('/');
        let mut part = || parts.next().ok_or(NoCode::Foreign);
        let number = |own: &str| own.parse::<u32>().map_err(|_| NoCode::Foreign);
        let version = number(part()?)?;
        if version > LAYOUT_VERSION {
            return Err(NoCode::Later(version));
        }
        let size = ChartSize::of_levels(number(part()?)? as usize).ok_or(NoCode::Foreign)?;
        let (seed, book) = (number(part()?)?, BookTag::of(part()?));
        let own = Self { size, seed, book, through_curve: part()? == "C" };
        // What does not come out again as it went in is no code of ours.
        if format!("{own}") == text { Ok(own) } else { Err(NoCode::Foreign) }
    }
}
