//! `handcoat demo`: a throw-away studio, filled and invented, served on this computer.

use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

use clap::Args;
use handcoat_work::negative::Hooks;
use handcoat_work::sample::{STUDIO, sample_picture, sample_scan};
use handcoat_work::tone::{ChartOf, ChartPrintAnswers, make_chart};
use handcoat_work::{Question, Refusal, Studio, sample};
use jiff::Timestamp;

use super::files;
use super::serve::serve_studio;

#[derive(Debug, Args)]
#[command(after_help = "It is deleted when it ends. To keep a book of your own: handcoat new studio.handcoat")]
pub(super) struct DemoArgs {
    /// Port to listen at; 0 takes any that is free [default: 8317, or the next that is free]
    #[arg(long, value_name = "PORT")]
    port: Option<u16>,
}

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
    serve_studio(studio, Some(&pictures), args.port, false, false)
}

/// An invented picture, and the scan of a chart as it would have been printed on an invented paper.
fn fill(folder: &Path) -> Result<(), Refusal> {
    let write = |name: &str, bytes: &[u8]| {
        let path = folder.join(name);
        std::fs::write(&path, bytes).map_err(|error| files::unwritable(Question::Book, &path, &error))
    };
    std::fs::create_dir(folder).map_err(|error| files::unwritable(Question::Book, folder, &error))?;
    write("still-life-invented.tif", &sample_picture())?;
    let film = folder.join("film.tif");
    let answers = ChartPrintAnswers { levels: Some("24".into()), ppi: Some("200".into()), ..Default::default() };
    let cancel = AtomicBool::new(false);
    let of = ChartOf { book: Some(STUDIO.into()), setup: None };
    make_chart(&answers, &film, None, &of, &Hooks::of(&|_, _| {}, &cancel))?;
    write("scan-of-a-chart-invented.tif", &sample_scan(&film)?)?;
    files::remove(Question::Book, &film)
}
