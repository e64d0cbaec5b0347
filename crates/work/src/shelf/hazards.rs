//! What a supplier's sheet says of hazards, entered by the maker.

use handcoat_book::{Deed, HazardSheet};
use handcoat_craft::ledger::ItemCode;

use super::content::body;
use super::find::Shelf;
use super::label::{ReadSheet, read_hazards};
use crate::stock::needed;
use crate::{Day, Done, Moment, Question, Refusal, Remedy, Studio};

/// A supplier's sheet, as far as a label needs it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct EnterHazards {
    /// Jar, bottle or vial.
    pub item: Option<String>,
    /// Whose sheet.
    pub supplier: Option<String>,
    /// Its date.
    pub date: Option<String>,
    /// `Danger` or `Warning`.
    pub signal_word: Option<String>,
    /// `H290`, `H317`, …
    pub statements: Vec<String>,
    /// `GHS05`, …
    pub pictograms: Vec<String>,
    /// The sheet is of the pure substance and not of what is in the bottle.
    pub of_pure_substance: bool,
}

/// Enters a supplier's sheet. Nothing is guessed: an unknown code is refused.
///
/// # Errors
/// [`Refusal`] when a code is unknown, or supplier or date are missing: hazards without their source are hearsay.
pub fn enter_hazards(studio: &mut Studio, moment: &Moment, answers: &EnterHazards) -> Result<Done, Refusal> {
    let sheet = HazardSheet {
        supplier: needed(Question::Supplier, answers.supplier.as_ref(), "the supplier's name")?.trim().into(),
        date: sheet_date(needed(Question::SheetDate, answers.date.as_ref(), "2026-01-20")?)?,
        signal_word: answers.signal_word.clone(),
        statements: answers.statements.clone(),
        pictograms: answers.pictograms.clone(),
        of_pure_substance: answers.of_pure_substance,
    };
    if sheet.supplier.is_empty() {
        let cause = String::from("a supplier without a name is no source");
        let remedies = vec![Remedy::Write(Question::Supplier, "the supplier's name".into())];
        return Err(Refusal::unreadable("name_unreadable", Question::Supplier, cause, remedies));
    }
    let ReadSheet { statements, pictograms, .. } = read_hazards(&sheet)?;
    let acted = studio.book.act(&moment.asked(answers)?, "hazards", |acting| {
        let shelf = Shelf::now(acting)?;
        let item = shelf.find(Question::Item, needed(Question::Item, answers.item.as_ref(), "palladium stock")?)?;
        let mut changed = item.clone();
        changed.facts.hazards = Some(sheet.clone());
        acting.change_item(&changed)?;
        let said = vec![format!(
            "{}: {} statements and {} pictograms from {}'s sheet of {}. Print a new label for it.",
            item.name,
            statements.len(),
            pictograms.len(),
            sheet.supplier,
            sheet.date
        )];
        Ok::<_, Refusal>(Deed { body: body(item, &said), entry: None })
    })?;
    Ok(Done::of(&acted))
}

/// A day, asked for as the date on the sheet: a refusal of it belongs beside that question.
fn sheet_date(written: &str) -> Result<String, Refusal> {
    let about = Question::SheetDate;
    let day = Day::read(written).map_err(|refusal| Refusal {
        about: Some(about),
        remedies: vec![Remedy::Write(about, "2026-01-20".into())],
        ..refusal
    })?;
    Ok(day.to_string())
}

/// A supplier's sheet that was entered, for the list on the emergency page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SuppliersSheet {
    /// The code on the item's label.
    pub code: ItemCode,
    /// The item's name.
    pub name: String,
    /// Whose sheet.
    pub supplier: String,
    /// Its date.
    pub date: String,
    /// It is of the pure substance.
    pub of_pure_substance: bool,
}

/// The suppliers' sheets entered for what is on the shelf, in the order it came.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn suppliers_sheets(studio: &Studio) -> Result<Vec<SuppliersSheet>, Refusal> {
    let items = studio.book.items_here()?;
    let sheet = |item: handcoat_book::Item| {
        let sheet = item.facts.hazards?;
        Some(SuppliersSheet {
            code: ItemCode::of(item.number),
            name: item.name,
            supplier: sheet.supplier,
            date: sheet.date,
            of_pure_substance: sheet.of_pure_substance,
        })
    };
    Ok(items.into_iter().filter_map(sheet).collect())
}
