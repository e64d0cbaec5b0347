//! `handcoat demo`: a throw-away studio, filled and invented, served on this computer.

use std::path::PathBuf;

use clap::Args;
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
    serve_studio(studio, None, args.port, false, false)
}
