//! The arguments of `handcoat tone …`.

use std::path::PathBuf;

use clap::{Args, Subcommand};
use handcoat_work::tone::{ChartAnswers, LevelAnswers, NextAnswers, ResponseOfSetup, ScanFacts};

use super::chart::{ChartArgs, ReadArgs};
use super::outside::{CurveArgs, ProofArgs};
use crate::cli::book::{ActArgs, BookArgs, OfSetupArgs};
use crate::cli::session::PageArgs;

#[derive(Debug, Subcommand)]
pub(in crate::cli) enum ToneCommand {
    /// Find what a set-up prints for each input, and the correction that makes it print what is wanted
    Fit(FitArgs),
    /// Hold a chart that was printed through a correction against what was wanted
    Verify(VerifyArgs),
    /// Say which patches to print next: those that lower the expected error most for the paper coated for them
    Next(NextArgs),
    /// Write a chart to print as a table: its inputs, and where each patch lies
    Levels(LevelsArgs),
    /// Make a chart for film that says itself what lies where
    Chart(ChartArgs),
    /// Read the patches of a chart from a scan of its print
    Read(ReadArgs),
    /// Write the curve of a response for other programs: a table, a device link, a profile of the print
    Curve(CurveArgs),
    /// Show a picture as a set-up would print it, before any metal is spent
    Proof(ProofArgs),
    /// Responses that are kept, and whether they still hold
    List(OfSetupArgs),
    /// One response that is kept
    Show(ShowArgs),
}

const FIT_EXAMPLES: &str = "\
Examples:
  handcoat tone fit chart.csv --csv curve.csv --plot response.svg --pdf response.pdf
  handcoat tone fit chart.csv --json > fit.json
  handcoat tone fit today.csv --prior fit.json --target soft-whites
  handcoat tone fit chart.csv --keep --setup 'cotton, palladium, tubes'

The table has a column input, the value that was sent, from 0 (darkest) to 1 (paper white), and a column l_star or density, one row for each patch of the dry \
print. With x_mm and y_mm, where the patches lie, an uneven coat is told from tone. A CGATS.17 text with INPUT and LAB_L or D_VIS is \
read too. With --sample the chart of an invented paper is written to FILE first. Targets: lightness (equal steps of L*), density (equal steps of density), soft-whites and \
soft-blacks (as lightness, with half the contrast where it arrives at that end).";

/// Files a fit or a check leaves.
#[derive(Debug, Args)]
pub(in crate::cli) struct OutArgs {
    /// Write the plot to this SVG file
    #[arg(long, value_name = "FILE")]
    pub(super) plot: Option<PathBuf>,
    /// Write a report of one page to this PDF file
    #[arg(long, value_name = "FILE")]
    pub(super) pdf: Option<PathBuf>,
    #[command(flatten)]
    pub(super) page: PageArgs,
    /// Say on it that the data are invented
    #[arg(long, hide = true)]
    pub(super) invented: bool,
}

#[derive(Debug, Args)]
#[command(after_help = FIT_EXAMPLES)]
pub(in crate::cli) struct FitArgs {
    /// The table of readings
    #[arg(value_name = "FILE")]
    pub(super) file: PathBuf,
    /// An earlier response of the same set-up: the JSON of its fit, or its number where it is kept
    #[arg(long, value_name = "FIT")]
    pub(super) prior: Option<String>,
    /// How tones shall be spaced: lightness, density, soft-whites or soft-blacks [default: lightness]
    #[arg(long, value_name = "WORD")]
    target: Option<String>,
    /// The decimal mark of the table: point or comma [default: point]
    #[arg(long, value_name = "WORD")]
    decimal_mark: Option<String>,
    /// Write the correction to this CSV file: input,output
    #[arg(long, value_name = "FILE")]
    pub(super) csv: Option<PathBuf>,
    #[command(flatten)]
    pub(super) out: OutArgs,
    /// Write a chart of an invented paper to FILE first
    #[arg(long)]
    pub(super) sample: bool,
    /// Keep the response in the book
    #[arg(long)]
    pub(super) keep: bool,
    /// The set-up it belongs to, by name or number
    #[arg(long, value_name = "NAME")]
    pub(super) setup: Option<String>,
    /// A note on it
    #[arg(long, value_name = "WORDS", requires = "keep")]
    note: Option<String>,
    /// What `tone read --json` said of the scan the readings come from; it is kept with the response
    #[arg(long, value_name = "FILE", requires = "keep")]
    pub(super) scan: Option<PathBuf>,
    #[command(flatten)]
    pub(super) act: ActArgs,
}

impl FitArgs {
    pub(super) fn answers(&self) -> ChartAnswers {
        ChartAnswers { decimal_mark: self.decimal_mark.clone(), target: self.target.clone() }
    }

    pub(super) fn place(&self, scan: Option<ScanFacts>) -> ResponseOfSetup {
        ResponseOfSetup { setup: self.setup.clone(), note: self.note.clone(), scan }
    }
}

const VERIFY_EXAMPLES: &str = "\
Examples:
  handcoat tone verify corrected.csv --of fit.json
  handcoat tone verify corrected.csv --of 3 --keep --update

The table is that of a second chart, sent through the curve: input is the tone that was wanted. With --keep what it says is kept with the \
response; with --update the response it improves is kept as one of its own.";

#[derive(Debug, Args)]
#[command(after_help = VERIFY_EXAMPLES)]
pub(in crate::cli) struct VerifyArgs {
    /// The table of readings
    #[arg(value_name = "FILE")]
    pub(super) file: PathBuf,
    /// The fit whose curve it was printed through: its JSON, or the number of a kept response
    #[arg(long, value_name = "FIT")]
    pub(super) of: Option<String>,
    /// The decimal mark of the table: point or comma [default: point]
    #[arg(long, value_name = "WORD")]
    decimal_mark: Option<String>,
    /// Write the improved correction to this CSV file: input,output
    #[arg(long, value_name = "FILE")]
    pub(super) csv: Option<PathBuf>,
    #[command(flatten)]
    pub(super) out: OutArgs,
    /// Write a print of the invented paper through this curve to FILE first
    #[arg(long)]
    pub(super) sample: bool,
    /// Keep what it says with the response
    #[arg(long)]
    pub(super) keep: bool,
    /// Keep the improved response as one of its own
    #[arg(long, requires = "keep")]
    pub(super) update: bool,
    #[command(flatten)]
    pub(super) act: ActArgs,
}

impl VerifyArgs {
    pub(super) fn answers(&self) -> ChartAnswers {
        ChartAnswers { decimal_mark: self.decimal_mark.clone(), target: None }
    }
}

#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  handcoat tone next fit.json --patch 10mm\n  handcoat tone next 3 --most 8 --csv next.csv"
)]
pub(in crate::cli) struct NextArgs {
    /// The fit: its JSON, or the number of a kept response
    #[arg(value_name = "RESPONSE")]
    pub(super) of: String,
    /// The side of a patch, its border with it [default: 10mm]
    #[arg(long, value_name = "LENGTH")]
    patch: Option<String>,
    /// How many patches at most [default: 12]
    #[arg(long, value_name = "COUNT")]
    most: Option<String>,
    /// Write the patches and their places to this CSV file, to fill in what is read
    #[arg(long, value_name = "FILE")]
    pub(super) csv: Option<PathBuf>,
    /// The part of a sheet they lie on, with --csv [default: 200x140mm]
    #[arg(long, value_name = "SIZE", requires = "csv")]
    sheet: Option<String>,
    #[command(flatten)]
    pub(super) whose: BookArgs,
}

impl NextArgs {
    pub(super) fn answers(&self) -> NextAnswers {
        NextAnswers { patch: self.patch.clone(), most: self.most.clone() }
    }

    pub(super) fn levels(&self) -> LevelAnswers {
        LevelAnswers { count: None, patch: self.patch.clone(), sheet: self.sheet.clone() }
    }
}

const LEVELS_EXAMPLES: &str = "\
Examples:
  handcoat tone levels --csv chart.csv
  handcoat tone levels --most 61 --patch 12mm --sheet 20x25cm --csv chart.csv

The places are the middles of the patches in mm from the upper left corner, in no order of tone; the column l_star is left for what is read. \
Input 0 is darkest, 1 is paper white.";

#[derive(Debug, Args)]
#[command(after_help = LEVELS_EXAMPLES)]
pub(in crate::cli) struct LevelsArgs {
    /// How many patches [default: 31]
    #[arg(long, value_name = "COUNT")]
    most: Option<String>,
    /// The side of a patch, its border with it [default: 10mm]
    #[arg(long, value_name = "LENGTH")]
    patch: Option<String>,
    /// The part of a sheet they lie on [default: 200x140mm]
    #[arg(long, value_name = "SIZE")]
    sheet: Option<String>,
    /// Write the table to this CSV file instead of showing it
    #[arg(long, value_name = "FILE")]
    pub(super) csv: Option<PathBuf>,
    /// Answer with JSON
    #[arg(long)]
    pub(super) json: bool,
}

impl LevelsArgs {
    pub(super) fn answers(&self) -> LevelAnswers {
        LevelAnswers { count: self.most.clone(), patch: self.patch.clone(), sheet: self.sheet.clone() }
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct ShowArgs {
    /// Its number
    #[arg(value_name = "RESPONSE")]
    pub(super) response: String,
    /// Write the correction to this CSV file: input,output
    #[arg(long, value_name = "FILE")]
    pub(super) csv: Option<PathBuf>,
    #[command(flatten)]
    pub(super) out: OutArgs,
    #[command(flatten)]
    pub(super) whose: BookArgs,
}
