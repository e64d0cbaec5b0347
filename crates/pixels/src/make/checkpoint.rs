//! Where a job can go on after it was ended: what was written, and how to know that it still is.

use std::io;

use sha2::{Digest, Sha256};

use crate::dither::Diffusion;
use crate::sheet::Job;
use crate::write::Part;

use super::{Kind, Plan, Written};

/// A strip that was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Strip {
    pub(super) bytes: u64,
    /// Its checksum.
    pub(super) sum: u32,
}

/// Where a job can go on. To be kept as bytes, whatever they mean.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Checkpoint {
    /// Of the job and its sources.
    mark: [u8; 32],
    strips: Vec<Strip>,
    /// The checksum of PNG's lines.
    sum: u32,
    /// What the last row left to the next one.
    diffusion: Option<Vec<i32>>,
}

/// First bytes of a checkpoint, with the number of its form.
const FORM: &[u8; 8] = b"hc-neg-1";

impl Checkpoint {
    pub(super) fn of(mark: [u8; 32], written: &Written, diffusion: Option<Vec<i32>>) -> Self {
        Self { mark, strips: written.strips.clone(), sum: written.sum, diffusion }
    }

    /// Bands that are done.
    #[must_use]
    pub fn bands(&self) -> u32 {
        u32::try_from(self.strips.len()).unwrap_or(u32::MAX)
    }

    /// As bytes.
    #[must_use]
    pub fn to_bytes(&self) -> Vec<u8> {
        let mut out = FORM.to_vec();
        out.extend(self.mark);
        out.extend(self.sum.to_le_bytes());
        out.extend((self.strips.len() as u32).to_le_bytes());
        for strip in &self.strips {
            out.extend(strip.bytes.to_le_bytes());
            out.extend(strip.sum.to_le_bytes());
        }
        let left = self.diffusion.as_deref().unwrap_or_default();
        out.extend((left.len() as u32).to_le_bytes());
        out.extend(left.iter().flat_map(|own| own.to_le_bytes()));
        out.extend(crc32fast::hash(&out).to_le_bytes());
        out
    }

    /// From bytes; nothing when they are not of a checkpoint, or damaged.
    #[must_use]
    pub fn from_bytes(bytes: &[u8]) -> Option<Self> {
        let (body, sum) = bytes.split_last_chunk::<4>()?;
        if crc32fast::hash(body) != u32::from_le_bytes(*sum) {
            return None;
        }
        let mut rest = body.strip_prefix(FORM)?;
        let mark = *take::<32>(&mut rest)?;
        let sum = u32::from_le_bytes(*take(&mut rest)?);
        let count = u32::from_le_bytes(*take(&mut rest)?);
        let mut strips = Vec::new();
        for _ in 0..count {
            let bytes = u64::from_le_bytes(*take(&mut rest)?);
            let sum = u32::from_le_bytes(*take(&mut rest)?);
            strips.push(Strip { bytes, sum });
        }
        let count = u32::from_le_bytes(*take(&mut rest)?) as usize;
        let (left, []) = rest.as_chunks::<4>() else { return None };
        if left.len() != count {
            return None;
        }
        let left: Vec<i32> = left.iter().map(|own| i32::from_le_bytes(*own)).collect();
        Some(Self { mark, strips, sum, diffusion: (!left.is_empty()).then_some(left) })
    }
}

fn take<'a, const N: usize>(rest: &mut &'a [u8]) -> Option<&'a [u8; N]> {
    let (own, later) = rest.split_first_chunk::<N>()?;
    *rest = later;
    Some(own)
}

/// What a job and its sources are known by. What is drawn is known by its place only: who draws otherwise makes another job of it.
pub(super) fn mark(job: &Job) -> [u8; 32] {
    let mut hash = Sha256::new();
    let mut words = |text: String| {
        hash.update((text.len() as u64).to_le_bytes());
        hash.update(text);
    };
    words(format!("{:?} {} {} {:?} {:?} {:?}", job.sheet, job.ground, job.mirror, job.output, job.format, job.ppi));
    words(format!("{:?} {:?} {:?}", job.profile, job.note, job.drawn));
    for own in &job.pictures {
        words(format!("{:?} {:?} {:?} {:?} {:?}", own.turn, own.crop, own.size, own.filter, own.at));
        words(own.picture.known_by());
        let table: Vec<String> = own.table.entries().iter().map(u16::to_string).collect();
        words(table.join(" "));
    }
    hash.finalize().into()
}

/// Begins, or goes on: bands that are done, what is written of them, and what the last row left.
pub(super) fn begin(
    plan: &Plan<'_>,
    part: &Part,
    mark: [u8; 32],
    resume: Option<&Checkpoint>,
) -> io::Result<(u32, Written, Option<Diffusion>)> {
    let front = plan.file.front();
    if let Some(resume) = resume.filter(|own| fits(plan, own, mark)) {
        match still_there(plan, part, &front, resume) {
            Ok(Some(written)) => {
                let diffusion = resume.diffusion.clone().map(Diffusion::after);
                return Ok((resume.bands(), written, diffusion));
            }
            Ok(None) => {}
            Err(error) if error.kind() == io::ErrorKind::UnexpectedEof => {}
            Err(error) => return Err(error),
        }
    }
    part.cut(0)?;
    part.write_at(0, &front)?;
    let mut hash = Sha256::new();
    hash.update(&front);
    Ok((0, Written { at: front.len() as u64, hash, strips: Vec::new(), sum: 1 }, None))
}

fn fits(plan: &Plan<'_>, own: &Checkpoint, mark: [u8; 32]) -> bool {
    let left = own.diffusion.as_ref().map(Vec::len);
    own.mark == mark && own.bands() <= plan.bands && left == plan.diffuses().then_some(plan.shape.width)
}

/// Whether all strips are in the unfinished file as they were written.
fn still_there(plan: &Plan<'_>, part: &Part, front: &[u8], own: &Checkpoint) -> io::Result<Option<Written>> {
    let mut room = vec![0; front.len()];
    part.read_at(0, &mut room)?;
    if room != front {
        return Ok(None);
    }
    let mut hash = Sha256::new();
    hash.update(front);
    let mut at = front.len() as u64;
    // A strip is never longer than twice its pixels.
    let row_bytes = plan.shape.width * plan.shape.samples * plan.shape.bytes;
    let most = 2 * (row_bytes as u64 + 1) * u64::from(plan.band_rows) + 4096;
    for strip in &own.strips {
        if strip.bytes > most {
            return Ok(None);
        }
        room.resize(strip.bytes as usize, 0);
        part.read_at(at, &mut room)?;
        if crc32fast::hash(&room) != strip.sum {
            return Ok(None);
        }
        if plan.file.hashes_along() {
            hash.update(&room);
        }
        at += strip.bytes;
    }
    if let Kind::Tiff(_) = plan.file {
        part.cut(at)?;
    }
    Ok(Some(Written { at, hash, strips: own.strips.clone(), sum: own.sum }))
}
