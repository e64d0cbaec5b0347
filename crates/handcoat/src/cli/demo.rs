//! `handcoat demo`: a throw-away studio, filled and invented, served on this computer.

use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;
use std::sync::{Mutex, PoisonError};

use clap::Args;
use handcoat_craft::tone::Standing;
use handcoat_work::negative::{Asked, Hooks, KeptCurve, NegativeAnswers, add_job, curve_of_response, with_setup};
use handcoat_work::sample::{STUDIO, sample_picture, sample_scan};
use handcoat_work::tone::{ChartOf, ChartPrintAnswers, make_chart, responses};
use handcoat_work::{Question, Refusal, Studio, sample};
use jiff::Timestamp;

use super::files;
use super::serve::serve_studio;
use crate::{apart, clock};

#[derive(Debug, Args)]
#[command(after_help = "It is deleted when it ends. To keep a book of your own: handcoat new studio.handcoat")]
pub(super) struct DemoArgs {
    /// Port to listen at; 0 takes any that is free [default: 8317, or the next that is free]
    #[arg(long, value_name = "PORT")]
    port: Option<u16>,
}

/// The invented picture in its folder.
const PICTURE: &str = "still-life-invented.tif";

/// Responses of the sample that are looked through.
const MOST_RESPONSES: u32 = 20;

/// A folder that goes away with the demo, however it ends.
struct Folder(PathBuf);

impl Drop for Folder {
    fn drop(&mut self) {
        // What cannot be removed lies where the system clears up by itself.
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

pub(super) fn run(args: &DemoArgs) -> Result<String, Refusal> {
    let folder = std::env::temp_dir().join(format!("handcoat-demo-{}", std::process::id()));
    std::fs::create_dir(&folder).map_err(|error| files::unwritable(Question::Book, &folder, &error))?;
    let folder = Folder(folder);
    let mut studio = Studio::create(&folder.0.join("demo.handcoat"))?;
    sample::fill(&mut studio, Timestamp::now())?;
    let pictures = folder.0.join("demo-pictures");
    fill(&pictures)?;
    let studio = film(studio, &pictures)?;
    serve_studio(studio, Some(&pictures), args.port, false, false)
}

/// An invented picture, and the scan of a chart as it would have been printed on an invented paper.
fn fill(folder: &Path) -> Result<(), Refusal> {
    let write = |name: &str, bytes: &[u8]| {
        let path = folder.join(name);
        std::fs::write(&path, bytes).map_err(|error| files::unwritable(Question::Book, &path, &error))
    };
    std::fs::create_dir(folder).map_err(|error| files::unwritable(Question::Book, folder, &error))?;
    write(PICTURE, &sample_picture())?;
    let film = folder.join("film.tif");
    let answers = ChartPrintAnswers { levels: Some("24".into()), ppi: Some("200".into()), ..Default::default() };
    let cancel = AtomicBool::new(false);
    let of = ChartOf { book: Some(STUDIO.into()), setup: None };
    make_chart(&answers, &film, None, &of, &Hooks::of(&|_, _| {}, &cancel))?;
    write("scan-of-a-chart-invented.tif", &sample_scan(&film)?)?;
    files::remove(Question::Book, &film)
}

/// A negative of that picture through the sample's curve, small, on the way every negative of a book takes: as a job in a process apart.
fn film(mut studio: Studio, pictures: &Path) -> Result<Studio, Refusal> {
    let now = clock::now();
    let all = responses(&studio, None, MOST_RESPONSES, None, now)?;
    // The sample has a stale one too, to be seen; a negative is made of one that holds.
    let Some(holds) = all.iter().find(|own| own.standing() == Standing::Holds) else { return Ok(studio) };
    let curve = with_setup(&studio, curve_of_response(holds), None, now)?;
    let into = pictures.join("negatives");
    std::fs::create_dir(&into).map_err(|error| files::unwritable(Question::Book, &into, &error))?;
    let text = |path: &Path| path.display().to_string();
    let asked = Asked {
        answers: NegativeAnswers { width: Some("4in".into()), ppi: Some("180".into()), ..NegativeAnswers::default() },
        source: text(&pictures.join(PICTURE)),
        name: Some("Still life".into()),
        curve: KeptCurve::of(&curve),
        who: "sample".into(),
        at: None,
    };
    let target = text(&into.join("still-life-invented.tif"));
    let number = add_job(&mut studio, &asked, &target, apart::worker(), now)?;
    let book = Mutex::new(studio);
    apart::work_on(&book, number, false, &|_, _| {}, &|| false)?;
    Ok(book.into_inner().unwrap_or_else(PoisonError::into_inner))
}
