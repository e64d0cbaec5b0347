//! The arguments of `handcoat coat …`; their comments are the help.

use std::path::PathBuf;

use super::acts::{MadeArgs, OpenArgs, SpoiledArgs};
use clap::{Args, Subcommand};
use handcoat_work::coat::CoatAnswers;

use crate::cli::book::BookArgs;

#[derive(Debug, Subcommand)]
pub(in crate::cli) enum CoatCommand {
    /// Say how many drops of each solution an image takes, in the order they are dropped
    Plan(Box<PlanArgs>),
    /// Record a coat on a sheet; it becomes a print with `print record --coat`
    Made(MadeArgs),
    /// Record that a coated sheet came to nothing
    Spoiled(SpoiledArgs),
    /// Coats that are neither prints nor spoiled
    Open(OpenArgs),
}

const PLAN_EXAMPLES: &str = "\
Examples:
  handcoat coat plan --image 8x10in --metal Pd
  handcoat coat plan --image 20x25cm --margin 1cm --tool rod --metal Pt --sheets 6 --loss 20%
  handcoat coat plan --image 8x10in --metal Pd --metal Pt --ratio 1:1 --ratio-by moles --within 2%
  handcoat coat plan --image 8x10in --metal Pd --contrast Na2PtCl6 --dose 1mg/mL
  handcoat coat plan --image 8x10in --metal 'spring palladium' --iron 'iron stock' --paper 'cotton rag 300' --tool 'wide brush'
  handcoat coat plan --image 11x14in --metal 'Na2PdCl4 15% anhydrous 190EUR/100mL' --iron '27% 30EUR/100mL' --hydrate 6

With a book, bottles, papers, tools and droppers are those of its shelf and records, and what was measured of them is used. \
Half of the sensitizer is iron, half metal. Without --uptake the habit of the tool stands in; without --margin it is that \
of the nominal size, customary margin included. Chlorate iron takes the place of plain iron; other agents are added on top. \
± is k = 2.";

#[derive(Debug, Args)]
#[command(after_help = PLAN_EXAMPLES)]
pub(in crate::cli) struct PlanArgs {
    /// The image: 8x10in, 20x25cm
    #[arg(long, value_name = "SIZE")]
    image: Option<String>,
    /// Coated border on each side [default: the customary one, about 1cm]
    #[arg(long, value_name = "LENGTH")]
    margin: Option<String>,
    /// The paper, as it is kept in the book: what it takes is used
    #[arg(long, value_name = "NAME")]
    pub(super) paper: Option<String>,
    /// The set-up it is exposed as: its base exposure is said beside the drops
    #[arg(long, value_name = "NAME")]
    pub(super) setup: Option<String>,
    /// What it is spread with: a tool that is kept in the book, or rod, brush, or thirsty for a brush on paper that drinks
    /// [default: brush]
    #[arg(long, value_name = "TOOL")]
    tool: Option<String>,
    /// What the paper takes to its coated area: 0.38mL/100cm2
    #[arg(long, value_name = "UPTAKE")]
    uptake: Option<String>,
    /// What of the poured solution reaches the paper, as measured: 90%
    #[arg(long, value_name = "PERCENT")]
    share: Option<String>,
    /// ± of that share
    #[arg(long, value_name = "PERCENT")]
    share_off: Option<String>,
    /// Drops to the mL: 20, or of one solution: 'iron 18.5', 'metal 21.2±0.4', second, chlorate, contrast (may be repeated)
    #[arg(long, value_name = "DROPS")]
    drops_per_ml: Vec<String>,
    /// Pd, Pt, a solution as 'Na2PdCl4 15% 190EUR/100mL', or with a book a bottle (twice for two metals)
    #[arg(long, value_name = "METAL")]
    metal: Vec<String>,
    /// First metal to second: 1:1, 70:30
    #[arg(long, value_name = "RATIO")]
    ratio: Option<String>,
    /// What the ratio counts: volume, moles or weight
    #[arg(long, value_name = "UNIT")]
    ratio_by: Option<String>,
    /// Iron solution: 27%, 'Fe2(C2O4)3 27% 30EUR/100mL', or with a book a bottle [default: ferric oxalate, 27%]
    #[arg(long, value_name = "IRON")]
    iron: Option<String>,
    /// Waters in the iron salt: none, a number, or unknown
    #[arg(long, value_name = "WATERS")]
    hydrate: Option<String>,
    /// Contrast agent: 'KClO3 0.4%' (grams in 100 mL of iron, replaces), Na2PtCl6 or 'H2O2 3%' (on top), or a bottle
    #[arg(long, value_name = "AGENT")]
    contrast: Option<String>,
    /// Milligrams of agent to a mL of sensitizer: 1mg/mL
    #[arg(long, value_name = "DOSE")]
    dose: Option<String>,
    /// Two coats, the first thinned with water
    #[arg(long)]
    double: bool,
    /// Strength of the first of two coats [default: 50%]
    #[arg(long, value_name = "PERCENT")]
    first_coat: Option<String>,
    /// How many sheets
    #[arg(long, value_name = "COUNT")]
    sheets: Option<String>,
    /// Sheets lost, of those wanted: 20%
    #[arg(long, value_name = "PERCENT")]
    loss: Option<String>,
    /// Look for whole drops that keep every ratio and the dose within: 2%
    #[arg(long, value_name = "PERCENT")]
    within: Option<String>,
    /// The printing-out way: ammonium salts, damp paper, a rod
    #[arg(long)]
    printing_out: bool,
    /// Write the coat sheet to this PDF file
    #[arg(short = 'o', long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
    /// Size of its page: a4 or letter [default: a4]
    #[arg(long, value_name = "SIZE")]
    pub(super) page: Option<String>,
    /// Mark the sheet as sample data of an invented studio
    #[arg(long)]
    pub(super) invented: bool,
    #[command(flatten)]
    pub(super) whose: BookArgs,
}

impl PlanArgs {
    pub(super) fn answers(&self) -> CoatAnswers {
        CoatAnswers {
            image: self.image.clone(),
            margin: self.margin.clone(),
            paper: self.paper.clone(),
            tool: self.tool.clone(),
            uptake: self.uptake.clone(),
            share: self.share.clone(),
            share_off: self.share_off.clone(),
            drops_per_ml: self.drops_per_ml.clone(),
            metals: self.metal.clone(),
            ratio: self.ratio.clone(),
            ratio_by: self.ratio_by.clone(),
            iron: self.iron.clone(),
            hydrate: self.hydrate.clone(),
            contrast: self.contrast.clone(),
            dose: self.dose.clone(),
            first_coat: self.first_coat.clone(),
            double: self.double,
            sheets: self.sheets.clone(),
            loss: self.loss.clone(),
            within: self.within.clone(),
            printing_out: self.printing_out,
        }
    }
}
