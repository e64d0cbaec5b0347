//! `handcoat negative …`: from a picture and a curve to a negative for ink on film.

mod args;
mod folder;
mod jobs;
mod make;
mod progress;
mod text;

use handcoat_work::negative::{Hooks, Negative, make_inks};
use handcoat_work::{Question, Refusal};

use args::InksArgs;
pub(super) use args::NegativeCommand;
pub(super) use make::curve_of;
pub(crate) use text::left;

use super::Outcome;
use crate::json;

pub(super) fn run(command: &NegativeCommand) -> Result<Outcome, Refusal> {
    let said = match command {
        NegativeCommand::Make(args) => match args.pictures.as_slice() {
            [only] if only.is_dir() => return folder::make(args, only),
            _ => make::one(args),
        },
        NegativeCommand::Inks(args) => inks(args),
        NegativeCommand::Jobs(args) => jobs::list(args),
        NegativeCommand::Stop(args) => jobs::stop(args),
        NegativeCommand::Resume(args) => jobs::resume(args),
        NegativeCommand::PutAway(args) => jobs::put_away(args),
        NegativeCommand::List(args) => jobs::negatives(args),
        NegativeCommand::Show(args) => jobs::show(args),
    };
    said.map(Outcome::ok)
}

/// Strips of inks come of no picture: nothing of it is opened, and it is done in this process.
fn inks(args: &InksArgs) -> Result<String, Refusal> {
    let target = args.output.as_ref().ok_or_else(|| Refusal::missing(Question::Output, "inks.tif"))?;
    let guard = progress::Guard::new();
    let made = make_inks(&args.answers(), target, &Hooks::of(&|_, _| {}, guard.cancel()))?;
    if args.json {
        return Ok(json::lines(&json::negative::inks(&made, target)));
    }
    Ok(text::inks(&made, target))
}

/// What is said of a negative, line by line; its file's name comes before the first.
pub(crate) fn negative_lines(negative: &Negative) -> Vec<String> {
    text::lines(negative)
}
