//! Mass, exact in micrograms.

use super::bounds::exact_quantity;

exact_quantity!(
    /// A mass, stored exactly in whole micrograms.
    Mass, "mass", stored "micrograms" as micrograms / to_micrograms,
    shown "g" as grams / to_grams with 1_000_000, 0 ..= 100_000
);

impl Mass {
    /// In milligrams.
    #[must_use]
    pub fn to_milligrams(self) -> f64 {
        self.to_micrograms() as f64 / 1000.0
    }
}
