//! `handcoat keep …`: papers, brushes and rods, droppers, lamps, baths, supplies, negatives, set-ups.

use std::fmt::Write as _;

use clap::{Args, Subcommand};
use handcoat_work::keep::{Keep, Kept, RecordKind, change, fields_of, keep, kept, kinds, put_away, restock, shopping};
use handcoat_work::{Field, Question, Refusal, RefusalKind, Remedy};

use super::book::{ActArgs, BookArgs, done_text};
use super::fields::{FieldArgs, Table};
use crate::json;

#[derive(Debug, Subcommand)]
pub(super) enum KeepCommand {
    /// A paper, by lot
    Paper(KeepArgs<Paper>),
    /// A brush or a rod
    Tool(KeepArgs<Tool>),
    /// A dropper with one solution
    Dropper(KeepArgs<Dropper>),
    /// A lamp, or the sun
    Lamp(KeepArgs<Lamp>),
    /// A developer, a clearing bath, a wash
    Bath(KeepArgs<Bath>),
    /// Something that is counted: gloves, films, blotters
    Supply(KeepArgs<Supply>),
    /// A negative
    Negative(KeepArgs<Negative>),
    /// A set-up: paper, coat, lamp, developer, film, printer and ink that belong together
    Setup(KeepArgs<Setup>),
    /// What is kept
    List(ListArgs),
    /// Count what came, or what is there
    Count(CountArgs),
    /// Put something away that is used up, broken or gone
    Away(AwayArgs),
    /// What is low, as one list
    Shopping(ShoppingArgs),
}

/// One kind and the fields it has.
macro_rules! kinds {
    ($($name:ident),+) => {$(
        #[derive(Debug)]
        pub(super) struct $name;

        impl Table for $name {
            fn fields() -> &'static [Field] {
                fields_of(RecordKind::$name)
            }
        }
    )+};
}

kinds!(Paper, Tool, Dropper, Lamp, Bath, Supply, Negative, Setup);

#[derive(Debug, Args)]
pub(super) struct KeepArgs<T: Table + Send + Sync + 'static> {
    /// What it is called
    #[arg(value_name = "NAME")]
    name: Option<String>,
    /// It is in the book already: change what is said here and leave the rest
    #[arg(long)]
    change: bool,
    /// Another name for it, with --change
    #[arg(long, value_name = "NAME", requires = "change")]
    rename: Option<String>,
    /// How many came: sheets of a paper, pieces of a supply
    #[arg(long, value_name = "COUNT")]
    came: Option<String>,
    #[command(flatten)]
    fields: FieldArgs<T>,
    #[command(flatten)]
    act: ActArgs,
}

#[derive(Debug, Args)]
pub(super) struct ListArgs {
    /// paper, tool, dropper, lamp, bath, supply, negative or setup [default: all]
    kind: Option<String>,
    #[command(flatten)]
    whose: BookArgs,
}

#[derive(Debug, Args)]
pub(super) struct CountArgs {
    /// paper or supply
    kind: String,
    /// Its name
    name: String,
    /// How many came
    #[arg(long, value_name = "COUNT")]
    came: Option<String>,
    /// How many are there now, counted
    #[arg(long, value_name = "COUNT", conflicts_with = "came")]
    there: Option<String>,
    #[command(flatten)]
    act: ActArgs,
}

#[derive(Debug, Args)]
pub(super) struct AwayArgs {
    /// paper, tool, dropper, lamp, bath, supply, negative or setup
    kind: String,
    /// Its name
    name: String,
    #[command(flatten)]
    act: ActArgs,
}

#[derive(Debug, Args)]
pub(super) struct ShoppingArgs {
    #[command(flatten)]
    whose: BookArgs,
}

pub(super) fn run(command: &KeepCommand) -> Result<String, Refusal> {
    match command {
        KeepCommand::Paper(args) => args.run(RecordKind::Paper),
        KeepCommand::Tool(args) => args.run(RecordKind::Tool),
        KeepCommand::Dropper(args) => args.run(RecordKind::Dropper),
        KeepCommand::Lamp(args) => args.run(RecordKind::Lamp),
        KeepCommand::Bath(args) => args.run(RecordKind::Bath),
        KeepCommand::Supply(args) => args.run(RecordKind::Supply),
        KeepCommand::Negative(args) => args.run(RecordKind::Negative),
        KeepCommand::Setup(args) => args.run(RecordKind::Setup),
        KeepCommand::List(args) => run_list(args),
        KeepCommand::Count(args) => run_count(args),
        KeepCommand::Away(args) => run_away(args),
        KeepCommand::Shopping(args) => run_shopping(args),
    }
}

impl<T: Table + Send + Sync> KeepArgs<T> {
    fn run(&self, kind: RecordKind) -> Result<String, Refusal> {
        let moment = self.act.moment()?;
        let mut studio = self.act.whose.open()?;
        let answers = Keep { name: self.name.clone(), fields: self.fields.answers(), came: self.came.clone() };
        let done = if self.change {
            let name = self.name.as_ref().ok_or_else(|| Refusal::missing(Question::Name, "NAME"))?;
            let answers = Keep { name: self.rename.clone(), ..answers };
            change(&mut studio, &moment, kind, name, &answers).map_err(|own| named_by(Question::Rename, own))?
        } else {
            keep(&mut studio, &moment, kind, &answers).map_err(|own| named_by(Question::KeptName, own))?
        };
        Ok(done_text(&done, &self.act.whose))
    }
}

/// A name stands bare at this door, and another one behind a flag of its own.
fn named_by(question: Question, refusal: Refusal) -> Refusal {
    let only_name = refusal.about == Some(Question::Name);
    let remedies = refusal.remedies.into_iter().map(|own| match own {
        Remedy::Write(Question::Name, text) => Remedy::Write(question, text),
        own => own,
    });
    Refusal { remedies: remedies.collect(), about: if only_name { Some(question) } else { refusal.about }, ..refusal }
}

fn kind_named(text: &str) -> Result<RecordKind, Refusal> {
    kinds().iter().copied().find(|kind| kind.word() == text.trim()).ok_or_else(|| {
        let words: Vec<&str> = kinds().iter().map(|kind| kind.word()).collect();
        let cause = format!("`{text}` is no kind of thing that is kept; expected one of {}", words.join(", "));
        Refusal {
            code: "kind_unknown",
            kind: RefusalKind::Unreadable,
            about: Some(Question::Kind),
            cause,
            excerpt: None,
            remedies: vec![Remedy::Write(Question::Kind, "paper".into())],
        }
    })
}

fn run_list(args: &ListArgs) -> Result<String, Refusal> {
    let only = args.kind.as_deref().map(kind_named).transpose()?;
    let studio = args.whose.open()?;
    let mut all = Vec::new();
    for &kind in kinds().iter().filter(|kind| only.is_none_or(|own| own == **kind)) {
        all.extend(kept(&studio, kind)?);
    }
    if args.whose.json {
        return Ok(json::lines(&json::print::kept(&all)));
    }
    if all.is_empty() {
        return Ok(
            "Nothing is kept yet. Begin with: handcoat keep paper \"cotton rag 300\" --lot A7 --came 25\n".into()
        );
    }
    Ok(all.iter().map(text).collect())
}

fn text(own: &Kept) -> String {
    let mut out = format!("{} {}  {}", own.kind.word(), own.number, own.name);
    if let Some(there) = own.there {
        let _ = write!(out, ": {there} there");
    }
    if let Some(hours) = own.hours {
        let _ = write!(out, ": {} h", handcoat_craft::measure::fixed(hours, 1));
    }
    if let Some(area) = own.area {
        let metres = area.to_square_centimetres() / 10_000.0;
        let _ = write!(out, ": {} m² through it", handcoat_craft::measure::fixed(metres, 2));
    }
    out.push('\n');
    for (field, words) in &own.known {
        let _ = writeln!(out, "       {}: {words}", field.label);
    }
    for notice in &own.notices {
        let _ = writeln!(out, "       ! {notice}");
    }
    out
}

fn run_count(args: &CountArgs) -> Result<String, Refusal> {
    let (kind, moment) = (kind_named(&args.kind)?, args.act.moment()?);
    let mut studio = args.act.whose.open()?;
    let done = restock(&mut studio, &moment, kind, &args.name, args.came.as_ref(), args.there.as_ref())?;
    Ok(done_text(&done, &args.act.whose))
}

fn run_away(args: &AwayArgs) -> Result<String, Refusal> {
    let (kind, moment) = (kind_named(&args.kind)?, args.act.moment()?);
    let mut studio = args.act.whose.open()?;
    Ok(done_text(&put_away(&mut studio, &moment, kind, &args.name)?, &args.act.whose))
}

fn run_shopping(args: &ShoppingArgs) -> Result<String, Refusal> {
    let list = shopping(&args.whose.open()?)?;
    if args.whose.json {
        return Ok(json::lines(&json::print::shopping(&list)));
    }
    if list.is_empty() {
        return Ok("Nothing is low.\n".into());
    }
    let line = |own: &handcoat_work::keep::ToBuy| {
        format!("{} {}: {} there, low at {}\n", own.kind.word(), own.name, own.there, own.low)
    };
    Ok(list.iter().map(line).collect())
}
