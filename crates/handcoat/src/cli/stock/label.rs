//! `handcoat stock label`, `stock hazards`, and the emergency page.

use std::path::PathBuf;

use clap::Args;
use handcoat_work::shelf::{
    EnterHazards, LabelAnswers, SuppliersSheet, label, label_sheets, printer_page, suppliers_sheets, wall_page,
};
use handcoat_work::{Question, Refusal, Studio};
use jiff::Timestamp;
use serde_json::{Value, json};

use crate::cli::book::{ActArgs, BookArgs, read_instant};
use crate::cli::{files, table};
use crate::json;

const LABEL_EXAMPLES: &str = "\
Examples:
  handcoat stock label 'palladium stock' -o label.pdf
  handcoat stock label 00013 00021 -o labels.pdf --on 2 --start 5
  handcoat stock label --printer-page --on 2 -o printer.pdf
  handcoat stock label --sheets

A sheet of your own is given by its measures in millimetres: page, label, columns and rows, place of the first, pitch:
  --on '210x297 63.5x38.1 3x7 7.25x15.15 66x38.1'";

#[derive(Debug, Args)]
#[command(after_help = LABEL_EXAMPLES)]
pub(in crate::cli) struct LabelArgs {
    /// Jars, bottles and vials, by name or code
    items: Vec<String>,
    /// Write the labels to this PDF file
    #[arg(short = 'o', long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Which sheet of labels: its number, or its measures [default: 1]
    #[arg(long, value_name = "SHEET")]
    on: Option<String>,
    /// First free label on it, counted row by row from 1
    #[arg(long, value_name = "POSITION")]
    start: Option<String>,
    /// How far the printer has to be led, in millimetres to the right and down
    #[arg(long, value_name = "RIGHT,DOWN", allow_hyphen_values = true)]
    offset: Option<String>,
    /// Print the page that shows how far the printer is off
    #[arg(long)]
    printer_page: bool,
    /// List the sheets of labels known here
    #[arg(long)]
    sheets: bool,
    /// The instant on the labels [default: now]
    #[arg(long, value_name = "INSTANT")]
    at: Option<String>,
    #[command(flatten)]
    whose: BookArgs,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct HazardsArgs {
    /// Jar, bottle or vial
    item: String,
    /// Whose sheet it is
    #[arg(long, value_name = "NAME")]
    supplier: Option<String>,
    /// The date on the sheet
    #[arg(long, value_name = "DAY")]
    date: Option<String>,
    /// Danger or Warning, as on the sheet
    #[arg(long, value_name = "WORD")]
    signal: Option<String>,
    /// A hazard statement by its code, H290 (may be repeated)
    #[arg(long = "statement", value_name = "CODE")]
    statements: Vec<String>,
    /// A pictogram by its code, GHS05 (may be repeated)
    #[arg(long = "pictogram", value_name = "CODE")]
    pictograms: Vec<String>,
    /// The sheet is of the pure substance and not of what is in the bottle
    #[arg(long)]
    pure: bool,
    #[command(flatten)]
    pub(in crate::cli) act: ActArgs,
}

impl HazardsArgs {
    pub(super) fn answers(&self) -> EnterHazards {
        EnterHazards {
            item: Some(self.item.clone()),
            supplier: self.supplier.clone(),
            date: self.date.clone(),
            signal_word: self.signal.clone(),
            statements: self.statements.clone(),
            pictograms: self.pictograms.clone(),
            of_pure_substance: self.pure,
        }
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct EmergencyArgs {
    /// Write the page to this PDF file
    #[arg(short = 'o', long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Your local emergency number [default: the book's, if there is one]
    #[arg(long, value_name = "NUMBER")]
    number: Option<String>,
    /// The instant on the page [default: now]
    #[arg(long, value_name = "INSTANT")]
    at: Option<String>,
    #[command(flatten)]
    whose: BookArgs,
}

pub(super) fn run_label(args: &LabelArgs) -> Result<String, Refusal> {
    if args.sheets {
        let names = label_sheets();
        if args.whose.json {
            return Ok(json::lines(&json!({ "sheets": names })));
        }
        return Ok(names.iter().zip(1..).map(|(name, number)| format!("  {number}  {name}\n")).collect());
    }
    let now = instant(args.at.as_deref())?;
    let answers = LabelAnswers {
        items: args.items.clone(),
        on: args.on.clone(),
        start: args.start.clone(),
        offset: args.offset.clone(),
    };
    let pdf = if args.printer_page { printer_page(&answers, now)? } else { label(&args.whose.open()?, &answers, now)? };
    written(args.output.as_ref(), &pdf, args.whose.json)
}

pub(in crate::cli) fn run_emergency(args: &EmergencyArgs) -> Result<String, Refusal> {
    // It must be had without a book as well.
    let studio: Option<Studio> = args.whose.path().ok().map(|_| args.whose.open()).transpose()?;
    let pdf = wall_page(studio.as_ref(), args.number.clone(), instant(args.at.as_deref())?)?;
    let path = kept(args.output.as_ref(), &pdf)?;
    let sheets = studio.as_ref().map_or(Ok(Vec::new()), suppliers_sheets)?;
    if args.whose.json {
        let rows: Vec<Value> = sheets.iter().map(json::stock::suppliers_sheet).collect();
        return Ok(json::lines(&json!({ "file": path, "bytes": pdf.len(), "suppliers_sheets": rows })));
    }
    let mut out = format!("It is in {path}.\n");
    if !sheets.is_empty() {
        out.push_str("Suppliers' sheets that were entered; keep the sheets themselves where anybody finds them:\n");
        let cells = |own: &SuppliersSheet| {
            let of = if own.of_pure_substance { "of the pure substance" } else { "" };
            vec![own.code.to_string(), own.name.clone(), own.supplier.clone(), own.date.clone(), of.into()]
        };
        out.push_str(&table::columns(&sheets.iter().map(cells).collect::<Vec<_>>()));
    }
    Ok(out)
}

fn instant(at: Option<&str>) -> Result<Timestamp, Refusal> {
    at.map_or_else(|| Ok(Timestamp::now()), read_instant)
}

fn written(output: Option<&PathBuf>, pdf: &[u8], as_json: bool) -> Result<String, Refusal> {
    let path = kept(output, pdf)?;
    if as_json {
        return Ok(json::lines(&json!({ "file": path, "bytes": pdf.len() })));
    }
    Ok(format!("It is in {path}.\n"))
}

/// Writes a sheet and says where it is.
fn kept(output: Option<&PathBuf>, pdf: &[u8]) -> Result<String, Refusal> {
    let path = output.ok_or_else(|| Refusal::missing(Question::Output, "label.pdf"))?;
    files::write_new(Question::Output, path, pdf)?;
    Ok(path.display().to_string())
}
