//! The press: a template, its data and its drawings in; a PDF/A-2b file out.

use std::sync::LazyLock;

use handcoat_figures::{FACES, QrError};
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

/// Why a sheet could not be set.
#[derive(Debug, thiserror::Error)]
pub enum SheetError {
    /// The data could not be written for the template.
    #[error("the sheet's data could not be written: {0}")]
    Data(#[from] serde_json::Error),
    /// The template did not compile.
    #[error("the sheet could not be set: {0}")]
    Setting(String),
    /// It came to more than the one page a sheet has.
    #[error("the sheet came to {0} pages and must be one")]
    Pages(usize),
    /// A sheet of labels whose measures do not go together.
    #[error("labels cannot lie on `{name}`: {what}; measure the sheet again")]
    Stock {
        /// What it is called.
        name: String,
        /// What does not fit.
        what: String,
    },
    /// A position the page does not have.
    #[error("position {start} is not on this sheet of labels; expected 1 to {positions}, counted row by row")]
    Start {
        /// The position asked for.
        start: usize,
        /// Positions on a page.
        positions: usize,
    },
    /// Nothing to print.
    #[error("there is no label to print; name at least one thing")]
    NoLabels,
    /// A label without what it cannot do without.
    #[error("a label has no {what}; expected a few words, because nobody can tell such a bottle from another")]
    Blank {
        /// `name` or `code`.
        what: &'static str,
    },
    /// A label whose words do not fit however small they are set.
    #[error(
        "the label of `{name}` does not fit on its paper, also without the lines that can be left out; take a larger label or a shorter name"
    )]
    LabelFull {
        /// Whose label.
        name: String,
    },
    /// A printer led further than makes sense.
    #[error("an offset of {mm} mm cannot be right; expected at most {most} mm either way")]
    Offset {
        /// The offset asked for.
        mm: f64,
        /// The most that makes sense.
        most: f64,
    },
    /// A QR code that cannot be drawn.
    #[error(transparent)]
    Qr(#[from] QrError),
}

impl SheetError {
    /// The stable code of this error.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Data(_) | Self::Setting(_) | Self::Pages(_) => "sheet_not_set",
            Self::Stock { .. } => "label_stock_wrong",
            Self::Start { .. } => "label_start_beyond",
            Self::NoLabels => "labels_none",
            Self::Blank { .. } => "label_blank",
            Self::LabelFull { .. } => "label_full",
            Self::Offset { .. } => "offset_too_large",
            Self::Qr(error) => error.code(),
        }
    }
}

/// Library and fonts are the same for every sheet.
static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| LazyHash::new(Library::default()));
static FONTS: LazyLock<Vec<Font>> =
    LazyLock::new(|| FACES.iter().flat_map(|face| Font::iter(Bytes::new(face.bytes))).collect());
static BOOK: LazyLock<LazyHash<FontBook>> = LazyLock::new(|| LazyHash::new(FontBook::from_fonts(FONTS.iter())));

/// Paths are interned for the life of the process, so every sheet uses the same few.
fn file_id(path: &str) -> FileId {
    // OK because every path here is a constant of this file or of a sheet's module.
    let path = VirtualPath::new(path).expect("BUG: a constant path that is none");
    RootedPath::new(VirtualRoot::Project, path).intern()
}

struct Press {
    main: Source,
    files: Vec<(FileId, Bytes)>,
}

impl World for Press {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &BOOK
    }

    fn main(&self) -> FileId {
        self.main.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.main.id() { Ok(self.main.clone()) } else { Err(FileError::AccessDenied) }
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.files.iter().find(|(own, _)| *own == id).map(|(_, bytes)| bytes.clone()).ok_or(FileError::AccessDenied)
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.get(index).cloned()
    }

    /// A sheet reads no clock.
    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

/// A file the template may read.
pub(crate) struct Supply {
    pub(crate) path: &'static str,
    pub(crate) bytes: Vec<u8>,
}

/// Sets one page. More than one page is an error: a bench sheet that runs over is no bench sheet.
pub(crate) fn set_one_page(
    template: &'static str,
    supplies: Vec<Supply>,
    day: (i32, u8, u8),
) -> Result<Vec<u8>, SheetError> {
    set_pages(template, supplies, day, 1)
}

/// Sets as many pages as it takes.
pub(crate) fn set_any(
    template: &'static str,
    supplies: Vec<Supply>,
    day: (i32, u8, u8),
) -> Result<Vec<u8>, SheetError> {
    press(template, supplies, day, None)
}

/// Sets so many pages. Any other number is an error.
pub(crate) fn set_pages(
    template: &'static str,
    supplies: Vec<Supply>,
    day: (i32, u8, u8),
    expected: usize,
) -> Result<Vec<u8>, SheetError> {
    press(template, supplies, day, Some(expected))
}

fn press(
    template: &'static str,
    supplies: Vec<Supply>,
    day: (i32, u8, u8),
    expected: Option<usize>,
) -> Result<Vec<u8>, SheetError> {
    let files = supplies.into_iter().map(|supply| (file_id(supply.path), Bytes::new(supply.bytes))).collect();
    let press = Press { main: Source::new(file_id("/sheet.typ"), template.into()), files };
    let result = set(&press, day, expected);
    // The compiler's memory is process-wide and never shrinks by itself; after every sheet, also a failed one.
    typst::comemo::evict(4);
    result
}

fn set(press: &Press, (year, month, day): (i32, u8, u8), expected: Option<usize>) -> Result<Vec<u8>, SheetError> {
    let failed = |errors: &[typst::diag::SourceDiagnostic]| {
        let messages: Vec<String> = errors.iter().map(|error| error.message.to_string()).collect();
        SheetError::Setting(messages.join("; "))
    };
    let document: PagedDocument = typst::compile(press).output.map_err(|errors| failed(&errors))?;
    let pages = document.pages().len();
    match expected {
        Some(1) if pages != 1 => return Err(SheetError::Pages(pages)),
        Some(expected) if pages != expected => {
            return Err(SheetError::Setting(format!("it came to {pages} pages and must be {expected}")));
        }
        _ => {}
    }
    let standards =
        PdfStandards::new(&[PdfStandard::A_2b]).map_err(|error| SheetError::Setting(error.message().to_string()))?;
    let options = PdfOptions {
        ident: Smart::Auto,
        creator: Smart::Custom(Some("handcoat".into())),
        timestamp: Datetime::from_ymd_hms(year, month, day, 0, 0, 0).map(Timestamp::new_utc),
        standards,
        ..PdfOptions::default()
    };
    typst_pdf::pdf(&document, &options).map_err(|errors| failed(&errors))
}
