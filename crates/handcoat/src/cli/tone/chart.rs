//! `handcoat tone chart` and `handcoat tone read`: a chart for film, and the readings of a scan of its print.

use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

use clap::Args;
use handcoat_craft::measure::fixed;
use handcoat_work::negative::{CurveOf, Hooks, sha256_of};
use handcoat_work::tone::{
    ChartMade, ChartOf, ChartPrintAnswers, ChartScan, ChartSetup, ReportFacts, ScanAnswers, ScanFacts, chart_print_csv,
    chart_setup, chart_sheet, make_chart, scan_csv,
};
use handcoat_work::{Day, Question, Refusal};

use super::{Left, MOST_BYTES};
use crate::apart;
use crate::cli::book::BookArgs;
use crate::cli::words::quoted;
use crate::cli::{files, import, negative};
use crate::json;

const CHART_EXAMPLES: &str = "\
Examples:
  handcoat tone chart -o chart.tif
  handcoat tone chart -o chart.tif --levels 96 --seed 7 --sheet 8x10in --csv chart.csv
  handcoat tone chart -o strip.tif --strip --curve curve.csv
  handcoat tone chart -o chart.tif --setup 'cotton, palladium, tubes' --day 2026-03-14
  handcoat tone chart -o chart.tif --pdf how-to-print-it.pdf --paper letter
  handcoat tone chart -o chart.tif --ink '#204060' --note 'first sheet of the box'

Charts of 12 levels four times (fits 4 by 5 in), 24 three times and 40 twice (5 by 7 in), 96 twice (8 by 10 in), and a strip of 9 levels \
twice for a new lot or lamp. Patches are 8 mm wide and lie in no order of tone; the seed decides it, and the code of squares on the print \
says it. With --setup it is in the ink of that set-up, as its negatives are; a line of letters names set-up, lot, note and day. The file is what is printed on film: light for \
dark and left for right. Print it to the size it says, expose, process and dry the \
print as any other, scan it flat at 200 to 600 pixels to the inch without correction of tones, then: handcoat tone read scan.tif -o readings.csv";

#[derive(Debug, Args)]
#[command(after_help = CHART_EXAMPLES)]
pub(in crate::cli) struct ChartArgs {
    /// The file to write, .tif or .png
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// How many levels: 12, 24, 40 or 96 [default: 40]
    #[arg(long, value_name = "COUNT")]
    levels: Option<String>,
    /// The number the order of patches follows from [default: 1]
    #[arg(long, value_name = "NUMBER")]
    seed: Option<String>,
    /// The sheet of film, if the file shall be of its size [default: that of the chart]
    #[arg(long, value_name = "SIZE")]
    sheet: Option<String>,
    /// The short strip for a new lot or lamp
    #[arg(long)]
    strip: bool,
    /// Send it through this curve: a table input,output, or the number of a kept response
    #[arg(long, value_name = "CURVE")]
    curve: Option<String>,
    /// The set-up it is printed with: its name stands in letters, and its ink is taken [default: that of the curve]
    #[arg(long, value_name = "SETUP")]
    setup: Option<String>,
    /// The one ink, as RGB of 16 bits: #rrggbb, three numbers up to 65535, or none [default: as the set-up says]
    #[arg(long, value_name = "INK")]
    ink: Option<String>,
    /// Words for its line of letters
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
    /// A day for its line of letters, as 2026-03-14
    #[arg(long, value_name = "DATE")]
    day: Option<String>,
    /// Pixels to the inch [default: 720]
    #[arg(long, value_name = "COUNT")]
    ppi: Option<String>,
    /// How a TIFF is packed: none, deflate or lzw [default: deflate]
    #[arg(long, value_name = "WORD")]
    compression: Option<String>,
    /// Leave light and dark as the print has them
    #[arg(long)]
    no_invert: bool,
    /// Leave left and right as the print has them
    #[arg(long)]
    no_mirror: bool,
    /// Write what each patch is to this CSV file, for readings by hand
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
    /// Write a sheet to this PDF file: how the chart is printed on film, exposed, dried and scanned
    #[arg(long, value_name = "FILE")]
    pdf: Option<PathBuf>,
    /// Size of the sheet's paper: a4 or letter [default: a4]
    #[arg(long, value_name = "SIZE", requires = "pdf")]
    paper: Option<String>,
    #[command(flatten)]
    whose: BookArgs,
}

impl ChartArgs {
    fn answers(&self) -> ChartPrintAnswers {
        ChartPrintAnswers {
            levels: self.levels.clone(),
            seed: self.seed.clone(),
            sheet: self.sheet.clone(),
            ppi: self.ppi.clone(),
            packing: self.compression.clone(),
            ink: self.ink.clone(),
            note: self.note.clone(),
            day: self.day.clone(),
            strip: self.strip,
            no_invert: self.no_invert,
            no_mirror: self.no_mirror,
        }
    }
}

const READ_EXAMPLES: &str = "\
Examples:
  handcoat tone read scan.tif -o readings.csv --overlay seen.png
  handcoat tone read scan.png --scanner-gamma 2.2 --json
  handcoat tone read scan.tif --reference strip.csv -o readings.csv
  handcoat tone read scan.tif -o readings.csv && handcoat tone fit readings.csv --csv curve.csv

The scan is a TIFF, PNG or JPEG of 8 or 16 bits, grey or RGB, in any turn, of the whole dry print on a flat-bed scanner. Its tones come through the \
embedded profile; without one the codes are taken for sRGB, or for what --scanner-gamma says. A step strip of known densities beside the print, five steps at least, \
says better what they are. Where the light falls off, it is made even by \
the paper between the patches. A scan that cannot be read is refused; --overlay shows what was found either way.";

#[derive(Debug, Args)]
#[command(after_help = READ_EXAMPLES)]
pub(in crate::cli) struct ReadArgs {
    /// The scan; it is only read
    #[arg(value_name = "SCAN")]
    scan: PathBuf,
    /// Write the readings to this CSV file
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Write a picture of what was found to this PNG file
    #[arg(long, value_name = "FILE")]
    overlay: Option<PathBuf>,
    /// The gamma of its codes, whatever the file says
    #[arg(long, value_name = "NUMBER")]
    scanner_gamma: Option<String>,
    /// A step strip that lies beside the print: a table density,x_mm,y_mm, places from the upper left corner of the scan
    #[arg(long, value_name = "FILE")]
    reference: Option<PathBuf>,
    /// Leave the light as it fell, also where it falls off
    #[arg(long)]
    as_lit: bool,
    /// Answer with JSON
    #[arg(long)]
    json: bool,
}

pub(super) fn chart(args: &ChartArgs) -> Result<String, Refusal> {
    let target = args.output.as_ref().ok_or_else(|| Refusal::missing(Question::Output, "chart.tif"))?;
    let mut left = Left::default();
    left.free(&[
        (Question::Output, Some(target)),
        (Question::CurveFile, args.csv.as_ref()),
        (Question::ReportFile, args.pdf.as_ref()),
    ])?;
    let curve = args.curve.as_ref();
    let now = crate::clock::now();
    let curve = curve.map(|own| negative::curve_of(Some(own), args.setup.as_ref(), &args.whose, now)).transpose()?;
    let of = ChartOf { book: book(args)?, setup: setup(args, curve.as_ref())? };
    let cancel = AtomicBool::new(false);
    let hooks = Hooks::of(&|_, _| {}, &cancel);
    let sheet = args.pdf.as_ref().map(|_| sheet(args, curve.as_ref(), &of)).transpose()?;
    let made = make_chart(&args.answers(), target, curve.as_ref(), &of, &hooks)?;
    left.written.push(target.clone());
    left.write("table of patches", Question::CurveFile, args.csv.as_ref(), || {
        Ok(chart_print_csv(&made.layout).into_bytes())
    })?;
    left.write("sheet to print and scan it by", Question::ReportFile, args.pdf.as_ref(), || {
        Ok(sheet.unwrap_or_default())
    })?;
    left.stay();
    if args.whose.json {
        return Ok(json::lines(&json::chart::made(&made, target)));
    }
    Ok(format!("{}{}", chart_text(&made, target), left.words()))
}

/// The studio of the book, where one is named.
fn book(args: &ChartArgs) -> Result<Option<String>, Refusal> {
    let settings = args.whose.book.as_ref().map(|_| args.whose.open()?.settings()).transpose()?;
    Ok(settings.and_then(|own| own.studio))
}

/// The sheet that goes with it. Nothing is written of a chart whose sheet cannot be set.
fn sheet(args: &ChartArgs, curve: Option<&CurveOf>, of: &ChartOf) -> Result<Vec<u8>, Refusal> {
    let today = || Ok(Day::of(jiff::ZonedDateTime::now().date()));
    let facts = ReportFacts {
        title: "Chart for film".into(),
        setup: of.setup.as_ref().map(|own| own.name.clone()),
        studio: of.book.clone(),
        day: args.day.as_deref().map_or_else(today, Day::read)?,
        invented: false,
        paper: args.paper.clone(),
    };
    chart_sheet(&args.answers(), curve, of, &facts)
}

/// The set-up that is said, or else that of the curve while it is kept.
fn setup(args: &ChartArgs, curve: Option<&CurveOf>) -> Result<Option<ChartSetup>, Refusal> {
    let of_curve = curve.and_then(|own| own.setup.as_ref());
    match (&args.setup, of_curve) {
        (Some(written), _) => chart_setup(&args.whose.open()?, written, crate::clock::now()).map(Some),
        (None, Some(own)) => chart_setup(&args.whose.open()?, &own.name, crate::clock::now()).map(Some),
        (None, None) => Ok(None),
    }
}

fn chart_text(made: &ChartMade, target: &Path) -> String {
    let (frame, size) = (&made.layout.frame, made.layout.code.size);
    let curve = made.curve.as_ref().map_or(String::new(), |own| format!(", through the curve of {own}"));
    let ink = made.ink.as_ref().map_or(String::new(), |own| format!(", in the ink {own}"));
    let letters = made.letters.as_ref().map_or(String::new(), |own| format!("\n  its line of letters says {own}"));
    let mut out = format!(
        "{}: {} levels, {} patches{curve}{ink}\n  the chart is {} × {} mm; the file {} × {} pixels at {} to the inch\n  its code says {}{letters}\n",
        target.display(),
        size.levels(),
        made.layout.patches.len(),
        fixed(frame.width_mm, 0),
        fixed(frame.height_mm, 0),
        made.width_px,
        made.height_px,
        made.ppi,
        made.layout.code
    );
    for (code, said) in &made.warnings {
        out.push_str(&format!("Note: {said} [{code}]\n"));
    }
    out.push_str(
        "Next: print it on film at this size, at 100 % and without colour management, and let the ink dry; coat, expose and process as always; let the print dry \
         through, overnight if you can; scan it flat, then: handcoat tone read scan.tif -o readings.csv\n",
    );
    out
}

pub(super) fn read(args: &ReadArgs) -> Result<String, Refusal> {
    let mut left = Left::default();
    left.free(&[(Question::Output, args.output.as_ref()), (Question::OverlayFile, args.overlay.as_ref())])?;
    let reference = args.reference.as_ref().map(|own| table_of(own)).transpose()?;
    let answers = ScanAnswers { gamma: args.scanner_gamma.clone(), reference, as_lit: args.as_lit };
    let outcome = apart::scan(&answers, &args.scan);
    let scan = match outcome.read {
        Ok(scan) => scan,
        Err(refusal) => {
            // The picture shows why; the refusal is what to tell of, whether or not it can be written.
            if let (Some(path), Some(png)) = (&args.overlay, &outcome.overlay) {
                let _ = files::write_new(Question::OverlayFile, path, png);
            }
            return Err(refusal);
        }
    };
    let table = scan_csv(&scan);
    left.write("table of readings", Question::Output, args.output.as_ref(), || Ok(table.clone().into_bytes()))?;
    if let Some(png) = outcome.overlay {
        left.write("picture of what was found", Question::OverlayFile, args.overlay.as_ref(), || Ok(png))?;
    }
    left.stay();
    if args.json {
        let sha256 = sha256_of(&args.scan).map_err(|error| files::unreadable(Question::Scan, &args.scan, &error))?;
        let name = args.scan.file_name().map(|own| own.to_string_lossy().into_owned()).unwrap_or_default();
        return Ok(json::lines(&json::chart::read(&scan, &ScanFacts::of(&scan, &name, &sha256))));
    }
    let Some(readings) = &args.output else { return Ok(table) };
    // A chart through a curve says how well that curve does.
    let next = if scan.layout.code.through_curve { "verify" } else { "fit" };
    let more = if scan.layout.code.through_curve { "--of fit.json" } else { "--csv curve.csv" };
    let readings = quoted(&readings.display().to_string());
    Ok(format!("{}{}Next: handcoat tone {next} {readings} {more}\n", read_text(&scan), left.words()))
}

/// The table of a step strip.
fn table_of(path: &Path) -> Result<Vec<u8>, Refusal> {
    import::read(path, "a step strip", "strip.csv", MOST_BYTES).map_err(|mut refusal| {
        refusal.about = Some(Question::Reference);
        refusal
    })
}

fn read_text(scan: &ChartScan) -> String {
    let mut out = format!(
        "{}: {} patches read, {} left aside\n  paper {} L*, black {} L*; {} pixels to a millimetre, blur {} mm, marks within {} mm\n",
        scan.layout.code,
        scan.patches.len() - scan.aside(),
        scan.aside(),
        fixed(scan.paper_l_star, 1),
        fixed(scan.black_l_star, 1),
        fixed(scan.px_per_mm, 1),
        fixed(scan.blur_mm, 2),
        fixed(scan.off_mm, 2)
    );
    for (code, said) in &scan.warnings {
        out.push_str(&format!("Note: {said} [{code}]\n"));
    }
    out
}
