//! Refusals: typed, with a stable code and the next step.

use std::fmt;
use std::ops::Range;

use handcoat_craft::measure::{ReadError, significant};
use handcoat_craft::stock::{ChlorideError, FormulaError, HydrateError, Plan, PlanError, SaltError};

use crate::Question;

/// What sort of refusal; a door turns it into an exit code or a status.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RefusalKind {
    /// An answer or a file cannot be read as asked.
    Unreadable,
    /// It can be read, and a rule is against it.
    Refused,
    /// It should have worked and did not: a full disk, a file that cannot be written.
    Failed,
}

/// A next step. Each door words it: a command to paste, a button to press.
#[derive(Clone, Debug, PartialEq)]
pub enum Remedy {
    /// Answer this question in this form.
    Write(Question, String),
    /// Answer one of these.
    AnswerOneOf(Vec<Question>),
    /// Take this answer back.
    LeaveOut(Question),
    /// Weigh on a finer scale.
    FinerScale,
    /// Choose another name, or remove what is there yourself.
    AnotherName,
}

/// Where in an answer the trouble is.
#[derive(Clone, Debug, PartialEq)]
pub struct Excerpt {
    /// The answer as it was given.
    pub text: String,
    /// The part of it, in characters.
    pub chars: Range<usize>,
}

/// Why something is not done.
#[derive(Clone, Debug, PartialEq)]
pub struct Refusal {
    /// Stable code.
    pub code: &'static str,
    /// Sort.
    pub kind: RefusalKind,
    /// The question whose answer it is about, if it is about one.
    pub about: Option<Question>,
    /// What happened, the value seen, what was expected.
    pub cause: String,
    /// Where in the answer.
    pub excerpt: Option<Excerpt>,
    /// What to do next.
    pub remedies: Vec<Remedy>,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.cause)
    }
}

impl std::error::Error for Refusal {}

impl Refusal {
    /// A refusal by a rule.
    pub(crate) fn rule(code: &'static str, about: Question, cause: String, remedies: Vec<Remedy>) -> Self {
        Self { code, kind: RefusalKind::Refused, about: Some(about), cause, excerpt: None, remedies }
    }

    /// An answer that cannot be read.
    pub(crate) fn unreadable(code: &'static str, about: Question, cause: String, remedies: Vec<Remedy>) -> Self {
        Self { code, kind: RefusalKind::Unreadable, about: Some(about), cause, excerpt: None, remedies }
    }

    /// A file that could not be written or read.
    #[must_use]
    pub fn file(code: &'static str, about: Question, cause: String, remedies: Vec<Remedy>) -> Self {
        Self { code, kind: RefusalKind::Failed, about: Some(about), cause, excerpt: None, remedies }
    }

    /// Something already stands where a file or folder was to be written.
    #[must_use]
    pub fn occupied(about: Question, path: &std::path::Path) -> Self {
        let cause = format!("`{}` exists already and is left as it is", path.display());
        Self::rule("file_exists", about, cause, vec![Remedy::AnotherName])
    }

    /// A quantity that could not be read; `forms` are examples in backticks.
    pub(crate) fn quantity(about: Question, forms: &'static str, error: &ReadError) -> Self {
        // The first example is the remedy a person can paste.
        let example = forms.split('`').nth(1).unwrap_or(forms);
        let remedies = vec![Remedy::Write(about, example.into())];
        Self::unreadable(error.code(), about, error.to_string(), remedies)
    }

    /// A formula that could not be read.
    pub(crate) fn formula(about: Question, text: &str, error: &FormulaError) -> Self {
        let example = match about {
            Question::Chloride => "NaCl",
            _ => "PdCl2",
        };
        let example = error.meant().unwrap_or(example);
        let excerpt = error.at().map(|bytes| {
            let chars_before = |byte: usize| text.char_indices().take_while(|(at, _)| *at < byte).count();
            Excerpt { text: text.into(), chars: chars_before(bytes.start)..chars_before(bytes.end) }
        });
        let remedies = vec![Remedy::Write(about, example.into())];
        Self { excerpt, ..Self::unreadable(error.code(), about, error.to_string(), remedies) }
    }

    pub(crate) fn salt(error: &SaltError) -> Self {
        let remedies = ["PdCl2", "K2PtCl4", "(NH4)2PtCl4", "Na2PtCl6·6H2O"]
            .map(|salt| Remedy::Write(Question::Powder, salt.into()))
            .to_vec();
        Self::rule(error.code(), Question::Powder, error.to_string(), remedies)
    }

    /// A statement about the water that cannot stand.
    pub(crate) fn hydrate(error: &HydrateError) -> Self {
        let about = Question::Hydrate;
        Self::rule(error.code(), about, error.to_string(), vec![Remedy::LeaveOut(about)])
    }

    pub(crate) fn chloride(error: &ChlorideError) -> Self {
        let remedies = vec![Remedy::Write(Question::Chloride, "NaCl".into())];
        Self::rule("chloride_not_alkali", Question::Chloride, error.to_string(), remedies)
    }

    /// A weighing that leads nowhere: about the weighing, not about the plan, which stands.
    pub(crate) fn weighing(plan: &Plan, error: &PlanError) -> Self {
        let about = Question::Weighed;
        let planned = format!("{}g", significant(plan.batch.salt.to_grams(), 7));
        let cause = format!("with what was weighed ({planned} was planned) {error}");
        Self::rule(error.code(), about, cause, vec![Remedy::Write(about, planned), Remedy::LeaveOut(about)])
    }

    pub(crate) fn plan(error: &PlanError) -> Self {
        let (about, remedies) = match error {
            PlanError::PurityAboveFormula { .. } => {
                (Question::Purity, vec![Remedy::Write(Question::PurityOf, "salt".into())])
            }
            PlanError::BelowBalance { .. } => (
                Question::Balance,
                vec![Remedy::FinerScale, Remedy::AnswerOneOf(vec![Question::Volume, Question::SaltMass])],
            ),
            PlanError::NoRoomForWater { .. } => {
                (Question::Volume, vec![Remedy::LeaveOut(Question::SaltMass), Remedy::LeaveOut(Question::Molarity)])
            }
            PlanError::GlassTolerance { .. } => (
                Question::Glass,
                vec![Remedy::Write(Question::Glass, "0.5mL".into()), Remedy::LeaveOut(Question::Glass)],
            ),
            PlanError::Nothing { .. } => {
                (Question::Volume, vec![Remedy::AnswerOneOf(vec![Question::Volume, Question::SaltMass])])
            }
            PlanError::BudgetBuysNothing { .. } | PlanError::PriceMissing => {
                (Question::Price, vec![Remedy::Write(Question::Price, "48EUR/g".into())])
            }
            PlanError::OutOfBounds(_) => (Question::Volume, vec![Remedy::LeaveOut(Question::SaltMass)]),
        };
        Self::rule(error.code(), about, error.to_string(), remedies)
    }
}
