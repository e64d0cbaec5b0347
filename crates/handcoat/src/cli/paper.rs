//! `handcoat paper …`: salt boxes, droppers, what reaches the paper.

use std::fmt::Write as _;

use clap::{Args, Subcommand};
use handcoat_craft::measure::{fixed, significant, with_uncertainty};
use handcoat_craft::source::BOX_LOAD;
use handcoat_work::paper::{
    BoxAnswers, DropperAnswers, KeepDropper, KeepShare, ShareAnswers, calibrate_dropper, humidities, keep_dropper,
    keep_share, share_on_paper,
};
use handcoat_work::{Done, Refusal};
use serde_json::Value;

use super::book::{ActArgs, done_text};
use super::table;
use crate::json;

#[derive(Debug, Subcommand)]
pub(super) enum PaperCommand {
    /// Say which humidity a saturated salt holds in a closed box
    Humidity(HumidityArgs),
    /// Calibrate a dropper for one solution, by counting drops into a volume or by weighing them
    Dropper(DropperArgs),
    /// Find what reaches the paper, by weighing paper, brush and glass
    Share(ShareArgs),
}

#[derive(Debug, Args)]
pub(super) struct HumidityArgs {
    /// The salt: NaCl, NaBr, Mg(NO3)2; every one of the table when left out
    #[arg(long, value_name = "FORMULA")]
    salt: Option<String>,
    /// How warm the box is: 20C or 68F [default: 20C]
    #[arg(long, value_name = "TEMPERATURE")]
    temperature: Option<String>,
    /// Answer as JSON
    #[arg(long)]
    json: bool,
}

const DROPPER_EXAMPLES: &str = "\
Examples:
  handcoat paper dropper '203drops 10mL' '198drops 10mL'
  handcoat paper dropper '20drops 0.98g' --water-at 20C --balance 0.01g
  handcoat paper dropper '50drops 2.71g' --density 1.12g/mL --balance 0.01g
  handcoat paper dropper '203drops 10mL' '198drops 10mL' --keep 'palladium dropper' --solution 'spring palladium'

Hold it upright, squeeze slowly, and use the solution itself: other liquids drip in other drops than water.";

#[derive(Debug, Args)]
#[command(after_help = DROPPER_EXAMPLES)]
pub(super) struct DropperArgs {
    /// Drops and what they came to: '203drops 10mL', '20drops 0.98g' (may be repeated)
    #[arg(value_name = "RUN")]
    runs: Vec<String>,
    /// The drops are of water this warm
    #[arg(long, value_name = "TEMPERATURE")]
    water_at: Option<String>,
    /// The drops are of a solution of this density: 1.12g/mL
    #[arg(long, value_name = "DENSITY")]
    density: Option<String>,
    /// Smallest step the scale shows
    #[arg(long, value_name = "MASS")]
    balance: Option<String>,
    /// Tolerance of the measuring glass, ± [default: a fiftieth of the reading]
    #[arg(long, value_name = "VOLUME")]
    glass: Option<String>,
    /// Keep it in the book as the dropper of this name, new or known
    #[arg(long, value_name = "NAME")]
    keep: Option<String>,
    /// The bottle the dropper is for
    #[arg(long, value_name = "BOTTLE", requires = "keep")]
    solution: Option<String>,
    #[command(flatten)]
    act: ActArgs,
}

const SHARE_EXAMPLES: &str = "\
Examples:
  handcoat paper share --paper 21.80g-20.00g --brush 31.15g-31.00g --glass 40.05g-40.00g --balance 0.01g --image 8x10in
  handcoat paper share --paper 21.80g-20.00g --brush 31.15g-31.00g --glass 40.05g-40.00g --balance 0.01g --image 8x10in \
    --keep 'wide brush' --on 'cotton rag 300'

Weigh quickly and in damp air: water evaporates from all three. Each is what it weighs after the coat less before it.";

#[derive(Debug, Args)]
#[command(after_help = SHARE_EXAMPLES)]
pub(super) struct ShareArgs {
    /// The sheet, coated less dry: 21.80g-20.00g
    #[arg(long, value_name = "MASSES")]
    paper: Option<String>,
    /// The brush or rod, after less before
    #[arg(long, value_name = "MASSES")]
    brush: Option<String>,
    /// The mixing glass, after less empty
    #[arg(long, value_name = "MASSES")]
    glass: Option<String>,
    /// Smallest step the scale shows
    #[arg(long, value_name = "MASS")]
    balance: Option<String>,
    /// The image, to find what the paper takes: 8x10in
    #[arg(long, value_name = "SIZE")]
    image: Option<String>,
    /// Coated border on each side [default: about 1cm]
    #[arg(long, value_name = "LENGTH")]
    margin: Option<String>,
    /// Density of the mix [default: anything from water to the densest stock]
    #[arg(long, value_name = "DENSITY")]
    density: Option<String>,
    /// Keep it in the book as that of the brush or rod of this name, new or known
    #[arg(long, value_name = "NAME")]
    keep: Option<String>,
    /// The paper it was measured on, as it is kept in the book: what it took becomes its own
    #[arg(long = "on", value_name = "PAPER", requires = "keep")]
    on_paper: Option<String>,
    #[command(flatten)]
    act: ActArgs,
}

pub(super) fn run(command: &PaperCommand) -> Result<String, Refusal> {
    match command {
        PaperCommand::Humidity(args) => run_humidity(args),
        PaperCommand::Dropper(args) => run_dropper(args),
        PaperCommand::Share(args) => run_share(args),
    }
}

fn run_humidity(args: &HumidityArgs) -> Result<String, Refusal> {
    let found = humidities(&BoxAnswers { salt: args.salt.clone(), temperature: args.temperature.clone() })?;
    if args.json {
        return Ok(json::lines(&json::coat::humidities(&found)));
    }
    let at = found.first().map_or(String::new(), |own| significant(own.at.to_celsius(), 4));
    let mut cells = vec![["salt", "% RH", "± (k = 2)"].map(String::from).to_vec()];
    for own in &found {
        cells.push(vec![
            own.salt_box.salt().formula.into(),
            fixed(own.humidity.best.to_percent(), 1),
            fixed(own.humidity.expanded(), 1),
        ]);
    }
    let mut out =
        format!("At {at} °C, over a saturated solution with some of the salt left solid\n{}", table::columns(&cells));
    if let [own] = found.as_slice() {
        let _ = writeln!(out, "  for {}", own.salt_box.salt().used_for);
    }
    let _ = writeln!(
        out,
        "  one sheet at a time, stirred air, about an hour: {} mg of water an hour pull it off by as much as its ±",
        BOX_LOAD.value
    );
    Ok(out)
}

fn run_dropper(args: &DropperArgs) -> Result<String, Refusal> {
    let answers = DropperAnswers {
        runs: args.runs.clone(),
        water_at: args.water_at.clone(),
        density: args.density.clone(),
        balance: args.balance.clone(),
        glass: args.glass.clone(),
    };
    let (dropper, water_at) = calibrate_dropper(&answers)?;
    let whose = |name: &String| KeepDropper { name: name.clone(), solution: args.solution.clone() };
    let kept = match &args.keep {
        Some(name) => Some(keep_dropper(&mut args.act.whose.open()?, &args.act.moment()?, &whose(name), &dropper)?),
        None => None,
    };
    if args.act.whose.json {
        return Ok(with_act(json::coat::dropper(&dropper, water_at), kept.as_ref()));
    }
    let mut out = format!("{} drops/mL (k = 2)\n", with_uncertainty(&dropper.per_ml));
    let _ = writeln!(
        out,
        "  one drop is {} mL, known to {} %",
        significant(dropper.drop_ml(), 3),
        significant(dropper.relative() * 200.0, 2)
    );
    if let Some((at, mg)) = water_at.and_then(|at| Some((at, dropper.water_drop_mg(at)?))) {
        let official = if dropper.is_official(at) == Some(true) { "inside" } else { "outside" };
        let _ = writeln!(
            out,
            "  a drop of water weighs {} mg: {official} the 45 to 55 mg of an official dropper (USP <1101>)",
            significant(mg, 3)
        );
    }
    out.push_str("  use it for this solution only: another drips in other drops\n");
    out.extend(kept.map(|done| done_text(&done, &args.act.whose)));
    Ok(out)
}

fn run_share(args: &ShareArgs) -> Result<String, Refusal> {
    let answers = ShareAnswers {
        paper: args.paper.clone(),
        brush: args.brush.clone(),
        glass: args.glass.clone(),
        balance: args.balance.clone(),
        image: args.image.clone(),
        margin: args.margin.clone(),
        density: args.density.clone(),
    };
    let found = share_on_paper(&answers)?;
    let whose = |name: &String| KeepShare { name: name.clone(), paper: args.on_paper.clone() };
    let kept = match &args.keep {
        Some(name) => Some(keep_share(&mut args.act.whose.open()?, &args.act.moment()?, &whose(name), &found)?),
        None => None,
    };
    if args.act.whose.json {
        return Ok(with_act(json::coat::share(&found), kept.as_ref()));
    }
    let percent = |part: f64| fixed(part * 100.0, 1);
    let mut out = format!(
        "{} ± {} % of what was poured is on the paper (k = 2)\n",
        percent(found.share.best.of_whole()),
        percent(found.share.expanded())
    );
    if let Some((area, uptake)) = found.uptake {
        let area = fixed(area.to_square_centimetres(), 1);
        let _ = writeln!(out, "  {} mL to 100 cm² on {area} cm² of coated area (k = 2)", with_uncertainty(&uptake));
    }
    out.extend(kept.map(|done| done_text(&done, &args.act.whose)));
    Ok(out)
}

/// What was measured, and the act that keeps it.
fn with_act(mut measured: Value, kept: Option<&Done>) -> String {
    if let (Some(fields), Some(done)) = (measured.as_object_mut(), kept) {
        fields.insert("act".into(), json::ledger::done(done));
    }
    json::lines(&measured)
}
