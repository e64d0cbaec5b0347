//! Of what a chart is: the book, and the set-up it is printed with.

use crate::expose::{Around, find_setup};
use crate::{Refusal, Studio};

/// Of what a chart is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ChartOf {
    /// Whose studio the book is.
    pub book: Option<String>,
    /// The set-up it is printed with.
    pub setup: Option<ChartSetup>,
}

/// What a chart takes of its set-up.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ChartSetup {
    /// Its name.
    pub name: String,
    /// The lot of its paper.
    pub lot: Option<String>,
    /// The one ink its negatives are printed in.
    pub ink: Option<String>,
}

/// The set-up of that name or number.
///
/// # Errors
/// [`Refusal`] when it is not there, or the book cannot be read.
pub fn chart_setup(studio: &Studio, written: &str) -> Result<ChartSetup, Refusal> {
    let around = Around::of(studio)?;
    let setup = find_setup(&around, written)?;
    let mut facts = around.stands(setup).facts;
    Ok(ChartSetup { name: setup.name.clone(), lot: facts.remove("paper_lot"), ink: facts.remove("ink_colour") })
}
