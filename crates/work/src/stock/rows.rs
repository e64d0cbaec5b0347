//! A plan as rows of words and numbers, the same on the screen and on paper.

use handcoat_craft::measure::{
    Bounded, Mass, Uncertain, Volume, decimals_of_step, fixed, percent, significant, with_uncertainty,
};
use handcoat_craft::source::{ABOVE_THE_TABLE, LARGEST_CYLINDER_ML, cylinder_for};
use handcoat_craft::stock::{
    AgainstNeed, AsWeighed, Balance, Batch, Cause, Formula, LeftOpen, Plan, Powder, Way, WayOut, named,
};
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

fn row_of(kind: RowKind, label: impl Into<String>, value: impl Into<String>, unit: &str) -> Row {
    Row { kind, label: label.into(), value: value.into(), unit: unit.into(), cas: None }
}

fn row(label: impl Into<String>, value: impl Into<String>, unit: &str) -> Row {
    row_of(RowKind::Result, label, value, unit)
}

/// Name and formula of a substance: names before symbols, the formula beside the name.
fn substance(formula: &Formula) -> (String, Option<&'static str>) {
    let subscripted = formula.subscripted();
    match named(formula) {
        Some(compound) => (format!("{}, {subscripted}", compound.name), compound.cas),
        None => (subscripted, None),
    }
}

/// A mass as the scale would show it; to the milligram without one.
pub(super) fn grams(mass: Mass, balance: Option<Balance>) -> String {
    fixed(mass.to_grams(), balance.map_or(3, |balance| decimals_of_step(balance.step())))
}

/// A mass the scale can weigh: to its nearest step, to the milligram without one.
fn weighable(mass: Mass, balance: Option<Balance>) -> String {
    let rounded = balance.and_then(|balance| mass.to_step(balance.step()).ok());
    grams(rounded.unwrap_or(mass), balance)
}

/// A mass that must be reached: never rounded down.
fn at_least(mass: Mass, balance: Option<Balance>) -> String {
    let milligram = Mass::micrograms(1000).unwrap_or_default();
    let step = balance.map_or(milligram, Balance::step);
    grams(mass.up_to_step(step).unwrap_or(mass), balance)
}

/// A volume as finely as the glass can do.
pub(super) fn on_glass(plan: &Plan, volume: Volume) -> String {
    fixed(volume.to_millilitres(), plan.glass_decimals(volume))
}

/// A volume to a tenth of a millilitre under 100 mL, whole above.
fn millilitres(volume: Volume) -> String {
    let ml = volume.to_millilitres();
    let text = fixed(ml, if ml < 100.0 { 1 } else { 0 });
    text.strip_suffix(".0").map_or(text.clone(), String::from)
}

/// With its ± when the scale is known, plain to three digits when it is not.
fn estimate<Q: Bounded>(quantity: &Uncertain<Q>, known: bool) -> String {
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
            2 => String::from("distilled water, two rinses of"),
            more => format!("distilled water, {more} rinses of"),
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
            AgainstNeed::Under(part) => ("chloride under the bare need", part),
            AgainstNeed::Over(part) => ("chloride over the bare need", part),
        };
        rows.push(row(label, percent(part).trim_end_matches(" %"), "%"));
    }
    let recovered = plan.water.recovery.recovered();
    rows.push(row("of the metal leaves the beaker", fixed(recovered * 100.0, 2), "%"));
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
        rows.push(row("that is", fixed(each, usize::from(currency.minor_digits())), &format!("{currency} per mL")));
    }
    rows
}

/// A cause of uncertainty in words.
#[must_use]
pub fn cause_words(cause: Cause) -> &'static str {
    match cause {
        Cause::SaltWeighing => "weighing the powder",
        Cause::ChlorideWeighing => "weighing the chloride",
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
    let glass = match (plan.request.glass, cylinder_for(measured)) {
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
    };
    let step = significant(balance.step().to_grams(), 4);
    let mut words = vec![format!("scale reading {step} g, tare and load each ± half a step"), glass];
    words.extend(not_in_it(&plan.request.powder));
    words
}

/// What no ± of this powder holds, in words; none when nothing is open.
#[must_use]
pub fn not_in_it(powder: &Powder) -> Option<String> {
    let open: Vec<&str> = powder.left_open().into_iter().map(LeftOpen::words).collect();
    (!open.is_empty()).then(|| format!("not in the ±: {}", open.join(", and ")))
}

/// What was weighed, what is taken as planned and what is still to be weighed, one thing a sentence.
#[must_use]
pub fn weighed_words(plan: &Plan, now: &AsWeighed) -> Vec<String> {
    let balance = plan.request.balance;
    let salt = plan.request.powder.salt();
    let (powder, chloride) = (salt.formula().subscripted(), plan.request.chloride.formula().subscripted());
    let planned = (grams(plan.batch.salt, balance), grams(plan.batch.chloride, balance));
    let place = if salt.is_chloroplatinate() { "In the vial" } else { "On the pan" };
    let mut words = Vec::new();
    match now.weighed.salt {
        Some(mass) => {
            words.push(format!("{place}: {} g of {powder}, planned {} g.", grams(mass, balance), planned.0));
        }
        None if now.weighed.mixed => words.push(format!("{powder} is taken as planned, {} g.", planned.0)),
        None if salt.is_chloroplatinate() => {
            words.push(format!("Still to be dissolved: one sealed vial of {powder}, {} g.", planned.0));
        }
        None => words.push(format!("Still to be weighed: {powder}, {} g planned.", planned.0)),
    }
    match now.weighed.chloride {
        Some(mass) => {
            words.push(format!("In the beaker: {} g of {chloride}, planned {} g.", grams(mass, balance), planned.1));
        }
        None if plan.batch.chloride.is_zero() => {}
        None => words.push(format!("{chloride} is taken as planned, {} g.", planned.1)),
    }
    words
}

/// How far the strength is off the plan: `8.8 % stronger`; none when it is not.
#[must_use]
pub fn strength_off(now: &AsWeighed) -> Option<String> {
    now.strength_off().map(|off| {
        let direction = if off > 0.0 { "stronger" } else { "weaker" };
        format!("{} {direction}", percent(off.abs()))
    })
}

/// A way on in words: a heading, and what to do.
#[must_use]
pub fn way_words(plan: &Plan, out: &WayOut) -> (&'static str, String) {
    let (heading, mut words) = way_itself(plan, out);
    if let Way::MakeUpTo { .. } | Way::FollowChloride { .. } = &out.way
        && let Some(less) = plan.water_to_leave_out(&out.batch)
    {
        words.push_str(&format!("; dissolve and rinse with {} mL less water than planned", millilitres(less)));
    }
    if let Some(cure) = out.cure {
        let formula = plan.request.chloride.formula().subscripted();
        let must = at_least(cure, plan.request.balance);
        words.push_str(&format!("; then add at least {must} g of {formula} and stir"));
    }
    (heading, words)
}

fn way_itself(plan: &Plan, out: &WayOut) -> (&'static str, String) {
    let balance = plan.request.balance;
    let bottle = |holds: Option<bool>| match (holds, plan.request.bottle) {
        (Some(true), Some(bottle)) => format!("; the {} mL bottle holds it", millilitres(bottle)),
        (Some(false), Some(bottle)) => format!("; too much for the {} mL bottle", millilitres(bottle)),
        _ => String::new(),
    };
    let salt = plan.request.powder.salt().formula().subscripted();
    let chloride = plan.request.chloride.formula().subscripted();
    match &out.way {
        Way::PutBack(mass) => (
            "Put some back",
            format!("return {} g of {salt} to the jar from the clean paper", weighable(*mass, balance)),
        ),
        Way::WeighMore(mass) => ("Weigh more", format!("add {} g of {salt}", weighable(*mass, balance))),
        Way::MakeUpTo { volume, chloride_to_add, chloride_must_add, bottle_holds } => {
            let heading = if *volume > plan.batch.volume.best { "Make more" } else { "Make less" };
            let ratio = weighable(*chloride_to_add, balance);
            let must = if plan.request.powder.salt().chlorides_needed() == 0.0 {
                String::new()
            } else if !chloride_must_add.is_zero() {
                let must = at_least(*chloride_must_add, balance);
                format!("; add at least {must} g of {chloride}, {ratio} g keeps the ratio")
            } else if !chloride_to_add.is_zero() {
                format!("; no {chloride} need be added, {ratio} g keeps the ratio")
            } else {
                format!("; no {chloride} need be added")
            };
            (heading, format!("make up to {} mL{must}{}", on_glass(plan, *volume), bottle(*bottle_holds)))
        }
        Way::KeepAndRelabel => {
            let percent = significant(out.batch.strengths.complex.best.to_grams_per_100_ml(), 3);
            let complex = plan.complex.subscripted();
            ("Keep it and relabel", format!("the label will say {percent} % as {complex}"))
        }
        Way::Dilute { water, volume, bottle_holds } => (
            "Dilute to the label",
            format!(
                "add {} mL of distilled water, {} mL in all{}",
                on_glass(plan, *water),
                on_glass(plan, *volume),
                bottle(*bottle_holds)
            ),
        ),
        Way::PutBackChloride(mass) => (
            "Put some chloride back",
            format!("return {} g of {chloride} from the clean paper, while it is dry", weighable(*mass, balance)),
        ),
        Way::WeighMoreChloride(mass) => {
            ("Weigh more chloride", format!("add {} g of {chloride}", weighable(*mass, balance)))
        }
        Way::FollowChloride { salt: mass, volume, bottle_holds } => (
            "Follow the chloride",
            format!(
                "weigh {} g of {salt} in all and make up to {} mL{}",
                weighable(*mass, balance),
                on_glass(plan, *volume),
                bottle(*bottle_holds)
            ),
        ),
        Way::KeepChloride => {
            let ratio = significant(out.batch.chloride_to_metal.best.to_ratio(), 3);
            ("Keep the chloride", format!("{ratio} added chloride per metal"))
        }
    }
}
