//! What is to be known of a scan beside its readings: kept with the response they come to. It is what `tone read --json` answers, read back.

use handcoat_craft::measure::shortened;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::read::{ChartScan, scan_csv};
use crate::{Question, Refusal, Remedy};

/// Facts of a scan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ScanFacts {
    /// The name of its file.
    pub file: String,
    /// SHA-256 of the file.
    pub sha256: String,
    /// SHA-256 of the lines of its readings: which table it belongs to.
    pub readings_sha256: String,
    /// What the code of squares says.
    pub code: String,
    /// Pixels to the inch, where the file says so.
    pub ppi: Option<f64>,
    /// How far the chart lies turned on it, clockwise, degrees.
    pub turn_degrees: f64,
    /// What its codes were taken for.
    pub codes_by: String,
    /// SHA-256 of the embedded profile.
    pub profile_sha256: Option<String>,
    /// Pixels to a millimetre of what was measured.
    pub px_per_mm: f64,
    /// Blur of its edges, mm.
    pub blur_mm: f64,
    /// How far marks and cells lie off their places, mm.
    pub marks_off_mm: f64,
    /// How far the light falls off, as a part.
    pub light_fall_part: Option<f64>,
    /// Whether it was made even.
    pub light_evened: bool,
    /// Patches of which something is to be said.
    pub flagged: Vec<FlaggedPatch>,
}

/// A patch of which something is to be said.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FlaggedPatch {
    /// Its number.
    pub patch: usize,
    /// What.
    pub flags: Vec<String>,
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|own| format!("{own:02x}")).collect()
}

/// The digest of a table, however its lines end.
fn digest(table: &str) -> String {
    let mut hash = Sha256::new();
    for line in table.lines().map(str::trim).filter(|own| !own.is_empty()) {
        hash.update(line);
        hash.update("\n");
    }
    hexadecimal(&hash.finalize())
}

/// SHA-256 of some bytes.
pub(super) fn sha256(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

impl ScanFacts {
    /// Of a scan in a file of that name with that SHA-256.
    #[must_use]
    pub fn of(scan: &ChartScan, file: &str, sha256: &str) -> Self {
        let flagged = scan.patches.iter().filter(|own| !own.flags.is_empty()).map(|own| FlaggedPatch {
            patch: own.patch.number,
            flags: own.flags.iter().map(|own| own.word().into()).collect(),
        });
        Self {
            file: file.into(),
            sha256: sha256.into(),
            readings_sha256: digest(&scan_csv(scan)),
            code: scan.layout.code.to_string(),
            ppi: scan.ppi,
            turn_degrees: scan.turn_degrees,
            codes_by: scan.codes_by.into(),
            profile_sha256: scan.profile_sha256.clone(),
            px_per_mm: scan.px_per_mm,
            blur_mm: scan.blur_mm,
            marks_off_mm: scan.off_mm,
            light_fall_part: scan.light_fall,
            light_evened: scan.light_evened,
            flagged: flagged.collect(),
        }
    }

    /// Read back; other keys beside them are left alone.
    ///
    /// # Errors
    /// [`Refusal`] when it is nothing of the kind.
    pub fn read(bytes: &[u8]) -> Result<Self, Refusal> {
        serde_json::from_slice(bytes).map_err(|error| {
            let what = shortened(&error.to_string()).to_string();
            let cause = format!("this says nothing of a scan ({what}); expected what `tone read --json` answers");
            let about = Question::ScanFacts;
            Refusal::unreadable("scan_facts_unreadable", about, cause, vec![Remedy::Write(about, "scan.json".into())])
        })
    }

    /// Whether a table of readings is that of the scan.
    #[must_use]
    pub fn is_of(&self, table: &str) -> bool {
        self.readings_sha256 == digest(table)
    }

    /// The same, or a refusal.
    ///
    /// # Errors
    /// [`Refusal`] where the readings are others.
    pub fn held_against(self, table: &[u8]) -> Result<Self, Refusal> {
        if std::str::from_utf8(table).is_ok_and(|own| self.is_of(own)) {
            return Ok(self);
        }
        let about = Question::ScanFacts;
        let cause = format!(
            "the table is not that of scan `{}`, or was changed since; expected its readings as `tone read -o` wrote them. Read the scan again, or leave it out",
            self.file
        );
        Err(Refusal::rule("scan_facts_other", about, cause, vec![Remedy::Write(about, "scan.json".into())]))
    }
}
