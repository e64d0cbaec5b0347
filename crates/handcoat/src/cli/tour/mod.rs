//! `handcoat tour`: the whole job so far, on sample inputs of an invented studio.
//!
//! Each stop is a command line as a maker would type it, run through the same door; what it printed is kept
//! beside its JSON. Nothing is shown that was not run.

mod film;
mod index;
mod light;
mod printing;
mod stops;

use std::ffi::OsString;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use clap::Args;
use handcoat_figures::FACES;
use handcoat_work::sample::{sample_chart, sample_picture, sample_scan};
use handcoat_work::stock::Planned;
use handcoat_work::tone::{ChartAnswers, fit_chart};
use handcoat_work::{Question, Refusal};

use super::files;
use super::words::quoted;
use film::{CHART, FILM, PICTURE, READ, SCAN, SCANNED, SEEN};
use light::{LIGHT, READINGS};
use printing::PRINTING;
use stops::{BOOK, DAY, PAPER, STOPS, STUDIO, Stop};

/// The book the tour makes, and the one its JSON is printed from: an act is done in each of them once.
const OWN: &str = "studio.handcoat";
const TWIN: &str = ".json.handcoat";
/// The same for a paper or a film, before its ending.
const TWIN_PAPER: &str = ".json";
/// The readings of a scan, and the picture of what was found on it.
const TWIN_READ: &str = ".json.csv";
const TWIN_SEEN: &str = ".json.png";

/// Readings of a chart, and of a print through its curve.
const CHARTS: [&str; 2] = ["chart.csv", "corrected.csv"];

/// Files that arguments name, beside the book.
const FILES: [&str; 4] = [PICTURE, SCAN, READ, SEEN];

/// Marks a folder as one that a tour left, so that the next may write over it and nothing else.
const MARK: &str = ".handcoat-tour";

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  handcoat tour\n\nOpen index.html in the folder it leaves.")]
pub(super) struct TourArgs {
    /// Folder to leave the files in
    #[arg(value_name = "DIR", default_value = "handcoat-tour")]
    dir: PathBuf,
    /// Print the list of files as JSON
    #[arg(long)]
    json: bool,
}

/// What one stop printed.
struct Shown {
    stop: &'static Stop,
    /// Its words, each quoted as a shell wants it.
    typed: Vec<String>,
    /// The same on one line.
    command: String,
    text: String,
    json: String,
    sheet: Option<String>,
    /// The plan behind it, where the stop is one.
    planned: Option<Planned>,
}

pub(super) fn run(args: &TourArgs) -> Result<String, Refusal> {
    prepare(&args.dir)?;
    // Before anything else: a tour that is cut short must not lock its folder against the next.
    let mark = args.dir.join(MARK);
    if !files::occupied(&mark) {
        write(&mark, b"left by `handcoat tour`; the next tour writes over this folder\n")?;
    }
    clear(&args.dir, &[OWN, TWIN])?;
    for (name, readings) in READINGS {
        write(&args.dir.join(name), readings.as_bytes())?;
    }
    for (name, chart) in CHARTS.into_iter().zip(charts()?) {
        write(&args.dir.join(name), chart.as_bytes())?;
    }
    let mut shown = Vec::new();
    for stops in [STOPS, PRINTING, LIGHT] {
        for stop in stops {
            shown.push(visit(&args.dir, stop)?);
        }
    }
    write(&args.dir.join(PICTURE), &sample_picture())?;
    for stop in FILM {
        shown.push(visit(&args.dir, stop)?);
    }
    write(&args.dir.join(SCAN), &sample_scan(&args.dir.join(CHART))?)?;
    for stop in SCANNED {
        shown.push(visit(&args.dir, stop)?);
    }
    clear(&args.dir, &[TWIN])?;
    for face in FACES {
        write(&args.dir.join(face.file), face.bytes)?;
    }
    write(&args.dir.join("index.html"), index::page(&shown).as_bytes())?;
    let files = names(&shown);
    if args.json {
        return Ok(crate::json::lines(&serde_json::json!({ "dir": args.dir, "files": files })));
    }
    let mut out = format!("A day at {STUDIO}: sample data, invented.\n");
    for (place, stop) in shown.iter().enumerate() {
        let _ = write!(out, "\n{}. {}\n$ {}\n{}", place + 1, stop.stop.title, stop.command, stop.text);
    }
    let _ = write!(
        out,
        "\n{} files are in {}; open {} in a browser.\nNext, with your own powder: handcoat stock plan --help\n",
        files.len(),
        args.dir.display(),
        args.dir.join("index.html").display()
    );
    Ok(out)
}

/// A chart of an invented paper, and the same paper printed through the curve of that chart.
fn charts() -> Result<[String; 2], Refusal> {
    let chart = sample_chart(None);
    let read = fit_chart(&ChartAnswers::default(), chart.as_bytes(), None)?;
    let corrected = sample_chart(Some(&read.correction));
    Ok([chart, corrected])
}

/// Takes books of an earlier tour away, with the logs SQLite keeps beside them.
fn clear(dir: &Path, books: &[&str]) -> Result<(), Refusal> {
    for book in books {
        for suffix in ["", "-wal", "-shm"] {
            files::remove(Question::OutputFolder, &dir.join(format!("{book}{suffix}")))?;
        }
    }
    Ok(())
}

/// An empty folder, a new one, or one an earlier tour left.
fn prepare(dir: &Path) -> Result<(), Refusal> {
    let occupied = match std::fs::read_dir(dir) {
        Ok(mut entries) => entries.next().is_some() && !dir.join(MARK).exists(),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => false,
        Err(_) => true,
    };
    if occupied {
        return Err(Refusal::occupied(Question::OutputFolder, dir));
    }
    std::fs::create_dir_all(dir).map_err(|error| files::unwritable(Question::OutputFolder, dir, &error))
}

/// The words of a stop, program first; a bench sheet is asked for by words of its own.
fn words(stop: &Stop, book: &Path, sheet: Option<&Path>) -> Vec<OsString> {
    let named = |word: &&str| match (*word, sheet) {
        (BOOK, _) => book.into(),
        (PAPER, Some(path)) => path.into(),
        // A table of readings lies beside the book, and so do pictures.
        (SEEN, _) if sheet.is_some_and(|own| own.ends_with(TWIN_READ)) => book.with_file_name(TWIN_SEEN).into(),
        (word, _) if FILES.contains(&word) || READINGS.iter().any(|own| own.0 == word) || CHARTS.contains(&word) => {
            book.with_file_name(word).into()
        }
        (word, _) => OsString::from(word),
    };
    let mut words: Vec<OsString> =
        std::iter::once(OsString::from("handcoat")).chain(stop.arguments.iter().map(named)).collect();
    if let Some(path) = sheet.filter(|_| !stop.arguments.contains(&PAPER)) {
        words.extend(["--studio", STUDIO, "--day", DAY, "--invented", "--sheet"].map(OsString::from));
        words.push(path.into());
    }
    words
}

fn visit(dir: &Path, stop: &'static Stop) -> Result<Shown, Refusal> {
    let sheet = stop.sheet.map(|name| if name.contains('.') { name.into() } else { format!("{name}.pdf") });
    let path = sheet.as_ref().map(|name| dir.join(name));
    if let Some(path) = &path {
        // Only a file an earlier tour left stands here: `prepare` has seen to that.
        files::remove(Question::OutputFolder, path)?;
    }
    if stop.arguments.contains(&SEEN) {
        files::remove(Question::OutputFolder, &dir.join(SEEN))?;
    }
    // What is shown is what is run: one list of words for both.
    let spoken_words = words(stop, &dir.join(OWN), path.as_deref());
    let typed: Vec<String> = spoken_words.iter().map(|word| quoted(&word.to_string_lossy())).collect();
    let command = typed.join(" ");
    let planned = super::plan_of(&spoken_words);
    let spoken = super::run(&spoken_words);
    // A film's name says what kind of file it is.
    let ending = sheet.as_ref().and_then(|name| name.rsplit_once('.')).map_or("pdf", |own| own.1);
    let twin_paper = format!("{TWIN_PAPER}.{ending}");
    let twin = dir.join(&twin_paper);
    let mut written_words =
        words(stop, &dir.join(TWIN), Some(&twin).filter(|_| stop.arguments.contains(&PAPER)).map(|own| own.as_path()));
    written_words.push("--json".into());
    let written = super::run(&written_words);
    files::remove(Question::OutputFolder, &twin)?;
    files::remove(Question::OutputFolder, &dir.join(TWIN_SEEN))?;
    let text = format!("{}{}", spoken.data, spoken.messages);
    // The twin is called by the name of the book it stands in for.
    let own_paper = sheet.as_deref().unwrap_or(&twin_paper);
    let json = format!("{}{}", written.data, written.messages).replace(TWIN, OWN).replace(&twin_paper, own_paper);
    let json = timeless(&json);
    if spoken.code != stop.exit_code || written.code != stop.exit_code {
        let cause = format!("`{command}` ended with {} where {} was expected: {text}", spoken.code, stop.exit_code);
        return Err(Refusal::file("tour_stop_failed", Question::OutputFolder, cause, Vec::new()));
    }
    write(&dir.join(format!("{}.txt", stop.name)), text.as_bytes())?;
    write(&dir.join(format!("{}.json", stop.name)), json.as_bytes())?;
    Ok(Shown { stop, typed, command, text, json, sheet, planned })
}

/// How long a thing took is another number each time; what the tour leaves is the same.
fn timeless(json: &str) -> String {
    let Ok(serde_json::Value::Object(mut all)) = serde_json::from_str(json) else { return json.into() };
    match all.remove("seconds") {
        Some(_) => crate::json::lines(&serde_json::Value::Object(all)),
        None => json.into(),
    }
}

/// Every file but the mark.
fn names(shown: &[Shown]) -> Vec<String> {
    let of_stop = |one: &Shown| {
        let name = one.stop.name;
        [Some(format!("{name}.txt")), Some(format!("{name}.json")), one.sheet.clone()]
            .into_iter()
            .flatten()
            .collect::<Vec<_>>()
    };
    let faces = FACES.iter().map(|face| face.file.into());
    let readings = READINGS.iter().map(|own| String::from(own.0)).chain([PICTURE, SCAN, SEEN].map(String::from));
    [String::from("index.html"), OWN.into()]
        .into_iter()
        .chain(readings)
        .chain(CHARTS.map(String::from))
        .chain(shown.iter().flat_map(of_stop))
        .chain(faces)
        .collect()
}

fn write(path: &Path, bytes: &[u8]) -> Result<(), Refusal> {
    files::replace(Question::OutputFolder, path, bytes)
}
