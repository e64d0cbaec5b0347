//! Many charts fitted at once, for those who judge the fit from outside (`scripts/bench/tone`, `scripts/deep/bands`).
//!
//! Of a folder every `NAME.csv` is read (`patch,input,l_star,x_mm,y_mm,copy`, the input 0 for the darkest code and 1 for paper), and beside it
//! are written `NAME.fit` (L* at 1025 inputs from 0 to 1, a line each), `NAME.sd` (the standard deviation of L* at 257 inputs) and
//! `NAME.apart` (the patches left aside). With a prior of so many levels, `cNNNN_nMMM_later` has the fit of `cNNNN_n<levels>` as its prior.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use handcoat_craft::numerics::{Direction, MonotoneSpline};

const FITTED: usize = 1025;
const TONES: usize = 257;
const LATER: &str = "_later";

/// One patch as it was read.
struct Reading {
    patch: u32,
    input: f64,
    l_star: f64,
    #[allow(dead_code, reason = "the fit for now knows no places")]
    place: (f64, f64),
}

/// What a fit answers: L* and its standard deviation at an input, and the patches it left aside.
struct Fitted {
    spline: MonotoneSpline,
    apart: Vec<u32>,
}

impl Fitted {
    fn l_star(&self, input: f64) -> f64 {
        self.spline.at(input)
    }

    fn deviation(&self, _input: f64) -> f64 {
        self.spline.deviation
    }
}

/// The one place where the fit that is judged is called.
fn fit(readings: &[Reading], _prior: Option<&Fitted>) -> Result<Fitted, String> {
    let (x, y): (Vec<f64>, Vec<f64>) = readings.iter().map(|own| (own.input, own.l_star)).unzip();
    let spline = MonotoneSpline::fit(&x, &y, None, Direction::Up).ok_or("no fit of these readings")?;
    let apart = readings.iter().zip(&spline.weights).filter(|(_, weight)| **weight < 0.1).map(|(own, _)| own.patch);
    let apart = apart.collect();
    Ok(Fitted { spline, apart })
}

/// Fits every chart of a folder; how many there were.
///
/// # Errors
/// The file and what is wrong with it.
pub fn tone(folder: &Path, prior: Option<u32>) -> Result<usize, String> {
    let mut earlier: BTreeMap<String, Fitted> = BTreeMap::new();
    let charts = charts(folder)?;
    // A sheet whose name says no more than its paper comes before those that are printed later.
    let (later, first): (Vec<&PathBuf>, Vec<&PathBuf>) = charts.iter().partition(|own| stem(own).ends_with(LATER));
    for path in first.iter().chain(&later) {
        let name = stem(path);
        let before = prior.filter(|_| name.ends_with(LATER)).map(|levels| earlier_of(&name, levels));
        let before = match before {
            Some(own) => {
                Some(earlier.get(&own).ok_or_else(|| format!("{name} has no earlier sheet {own}.csv beside it"))?)
            }
            None => None,
        };
        let readings = read(path).map_err(|what| format!("{}: {what}", path.display()))?;
        let own = fit(&readings, before).map_err(|what| format!("{}: {what}", path.display()))?;
        let lines = |count: usize, of: &dyn Fn(f64) -> f64| {
            (0..count).fold(String::new(), |mut text, place| {
                let _ = writeln!(text, "{}", of(place as f64 / (count - 1) as f64));
                text
            })
        };
        let apart = own.apart.iter().fold(String::new(), |text, patch| text + &patch.to_string() + "\n");
        for (ending, text) in [
            ("fit", lines(FITTED, &|input| own.l_star(input))),
            ("sd", lines(TONES, &|input| own.deviation(input))),
            ("apart", apart),
        ] {
            let beside = path.with_extension(ending);
            std::fs::write(&beside, text).map_err(|error| format!("{}: {error}", beside.display()))?;
        }
        if prior.is_some_and(|levels| earlier_of(&name, levels) == name) {
            earlier.insert(name, own);
        }
    }
    Ok(charts.len())
}

fn stem(path: &Path) -> String {
    path.file_stem().map(|own| own.to_string_lossy().into_owned()).unwrap_or_default()
}

/// `c0007_n031_later` and 96 make `c0007_n096`.
fn earlier_of(name: &str, levels: u32) -> String {
    let paper = name.split_once("_n").map_or(name, |(paper, _)| paper);
    format!("{paper}_n{levels:03}")
}

fn charts(folder: &Path) -> Result<Vec<PathBuf>, String> {
    let listed = std::fs::read_dir(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    let mut found = Vec::new();
    for entry in listed {
        let path = entry.map_err(|error| error.to_string())?.path();
        if path.extension().is_some_and(|own| own == "csv") {
            found.push(path);
        }
    }
    found.sort();
    Ok(found)
}

fn read(path: &Path) -> Result<Vec<Reading>, String> {
    let text = std::fs::read_to_string(path).map_err(|error| error.to_string())?;
    let mut lines = text.lines();
    let head: Vec<&str> = lines.next().unwrap_or_default().split(',').collect();
    if head != ["patch", "input", "l_star", "x_mm", "y_mm", "copy"] {
        return Err(format!("the first line is `{}`, expected patch,input,l_star,x_mm,y_mm,copy", head.join(",")));
    }
    let mut readings = Vec::new();
    for line in lines {
        let words: Vec<&str> = line.split(',').collect();
        let number = |place: usize| {
            let word = words.get(place).copied().unwrap_or_default();
            word.parse::<f64>().map_err(|_| format!("`{word}` in `{line}` is no number"))
        };
        let patch = words.first().and_then(|word| word.parse().ok()).ok_or_else(|| format!("no patch in `{line}`"))?;
        readings.push(Reading { patch, input: number(1)?, l_star: number(2)?, place: (number(3)?, number(4)?) });
    }
    Ok(readings)
}
