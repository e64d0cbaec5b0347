//! A plan as rows of words and numbers, the same on the screen and on paper.

use handcoat_craft::measure::{
    Bounded, Mass, MassFraction, Uncertain, Volume, decimals_of_step, digits, fixed, percent, significant,
    with_uncertainty,
};
use handcoat_craft::source::{ABOVE_THE_TABLE, LARGEST_CYLINDER_ML, cylinder_for};
use handcoat_craft::stock::{AgainstNeed, Balance, Batch, Cause, Formula, Goal, LeftOpen, Plan, named};
use handcoat_figures::Bar;

/// What a line of a plan is about, so that nothing is looked for by its words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RowKind {
    /// The alkali chloride to weigh.
    Chloride,
    /// The powder to weigh, or the vial it comes in.
    Powder,
    /// The water to dissolve in.
    Dissolve,
    /// The water of one rinse.
    Rinse,
    /// The mark to make up to.
    Mark,
    /// Water added, all of it together, or what it comes to.
    Added,
    /// What it will be.
    Result,
}

/// One line: what it is, the number, its unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// What it is about.
    pub kind: RowKind,
    /// What it is.
    pub label: String,
    /// The number, already rounded.
    pub value: String,
    /// Its unit; empty where the number has none.
    pub unit: String,
    /// CAS number, for a substance that has one.
    pub cas: Option<&'static str>,
}

pub(super) fn row_of(kind: RowKind, label: impl Into<String>, value: impl Into<String>, unit: &str) -> Row {
    Row { kind, label: label.into(), value: value.into(), unit: unit.into(), cas: None }
}

fn row(label: impl Into<String>, value: impl Into<String>, unit: &str) -> Row {
    row_of(RowKind::Result, label, value, unit)
}

/// Name and formula of a substance: names before symbols, the formula beside the name.
pub(super) fn substance(formula: &Formula) -> (String, Option<&'static str>) {
    let subscripted = formula.subscripted();
    match named(formula) {
        Some(compound) => (format!("{}, {subscripted}", compound.name), compound.cas),
        None => (subscripted, None),
    }
}

/// A mass as the scale would show it; to the milligram without one, and where it was said finer than the scale shows.
pub(super) fn grams(mass: Mass, balance: Option<Balance>) -> String {
    let shown = balance.filter(|own| mass.to_micrograms() % own.step().to_micrograms() == 0);
    match (shown, balance) {
        (Some(own), _) => fixed(mass.to_grams(), decimals_of_step(own.step())),
        (None, Some(own)) => {
            let (exact, least) = (significant(mass.to_grams(), 7), decimals_of_step(own.step()));
            let decimals = exact.split_once('.').map_or(0, |own| own.1.len()).max(least);
            fixed(mass.to_grams(), decimals)
        }
        (None, None) => fixed(mass.to_grams(), 3),
    }
}

/// A volume to a tenth of a millilitre under 100 mL, whole above.
pub(super) fn millilitres(volume: Volume) -> String {
    let ml = volume.to_millilitres();
    let text = fixed(ml, if ml < 100.0 { 1 } else { 0 });
    text.strip_suffix(".0").map_or(text.clone(), String::from)
}

/// A quantity whose ± is not reckoned: to three digits, zeros kept so that they line up in a column.
#[must_use]
pub fn plain<Q: Bounded>(quantity: Q) -> String {
    digits(quantity.in_unit(), 3)
}

/// A part by mass in percent, to a thousandth of one.
#[must_use]
pub fn mass_percent(part: MassFraction) -> String {
    fixed(part.to_ratio() * 100.0, 3)
}

/// With its ± when the scale is known, to four digits when it is not.
pub(super) fn estimate<Q: Bounded>(quantity: &Uncertain<Q>, known: bool) -> String {
    if known { with_uncertainty(quantity).to_string() } else { significant(quantity.best.in_unit(), 4) }
}

/// What a plan is called: metal and volume.
#[must_use]
pub fn title(plan: &Plan) -> String {
    title_of(plan, &plan.batch)
}

/// The same for the batch a way led to.
pub(super) fn title_of(plan: &Plan, batch: &Batch) -> String {
    let metal = plan.request.powder.salt().metal().name();
    let mut letters = metal.chars();
    let metal: String = letters.next().map(|first| first.to_ascii_uppercase()).into_iter().chain(letters).collect();
    format!("{metal} stock, {} mL", millilitres(batch.volume.best))
}

/// What to weigh and measure, in the order of the work: the chloride goes into the water first.
#[must_use]
pub fn weigh_rows(plan: &Plan) -> Vec<Row> {
    let (request, batch, water) = (&plan.request, &plan.batch, &plan.water);
    let mut rows = Vec::new();
    if !batch.chloride.is_zero() {
        let (label, cas) = substance(request.chloride.formula());
        rows.push(Row { cas, ..row_of(RowKind::Chloride, label, grams(batch.chloride, request.balance), "g") });
    }
    let (name, cas) = substance(request.powder.salt().formula());
    let label = if request.powder.salt().is_chloroplatinate() { format!("one sealed vial of {name}") } else { name };
    let vial_scale = request.balance.filter(|_| !request.powder.salt().is_chloroplatinate());
    rows.push(Row { cas, ..row_of(RowKind::Powder, label, grams(batch.salt, vial_scale), "g") });
    rows.push(row_of(RowKind::Dissolve, "distilled water, to dissolve in", millilitres(water.dissolve), "mL"));
    if water.rinses > 0 {
        let label = match water.rinses {
            1 => String::from("distilled water, one rinse of"),
            2 => String::from("distilled water, two rinses, each of"),
            more => format!("distilled water, {more} rinses, each of"),
        };
        rows.push(row_of(RowKind::Rinse, label, millilitres(water.rinse), "mL"));
    }
    match plan.water_added {
        None => rows.push(row_of(RowKind::Mark, "make up to the mark", millilitres(batch.volume.best), "mL")),
        Some(all) => {
            rows.push(row_of(RowKind::Added, "all the water together", millilitres(all), "mL"));
            rows.push(row_of(RowKind::Added, "comes to about (an estimate)", estimate(&batch.volume, true), "mL"));
        }
    }
    rows
}

/// What it will be.
#[must_use]
pub fn result_rows(plan: &Plan, batch: &Batch) -> Vec<Row> {
    let strengths = &batch.strengths;
    let known = strengths.relative.is_some();
    let metal = plan.request.powder.salt().metal().name();
    let complex = plan.complex.subscripted();
    let mut rows = vec![
        row("strength", estimate(&strengths.molarity, known), "mol/L"),
        row(metal, estimate(&strengths.metal, known), "mg/mL"),
        row(format!("as {complex}, anhydrous"), estimate(&strengths.complex, known), "g per 100 mL"),
        row("powder as weighed", significant(strengths.salt.to_grams_per_100_ml(), 4), "g per 100 mL"),
    ];
    if let Some(against) = batch.against_the_need() {
        rows.push(row("added chloride per metal", estimate(&batch.chloride_to_metal, known), "mol/mol"));
        let (label, part) = match against {
            AgainstNeed::Under(part) => ("chloride less than is needed", part),
            AgainstNeed::Over(part) => ("chloride more than is needed", part),
        };
        rows.push(row(label, percent(part).trim_end_matches(" %"), "%"));
    }
    let recovered = plan.water.recovery.recovered();
    rows.push(row("metal that reaches the bottle", fixed(recovered * 100.0, 2), "%"));
    rows.extend(cost_rows(plan, batch));
    rows
}

/// What the powder of a batch costs, and what a millilitre does; nothing without a price.
fn cost_rows(plan: &Plan, batch: &Batch) -> Vec<Row> {
    let Some(cost) = plan.cost_of(batch) else { return Vec::new() };
    let (currency, written) = (cost.currency(), cost.to_string());
    let number = written.split(' ').next().unwrap_or(&written);
    let mut rows = vec![row("cost of the powder", number, currency.letters())];
    if let Some(each) = cost.per_millilitre(batch.volume.best) {
        rows.push(row("cost per mL", fixed(each, usize::from(currency.minor_digits())), &currency.to_string()));
    }
    rows
}

/// What a budget was compared with; nothing where money was not the question.
#[must_use]
pub fn budget_words(plan: &Plan) -> Option<String> {
    let Goal::Spend(budget, _) = plan.request.goal else { return None };
    let price = plan.request.price?;
    Some(format!("for {budget} at {price}: as much powder as that buys by the gram, whole jars not counted"))
}

/// A cause of uncertainty in words.
#[must_use]
pub fn cause_words(cause: Cause) -> &'static str {
    match cause {
        Cause::SaltWeighing => "weighing the powder",
        Cause::ChlorideWeighing => "weighing the chloride",
        Cause::Measuring => "measuring the strong liquid",
        Cause::Glass => "the mark of the glass",
        Cause::SolidsRoom => "the room the solids take",
        Cause::AtomicWeights => "atomic weights",
    }
}

/// The causes of a strength's uncertainty as bars to draw; what is under a hundred-thousandth is left out.
#[must_use]
pub fn bars(batch: &Batch) -> Vec<Bar> {
    let seen = batch.strengths.causes.iter().filter(|(_, own)| *own > 1e-5);
    seen.map(|&(cause, relative)| Bar { label: cause_words(cause).into(), relative }).collect()
}

/// What the uncertainty was reckoned from, one thing a line: the scale's step, the glass. Nothing without a scale.
#[must_use]
pub fn known_by(plan: &Plan, batch: &Batch) -> Vec<String> {
    let Some(balance) = plan.request.balance else { return Vec::new() };
    let measured = plan.water_added.unwrap_or(batch.volume.best);
    let glass = glass_words(plan.request.glass, measured);
    let step = significant(balance.step().to_grams(), 4);
    let mut words = vec![format!("scale reading {step} g, tare and load each ± half a step"), glass];
    words.extend(not_in_it(&plan.left_open()));
    words
}

/// How far the glass may be off: as stated, that of a class B cylinder, or a part of the volume.
pub(super) fn glass_words(glass: Option<Volume>, measured: Volume) -> String {
    match (glass, cylinder_for(measured)) {
        (Some(tolerance), _) => format!("glass ±{} mL, as stated", significant(tolerance.to_millilitres(), 3)),
        (None, Some(cylinder)) => {
            format!(
                "class B cylinder of {} mL, ±{} mL ({} {})",
                cylinder.capacity_ml, cylinder.tolerance_ml, cylinder.cite.key, cylinder.cite.status
            )
        }
        (None, None) => {
            format!("glass above {} mL, ±{}", LARGEST_CYLINDER_ML.value, percent(ABOVE_THE_TABLE.value))
        }
    }
}

/// What no ± holds, in words; none when nothing is open.
#[must_use]
pub fn not_in_it(open: &[LeftOpen]) -> Option<String> {
    let open: Vec<&str> = open.iter().map(|own| own.words()).collect();
    let (last, before) = open.split_last()?;
    let before = before.join(", ");
    Some(if before.is_empty() {
        format!("not in the ±: {last}")
    } else {
        format!("not in the ±: {before}, and {last}")
    })
}
