//! A session without the pages: beginning it, going on, timers.

use std::fmt::Write as _;

use clap::Args;
use handcoat_work::session::{
    BeginSession, Came, PrintAnswers, PrintStand, SessionAnswers, SessionView, Tap, Tapped, TimerView, begin,
    put_timer_away, session, session_numbered, sessions, start_timer, tap, timers,
};
use handcoat_work::{Day, Question, Refusal, Studio};
use serde_json::json;

use super::WithArgs;
use crate::cli::book::{ActArgs, BookArgs};
use crate::cli::table;
use crate::{clock, json};

const EXAMPLES: &str = "\
Examples:
  handcoat session begin --print 'Heron; image 8x10in; margin 1cm; time 6:00; pour iron=23; pour palladium stock=23'
  handcoat session begin --print '; repeat 17' --lamp 'tube bank' --developer 'oxalate developer' --bath 'citric 1'
  handcoat session next 1

A print is its title and, each behind a semicolon, what is known of it: image, margin, paper, negative, time, pour (one for \
each bottle, in the order dropped), repeat.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(crate) struct BeginArgs {
    /// A print in one line: its title; then what is known of it (repeat for each)
    #[arg(long = "print", value_name = "PRINT")]
    prints: Vec<String>,
    /// The lamp, by the name it is kept under
    #[arg(long, value_name = "NAME")]
    lamp: Option<String>,
    /// The developer
    #[arg(long, value_name = "NAME")]
    developer: Option<String>,
    /// A clearing bath, in their order (repeat for each)
    #[arg(long = "bath", value_name = "NAME")]
    bath_names: Vec<String>,
    /// Brush or rod
    #[arg(long, value_name = "NAME")]
    tool: Option<String>,
    /// What the clock on the wall shows [default: now]
    #[arg(long, value_name = "TIME")]
    start: Option<String>,
    #[command(flatten)]
    with: WithArgs,
    #[command(flatten)]
    act: ActArgs,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  handcoat session next 1                  the step in hand is done, or the next begins
  handcoat session next 1 --print 2 --skip
  handcoat session next 1 --print 2 --late 5min
  handcoat session next 1 --print 2 --drop 1    one drop more of its first pour")]
pub(crate) struct NextArgs {
    /// Number of the session
    session: String,
    /// Which print, counted from 1 [default: the one whose turn it is]
    #[arg(long, value_name = "COUNT")]
    print: Option<String>,
    /// Leave the step out
    #[arg(long, group = "what")]
    skip: bool,
    /// The print is spoiled
    #[arg(long, group = "what")]
    spoiled: bool,
    /// The sheet is given up and a new one is coated
    #[arg(long, group = "what")]
    recoated: bool,
    /// It takes so much longer
    #[arg(long, value_name = "TIME", group = "what")]
    late: Option<String>,
    /// One drop more of this pour, counted from 1
    #[arg(long, value_name = "COUNT", group = "what")]
    drop: Option<String>,
    /// One drop that was more of this pour is taken back, counted from 1
    #[arg(long, value_name = "COUNT", group = "what")]
    drop_back: Option<String>,
    /// Start a timer for the step in hand
    #[arg(long, group = "what")]
    time: bool,
    /// Put the session away
    #[arg(long, group = "what")]
    end: bool,
    /// How much had been noted of the print when you looked; nothing is done when that is more by now
    #[arg(long, value_name = "COUNT")]
    noted: Option<u32>,
    #[command(flatten)]
    act: ActArgs,
}

#[derive(Debug, Args)]
pub(crate) struct ShowArgs {
    /// Number of the session
    session: String,
    #[command(flatten)]
    whose: BookArgs,
}

#[derive(Debug, Args)]
pub(crate) struct ListArgs {
    /// How many at most
    #[arg(long, value_name = "COUNT", default_value_t = 20)]
    most: u32,
    #[command(flatten)]
    whose: BookArgs,
}

#[derive(Debug, Args)]
pub(crate) struct TimersArgs {
    #[command(flatten)]
    whose: BookArgs,
}

#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  handcoat session timer 'second bath' 7min\n\nA timer tells the time. It switches no lamp off and guards nothing."
)]
pub(crate) struct TimerArgs {
    /// What it is for
    name: String,
    /// How long: 7min, 90s, 1:30
    time: String,
    /// The session it belongs to
    #[arg(long, value_name = "SESSION")]
    session: Option<String>,
    #[command(flatten)]
    whose: BookArgs,
}

#[derive(Debug, Args)]
pub(crate) struct AwayArgs {
    /// Number of the timer
    timer: String,
    #[command(flatten)]
    whose: BookArgs,
}

pub(super) fn run_begin(args: &BeginArgs) -> Result<String, Refusal> {
    let (moment, reading) = (args.act.moment()?, args.act.reading()?);
    let prints = args.prints.iter().map(|line| PrintAnswers::read(line)).collect::<Result<Vec<_>, _>>()?;
    let start = args.start.clone().or_else(|| Some(clock::time_of_day()));
    let answers = BeginSession {
        prints,
        plan: SessionAnswers { start, ..args.with.answers() },
        lamp: args.lamp.clone(),
        developer: args.developer.clone(),
        bath_names: args.bath_names.clone(),
        tool: args.tool.clone(),
    };
    let mut studio = args.act.whose.open()?;
    let number = begin(&mut studio, &moment, &reading, &answers)?;
    let view = session(&studio, &reading, number)?;
    shown(&studio, &view, &args.act.whose, &Came::default(), Day::of_instant(moment.at))
}

pub(super) fn run_next(args: &NextArgs) -> Result<String, Refusal> {
    let (moment, reading) = (args.act.moment()?, args.act.reading()?);
    let number = session_numbered(&args.session)?;
    let what = match &args.drop {
        _ if args.skip => Tapped::Skip,
        _ if args.spoiled => Tapped::Spoiled,
        _ if args.recoated => Tapped::Recoated,
        _ if args.time => Tapped::Timer,
        _ if args.end => Tapped::End,
        _ if args.late.is_some() => Tapped::Late(args.late.clone()),
        _ if args.drop_back.is_some() => {
            Tapped::Less(place_of(Question::DropOf, args.drop_back.as_deref().unwrap_or_default())?)
        }
        Some(place) => Tapped::Drop(place_of(Question::DropOf, place)?),
        None => Tapped::Next,
    };
    let mut studio = args.act.whose.open()?;
    let print = match &args.print {
        Some(place) => place_of(Question::PrintOf, place)?,
        None => {
            let view = session(&studio, &reading, number)?;
            view.in_turn(None).first().map_or(0, |own| own.place)
        }
    };
    let came = tap(&mut studio, &moment, &reading, number, &Tap { print, seen: args.noted, what })?;
    let view = session(&studio, &reading, number)?;
    shown(&studio, &view, &args.act.whose, &came, Day::of_instant(moment.at))
}

/// A place counted from 1 as one counted from 0.
fn place_of(about: Question, written: &str) -> Result<usize, Refusal> {
    let place = written.trim().parse::<usize>().ok().and_then(|own| own.checked_sub(1));
    place.ok_or_else(|| handcoat_work::session::no_place(about, written))
}

pub(super) fn run_show(args: &ShowArgs) -> Result<String, Refusal> {
    let studio = args.whose.open()?;
    let view = session(&studio, &clock::reading(), session_numbered(&args.session)?)?;
    shown(&studio, &view, &args.whose, &Came::default(), Day::of_instant(clock::now()))
}

pub(super) fn run_list(args: &ListArgs) -> Result<String, Refusal> {
    let all = sessions(&args.whose.open()?, args.most)?;
    if args.whose.json {
        return Ok(json::lines(&json::session::sessions(&all)));
    }
    if all.is_empty() {
        return Ok(
            "No session was begun yet. Begin with: handcoat session begin --print 'Heron; time 6:00; pour …'\n".into()
        );
    }
    let rows: Vec<Vec<String>> = all
        .iter()
        .map(|own| {
            let state = if own.ended { "ended".into() } else { format!("{} of {} over", own.over, own.titles.len()) };
            vec![format!("{:>5}  {}", own.number, own.titles.join(", ")), own.begun.to_string(), state]
        })
        .collect();
    Ok(table::columns(&rows))
}

pub(super) fn run_timers(args: &TimersArgs) -> Result<String, Refusal> {
    let all = timers(&args.whose.open()?, &clock::reading())?;
    Ok(timers_shown(&all, &args.whose))
}

pub(super) fn run_timer(args: &TimerArgs) -> Result<String, Refusal> {
    let mut studio = args.whose.open()?;
    let number = args.session.as_deref().map(session_numbered).transpose()?;
    let reading = clock::reading();
    start_timer(&mut studio, &reading, number, Some(&args.name), Some(&args.time))?;
    Ok(timers_shown(&timers(&studio, &reading)?, &args.whose))
}

pub(super) fn run_away(args: &AwayArgs) -> Result<String, Refusal> {
    let mut studio = args.whose.open()?;
    put_timer_away(&mut studio, &clock::reading(), &args.timer)?;
    Ok(timers_shown(&timers(&studio, &clock::reading())?, &args.whose))
}

fn timers_shown(all: &[TimerView], whose: &BookArgs) -> String {
    if whose.json {
        return json::lines(&json::session::timers(all));
    }
    if all.is_empty() {
        return "No timer runs.\n".into();
    }
    let mut out = String::new();
    for own in all {
        let (left, side) = own.words();
        let _ = writeln!(out, "{:>5}  {left} {side}  {}", own.number, own.name);
        if let Some(notice) = own.notice() {
            let _ = writeln!(out, "       {notice}");
        }
    }
    out.push_str("A timer tells the time. It switches no lamp off and guards nothing.\n");
    out
}

/// Where the session stands, with what was just done before it.
fn shown(studio: &Studio, view: &SessionView, whose: &BookArgs, came: &Came, day: Day) -> Result<String, Refusal> {
    let turn = view.in_turn(None);
    let screen = match turn.first() {
        Some(own) if !view.ended => view.screen(studio, own, day)?,
        _ => None,
    };
    if whose.json {
        let mut all = json::session::session(view, screen.as_ref().and_then(|own| own.caution));
        if let Some(keys) = all.as_object_mut() {
            keys.insert("said".into(), json!(came.said));
            keys.insert("act".into(), json!(came.act));
            keys.insert("repeated".into(), json!(came.stale));
        }
        return Ok(json::lines(&all));
    }
    let mut out = String::new();
    for sentence in &came.said {
        let _ = writeln!(out, "{sentence}");
    }
    if came.stale {
        out.push_str("More was noted of it meanwhile; nothing was done.\n");
    }
    let _ = writeln!(out, "Session {}, {}", view.number, view.clock(view.now));
    let width = view.prints.iter().map(|own| own.title.chars().count()).max().unwrap_or(0);
    for own in &view.prints {
        let _ = writeln!(out, "  {}. {:width$}  {}", own.place + 1, own.title, stands(view, own));
    }
    if view.ended {
        out.push_str("It is over.\n");
    }
    if let (Some(own), Some(screen)) = (turn.first(), screen) {
        let _ = writeln!(out, "Next, print {} ({}): {}.", own.place + 1, own.title, screen.heading);
        for pour in own.pours.iter().filter(|_| own.step.is_some_and(|step| step.word() == "coat")) {
            let much =
                pour.drops.map_or_else(|| pour.volume.clone().unwrap_or_default(), |drops| format!("{drops} drops"));
            let _ = writeln!(out, "  {much} of {}", pour.name);
        }
        for line in [&screen.bath, &screen.warning].into_iter().flatten() {
            let _ = writeln!(out, "  {line}");
        }
        if let Some(caution) = screen.caution {
            let _ = writeln!(out, "  {caution}");
        }
    }
    Ok(out)
}

fn stands(view: &SessionView, own: &PrintStand) -> String {
    match own.step {
        Some(step) if own.in_hand => format!("{step} until {}", view.clock(own.due)),
        Some(step) => format!("{step} from {}", view.clock(own.due)),
        None if own.spoiled => "spoiled".into(),
        None => own.recorded.map_or_else(|| "nothing was made".into(), |print| format!("print {print}")),
    }
}
