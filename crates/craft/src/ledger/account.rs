//! Accounts: who can hold something.

use alloc::string::String;
use core::fmt;
use core::num::NonZeroU32;
use core::str::FromStr;

/// What sort of thing stands on the shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ItemKind {
    /// Powder as it was bought.
    Jar,
    /// A solution.
    Bottle,
    /// Powder swept from the glass, kept apart and used first.
    Vial,
}

impl ItemKind {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Jar, Self::Bottle, Self::Vial];

    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Jar => "jar",
            Self::Bottle => "bottle",
            Self::Vial => "vial",
        }
    }
}

/// Numbers of things that can hold metal: from 1, never reused.
macro_rules! number {
    ($($(#[$meta:meta])* $name:ident),+ $(,)?) => {$(
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(NonZeroU32);

        impl $name {
            /// The one with this number; none for zero.
            #[must_use]
            pub fn new(number: u32) -> Option<Self> {
                NonZeroU32::new(number).map(Self)
            }

            /// The number.
            #[must_use]
            pub fn get(self) -> u32 {
                self.0.get()
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                fmt::Display::fmt(&self.0, f)
            }
        }
    )+};
}

number!(
    /// The running number of an item; never reused.
    ItemNumber,
    /// The running number of a coat on a sheet; never reused.
    CoatNumber,
    /// The running number of a print; never reused.
    PrintNumber,
);

/// Who can hold something. Written `supplier`, `jar:3`, `print:17`, `unexplained`; the same words stand in the book, in
/// exports and in `ledger balance`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Account {
    /// Where metal is bought.
    Supplier,
    /// Whose money it is.
    Owner,
    /// Something on the shelf.
    Item(ItemKind, ItemNumber),
    /// A coat on a sheet that is no print yet.
    Coat(CoatNumber),
    /// A finished print.
    Print(PrintNumber),
    /// Contents that came into being: a solution that was mixed, water that was added.
    Made,
    /// Contents that were used up in making something.
    Used,
    /// Lost at the bench and known to be: a spill, what was wiped away.
    Loss,
    /// Kept for a refiner: sludge, wipes, what a retired bottle still held.
    Residue,
    /// What a stocktake found and nobody can explain.
    Unexplained,
}

impl Account {
    /// Whether it may hold less than nothing: only the ends of the chain may.
    #[must_use]
    pub fn may_be_negative(self) -> bool {
        match self {
            Self::Supplier | Self::Owner | Self::Made | Self::Unexplained => true,
            Self::Item(..) | Self::Coat(_) | Self::Print(_) | Self::Used | Self::Loss | Self::Residue => false,
        }
    }

    /// The item it is, if it is one.
    #[must_use]
    pub fn item(self) -> Option<ItemNumber> {
        match self {
            Self::Item(_, number) => Some(number),
            _ => None,
        }
    }
}

/// The accounts that are no items, each with its word.
const WORDS: [(Account, &str); 7] = [
    (Account::Supplier, "supplier"),
    (Account::Owner, "owner"),
    (Account::Made, "made"),
    (Account::Used, "used"),
    (Account::Loss, "loss"),
    (Account::Residue, "residue"),
    (Account::Unexplained, "unexplained"),
];

impl fmt::Display for Account {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Item(kind, number) => write!(f, "{}:{number}", kind.word()),
            Self::Coat(number) => write!(f, "coat:{number}"),
            Self::Print(number) => write!(f, "print:{number}"),
            other => {
                let word = WORDS.iter().find(|(account, _)| account == other);
                f.write_str(word.map_or("", |(_, word)| word))
            }
        }
    }
}

/// Words that name no account.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{written}` is no account; expected a word such as `supplier`, `unexplained` or `jar:3`")]
pub struct AccountUnknown {
    /// What was written.
    pub written: String,
}

impl FromStr for Account {
    type Err = AccountUnknown;

    fn from_str(text: &str) -> Result<Self, AccountUnknown> {
        let unknown = || AccountUnknown { written: text.into() };
        if let Some((kind, number)) = text.split_once(':') {
            // One way to write each account: no sign, no leading zero.
            let plain = number.bytes().all(|byte| byte.is_ascii_digit()) && !number.starts_with('0');
            let number: u32 = plain.then(|| number.parse().ok()).flatten().ok_or_else(unknown)?;
            return match kind {
                "coat" => CoatNumber::new(number).map(Self::Coat),
                "print" => PrintNumber::new(number).map(Self::Print),
                _ => {
                    let kind = ItemKind::ALL.into_iter().find(|own| own.word() == kind);
                    kind.zip(ItemNumber::new(number)).map(|(kind, number)| Self::Item(kind, number))
                }
            }
            .ok_or_else(unknown);
        }
        WORDS.iter().find(|(_, word)| *word == text).map(|(account, _)| *account).ok_or_else(unknown)
    }
}
