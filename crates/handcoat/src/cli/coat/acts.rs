//! Coats that were made, spoiled, or wait to become prints.

use clap::Args;
use handcoat_work::Refusal;
use handcoat_work::print::{CoatMade, Spoiled, coat, open_coats, spoil};

use crate::cli::book::{ActArgs, BookArgs, done_text};
use crate::cli::print::pours;
use crate::json;

#[derive(Debug, Args)]
pub(in crate::cli) struct MadeArgs {
    /// What it is for
    #[arg(value_name = "TITLE")]
    title: Option<String>,
    /// The image it is for: 8x10in
    #[arg(long, value_name = "SIZE")]
    image: Option<String>,
    /// Coated border on each side
    #[arg(long, value_name = "LENGTH")]
    margin: Option<String>,
    /// The paper, as it is kept in the book
    #[arg(long, value_name = "NAME")]
    paper: Option<String>,
    /// What was poured, in the order dropped: a bottle and its drops, or a volume (repeat for each)
    #[arg(long = "pour", value_name = "BOTTLE=DROPS")]
    pours: Vec<String>,
    /// Drops to the millilitre, where no dropper of the bottle is in the book
    #[arg(long, value_name = "COUNT")]
    drops_per_ml: Option<String>,
    #[command(flatten)]
    act: ActArgs,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct SpoiledArgs {
    /// Number of the coat
    coat: Option<String>,
    /// Why
    #[arg(long, value_name = "WORDS")]
    because: Option<String>,
    /// The sheet is thrown away; without, it is kept with the residue
    #[arg(long)]
    thrown: bool,
    #[command(flatten)]
    act: ActArgs,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct OpenArgs {
    #[command(flatten)]
    whose: BookArgs,
}

pub(super) fn run_made(args: &MadeArgs) -> Result<String, Refusal> {
    let made = CoatMade {
        title: args.title.clone(),
        image: args.image.clone(),
        margin: args.margin.clone(),
        paper: args.paper.clone(),
        pours: args.pours.clone(),
        drops_per_ml: args.drops_per_ml.clone(),
    };
    let moment = args.act.moment()?;
    Ok(done_text(&coat(&mut args.act.whose.open()?, &moment, &made)?, &args.act.whose))
}

pub(super) fn run_spoiled(args: &SpoiledArgs) -> Result<String, Refusal> {
    let answers = Spoiled { coat: args.coat.clone(), because: args.because.clone(), thrown: args.thrown };
    let moment = args.act.moment()?;
    Ok(done_text(&spoil(&mut args.act.whose.open()?, &moment, &answers)?, &args.act.whose))
}

pub(super) fn run_open(args: &OpenArgs) -> Result<String, Refusal> {
    let open = open_coats(&args.whose.open()?)?;
    if args.whose.json {
        return Ok(json::lines(&json::print::coats(&open)));
    }
    if open.is_empty() {
        return Ok("No coated sheet is waiting.\n".into());
    }
    Ok(open.iter().map(|own| format!("coat {}  {}: {}\n", own.number, own.title, pours(&own.pours))).collect())
}
