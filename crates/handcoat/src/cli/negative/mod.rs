//! `handcoat negative …`: from a picture and a curve to a negative for ink on film.

mod args;
mod folder;
mod jobs;
mod make;
mod progress;
mod text;

use handcoat_work::Refusal;
use handcoat_work::negative::Negative;

pub(super) use args::NegativeCommand;
pub(crate) use text::left;

use super::Outcome;

pub(super) fn run(command: &NegativeCommand) -> Result<Outcome, Refusal> {
    let said = match command {
        NegativeCommand::Make(args) if args.picture.is_dir() => return folder::make(args),
        NegativeCommand::Make(args) => make::one(args),
        NegativeCommand::Jobs(args) => jobs::list(args),
        NegativeCommand::Stop(args) => jobs::stop(args),
        NegativeCommand::Resume(args) => jobs::resume(args),
        NegativeCommand::List(args) => jobs::negatives(args),
        NegativeCommand::Show(args) => jobs::show(args),
    };
    said.map(Outcome::ok)
}

/// What is said of a negative, line by line; its file's name comes before the first.
pub(crate) fn negative_lines(negative: &Negative) -> Vec<String> {
    text::lines(negative)
}
