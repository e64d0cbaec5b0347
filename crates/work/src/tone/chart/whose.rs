//! Of what a chart is: the book, and the set-up it is printed with.

use jiff::Timestamp;

use crate::expose::{Around, dose_words, find_setup, one_setup, span_words};
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
    /// Its base exposure, in words, with what speaks against it.
    pub base: Option<String>,
}

/// The set-up of that name or number.
///
/// # Errors
/// [`Refusal`] when it is not there, or the book cannot be read.
pub fn chart_setup(studio: &Studio, written: &str, now: Timestamp) -> Result<ChartSetup, Refusal> {
    let around = Around::of(studio)?;
    let setup = find_setup(&around, written)?;
    let mut facts = around.stands(setup).facts;
    let base = one_setup(studio, &setup.name, now)?.base.map(|own| {
        let dose = dose_words(own.dose.as_deref());
        let doubt = if own.suspect.is_empty() {
            String::new()
        } else {
            format!("; find it anew first: {}", own.suspect.join(", "))
        };
        format!("{} through clear film, {dose} (test {}){doubt}", span_words(&own.exposed).0, own.test)
    });
    let (lot, ink) = (facts.remove("paper_lot"), facts.remove("ink_colour"));
    Ok(ChartSetup { name: setup.name.clone(), lot, ink, base })
}
