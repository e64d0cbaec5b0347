//! Many charts fitted at once, for those who judge the fit from outside (`scripts/bench/tone`, `scripts/deep/bands`).
//!
//! Of a folder every `NAME.csv` is read (`patch,input,l_star,x_mm,y_mm,copy`, the input 0 for the darkest code and 1 for paper), and beside it
//! are written `NAME.fit` (L* at 1025 inputs from 0 to 1, a line each), `NAME.sd` (the standard deviation of L* at 257 inputs), `NAME.apart` (the
//! patches left aside) and `NAME.quality` (what the fit says of itself). With a prior of so many levels, `cNNNN_nMMM_later` has the fit of
//! `cNNNN_n<levels>` as its prior.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use handcoat_craft::measure::{Length, Lightness, ToneInput};
use handcoat_craft::tone::{Memory, PatchReading, Place, PriorUse, ToneFit, fit};

const FITTED: usize = 1025;
const LATER: &str = "_later";

/// What stands in a file, and the number of each patch.
struct Chart {
    patches: Vec<u32>,
    readings: Vec<PatchReading>,
}

/// Fits every chart of a folder; how many there were.
///
/// # Errors
/// The file and what is wrong with it.
pub fn tone(folder: &Path, prior: Option<u32>) -> Result<usize, String> {
    let mut earlier: BTreeMap<String, Memory> = BTreeMap::new();
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
        let own = read(path)
            .and_then(|chart| fitted(&chart, before))
            .map_err(|what| format!("{}: {what}", path.display()))?;
        for (ending, text) in own.files {
            let beside = path.with_extension(ending);
            std::fs::write(&beside, text).map_err(|error| format!("{}: {error}", beside.display()))?;
        }
        if prior.is_some_and(|levels| earlier_of(&name, levels) == name) {
            earlier.insert(name, own.memory);
        }
    }
    Ok(charts.len())
}

/// The files beside a chart, and what its fit leaves for the next.
struct Written {
    files: [(&'static str, String); 4],
    memory: Memory,
}

fn fitted(chart: &Chart, before: Option<&Memory>) -> Result<Written, String> {
    let own = fit(&chart.readings, before).map_err(|error| error.to_string())?;
    let curve: Result<Vec<f64>, String> = (0..FITTED)
        .map(|place| {
            let input = ToneInput::part(place as f64 / (FITTED - 1) as f64).map_err(|error| error.to_string())?;
            Ok(own.response.at(input).best.to_l_star())
        })
        .collect();
    let apart: Vec<u32> = own.outliers.iter().filter_map(|place| chart.patches.get(*place).copied()).collect();
    let files = [
        ("fit", lines(&curve?)),
        ("sd", lines(own.response.standard())),
        ("apart", lines(&apart)),
        ("quality", quality(&own)),
    ];
    Ok(Written { files, memory: own.memory })
}

fn lines<T: std::fmt::Display>(values: &[T]) -> String {
    values.iter().fold(String::new(), |mut text, own| {
        let _ = writeln!(text, "{own}");
        text
    })
}

fn quality(own: &ToneFit) -> String {
    let prior = match own.prior {
        PriorUse::None => 0,
        PriorUse::Used => 1,
        PriorUse::Contradicted | PriorUse::Repeated => -1,
    };
    let quality = own.quality;
    let (field, length) = quality.field.map_or((0.0, 0.0), |field| (field.deviation, field.length_mm));
    format!(
        "noise {}\nfield {field}\nlength {length}\nsheet {}\nexpected {}\nplain {}\nprior {prior}\n",
        quality.noise,
        quality.sheet_u,
        quality.expected,
        quality.plain_differs.unwrap_or(f64::NAN)
    )
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

fn read(path: &Path) -> Result<Chart, String> {
    let text = std::fs::read_to_string(path).map_err(|error| error.to_string())?;
    let mut lines = text.lines();
    let head = lines.next().unwrap_or_default();
    if head != "patch,input,l_star,x_mm,y_mm,copy" {
        return Err(format!("the first line is `{head}`, expected patch,input,l_star,x_mm,y_mm,copy"));
    }
    let mut chart = Chart { patches: Vec::new(), readings: Vec::new() };
    for line in lines {
        let words: Vec<&str> = line.split(',').collect();
        let number = |place: usize| {
            let word = words.get(place).copied().unwrap_or_default();
            word.parse::<f64>().map_err(|_| format!("`{word}` in `{line}` is no number"))
        };
        let wrong = |error: &dyn std::fmt::Display| format!("{error} in `{line}`");
        chart.patches.push(words.first().and_then(|word| word.parse().ok()).ok_or_else(|| wrong(&"no patch"))?);
        let length = |millimetres: f64| Length::millimetres(millimetres).map_err(|error| wrong(&error));
        chart.readings.push(PatchReading {
            input: ToneInput::part(number(1)?).map_err(|error| wrong(&error))?,
            lightness: Lightness::l_star(number(2)?).map_err(|error| wrong(&error))?,
            place: Some(Place { across: length(number(3)?)?, down: length(number(4)?)? }),
            spread: None,
        });
    }
    Ok(chart)
}
