//! The contrast ladder of one's own wedges.

use handcoat_craft::expose::{Dose, Ladder, LadderWedge, Predicted, Wanted};
use handcoat_craft::measure::{
    AgentDose, Bounded, DeveloperDose, LogRange, Readable, Span, Uncertain, read_digits, shortened,
};
use handcoat_craft::source::{BORROWED_SCALES, ContrastBy, EYE_TIME};
use jiff::Timestamp;

use super::refused::{none_of, one_of, refused};
use super::setup::{Family, family};
use crate::stock::{needed, read};
use crate::{Question, Refusal, Remedy, Studio};

/// Answers about a ladder. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct LadderAnswers {
    pub agent: Option<String>,
    /// The set-up whose kept wedges stand on it.
    pub setup: Option<String>,
    /// `0.5mg/mL 1.80 0.03 4:00`: dose, scale, its standard uncertainty, base time.
    pub wedges: Vec<String>,
    pub range: Option<String>,
    pub range_u: Option<String>,
    /// What others report is left out.
    pub own_only: bool,
}

/// One wedge a ladder rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LadderPoint {
    /// The wedge.
    pub wedge: LadderWedge,
    /// The kept test it is; none for one that was said beside the book.
    pub test: Option<u32>,
    /// None of one's own: what others report.
    pub borrowed: bool,
}

/// A ladder, its scales at a few doses, and what the negative asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct LadderRead {
    /// What contrast is raised with.
    pub by: ContrastBy,
    /// The set-up it is of.
    pub setup: Option<String>,
    /// What it rests on: own wedges first, then what others report.
    pub points: Vec<LadderPoint>,
    /// How the kept wedges count the scale.
    pub criterion: Option<String>,
    /// Kept wedges that count it otherwise and are not used: test and criterion.
    pub otherwise: Vec<(u32, String)>,
    /// What has changed since the kept wedges were made.
    pub suspect: Vec<String>,
    /// The line.
    pub ladder: Ladder,
    /// Doses a doubling apart over all that is known, and their scales.
    pub rungs: Vec<(Dose, Predicted)>,
    /// For the range of a negative, when one is said.
    pub wanted: Option<Wanted>,
}

const EXAMPLE: &str = "0.5mg/mL 1.80 0.03 4:00";

/// A dose in the coat or in the developer; `none` for no agent.
pub(crate) fn read_dose(about: Question, text: &str) -> Result<Option<Dose>, Refusal> {
    if text == "none" {
        return Ok(None);
    }
    let per_litre =
        text.ends_with("g/L") && !text.ends_with("mg/L") || text.ends_with("g/l") && !text.ends_with("mg/l");
    let dose = if per_litre {
        DeveloperDose::read(text).map(Dose::InDeveloper)
    } else {
        AgentDose::read(text).map(Dose::InCoat)
    };
    let forms = if about == Question::LadderWedge { "`0.5mg/mL 1.80 0.03 4:00`" } else { "`0.5mg/mL` or `0.2g/L`" };
    dose.map(Some).map_err(|error| Refusal::quantity(about, forms, &error))
}

fn read_wedge(text: &str) -> Result<LadderWedge, Refusal> {
    let about = Question::LadderWedge;
    let unreadable = || {
        let cause = format!(
            "`{}` is no wedge of a ladder; expected a dose (or `none`), the scale, its ± as one standard uncertainty, and the base time \
             if it is known",
            shortened(text.trim())
        );
        Refusal::unreadable("ladder_wedge_unreadable", about, cause, vec![Remedy::Write(about, EXAMPLE.into())])
    };
    let words: Vec<&str> = text.split_whitespace().collect();
    let (dose, scale, u, time) = match words.as_slice() {
        [dose, scale, u] => (dose, scale, u, None),
        [dose, scale, u, time] => (dose, scale, u, Some(time)),
        _ => return Err(unreadable()),
    };
    let quantity = |error| Refusal::quantity(about, "`0.5mg/mL 1.80 0.03 4:00`", &error);
    let scale = LogRange::read(scale).map_err(quantity)?;
    let (u, rest) = read_digits("standard uncertainty", "`0.03`", u).map_err(quantity)?;
    if !rest.is_empty() || u.is_negative() || u.to_f64() > LogRange::MOST {
        return Err(unreadable());
    }
    let base = time.map(|own| Span::read(own).map_err(quantity)).transpose()?;
    // A time without a ± is worth what an eye is.
    let base = base.map(|own| Uncertain::new(own, own.to_seconds() * EYE_TIME.value));
    Ok(LadderWedge { dose: read_dose(about, dose)?, scale: Uncertain::new(scale, u.to_f64()), base })
}

const AGENTS: [(&str, ContrastBy); 4] = [
    ("hexachloroplatinate", ContrastBy::Hexachloroplatinate),
    ("chlorate", ContrastBy::Chlorate),
    ("peroxide", ContrastBy::Peroxide),
    ("dichromate", ContrastBy::DichromateInDeveloper),
];

/// The word of what contrast is raised with.
#[must_use]
pub fn agent_word(by: ContrastBy) -> &'static str {
    AGENTS.iter().find(|own| own.1 == by).map_or("", |own| own.0)
}

/// Fits a ladder of wedges that are said.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, or the wedges say nothing.
pub fn ladder(answers: &LadderAnswers) -> Result<LadderRead, Refusal> {
    fit(answers, None)
}

/// Fits a ladder of the wedges kept for a set-up, beside those that are said.
///
/// # Errors
/// The same, and when the set-up is not there or the book cannot be read.
pub fn ladder_of(studio: &Studio, answers: &LadderAnswers, now: Timestamp) -> Result<LadderRead, Refusal> {
    let Some(setup) = &answers.setup else { return ladder(answers) };
    let kept = family(studio, setup, now)?;
    let setup = &kept.setup;
    let own = setup.known.iter().find(|(field, _)| field.key == "agent").map(|own| own.1.clone());
    let answers =
        LadderAnswers { agent: answers.agent.clone().or(own), setup: Some(setup.name.clone()), ..answers.clone() };
    fit(&answers, Some(kept))
}

fn fit(answers: &LadderAnswers, family: Option<Family>) -> Result<LadderRead, Refusal> {
    let agent = needed(Question::LadderAgent, answers.agent.as_ref(), "hexachloroplatinate")?;
    let by = one_of(agent, &AGENTS).ok_or_else(|| {
        let (cause, remedies) = none_of(Question::LadderAgent, agent, &AGENTS);
        Refusal::unreadable("agent_unknown", Question::LadderAgent, cause, remedies)
    })?;
    let said = answers.wedges.iter().map(|own| read_wedge(own)).collect::<Result<Vec<_>, _>>()?;
    let mut points: Vec<LadderPoint> = Vec::new();
    points.extend(said.into_iter().map(|wedge| LadderPoint { wedge, test: None, borrowed: false }));
    let (kept, criterion, otherwise, suspect) =
        family.map_or_else(Default::default, |own| (own.wedges, own.criterion, own.otherwise, own.suspect));
    points.extend(kept.into_iter().map(|(test, wedge)| LadderPoint { wedge, test: Some(test), borrowed: false }));
    let wedges: Vec<LadderWedge> = points.iter().map(|own| own.wedge).collect();
    let range = read::<LogRange>(Question::NegativeRange, answers.range.as_ref())?;
    let range_u = read::<LogRange>(Question::NegativeRangeOff, answers.range_u.as_ref())?;
    let ladder = Ladder::fit(by, &wedges, !answers.own_only).map_err(|own| refused(&own))?;
    let bounds = |own| Refusal::bounds(Question::LadderWedge, &own);
    let (least, most) = ladder.doses().map_err(bounds)?;
    let mut rungs = Vec::new();
    let mut next = least.in_unit();
    // A hair over, so that the last doubling is reached.
    while next <= most.in_unit() * (1.0 + 1e-9) {
        let dose = Dose::of(by, next).map_err(bounds)?;
        rungs.extend(ladder.scale_at(dose).map_err(|own| refused(&own))?.map(|own| (dose, own)));
        next *= 2.0;
    }
    let asked = range.map(|own| Uncertain::new(own, range_u.map_or(0.0, LogRange::to_log_h)));
    let wanted = asked.map(|own| ladder.wanted(own).map_err(|own| refused(&own))).transpose()?;
    for row in BORROWED_SCALES.iter().filter(|row| row.by == by && !answers.own_only) {
        let scale = Uncertain::new(LogRange::log_h(row.scale).map_err(bounds)?, row.u);
        let wedge = LadderWedge { dose: Some(Dose::of(by, row.dose).map_err(bounds)?), scale, base: None };
        points.push(LadderPoint { wedge, test: None, borrowed: true });
    }
    Ok(LadderRead { by, setup: answers.setup.clone(), points, criterion, otherwise, suspect, ladder, rungs, wanted })
}
