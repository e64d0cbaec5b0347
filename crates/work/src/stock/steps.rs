//! The steps of mixing a stock, in the order of the bench.

use handcoat_craft::source::READY_AFTER;
use handcoat_craft::stock::{AsWeighed, Plan, Way};
use handcoat_sheets::SheetStep;

use super::Planned;
use super::rows::{Row, RowKind};

pub(super) fn step(what: impl Into<String>) -> SheetStep {
    SheetStep { what: what.into(), target: None, write: Vec::new(), care: None }
}

/// Fills in a step, one thing at a time.
pub(super) trait Filled {
    fn to(self, target: Option<String>) -> Self;
    fn writing(self, blanks: &[&str]) -> Self;
    fn minding(self, care: &str) -> Self;
}

impl Filled for SheetStep {
    fn to(self, target: Option<String>) -> Self {
        Self { target, ..self }
    }

    fn writing(self, blanks: &[&str]) -> Self {
        Self { write: blanks.iter().map(|blank| String::from(*blank)).collect(), ..self }
    }

    fn minding(self, care: &str) -> Self {
        Self { care: Some(care.into()), ..self }
    }
}

const DENSE: &str = "It is dense and pours suddenly. No dust: glasses and gloves stay on.";

/// The steps. A caution stands in its step, before what is done.
pub(super) fn steps(planned: &Planned, rows: &[Row]) -> Vec<SheetStep> {
    let vial = planned.plan.request.powder.salt().is_chloroplatinate();
    match &planned.as_weighed {
        Some(now) if now.weighed.mixed => after_mixing(now),
        // What was weighed is not printed again, and the ways stand above with boxes of their own.
        Some(now) if !vial => from_the_weighing_on(planned, now, rows),
        _ => from_the_beginning(planned, rows),
    }
}

/// Number and unit of a row.
pub(super) fn target(rows: &[Row], kind: RowKind) -> Option<String> {
    rows.iter().find(|row| row.kind == kind).map(|row| format!("{} {}", row.value, row.unit))
}

/// All of them; a vial's stay as they are when its content is known beforehand.
fn from_the_beginning(planned: &Planned, rows: &[Row]) -> Vec<SheetStep> {
    let plan = &planned.plan;
    let salt = plan.request.powder.salt();
    let mut steps = vec![
        step("Glasses and gloves on; a sheet of glass under everything"),
        step("Write the name on the bottle; weigh it empty with its dropper").writing(&["g"]),
    ];
    let chloride_steps = chloride_steps(planned, rows);
    let water = if chloride_steps.is_empty() { target(rows, RowKind::Dissolve) } else { None };
    steps.extend(chloride_steps);
    if salt.is_chloroplatinate() {
        let care = "Closed until water goes in: never weigh out, tap or scrape this salt dry. Its dust can make you \
                    allergic for life.";
        steps.push(step("Weigh the sealed vial").writing(&["g"]).minding(care));
        steps.push(step("Dissolve all of it in its vial; pour, and rinse the vial into the beaker").to(water));
        steps.push(step("Dry the empty vial with its cap and weigh it; the difference was in it").writing(&["g"]));
    } else {
        let formula = salt.formula().subscripted();
        steps.push(
            step(format!("New paper, tare; weigh the {formula}"))
                .to(target(rows, RowKind::Powder))
                .writing(&["tare", "load"])
                .minding(DENSE),
        );
        steps.push(step(format!("Close the jar; add the {formula} to the solution")));
    }
    steps.push(stir());
    steps.extend(to_the_mark(plan, rows));
    steps.extend(finish());
    steps
}

/// The chloride goes into the water first. Weighed already, it is only dissolved; nothing when there is none.
fn chloride_steps(planned: &Planned, rows: &[Row]) -> Vec<SheetStep> {
    let plan = &planned.plan;
    let now = planned.as_weighed.as_ref();
    let chloride = plan.request.chloride.formula().subscripted();
    let water = target(rows, RowKind::Dissolve);
    match now.map(|now| now.weighed) {
        Some(weighed) if weighed.chloride.is_some_and(|mass| !mass.is_zero()) => {
            let of_the_way = now.is_some_and(|now| !now.chloride_ways.is_empty());
            let which = if of_the_way { " of the way chosen" } else { "" };
            vec![step(format!("Dissolve the {chloride}{which} in the water till clear")).to(water)]
        }
        _ if plan.batch.chloride.is_zero() => Vec::new(),
        Some(weighed) if weighed.salt.is_some() && !plan.request.powder.salt().is_chloroplatinate() => {
            let what = format!("If it is not in the water yet: weigh the {chloride} and dissolve it till clear");
            vec![step(what).to(target(rows, RowKind::Chloride)).writing(&["tare", "load"])]
        }
        _ => vec![
            step(format!("New paper, tare; weigh the {chloride}"))
                .to(target(rows, RowKind::Chloride))
                .writing(&["tare", "load"]),
            step("Dissolve it in the water till clear").to(water),
        ],
    }
}

/// Pouring, rinsing, and filling as planned.
fn to_the_mark(plan: &Plan, rows: &[Row]) -> [SheetStep; 2] {
    let pour = match plan.water.rinses {
        0 => String::from("Pour into the cylinder"),
        1 => String::from("Pour into the cylinder; rinse the beaker into it once, with"),
        times => format!("Pour into the cylinder; rinse the beaker into it {times} times, each with"),
    };
    let fill = match plan.water_added {
        None => step("Distilled water to the mark of the cylinder").to(target(rows, RowKind::Mark)),
        Some(_) => step("Read what it came to: that is the true volume").writing(&["mL"]),
    };
    [step(pour).to(target(rows, RowKind::Rinse)), fill]
}

fn stir() -> SheetStep {
    step("Stir until clear, without sediment; let it cool to room temperature")
        .minding("In a warm water bath, not on a naked plate.")
}

/// From the cylinder to the shelf.
fn finish() -> [SheetStep; 3] {
    let rest =
        format!("Look again after {} hours: clear, deep colour; warm it if there are crystals", READY_AFTER.value);
    [
        step("Pour into the bottle, cap, turn over ten times"),
        step("Weigh full, wipe wet").writing(&["g"]),
        step(rest).writing(&["day"]),
    ]
}

fn to_choose(now: &AsWeighed) -> Option<SheetStep> {
    let ways = now.ways.len() + now.chloride_ways.len();
    (ways > 0).then(|| step("Tick one way above; its numbers replace the plan's"))
}

fn label(now: &AsWeighed) -> SheetStep {
    match to_choose(now) {
        Some(_) => step("Write the strength of the way chosen on the label").writing(&["%"]),
        None => step("Write the strength on the label").writing(&["%"]),
    }
}

/// Something of a jar was weighed: choose, weigh what is still missing, then go on with the numbers of that way.
fn from_the_weighing_on(planned: &Planned, now: &AsWeighed, rows: &[Row]) -> Vec<SheetStep> {
    let plan = &planned.plan;
    let formula = plan.request.powder.salt().formula().subscripted();
    let mut steps = Vec::from_iter(to_choose(now));
    steps.extend(chloride_steps(planned, rows));
    if now.powder_to_come() {
        let weigh = step(format!("New paper, tare; weigh the {formula}")).writing(&["tare", "load"]).minding(DENSE);
        let other_mass = now.chloride_ways.iter().any(|out| matches!(out.way, Way::FollowChloride { .. }));
        let planned = target(rows, RowKind::Powder);
        steps.push(match planned {
            Some(planned) if other_mass => {
                SheetStep { what: format!("{}: {planned}, or as the way chosen says", weigh.what), ..weigh }
            }
            planned => weigh.to(planned),
        });
    }
    steps.push(step(format!("Close the jar; add the {formula} to the solution")));
    steps.push(stir());
    if to_choose(now).is_none() {
        steps.extend(to_the_mark(plan, rows));
    } else if plan.water_added.is_none() {
        steps.push(step("Pour into the cylinder, rinse, and fill to the mark of the way chosen").writing(&["mL"]));
    } else {
        steps.push(
            step("Pour into the cylinder and rinse; fill to the mark of the way chosen, or read").writing(&["mL"]),
        );
    }
    steps.push(label(now));
    steps.extend(finish());
    steps
}

/// In solution already, from a jar or a vial: what is left is to choose, to label and to keep.
fn after_mixing(now: &AsWeighed) -> Vec<SheetStep> {
    let mut steps = Vec::from_iter(to_choose(now));
    steps.push(label(now));
    steps.extend(finish());
    steps
}
