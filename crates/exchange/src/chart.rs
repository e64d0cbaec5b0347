//! Readings of a chart: a table with `input` and `l_star` or `density`, or a CGATS.17 text with `INPUT` and `LAB_L` or `D_VIS`. Where the
//! patches lie, which copy each is, how well it was read, its tint, and the ink it was printed in may stand beside. Other columns are passed over.

use handcoat_craft::colour::lightness;
use handcoat_craft::measure::{Bounded as _, Length, Lightness, LightnessSpread, PrintDensity, ReadError, ToneInput};
use handcoat_craft::source::TONES_APART;
use handcoat_craft::tone::{PatchReading, Place};

use crate::DecimalMark;
use crate::cells::{Cells, Column, Row};
use crate::fault::{CellFinding, Fault};

/// One patch that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct ChartRow {
    /// Line of the file.
    pub line: u64,
    /// What the patch is called.
    pub patch: Option<String>,
    /// Which copy of it this is.
    pub copy: Option<String>,
    /// What was read.
    pub reading: PatchReading,
    /// Its tint, a* and b*.
    pub tint: Option<(f64, f64)>,
    /// The one ink it was printed in, as it was written, or that it was none.
    pub ink: Option<String>,
}

/// A chart that was read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ChartTable {
    /// Rows that could be read whole, in the order of the file.
    pub rows: Vec<ChartRow>,
    /// What could not be read, in the order of the file.
    pub findings: Vec<CellFinding>,
}

const INPUT: &[&str] = &["input"];
/// The same from 0 to 100.
const INPUT_PERCENT: &[&str] = &["input_percent"];
/// The second is the lightness of CGATS.17.
const LIGHTNESS: &[&str] = &["l_star", "lab_l"];
/// The second is the visual density of CGATS.17.
const DENSITY: &[&str] = &["density", "d_vis"];
const PATCH: &[&str] = &["patch", "sample_id"];
const ACROSS: &[&str] = &["x_mm"];
const DOWN: &[&str] = &["y_mm"];
const COPY: &[&str] = &["copy"];
const SPREAD: &[&str] = &["l_star_u"];
/// The second is that of CGATS.17, each.
const RED_GREEN: &[&str] = &["a_star", "lab_a"];
const YELLOW_BLUE: &[&str] = &["b_star", "lab_b"];
const INK: &[&str] = &["ink"];
/// a* and b* as far as encodings of colour have room for them.
const MOST_TINT: f64 = 128.0;

const TAKES_INPUT: &str =
    "what was sent to the film, from 0 (darkest) to 1 (paper white), such as 0.35 or 35 %; or a column `input_percent`";
const TAKES_LIGHTNESS: &str = "lightness of the dry print, such as 46.2; or a column `density` instead";
const TAKES_DENSITY: &str = "density of the dry print, such as 1.05";
const TAKES_ALIKE: &str = "lightness and density of one patch within 0.03 in density, both from white paper as it is, not above it; \
    or one of the two columns";
const TAKES_PLACE: &str = "where the middle of the patch lies in mm, such as 42.5, and the other side with it";
const TAKES_SPREAD: &str = "standard uncertainty of this reading in L*, such as 0.3";
const TAKES_TINT: &str = "a* and b* of the dry print, each at most 128 from nothing, such as 1.5";
const TAKES_INK: &str = "the same ink in every row, such as #204060, or `none` where it was grey";
const TAKES_WORDS: &str = "one column of that name";

/// Where each column stands.
struct Columns {
    /// The place, and whether it holds percent.
    input: (usize, bool),
    /// The place, and whether it holds densities.
    tone: (usize, bool),
    /// A density beside the lightness.
    beside: Option<usize>,
    place: Option<(usize, usize)>,
    patch: Option<usize>,
    copy: Option<usize>,
    spread: Option<usize>,
    tint: Option<(usize, usize)>,
    ink: Option<usize>,
}

fn columns(cells: &Cells, findings: &mut Vec<CellFinding>) -> Option<Columns> {
    let input = match cells.optional(INPUT_PERCENT, TAKES_INPUT, findings) {
        Some(place) if matches!(cells.column(INPUT), Column::Missing) => Some((place, true)),
        _ => cells.needed(INPUT, TAKES_INPUT, findings).map(|own| (own, false)),
    };
    // Lightness where both stand there and agree: a density was made from it.
    let dense = cells.optional(DENSITY, TAKES_DENSITY, findings);
    let tone = match (cells.optional(LIGHTNESS, TAKES_LIGHTNESS, findings), dense) {
        (Some(place), _) => Some((place, false)),
        (None, Some(place)) => Some((place, true)),
        (None, None) => {
            cells.needed(LIGHTNESS, TAKES_LIGHTNESS, findings);
            None
        }
    };
    let across = cells.optional(ACROSS, TAKES_PLACE, findings);
    let down = cells.optional(DOWN, TAKES_PLACE, findings);
    let place = match (across, down) {
        (Some(across), Some(down)) => Some((across, down)),
        (None, None) => None,
        (across, _) => {
            cells.needed(if across.is_none() { ACROSS } else { DOWN }, TAKES_PLACE, findings);
            None
        }
    };
    let patch = cells.optional(PATCH, TAKES_WORDS, findings);
    let copy = cells.optional(COPY, TAKES_WORDS, findings);
    let spread = cells.optional(SPREAD, TAKES_SPREAD, findings);
    let beside = dense.filter(|_| tone.is_some_and(|own| !own.1));
    let red_green = cells.optional(RED_GREEN, TAKES_TINT, findings);
    let tint = red_green.zip(cells.optional(YELLOW_BLUE, TAKES_TINT, findings));
    let ink = cells.optional(INK, TAKES_INK, findings);
    Some(Columns { input: input?, tone: tone?, beside, place, patch, copy, spread, tint, ink })
}

/// What is wrong with a cell: its place, the fault and the hint.
type Wrong = (usize, Fault, &'static str);

/// An input; a sign of percent in the cell or the name of its column makes it a hundredth.
fn input(cells: &Cells, row: &Row, (at, percent): (usize, bool)) -> Result<ToneInput, Fault> {
    let text = row.text(at);
    let bare = text.strip_suffix('%').map(str::trim_end);
    if !percent && bare.is_none() {
        return cells.number(row, at, "input", "`0.35`");
    }
    let digits = cells.digits(bare.unwrap_or(text), "input", "`35`")?;
    ToneInput::from_unit(digits / 100.0).map_err(|error| Fault::Quantity(ReadError::OutOfBounds(error)))
}

fn reading(cells: &Cells, columns: &Columns, row: &Row) -> Result<PatchReading, Wrong> {
    let at = columns.input.0;
    let input = input(cells, row, columns.input).map_err(|own| (at, own, TAKES_INPUT))?;
    let lightness: Lightness = match columns.tone {
        (at, false) => cells.number(row, at, "lightness", "`46.2`").map_err(|own| (at, own, TAKES_LIGHTNESS))?,
        (at, true) => {
            let read = cells.number::<PrintDensity>(row, at, "density", "`1.05`");
            lightness(read.map_err(|own| (at, own, TAKES_DENSITY))?)
        }
    };
    if let Some(at) = columns.beside.filter(|at| !row.text(*at).is_empty()) {
        let own: PrintDensity = cells.number(row, at, "density", "`1.05`").map_err(|own| (at, own, TAKES_DENSITY))?;
        if !alike(lightness, own) {
            return Err((at, Fault::Contradicted, TAKES_ALIKE));
        }
    }
    let place = match columns.place.filter(|own| !(row.text(own.0).is_empty() && row.text(own.1).is_empty())) {
        None => None,
        Some((across, down)) => {
            let side = |at: usize| -> Result<Length, Wrong> {
                cells.number(row, at, "place", "`42.5`").map_err(|own| (at, own, TAKES_PLACE))
            };
            Some(Place { across: side(across)?, down: side(down)? })
        }
    };
    let spread = match columns.spread.filter(|at| !row.text(*at).is_empty()) {
        None => None,
        Some(at) => {
            let own: LightnessSpread =
                cells.number(row, at, "uncertainty", "`0.3`").map_err(|own| (at, own, TAKES_SPREAD))?;
            Some(own)
        }
    };
    Ok(PatchReading { input, lightness, place, spread })
}

/// The tint of a patch, where both of it are written.
fn tint(cells: &Cells, columns: &Columns, row: &Row) -> Result<Option<(f64, f64)>, Wrong> {
    let empty = |own: &(usize, usize)| row.text(own.0).is_empty() || row.text(own.1).is_empty();
    let Some((red_green, yellow_blue)) = columns.tint.filter(|own| !empty(own)) else { return Ok(None) };
    let side = |at: usize| {
        let own = cells.digits(row.text(at), "tint", "`1.5`").map_err(|own| (at, own, TAKES_TINT))?;
        // Nothing has a tint beyond what encodings hold.
        if own.abs() <= MOST_TINT { Ok(own) } else { Err((at, Fault::Word, TAKES_TINT)) }
    };
    Ok(Some((side(red_green)?, side(yellow_blue)?)))
}

/// Whether both may be of one patch.
fn alike(light: Lightness, dense: PrintDensity) -> bool {
    let within = |by: f64| PrintDensity::from_unit(dense.to_density() + by).map(|own| lightness(own).to_l_star());
    let apart = TONES_APART.value;
    // Beyond the bounds of a density there is nothing to differ from.
    !within(apart).is_ok_and(|darker| light.to_l_star() < darker)
        && !within(-apart).is_ok_and(|lighter| light.to_l_star() > lighter)
}

/// Reads a chart. In a table the mark between cells is the one the line of names has, and the decimal mark is as declared; a CGATS.17 text
/// has points. Densities become lightness.
#[must_use]
pub fn read_chart(bytes: &[u8], mark: DecimalMark) -> ChartTable {
    let cells = match Cells::read(bytes, mark) {
        Ok(cells) => cells,
        Err(finding) => return ChartTable { rows: Vec::new(), findings: vec![*finding] },
    };
    let mut table = ChartTable::default();
    let found = columns(&cells, &mut table.findings);
    let Some(columns) = found.filter(|_| table.findings.is_empty()) else { return table };
    let words = |row: &Row, at: Option<usize>| at.map(|at| row.text(at).to_owned()).filter(|own| !own.is_empty());
    for row in cells.even(&mut table.findings) {
        let read = reading(&cells, &columns, row).and_then(|own| Ok((own, tint(&cells, &columns, row)?)));
        match read {
            Ok((reading, tint)) => {
                let (patch, copy) = (words(row, columns.patch), words(row, columns.copy));
                let ink = words(row, columns.ink);
                // One chart is printed in one ink.
                let other = table.rows.last().is_some_and(|before| before.ink != ink);
                if let Some(at) = columns.ink.filter(|_| other) {
                    table.findings.push(cells.finding(row, at, Fault::Contradicted, TAKES_INK));
                }
                table.rows.push(ChartRow { line: row.line, patch, copy, reading, tint, ink });
            }
            Err((place, fault, hint)) => table.findings.push(cells.finding(row, place, fault, hint)),
        }
    }
    table.findings.sort_by_key(|own| own.line);
    table
}

/// The table [`read_chart`] reads, with a decimal point.
#[must_use]
pub fn chart_table<'r>(readings: impl IntoIterator<Item = &'r PatchReading>) -> String {
    let mut out = String::from("patch,input,l_star,x_mm,y_mm\n");
    for (patch, own) in (1..).zip(readings) {
        let place = own
            .place
            .map_or(String::from(","), |own| format!("{},{}", own.across.to_millimetres(), own.down.to_millimetres()));
        out.push_str(&format!("{patch},{},{},{place}\n", own.input.to_part(), own.lightness.to_l_star()));
    }
    out
}
