//! `handcoat stock …`

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};
use handcoat_craft::measure::{digits, fixed, percent, significant, with_uncertainty};
use handcoat_craft::source::READY_AFTER;
use handcoat_work::stock::{
    Answers, LadderAnswers, Planned, SheetFacts, StrengthAnswers, bench_sheet, cause_words, facts, known_by, ladder,
    pairs, plan, result_rows, strengths, title, way_words, weigh_rows,
};
use handcoat_work::{Question, Refusal, Remedy};

use super::table;
use crate::json;

#[derive(Debug, Subcommand)]
pub(super) enum StockCommand {
    /// Say what to weigh and measure for a stock, and what it will be
    Plan(Box<PlanArgs>),
    /// Plan the halving ladder of a contrast salt
    Ladder(LadderArgs),
    /// Say what so many percent of a solid come to, for each form it may be
    Strength(StrengthArgs),
    /// Say what a formula weighs and what it is made of
    Formula(FormulaArgs),
    /// Name the pairs among substances that must not meet
    Pairs(PairsArgs),
}

const PLAN_EXAMPLES: &str = "\
Examples:
  handcoat stock plan --salt PdCl2 --make 60mL --balance 0.01g
  handcoat stock plan --salt PdCl2 --hydrate none --purity 99% --salt-mass 4.8g --balance 0.1g --price-salt 48EUR/g
  handcoat stock plan --salt PdCl2 --make 60mL --balance 0.01g --weighed 5.92g --bottle 100mL
  handcoat stock plan --salt K2PtCl4 --salt-mass 5g --balance 0.01g --sheet vial.pdf

How much: --make, --salt-mass, --bottle or --budget. How strong: 15 % of the complex for palladium and 20 g of
powder per 100 mL for platinum, unless you say otherwise. ± is k = 2; without --balance nothing is rounded.";

#[derive(Debug, Args)]
#[command(after_help = PLAN_EXAMPLES)]
pub(super) struct PlanArgs {
    /// Which powder, as a formula: PdCl2, K2PtCl4, (NH4)2PtCl4, Na2PtCl6·6H2O
    #[arg(long, value_name = "FORMULA")]
    salt: Option<String>,
    /// Alkali chloride that dissolves it: NaCl, KCl, NH4Cl, LiCl, CsCl
    #[arg(long, value_name = "FORMULA")]
    with: Option<String>,
    /// Finished volume (with --added: water added)
    #[arg(long, value_name = "VOLUME")]
    make: Option<String>,
    /// Strength in g of the anhydrous complex per 100 mL
    #[arg(long, value_name = "PERCENT")]
    percent_complex: Option<String>,
    /// Strength in moles of metal per litre
    #[arg(long, value_name = "MOLARITY")]
    molarity: Option<String>,
    /// Strength in g of powder, as weighed, per 100 mL
    #[arg(long = "salt-per-100ml", value_name = "PERCENT")]
    salt_per_100ml: Option<String>,
    /// Strength in mg of metal per mL
    #[arg(long = "metal-per-ml", value_name = "MG_PER_ML")]
    metal_per_ml: Option<String>,
    /// Powder to use
    #[arg(long, value_name = "MASS")]
    salt_mass: Option<String>,
    /// Bottle it goes into; alone, the volume that fits it
    #[arg(long, value_name = "VOLUME")]
    bottle: Option<String>,
    /// Money to spend on powder, with --price-salt
    #[arg(long, value_name = "MONEY")]
    budget: Option<String>,
    /// Moles of added chloride per mole of metal
    #[arg(long, value_name = "RATIO")]
    chloride_ratio: Option<String>,
    /// Chloride to use
    #[arg(long, value_name = "MASS")]
    chloride_mass: Option<String>,
    /// Purity on the jar
    #[arg(long, value_name = "PERCENT")]
    purity: Option<String>,
    /// What the purity is a percentage of: salt, metal, trace or unknown
    #[arg(long, value_name = "MEANING")]
    purity_of: Option<String>,
    /// Waters in the powder: none, a number, or unknown
    #[arg(long, value_name = "WATERS")]
    hydrate: Option<String>,
    /// Molar mass on the jar, to be compared with the formula
    #[arg(long, value_name = "G_PER_MOL")]
    stated_molar_mass: Option<String>,
    /// Price of the powder: 48EUR/g, or a jar's price for its content, 480EUR/10g
    #[arg(long, value_name = "PRICE")]
    price_salt: Option<String>,
    /// Smallest step the scale shows
    #[arg(long, value_name = "MASS")]
    balance: Option<String>,
    /// Tolerance of the measuring glass, ± [default: class B cylinder]
    #[arg(long, value_name = "VOLUME")]
    glass: Option<String>,
    /// How often the beaker is rinsed [default: 2]
    #[arg(long, value_name = "COUNT")]
    rinses: Option<String>,
    /// Another substance the stock will meet (may be repeated)
    #[arg(long, value_name = "FORMULA")]
    meets: Vec<String>,
    /// Powder really on the pan (of a vial: its content by difference)
    #[arg(long, value_name = "MASS")]
    weighed: Option<String>,
    /// Chloride really in the beaker
    #[arg(long, value_name = "MASS")]
    chloride_weighed: Option<String>,
    /// The solution is mixed already
    #[arg(long)]
    mixed: bool,
    /// The volume is water added and not made up; the final volume is an estimate
    #[arg(long)]
    added: bool,
    /// Write the bench sheet to this PDF file
    #[arg(long, value_name = "FILE")]
    sheet: Option<PathBuf>,
    /// Studio named on the sheet
    #[arg(long, value_name = "NAME")]
    studio: Option<String>,
    /// Day on the sheet, as 2026-03-14 [default: today]
    #[arg(long, value_name = "DATE")]
    day: Option<String>,
    /// Mark the sheet as sample data of an invented studio
    #[arg(long, hide = true)]
    invented: bool,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  handcoat stock ladder --salt Na2PtCl6·6H2O --from 20% --keep 10mL --rungs 5")]
pub(super) struct LadderArgs {
    /// Which powder, as a formula
    #[arg(long, value_name = "FORMULA")]
    salt: Option<String>,
    /// Waters in the powder: none, a number, or unknown
    #[arg(long, value_name = "WATERS")]
    hydrate: Option<String>,
    /// Purity on the jar
    #[arg(long, value_name = "PERCENT")]
    purity: Option<String>,
    /// What the purity is a percentage of: salt, metal, trace or unknown
    #[arg(long, value_name = "MEANING")]
    purity_of: Option<String>,
    /// Strength of the first rung, g of powder per 100 mL [default: 20%]
    #[arg(long, value_name = "PERCENT")]
    from: Option<String>,
    /// What to have left of each rung [default: 10mL]
    #[arg(long, value_name = "VOLUME")]
    keep: Option<String>,
    /// How many rungs [default: 5]
    #[arg(long, value_name = "COUNT")]
    rungs: Option<String>,
    /// Smallest step the scale shows
    #[arg(long, value_name = "MASS")]
    balance: Option<String>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  handcoat stock strength 'Fe2(C2O4)3' --percent 27\n  handcoat stock strength Na2PdCl4 --hydrate 3 --percent 15"
)]
pub(super) struct StrengthArgs {
    /// The solid, as a formula
    #[arg(value_name = "FORMULA")]
    solid: Option<String>,
    /// Grams of it per 100 mL
    #[arg(long, value_name = "PERCENT")]
    percent: Option<String>,
    /// Waters in the solid: none, a number, or unknown
    #[arg(long, value_name = "WATERS")]
    hydrate: Option<String>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  handcoat stock formula 'Na2PtCl6·6H2O'")]
pub(super) struct FormulaArgs {
    /// The formula
    #[arg(value_name = "FORMULA")]
    formula: String,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  handcoat stock pairs Na2PtCl6 '(NH4)3Fe(C2O4)3'")]
pub(super) struct PairsArgs {
    /// Two or more substances, as formulas
    #[arg(value_name = "FORMULA")]
    substances: Vec<String>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

pub(super) fn run(command: &StockCommand) -> Result<String, Refusal> {
    match command {
        StockCommand::Plan(args) => run_plan(args),
        StockCommand::Ladder(args) => run_ladder(args),
        StockCommand::Strength(args) => run_strength(args),
        StockCommand::Formula(args) => run_formula(args),
        StockCommand::Pairs(args) => run_pairs(args),
    }
}

fn answers(args: &PlanArgs) -> Answers {
    Answers {
        salt: args.salt.clone(),
        with: args.with.clone(),
        make: args.make.clone(),
        percent_complex: args.percent_complex.clone(),
        molarity: args.molarity.clone(),
        salt_per_100ml: args.salt_per_100ml.clone(),
        metal_per_ml: args.metal_per_ml.clone(),
        salt_mass: args.salt_mass.clone(),
        bottle: args.bottle.clone(),
        budget: args.budget.clone(),
        chloride_ratio: args.chloride_ratio.clone(),
        chloride_mass: args.chloride_mass.clone(),
        purity: args.purity.clone(),
        purity_of: args.purity_of.clone(),
        hydrate: args.hydrate.clone(),
        stated_molar_mass: args.stated_molar_mass.clone(),
        price: args.price_salt.clone(),
        balance: args.balance.clone(),
        glass: args.glass.clone(),
        rinses: args.rinses.clone(),
        meets: args.meets.clone(),
        weighed: args.weighed.clone(),
        chloride_weighed: args.chloride_weighed.clone(),
        mixed: args.mixed,
        added: args.added,
    }
}

fn run_plan(args: &PlanArgs) -> Result<String, Refusal> {
    let planned = plan(&answers(args))?;
    let mut out = if args.json { json::lines(&json::stock::planned(&planned)) } else { plan_text(&planned) };
    if let Some(path) = &args.sheet {
        write_sheet(args, &planned, path)?;
        if !args.json {
            let _ = writeln!(out, "\nThe bench sheet is in {}.", path.display());
        }
    }
    Ok(out)
}

fn write_sheet(args: &PlanArgs, planned: &Planned, path: &Path) -> Result<(), Refusal> {
    let day = args.day.as_deref().map_or_else(|| Ok(today()), read_day)?;
    let facts = SheetFacts { studio: args.studio.clone(), day, invented: args.invented };
    if path.exists() {
        return Err(Refusal::occupied(Question::OutputFile, path));
    }
    let pdf = bench_sheet(planned, &facts)?;
    std::fs::write(path, pdf).map_err(|error| {
        let cause = format!("`{}` could not be written: {error}", path.display());
        Refusal::file("file_unwritable", Question::OutputFile, cause, vec![Remedy::AnotherName])
    })
}

fn read_day(text: &str) -> Result<(i32, u8, u8), Refusal> {
    let unreadable = |_| {
        let cause = format!("`{text}` is no day; expected year, month and day as `2026-03-14`");
        let remedies = vec![Remedy::Write(Question::Date, "2026-03-14".into())];
        Refusal {
            kind: handcoat_work::RefusalKind::Unreadable,
            ..Refusal::file("day_unreadable", Question::Date, cause, remedies)
        }
    };
    text.trim().parse().map(parts).map_err(unreadable)
}

/// The day here, by the machine's own zone.
fn today() -> (i32, u8, u8) {
    parts(jiff::ZonedDateTime::now().date())
}

fn parts(day: jiff::civil::Date) -> (i32, u8, u8) {
    // Months and days are small and positive; `unsigned_abs` only changes their type.
    (i32::from(day.year()), day.month().unsigned_abs(), day.day().unsigned_abs())
}

fn plan_text(planned: &Planned) -> String {
    let plan = &planned.plan;
    let mut out = format!("{}\n\nWeigh and measure\n{}", title(plan), table::rows(&weigh_rows(plan)));
    let _ = write!(out, "\nWhat it will be\n{}", table::rows(&result_rows(plan, &plan.batch)));
    if let Some((cause, part)) = plan.batch.dominant() {
        let _ = writeln!(out, "  ± is k = 2; {} dominates it ({} of the variance)", cause_words(cause), percent(part));
        let _ = writeln!(out, "  {}", known_by(plan));
    }
    let _ = writeln!(out, "  ready after {} hours, when it is clear", READY_AFTER.value);
    if !plan.warnings.is_empty() {
        out.push_str("\nTo know before you begin\n");
    }
    for warning in &plan.warnings {
        let _ = writeln!(out, "  {warning} [{}]", warning.code());
    }
    if planned.as_weighed.is_some() {
        out.push_str(&weighed_text(planned));
    }
    out
}

fn weighed_text(planned: &Planned) -> String {
    let (plan, Some(now)) = (&planned.plan, &planned.as_weighed) else { return String::new() };
    let mut out = String::from("\nAs weighed, in the planned volume\n");
    out.push_str(&table::rows(&result_rows(plan, &now.batch)));
    let strength = if now.stronger.abs() < 5e-4 {
        "  as strong as planned".into()
    } else if now.stronger > 0.0 {
        format!("  {} stronger than planned", percent(now.stronger))
    } else {
        format!("  {} weaker than planned", percent(-now.stronger))
    };
    let _ = writeln!(out, "{strength}");
    for (heading, ways) in [("Ways on", &now.ways), ("For the chloride", &now.chloride_ways)] {
        if ways.is_empty() {
            continue;
        }
        let _ = writeln!(out, "\n{heading}");
        for way in ways {
            let (what, how) = way_words(plan, way);
            let cost = way.extra_cost.filter(|extra| extra.to_minor() > 0);
            let cost = cost.map_or(String::new(), |extra| format!("; {extra} more in stock"));
            let care = way.warning.as_ref().map_or(String::new(), |warning| format!("\n    {warning}"));
            let _ = writeln!(out, "  {what}: {how}{cost}{care}");
        }
    }
    out
}

fn run_ladder(args: &LadderArgs) -> Result<String, Refusal> {
    let answers = LadderAnswers {
        salt: args.salt.clone(),
        hydrate: args.hydrate.clone(),
        purity: args.purity.clone(),
        purity_of: args.purity_of.clone(),
        from: args.from.clone(),
        keep: args.keep.clone(),
        rungs: args.rungs.clone(),
        balance: args.balance.clone(),
    };
    let (powder, ladder) = ladder(&answers)?;
    if args.json {
        return Ok(json::lines(&json::stock::ladder(&powder, &ladder)));
    }
    let metal = powder.salt().metal().element();
    let mut cells = vec![vec![
        "g per 100 mL".into(),
        "mol/L".into(),
        format!("mg {metal}/mL"),
        "make mL".into(),
        "from above mL".into(),
        "water mL".into(),
    ]];
    for rung in &ladder.rungs {
        let ml = |volume: Option<handcoat_craft::measure::Volume>| {
            volume.map_or("-".into(), |volume| fixed(volume.to_millilitres(), 1))
        };
        cells.push(vec![
            significant(rung.percent.to_grams_per_100_ml(), 4),
            digits(rung.molarity.to_moles_per_litre(), 3),
            digits(rung.metal.to_milligrams_per_millilitre(), 3),
            ml(Some(rung.make)),
            ml(rung.from_above),
            ml(rung.water),
        ]);
    }
    Ok(format!(
        "Halving ladder of {}: one part of the rung above, one part of distilled water\n{}\n  \
         the first rung takes {} g of powder; dissolve a sealed vial whole, never weigh this salt in the open\n",
        powder.salt().formula(),
        table::columns(&cells),
        fixed(ladder.powder.to_grams(), 3)
    ))
}

fn run_strength(args: &StrengthArgs) -> Result<String, Refusal> {
    let answers =
        StrengthAnswers { solid: args.solid.clone(), percent: args.percent.clone(), hydrate: args.hydrate.clone() };
    let forms = strengths(&answers)?;
    if args.json {
        return Ok(json::lines(&json::stock::strengths(&forms)));
    }
    let mut cells = vec![vec!["form".into(), "mol/L".into(), "mg metal/mL".into()]];
    cells.extend(forms.iter().map(|form| {
        let metal = form.metal.map_or("-".into(), |metal| digits(metal.to_milligrams_per_millilitre(), 3));
        vec![form.form.to_string(), digits(form.molarity.to_moles_per_litre(), 3), metal]
    }));
    let mut out = table::columns(&cells);
    if let (Some(first), Some(last)) = (forms.first(), forms.last())
        && forms.len() > 1
    {
        let _ = writeln!(
            out,
            "  the water is not stated: anything from {} to {} mol/L",
            significant(last.molarity.to_moles_per_litre(), 2),
            significant(first.molarity.to_moles_per_litre(), 2)
        );
    }
    Ok(out)
}

fn run_formula(args: &FormulaArgs) -> Result<String, Refusal> {
    let facts = facts(&args.formula)?;
    if args.json {
        return Ok(json::lines(&json::stock::formula(&facts)));
    }
    let mut out = facts.formula.to_string();
    if let Some(named) = facts.named {
        let cas = named.cas.map_or(String::new(), |cas| format!(", CAS {cas} ({})", named.cite.status));
        let _ = write!(out, ", {}{cas}", named.name);
    }
    let _ = writeln!(out, "\n  {} g/mol (k = 2)", with_uncertainty(&facts.molar_mass));
    for (element, part) in &facts.parts {
        let _ = writeln!(out, "  {} {} %", element, fixed(part.best.to_ratio() * 100.0, 3));
    }
    Ok(out)
}

fn run_pairs(args: &PairsArgs) -> Result<String, Refusal> {
    let pairing = pairs(&args.substances)?;
    if args.json {
        return Ok(json::lines(&json::stock::pairs(&pairing)));
    }
    if pairing.meetings.is_empty() {
        return Ok("No pair among these is in the table. That is no promise: read the suppliers' sheets.\n".into());
    }
    let mut out = String::new();
    for meeting in &pairing.meetings {
        let _ = writeln!(out, "{} with {} {} ({})", meeting.one, meeting.other, meeting.row.what, meeting.row.cite);
    }
    Ok(out)
}
