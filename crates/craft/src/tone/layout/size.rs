//! How many levels a chart has, and how often each.

/// A size of chart. Its levels are even steps of the input from 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ChartSize {
    /// 9 levels twice: a strip for a new lot or lamp.
    Strip,
    /// 12 levels four times.
    Twelve,
    /// 24 levels three times.
    TwentyFour,
    /// 40 levels twice.
    Forty,
    /// 96 levels twice.
    NinetySix,
}

impl ChartSize {
    /// All of them, the smallest first.
    pub const ALL: [Self; 5] = [Self::Strip, Self::Twelve, Self::TwentyFour, Self::Forty, Self::NinetySix];

    /// Different inputs.
    #[must_use]
    pub fn levels(self) -> usize {
        match self {
            Self::Strip => 9,
            Self::Twelve => 12,
            Self::TwentyFour => 24,
            Self::Forty => 40,
            Self::NinetySix => 96,
        }
    }

    /// How often each is printed.
    #[must_use]
    pub fn copies(self) -> usize {
        match self {
            Self::Strip | Self::Forty | Self::NinetySix => 2,
            Self::TwentyFour => 3,
            Self::Twelve => 4,
        }
    }

    /// Columns and rows; six cells of them hold the code of squares, and what is left over stays paper.
    #[must_use]
    pub fn cells(self) -> (usize, usize) {
        match self {
            Self::Strip => (8, 3),
            Self::Twelve => (9, 6),
            Self::TwentyFour => (10, 8),
            Self::Forty => (11, 8),
            Self::NinetySix => (18, 11),
        }
    }

    /// The size with so many levels.
    #[must_use]
    pub fn of_levels(levels: usize) -> Option<Self> {
        Self::ALL.into_iter().find(|own| own.levels() == levels)
    }
}
