//! Which patches to print next.

use handcoat_craft::measure::{Area, Length, Readable, Size, shortened};
use handcoat_craft::source::{NEXT_MOST, PATCH_AREA};
use handcoat_craft::tone::{NextPatches, ToneFit, next_patches};

use crate::{Question, Refusal, Remedy};

/// Answers about the next patches. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NextAnswers {
    /// The side of a patch, its border with it.
    pub patch: Option<String>,
    /// How many at most.
    pub most: Option<String>,
}

/// Chooses the patches that lower the expected error of a corrected print most for the paper coated for them.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read.
pub fn next(answers: &NextAnswers, fit: &ToneFit) -> Result<NextPatches, Refusal> {
    let area = match &answers.patch {
        None => Area::square_centimetres(PATCH_AREA.value),
        Some(_) => {
            let side = patch_side(answers.patch.as_ref())?;
            Size { width: side, height: side }.area()
        }
    };
    let area = area.map_err(|own| Refusal::bounds(Question::PatchSide, &own))?;
    let about = Question::PatchMost;
    let most = answers.most.as_ref().map_or(Ok(12), |text| {
        text.trim().parse::<usize>().ok().filter(|own| (1..=NEXT_MOST.value).contains(own)).ok_or_else(|| {
            let cause = format!(
                "`{}` is no count of patches; expected a whole number from 1 to {}",
                shortened(text.trim()),
                NEXT_MOST.value
            );
            Refusal::unreadable("count_unreadable", about, cause, vec![Remedy::Write(about, "12".into())])
        })
    })?;
    Ok(next_patches(&|inputs| fit.expected_after(inputs), area, most))
}

/// The side of a patch, its border with it; where nothing is said the usual one.
pub(super) fn patch_side(written: Option<&String>) -> Result<Length, Refusal> {
    let about = Question::PatchSide;
    let Some(text) = written else {
        return Length::millimetres(10.0 * PATCH_AREA.value.sqrt()).map_err(|own| Refusal::bounds(about, &own));
    };
    let side = Length::read(text).map_err(|error| Refusal::quantity(about, Length::FORMS, &error))?;
    if (Size { width: side, height: side }).is_empty() {
        let cause = format!("a patch of `{}` covers nothing; expected a side as `10mm`", shortened(text.trim()));
        return Err(Refusal::rule("patch_empty", about, cause, vec![Remedy::Write(about, "10mm".into())]));
    }
    Ok(side)
}
