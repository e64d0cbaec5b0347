//! How long reading a scan takes, for `scripts/bench/scan`.

use std::path::Path;
use std::sync::atomic::AtomicBool;
use std::time::Instant;

use handcoat_pixels::{Budget, Picture};
use handcoat_work::negative::Hooks;
use handcoat_work::tone::{ChartOf, ChartPrintAnswers, ScanAnswers, make_chart, read_scan};

/// Makes the file of a chart as its print is to be, at 600 pixels to the inch and not packed.
///
/// # Errors
/// What went wrong, in words.
pub fn chart_for_print(levels: u64, seed: u64, path: &Path) -> Result<(), String> {
    let answers = ChartPrintAnswers {
        levels: Some(levels.to_string()),
        seed: Some(seed.to_string()),
        ppi: Some("600".into()),
        packing: Some("none".into()),
        no_invert: true,
        no_mirror: true,
        ..ChartPrintAnswers::default()
    };
    let never = AtomicBool::new(false);
    let hooks = Hooks::of(&|_, _| {}, &never);
    make_chart(&answers, path, None, &ChartOf::default(), &hooks).map(|_| ()).map_err(|own| own.to_string())
}

/// Seconds of the best of so many rounds of unpacking a scan, `rows`, or of reading it, `read`.
///
/// # Errors
/// What went wrong, in words.
pub fn scan_time(path: &Path, what: &str, rounds: u64) -> Result<String, String> {
    let mut best = f64::MAX;
    for _ in 0..rounds {
        let begun = Instant::now();
        match what {
            "rows" => {
                let picture = Picture::open(path, &Budget::default()).map_err(|own| own.to_string())?;
                let mut sum = 0_u64;
                let see = |_, raw: &[u8]| sum += u64::from(raw.first().copied().unwrap_or(0));
                picture.each_row(see).map_err(|own| own.to_string())?;
                std::hint::black_box(sum);
            }
            "read" => {
                read_scan(&ScanAnswers::default(), path).read.map_err(|own| format!("{}: {}", own.code, own.cause))?;
            }
            other => return Err(format!("`{other}` is no part of reading a scan; expected `rows` or `read`")),
        }
        best = best.min(begun.elapsed().as_secs_f64());
    }
    Ok(format!("{best:.4}\n"))
}
