//! What the process that asked and the one that works say to each other: a line of JSON each.

use std::path::{Path, PathBuf};

use handcoat_work::expose::{WedgeScan, WedgeScanAnswers};
use handcoat_work::negative::{KeptCurve, NegativeAnswers, SentRefusal, Whole};
use handcoat_work::tone::{ProofAsked, ScanAnswers, SentScan};
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// What is asked for.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) enum Asked {
    /// A negative.
    Negative(Box<AskedNegative>),
    /// A small picture of a negative as it will print, in the file that is its target.
    Preview(Box<AskedNegative>),
    /// Whether a negative can be made as it is asked.
    Fits(Box<AskedNegative>),
    /// A small picture to show on a page: at most so many pixels on its long side.
    Small { source: SentPath, side: u32 },
    /// A proof of a picture: at most so many pixels on its long side.
    Proof { source: SentPath, side: u32, proof: Box<ProofAsked> },
    /// The readings of a chart on a scan.
    Scan { answers: ScanAnswers, source: SentPath },
    /// The readings under a step wedge on a scan.
    Wedge { answers: WedgeScanAnswers, source: SentPath },
}

/// What is asked for a negative.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct AskedNegative {
    pub(crate) answers: NegativeAnswers,
    pub(crate) source: SentPath,
    pub(crate) target: SentPath,
    pub(crate) curve: KeptCurve,
    /// It is kept in a book: with the SHA-256 of the picture, checkpoints, and a word from who asked before the file gets its name.
    pub(crate) kept: bool,
    /// Where an earlier run got to, in hexadecimal.
    pub(crate) resume: Option<String>,
    /// SHA-256 of the pictures, where they were read for it already; for a small picture of a negative that was made.
    #[serde(default)]
    pub(crate) known: Vec<String>,
    /// What to know of its pictures before they are opened.
    #[serde(default)]
    pub(crate) changed: Vec<String>,
    /// It yields to everything else on the machine.
    pub(crate) yields: bool,
}

/// A path as its bytes in hexadecimal: a name of a file need not be text.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct SentPath(String);

impl SentPath {
    pub(crate) fn of(path: &Path) -> Self {
        Self(hexadecimal(path.as_os_str().as_encoded_bytes()))
    }

    #[cfg(unix)]
    pub(crate) fn path(&self) -> PathBuf {
        use std::os::unix::ffi::OsStringExt as _;
        PathBuf::from(std::ffi::OsString::from_vec(bytes(&self.0).unwrap_or_default()))
    }

    #[cfg(not(unix))]
    pub(crate) fn path(&self) -> PathBuf {
        PathBuf::from(String::from_utf8_lossy(&bytes(&self.0).unwrap_or_default()).into_owned())
    }
}

/// What is said back.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) enum Said {
    /// The limits it has: bytes of memory, and seconds of computing from one sign of progress to the next.
    Limits { memory_bytes: Option<u64>, seconds: Option<u64> },
    /// Other seconds, now that the file is known.
    Seconds(Option<u64>),
    /// Rows that are written, and of how many.
    Rows(u32, u32),
    /// Where it can go on, in hexadecimal.
    Checkpoint(String),
    /// The file is whole and waits for a word before it gets its name.
    Whole(Box<Whole>),
    /// It has its name. The second is what the command line says of it as JSON.
    Made(Box<Whole>, Value),
    /// It can be made as it is asked.
    Fits,
    /// The small picture of a negative is in its file.
    Previewed,
    /// A PNG, in hexadecimal.
    Small(String),
    /// A PNG of what was found on a scan, in hexadecimal; readings or a refusal follow.
    Overlay(String),
    /// The readings of a chart.
    Scan(Box<SentScan>),
    /// The readings under a step wedge.
    Wedge(Box<WedgeScan>),
    /// It is not taken, or not made.
    Refused(SentRefusal),
}

/// A word from who asked: the file may have its name.
pub(super) const KEPT: &str = "kept";
/// A word from who asked: stop.
pub(super) const STOP: &str = "stop";

pub(super) fn hexadecimal(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 16] = b"0123456789abcdef";
    let digit = |own: u8| char::from(DIGITS.get(usize::from(own)).copied().unwrap_or(b'0'));
    bytes.iter().flat_map(|own| [digit(own >> 4), digit(own & 15)]).collect()
}

pub(super) fn bytes(text: &str) -> Option<Vec<u8>> {
    let (pairs, []) = text.as_bytes().as_chunks::<2>() else { return None };
    let digit = |own: u8| char::from(own).to_digit(16);
    pairs.iter().map(|[high, low]| Some((digit(*high)? * 16 + digit(*low)?) as u8)).collect()
}
