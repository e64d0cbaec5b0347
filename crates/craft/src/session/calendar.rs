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

/// Where a block stands: when each phase begins, and which unit serves each demand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Stand {
    pub(super) begins: Vec<u64>,
    pub(super) units: Vec<u16>,
}

impl Stand {
    /// When a phase is over: when the next begins, or at the end of the last.
    pub(super) fn phase_end(&self, block: &Block, phase: usize) -> u64 {
        let length = block.phases.get(phase).map_or(0, |own| own.length);
        self.begins.get(phase + 1).copied().unwrap_or_else(|| self.begin(phase) + length)
    }

    pub(super) fn begin(&self, phase: usize) -> u64 {
        self.begins.get(phase).copied().unwrap_or_default()
    }

    /// When the whole block is over.
    pub(super) fn end(&self, block: &Block) -> u64 {
        block.phases.len().checked_sub(1).map_or(0, |last| self.phase_end(block, last))
    }

    /// From when until when a demand holds.
    pub(super) fn held(&self, block: &Block, demand: &Demand) -> (u64, u64) {
        let from = self.begin(demand.phase);
        let until = if demand.holds { self.phase_end(block, demand.phase) } else { 0 };
        (from, until.max(from + demand.length))
    }
}

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

    /// The first phases from `ready` on at which the whole block fits. There is at least one of all that it needs.
    pub(super) fn fit(&mut self, block: &Block, ready: u64) -> Vec<u64> {
        let mut at = ready;
        loop {
            match self.try_at(block, at) {
                Ok(begins) => return begins,
                // At least a little later; what is busy for ever is nowhere in a calendar.
                Err(later) => at += later.max(1),
            }
        }
    }

    /// The phases when the first begins at `at`, or how much later it must begin.
    fn try_at(&mut self, block: &Block, at: u64) -> Result<Vec<u64>, u64> {
        let mut stand = Stand::default();
        let (mut ready, mut overstay) = (at, 0);
        for (place, phase) in block.phases.iter().enumerate() {
            let demands = || block.demands.iter().filter(move |own| own.phase == place);
            let mut begin = ready;
            loop {
                let free = demands().map(|own| self.free(own.resource, begin, own.length)).max().unwrap_or(begin);
                if free <= begin || free == u64::MAX {
                    break;
                }
                begin = free;
            }
            if begin - ready > overstay {
                return Err(begin - ready - overstay);
            }
            stand.begins.push(begin);
            // What stays where it was longer must not be in anybody's way there.
            if let Some(before) = place.checked_sub(1) {
                let from = stand.begin(before);
                for own in block.demands.iter().filter(|own| own.phase == before && own.holds) {
                    let free = self.free(own.resource, from, begin - from);
                    if free > from && free < u64::MAX {
                        return Err(free - from);
                    }
                }
            }
            (ready, overstay) = (begin + phase.length, phase.overstay);
        }
        Ok(stand.begins)
    }

    /// A thing of its kind that is free in that time: the preferred one, else the first.
    pub(super) fn unit_in(&mut self, resource: Resource, (from, to): (u64, u64), prefer: Option<u16>) -> Option<u16> {
        let units = self.of(resource);
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
