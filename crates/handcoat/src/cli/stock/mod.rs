//! `handcoat stock …`

mod acts;
mod args;
pub(super) mod label;
mod shelf_args;
mod text;

use std::fmt::Write as _;
use std::path::Path;

use handcoat_craft::measure::{fixed, significant, with_uncertainty};
use handcoat_work::shelf::{count, dilute, enter_hazards, look, lose, mix, pour, receive, retire, split, sweep, test};
use handcoat_work::stock::{
    AnyPlan, CompareAnswers, SheetFacts, StrengthAnswers, any_sheet, compare, facts, ladder, mass_percent, pairs,
    plain, plan_any, strengths,
};
use handcoat_work::{Day, Question, Refusal};

pub(super) use args::StockCommand;

use self::acts::{act, run_shelf};
use super::{files, table};
use crate::json;
use args::{CompareArgs, FormulaArgs, LadderArgs, PairsArgs, PlanArgs, StrengthArgs};
use text::{ladder_text, plan_text, solution_text};

pub(super) fn run(command: &StockCommand) -> Result<String, Refusal> {
    match command {
        StockCommand::Compare(args) => run_compare(args),
        StockCommand::Receive(args) => act(&args.act, &args.answers(), receive),
        StockCommand::Mix(args) => act(&args.act, &args.answers(), mix),
        StockCommand::Dilute(args) => act(&args.act, &args.answers(), dilute),
        StockCommand::Split(args) => act(&args.act, &args.answers(), split),
        StockCommand::Pour(args) => act(&args.act, &args.answers(), pour),
        StockCommand::Sweep(args) => act(&args.act, &args.answers(), sweep),
        StockCommand::Lose(args) => act(&args.act, &args.answers(), lose),
        StockCommand::Retire(args) => act(&args.act, &args.answers(), retire),
        StockCommand::Count(args) => act(&args.act, &args.answers(), count),
        StockCommand::Look(args) => act(&args.act, &args.answers(), look),
        StockCommand::Test(args) => act(&args.act, &args.answers(), test),
        StockCommand::Label(args) => label::run_label(args),
        StockCommand::Hazards(args) => act(&args.act, &args.answers(), enter_hazards),
        StockCommand::Shelf(args) => run_shelf(args),
        StockCommand::Plan(args) => run_plan(args),
        StockCommand::Ladder(args) => run_ladder(args),
        StockCommand::Strength(args) => run_strength(args),
        StockCommand::Formula(args) => run_formula(args),
        StockCommand::Pairs(args) => run_pairs(args),
    }
}

fn run_plan(args: &PlanArgs) -> Result<String, Refusal> {
    let planned = plan_any(&args.answers())?;
    // Read also where no sheet is asked for: nothing that is typed passes unread.
    let day = args.day.as_deref().map(Day::read).transpose()?;
    let mut out = match (&planned, args.json) {
        (AnyPlan::Metal(planned), true) => json::lines(&json::stock::planned(planned)),
        (AnyPlan::Metal(planned), false) => plan_text(planned),
        (AnyPlan::Solution(planned), true) => json::lines(&json::solution::planned(planned)),
        (AnyPlan::Solution(planned), false) => solution_text(planned),
    };
    if let Some(path) = &args.sheet {
        write_sheet(args, &planned, day.unwrap_or_else(today), path)?;
        if !args.json {
            let _ = writeln!(out, "\nThe bench sheet is in {}.", path.display());
        }
    }
    Ok(out)
}

fn write_sheet(args: &PlanArgs, planned: &AnyPlan, day: Day, path: &Path) -> Result<(), Refusal> {
    let facts = SheetFacts { studio: args.studio.clone(), day, invented: args.invented };
    // Said before a page is set for nothing; whether it is still free is decided when it is made.
    if files::occupied(path) {
        return Err(Refusal::occupied(Question::OutputFile, path));
    }
    files::write_new(Question::OutputFile, path, &any_sheet(planned, &facts)?)
}

/// The day here, by the machine's own zone.
fn today() -> Day {
    Day::of(jiff::ZonedDateTime::now().date())
}

fn run_ladder(args: &LadderArgs) -> Result<String, Refusal> {
    let (powder, ladder) = ladder(&args.answers())?;
    if args.json {
        return Ok(json::lines(&json::stock::ladder(&powder, &ladder)));
    }
    Ok(ladder_text(&powder, &ladder))
}

fn run_strength(args: &StrengthArgs) -> Result<String, Refusal> {
    let answers =
        StrengthAnswers { solid: args.solid.clone(), percent: args.percent.clone(), hydrate: args.hydrate.clone() };
    let found = strengths(&answers)?;
    if args.json {
        return Ok(json::lines(&json::stock::strengths(&found)));
    }
    let forms = &found.forms;
    let mut cells = vec![vec!["form".into(), "mol/L".into(), "mg metal/mL".into()]];
    cells.extend(forms.iter().map(|form| {
        let metal = form.metal.map_or("-".into(), plain);
        vec![form.form.to_string(), plain(form.molarity), metal]
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
    } else if !found.known {
        out.push_str("  the water is not known, and no other form is in the table: this is for the solid as written\n");
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
        let _ = writeln!(out, "  {} {} %", element, mass_percent(part.best));
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

fn run_compare(args: &CompareArgs) -> Result<String, Refusal> {
    let answers = CompareAnswers {
        powders: args.powders.clone(),
        solutions: args.solutions.clone(),
        metal_per_ml: args.metal_per_ml.clone(),
    };
    let found = compare(&answers)?;
    if args.json {
        return Ok(json::lines(&json::stock::compared(&found)));
    }
    let mut cells = vec![["offer", "metal", "per g metal", "at mg/mL", "per mL"].map(String::from).to_vec()];
    for own in &found {
        let currency = own.offer.currency();
        let decimals = usize::from(currency.minor_digits());
        cells.push(vec![
            own.written.clone(),
            format!("{} g {}", significant(own.offer.metal().to_grams(), 4), own.metal),
            format!("{} {currency}", fixed(own.offer.per_gram(), decimals)),
            significant(own.strength.to_milligrams_per_millilitre(), 3),
            format!("{} {currency}", fixed(own.offer.per_millilitre(own.strength), decimals)),
        ]);
    }
    let mut out = table::columns(&cells);
    for own in &found {
        if own.purity_open {
            let _ = writeln!(out, "  {}: its purity is not said and counts as 100 %", own.formula);
        }
        if own.water_open {
            let _ = writeln!(out, "  {}: its water is not said; with water it holds less metal", own.formula);
        }
    }
    Ok(out)
}
