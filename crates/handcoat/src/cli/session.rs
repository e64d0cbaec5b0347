//! `handcoat session …`

mod bench;

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};
use handcoat_craft::measure::Span;
use handcoat_work::session::{
    BlankFacts, SessionAnswers, SessionPlan, SessionSheetFacts, blank_sheet, duration, session_plan, session_sheet,
    steps_by_hand, summary,
};
use handcoat_work::{Day, Question, Refusal};
use serde_json::json;

use bench::{AwayArgs, BeginArgs, ListArgs, NextArgs, ShowArgs, TimerArgs, TimersArgs};

use super::{files, table};
use crate::{clock, json};

#[derive(Debug, Subcommand)]
pub(super) enum SessionCommand {
    /// Plan the day's printing on the hands, lamps, frames and trays there are
    Plan(Box<PlanArgs>),
    /// Print a blank data sheet, to be written on by hand
    Blank(BlankArgs),
    /// Say by which clock timers go on this machine
    Clocks(ClocksArgs),
    /// Begin the day's printing, and keep where it stands in the book
    Begin(Box<BeginArgs>),
    /// Take the next step of a session: of the print whose turn it is, or of one that is named
    Next(NextArgs),
    /// Where a session stands: each print, and what is next
    Show(ShowArgs),
    /// Sessions, newest first
    List(ListArgs),
    /// Timers that run
    Timers(TimersArgs),
    /// Start a timer
    Timer(TimerArgs),
    /// Put a timer away
    Away(AwayArgs),
}

const PLAN_EXAMPLES: &str = "\
Examples:
  handcoat session plan --prints 3 --exposure 6:00
  handcoat session plan --prints 8 --exposure 12:00 --people 8 --frames 2 --trays 7 --start 9:30
  handcoat session plan --print 'heron 8:00' --print 'weir 5:30' --double -o session.pdf
  handcoat session plan --prints 2 --printing-out --humidify 45min --exposure 10:00

Times are 6:00 (minutes and seconds), 12min, 1h 30min; 0s leaves a step out. What is not said is taken as usual, and the plan \
says so. Trays stand for the developer, each clearing bath and the wash; more of them go where prints would queue longest.";

#[derive(Debug, Args)]
#[command(after_help = PLAN_EXAMPLES)]
pub(super) struct PlanArgs {
    /// How many prints [default: as many as are named, or 1]
    #[arg(long, value_name = "COUNT")]
    prints: Option<String>,
    /// A print by its name, with its own exposure if it has one: 'heron 8:00' (may be repeated)
    #[arg(long = "print", value_name = "NAME")]
    named: Vec<String>,
    #[command(flatten)]
    with: WithArgs,
    /// When it begins, on a clock of 24 hours [default: 10:00]
    #[arg(long, value_name = "TIME")]
    start: Option<String>,
    /// Write the session sheet to this PDF file
    #[arg(short = 'o', long, value_name = "FILE")]
    output: Option<PathBuf>,
    #[command(flatten)]
    page: PageArgs,
    /// Mark the sheet as sample data of an invented studio
    #[arg(long)]
    invented: bool,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

/// What there is to work with, and how long things take: the same for a plan and for a session.
#[derive(Debug, Args)]
struct WithArgs {
    /// Exposure of each print
    #[arg(long, value_name = "TIME")]
    exposure: Option<String>,
    /// People who work [default: 1]
    #[arg(long, value_name = "COUNT")]
    people: Option<String>,
    /// Lamps [default: 1]
    #[arg(long, value_name = "COUNT")]
    lamps: Option<String>,
    /// Contact frames [default: 1]
    #[arg(long, value_name = "COUNT")]
    frames: Option<String>,
    /// Trays for developer, clearing baths and wash [default: one for each]
    #[arg(long, value_name = "COUNT")]
    trays: Option<String>,
    /// Clearing baths, 1 to 3 [default: 3, or as many as there are trays for]
    #[arg(long, value_name = "COUNT")]
    baths: Option<String>,
    /// Coated sheets that can dry at a time [default: 4]
    #[arg(long, value_name = "COUNT")]
    drying_places: Option<String>,
    /// Sheets the humid box takes at a time [default: 1]
    #[arg(long, value_name = "COUNT")]
    humid_places: Option<String>,
    /// Prints one wash tray holds [default: 4]
    #[arg(long, value_name = "COUNT")]
    wash_holds: Option<String>,
    /// Coat and dry twice
    #[arg(long)]
    double: bool,
    /// Printing-out: exposed as soon as it is humid enough, rinsed and not developed
    #[arg(long)]
    printing_out: bool,
    /// Mixing and coating [default: 8min]
    #[arg(long, value_name = "TIME")]
    coat: Option<String>,
    /// Drying [default: 30min]
    #[arg(long, value_name = "TIME")]
    dry: Option<String>,
    /// In the humid box before exposure [default: none; 1h for printing-out]
    #[arg(long, value_name = "TIME")]
    humidify: Option<String>,
    /// Loading the frame [default: 3min]
    #[arg(long, value_name = "TIME")]
    load: Option<String>,
    /// In the developer, or in the first rinse [default: 3min]
    #[arg(long, value_name = "TIME")]
    develop: Option<String>,
    /// In each clearing bath [default: 7min]
    #[arg(long, value_name = "TIME")]
    clear: Option<String>,
    /// In the wash [default: 30min]
    #[arg(long, value_name = "TIME")]
    wash: Option<String>,
    /// Hanging to dry, if the session waits for it [default: none]
    #[arg(long, value_name = "TIME")]
    hang: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct PageArgs {
    /// Size of the paper: a4 or letter [default: a4]
    #[arg(long, value_name = "SIZE")]
    pub(super) paper: Option<String>,
    /// Studio named on the sheet
    #[arg(long, value_name = "NAME")]
    pub(super) studio: Option<String>,
    /// Day on the sheet, as 2026-03-14 [default: today]
    #[arg(long, value_name = "DATE")]
    day: Option<String>,
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  handcoat session blank -o data-sheet.pdf --paper letter")]
pub(super) struct BlankArgs {
    /// Write the sheet to this PDF file
    #[arg(short = 'o', long, value_name = "FILE")]
    output: Option<PathBuf>,
    #[command(flatten)]
    page: PageArgs,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

#[derive(Debug, Args)]
pub(super) struct ClocksArgs {
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl PlanArgs {
    /// The answers, unread.
    fn answers(&self) -> SessionAnswers {
        SessionAnswers {
            prints: self.prints.clone(),
            named: self.named.clone(),
            start: self.start.clone(),
            ..self.with.answers()
        }
    }
}

impl WithArgs {
    /// The answers, unread.
    fn answers(&self) -> SessionAnswers {
        SessionAnswers {
            exposure: self.exposure.clone(),
            people: self.people.clone(),
            lamps: self.lamps.clone(),
            frames: self.frames.clone(),
            trays: self.trays.clone(),
            baths: self.baths.clone(),
            drying_places: self.drying_places.clone(),
            humid_places: self.humid_places.clone(),
            wash_holds: self.wash_holds.clone(),
            double: self.double,
            printing_out: self.printing_out,
            coat: self.coat.clone(),
            dry: self.dry.clone(),
            humidify: self.humidify.clone(),
            load: self.load.clone(),
            develop: self.develop.clone(),
            clear: self.clear.clone(),
            wash: self.wash.clone(),
            hang: self.hang.clone(),
            ..SessionAnswers::default()
        }
    }
}

impl PageArgs {
    pub(super) fn day(&self) -> Result<Day, Refusal> {
        let today = || Ok(Day::of(jiff::ZonedDateTime::now().date()));
        self.day.as_deref().map_or_else(today, Day::read)
    }
}

pub(super) fn run(command: &SessionCommand) -> Result<String, Refusal> {
    match command {
        SessionCommand::Plan(args) => run_plan(args),
        SessionCommand::Blank(args) => run_blank(args),
        SessionCommand::Clocks(args) => Ok(run_clocks(args)),
        SessionCommand::Begin(args) => bench::run_begin(args),
        SessionCommand::Next(args) => bench::run_next(args),
        SessionCommand::Show(args) => bench::run_show(args),
        SessionCommand::List(args) => bench::run_list(args),
        SessionCommand::Timers(args) => bench::run_timers(args),
        SessionCommand::Timer(args) => bench::run_timer(args),
        SessionCommand::Away(args) => bench::run_away(args),
    }
}

fn run_plan(args: &PlanArgs) -> Result<String, Refusal> {
    let plan = session_plan(&args.answers())?;
    // Read also where no sheet is asked for: nothing that is typed passes unread.
    let day = args.page.day()?;
    let mut out = if args.json { json::lines(&json::session::planned(&plan)) } else { plan_text(&plan) };
    if let Some(path) = &args.output {
        let facts = SessionSheetFacts {
            studio: args.page.studio.clone(),
            day,
            invented: args.invented,
            paper: args.page.paper.clone(),
        };
        free(path)?;
        files::write_new(Question::Output, path, &session_sheet(&plan, &facts, &[])?)?;
        if !args.json {
            let _ = writeln!(out, "\nThe session sheet is in {}.", path.display());
        }
    }
    Ok(out)
}

fn run_blank(args: &BlankArgs) -> Result<String, Refusal> {
    let path = args.output.as_ref().ok_or_else(|| Refusal::missing(Question::Output, "data-sheet.pdf"))?;
    let (studio, paper) = (args.page.studio.clone(), args.page.paper.clone());
    let facts = BlankFacts { studio, day: args.page.day()?, paper };
    free(path)?;
    let pdf = blank_sheet(&facts)?;
    files::write_new(Question::Output, path, &pdf)?;
    if args.json {
        return Ok(json::lines(&json!({ "file": path.display().to_string(), "bytes": pdf.len() })));
    }
    Ok(format!("The blank data sheet is in {}.\n", path.display()))
}

fn run_clocks(args: &ClocksArgs) -> String {
    let now = clock::reading();
    if args.json {
        return json::lines(&json!({
            "by": if now.boot.is_some() { "start_of_machine" } else { "wall" },
            "wall_unix_ms": now.wall.to_milliseconds(),
            "since_start_ms": now.boot.map(|own| own.since.to_milliseconds()),
        }));
    }
    match now.boot {
        Some(own) => {
            let since = Span::milliseconds(own.since.to_milliseconds()).map_or("over 30 days".into(), duration);
            format!(
                "Timers go by the time since this machine was started, {since} ago: putting the clock right does not move them.\n\
                 After the machine is started anew a running timer goes by the clock on the wall, and says so.\n"
            )
        }
        None => "This machine does not tell its starts apart: timers go by the clock on the wall. Leave it alone while one runs.\n".into(),
    }
}

/// Said before a page is set for nothing; whether it is still free is decided when it is made.
fn free(path: &Path) -> Result<(), Refusal> {
    if files::occupied(path) { Err(Refusal::occupied(Question::Output, path)) } else { Ok(()) }
}

fn plan_text(plan: &SessionPlan) -> String {
    let mut out = String::new();
    for sentence in summary(plan) {
        let _ = writeln!(out, "{sentence}");
    }
    let hands = steps_by_hand(plan);
    let several = hands.len() > 1;
    for (hand, steps) in hands {
        let head = if several { format!("Hand {hand}") } else { String::from("What to do next") };
        let _ = writeln!(out, "\n{head}\n{}", table::left_columns(&steps).trim_end());
    }
    out
}
