//! `handcoat coat …`

mod acts;
mod args;
mod large;
mod text;

use std::fmt::Write as _;

use handcoat_work::coat::{CoatSheetFacts, coat_sheet, plan};
use handcoat_work::expose::one_setup;
use handcoat_work::{Day, Question, Refusal, Studio};
use serde_json::Value;

pub(super) use args::CoatCommand;

use crate::cli::expose::setup_words;
use crate::cli::files;
use crate::{clock, json};
use args::PlanArgs;
use text::plan_text;

pub(super) fn run(command: &CoatCommand) -> Result<String, Refusal> {
    match command {
        CoatCommand::Plan(args) => run_plan(args),
        CoatCommand::Made(args) => acts::run_made(args),
        CoatCommand::Spoiled(args) => acts::run_spoiled(args),
        CoatCommand::Open(args) => acts::run_open(args),
    }
}

fn run_plan(args: &PlanArgs) -> Result<String, Refusal> {
    let answers = args.answers();
    let named = args.whose.book.is_some() || args.paper.is_some() || args.setup.is_some();
    let mut studio: Option<Studio> = named.then(|| args.whose.open()).transpose()?;
    let mut planned = plan(&answers, studio.as_ref());
    // A plan needs no book; one that stands in the surroundings is opened only where a bottle or a tool of it is named.
    let meant = |refusal: &Refusal| ["solution_unreadable", "tool_unknown"].contains(&refusal.code);
    if studio.is_none() && planned.as_ref().err().is_some_and(meant) && args.whose.path().is_ok() {
        let own = args.whose.open()?;
        planned = plan(&answers, Some(&own));
        studio = Some(own);
    }
    let planned = planned?;
    let setup = args.setup.as_ref().zip(studio.as_ref());
    let setup = setup.map(|(name, own)| one_setup(own, name, clock::now())).transpose()?;
    let mut out = if args.whose.json {
        let mut value = json::coat::planned(&planned);
        if let (Value::Object(out), Some(own)) = (&mut value, &setup) {
            out.insert("exposed_as".into(), json::expose::setup(own));
        }
        json::lines(&value)
    } else {
        let mut words = plan_text(&planned);
        if let Some(own) = &setup {
            words.push('\n');
            words.push_str(&setup_words(own));
        }
        words
    };
    if let Some(path) = &args.output {
        let settings = studio.as_ref().map(Studio::settings).transpose()?;
        let facts = CoatSheetFacts {
            studio: settings.and_then(|own| own.studio),
            title: None,
            day: Day::of(jiff::ZonedDateTime::now().date()),
            invented: args.invented,
            page: args.page.clone(),
        };
        if files::occupied(path) {
            return Err(Refusal::occupied(Question::Output, path));
        }
        files::write_new(Question::Output, path, &coat_sheet(&planned, &facts)?)?;
        if !args.whose.json {
            let _ = writeln!(out, "\nThe coat sheet is in {}.", path.display());
        }
    }
    Ok(out)
}
