//! The arguments of `handcoat negative …`.

use std::path::PathBuf;

use clap::{Args, Subcommand};
use handcoat_work::negative::NegativeAnswers;

use crate::cli::book::BookArgs;

#[derive(Debug, Subcommand)]
pub(in crate::cli) enum NegativeCommand {
    /// Make the file that is printed on film: picture, size, curve, light for dark, left for right
    Make(MakeArgs),
    /// The jobs that make negatives: which run, which were interrupted, what became of them
    Jobs(JobsArgs),
    /// Stop a job; it can go on later
    Stop(JobArgs),
    /// Go on with a job that was interrupted, stopped or refused
    Resume(JobArgs),
    /// The negatives that are kept, the newest first
    List(JobsArgs),
    /// A negative: its files, settings, curve, set-up, and the prints made from it
    Show(ShowArgs),
}

#[derive(Debug, Args)]
pub(in crate::cli) struct JobsArgs {
    /// How many at most
    #[arg(long, value_name = "COUNT", default_value_t = 20)]
    pub(super) most: u32,
    #[command(flatten)]
    pub(super) whose: BookArgs,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct JobArgs {
    /// Number of the job
    #[arg(value_name = "JOB")]
    pub(super) job: String,
    #[command(flatten)]
    pub(super) whose: BookArgs,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct ShowArgs {
    /// Its name or number
    #[arg(value_name = "NEGATIVE")]
    pub(super) negative: String,
    #[command(flatten)]
    pub(super) whose: BookArgs,
}

const MAKE_EXAMPLES: &str = "\
Examples:
  handcoat negative make picture.tif -o negative.tif --curve curve.csv --width 10in
  handcoat negative make picture.tif -o negative.tif --curve 3 --width 24cm --ppi 600 --compression none
  handcoat negative make picture.png -o negative.png --curve curve.csv --height 8in --no-border
  handcoat negative make picture.tif -o negative.tif --curve 3 --width 10in --keep heron --book studio.handcoat
  handcoat negative make pictures -o negatives --curve 3 --width 10in

A curve is a table input,output, both from 0 to 1, as tone fit --csv writes it, or the number of a response that is kept. The picture is \
a TIFF, PNG or JPEG; one with an embedded profile is brought to lightness first, one without goes to the curve as it is. In this order: \
grey, size, curve, light for dark, left for right. Around it stand a wedge of eleven tones through the same curve, ticks on the lines of \
its edges, a rule of 100 mm to measure on the film, and a code of squares. The ink side lies on the paper, so the file is mirrored.

With --keep it is a job of the book: it can be stopped and gone on with, also after the machine went dark, and when it is made the \
negative is kept with its picture, settings and curve. Of a folder each picture is made into the folder named by -o; what is there \
already is left as it is.";

#[derive(Debug, Args)]
#[command(after_help = MAKE_EXAMPLES)]
pub(in crate::cli) struct MakeArgs {
    /// The picture, or a folder of them; it is only read
    #[arg(value_name = "PICTURE")]
    pub(super) picture: PathBuf,
    /// The file to write, .tif or .png; of a folder the folder to write to
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
    /// The curve: a table input,output, or the number of a kept response
    #[arg(long, value_name = "CURVE")]
    pub(super) curve: Option<String>,
    /// How wide the picture is on the film, without its border
    #[arg(long, value_name = "LENGTH")]
    width: Option<String>,
    /// Or how high
    #[arg(long, value_name = "LENGTH")]
    height: Option<String>,
    /// Pixels to the inch [default: 720]
    #[arg(long, value_name = "COUNT")]
    ppi: Option<String>,
    /// How a TIFF is packed: none, deflate or lzw [default: deflate]
    #[arg(long, value_name = "WORD")]
    compression: Option<String>,
    /// The picture alone
    #[arg(long)]
    no_border: bool,
    /// Leave light and dark as they are
    #[arg(long)]
    no_invert: bool,
    /// Leave left and right as they are
    #[arg(long)]
    no_mirror: bool,
    /// Put it in the place of what stands under that name
    #[arg(long)]
    pub(super) force: bool,
    /// Keep it in the book, under this name or that of its file
    #[arg(long, value_name = "NAME", num_args = 0..=1, default_missing_value = "")]
    pub(super) keep: Option<String>,
    #[command(flatten)]
    pub(super) whose: BookArgs,
}

impl MakeArgs {
    pub(super) fn answers(&self) -> NegativeAnswers {
        NegativeAnswers {
            width: self.width.clone(),
            height: self.height.clone(),
            ppi: self.ppi.clone(),
            packing: self.compression.clone(),
            no_border: self.no_border,
            no_invert: self.no_invert,
            no_mirror: self.no_mirror,
            force: self.force,
        }
    }
}
