//! The arguments of `handcoat expose …`.

use std::path::PathBuf;

use clap::{Args, Subcommand};
use handcoat_work::expose::{
    DistanceAnswers, EyeAnswers, LadderAnswers, StripAnswers, TabletAnswers, TestOfSetup, WedgeAnswers,
    WedgeScanAnswers,
};
use handcoat_work::tone::ScanAnswers;

use crate::cli::book::{ActArgs, BookArgs, OfSetupArgs};
use crate::cli::session::PageArgs;

#[derive(Debug, Subcommand)]
pub(in crate::cli) enum ExposeCommand {
    /// Find base time and exposure scale from densities read under a step wedge
    Wedge(Box<WedgeArgs>),
    /// Find both from two step numbers, without an instrument
    Eye(EyeArgs),
    /// Plan strips without a wedge, and find the base time from the one that was tapped
    Strip(StripArgs),
    /// Say how much contrast agent a negative asks for, from one's own wedges
    Ladder(LadderArgs),
    /// Set-ups with the base exposure in force for each, and the tests that are kept
    List(OfSetupArgs),
    /// One test that was kept
    Show(ShowArgs),
    /// Set a sheet to work from: strips with boxes to tick, or what a wedge came to
    Sheet(SheetArgs),
    /// Say the time at another distance from a small lamp
    Distance(DistanceArgs),
}

/// Keeping a test in the book.
#[derive(Debug, Args)]
pub(in crate::cli) struct KeepArgs {
    /// Keep the test in the book
    #[arg(long)]
    pub(super) keep: bool,
    /// The set-up it belongs to, by name or number
    #[arg(long, value_name = "NAME", requires = "keep")]
    setup: Option<String>,
    /// The dose of contrast agent it was made with: 0.5 mg/mL of sensitizer, 0.2 g/L of developer, or none
    #[arg(long, value_name = "DOSE", requires = "keep")]
    dose: Option<String>,
    /// A note on it
    #[arg(long, value_name = "WORDS", requires = "keep")]
    note: Option<String>,
    #[command(flatten)]
    pub(super) act: ActArgs,
}

impl KeepArgs {
    pub(super) fn place(&self) -> TestOfSetup {
        TestOfSetup { setup: self.setup.clone(), dose: self.dose.clone(), note: self.note.clone() }
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct ShowArgs {
    /// Its number
    pub(super) test: String,
    #[command(flatten)]
    pub(super) whose: BookArgs,
}

const WEDGE_EXAMPLES: &str = "\
Examples:
  handcoat expose wedge wedge.csv --test-time 4:00
  handcoat expose wedge wedge.csv --test-time 4:00 --decimal-mark comma --reading-u 0.015
  handcoat expose wedge steps.csv --ink
  handcoat expose wedge --scan scan.tif --test-time 4:00 --overlay seen.png
  handcoat expose wedge --scan scan.tif --box 10%,5%,80%x12% --steps 31 --increment 0.10 --test-time 4:00
  handcoat expose wedge wedge.csv --test-time 4:00 --keep --setup 'cotton, palladium, tubes' --dose 0.5mg/mL

The table has a column step_density and a column print_density, one row for each reading; a step that is read twice stands in it \
twice. A CGATS.17 text with those names, or with D_VIS for the print, is read too. The wedge lies on clear film, and the print is dry. A scan holds the whole row of steps, at 150 to \
600 pixels to the inch, all corrections of tone off; where the paper around the wedge is not white, or more lies on the scan, a box says where \
the row is.";

#[derive(Debug, Args)]
#[command(after_help = WEDGE_EXAMPLES)]
pub(in crate::cli) struct WedgeArgs {
    /// The table of readings
    #[arg(value_name = "FILE", required_unless_present = "scan")]
    pub(super) file: Option<PathBuf>,
    #[command(flatten)]
    pub(super) scanned: WedgeScanArgs,
    /// How long the test was exposed
    #[arg(long, value_name = "TIME")]
    test_time: Option<String>,
    /// What an integrator counted for the test, instead of a time
    #[arg(long, value_name = "UNITS")]
    test_units: Option<String>,
    /// The dark end of the scale is 90 % of what: net (above base) or absolute [default: net]
    #[arg(long, value_name = "WORD")]
    shoulder: Option<String>,
    /// Full black is within this of the greatest density, 0.02 to 0.05 [default: 0.03]
    #[arg(long, value_name = "DENSITY")]
    black_within: Option<String>,
    /// Standard uncertainty of one reading [default: from steps read twice, else 0.01]
    #[arg(long, value_name = "DENSITY")]
    reading_u: Option<String>,
    /// The decimal mark of the table: point or comma [default: point]
    #[arg(long, value_name = "WORD")]
    decimal_mark: Option<String>,
    /// The print was read wet
    #[arg(long)]
    wet: bool,
    /// The steps are of ink: they are ranked, and no time is said
    #[arg(long, conflicts_with = "scan")]
    pub(super) ink: bool,
    #[command(flatten)]
    pub(super) kept: KeepArgs,
}

/// Readings from a scan instead of a table.
#[derive(Debug, Args)]
pub(in crate::cli) struct WedgeScanArgs {
    /// A scan of the dry print instead of a table; it is only read
    #[arg(long, value_name = "SCAN", conflicts_with_all = ["file", "decimal_mark"])]
    pub(super) scan: Option<PathBuf>,
    /// Where the row of steps lies: from the left, from the top, across and down, as 10%,5%,80%x12% or 20mm,15mm,130mmx25mm [default: it is looked for]
    #[arg(long = "box", value_name = "BOX", requires = "scan")]
    place: Option<String>,
    /// How many steps the wedge has [default: 21]
    #[arg(long, value_name = "COUNT", requires = "scan")]
    steps: Option<String>,
    /// Density of step 1 [default: 0.05]
    #[arg(long, value_name = "DENSITY", requires = "scan")]
    first_step: Option<String>,
    /// From one step to the next [default: 0.15]
    #[arg(long, value_name = "DENSITY", requires = "scan")]
    increment: Option<String>,
    /// The gamma of the scan's codes, whatever its file says
    #[arg(long, value_name = "NUMBER", requires = "scan")]
    scanner_gamma: Option<String>,
    /// A step strip that lies beside the print: a table density,x_mm,y_mm, places from the upper left corner of the scan
    #[arg(long, value_name = "FILE", requires = "scan")]
    pub(super) reference: Option<PathBuf>,
    /// Write a picture of what was found to this PNG file
    #[arg(long, value_name = "FILE", requires = "scan")]
    pub(super) overlay: Option<PathBuf>,
    /// Write the readings of the scan to this CSV file
    #[arg(short, long, value_name = "FILE", requires = "scan")]
    pub(super) output: Option<PathBuf>,
}

impl WedgeScanArgs {
    pub(super) fn answers(&self, reference: Option<Vec<u8>>) -> WedgeScanAnswers {
        WedgeScanAnswers {
            scan: ScanAnswers { gamma: self.scanner_gamma.clone(), reference, as_lit: true },
            place: self.place.clone(),
            tablet: TabletAnswers {
                first_step: self.first_step.clone(),
                increment: self.increment.clone(),
                steps: self.steps.clone(),
            },
        }
    }
}

impl WedgeArgs {
    pub(super) fn answers(&self) -> WedgeAnswers {
        WedgeAnswers {
            test_time: self.test_time.clone(),
            test_units: self.test_units.clone(),
            shoulder: self.shoulder.clone(),
            black_within: self.black_within.clone(),
            reading_noise: self.reading_u.clone(),
            decimal_mark: self.decimal_mark.clone(),
            wet: self.wet,
        }
    }
}

const EYE_EXAMPLES: &str = "\
Example:
  handcoat expose eye --test-time 4:00 --last-black 5 --last-tone 15

Look at the dry print, one step at a time with its neighbours covered. The last full black is the highest step number that is as \
black as step 1, and 2 at least: step 1 alone has nothing denser to be black by. The last tone is the highest that differs from bare paper. This is for silver wedges.";

#[derive(Debug, Args)]
#[command(after_help = EYE_EXAMPLES)]
pub(in crate::cli) struct EyeArgs {
    /// How long the test was exposed
    #[arg(long, value_name = "TIME")]
    test_time: Option<String>,
    /// What an integrator counted for the test, instead of a time
    #[arg(long, value_name = "UNITS")]
    test_units: Option<String>,
    /// The last step that is as black as step 1; 0 when none is full black
    #[arg(long, value_name = "STEP")]
    last_black: Option<String>,
    /// The last step that shows a tone
    #[arg(long, value_name = "STEP")]
    last_tone: Option<String>,
    /// Density of step 1 [default: 0.05]
    #[arg(long, value_name = "DENSITY")]
    first_step: Option<String>,
    /// From one step to the next [default: 0.15]
    #[arg(long, value_name = "DENSITY")]
    increment: Option<String>,
    /// How many steps the tablet has [default: 21]
    #[arg(long, value_name = "COUNT")]
    steps: Option<String>,
    #[command(flatten)]
    pub(super) kept: KeepArgs,
}

impl EyeArgs {
    pub(super) fn answers(&self) -> EyeAnswers {
        EyeAnswers {
            test_time: self.test_time.clone(),
            test_units: self.test_units.clone(),
            last_black: self.last_black.clone(),
            last_tone: self.last_tone.clone(),
            first_step: self.first_step.clone(),
            increment: self.increment.clone(),
            steps: self.steps.clone(),
        }
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct SheetArgs {
    /// The test it is of; without one, strips are planned by --first and --until
    pub(super) test: Option<String>,
    /// The first, shortest exposure
    #[arg(long, value_name = "TIME")]
    first: Option<String>,
    /// The longest is at least this
    #[arg(long, value_name = "TIME")]
    until: Option<String>,
    /// Strips are a third or a half of a stop apart [default: third]
    #[arg(long, value_name = "WORD")]
    stops: Option<String>,
    /// The file to write
    #[arg(short, long, value_name = "FILE.pdf")]
    pub(super) output: Option<PathBuf>,
    #[command(flatten)]
    pub(super) page: PageArgs,
    /// Say on it that the data are invented
    #[arg(long, hide = true)]
    pub(super) invented: bool,
    #[command(flatten)]
    pub(super) whose: BookArgs,
}

impl SheetArgs {
    pub(super) fn strips(&self) -> StripAnswers {
        StripAnswers { first: self.first.clone(), until: self.until.clone(), part: self.stops.clone(), tapped: None }
    }
}

const STRIP_EXAMPLES: &str = "\
Examples:
  handcoat expose strip --first 2:00 --until 8:00
  handcoat expose strip --first 2:00 --until 8:00 --tapped 5

Lay clear film on a coated strip and expose all of it for the first time. Cover one strip with a card, expose for the seconds to \
add, move the card over the next, and go on. When it is dry, name the first strip that is no blacker than the one before it; `none` \
when each is blacker than the last. Strips give a time only; for the exposure scale use a wedge.";

#[derive(Debug, Args)]
#[command(after_help = STRIP_EXAMPLES)]
pub(in crate::cli) struct StripArgs {
    /// The first, shortest exposure
    #[arg(long, value_name = "TIME")]
    first: Option<String>,
    /// The longest is at least this
    #[arg(long, value_name = "TIME")]
    until: Option<String>,
    /// Strips are a third or a half of a stop apart [default: third]
    #[arg(long, value_name = "WORD")]
    stops: Option<String>,
    /// The first strip that is no blacker than the one before it, dry; or none
    #[arg(long, value_name = "STRIP")]
    tapped: Option<String>,
    #[command(flatten)]
    pub(super) kept: KeepArgs,
}

impl StripArgs {
    pub(super) fn answers(&self) -> StripAnswers {
        StripAnswers {
            first: self.first.clone(),
            until: self.until.clone(),
            part: self.stops.clone(),
            tapped: self.tapped.clone(),
        }
    }
}

const LADDER_EXAMPLES: &str = "\
Examples:
  handcoat expose ladder --agent hexachloroplatinate --wedge '0.5mg/mL 1.80 0.03 4:00' --wedge '2mg/mL 1.41 0.03 4:20' --range 1.6
  handcoat expose ladder --agent dichromate --range 1.5
  handcoat expose ladder --setup 'cotton, palladium, tubes' --range 1.6

A wedge is its dose, its exposure scale, the standard uncertainty of that, and its base time if it is known; `none` is the dose of a \
wedge without agent. Doses are mg to a mL of sensitizer, of dichromate g to a litre of developer. What others report stands in until \
own wedges tell better: measure, do not trust. Dichromate, chlorate and chloroplatinates are hazardous: the supplier's sheet first.";

#[derive(Debug, Args)]
#[command(after_help = LADDER_EXAMPLES)]
pub(in crate::cli) struct LadderArgs {
    /// What contrast is raised with: hexachloroplatinate, chlorate, peroxide or dichromate
    #[arg(long, value_name = "WORD")]
    agent: Option<String>,
    /// One of one's own wedges (may be repeated)
    #[arg(long = "wedge", value_name = "WEDGE")]
    wedges: Vec<String>,
    /// Density range of the negative to the light of the lamp
    #[arg(long, value_name = "DENSITY")]
    range: Option<String>,
    /// Standard uncertainty of that range
    #[arg(long, value_name = "DENSITY")]
    range_u: Option<String>,
    /// Leave out what others report
    #[arg(long)]
    own_only: bool,
    /// The set-up whose kept wedges stand on it, and those that differ from it in dose, lamp or film alone
    #[arg(long, value_name = "NAME")]
    pub(super) setup: Option<String>,
    #[command(flatten)]
    pub(super) whose: BookArgs,
}

impl LadderArgs {
    pub(super) fn answers(&self) -> LadderAnswers {
        LadderAnswers {
            agent: self.agent.clone(),
            setup: self.setup.clone(),
            wedges: self.wedges.clone(),
            range: self.range.clone(),
            range_u: self.range_u.clone(),
            own_only: self.own_only,
        }
    }
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  handcoat expose distance --lamp point --test-time 4:00 --from 50cm --to 70cm")]
pub(in crate::cli) struct DistanceArgs {
    /// point: one small lamp; wide: a bank of tubes or a panel, which goes by no rule
    #[arg(long, value_name = "WORD")]
    lamp: Option<String>,
    /// The time at the old distance
    #[arg(long, value_name = "TIME")]
    test_time: Option<String>,
    /// The old distance
    #[arg(long, value_name = "LENGTH")]
    from: Option<String>,
    /// The new one
    #[arg(long, value_name = "LENGTH")]
    to: Option<String>,
    /// Answer as JSON
    #[arg(long)]
    pub(super) json: bool,
}

impl DistanceArgs {
    pub(super) fn answers(&self) -> DistanceAnswers {
        DistanceAnswers {
            lamp: self.lamp.clone(),
            time: self.test_time.clone(),
            from: self.from.clone(),
            to: self.to.clone(),
        }
    }
}
