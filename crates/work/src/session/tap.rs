//! What somebody taps, and the acts that come of it.
//!
//! An act is done first, under a key made of the session, the print and the step; then the state is kept, unless somebody else kept
//! another meanwhile. So a second tap, two tablets, or a machine that goes out between the two do nothing twice and lose nothing; a
//! refused act leaves the step where it was.

use std::collections::BTreeMap;

use handcoat_book::{ActKey, ActNumber, SessionNumber, SessionRow, TimerNumber};
use handcoat_craft::measure::{Readable, Span};
use handcoat_craft::session::{Reading, Step, Task};
use handcoat_craft::source::LATE_BY;
use serde_json::Value;

use super::begin::unknown;
use super::state::{BATHS, Event, Gone, Made, PourKept, PrintKept, State, What, impossible, print_unknown, span_ms};
use super::timers::{begin_timer, timers};
use super::view::is_by_hand;
use crate::print::{CoatMade, PrintMade, Spoiled, coat_once, open_coats, record_once, spoil_once};
use crate::shelf::Shelf;
use crate::{Moment, Question, Refusal, RefusalKind, Remedy, Studio};

/// What was tapped.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Tapped {
    /// The step in hand is done, or the next begins.
    #[default]
    Next,
    /// The step is left out.
    Skip,
    /// The print is spoiled.
    Spoiled,
    /// The sheet is given up and a new one is coated.
    Recoated,
    /// It takes so much longer, as it was written.
    Late(Option<String>),
    /// One drop more, of the pour at this place.
    Drop(usize),
    /// One drop that was more is taken back, of the pour at this place.
    Less(usize),
    /// A timer for the step in hand.
    Timer,
    /// The session is put away.
    End,
}

/// A tap.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tap {
    /// Which print, counted from 0.
    pub print: usize,
    /// How much had been noted of it when the screen was made; a tap that saw less does nothing.
    pub seen: Option<u32>,
    /// What.
    pub what: Tapped,
}

/// What came of a tap.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Came {
    /// Acts that were done, with what they say of themselves.
    pub said: Vec<String>,
    /// The newest of them.
    pub act: Option<i64>,
    /// It was a second tap, or somebody else was faster; nothing was done.
    pub stale: bool,
}

/// How often a tap is tried again when others are faster.
const TRIES: usize = 8;
/// More drops beyond the plan than this are another coat.
const MOST_MORE: u32 = 500;

pub(super) fn load(studio: &Studio, number: SessionNumber) -> Result<SessionRow, Refusal> {
    studio.book.session(number)?.ok_or_else(|| unknown(format!("there is no session {}", number.get())))
}

/// Does what was tapped.
///
/// # Errors
/// [`Refusal`] when it cannot have happened or an act is refused; the step stays where it was then.
pub fn tap(
    studio: &mut Studio,
    moment: &Moment,
    reading: &Reading,
    number: SessionNumber,
    tap: &Tap,
) -> Result<Came, Refusal> {
    for _ in 0..TRIES {
        let row = load(studio, number)?;
        let mut state = State::read(&row.body)?;
        if row.ended.is_some() {
            if tap.seen.is_some() || tap.what == Tapped::End {
                return Ok(Came { stale: true, ..Came::default() });
            }
            let cause = format!("session {} has ended", number.get());
            return Err(Refusal::rule("session_ended", Question::Session, cause, vec![Remedy::ListSessions]));
        }
        let mut one =
            Tapping { studio, moment, reading, row: &row, state: &mut state, came: Came::default(), away: Vec::new() };
        let mut gone = one.state.gone()?;
        let caught = one.catch_up(&mut gone)?;
        // What was caught up has happened, whatever comes of the tap.
        let before = (!caught.is_empty()).then(|| (one.state.to_body(), gone.all_over()));
        let ended = match (caught.contains(&tap.print) && tap.what != Tapped::End, before) {
            // The tap is the one that was lost, tapped again.
            (true, _) => {
                one.came.stale = true;
                gone.all_over()
            }
            (false, before) => match (one.take(&mut gone, tap), before) {
                (Ok(ended), _) => ended,
                (Err(refusal), None) => return Err(refusal),
                (Err(refusal), Some((body, ended))) => {
                    if studio.book.keep_session(number, moment.at, &row.body, &body, ended)? {
                        return Err(refusal);
                    }
                    continue;
                }
            },
        };
        let (came, away) = (one.came, one.away);
        let body = state.to_body();
        if body == row.body && !ended {
            return Ok(came);
        }
        if studio.book.keep_session(number, moment.at, &row.body, &body, ended)? {
            for timer in away {
                studio.book.end_timer(TimerNumber::new(timer), moment.at)?;
            }
            return Ok(came);
        }
    }
    let (kind, about) = (RefusalKind::Busy, Some(Question::Session));
    let cause = format!("session {} is being changed by somebody else all the time", number.get());
    Err(Refusal { code: "book_busy", kind, about, cause, excerpt: None, remedies: vec![Remedy::TryAgain] })
}

/// The name of a step's timer: by it the timer is found again.
pub(super) fn timer_name(place: usize, title: &str, step: Step) -> String {
    format!("{}. {title}: {step}", place + 1)
}

/// One tap on its way.
struct Tapping<'a> {
    studio: &'a mut Studio,
    moment: &'a Moment,
    reading: &'a Reading,
    row: &'a SessionRow,
    state: &'a mut State,
    came: Came,
    /// Timers whose step is over.
    away: Vec<i64>,
}

impl Tapping<'_> {
    /// Takes the tap; gives whether the session has ended.
    fn take(&mut self, gone: &mut Gone, tap: &Tap) -> Result<bool, Refusal> {
        if tap.what == Tapped::End {
            return Ok(true);
        }
        let prints = self.state.prints.len();
        let Some(own) = self.state.prints.get(tap.print) else {
            let cause =
                format!("there is no print {} in this session; expected 1 to {prints}", tap.print.saturating_add(1));
            return Err(print_unknown(cause));
        };
        if tap.seen.is_some_and(|seen| seen != own.noted) {
            self.came.stale = true;
            return Ok(gone.all_over());
        }
        match &tap.what {
            Tapped::Drop(place) => self.one_drop(gone, tap.print, *place, true)?,
            Tapped::Less(place) => self.one_drop(gone, tap.print, *place, false)?,
            Tapped::Timer => self.timer(gone, tap.print)?,
            Tapped::End => {}
            Tapped::Next => self.happen(gone, tap.print, What::Next)?,
            Tapped::Skip => self.happen(gone, tap.print, What::Skip)?,
            Tapped::Spoiled => self.happen(gone, tap.print, What::Spoiled)?,
            Tapped::Recoated => self.happen(gone, tap.print, What::Recoated)?,
            Tapped::Late(by) => {
                let by = crate::stock::read::<Span>(Question::Late, by.as_ref())?;
                let by = by.map_or((LATE_BY.value * 60_000.0) as u64, Span::to_milliseconds);
                self.happen(gone, tap.print, What::Late(by))?;
            }
        }
        Ok(gone.all_over())
    }

    /// Something happened to a print: whether it can is looked at first, then its acts are done, then it is noted.
    fn happen(&mut self, gone: &mut Gone, print: usize, what: What) -> Result<(), Refusal> {
        let event = Event { print, at_ms: self.state.now(self.reading).to_milliseconds(), what };
        let mut after = gone.clone();
        after.note(&event).map_err(|error| impossible(&error))?;
        let state = gone.course.states().get(print);
        let (in_hand, sheet) = (state.and_then(|own| own.in_hand.clone()), state.map_or(0, |own| own.given_up));
        let step = in_hand.as_ref().map(|task| task.step);
        let ends_step = matches!(what, What::Next | What::Skip | What::Spoiled | What::Recoated);
        if let (Some(task), true) = (&in_hand, ends_step) {
            self.time(print, task)?;
        }
        // What was poured was poured, also onto a sheet that came to nothing.
        if let (Some(Step::Coat(which)), What::Next | What::Spoiled | What::Recoated) = (step, what) {
            self.post_coat(print, sheet, which)?;
        }
        if matches!(what, What::Spoiled | What::Recoated) {
            let at = step.map_or("before the next step".into(), |step| format!("at {step}"));
            let how = if what == What::Spoiled { "spoiled" } else { "given up and coated anew" };
            self.post_spoil(print, sheet, &format!("{how} {at}, session {}", self.row.number.get()))?;
        }
        let done: Vec<Step> = after.done(print).collect();
        let over = after.course.states().get(print).is_some_and(|own| own.is_finished() && !own.spoiled);
        if over && !done.is_empty() {
            self.post_print(print, sheet, &done)?;
        }
        self.note(event);
        *gone = after;
        Ok(())
    }

    fn note(&mut self, event: Event) {
        self.state.events.push(event);
        if let Some(own) = self.state.prints.get_mut(event.print) {
            own.noted = own.noted.saturating_add(1);
        }
    }

    /// A machine that went out after an act and before the state was kept: what the book holds has happened. Gives the prints it
    /// happened to.
    fn catch_up(&mut self, gone: &mut Gone) -> Result<Vec<usize>, Refusal> {
        let mut caught = Vec::new();
        for print in 0..self.state.prints.len() {
            let Some(state) = gone.course.states().get(print).cloned() else { continue };
            let recorded = self.state.prints.get(print).and_then(|own| own.recorded);
            let found = match state.in_hand.as_ref().map(|task| task.step) {
                Some(Step::Coat(which)) => self.in_book(&coat_word(print, state.given_up, which))?,
                Some(_) | None if recorded.is_none() && !state.is_finished() => self.in_book(&print_word(print))?,
                _ => None,
            };
            let Some(record) = found else { continue };
            let coat = state.in_hand.as_ref().is_some_and(|task| matches!(task.step, Step::Coat(_)));
            if let Some(own) = self.state.prints.get_mut(print) {
                if coat {
                    own.made.push(Made { coat: record, sheet: state.given_up });
                    own.more.iter_mut().for_each(|more| *more = 0);
                } else {
                    own.recorded = Some(record);
                }
            }
            if let Some(task) = &state.in_hand {
                self.time(print, task)?;
            }
            let what = if state.in_hand.is_some() { What::Next } else { What::Skip };
            let event = Event { print, at_ms: self.state.now(self.reading).to_milliseconds(), what };
            gone.note(&event).map_err(|error| impossible(&error))?;
            self.note(event);
            caught.push(print);
        }
        Ok(caught)
    }

    fn base_key(&self, word: &str) -> String {
        format!("session-{}-{}-{word}", self.row.number.get(), self.row.begun.as_second())
    }

    /// The key of an act: a second one where the first was taken back since.
    fn key(&self, word: &str) -> Result<String, Refusal> {
        let base = self.base_key(word);
        for again in 0..TRIES {
            let key = if again == 0 { base.clone() } else { format!("{base}-{again}") };
            match ActKey::new(&key).map(|own| self.studio.book.act_with_key(&own)).transpose()?.flatten() {
                Some(act) if act.reversed_by.is_some() => {}
                _ => return Ok(key),
            }
        }
        Ok(base)
    }

    /// The record an act of this step made, when it is in the book.
    fn in_book(&self, word: &str) -> Result<Option<u32>, Refusal> {
        let key = self.key(word)?;
        let act = ActKey::new(&key).map(|own| self.studio.book.act_with_key(&own)).transpose()?.flatten();
        Ok(act.and_then(|act| record_number(&act.body)))
    }

    fn moment(&self, word: &str) -> Result<Moment, Refusal> {
        Ok(Moment { key: self.key(word)?, ..self.moment.clone() })
    }

    /// Keeps what an act said; gives the number of the record it made.
    fn done(&mut self, done: crate::Done) -> Result<Option<u32>, Refusal> {
        let act = self.studio.book.act_numbered(ActNumber::new(done.act))?;
        self.came.act = Some(done.act);
        self.came.said.extend(done.said);
        Ok(act.and_then(|act| record_number(&act.body)))
    }

    fn post_coat(&mut self, print: usize, sheet: u16, which: u8) -> Result<(), Refusal> {
        let Some(own) = self.state.prints.get(print) else { return Ok(()) };
        if own.pours.is_empty() {
            return Ok(());
        }
        let shelf = Shelf::here_now(self.studio)?;
        let made = CoatMade { title: Some(own.title.clone()), pours: own.poured(&shelf), ..CoatMade::default() };
        let moment = self.moment(&coat_word(print, sheet, which))?;
        let done = coat_once(self.studio, &moment, &moment.stamp()?, &made)?;
        let number = self.done(done)?;
        if let (Some(own), Some(coat)) = (self.state.prints.get_mut(print), number) {
            own.made.push(Made { coat, sheet });
            own.more.iter_mut().for_each(|more| *more = 0);
        }
        Ok(())
    }

    /// Coats of a sheet that wait still: one that was taken back or used by hand meanwhile is no matter of the session any more.
    fn waiting(&self, print: usize, sheet: u16) -> Result<Vec<u32>, Refusal> {
        let open = open_coats(self.studio)?;
        let Some(own) = self.state.prints.get(print) else { return Ok(Vec::new()) };
        if own.pours.is_empty() {
            // Its coats are recorded by hand, under its title: they are its own as if the session had recorded them.
            let by_hand = open.iter().filter(|coat| is_by_hand(coat, &own.title, self.row.begun));
            return Ok(by_hand.map(|coat| coat.number).take(own.coats.into()).collect());
        }
        let (open, made): (Vec<u32>, _) = (open.iter().map(|own| own.number).collect(), &own.made);
        Ok(made
            .iter()
            .filter(|own| own.sheet == sheet)
            .map(|own| own.coat)
            .filter(|coat| open.contains(coat))
            .collect())
    }

    fn post_spoil(&mut self, print: usize, sheet: u16, because: &str) -> Result<(), Refusal> {
        for number in self.waiting(print, sheet)? {
            let moment = self.moment(&format!("spoil-{number}"))?;
            let answers = Spoiled { coat: Some(number.to_string()), because: Some(because.into()), thrown: false };
            let done = spoil_once(self.studio, &moment.stamp()?, &answers)?;
            self.done(done)?;
        }
        Ok(())
    }

    fn post_print(&mut self, print: usize, sheet: u16, done: &[Step]) -> Result<(), Refusal> {
        let waiting = self.waiting(print, sheet)?;
        let Some(own) = self.state.prints.get(print) else { return Ok(()) };
        let made = PrintMade {
            title: Some(own.title.clone()),
            coats: waiting.iter().map(ToString::to_string).collect(),
            repeats: own.repeats.map(|number| number.to_string()),
            fields: fields(self.state, own, done),
            ..PrintMade::default()
        };
        let moment = self.moment(&print_word(print))?;
        let made = record_once(self.studio, &moment, &moment.stamp()?, &made)?;
        let number = self.done(made)?;
        if let Some(own) = self.state.prints.get_mut(print) {
            own.recorded = number;
        }
        Ok(())
    }

    /// One drop more of the coat that is mixed now, or one that was more taken back.
    fn one_drop(&mut self, gone: &Gone, print: usize, place: usize, fell: bool) -> Result<(), Refusal> {
        let state = gone.course.states().get(print);
        let step = state.and_then(|own| own.in_hand.as_ref().map(|task| task.step).or_else(|| own.next()));
        let Some(own) = self.state.prints.get_mut(print) else { return Ok(()) };
        let about = Question::DropOf;
        if !matches!(step, Some(Step::Coat(_))) {
            let cause = format!("no coat of {} is being mixed, so no drop more falls into it", own.title);
            return Err(Refusal::rule("step_not_coating", about, cause, vec![Remedy::LeaveOut(about)]));
        }
        let Some((pour, more)) = own.pours.get(place).zip(own.more.get_mut(place)) else {
            let cause = format!("there is no pour {} for {}", place.saturating_add(1), own.title);
            return Err(Refusal::rule("pour_not_there", about, cause, vec![Remedy::Write(about, "1".into())]));
        };
        if pour.drops.is_none() || (fell && *more >= MOST_MORE) {
            let cause = format!("the pour of {} is a volume, or has {MOST_MORE} drops more already", pour.name);
            return Err(Refusal::rule("pour_not_drops", about, cause, vec![Remedy::LeaveOut(about)]));
        }
        if !fell && *more == 0 {
            let cause = format!("no drop of {} is more than planned, so none is taken back", pour.name);
            return Err(Refusal::rule("pour_not_drops", about, cause, vec![Remedy::ListSessions]));
        }
        *more = if fell { *more + 1 } else { *more - 1 };
        own.noted = own.noted.saturating_add(1);
        Ok(())
    }

    /// A timer for the step in hand, as long as it is planned; one that runs already is that timer.
    fn timer(&mut self, gone: &Gone, print: usize) -> Result<(), Refusal> {
        let task = gone.course.states().get(print).and_then(|own| own.in_hand.clone());
        let title = self.state.prints.get(print).map_or("", |own| own.title.as_str());
        let Some(task) = task else {
            let cause = format!("nothing of {title} is in hand, so there is nothing to time");
            return Err(Refusal::rule("step_not_begun", Question::PrintOf, cause, vec![Remedy::ListSessions]));
        };
        let name = timer_name(print, title, task.step);
        if self.running(&name)?.is_none() {
            let span = span_ms(task.due.to_milliseconds().saturating_sub(task.begins.to_milliseconds()).max(1000));
            begin_timer(self.studio, self.reading, Some(self.row.number), &name, span)?;
        }
        Ok(())
    }

    fn running(&self, name: &str) -> Result<Option<super::TimerView>, Refusal> {
        let own = Some(self.row.number.get());
        Ok(timers(self.studio, self.reading)?.into_iter().find(|timer| timer.session == own && timer.name == name))
    }

    /// What the timer of a step that is over measured.
    fn time(&mut self, print: usize, task: &Task) -> Result<(), Refusal> {
        let title = self.state.prints.get(print).map_or("", |own| own.title.as_str());
        let Some(timer) = self.running(&timer_name(print, title, task.step))? else { return Ok(()) };
        self.away.push(timer.number);
        if let Some(own) = self.state.prints.get_mut(print) {
            let step = task.step.to_string();
            own.timed.retain(|(before, _)| *before != step);
            own.timed.push((step, timer.left.ran.to_milliseconds()));
        }
        Ok(())
    }
}

fn coat_word(print: usize, sheet: u16, which: u8) -> String {
    format!("p{}-s{sheet}-coat-{which}", print + 1)
}

fn print_word(print: usize) -> String {
    format!("p{}-print", print + 1)
}

fn record_number(body: &Value) -> Option<u32> {
    body.get("record")?.get("number")?.as_u64().and_then(|number| number.try_into().ok())
}

impl PrintKept {
    /// What is poured: as planned, with the drops that were more; where the bottle is gone, out of one that took its name.
    fn poured(&self, shelf: &Shelf) -> Vec<String> {
        let bottle = |pour: &PourKept| {
            let there = shelf.find(Question::Pour, &pour.code).is_ok();
            if there { pour.code.clone() } else { pour.name.clone() }
        };
        let more = self.more.iter().copied().chain(std::iter::repeat(0));
        let pours = self.pours.iter().zip(more);
        let written = pours.map(|(pour, more)| match (&pour.volume, pour.drops) {
            (Some(volume), _) => format!("{}={volume}", bottle(pour)),
            (None, drops) => format!("{}={}", bottle(pour), drops.unwrap_or(0).saturating_add(more)),
        });
        written.collect()
    }

    /// How long a step took: what its timer measured, or as planned.
    fn took(&self, step: Step, planned: Span) -> Span {
        let word = step.to_string();
        self.timed.iter().find(|(own, _)| *own == word).map_or(planned, |(_, ms)| span_ms(*ms))
    }
}

/// What is written down of a print: as planned, unless it was touched.
fn fields(state: &State, own: &PrintKept, done: &[Step]) -> BTreeMap<&'static str, String> {
    let spans = own.sheet().spans;
    let mut out: BTreeMap<&'static str, String> = BTreeMap::new();
    let mut put = |key: &'static str, answer: Option<String>| out.extend(answer.map(|answer| (key, answer)));
    put("image", own.image.clone());
    put("margin", own.margin.clone());
    put("paper", own.paper.clone());
    put("negative", own.negative.clone());
    let coats = done.iter().filter(|step| matches!(step, Step::Coat(_))).count();
    if coats > 0 {
        put("tool", state.with(own, "tool"));
        put("coats", Some(coats.to_string()));
    }
    if done.contains(&Step::Expose) {
        put("lamp", state.with(own, "lamp"));
        // The lamp is the maker's: what a timer ran on for is not what the lamp burned.
        put("time", Some(spans.expose.clock()));
    }
    if done.contains(&Step::Develop) {
        put("developer", state.with(own, "developer"));
        put("developing_time", Some(own.took(Step::Develop, spans.develop).clock()));
    }
    let mut cleared = 0_u64;
    for (bath, key) in (1_u8..).zip(BATHS) {
        if done.contains(&Step::Clear(bath)) {
            put(key, state.with(own, key));
            cleared = cleared.saturating_add(own.took(Step::Clear(bath), spans.clear).to_milliseconds());
        }
    }
    if cleared > 0 {
        put("clearing_time", Some(span_ms(cleared).clock()));
    }
    if done.contains(&Step::Wash) {
        put("washing", Some(own.took(Step::Wash, spans.wash).clock()));
    }
    out
}

/// A length of time that can be said of a tap.
#[must_use]
pub fn usual_lateness() -> String {
    Span::seconds(LATE_BY.value * 60.0).map_or_else(|_| Span::FORMS.into(), super::duration)
}
