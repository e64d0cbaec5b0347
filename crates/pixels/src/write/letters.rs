//! Deflate without matches: every byte by a Huffman code of its own block (RFC 1951).
//!
//! In the differences of a picture with grain there is next to nothing to match; looking for it is most of the time of packing and makes
//! nothing smaller. This is several times as quick.

/// Bytes of a block.
const BLOCK: usize = 64 << 10;
/// Letters: 256 bytes and the end of a block.
const LETTERS: usize = 257;
/// Longest code, so that four and what is left of a byte fit into 64 bits.
const LONGEST: u32 = 14;
/// Order in which lengths of the codes for lengths are written (RFC 1951, 3.2.7).
const ORDER: [usize; 19] = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];

/// Bytes that packing so many can take at most.
fn bound(len: usize) -> usize {
    // 14 bits a byte cannot be the mean of a Huffman code of 257 letters; 9 can.
    len + len / 7 + 512 * (len / BLOCK + 2) + 64
}

/// Packs with the head and the checksum of zlib; what comes out replaces `into`.
pub(super) fn pack(data: &[u8], into: &mut Vec<u8>) {
    into.resize(bound(data.len()), 0);
    let mut bits = Bits { out: into, at: 0, held: 0, count: 0 };
    bits.add(0x0178, 16);
    let blocks = data.len().div_ceil(BLOCK);
    for (number, block) in data.chunks(BLOCK).enumerate() {
        self::block(block, number + 1 == blocks, &mut bits);
    }
    if blocks == 0 {
        block(&[], true, &mut bits);
    }
    bits.fill_byte();
    let [a, b, c, d] = libdeflater::adler32(data).to_be_bytes();
    bits.add(u64::from(u32::from_le_bytes([a, b, c, d])), 32);
    bits.fill_byte();
    let len = bits.at;
    into.truncate(len);
}

/// Bits, the lowest first.
struct Bits<'a> {
    out: &'a mut [u8],
    at: usize,
    held: u64,
    count: u32,
}

impl Bits<'_> {
    /// Adds up to 56 bits.
    #[inline(always)]
    fn add(&mut self, bits: u64, count: u32) {
        self.held |= bits << self.count;
        self.count += count;
        // Whole bytes go; those written beyond them are written over.
        if let Some(place) = self.out.get_mut(self.at..).and_then(|rest| rest.first_chunk_mut::<8>()) {
            *place = self.held.to_le_bytes();
        }
        let whole = self.count & !7;
        self.at += (whole >> 3) as usize;
        // 64 only when nothing is left over.
        self.held = if whole == 64 { 0 } else { self.held >> whole };
        self.count &= 7;
    }

    fn fill_byte(&mut self) {
        if self.count > 0 {
            self.add(0, 8 - self.count);
        }
    }
}

fn block(data: &[u8], last: bool, bits: &mut Bits<'_>) {
    let mut counts = count(data);
    counts[256] = 1;
    let lengths = lengths::<LETTERS>(&counts, LONGEST);
    let codes = codes(&lengths);

    // The head: lengths of 257 letters and of one distance that is never used, each by a code of its own.
    let mut of_lengths = [0_u32; 19];
    for &length in &lengths {
        of_lengths[length as usize] += 1;
    }
    of_lengths[1] += 1;
    let length_lengths = self::lengths::<19>(&of_lengths, 7);
    let length_codes = self::codes(&length_lengths);
    bits.add(u64::from(last), 1);
    bits.add(2, 2);
    bits.add(0, 5);
    bits.add(0, 5);
    bits.add(15, 4);
    for place in ORDER {
        bits.add(u64::from(length_lengths[place]), 3);
    }
    for length in lengths.iter().chain(&[1]) {
        let (code, len) = length_codes[*length as usize];
        bits.add(u64::from(code), len);
    }

    let (fours, rest) = data.as_chunks::<4>();
    // A code and its length for each byte, without the end of the block.
    let mut table = [(0_u32, 0_u32); 256];
    table.copy_from_slice(codes.first_chunk::<256>().unwrap_or(&[(0, 0); 256]));
    for four in fours {
        let [a, b, c, d] = four.map(|byte| table[usize::from(byte)]);
        let first = u64::from(a.0) | u64::from(b.0) << a.1;
        let second = u64::from(c.0) | u64::from(d.0) << c.1;
        bits.add(first | second << (a.1 + b.1), a.1 + b.1 + c.1 + d.1);
    }
    for byte in rest {
        let (code, len) = table[usize::from(*byte)];
        bits.add(u64::from(code), len);
    }
    let (code, len) = codes[256];
    bits.add(u64::from(code), len);
}

/// How often each byte is there. In four tables, so that the same byte twice does not wait for itself.
fn count(data: &[u8]) -> [u32; LETTERS] {
    let mut four = [[0_u32; 256]; 4];
    let (fours, rest) = data.as_chunks::<4>();
    for own in fours {
        for (table, byte) in four.iter_mut().zip(own) {
            table[usize::from(*byte)] += 1;
        }
    }
    let mut out = [0; LETTERS];
    for table in four {
        out.iter_mut().zip(table).for_each(|(out, own)| *out += own);
    }
    for byte in rest {
        out[usize::from(*byte)] += 1;
    }
    out
}

/// Lengths of a Huffman code that are at most `longest`, 0 for what is not there.
fn lengths<const N: usize>(counts: &[u32; N], longest: u32) -> [u32; N] {
    let mut flat = 0;
    loop {
        // Rare letters are counted as more frequent until the longest code is short enough.
        let lengths = huffman(counts.map(|own| if own == 0 { 0 } else { (own >> flat).max(1) }));
        if lengths.iter().all(|&length| length <= longest) {
            return lengths;
        }
        flat += 1;
    }
}

/// Huffman's code, with two queues: the letters by how often they are there, and the pairs as they are made.
fn huffman<const N: usize>(counts: [u32; N]) -> [u32; N] {
    let mut order: Vec<usize> = (0..N).filter(|&letter| counts[letter] > 0).collect();
    order.sort_by_key(|&letter| (counts[letter], letter));
    let mut out = [0; N];
    if let [only] = *order {
        out[only] = 1;
        return out;
    }
    // Nodes: letters in order, then pairs. Each pair's parent comes after it.
    let mut weights: Vec<u64> = order.iter().map(|&letter| u64::from(counts[letter])).collect();
    let letters = weights.len();
    let mut parents = vec![0; (2 * letters).saturating_sub(1)];
    let (mut letter, mut pair) = (0, letters);
    for made in letters..parents.len() {
        let mut lightest = || {
            let takes_letter = letter < letters && (pair >= made || weights[letter] <= weights[pair]);
            let next = if takes_letter { &mut letter } else { &mut pair };
            *next += 1;
            *next - 1
        };
        let (one, two) = (lightest(), lightest());
        parents[one] = made;
        parents[two] = made;
        weights.push(weights[one] + weights[two]);
    }
    let mut depths = vec![0; parents.len()];
    for node in (0..parents.len().saturating_sub(1)).rev() {
        depths[node] = depths[parents[node]] + 1;
    }
    for (letter, depth) in order.into_iter().zip(depths) {
        out[letter] = depth;
    }
    out
}

/// The codes of those lengths (RFC 1951, 3.2.2), turned so that the first bit is the lowest.
fn codes<const N: usize>(lengths: &[u32; N]) -> [(u32, u32); N] {
    let mut next = [0_u32; 17];
    for length in 1..16_usize {
        let there = lengths.iter().filter(|&&own| own as usize == length).count() as u32;
        next[length + 1] = (next[length] + there) << 1;
    }
    lengths.map(|length| {
        if length == 0 {
            return (0, 0);
        }
        let code = next[length as usize];
        next[length as usize] += 1;
        (code.reverse_bits() >> (32 - length), length)
    })
}
