//! Arguments that cannot be taken apart: what the argument parser found, in the words of the house.

use std::ffi::OsString;

use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{Command, CommandFactory};

use super::{Cli, Outcome, words};
use crate::json;

/// Why a command line was not understood.
pub(crate) struct Usage {
    /// Stable code.
    pub(crate) code: &'static str,
    /// The argument it is about, as it is written: a flag, or the name of a bare word.
    pub(crate) argument: Option<String>,
    /// What was seen in its place, if anything was.
    pub(crate) seen: Option<String>,
    /// What happened, the value seen, what was expected.
    pub(crate) cause: String,
    /// What to type next.
    pub(crate) remedies: Vec<String>,
}

/// Help that was asked for is data; anything else the parser says is a refusal of the arguments.
pub(super) fn outcome(error: &clap::Error, arguments: &[OsString], as_json: bool) -> Outcome {
    match error.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => Outcome::ok(error.render().to_string()),
        ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand if !as_json => {
            Outcome { messages: error.render().to_string(), code: 2, ..Outcome::default() }
        }
        _ => {
            let usage = usage(error, arguments);
            let messages = if as_json { json::lines(&json::usage(&usage)) } else { words::usage(&usage) };
            Outcome { messages, code: 2, ..Outcome::default() }
        }
    }
}

fn usage(error: &clap::Error, arguments: &[OsString]) -> Usage {
    let (spoken, command) = command_of(arguments);
    let named = said(error, ContextKind::InvalidArg);
    // `handcoat --json` asks for nothing yet: it is the command that is missing.
    let only_json = named.as_deref() == Some("--json") && command.has_subcommands();
    let kind = if only_json { ErrorKind::MissingSubcommand } else { error.kind() };
    let code = words::usage_code(kind);
    let value = said(error, ContextKind::InvalidValue).filter(|value| !value.is_empty());
    let suggested = said(error, ContextKind::SuggestedArg).or_else(|| said(error, ContextKind::SuggestedSubcommand));
    let argument = named.as_deref().map(bare);
    let wanted = argument.as_deref().map(|own| expected(&command, own));
    let about = argument.clone().unwrap_or_else(|| spoken.clone());
    let wanted = wanted.unwrap_or_else(|| "a value".into());
    let mut remedies = Vec::new();
    let (argument, seen, cause) = match kind {
        ErrorKind::UnknownArgument => {
            remedies.extend(suggested.map(|own| format!("write {own}")));
            let taken = if about.starts_with('-') { "argument" } else { "word" };
            let cause = format!("`{about}` is no {taken} that `{spoken}` takes; expected {}", takes(&command));
            (argument.clone(), argument, cause)
        }
        ErrorKind::InvalidSubcommand => {
            let seen = said(error, ContextKind::InvalidSubcommand).unwrap_or_default();
            remedies.extend(suggested.map(|own| format!("{spoken} {own}")));
            let cause = format!("`{seen}` is no command of `{spoken}`; expected {}", takes(&command));
            (None, Some(seen), cause)
        }
        ErrorKind::MissingSubcommand | ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand => {
            (None, None, format!("`{spoken}` was given no command; expected {}", takes(&command)))
        }
        ErrorKind::MissingRequiredArgument => {
            (argument, None, format!("`{about}` was not given; `{spoken}` expected {wanted}"))
        }
        ErrorKind::ArgumentConflict => {
            (argument, None, format!("`{about}` was given more than once; expected once {wanted}"))
        }
        ErrorKind::InvalidUtf8 => {
            let (argument, seen) = not_text(arguments);
            let cause = format!("`{seen}` holds bytes that are no text; expected UTF-8");
            (argument, Some(seen), cause)
        }
        ErrorKind::TooManyValues => {
            let seen = value.unwrap_or_default();
            remedies.push(format!("write {about} and nothing behind it"));
            (argument, Some(seen.clone()), format!("`{about}` was given `{seen}`; expected no value behind it"))
        }
        _ => {
            let seen = value.as_ref().map_or("nothing".into(), |value| format!("`{value}`"));
            (argument, value, format!("`{about}` has {seen} behind it; expected {wanted}"))
        }
    };
    remedies.push(format!("{spoken} --help"));
    Usage { code, argument, seen, cause, remedies }
}

/// What the parser noted of one kind.
fn said(error: &clap::Error, kind: ContextKind) -> Option<String> {
    match error.get(kind)? {
        ContextValue::String(text) => Some(text.clone()),
        ContextValue::Strings(texts) => texts.first().cloned(),
        _ => None,
    }
}

/// An argument without its placeholder: `--salt` of `--salt <FORMULA>`, `FORMULA` of `<FORMULA>`.
fn bare(named: &str) -> String {
    let first = named.split([' ', '=']).next().unwrap_or(named);
    first.trim_matches(['<', '>', '[', ']', '.']).to_owned()
}

/// What an argument takes: the name of its value, and its help.
fn expected(command: &Command, argument: &str) -> String {
    let value = |own: &clap::Arg| own.get_value_names().and_then(|names| names.first()).map(ToString::to_string);
    let own = command.get_arguments().find(|own| match argument.strip_prefix("--") {
        Some(long) => own.get_long() == Some(long),
        None => own.is_positional() && value(own).as_deref() == Some(argument),
    });
    let name = own.and_then(value).map_or_else(|| "a value".into(), |name| format!("`{name}`"));
    own.and_then(clap::Arg::get_help)
        .map_or(name.clone(), |help| format!("{name} ({})", uncapitalised(&help.to_string())))
}

/// Help begins with a capital; inside a sentence it does not.
fn uncapitalised(help: &str) -> String {
    let mut letters = help.chars();
    letters.next().map(|first| first.to_ascii_lowercase()).into_iter().chain(letters).collect()
}

/// What may stand behind a command: its commands, its words, or only flags.
fn takes(command: &Command) -> String {
    let commands: Vec<String> =
        command.get_subcommands().map(|own| format!("`{}`", own.get_name())).filter(|own| own != "`help`").collect();
    if !commands.is_empty() {
        return format!("one of {}", commands.join(", "));
    }
    let names = command.get_positionals().flat_map(|own| own.get_value_names().unwrap_or_default());
    match names.map(|name| name.as_str()).next() {
        Some(name) => format!("`{name}` and the flags of its help"),
        None => "the flags of its help".into(),
    }
}

/// The command that was spoken to, in words and as the parser knows it.
fn command_of(arguments: &[OsString]) -> (String, Command) {
    let mut command = Cli::command();
    let mut spoken = String::from("handcoat");
    for word in arguments.iter().skip(1).filter_map(|word| word.to_str()) {
        let Some(own) = command.find_subcommand(word) else { break };
        spoken = format!("{spoken} {word}");
        command = own.clone();
    }
    (spoken, command)
}

/// The first word that is no text, and the flag it belongs to.
fn not_text(arguments: &[OsString]) -> (Option<String>, String) {
    let Some(place) = arguments.iter().position(|word| word.to_str().is_none()) else {
        return (None, String::new());
    };
    let seen = arguments.get(place).map(|word| word.to_string_lossy().into_owned()).unwrap_or_default();
    if let Some((flag, value)) = seen.split_once('=').filter(|(flag, _)| flag.starts_with("--")) {
        return (Some(flag.to_owned()), value.to_owned());
    }
    let before = place.checked_sub(1).and_then(|before| arguments.get(before)).and_then(|word| word.to_str());
    (before.filter(|word| word.starts_with("--")).map(str::to_owned), seen)
}
