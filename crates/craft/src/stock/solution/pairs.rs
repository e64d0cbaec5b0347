//! Which pairs may share a bottle.

use alloc::format;

use super::{SolutionError, SolutionRequest};
use crate::source::{Class, Harm};
use crate::stock::{Formula, classes, meetings};

/// Whether a dangerous pair is one the trade keeps in one bottle all the same, with its cautions: chlorate in iron
/// oxalate, with the oxalic acid that belongs to it, and dichromate in a developer. `all` is everything in the bottle.
#[must_use]
pub fn borne(one: &Formula, other: &Formula, all: &[&Formula]) -> bool {
    let is = |formula: &Formula, class| classes(formula).contains(&class);
    let pair = |class| is(one, class) || is(other, class);
    let oxalate = pair(Class::Oxalate) && !pair(Class::Ammonium);
    let iron = all.iter().any(|own| is(own, Class::Iron) && is(own, Class::Oxalate));
    (pair(Class::Chlorate) && oxalate && iron)
        || (pair(Class::Chromate) && (oxalate || (pair(Class::Organic) && !pair(Class::Edta))))
}

/// Refuses what is in no bottle together, and a solute that is named twice.
pub(super) fn check(request: &SolutionRequest) -> Result<(), SolutionError> {
    let all: alloc::vec::Vec<&Formula> = request.ingredients.iter().map(|own| own.comes.formula()).collect();
    for (place, one) in all.iter().enumerate() {
        for other in all.iter().skip(place + 1) {
            if one.dry().counts() == other.dry().counts() {
                return Err(SolutionError::Twice { formula: format!("{other}") });
            }
            let danger = meetings(one, other).into_iter().find(|own| own.row.harm == Harm::Dangerous);
            if let Some(found) = danger.filter(|_| !borne(one, other, &all)) {
                let pair = format!("{} with {}", found.one, found.other);
                return Err(SolutionError::PairInOneBottle { pair, what: found.row.what });
            }
        }
    }
    Ok(())
}
