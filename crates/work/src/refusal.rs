//! Refusals: typed, with a stable code and the next step.

use std::fmt;
use std::ops::Range;

use handcoat_craft::measure::{OutOfBounds, ReadError, significant};
use handcoat_craft::stock::{
    AsWeighed, BuysNothing, ChlorideError, FormulaError, HydrateError, Nothing, Plan, PlanError, SaltError, Way,
    Weighed,
};
use serde::{Deserialize, Serialize};

use crate::Question;
use crate::stock::Answers;

/// What sort of refusal; a door turns it into an exit code or a status.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum RefusalKind {
    /// An answer or a file cannot be read as asked.
    Unreadable,
    /// It can be read, and a rule is against it.
    Refused,
    /// It should have worked and did not: a full disk, a file that cannot be written.
    Failed,
    /// What is named is not there.
    Missing,
    /// A book that is damaged, foreign or newer.
    Damaged,
    /// Somebody else is writing.
    Busy,
}

/// A next step. Each door words it: a command to paste, a button to press.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Remedy {
    /// Answer this question in this form.
    Write(Question, String),
    /// Answer one of these.
    AnswerOneOf(Vec<Question>),
    /// Take this answer back.
    LeaveOut(Question),
    /// Give the same answer in fewer words.
    Shorten(Question),
    /// Weigh on a scale that reads in this step or finer.
    FinerScale(String),
    /// Choose another name, or remove what is there yourself.
    AnotherName,
    /// Write to a place that exists and may be written to.
    AnotherPlace,
    /// Make room on the disk, or write elsewhere.
    MakeRoom,
    /// Make a new book.
    MakeBook,
    /// Use the later program that wrote it.
    LaterProgram,
    /// Put a copy in its place.
    RestoreCopy,
    /// Let the book be checked.
    CheckBook,
    /// Wait a moment and do it again.
    TryAgain,
    /// Count what is really in this item.
    TakeStock(String),
    /// Take a bottle that holds so much.
    LargerBottle(String),
    /// Take this act back first.
    UndoFirst(i64),
    /// Listen at another port.
    AnotherPort,
    /// Look at the list of acts.
    ListActs,
    /// Look at the shelf.
    ShowShelf,
    /// Look at what is kept beside the shelf.
    ListKept,
    /// Look at the coats that wait.
    ListCoats,
    /// Look at the list of prints.
    ListPrints,
    /// Look at the exposure tests that are kept.
    ListTests,
    /// Look at the responses that are kept.
    ListResponses,
    /// Look at the list of sessions.
    ListSessions,
    /// Look at the timers that run.
    ListTimers,
    /// Change what this set-up keeps as the answer to a question.
    ChangeSetup(String, Question, String),
    /// Look at the negatives that are kept.
    ListNegatives,
    /// Look at the jobs.
    ListJobs,
    /// Go on with this job.
    ResumeJob(i64),
    /// Go on with this job under another answer.
    ResumeWith(i64, Question, String),
    /// Put this job away.
    PutAwayJob(i64),
    /// Save the picture anew, as a file that is taken.
    OtherPicture,
    /// Read formula, water and purity on the jar or its certificate again.
    ReadTheJar,
    /// Scan the print again, as the sentence says.
    ScanAgain,
    /// Make the picture smaller, as JPEG or PNG.
    SmallerPicture,
    /// Write it off as residue of this item.
    LoseAsResidue(String),
    /// Let it be tried without keeping anything, and read all that is found.
    LookFirst,
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
    /// Where in the answer. Boxed, because a refusal travels in every result and this is rare.
    pub excerpt: Option<Box<Excerpt>>,
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

    /// An output that could not be given and is no file anybody named.
    #[must_use]
    pub fn output(code: &'static str, cause: String, remedies: Vec<Remedy>) -> Self {
        Self { code, kind: RefusalKind::Failed, about: None, cause, excerpt: None, remedies }
    }

    /// An answer without which there is nothing to do, and it was left open.
    #[must_use]
    pub fn missing(about: Question, example: &str) -> Self {
        let cause = format!("it is not said {}", about.asks());
        Self::unreadable("answer_missing", about, cause, vec![Remedy::Write(about, example.into())])
    }

    /// Points that are no curve, and what makes one.
    pub(crate) fn no_curve(why: &str) -> Self {
        let about = Question::Curve;
        let cause = format!(
            "{why}; a chart that is printed, read and fitted makes one (tone fit CHART --csv curve.csv, or --keep for the book), and so does a \
             table input,output of your own"
        );
        Self::rule("curve_none", about, cause, vec![Remedy::ListResponses, Remedy::Write(about, "curve.csv".into())])
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
        Self { excerpt: excerpt.map(Box::new), ..Self::unreadable(error.code(), about, error.to_string(), remedies) }
    }

    /// A number that came out of sound answers and is beyond what can be kept.
    pub(crate) fn bounds(about: Question, error: &OutOfBounds) -> Self {
        Self::rule("value_out_of_bounds", about, error.to_string(), vec![Remedy::LeaveOut(about)])
    }

    /// What was mixed comes to no solution.
    pub(crate) fn made(error: &PlanError) -> Self {
        let about = match error {
            PlanError::Nothing { what: Nothing::Weighing } => Question::PowderWeighed,
            _ => Question::Volume,
        };
        Self::rule(error.code(), about, error.to_string(), vec![Remedy::Write(Question::Volume, "60mL".into())])
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

    /// A weighing that leads nowhere: about the weighing to blame, not about the plan, which stands.
    pub(crate) fn weighing(plan: &Plan, weighed: Weighed, error: &PlanError) -> Self {
        // With the powder alone it goes, or there was none: the chloride is to blame.
        let powder_alone = AsWeighed::after(plan, Weighed { chloride: None, ..weighed });
        let chloride = weighed.salt.is_none() || (weighed.chloride.is_some() && powder_alone.is_ok());
        let (about, planned) = if chloride {
            (Question::ChlorideWeighed, plan.batch.chloride)
        } else {
            (Question::Weighed, plan.batch.salt)
        };
        let planned_g = planned;
        let planned = format!("{}g", significant(planned.to_grams(), 7));
        let mut cause = format!("with what was weighed ({planned} was planned) {error}");
        // A pour that makes no solution in the planned volume has its ways all the same.
        let salt = plan.request.powder.salt();
        let over = weighed.salt.and_then(|own| own.less(planned_g)).filter(|own| !chloride && !own.is_zero());
        if let Some((over, poured)) = over.zip(weighed.salt).filter(|_| !weighed.mixed) {
            let volume_ml = plan.batch.volume.best.to_millilitres() * poured.to_grams() / planned_g.to_grams();
            let make_up = format!("plan it anew, made up to {} mL", significant(volume_ml, 4));
            let ways = if Way::PutBack(over).is_permitted(salt) {
                format!("put back {} g from the clean paper, or {make_up}", significant(over.to_grams(), 7))
            } else {
                make_up
            };
            cause.push_str(&format!("; {ways}"));
        }
        Self::rule(error.code(), about, cause, vec![Remedy::Write(about, planned), Remedy::LeaveOut(about)])
    }

    /// A metal content beyond what the salt can hold, of a jar that comes in.
    pub(crate) fn assay(error: &PlanError, hydrate_said: bool) -> Self {
        let hydrate = hydrate_said.then(|| String::from("none"));
        Self::plan(&Answers { hydrate, ..Answers::default() }, error)
    }

    /// An impossible plan. Only answers that were given are blamed or to be taken back.
    pub(crate) fn plan(answers: &Answers, error: &PlanError) -> Self {
        let given = |question| answers.gives(question);
        // What says how much: the answer the goal was read from.
        let goal = [Question::Budget, Question::Volume, Question::SaltMass, Question::Bottle]
            .into_iter()
            .find(|&question| given(question))
            .unwrap_or(Question::Volume);
        let more = || vec![Remedy::AnswerOneOf(vec![goal])];
        // What can make solids too many: beside a volume the powder, and always strength and chloride.
        let crowding = || {
            let mut crowding = vec![
                Question::ChlorideMass,
                Question::ChlorideRatio,
                Question::PercentComplex,
                Question::Molarity,
                Question::SaltPer100Ml,
                Question::MetalPerMl,
                Question::Percent,
                Question::And,
            ];
            if given(Question::Volume) {
                crowding.insert(0, Question::SaltMass);
            }
            Some(answers.leave_out(&crowding)).filter(|found| !found.is_empty()).unwrap_or_else(more)
        };
        let (about, remedies) = match error {
            PlanError::PurityAboveFormula { dry_holds, .. } => {
                // Called a purity of the salt it would plan with twice the powder: what is wrong is the water or the jar.
                let dry = (*dry_holds && given(Question::Hydrate)).then_some(Remedy::LeaveOut(Question::Hydrate));
                (Question::Purity, dry.into_iter().chain([Remedy::ReadTheJar]).collect())
            }
            PlanError::BelowBalance { fine_enough, .. } => {
                let finer = Remedy::FinerScale(format!("{}g", significant(fine_enough.to_grams(), 6)));
                (Question::Balance, [vec![finer], more()].concat())
            }
            PlanError::NoRoomForWater { .. } => (goal, crowding()),
            PlanError::NoRoomForRinses { fit, .. } => {
                (Question::Rinses, [vec![Remedy::Write(Question::Rinses, fit.to_string())], more()].concat())
            }
            PlanError::TooLittleToPour { .. } => (goal, more()),
            PlanError::GlassTolerance { .. } => {
                let about = Question::Glass;
                (about, vec![Remedy::Write(about, "0.5mL".into()), Remedy::LeaveOut(about)])
            }
            PlanError::Nothing { what } => (
                match what {
                    Nothing::Volume => Question::Volume,
                    Nothing::Bottle => Question::Bottle,
                    Nothing::Powder => Question::SaltMass,
                    Nothing::Weighing => Question::Weighed,
                },
                more(),
            ),
            PlanError::BudgetBuysNothing { price_currency, why, .. } => {
                let about = Question::Budget;
                let remedies = match why {
                    BuysNothing::NoMoney | BuysNothing::OtherCurrency | BuysNothing::TooLittle => {
                        vec![Remedy::Write(about, format!("400{price_currency}"))]
                    }
                    BuysNothing::Free => {
                        let one_of = vec![Question::Volume, Question::SaltMass, Question::Bottle];
                        [answers.leave_out(&[about]), vec![Remedy::AnswerOneOf(one_of)]].concat()
                    }
                };
                (about, remedies)
            }
            PlanError::PriceMissing => (Question::Price, vec![Remedy::Write(Question::Price, "48EUR/g".into())]),
            PlanError::OutOfBounds(_) => (goal, crowding()),
        };
        Self::rule(error.code(), about, error.to_string(), remedies)
    }
}
