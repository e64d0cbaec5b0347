//! Laying the blocks of all prints out in time: list scheduling on calendars.
//!
//! Blocks are taken one after the other from a list and put where they first fit. Several lists are tried, the one by
//! critical path first; last the prints one by one, so that a plan is never longer than that. Same prints, same plan.

use alloc::collections::BTreeMap;
use alloc::vec::Vec;

use super::bound::alone;
use super::calendar::{Calendar, Units};
use super::sheet::Block;
use super::{Means, Resource, Sheet, Step};
use crate::measure::{OutOfBounds, Span};

/// The most prints of one session: beyond it there is a slip of the pen.
pub const MOST_PRINTS: usize = 60;
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
    /// When it is over.
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

type Placed = Option<(u64, Units)>;

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

    fn beginning(&self, print: usize, place: usize) -> Option<u64> {
        self.placed.get(print)?.get(place)?.as_ref().map(|(at, _)| *at)
    }

    /// When the block before is over.
    fn end_before(&self, print: usize, place: usize) -> Option<u64> {
        let Some(before) = place.checked_sub(1) else { return self.jobs.get(print)?.since };
        Some(self.beginning(print, before)? + self.block(print, before)?.length())
    }

    fn ready(&self, print: usize, place: usize) -> u64 {
        let ready = self.jobs.get(print).map_or(0, |job| job.ready);
        self.end_before(print, place).unwrap_or(0).max(ready)
    }

    fn put(&mut self, print: usize, place: usize, at: u64) -> Option<()> {
        let block = self.block(print, place)?;
        let mut used = self.jobs.get(print)?.used.clone();
        for (own, (_, units)) in
            self.placed.get(print)?.iter().enumerate().filter_map(|(own, p)| Some((own, p.as_ref()?)))
        {
            let demands = self.block(print, own).map(|block| block.demands.iter()).into_iter().flatten();
            used.extend(demands.zip(units).map(|(demand, unit)| (demand.resource, *unit)));
        }
        let mut units = Units::new();
        for demand in &block.demands {
            let unit = self.calendar.unit_at(demand, at, used.get(&demand.resource).copied())?;
            used.insert(demand.resource, unit);
            let from = at + demand.from;
            self.calendar.occupy(demand.resource, unit, from, from + demand.length, (print, place));
            units.push(unit);
        }
        *self.placed.get_mut(print)?.get_mut(place)? = Some((at, units));
        Some(())
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
            let at = self.calendar.fit(block, ready.max(not_before));
            let since = self.end_before(print, place).unwrap_or(ready);
            let too_late = block.limit.is_some_and(|limit| at > since.saturating_add(limit));
            let Some(before) = place.checked_sub(1).filter(|_| too_late) else {
                return self.put(print, place, at);
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
                if self.beginning(print, place).is_none() {
                    at = self.calendar.fit(self.block(print, place)?, at.max(self.ready(print, place)));
                    self.put(print, place, at)?;
                    at += self.block(print, place)?.length();
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
            let at = own.block(print, place).map_or(0, |block| own.calendar.fit(block, ready));
            (at, u64::MAX - own.tail(print, place))
        })
    }

    /// Print after print, each filling the gaps the earlier ones left.
    fn by_print(self) -> Option<Self> {
        self.run(|_, _, _| (0, 0))
    }

    /// When the last step is over.
    pub(super) fn end(&self) -> u64 {
        let ends = (0..self.jobs.len()).filter_map(|print| self.end_before(print, self.jobs.get(print)?.blocks.len()));
        ends.max().unwrap_or(0)
    }

    /// The shortest of the lists; of equals the first.
    pub(super) fn best(self, from: u64) -> Option<Self> {
        let all = [
            self.clone().by_critical_path(),
            self.clone().by_earliest(),
            self.clone().by_print(),
            self.one_by_one(from),
        ];
        all.into_iter().flatten().min_by_key(Self::end)
    }

    /// The plan, as tasks.
    pub(super) fn schedule(&self) -> Result<Schedule, SessionError> {
        let mut out = Schedule::default();
        for (print, job) in self.jobs.iter().enumerate() {
            for (place, block) in job.blocks.iter().enumerate() {
                let Some(Some((at, units))) = self.placed.get(print).and_then(|own| own.get(place)) else { continue };
                let waited = self.end_before(print, place).map(|end| at.saturating_sub(end));
                let limit = block.limit.filter(|limit| waited.is_some_and(|waited| waited > *limit));
                if let (Some(limit), Some(waits), Some(first)) = (limit, waited, block.phases.first()) {
                    out.stale.push(Stale { print, step: first.step, waits: span(waits)?, keeps: span(limit)? });
                }
                for phase in &block.phases {
                    let mut uses = Vec::new();
                    for (demand, unit) in block.demands.iter().zip(units).filter(|(own, _)| own.step == phase.step) {
                        let begins = at + demand.from;
                        let (resource, unit, ends) = (demand.resource, *unit, span(begins + demand.length)?);
                        uses.push(Use { resource, unit, begins: span(begins)?, ends });
                    }
                    let (begins, ends) = (span(at + phase.from)?, span(at + phase.from + phase.length)?);
                    out.tasks.push(Task { print, step: phase.step, begins, ends, uses });
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
