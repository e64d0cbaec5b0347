//! Powder becomes a bottle.

use handcoat_book::{Deed, Facts, Item, Stamp};
use handcoat_craft::ledger::{Account, Commodity, Draft, ItemKind};
use handcoat_craft::measure::{Mass, Uncertain, Volume, significant, with_uncertainty};
use handcoat_craft::source::{READY_AFTER, VIAL_NEAR};
use handcoat_craft::stock::{
    AlkaliChloride, Batch, ChlorideChoice, Goal, MetalSalt, Powder, Request, WaterIs, density_of, metal_in_powder,
    metal_of_mass, named,
};
use jiff::{SignedDuration, Timestamp};

use super::content::{Contents, Held, account_of, body, fill, fresh, grams, read_amount, take};
use super::find::Shelf;
use super::receive::gauge_refusal;
use super::solution::{makes_a_solution, mixed_solution, not_asked};
use crate::stock::{at_least, needed, read, read_balance, read_formula, read_powder, read_weighing};
use crate::{Day, Done, Moment, Question, Refusal, Remedy, Studio};

/// What was mixed, as weighed. `None` is left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct Mix {
    /// The jar the powder came from.
    pub from: Option<String>,
    pub mass: Option<String>,
    /// Of a liquid that was measured.
    pub volume: Option<String>,
    /// What else went into a solution without palladium or platinum: jar or bottle, `=`, and how much.
    pub and: Vec<String>,
    /// Vials of swept powder that went in whole.
    pub vials: Vec<String>,
    /// The alkali chloride, when it has no jar on the shelf.
    pub with: Option<String>,
    /// Its jar.
    pub chloride_from: Option<String>,
    pub chloride: Option<String>,
    /// What it was made up to.
    pub make: Option<String>,
    pub name: Option<String>,
    pub empty: Option<String>,
    pub full: Option<String>,
    pub capacity: Option<String>,
    pub balance: Option<String>,
    pub glass: Option<String>,
    pub day: Option<String>,
}

/// The answers read, before the shelf is looked at.
pub(super) struct Weighed {
    mass: Option<Mass>,
    chloride: Option<Mass>,
    pub(super) volume: Volume,
    pub(super) empty: Option<Mass>,
    pub(super) full: Option<Mass>,
    pub(super) capacity: Option<Volume>,
    pub(super) glass: Option<Volume>,
    pub(super) day: Option<Day>,
}

/// Mixes a bottle out of a jar: powder and its cost leave the jar, all the metal arrives in the bottle.
///
/// What stays in the beaker is not taken off: it is unknown, and two rinses leave little.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, the jar holds less, or the salts differ; nothing is written then.
pub fn mix(studio: &mut Studio, moment: &Moment, answers: &Mix) -> Result<Done, Refusal> {
    mix_once(studio, moment, &moment.asked(answers)?, answers)
}

/// The same under a stamp of its own: at the bench the work is what is done once, however often its last button is tapped.
pub(crate) fn mix_once(studio: &mut Studio, moment: &Moment, stamp: &Stamp, answers: &Mix) -> Result<Done, Refusal> {
    let weighed = read_all(answers)?;
    let balance = read_balance(answers.balance.as_ref())?;
    let acted = studio.book.act(stamp, "mix", |acting| {
        let shelf = Shelf::now(acting)?;
        let jar = needed(Question::From, answers.from.as_ref(), "palladium(II) chloride")?;
        if let Some(from) = shelf.find(Question::From, jar).ok().filter(|own| makes_a_solution(own, answers)) {
            return mixed_solution(acting, &shelf, from, answers, &weighed, moment.at);
        }
        let of_solutions = [(Question::Measured, answers.volume.is_some()), (Question::And, !answers.and.is_empty())];
        not_asked(&of_solutions, "a stock of palladium or platinum")?;
        let mass = weighed.mass.ok_or_else(|| Refusal::missing(Question::PowderWeighed, "5.9g"))?;
        let jar = shelf.find_kind(Question::From, &[ItemKind::Jar, ItemKind::Vial], jar)?;
        let powder = powder_of(jar)?;
        let vials = vials(&shelf, answers, jar, &powder)?;
        let (chloride_jar, chloride) = chloride(&shelf, answers)?;
        let out_of = vials.iter().copied().chain([jar]).chain(chloride_jar);
        let balances = acting.balances_of(out_of.map(account_of))?;

        let mut draft = Draft::default();
        let held = Held::of(jar, &balances).contents;
        let whole = whole_vial(held, &powder, mass);
        let part = take(&balances, jar, Contents::Powder(whole.unwrap_or(mass)), Question::PowderWeighed)?;
        let mut said = vec![match whole {
            Some(label) => whole_words(&jar.name, label, mass),
            None => format!("Took {} from {}.", grams(mass), jar.name),
        }];
        if whole.is_none() && held != Contents::Powder(mass) && powder.salt().is_chloroplatinate() {
            said.push(format!(
                "{} held {}: a sealed vial is dissolved whole. If it was one vial, take this back and say what was in it.",
                jar.name,
                held.words()
            ));
        }
        let mut total = mass;
        let mut parts = vec![part];
        for vial in &vials {
            let held = Held::of(vial, &balances).contents;
            parts.push(take(&balances, vial, held, Question::Vial)?);
            if let Contents::Powder(mass) = held {
                total = total.plus(mass).map_err(|error| Refusal::bounds(Question::PowderWeighed, &error))?;
                said.push(format!("Used up {}, {}.", vial.name, grams(mass)));
            }
        }
        let request = request(powder, chloride, balance, weighed.glass, weighed.volume, total);
        let batch = request
            .comes_to(total, weighed.chloride.unwrap_or(Mass::ZERO), weighed.volume)
            .map_err(|error| Refusal::made(&error))?;
        let complex = request.powder.salt().complex(&request.chloride);
        let usual = format!("{} stock", request.powder.salt().metal().name());
        let name = shelf.name_for(answers.name.as_deref(), &usual)?;
        let mut facts = facts(&request, &batch, &weighed, moment.at, jar);
        facts.formula = Some(complex.to_string());
        facts.made_of = std::iter::once(jar).chain(vials.iter().copied()).map(|item| item.number.get()).collect();
        facts.cost_incomplete =
            std::iter::once(jar).chain(vials.iter().copied()).any(|item| item.facts.cost_incomplete);
        let bottle = acting.add_item(ItemKind::Bottle, &name, &facts)?;
        let bottle = fresh(acting, bottle)?;
        for part in &parts {
            part.post(&mut draft, account_of(&bottle), Account::Used);
        }
        if let Some(label) = whole {
            square(&mut draft, &bottle, &request.powder, label, mass)?;
        }
        if let (Some(salt), Some(mass)) = (chloride_jar, weighed.chloride) {
            take(&balances, salt, Contents::Powder(mass), Question::ChlorideWeighed)?.post(
                &mut draft,
                account_of(&bottle),
                Account::Used,
            );
            said.push(format!("Took {} from {}.", grams(mass), salt.name));
        }
        fill(&mut draft, &bottle, Contents::Solution(weighed.volume));
        for vial in &vials {
            let mut empty = (*vial).clone();
            empty.standing = handcoat_book::Standing::Retired;
            acting.change_item(&empty)?;
        }
        said.extend(words(&bottle, &batch, &request, balance.is_some()));
        Ok::<_, Refusal>(Deed { body: body(&bottle, &said), entry: acting.admit(draft)? })
    })?;
    Ok(Done::of(&acted))
}

/// What a sealed vial holds by the book, where what was weighed was all of it: labels are nominal, and nothing stays in a vial that was
/// dissolved whole.
fn whole_vial(held: Contents, powder: &Powder, mass: Mass) -> Option<Mass> {
    let Contents::Powder(label) = held else { return None };
    let off = (mass.to_grams() / label.to_grams() - 1.0).abs();
    (powder.salt().is_chloroplatinate() && mass != label && off <= VIAL_NEAR.value).then_some(label)
}

fn whole_words(name: &str, label: Mass, held: Mass) -> String {
    let (more, off) = match held.less(label) {
        Some(over) => ("more", over),
        None => ("less", label.less(held).unwrap_or(Mass::ZERO)),
    };
    format!(
        "Took all of {name}: it held {}, {} {more} than the book said. Its cost is that of the vial; the difference stands as unexplained.",
        grams(held),
        grams(off)
    )
}

/// What a vial held over its label comes into the bottle, what it held under it is in nobody's; what it cost is unchanged.
fn square(draft: &mut Draft, bottle: &Item, powder: &Powder, label: Mass, held: Mass) -> Result<(), Refusal> {
    let metal = powder.salt().metal().element();
    let of = |mass: Mass| {
        metal_of_mass(mass, metal_in_powder(powder).best)
            .map_err(|error| Refusal::bounds(Question::PowderWeighed, &error))
    };
    let (one, other) = (of(held)?, of(label)?);
    let account = account_of(bottle);
    if let Some(more) = one.less(other) {
        draft.move_from(Account::Unexplained, account, Commodity::Metal(metal), more.into());
    } else if let Some(less) = other.less(one) {
        draft.move_from(account, Account::Unexplained, Commodity::Metal(metal), less.into());
    }
    Ok(())
}

fn read_all(answers: &Mix) -> Result<Weighed, Refusal> {
    let mass = read_weighing(Question::PowderWeighed, answers.mass.as_ref())?;
    if mass.is_none() && answers.volume.is_none() {
        return Err(Refusal::missing(Question::PowderWeighed, "5.9g"));
    }
    let read_all = Weighed {
        mass,
        chloride: read_weighing(Question::ChlorideWeighed, answers.chloride.as_ref())?,
        volume: read(Question::Volume, answers.make.as_ref())?
            .ok_or_else(|| Refusal::missing(Question::Volume, "60mL"))?,
        empty: read(Question::Empty, answers.empty.as_ref())?,
        full: read(Question::Full, answers.full.as_ref())?,
        capacity: read(Question::Capacity, answers.capacity.as_ref())?,
        glass: read(Question::Glass, answers.glass.as_ref())?,
        day: answers.day.as_deref().map(Day::read).transpose()?,
    };
    possible(&read_all)?;
    Ok(read_all)
}

/// A vessel that holds less than was made, or weighs less full than empty or more than any solution could, was misread.
fn possible(weighed: &Weighed) -> Result<(), Refusal> {
    if let Some(capacity) = weighed.capacity.filter(|own| *own < weighed.volume) {
        let (holds, made) =
            (significant(capacity.to_millilitres(), 5), significant(weighed.volume.to_millilitres(), 5));
        let cause = format!("{made} mL were made and the bottle holds {holds} mL");
        let about = Question::Capacity;
        return Err(Refusal::rule("bottle_overflows", about, cause, vec![Remedy::LargerBottle(format!("{made} mL"))]));
    }
    if let Some((full, empty)) = weighed.full.zip(weighed.empty).filter(|(full, empty)| full < empty) {
        let (full, empty) = (significant(full.to_grams(), 7), significant(empty.to_grams(), 7));
        let about = Question::Full;
        let cause = format!("the full bottle weighs {full} g, less than the {empty} g of the empty one");
        return Err(Refusal::rule("load_under_tare", about, cause, vec![Remedy::Write(about, format!("{empty}g"))]));
    }
    if let Some((full, empty)) = weighed.full.zip(weighed.empty)
        && let Err(error) = density_of(full, empty, Uncertain::new(weighed.volume, 0.0), None)
    {
        return Err(gauge_refusal(&error));
    }
    Ok(())
}

/// The powder in a jar, from what the jar says.
pub(super) fn powder_of(jar: &Item) -> Result<Powder, Refusal> {
    let facts = &jar.facts;
    if facts.formula.is_none() {
        let cause = format!("it is not known what is in {}", jar.name);
        return Err(Refusal::rule("contents_unknown", Question::From, cause, vec![Remedy::ShowShelf]));
    }
    read_powder(facts.formula.as_ref(), facts.hydrate.as_ref(), facts.purity.as_ref(), facts.purity_of.as_ref())
}

/// The vials that went in, each of the same salt as the jar.
fn vials<'s>(shelf: &'s Shelf, answers: &Mix, jar: &Item, powder: &Powder) -> Result<Vec<&'s Item>, Refusal> {
    let mut found: Vec<&Item> = Vec::new();
    for text in &answers.vials {
        let vial = shelf.find_kind(Question::Vial, &[ItemKind::Vial, ItemKind::Jar], text)?;
        if vial.number == jar.number || found.iter().any(|own| own.number == vial.number) {
            let cause = format!("{} is named twice", vial.name);
            return Err(Refusal::rule(
                "item_named_twice",
                Question::Vial,
                cause,
                vec![Remedy::LeaveOut(Question::Vial)],
            ));
        }
        if !same_salt(powder_of(vial)?.salt(), powder.salt()) || !same_powder(vial, jar) {
            let cause = format!(
                "{} does not hold the powder of {} (salt, water and purity must be the same); one stock is made of one powder",
                vial.name, jar.name
            );
            return Err(Refusal::rule("salts_differ", Question::Vial, cause, vec![Remedy::LeaveOut(Question::Vial)]));
        }
        found.push(vial);
    }
    Ok(found)
}

/// Whether two items hold the same powder as far as their labels say: formula, water, purity and what it means.
pub(super) fn same_powder(one: &Item, other: &Item) -> bool {
    let label = |item: &Item| {
        let facts = &item.facts;
        (facts.formula.clone(), facts.hydrate.clone(), facts.purity.clone(), facts.purity_of.clone())
    };
    label(one) == label(other)
}

fn same_salt(one: &MetalSalt, other: &MetalSalt) -> bool {
    one.metal() == other.metal() && one.kind() == other.kind()
}

fn chloride<'s>(shelf: &'s Shelf, answers: &Mix) -> Result<(Option<&'s Item>, AlkaliChloride), Refusal> {
    let recognise = |about, text: &str| {
        AlkaliChloride::recognise(read_formula(about, text)?).map_err(|error| Refusal::chloride(&error))
    };
    match (&answers.chloride_from, &answers.with) {
        (Some(_), Some(_)) => {
            let cause = String::from("the chloride is given as a jar and as a formula");
            let remedies = vec![Remedy::LeaveOut(Question::Chloride), Remedy::LeaveOut(Question::ChlorideFrom)];
            Err(Refusal::rule("chloride_said_twice", Question::ChlorideFrom, cause, remedies))
        }
        (Some(text), None) => {
            let jar = shelf.find_kind(Question::ChlorideFrom, &[ItemKind::Jar], text)?;
            let formula = jar.facts.formula.clone().unwrap_or_default();
            Ok((Some(jar), recognise(Question::ChlorideFrom, &formula)?))
        }
        (None, Some(text)) => Ok((None, recognise(Question::Chloride, text)?)),
        (None, None) => Ok((None, AlkaliChloride::plain_salt())),
    }
}

fn request(
    powder: Powder,
    chloride: AlkaliChloride,
    balance: Option<handcoat_craft::stock::Balance>,
    glass: Option<Volume>,
    volume: Volume,
    mass: Mass,
) -> Request {
    Request {
        powder,
        chloride,
        chloride_named: false,
        chloride_choice: ChlorideChoice::Enough,
        goal: Goal::Into(volume, mass),
        water_is: WaterIs::MadeUp,
        balance,
        glass,
        price: None,
        bottle: None,
        rinses: 2,
        stated_molar_mass: None,
        meets: Vec::new(),
    }
}

fn facts(request: &Request, batch: &Batch, weighed: &Weighed, at: Timestamp, jar: &Item) -> Facts {
    let salt = request.powder.salt();
    let of_jar = metal_in_powder(&request.powder);
    let of_jar = of_jar.standard() / of_jar.best.to_ratio();
    let of_jar = jar.facts.strength_rel_u.map_or(of_jar, |own| own.max(of_jar));
    let volume_u = batch.volume.standard();
    let density = weighed.full.zip(weighed.empty).and_then(|(full, empty)| {
        density_of(full, empty, Uncertain::new(weighed.volume, volume_u), request.balance).ok()
    });
    let needs_chloride = salt.chlorides_needed() > 0.0;
    Facts {
        chloride: needs_chloride.then(|| request.chloride.formula().to_string()),
        chloride_to_metal: (needs_chloride && weighed.chloride.is_some())
            .then(|| batch.chloride_to_metal.best.to_ratio()),
        metal: Some(salt.metal().element().to_string()),
        strength_rel_u: batch.strengths.relative.map(|own| own.hypot(of_jar)),
        contents_u: Some(volume_u * 1e6),
        day: weighed.day.map(|day| day.to_string()),
        ready_after: at.checked_add(SignedDuration::from_secs((READY_AFTER.value * 3600.0) as i64)).ok(),
        empty_ug: weighed.empty.map(Mass::to_micrograms),
        full_ug: weighed.full.map(Mass::to_micrograms),
        capacity_nl: weighed.capacity.map(Volume::to_nanolitres),
        density_g_per_ml: density.map(|own| own.best.to_grams_per_millilitre()),
        density_u_g_per_ml: density.map(|own| own.standard()),
        ..Facts::default()
    }
}

/// What the bottle is, and what should be known of it.
fn words(bottle: &Item, batch: &Batch, request: &Request, scale_known: bool) -> Vec<String> {
    let strengths = &batch.strengths;
    let salt = request.powder.salt();
    let complex = salt.complex(&request.chloride);
    let name = named(&complex).map_or_else(|| complex.to_string(), |own| format!("{}, {complex}", own.name));
    let metal = if scale_known {
        format!("{} mg/mL", with_uncertainty(&strengths.metal))
    } else {
        format!("{} mg/mL", significant(strengths.metal.best.to_milligrams_per_millilitre(), 4))
    };
    let percent = significant(strengths.complex.best.to_grams_per_100_ml(), 4);
    let mut said = vec![format!("{} is {percent} % {name}: {metal} of {}.", bottle.name, salt.metal().name())];
    let missing = batch.chloride_missing();
    if salt.chlorides_needed() > 0.0 && !missing.is_zero() {
        said.push(format!(
            "Chloride is short: add at least {} g of {} more, or powder stays behind.",
            at_least(missing, request.balance),
            request.chloride.formula()
        ));
    }
    if salt.is_chloroplatinate() {
        said.push("Warm it until clear before drops are counted; crystals may drop out when it is cold.".into());
    } else {
        said.push("Look at it again tomorrow: clear, without sediment, it is ready.".into());
    }
    said
}

/// A read amount of what is in an item; here so that every act reads amounts one way.
pub(super) fn amount(item: &Item, about: Question, text: &str) -> Result<Contents, Refusal> {
    let read = read_amount(item, about, text)?;
    if read.tally().is_zero() {
        let cause = String::from("an amount of nothing moves nothing");
        return Err(Refusal::rule("nothing_asked", about, cause, vec![Remedy::LeaveOut(about)]));
    }
    Ok(read)
}
