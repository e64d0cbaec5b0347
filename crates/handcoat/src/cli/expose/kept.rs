//! Set-ups and exposure tests in the book: the list, one test, and its sheet.

use std::fmt::Write as _;

use handcoat_craft::measure::with_uncertainty;
use handcoat_work::expose::{
    SetupView, TestRead, TestSheetFacts, TestView, dose_words, exposed_words, no_base_words, not_bracketed_words,
    one_setup, one_test, setups, strip_sheet, test_sheet, tests,
};
use handcoat_work::{Question, Refusal, Studio};

use super::args::{SheetArgs, ShowArgs};
use super::text;
use crate::cli::book::OfSetupArgs;
use crate::cli::files;
use crate::{clock, json};

/// How many tests a list shows.
const MOST: u32 = 60;

pub(super) fn list(args: &OfSetupArgs) -> Result<String, Refusal> {
    let studio = args.whose.open()?;
    let now = clock::now();
    let (all, newest) = match &args.setup {
        Some(name) => {
            let own = one_setup(&studio, name, now)?;
            (vec![own.clone()], own.tests)
        }
        None => (setups(&studio, now)?, tests(&studio, MOST, None)?),
    };
    if args.whose.json {
        return Ok(json::lines(&json::expose::kept(&all, &newest)));
    }
    if all.is_empty() && newest.is_empty() {
        return Ok("Nothing is tested yet. Begin with: handcoat keep setup 'cotton, palladium, tubes', then: handcoat expose strip \
                   --first 2:00 --until 8:00\n"
            .into());
    }
    let mut out: String = all.iter().map(setup_words).collect();
    for own in &newest {
        out.push_str(&line(own));
    }
    Ok(out)
}

/// A set-up and its base exposure in a few lines.
pub(in crate::cli) fn setup_words(own: &SetupView) -> String {
    let mut out = format!("set-up {}  {}\n", own.number, own.name);
    match &own.base {
        Some(base) => {
            let _ = writeln!(
                out,
                "       base exposure with {}  {} (test {}, {}, {})",
                dose_words(base.dose.as_deref()),
                exposed_words(&base.exposed),
                base.test,
                base.way.words(),
                age(base.days)
            );
            for words in &base.suspect {
                let _ = writeln!(out, "       ! find it anew: {words}");
            }
        }
        None => {
            let _ = writeln!(out, "       {}", no_base_words(own));
        }
    }
    if let Some((scale, test)) = &own.scale {
        let _ = writeln!(out, "       exposure scale {} log H (test {test})", with_uncertainty(scale));
    }
    out
}

fn age(days: i64) -> String {
    match days {
        ..=0 => "today".into(),
        1 => "yesterday".into(),
        days => format!("{days} days ago"),
    }
}

fn line(own: &TestView) -> String {
    let of = own.setup.as_ref().map_or(String::new(), |own| format!(" of {}", own.1));
    let dose = own.dose.as_deref().map_or(String::new(), |own| format!(", {}", dose_words(Some(own))));
    let came = match &own.found.base {
        Some(base) => exposed_words(base),
        None if own.found.bracketed => "ranked, no time".into(),
        None => "did not bracket".into(),
    };
    format!("test {}  {}{of}{dose}: {came}\n", own.number, own.way.words())
}

pub(super) fn show(args: &ShowArgs) -> Result<String, Refusal> {
    let studio = args.whose.open()?;
    let (own, read) = one_test(&studio, &args.test)?;
    if args.whose.json {
        return Ok(json::lines(&json::expose::one_test(&own, read.as_ref())));
    }
    let mut out = line(&own);
    if own.found.base.is_none() {
        let _ = writeln!(out, "{}", not_bracketed_words(own.way));
    }
    out.push_str(&match &read {
        Some(TestRead::Wedge(own)) => text::wedge(own),
        Some(TestRead::Ink(own)) => text::ink(own),
        Some(TestRead::Eye(own)) => text::eye(own),
        Some(TestRead::Strip(own)) => text::strips(own),
        None => String::new(),
    });
    if let Some(note) = &own.note {
        let _ = writeln!(out, "Note: {note}");
    }
    Ok(out)
}

pub(super) fn sheet(args: &SheetArgs) -> Result<String, Refusal> {
    let path = args.output.as_ref().ok_or_else(|| Refusal::missing(Question::Output, "test.pdf"))?;
    // A plan of strips needs no book.
    let studio = args.test.as_ref().map(|_| args.whose.open()).transpose()?;
    let named = studio.as_ref().map(Studio::settings).transpose()?.and_then(|own| own.studio);
    let facts = TestSheetFacts {
        studio: args.page.studio.clone().or(named),
        day: args.page.day()?,
        invented: args.invented,
        paper: args.page.paper.clone(),
    };
    let bytes = match (&studio, &args.test) {
        (Some(studio), Some(number)) => {
            let (own, read) = one_test(studio, number)?;
            test_sheet(&own, read.as_ref(), &facts)?
        }
        _ => strip_sheet(&args.strips(), &facts)?,
    };
    if files::occupied(path) {
        return Err(Refusal::occupied(Question::Output, path));
    }
    files::write_new(Question::Output, path, &bytes)?;
    if args.whose.json {
        return Ok(json::lines(&serde_json::json!({ "file": path.display().to_string() })));
    }
    Ok(format!("The sheet is in {}.\n", path.display()))
}
