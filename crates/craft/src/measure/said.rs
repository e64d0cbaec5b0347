//! Saying back what was typed: a text at a readable length, a noun with its article, a sentence with its capital.

use alloc::format;
use alloc::string::String;

/// Longer texts than this many characters are shown by their two ends.
const MOST_SHOWN: usize = 60;
/// Characters kept at the front and at the back of a longer one.
const ENDS: (usize, usize) = (36, 20);

/// What somebody typed, as a refusal repeats it: whole, or with its middle left out.
///
/// ```
/// use handcoat_craft::measure::shortened;
///
/// assert_eq!(shortened("60mL"), "60mL");
/// assert_eq!(shortened(&"0".repeat(1000)).chars().count(), 57);
/// ```
#[must_use]
pub fn shortened(text: &str) -> String {
    let count = text.chars().count();
    if count <= MOST_SHOWN {
        return text.into();
    }
    let (front, back) = ENDS;
    let kept = |(place, _): &(usize, char)| *place < front || *place >= count - back;
    let gap = |(place, c): (usize, char)| if place == front - 1 { [Some(c), Some('…')] } else { [Some(c), None] };
    text.chars().enumerate().filter(kept).flat_map(gap).flatten().collect()
}

/// A noun with its indefinite article: `a mass`, `an amount of substance`.
#[must_use]
pub fn with_article(noun: &str) -> String {
    let vowel = noun.starts_with(|c: char| matches!(c.to_ascii_lowercase(), 'a' | 'e' | 'i' | 'o' | 'u'));
    if vowel { format!("an {noun}") } else { format!("a {noun}") }
}

/// With a capital at its beginning.
#[must_use]
pub fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
