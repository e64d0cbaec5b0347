//! How a screen is lit. In the two safelight themes no pixel has any blue in it.

/// A theme, kept in a cookie of the device it is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Theme {
    /// Ink on warm paper.
    #[default]
    Paper,
    /// For an evening at the desk.
    Dark,
    /// Amber on black, for the darkroom.
    Amber,
    /// Red on black, where amber is too much.
    Red,
}

impl Theme {
    /// All of them, in the order they are offered.
    pub(crate) const ALL: [Self; 4] = [Self::Paper, Self::Dark, Self::Amber, Self::Red];

    /// The cookie's name.
    pub(crate) const COOKIE: &'static str = "theme";

    /// Its word in the cookie, the form and the style sheet.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Paper => "paper",
            Self::Dark => "dark",
            Self::Amber => "amber",
            Self::Red => "red",
        }
    }

    /// As a button says it.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Paper => "Paper",
            Self::Dark => "Dark",
            Self::Amber => "Amber safelight",
            Self::Red => "Red safelight",
        }
    }

    /// The theme with this word; paper when there is none.
    pub(crate) fn read(word: Option<&str>) -> Self {
        Self::ALL.into_iter().find(|own| Some(own.word()) == word).unwrap_or_default()
    }

    /// What a browser paints around the page.
    pub(crate) fn ground(self) -> &'static str {
        match self {
            Self::Paper => "#f6f2ea",
            Self::Dark => "#171411",
            Self::Amber | Self::Red => "#000000",
        }
    }
}
