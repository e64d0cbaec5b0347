//! `handcoat coat …`

mod acts;
mod args;
mod large;
mod text;

use handcoat_work::coat::{Known, plan};
use handcoat_work::{Refusal, Studio};

pub(super) use args::CoatCommand;

use crate::json;
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
    let studio = args.whose.book.is_some().then(|| args.whose.open()).transpose()?;
    let known = Known::default();
    let mut planned = plan(&answers, studio.as_ref(), &known);
    // A plan needs no book; one that stands in the surroundings is opened only where a bottle is named.
    let named = planned.as_ref().err().is_some_and(|refusal| refusal.code == "solution_unreadable");
    if studio.is_none() && named && args.whose.path().is_ok() {
        let own: Studio = args.whose.open()?;
        planned = plan(&answers, Some(&own), &known);
    }
    let planned = planned?;
    Ok(if args.whose.json { json::lines(&json::coat::planned(&planned)) } else { plan_text(&planned.plan) })
}
