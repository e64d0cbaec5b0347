//! Chance that can be had again: a seed gives the same acts on every machine.

/// A small generator of our own (xorshift64*, Vigna 2016).
#[derive(Clone, Debug)]
pub struct Dice(u64);

impl Dice {
    /// Dice from a number.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        // Zero is the one state it never leaves; a stirred seed keeps neighbours apart.
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    /// Dice from a text, such as the key of an act: the same act is asked for again by its key alone.
    #[must_use]
    pub fn of_text(text: &str) -> Self {
        // FNV-1a, 64 bits, from memory.
        let hash = text
            .bytes()
            .fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3));
        Self::new(hash)
    }

    fn roll(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    /// A number below `count`; zero for a count of nothing.
    pub fn below(&mut self, count: u64) -> u64 {
        // The low bits of this generator are its weakest.
        (self.roll() >> 8) % count.max(1)
    }

    /// True once in so many times.
    pub fn once_in(&mut self, times: u64) -> bool {
        self.below(times) == 0
    }

    /// One of these; none of nothing.
    pub fn pick<'a, T>(&mut self, from: &'a [T]) -> Option<&'a T> {
        let place = usize::try_from(self.below(from.len() as u64)).ok()?;
        from.get(place)
    }
}
