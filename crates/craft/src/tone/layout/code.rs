//! What the code of squares of a chart says: `HANDCOAT 1/40/1234567/STUDIO/P204060`. Version, levels, seed, book, whether the chart goes through a
//! curve (C) or not (P), and the one ink it is printed in where it is in one; capitals and digits alone, so that it is always of 25 squares a side.

use alloc::format;
use alloc::string::String;
use core::fmt;

use super::ChartSize;

/// The version of the layout that is made. A later one leaves this as it is, so that an old chart stays readable.
pub const LAYOUT_VERSION: u32 = 1;

const NAME: &str = "HANDCOAT";
/// Letters of a tag.
const TAG_MOST: usize = 8;
/// Capitals and digits that 25 squares a side have room for at level M (ISO/IEC 18004:2015, table 7, version 2).
const MOST: usize = 38;

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

/// One ink as red, green and blue of 16 bits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ChartInk(pub [u16; 3]);

impl ChartInk {
    /// The 8 bits of each, where 16 say no more.
    fn eight(self) -> Option<[u16; 3]> {
        self.0.iter().all(|own| own % 257 == 0).then(|| self.0.map(|own| own / 257))
    }

    /// From six or twelve hexadecimal digits.
    fn read(digits: &str) -> Option<Self> {
        let (each, full) = match digits.len() {
            6 => (2, 257),
            12 => (4, 1),
            _ => return None,
        };
        let part = |place: usize| {
            let own = digits.get(place * each..(place + 1) * each)?;
            u16::from_str_radix(own, 16).ok().map(|own| own * full)
        };
        Some(Self([part(0)?, part(1)?, part(2)?]))
    }
}

/// As an answer writes it: `#204060`, or `8224,16448,24673` where 8 bits are too few.
impl fmt::Display for ChartInk {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.eight(), self.0) {
            (Some([red, green, blue]), _) => write!(f, "#{red:02x}{green:02x}{blue:02x}"),
            (None, [red, green, blue]) => write!(f, "{red},{green},{blue}"),
        }
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
    /// The one ink it is printed in; none where it is printed in grey.
    pub ink: Option<ChartInk>,
}

impl fmt::Display for ChartCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let way = if self.through_curve { 'C' } else { 'P' };
        let (levels, tag) = (self.size.levels(), self.book.letters());
        write!(f, "{NAME} {LAYOUT_VERSION}/{levels}/{}/{tag}/{way}", self.seed)?;
        match self.ink.map(|own| (own.eight(), own.0)) {
            None => Ok(()),
            Some((Some([red, green, blue]), _)) => write!(f, "{red:02X}{green:02X}{blue:02X}"),
            Some((None, [red, green, blue])) => write!(f, "{red:04X}{green:04X}{blue:04X}"),
        }
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
    /// The same with as many letters of its book as there is room for. None where there is none even without them.
    #[must_use]
    pub fn fitted(self) -> Option<Self> {
        let bare = format!("{}", Self { book: BookTag::default(), ..self.clone() }).len();
        let room = MOST.checked_sub(bare)?;
        let book = BookTag(self.book.0.chars().take(room).collect());
        Some(Self { book, ..self })
    }

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
        let way = part()?;
        let ink = match way.get(1..).unwrap_or_default() {
            "" => None,
            digits => Some(ChartInk::read(digits).ok_or(NoCode::Foreign)?),
        };
        let own = Self { size, seed, book, through_curve: way.starts_with('C'), ink };
        // What does not come out again as it went in is no code of ours.
        if format!("{own}") == text { Ok(own) } else { Err(NoCode::Foreign) }
    }
}
