//! `scans FILE ROUNDS`: seconds it takes to unpack a scan's rows, and to make it smaller besides, the best of so many rounds.

use std::io::Write as _;
use std::path::Path;
use std::time::Instant;

use handcoat_pixels::{Budget, CodeMeaning, Picture, Scan};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let [file, rounds] = words.as_slice() else { return Err("expected: scans FILE ROUNDS".into()) };
    let picture = Picture::open(Path::new(file), &Budget::default())?;
    let (mut rows, mut smaller) = (f64::MAX, f64::MAX);
    for _ in 0..rounds.parse::<u32>()? {
        let begun = Instant::now();
        let mut sum = 0_u64;
        picture.each_row(|_, raw| sum += u64::from(raw.first().copied().unwrap_or(0)))?;
        rows = rows.min(begun.elapsed().as_secs_f64());
        let begun = Instant::now();
        let scan = Scan::read(&picture, CodeMeaning::AsTagged)?;
        smaller = smaller.min(begun.elapsed().as_secs_f64());
        writeln!(std::io::stderr(), "{sum} {} × {}", scan.width(), scan.height())?;
    }
    writeln!(std::io::stdout(), "rows {rows:.3} s, rows and smaller {smaller:.3} s")?;
    Ok(())
}
