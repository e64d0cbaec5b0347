//! `handcoat tone …`: from the readings of a chart to the correction, and on. Fits need no book; responses are kept in one.

mod args;
mod chart;
mod outside;
mod text;

use std::path::{Path, PathBuf};

use handcoat_figures::{PlotWidth, Theme, left_plot, response_plot};
use handcoat_work::sample::sample_chart;
use handcoat_work::tone::{
    CheckRead, ReportFacts, ResponseView, ScanFacts, ToneRead, chart_levels, check, check_report, curve_csv, document,
    fit_chart, keep_check, keep_response, next, next_levels, one_response, read_document, report, responses,
};
use handcoat_work::{Done, Question, Refusal};
use serde_json::{Value, json};

pub(super) use args::ToneCommand;
use args::{FitArgs, LevelsArgs, NextArgs, OutArgs, ShowArgs, VerifyArgs};

use super::book::{ActArgs, BookArgs, OfSetupArgs, done_text};
use super::{files, import};
use crate::{clock, json};

/// A table of readings longer than this is another file.
const MOST_BYTES: u64 = 1024 * 1024;
/// How many responses a list shows.
const MOST: u32 = 60;

pub(super) fn run(command: &ToneCommand) -> Result<String, Refusal> {
    match command {
        ToneCommand::Fit(args) => fit(args),
        ToneCommand::Verify(args) => verify(args),
        ToneCommand::Next(args) => which_next(args),
        ToneCommand::Levels(args) => levels(args),
        ToneCommand::Chart(args) => chart::chart(args),
        ToneCommand::Read(args) => chart::read(args),
        ToneCommand::Curve(args) => outside::curve(args),
        ToneCommand::Proof(args) => outside::proof(args),
        ToneCommand::List(args) => list(args),
        ToneCommand::Show(args) => show(args),
    }
}

/// A fit that was made before: a kept response by its number, or the JSON in a file.
fn earlier(about: Question, written: &str, whose: &BookArgs) -> Result<(ToneRead, Option<ResponseView>), Refusal> {
    if written.trim().bytes().all(|byte| byte.is_ascii_digit()) && !written.trim().is_empty() {
        let view = one_response(&whose.open()?, written, clock::now())?;
        return Ok((view.read.clone(), Some(view)));
    }
    let bytes = files::read(about, Path::new(written))?;
    Ok((read_document(about, &bytes)?, None))
}

/// Files that are left together or not at all: those that were written go again unless everything went well.
#[derive(Default)]
pub(super) struct Left {
    named: Vec<(&'static str, String)>,
    written: Vec<PathBuf>,
    /// An act under a key may be asked for twice: what it would write may stand there from the first time.
    twice: bool,
}

impl Left {
    fn of(act: &ActArgs) -> Self {
        Self { named: Vec::new(), written: Vec::new(), twice: act.keyed() }
    }

    /// Where something stands already nothing is begun.
    pub(super) fn free(&self, paths: &[(Question, Option<&PathBuf>)]) -> Result<(), Refusal> {
        for (about, path) in paths {
            if let Some(path) = path.filter(|own| !self.twice && files::occupied(own)) {
                return Err(Refusal::occupied(*about, path));
            }
        }
        Ok(())
    }

    fn put(&mut self, about: Question, path: &Path, bytes: &[u8]) -> Result<(), Refusal> {
        if self.twice && std::fs::read(path).is_ok_and(|own| own == bytes) {
            return Ok(());
        }
        files::write_new(about, path, bytes)?;
        self.written.push(path.to_path_buf());
        Ok(())
    }

    pub(super) fn write(
        &mut self,
        what: &'static str,
        about: Question,
        path: Option<&PathBuf>,
        bytes: impl FnOnce() -> Result<Vec<u8>, Refusal>,
    ) -> Result<(), Refusal> {
        let Some(path) = path else { return Ok(()) };
        self.put(about, path, &bytes()?)?;
        self.named.push((what, path.display().to_string()));
        Ok(())
    }

    /// Everything went well.
    pub(super) fn stay(&mut self) {
        self.written.clear();
    }

    pub(super) fn words(&self) -> String {
        self.named.iter().map(|(what, path)| format!("The {what} is in {path}.\n")).collect()
    }

    fn json(&self) -> Value {
        self.named.iter().map(|(what, path)| ((*what).to_owned(), json!(path))).collect()
    }
}

impl Drop for Left {
    fn drop(&mut self) {
        for path in &self.written {
            // The refusal is what to tell of, whether or not this works.
            let _ = std::fs::remove_file(path);
        }
    }
}

fn facts(title: String, setup: Option<String>, out: &OutArgs, whose: &BookArgs) -> Result<ReportFacts, Refusal> {
    // A report needs no book; where one is named its studio is.
    let named = whose.book.as_ref().map(|_| whose.open()).transpose()?;
    let named = named.map(|own| own.settings()).transpose()?.and_then(|own| own.studio);
    Ok(ReportFacts {
        title,
        setup,
        studio: out.page.studio.clone().or(named),
        day: out.page.day()?,
        invented: out.invented,
        paper: out.page.paper.clone(),
    })
}

fn leave(
    left: &mut Left,
    read: &ToneRead,
    csv: Option<&PathBuf>,
    out: &OutArgs,
    facts: &ReportFacts,
) -> Result<(), Refusal> {
    left.write("curve", Question::CurveFile, csv, || Ok(curve_csv(read).into_bytes()))?;
    left.write("plot", Question::PlotFile, out.plot.as_ref(), || {
        let own = response_plot(&read.readings(), &read.fit, &read.correction, PlotWidth::Page, Theme::Paper);
        Ok(own.into_bytes())
    })?;
    left.write("report", Question::ReportFile, out.pdf.as_ref(), || report(read, facts))
}

fn with_act(value: &mut Value, name: &str, done: Option<&Done>, left: &Left) {
    let Value::Object(out) = value else { return };
    out.insert("files".into(), left.json());
    if let (Some(done), Value::Object(act)) = (done, done.map_or(Value::Null, json::ledger::done)) {
        out.insert(name.into(), json!(done.record));
        out.extend(act);
    }
}

/// What is known of the scan these readings come from.
fn scan_facts(path: &Path, readings: &[u8]) -> Result<ScanFacts, Refusal> {
    let bytes = files::read(Question::ScanFacts, path)?;
    ScanFacts::read(&bytes)?.held_against(readings)
}

fn fit(args: &FitArgs) -> Result<String, Refusal> {
    let whose = &args.act.whose;
    let out = &args.out;
    let mut left = Left::of(&args.act);
    left.free(&[
        (Question::CurveFile, args.csv.as_ref()),
        (Question::PlotFile, out.plot.as_ref()),
        (Question::ReportFile, out.pdf.as_ref()),
    ])?;
    if args.sample {
        left.put(Question::Table, &args.file, sample_chart(None).as_bytes())?;
    }
    let bytes = import::read(&args.file, "readings of a chart", "chart.csv", MOST_BYTES)?;
    let scan = args.scan.as_ref().map(|own| scan_facts(own, &bytes)).transpose()?;
    let prior = args.prior.as_ref().map(|own| earlier(Question::Prior, own, whose)).transpose()?;
    let read = fit_chart(&args.answers(), &bytes, prior.as_ref().map(|own| &own.0))?;
    leave(&mut left, &read, args.csv.as_ref(), out, &facts("Response".into(), args.setup.clone(), out, whose)?)?;
    let done = match args.keep {
        true => Some(keep_response(&mut whose.open()?, &args.act.moment()?, &args.place(scan), &read)?),
        false => None,
    };
    left.stay();
    if whose.json {
        let mut value = document(&read);
        if let Value::Object(out) = &mut value {
            out.insert("setup".into(), json!(args.setup));
        }
        with_act(&mut value, "response_number", done.as_ref(), &left);
        return Ok(json::lines(&value));
    }
    let mut said = text::fit(&read);
    said.push_str(&left.words());
    match &done {
        Some(done) => said.push_str(&done_text(done, whose)),
        None => said.push_str(&text::fit_next(args.csv.is_some())),
    }
    Ok(said)
}

fn verify(args: &VerifyArgs) -> Result<String, Refusal> {
    let (whose, out) = (&args.act.whose, &args.out);
    let mut left = Left::of(&args.act);
    left.free(&[
        (Question::CurveFile, args.csv.as_ref()),
        (Question::PlotFile, out.plot.as_ref()),
        (Question::ReportFile, out.pdf.as_ref()),
    ])?;
    let of = args.of.as_ref().ok_or_else(|| Refusal::missing(Question::Prior, "fit.json"))?;
    let (read, view) = earlier(Question::Prior, of, whose)?;
    if args.sample {
        left.put(Question::Table, &args.file, sample_chart(Some(&read.correction)).as_bytes())?;
    }
    let bytes = import::read(&args.file, "readings of a chart", "chart.csv", MOST_BYTES)?;
    let checked = check(&args.answers(), &bytes, &read)?;
    let setup = view.as_ref().and_then(|own| own.setup.clone()).map(|own| own.1);
    if let Some(path) = &args.csv {
        let Some(update) = &checked.update else { return Err(no_update(&checked)) };
        left.write("curve", Question::CurveFile, Some(path), || Ok(curve_csv(update).into_bytes()))?;
    }
    left.write("plot", Question::PlotFile, out.plot.as_ref(), || {
        Ok(left_plot(&checked.verified.left, PlotWidth::Page, Theme::Paper).into_bytes())
    })?;
    if out.pdf.is_some() {
        let facts = facts("A print through the curve".into(), setup, out, whose)?;
        left.write("report", Question::ReportFile, out.pdf.as_ref(), || check_report(&checked, &facts))?;
    }
    let done = match (&view, args.keep) {
        (Some(view), true) => {
            let number = view.number.to_string();
            Some(keep_check(&mut whose.open()?, &args.act.moment()?, &number, &checked, args.update)?)
        }
        (None, true) => return Err(Refusal::missing(Question::Response, "3")),
        (_, false) => None,
    };
    left.stay();
    if whose.json {
        let mut value = json::tone::checked(&checked);
        with_act(&mut value, "response_number", done.as_ref(), &left);
        return Ok(json::lines(&value));
    }
    let mut said = text::checked(&checked, view.as_ref().map(|own| own.number));
    said.push_str(&left.words());
    match &done {
        Some(done) => said.push_str(&done_text(done, whose)),
        None => said.push_str(&text::checked_next(&checked, of, &args.file.display().to_string())),
    }
    Ok(said)
}

fn no_update(checked: &CheckRead) -> Refusal {
    let why = checked.verified.update.as_ref().err().map_or(String::new(), |own| format!(": {own}"));
    let cause = format!("these readings give no better curve{why}");
    Refusal::file("update_none", Question::CurveFile, cause, vec![handcoat_work::Remedy::LeaveOut(Question::CurveFile)])
}

fn which_next(args: &NextArgs) -> Result<String, Refusal> {
    let (read, view) = earlier(Question::Response, &args.of, &args.whose)?;
    let patches = next(&args.answers(), &read.fit)?;
    let mut left = Left::default();
    if !patches.patches.is_empty() {
        let table = || Ok(next_levels(&args.levels(), &patches)?.into_bytes());
        left.write("chart", Question::CurveFile, args.csv.as_ref(), table)?;
        left.stay();
    }
    let verified = view.is_some_and(|own| own.checked.is_some());
    if args.whose.json {
        let mut value = json::tone::next(&patches, verified);
        with_act(&mut value, "", None, &left);
        return Ok(json::lines(&value));
    }
    let mut said = text::next(&patches, verified);
    said.push_str(&left.words());
    Ok(said)
}

fn levels(args: &LevelsArgs) -> Result<String, Refusal> {
    let mut left = Left::default();
    left.free(&[(Question::CurveFile, args.csv.as_ref())])?;
    let table = chart_levels(&args.answers())?;
    left.write("chart", Question::CurveFile, args.csv.as_ref(), || Ok(table.clone().into_bytes()))?;
    left.stay();
    if args.json {
        let mut value = json!({ "chart": table.lines().skip(1).map(json::tone::level).collect::<Vec<_>>() });
        with_act(&mut value, "", None, &left);
        return Ok(json::lines(&value));
    }
    if args.csv.is_none() {
        return Ok(table);
    }
    let said = left.words();
    Ok(format!("{said}Next: print it, read each patch dry into the column l_star, then: handcoat tone fit FILE\n"))
}

fn list(args: &OfSetupArgs) -> Result<String, Refusal> {
    let all = responses(&args.whose.open()?, args.setup.as_deref(), MOST, None, clock::now())?;
    if args.whose.json {
        return Ok(json::lines(
            &json!({ "responses": all.iter().map(|own| json::tone::listed(&all, own)).collect::<Vec<_>>() }),
        ));
    }
    if all.is_empty() {
        return Ok("No response is kept yet. Begin with: handcoat tone fit chart.csv --keep\n".into());
    }
    Ok(all.iter().map(|own| text::listed(&all, own)).collect())
}

fn show(args: &ShowArgs) -> Result<String, Refusal> {
    let view = one_response(&args.whose.open()?, &args.response, clock::now())?;
    let out = &args.out;
    let mut left = Left::default();
    if args.csv.is_some() || out.plot.is_some() || out.pdf.is_some() {
        let title = format!("Response {}", view.number);
        let facts = facts(title, view.setup.clone().map(|own| own.1), out, &args.whose)?;
        leave(&mut left, &view.read, args.csv.as_ref(), out, &facts)?;
        left.stay();
    }
    if args.whose.json {
        let mut value = json::tone::whole(&view);
        with_act(&mut value, "response_number", None, &left);
        return Ok(json::lines(&value));
    }
    let mut said = text::line(&view);
    said.push_str(&text::fit(&view.read));
    said.push_str(&left.words());
    Ok(said)
}
