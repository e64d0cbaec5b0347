//! The command line: data to stdout, messages to stderr, one exit code.

mod book;
mod coat;
mod demo;
mod export;
mod expose;
mod fields;
mod files;
mod import;
mod keep;
mod ledger;
mod negative;
mod paper;
mod print;
mod serve;
mod session;
mod settings;
mod shell;
mod stock;
mod table;
mod tone;
mod tour;
mod usage;
mod words;

use std::ffi::OsString;

use clap::{Parser, Subcommand};
use handcoat_work::Refusal;
use handcoat_work::stock::Planned;

pub(crate) use ledger::amount_words;
pub(crate) use negative::{left, negative_lines};
pub(crate) use print::likelihood_words;
pub(crate) use usage::Usage;

use crate::json;

/// What a command printed and how it ended.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Outcome {
    /// For stdout.
    pub data: String,
    /// For stderr.
    pub messages: String,
    /// 0 ok, 1 failed, 2 unreadable, 3 not there, 4 refused by a rule, 5 a book that is damaged, foreign or newer, 6 busy.
    pub code: u8,
}

impl Outcome {
    fn ok(data: String) -> Self {
        Self { data, ..Self::default() }
    }

    /// What is left to say when the data could not be written to stdout. `None` for a closed pipe (`… | head`):
    /// that is no failure, and there is nobody left to tell.
    #[must_use]
    pub fn undelivered(error: &std::io::Error, arguments: &[OsString]) -> Option<Self> {
        if error.kind() == std::io::ErrorKind::BrokenPipe {
            return None;
        }
        let cause = format!("what there was to say could not be written to stdout: {error}");
        let remedies = vec![files::next_step(error)];
        let refusal = Refusal::output("output_unwritable", cause, remedies);
        Some(Self::refused(&refusal, wants_json(arguments)))
    }

    /// A refusal, as words or as JSON.
    fn refused(refusal: &Refusal, as_json: bool) -> Self {
        let messages = if as_json {
            json::lines(&json::refusal(refusal, words::flag, words::remedy))
        } else {
            words::refusal(refusal)
        };
        Self { messages, code: words::exit_code(refusal.kind), ..Self::default() }
    }
}

const EXAMPLES: &str = "\
Two to begin with:
  handcoat tour
  handcoat stock plan --salt PdCl2 --make 60mL --balance 0.01g

Quantities carry their unit (5.4g, 60mL, 0.47M, 15%), with a decimal point or comma.";

/// Stock, ledger, exposure and negatives for hand-coated platinum and palladium prints
#[derive(Debug, Parser)]
#[command(name = "handcoat", version, after_help = EXAMPLES, arg_required_else_help = true, max_term_width = 100)]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Run the whole job on sample inputs of an invented studio and leave files to look at
    Tour(tour::TourArgs),
    /// From powder to a bottle of known strength
    #[command(subcommand)]
    Stock(stock::StockCommand),
    /// Papers, brushes and rods, droppers, lamps, baths, supplies and negatives
    #[command(subcommand)]
    Keep(keep::KeepCommand),
    /// The record of every print: found again, repeated, compared
    #[command(subcommand)]
    Print(print::PrintCommand),
    /// The day's printing: who does what next, and when it is over
    #[command(subcommand)]
    Session(session::SessionCommand),
    /// Salt boxes, droppers, and what reaches the paper
    #[command(subcommand)]
    Paper(paper::PaperCommand),
    /// From an image to whole drops of each solution
    #[command(subcommand)]
    Coat(coat::CoatCommand),
    /// From a wedge or strips to exposure time, exposure scale and contrast
    #[command(subcommand)]
    Expose(expose::ExposeCommand),
    /// From the readings of a chart to the curve that makes this paper print what is wanted
    #[command(subcommand)]
    Tone(tone::ToneCommand),
    /// From a picture and a curve to a negative for ink on film
    #[command(subcommand)]
    Negative(negative::NegativeCommand),
    /// Where every milligram and every cent is
    #[command(subcommand)]
    Ledger(ledger::LedgerCommand),
    /// Serve the pages, to this computer or to the devices of the studio
    Serve(serve::ServeArgs),
    /// Make a new book
    New(book::NewArgs),
    /// Hold the book against itself
    Check(book::CheckArgs),
    /// Write a checked copy of the book
    Backup(book::BackupArgs),
    /// Put a copy in the book's place
    Restore(book::RestoreArgs),
    /// Print the emergency page for the wall
    Emergency(stock::label::EmergencyArgs),
    /// What the studio is called, which scale it has, whom it calls
    Settings(settings::SettingsArgs),
    /// Serve a filled, invented studio on this computer, to be thrown away
    Demo(demo::DemoArgs),
    /// Take an act back
    Undo(book::UndoArgs),
    /// Write the whole book as tables, JSON and a plain-text journal
    Export(export::ExportArgs),
    /// Put a list of jars and bottles on the shelf, after a dry run
    Import(import::ImportArgs),
    /// Print what completes these commands in a shell
    Completions(shell::CompletionsArgs),
    /// Print the manual page, or leave the page of every command in a folder
    Man(shell::ManArgs),
}

/// Runs one command line. Reads and writes only the files it is asked to; prints nothing itself,
/// except `serve`, which says where it listens before it goes on.
#[must_use]
pub fn run(arguments: &[OsString]) -> Outcome {
    let as_json = wants_json(arguments);
    let result = match Cli::try_parse_from(arguments) {
        Ok(Cli { command: Command::Tour(args) }) => tour::run(&args),
        Ok(Cli { command: Command::Stock(command) }) => stock::run(&command),
        Ok(Cli { command: Command::Keep(command) }) => keep::run(&command),
        Ok(Cli { command: Command::Print(command) }) => print::run(&command),
        Ok(Cli { command: Command::Session(command) }) => session::run(&command),
        Ok(Cli { command: Command::Paper(command) }) => paper::run(&command),
        Ok(Cli { command: Command::Coat(command) }) => coat::run(&command),
        Ok(Cli { command: Command::Expose(command) }) => expose::run(&command),
        Ok(Cli { command: Command::Tone(command) }) => tone::run(&command),
        Ok(Cli { command: Command::Negative(command) }) => {
            return negative::run(&command).unwrap_or_else(|refusal| Outcome::refused(&refusal, as_json));
        }
        Ok(Cli { command: Command::Ledger(command) }) => ledger::run(&command),
        Ok(Cli { command: Command::Serve(args) }) => serve::run(&args),
        Ok(Cli { command: Command::New(args) }) => book::run_new(&args),
        Ok(Cli { command: Command::Check(args) }) => book::run_check(&args),
        Ok(Cli { command: Command::Backup(args) }) => book::run_backup(&args),
        Ok(Cli { command: Command::Restore(args) }) => book::run_restore(&args),
        Ok(Cli { command: Command::Emergency(args) }) => stock::label::run_emergency(&args),
        Ok(Cli { command: Command::Settings(args) }) => settings::run_settings(&args),
        Ok(Cli { command: Command::Demo(args) }) => demo::run(&args),
        Ok(Cli { command: Command::Undo(args) }) => book::run_undo(&args),
        Ok(Cli { command: Command::Export(args) }) => export::run(&args),
        Ok(Cli { command: Command::Import(args) }) => import::run(&args),
        Ok(Cli { command: Command::Completions(args) }) => shell::run_completions(&args),
        Ok(Cli { command: Command::Man(args) }) => shell::run_man(&args),
        Err(error) => return usage::outcome(&error, arguments, as_json),
    };
    result.map_or_else(|refusal| Outcome::refused(&refusal, as_json), Outcome::ok)
}

fn wants_json(arguments: &[OsString]) -> bool {
    arguments.iter().any(|argument| argument == "--json")
}

/// The plan behind a command line that is a sound `stock plan`.
fn plan_of(arguments: &[OsString]) -> Option<Planned> {
    match Cli::try_parse_from(arguments).ok()?.command {
        Command::Stock(stock::StockCommand::Plan(args)) => handcoat_work::stock::plan(&args.answers()).ok(),
        _ => None,
    }
}
