//! What a bottle does in the mix on the paper.

use handcoat_craft::source::Class;
use handcoat_craft::stock::{Formula, classes, kept_metal};

/// What a solution is there for, by what is dissolved in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Role {
    Iron,
    Metal,
    Agent,
    Other,
}

impl Role {
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Iron => "iron",
            Self::Metal => "metal",
            Self::Agent => "agent",
            Self::Other => "other",
        }
    }

    /// Iron is iron; platinum with six chlorides, a chlorate, a peroxide or a chromate is a contrast agent; platinum with four, and
    /// palladium, make the image.
    pub(crate) fn of(formula: Option<&Formula>) -> Self {
        const AGENTS: [Class; 4] = [Class::HexachloroPlatinate, Class::Chlorate, Class::Peroxide, Class::Chromate];
        let Some(formula) = formula else { return Self::Other };
        let found = classes(formula);
        if found.contains(&Class::Iron) {
            Self::Iron
        } else if AGENTS.iter().any(|own| found.contains(own)) {
            Self::Agent
        } else if kept_metal(formula).is_some() {
            Self::Metal
        } else {
            Self::Other
        }
    }
}
