//! Which questions of a plan were answered, so that no refusal names an answer nobody gave.

use super::Answers;
use crate::{Question, Remedy};

impl Answers {
    /// Whether a question of the plan is answered.
    pub(crate) fn gives(&self, question: Question) -> bool {
        let answer = match question {
            Question::Powder => &self.salt,
            Question::Chloride => &self.with,
            Question::Volume => &self.make,
            Question::PercentComplex => &self.percent_complex,
            Question::Molarity => &self.molarity,
            Question::SaltPer100Ml => &self.salt_per_100ml,
            Question::MetalPerMl => &self.metal_per_ml,
            Question::Percent => &self.percent,
            Question::PercentAs => &self.percent_as,
            Question::FromStock => &self.from_stock,
            Question::StockDensity => &self.stock_density,
            Question::And => return !self.and.is_empty(),
            Question::SaltMass => &self.salt_mass,
            Question::Bottle => &self.bottle,
            Question::Budget => &self.budget,
            Question::ChlorideRatio => &self.chloride_ratio,
            Question::ChlorideMass => &self.chloride_mass,
            Question::Purity => &self.purity,
            Question::PurityOf => &self.purity_of,
            Question::Hydrate => &self.hydrate,
            Question::MolarMass => &self.stated_molar_mass,
            Question::Price => &self.price,
            Question::Balance => &self.balance,
            Question::Glass => &self.glass,
            Question::Rinses => &self.rinses,
            Question::Weighed => &self.weighed,
            Question::ChlorideWeighed => &self.chloride_weighed,
            Question::Meets => return !self.meets.is_empty(),
            Question::Mixed => return self.mixed,
            Question::Added => return self.added,
            // Every other question is asked by another command.
            _ => return false,
        };
        answer.is_some()
    }

    /// To take back those of these answers that were given.
    pub(crate) fn leave_out(&self, questions: &[Question]) -> Vec<Remedy> {
        questions.iter().filter(|question| self.gives(**question)).map(|&question| Remedy::LeaveOut(question)).collect()
    }
}
