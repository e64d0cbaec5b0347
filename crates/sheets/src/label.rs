//! Labels for bottles and jars.
//!
//! A label is read from a metre away by its name and strength. What does not fit is left out in the order of
//! [`LEFT_OUT`]; then what still finds room is put back, the most needed first. Name, strength, code and the line of
//! hazards are never left out. A name that is long is set smaller. When even that does not fit, the label is refused
//! and nothing is cut.

use handcoat_craft::source::{Pictogram, SignalWord};
use handcoat_figures::{Theme, pictogram, qr, qr_modules};
use serde::Serialize;

use crate::SheetError;
use crate::label_stock::{LabelStock, Room};
use crate::length::Offset;
use crate::press::{Supply, set_pages};

/// Parts of a label, the least needed first. `statement_texts` are the phrases behind the codes of hazard, which stay.
pub const LEFT_OUT: [&str; 10] =
    ["empty_weight", "content", "form", "batch", "made", "ready_after", "statement_texts", "qr", "cas", "formula"];

/// What a supplier's sheet says, in its own signs. Which pictograms are shown is decided before
/// (`handcoat_craft::source::pictograms_shown`).
#[derive(Clone, Debug, PartialEq)]
pub struct SheetHazards {
    /// Whose sheet.
    pub supplier: String,
    /// Its date.
    pub date: String,
    /// Its signal word, if it has one.
    pub signal_word: Option<SignalWord>,
    /// Codes and phrases.
    pub statements: Vec<(String, String)>,
    /// Pictograms.
    pub pictograms: Vec<Pictogram>,
}

/// What a label says of hazards. Unknown never looks harmless.
#[derive(Clone, Debug, PartialEq)]
pub enum Hazards {
    /// As the supplier's sheet has it for what is in the bottle.
    FromSheet(SheetHazards),
    /// As the supplier's sheet has it for the dry or pure substance, which is not what is in the bottle.
    PureSubstance(SheetHazards),
    /// Nobody entered them.
    NotEntered,
}

/// The words of a label.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// What it is, large.
    pub name: String,
    /// What it consists of.
    pub content: Option<String>,
    /// Formula.
    pub formula: Option<String>,
    /// CAS number.
    pub cas: Option<String>,
    /// Form: `solution`, `powder`.
    pub form: Option<String>,
    /// Strength with its unit, large; a powder has none.
    pub strength: Option<String>,
    /// Batch.
    pub batch: Option<String>,
    /// When it was made.
    pub made: Option<String>,
    /// When it may be used first.
    pub ready_after: Option<String>,
    /// What the empty bottle weighs.
    pub empty_weight: Option<String>,
    /// The code a person types.
    pub code: String,
    /// The text of the QR code, if there is to be one.
    pub qr: Option<String>,
    /// Hazards.
    pub hazards: Hazards,
}

/// A printer sets a module of a QR code no finer than this and a telephone still reads it: five dots at 300 dpi.
const MODULE_MM: f64 = 0.42;

#[derive(Serialize)]
struct Fact {
    key: &'static str,
    word: &'static str,
    value: String,
}

#[derive(Serialize)]
struct Signs {
    heading: String,
    statements: Vec<(String, String)>,
    source: String,
    pictograms: Vec<(String, String)>,
    entered: bool,
}

#[derive(Serialize)]
struct Qr {
    svg: String,
    least_mm: f64,
}

#[derive(Serialize)]
struct Placed {
    page: usize,
    room: Room,
    name: String,
    strength: Option<String>,
    facts: Vec<Fact>,
    code: String,
    qr: Option<Qr>,
    signs: Signs,
}

#[derive(Serialize)]
struct Data {
    day: (i32, u8, u8),
    page: (f64, f64),
    pages: usize,
    left_out: [&'static str; 10],
    offset: (f64, f64),
    labels: Vec<Placed>,
}

/// Sets labels on sheets of `stock` as PDF/A-2b, the first at position `start`, counted row by row from 1; what does
/// not go on the first page goes on the next. The day is that of the file.
///
/// # Errors
/// [`SheetError::Start`] for a position the page does not have, [`SheetError::NoLabels`], [`SheetError::Stock`],
/// [`SheetError::Blank`] for a label without name or code, [`SheetError::LabelFull`] for one whose words do not fit,
/// [`SheetError::Qr`].
pub fn labels(
    labels: &[Label],
    stock: &LabelStock,
    start: usize,
    offset: Offset,
    day: (i32, u8, u8),
) -> Result<Vec<u8>, SheetError> {
    stock.check()?;
    let positions = stock.positions();
    if start == 0 || start > positions {
        return Err(SheetError::Start { start, positions });
    }
    if labels.is_empty() {
        return Err(SheetError::NoLabels);
    }
    offset.check()?;
    let placed: Vec<Placed> = labels
        .iter()
        .zip(start - 1..)
        .map(|(label, place)| placed(label, place / positions, stock.printable(place % positions + 1)))
        .collect::<Result<_, _>>()?;
    let pages = (start - 1 + labels.len()).div_ceil(positions);
    let data = Data {
        day,
        page: (stock.page_width.to_mm(), stock.page_height.to_mm()),
        pages,
        left_out: LEFT_OUT,
        offset: (offset.right.to_mm(), offset.down.to_mm()),
        labels: placed,
    };
    let supplies = vec![Supply { path: "/data.json", bytes: serde_json::to_vec(&data)? }];
    set_pages(include_str!("../templates/labels.typ"), supplies, day, pages).map_err(|error| full(error, labels))
}

/// The template says which label is too full; here it gets its name.
fn full(error: SheetError, labels: &[Label]) -> SheetError {
    let SheetError::Setting(message) = &error else { return error };
    let place = message.split("label-full:").nth(1).and_then(|rest| {
        rest.split(|c: char| !c.is_ascii_digit()).next().and_then(|digits| digits.parse::<usize>().ok())
    });
    match place.and_then(|place| labels.get(place)) {
        Some(label) => SheetError::LabelFull { name: tidy(&label.name) },
        None => error,
    }
}

/// One line of words: breaks, tabs and runs of spaces become one space.
fn tidy(words: &str) -> String {
    let plain: String = words.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn given(words: Option<&String>) -> Option<String> {
    words.map(|words| tidy(words)).filter(|words| !words.is_empty())
}

fn placed(label: &Label, page: usize, room: Room) -> Result<Placed, SheetError> {
    let (name, code) = (tidy(&label.name), tidy(&label.code));
    for (what, words) in [("name", &name), ("code", &code)] {
        if words.is_empty() {
            return Err(SheetError::Blank { what });
        }
    }
    let fact = |key, word, words: &Option<String>| given(words.as_ref()).map(|value| Fact { key, word, value });
    let facts = [
        fact("content", "", &label.content),
        fact("formula", "", &label.formula),
        fact("cas", "CAS", &label.cas),
        fact("form", "", &label.form),
        fact("batch", "batch", &label.batch),
        fact("made", "made", &label.made),
        fact("ready_after", "ready after", &label.ready_after),
        fact("empty_weight", "empty", &label.empty_weight),
    ];
    let code_drawing = |text: &String| -> Result<Qr, SheetError> {
        Ok(Qr { svg: qr(text)?, least_mm: qr_modules(text)? as f64 * MODULE_MM })
    };
    Ok(Placed {
        page,
        room,
        name,
        strength: given(label.strength.as_ref()),
        facts: facts.into_iter().flatten().collect(),
        code,
        qr: label.qr.as_ref().map(code_drawing).transpose()?,
        signs: signs(&label.hazards),
    })
}

fn signs(hazards: &Hazards) -> Signs {
    let not_entered = Signs {
        heading: "hazards not entered: read the supplier's sheet".into(),
        statements: Vec::new(),
        source: String::new(),
        pictograms: Vec::new(),
        entered: false,
    };
    let (sheet, pure) = match hazards {
        Hazards::FromSheet(sheet) => (sheet, false),
        Hazards::PureSubstance(sheet) => (sheet, true),
        Hazards::NotEntered => return not_entered,
    };
    let (supplier, date) = (tidy(&sheet.supplier), tidy(&sheet.date));
    let says_nothing = sheet.statements.is_empty() && sheet.pictograms.is_empty() && sheet.signal_word.is_none();
    // "Nothing to say" is a statement somebody must have made: without a sheet it is the same as not entered.
    if says_nothing && supplier.is_empty() {
        return not_entered;
    }
    let word = sheet.signal_word.map(|word| word.to_string());
    let mut heading: Vec<String> = word.into_iter().collect();
    if says_nothing {
        heading.push("no hazard statement on the supplier's sheet".into());
    }
    // Signs without words are half of a sheet.
    if !says_nothing && sheet.statements.is_empty() {
        heading.push("statements not entered: read the supplier's sheet".into());
    }
    if pure {
        heading.push("as pure substance".into());
    }
    let whose = if supplier.is_empty() { "supplier not stated".to_owned() } else { format!("sheet of {supplier}") };
    let when = if date.is_empty() { "date not stated".to_owned() } else { date };
    Signs {
        heading: heading.join(" · "),
        statements: sheet.statements.iter().map(|(code, text)| (tidy(code), tidy(text))).collect(),
        source: format!("{whose}, {when}"),
        pictograms: sheet
            .pictograms
            .iter()
            .map(|sign| (format!("{} {}", sign.code(), sign.name()), pictogram(*sign, Theme::Paper)))
            .collect(),
        entered: true,
    }
}
