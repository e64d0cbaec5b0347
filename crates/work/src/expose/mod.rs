//! What an exposure comes to: from a wedge that was read, from a wedge judged by eye, from strips; and how much contrast agent a
//! negative asks for. Nothing here needs a book.

mod distance;
mod eye;
mod given;
mod ladder;
mod refused;
mod strip;
mod wedge;
mod words;

pub use distance::{DistanceAnswers, at_distance};
pub use eye::{EyeAnswers, EyeRead, by_eye};
pub use given::{Exposed, Given};
pub use ladder::{LadderAnswers, LadderRead, ladder};
pub(crate) use ladder::read_dose;
pub use strip::{StripAnswers, StripRead, strips};
pub use wedge::{InkRead, WedgeAnswers, WedgeRead, ink, wedge};
pub use words::{base_criterion, noise_from, scale_criterion, shoulder_criterion};
