//! The answers to the plan of a solution, read.

use handcoat_craft::measure::{
    Bounded, Mass, MassDensity, Molarity, PercentByMass, PercentByVolume, Readable, Volume, read_price_per_mass,
    shortened,
};
use handcoat_craft::stock::solution::{ComesAs, Dose, HowMuch, Ingredient, Solid, SolutionRequest, Strong};
use handcoat_craft::stock::{Formula, Hydrate, Purity, PurityOf, SaltError, WaterIs, prepared};

use super::Answers;
use super::answers::{needed, read, read_balance, read_count, read_formula, read_hydrate, read_purity, too_much};
use crate::{Question, Refusal, Remedy};

/// A solid from what its label says.
pub(crate) fn read_solid(formula: Formula, hydrate: Hydrate, purity: Purity) -> Result<Solid, Refusal> {
    if formula.charge() != 0 {
        return Err(Refusal::salt(&SaltError::Charged { formula: formula.to_string() }));
    }
    if let Purity::Stated { of: PurityOf::Metal, .. } = purity {
        let about = Question::PurityOf;
        let cause = String::from(
            "a purity as metal is reckoned with for palladium and platinum; here expected `salt`, `trace` or `unknown`",
        );
        return Err(Refusal::rule("assay_of_no_metal_stock", about, cause, vec![Remedy::Write(about, "salt".into())]));
    }
    Solid::new(formula, hydrate, purity).map_err(|error| Refusal::hydrate(&error))
}

/// One more solute: `oxalic acid=2%`, `KClO3=0.3g`, `H2C2O4·2H2O=2% 99%` with its purity behind.
pub(crate) fn read_solute(text: &str) -> Result<(&str, &str), Refusal> {
    text.split_once('=').filter(|(what, amount)| !what.trim().is_empty() && !amount.trim().is_empty()).ok_or_else(
        || {
            let cause =
                format!("`{}` does not say what and how much; expected it as `oxalic acid=2%`", shortened(text));
            let remedies = vec![Remedy::Write(Question::And, "oxalic acid=2%".into())];
            Refusal::unreadable("solute_unreadable", Question::And, cause, remedies)
        },
    )
}

/// Grams per 100 mL, grams in all, or moles per litre.
fn dose(text: &str) -> Result<Dose, Refusal> {
    if let Ok(mass) = Mass::read(text) {
        return Ok(Dose::Powder(mass));
    }
    if let Ok(molarity) = Molarity::read(text) {
        return Ok(Dose::Molar(molarity));
    }
    PercentByVolume::read(text).map(Dose::Percent).map_err(|error| {
        let forms = "`oxalic acid=2%`, `KClO3=0.3g` or `KCl=0.1M`";
        Refusal::quantity(Question::And, forms, &error)
    })
}

fn ingredient(text: &str) -> Result<Ingredient, Refusal> {
    let about = Question::And;
    let (what, amount) = read_solute(text)?;
    let formula = read_formula(about, what.trim())?;
    if prepared(&formula).is_some_and(|row| row.liquid) {
        let cause = format!("`{}` comes as a strong liquid; expected a powder here", what.trim());
        let first = vec![Remedy::Write(Question::Powder, what.trim().into()), Remedy::LeaveOut(about)];
        return Err(Refusal::rule("liquid_is_no_powder", about, cause, first));
    }
    // A purity may stand behind the amount.
    let (amount, purity) = match amount.trim().rsplit_once(' ') {
        Some((amount, purity)) if dose(amount).is_ok() && purity.ends_with('%') => (amount, Some(purity.to_owned())),
        _ => (amount.trim(), None),
    };
    let purity = read_purity(purity.as_ref(), None)?;
    let solid = read_solid(formula, Hydrate::AsWritten, purity)?;
    Ok(Ingredient { comes: ComesAs::Powder(solid), dose: dose(amount)? })
}

impl Answers {
    /// Answers that only a solution is asked for are not passed over by the plan of a metal.
    pub(super) fn only_of_metal(&self) -> Result<(), Refusal> {
        if self.percent.is_some() {
            let about = Question::Percent;
            let cause = String::from("percent of a metal salt may mean the complex or the powder; say which");
            let of = |question, text: &str| Remedy::Write(question, text.into());
            let remedies = vec![of(Question::PercentComplex, "15%"), of(Question::SaltPer100Ml, "20%")];
            return Err(Refusal::rule("percent_of_what", about, cause, remedies));
        }
        let others = [Question::PercentAs, Question::And, Question::FromStock, Question::StockDensity];
        self.not_asked(&others, "a stock of palladium or platinum")
    }

    fn not_asked(&self, questions: &[Question], of: &str) -> Result<(), Refusal> {
        match questions.iter().find(|question| self.gives(**question)) {
            None => Ok(()),
            Some(&about) => {
                let cause = format!("{} is answered, and it is not asked of {of}", about.asks());
                Err(Refusal::rule("answer_not_asked", about, cause, self.leave_out(&[about])))
            }
        }
    }

    /// The answers of a solution read.
    pub(super) fn solution(&self) -> Result<SolutionRequest, Refusal> {
        let metal_only = [
            Question::Chloride,
            Question::PercentComplex,
            Question::SaltPer100Ml,
            Question::MetalPerMl,
            Question::Budget,
            Question::ChlorideRatio,
            Question::ChlorideMass,
            Question::MolarMass,
            Question::Weighed,
            Question::ChlorideWeighed,
            Question::Mixed,
        ];
        self.not_asked(&metal_only, "a solution without palladium or platinum")?;
        let formula = read_formula(Question::Powder, needed(Question::Powder, self.salt.as_ref(), "ferric oxalate")?)?;
        let liquid = prepared(&formula).is_some_and(|row| row.liquid) || self.from_stock.is_some();
        let comes = if liquid { self.liquid(formula)? } else { self.powder(formula)? };
        let (how_much, into) = self.how_much()?;
        let first = Ingredient { dose: self.first_dose(comes.formula(), into)?, comes };
        let others = self.and.iter().map(|text| ingredient(text)).collect::<Result<Vec<_>, _>>()?;
        if let (HowMuch::Use(_), ComesAs::Liquid { .. }) = (how_much, &first.comes) {
            let cause = String::from("a mass of powder is given, and it comes as a liquid; say how much to make");
            let remedies = vec![Remedy::LeaveOut(Question::SaltMass), Remedy::Write(Question::Volume, "1L".into())];
            return Err(Refusal::rule("liquid_is_no_powder", Question::SaltMass, cause, remedies));
        }
        let price = self.price.as_ref().map(|text| {
            read_price_per_mass(text).map_err(|error| Refusal::quantity(Question::Price, "`48EUR/g`", &error))
        });
        Ok(SolutionRequest {
            ingredients: std::iter::once(first).chain(others).collect(),
            how_much,
            water_is: if self.added { WaterIs::Added } else { WaterIs::MadeUp },
            balance: read_balance(self.balance.as_ref())?,
            glass: read(Question::Glass, self.glass.as_ref())?,
            price: price.transpose()?,
            bottle: read(Question::Bottle, self.bottle.as_ref())?,
            rinses: self
                .rinses
                .as_ref()
                .map(|_| read_count(Question::Rinses, self.rinses.as_ref(), 2, 0..=9))
                .transpose()?,
            meets: self.meets.iter().map(|text| read_formula(Question::Meets, text)).collect::<Result<_, _>>()?,
        })
    }

    fn powder(&self, formula: Formula) -> Result<ComesAs, Refusal> {
        self.not_asked(&[Question::StockDensity], "a powder")?;
        let (hydrate, purity) =
            (read_hydrate(self.hydrate.as_ref())?, read_purity(self.purity.as_ref(), self.purity_of.as_ref())?);
        read_solid(formula, hydrate, purity).map(ComesAs::Powder)
    }

    fn liquid(&self, formula: Formula) -> Result<ComesAs, Refusal> {
        self.not_asked(&[Question::Hydrate, Question::Purity, Question::PurityOf, Question::PercentAs], "a liquid")?;
        let about = Question::FromStock;
        let text = needed(about, self.from_stock.as_ref(), "37%")?;
        let density = read::<MassDensity>(Question::StockDensity, self.stock_density.as_ref())?;
        let strong = match Molarity::read(text) {
            Ok(molarity) => Strong::Molar(molarity),
            Err(_) => {
                let percent =
                    PercentByVolume::read(text).map_err(|error| Refusal::quantity(about, "`37%` or `12M`", &error))?;
                match density {
                    None => Strong::ByVolume(percent),
                    Some(density) => {
                        let by_mass = PercentByMass::grams_per_100_g(percent.in_unit())
                            .map_err(|error| Refusal::bounds(about, &error))?;
                        Strong::ByMass(by_mass, density)
                    }
                }
            }
        };
        Ok(ComesAs::Liquid { formula, strong })
    }

    /// How much is wanted, and the mass of powder that goes into a stated volume.
    fn how_much(&self) -> Result<(HowMuch, Option<Mass>), Refusal> {
        let make = read::<Volume>(Question::Volume, self.make.as_ref())?;
        let bottle = read::<Volume>(Question::Bottle, self.bottle.as_ref())?;
        let mass = read::<Mass>(Question::SaltMass, self.salt_mass.as_ref())?;
        match (make, mass, bottle) {
            (Some(volume), mass, _) => Ok((HowMuch::Make(volume), mass)),
            (None, Some(mass), _) => Ok((HowMuch::Use(mass), None)),
            (None, None, Some(bottle)) => Ok((HowMuch::FillBottle(bottle), None)),
            (None, None, None) => {
                let one_of = vec![Question::Volume, Question::SaltMass, Question::Bottle];
                let cause = String::from("it is not said how much solution is wanted");
                Err(Refusal::unreadable("goal_missing", Question::Volume, cause, vec![Remedy::AnswerOneOf(one_of)]))
            }
        }
    }

    fn first_dose(&self, formula: &Formula, into: Option<Mass>) -> Result<Dose, Refusal> {
        let percent = read::<PercentByVolume>(Question::Percent, self.percent.as_ref())?;
        let molarity = read::<Molarity>(Question::Molarity, self.molarity.as_ref())?;
        let waters = match read_form(self.percent_as.as_ref())? {
            Some(_) if percent.is_none() => {
                return Err(Refusal::rule(
                    "percent_form_without_percent",
                    Question::PercentAs,
                    String::from("a form of the percentage is given, and no percentage"),
                    vec![Remedy::Write(Question::Percent, "27%".into()), Remedy::LeaveOut(Question::PercentAs)],
                ));
            }
            waters => waters,
        };
        match (percent, molarity, into) {
            (Some(_), Some(_), _) => Err(too_much(&[Question::Percent, Question::Molarity])),
            (Some(_), None, Some(_)) => Err(too_much(&[Question::Volume, Question::SaltMass, Question::Percent])),
            (None, Some(_), Some(_)) => Err(too_much(&[Question::Volume, Question::SaltMass, Question::Molarity])),
            (Some(percent), None, None) => {
                Ok(waters.map_or(Dose::Percent(percent), |waters| Dose::PercentAs(percent, waters)))
            }
            (None, Some(molarity), None) => Ok(Dose::Molar(molarity)),
            (None, None, Some(mass)) => Ok(Dose::Powder(mass)),
            (None, None, None) => {
                let usual = prepared(formula).and_then(|row| row.usual_percent);
                let percent = usual.and_then(|usual| PercentByVolume::grams_per_100_ml(usual).ok());
                percent.map(Dose::Percent).ok_or_else(|| Refusal::missing(Question::Percent, "1%"))
            }
        }
    }
}

/// The waters of the form a percentage is stated for.
fn read_form(answer: Option<&String>) -> Result<Option<f64>, Refusal> {
    match read_hydrate(answer).map_err(|refusal| Refusal { about: Some(Question::PercentAs), ..refusal })? {
        Hydrate::AsWritten => Ok(None),
        Hydrate::Stated(waters) => Ok(Some(waters)),
        Hydrate::Unknown => {
            let about = Question::PercentAs;
            let cause = String::from("a percentage of an unknown form is the percentage of what is in the jar");
            Err(Refusal::rule("percent_form_unknown", about, cause, vec![Remedy::LeaveOut(about)]))
        }
    }
}
