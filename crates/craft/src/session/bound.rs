//! What no plan can be shorter than.

use super::schedule::{SessionError, span};
use super::sheet::Block;
use super::{Means, Resource, Sheet};
use crate::measure::Span;

/// Why a session cannot be shorter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BoundBy {
    /// This print alone takes so long, counted from 0.
    Print(usize),
    /// All prints together keep these busy so long, before the first can begin there and after the last has left.
    Busy(Resource),
}

/// The time no plan can be shorter than.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bound {
    /// That time.
    pub span: Span,
    /// Why.
    pub by: BoundBy,
    /// Of that, how long the busiest of a resource is busy at least.
    pub busy: Span,
}

/// How one print uses one resource: all together, what goes before the first use, what comes after the last.
fn usage(blocks: &[Block], resource: Resource) -> Option<(u64, u64, u64)> {
    let (mut at, mut load, mut head, mut end) = (0, 0, None, 0);
    for block in blocks {
        for demand in block.demands.iter().filter(|own| own.resource == resource) {
            load += demand.length;
            let from = at + block.phases.get(demand.phase).map_or(0, |phase| phase.from);
            head = Some(head.map_or(from, |own: u64| own.min(from)));
            end = end.max(from + demand.length);
        }
        at += block.length();
    }
    head.map(|head| (load, head, at - end))
}

/// The length of a print that never waits.
pub(super) fn alone(blocks: &[Block]) -> u64 {
    blocks.iter().map(Block::length).sum()
}

impl Bound {
    /// The bound of these prints with these means: the longest print by itself, or the busiest resource with the least
    /// that must go before it and come after it, whichever is longer.
    ///
    /// # Errors
    /// [`SessionError::TooLong`] when it is over 30 days.
    pub fn of(sheets: &[Sheet], means: &Means) -> Result<Self, SessionError> {
        let chains: alloc::vec::Vec<_> = sheets.iter().map(Sheet::blocks).collect();
        let (mut length, mut by, mut busy) = (0, BoundBy::Print(0), 0);
        for (print, blocks) in chains.iter().enumerate() {
            if alone(blocks) > length {
                (length, by) = (alone(blocks), BoundBy::Print(print));
            }
        }
        let kinds = [Resource::Lamp, Resource::Frame, Resource::Hand, Resource::DryingPlace, Resource::HumidBox]
            .into_iter()
            .chain([Resource::Developer])
            .chain((1..=3).map(Resource::Clearing))
            .chain([Resource::Wash]);
        for resource in kinds {
            let mut whole: Option<(u64, u64, u64)> = None;
            for own in chains.iter().filter_map(|blocks| usage(blocks, resource)) {
                whole = Some(whole.map_or(own, |(load, head, tail)| (load + own.0, head.min(own.1), tail.min(own.2))));
            }
            let Some((load, head, tail)) = whole else { continue };
            let own_busy = load.div_ceil(u64::from(means.of(resource)).max(1));
            if head + own_busy + tail > length {
                (length, by, busy) = (head + own_busy + tail, BoundBy::Busy(resource), own_busy);
            }
        }
        Ok(Self { span: span(length)?, by, busy: span(busy)? })
    }
}
