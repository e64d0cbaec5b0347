//! What somebody answered, as they wrote it, and reading it.

use handcoat_craft::measure::{Mass, MassFraction, Readable, Volume, read_price_per_mass, shortened, significant};
use handcoat_craft::stock::{
    AlkaliChloride, Balance, ChlorideChoice, Formula, Goal, Hydrate, MetalSalt, Powder, Purity, PurityOf, Request,
    Strength, WaterIs, Weighed, formula_of_name, usual_strength, waters_of_form,
};

use crate::{Question, Refusal, Remedy};

/// Answers to the questions of a stock plan. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct Answers {
    pub salt: Option<String>,
    pub with: Option<String>,
    pub make: Option<String>,
    pub percent_complex: Option<String>,
    pub molarity: Option<String>,
    pub salt_per_100ml: Option<String>,
    pub metal_per_ml: Option<String>,
    pub percent: Option<String>,
    pub percent_as: Option<String>,
    pub and: Vec<String>,
    pub from_stock: Option<String>,
    pub stock_density: Option<String>,
    pub salt_mass: Option<String>,
    pub bottle: Option<String>,
    pub budget: Option<String>,
    pub chloride_ratio: Option<String>,
    pub chloride_mass: Option<String>,
    pub purity: Option<String>,
    pub purity_of: Option<String>,
    pub hydrate: Option<String>,
    pub stated_molar_mass: Option<String>,
    pub price: Option<String>,
    pub balance: Option<String>,
    pub glass: Option<String>,
    pub rinses: Option<String>,
    pub meets: Vec<String>,
    pub weighed: Option<String>,
    pub chloride_weighed: Option<String>,
    pub mixed: bool,
    pub added: bool,
}

/// Answers to "what does so many percent of this solid come to".
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct StrengthAnswers {
    pub solid: Option<String>,
    pub percent: Option<String>,
    pub hydrate: Option<String>,
}

/// Answers to the questions of a halving ladder.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct LadderAnswers {
    pub salt: Option<String>,
    pub hydrate: Option<String>,
    pub purity: Option<String>,
    pub purity_of: Option<String>,
    /// Powder there is, or the vial: the ladder is made of it.
    pub salt_mass: Option<String>,
    pub from: Option<String>,
    pub keep: Option<String>,
    pub rungs: Option<String>,
    pub balance: Option<String>,
}

/// Reads a quantity that may have been left open.
pub(crate) fn read<Q: Readable>(about: Question, answer: Option<&String>) -> Result<Option<Q>, Refusal> {
    answer.map(|text| Q::read(text).map_err(|error| Refusal::quantity(about, Q::FORMS, &error))).transpose()
}

/// Reads a formula, or the plain name of something that has one here.
pub(crate) fn read_formula(about: Question, text: &str) -> Result<Formula, Refusal> {
    if let Some(named) = formula_of_name(text) {
        return Ok(named);
    }
    text.parse().map_err(|error| Refusal::formula(about, text, &error))
}

/// An answer without which there is nothing to do.
pub(crate) fn needed<'a>(about: Question, answer: Option<&'a String>, example: &str) -> Result<&'a str, Refusal> {
    answer.map(String::as_str).ok_or_else(|| Refusal::missing(about, example))
}

/// What is said of the water: `none`, a number, a form such as `hexahydrate`, or `unknown`.
pub(crate) fn read_hydrate(answer: Option<&String>) -> Result<Hydrate, Refusal> {
    let Some(text) = answer else { return Ok(Hydrate::AsWritten) };
    let about = Question::Hydrate;
    match text.trim() {
        "unknown" => Ok(Hydrate::Unknown),
        "none" => Ok(Hydrate::Stated(0.0)),
        form if waters_of_form(form).is_some() => Ok(Hydrate::Stated(waters_of_form(form).unwrap_or_default())),
        number => match number.replace(',', ".").parse::<f64>() {
            Ok(waters) if (0.0..=24.0).contains(&waters) => Ok(Hydrate::Stated(waters)),
            _ => {
                let text = shortened(text);
                let cause = format!(
                    "`{text}` is no number of waters; expected `none`, `unknown`, a form such as `hexahydrate`, or a number up to 24"
                );
                let remedies = vec![Remedy::Write(about, "none".into())];
                Err(Refusal::unreadable("hydrate_unreadable", about, cause, remedies))
            }
        },
    }
}

/// The purity and its meaning.
pub(crate) fn read_purity(purity: Option<&String>, of: Option<&String>) -> Result<Purity, Refusal> {
    let about = Question::PurityOf;
    let meaning = match of.map(|text| text.trim()) {
        None | Some("salt") => PurityOf::Salt,
        Some("metal") => PurityOf::Metal,
        Some("trace") => PurityOf::Trace,
        Some("unknown") => PurityOf::Unknown,
        Some(text) => {
            let text = shortened(text);
            let cause = format!("`{text}` is no meaning of a purity; expected `salt`, `metal`, `trace` or `unknown`");
            let remedies = vec![Remedy::Write(about, "salt".into())];
            return Err(Refusal::unreadable("purity_meaning_unreadable", about, cause, remedies));
        }
    };
    match read::<MassFraction>(Question::Purity, purity)? {
        Some(fraction) => Ok(Purity::Stated { fraction, of: meaning }),
        None if of.is_some() => {
            let cause = String::from("the meaning of a purity is given, and no purity");
            let remedies = vec![Remedy::Write(Question::Purity, "99%".into()), Remedy::LeaveOut(about)];
            Err(Refusal::rule("purity_missing", Question::Purity, cause, remedies))
        }
        None => Ok(Purity::Unstated),
    }
}

pub(crate) fn read_powder(
    salt: Option<&String>,
    hydrate: Option<&String>,
    purity: Option<&String>,
    of: Option<&String>,
) -> Result<Powder, Refusal> {
    let formula = read_formula(Question::Powder, needed(Question::Powder, salt, "PdCl2")?)?;
    let hydrate = read_hydrate(hydrate)?;
    let purity = read_purity(purity, of)?;
    let salt = MetalSalt::recognise(formula).map_err(|error| Refusal::salt(&error))?;
    Powder::new(salt, hydrate, purity).map_err(|error| Refusal::hydrate(&error))
}

pub(crate) fn read_balance(answer: Option<&String>) -> Result<Option<Balance>, Refusal> {
    let about = Question::Balance;
    let Some(step) = read::<Mass>(about, answer)? else { return Ok(None) };
    Balance::with_step(step).map(Some).ok_or_else(|| {
        let text = shortened(answer.map_or("", |text| text.trim()));
        let cause = format!("`{text}` is no step of a scale; expected more than nothing");
        Refusal::rule("balance_step_zero", about, cause, vec![Remedy::Write(about, "0.01g".into())])
    })
}

/// A weighing: a net mass, or the two readings it is the difference of, `8.12g-2.20g` (load less tare; of a vial,
/// full less empty), so that nobody subtracts in the head.
pub(crate) fn read_weighing(about: Question, answer: Option<&String>) -> Result<Option<Mass>, Refusal> {
    // Behind a plus stands what is over the plan as likely as what lies there.
    if let Some(text) = answer.map(|own| own.trim()).filter(|own| own.starts_with('+')) {
        let bare = text.trim_start_matches('+').trim();
        let cause = format!(
            "`{}` may be what lies there or what is over the plan; expected all that lies there",
            shortened(text)
        );
        return Err(Refusal::unreadable("weighing_signed", about, cause, vec![Remedy::Write(about, shortened(bare))]));
    }
    let Some((load, tare)) = answer.and_then(|text| text.trim().split_once(['-', '\u{2212}'])) else {
        return read(about, answer);
    };
    if load.trim().is_empty() {
        return read(about, answer);
    }
    let reading = |text: &str| Mass::read(text).map_err(|error| Refusal::quantity(about, Mass::FORMS, &error));
    let (load, tare) = (reading(load)?, reading(tare)?);
    load.less(tare).map(Some).ok_or_else(|| {
        let (load, tare) = (significant(load.to_grams(), 7), significant(tare.to_grams(), 7));
        let cause = format!("the load of {load} g is less than the tare of {tare} g; write the load first");
        Refusal::rule("load_under_tare", about, cause, vec![Remedy::Write(about, format!("{tare}g-{load}g"))])
    })
}

/// A small whole number within a range.
pub(crate) fn read_count(
    about: Question,
    answer: Option<&String>,
    usual: u32,
    range: std::ops::RangeInclusive<u32>,
) -> Result<u32, Refusal> {
    let Some(text) = answer else { return Ok(usual) };
    match text.trim().parse::<u32>() {
        Ok(count) if range.contains(&count) => Ok(count),
        _ => {
            let text = shortened(text);
            let cause =
                format!("`{text}` is no whole number from {} to {} ({})", range.start(), range.end(), about.asks());
            Err(Refusal::unreadable("count_unreadable", about, cause, vec![Remedy::Write(about, usual.to_string())]))
        }
    }
}

impl Answers {
    /// The strength that was asked for, and by which answer; more than one is refused.
    fn strength(&self) -> Result<Option<(Question, Strength)>, Refusal> {
        percent_or_part(Question::PercentComplex, self.percent_complex.as_ref())?;
        percent_or_part(Question::SaltPer100Ml, self.salt_per_100ml.as_ref())?;
        let given = [
            (
                Question::PercentComplex,
                read(Question::PercentComplex, self.percent_complex.as_ref())?.map(Strength::ComplexPercent),
            ),
            (Question::Molarity, read(Question::Molarity, self.molarity.as_ref())?.map(Strength::Molarity)),
            (
                Question::SaltPer100Ml,
                read(Question::SaltPer100Ml, self.salt_per_100ml.as_ref())?.map(Strength::SaltPer100Ml),
            ),
            (Question::MetalPerMl, read(Question::MetalPerMl, self.metal_per_ml.as_ref())?.map(Strength::Metal)),
        ];
        let mut found = given.into_iter().filter_map(|(question, strength)| strength.map(|own| (question, own)));
        match (found.next(), found.next()) {
            (Some((first, _)), Some((second, _))) => Err(too_much(&[first, second])),
            (first, _) => Ok(first),
        }
    }

    fn goal(&self, powder: &Powder) -> Result<Goal, Refusal> {
        let make = read::<Volume>(Question::Volume, self.make.as_ref())?;
        let bottle = read::<Volume>(Question::Bottle, self.bottle.as_ref())?;
        let mass = read::<Mass>(Question::SaltMass, self.salt_mass.as_ref())?;
        let budget = read(Question::Budget, self.budget.as_ref())?;
        let asked = self.strength()?;
        let strength = asked.map_or_else(|| usual_strength(powder), |(_, strength)| strength);
        if let (Some(_), Some(_), Some((by, _))) = (make, mass, asked) {
            return Err(too_much(&[Question::Volume, Question::SaltMass, by]));
        }
        match (make, mass, budget, bottle) {
            (_, Some(_), Some(_), _) => Err(too_much(&[Question::SaltMass, Question::Budget])),
            (Some(_), _, Some(_), _) => Err(too_much(&[Question::Volume, Question::Budget])),
            (Some(volume), Some(mass), None, _) => Ok(Goal::Into(volume, mass)),
            (Some(volume), None, None, _) => Ok(Goal::Make(volume, strength)),
            (None, Some(mass), None, _) => Ok(Goal::Dissolve(mass, strength)),
            (None, None, Some(budget), _) => Ok(Goal::Spend(budget, strength)),
            (None, None, None, Some(bottle)) => Ok(Goal::FillBottle(bottle, strength)),
            (None, None, None, None) => {
                let one_of = vec![Question::Volume, Question::SaltMass, Question::Bottle, Question::Budget];
                let cause = String::from("it is not said how much stock is wanted");
                Err(Refusal::unreadable("goal_missing", Question::Volume, cause, vec![Remedy::AnswerOneOf(one_of)]))
            }
        }
    }

    fn chloride_choice(&self) -> Result<ChlorideChoice, Refusal> {
        let ratio = read(Question::ChlorideRatio, self.chloride_ratio.as_ref())?;
        let mass = read(Question::ChlorideMass, self.chloride_mass.as_ref())?;
        match (ratio, mass) {
            (Some(_), Some(_)) => {
                let cause = String::from("the chloride is given as a ratio and as a mass");
                let remedies =
                    vec![Remedy::LeaveOut(Question::ChlorideRatio), Remedy::LeaveOut(Question::ChlorideMass)];
                Err(Refusal::rule("chloride_said_twice", Question::ChlorideRatio, cause, remedies))
            }
            (Some(ratio), None) => Ok(ChlorideChoice::Ratio(ratio)),
            (None, Some(mass)) => Ok(ChlorideChoice::Mass(mass)),
            (None, None) => Ok(ChlorideChoice::Enough),
        }
    }

    /// The answers read.
    pub(crate) fn request(&self) -> Result<Request, Refusal> {
        self.only_of_metal()?;
        let powder =
            read_powder(self.salt.as_ref(), self.hydrate.as_ref(), self.purity.as_ref(), self.purity_of.as_ref())?;
        let chloride = match &self.with {
            Some(text) => AlkaliChloride::recognise(read_formula(Question::Chloride, text)?)
                .map_err(|error| Refusal::chloride(&error))?,
            None => AlkaliChloride::plain_salt(),
        };
        let price = self.price.as_ref().map(|text| {
            read_price_per_mass(text).map_err(|error| Refusal::quantity(Question::Price, "`48EUR/g`", &error))
        });
        let meets = self.meets.iter().map(|text| read_formula(Question::Meets, text)).collect::<Result<_, _>>()?;
        Ok(Request {
            goal: self.goal(&powder)?,
            powder,
            chloride,
            // A chloride that lies weighed in the beaker is used, whatever the plan says.
            chloride_named: self.with.is_some() && self.chloride_weighed.is_none(),
            chloride_choice: self.chloride_choice()?,
            water_is: if self.added { WaterIs::Added } else { WaterIs::MadeUp },
            balance: read_balance(self.balance.as_ref())?,
            glass: read(Question::Glass, self.glass.as_ref())?,
            price: price.transpose()?,
            bottle: read(Question::Bottle, self.bottle.as_ref())?,
            rinses: read_count(Question::Rinses, self.rinses.as_ref(), 2, 0..=9)?,
            stated_molar_mass: read(Question::MolarMass, self.stated_molar_mass.as_ref())?,
            meets,
        })
    }

    /// What was weighed, when anything was.
    pub(crate) fn weighed(&self) -> Result<Option<Weighed>, Refusal> {
        let salt = read_weighing(Question::Weighed, self.weighed.as_ref())?;
        let chloride = read_weighing(Question::ChlorideWeighed, self.chloride_weighed.as_ref())?;
        if salt.is_none() && chloride.is_none() {
            if self.mixed {
                let cause = String::from("it is said to be mixed, and not what was weighed");
                let remedies = vec![Remedy::Write(Question::Weighed, "5.9g".into()), Remedy::LeaveOut(Question::Mixed)];
                return Err(Refusal::rule("weighing_missing", Question::Weighed, cause, remedies));
            }
            return Ok(None);
        }
        Ok(Some(Weighed { salt, chloride, mixed: self.mixed }))
    }
}

/// A bare 0.15 of a metal stock is as likely fifteen percent written as a part: what is below one says which it is.
fn percent_or_part(about: Question, answer: Option<&String>) -> Result<(), Refusal> {
    let bare = answer.and_then(|text| text.trim().replace(',', ".").parse::<f64>().ok());
    let Some(part) = bare.filter(|own| *own > 0.0 && *own < 1.0) else { return Ok(()) };
    let (as_percent, as_part) = (format!("{}%", significant(part, 6)), format!("{}%", significant(part * 100.0, 6)));
    let cause = format!(
        "`{}` is a strength of {as_percent} or a part of one, {as_part}; expected which of the two",
        significant(part, 6)
    );
    let remedies = vec![Remedy::Write(about, as_part), Remedy::Write(about, as_percent)];
    Err(Refusal::unreadable("percent_or_part", about, cause, remedies))
}

/// Answers that say more than they may.
pub(super) fn too_much(given: &[Question]) -> Refusal {
    let words: Vec<&str> = given.iter().map(|question| question.asks()).collect();
    let cause = format!("these answers fix the plan more than once: {}", words.join("; "));
    let remedies = given.iter().map(|&question| Remedy::LeaveOut(question)).collect();
    // OK because every caller names at least two questions.
    Refusal::rule("goal_overdetermined", given[0], cause, remedies)
}
