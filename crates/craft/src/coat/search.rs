//! The fewest whole drops that keep every ratio within a stated error.
//!
//! Volumes are whole nanolitres here, so that sums are exact and ties are ties. The walk is depth first over the solutions; a
//! branch is left as soon as what must still come would pour more than the best that is known. A test holds it against trying all
//! there is.

use alloc::vec::Vec;

/// A comparison of ratios forgives the last bits of a division.
const SLACK: f64 = 1e-9;

/// One solution of the sensitizer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// Volume of one drop.
    pub drop_nl: i64,
    /// Its wanted part of the sensitizer; the parts sum to one.
    pub share: f64,
}

/// An agent on top of it.
#[derive(Clone, Debug, PartialEq)]
pub struct OnTopAsked {
    /// Volume of one drop.
    pub drop_nl: i64,
    /// Strengths of the rungs, in mg/mL.
    pub rungs: Vec<f64>,
    /// Wanted dose, in mg per mL of sensitizer.
    pub dose: f64,
}

/// What is looked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// The solutions.
    pub parts: Vec<Part>,
    /// The agent.
    pub on_top: Option<OnTopAsked>,
    /// The least sensitizer.
    pub least_nl: i64,
    /// The most.
    pub most_nl: i64,
    /// The largest error of a part or of the dose, as a part of itself.
    pub error: f64,
}

/// What was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// Drops of each solution.
    pub drops: Vec<u32>,
    /// Sensitizer they come to.
    pub total_nl: i64,
    /// Rung of the agent, from the strongest down, and drops of it.
    pub on_top: Option<(usize, u32)>,
    /// The largest error.
    pub error: f64,
    /// Whether that is within what was asked.
    pub within: bool,
}

impl Found {
    fn added(&self) -> u32 {
        self.on_top.map_or(0, |(_, drops)| drops)
    }

    /// Within the error: the least poured, then the least added on top, then the least error.
    fn beats(&self, other: &Self, nearest: bool) -> bool {
        let amounts = (self.total_nl, self.added()).cmp(&(other.total_nl, other.added()));
        let errors = if (self.error - other.error).abs() <= SLACK {
            core::cmp::Ordering::Equal
        } else {
            self.error.total_cmp(&other.error)
        };
        let order = if nearest { errors.then(amounts) } else { amounts.then(errors) };
        order.then_with(|| self.drops.cmp(&other.drops)).is_lt()
    }
}

/// Looks for it. Where nothing is within the error, the nearest there is; nothing at all where no whole drops fit between the least
/// and the most.
#[must_use]
pub fn search(asked: &Asked) -> Option<Found> {
    if let Some(found) = walk(asked, asked.error, false) {
        return Some(Found { within: true, ..found });
    }
    // What is within a doubled error holds the nearest as soon as it holds anything.
    let mut error = asked.error.max(SLACK) * 2.0;
    loop {
        if let Some(found) = walk(asked, error, true) {
            return Some(Found { within: false, ..found });
        }
        // A part can be missing by no more than all of it; beyond this every count between the limits was tried.
        if error > asked.most_nl as f64 * 10.0 {
            return None;
        }
        error *= 2.0;
    }
}

struct Walk<'a> {
    asked: &'a Asked,
    error: f64,
    nearest: bool,
    /// Fewest and most drops of each part.
    ranges: Vec<(i64, i64)>,
    /// The least volume of this part and all behind it.
    still_nl: Vec<i64>,
    best: Option<Found>,
}

fn walk(asked: &Asked, error: f64, nearest: bool) -> Option<Found> {
    let range = |part: &Part| {
        let (least, most) = (asked.least_nl as f64, asked.most_nl as f64);
        let drop = part.drop_nl as f64;
        let fewest = libm::ceil(least * part.share * (1.0 - error) / drop - SLACK).max(1.0);
        let most_drops = libm::floor((most * part.share * (1.0 + error)).min(most) / drop + SLACK);
        (fewest as i64, most_drops as i64)
    };
    let ranges: Vec<(i64, i64)> = asked.parts.iter().map(range).collect();
    let mut still_nl = Vec::from([0]);
    for (part, (fewest, _)) in asked.parts.iter().zip(&ranges).rev() {
        let behind = still_nl.last().copied().unwrap_or(0);
        still_nl.push(behind + fewest * part.drop_nl);
    }
    still_nl.reverse();
    let mut walk = Walk { asked, error, nearest, ranges, still_nl, best: None };
    walk.descend(&mut Vec::new(), 0);
    walk.best
}

impl Walk<'_> {
    fn descend(&mut self, drops: &mut Vec<i64>, poured_nl: i64) {
        let place = drops.len();
        let (Some(part), Some(&(fewest, most)), Some(&behind)) =
            (self.asked.parts.get(place), self.ranges.get(place), self.still_nl.get(place + 1))
        else {
            self.weigh_up(drops, poured_nl);
            return;
        };
        for count in fewest..=most {
            let own = poured_nl + count * part.drop_nl;
            let least = own + behind;
            let beaten = !self.nearest && self.best.as_ref().is_some_and(|best| least > best.total_nl);
            if least > self.asked.most_nl || beaten {
                break;
            }
            drops.push(count);
            self.descend(drops, own);
            drops.pop();
        }
    }

    fn weigh_up(&mut self, drops: &[i64], total_nl: i64) {
        if total_nl < self.asked.least_nl || total_nl > self.asked.most_nl {
            return;
        }
        let total = total_nl as f64;
        let of_parts = self
            .asked
            .parts
            .iter()
            .zip(drops)
            .map(|(part, &count)| ((count * part.drop_nl) as f64 / total / part.share - 1.0).abs())
            .fold(0.0, f64::max);
        if of_parts > self.error + SLACK {
            return;
        }
        let counts: Vec<u32> = drops.iter().map(|&count| u32::try_from(count).unwrap_or(u32::MAX)).collect();
        let mut offer = |on_top: Option<(usize, u32)>, of_dose: f64| {
            let error = f64::max(of_parts, of_dose);
            if error > self.error + SLACK {
                return;
            }
            let found = Found { drops: counts.clone(), total_nl, on_top, error, within: true };
            if self.best.as_ref().is_none_or(|best| found.beats(best, self.nearest)) {
                self.best = Some(found);
            }
        };
        match &self.asked.on_top {
            None => offer(None, 0.0),
            Some(agent) => {
                for (rung, strength) in agent.rungs.iter().enumerate() {
                    let exact = agent.dose * total / (strength * agent.drop_nl as f64);
                    // The fewest that are within the error, and the two that are nearest.
                    let fewest = libm::ceil(exact * (1.0 - self.error) - SLACK);
                    for count in [fewest, libm::floor(exact), libm::ceil(exact)] {
                        let count = count.max(1.0);
                        offer(Some((rung, count as u32)), (count / exact - 1.0).abs());
                    }
                }
            }
        }
    }
}
