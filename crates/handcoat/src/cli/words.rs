//! Words of this door: flags for questions, commands for remedies, exit codes for refusals.

use std::fmt::Write as _;

use clap::error::ErrorKind;
use handcoat_work::{Question, Refusal, RefusalKind, Remedy};

/// The exit code of a refusal.
pub(super) fn exit_code(kind: RefusalKind) -> u8 {
    match kind {
        RefusalKind::Failed => 1,
        RefusalKind::Unreadable => 2,
        RefusalKind::Refused => 4,
    }
}

/// A stable code for what the argument parser refuses.
pub(super) fn usage_code(kind: ErrorKind) -> &'static str {
    match kind {
        ErrorKind::InvalidSubcommand | ErrorKind::MissingSubcommand => "command_unknown",
        ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand => "command_missing",
        ErrorKind::UnknownArgument => "argument_unknown",
        ErrorKind::MissingRequiredArgument => "argument_missing",
        ErrorKind::ArgumentConflict => "argument_repeated",
        ErrorKind::InvalidUtf8 => "argument_not_text",
        _ => "argument_unreadable",
    }
}

/// The flag that answers a question; a bare word for positional arguments.
pub(super) fn flag(question: Question) -> &'static str {
    match question {
        Question::Powder => "--salt",
        Question::Chloride => "--with",
        Question::Volume => "--make",
        Question::PercentComplex => "--percent-complex",
        Question::Molarity => "--molarity",
        Question::SaltPer100Ml => "--salt-per-100ml",
        Question::MetalPerMl => "--metal-per-ml",
        Question::SaltMass => "--salt-mass",
        Question::Bottle => "--bottle",
        Question::Budget => "--budget",
        Question::ChlorideRatio => "--chloride-ratio",
        Question::ChlorideMass => "--chloride-mass",
        Question::Purity => "--purity",
        Question::PurityOf => "--purity-of",
        Question::Hydrate => "--hydrate",
        Question::MolarMass => "--stated-molar-mass",
        Question::Price => "--price-salt",
        Question::Balance => "--balance",
        Question::Glass => "--glass",
        Question::Rinses => "--rinses",
        Question::Meets => "--meets",
        Question::Weighed => "--weighed",
        Question::ChlorideWeighed => "--chloride-weighed",
        Question::Mixed => "--mixed",
        Question::Added => "--added",
        Question::Percent => "--percent",
        Question::FirstRung => "--from",
        Question::Keep => "--keep",
        Question::Rungs => "--rungs",
        Question::Substance => "FORMULA",
        Question::Studio => "--studio",
        Question::Date => "--day",
        Question::OutputFile => "--sheet",
        Question::OutputFolder => "DIR",
    }
}

/// A typical answer, so that a remedy can be pasted.
fn example(question: Question) -> &'static str {
    match question {
        Question::Volume => "60mL",
        Question::SaltMass => "5.4g",
        Question::Bottle => "100mL",
        Question::Budget => "400EUR",
        _ => "…",
    }
}

/// A remedy as something to type.
pub(super) fn remedy(remedy: &Remedy) -> String {
    match remedy {
        Remedy::Write(question, text) => match flag(*question) {
            positional if !positional.starts_with('-') => format!("write {positional} as {}", quoted(text)),
            flag => format!("{flag} {}", quoted(text)),
        },
        Remedy::AnswerOneOf(questions) if questions.len() == 1 => questions
            .iter()
            .map(|&question| format!("another {}, such as {}", flag(question), example(question)))
            .collect(),
        Remedy::AnswerOneOf(questions) => {
            let ways: Vec<String> =
                questions.iter().map(|&question| format!("{} {}", flag(question), example(question))).collect();
            format!("give one of: {}", ways.join(", "))
        }
        Remedy::LeaveOut(question) => format!("leave out {}", flag(*question)),
        Remedy::FinerScale(step) => format!("weigh on a finer scale: --balance {step}"),
        Remedy::AnotherName => "choose another name, or move what is there".into(),
    }
}

/// Quotes what a shell would take apart.
pub(super) fn quoted(text: &str) -> String {
    let plain = text.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '.' | ',' | '%' | '-' | '/' | ':'));
    if plain { text.into() } else { format!("'{text}'") }
}

/// A refusal as text: cause, place, next steps, code.
pub(super) fn refusal(refusal: &Refusal) -> String {
    let about = refusal.about.map(flag).map_or(String::new(), |flag| format!("{flag}: "));
    let mut out = format!("{about}{}\n", refusal.cause);
    if let Some(excerpt) = &refusal.excerpt {
        let marks = "^".repeat(excerpt.chars.len().max(1));
        let shown: String = excerpt.text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        let _ = writeln!(out, "  {shown}\n  {}{marks}", " ".repeat(excerpt.chars.start));
    }
    for step in &refusal.remedies {
        let _ = writeln!(out, "  try: {}", remedy(step));
    }
    let _ = writeln!(out, "[{}]", refusal.code);
    out
}
