//! Why a picture is not taken: what was seen and what is taken.

use std::io;

use thiserror::Error;

/// A picture that is not read, or not read to its end. Each has a [code](Refused::code) that does not change.
#[derive(Debug, Error)]
pub enum Refused {
    /// The file system said no.
    #[error("the file cannot be read: {0}")]
    Unreadable(#[from] io::Error),
    /// The first bytes are of nothing we read.
    #[error("the file begins with {seen}; a TIFF, a PNG or a JPEG is taken")]
    Unknown {
        /// The first bytes, in hexadecimal.
        seen: String,
    },
    /// The file ends before what it promises.
    #[error("the file ends early: {part} needs byte {needed} and the file has {there}")]
    Ends {
        /// What was to be read.
        part: &'static str,
        /// One past the last byte of it.
        needed: u64,
        /// The length of the file.
        there: u64,
    },
    /// No pixels, or more than the budget.
    #[error("the picture says it has {width} × {height} pixels; from 1 × 1 up to {most} pixels in all are taken")]
    Size {
        /// Pixels across.
        width: u64,
        /// Pixels down.
        height: u64,
        /// The budget.
        most: u64,
    },
    /// A row is longer than the budget.
    #[error("one row of the picture has {bytes} bytes; up to {most} are taken")]
    Row {
        /// Bytes of a row.
        bytes: u64,
        /// The budget.
        most: u64,
    },
    /// A field of the header that makes no sense.
    #[error("{what} is {seen}; {taken} is taken")]
    Field {
        /// The field.
        what: &'static str,
        /// What it holds.
        seen: String,
        /// What is taken.
        taken: &'static str,
    },
    /// A field that has to be there.
    #[error("the header does not say its {what}")]
    Missing {
        /// The field.
        what: &'static str,
    },
    /// A sort of picture or packing that is not read.
    #[error("{what} is {seen}, which is not read; {taken} is taken")]
    Sort {
        /// What is of that sort.
        what: &'static str,
        /// What it is.
        seen: String,
        /// What is taken.
        taken: &'static str,
    },
    /// So many pixels cannot come out of so few bytes.
    #[error("the file has {there} bytes of packed pixels; what it says it holds needs at least {needed}")]
    Short {
        /// The least it would need.
        needed: u64,
        /// What is there.
        there: u64,
    },
    /// What it takes to read it is more than the budget.
    #[error("reading it needs {needed} bytes of memory for {part}; up to {most} are taken")]
    Memory {
        /// For what.
        part: &'static str,
        /// Bytes it needs.
        needed: u64,
        /// The budget.
        most: u64,
    },
    /// The packed pixels are damaged.
    #[error("the pixels are damaged from row {row} on: {what}")]
    Damaged {
        /// The first row that is not whole, from 0.
        row: u32,
        /// What the unpacking said.
        what: String,
    },
    /// A sample that is not a number.
    #[error("a sample in row {row} is not a number")]
    NotANumber {
        /// The row, from 0.
        row: u32,
    },
    /// The embedded profile cannot be used.
    #[error(
        "the embedded ICC profile cannot be used: {what}; grey profiles with a tone curve and RGB profiles with three curves and a matrix are taken"
    )]
    Profile {
        /// Why.
        what: String,
    },
}

impl Refused {
    /// A word for scripts and tests.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Unreadable(_) => "picture_unreadable",
            Self::Unknown { .. } => "picture_unknown",
            Self::Ends { .. } => "picture_ends_early",
            Self::Size { .. } => "picture_size",
            Self::Row { .. } => "picture_row_too_long",
            Self::Field { .. } => "picture_field",
            Self::Missing { .. } => "picture_field_missing",
            Self::Sort { .. } => "picture_sort",
            Self::Short { .. } => "picture_too_short",
            Self::Memory { .. } => "picture_memory",
            Self::Damaged { .. } => "picture_damaged",
            Self::NotANumber { .. } => "picture_not_a_number",
            Self::Profile { .. } => "picture_profile",
        }
    }
}
