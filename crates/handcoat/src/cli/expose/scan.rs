//! A wedge whose readings come from a scan. From the table of readings on it goes as with one that was typed.

use std::path::Path;

use handcoat_craft::measure::fixed;
use handcoat_work::expose::{Tested, WedgeScan, wedge as read_wedge, wedge_scan_csv};
use handcoat_work::negative::sha256_of;
use handcoat_work::{Question, Refusal};
use serde_json::Value;

use super::args::WedgeArgs;
use super::{MOST_BYTES, answer, text};
use crate::cli::tone::Left;
use crate::cli::{files, import};
use crate::{apart, json};

/// The test of a scan: its readings, and what they come to.
pub(super) fn wedge(args: &WedgeArgs) -> Result<String, Refusal> {
    let own = &args.scanned;
    let source = own.scan.as_ref().ok_or_else(|| Refusal::missing(Question::Table, "wedge.csv"))?;
    let mut left = Left::default();
    left.free(&[(Question::Output, own.output.as_ref()), (Question::OverlayFile, own.overlay.as_ref())])?;
    let reference = own.reference.as_ref().map(|own| strip(own)).transpose()?;
    let outcome = apart::wedge(&own.answers(reference), source);
    let scan = match outcome.read {
        Ok(scan) => scan,
        Err(refusal) => {
            // The picture shows why; the refusal is what to tell of, whether or not it can be written.
            if let (Some(path), Some(png)) = (&own.overlay, &outcome.overlay) {
                let _ = files::write_new(Question::OverlayFile, path, png);
            }
            return Err(refusal);
        }
    };
    let table = wedge_scan_csv(&scan).into_bytes();
    let answers = args.answers();
    let read = read_wedge(&answers, &table)?;
    left.write("table of readings", Question::Output, own.output.as_ref(), || Ok(table.clone()))?;
    if let Some(png) = outcome.overlay {
        left.write("picture of what was found", Question::OverlayFile, own.overlay.as_ref(), || Ok(png))?;
    }
    let sha256 = sha256_of(source).map_err(|error| files::unreadable(Question::Scan, source, &error))?;
    let mut value = json::expose::wedge(&read);
    if let Value::Object(out) = &mut value {
        let name = source.file_name().map(|own| own.to_string_lossy().into_owned()).unwrap_or_default();
        out.insert("scan".into(), json::expose::wedge_scan(&scan, &name, &sha256));
    }
    let words = format!("{}{}\n{}", scan_text(&scan), left.words(), text::wedge(&read));
    let said = answer(&args.kept, &Tested::Wedge(&answers, &table), (value, words))?;
    left.stay();
    Ok(said)
}

/// The table of a step strip.
fn strip(path: &Path) -> Result<Vec<u8>, Refusal> {
    import::read(path, "a step strip", "strip.csv", MOST_BYTES).map_err(|mut refusal| {
        refusal.about = Some(Question::Reference);
        refusal
    })
}

/// What was read, step by step.
fn scan_text(scan: &WedgeScan) -> String {
    let mut out = format!(
        "{} steps read, {} left aside; {} edges between them were seen, off even distances by {} of a step\n",
        scan.steps.len() - scan.aside(),
        scan.aside(),
        scan.edges,
        fixed(scan.off_steps, 3)
    );
    out.push_str("step  wedge  print   L*\n");
    for own in &scan.steps {
        let flags: Vec<&str> = own.flags.iter().map(|own| own.word()).collect();
        let flags = if flags.is_empty() { String::new() } else { format!("  {}", flags.join(", ")) };
        out.push_str(&format!(
            "{:>4}  {:>5}  {:>5}  {:>5}{flags}\n",
            own.step,
            fixed(own.step_density, 2),
            fixed(own.print_density, 3),
            fixed(own.l_star, 1)
        ));
    }
    for (code, said) in &scan.warnings {
        out.push_str(&format!("Note: {said} [{code}]\n"));
    }
    out
}
