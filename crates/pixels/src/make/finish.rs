//! The end of a file: its directory or last chunks, and its hash.

use std::io;

use sha2::{Digest, Sha256};

use crate::write::{Packing, Part, PngFile};

use super::{Kind, Plan, Written};

/// Bytes that are read at once to be hashed.
const READ: usize = 1 << 20;

/// Ends the file. Gives its length and its hash in hexadecimal.
pub(super) fn finish(plan: &Plan<'_>, part: &Part, mut written: Written) -> io::Result<(u64, String)> {
    match &plan.file {
        Kind::Tiff(file) if file.packing == Packing::None => {}
        Kind::Png(_) => {
            let back = PngFile::back(written.sum);
            part.write_at(written.at, &back)?;
            written.hash.update(&back);
            written.at += back.len() as u64;
        }
        Kind::Tiff(file) => {
            let lengths: Vec<u64> = written.strips.iter().map(|strip| strip.bytes).collect();
            let at = written.at.next_multiple_of(2);
            let mut directory = vec![0; (at - written.at) as usize];
            directory.extend(file.directory(at, file.begin(), &lengths));
            part.write_at(written.at, &directory)?;
            part.write_at(0, &file.head(at))?;
            written.at += directory.len() as u64;
            written.hash = hash_of(part, written.at)?;
        }
    }
    // A file of an earlier run may have been longer.
    part.cut(written.at)?;
    let hash = written.hash.finalize();
    Ok((written.at, hash.iter().map(|byte| format!("{byte:02x}")).collect()))
}

/// The hash of so many bytes of the file.
fn hash_of(part: &Part, len: u64) -> io::Result<Sha256> {
    let mut hash = Sha256::new();
    let mut room = vec![0; READ];
    let mut at = 0;
    while at < len {
        let count = usize::try_from(len - at).unwrap_or(READ).min(READ);
        let piece = room.get_mut(..count).unwrap_or_default();
        part.read_at(at, piece)?;
        hash.update(piece);
        at += count as u64;
    }
    Ok(hash)
}
