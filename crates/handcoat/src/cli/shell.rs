//! `handcoat completions`, `handcoat man`: what a shell and a manual reader want to know of the commands.

use std::path::{Path, PathBuf};

use clap::{Args, Command, CommandFactory};
use clap_complete::Shell;
use handcoat_work::{Question, Refusal, Remedy};
use serde_json::json;

use super::{Cli, files};
use crate::json;

const COMPLETIONS_EXAMPLES: &str = "\
Examples:
  handcoat completions bash > ~/.local/share/bash-completion/completions/handcoat
  handcoat completions fish > ~/.config/fish/completions/handcoat.fish";

#[derive(Debug, Args)]
#[command(after_help = COMPLETIONS_EXAMPLES)]
pub(super) struct CompletionsArgs {
    /// For which shell: bash, elvish, fish, powershell or zsh
    #[arg(value_name = "SHELL", hide_possible_values = true)]
    shell: Shell,
    /// Answer as JSON
    #[arg(long)]
    json: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  handcoat man | man -l -\n  handcoat man ~/.local/share/man/man1")]
pub(super) struct ManArgs {
    /// Folder to leave the page of every command in; without, the first page is printed
    #[arg(value_name = "DIR")]
    dir: Option<PathBuf>,
    /// Answer as JSON
    #[arg(long)]
    json: bool,
}

pub(super) fn run_completions(args: &CompletionsArgs) -> Result<String, Refusal> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "handcoat", &mut script);
    let script = String::from_utf8_lossy(&script).into_owned();
    if args.json {
        return Ok(json::lines(&json!({ "shell": args.shell.to_string(), "script": script })));
    }
    Ok(script)
}

pub(super) fn run_man(args: &ManArgs) -> Result<String, Refusal> {
    // Built, so that every command knows the words that lead to it.
    let mut command = Cli::command().disable_help_subcommand(true);
    command.build();
    let mut pages = Vec::new();
    all(&command, &mut pages)?;
    let Some(dir) = &args.dir else {
        let first = pages.into_iter().next().map_or(String::new(), |(_, page)| page);
        return Ok(if args.json { json::lines(&json!({ "page": first })) } else { first });
    };
    leave(dir, &pages)?;
    let names: Vec<&String> = pages.iter().map(|(name, _)| name).collect();
    if args.json {
        return Ok(json::lines(&json!({ "dir": dir.display().to_string(), "files": names })));
    }
    Ok(format!("{} pages are in {}.\n", names.len(), dir.display()))
}

/// The page of a command and those of all under it, as `handcoat-stock-plan.1`.
fn all(command: &Command, pages: &mut Vec<(String, String)>) -> Result<(), Refusal> {
    let man = clap_mangen::Man::new(command.clone());
    let mut page = Vec::new();
    man.render(&mut page).map_err(|error| {
        let cause = format!("the page of `{}` could not be made: {error}", command.get_name());
        Refusal::output("output_unwritable", cause, vec![Remedy::TryAgain])
    })?;
    pages.push((man.get_filename(), String::from_utf8_lossy(&page).into_owned()));
    command.get_subcommands().filter(|own| !own.is_hide_set()).try_for_each(|own| all(own, pages))
}

/// Writes pages that are not there yet; when one is, none is written.
fn leave(dir: &Path, pages: &[(String, String)]) -> Result<(), Refusal> {
    let about = Question::OutputFolder;
    std::fs::create_dir_all(dir).map_err(|error| match error.kind() {
        std::io::ErrorKind::AlreadyExists | std::io::ErrorKind::NotADirectory => Refusal::occupied(about, dir),
        _ => files::unwritable(about, dir, &error),
    })?;
    if let Some((name, _)) = pages.iter().find(|(name, _)| files::occupied(&dir.join(name))) {
        return Err(Refusal::occupied(about, &dir.join(name)));
    }
    pages.iter().try_for_each(|(name, page)| files::write_new(about, &dir.join(name), page.as_bytes()))
}
