//! What a table can have wrong with it, cell by cell.

use std::fmt;

use handcoat_craft::measure::{ReadError, shortened};

use crate::DecimalMark;

/// Something in a table that is not taken.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// Bytes that are no UTF-8.
    NotText,
    /// No row below the line of column names.
    Empty,
    /// More or fewer cells than there are column names.
    Uneven {
        /// Column names.
        names: usize,
        /// Cells of this row.
        cells: usize,
    },
    /// A text of measurements without its end.
    CutOff,
    /// More or fewer rows than the text itself says it has.
    RowsMissing {
        /// What it says.
        said: usize,
        /// Rows that are there.
        rows: usize,
    },
    /// Two columns that say different things of one patch.
    Contradicted,
    /// A column nobody knows.
    ColumnUnknown,
    /// The same column twice.
    ColumnRepeated,
    /// No column says what anything is.
    ColumnMissing,
    /// The decimal mark that was not declared.
    OtherMark(DecimalMark),
    /// A unit in a cell, where the column's name has it.
    Unit,
    /// A word that is not one of those the column takes.
    Word,
    /// An instant that cannot be read.
    Instant,
    /// A number that cannot be read, or is out of bounds.
    Quantity(ReadError),
}

impl Fault {
    /// Stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::NotText => "table_not_text",
            Self::Empty => "table_empty",
            Self::Uneven { .. } => "row_uneven",
            Self::CutOff | Self::RowsMissing { .. } => "table_cut_off",
            Self::Contradicted => "reading_contradicted",
            Self::ColumnUnknown => "column_unknown",
            Self::ColumnRepeated => "column_repeated",
            Self::ColumnMissing => "column_missing",
            Self::OtherMark(_) => "decimal_mark_other",
            Self::Unit => "unit_unwanted",
            Self::Word => "word_unknown",
            Self::Instant => "instant_unreadable",
            Self::Quantity(error) => error.code(),
        }
    }
}

/// Something found at one place of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct CellFinding {
    /// Line of the file, the line of column names being 1.
    pub line: u64,
    /// Name of the column; empty where a whole row or the whole file is meant.
    pub column: String,
    /// What stands there.
    pub seen: String,
    /// What is wrong with it.
    pub fault: Fault,
    /// What is taken there.
    pub hint: String,
}

impl fmt::Display for CellFinding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let seen = shortened(&self.seen);
        match &self.fault {
            Fault::NotText => write!(f, "byte {seen} is no text in UTF-8"),
            Fault::Empty => f.write_str("there is no row below the names of the columns"),
            Fault::Uneven { names, cells } => {
                write!(f, "the row has {cells} cells; expected {names}, as many as there are column names")
            }
            Fault::CutOff => f.write_str("the text ends before END_DATA: it is cut off; expected the whole of it"),
            Fault::RowsMissing { said, rows } => {
                write!(f, "NUMBER_OF_SETS says {said} and there are {rows} rows; expected as many as it says")
            }
            Fault::Contradicted => write!(f, "`{seen}` is not what stands beside it; expected {}", self.hint),
            Fault::ColumnUnknown => write!(f, "`{seen}` is no column known here; expected names as in items.csv"),
            Fault::ColumnRepeated => write!(f, "`{seen}` is there twice; expected each column once"),
            Fault::ColumnMissing => write!(f, "there is no column `{seen}`; expected one that says what each thing is"),
            Fault::OtherMark(declared) => {
                let (other, declared) = (declared.other().word(), declared.word());
                write!(f, "`{seen}` has a {other}; expected a number with the decimal {declared} that was declared")
            }
            Fault::Unit => {
                write!(f, "`{seen}` is more than a number; expected the number alone, the unit is the column's")
            }
            Fault::Word => write!(f, "`{seen}` is not taken here; expected {}", self.hint),
            Fault::Instant => write!(f, "`{seen}` is no instant; expected one as `2026-03-14T10:30:00Z`"),
            Fault::Quantity(error) => error.fmt(f),
        }
    }
}
