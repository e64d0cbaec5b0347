//! When each hand, lamp, frame and tray is busy.

use alloc::collections::BTreeMap;
use alloc::vec::Vec;

use super::sheet::{Block, Demand};
use super::{Means, Resource};

/// Whose time it is: the print, and which of its blocks.
pub(super) type Owner = (usize, usize);

#[derive(Clone, Copy, Debug)]
struct Busy {
    from: u64,
    to: u64,
    owner: Owner,
}

/// A demand that found its place: in order of the block's demands, which unit.
pub(super) type Units = Vec<u16>;

/// Busy times, one list for each single thing, in order.
#[derive(Clone, Debug)]
pub(super) struct Calendar {
    means: Means,
    units: BTreeMap<Resource, Vec<Vec<Busy>>>,
}

impl Calendar {
    pub(super) fn new(means: Means) -> Self {
        Self { means, units: BTreeMap::new() }
    }

    fn of(&mut self, resource: Resource) -> &mut Vec<Vec<Busy>> {
        let count = usize::from(self.means.of(resource));
        self.units.entry(resource).or_insert_with(|| alloc::vec![Vec::new(); count])
    }

    /// The first time from `from` on at which one thing of its kind is free for so long.
    fn free(&mut self, resource: Resource, from: u64, length: u64) -> u64 {
        let mut best = u64::MAX;
        for unit in self.of(resource) {
            let mut at = from;
            for busy in unit.iter().filter(|busy| busy.to > from) {
                if busy.from >= at + length {
                    break;
                }
                at = at.max(busy.to);
            }
            best = best.min(at);
        }
        best
    }

    /// The first time from `ready` on at which the whole block fits. There is at least one of all that it needs.
    pub(super) fn fit(&mut self, block: &Block, ready: u64) -> u64 {
        let mut at = ready;
        loop {
            let mut moved = false;
            for demand in &block.demands {
                let free = self.free(demand.resource, at + demand.from, demand.length);
                if free > at + demand.from && free < u64::MAX {
                    at = free - demand.from;
                    moved = true;
                }
            }
            if !moved {
                return at;
            }
        }
    }

    /// A thing of its kind that is free at that time: the preferred one, else the first.
    pub(super) fn unit_at(&mut self, demand: &Demand, at: u64, prefer: Option<u16>) -> Option<u16> {
        let (from, to) = (at + demand.from, at + demand.from + demand.length);
        let units = self.of(demand.resource);
        let idle = |unit: &Vec<Busy>| unit.iter().all(|busy| busy.to <= from || busy.from >= to);
        let preferred = prefer.filter(|own| units.get(usize::from(*own)).is_some_and(idle));
        preferred.or_else(|| units.iter().position(idle).and_then(|place| u16::try_from(place).ok()))
    }

    /// Marks one thing as busy.
    pub(super) fn occupy(&mut self, resource: Resource, unit: u16, from: u64, to: u64, owner: Owner) {
        if let Some(own) = self.of(resource).get_mut(usize::from(unit)) {
            let place = own.partition_point(|busy| busy.from < from);
            own.insert(place, Busy { from, to, owner });
        }
    }

    /// Takes a block's times back.
    pub(super) fn release(&mut self, owner: Owner) {
        for unit in self.units.values_mut().flatten() {
            unit.retain(|busy| busy.owner != owner);
        }
    }
}
