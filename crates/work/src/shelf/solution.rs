//! Bottles that hold no stock of palladium or platinum: how they are mixed, and what is dissolved in them.

use handcoat_book::{Acting, Deed, Dissolved, Facts, Item};
use handcoat_craft::ledger::{Account, Draft, ItemKind};
use handcoat_craft::measure::{Bounded, Mass, Molarity, PercentByVolume, Uncertain, Volume, significant};
use handcoat_craft::source::{Class, Element, Harm, Keeps};
use handcoat_craft::stock::solution::{Solid, made_up_u, strength_made};
use handcoat_craft::stock::{
    Balance, Formula, Hydrate, Purity, Strength, classes, density_of, grouped, keeping_of, kept_metal, meetings,
    molar_mass, prepared, thinned_u,
};
use jiff::{SignedDuration, Timestamp};

use super::content::{Contents, Held, account_of, body, fill, fresh, take};
use super::find::Shelf;
use super::mix::{Mix, Weighed, amount};
use crate::stock::{read_balance, read_hydrate, read_purity, read_solid, read_solute, read_weighing, solute_name};
use crate::{Day, Question, Refusal, Remedy};

/// A solid in a solution, as it is shown.
#[derive(Clone, Debug, PartialEq)]
pub struct Solute {
    /// Its formula, with the water that is stated.
    pub formula: Formula,
    /// What the trade calls it.
    pub name: String,
    /// Grams of the pure solid per 100 mL.
    pub percent: PercentByVolume,
    /// Its relative standard uncertainty, when it is known.
    pub percent_rel_u: Option<f64>,
    /// Whether its form is open.
    pub form_open: bool,
    /// The least and the most it may be in moles per litre; the same where the form is known.
    pub molarity: Option<(Molarity, Molarity)>,
}

impl Solute {
    /// For a label: percentage, name, and that its form is not stated.
    #[must_use]
    pub fn short(&self) -> String {
        let open =
            if self.form_open && classes(&self.formula).contains(&Class::Iron) { ", form not stated" } else { "" };
        format!("{} % {}{open}", significant(self.percent.in_unit(), 3), self.name)
    }

    /// With its moles per litre, or their range.
    #[must_use]
    pub fn long(&self) -> String {
        let percent = significant(self.percent.in_unit(), 4);
        let moles = |own: Molarity, digits| significant(own.in_unit(), digits);
        let rest = match self.molarity {
            Some((least, most)) if self.form_open => {
                format!(" (form not stated, {} to {} mol/L)", moles(least, 2), moles(most, 2))
            }
            Some((_, most)) => format!(" ({} mol/L)", moles(most, 3)),
            None => String::new(),
        };
        format!("{percent} % {}{rest}", self.name)
    }
}

/// What is dissolved in something on the shelf. What cannot be read any more is left out.
#[must_use]
pub fn solutes(facts: &Facts) -> Vec<Solute> {
    facts.dissolved.iter().filter_map(solute).collect()
}

fn solute(own: &Dissolved) -> Option<Solute> {
    let formula: Formula = own.formula.parse().ok()?;
    let hydrate = read_hydrate(own.hydrate.as_ref()).ok()?;
    // The formula may hold the stated water already.
    let hydrate = if formula.waters() > 0.0 { Hydrate::AsWritten } else { hydrate };
    let solid = read_solid(formula, hydrate, Purity::Unstated).ok()?;
    let percent = PercentByVolume::grams_per_100_ml(own.percent).ok()?;
    let moles =
        |form: &Formula| Molarity::moles_per_litre(own.percent * 10.0 / molar_mass(form).best.to_grams_per_mole()).ok();
    let forms = solid.forms();
    Some(Solute {
        name: solute_name(solid.formula()),
        percent,
        percent_rel_u: own.percent_rel_u,
        form_open: solid.form_open() && forms.len() > 1,
        molarity: forms.last().and_then(moles).zip(forms.first().and_then(moles)),
        formula: solid.formula().clone(),
    })
}

/// What a bottle somebody else mixed holds, as its label says; none where that cannot be said in grams.
pub(super) fn bought(solid: &Formula, hydrate: Option<&str>, strength: Strength) -> Result<Option<Dissolved>, Refusal> {
    let hydrate = hydrate.map(String::from);
    let own = read_solid(solid.clone(), read_hydrate(hydrate.as_ref())?, Purity::Unstated)?;
    let percent = match strength {
        Strength::ComplexPercent(percent) | Strength::SaltPer100Ml(percent) => percent.in_unit(),
        Strength::Molarity(molarity) if !own.form_open() => {
            molarity.in_unit() * molar_mass(own.formula()).best.to_grams_per_mole() / 10.0
        }
        Strength::Molarity(_) | Strength::Metal(_) => return Ok(None),
    };
    Ok(Some(Dissolved { formula: own.formula().to_string(), hydrate, percent, percent_rel_u: None }))
}

fn formula_of(item: &Item) -> Option<Formula> {
    item.facts.formula.as_deref().and_then(|text| text.parse().ok())
}

/// Whether something holds neither palladium nor platinum, as far as is known.
fn holds_no_stock(item: &Item) -> bool {
    formula_of(item).is_some_and(|own| own.count(Element::PD) == 0.0 && own.count(Element::PT) == 0.0)
}

/// Whether a solution is mixed from it and not a stock of palladium or platinum. Plain salt alone is most likely the wrong
/// jar; with something beside it, it is not.
pub(super) fn makes_a_solution(item: &Item, answers: &Mix) -> bool {
    let known = formula_of(item).is_some_and(|own| prepared(&own).is_some());
    holds_no_stock(item) && (known || !answers.and.is_empty() || answers.volume.is_some())
}

/// Refuses an answer that this sort of mixing has no use for.
pub(super) fn not_asked(given: &[(Question, bool)], of: &str) -> Result<(), Refusal> {
    match given.iter().find(|(_, given)| *given) {
        None => Ok(()),
        Some(&(about, _)) => {
            let cause = format!("{} is answered, and it is not asked of {of}", about.asks());
            Err(Refusal::rule("answer_not_asked", about, cause, vec![Remedy::LeaveOut(about)]))
        }
    }
}

/// What was taken for a solution.
struct Part<'s> {
    item: &'s Item,
    taken: Contents,
    about: Question,
}

fn parts<'s>(shelf: &'s Shelf, from: &'s Item, answers: &Mix) -> Result<Vec<Part<'s>>, Refusal> {
    let (about, text) = match (from.kind, &answers.mass, &answers.volume) {
        (ItemKind::Bottle, None, Some(volume)) => (Question::Measured, volume),
        (ItemKind::Bottle, ..) => {
            let cause = format!("{} is a solution; say how many mL of it were taken", from.name);
            let remedies =
                vec![Remedy::Write(Question::Measured, "10mL".into()), Remedy::LeaveOut(Question::PowderWeighed)];
            return Err(Refusal::rule("powder_and_solution", Question::Measured, cause, remedies));
        }
        (ItemKind::Jar | ItemKind::Vial, Some(mass), None) => (Question::PowderWeighed, mass),
        (ItemKind::Jar | ItemKind::Vial, ..) => {
            let cause = format!("{} holds powder; say how many grams of it were taken", from.name);
            let remedies =
                vec![Remedy::Write(Question::PowderWeighed, "5g".into()), Remedy::LeaveOut(Question::Measured)];
            return Err(Refusal::rule("powder_and_solution", Question::PowderWeighed, cause, remedies));
        }
    };
    let mut found = vec![Part { item: from, taken: taken(from, about, text)?, about }];
    for text in &answers.and {
        let about = Question::And;
        let (name, text) = read_solute(text)?;
        let item = shelf.find(about, name)?;
        if found.iter().any(|own| own.item.number == item.number) {
            let cause = format!("{} is named twice", item.name);
            return Err(Refusal::rule("item_named_twice", about, cause, vec![Remedy::LeaveOut(about)]));
        }
        if !holds_no_stock(item) {
            let cause = format!(
                "{} holds a metal stock or something unknown; what is mixed with metal for one print is a coat, not a solution",
                item.name
            );
            return Err(Refusal::rule("salts_differ", about, cause, vec![Remedy::LeaveOut(about)]));
        }
        found.push(Part { item, taken: taken(item, about, text.trim())?, about });
    }
    Ok(found)
}

/// An amount: grams, also as load less tare, or millilitres.
fn taken(item: &Item, about: Question, text: &str) -> Result<Contents, Refusal> {
    let written = text.to_owned();
    match item.kind {
        ItemKind::Bottle => amount(item, about, text),
        ItemKind::Jar | ItemKind::Vial => match read_weighing(about, Some(&written))? {
            Some(mass) if !mass.is_zero() => Ok(Contents::Powder(mass)),
            _ => amount(item, about, text),
        },
    }
}

/// What a part brings into so much solution.
fn brings(
    part: &Part<'_>,
    volume: Volume,
    glass: Option<Volume>,
    balance: Option<Balance>,
) -> Result<Vec<Dissolved>, Refusal> {
    let facts = &part.item.facts;
    match part.taken {
        Contents::Powder(mass) => {
            let formula = facts.formula.as_deref().and_then(|text| text.parse::<Formula>().ok());
            let Some(formula) = formula else { return Ok(Vec::new()) };
            // The jar's water was read when it came; a metal assay of gold says nothing of the solid.
            let purity = read_purity(facts.purity.as_ref(), None)?;
            let solid: Solid = read_solid(formula, read_hydrate(facts.hydrate.as_ref())?, purity)?;
            let (percent, percent_rel_u) = strength_made(&solid, mass, balance, volume, glass)
                .map_err(|error| Refusal::bounds(Question::Volume, &error))?;
            let formula = solid.formula().to_string();
            let hydrate = facts.hydrate.clone();
            Ok(vec![Dissolved { formula, hydrate, percent: percent.in_unit(), percent_rel_u }])
        }
        Contents::Solution(_) if facts.dissolved.is_empty() => {
            let cause = format!(
                "the strength of {} is unknown; what it is mixed into would not be known either",
                part.item.name
            );
            Err(Refusal::rule("contents_unknown", part.about, cause, vec![Remedy::ShowShelf]))
        }
        Contents::Solution(measured) => {
            let share = measured.to_millilitres() / volume.to_millilitres();
            Ok(facts.dissolved.iter().map(|own| Dissolved { percent: own.percent * share, ..own.clone() }).collect())
        }
    }
}

/// Adds a solute to what is there: the same solid twice is more of it.
fn add(all: &mut Vec<Dissolved>, more: Dissolved) {
    match all.iter_mut().find(|own| own.formula == more.formula && own.hydrate == more.hydrate) {
        Some(own) => {
            own.percent += more.percent;
            own.percent_rel_u = own.percent_rel_u.zip(more.percent_rel_u).map(|(one, other)| one.max(other));
        }
        None => all.push(more),
    }
}

/// Mixes a solution out of jars and bottles: what was taken leaves them, its cost goes along.
///
/// It is a record of what was done: a pair that must not meet is said loudly, and kept.
pub(super) fn mixed_solution(
    acting: &mut Acting<'_>,
    shelf: &Shelf,
    from: &Item,
    answers: &Mix,
    weighed: &Weighed,
    at: Timestamp,
) -> Result<Deed, Refusal> {
    let of_metal = [
        (Question::Vial, !answers.vials.is_empty()),
        (Question::Chloride, answers.with.is_some()),
        (Question::ChlorideFrom, answers.chloride_from.is_some()),
        (Question::ChlorideWeighed, answers.chloride.is_some()),
    ];
    not_asked(&of_metal, "a solution without palladium or platinum")?;
    if weighed.volume.is_zero() {
        let about = Question::Volume;
        let cause = String::from("a volume of nothing makes no solution");
        return Err(Refusal::rule("nothing_asked", about, cause, vec![Remedy::Write(about, "60mL".into())]));
    }
    let balance = read_balance(answers.balance.as_ref())?;
    let balances = acting.balances()?;
    let parts = parts(shelf, from, answers)?;
    let mut dissolved = Vec::new();
    let mut said = Vec::new();
    let mut draws = Vec::new();
    for part in &parts {
        draws.push(take(&balances, part.item, part.taken, part.about)?);
        said.push(format!("Took {} from {}.", part.taken.words(), part.item.name));
        for more in brings(part, weighed.volume, weighed.glass, balance)? {
            add(&mut dissolved, more);
        }
    }
    let mut facts = facts(&dissolved, &parts, weighed, balance, at);
    // Gold is kept account of: it goes along with its powder.
    let metal = parts.iter().find_map(|part| Held::of(part.item, &balances).metal).map(|(element, _)| element);
    facts.metal = metal.map(|element| element.to_string());
    if metal.is_some() {
        // The metal per contents is known as well as the mixing and the jar: its form may be open.
        let of_jar = parts.iter().filter_map(|part| part.item.facts.strength_rel_u).fold(0.0, f64::max);
        facts.strength_rel_u = facts.strength_rel_u.map(|own| own.hypot(of_jar));
    }
    let shown = solutes(&facts);
    let usual = shown.first().map_or_else(|| from.name.clone(), |first| format!("{} solution", first.name));
    let name = shelf.name_for(answers.name.as_deref(), &usual)?;
    let bottle = acting.add_item(ItemKind::Bottle, &name, &facts)?;
    let bottle = fresh(acting, bottle)?;
    let mut draft = Draft::default();
    for draw in &draws {
        draw.post(&mut draft, account_of(&bottle), Account::Used);
    }
    fill(&mut draft, &bottle, Contents::Solution(weighed.volume));
    said.extend(words(&bottle.name, &shown, &parts, weighed, at));
    Ok(Deed { body: body(&bottle, &said), entry: acting.admit(draft)? })
}

fn facts(
    dissolved: &[Dissolved],
    parts: &[Part<'_>],
    weighed: &Weighed,
    balance: Option<Balance>,
    at: Timestamp,
) -> Facts {
    let volume_u = made_up_u(weighed.volume, weighed.glass);
    let density = weighed
        .full
        .zip(weighed.empty)
        .and_then(|(full, empty)| density_of(full, empty, Uncertain::new(weighed.volume, volume_u), balance).ok());
    let formulas = dissolved.iter().filter_map(|own| own.formula.parse::<Formula>().ok());
    let rest_h = formulas.filter_map(|own| prepared(&own).map(|row| row.rest_h)).fold(0.0, f64::max);
    let ready = at.checked_add(SignedDuration::from_secs((rest_h * 3600.0) as i64)).ok();
    let first = dissolved.first();
    let own = parts.first().map(|part| &part.item.facts);
    Facts {
        formula: first.map(|own| own.formula.clone()).or_else(|| own.and_then(|facts| facts.formula.clone())),
        hydrate: first.and_then(|own| own.hydrate.clone()),
        strength_rel_u: first.and_then(|own| own.percent_rel_u),
        dissolved: dissolved.to_vec(),
        contents_u: Some(volume_u * 1e6),
        day: weighed.day.map(|day| day.to_string()),
        ready_after: ready.filter(|_| rest_h > 0.0),
        empty_ug: weighed.empty.map(Mass::to_micrograms),
        full_ug: weighed.full.map(Mass::to_micrograms),
        capacity_nl: weighed.capacity.map(Volume::to_nanolitres),
        density_g_per_ml: density.map(|own| own.best.to_grams_per_millilitre()),
        density_u_g_per_ml: density.map(|own| own.standard()),
        made_of: parts.iter().map(|part| part.item.number.get()).collect(),
        cost_incomplete: parts.iter().any(|part| part.item.facts.cost_incomplete),
        ..Facts::default()
    }
}

/// What the bottle is, and what should be known of it.
fn words(name: &str, shown: &[Solute], parts: &[Part<'_>], weighed: &Weighed, at: Timestamp) -> Vec<String> {
    let mut said = Vec::new();
    if shown.is_empty() {
        said.push(format!("{name}: the strength of what went in is not known, nor is its own."));
    } else {
        said.push(format!("{name} is {}.", shown.iter().map(Solute::long).collect::<Vec<_>>().join(", ")));
    }
    let solids: Vec<Formula> = shown.iter().map(|own| own.formula.clone()).collect();
    let kept = keeping_of(&solids, shown.first().map(|own| own.percent));
    if let Some(row) = kept.filter(|row| row.what == Keeps::IronWithChlorate) {
        let chlorate = shown.iter().find(|own| classes(&own.formula).contains(&Class::Chlorate));
        let grams = chlorate.map_or(0.0, |own| own.percent.in_unit() * weighed.volume.to_millilitres() / 100.0);
        let until = at.checked_add(SignedDuration::from_hours(row.days as i64 * 24)).ok();
        let until = until.map_or(String::new(), |until| format!(" by {}", Day::of_instant(until)));
        said.push(format!(
            "{} g of chlorate are in it: vented cap, never warmed, small, its label dated; use it up{until}.",
            significant(grams, 3)
        ));
    }
    let found = solids
        .iter()
        .enumerate()
        .flat_map(|(place, one)| solids.iter().skip(place + 1).flat_map(|other| meetings(one, other)))
        .filter(|own| own.row.harm == Harm::Dangerous)
        .collect();
    said.extend(grouped(found).into_iter().map(|own| {
        format!("Mind: {own}. They are together now: a vented cap, small, away from heat, and the suppliers' sheets.")
    }));
    if parts.iter().any(|part| kept_metal_of(part.item)) {
        said.push("Its gold goes along in the ledger.".into());
    }
    said.extend(kept.map(|row| format!("Keeping: {}.", row.advice)));
    said
}

fn kept_metal_of(item: &Item) -> bool {
    formula_of(item).is_some_and(|own| kept_metal(&own).is_some())
}

/// Water came to it: every percentage is less.
pub(super) fn thinned(facts: &mut Facts, before: Uncertain<Volume>, water: Option<Uncertain<Volume>>) {
    let Some(water) = water else { return };
    let (v, w) = (before.best.to_millilitres(), water.best.to_millilitres());
    if v + w <= 0.0 {
        return;
    }
    for own in &mut facts.dissolved {
        own.percent *= v / (v + w);
        own.percent_rel_u = own.percent_rel_u.map(|relative| thinned_u(relative, before, water));
    }
}

/// Water went off: every percentage is more. Volumes in the same unit.
pub(super) fn concentrated(facts: &mut Facts, before: i64, after: i64) {
    if before <= 0 || after <= 0 {
        return;
    }
    for own in &mut facts.dissolved {
        own.percent *= before as f64 / after as f64;
        own.percent_rel_u = facts.strength_rel_u;
    }
}

/// Bottles of one solid are still two things when something else is in one of them.
pub(super) fn same_solutes(from: &Item, into: &Item) -> Result<(), Refusal> {
    let names = |item: &Item| {
        let mut all: Vec<(String, Option<String>)> =
            item.facts.dissolved.iter().map(|own| (own.formula.clone(), own.hydrate.clone())).collect();
        all.sort();
        all
    };
    if names(from) == names(into) {
        return Ok(());
    }
    let of = |item: &Item| {
        let all: Vec<String> = solutes(&item.facts).iter().map(Solute::short).collect();
        if all.is_empty() { "something of unknown strength".into() } else { all.join(" and ") }
    };
    let cause = format!(
        "{} holds {} and {} holds {}; poured together neither would be known",
        from.name,
        of(from),
        into.name,
        of(into)
    );
    Err(Refusal::rule("salts_differ", Question::Into, cause, vec![Remedy::ShowShelf]))
}

/// Two solutions of the same solids became one.
pub(super) fn poured_together(into: &mut Facts, before: Volume, from: &Facts, more: Volume) {
    let (v, w) = (before.to_millilitres(), more.to_millilitres());
    if v + w <= 0.0 {
        return;
    }
    for own in &mut into.dissolved {
        let other = from.dissolved.iter().find(|other| other.formula == own.formula && other.hydrate == own.hydrate);
        let Some(other) = other else { continue };
        own.percent = (own.percent * v + other.percent * w) / (v + w);
        own.percent_rel_u = own.percent_rel_u.zip(other.percent_rel_u).map(|(one, other)| one.max(other));
    }
}
