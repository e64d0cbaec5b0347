//! A curve as 65,536 entries.

/// A code for every code of 16 bits.
#[derive(Clone, PartialEq, Eq)]
pub struct Lut(Box<[u16; 65536]>);

impl std::fmt::Debug for Lut {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Lut(0 → {}, 32768 → {}, 65535 → {})", self.at(0), self.at(32768), self.at(65535))
    }
}

impl Lut {
    /// The table of a function.
    pub fn of(curve: impl Fn(u16) -> u16) -> Self {
        let mut table = Box::new([0; 65536]);
        for (code, entry) in (0..=u16::MAX).zip(table.iter_mut()) {
            *entry = curve(code);
        }
        Self(table)
    }

    /// Everything as it was.
    #[must_use]
    pub fn straight() -> Self {
        Self::of(|code| code)
    }

    /// 65,535 less each code: black for white.
    #[must_use]
    pub fn inverting() -> Self {
        Self::of(|code| u16::MAX - code)
    }

    /// A table of exactly 65,536 entries.
    #[must_use]
    pub fn from_entries(entries: &[u16]) -> Option<Self> {
        let table: Box<[u16; 65536]> = entries.to_vec().into_boxed_slice().try_into().ok()?;
        Some(Self(table))
    }

    /// This table, then that one.
    #[must_use]
    pub fn then(&self, next: &Self) -> Self {
        Self::of(|code| next.at(self.at(code)))
    }

    /// The entry of a code.
    #[must_use]
    pub fn at(&self, code: u16) -> u16 {
        self.0[usize::from(code)]
    }

    /// Whether it changes anything.
    #[must_use]
    pub fn is_straight(&self) -> bool {
        (0..=u16::MAX).zip(self.0.iter()).all(|(code, &entry)| code == entry)
    }

    /// Whether no entry is below the one before, or none above.
    #[must_use]
    pub fn is_monotone(&self) -> bool {
        let pairs = || self.0.iter().zip(self.0.iter().skip(1));
        pairs().all(|(a, b)| a <= b) || pairs().all(|(a, b)| a >= b)
    }

    /// Every code of a row through the table.
    pub(crate) fn apply(&self, row: &mut [u16]) {
        for code in row {
            *code = self.0[usize::from(*code)];
        }
    }

    /// The entries.
    #[must_use]
    pub fn entries(&self) -> &[u16] {
        self.0.as_slice()
    }
}
