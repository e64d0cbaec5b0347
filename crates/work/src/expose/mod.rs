//! What an exposure comes to: from a wedge that was read, from a wedge judged by eye, from strips; and how much contrast agent a
//! negative asks for. Nothing of that needs a book; with one, tests are kept under the set-up they were made with.

mod distance;
mod eye;
mod given;
mod ladder;
mod refused;
mod scan;
mod setup;
mod sheet;
mod strip;
mod test;
mod typed;
mod wedge;
mod words;

pub use distance::{DistanceAnswers, at_distance};
pub use eye::{EyeAnswers, EyeRead, by_eye};
pub use given::{Exposed, Given};
pub(crate) use ladder::read_dose;
pub use ladder::{LadderAnswers, LadderPoint, LadderRead, agent_word, ladder, ladder_of};
pub(crate) use refused::{none_of, one_of};
pub use scan::{StepOnScan, WedgeOutcome, WedgeScan, WedgeScanAnswers, read_wedge_scan, wedge_scan_csv};
pub(crate) use setup::{Around, find_setup};
pub use setup::{BaseInForce, SetupView, no_base_words, one_setup, setups};
pub use sheet::{STRIP_STEPS, TestSheetFacts, strip_sheet, test_sheet};
pub use strip::{StripAnswers, StripRead, strips};
pub use test::{Found, TestOfSetup, TestRead, TestView, TestWay, Tested, keep_test, one_test, readings_fit, tests};
pub use typed::{TabletAnswers, pasted, plain, step_densities, stepwise, tablet};
pub use wedge::{InkRead, WedgeAnswers, WedgeRead, ink, wedge};

pub use words::{
    EYE_BASE, EYE_SCALE, STRIP_BASE, base_criterion, base_time_words, dose_words, exposed_words, next_test,
    next_test_words, noise_from, not_bracketed_words, scale_criterion, shoulder_criterion, span_words, time_words,
};
