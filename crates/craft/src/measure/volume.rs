//! Volume, exact in nanolitres.

use super::bounds::exact_quantity;

exact_quantity!(
    /// A volume, stored exactly in whole nanolitres.
    Volume, "volume", stored "nanolitres" as nanolitres / to_nanolitres,
    shown "mL" as millilitres / to_millilitres with 1_000_000, 0 ..= 1_000_000
);
