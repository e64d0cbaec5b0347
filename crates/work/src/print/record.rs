//! A print that was made.

use std::collections::BTreeMap;

use handcoat_book::{Acting, Deed, Record, RecordKind, Stamp, Standing};
use handcoat_craft::ledger::{Account, CoatNumber, Draft, PrintNumber};
use handcoat_craft::measure::{Area, Money, Span, capitalised};
use jiff::Timestamp;

use super::coat::{coat_number, empty, not_there, open_coat, read_number, title};
use super::pour::{add_cost, pour_all};
use super::sheet::{CoatSheet, PrintSheet, Sum, coated};
use super::table::FIELDS;
use crate::field::{Field, Form};
use crate::keep::{AREA, Fields, HOURS, SHEETS, area_of, hours_of, record_body};
use crate::negative::{find_negative, link_doubts_within, link_to};
use crate::{Done, Moment, Question, Refusal, Studio};

/// A print as it was made.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct PrintMade {
    pub title: Option<String>,
    /// Each `BOTTLE=23` drops, or `BOTTLE=1.15mL`: what was poured and not recorded as a coat.
    pub pours: Vec<String>,
    pub drops_per_ml: Option<String>,
    /// Numbers of coats that were recorded before.
    pub coats: Vec<String>,
    /// The print it repeats.
    pub repeats: Option<String>,
    /// Answers by the key of their field.
    pub fields: BTreeMap<&'static str, String>,
}

/// Records a print. Its number is never used again. Any field may be unknown.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, or a coat is a print or spoiled already.
pub fn record(studio: &mut Studio, moment: &Moment, answers: &PrintMade) -> Result<Done, Refusal> {
    record_once(studio, moment, &moment.asked(answers)?, answers)
}

/// The same under a stamp of its own: a step of a session is done once, whatever is known of it when it is tapped again.
pub(crate) fn record_once(
    studio: &mut Studio,
    moment: &Moment,
    stamp: &Stamp,
    answers: &PrintMade,
) -> Result<Done, Refusal> {
    let acted = studio.book.act(stamp, "print", |acting| {
        let name = title(answers.title.as_ref())?;
        let mut fields = Fields::default().read(FIELDS, &answers.fields)?;
        let ordinal = acting.next_ordinal(RecordKind::Print)?;
        let number = PrintNumber::new(ordinal).ok_or_else(|| not_there(RecordKind::Print, Question::Print, ordinal))?;
        let mut draft = Draft::default();
        let mut sheet = PrintSheet { v: 1, at: Some(moment.at), ..PrintSheet::default() };
        if let Some(written) = &answers.repeats {
            let first = read_number(Question::Print, written)?;
            let there = acting.record(RecordKind::Print, first)?.filter(|own| own.standing != Standing::Undone);
            sheet.repeats = Some(there.ok_or_else(|| not_there(RecordKind::Print, Question::Print, first))?.ordinal);
        }
        let mut said = vec![format!("Print {ordinal} is recorded: {name}.")];
        let mut cost: Vec<Money> = Vec::new();
        let mut coats: Vec<(Record, CoatSheet)> = Vec::new();
        for written in &answers.coats {
            let found = open_coat(acting, written)?;
            if coats.iter().all(|(own, _)| own.ordinal != found.0.ordinal) {
                coats.push(found);
            }
        }
        for (record, own) in &coats {
            // What was said of the sheet when it was coated stands, unless the record says otherwise.
            for (key, known) in [("image", &own.image), ("margin", &own.margin), ("paper", &own.paper)] {
                if let Some(text) = known.as_ref().filter(|_| !answers.fields.contains_key(key)) {
                    fields.set(key, text.clone());
                }
            }
            let held: Vec<Money> = own.cost.iter().filter_map(Sum::money).collect();
            add_cost(&mut cost, &held);
            sheet.cost_incomplete |= own.cost_incomplete;
            sheet.coats.push(record.ordinal);
            sheet.pours.extend(own.pours.iter().cloned());
        }
        for (record, _) in &coats {
            let coat: CoatNumber = coat_number(record.ordinal)?;
            empty(&acting.balances_of([Account::Coat(coat)])?, coat, Account::Print(number), &mut draft);
        }
        if !answers.pours.is_empty() {
            let to = Account::Print(number);
            let all = pour_all(acting, &answers.pours, answers.drops_per_ml.as_ref(), moment.at, to, &mut draft)?;
            add_cost(&mut cost, &all.cost);
            sheet.cost_incomplete |= all.cost_incomplete;
            sheet.pours.extend(all.pours);
            said.extend(all.said);
        }
        sheet.cost = cost.into_iter().map(Sum::of).collect();
        let counted = coats.iter().filter(|(_, own)| own.sheet_counted).count();
        link(acting, &mut fields, &mut sheet, moment.at, i64::try_from(counted).unwrap_or(0), &mut said)?;
        sheet.fields = fields.to_json();
        let record = acting.add_record(RecordKind::Print, &name, &sheet.to_json())?;
        for (mut coat, mut own) in coats {
            own.print = Some(ordinal);
            coat.facts = own.to_json();
            coat.standing = Standing::Retired;
            acting.change_record(&coat)?;
        }
        Ok::<_, Refusal>(Deed { body: record_body(&record, &said), entry: acting.admit(draft)? })
    })?;
    Ok(Done::of(&acted))
}

/// What the records a print names say today is kept with it, and what it used of them is counted; `counted` sheets were, by its coats.
fn link(
    acting: &mut Acting<'_>,
    fields: &mut Fields,
    sheet: &mut PrintSheet,
    at: Timestamp,
    counted: i64,
    said: &mut Vec<String>,
) -> Result<(), Refusal> {
    let area = coated(fields)?;
    let mut bath_area: Option<f64> = None;
    for field in FIELDS {
        let (Form::Record(kind), Some(text)) = (field.form, fields.text(field.key)) else { continue };
        let found = match kind {
            RecordKind::Negative => negative_named(acting, text)?,
            _ => acting.records(kind)?.into_iter().find(|own| own.name.to_lowercase() == text.to_lowercase()),
        };
        let Some(record) = found else {
            said.push(format!("No {} called `{text}` is in the book; it is kept as words.", kind.word()));
            continue;
        };
        let (own, counts) = (Fields::of(&record.facts), acting.counts(&record)?);
        match kind {
            RecordKind::Paper => {
                sheet.paper_lot = own.text("lot").map(String::from);
                sheet.paper_cost = own.quantity::<Money>("price")?.map(Sum::of);
                // One sheet to a print, however many coats it had and where it was counted; only a paper whose sheets were counted in.
                if counts.contains_key(SHEETS) {
                    acting.count(&record, SHEETS, counted - 1);
                }
            }
            RecordKind::Lamp => {
                sheet.lamp_hours = hours_of(&own, &counts);
                if let Some(time) = fields.quantity::<Span>("time")? {
                    acting.count(&record, HOURS, time.to_seconds().round() as i64);
                }
            }
            RecordKind::Bath => {
                if field.key == "developer" {
                    sheet.developer_days = own.text("made").and_then(|day| super::pour::age(day, at));
                } else if let Some(had) = area_of(&counts) {
                    let metres = had.to_square_centimetres() / 10_000.0;
                    bath_area = Some(bath_area.map_or(metres, |most| most.max(metres)));
                }
                if let Some(area) = area {
                    acting.count(&record, AREA, square_millimetres(area));
                }
            }
            RecordKind::Negative => {
                fields.set(field.key, record.name.clone());
                sheet.negative_range = own.number("range");
                said.extend(link_negative(acting, sheet, &record, at)?);
            }
            _ => {}
        }
    }
    sheet.bath_area = bath_area;
    Ok(())
}

/// The negative of a print by what was written of it: its name, its number, or the mark in its border. The film may be gone by the day the print
/// is written down.
pub(super) fn negative_named(acting: &Acting<'_>, written: &str) -> Result<Option<Record>, Refusal> {
    Ok(find_negative(&acting.records_ever(RecordKind::Negative)?, written)?.cloned())
}

/// Leads a print to the file of its negative; says what by now speaks against the curve of that.
pub(super) fn link_negative(
    acting: &Acting<'_>,
    sheet: &mut PrintSheet,
    negative: &Record,
    at: Timestamp,
) -> Result<Vec<String>, Refusal> {
    sheet.negative_made = link_to(negative)?;
    let Some(link) = &sheet.negative_made else { return Ok(Vec::new()) };
    let mut said = vec![format!("Printed from {} ({}).", negative.name, link.words())];
    if negative.standing != Standing::Here {
        said.push(format!("Negative {} was put away; its record stays.", negative.ordinal));
    }
    let doubts = link_doubts_within(acting, link, at)?;
    said.extend(doubts.into_iter().map(|own| format!("{}.", capitalised(&own))));
    Ok(said)
}

fn square_millimetres(area: Area) -> i64 {
    (area.to_square_centimetres() * 100.0).round() as i64
}

/// The question that the field with this key answers.
pub(super) fn question(key: &str) -> Question {
    // OK because keys are written in this crate, and a test asks for each of them.
    FIELDS.iter().find(|own| own.key == key).map(Field::question).expect("BUG: a field that is in no table")
}
