//! A session as screens and lists show it: where every print stands, and what the hand whose turn it is does now.

use handcoat_book::{RecordKind, SessionNumber};
use handcoat_craft::measure::{Span, significant};
use handcoat_craft::session::{Bound, Hand, Reading, Resource, Schedule, State as Standing, Step, Task};
use jiff::Timestamp;

use super::state::{BATHS, Gone, PourKept, State, not_planned, span_ms};
use super::tap::{load, timer_name};
use super::words::duration;
use super::{Drops, SessionPlan};
use crate::keep::one_kept;
use crate::print::{CoatView, open_coats};
use crate::{Day, Refusal, Studio};

/// One pour as it is dropped.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PourLine {
    /// The bottle.
    pub name: String,
    /// Drops with those that were more; none where a volume is measured.
    pub drops: Option<u32>,
    /// Of those, how many were more than planned.
    pub more: u32,
    /// The volume, where one is measured.
    pub volume: Option<String>,
}

/// Where a print stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PrintStand {
    /// Counted from 0.
    pub place: usize,
    /// What it is called.
    pub title: String,
    /// How much was noted of it.
    pub seen: u32,
    /// The step in hand, or the next; none when nothing is left.
    pub step: Option<Step>,
    /// Whether that step is in hand.
    pub in_hand: bool,
    /// When it was begun, or is planned to.
    pub begins: Span,
    /// When it is over, or is to begin: when somebody is needed.
    pub due: Span,
    /// How long it takes by itself.
    pub span: Span,
    /// Whose hand is needed then, counted from 1.
    pub hand: Option<u16>,
    /// The step that follows.
    pub then: Option<Step>,
    /// Whether that one begins with the same tap.
    pub at_once: bool,
    /// What is poured for one coat.
    pub pours: Vec<PourLine>,
    /// The sheet was coated already.
    pub coated: bool,
    /// It was spoiled.
    pub spoiled: bool,
    /// Its number, once it is a print.
    pub recorded: Option<u32>,
    /// Sheets coated for it in vain.
    pub given_up: u16,
    /// What its timer is called.
    pub timer: String,
    /// Size of its image, margin and paper, as they were written.
    pub image: Option<String>,
    #[allow(missing_docs, reason = "see image")]
    pub margin: Option<String>,
    #[allow(missing_docs, reason = "see image")]
    pub paper: Option<String>,
    /// Coats that were recorded by hand under its title since the session began and wait; only where its pours were not said.
    pub by_hand: usize,
    developer: Option<String>,
    /// Its clearing baths, in their order.
    baths: Vec<Option<String>>,
}

/// A session.
#[derive(Clone, Debug, PartialEq)]
pub struct SessionView {
    /// Its number.
    pub number: i64,
    /// When it was begun.
    pub begun: Timestamp,
    /// It has ended.
    pub ended: bool,
    /// How long after its beginning it is.
    pub now: Span,
    /// All of it: done, in hand and ahead.
    pub plan: SessionPlan,
    /// The prints.
    pub prints: Vec<PrintStand>,
    lamp: Option<String>,
    drops: Vec<Drops>,
}

/// A session in a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SessionLine {
    /// Its number.
    pub number: i64,
    /// When it was begun.
    pub begun: Timestamp,
    /// It has ended.
    pub ended: bool,
    /// What its prints are called.
    pub titles: Vec<String>,
    /// How many of them are finished or spoiled.
    pub over: usize,
}

/// What stands on the screen of one print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Screen {
    /// What to do.
    pub heading: String,
    /// The words on the main button.
    pub button: String,
    /// A bath that the print goes into: its age and what went through it.
    pub bath: Option<String>,
    /// What should be minded before the button is tapped.
    pub caution: Option<&'static str>,
    /// What should be known. Where a caution stands already it is a plain line: one warning on a screen is read, two are not.
    pub warning: Option<String>,
}

/// Where a session stands.
///
/// # Errors
/// [`Refusal`] when there is none, or its state cannot be read.
pub fn session(studio: &Studio, reading: &Reading, number: SessionNumber) -> Result<SessionView, Refusal> {
    let row = load(studio, number)?;
    let state = State::read(&row.body)?;
    let gone = state.gone()?;
    let now = state.now(reading);
    let (sheets, means) = (state.sheets(), state.means.means());
    let wrong = |error: handcoat_craft::session::SessionError| not_planned(&error.to_string());
    let plan = SessionPlan {
        bound: Bound::of(&sheets, &means).map_err(wrong)?,
        one_at_a_time: Schedule::one_at_a_time(&sheets).map_err(wrong)?,
        schedule: gone.course.whole(),
        start: state.starts()?,
        sheets,
        means,
        assumed: Vec::new(),
    };
    let mut prints: Vec<PrintStand> = (0..state.prints.len()).filter_map(|place| stand(&state, &gone, place)).collect();
    if prints.iter().any(|own| own.step.is_some() && own.pours.is_empty()) {
        let open = open_coats(studio)?;
        for own in prints.iter_mut().filter(|own| own.pours.is_empty()) {
            own.by_hand = open.iter().filter(|coat| is_by_hand(coat, &own.title, row.begun)).count();
        }
    }
    let drops = state.prints.iter().map(drops_of).collect();
    let (begun, ended) = (row.begun, row.ended.is_some());
    Ok(SessionView { number: number.get(), begun, ended, now, plan, prints, lamp: state.lamp, drops })
}

/// The newest sessions, newest first.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn sessions(studio: &Studio, most: u32) -> Result<Vec<SessionLine>, Refusal> {
    let line = |row: handcoat_book::SessionRow| {
        let state = State::read(&row.body)?;
        let over = state.gone()?.course.states().iter().filter(|own| own.is_finished()).count();
        let titles = state.prints.iter().map(|own| own.title.clone()).collect();
        Ok(SessionLine { number: row.number.get(), begun: row.begun, ended: row.ended.is_some(), titles, over })
    };
    studio.book.newest_sessions(most)?.into_iter().map(line).collect()
}

/// Whether a coat that waits was recorded for a print of this session by hand.
pub(super) fn is_by_hand(coat: &CoatView, title: &str, begun: Timestamp) -> bool {
    coat.title == title && coat.at.is_some_and(|at| at.as_second() >= begun.as_second())
}

fn hand_of(task: &Task) -> Option<u16> {
    task.uses.iter().find(|own| own.resource == Resource::Hand).map(|own| own.unit + 1)
}

fn stand(state: &State, gone: &Gone, place: usize) -> Option<PrintStand> {
    let (own, standing): (_, &Standing) = (state.prints.get(place)?, gone.course.states().get(place)?);
    let mut ahead = gone.course.ahead().tasks.iter().filter(|task| task.print == place);
    let next = ahead.next();
    let shown = standing.in_hand.as_ref().or(next);
    let follows = if standing.in_hand.is_some() { next } else { ahead.next() };
    let (step, in_hand) = (shown.map(|task| task.step), standing.in_hand.is_some());
    let throughout = step.is_some_and(|step| step.hand() == Hand::Throughout);
    // What goes on by itself is taken on by the hand of what follows.
    let hand = match shown {
        Some(task) if !in_hand || throughout => hand_of(task),
        _ => follows.and_then(hand_of),
    };
    let at_once = in_hand && goes_on_at_once(shown, follows, own.printing_out, own.coats);
    let due = shown.map_or(Span::ZERO, |task| if in_hand { task.ends } else { task.begins });
    Some(PrintStand {
        place,
        title: own.title.clone(),
        seen: own.noted,
        step,
        in_hand,
        begins: shown.map_or(Span::ZERO, |task| task.begins),
        due,
        span: shown.map_or(Span::ZERO, |task| {
            span_ms(task.due.to_milliseconds().saturating_sub(task.begins.to_milliseconds()))
        }),
        hand,
        then: follows.map(|task| task.step),
        at_once,
        pours: own.pours.iter().zip(own.more.iter().chain(std::iter::repeat(&0))).map(pour_line).collect(),
        coated: gone.done(place).any(|step| matches!(step, Step::Coat(_)))
            || matches!(step, Some(Step::Coat(_)) if in_hand),
        spoiled: standing.spoiled,
        recorded: own.recorded,
        given_up: standing.given_up,
        timer: step.map_or_else(String::new, |step| timer_name(place, &own.title, step)),
        image: own.image.clone(),
        margin: own.margin.clone(),
        paper: own.paper.clone(),
        by_hand: 0,
        developer: state.with(own, "developer"),
        baths: BATHS.iter().map(|key| state.with(own, key)).collect(),
    })
}

/// Whether a tap that ends one step begins the next: the sheet goes from hand to hand, or from bath to bath.
fn goes_on_at_once(now: Option<&Task>, then: Option<&Task>, printing_out: bool, coats: u8) -> bool {
    match (now.map(|task| task.step), then.map(|task| task.step)) {
        (Some(Step::Dry(coat)), Some(then)) => printing_out && coat == coats && !matches!(then, Step::Coat(_)),
        (Some(Step::Expose) | None, _) | (_, None) => false,
        (Some(Step::Humidify), Some(then)) => matches!(then, Step::Load | Step::Expose),
        (Some(Step::Load), Some(then)) => then == Step::Expose,
        (Some(Step::Coat(_)), Some(then)) => matches!(then, Step::Dry(_)),
        (Some(_), Some(_)) => true,
    }
}

fn pour_line((pour, more): (&PourKept, &u32)) -> PourLine {
    PourLine {
        name: pour.name.clone(),
        drops: pour.drops.map(|drops| drops.saturating_add(*more)),
        more: *more,
        volume: pour.volume.clone(),
    }
}

/// A row of the sheet: what each pour is, by what it does.
fn drops_of(own: &super::state::PrintKept) -> Drops {
    let much = |pour: &PourKept| pour.drops.map(|drops| drops.to_string()).or_else(|| pour.volume.clone());
    let of = |wanted: &dyn Fn(&PourKept) -> bool| {
        let all: Vec<String> = own.pours.iter().filter(|pour| wanted(pour)).filter_map(much).collect();
        (!all.is_empty()).then(|| all.join(" + "))
    };
    let metal =
        |symbol: &'static str| move |pour: &PourKept| pour.role == "metal" && pour.metal.as_deref() == Some(symbol);
    Drops {
        print: own.title.clone(),
        size: own.image.clone(),
        iron: of(&|pour| pour.role == "iron"),
        palladium: of(&metal("Pd")),
        platinum: of(&metal("Pt")),
        contrast: of(&|pour| pour.role == "agent"),
    }
}

impl SessionView {
    /// The prints that are not over, whoever is needed first before the others. What a hand holds comes before all.
    #[must_use]
    pub fn in_turn(&self, hand: Option<u16>) -> Vec<&PrintStand> {
        let mine = |own: &&PrintStand| hand.is_none() || own.hand.is_none() || own.hand == hand;
        let mut found: Vec<&PrintStand> = self.prints.iter().filter(|own| own.step.is_some()).filter(mine).collect();
        found.sort_by_key(|own| (!own.is_held(), own.due, own.place));
        found
    }

    /// The drops of each print, for the sheet.
    #[must_use]
    pub fn drops(&self) -> &[Drops] {
        &self.drops
    }

    /// The time on the wall so long after the beginning.
    #[must_use]
    pub fn clock(&self, at: Span) -> String {
        self.plan.start.after(at)
    }

    /// What stands on the screen of a print.
    ///
    /// # Errors
    /// [`Refusal`] when the book cannot be read.
    pub fn screen(&self, studio: &Studio, own: &PrintStand, day: Day) -> Result<Option<Screen>, Refusal> {
        let Some(step) = own.step else { return Ok(None) };
        // What the button begins: the step after, where the tap goes on at once; the step itself, where it waits.
        let begins = match (own.in_hand, own.at_once) {
            (false, _) => Some(step),
            (true, true) => own.then,
            (true, false) => None,
        };
        let bath = match begins.or(Some(step)).and_then(|step| own.bath(step)) {
            Some(name) => Some(bath_words(studio, name, day)?),
            None => None,
        };
        let renew = bath.as_ref().and_then(|(_, notice)| notice.clone());
        let stale = self.plan.schedule.stale.iter().find(|late| late.print == own.place);
        let stale = stale.map(|late| {
            format!(
                "It will have waited {} before {}; it keeps for {}.",
                duration(late.waits),
                late.step,
                duration(late.keeps)
            )
        });
        let caution = match (own.in_hand, step, begins) {
            // Until it is out of the developer, that is what the hands are in.
            (true, Step::Develop, Some(Step::Clear(_))) => Some(OUT_OF_DEVELOPER),
            _ => begins.and_then(caution).or_else(|| caution(step)),
        };
        Ok(Some(Screen {
            heading: if own.in_hand { doing(step) } else { sentence(&step.instruction()) },
            button: if own.in_hand { done(step, begins) } else { begin_words(step).into() },
            bath: bath.map(|(words, _)| words),
            warning: renew.or(stale),
            caution,
        }))
    }

    /// The lamp that was named.
    #[must_use]
    pub fn lamp(&self) -> Option<&str> {
        self.lamp.as_deref()
    }
}

impl PrintStand {
    fn bath(&self, step: Step) -> Option<&str> {
        match step {
            Step::Develop => self.developer.as_deref(),
            Step::Clear(bath) => self.baths.get(usize::from(bath).saturating_sub(1))?.as_deref(),
            _ => None,
        }
    }

    /// Whether a hand holds it now, from beginning to end of its step.
    #[must_use]
    pub fn is_held(&self) -> bool {
        self.in_hand && self.step.is_some_and(|step| step.hand() == Hand::Throughout)
    }
}

/// Age and work of a bath, and what should be looked at; words only, where the book knows no bath of that name.
fn bath_words(studio: &Studio, name: &str, day: Day) -> Result<(String, Option<String>), Refusal> {
    let kept = match one_kept(studio, RecordKind::Bath, name) {
        Ok(kept) => kept,
        Err(refusal) if refusal.code == "record_unknown" => {
            return Ok((format!("{name}: not among the baths that are kept"), None));
        }
        Err(refusal) => return Err(refusal),
    };
    let made = kept.known.iter().find(|(field, _)| field.key == "made").and_then(|(_, text)| Day::read(text).ok());
    let age = match made.map(|made| day.days_since(made)) {
        None => "its age is not known".into(),
        Some(..=0) => "made today".into(),
        Some(1) => "1 day old".into(),
        Some(days) => format!("{days} days old"),
    };
    let area = kept.area.map_or(0.0, |own| own.to_square_centimetres() / 10_000.0);
    Ok((
        format!("{}: {age}, {} m² through it", kept.name, significant(area, 2)),
        kept.notices.first().map(|own| format!("{name}: {own}.")),
    ))
}

/// The developer's caution, and that of the bath that comes next.
const OUT_OF_DEVELOPER: &str = "Gloves and glasses. Oxalates are poisonous; fumes of a warm bath are drawn off, hands washed after. \
    The next bath: no acid on sulfite and no bleach near it, harmful gas.";

/// The usual cautions. They stand before the button that begins the step.
fn caution(step: Step) -> Option<&'static str> {
    match step {
        Step::Coat(_) => Some(
            "Gloves and glasses. The metal salts harm eyes and skin and can make you allergic; no food or drink here.",
        ),
        Step::Expose => Some("UV harms eyes and skin: never look into the lamp, glasses on where its box is open."),
        Step::Develop => {
            Some("Gloves and glasses. Oxalates are poisonous; fumes of a warm bath are drawn off, hands washed after.")
        }
        Step::Rinse => Some("Gloves: the first rinse holds iron and metal salts."),
        Step::Clear(_) => Some("Gloves. No acid on sulfite and no bleach near the baths: harmful gas."),
        Step::Dry(_) | Step::Humidify | Step::Load | Step::Wash | Step::Hang => None,
    }
}

fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().to_string()).into_iter().chain([letters.collect()]).collect()
}

fn doing(step: Step) -> String {
    match step {
        Step::Coat(1) => "Mix the drops and coat".into(),
        Step::Coat(_) => "Mix the drops and coat again".into(),
        Step::Dry(_) => "It dries in the dark".into(),
        Step::Humidify => "It lies in the humid box".into(),
        Step::Load => "Into the frame with its negative".into(),
        Step::Expose => "It is under the lamp".into(),
        Step::Develop => "Develop".into(),
        Step::Rinse => "First rinse".into(),
        Step::Clear(bath) => format!("It is in clearing bath {bath}"),
        Step::Wash => "It is in the wash".into(),
        Step::Hang => "It hangs to dry".into(),
    }
}

fn begin_words(step: Step) -> &'static str {
    match step {
        Step::Coat(_) => "Begin to coat",
        Step::Dry(_) => "It lies to dry",
        Step::Humidify => "It is in the box",
        Step::Load => "Load the frame",
        Step::Expose => "The lamp is on",
        Step::Develop | Step::Rinse => "It goes in",
        Step::Clear(_) | Step::Wash => "It is in",
        Step::Hang => "It hangs",
    }
}

/// The main button when a step is in hand: what is done, and what begins with it.
fn done(step: Step, begins: Option<Step>) -> String {
    let over = match step {
        Step::Coat(_) => "It is coated",
        Step::Dry(_) => "It is dry",
        Step::Humidify => "It is damp enough",
        Step::Load => "It is loaded",
        Step::Expose => "It is exposed",
        Step::Develop => "It is developed",
        Step::Rinse => "It is rinsed",
        Step::Clear(_) => "It is cleared",
        Step::Wash => "It is washed",
        Step::Hang => "It is dry",
    };
    match begins {
        Some(Step::Expose) => format!("{over}; lamp on"),
        Some(next @ (Step::Clear(_) | Step::Wash | Step::Humidify | Step::Hang | Step::Load)) => {
            format!("{over}; {}", next.instruction())
        }
        _ => over.into(),
    }
}
