//! One packed strip or tile as a stream of its bytes.

use std::io::{self, BufRead, Read};

use flate2::bufread::ZlibDecoder;
use weezl::{BitOrder, LzwStatus, decode::Decoder};

use crate::read::bytes::Stretch;

use super::layout::Packed;

/// The bytes of a chunk, unpacked as they are read.
pub(super) enum Unpack {
    Plain(Stretch),
    Deflate(Box<ZlibDecoder<Stretch>>),
    Lzw(Box<Lzw>),
    PackBits(PackBits),
}

impl Unpack {
    pub(super) fn new(packed: Packed, from: Stretch) -> Self {
        match packed {
            Packed::Plain => Self::Plain(from),
            Packed::Deflate => Self::Deflate(Box::new(ZlibDecoder::new(from))),
            Packed::Lzw => Self::Lzw(Box::new(Lzw { from, decoder: Decoder::with_tiff_size_switch(BitOrder::Msb, 8) })),
            Packed::PackBits => Self::PackBits(PackBits { from, plain: 0, again: 0, byte: 0 }),
        }
    }
}

impl Read for Unpack {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        match self {
            Self::Plain(from) => from.read(into),
            Self::Deflate(from) => from.read(into),
            Self::Lzw(from) => from.read(into),
            Self::PackBits(from) => from.read(into),
        }
    }
}

/// LZW with the early change of length that TIFF has.
pub(super) struct Lzw {
    from: Stretch,
    decoder: Decoder,
}

impl Read for Lzw {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        loop {
            let there = self.from.fill_buf()?;
            let at_the_end = there.is_empty();
            let result = self.decoder.decode_bytes(there, into);
            self.from.consume(result.consumed_in);
            match result.status {
                Err(what) => return Err(io::Error::new(io::ErrorKind::InvalidData, what.to_string())),
                Ok(_) if result.consumed_out > 0 || into.is_empty() => return Ok(result.consumed_out),
                Ok(LzwStatus::Done) => return Ok(0),
                Ok(_) if at_the_end => return Ok(0),
                // Only a table was built, or nothing but a clear code was in it.
                Ok(_) if result.consumed_in > 0 => {}
                Ok(_) => return Ok(0),
            }
        }
    }
}

/// Runs of bytes, each counted by the byte before it.
pub(super) struct PackBits {
    from: Stretch,
    /// Bytes still to be taken as they are.
    plain: usize,
    /// How often `byte` is still to come.
    again: usize,
    byte: u8,
}

impl PackBits {
    fn next_byte(&mut self) -> io::Result<Option<u8>> {
        let byte = self.from.fill_buf()?.first().copied();
        if byte.is_some() {
            self.from.consume(1);
        }
        Ok(byte)
    }
}

impl Read for PackBits {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        loop {
            if self.plain > 0 {
                let count = self.plain.min(into.len());
                // OK because `count` is at most the length.
                let got = self.from.read(&mut into[..count])?;
                self.plain -= got;
                return Ok(got);
            }
            if self.again > 0 {
                let count = self.again.min(into.len());
                into.iter_mut().take(count).for_each(|to| *to = self.byte);
                self.again -= count;
                return Ok(count);
            }
            match self.next_byte()? {
                None => return Ok(0),
                Some(count @ 0..=127) => self.plain = usize::from(count) + 1,
                // Says nothing, by the specification.
                Some(128) => {}
                Some(count) => {
                    let Some(byte) = self.next_byte()? else { return Ok(0) };
                    self.again = 257 - usize::from(count);
                    self.byte = byte;
                }
            }
        }
    }
}
