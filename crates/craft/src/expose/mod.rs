//! What a coat does with light: exposure time, exposure scale, contrast.
//!
//! Three ways lead to a base time: a silver wedge read with a densitometer ([`SilverWedge`]), the same wedge judged by eye ([`ByEye`]),
//! and strips without a wedge ([`StripPlan`]). Steps of ink only rank ([`InkSteps`]): their density to the light of the lamp is not
//! known, so no time and no scale comes of them. Times of a lamp, counts of an integrator and distances are different types
//! ([`Span`](crate::measure::Span), [`IntegratorUnits`](crate::measure::IntegratorUnits), [`LampDistance`]).

mod error;
mod eye;
mod ink;
mod ladder;
mod light;
mod strip;
mod trusted;
mod warning;
mod wedge;

pub use error::ExposeError;
pub use eye::{ByEye, Judged, StepTablet};
pub use ink::{InkRank, InkSteps};
pub use ladder::{Dose, Ladder, LadderWedge, Predicted, Wanted};
pub use light::{Base, Exposure, LampDistance, LampKind, time_at};
pub use strip::{StopPart, Strip, StripPlan};
pub use trusted::{has_aged, lamp_has_aged};
pub use warning::Warning;
pub use wedge::{Criteria, DryOrWet, Ends, Noise, ReadStep, Shoulder, SilverWedge, WedgeFit};
