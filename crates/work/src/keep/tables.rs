//! The fields of each kind. Words are those of the trade; every one of them may stay unknown.

use handcoat_book::RecordKind;

use crate::field::{Field, Form};

const fn field(key: &'static str, flag: &'static str, label: &'static str, form: Form, example: &'static str) -> Field {
    Field { key, flag, label, form, example, group: "" }
}

const NOTE: Field = field("note", "--note", "a note", Form::Note, "from the upper drawer");

static PAPER: [Field; 9] = [
    field("lot", "--lot", "the lot", Form::Words, "A7"),
    field("side", "--side", "which side is coated", Form::Words, "felt"),
    field("weight", "--weight", "how heavy it is", Form::Words, "300 g/m²"),
    field("sheet", "--sheet", "the size of a sheet", Form::Size, "28x38cm"),
    field("price", "--price", "what one sheet costs", Form::Money, "2.40EUR"),
    field("pretreatment", "--pretreatment", "what is done to it before coating", Form::Words, "1% citric acid, 5 min"),
    field("uptake", "--uptake", "how much it takes to the coated area", Form::Uptake, "0.38mL/100cm2"),
    field("low", "--low", "at how many sheets to buy more", Form::Whole, "10"),
    NOTE,
];

static TOOL: [Field; 7] = [
    field("sort", "--sort", "brush or rod", Form::Words, "brush"),
    field("width", "--width", "how wide it is", Form::Length, "5cm"),
    field("uptake", "--uptake", "how much it lays on the coated area", Form::Uptake, "0.38mL/100cm2"),
    field("share", "--share", "what part of the solution reaches the paper", Form::Share, "85%"),
    field("share_u", "--share-u", "the standard uncertainty of that, in percent", Form::Number, "0.4"),
    field("measured", "--measured", "the day that was measured", Form::Day, "2026-03-14"),
    NOTE,
];

static DROPPER: [Field; 5] = [
    field("solution", "--solution", "which bottle it is for", Form::Bottle, "palladium stock"),
    field(
        "drops_per_ml",
        "--drops-per-ml",
        "how many drops it gives to the millilitre",
        Form::DropsPerMl,
        "20drops/mL",
    ),
    field("drops_per_ml_u", "--drops-per-ml-u", "the standard uncertainty of that", Form::Number, "0.4"),
    field("measured", "--measured", "the day that was measured", Form::Day, "2026-03-14"),
    NOTE,
];

static LAMP: [Field; 6] = [
    field("sort", "--sort", "what sort of light", Form::Words, "UV tubes"),
    field("distance", "--distance", "how far from the frame", Form::Length, "12cm"),
    field("warm_up", "--warm-up", "how long it warms up", Form::Time, "5:00"),
    field("hours", "--hours", "hours it had burned when it was entered", Form::Number, "120"),
    field("units", "--units", "what its integrator counts", Form::Words, "units"),
    NOTE,
];

static BATH: [Field; 7] = [
    field("work", "--work", "what it does: developer, clearing or wash", Form::Words, "developer"),
    field("holds", "--holds", "what is in it", Form::Words, "potassium oxalate, 25 %"),
    field("place", "--place", "its place in the row of trays", Form::Whole, "1"),
    field("made", "--made", "the day it was made", Form::Day, "2026-03-14"),
    field("volume", "--volume", "how much of it there is", Form::Volume, "1L"),
    field("good_for", "--good-for", "how much area it is trusted with, in m²", Form::Number, "0.6"),
    NOTE,
];

static SUPPLY: [Field; 3] = [
    field("unit", "--unit", "what is counted", Form::Words, "pairs"),
    field("low", "--low", "at how many to buy more", Form::Whole, "10"),
    NOTE,
];

static NEGATIVE: [Field; 5] = [
    field("source", "--source", "where it comes from", Form::Words, "ink on film"),
    field("size", "--size", "the size of its image", Form::Size, "8x10in"),
    field("range", "--range", "its density range", Form::Density, "1.8"),
    field("curve", "--curve", "the curve it was made with", Form::Words, "spring curve"),
    NOTE,
];

static SETUP: [Field; 17] = [
    field("paper", "--paper", "which paper, by lot", Form::Record(RecordKind::Paper), "cotton rag 300"),
    field("metal", "--metal", "which metals are coated", Form::Words, "Pd"),
    field(
        "agent",
        "--agent",
        "what contrast is raised with: hexachloroplatinate, chlorate, peroxide or dichromate",
        Form::Words,
        "hexachloroplatinate",
    ),
    field("dose", "--dose", "how much of it, in the coat or in the developer", Form::ContrastDose, "0.5mg/mL"),
    field("tool", "--tool", "brush or rod", Form::Record(RecordKind::Tool), "wide brush"),
    field("lamp", "--lamp", "which lamp", Form::Record(RecordKind::Lamp), "tube bank"),
    field("distance", "--distance", "how far it is from the frame", Form::Length, "12cm"),
    field("developer", "--developer", "which developer", Form::Record(RecordKind::Bath), "oxalate developer"),
    field("film", "--film", "which film the negative is on", Form::Words, "clear film, 0.1 mm"),
    field("printer", "--printer", "which printer", Form::Words, "the wide one"),
    field("driver", "--driver", "how its driver is set", Form::Words, "film, finest"),
    field("ink", "--ink", "which ink", Form::Words, "black only"),
    field(
        "ink_colour",
        "--ink-colour",
        "the one colour negatives are printed in, where strips of inks found one",
        Form::Words,
        "#204060",
    ),
    field(
        "film_range",
        "--film-range",
        "the density range from clear film to full ink, to the light of the lamp",
        Form::Density,
        "2.4",
    ),
    field(
        "rule_measured",
        "--rule-measured",
        "what the rule in the border measures on a film made without correction",
        Form::Length,
        "99.5mm",
    ),
    field("humidity", "--humidity", "the humidity the sheet rests at", Form::Humidity, "55%"),
    NOTE,
];

/// The kinds that are kept by name.
#[must_use]
pub fn kinds() -> &'static [RecordKind] {
    &[
        RecordKind::Paper,
        RecordKind::Tool,
        RecordKind::Dropper,
        RecordKind::Lamp,
        RecordKind::Bath,
        RecordKind::Supply,
        RecordKind::Negative,
        RecordKind::Setup,
    ]
}

/// Its fields.
#[must_use]
pub fn fields_of(kind: RecordKind) -> &'static [Field] {
    match kind {
        RecordKind::Paper => &PAPER,
        RecordKind::Tool => &TOOL,
        RecordKind::Dropper => &DROPPER,
        RecordKind::Lamp => &LAMP,
        RecordKind::Bath => &BATH,
        RecordKind::Supply => &SUPPLY,
        RecordKind::Negative => &NEGATIVE,
        RecordKind::Setup => &SETUP,
        RecordKind::Test | RecordKind::Response | RecordKind::Coat | RecordKind::Print => &[],
    }
}

/// The kind in a sentence.
#[must_use]
pub fn what_is(kind: RecordKind) -> &'static str {
    match kind {
        RecordKind::Paper => "a paper",
        RecordKind::Tool => "a brush or rod",
        RecordKind::Dropper => "a dropper",
        RecordKind::Lamp => "a lamp",
        RecordKind::Bath => "a bath",
        RecordKind::Supply => "something that is counted",
        RecordKind::Negative => "a negative",
        RecordKind::Setup => "a set-up",
        RecordKind::Test => "an exposure test",
        RecordKind::Response => "a response",
        RecordKind::Coat => "a coat",
        RecordKind::Print => "a print",
    }
}
