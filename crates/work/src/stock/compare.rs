//! Powders and ready-made solutions side by side: money per gram of metal, and per millilitre at one strength.

use handcoat_craft::measure::{
    Mass, MassConcentration, MassFraction, Money, PercentByVolume, Readable, Volume, shortened,
};
use handcoat_craft::source::Element;
use handcoat_craft::stock::{
    AlkaliChloride, Formula, Hydrate, Hydration, MetalSalt, Offer, Powder, Purity, PurityOf, Strength, kept_metal,
    metal_in_powder, metal_in_solution, metal_of_mass, metal_of_volume, usual_strength,
};

use super::answers::read_formula;
use crate::{Question, Refusal, Remedy};

/// What is for sale, each in one line.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CompareAnswers {
    /// `PdCl2 480EUR/10g 99%`: formula, price, purity where it is known.
    pub powders: Vec<String>,
    /// `Na2PdCl4 190EUR/100mL 15%`: formula, price, grams per 100 mL.
    pub solutions: Vec<String>,
    /// The strength to compare at; the usual one of each metal when left open.
    pub metal_per_ml: Option<String>,
}

/// One thing for sale.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// As it was written.
    pub written: String,
    /// The solid in it.
    pub formula: Formula,
    /// Its metal.
    pub metal: Element,
    /// What it comes to.
    pub offer: Offer,
    /// The strength it is compared at.
    pub strength: MassConcentration,
    /// Nothing is said of its purity; it counts as 100 %.
    pub purity_open: bool,
    /// Nothing is said of its water, and it matters.
    pub water_open: bool,
}

/// Compares offers: by metal, then by currency, the cheapest metal first.
///
/// # Errors
/// [`Refusal`] when an offer cannot be read or holds no metal.
pub fn compare(answers: &CompareAnswers) -> Result<Vec<Compared>, Refusal> {
    if answers.powders.is_empty() && answers.solutions.is_empty() {
        let cause = String::from("nothing is given to compare");
        let one_of = vec![Question::PowderOffer, Question::SolutionOffer];
        return Err(Refusal::unreadable(
            "answer_missing",
            Question::PowderOffer,
            cause,
            vec![Remedy::AnswerOneOf(one_of)],
        ));
    }
    let asked = super::answers::read::<MassConcentration>(Question::MetalPerMl, answers.metal_per_ml.as_ref())?;
    let powders = answers.powders.iter().map(|text| powder(text, asked));
    let solutions = answers.solutions.iter().map(|text| solution(text, asked));
    let mut found = powders.chain(solutions).collect::<Result<Vec<_>, _>>()?;
    let order = |own: &Compared| (own.metal.to_string(), own.offer.currency().letters());
    found.sort_by(|one, other| {
        order(one).cmp(&order(other)).then(one.offer.per_gram().total_cmp(&other.offer.per_gram()))
    });
    Ok(found)
}

/// An offer taken apart: formula, price and what it buys, a percentage.
struct Parts<'t> {
    formula: Formula,
    sum: Money,
    buys: &'t str,
    percent: Option<&'t str>,
}

fn parts<'t>(about: Question, example: &str, text: &'t str) -> Result<Parts<'t>, Refusal> {
    let unreadable = || {
        let cause =
            format!("`{}` is no offer; expected formula, price and percentage as `{example}`", shortened(text.trim()));
        Refusal::unreadable("offer_unreadable", about, cause, vec![Remedy::Write(about, example.into())])
    };
    let mut words = text.split_whitespace();
    let formula = read_formula(about, words.next().ok_or_else(unreadable)?)?;
    let (mut price, mut percent) = (None, None);
    for word in words {
        let place = if word.contains('/') { &mut price } else { &mut percent };
        if place.replace(word).is_some() {
            return Err(unreadable());
        }
    }
    let (sum, buys) = price.and_then(|price| price.split_once('/')).ok_or_else(unreadable)?;
    let sum = Money::read(sum).map_err(|error| Refusal::quantity(about, "`480EUR/10g`", &error))?;
    Ok(Parts { formula, sum, buys, percent })
}

/// `10g` or, where it buys one of them, `g`.
fn bought<Q: Readable>(about: Question, text: &str) -> Result<Q, Refusal> {
    let bare = text.chars().next().is_some_and(char::is_alphabetic);
    let text = if bare { format!("1{text}") } else { text.to_owned() };
    Q::read(&text).map_err(|error| Refusal::quantity(about, Q::FORMS, &error))
}

fn holds_nothing(about: Question, formula: &Formula) -> Refusal {
    let cause = format!("the offer of {formula} holds no metal of the trade, or none at all is bought");
    Refusal::rule("offer_without_metal", about, cause, vec![Remedy::LeaveOut(about)])
}

fn powder(text: &str, asked: Option<MassConcentration>) -> Result<Compared, Refusal> {
    let about = Question::PowderOffer;
    let Parts { formula, sum, buys, percent } = parts(about, "PdCl2 480EUR/10g 99%", text)?;
    let mass: Mass = bought(about, buys)?;
    let purity = match percent {
        None => Purity::Unstated,
        Some(text) => {
            let fraction =
                MassFraction::read(text).map_err(|error| Refusal::quantity(about, MassFraction::FORMS, &error))?;
            Purity::Stated { fraction, of: PurityOf::Salt }
        }
    };
    let salt = MetalSalt::recognise(formula.clone())
        .map_err(|error| Refusal { about: Some(about), ..Refusal::salt(&error) })?;
    let metal = salt.metal().element();
    let powder = Powder::new(salt, Hydrate::AsWritten, purity).map_err(|error| Refusal::hydrate(&error))?;
    let in_it = metal_of_mass(mass, metal_in_powder(&powder).best).map_err(|error| Refusal::bounds(about, &error))?;
    let offer = Offer::new(sum, in_it).ok_or_else(|| holds_nothing(about, &formula))?;
    let water_open = matches!(powder.hydration(), Hydration::Unstated(_) | Hydration::Unknown);
    let strength = asked.or_else(|| usual(metal)).ok_or_else(|| holds_nothing(about, &formula))?;
    let purity_open = purity == Purity::Unstated;
    Ok(Compared { written: text.into(), formula, metal, offer, strength, purity_open, water_open })
}

fn solution(text: &str, asked: Option<MassConcentration>) -> Result<Compared, Refusal> {
    let about = Question::SolutionOffer;
    let Parts { formula, sum, buys, percent } = parts(about, "Na2PdCl4 190EUR/100mL 15%", text)?;
    let volume: Volume = bought(about, buys)?;
    let percent = percent.ok_or_else(|| {
        let cause = format!("how strong the solution of {formula} is, is not said");
        Refusal::unreadable(
            "offer_unreadable",
            about,
            cause,
            vec![Remedy::Write(about, "Na2PdCl4 190EUR/100mL 15%".into())],
        )
    })?;
    let percent =
        PercentByVolume::read(percent).map_err(|error| Refusal::quantity(about, PercentByVolume::FORMS, &error))?;
    let metal = kept_metal(&formula).ok_or_else(|| holds_nothing(about, &formula))?;
    let found = metal_in_solution(&formula, Hydrate::AsWritten, Strength::ComplexPercent(percent))
        .map_err(|error| Refusal::rule("value_out_of_bounds", about, error.to_string(), vec![Remedy::LeaveOut(about)]))?
        .ok_or_else(|| holds_nothing(about, &formula))?;
    let in_it = metal_of_volume(volume, found.best).map_err(|error| Refusal::bounds(about, &error))?;
    let offer = Offer::new(sum, in_it).ok_or_else(|| holds_nothing(about, &formula))?;
    let strength = asked.or_else(|| usual(metal)).unwrap_or(found.best);
    let water_open = found.standard() > 0.0;
    Ok(Compared { written: text.into(), formula, metal, offer, strength, purity_open: false, water_open })
}

/// One strength for a metal, so that offers of it stand side by side: the usual one of its common stock.
fn usual(metal: Element) -> Option<MassConcentration> {
    let solid = match metal {
        Element::PD => "PdCl2",
        Element::PT => "K2PtCl4",
        _ => return None,
    };
    let salt = MetalSalt::recognise(solid.parse().ok()?).ok()?;
    let powder = Powder::new(salt.clone(), Hydrate::Stated(0.0), Purity::Unstated).ok()?;
    let strength = usual_strength(&powder);
    let solid = match strength {
        Strength::ComplexPercent(_) => salt.complex(&AlkaliChloride::plain_salt()),
        _ => salt.formula().clone(),
    };
    metal_in_solution(&solid, Hydrate::Stated(0.0), strength).ok().flatten().map(|own| own.best)
}
