//! One studio: its book, opened, and who does what when.

use std::path::Path;
use std::sync::Mutex;

use handcoat_book::{ActKey, Acted, Book, BookError, FindingKind, PostError, Stamp};
use handcoat_craft::ledger::ItemNumber;
use jiff::Timestamp;
use sha2::{Digest as _, Sha256};

use crate::ledger::Followed;
use crate::{Question, Refusal, RefusalKind, Remedy};

/// A studio's book, open.
#[derive(Debug)]
pub struct Studio {
    pub(crate) book: Book,
    /// Where everything went, as of an act: a page that is looked at again follows only what was done meanwhile.
    pub(crate) followed: Mutex<Followed>,
}

/// When an act is done, by whom, and under which key. A door knows; nobody below it reads a clock or a random source.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moment {
    /// When.
    pub at: Timestamp,
    /// Who, as it stands in the book.
    pub who: String,
    /// The same key twice does the act once.
    pub key: String,
}

impl Moment {
    /// For an act that is known by its key alone, or whose answers the book compares itself.
    pub(crate) fn stamp(&self) -> Result<Stamp, Refusal> {
        let key = ActKey::new(&self.key).ok_or_else(|| {
            let cause = format!("`{}` is no key of an act; expected 8 to 64 letters, digits, `-` or `_`", self.key);
            Refusal::unreadable("key_unreadable", Question::Key, cause, vec![Remedy::LeaveOut(Question::Key)])
        })?;
        Ok(Stamp { key, who: self.who.clone(), at: self.at, asked: None })
    }

    /// For an act with these answers: the same key with others is refused, whichever door they come in by.
    pub(crate) fn asked(&self, answers: &impl std::fmt::Debug) -> Result<Stamp, Refusal> {
        Ok(Stamp { asked: Some(digest(format!("{answers:?}").as_bytes())), ..self.stamp()? })
    }
}

/// SHA-256 in hexadecimal.
pub(crate) fn digest(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// What an act came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Done {
    /// Its number in the book.
    pub act: i64,
    /// Which sort.
    pub kind: String,
    /// The item it is about.
    pub item: Option<ItemNumber>,
    /// The number of the record it is about, within its kind: print 17, coat 5.
    pub record: Option<u32>,
    /// It had been done before under this key; nothing was done now.
    pub repeated: bool,
    /// What happened, in sentences.
    pub said: Vec<String>,
}

impl Done {
    pub(crate) fn of(acted: &Acted) -> Self {
        let act = acted.act();
        Self {
            act: act.number.get(),
            kind: act.kind.clone(),
            item: act
                .body
                .get("item")
                .and_then(serde_json::Value::as_u64)
                .and_then(|number| u32::try_from(number).ok().and_then(ItemNumber::new)),
            record: act
                .body
                .get("record")
                .and_then(|record| record.get("number")?.as_u64())
                .and_then(|number| u32::try_from(number).ok()),
            repeated: matches!(acted, Acted::Before(_)),
            said: said(&act.body),
        }
    }
}

/// The sentences an act kept of itself.
pub(crate) fn said(body: &serde_json::Value) -> Vec<String> {
    let said = body.get("said").and_then(serde_json::Value::as_array);
    said.map_or(Vec::new(), |said| said.iter().filter_map(|own| own.as_str().map(String::from)).collect())
}

/// What a check found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Checked {
    /// What contradicts itself.
    pub damage: Vec<(&'static str, String)>,
    /// What is worth a look.
    pub notices: Vec<(&'static str, String)>,
}

impl Studio {
    /// Makes a new book.
    ///
    /// # Errors
    /// [`Refusal`] when something is there already, or it cannot be written.
    pub fn create(path: &Path) -> Result<Self, Refusal> {
        Ok(Self { book: Book::create(path)?, followed: Mutex::default() })
    }

    /// Opens a book.
    ///
    /// # Errors
    /// [`Refusal`]: not there, not ours, newer, damaged, busy.
    pub fn open(path: &Path) -> Result<Self, Refusal> {
        Ok(Self { book: Book::open(path)?, followed: Mutex::default() })
    }

    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        self.book.path()
    }

    /// Holds the book against itself.
    ///
    /// # Errors
    /// [`Refusal`] when it cannot even be read.
    pub fn check(&self) -> Result<Checked, Refusal> {
        let (damage, notices): (Vec<_>, Vec<_>) =
            self.book.check()?.into_iter().partition(|finding| finding.kind == FindingKind::Damage);
        let pairs = |found: Vec<handcoat_book::Finding>| found.into_iter().map(|own| (own.code, own.what)).collect();
        Ok(Checked { damage: pairs(damage), notices: pairs(notices) })
    }

    /// Writes a checked copy.
    ///
    /// # Errors
    /// [`Refusal`] when something has that name, or the copy is not sound.
    pub fn backup(&self, to: &Path) -> Result<(), Refusal> {
        Ok(self.book.backup(to)?)
    }

    /// Puts a copy in this book's place; what was there is kept in `aside`.
    ///
    /// # Errors
    /// [`Refusal`] when the copy is no sound book.
    pub fn restore(&mut self, from: &Path, aside: &Path) -> Result<(), Refusal> {
        self.book.restore(from, aside)?;
        Ok(())
    }
}

/// Stable codes for what can be wrong with a book.
fn code(error: &BookError) -> &'static str {
    match error {
        BookError::Missing(_) => "book_missing",
        BookError::Exists(_) => "file_exists",
        BookError::Foreign(_) => "book_foreign",
        BookError::Newer { .. } => "book_newer",
        BookError::Damaged(_) => "book_damaged",
        BookError::KeyUsed { .. } => "key_used",
        BookError::Busy => "book_busy",
        BookError::Disk { .. } => "book_unwritable",
        BookError::Database(_) => "book_failed",
    }
}

impl From<BookError> for Refusal {
    fn from(error: BookError) -> Self {
        let (kind, remedy) = match &error {
            BookError::Missing(_) => (RefusalKind::Missing, Remedy::MakeBook),
            BookError::Exists(_) => (RefusalKind::Refused, Remedy::AnotherName),
            BookError::Foreign(_) => (RefusalKind::Damaged, Remedy::AnotherName),
            BookError::Newer { .. } => (RefusalKind::Damaged, Remedy::LaterProgram),
            BookError::Damaged(_) => (RefusalKind::Damaged, Remedy::RestoreCopy),
            BookError::KeyUsed { .. } => (RefusalKind::Refused, Remedy::LeaveOut(Question::Key)),
            BookError::Busy => (RefusalKind::Busy, Remedy::TryAgain),
            BookError::Disk { .. } => (RefusalKind::Failed, Remedy::AnotherPlace),
            BookError::Database(_) => (RefusalKind::Failed, Remedy::CheckBook),
        };
        let cause = error.to_string();
        Self { code: code(&error), kind, about: Some(Question::Book), cause, excerpt: None, remedies: vec![remedy] }
    }
}

impl From<PostError> for Refusal {
    fn from(error: PostError) -> Self {
        match error {
            PostError::Book(error) => error.into(),
            // The acts look before they take, so these two are slips of the program, and said as such.
            other @ (PostError::NotAdmitted(_) | PostError::Unsettled(_)) => Self {
                code: "entry_not_admitted",
                kind: RefusalKind::Refused,
                about: Some(Question::Book),
                cause: other.to_string(),
                excerpt: None,
                remedies: vec![Remedy::CheckBook],
            },
        }
    }
}
