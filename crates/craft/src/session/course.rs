//! Following the day as it really goes: what is in hand stays, the rest is moved.

use alloc::collections::BTreeMap;
use alloc::vec::Vec;

use super::calendar::Calendar;
use super::schedule::{Job, Layout, span};
use super::sheet::Block;
use super::{Means, Resource, Schedule, SessionError, Sheet, Step, Task, Use};
use crate::measure::Span;

/// What happened to one print.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Happened {
    /// The step in hand is done, and the one that follows without a wait begins; with none in hand the next begins.
    Next,
    /// The step in hand, or the next, is left out.
    Skip,
    /// The print is spoiled; nothing more is done with it.
    Spoiled,
    /// The sheet is given up and a new one is coated.
    Recoated,
    /// The step in hand takes so much longer; with none in hand the next waits so long.
    Late(Span),
}

/// Where one print stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct State {
    /// Steps done, of all its sheets.
    pub done: Vec<Task>,
    /// The step in hand; its end is expected.
    pub in_hand: Option<Task>,
    /// Sheets coated for it in vain.
    pub given_up: u16,
    /// Whether it was spoiled for good.
    pub spoiled: bool,
    rest: Vec<Block>,
    started: bool,
    ready: u64,
}

/// Why something cannot have happened.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CourseError {
    /// No such print.
    #[error("there is no print {print}; expected 1 to {prints}")]
    PrintUnknown {
        /// As asked for, counted from 1.
        print: usize,
        /// How many there are.
        prints: usize,
    },
    /// Before something that is already noted.
    #[error("that would be before what happened last; expected {} or later", last.clock())]
    BackInTime {
        /// When that was.
        last: Span,
    },
    /// A print with nothing left to do.
    #[error("print {print} is finished")]
    Finished {
        /// Counted from 1.
        print: usize,
    },
    /// No plan any more.
    #[error(transparent)]
    Session(#[from] SessionError),
}

/// A session as it goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Course {
    sheets: Vec<Sheet>,
    means: Means,
    now: Span,
    states: Vec<State>,
    ahead: Schedule,
}

impl Course {
    /// A session that has not begun, as planned.
    ///
    /// # Errors
    /// [`SessionError`], as [`Schedule::make`].
    pub fn begin(sheets: Vec<Sheet>, means: Means) -> Result<Self, SessionError> {
        let ahead = Schedule::make(&sheets, &means)?;
        let fresh = |sheet: &Sheet| State {
            done: Vec::new(),
            in_hand: None,
            given_up: 0,
            spoiled: false,
            rest: sheet.blocks(),
            started: false,
            ready: 0,
        };
        let states = sheets.iter().map(fresh).collect();
        Ok(Self { sheets, means, now: Span::ZERO, states, ahead })
    }

    /// Where each print stands.
    #[must_use]
    pub fn states(&self) -> &[State] {
        &self.states
    }

    /// When something was noted last.
    #[must_use]
    pub fn now(&self) -> Span {
        self.now
    }

    /// What is still ahead: neither done nor in hand.
    #[must_use]
    pub fn ahead(&self) -> &Schedule {
        &self.ahead
    }

    /// Everything: done, in hand and ahead.
    #[must_use]
    pub fn whole(&self) -> Schedule {
        let mut out = self.ahead.clone();
        out.tasks.extend(self.states.iter().flat_map(|state| state.done.iter().chain(&state.in_hand)).cloned());
        out.sort();
        out
    }

    /// Notes what happened to a print at a time, and plans the rest anew around what is in hand. On an error nothing
    /// changes.
    ///
    /// # Errors
    /// [`CourseError`] when it cannot have happened, or when the rest has no plan.
    pub fn advance(&mut self, print: usize, at: Span, what: Happened) -> Result<(), CourseError> {
        let mut next = self.clone();
        next.note(print, at, what)?;
        next.plan()?;
        *self = next;
        Ok(())
    }

    fn note(&mut self, print: usize, at: Span, what: Happened) -> Result<(), CourseError> {
        if at < self.now {
            return Err(CourseError::BackInTime { last: self.now });
        }
        let prints = self.states.len();
        let planned = self.ahead.tasks.iter().find(|task| task.print == print).cloned();
        let taken = self.taken(at);
        let (Some(state), Some(sheet)) = (self.states.get_mut(print), self.sheets.get(print)) else {
            return Err(CourseError::PrintUnknown { print: print + 1, prints });
        };
        let idle = state.in_hand.is_none() && state.rest.is_empty();
        if idle && (state.spoiled || what != Happened::Recoated) {
            return Err(CourseError::Finished { print: print + 1 });
        }
        match what {
            Happened::Next if state.in_hand.is_some() => {
                state.lay_down(at);
                if state.started {
                    state.take_up(print, at, planned.as_ref(), &taken, &self.means)?;
                }
            }
            Happened::Next => state.take_up(print, at, planned.as_ref(), &taken, &self.means)?,
            Happened::Skip if state.in_hand.is_some() => state.lay_down(at),
            Happened::Skip => state.drop_first(),
            Happened::Spoiled => {
                state.lay_down(at);
                state.rest.clear();
                state.spoiled = true;
            }
            Happened::Recoated => {
                state.lay_down(at);
                state.rest = sheet.blocks();
                state.given_up = state.given_up.saturating_add(1);
                (state.started, state.ready) = (false, at.to_milliseconds());
            }
            Happened::Late(by) => {
                let until = at.to_milliseconds().saturating_add(by.to_milliseconds());
                match &mut state.in_hand {
                    Some(task) => task.last_until(span(task.ends.to_milliseconds().max(until))?),
                    None => state.ready = until,
                }
            }
        }
        self.now = at;
        Ok(())
    }

    /// What others have in hand, with what they use at that time.
    fn taken(&self, at: Span) -> Vec<(Resource, u16)> {
        let held = |task: &Task| {
            // What is held to the end of a step is held until somebody says that it is over.
            let held = task.uses.iter().filter(|own| own.ends > at || own.ends >= task.ends);
            held.map(|own| (own.resource, own.unit)).collect::<Vec<_>>()
        };
        self.states.iter().filter_map(|state| state.in_hand.as_ref()).flat_map(held).collect()
    }

    fn plan(&mut self) -> Result<(), CourseError> {
        let now = self.now.to_milliseconds();
        let mut calendar = Calendar::new(self.means);
        let mut jobs = Vec::new();
        for (print, state) in self.states.iter().enumerate() {
            let mut job = Job { blocks: state.rest.clone(), ready: now.max(state.ready), ..Job::default() };
            job.started = state.started;
            job.since = state.done.last().filter(|_| state.keeps_waiting()).map(|task| task.ends.to_milliseconds());
            let uses = state.done.iter().chain(&state.in_hand).flat_map(|task| &task.uses);
            job.used = uses.map(|own| (own.resource, own.unit)).collect::<BTreeMap<_, _>>();
            if let Some(task) = &state.in_hand {
                // What should be over and is not lasts at least until now.
                let end = task.ends.to_milliseconds().max(now);
                (job.ready, job.since) = (end, Some(end));
                for own in &task.uses {
                    let until = if own.ends >= task.ends { end } else { own.ends.to_milliseconds() };
                    calendar.occupy(own.resource, own.unit, own.begins.to_milliseconds(), until, (print, usize::MAX));
                }
            }
            jobs.push(job);
        }
        let mut layout = Layout::new(&jobs, calendar);
        // What goes on with something in hand comes first, the earliest end before the others.
        let mut started: Vec<usize> = (0..jobs.len()).filter(|&own| self.is_started(own)).collect();
        started.sort_by_key(|&print| jobs.get(print).map_or(0, |job| job.ready));
        for print in started {
            layout.settle(print, 0, 0).ok_or(SessionError::TooLong)?;
            // What has to wait for it stays where it is.
            let (Some(task), Some(job)) =
                (self.states.get(print).and_then(|own| own.in_hand.as_ref()), jobs.get(print))
            else {
                continue;
            };
            for own in task.uses.iter().filter(|own| own.ends >= task.ends && own.resource != Resource::Hand) {
                layout.keep(print, own.resource, own.unit, job.ready);
            }
        }
        // The others keep the order they were planned in.
        let before = self.ahead.clone();
        let planned = |print: usize, place: usize| {
            let step = jobs.get(print)?.blocks.get(place)?.phases.first()?.step;
            let task = before.tasks.iter().find(|task| task.print == print && task.step == step)?;
            Some(task.begins.to_milliseconds())
        };
        let end = jobs.iter().map(|job| job.ready).max().unwrap_or(now).max(layout.end());
        let found = layout.clone().run(|_, print, place| (planned(print, place).unwrap_or(u64::MAX), 0));
        let found = found.or_else(|| layout.clone().by_critical_path()).or_else(|| layout.one_by_one(end));
        self.ahead = found.ok_or(SessionError::TooLong)?.schedule()?;
        Ok(())
    }

    fn is_started(&self, print: usize) -> bool {
        self.states.get(print).is_some_and(|state| state.started && !state.rest.is_empty())
    }
}

impl Task {
    /// Moves its expected end, with what it uses to its end.
    fn last_until(&mut self, end: Span) {
        for own in self.uses.iter_mut().filter(|own| own.ends >= self.ends) {
            own.ends = end;
        }
        (self.due, self.ends) = (end, end);
    }
}

impl State {
    /// The step that comes next, when none is in hand.
    #[must_use]
    pub fn next(&self) -> Option<Step> {
        self.rest.first()?.phases.first().map(|phase| phase.step)
    }

    /// Whether nothing is left to do.
    #[must_use]
    pub fn is_finished(&self) -> bool {
        self.in_hand.is_none() && self.rest.is_empty()
    }

    fn keeps_waiting(&self) -> bool {
        self.in_hand.is_none() && self.rest.first().is_some_and(|block| block.limit.is_some())
    }

    /// Ends what is in hand.
    fn lay_down(&mut self, at: Span) {
        if let Some(mut task) = self.in_hand.take() {
            task.ends = at;
            for own in &mut task.uses {
                own.ends = own.ends.min(at);
            }
            self.done.push(task);
        }
    }

    /// Takes the first step off the rest.
    fn drop_first(&mut self) {
        let Some(first) = self.rest.first() else { return };
        match first.without_first() {
            Some(rest) => {
                if let Some(own) = self.rest.first_mut() {
                    *own = rest;
                }
                self.started = true;
            }
            None => {
                self.rest.remove(0);
                self.started = false;
            }
        }
    }

    /// Begins the next step. What is planned for it and free is used; what is all taken is not counted.
    fn take_up(
        &mut self,
        print: usize,
        at: Span,
        planned: Option<&Task>,
        taken: &[(Resource, u16)],
        means: &Means,
    ) -> Result<(), SessionError> {
        let Some(block) = self.rest.first() else { return Ok(()) };
        let Some(phase) = block.phases.first().copied() else { return Ok(()) };
        let begins = at.to_milliseconds();
        let ends = span(begins + phase.length)?;
        let mut uses = Vec::new();
        for demand in block.demands.iter().filter(|own| own.phase == 0) {
            let planned = planned.and_then(|task| task.uses.iter().find(|own| own.resource == demand.resource));
            let all = planned.map(|own| own.unit).into_iter().chain(0..means.of(demand.resource));
            let free = all.into_iter().find(|unit| !taken.contains(&(demand.resource, *unit)));
            if let Some(unit) = free {
                let until = span(begins + demand.length.min(phase.length))?;
                uses.push(Use { resource: demand.resource, unit, begins: at, ends: until });
            }
        }
        self.in_hand = Some(Task { print, step: phase.step, begins: at, due: ends, ends, uses });
        self.drop_first();
        Ok(())
    }
}
