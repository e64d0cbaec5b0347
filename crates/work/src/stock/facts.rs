//! Smaller questions: what a formula weighs, what a strength comes to, the halving ladder, what must not meet.

use handcoat_craft::measure::{Mass, MassFraction, MolarMass, PercentByVolume, Readable, Uncertain, Volume};
use handcoat_craft::source::{Compound, Element};
use handcoat_craft::stock::{
    Forms, FormsError, Formula, Ladder, Meeting, Powder, mass_fraction, meetings, molar_mass, named, strengths_by_form,
};

use super::answers::{
    LadderAnswers, StrengthAnswers, needed, read, read_balance, read_count, read_formula, read_hydrate, read_powder,
    too_much,
};
use crate::{Question, Refusal, Remedy};

/// What a formula says.
#[derive(Clone, Debug, PartialEq)]
pub struct FormulaFacts {
    /// The formula.
    pub formula: Formula,
    /// Its name and CAS number, when it is one of the named ones.
    pub named: Option<&'static Compound>,
    /// Its molar mass.
    pub molar_mass: Uncertain<MolarMass>,
    /// Part by mass of each element in it.
    pub parts: Vec<(Element, Uncertain<MassFraction>)>,
}

/// What a formula weighs and what it is made of.
///
/// # Errors
/// [`Refusal`] when it cannot be read.
pub fn facts(text: &str) -> Result<FormulaFacts, Refusal> {
    let formula = read_formula(Question::Substance, text)?;
    let parts = formula
        .counts()
        .iter()
        .filter_map(|&(element, _)| mass_fraction(&formula, element).map(|part| (element, part)))
        .collect();
    let named = named(&formula);
    Ok(FormulaFacts { molar_mass: molar_mass(&formula), named, parts, formula })
}

/// What a strength in % w/v comes to, for every form the solid may be.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read.
pub fn strengths(answers: &StrengthAnswers) -> Result<Forms, Refusal> {
    let solid = read_formula(Question::Substance, needed(Question::Substance, answers.solid.as_ref(), "Na2PdCl4")?)?;
    let hydrate = read_hydrate(answers.hydrate.as_ref())?;
    let percent = needed(Question::Percent, answers.percent.as_ref(), "15")?;
    let percent = PercentByVolume::read(percent)
        .map_err(|error| Refusal::quantity(Question::Percent, PercentByVolume::FORMS, &error))?;
    let metal = [Element::PD, Element::PT, Element::AU, Element::FE].into_iter().find(|m| solid.count(*m) > 0.0);
    strengths_by_form(&solid, hydrate, percent, metal).map_err(|error| match error {
        FormsError::Hydrate(error) => Refusal::hydrate(&error),
        FormsError::OutOfBounds(error) => {
            let remedies = vec![Remedy::Write(Question::Percent, "15".into())];
            Refusal::rule("value_out_of_bounds", Question::Percent, error.to_string(), remedies)
        }
    })
}

/// The halving ladder of a powder.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read or a rung is out of bounds.
pub fn ladder(answers: &LadderAnswers) -> Result<(Powder, Ladder), Refusal> {
    let powder = read_powder(
        answers.salt.as_ref(),
        answers.hydrate.as_ref(),
        answers.purity.as_ref(),
        answers.purity_of.as_ref(),
    )?;
    if powder.salt().chlorides_needed() > 0.0 {
        let cause = format!(
            "`{}` does not dissolve in water alone; a ladder is made of a salt that does",
            powder.salt().formula()
        );
        let remedies = vec![Remedy::Write(Question::Powder, "Na2PtCl6·6H2O".into())];
        return Err(Refusal::rule("ladder_needs_soluble_salt", Question::Powder, cause, remedies));
    }
    let usual = |text: &Option<String>, usual: &str| text.clone().unwrap_or_else(|| usual.into());
    let top = read::<PercentByVolume>(Question::FirstRung, Some(&usual(&answers.from, "20%")))?;
    let keep = read::<Volume>(Question::Keep, Some(&usual(&answers.keep, "10mL")))?;
    let rungs = read_count(Question::Rungs, answers.rungs.as_ref(), 5, 1..=8)?;
    let balance = read_balance(answers.balance.as_ref())?;
    let (Some(top), Some(keep)) = (top, keep.filter(|keep| !keep.is_zero())) else {
        let cause = String::from("a ladder with nothing kept of each rung has no rungs");
        let remedies = vec![Remedy::Write(Question::Keep, "10mL".into())];
        return Err(Refusal::rule("nothing_asked", Question::Keep, cause, remedies));
    };
    let mass = read::<Mass>(Question::SaltMass, answers.salt_mass.as_ref())?;
    if mass.is_some() && answers.keep.is_some() {
        return Err(too_much(&[Question::SaltMass, Question::Keep]));
    }
    if mass.is_some_and(Mass::is_zero) {
        let cause = String::from("a ladder of no powder has no rungs");
        let remedies = vec![Remedy::Write(Question::SaltMass, "1g".into())];
        return Err(Refusal::rule("nothing_asked", Question::SaltMass, cause, remedies));
    }
    let made = match mass {
        Some(mass) => Ladder::of(&powder, mass, top, rungs, balance),
        None => Ladder::halve(&powder, top, keep, rungs, balance),
    };
    let ladder = made.map_err(|error| {
        let given = [
            (Question::SaltMass, answers.salt_mass.is_some()),
            (Question::FirstRung, answers.from.is_some()),
            (Question::Keep, answers.keep.is_some()),
            (Question::Rungs, answers.rungs.is_some()),
            (Question::Balance, answers.balance.is_some()),
        ];
        // Every usual value is within bounds: something given is beyond them.
        let remedies =
            given.into_iter().filter_map(|(about, given)| given.then_some(Remedy::LeaveOut(about))).collect();
        Refusal::rule("value_out_of_bounds", Question::Keep, error.to_string(), remedies)
    })?;
    Ok((powder, ladder))
}

/// Substances, and every pair among them that must not meet.
#[derive(Clone, Debug, PartialEq)]
pub struct Pairing {
    /// The substances, as read.
    pub substances: Vec<Formula>,
    /// The pairs.
    pub meetings: Vec<Meeting>,
}

/// Which of several substances must not meet.
///
/// # Errors
/// [`Refusal`] when a formula cannot be read, or when there are fewer than two.
pub fn pairs(texts: &[String]) -> Result<Pairing, Refusal> {
    let about = Question::Substance;
    let substances = texts.iter().map(|text| read_formula(about, text)).collect::<Result<Vec<_>, _>>()?;
    if substances.len() < 2 {
        let cause = format!("{} substance given; a pair needs two", substances.len());
        return Err(Refusal::unreadable("pair_incomplete", about, cause, vec![Remedy::Write(about, "NaClO".into())]));
    }
    let every = substances
        .iter()
        .enumerate()
        .flat_map(|(place, one)| substances.iter().skip(place + 1).flat_map(move |other| meetings(one, other)));
    // Two rows of the table may say the same of a pair, and a substance may be named twice: each danger is told once.
    let mut found: Vec<Meeting> = Vec::new();
    for own in every {
        let told = |it: &Meeting| (&it.one, &it.other, it.row.what) == (&own.one, &own.other, own.row.what);
        if !found.iter().any(told) {
            found.push(own);
        }
    }
    Ok(Pairing { substances, meetings: found })
}
