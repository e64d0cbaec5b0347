//! One step as a screen shows it: one thing to do, one number, a caution, two buttons.

use handcoat_book::BenchNumber;
use handcoat_craft::measure::{Mass, decimals_of_step, fixed, significant};
use handcoat_craft::source::READY_AFTER;
use handcoat_craft::stock::{Formula, WayOut, named};

use super::state::{State, read_mass};
use super::step::Step;
use crate::Refusal;
use crate::stock::{Planned, title, way_care, way_words};

/// A way on, with what it costs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WayButton {
    /// The verb on its button.
    pub verb: String,
    /// What to do.
    pub words: String,
    /// What to mind on it.
    pub care: Option<String>,
    /// It changes what the label promises: a quiet button.
    pub quiet: bool,
}

/// How a step is answered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Button {
    /// It is done.
    Done(&'static str),
    /// The scale shows the target, or something else.
    Reads {
        /// What it should show, as the scale shows it.
        target: String,
    },
    /// What the scale shows, whatever that is; may be passed over.
    Reading {
        /// Whether the step can be passed over without a reading.
        may_skip: bool,
    },
    /// One of these ways.
    Ways(Vec<WayButton>),
    /// There is nothing more to do here.
    Finished,
}

/// The screen of a step.
#[derive(Clone, Debug, PartialEq)]
pub struct BenchView {
    /// The work.
    pub number: BenchNumber,
    /// What is being made.
    pub title: String,
    /// The step on the screen; it goes back with the answer.
    pub step: Step,
    /// Which of how many, counted from one.
    pub place: (usize, usize),
    /// What to do.
    pub heading: String,
    /// The number, and its unit.
    pub target: Option<(String, &'static str)>,
    /// A line of help.
    pub note: Option<String>,
    /// At most two short sentences, before the button.
    pub caution: Option<&'static str>,
    /// The one warning of this screen.
    pub warning: Option<String>,
    /// How it is answered.
    pub button: Button,
    /// Whether a step back is possible.
    pub can_go_back: bool,
    /// The act it became, at the end.
    pub act: Option<i64>,
}

const SENSITISER: &str = "Closed until water goes in: never weigh out, tap or scrape this salt dry. Its dust can make you allergic for life.";
const DENSE: &str = "It is dense and pours suddenly. No dust: glasses and gloves stay on.";

/// The screen of where the work stands.
pub(super) fn view(number: BenchNumber, state: &State, act: Option<i64>) -> Result<BenchView, Refusal> {
    let planned = state.planned()?;
    let steps = state.steps(&planned);
    let step = state.step();
    let shown: Vec<Step> =
        steps.iter().copied().filter(|step| !matches!(step, Step::ChlorideWay | Step::PowderWay)).collect();
    // The ways belong to the weighing they follow.
    let counted = match step {
        Step::ChlorideWay => Step::Chloride,
        Step::PowderWay if shown.contains(&Step::Powder) => Step::Powder,
        Step::PowderWay => Step::VialEmpty,
        other => other,
    };
    let at = shown.iter().position(|own| *own == counted).unwrap_or(0) + 1;
    let face = face(state, &planned, step)?;
    let warning = (step == Step::Protect)
        .then(|| planned.plan.warnings.iter().find(|warning| warning.code() != "sealed_vial").map(ToString::to_string))
        .flatten();
    Ok(BenchView {
        number,
        title: title(&planned.plan),
        step,
        place: (at, shown.len()),
        heading: face.heading,
        target: face.target,
        note: face.note,
        caution: face.caution,
        warning,
        button: if act.is_some() && step == Step::Tomorrow { Button::Finished } else { face.button },
        can_go_back: act.is_none() && !state.done.is_empty(),
        act,
    })
}

/// What is particular to a step.
struct Face {
    heading: String,
    target: Option<(String, &'static str)>,
    note: Option<String>,
    caution: Option<&'static str>,
    button: Button,
}

impl Face {
    fn done(heading: impl Into<String>, button: &'static str) -> Self {
        Self { heading: heading.into(), target: None, note: None, caution: None, button: Button::Done(button) }
    }

    fn reading(heading: impl Into<String>, may_skip: bool) -> Self {
        Self { button: Button::Reading { may_skip }, ..Self::done(heading, "") }
    }

    fn ways(heading: String, planned: &Planned, ways: &[WayOut]) -> Self {
        let button = |out: &WayOut| {
            let (verb, words) = way_words(&planned.plan, out);
            let cost = out.more_in_stock().map_or(String::new(), |extra| format!("; {extra} more in stock"));
            let quiet = matches!(out.way, handcoat_craft::stock::Way::KeepAndRelabel);
            WayButton { verb: verb.into(), words: format!("{words}{cost}."), care: way_care(out), quiet }
        };
        Self { button: Button::Ways(ways.iter().map(button).collect()), ..Self::done(heading, "") }
    }

    fn to(self, number: impl Into<String>, unit: &'static str) -> Self {
        Self { target: Some((number.into(), unit)), ..self }
    }

    fn noting(self, note: impl Into<String>) -> Self {
        Self { note: Some(note.into()), ..self }
    }

    fn minding(self, caution: &'static str) -> Self {
        Self { caution: Some(caution), ..self }
    }
}

fn spoken(formula: &Formula) -> String {
    let subscripted = formula.subscripted();
    named(formula).map_or(subscripted.clone(), |own| format!("{}, {subscripted}", own.name))
}

/// Millilitres as they are poured.
fn ml(volume: handcoat_craft::measure::Volume) -> String {
    significant(volume.to_millilitres(), 4)
}

fn face(state: &State, planned: &Planned, step: Step) -> Result<Face, Refusal> {
    let plan = &planned.plan;
    let balance = plan.request.balance;
    let grams = |mass: Mass| fixed(mass.to_grams(), balance.map_or(3, |own| decimals_of_step(own.step())));
    let (powder, chloride) = (spoken(plan.request.powder.salt().formula()), spoken(plan.request.chloride.formula()));
    let now = planned.as_weighed.as_ref();
    let weigh = |what: &str, mass: Mass| {
        let face = Face::done(format!("Weigh {what}"), "").to(grams(mass), "g");
        Face { button: Button::Reads { target: format!("{} g", grams(mass)) }, ..face }
    };
    Ok(match step {
        Step::Protect => Face::done("Glasses and gloves on", "They are on")
            .noting("A sheet of glass under everything; what falls there is swept into a vial of its own.")
            .minding(
                "Palladium and platinum salts harm eyes and skin and can make you allergic. No food or drink here.",
            ),
        Step::EmptyBottle => Face::reading("Write the name on the bottle and weigh it empty, with its dropper", true).noting(
            "Its code comes with the label at the end. With this weight every later look at how much is left is a matter of seconds.",
        ),
        Step::ChloridePaper => Face::done("Paper on the scale, tare", "It reads zero"),
        Step::Chloride => weigh(&chloride, plan.batch.chloride),
        Step::ChlorideWay => {
            let read = state.chloride.as_deref().map(read_mass).transpose()?.map_or(String::new(), grams);
            let ways = now.map_or(&[][..], |now| &now.chloride_ways);
            Face::ways(format!("{read} g, planned {} g", grams(plan.batch.chloride)), planned, ways)
        }
        Step::Dissolve => {
            Face::done("Dissolve it in distilled water until clear", "It is clear").to(ml(plan.water.dissolve), "mL")
        }
        Step::PowderPaper => {
            let face = Face::done("New paper on the scale, tare", "It reads zero");
            match state.vials.first() {
                Some((vial, _)) => face.noting(format!("This paper is for powder from the jar. All of {vial} goes into the solution later; keep it off this paper.")),
                None => face,
            }
        }
        Step::Powder => {
            let from_the_jar = if state.vials.is_empty() { powder } else { format!("{powder}, from the jar") };
            weigh(&from_the_jar, plan.batch.salt.excess_over(state.in_vials()?)).minding(DENSE)
        }
        Step::PowderWay => {
            let read = state.powder.as_deref().map(read_mass).transpose()?.map_or(String::new(), grams);
            let target = grams(plan.batch.salt.excess_over(state.in_vials()?));
            let face =
                Face::ways(format!("{read} g, planned {target} g"), planned, now.map_or(&[][..], |now| &now.ways));
            if plan.request.powder.salt().is_chloroplatinate() {
                face
            } else {
                face.noting("Powder that touched anything but the clean paper does not go back into the jar.")
            }
        }
        Step::Add => Face::done("Close the jar; add the powder to the solution", "It is in").noting(added_note(state)),
        Step::VialFull => Face::reading("Weigh the sealed vial, closed", false).minding(SENSITISER),
        Step::VialDissolve => Face::done(
            "Dissolve all of it in its vial, pour, and rinse the vial into the beaker",
            "It is all in the beaker",
        )
        .to(ml(plan.water.dissolve), "mL")
        .minding(SENSITISER),
        Step::VialEmpty => Face::reading("Dry the empty vial with its cap and weigh it", false),
        Step::Stir => Face::done("Stir until clear, without sediment; let it cool", "It is clear and cool")
            .minding("In a warm water bath, not on a naked plate."),
        Step::Pour => Face::done("Pour into the cylinder", "It is poured"),
        Step::Rinse => match plan.water.rinses {
            0 => Face::done("Let the beaker drain", "It is drained"),
            1 => Face::done("Rinse the beaker into the cylinder, once, with", "It is rinsed")
                .to(ml(plan.water.rinse), "mL"),
            times => {
                Face::done(format!("Rinse the beaker into the cylinder {times} times, each time with"), "It is rinsed")
                    .to(ml(plan.water.rinse), "mL")
            }
        },
        Step::Mark => {
            let mark = state.mark.as_deref().map(|own| own.trim_end_matches("mL").to_owned());
            Face::done("Distilled water to the mark", "It is at the mark")
                .to(mark.unwrap_or_else(|| ml(plan.batch.volume.best)), "mL")
        }
        Step::Full => {
            Face::reading("Into the bottle, cap it, turn it over ten times, wipe it wet, weigh it full", true)
        }
        Step::Tomorrow => {
            Face::done("Look at it again tomorrow", "").to(significant(READY_AFTER.value, 3), "hours").noting(
                "Clear and deep in colour, it is ready. Print its label from its page on the shelf; the powder is out of the jar.",
            )
        }
    })
}

fn added_note(state: &State) -> String {
    let vials: Vec<&str> = state.vials.iter().map(|(name, _)| name.as_str()).collect();
    let swept = "Sweep what fell on the glass into a vial of its own.";
    let all_of = if vials.is_empty() { String::new() } else { format!("With it all of {}. ", vials.join(", ")) };
    match &state.more_chloride {
        Some(more) => {
            let grams = read_mass(more).map_or(0.0, Mass::to_grams);
            format!("{all_of}Add {} g more of the chloride too. {swept}", significant(grams, 4))
        }
        None => format!("{all_of}{swept}"),
    }
}
