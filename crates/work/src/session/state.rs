//! A session under way, as it is kept in the book: what was planned, and what happened since, in order.
//!
//! Where it stands is not kept but found by going through what happened: nothing in the book can contradict it.

use std::collections::BTreeMap;

use handcoat_book::{BookError, Damage};
use handcoat_craft::measure::Span;
use handcoat_craft::session::{
    BootClock, Course, CourseError, Happened, Means, Reading, Sheet, SinceBoot, Spans, Step, TimeOfDay, Timer,
    WallClock,
};
use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::{Question, Refusal, RefusalKind, Remedy};

/// The state of a session.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct State {
    pub(super) v: u32,
    /// The key it was begun under: a second tap begins no second session.
    pub(super) key: String,
    /// What the clock on the wall showed, as `14:05`.
    pub(super) start: String,
    pub(super) clock: Begun,
    pub(super) means: MeansKept,
    pub(super) lamp: Option<String>,
    pub(super) developer: Option<String>,
    /// Names of the clearing baths, in their order.
    pub(super) baths: Vec<String>,
    pub(super) tool: Option<String>,
    pub(super) prints: Vec<PrintKept>,
    pub(super) events: Vec<Event>,
}

/// Both clocks when it began.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct Begun {
    wall_ms: i64,
    boot: Option<String>,
    boot_ms: u64,
}

/// What there is to work with.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct MeansKept {
    people: u16,
    drying: u16,
    humid: u16,
    frames: u16,
    lamps: u16,
    developer: u16,
    clearing: [u16; 3],
    wash: u16,
}

/// One print.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct PrintKept {
    pub(super) title: String,
    pub(super) image: Option<String>,
    pub(super) margin: Option<String>,
    pub(super) paper: Option<String>,
    pub(super) negative: Option<String>,
    pub(super) repeats: Option<u32>,
    /// What was written down of the print it repeats, of what the plan says nothing of.
    pub(super) like: BTreeMap<String, String>,
    pub(super) pours: Vec<PourKept>,
    pub(super) coats: u8,
    pub(super) printing_out: bool,
    pub(super) baths: u8,
    /// Milliseconds of coat, dry, humidify, load, expose, develop, clear, wash, hang.
    pub(super) spans_ms: [u64; 9],
    /// Drops of the coat that is mixed now, beyond those planned; one number for each pour.
    pub(super) more: Vec<u32>,
    /// How often something was noted of it: a tap that saw less is a second tap.
    pub(super) noted: u32,
    /// Coats that are in the book, and on which of its sheets.
    pub(super) made: Vec<Made>,
    /// Its number once it is a print.
    pub(super) recorded: Option<u32>,
    /// What a timer measured: the step, and milliseconds.
    pub(super) timed: Vec<(String, u64)>,
}

/// A coat that is in the book.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct Made {
    pub(super) coat: u32,
    /// Counted from 0; each sheet given up counts.
    pub(super) sheet: u16,
}

/// What is poured for one coat.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct PourKept {
    /// The code of the bottle, which stays when its name changes.
    pub(super) code: String,
    pub(super) name: String,
    pub(super) role: String,
    pub(super) metal: Option<String>,
    /// Drops; none where a volume was said.
    pub(super) drops: Option<u32>,
    /// The volume as it was written.
    pub(super) volume: Option<String>,
}

/// Something that happened.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct Event {
    pub(super) print: usize,
    /// Milliseconds after the beginning.
    pub(super) at_ms: u64,
    pub(super) what: What,
}

#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum What {
    Next,
    Skip,
    Spoiled,
    Recoated,
    /// By so many milliseconds.
    Late(u64),
}

/// A session gone through.
#[derive(Clone, Debug)]
pub(super) struct Gone {
    pub(super) course: Course,
    /// For each print how many steps were done when the sheet it is on now was begun.
    pub(super) earlier: Vec<usize>,
}

impl From<Means> for MeansKept {
    fn from(own: Means) -> Self {
        Self {
            people: own.people,
            drying: own.drying,
            humid: own.humid,
            frames: own.frames,
            lamps: own.lamps,
            developer: own.developer,
            clearing: own.clearing,
            wash: own.wash,
        }
    }
}

impl MeansKept {
    pub(super) fn means(&self) -> Means {
        Means {
            people: self.people,
            drying: self.drying,
            humid: self.humid,
            frames: self.frames,
            lamps: self.lamps,
            developer: self.developer,
            clearing: self.clearing,
            wash: self.wash,
        }
    }
}

impl Begun {
    pub(super) fn of(now: &Reading) -> Self {
        let boot = now.boot.as_ref();
        Self {
            wall_ms: now.wall.to_milliseconds(),
            boot: boot.map(|own| own.boot.clone()),
            boot_ms: boot.map_or(0, |own| own.since.to_milliseconds()),
        }
    }

    /// How long ago that was.
    fn ago(&self, now: &Reading) -> Span {
        let since = SinceBoot::milliseconds(self.boot_ms);
        let boot = self.boot.clone().map(|boot| BootClock { boot, since });
        let begun = Reading { wall: WallClock::milliseconds(self.wall_ms), boot };
        Timer { begun, span: Span::ZERO }.left(now).ran
    }
}

impl What {
    fn happened(self) -> Happened {
        match self {
            Self::Next => Happened::Next,
            Self::Skip => Happened::Skip,
            Self::Spoiled => Happened::Spoiled,
            Self::Recoated => Happened::Recoated,
            Self::Late(by) => Happened::Late(span_ms(by)),
        }
    }
}

pub(super) fn span_ms(value: u64) -> Span {
    Span::milliseconds(value).unwrap_or(Span::LONGEST)
}

/// Spans in the order of the work, as they are kept.
pub(super) fn kept_spans(own: &Spans) -> [u64; 9] {
    [own.coat, own.dry, own.humidify, own.load, own.expose, own.develop, own.clear, own.wash, own.hang]
        .map(Span::to_milliseconds)
}

impl PrintKept {
    pub(super) fn sheet(&self) -> Sheet {
        let [coat, dry, humidify, load, expose, develop, clear, wash, hang] = self.spans_ms.map(span_ms);
        let spans = Spans { coat, dry, humidify, load, expose, develop, clear, wash, hang };
        let (coats, printing_out, baths) = (self.coats, self.printing_out, self.baths);
        Sheet { name: self.title.clone(), coats, printing_out, baths, spans }
    }
}

/// Keys of the clearing baths in a print's record.
pub(super) const BATHS: [&str; 3] = ["bath_1", "bath_2", "bath_3"];

impl State {
    /// What was said for all of them; else what the print this one repeats was made with.
    pub(super) fn with(&self, own: &PrintKept, key: &str) -> Option<String> {
        let said = match key {
            "lamp" => self.lamp.as_ref(),
            "developer" => self.developer.as_ref(),
            "tool" => self.tool.as_ref(),
            _ => BATHS.iter().position(|bath| *bath == key).and_then(|place| self.baths.get(place)),
        };
        said.or_else(|| own.like.get(key)).cloned()
    }
}

impl Gone {
    /// Notes one thing more. On an error nothing changes.
    pub(super) fn note(&mut self, event: &Event) -> Result<(), CourseError> {
        self.course.advance(event.print, span_ms(event.at_ms), event.what.happened())?;
        if event.what == What::Recoated
            && let (Some(own), Some(state)) = (self.earlier.get_mut(event.print), self.course.states().get(event.print))
        {
            *own = state.done.len();
        }
        Ok(())
    }

    /// Whether nothing of any print is left to do.
    pub(super) fn all_over(&self) -> bool {
        self.course.states().iter().all(|state| state.is_finished())
    }

    /// Steps of the sheet a print is on now: those that are done.
    pub(super) fn done(&self, print: usize) -> impl Iterator<Item = Step> {
        let earlier = self.earlier.get(print).copied().unwrap_or(0);
        let state = self.course.states().get(print);
        state.into_iter().flat_map(move |own| own.done.iter().skip(earlier)).map(|task| task.step)
    }
}

impl State {
    pub(super) fn read(body: &Value) -> Result<Self, Refusal> {
        serde_json::from_value(body.clone()).map_err(|_| damaged(body.to_string()))
    }

    pub(super) fn to_body(&self) -> Value {
        // OK because the state holds text, numbers and lists only, which always become JSON.
        serde_json::to_value(self).expect("BUG: the state of a session is no JSON")
    }

    pub(super) fn sheets(&self) -> Vec<Sheet> {
        self.prints.iter().map(PrintKept::sheet).collect()
    }

    pub(super) fn starts(&self) -> Result<TimeOfDay, Refusal> {
        TimeOfDay::read(&self.start).ok_or_else(|| damaged(self.start.clone()))
    }

    /// Goes through all that happened.
    pub(super) fn gone(&self) -> Result<Gone, Refusal> {
        let course = Course::begin(self.sheets(), self.means.means());
        let course = course.map_err(|error| not_planned(&error.to_string()))?;
        let mut gone = Gone { course, earlier: vec![0; self.prints.len()] };
        for event in &self.events {
            gone.note(event).map_err(|error| impossible(&error))?;
        }
        Ok(gone)
    }

    /// How long after the beginning it is now, and never before what was noted last.
    pub(super) fn now(&self, reading: &Reading) -> Span {
        let last = self.events.last().map_or(0, |event| event.at_ms);
        self.clock.ago(reading).max(span_ms(last))
    }
}

fn damaged(value: String) -> Refusal {
    BookError::Damaged(Damage::Unreadable { what: "the state of a session", value }).into()
}

pub(super) fn not_planned(cause: &str) -> Refusal {
    let about = Question::Prints;
    Refusal::rule("session_not_planned", about, cause.into(), vec![Remedy::Write(about, "3".into())])
}

/// Why something cannot have happened.
pub(super) fn impossible(error: &CourseError) -> Refusal {
    let about = Question::PrintOf;
    match error {
        CourseError::Finished { .. } => {
            Refusal::rule("print_finished", about, error.to_string(), vec![Remedy::ListSessions])
        }
        CourseError::PrintUnknown { .. } => print_unknown(error.to_string()),
        CourseError::BackInTime { .. } | CourseError::Session(_) => not_planned(&error.to_string()),
    }
}

pub(super) fn print_unknown(cause: String) -> Refusal {
    let (kind, about) = (RefusalKind::Missing, Some(Question::PrintOf));
    let remedies = vec![Remedy::Write(Question::PrintOf, "1".into())];
    Refusal { code: "session_print_unknown", kind, about, cause, excerpt: None, remedies }
}
