//! Something comes into the studio: a jar of powder, or a bottle somebody else mixed.

use handcoat_book::{Acting, Deed, Facts, Item, Price, Standing};
use handcoat_craft::ledger::{Account, Commodity, Draft, ItemKind};
use handcoat_craft::measure::{
    Level, Mass, MassDensity, MassFraction, Money, Readable, Uncertain, Volume, fixed, significant,
};
use handcoat_craft::source::Element;
use handcoat_craft::stock::{
    Formula, Gauge, GaugeError, Hydrate, MetalSalt, Powder, Purity, PurityOf, Strength, check_assay, kept_metal,
    mass_fraction, metal_in_powder, metal_in_solution, metal_of_mass, metal_of_volume, named, prepared,
    solution::Solid,
};

use super::content::{Contents, account_of, body, contents_of, grams};
use super::find::Shelf;
use super::solution::bought;
use crate::stock::{
    read, read_balance, read_formula, read_hydrate, read_powder, read_purity, read_solid, read_weighing,
};
use crate::{Day, Done, Moment, Question, Refusal, Remedy, Studio};

/// What is known of what came. `None` is unknown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct Receive {
    pub formula: Option<String>,
    pub name: Option<String>,
    pub mass: Option<String>,
    pub volume: Option<String>,
    pub level: Option<String>,
    pub gross: Option<String>,
    pub empty: Option<String>,
    pub capacity: Option<String>,
    pub density: Option<String>,
    pub purity: Option<String>,
    pub purity_of: Option<String>,
    pub hydrate: Option<String>,
    pub percent: Option<String>,
    pub molarity: Option<String>,
    pub metal_per_ml: Option<String>,
    pub price: Option<String>,
    pub currency: Option<String>,
    pub supplier: Option<String>,
    pub lot: Option<String>,
    pub day: Option<String>,
    pub balance: Option<String>,
    pub note: Option<String>,
}

/// What came, read: not yet on the shelf.
pub(crate) struct Came {
    pub(crate) kind: ItemKind,
    pub(crate) contents: Contents,
    pub(crate) metal: Option<(Element, Mass)>,
    /// What it cost, by currency.
    pub(crate) costs: Vec<Money>,
    pub(crate) facts: Facts,
    usual_name: String,
    said: Vec<String>,
}

impl Came {
    /// Reads what somebody answered.
    pub(crate) fn read(answers: &Receive) -> Result<Self, Refusal> {
        let mut came = if answers.mass.is_some() { powder(answers)? } else { solution(answers)? };
        let price = price(answers)?;
        came.facts.price = price.map(|sum| Price { minor: sum.to_minor(), currency: sum.currency().letters().into() });
        came.facts.cost_incomplete = price.is_none();
        came.costs.extend(price);
        came.facts.supplier = answers.supplier.clone();
        came.facts.lot = answers.lot.clone();
        came.facts.note = answers.note.clone();
        came.facts.day = answers.day.as_deref().map(Day::read).transpose()?.map(|day| day.to_string());
        Ok(came)
    }

    /// Puts it on the shelf inside an act, its lines into the act's draft. Gives the item and what there is to say of it.
    pub(crate) fn put(
        &self,
        acting: &mut Acting<'_>,
        shelf: &Shelf,
        name: Option<&str>,
        draft: &mut Draft,
    ) -> Result<(Item, Vec<String>), Refusal> {
        let name = shelf.name_for(name, &self.usual_name)?;
        let number = acting.add_item(self.kind, &name, &self.facts)?;
        let item = Item { number, kind: self.kind, name, standing: Standing::Here, facts: self.facts.clone() };
        draft.move_from(Account::Supplier, account_of(&item), contents_of(&item), self.contents.tally());
        if let Some((element, mass)) = self.metal {
            draft.move_from(Account::Supplier, account_of(&item), Commodity::Metal(element), mass.into());
        }
        for &sum in &self.costs {
            draft.move_from(Account::Owner, account_of(&item), Commodity::Money(sum.currency()), sum.into());
        }
        let mut said = vec![format!("{} is on the shelf: {}.", item.name, self.contents.words())];
        said.extend(self.said.iter().cloned());
        Ok((item, said))
    }
}

/// Receives a jar or a bottle.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read or a rule is against it; nothing is written then.
pub fn receive(studio: &mut Studio, moment: &Moment, answers: &Receive) -> Result<Done, Refusal> {
    let came = Came::read(answers)?;
    let acted = studio.book.act(&moment.asked(answers)?, "receive", |acting| {
        let shelf = Shelf::now(acting)?;
        let mut draft = Draft::default();
        let (item, mut said) = came.put(acting, &shelf, answers.name.as_deref(), &mut draft)?;
        if came.costs.is_empty() {
            said.push("Its price is not said; what is made of it will cost more than the book shows.".into());
        }
        Ok::<_, Refusal>(Deed { body: body(&item, &said), entry: acting.admit(draft)? })
    })?;
    Ok(Done::of(&acted))
}

fn price(answers: &Receive) -> Result<Option<Money>, Refusal> {
    let Some(text) = answers.price.as_deref() else {
        return match &answers.currency {
            None => Ok(None),
            Some(_) => {
                let cause = String::from("a currency is given, and no price");
                let remedies =
                    vec![Remedy::Write(Question::JarPrice, "480".into()), Remedy::LeaveOut(Question::Currency)];
                Err(Refusal::rule("price_without_sum", Question::JarPrice, cause, remedies))
            }
        };
    };
    let whole = format!("{text}{}", answers.currency.as_deref().unwrap_or_default());
    Money::read(&whole).map(Some).map_err(|error| Refusal::quantity(Question::JarPrice, Money::FORMS, &error))
}

/// The formula, or none where it is said to be unknown.
fn formula(answers: &Receive) -> Result<Option<Formula>, Refusal> {
    match answers.formula.as_deref().map(str::trim) {
        None | Some("unknown") => Ok(None),
        Some(text) => read_formula(Question::Substance, text).map(Some),
    }
}

fn usual_name(formula: Option<&Formula>) -> String {
    formula.map_or_else(
        || "unknown".into(),
        |formula| named(formula).map_or_else(|| formula.to_string(), |compound| compound.name.into()),
    )
}

fn powder(answers: &Receive) -> Result<Came, Refusal> {
    let Some(formula) = formula(answers)? else {
        let cause = String::from("it is not said which powder it is");
        let remedies = vec![Remedy::Write(Question::Substance, "PdCl2".into())];
        return Err(Refusal::unreadable("answer_missing", Question::Substance, cause, remedies));
    };
    for (question, answer) in [
        (Question::Measured, &answers.volume),
        (Question::Level, &answers.level),
        (Question::Gross, &answers.gross),
        (Question::Percent, &answers.percent),
        (Question::Molarity, &answers.molarity),
        (Question::MetalPerMl, &answers.metal_per_ml),
    ] {
        if answer.is_some() {
            let cause = format!("a mass says it is powder, and {} is asked of a solution", question.asks());
            let remedies = vec![Remedy::LeaveOut(question), Remedy::LeaveOut(Question::JarMass)];
            return Err(Refusal::rule("powder_and_solution", question, cause, remedies));
        }
    }
    let about = Question::JarMass;
    let mass: Mass = read_weighing(about, answers.mass.as_ref())?.filter(|mass| !mass.is_zero()).ok_or_else(|| {
        let cause = String::from("a jar of nothing is not received");
        Refusal::rule("nothing_asked", about, cause, vec![Remedy::Write(about, "10g".into())])
    })?;
    let balance = read_balance(answers.balance.as_ref())?;
    let mut said = Vec::new();
    let mut facts = Facts {
        formula: Some(formula.to_string()),
        hydrate: answers.hydrate.clone(),
        purity: answers.purity.clone(),
        purity_of: answers.purity_of.clone(),
        contents_u: balance.map(|balance| balance.weighing(mass).standard() * 1e6),
        empty_ug: read::<Mass>(Question::Empty, answers.empty.as_ref())?.map(Mass::to_micrograms),
        ..Facts::default()
    };
    let metal = match (kept_metal(&formula), MetalSalt::recognise(formula.clone())) {
        (None, _) => {
            // Read for their errors: a slip in them is told now and not at the next mix.
            let hydrate = read_hydrate(answers.hydrate.as_ref())?;
            let purity = read_purity(answers.purity.as_ref(), answers.purity_of.as_ref())?;
            if prepared(&formula).is_some() {
                said.extend(open_solid(&read_solid(formula.clone(), hydrate, purity)?));
            }
            None
        }
        (Some(_), Ok(_)) => {
            let powder = read_powder(
                Some(&formula.to_string()),
                answers.hydrate.as_ref(),
                answers.purity.as_ref(),
                answers.purity_of.as_ref(),
            )?;
            check_assay(&powder).map_err(|error| Refusal::assay(&error, answers.hydrate.is_some()))?;
            let fraction = metal_in_powder(&powder);
            facts.strength_rel_u = Some(fraction.standard() / fraction.best.to_ratio());
            said.extend(open_questions(&powder));
            if powder.salt().is_chloroplatinate() {
                said.push(
                    "Chloroplatinates are never weighed or put back in the open: dissolve a whole sealed vial, or buy solution.".into(),
                );
            }
            Some((powder.salt().metal().element(), fraction.best))
        }
        // A metal compound no stock is planned from: its metal is kept account of all the same.
        (Some(element), Err(_)) => {
            let purity = read_purity(answers.purity.as_ref(), answers.purity_of.as_ref())?;
            let hydrate = read_hydrate(answers.hydrate.as_ref())?;
            let found = other_metal(&formula, element, hydrate, purity)?;
            said.extend(found.as_ref().map(|own| own.said.clone()).unwrap_or_default());
            facts.strength_rel_u = found.as_ref().and_then(|own| own.relative);
            found.map(|own| (element, own.fraction))
        }
    };
    let metal = match metal {
        None => None,
        Some((element, fraction)) => {
            let mass = metal_of_mass(mass, fraction).map_err(|error| Refusal::bounds(about, &error))?;
            facts.metal = Some(element.to_string());
            said.insert(0, format!("It holds {} of {}.", grams(mass), element.weight().name));
            Some((element, mass))
        }
    };
    let usual_name = usual_name(Some(&formula));
    Ok(Came {
        kind: ItemKind::Jar,
        contents: Contents::Powder(mass),
        metal,
        costs: Vec::new(),
        facts,
        usual_name,
        said,
    })
}

/// What the jar leaves open, said once when it comes.
fn open_questions(powder: &Powder) -> Vec<String> {
    let mut said = Vec::new();
    if let handcoat_craft::stock::Hydration::Unstated(_) | handcoat_craft::stock::Hydration::Unknown =
        powder.hydration()
    {
        said.push("Its water of crystallisation is not said; read the jar, the metal in it depends on that.".into());
    }
    if powder.purity() == Purity::Unstated {
        said.push("Its purity is not said; it counts as 100 %.".into());
    }
    said
}

/// The metal in a compound that no stock is planned from.
struct OtherMetal {
    fraction: MassFraction,
    /// Relative standard uncertainty: the width between the forms it may be (rectangular).
    relative: Option<f64>,
    said: Vec<String>,
}

fn other_metal(
    formula: &Formula,
    element: Element,
    hydrate: Hydrate,
    purity: Purity,
) -> Result<Option<OtherMetal>, Refusal> {
    if let Purity::Stated { fraction, of: PurityOf::Metal } = purity {
        return Ok(Some(OtherMetal { fraction, relative: Some(0.0), said: Vec::new() }));
    }
    let part = match purity {
        Purity::Stated { fraction, .. } => fraction.to_ratio(),
        Purity::Unstated => 1.0,
    };
    let solid = read_solid(formula.clone(), hydrate, purity)?;
    let forms = solid.forms();
    let parts = forms.iter().filter_map(|form| mass_fraction(form, element)).map(|own| own.best.to_ratio() * part);
    let (least, most) = parts.fold((f64::INFINITY, 0.0_f64), |(least, most), own| (least.min(own), most.max(own)));
    let middle = f64::midpoint(least, most);
    let relative = if forms.len() > 1 { (most - least) / 2.0 / 3.0_f64.sqrt() / middle } else { 0.0 };
    let fraction = MassFraction::ratio(middle).ok();
    Ok(fraction.map(|fraction| OtherMetal { fraction, relative: Some(relative), said: open_solid(&solid) }))
}

/// What the jar of a solid leaves open.
fn open_solid(solid: &Solid) -> Vec<String> {
    let mut said = Vec::new();
    if solid.form_open() {
        let forms: Vec<String> = solid.forms().iter().map(ToString::to_string).collect();
        said.push(format!(
            "Its form is not said ({}); read the jar: its grams hold, its moles are anybody's guess.",
            forms.join(", ")
        ));
    }
    if solid.purity() == Purity::Unstated {
        said.push("Its purity is not said; it counts as 100 %.".into());
    }
    said
}

fn solution(answers: &Receive) -> Result<Came, Refusal> {
    let formula = formula(answers)?;
    let gauge = gauge(answers)?;
    let volume = gauge.volume().map_err(|error| gauge_refusal(&error))?;
    if let Some(capacity) =
        read::<Volume>(Question::Capacity, answers.capacity.as_ref())?.filter(|own| *own < volume.best)
    {
        let (holds, found) = (significant(capacity.to_millilitres(), 5), significant(volume.best.to_millilitres(), 5));
        let cause = format!("{found} mL were found in a bottle that holds {holds} mL");
        let larger = Remedy::LargerBottle(format!("{found} mL"));
        return Err(Refusal::rule("bottle_overflows", Question::Capacity, cause, vec![larger]));
    }
    let hydrate = read_hydrate(answers.hydrate.as_ref())?;
    let strength = strength(answers)?;
    let mut said = Vec::new();
    let found = match (&formula, strength) {
        (Some(solid), Some(strength)) => metal_in_solution(solid, hydrate, strength)
            .map_err(|error| {
                Refusal::rule("value_out_of_bounds", Question::Percent, error.to_string(), vec![Remedy::ShowShelf])
            })?
            .zip(kept_metal(solid)),
        _ => None,
    };
    let (mut metal, mut relative) = (None, None);
    match found {
        Some((strength, element)) => {
            let mass = metal_of_volume(volume.best, strength.best)
                .map_err(|error| Refusal::bounds(Question::Measured, &error))?;
            relative = Some(strength.standard() / strength.best.to_milligrams_per_millilitre());
            let per_ml = significant(strength.best.to_milligrams_per_millilitre(), 4);
            said.push(format!("It holds {per_ml} mg of {} per mL, {} in all.", element.weight().name, grams(mass)));
            metal = Some((element, mass));
        }
        None if formula.as_ref().is_some_and(|formula| kept_metal(formula).is_some()) || formula.is_none() => {
            said.push("Its strength is unknown; its metal is not in the ledger until somebody finds it.".into());
        }
        None => {}
    }
    let dissolved = match (&formula, strength) {
        (Some(solid), Some(strength)) if kept_metal(solid).is_none_or(|metal| metal == Element::AU) => {
            Vec::from_iter(bought(solid, answers.hydrate.as_deref(), strength)?)
        }
        _ => Vec::new(),
    };
    let facts = Facts {
        dissolved,
        formula: formula.as_ref().map(ToString::to_string),
        hydrate: answers.hydrate.clone(),
        metal: metal.map(|(element, _)| element.to_string()),
        strength_rel_u: relative,
        contents_u: Some(volume.standard() * 1e6),
        label: answers.percent.clone().map(|text| format!("{} %", text.trim().trim_end_matches('%').trim())),
        empty_ug: read::<Mass>(Question::Empty, answers.empty.as_ref())?.map(Mass::to_micrograms),
        capacity_nl: read::<Volume>(Question::Capacity, answers.capacity.as_ref())?.map(Volume::to_nanolitres),
        density_g_per_ml: density(answers)?.map(|own| own.best.to_grams_per_millilitre()),
        ..Facts::default()
    };
    let usual_name = usual_name(formula.as_ref());
    said.push(format!("Found {} ± {} mL.", fixed(volume.best.to_millilitres(), 1), significant(volume.expanded(), 1)));
    Ok(Came {
        kind: ItemKind::Bottle,
        contents: Contents::Solution(volume.best),
        metal,
        costs: Vec::new(),
        facts,
        usual_name,
        said,
    })
}

fn density(answers: &Receive) -> Result<Option<Uncertain<MassDensity>>, Refusal> {
    Ok(read::<MassDensity>(Question::Density, answers.density.as_ref())?.map(|best| Uncertain::new(best, 0.0)))
}

fn gauge(answers: &Receive) -> Result<Gauge, Refusal> {
    gauge_of(
        answers.volume.as_ref(),
        answers.level.as_ref().zip(answers.capacity.as_ref()),
        answers.gross.as_ref().zip(answers.empty.as_ref()),
        answers,
    )
}

fn gauge_of(
    volume: Option<&String>,
    level: Option<(&String, &String)>,
    weights: Option<(&String, &String)>,
    answers: &Receive,
) -> Result<Gauge, Refusal> {
    if let Some(volume) = read::<Volume>(Question::Measured, volume)? {
        return Ok(Gauge::Measured(volume));
    }
    if let Some((level, capacity)) = level
        && let Some(level) = read::<Level>(Question::Level, Some(level))?
        && let Some(capacity) = read::<Volume>(Question::Capacity, Some(capacity))?
    {
        return Ok(Gauge::ByEye(level, capacity));
    }
    if let Some((gross, empty)) = weights {
        let reading = |about, text| Ok::<_, Refusal>(read::<Mass>(about, Some(text))?.unwrap_or(Mass::ZERO));
        return Ok(Gauge::ByWeight {
            gross: reading(Question::Gross, gross)?,
            empty: reading(Question::Empty, empty)?,
            density: density(answers)?,
            balance: read_balance(answers.balance.as_ref())?,
        });
    }
    let cause = String::from(
        "it is not said how much there is: a mass of powder; or of a solution its volume, its level in a bottle of known size, or its weights",
    );
    let one_of = vec![Question::JarMass, Question::Measured, Question::Level, Question::Gross];
    Err(Refusal::unreadable("amount_missing", Question::JarMass, cause, vec![Remedy::AnswerOneOf(one_of)]))
}

pub(super) fn gauge_refusal(error: &GaugeError) -> Refusal {
    match error {
        GaugeError::LighterThanEmpty { gross, empty } => {
            let swapped = Remedy::Write(Question::Gross, format!("{}g", significant(empty.to_grams(), 7)));
            let _ = gross;
            Refusal::rule("load_under_tare", Question::Gross, error.to_string(), vec![swapped])
        }
        GaugeError::Impossible { .. } => {
            let about = Question::Full;
            Refusal::rule("density_impossible", about, error.to_string(), vec![Remedy::LeaveOut(about)])
        }
        GaugeError::OutOfBounds(error) => Refusal::bounds(Question::Measured, error),
    }
}

/// The strength on the label; none when it is unknown.
fn strength(answers: &Receive) -> Result<Option<Strength>, Refusal> {
    let given: Vec<(Question, Strength)> = [
        read(Question::Percent, answers.percent.as_ref())?
            .map(|own| (Question::Percent, Strength::ComplexPercent(own))),
        read(Question::Molarity, answers.molarity.as_ref())?.map(|own| (Question::Molarity, Strength::Molarity(own))),
        read(Question::MetalPerMl, answers.metal_per_ml.as_ref())?
            .map(|own| (Question::MetalPerMl, Strength::Metal(own))),
    ]
    .into_iter()
    .flatten()
    .collect();
    match given.as_slice() {
        [] => Ok(None),
        [(_, one)] => Ok(Some(*one)),
        [(first, _), others @ ..] => {
            let cause = String::from("the strength is said more than once");
            let remedies = others.iter().map(|(question, _)| Remedy::LeaveOut(*question)).collect();
            Err(Refusal::rule("goal_overdetermined", *first, cause, remedies))
        }
    }
}
