//! Finding what somebody means.

use handcoat_book::{Acting, BookError, Item, Standing};
use handcoat_craft::ledger::{ItemCode, ItemKind, ItemNumber};
use handcoat_craft::measure::shortened;

use crate::{Question, Refusal, RefusalKind, Remedy, Studio};

/// Everything on the shelf, to look things up in.
#[derive(Clone, Debug, PartialEq)]
pub struct Shelf {
    items: Vec<Item>,
    /// What is not there any more and is in no `items`, by number and name.
    gone: Vec<(ItemNumber, String)>,
}

impl Shelf {
    /// Of everything that is or was on it.
    pub(crate) fn of(items: Vec<Item>) -> Self {
        Self { items, gone: Vec::new() }
    }

    /// As a page finds it: all that is there, and only the names of what is gone.
    pub(crate) fn here_now(studio: &Studio) -> Result<Self, BookError> {
        Ok(Self { items: studio.book.items_here()?, gone: studio.book.items_gone()? })
    }

    /// The same inside an act.
    pub(crate) fn now(acting: &Acting<'_>) -> Result<Self, BookError> {
        Ok(Self { items: acting.items_here()?, gone: acting.items_gone()? })
    }

    /// With something that has just been put there.
    pub(crate) fn add(&mut self, item: Item) {
        self.items.push(item);
    }

    pub(crate) fn here(&self) -> impl Iterator<Item = &Item> {
        self.items.iter().filter(|item| item.standing == Standing::Here)
    }

    /// An item, on the shelf or not any more.
    pub(crate) fn numbered(&self, number: u32) -> Option<&Item> {
        self.items.iter().find(|item| item.number.get() == number)
    }

    /// An item on the shelf by its spoken name or by the code on its label.
    pub(crate) fn find(&self, about: Question, written: &str) -> Result<&Item, Refusal> {
        let text = written.trim();
        if let Some(item) = self.here().find(|item| item.name.to_lowercase() == text.to_lowercase()) {
            return Ok(item);
        }
        let shown = shortened(text);
        let looks_like_a_code = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit() || byte == b' ');
        let cause = match text.parse::<ItemCode>() {
            Ok(code) => {
                let known = self.items.iter().find(|item| item.number == code.item());
                if let Some(item) = known.filter(|item| item.standing == Standing::Here) {
                    return Ok(item);
                }
                let gone = || self.gone.iter().find(|(number, _)| *number == code.item()).map(|(_, name)| name);
                match known.map(|item| &item.name).or_else(gone) {
                    Some(name) => format!("`{shown}` was {name}, which is not on the shelf any more"),
                    None => format!("no label with the code `{shown}` was printed"),
                }
            }
            Err(error) if looks_like_a_code => error.to_string(),
            Err(_) => format!("nothing on the shelf is called `{shown}`"),
        };
        Err(Refusal {
            code: "item_unknown",
            kind: RefusalKind::Missing,
            about: Some(about),
            cause,
            excerpt: None,
            remedies: self.alike(text).into_iter().map(|name| Remedy::Write(about, name)).collect(),
        })
    }

    /// A jar, a bottle or a vial, and nothing else.
    pub(crate) fn find_kind(&self, about: Question, kinds: &[ItemKind], written: &str) -> Result<&Item, Refusal> {
        let item = self.find(about, written)?;
        if kinds.contains(&item.kind) {
            return Ok(item);
        }
        let wanted: Vec<&str> = kinds.iter().map(|kind| kind.word()).collect();
        let cause = format!("{} is a {}; expected a {}", item.name, item.kind.word(), wanted.join(" or a "));
        let others = self.here().filter(|other| kinds.contains(&other.kind)).take(4);
        let remedies = others.map(|other| Remedy::Write(about, other.name.clone())).collect();
        Err(Refusal::rule("item_of_another_kind", about, cause, remedies))
    }

    /// Up to four names that could have been meant, the likeliest first.
    fn alike(&self, text: &str) -> Vec<String> {
        let text = text.to_lowercase();
        let mut names: Vec<(usize, &str)> =
            self.here().map(|item| (distance(&text, &item.name.to_lowercase()), item.name.as_str())).collect();
        names.sort_unstable();
        names.into_iter().take(4).map(|(_, name)| name.into()).collect()
    }

    /// A name for something new: as asked, or a usual one with a number where that is taken.
    pub(crate) fn name_for(&self, asked: Option<&str>, usual: &str) -> Result<String, Refusal> {
        let taken = |name: &str| self.here().any(|item| item.name.to_lowercase() == name.to_lowercase());
        let Some(asked) = asked.map(str::trim) else {
            // A usual name is no longer than one that may be asked for: it gives way to its number.
            let fitting = |number: &str| {
                let stem: String = usual.chars().take(MOST_NAME - number.len()).collect();
                format!("{}{number}", stem.trim_end())
            };
            let numbered = (2_u32..).map(|count| fitting(&format!(" {count}")));
            let mut names = std::iter::once(fitting("")).chain(numbered);
            // OK because the shelf is finite and the numbers are not.
            return Ok(names.find(|name| !taken(name)).expect("BUG: every name is taken"));
        };
        let about = Question::Name;
        if asked.is_empty() || asked.chars().count() > MOST_NAME || asked.chars().any(char::is_control) {
            let cause = format!("`{}` is no name; expected 1 to {MOST_NAME} characters in one line", shortened(asked));
            return Err(Refusal::unreadable("name_unreadable", about, cause, vec![Remedy::Write(about, usual.into())]));
        }
        if asked.bytes().all(|byte| byte.is_ascii_digit() || byte == b' ') {
            let cause = format!("`{asked}` would be taken for a code; a name has a letter in it");
            return Err(Refusal::rule("name_like_a_code", about, cause, vec![Remedy::Write(about, usual.into())]));
        }
        if taken(asked) {
            let cause = format!("something on the shelf is called `{asked}` already");
            let free = self.name_for(None, asked)?;
            return Err(Refusal::rule("name_taken", about, cause, vec![Remedy::Write(about, free)]));
        }
        Ok(asked.into())
    }
}

/// Longest spoken name; what a label can carry in large type.
const MOST_NAME: usize = 40;

/// Edits between two words (Levenshtein 1966), for guessing what was meant.
fn distance(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (above, letter) in one.chars().enumerate() {
        let mut diagonal = above;
        row[0] = above + 1;
        for (place, own) in other.iter().enumerate() {
            let keep = diagonal + usize::from(*own != letter);
            diagonal = row[place + 1];
            row[place + 1] = keep.min(row[place] + 1).min(diagonal + 1);
        }
    }
    row[other.len()]
}
