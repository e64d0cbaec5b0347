//! Steps of a print, and what they need.

use alloc::string::String;
use core::fmt;

/// One step of a print.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Step {
    /// Coating, first or second time.
    Coat(u8),
    /// Drying after that coat.
    Dry(u8),
    /// Lying in the humid box.
    Humidify,
    /// Laying sheet and negative into the frame.
    Load,
    /// Under the lamp.
    Expose,
    /// In the developer.
    Develop,
    /// The first rinse of a printed-out image, which needs no developer.
    Rinse,
    /// In a clearing bath, counted from 1.
    Clear(u8),
    /// In the wash.
    Wash,
    /// Hanging to dry.
    Hang,
}

/// When a step needs somebody.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hand {
    /// From beginning to end.
    Throughout,
    /// To be begun; then it goes on by itself.
    AtTheStart,
    /// The step before begins it.
    Not,
}

/// Something there is only so much of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Resource {
    /// People.
    Hand,
    /// A place for a coated sheet to dry.
    DryingPlace,
    /// A place in the humid box.
    HumidBox,
    /// A contact frame.
    Frame,
    /// A lamp.
    Lamp,
    /// A tray of developer, or of the first rinse.
    Developer,
    /// A tray of this clearing bath, counted from 1.
    Clearing(u8),
    /// A place in the wash.
    Wash,
}

impl Step {
    /// When it needs somebody.
    #[must_use]
    pub fn hand(self) -> Hand {
        match self {
            Self::Coat(_) | Self::Load | Self::Develop | Self::Rinse => Hand::Throughout,
            Self::Dry(_) | Self::Humidify | Self::Clear(_) | Self::Wash | Self::Hang => Hand::AtTheStart,
            Self::Expose => Hand::Not,
        }
    }

    /// Where it happens. A frame is held from [`Step::Load`] to the end of [`Step::Expose`]; prints hang anywhere.
    #[must_use]
    pub fn place(self) -> Option<Resource> {
        match self {
            Self::Coat(_) | Self::Hang => None,
            Self::Dry(_) => Some(Resource::DryingPlace),
            Self::Humidify => Some(Resource::HumidBox),
            Self::Load => Some(Resource::Frame),
            Self::Expose => Some(Resource::Lamp),
            Self::Develop | Self::Rinse => Some(Resource::Developer),
            Self::Clear(bath) => Some(Resource::Clearing(bath)),
            Self::Wash => Some(Resource::Wash),
        }
    }

    /// What to do, as an instruction.
    #[must_use]
    pub fn instruction(self) -> String {
        match self {
            Self::Coat(1) => "mix the drops and coat".into(),
            Self::Coat(_) => "mix the drops and coat again".into(),
            Self::Dry(_) => "lay it to dry in the dark".into(),
            Self::Humidify => "lay it into the humid box".into(),
            Self::Load => "into the frame with its negative".into(),
            Self::Expose => "expose".into(),
            Self::Develop => "develop".into(),
            Self::Rinse => "first rinse".into(),
            Self::Clear(bath) => alloc::format!("into clearing bath {bath}"),
            Self::Wash => "into the wash".into(),
            Self::Hang => "hang it to dry".into(),
        }
    }

    /// A stable word for programs.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Coat(_) => "coat",
            Self::Dry(_) => "dry",
            Self::Humidify => "humidify",
            Self::Load => "load",
            Self::Expose => "expose",
            Self::Develop => "develop",
            Self::Rinse => "rinse",
            Self::Clear(_) => "clear",
            Self::Wash => "wash",
            Self::Hang => "hang",
        }
    }

    /// Which coat or which bath.
    #[must_use]
    pub fn which(self) -> Option<u8> {
        match self {
            Self::Coat(which) | Self::Dry(which) | Self::Clear(which) => Some(which),
            _ => None,
        }
    }
}

impl fmt::Display for Step {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Clear(bath) => write!(f, "clear {bath}"),
            Self::Coat(2) => f.write_str("coat again"),
            own => f.write_str(own.word()),
        }
    }
}

impl fmt::Display for Resource {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Hand => f.write_str("hand"),
            Self::DryingPlace => f.write_str("drying place"),
            Self::HumidBox => f.write_str("humid box"),
            Self::Frame => f.write_str("frame"),
            Self::Lamp => f.write_str("lamp"),
            Self::Developer => f.write_str("developer tray"),
            Self::Clearing(bath) => write!(f, "tray of clearing bath {bath}"),
            Self::Wash => f.write_str("place in the wash"),
        }
    }
}
