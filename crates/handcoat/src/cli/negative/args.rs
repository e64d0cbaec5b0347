//! The arguments of `handcoat negative …`.

use std::path::PathBuf;

use clap::{Args, Subcommand};
use handcoat_work::negative::NegativeAnswers;

use crate::cli::book::BookArgs;

#[derive(Debug, Subcommand)]
pub(in crate::cli) enum NegativeCommand {
    /// Make the file that is printed on film: picture, size, curve, light for dark, left for right
    Make(MakeArgs),
}

const MAKE_EXAMPLES: &str = "\
Examples:
  handcoat negative make picture.tif -o negative.tif --curve curve.csv --width 10in
  handcoat negative make picture.tif -o negative.tif --curve 3 --width 24cm --ppi 600 --compression none
  handcoat negative make picture.png -o negative.png --curve curve.csv --height 8in --no-border

A curve is a table input,output, both from 0 to 1, as tone fit --csv writes it, or the number of a response that is kept. The picture is \
a TIFF, PNG or JPEG; one with an embedded profile is brought to lightness first, one without goes to the curve as it is. In this order: \
grey, size, curve, light for dark, left for right. Around it stand a wedge of eleven tones through the same curve, ticks on the lines of \
its edges, a rule of 100 mm to measure on the film, and a code of squares. The ink side lies on the paper, so the file is mirrored.";

#[derive(Debug, Args)]
#[command(after_help = MAKE_EXAMPLES)]
pub(in crate::cli) struct MakeArgs {
    /// The picture; it is only read
    #[arg(value_name = "PICTURE")]
    pub(super) picture: PathBuf,
    /// The file to write, .tif or .png
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
