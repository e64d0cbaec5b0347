//! The directory of a TIFF: its fields by number, each read only when asked for and only within a limit.

use std::collections::BTreeMap;

use crate::read::bytes::Bytes;
use crate::refused::Refused;

/// Fields of a directory at most; baseline TIFF knows some eighty.
const MOST_FIELDS: u64 = 2048;

/// A field as it stands in the directory.
#[derive(Debug, Clone, Copy)]
struct Field {
    kind: u16,
    count: u64,
    /// Its value when it is short, or else where it lies.
    word: [u8; 8],
}

/// The first directory of a TIFF.
#[derive(Debug)]
pub(super) struct Fields<'a> {
    bytes: &'a Bytes,
    /// Whether the first byte of a number is the highest.
    pub(super) big_endian: bool,
    /// Whether places have 64 bits.
    wide: bool,
    fields: BTreeMap<u16, Field>,
}

/// A number of up to eight bytes.
fn number(big_endian: bool, bytes: &[u8]) -> u64 {
    let add = |sum: u64, byte: &u8| sum << 8 | u64::from(*byte);
    if big_endian { bytes.iter().take(8).fold(0, add) } else { bytes.iter().take(8).rev().fold(0, add) }
}

impl<'a> Fields<'a> {
    pub(super) fn read(bytes: &'a Bytes) -> Result<Self, Refused> {
        let mut head = [0; 16];
        bytes.read_at("the header", 0, head.first_chunk_mut::<8>().map_or(&mut [][..], |part| part.as_mut_slice()))?;
        let big_endian = head[0] == b'M';
        let at =
            |from: usize, len: usize, head: &[u8]| number(big_endian, head.get(from..from + len).unwrap_or_default());
        let wide = at(2, 2, &head) == 43;
        let (directory, counting, size) = if wide {
            bytes.read_at("the header", 0, &mut head)?;
            let places = at(4, 2, &head);
            if places != 8 {
                return Err(Refused::Field { what: "the length of places", seen: places.to_string(), taken: "8" });
            }
            (at(8, 8, &head), 8_u64, 20_u64)
        } else {
            (at(4, 4, &head), 2, 12)
        };
        let count = number(big_endian, &bytes.stretch("the count of fields", directory, counting)?);
        if count == 0 || count > MOST_FIELDS {
            return Err(Refused::Field { what: "the number of fields", seen: count.to_string(), taken: "1 to 2048" });
        }
        let table = bytes.stretch("the directory", directory + counting, count * size)?;
        let mut fields = BTreeMap::new();
        // OK because `size` is 12 or 20, never 0.
        for entry in table.chunks_exact(size as usize) {
            let part = |from: usize, len: usize| entry.get(from..from + len).unwrap_or_default();
            let (tag, kind) = (number(big_endian, part(0, 2)) as u16, number(big_endian, part(2, 2)) as u16);
            let (count, value) = if wide { (part(4, 8), part(12, 8)) } else { (part(4, 4), part(8, 4)) };
            let mut word = [0; 8];
            for (to, from) in word.iter_mut().zip(value) {
                *to = *from;
            }
            // The first of a number counts, as readers do it.
            fields.entry(tag).or_insert(Field { kind, count: number(big_endian, count), word });
        }
        Ok(Self { bytes, big_endian, wide, fields })
    }

    /// Whether a field is there.
    pub(super) fn has(&self, tag: u16) -> bool {
        self.fields.contains_key(&tag)
    }

    /// How many values a field says it has.
    pub(super) fn count(&self, tag: u16) -> Option<u64> {
        self.fields.get(&tag).map(|field| field.count)
    }

    /// The bytes of a field, at most so many of its values.
    fn raw(&self, what: &'static str, field: Field, unit: u64, count: u64) -> Result<Vec<u8>, Refused> {
        let len =
            count.checked_mul(unit).ok_or(Refused::Ends { part: what, needed: u64::MAX, there: self.bytes.len() })?;
        let inline = if self.wide { 8 } else { 4 };
        if field.count.saturating_mul(unit) <= inline {
            return Ok(field.word.iter().take(len as usize).copied().collect());
        }
        let places = if self.wide { 8 } else { 4 };
        let at = number(self.big_endian, field.word.get(..places).unwrap_or_default());
        self.bytes.stretch(what, at, len)
    }

    /// The whole numbers of a field, the first `most` of them.
    pub(super) fn numbers(&self, what: &'static str, tag: u16, most: u64) -> Result<Option<Vec<u64>>, Refused> {
        let Some(&field) = self.fields.get(&tag) else { return Ok(None) };
        let unit = match field.kind {
            1 | 7 => 1_u64,
            3 => 2,
            4 | 13 => 4,
            16 | 18 => 8,
            other => {
                return Err(Refused::Field { what, seen: format!("of type {other}"), taken: "a whole number" });
            }
        };
        let raw = self.raw(what, field, unit, field.count.min(most))?;
        Ok(Some(raw.chunks_exact(unit as usize).map(|bytes| number(self.big_endian, bytes)).collect()))
    }

    /// One whole number.
    pub(super) fn one(&self, what: &'static str, tag: u16) -> Result<Option<u64>, Refused> {
        match self.numbers(what, tag, 1)? {
            None => Ok(None),
            Some(found) => match found.first() {
                Some(&number) => Ok(Some(number)),
                None => Err(Refused::Field { what, seen: "empty".into(), taken: "a whole number" }),
            },
        }
    }

    /// A fraction; a field of another type or over nothing is none.
    pub(super) fn fraction(&self, what: &'static str, tag: u16) -> Result<Option<f64>, Refused> {
        let Some(&field) = self.fields.get(&tag) else { return Ok(None) };
        if field.kind != 5 || field.count == 0 {
            return Ok(None);
        }
        let raw = self.raw(what, field, 8, 1)?;
        let mut halves = raw.chunks_exact(4).map(|half| number(self.big_endian, half) as f64);
        let (above, below) = (halves.next().unwrap_or(0.0), halves.next().unwrap_or(0.0));
        Ok((below > 0.0).then(|| above / below))
    }

    /// The bytes of a field.
    pub(super) fn octets(&self, what: &'static str, tag: u16, most: u64) -> Result<Option<Vec<u8>>, Refused> {
        let Some(&field) = self.fields.get(&tag) else { return Ok(None) };
        if !matches!(field.kind, 1 | 7) {
            return Err(Refused::Field { what, seen: format!("of type {}", field.kind), taken: "bytes" });
        }
        if field.count > most {
            return Err(Refused::Memory { part: what, needed: field.count, most });
        }
        self.raw(what, field, 1, field.count).map(Some)
    }
}
