//! A list of jars and bottles that stand on the maker's shelf already comes into the book: all of it in one act, or none.

use handcoat_book::{BookError, Deed, PostError};
use handcoat_craft::ledger::{Draft, ItemKind};
use handcoat_craft::measure::{shortened, significant};
use handcoat_exchange::{CellFinding, DecimalMark, Fault, ShelfRow, ShelfTable, Standing, column_named, read_shelf};
use serde_json::json;

use super::row::{answers, came};
use crate::shelf::{Receive, Shelf};
use crate::{Done, Excerpt, Moment, Question, Refusal, RefusalKind, Remedy, Studio};

/// What an import would come to.
#[derive(Clone, Debug, PartialEq)]
pub struct DryRun {
    /// The mark between cells, as the table has it.
    pub separator: char,
    /// The decimal mark, as it was declared.
    pub mark: DecimalMark,
    /// What each row that can be taken does.
    pub rows: Vec<ImportRow>,
    /// What stands against the others. While there is any, nothing is imported.
    pub findings: Vec<ImportFinding>,
    /// The act that was done before under the key of this one, when there is such.
    pub before: Option<Done>,
}

/// A row that can be taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ImportRow {
    /// Line of the file.
    pub line: u64,
    /// Its name on the shelf.
    pub name: String,
    /// What becomes of it.
    pub does: Does,
}

/// What becomes of a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Does {
    /// It is put on the shelf.
    Shelve {
        /// Jar, bottle or vial.
        kind: ItemKind,
        /// How much of it, in words.
        amount: String,
        /// How much metal is in it, in words.
        metal: Option<String>,
    },
    /// It is left out, and why.
    LeaveOut(&'static str),
}

/// Something that stands against a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ImportFinding {
    /// Line of the file.
    pub line: u64,
    /// Column; empty where the whole row or file is meant.
    pub column: String,
    /// What stands there.
    pub seen: String,
    /// Stable code.
    pub code: &'static str,
    /// What happened.
    pub message: String,
    /// What is taken there.
    pub hint: String,
}

/// The decimal mark that somebody declared. It is never guessed: `1,500` is one and a half or fifteen hundred.
///
/// # Errors
/// [`Refusal`] when it is not said, or is neither.
pub fn read_mark(answer: Option<&str>) -> Result<DecimalMark, Refusal> {
    let about = Question::DecimalMark;
    let remedies = || DecimalMark::ALL.map(|mark| Remedy::Write(about, mark.word().into())).to_vec();
    let Some(text) = answer.map(str::trim) else {
        let cause = format!("it is not said {}, and it is not guessed", about.asks());
        return Err(Refusal::unreadable("answer_missing", about, cause, remedies()));
    };
    DecimalMark::ALL.into_iter().find(|mark| mark.word() == text).ok_or_else(|| {
        let cause = format!("`{}` is no decimal mark; expected `point` or `comma`", shortened(text));
        Refusal::unreadable("decimal_mark_unreadable", about, cause, remedies())
    })
}

/// How an act under way ends early.
enum Stopped {
    Refused(Refusal),
    /// A dry run, or findings: nothing is kept.
    Looked(Vec<ImportRow>, Vec<ImportFinding>),
}

impl From<BookError> for Stopped {
    fn from(error: BookError) -> Self {
        Self::Refused(error.into())
    }
}

impl From<PostError> for Stopped {
    fn from(error: PostError) -> Self {
        Self::Refused(error.into())
    }
}

/// Says what an import would do. It does all that the import does, in the same transaction, and keeps nothing; so what it says is what
/// would be.
///
/// # Errors
/// [`Refusal`] when the book cannot be read or written.
pub fn dry_run(studio: &mut Studio, moment: &Moment, bytes: &[u8], mark: DecimalMark) -> Result<DryRun, Refusal> {
    let table = read_shelf(bytes, mark);
    let separator = table.separator;
    let looked = |rows, findings, before| DryRun { separator, mark, rows, findings, before };
    match act(studio, moment, &table, false) {
        Ok(done) => Ok(looked(Vec::new(), Vec::new(), Some(done))),
        Err(Stopped::Looked(rows, findings)) => Ok(looked(rows, findings, None)),
        Err(Stopped::Refused(refusal)) => Err(refusal),
    }
}

/// Puts a table of jars and bottles on the shelf, all of it in one act.
///
/// # Errors
/// [`Refusal`]: the first finding, when there is any; that nothing is in the table; that the book cannot be written. Nothing is kept then.
pub fn import(studio: &mut Studio, moment: &Moment, bytes: &[u8], mark: DecimalMark) -> Result<Done, Refusal> {
    act(studio, moment, &read_shelf(bytes, mark), true).map_err(|stopped| match stopped {
        Stopped::Refused(refusal) => refusal,
        Stopped::Looked(_, findings) => match findings.first() {
            Some(first) => refusal(first, findings.len() - 1),
            None => {
                let cause = "every row of the table is left out: nothing in it is on a shelf and holds anything";
                Refusal::rule("nothing_asked", Question::Table, cause.into(), vec![Remedy::ShowShelf])
            }
        },
    })
}

fn act(studio: &mut Studio, moment: &Moment, table: &ShelfTable, commit: bool) -> Result<Done, Stopped> {
    let stamp = moment.asked(table).map_err(Stopped::Refused)?;
    let acted = studio.book.act(&stamp, "import", |acting| {
        let mut shelf = Shelf::now(acting)?;
        let mut findings: Vec<ImportFinding> = table.findings.iter().map(of_cell).collect();
        let (mut rows, mut said, mut draft) = (Vec::new(), Vec::new(), Draft::default());
        for row in &table.rows {
            if let Some(why) = left_out(row) {
                let name = row.name.clone().unwrap_or_default();
                rows.push(ImportRow { line: row.line, name, does: Does::LeaveOut(why) });
                continue;
            }
            let put = came(row).and_then(|came| {
                let (item, own) = came.put(acting, &shelf, row.name.as_deref(), &mut draft)?;
                Ok((item, own, came))
            });
            match put {
                Ok((item, own, came)) => {
                    let metal =
                        came.metal.map(|(element, mass)| format!("{} g {element}", significant(mass.to_grams(), 6)));
                    let does = Does::Shelve { kind: item.kind, amount: came.contents.words(), metal };
                    rows.push(ImportRow { line: row.line, name: item.name.clone(), does });
                    // That it is there, and how much; the rest would be a page for a long list.
                    said.extend(own.into_iter().take(1));
                    shelf.add(item);
                }
                // A book that cannot be written is no fault of the row.
                Err(refusal) if !matches!(refusal.kind, RefusalKind::Unreadable | RefusalKind::Refused) => {
                    return Err(Stopped::Refused(refusal));
                }
                Err(refusal) => findings.push(of_row(row, refusal)),
            }
        }
        findings.sort_by_key(|finding| finding.line);
        if !commit || !findings.is_empty() || said.is_empty() {
            return Err(Stopped::Looked(rows, findings));
        }
        let body = json!({ "v": 1, "said": said });
        Ok(Deed { body, entry: acting.admit(draft)? })
    })?;
    Ok(Done::of(&acted))
}

/// Why a row is no part of a shelf.
fn left_out(row: &ShelfRow) -> Option<&'static str> {
    let nothing = row.mass.is_some_and(|mass| mass.is_zero()) || row.volume.is_some_and(|volume| volume.is_zero());
    match row.standing {
        Standing::Retired => Some("it is put away"),
        Standing::Undone => Some("the act that brought it was taken back"),
        Standing::Here => nothing.then_some("it is empty"),
    }
}

fn of_cell(own: &CellFinding) -> ImportFinding {
    // What is not there, or is no text, cannot be shown.
    let shown = !matches!(own.fault, Fault::ColumnMissing | Fault::NotText);
    ImportFinding {
        line: own.line,
        column: own.column.clone(),
        seen: if shown { own.seen.clone() } else { String::new() },
        code: own.fault.code(),
        message: own.to_string(),
        hint: own.hint.clone(),
    }
}

/// The column that answers a question, and the answer.
fn column(row: &ShelfRow, about: Question) -> (&'static str, Option<String>) {
    let Receive {
        formula,
        name,
        mass,
        volume,
        level,
        gross,
        empty,
        capacity,
        density,
        purity,
        purity_of,
        hydrate,
        percent,
        molarity,
        metal_per_ml,
        day,
        balance,
        ..
    } = answers(row);
    match about {
        Question::Substance | Question::Powder => ("formula", formula),
        Question::Name => ("name", name),
        Question::Item => ("kind", row.kind.map(|kind| kind.word().into())),
        Question::JarMass => ("mass_g", mass),
        Question::Volume => ("volume_ml", volume),
        Question::Level => ("level_percent", level),
        Question::Gross => ("gross_g", gross),
        Question::Empty => ("empty_g", empty),
        Question::Capacity => ("capacity_ml", capacity),
        Question::Density => ("density_g_per_ml", density),
        Question::Purity => ("purity_percent", purity),
        Question::PurityOf => ("purity_of", purity_of),
        Question::Hydrate => ("hydrate", hydrate),
        Question::Percent => ("percent_wv", percent),
        Question::Molarity => ("molarity_mol_per_l", molarity),
        Question::MetalPerMl => ("metal_mg_per_ml", metal_per_ml),
        Question::Chloride => ("chloride", row.chloride.clone()),
        Question::Date => ("day", day),
        Question::Balance => ("balance_g", balance),
        _ => ("", None),
    }
}

fn of_row(row: &ShelfRow, refusal: Refusal) -> ImportFinding {
    let (column, seen) = match refusal.code {
        "metal_differs" | "metal_not_named" => ("metal", row.metal.map(|own| own.to_string())),
        "metal_above_contents" | "metal_amount_missing" => {
            ("metal_g", row.metal_mass.map(|mass| significant(mass.to_grams(), 9)))
        }
        _ => refusal.about.map_or(("", None), |about| column(row, about)),
    };
    ImportFinding {
        line: row.line,
        column: column.into(),
        seen: refusal.excerpt.map(|own| own.text).or(seen).unwrap_or_default(),
        code: refusal.code,
        message: refusal.cause,
        hint: column_named(column).map_or(String::new(), |own| own.takes.into()),
    }
}

/// The first finding as the refusal of an import.
fn refusal(first: &ImportFinding, more: usize) -> Refusal {
    let place = if first.column.is_empty() {
        format!("line {}", first.line)
    } else {
        format!("line {}, column {}", first.line, first.column)
    };
    let more = if more == 0 { String::new() } else { format!(" (and {more} more)") };
    let chars = 0..first.seen.chars().count();
    let excerpt = Excerpt { text: first.seen.clone(), chars };
    Refusal {
        code: first.code,
        kind: RefusalKind::Unreadable,
        about: Some(Question::Table),
        cause: format!("{place}: {}{more}; nothing was imported", first.message),
        excerpt: Some(excerpt).filter(|own| !own.text.is_empty() && own.text.chars().count() <= 60).map(Box::new),
        remedies: vec![Remedy::LookFirst],
    }
}
