//! What may differ between two prints, and what a print may show.

use alloc::string::String;
use alloc::vec::Vec;

/// One thing that is written down of a print because it decides how the print turns out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs, reason = "the words of `words` say what each is")]
pub enum Condition {
    Paper,
    PaperLot,
    PaperSide,
    Pretreatment,
    RoomTemperature,
    RoomHumidity,
    SheetHumidity,
    Iron,
    IronBottle,
    IronAge,
    Metal,
    MetalBottle,
    MetalRatio,
    IronToMetal,
    Agent,
    AgentDose,
    CoatPerArea,
    Coats,
    Tool,
    Rest,
    DryingTime,
    DryingTemperature,
    Lamp,
    LampHours,
    LampDistance,
    ExposureTime,
    Negative,
    NegativeRange,
    Developer,
    DeveloperAge,
    DeveloperTemperature,
    DeveloperAgent,
    DevelopingTime,
    Clearing,
    ClearingTime,
    BathArea,
    Washing,
}

impl Condition {
    const ALL: [Self; 37] = [
        Self::Paper,
        Self::PaperLot,
        Self::PaperSide,
        Self::Pretreatment,
        Self::RoomTemperature,
        Self::RoomHumidity,
        Self::SheetHumidity,
        Self::Iron,
        Self::IronBottle,
        Self::IronAge,
        Self::Metal,
        Self::MetalBottle,
        Self::MetalRatio,
        Self::IronToMetal,
        Self::Agent,
        Self::AgentDose,
        Self::CoatPerArea,
        Self::Coats,
        Self::Tool,
        Self::Rest,
        Self::DryingTime,
        Self::DryingTemperature,
        Self::Lamp,
        Self::LampHours,
        Self::LampDistance,
        Self::ExposureTime,
        Self::Negative,
        Self::NegativeRange,
        Self::Developer,
        Self::DeveloperAge,
        Self::DeveloperTemperature,
        Self::DeveloperAgent,
        Self::DevelopingTime,
        Self::Clearing,
        Self::ClearingTime,
        Self::BathArea,
        Self::Washing,
    ];

    /// All of them, in the order of the work.
    #[must_use]
    pub fn all() -> &'static [Self] {
        &Self::ALL
    }

    /// Several of them in words.
    #[must_use]
    pub fn list(all: &[Self]) -> String {
        all.iter().map(|own| own.words()).collect::<Vec<_>>().join(", ")
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Paper => "paper",
            Self::PaperLot => "lot of the paper",
            Self::PaperSide => "side of the paper",
            Self::Pretreatment => "treatment of the paper before coating",
            Self::RoomTemperature => "temperature of the room",
            Self::RoomHumidity => "humidity of the room",
            Self::SheetHumidity => "humidity of the sheet",
            Self::Iron => "iron solution",
            Self::IronBottle => "bottle of iron",
            Self::IronAge => "age of the iron",
            Self::Metal => "metal",
            Self::MetalBottle => "bottle of metal",
            Self::MetalRatio => "platinum in the metal",
            Self::IronToMetal => "iron per metal",
            Self::Agent => "contrast agent",
            Self::AgentDose => "dose of the contrast agent",
            Self::CoatPerArea => "sensitizer per area",
            Self::Coats => "number of coats",
            Self::Tool => "brush or rod",
            Self::Rest => "rest before drying",
            Self::DryingTime => "drying time",
            Self::DryingTemperature => "drying temperature",
            Self::Lamp => "lamp",
            Self::LampHours => "hours on the lamp",
            Self::LampDistance => "distance to the lamp",
            Self::ExposureTime => "exposure time",
            Self::Negative => "negative",
            Self::NegativeRange => "range of the negative",
            Self::Developer => "developer",
            Self::DeveloperAge => "age of the developer",
            Self::DeveloperTemperature => "temperature of the developer",
            Self::DeveloperAgent => "contrast agent in the developer",
            Self::DevelopingTime => "developing time",
            Self::Clearing => "clearing baths",
            Self::ClearingTime => "clearing time",
            Self::BathArea => "area the baths had cleared before",
            Self::Washing => "washing time",
        }
    }
}

/// What a print shows, or shows more than another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs, reason = "the words of `words` say what each is")]
pub enum Sign {
    Darker,
    Lighter,
    Flatter,
    Harsher,
    Veil,
    YellowWhites,
    BlackSpecks,
    WhiteSpecks,
    Mottled,
    Grainy,
    WeakBlacks,
    Bronzed,
    Floating,
    Bleeding,
    BrushMarks,
    DeveloperLines,
    SoftPatches,
    Warmer,
    Cooler,
}

impl Sign {
    const ALL: [Self; 19] = [
        Self::Darker,
        Self::Lighter,
        Self::Flatter,
        Self::Harsher,
        Self::Veil,
        Self::YellowWhites,
        Self::BlackSpecks,
        Self::WhiteSpecks,
        Self::Mottled,
        Self::Grainy,
        Self::WeakBlacks,
        Self::Bronzed,
        Self::Floating,
        Self::Bleeding,
        Self::BrushMarks,
        Self::DeveloperLines,
        Self::SoftPatches,
        Self::Warmer,
        Self::Cooler,
    ];

    /// All of them.
    #[must_use]
    pub fn all() -> &'static [Self] {
        &Self::ALL
    }

    /// One word for commands and the book.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Darker => "darker",
            Self::Lighter => "lighter",
            Self::Flatter => "flatter",
            Self::Harsher => "harsher",
            Self::Veil => "veil",
            Self::YellowWhites => "yellow-whites",
            Self::BlackSpecks => "black-specks",
            Self::WhiteSpecks => "white-specks",
            Self::Mottled => "mottled",
            Self::Grainy => "grainy",
            Self::WeakBlacks => "weak-blacks",
            Self::Bronzed => "bronzed",
            Self::Floating => "floating",
            Self::Bleeding => "bleeding",
            Self::BrushMarks => "brush-marks",
            Self::DeveloperLines => "developer-lines",
            Self::SoftPatches => "soft-patches",
            Self::Warmer => "warmer",
            Self::Cooler => "cooler",
        }
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Darker => "darker",
            Self::Lighter => "lighter",
            Self::Flatter => "flat, no paper white",
            Self::Harsher => "harsh, empty highlights",
            Self::Veil => "grey veil, also where nothing was exposed",
            Self::YellowWhites => "yellow highlights",
            Self::BlackSpecks => "black specks",
            Self::WhiteSpecks => "white specks",
            Self::Mottled => "mottled or cloudy middle tones",
            Self::Grainy => "grainy",
            Self::WeakBlacks => "weak blacks",
            Self::Bronzed => "bronzed or reversed shadows",
            Self::Floating => "metal floating off in the developer",
            Self::Bleeding => "bleeding past the edge",
            Self::BrushMarks => "brush marks",
            Self::DeveloperLines => "lines from the developer",
            Self::SoftPatches => "soft patches",
            Self::Warmer => "warmer in colour",
            Self::Cooler => "cooler in colour",
        }
    }
}
