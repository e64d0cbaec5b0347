//! Which change explains which sign, the commonest first, and what an exposure time stands on.
//!
//! The order within a sign is that of the fault lists of the trade; where those name no order it is common practice. It is a
//! place to begin looking, not a verdict: one thing changed at a time settles it.

use super::{Citation, Condition, Fact, Sign};

/// A change that can bring out a sign.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cause {
    /// What changed.
    pub of: Condition,
    /// Which way, for what is measured: more of it, or less of it. None where either may, or it is a word.
    pub way: Option<Way>,
    /// How it brings the sign out.
    pub why: &'static str,
    /// Where that is said.
    pub cite: Citation,
}

/// A direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// More of it.
    More,
    /// Less of it.
    Less,
}

impl Way {
    /// The other one.
    #[must_use]
    pub fn turned(self) -> Self {
        match self {
            Self::More => Self::Less,
            Self::Less => Self::More,
        }
    }
}

const fn usual(of: Condition, why: &'static str) -> Cause {
    Cause { of, way: None, why, cite: Citation::practice("fault lists of the trade") }
}

const fn more(of: Condition, why: &'static str) -> Cause {
    Cause { of, way: Some(Way::More), why, cite: Citation::practice("fault lists of the trade") }
}

const fn less(of: Condition, why: &'static str) -> Cause {
    Cause { of, way: Some(Way::Less), why, cite: Citation::practice("fault lists of the trade") }
}

const fn seen(of: Condition, way: Option<Way>, why: &'static str, key: &'static str, place: &'static str) -> Cause {
    Cause { of, way, why, cite: Citation::seen(key, place) }
}

/// Signs that are another's opposite share its causes, the other way round.
#[must_use]
pub fn opposite(sign: Sign) -> bool {
    matches!(sign, Sign::Lighter | Sign::Flatter | Sign::Cooler)
}

/// What brings a sign out, the likeliest first. Where [`opposite`] says so, the ways are those of the other sign and are turned.
#[must_use]
pub fn causes(sign: Sign) -> &'static [Cause] {
    match sign {
        Sign::Darker | Sign::Lighter => TONE,
        Sign::Flatter | Sign::Harsher => CONTRAST,
        Sign::Veil => VEIL,
        Sign::YellowWhites => YELLOW,
        Sign::BlackSpecks => BLACK_SPECKS,
        Sign::WhiteSpecks => WHITE_SPECKS,
        Sign::Mottled => MOTTLED,
        Sign::Grainy => GRAINY,
        Sign::WeakBlacks => WEAK_BLACKS,
        Sign::Bronzed => BRONZED,
        Sign::Floating => FLOATING,
        Sign::Bleeding => BLEEDING,
        Sign::BrushMarks => BRUSH_MARKS,
        Sign::DeveloperLines => DEVELOPER_LINES,
        Sign::SoftPatches => SOFT_PATCHES,
        Sign::Warmer | Sign::Cooler => COLOUR,
    }
}

const TONE: &[Cause] = &[
    more(Condition::ExposureTime, "exposure moves every tone"),
    usual(Condition::Lamp, "another lamp has another output and band"),
    less(Condition::LampDistance, "light falls off with distance"),
    more(Condition::SheetHumidity, "a dry sheet prints slower and weaker"),
    more(Condition::RoomHumidity, "a dry room dries the sheet"),
    less(Condition::LampHours, "lamps fade with hours"),
    usual(Condition::Negative, "another negative"),
    more(Condition::CoatPerArea, "more sensitizer gives deeper tones"),
    usual(Condition::MetalRatio, "platinum and palladium differ in speed"),
    less(Condition::AgentDose, "a contrast agent costs speed"),
    usual(Condition::Agent, "agents cost speed differently"),
    more(Condition::DeveloperTemperature, "a warmer bath is faster"),
    usual(Condition::Paper, "papers take the coat differently"),
    seen(Condition::PaperLot, None, "lots of one paper differ", "mathias2000", "substrates"),
    usual(Condition::IronBottle, "batches of iron differ"),
    usual(Condition::IronAge, "iron loses speed with age"),
];

const CONTRAST: &[Cause] = &[
    more(Condition::NegativeRange, "the range of the negative against the scale of the print"),
    usual(Condition::Negative, "another negative"),
    more(Condition::AgentDose, "the agent sets the scale"),
    usual(Condition::Agent, "agents change the scale differently"),
    more(Condition::MetalRatio, "platinum prints with a shorter scale than palladium"),
    usual(Condition::Metal, "metals differ in scale"),
    more(Condition::DeveloperAgent, "an agent in the developer shortens the scale"),
    less(Condition::DeveloperTemperature, "a warmer bath prints softer"),
    seen(
        Condition::IronAge,
        Some(Way::More),
        "old iron fogs the whites",
        "rudiak1994",
        "on the ageing of ferric oxalate",
    ),
    usual(Condition::IronBottle, "batches of iron differ"),
    seen(Condition::SheetHumidity, None, "contrast follows the humidity of the sheet", "ware1986", "abstract"),
    usual(Condition::RoomHumidity, "a dry room dries the sheet"),
    usual(Condition::Lamp, "lamps differ in band"),
];

const VEIL: &[Cause] = &[
    seen(Condition::IronAge, Some(Way::More), "old iron holds ferrous salt; test it", "mathias2000", "FO test"),
    usual(Condition::IronBottle, "another batch of iron"),
    more(Condition::DryingTemperature, "heat reduces iron in the dark"),
    more(Condition::DryingTime, "the longer in the room light and the warmth, the more veil"),
    more(Condition::ExposureTime, "far too much light through the densest part"),
    less(Condition::AgentDose, "a trace of oxidiser holds the whites"),
];

const YELLOW: &[Cause] = &[
    more(Condition::BathArea, "tired baths clear slower"),
    less(Condition::ClearingTime, "iron is left when clearing is cut short"),
    usual(Condition::Clearing, "an acid bath comes first; an alkaline one first can fix the stain"),
    usual(Condition::Paper, "a buffered paper fights the acid"),
    seen(Condition::PaperLot, None, "lots of one paper differ", "mathias2000", "substrates"),
    usual(Condition::Pretreatment, "an acid bath before coating takes the buffer away"),
    more(Condition::DeveloperAge, "an alkaline developer fixes iron in the paper"),
    less(Condition::Washing, "iron is left when washing is cut short"),
];

const BLACK_SPECKS: &[Cause] = &[
    usual(Condition::PaperLot, "metal particles in the paper"),
    usual(Condition::Paper, "metal particles in the paper"),
    usual(Condition::IronBottle, "particles in a batch of iron; filter it"),
    more(Condition::IronAge, "iron that stood drops particles; filter it"),
    usual(Condition::Tool, "a brush with a metal ferrule"),
    usual(Condition::MetalBottle, "undissolved salt; warm and shake it"),
    usual(Condition::Pretreatment, "an acid bath dissolves metal flecks"),
];

const WHITE_SPECKS: &[Cause] = &[
    usual(Condition::Negative, "dust or damage on the negative"),
    usual(Condition::Tool, "bubbles and hairs from the brush"),
    less(Condition::CoatPerArea, "too little liquid leaves gaps"),
    usual(Condition::Paper, "a hard size sheds the coat"),
];

const MOTTLED: &[Cause] = &[
    usual(Condition::PaperLot, "sizing differs between lots"),
    usual(Condition::Paper, "sizing differs between papers"),
    less(Condition::SheetHumidity, "a dry sheet drinks unevenly"),
    less(Condition::RoomHumidity, "a dry room dries the sheet"),
    less(Condition::CoatPerArea, "too little liquid coats unevenly"),
    less(Condition::Rest, "a short rest lets the coat sit on top"),
];

const GRAINY: &[Cause] = &[
    more(Condition::AgentDose, "much chlorate or dichromate brings grain"),
    usual(Condition::Agent, "some agents bring grain"),
    more(Condition::DeveloperAgent, "dichromate in the developer brings grain"),
    less(Condition::SheetHumidity, "a dry coat prints grainy"),
    less(Condition::RoomHumidity, "a dry room dries the sheet"),
    more(Condition::IronAge, "old iron prints grainy"),
    usual(Condition::Negative, "grain of the negative itself"),
];

const WEAK_BLACKS: &[Cause] = &[
    less(Condition::CoatPerArea, "too little sensitizer"),
    less(Condition::ExposureTime, "too little light"),
    usual(Condition::SheetHumidity, "too dry or too damp"),
    usual(Condition::RoomHumidity, "too dry or too damp"),
    more(Condition::Rest, "a long rest lets the coat sink in"),
    less(Condition::Coats, "a second coat deepens the blacks"),
    usual(Condition::Paper, "a thirsty paper takes the coat in"),
    usual(Condition::PaperLot, "sizing differs between lots"),
    usual(Condition::IronToMetal, "too little iron for the metal, or too much"),
    more(Condition::IronAge, "old iron"),
    usual(Condition::MetalBottle, "a weaker stock of metal"),
    more(Condition::DryingTemperature, "dried too quickly it stays on top and floats off"),
];

const BRONZED: &[Cause] = &[
    more(Condition::ExposureTime, "far too much light"),
    less(Condition::SheetHumidity, "too dry"),
    less(Condition::CoatPerArea, "too thin a coat"),
    less(Condition::LampDistance, "nearer to the lamp"),
    usual(Condition::Lamp, "a stronger lamp"),
];

const FLOATING: &[Cause] = &[
    more(Condition::DryingTemperature, "dried too hot it stays on top"),
    less(Condition::DryingTime, "dried too quickly it stays on top"),
    usual(Condition::Paper, "a hard size keeps the coat on top"),
    more(Condition::CoatPerArea, "more than the paper can hold"),
    less(Condition::Rest, "no rest before drying"),
];

const BLEEDING: &[Cause] = &[
    more(Condition::CoatPerArea, "too wet"),
    less(Condition::DryingTime, "damp when it was exposed"),
    more(Condition::SheetHumidity, "damp when it was exposed"),
    usual(Condition::Paper, "a soft paper"),
];

const BRUSH_MARKS: &[Cause] = &[
    less(Condition::CoatPerArea, "too little liquid"),
    usual(Condition::Tool, "another brush"),
    less(Condition::RoomHumidity, "dry air gives less time for strokes"),
    usual(Condition::Paper, "a thirsty paper"),
];

const DEVELOPER_LINES: &[Cause] = &[
    usual(Condition::Developer, "one quick flow with enough liquid leaves no line"),
    more(Condition::DeveloperAge, "sludge in an old bath"),
    less(Condition::DevelopingTime, "left before it was even"),
];

const SOFT_PATCHES: &[Cause] = &[
    usual(Condition::Negative, "a curled negative"),
    usual(Condition::SheetHumidity, "a sheet that does not lie flat"),
    usual(Condition::Lamp, "another frame or lamp with less pressure"),
];

const COLOUR: &[Cause] = &[
    seen(
        Condition::DeveloperTemperature,
        Some(Way::More),
        "a colder bath gives a colder image, a warmer one a warmer",
        "cyclopedia",
        "Platinotype",
    ),
    usual(Condition::Developer, "citrate prints cooler than potassium oxalate"),
    less(Condition::MetalRatio, "palladium prints warmer than platinum"),
    usual(Condition::Metal, "metals differ in colour"),
    seen(Condition::SheetHumidity, None, "image colour follows the humidity of the sheet", "ware1986", "abstract"),
    usual(Condition::Agent, "some agents cool the image"),
    usual(Condition::Paper, "papers differ in white"),
];

/// A change past which an exposure time that was found is no longer to be trusted, after the list of what a base exposure stands on.
pub const BASE_TIME_STANDS_ON: Fact<[Condition; 19]> = Fact {
    value: [
        Condition::Paper,
        Condition::PaperLot,
        Condition::PaperSide,
        Condition::Pretreatment,
        Condition::RoomHumidity,
        Condition::SheetHumidity,
        Condition::Iron,
        Condition::IronToMetal,
        Condition::MetalRatio,
        Condition::Agent,
        Condition::AgentDose,
        Condition::CoatPerArea,
        Condition::Coats,
        Condition::Tool,
        Condition::Lamp,
        Condition::LampHours,
        Condition::LampDistance,
        Condition::Developer,
        Condition::DeveloperTemperature,
    ],
    cite: Citation::practice("what a base exposure stands on; lamp and its hours are added"),
};

/// From which difference on a change counts, by what is measured; smaller ones are within what nobody can hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Notable {
    /// A ratio, as a power of two: a third of a stop is 1/3.
    Doublings(f64),
    /// A difference in the unit it is kept in.
    Difference(f64),
}

/// That difference for a condition that is measured; a word either changed or did not.
#[must_use]
pub fn notable(of: Condition) -> Notable {
    match of {
        Condition::ExposureTime => Notable::Doublings(0.1),
        Condition::LampDistance => Notable::Doublings(0.05),
        Condition::CoatPerArea | Condition::IronToMetal => Notable::Doublings(0.15),
        Condition::AgentDose | Condition::DeveloperAgent => Notable::Doublings(0.25),
        Condition::RoomTemperature => Notable::Difference(3.0),
        Condition::DryingTemperature | Condition::DeveloperTemperature => Notable::Difference(3.0),
        Condition::RoomHumidity | Condition::SheetHumidity => Notable::Difference(5.0),
        Condition::MetalRatio => Notable::Difference(0.03),
        Condition::NegativeRange => Notable::Difference(0.1),
        // Hours; lamps are looked at again after some fifty.
        Condition::LampHours => Notable::Difference(50.0),
        // Days.
        Condition::IronAge => Notable::Difference(14.0),
        Condition::DeveloperAge => Notable::Difference(60.0),
        // Square metres: a fifth of what one litre of clearing bath is trusted with.
        Condition::BathArea => Notable::Difference(0.12),
        Condition::Coats => Notable::Difference(0.5),
        _ => Notable::Doublings(0.4),
    }
}
