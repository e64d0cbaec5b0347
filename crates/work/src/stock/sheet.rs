//! The bench sheet of a plan: one page to work from with wet gloves.

use handcoat_craft::measure::{percent, significant};
use handcoat_craft::stock::{Hydration, Plan, Purity, PurityOf, Way};
use handcoat_figures::{Theme, chloride_scale, uncertainty_bars};
use handcoat_sheets::{BenchSheet, SheetRow};

use super::Planned;
use super::rows::{Row, RowKind, bars, cause_words, grams, known_by, result_rows, title_of, weigh_rows};
use super::steps::steps;
use super::ways::{on_glass, strength_off, way_care, way_words, weighed_words};
use crate::{Day, Question, Refusal, Remedy};

/// What a sheet says beyond the plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetFacts {
    /// Whose studio.
    pub studio: Option<String>,
    /// The day it carries.
    pub day: Day,
    /// A line that says the data are invented, for samples.
    pub invented: bool,
}

/// Sets the bench sheet as a PDF.
///
/// # Errors
/// [`Refusal`] with code `sheet_not_set` when the page cannot be set.
pub fn bench_sheet(planned: &Planned, facts: &SheetFacts) -> Result<Vec<u8>, Refusal> {
    set(&compose(planned, facts), facts)
}

/// Sets a composed sheet.
pub(super) fn set(sheet: &BenchSheet, facts: &SheetFacts) -> Result<Vec<u8>, Refusal> {
    handcoat_sheets::bench_sheet(sheet).map_err(|error| {
        let long = facts.studio.as_ref().map(|_| Remedy::Shorten(Question::Studio));
        let remedies = long.into_iter().chain([Remedy::LeaveOut(Question::OutputFile)]).collect();
        Refusal::file("sheet_not_set", Question::OutputFile, error.to_string(), remedies)
    })
}

fn compose(planned: &Planned, facts: &SheetFacts) -> BenchSheet {
    let plan = &planned.plan;
    let balance = plan.request.balance;
    let mut weigh = weigh_rows(plan);
    let now = planned.as_weighed.as_ref();
    let vial = now.filter(|_| plan.request.powder.salt().is_chloroplatinate());
    if let (Some(mass), Some(row)) = (vial.and_then(|now| now.weighed.salt), row_mut(&mut weigh, RowKind::Powder)) {
        row.value = grams(mass, balance);
    }
    // Before the water the one way on from a vial is to make up: its sheet says to which mark.
    let made_up = vial.and_then(|now| now.ways.first()).filter(|out| matches!(out.way, Way::MakeUpTo { .. }));
    if let (Some(out), Some(mark)) = (made_up, row_mut(&mut weigh, RowKind::Mark)) {
        mark.value = on_glass(plan, out.batch.volume.best);
    }
    let made_up = made_up.map(|out| &out.batch);
    // Once it is mixed, what was in the vial stands in the planned volume.
    let mixed = vial.filter(|now| now.weighed.mixed && now.weighed.salt.is_some()).map(|now| &now.batch);
    // What it will be: as the vial was made up or mixed, or as planned until a way is chosen.
    let batch = made_up.or(mixed).unwrap_or(&plan.batch);
    let relative = batch.strengths.relative_expanded();
    let bars = bars(batch);
    let steps = steps(planned, &weigh);
    BenchSheet {
        title: title_of(plan, batch),
        studio: facts.studio.clone(),
        day: facts.day.numbers(),
        invented: facts.invented,
        jar: jar_words(plan),
        warnings: plan.warnings.iter().map(ToString::to_string).collect(),
        weigh: weigh.into_iter().map(sheet_row).collect(),
        result: result_rows(plan, batch).into_iter().map(sheet_row).collect(),
        dominant: batch.dominant().map(|(cause, part)| {
            let whole = relative.map_or(String::new(), |own| format!(" The strength is known to ±{}.", percent(own)));
            format!(
                "± is k = 2; {} dominates it ({} of the variance).{whole} Reckoned from: {}.",
                cause_words(cause),
                percent(part),
                known_by(plan, batch).join("; ")
            )
        }),
        weighed: weighed(planned),
        ways: ways(planned),
        steps,
        bars: (!bars.is_empty()).then(|| uncertainty_bars(&bars, Theme::Paper)),
        chloride: batch.chloride_excess().and(relative).map(|_| chloride_scale(&batch.chloride_to_metal, Theme::Paper)),
    }
}

fn sheet_row(row: Row) -> SheetRow {
    SheetRow { label: row.label, value: row.value, unit: row.unit, cas: row.cas }
}

fn jar_words(plan: &Plan) -> String {
    let powder = &plan.request.powder;
    let purity = match powder.purity() {
        Purity::Unstated => String::from("purity not stated"),
        Purity::Stated { fraction, of } => {
            let meaning = match of {
                PurityOf::Salt => "salt by mass",
                PurityOf::Metal => "metal by mass",
                PurityOf::Trace => "trace metals basis",
                PurityOf::Unknown => "meaning not known",
            };
            format!("{} %, {meaning}", significant(fraction.to_ratio() * 100.0, 5))
        }
    };
    let water = match powder.hydration() {
        Hydration::Stated => "water as in the formula",
        Hydration::AsWritten => "water not stated; taken as in the formula",
        Hydration::Unstated(_) => "water not stated",
        Hydration::Unknown => "water not known",
    };
    format!("{}: {purity}; {water}", powder.salt().formula().subscripted())
}

fn row_mut(rows: &mut [Row], kind: RowKind) -> Option<&mut Row> {
    rows.iter_mut().find(|row| row.kind == kind)
}

fn weighed(planned: &Planned) -> Option<String> {
    let now = planned.as_weighed.as_ref()?;
    let strength = strength_off(now).map(|off| format!("In the planned volume that is {off}."));
    Some(weighed_words(&planned.plan, now).into_iter().chain(strength).collect::<Vec<_>>().join(" "))
}

fn ways(planned: &Planned) -> Vec<(String, String)> {
    let Some(now) = &planned.as_weighed else { return Vec::new() };
    now.ways
        .iter()
        .chain(&now.chloride_ways)
        .map(|out| {
            let (heading, words) = way_words(&planned.plan, out);
            let cost = out.more_in_stock().map_or(String::new(), |extra| format!("; {extra} more in stock"));
            let care = way_care(out).map_or(String::new(), |care| format!(" Mind: {care}."));
            (heading.into(), format!("{words}{cost}.{care}"))
        })
        .collect()
}
