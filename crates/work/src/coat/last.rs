//! What was poured last time on a sheet of the same size.

use handcoat_book::RecordKind;
use handcoat_craft::measure::{Readable, Size, significant};
use jiff::Timestamp;

use crate::print::{Poured, coats_newest, prints};
use crate::{Day, Refusal, Studio};

/// How many of the newest records are looked through.
const LOOKED_AT: u32 = 400;

/// A print or a coat of the same size.
#[derive(Clone, Debug, PartialEq)]
pub struct LastTime {
    /// Print, or coat that is none yet.
    pub kind: RecordKind,
    /// Its number.
    pub number: u32,
    /// What it is called.
    pub title: String,
    /// When it was made.
    pub at: Option<Timestamp>,
    /// Its paper, where it is known.
    pub paper: Option<String>,
    /// It is on the paper that was asked for; no paper asked is none.
    pub same_paper: bool,
    /// What was poured.
    pub pours: Vec<Poured>,
}

impl LastTime {
    /// Drops of a bottle, where they were counted; of two coats, both together.
    #[must_use]
    pub fn drops_of(&self, bottle: &str) -> Option<u32> {
        let own = self.pours.iter().filter(|pour| pour.name == bottle).map(|pour| pour.drops);
        own.reduce(|one, other| Some(one?.saturating_add(other?))).flatten()
    }
}

/// Which it was, when and on what, and what was poured: a line each.
#[must_use]
pub fn last_words(last: &LastTime) -> Vec<String> {
    let day = last.at.map_or_else(String::new, |at| format!(", {}", Day::of_instant(at)));
    let paper = match (&last.paper, last.same_paper) {
        (Some(paper), true) => format!(", also on {paper}"),
        (Some(paper), false) => format!(", on {paper}"),
        (None, _) => String::new(),
    };
    let mut lines = vec![format!("{} {}, {}{day}{paper}", last.kind.word(), last.number, last.title)];
    for pour in &last.pours {
        let ml = significant(pour.volume.to_millilitres(), 3);
        lines.push(match pour.drops {
            Some(1) => format!("1 drop of {}, {ml} mL", pour.name),
            Some(drops) => format!("{drops} drops of {}, {ml} mL", pour.name),
            None => format!("{ml} mL of {}", pour.name),
        });
    }
    lines
}

/// The newest print or coat of this size, on this paper if there is one.
pub(super) fn last_time(studio: &Studio, image: Size, paper: Option<&str>) -> Result<Option<LastTime>, Refusal> {
    let mut found: Vec<LastTime> = Vec::new();
    let same = |text: Option<&str>| text.and_then(|text| Size::read(text).ok()).is_some_and(|own| alike(own, image));
    let on = |own: Option<&str>| paper.zip(own).is_some_and(|(one, other)| one.to_lowercase() == other.to_lowercase());
    for own in prints(studio, "", LOOKED_AT, None)? {
        if same(own.of("image")) && !own.pours.is_empty() {
            let used = own.of("paper").map(String::from);
            let (kind, same_paper) = (RecordKind::Print, on(used.as_deref()));
            let (number, title, at, pours) = (own.number, own.title, own.at, own.pours);
            found.push(LastTime { kind, number, title, at, paper: used, same_paper, pours });
        }
    }
    for own in coats_newest(studio, LOOKED_AT)? {
        if same(own.image.as_deref()) {
            let same_paper = on(own.paper.as_deref());
            let (number, title, at, pours) = (own.number, own.title, own.at, own.pours);
            found.push(LastTime { kind: RecordKind::Coat, number, title, at, paper: own.paper, same_paper, pours });
        }
    }
    // Both lists are newest first, and so it stays among those of the same second.
    Ok(found.into_iter().rev().max_by_key(|own| (own.same_paper, own.at)))
}

/// Of one size to the nearest millimetre, on whichever side it stands: 8x10in and 20.3x25.4cm are.
fn alike(one: Size, other: Size) -> bool {
    let sides = |size: Size| {
        let mut sides = [size.width, size.height].map(|side| side.to_millimetres().round() as i64);
        sides.sort_unstable();
        sides
    };
    sides(one) == sides(other)
}
