//! Laying the blocks of all prints out in time: list scheduling on calendars.
//!
//! Blocks are taken one after the other from a list and put where they first fit. Several lists are tried, the one by
//! critical path first, some by chance; last the prints one by one, so that a plan is never longer than that. Same prints, same plan.

use alloc::collections::BTreeMap;
use alloc::vec::Vec;

use super::bound::alone;
use super::calendar::{Calendar, Stand};
use super::sheet::Block;
use super::{Means, Resource, Sheet, Step};
use crate::measure::{OutOfBounds, Span};

/// The most prints of one session: beyond it there is a slip of the pen.
pub const MOST_PRINTS: usize = 60;
/// How many blocks are laid out by chance in all, and how many lists at most: a plan is made while somebody waits.
const CHANCES: usize = 3000;
const MOST_CHANCES: usize = 100;
/// How often one block is moved so that the next need not wait too long.
const TRIES: usize = 64;

/// So much of one thing for a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Use {
    /// What.
    pub resource: Resource,
    /// Which of them, counted from 0.
    pub unit: u16,
    /// From.
    pub begins: Span,
    /// Until.
    pub ends: Span,
}

/// One step of one print in its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Task {
    /// Which print, counted from 0.
    pub print: usize,
    /// Which step.
    pub step: Step,
    /// When it begins.
    pub begins: Span,
    /// When its own time is over.
    pub due: Span,
    /// When the sheet is taken on; in a bath that may be a little later.
    pub ends: Span,
    /// What it uses, and when.
    pub uses: Vec<Use>,
}

/// A sheet that waits longer than it keeps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stale {
    /// Which print.
    pub print: usize,
    /// Before which step.
    pub step: Step,
    /// How long it waits.
    pub waits: Span,
    /// How long it keeps.
    pub keeps: Span,
}

/// A plan: every step in its place.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Schedule {
    /// All steps, by their beginning, then by print.
    pub tasks: Vec<Task>,
    /// Sheets that wait too long; empty unless something went otherwise than planned.
    pub stale: Vec<Stale>,
}

/// Why there is no plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SessionError {
    /// Nothing to do.
    #[error("there is nothing to print; expected at least one print with a step that takes time")]
    Nothing,
    /// More than anybody prints.
    #[error("{prints} prints are more than a session holds; expected at most {MOST_PRINTS}")]
    TooMany {
        /// How many.
        prints: usize,
    },
    /// A resource that is needed and not there.
    #[error("a {resource} is needed and there is none")]
    Missing {
        /// Which.
        resource: Resource,
    },
    /// Longer than a span of time can be.
    #[error("the session would take longer than 30 days")]
    TooLong,
}

impl From<OutOfBounds> for SessionError {
    fn from(_: OutOfBounds) -> Self {
        Self::TooLong
    }
}

pub(super) fn span(milliseconds: u64) -> Result<Span, SessionError> {
    Ok(Span::milliseconds(milliseconds)?)
}

/// The next of a row of numbers that look like chance (an odd step and a mix of bits); the same row every time.
fn chance(seed: &mut u64) -> u64 {
    *seed = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mixed = (*seed ^ (*seed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    (mixed ^ (mixed >> 27)) >> 8
}

/// What is still to be done of one print.
#[derive(Clone, Debug, Default)]
pub(super) struct Job {
    pub(super) blocks: Vec<Block>,
    /// Not before this.
    pub(super) ready: u64,
    /// When what went before was over; the first block's limit counts from there.
    pub(super) since: Option<u64>,
    /// The first block goes on with something in hand.
    pub(super) started: bool,
    /// Things it used last.
    pub(super) used: BTreeMap<Resource, u16>,
}

type Placed = Option<Stand>;

/// Blocks being laid out.
#[derive(Clone, Debug)]
pub(super) struct Layout<'a> {
    jobs: &'a [Job],
    calendar: Calendar,
    placed: Vec<Vec<Placed>>,
}

impl<'a> Layout<'a> {
    pub(super) fn new(jobs: &'a [Job], calendar: Calendar) -> Self {
        let placed = jobs.iter().map(|job| alloc::vec![None; job.blocks.len()]).collect();
        Self { jobs, calendar, placed }
    }

    fn block(&self, print: usize, place: usize) -> Option<&'a Block> {
        self.jobs.get(print)?.blocks.get(place)
    }

    pub(super) fn stand(&self, print: usize, place: usize) -> Option<&Stand> {
        self.placed.get(print)?.get(place)?.as_ref()
    }

    /// When the block before is over.
    fn end_before(&self, print: usize, place: usize) -> Option<u64> {
        let Some(before) = place.checked_sub(1) else { return self.jobs.get(print)?.since };
        Some(self.stand(print, before)?.end(self.block(print, before)?))
    }

    fn ready(&self, print: usize, place: usize) -> u64 {
        let ready = self.jobs.get(print).map_or(0, |job| job.ready);
        self.end_before(print, place).unwrap_or(0).max(ready)
    }

    fn put(&mut self, print: usize, place: usize, begins: Vec<u64>) -> Option<()> {
        let block = self.block(print, place)?;
        let mut used = self.jobs.get(print)?.used.clone();
        for before in 0..place {
            let (Some(stand), Some(block)) = (self.stand(print, before), self.block(print, before)) else { continue };
            used.extend(block.demands.iter().zip(&stand.units).map(|(demand, unit)| (demand.resource, *unit)));
        }
        let mut stand = Stand { begins, units: Vec::new() };
        for demand in &block.demands {
            let (from, until) = stand.held(block, demand);
            let unit = self.calendar.unit_in(demand.resource, (from, until), used.get(&demand.resource).copied())?;
            used.insert(demand.resource, unit);
            self.calendar.occupy(demand.resource, unit, from, until, (print, place));
            stand.units.push(unit);
        }
        *self.placed.get_mut(print)?.get_mut(place)? = Some(stand);
        Some(())
    }

    /// Keeps a place that is in use from `from` until the first block of a print begins.
    pub(super) fn keep(&mut self, print: usize, resource: Resource, unit: u16, from: u64) {
        let until = self.stand(print, 0).map_or(from, |stand| stand.begin(0));
        if until > from {
            self.calendar.occupy(resource, unit, from, until, (print, usize::MAX));
        }
    }

    fn lift(&mut self, print: usize, place: usize) {
        self.calendar.release((print, place));
        if let Some(own) = self.placed.get_mut(print).and_then(|own| own.get_mut(place)) {
            *own = None;
        }
    }

    /// Puts a block where it first fits. When it would wait longer than the sheet keeps, the block before is moved.
    pub(super) fn settle(&mut self, print: usize, place: usize, not_before: u64) -> Option<()> {
        let block = self.block(print, place)?;
        for _ in 0..TRIES {
            let ready = self.ready(print, place);
            let begins = self.calendar.fit(block, ready.max(not_before));
            let at = begins.first().copied()?;
            let since = self.end_before(print, place).unwrap_or(ready);
            let too_late = block.limit.is_some_and(|limit| at > since.saturating_add(limit));
            let Some(before) = place.checked_sub(1).filter(|_| too_late) else {
                return self.put(print, place, begins);
            };
            let length = self.block(print, before)?.length();
            let earlier = at.checked_sub(block.limit.unwrap_or(0) + length)?;
            self.lift(print, before);
            self.settle(print, before, earlier)?;
        }
        None
    }

    /// Lays everything out; of each print's next blocks the one with the least key comes first.
    pub(super) fn run(mut self, mut key: impl FnMut(&mut Self, usize, usize) -> (u64, u64)) -> Option<Self> {
        loop {
            let mut best: Option<((u64, u64), usize, usize)> = None;
            for print in 0..self.jobs.len() {
                let Some(place) = self.placed.get(print)?.iter().position(Option::is_none) else { continue };
                let own = (key(&mut self, print, place), print, place);
                if best.is_none_or(|best| own < best) {
                    best = Some(own);
                }
            }
            let Some((_, print, place)) = best else { return Some(self) };
            self.settle(print, place, 0)?;
        }
    }

    /// One print after the other, each without a wait.
    pub(super) fn one_by_one(mut self, from: u64) -> Option<Self> {
        let mut at = from;
        for print in 0..self.jobs.len() {
            for place in 0..self.placed.get(print)?.len() {
                if self.stand(print, place).is_none() {
                    let begins = self.calendar.fit(self.block(print, place)?, at.max(self.ready(print, place)));
                    self.put(print, place, begins)?;
                    at = self.end_before(print, place + 1)?;
                }
            }
        }
        Some(self)
    }

    /// What comes after a block has begun, itself included.
    fn tail(&self, print: usize, place: usize) -> u64 {
        self.jobs.get(print).map_or(0, |job| job.blocks.iter().skip(place).map(Block::length).sum())
    }

    /// First what waits for nothing more than its critical path.
    pub(super) fn by_critical_path(self) -> Option<Self> {
        self.run(|own, print, place| (u64::MAX - own.tail(print, place), 0))
    }

    /// First what can begin first; of those the longer path.
    fn by_earliest(self) -> Option<Self> {
        self.run(|own, print, place| {
            let ready = own.ready(print, place);
            let at = own.block(print, place).and_then(|block| own.calendar.fit(block, ready).first().copied());
            (at.unwrap_or(ready), u64::MAX - own.tail(print, place))
        })
    }

    /// Print after print, each filling the gaps the earlier ones left.
    fn by_print(self) -> Option<Self> {
        self.run(|_, _, _| (0, 0))
    }

    /// By critical path, each block a little earlier or later in the list by chance; the same chance every time.
    fn by_chance(self, mut seed: u64) -> Option<Self> {
        let most = (0..self.jobs.len()).map(|print| self.tail(print, 0)).max().unwrap_or(0).max(1);
        let chances: Vec<Vec<u64>> =
            (self.jobs.iter()).map(|job| job.blocks.iter().map(|_| chance(&mut seed) % most).collect()).collect();
        self.run(|own, print, place| {
            let luck = chances.get(print).and_then(|own| own.get(place)).copied().unwrap_or(0);
            (u64::MAX - own.tail(print, place) - luck, 0)
        })
    }

    /// When the last step is over.
    pub(super) fn end(&self) -> u64 {
        let ends = (0..self.jobs.len()).filter_map(|print| self.end_before(print, self.jobs.get(print)?.blocks.len()));
        ends.max().unwrap_or(0)
    }

    /// The shortest of the lists; of equals the first.
    pub(super) fn best(self, from: u64) -> Option<Self> {
        let blocks: usize = self.jobs.iter().map(|job| job.blocks.len()).sum();
        let chances = (CHANCES / blocks.max(1)).min(MOST_CHANCES) as u64;
        let lists = [self.clone().by_critical_path(), self.clone().by_earliest(), self.clone().by_print()];
        let by_chance = (0..chances).map(|seed| self.clone().by_chance(seed));
        let all = lists.into_iter().chain(by_chance).chain([self.clone().one_by_one(from)]);
        all.flatten().min_by_key(Self::end)
    }

    /// The plan, as tasks.
    pub(super) fn schedule(&self) -> Result<Schedule, SessionError> {
        let mut out = Schedule::default();
        for (print, job) in self.jobs.iter().enumerate() {
            for (place, block) in job.blocks.iter().enumerate() {
                let Some(stand) = self.stand(print, place) else { continue };
                let waited = self.end_before(print, place).map(|end| stand.begin(0).saturating_sub(end));
                let limit = block.limit.filter(|limit| waited.is_some_and(|waited| waited > *limit));
                if let (Some(limit), Some(waits), Some(first)) = (limit, waited, block.phases.first()) {
                    out.stale.push(Stale { print, step: first.step, waits: span(waits)?, keeps: span(limit)? });
                }
                for (own, phase) in block.phases.iter().enumerate() {
                    let mut uses = Vec::new();
                    for (demand, unit) in
                        block.demands.iter().zip(&stand.units).filter(|(demand, _)| demand.phase == own)
                    {
                        let (from, until) = stand.held(block, demand);
                        let (begins, ends) = (span(from)?, span(until)?);
                        uses.push(Use { resource: demand.resource, unit: *unit, begins, ends });
                    }
                    let (begins, ends) = (span(stand.begin(own))?, span(stand.phase_end(block, own))?);
                    let due = span(stand.begin(own) + phase.length)?;
                    out.tasks.push(Task { print, step: phase.step, begins, due, ends, uses });
                }
            }
        }
        out.sort();
        Ok(out)
    }
}

/// Whether everything that is needed is there.
pub(super) fn check(sheets: &[Sheet], means: &Means) -> Result<(), SessionError> {
    let chains: Vec<_> = sheets.iter().map(Sheet::blocks).collect();
    if chains.iter().all(Vec::is_empty) {
        return Err(SessionError::Nothing);
    }
    if sheets.len() > MOST_PRINTS {
        return Err(SessionError::TooMany { prints: sheets.len() });
    }
    let demands = chains.iter().flatten().flat_map(|block| &block.demands);
    if let Some(demand) = demands.into_iter().find(|own| means.of(own.resource) == 0) {
        return Err(SessionError::Missing { resource: demand.resource });
    }
    // Nothing below grows beyond it.
    span(chains.iter().map(|blocks| alone(blocks)).sum()).map(|_| ())
}

impl Schedule {
    /// Plans the prints with what there is.
    ///
    /// # Errors
    /// [`SessionError`] when there is nothing to do, too much of it, or something needed is not there.
    pub fn make(sheets: &[Sheet], means: &Means) -> Result<Self, SessionError> {
        check(sheets, means)?;
        let jobs: Vec<Job> = sheets.iter().map(|sheet| Job { blocks: sheet.blocks(), ..Job::default() }).collect();
        // One by one fits always: everything that is needed is there and idle.
        let best = Layout::new(&jobs, Calendar::new(*means)).best(0).ok_or(SessionError::TooLong)?;
        best.schedule()
    }

    /// The prints one after the other, each alone.
    ///
    /// # Errors
    /// [`SessionError::TooLong`] when that is over 30 days.
    pub fn one_at_a_time(sheets: &[Sheet]) -> Result<Span, SessionError> {
        span(sheets.iter().map(|sheet| alone(&sheet.blocks())).sum())
    }

    /// When the last step is over.
    #[must_use]
    pub fn total(&self) -> Span {
        self.tasks.iter().map(|task| task.ends).max().unwrap_or(Span::ZERO)
    }

    pub(super) fn sort(&mut self) {
        self.tasks.sort_by_key(|task| (task.begins, task.print, task.step));
    }
}
