//! Labels of what is on the shelf, and the pages that go with them.

use handcoat_book::{HazardSheet, Item};
use handcoat_craft::ledger::{ItemCode, ItemKind};
use handcoat_craft::measure::{Uncertain, shortened, significant, with_uncertainty};
use handcoat_craft::source::{
    EMERGENCY_DEFERS, HazardCodeUnknown, HazardStatement, Pictogram, SignalWord, emergency, pictograms_shown,
};
use handcoat_craft::stock::named;
use handcoat_sheets::{
    EmergencyFacts, Hazards, LABEL_STOCKS, Label, LabelStock, Millimetres, Offset, SheetError, SheetHazards, WallSheet,
    calibration_page, emergency_page, labels,
};
use jiff::Timestamp;

use super::find::Shelf;
use super::hazards::suppliers_sheets;
use super::solution::Solute;
use super::view::{ItemView, Notice, shelf_item};
use crate::{Day, Question, Refusal, Remedy, Studio};

/// Which labels, on which paper.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LabelAnswers {
    /// Names or codes, one label each.
    pub items: Vec<String>,
    /// Which sheet of labels: its number in the list, or its own measures in millimetres.
    pub on: Option<String>,
    /// The first free position, counted row by row from 1.
    pub start: Option<String>,
    /// How far the printer has to be led, `1.5,-0.5` millimetres to the right and down.
    pub offset: Option<String>,
}

/// Names of the sheets of labels known here, in the order of their numbers.
#[must_use]
pub fn label_sheets() -> Vec<String> {
    LABEL_STOCKS.iter().map(|stock| stock.name.to_string()).collect()
}

/// Sets labels as a PDF.
///
/// # Errors
/// [`Refusal`] when an item is not on the shelf, or its label does not go on that paper.
pub fn label(studio: &Studio, answers: &LabelAnswers, now: Timestamp) -> Result<Vec<u8>, Refusal> {
    let stock = read_stock(answers.on.as_deref())?;
    let start = read_start(answers.start.as_deref())?;
    let offset = read_offset(answers.offset.as_deref())?;
    let all = Shelf::of(studio.book.items()?);
    let base = studio.book.fact("base_url")?;
    let wanted = answers.items.iter().map(|text| words(&shelf_item(studio, text, now)?, &all, base.as_deref()));
    let wanted = wanted.collect::<Result<Vec<_>, Refusal>>()?;
    labels(&wanted, &stock, start, offset, Day::of_instant(now).numbers()).map_err(|error| refusal(&error))
}

/// Sets the page that shows how far a printer is off.
///
/// # Errors
/// [`Refusal`] when the paper's measures cannot be read.
pub fn printer_page(answers: &LabelAnswers, now: Timestamp) -> Result<Vec<u8>, Refusal> {
    let (stock, offset) = (read_stock(answers.on.as_deref())?, read_offset(answers.offset.as_deref())?);
    calibration_page(&stock, offset, Day::of_instant(now).numbers()).map_err(|error| refusal(&error))
}

/// Sets the emergency page for the wall. A studio's own number stands on it when it is known, and which suppliers' sheets were entered.
///
/// # Errors
/// [`Refusal`] when the page cannot be set.
pub fn wall_page(studio: Option<&Studio>, number: Option<String>, now: Timestamp) -> Result<Vec<u8>, Refusal> {
    let fact = |name: &str| studio.map_or(Ok(None), |studio| studio.book.fact(name));
    let entered = studio.map_or(Ok(Vec::new()), suppliers_sheets)?;
    let sheets = entered.into_iter().map(|own| WallSheet { item: own.name, supplier: own.supplier, date: own.date });
    let facts = EmergencyFacts {
        studio: fact("studio")?,
        sheets: sheets.collect(),
        emergency_number: number.or(fact("emergency_number")?),
        poison_centre: fact("poison_centre")?,
        defers: EMERGENCY_DEFERS.text.into(),
        day: Day::of_instant(now).numbers(),
    };
    emergency_page(&facts, emergency()).map_err(|error| refusal(&error))
}

fn words(view: &ItemView, all: &Shelf, base: Option<&str>) -> Result<Label, Refusal> {
    let formula = view.formula.as_ref();
    let compound = formula.and_then(named);
    let facts = &view.facts;
    let code = ItemCode::of(view.number).to_string();
    let solution = view.kind == ItemKind::Bottle;
    Ok(Label {
        name: view.name.clone(),
        content: compound.map(|own| own.name.into()),
        formula: formula.map(|own| own.subscripted()),
        cas: compound.and_then(|own| own.cas).map(String::from),
        form: Some(form(view, solution)),
        strength: strength(view),
        batch: facts.lot.clone(),
        made: facts.day.clone().or_else(|| Some(Day::of_instant(view.since).to_string())),
        ready_after: facts.ready_after.map(|at| Day::of_instant(at).to_string()),
        empty_weight: facts.empty_ug.map(|ug| format!("{} g", significant(ug as f64 * 1e-6, 7))),
        qr: Some(base.map_or_else(|| code.clone(), |base| format!("{}/shelf/{code}", base.trim_end_matches('/')))),
        hazards: hazards(view, all)?,
        code,
    })
}

/// What it is in; iron with chlorate says what its cap must be.
fn form(view: &ItemView, solution: bool) -> String {
    let vented = view.notices.iter().any(|notice| matches!(notice, Notice::ChlorateInIron(_)));
    match (solution, vented) {
        (true, true) => "solution in water; vented cap, never warm".into(),
        (true, false) => "solution in water".into(),
        (false, _) => "powder".into(),
    }
}

/// How strong, with its ± where it is known; of a powder its purity.
fn strength(view: &ItemView) -> Option<String> {
    if view.kind != ItemKind::Bottle {
        return view.facts.purity.clone().map(|purity| format!("{} pure", purity.trim()));
    }
    if !view.dissolved.is_empty() {
        return Some(view.dissolved.iter().map(Solute::short).collect::<Vec<_>>().join("; "));
    }
    let metal = view.metal.map(|(element, _)| element)?;
    let strength = view.strength?;
    let per_ml = match view.facts.strength_rel_u.filter(|own| *own > 0.0) {
        Some(own) => {
            let known = Uncertain::new(strength, strength.to_milligrams_per_millilitre() * own);
            format!("{} mg {metal}/mL", with_uncertainty(&known))
        }
        None => format!("{} mg {metal}/mL", significant(strength.to_milligrams_per_millilitre(), 3)),
    };
    let percent = view.percent.map(|own| format!("{} %, ", significant(own.to_grams_per_100_ml(), 3)));
    Some(format!("{}{per_ml}", percent.unwrap_or_default()))
}

/// Its own supplier's sheet; else that of the powder it was made of, as of the pure substance; else nothing was entered.
fn hazards(view: &ItemView, all: &Shelf) -> Result<Hazards, Refusal> {
    if let Some(own) = &view.facts.hazards {
        let sheet = signs(own)?;
        return Ok(if own.of_pure_substance { Hazards::PureSubstance(sheet) } else { Hazards::FromSheet(sheet) });
    }
    if view.facts.dissolved.len() > 1 {
        return mixture(view, all);
    }
    match source_of(&view.facts.made_of, all, DEEPEST) {
        // What was swept is still the powder of its jar; what was dissolved is not.
        Some(source) if view.kind == ItemKind::Vial => Ok(Hazards::FromSheet(signs(source)?)),
        Some(source) => Ok(Hazards::PureSubstance(signs(source)?)),
        None => Ok(Hazards::NotEntered),
    }
}

/// Of several things in one bottle every sheet counts, and one that is missing is said.
fn mixture(view: &ItemView, all: &Shelf) -> Result<Hazards, Refusal> {
    let mut whole = HazardSheet {
        supplier: String::new(),
        date: String::new(),
        signal_word: None,
        statements: Vec::new(),
        pictograms: Vec::new(),
        of_pure_substance: true,
    };
    let (mut suppliers, mut missing): (Vec<&str>, bool) = (Vec::new(), false);
    for sheet in sheets_of(&view.facts.made_of, all, DEEPEST) {
        let Some(sheet) = sheet else {
            missing = true;
            continue;
        };
        suppliers.extend(Some(sheet.supplier.as_str()).filter(|own| !suppliers.contains(own)));
        // The oldest date: from then on something may have changed.
        if whole.date.is_empty() || sheet.date < whole.date {
            whole.date.clone_from(&sheet.date);
        }
        let graver = |word: &String| word.eq_ignore_ascii_case("danger");
        if whole.signal_word.is_none() || sheet.signal_word.as_ref().is_some_and(graver) {
            whole.signal_word.clone_from(&sheet.signal_word);
        }
        for (into, from) in [(&mut whole.statements, &sheet.statements), (&mut whole.pictograms, &sheet.pictograms)] {
            for code in from {
                if !into.contains(code) {
                    into.push(code.clone());
                }
            }
        }
    }
    if suppliers.is_empty() {
        return Ok(Hazards::NotEntered);
    }
    suppliers.extend(missing.then_some("not entered for all that is in it"));
    whole.supplier = suppliers.join("; ");
    Ok(Hazards::PureSubstance(signs(&whole)?))
}

/// How many splits and mixings are followed back to a supplier's sheet.
const DEEPEST: u32 = 12;

/// The nearest sheet among what something was made of, and what that was made of.
fn source_of<'s>(made_of: &[u32], all: &'s Shelf, deeper: u32) -> Option<&'s HazardSheet> {
    let sources: Vec<&Item> = made_of.iter().filter_map(|number| all.numbered(*number)).collect();
    let own = sources.iter().find_map(|item| item.facts.hazards.as_ref());
    let next = deeper.checked_sub(1)?;
    own.or_else(|| sources.iter().find_map(|item| source_of(&item.facts.made_of, all, next)))
}

/// The sheets of everything something was made of, nearest first; none for what has no sheet.
fn sheets_of<'s>(made_of: &[u32], all: &'s Shelf, deeper: u32) -> Vec<Option<&'s HazardSheet>> {
    let sources = made_of.iter().filter_map(|number| all.numbered(*number));
    sources
        .flat_map(|item| match (&item.facts.hazards, deeper.checked_sub(1)) {
            (Some(own), _) => vec![Some(own)],
            (None, Some(next)) if !item.facts.made_of.is_empty() => sheets_of(&item.facts.made_of, all, next),
            (None, _) => vec![None],
        })
        .collect()
}

fn signs(sheet: &HazardSheet) -> Result<SheetHazards, Refusal> {
    let ReadSheet { statements, pictograms, signal_word } = read_hazards(sheet)?;
    Ok(SheetHazards {
        supplier: sheet.supplier.clone(),
        date: sheet.date.clone(),
        signal_word,
        pictograms: pictograms_shown(&pictograms, &statements),
        statements: statements.iter().map(|own| (own.code.into(), own.text.into())).collect(),
    })
}

/// A supplier's sheet with its codes read.
pub(super) struct ReadSheet {
    pub(super) statements: Vec<&'static HazardStatement>,
    pub(super) pictograms: Vec<Pictogram>,
    pub(super) signal_word: Option<SignalWord>,
}

/// Reads the codes and words of a supplier's sheet; also to refuse a slip when they are entered.
pub(super) fn read_hazards(sheet: &HazardSheet) -> Result<ReadSheet, Refusal> {
    let unknown = |about: Question, example: &str| {
        let example = example.to_owned();
        move |error: HazardCodeUnknown| {
            Refusal::unreadable(error.code(), about, error.to_string(), vec![Remedy::Write(about, example.clone())])
        }
    };
    let statements = sheet.statements.iter().map(|code| HazardStatement::from_code(code));
    let statements = statements.collect::<Result<Vec<_>, _>>().map_err(unknown(Question::HazardStatement, "H290"))?;
    let pictograms = sheet.pictograms.iter().map(|code| Pictogram::from_code(code));
    let pictograms = pictograms.collect::<Result<Vec<_>, _>>().map_err(unknown(Question::Pictogram, "GHS05"))?;
    let signal = sheet.signal_word.as_deref().map(str::parse::<SignalWord>).transpose();
    let signal_word = signal.map_err(unknown(Question::SignalWord, "Danger"))?;
    Ok(ReadSheet { statements, pictograms, signal_word })
}

fn refusal(error: &SheetError) -> Refusal {
    let (about, remedy) = match error {
        SheetError::Start { .. } => (Question::LabelStart, Remedy::Write(Question::LabelStart, "1".into())),
        SheetError::NoLabels => (Question::Item, Remedy::ShowShelf),
        SheetError::Offset { .. } => (Question::LabelOffset, Remedy::Write(Question::LabelOffset, "0,0".into())),
        SheetError::LabelFull { .. } | SheetError::Stock { .. } | SheetError::Blank { .. } => {
            (Question::LabelSheet, Remedy::Write(Question::LabelSheet, "1".into()))
        }
        _ => (Question::OutputFile, Remedy::LeaveOut(Question::OutputFile)),
    };
    Refusal::rule(error.code(), about, error.to_string(), vec![remedy])
}

/// A sheet by its number, or measures: page, label, columns × rows, first label, pitch.
fn read_stock(answer: Option<&str>) -> Result<LabelStock, Refusal> {
    let text = answer.unwrap_or("1").trim();
    if let Some(known) = text.parse::<usize>().ok().and_then(|number| LABEL_STOCKS.get(number.wrapping_sub(1))) {
        return Ok(known.clone());
    }
    let pairs: Vec<(f64, f64)> = text.split_whitespace().filter_map(pair).collect();
    match pairs.as_slice() {
        [page, label, (columns, rows), first, pitch] if whole(*columns) && whole(*rows) => Ok(LabelStock {
            name: format!("own sheet, {columns} × {rows} of {} × {} mm", label.0, label.1).into(),
            page_width: Millimetres::new(page.0),
            page_height: Millimetres::new(page.1),
            label_width: Millimetres::new(label.0),
            label_height: Millimetres::new(label.1),
            columns: *columns as u16,
            rows: *rows as u16,
            left: Millimetres::new(first.0),
            top: Millimetres::new(first.1),
            column_pitch: Millimetres::new(pitch.0),
            row_pitch: Millimetres::new(pitch.1),
        }),
        _ => {
            let about = Question::LabelSheet;
            let known: Vec<String> =
                label_sheets().iter().zip(1..).map(|(name, number)| format!("{number} ({name})")).collect();
            let cause = format!(
                "`{}` is no sheet of labels; expected one of {}, or its measures in millimetres: page, label, columns and rows, \
                 place of the first, pitch",
                shortened(text),
                known.join(", ")
            );
            let own = "210x297 63.5x38.1 3x7 7.25x15.15 66x38.1";
            let remedies = vec![Remedy::Write(about, "1".into()), Remedy::Write(about, own.into())];
            Err(Refusal::unreadable("label_sheet_unreadable", about, cause, remedies))
        }
    }
}

fn whole(number: f64) -> bool {
    number.fract() == 0.0 && (1.0..=100.0).contains(&number)
}

/// Two numbers joined by `x`.
fn pair(text: &str) -> Option<(f64, f64)> {
    let (one, other) = text.split_once(['x', '×'])?;
    Some((one.parse().ok()?, other.parse().ok()?))
}

fn read_start(answer: Option<&str>) -> Result<usize, Refusal> {
    let Some(text) = answer else { return Ok(1) };
    text.trim().parse().map_err(|_| {
        let about = Question::LabelStart;
        let cause = format!("`{}` is no position; expected a whole number from 1", shortened(text.trim()));
        Refusal::unreadable("count_unreadable", about, cause, vec![Remedy::Write(about, "1".into())])
    })
}

fn read_offset(answer: Option<&str>) -> Result<Offset, Refusal> {
    let Some(text) = answer else { return Ok(Offset::default()) };
    let parts = text.split_once(',').and_then(|(right, down)| {
        let read = |part: &str| part.trim().trim_end_matches("mm").trim().parse::<f64>().ok();
        Some((read(right)?, read(down)?))
    });
    let (right, down) = parts.ok_or_else(|| {
        let about = Question::LabelOffset;
        let cause =
            format!("`{}` is no offset; expected millimetres to the right and down as `1.5,-0.5`", shortened(text));
        Refusal::unreadable("offset_unreadable", about, cause, vec![Remedy::Write(about, "1.5,-0.5".into())])
    })?;
    Ok(Offset { right: Millimetres::new(right), down: Millimetres::new(down) })
}
