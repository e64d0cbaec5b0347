//! How much solution a sheet takes: by habit of a tool, or as measured.

use super::Sheet;
use super::sheet::Margin;
use crate::measure::{Area, Bounded, OutOfBounds, Share, Uncertain, Uptake};
use crate::source::{Citation, Less, Spread, UPTAKE_HABITS, UptakeHabit};

/// What the coat is spread with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tool {
    /// A glass rod.
    Rod,
    /// A brush.
    Brush,
    /// A brush, and the paper drinks.
    ThirstyBrush,
}

impl Tool {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Rod, Self::Brush, Self::ThirstyBrush];

    /// In one word, as it is written.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Rod => "rod",
            Self::Brush => "brush",
            Self::ThirstyBrush => "thirsty",
        }
    }

    /// In words.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Rod => "glass rod",
            Self::Brush => "brush",
            Self::ThirstyBrush => "brush on paper that drinks",
        }
    }

    fn spread(self, printing_out: bool) -> Spread {
        match self {
            Self::Rod if printing_out => Spread::PrintingOutRod,
            Self::Rod => Spread::Rod,
            Self::Brush => Spread::Brush,
            Self::ThirstyBrush => Spread::ThirstyBrush,
        }
    }
}

/// How the volume is found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum UptakeRule {
    /// By the habit of a tool; all that is poured, of which some stays in the brush.
    Habit {
        /// With what.
        tool: Tool,
        /// The habit of the printing-out way, where it has one of its own.
        printing_out: bool,
    },
    /// So much to the coated area, all that is poured.
    Stated(Uptake),
    /// So much on the paper, and only a share of what is poured gets there.
    Measured {
        /// On the paper.
        on_paper: Uptake,
        /// Of what is poured.
        share: Uncertain<Share>,
    },
}

/// What one coat of a sheet needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Need {
    /// The area that is coated.
    pub coated: Area,
    /// The area the uptake is said of: the coated one, or the nominal one of a habit.
    pub of: Area,
    /// The uptake, said of that area.
    pub uptake: Uptake,
    /// Whether it is said of the nominal size, customary margin included.
    pub of_nominal: bool,
    /// What the paper takes, or where no share is known what is poured, in mL.
    pub sensitizer_ml: f64,
    /// What must be poured for it, in mL.
    pub pour_ml: f64,
    /// Relative standard uncertainty of what must be poured: of the share; none where it was not measured.
    pub pour_rel: Option<f64>,
    /// Where the uptake comes from; none where the maker said it.
    pub cite: Option<Citation>,
}

impl UptakeRule {
    /// What one coat of `sheet` needs.
    ///
    /// # Errors
    /// [`OutOfBounds`] for a sheet beyond any paper.
    pub fn need(self, sheet: &Sheet) -> Result<Need, OutOfBounds> {
        let (coated, nominal) = (sheet.coated()?, sheet.nominal()?);
        let need = |of: Area, uptake: Uptake, of_nominal: bool, share: f64, cite: Option<Citation>| {
            let sensitizer_ml = uptake.millilitres_on(of);
            let pour_ml = sensitizer_ml / share;
            Need { coated, of, uptake, of_nominal, sensitizer_ml, pour_ml, pour_rel: None, cite }
        };
        match self {
            Self::Habit { tool, printing_out } => {
                let habit = habit(tool.spread(printing_out));
                let cite = Some(habit.cite);
                match sheet.margin {
                    Margin::Customary => Ok(need(nominal, uptake(habit.nominal)?, true, 1.0, cite)),
                    Margin::Real(_) => Ok(need(coated, uptake(habit.coated)?, false, 1.0, cite)),
                }
            }
            Self::Stated(uptake) => Ok(need(coated, uptake, false, 1.0, None)),
            Self::Measured { on_paper, share } => {
                Ok(Need { pour_rel: share.relative(), ..need(coated, on_paper, false, share.best.in_unit(), None) })
            }
        }
    }
}

impl Need {
    /// What a habit of pouring less comes to on the same sheet, in mL.
    #[must_use]
    pub fn with_less(&self, less: &Less) -> f64 {
        let per_100_cm2 = if self.of_nominal { less.nominal } else { less.coated };
        self.of.to_square_centimetres() / 100.0 * per_100_cm2
    }
}

fn habit(spread: Spread) -> &'static UptakeHabit {
    // OK because the table holds a row for each; a test goes through them.
    UPTAKE_HABITS.iter().find(|row| row.spread == spread).expect("BUG: no habit for a tool")
}

fn uptake(millilitres: f64) -> Result<Uptake, OutOfBounds> {
    Uptake::millilitres_per_100_cm2(millilitres)
}
