//! The arguments of `handcoat negative …`.

use std::path::PathBuf;

use clap::{Args, Subcommand};
use handcoat_work::negative::{InkAnswers, NegativeAnswers};

use crate::cli::book::BookArgs;

#[derive(Debug, Subcommand)]
pub(in crate::cli) enum NegativeCommand {
    /// Make the file that is printed on film: picture, size, curve, light for dark, left for right
    Make(Box<MakeArgs>),
    /// Make strips of candidate inks, one for each, to see on a print which reaches paper white first
    Inks(InksArgs),
    /// The jobs that make negatives: which run, which were interrupted, what became of them
    Jobs(JobsArgs),
    /// Stop a job; it can go on later
    Stop(JobArgs),
    /// Go on with a job that was interrupted, stopped or refused, under another name where one is taken
    Resume(ResumeArgs),
    /// Put a job away that was interrupted, stopped or refused; the name of its file is free again
    PutAway(JobArgs),
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
pub(in crate::cli) struct ResumeArgs {
    /// Number of the job
    #[arg(value_name = "JOB")]
    pub(super) job: String,
    /// Another file to write
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
    /// Another name to keep it under
    #[arg(long, value_name = "NAME")]
    pub(super) keep: Option<String>,
    /// Put it in the place of what stands under that name
    #[arg(long)]
    pub(super) force: bool,
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
  handcoat negative make picture.tif -o negative.tif --curve 3 --width 10in --rule-measured 99.5mm --preview sheet.png
  handcoat negative make one.tif two.tif -o sheet.tif --curve 3 --width 4in,3in --sheet 8x10in --copies 2
  handcoat negative make picture.tif -o negative.tif --curve 3 --width 10in --keep heron --book studio.handcoat
  handcoat negative make pictures -o negatives --curve 3 --width 10in
  handcoat negative make picture.tif -o negative.tif --curve 3 --height 10in --crop 4:5 --turn 90 --depth 8

A curve is a table input,output, both from 0 to 1, as tone fit --csv writes it, or the number of a response that is kept; with one that is kept, \
ink and rule come from its set-up. The picture is a TIFF, PNG or JPEG; one with an embedded profile is brought to lightness first, one \
without goes to the curve as it is. In this order: upright, cropped, turned, grey, size, curve, light for dark, left for right. A width is that \
on the film, after crop and turn; one for all pictures, or one for each in their order. Around each picture stand a wedge of eleven tones \
through the same curve, ticks on the lines of its edges, a rule of 100 or 50 mm to measure on the film, its name, curve and size in letters, and a \
code of squares. Several pictures lie in rows in their order, or the highest first where they have no room otherwise. The ink side lies on \
the paper, so the file is mirrored. A file in one ink has no profile: print it without colour management.

With --keep it is a job of the book: it can be stopped and gone on with, also after the machine went dark, and when it is made the \
negative is kept with its picture, settings and curve. Of a folder each picture is made into the folder named by -o; what is there \
already is left as it is.";

const INKS_EXAMPLES: &str = "\
Examples:
  handcoat negative inks -o inks.tif --ink '#000000' --ink '#204060' --ink '#203000'
  handcoat negative inks -o inks.tif --ink 0,0,0 --ink 0,32768,16384 --length 150mm

Print the file on film without colour management, ink side on the coat, and expose it for the time at which clear film gives full black. Each \
strip goes in 21 steps from no ink to all of it. The strip that first comes to the white of the paper blocks most; where two do at the same \
step, take the one whose steps are most even. Keep it with keep setup --change NAME --ink-colour '#204060'.";

#[derive(Debug, Args)]
#[command(after_help = MAKE_EXAMPLES)]
pub(in crate::cli) struct MakeArgs {
    /// The pictures, or a folder of them; they are only read
    #[arg(value_name = "PICTURE", required = true, num_args = 1..)]
    pub(super) pictures: Vec<PathBuf>,
    /// The file to write, .tif or .png; of a folder the folder to write to
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
    /// The curve: a table input,output, or the number of a kept response
    #[arg(long, value_name = "CURVE")]
    pub(super) curve: Option<String>,
    /// How wide the picture is on the film, without its border; several as 10in,4in
    #[arg(long, value_name = "LENGTH")]
    width: Option<String>,
    /// Or how high
    #[arg(long, value_name = "LENGTH")]
    height: Option<String>,
    /// Pixels to the inch [default: 720]
    #[arg(long, value_name = "COUNT")]
    ppi: Option<String>,
    /// What of the picture is shown: from left and top, across and down as 10%,5%,80%x90%, or 4:5 from its middle
    #[arg(long, value_name = "PART")]
    crop: Option<String>,
    /// Turn it clockwise by so many degrees: 90, 180 or 270
    #[arg(long, value_name = "DEGREES")]
    turn: Option<String>,
    /// How it comes to its size: lanczos3, cubic, linear or area [default: lanczos3]
    #[arg(long, value_name = "WORD")]
    filter: Option<String>,
    /// How large the film is: 8x10in, a4, letter, 297x210mm
    #[arg(long, value_name = "SIZE")]
    sheet: Option<String>,
    /// What stays free at the edges of the film [default: 5mm]
    #[arg(long, value_name = "LENGTH")]
    film_margin: Option<String>,
    /// What stays free between pictures [default: 4mm]
    #[arg(long, value_name = "LENGTH")]
    gap: Option<String>,
    /// How often each picture is on the film
    #[arg(long, value_name = "COUNT")]
    copies: Option<String>,
    /// The set-up it is for; that of the response unless said
    #[arg(long, value_name = "NAME")]
    pub(super) setup: Option<String>,
    /// Print in one ink: #rrggbb, or three numbers up to 65535; none for grey
    #[arg(long, value_name = "INK")]
    ink: Option<String>,
    /// What the rule in the border measured on a film, 99.5mm of 100 or 49.8mm of 50: one named by --rule-on, one made by the set-up's figure, or without correction where there is none
    #[arg(long, value_name = "LENGTH")]
    rule_measured: Option<String>,
    /// On which film the rule was measured: mark or name of a kept negative, or none for one made without correction
    #[arg(long, value_name = "NEGATIVE")]
    pub(super) rule_on: Option<String>,
    /// The day that stands in the border
    #[arg(long, value_name = "DAY")]
    day: Option<String>,
    /// Bits of a sample: 16 or 8 [default: 16]
    #[arg(long, value_name = "BITS")]
    depth: Option<String>,
    /// How 16 bits become 8: blue-noise or diffusion [default: diffusion]
    #[arg(long, value_name = "WORD")]
    dither: Option<String>,
    /// Also write a small picture of the sheet as it will print, a PNG
    #[arg(long, value_name = "FILE")]
    pub(super) preview: Option<PathBuf>,
    /// How a TIFF is packed: none, deflate or lzw [default: deflate]
    #[arg(long, value_name = "WORD")]
    compression: Option<String>,
    /// On which sides the border stands: all, short, long, one-short or one-long [default: where the film has room]
    #[arg(long, value_name = "WORD")]
    border_sides: Option<String>,
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
    /// When it is made, if not now: 2026-03-14T10:30Z
    #[arg(long, value_name = "INSTANT")]
    pub(super) at: Option<String>,
    #[command(flatten)]
    pub(super) whose: BookArgs,
}

impl MakeArgs {
    pub(super) fn answers(&self) -> NegativeAnswers {
        NegativeAnswers {
            also: self.pictures.iter().skip(1).cloned().collect(),
            width: self.width.clone(),
            height: self.height.clone(),
            ppi: self.ppi.clone(),
            crop: self.crop.clone(),
            turn: self.turn.clone(),
            filter: self.filter.clone(),
            sheet: self.sheet.clone(),
            film_margin: self.film_margin.clone(),
            gap: self.gap.clone(),
            copies: self.copies.clone(),
            setup: self.setup.clone(),
            ink: self.ink.clone(),
            rule_measured: self.rule_measured.clone(),
            rule_on: self.rule_on.clone(),
            day: self.day.clone(),
            depth: self.depth.clone(),
            dither: self.dither.clone(),
            packing: self.compression.clone(),
            border_sides: self.border_sides.clone(),
            no_border: self.no_border,
            no_invert: self.no_invert,
            no_mirror: self.no_mirror,
            force: self.force,
        }
    }
}

#[derive(Debug, Args)]
#[command(after_help = INKS_EXAMPLES)]
pub(in crate::cli) struct InksArgs {
    /// The file to write, .tif or .png
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
    /// A candidate: #rrggbb, or three numbers up to 65535; once for each
    #[arg(long, value_name = "INK")]
    ink: Vec<String>,
    /// How long a strip is [default: 190mm]
    #[arg(long, value_name = "LENGTH")]
    length: Option<String>,
    /// Pixels to the inch [default: 720]
    #[arg(long, value_name = "COUNT")]
    ppi: Option<String>,
    /// How a TIFF is packed: none, deflate or lzw [default: deflate]
    #[arg(long, value_name = "WORD")]
    compression: Option<String>,
    /// Leave left and right as they are
    #[arg(long)]
    no_mirror: bool,
    /// Put it in the place of what stands under that name
    #[arg(long)]
    force: bool,
    /// Answer as JSON
    #[arg(long)]
    pub(super) json: bool,
}

impl InksArgs {
    pub(super) fn answers(&self) -> InkAnswers {
        InkAnswers {
            inks: self.ink.clone(),
            length: self.length.clone(),
            ppi: self.ppi.clone(),
            packing: self.compression.clone(),
            no_mirror: self.no_mirror,
            force: self.force,
        }
    }
}
