//! What changed between two prints, ranked by how likely it explains the difference that is seen.
//!
//! First comes what the trade's fault lists name for the sign, the commonest cause first and among equals the larger change; a
//! change that works the other way is kept and said to; what no list names comes last. It tells where to look. Changing one thing
//! at a time is what settles it.

use alloc::string::String;
use alloc::vec::Vec;

use super::{Conditions, Reading};
use crate::source::{BASE_TIME_STANDS_ON, Cause, Condition, Notable, Sign, Way, causes, notable, opposite};

/// How likely a change explains a sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Likelihood {
    /// Among the first causes of the sign.
    Likely,
    /// Named among its causes.
    Possible,
    /// No list names it for this sign, or no sign was asked about.
    Open,
    /// It works the other way.
    Against,
}

/// One thing that is not as it was.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// What.
    pub of: Condition,
    /// As it was.
    pub before: String,
    /// As it is.
    pub after: String,
    /// How large, in differences that count; words that differ are 1.
    pub size: f64,
    /// How likely it explains the sign.
    pub likelihood: Likelihood,
    /// The cause it is, where a list names it.
    pub cause: Option<&'static Cause>,
}

/// Two prints side by side.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Comparison {
    /// What changed, the likeliest explanation first.
    pub changed: Vec<Change>,
    /// What differs by less than counts.
    pub small: Vec<Change>,
    /// What is known of one print only, and could therefore have changed.
    pub unknown: Vec<Condition>,
    /// What is known to be the same.
    pub same: Vec<Condition>,
}

/// Compares two prints. `sign` is what the second shows against the first.
#[must_use]
pub fn compare(first: &Conditions, second: &Conditions, sign: Option<Sign>) -> Comparison {
    let mut found = Comparison::default();
    for &of in Condition::all() {
        match (first.of(of), second.of(of)) {
            (None, None) => {}
            (Some(_), None) | (None, Some(_)) => found.unknown.push(of),
            (Some(before), Some(after)) => match change(of, before, after, sign) {
                None => found.same.push(of),
                // What reads the same is the same to whoever reads it.
                Some(change) if change.size < 1.0 && change.before == change.after => found.same.push(of),
                Some(change) if change.size < 1.0 => found.small.push(change),
                Some(change) => found.changed.push(change),
            },
        }
    }
    let place = |change: &Change| causes_of(sign).iter().position(|cause| cause.of == change.of).unwrap_or(usize::MAX);
    found.changed.sort_by(|one, other| {
        (one.likelihood, bucket(other.size))
            .cmp(&(other.likelihood, bucket(one.size)))
            .then_with(|| place(one).cmp(&place(other)))
            .then_with(|| one.of.cmp(&other.of))
    });
    found
}

/// What makes an exposure time that was found under `then` suspect `now`: changes that count, and what cannot be compared.
#[must_use]
pub fn suspect(then: &Conditions, now: &Conditions) -> (Vec<Change>, Vec<Condition>) {
    let found = compare(then, now, None);
    let counts = |of: &Condition| BASE_TIME_STANDS_ON.value.contains(of);
    let changed = found.changed.into_iter().filter(|change| counts(&change.of)).collect();
    (changed, found.unknown.into_iter().filter(counts).collect())
}

fn causes_of(sign: Option<Sign>) -> &'static [Cause] {
    sign.map_or(&[], causes)
}

/// Changes of about the same size are equals: up to twice what counts, up to four times, more.
fn bucket(size: f64) -> u8 {
    match size {
        size if size < 2.0 => 0,
        size if size < 4.0 => 1,
        _ => 2,
    }
}

fn change(of: Condition, before: &Reading, after: &Reading, sign: Option<Sign>) -> Option<Change> {
    // What reads the same is the same to who compares.
    if before.words().to_lowercase() == after.words().to_lowercase() {
        return None;
    }
    let (size, way) = match (before, after) {
        (Reading::Measured { value: before, .. }, Reading::Measured { value: after, .. }) => {
            let size = match notable(of) {
                Notable::Difference(counts) => libm::fabs(after - before) / counts,
                // From nothing to something is a change that counts whatever its size.
                Notable::Doublings(_) if *before <= 0.0 || *after <= 0.0 => 1.0,
                Notable::Doublings(counts) => libm::fabs(libm::log2(after / before)) / counts,
            };
            (size, Some(if after > before { Way::More } else { Way::Less }))
        }
        _ => (1.0, None),
    };
    let place = causes_of(sign).iter().position(|cause| cause.of == of);
    let cause = place.and_then(|place| causes_of(sign).get(place));
    let against = cause.and_then(|cause| cause.way).zip(way).is_some_and(|(needed, way)| {
        let needed = if sign.is_some_and(opposite) { needed.turned() } else { needed };
        needed != way
    });
    let likelihood = match place {
        _ if against => Likelihood::Against,
        None => Likelihood::Open,
        Some(place) if place * 3 < causes_of(sign).len() => Likelihood::Likely,
        Some(_) => Likelihood::Possible,
    };
    Some(Change { of, before: before.words(), after: after.words(), size, likelihood, cause })
}
