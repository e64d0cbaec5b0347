//! The solutions of a coat: from what is written of them, or from bottles on the shelf.

use handcoat_book::Item;
use handcoat_craft::coat::{Agent, Bottle, ChlorateIron, Contrast, Iron, MetalStock, OnTop};
use handcoat_craft::ledger::{Balances, ItemKind};
use handcoat_craft::measure::{
    AgentDose, MassConcentration, Molarity, PercentByVolume, PricePerVolume, Readable, Uncertain, Volume,
    read_price_per_volume, shortened, significant,
};
use handcoat_craft::source::{
    Class, Element, IRON_PERCENT, PRINTING_OUT_IRON, PRINTING_OUT_METAL, USUAL_COMPLEX_PERCENT, USUAL_SALT_PERCENT,
};
use handcoat_craft::stock::{
    FormsError, Formula, Hydrate, Strength, classes, concentration, hydrates_met, kept_metal, metal_in_solution, named,
    percent_of,
};

use super::answers::CoatAnswers;
use crate::role::Role;
use crate::shelf::{Contents, Held, Shelf};
use crate::stock::{needed, read_formula, read_hydrate};
use crate::{Question, Refusal, Remedy, Studio};

/// Where bottles are looked up.
pub(super) struct Bottles {
    shelf: Shelf,
    balances: Balances,
}

impl Bottles {
    pub(super) fn of(studio: &Studio) -> Result<Self, Refusal> {
        Ok(Self { shelf: Shelf::of(studio.book.items()?), balances: studio.book.balances_apart()? })
    }

    fn exactly(&self, text: &str) -> Option<&Item> {
        self.shelf.find(Question::Item, text).ok().filter(|item| item.kind == ItemKind::Bottle)
    }
}

/// A solution taken apart: its solid, strengths, price.
struct Written {
    solid: Formula,
    percents: Vec<PercentByVolume>,
    strength: Option<Strength>,
    price: Option<PricePerVolume>,
    anhydrous: bool,
}

const EXAMPLES: [(Question, &str); 3] =
    [(Question::CoatMetal, "Na2PdCl4 15%"), (Question::CoatIron, "27%"), (Question::ContrastAgent, "Na2PtCl6")];

fn example(about: Question) -> &'static str {
    EXAMPLES.iter().find(|(own, _)| *own == about).map_or("Pd", |(_, text)| text)
}

fn unreadable(about: Question, text: &str) -> Refusal {
    let cause = format!(
        "`{}` is no solution; expected formula and strength as `{}`, or with a book the name of a bottle",
        shortened(text.trim()),
        example(about)
    );
    let remedies = vec![Remedy::Write(about, example(about).into())];
    Refusal::unreadable("solution_unreadable", about, cause, remedies)
}

fn forms(about: Question, error: &FormsError) -> Refusal {
    match error {
        FormsError::Hydrate(error) => Refusal { about: Some(about), ..Refusal::hydrate(error) },
        FormsError::OutOfBounds(error) => {
            let remedies = vec![Remedy::Write(about, example(about).into())];
            Refusal::rule("value_out_of_bounds", about, error.to_string(), remedies)
        }
    }
}

fn written(about: Question, text: &str, usual: &str) -> Result<Written, Refusal> {
    let mut words = text.split_whitespace().peekable();
    let first = words.peek().copied().ok_or_else(|| unreadable(about, text))?;
    // A strength alone is that of the usual solid.
    let solid = if first.starts_with(|c: char| c.is_ascii_digit()) { usual } else { words.next().unwrap_or(usual) };
    let solid = solid.parse::<Formula>().map_err(|_| unreadable(about, text))?;
    let mut out = Written { solid, percents: Vec::new(), strength: None, price: None, anhydrous: false };
    for word in words {
        if matches!(word, "anhydrous" | "dry") {
            out.anhydrous = true;
        } else if word.ends_with('%') {
            let percent = PercentByVolume::read(word)
                .map_err(|error| Refusal::quantity(about, PercentByVolume::FORMS, &error))?;
            out.percents.push(percent);
        } else if word.ends_with("mg/mL") || word.ends_with("mg/ml") {
            let metal = MassConcentration::read(word)
                .map_err(|error| Refusal::quantity(about, MassConcentration::FORMS, &error))?;
            out.strength = Some(Strength::Metal(metal));
        } else if word.ends_with('M') {
            let molarity = Molarity::read(word).map_err(|error| Refusal::quantity(about, Molarity::FORMS, &error))?;
            out.strength = Some(Strength::Molarity(molarity));
        } else if word.contains('/') {
            let price =
                read_price_per_volume(word).map_err(|error| Refusal::quantity(about, "`190EUR/100mL`", &error))?;
            out.price = Some(price);
        } else {
            return Err(unreadable(about, text));
        }
    }
    Ok(out)
}

fn percent_words(percent: PercentByVolume) -> String {
    format!("{} %", significant(percent.to_grams_per_100_ml(), 4))
}

/// Names before symbols: `palladium, Na2PdCl4 15 %`.
fn called(solid: &Formula, metal: Option<Element>, strength: &str) -> String {
    match metal {
        Some(metal) => format!("{}, {solid} {strength}", metal.weight().name),
        None => {
            let found = classes(solid);
            let name = if solid.dry().counts() == ferric_oxalate().counts() {
                "ferric oxalate".into()
            } else if [Class::Ammonium, Class::Iron, Class::Oxalate].iter().all(|class| found.contains(class)) {
                "ammonium iron(III) oxalate".into()
            } else {
                named(solid).map_or_else(|| solid.to_string(), |own| own.name.into())
            };
            format!("{name} {strength}")
        }
    }
}

fn ferric_oxalate() -> Formula {
    // OK because the formula is a constant of this line.
    "Fe2(C2O4)3".parse().expect("BUG: the formula of ferric oxalate does not parse")
}

fn bottle(name: String, price: Option<PricePerVolume>, holds: Option<Volume>) -> Bottle {
    Bottle { name, dropper: 0, price, holds }
}

/// A bottle on the shelf: volume, and a price where it has one in one currency.
fn from_shelf(item: &Item, held: &Held) -> (Option<Volume>, Option<PricePerVolume>) {
    let volume = match held.contents {
        Contents::Solution(volume) => Some(volume),
        Contents::Powder(_) => None,
    };
    let price = match (held.cost.as_slice(), volume) {
        ([sum], Some(volume)) if !item.facts.cost_incomplete => PricePerVolume::new(*sum, volume).ok(),
        _ => None,
    };
    (volume, price)
}

fn strength_unknown(about: Question, item: &Item) -> Refusal {
    let cause = format!("the strength of {} is not known, so nothing can be planned with it", item.name);
    let remedies = vec![Remedy::Write(about, example(about).into()), Remedy::ShowShelf];
    Refusal::rule("strength_unknown", about, cause, remedies)
}

/// A metal solution.
pub(super) fn metal(text: &str, printing_out: bool, bottles: Option<&Bottles>) -> Result<MetalStock, Refusal> {
    let about = Question::CoatMetal;
    // What stands on the shelf is meant before any word for a usual solution.
    if let Some((bottles, item)) = bottles.and_then(|bottles| Some((bottles, bottles.exactly(text)?))) {
        return metal_bottle(item, &bottles.balances);
    }
    if let Some(stock) = usual_metal(text.trim(), printing_out)? {
        return Ok(stock);
    }
    if let Some(bottles) = bottles
        && written(about, text, "Na2PdCl4").is_err()
    {
        bottles.shelf.find_kind(about, &[ItemKind::Bottle], text)?;
    }
    let own = written(about, text, "Na2PdCl4")?;
    let element = kept_metal(&own.solid).filter(|own| [Element::PD, Element::PT].contains(own)).ok_or_else(|| {
        let cause = format!("`{}` holds neither palladium nor platinum, or both", own.solid);
        Refusal::rule("solution_without_metal", about, cause, vec![Remedy::Write(about, example(about).into())])
    })?;
    let percent = own.percents.first().copied();
    let strength = match (own.strength, percent) {
        (Some(strength), None) => strength,
        (None, Some(percent)) => Strength::SaltPer100Ml(percent),
        (None, None) => Strength::SaltPer100Ml(usual_percent(element)?),
        (Some(_), Some(_)) => return Err(unreadable(about, text)),
    };
    let hydrate = if own.anhydrous { Hydrate::Stated(0.0) } else { Hydrate::AsWritten };
    let found = metal_in_solution(&own.solid, hydrate, strength).map_err(|error| forms(about, &error))?;
    let found = found.ok_or_else(|| unreadable(about, text))?;
    let percent = match strength {
        Strength::SaltPer100Ml(percent) => Some(percent),
        _ => percent_of(&own.solid, found.best),
    };
    let by_percent = matches!(strength, Strength::SaltPer100Ml(_));
    let dry = own.solid.waters() == 0.0;
    let water_open = by_percent && dry && !own.anhydrous && hydrates_met(&own.solid).is_some();
    let said = match strength {
        Strength::Metal(metal) => format!("{} mg/mL", significant(metal.to_milligrams_per_millilitre(), 4)),
        Strength::Molarity(molarity) => format!("{} mol/L", significant(molarity.to_moles_per_litre(), 4)),
        Strength::SaltPer100Ml(percent) | Strength::ComplexPercent(percent) => percent_words(percent),
    };
    Ok(MetalStock {
        bottle: bottle(called(&own.solid, Some(element), &said), own.price, None),
        solid: Some(own.solid),
        element,
        strength: found,
        water_open,
        percent,
    })
}

fn usual_percent(element: Element) -> Result<PercentByVolume, Refusal> {
    let grams = if element == Element::PD { USUAL_COMPLEX_PERCENT.value } else { USUAL_SALT_PERCENT.value };
    PercentByVolume::grams_per_100_ml(grams).map_err(|error| Refusal::bounds(Question::CoatMetal, &error))
}

/// `Pd`, `Pt`: the usual solution of each, its form known.
fn usual_metal(text: &str, printing_out: bool) -> Result<Option<MetalStock>, Refusal> {
    let about = Question::CoatMetal;
    let (element, solid) = match (text, printing_out) {
        ("Pd" | "palladium", false) => (Element::PD, "Na2PdCl4"),
        ("Pt" | "platinum", false) => (Element::PT, "K2PtCl4"),
        ("Pd" | "palladium", true) => (Element::PD, "(NH4)2PdCl4"),
        ("Pt" | "platinum", true) => (Element::PT, "(NH4)2PtCl4"),
        _ => return Ok(None),
    };
    let solid = read_formula(about, solid)?;
    let strength = if printing_out {
        let molarity = Molarity::moles_per_litre(PRINTING_OUT_METAL.value);
        Strength::Molarity(molarity.map_err(|error| Refusal::bounds(about, &error))?)
    } else {
        Strength::SaltPer100Ml(usual_percent(element)?)
    };
    let found = metal_in_solution(&solid, Hydrate::Stated(0.0), strength).map_err(|error| forms(about, &error))?;
    let found = found.ok_or_else(|| unreadable(about, text))?;
    let percent = percent_of(&solid, found.best);
    let said = match strength {
        Strength::Molarity(molarity) => format!("{} mol/L", significant(molarity.to_moles_per_litre(), 3)),
        _ => percent.map_or(String::new(), percent_words),
    };
    let name = called(&solid, Some(element), &said);
    let bottle = bottle(name, None, None);
    Ok(Some(MetalStock { bottle, solid: Some(solid), element, strength: found, water_open: false, percent }))
}

fn metal_bottle(item: &Item, balances: &Balances) -> Result<MetalStock, Refusal> {
    let about = Question::CoatMetal;
    let held = Held::of(item, balances);
    let (volume, price) = from_shelf(item, &held);
    let found =
        held.metal.zip(volume).and_then(|((element, metal), volume)| Some((element, concentration(metal, volume)?)));
    let (element, strength) = found.ok_or_else(|| strength_unknown(about, item))?;
    let solid: Option<Formula> = item.facts.formula.as_deref().and_then(|text| text.parse().ok());
    let percent = solid.as_ref().and_then(|solid| percent_of(solid, strength));
    let u = strength.to_milligrams_per_millilitre() * item.facts.strength_rel_u.unwrap_or(0.0);
    let bottle = bottle(item.name.clone(), price, volume);
    Ok(MetalStock { bottle, solid, element, strength: Uncertain::new(strength, u), water_open: false, percent })
}

/// The iron solution.
pub(super) fn iron(answers: &CoatAnswers, bottles: Option<&Bottles>) -> Result<Iron, Refusal> {
    let about = Question::CoatIron;
    let hydrate = read_hydrate(answers.hydrate.as_ref())?;
    let usual = if answers.printing_out { "(NH4)3Fe(C2O4)3·3H2O" } else { "Fe2(C2O4)3" };
    let usual_grams = |solid: &Formula| {
        let grams = if solid.dry().counts() == ferric_oxalate().counts() { IRON_PERCENT } else { PRINTING_OUT_IRON };
        PercentByVolume::grams_per_100_ml(grams.value).map_err(|error| Refusal::bounds(about, &error))
    };
    let own = match (&answers.iron, bottles) {
        (Some(text), Some(bottles)) => match bottles.exactly(text) {
            Some(item) => return iron_bottle(item, hydrate, &bottles.balances),
            None if written(about, text, usual).is_err() => {
                bottles.shelf.find_kind(about, &[ItemKind::Bottle], text)?;
                written(about, text, usual)?
            }
            None => written(about, text, usual)?,
        },
        (Some(text), None) => written(about, text, usual)?,
        (None, _) => written(about, usual, usual)?,
    };
    if own.solid.count(Element::FE) <= 0.0 {
        let cause = format!("`{}` holds no iron", own.solid);
        return Err(Refusal::rule("iron_missing", about, cause, vec![Remedy::Write(about, "27%".into())]));
    }
    if own.strength.is_some() || own.percents.len() > 1 {
        return Err(unreadable(about, answers.iron.as_deref().unwrap_or_default()));
    }
    let percent = match own.percents.first() {
        Some(percent) => *percent,
        None => usual_grams(&own.solid)?,
    };
    let hydrate = if own.anhydrous { Hydrate::Stated(0.0) } else { hydrate };
    let name = called(&own.solid, None, &percent_words(percent));
    Ok(Iron { bottle: bottle(name, own.price, None), hydrate: open(&own.solid, hydrate), solid: own.solid, percent })
}

/// A solid with water in its formula has said it; one that may have some is not known until somebody says.
fn open(solid: &Formula, hydrate: Hydrate) -> Hydrate {
    let may_have = solid.waters() == 0.0 && hydrates_met(solid).is_some();
    if hydrate == Hydrate::AsWritten && may_have { Hydrate::Unknown } else { hydrate }
}

/// What a jar says of the water beside its formula; a formula that holds the water already has said it.
pub(crate) fn said_beside(solid: &Formula, hydrate: Hydrate) -> Hydrate {
    if solid.waters() > 0.0 { Hydrate::AsWritten } else { hydrate }
}

/// What is dissolved in a bottle that answers, as it was weighed in or received.
fn dissolved(item: &Item, wanted: impl Fn(&Formula) -> bool) -> Option<(Formula, PercentByVolume, Option<String>)> {
    item.facts.dissolved.iter().find_map(|own| {
        let formula: Formula = own.formula.parse().ok()?;
        let percent = PercentByVolume::grams_per_100_ml(own.percent).ok()?;
        wanted(&formula).then(|| (formula, percent, own.hydrate.clone()))
    })
}

/// What a label says, for bottles of which nothing else is known.
fn on_label(item: &Item) -> Option<PercentByVolume> {
    item.facts.label.as_deref().and_then(|text| PercentByVolume::read(text).ok())
}

/// An iron bottle: as strong as what was dissolved in it, or as its label says, `27 %`.
fn iron_bottle(item: &Item, hydrate: Hydrate, balances: &Balances) -> Result<Iron, Refusal> {
    let about = Question::CoatIron;
    let (volume, price) = from_shelf(item, &Held::of(item, balances));
    let is_iron = |solid: &Formula| Role::of(Some(solid)) == Role::Iron;
    let (solid, percent, of_jar) = match dissolved(item, is_iron) {
        Some((solid, percent, hydrate)) => (solid, Some(percent), hydrate),
        None => {
            let solid: Option<Formula> = item.facts.formula.as_deref().and_then(|text| text.parse().ok());
            (solid.ok_or_else(|| strength_unknown(about, item))?, on_label(item), item.facts.hydrate.clone())
        }
    };
    if !is_iron(&solid) {
        let cause = format!("{} holds no iron", item.name);
        return Err(Refusal::rule("iron_missing", about, cause, vec![Remedy::Write(about, "27%".into())]));
    }
    let percent = percent.ok_or_else(|| strength_unknown(about, item))?;
    let of_label = said_beside(&solid, read_hydrate(of_jar.as_ref())?);
    // The same water said again with the plan says nothing new.
    let again = hydrate == Hydrate::Stated(solid.waters());
    let hydrate = if hydrate == Hydrate::AsWritten || (again && solid.waters() > 0.0) { of_label } else { hydrate };
    let bottle = bottle(item.name.clone(), price, volume);
    Ok(Iron { bottle, hydrate: open(&solid, hydrate), solid, percent })
}

/// A bottle of a contrast agent on the shelf.
struct AgentHeld {
    name: String,
    volume: Option<Volume>,
    in_iron: bool,
    hydrate: Hydrate,
    platinum: Option<Uncertain<MassConcentration>>,
}

/// Grams of a solid per 100 mL that hold so much metal, in the form in which its bottle names it: what the label says.
///
/// [`percent_of`] takes the formula as written, which is wrong where the water stands beside it or is open.
pub(crate) fn percent_as_named(solid: &Formula, hydrate: Hydrate, metal: MassConcentration) -> Option<PercentByVolume> {
    let one = PercentByVolume::grams_per_100_ml(1.0).ok()?;
    let of_one = metal_in_solution(solid, hydrate, Strength::SaltPer100Ml(one)).ok()??;
    let part = metal.to_milligrams_per_millilitre() / of_one.best.to_milligrams_per_millilitre();
    PercentByVolume::grams_per_100_ml(part).ok()
}

/// The contrast agent and its dose.
pub(super) fn contrast(
    answers: &CoatAnswers,
    iron: &Iron,
    bottles: Option<&Bottles>,
) -> Result<Option<Contrast>, Refusal> {
    let about = Question::ContrastAgent;
    let Some(text) = &answers.contrast else {
        if answers.dose.is_some() {
            let cause = String::from("a dose is given, and no contrast agent");
            let remedies = vec![Remedy::Write(about, example(about).into()), Remedy::LeaveOut(Question::Dose)];
            return Err(Refusal::rule("contrast_missing", Question::Dose, cause, remedies));
        }
        return Ok(None);
    };
    let dose = needed(Question::Dose, answers.dose.as_ref(), "1mg/mL")?;
    let dose = AgentDose::read(dose).map_err(|error| Refusal::quantity(Question::Dose, AgentDose::FORMS, &error))?;
    let bottle_meant = bottles.and_then(|bottles| Some((bottles, bottles.exactly(text)?)));
    // What stands on the shelf is meant before any word for a usual solution.
    let text = match text.trim() {
        "chlorate" => "KClO3",
        "hexachloroplatinate" => "Na2PtCl6",
        "peroxide" => "H2O2",
        other => other,
    };
    let (own, held): (Written, Option<AgentHeld>) = match bottle_meant {
        Some((bottles, item)) => {
            let held = Held::of(item, &bottles.balances);
            let (volume, price) = from_shelf(item, &held);
            let is_agent = |solid: &Formula| Role::of(Some(solid)) == Role::Agent;
            let mut platinum = None;
            let mut of_jar = Hydrate::AsWritten;
            let (solid, percent) = match dissolved(item, is_agent) {
                Some((solid, percent, _)) => (solid, Some(percent)),
                None => {
                    let formula = item.facts.formula.as_deref().unwrap_or_default();
                    let solid: Formula = formula.parse().map_err(|_| strength_unknown(about, item))?;
                    of_jar = said_beside(&solid, read_hydrate(item.facts.hydrate.as_ref())?);
                    let by_metal = held.metal.zip(volume).and_then(|((_, metal), volume)| concentration(metal, volume));
                    let percent = by_metal.and_then(|own| percent_as_named(&solid, of_jar, own));
                    platinum = by_metal.map(|own| {
                        let relative = item.facts.strength_rel_u.unwrap_or(0.0);
                        Uncertain::new(own, own.to_milligrams_per_millilitre() * relative)
                    });
                    (solid, percent.or_else(|| on_label(item)))
                }
            };
            let percent = percent.ok_or_else(|| strength_unknown(about, item))?;
            let in_iron = dissolved(item, |solid| Role::of(Some(solid)) == Role::Iron).is_some();
            let own = Written { solid, percents: vec![percent], strength: None, price, anhydrous: false };
            (own, Some(AgentHeld { name: item.name.clone(), volume, in_iron, hydrate: of_jar, platinum }))
        }
        None => (written(about, text, "Na2PtCl6")?, None),
    };
    if own.strength.is_some() {
        return Err(unreadable(about, text));
    }
    let name = |usual: String| held.as_ref().map_or(usual, |own| own.name.clone());
    let holds = held.as_ref().and_then(|own| own.volume);
    let found = classes(&own.solid);
    // A bottle of chlorate in water goes on top; in iron, and where only its grams are written, it takes the place of plain iron.
    let in_water = held.as_ref().is_some_and(|own| !own.in_iron);
    if found.contains(&Class::Chlorate) && !in_water {
        let [chlorate] = own.percents.as_slice() else {
            let cause = String::from(
                "how much chlorate is in the iron is not said; recipes differ three-fold and more, so expected grams per 100 mL",
            );
            let remedies = vec![Remedy::Write(about, "KClO3 0.4%".into())];
            return Err(Refusal::unreadable("chlorate_missing", about, cause, remedies));
        };
        let usual = format!("{} with {} chlorate", iron.bottle.name, percent_words(*chlorate));
        let iron = ChlorateIron { bottle: bottle(name(usual), own.price, holds), chlorate: *chlorate };
        return Ok(Some(Contrast::Chlorate(iron, dose)));
    }
    let agent = if found.contains(&Class::HexachloroPlatinate) {
        let of_text = if own.anhydrous { Hydrate::Stated(0.0) } else { Hydrate::AsWritten };
        let hydrate = held.as_ref().map_or(of_text, |own| own.hydrate);
        Agent::Hexachloroplatinate(own.solid.clone(), hydrate)
    } else if found.contains(&Class::Peroxide) {
        Agent::Peroxide
    } else if found.contains(&Class::Chlorate) {
        Agent::Chlorate
    } else {
        let cause = format!("`{}` is no contrast agent of a coat known here", own.solid);
        let remedies = ["KClO3 0.4%", "Na2PtCl6", "H2O2 3%"].map(|text| Remedy::Write(about, text.into())).to_vec();
        return Err(Refusal::rule("contrast_unknown", about, cause, remedies));
    };
    let rungs = if own.percents.is_empty() { agent.usual_rungs() } else { own.percents };
    let usual = named(&own.solid).map_or_else(|| agent.name().into(), |own| String::from(own.name));
    let bottle = bottle(name(usual), own.price, holds);
    let platinum = held.as_ref().and_then(|own| own.platinum);
    Ok(Some(Contrast::OnTop(OnTop { agent, bottle, rungs, platinum }, dose)))
}
