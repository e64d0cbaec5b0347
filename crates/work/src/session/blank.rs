//! A blank data sheet: what a notebook of prints records, as lines to write on.

use handcoat_sheets::{BlankField, BlankGroup, BlankSheet};

use super::answers::read_paper;
use super::sheet::not_set;
use crate::{Day, Refusal};

/// What the blank sheet says beyond its blanks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BlankFacts {
    /// Whose studio.
    pub studio: Option<String>,
    /// The day of the file.
    pub day: Day,
    /// Size of the paper, as it was written.
    pub paper: Option<String>,
}

/// A blank: what, unit or hint, sixths of the line.
type Blank = (&'static str, &'static str, u8);

/// The fields of a print's record, in the order of the work.
const GROUPS: [(&str, &[Blank]); 12] = [
    ("Print", &[("number", "", 2), ("date and time", "", 2), ("edition", "of", 2), ("title", "", 6)]),
    ("Negative", &[("number", "", 2), ("source", "", 2), ("density range", "", 2), ("file or curve", "", 6)]),
    (
        "Paper",
        &[
            ("paper", "", 3),
            ("lot", "", 2),
            ("side", "", 1),
            ("image size", "", 2),
            ("coated size", "", 2),
            ("treated with", "", 2),
        ],
    ),
    ("Room", &[("air", "°C", 1), ("air", "% RH", 1), ("sheet", "% RH", 1), ("how humidified", "", 3)]),
    (
        "Iron",
        &[("bottle", "", 2), ("strength", "%", 1), ("amount", "drops", 1), ("amount", "mL", 1), ("dropper", "", 1)],
    ),
    (
        "Metal",
        &[
            ("palladium bottle", "", 3),
            ("amount", "drops", 1),
            ("amount", "mL", 1),
            ("dropper", "", 1),
            ("platinum bottle", "", 3),
            ("amount", "drops", 1),
            ("amount", "mL", 1),
            ("dropper", "", 1),
        ],
    ),
    ("Contrast", &[("agent", "", 2), ("strength", "%", 1), ("amount", "drops", 1), ("whole mix", "mL", 2)]),
    (
        "Coat",
        &[("brush or rod", "", 2), ("coats", "", 1), ("rest", "min", 1), ("dried how", "", 1), ("dried", "min", 1)],
    ),
    (
        "Light",
        &[("lamp", "", 2), ("its hours", "h", 1), ("distance", "cm", 1), ("time or units", "", 1), ("frame", "", 1)],
    ),
    ("Developer", &[("which", "", 2), ("age", "", 1), ("warmth", "°C", 1), ("agent", "g/L", 1), ("time", "min", 1)]),
    (
        "Clearing",
        &[
            ("bath 1", "min", 1),
            ("bath 2", "min", 1),
            ("bath 3", "min", 1),
            ("wash", "min", 1),
            ("baths: age, area done", "", 2),
        ],
    ),
    (
        "Verdict",
        &[
            ("wet", "", 3),
            ("dry", "", 3),
            ("paper", "D", 1),
            ("black", "D", 1),
            ("light tone", "D", 1),
            ("middle", "D", 1),
            ("dark tone", "D", 1),
            ("cost", "", 1),
            ("faults", "", 6),
            ("where it is now", "", 6),
        ],
    ),
];

const FOOT: &str = "Judge again when it is dry: prints dry darker. A print's number is never used twice. A copy of this sheet may go with \
    the print.";

/// Sets a blank data sheet as a PDF.
///
/// # Errors
/// [`Refusal`] when the size of the paper is unknown, or with code `sheet_not_set` when it cannot be set.
pub fn blank_sheet(facts: &BlankFacts) -> Result<Vec<u8>, Refusal> {
    let field = |&(label, unit, sixths): &Blank| BlankField { label: label.into(), unit: unit.into(), sixths };
    let group = |(title, fields): &(&str, &[Blank])| BlankGroup {
        title: (*title).into(),
        fields: fields.iter().map(field).collect(),
    };
    let sheet = BlankSheet {
        title: "Data sheet of a print".into(),
        studio: facts.studio.clone(),
        day: facts.day.numbers(),
        paper: read_paper(facts.paper.as_ref())?,
        groups: GROUPS.iter().map(group).collect(),
        foot: FOOT.into(),
    };
    handcoat_sheets::blank_sheet(&sheet).map_err(|error| not_set(error.to_string()))
}
