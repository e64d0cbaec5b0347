//! What a plan rests on: what was measured, what was said, and what stood in for a measurement, each with where it is from.

use handcoat_craft::measure::{Uncertain, fixed, significant, with_uncertainty};
use handcoat_craft::paper::{Dropper, Tool, UptakeRule};
use handcoat_craft::source::{
    CUSTOMARY_MARGIN, Citation, IRON_PERCENT, PRINTING_OUT_IRON, PRINTING_OUT_METAL, USUAL_COMPLEX_PERCENT,
    USUAL_DROPS, USUAL_SALT_PERCENT,
};

use super::answers::CoatAnswers;
use super::known::{DropperFacts, Known};
use handcoat_craft::coat::Plan;
use handcoat_craft::measure::{Share, Uptake};

/// Where a figure is from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// A record of the book, or a bottle on its shelf.
    Book,
    /// An answer.
    Said,
    /// A custom of the trade, because nothing was measured or said.
    Custom,
}

impl Origin {
    /// In one word, as programs read it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Book => "book",
            Self::Said => "said",
            Self::Custom => "custom",
        }
    }
}

impl Origin {
    /// Before the words of what is from there.
    #[must_use]
    pub fn heading(self) -> &'static str {
        match self {
            Self::Book => "book",
            Self::Said => "said",
            Self::Custom => "custom",
        }
    }
}

/// One figure a plan rests on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Used {
    /// Which: `uptake`, `share`, `margin`, `drops`, `iron`, `metal`.
    pub what: &'static str,
    /// Where it is from.
    pub origin: Origin,
    /// In words, with its ± and its source.
    pub words: String,
}

pub(super) fn used(what: &'static str, origin: Origin, words: String) -> Used {
    Used { what, origin, words }
}

fn day(measured: Option<&String>) -> String {
    measured.map_or_else(String::new, |day| format!(", measured {day}"))
}

fn per_area(uptake: Uptake) -> String {
    format!("{} mL to 100 cm²", significant(uptake.to_millilitres_per_100_cm2(), 3))
}

/// A share with its ±.
pub(super) fn share_words(share: &Uncertain<Share>) -> String {
    let percent = |part: f64| fixed(part * 100.0, 1);
    match share.standard() > 0.0 {
        true => format!("{} ± {} % (k = 2)", percent(share.best.of_whole()), percent(share.expanded())),
        false => format!("{} %", percent(share.best.of_whole())),
    }
}

/// What the volume rests on.
pub(super) fn of_uptake(answers: &CoatAnswers, known: &Known, rule: UptakeRule) -> Vec<Used> {
    let mut all = Vec::new();
    let (paper, tool) = (known.paper.as_ref(), known.tool.as_ref());
    let whose = paper
        .filter(|own| own.uptake.is_some())
        .map(|own| own.name.clone())
        .or_else(|| tool.map(|own| own.name.clone()))
        .unwrap_or_default();
    let uptake = |uptake: Uptake| match answers.uptake {
        Some(_) => used("uptake", Origin::Said, format!("{} of coated area, as said", per_area(uptake))),
        None => used("uptake", Origin::Book, format!("{} of coated area, by the record of {whose}", per_area(uptake))),
    };
    match rule {
        UptakeRule::Measured { on_paper, share } => {
            all.push(uptake(on_paper));
            let said = share_words(&share);
            all.push(match (&answers.share, tool) {
                (None, Some(tool)) => {
                    let words = format!(
                        "{said} of what is poured reaches the paper with {}{}",
                        tool.name,
                        day(tool.measured.as_ref())
                    );
                    used("share", Origin::Book, words)
                }
                _ => used("share", Origin::Said, format!("{said} of what is poured reaches the paper, as said")),
            });
        }
        UptakeRule::Stated(on_paper) => {
            all.push(uptake(on_paper));
            let words = "no share is known of what stays in tool and glass: the uptake is taken as all that is poured";
            all.push(used("share", Origin::Custom, words.into()));
        }
        UptakeRule::Habit { tool: sort, .. } => {
            if let Some(own) = tool {
                let lacks = if own.share.is_some() {
                    "; its share is of no use before what the paper takes is known"
                } else {
                    ""
                };
                let words = format!("nothing is measured of how much {} lays{lacks}", own.name);
                all.push(used("uptake", Origin::Custom, words));
            }
            if let Some(own) = paper {
                all.push(used("uptake", Origin::Custom, format!("nothing is measured of how much {} takes", own.name)));
            }
            all.push(used("uptake", Origin::Custom, format!("so much as is usual with a {}", habit(sort))));
        }
    }
    all
}

fn habit(tool: Tool) -> &'static str {
    tool.name()
}

/// What the drops of one bottle rest on.
pub(super) fn of_record(bottle: &str, own: &DropperFacts) -> Used {
    let drops = match own.u_known {
        true => format!("{} drops/mL (k = 2)", with_uncertainty(&own.drops_per_ml)),
        false => format!("{} drops/mL, its ± not known", significant(own.drops_per_ml.best.to_per_millilitre(), 4)),
    };
    used(
        "drops",
        Origin::Book,
        format!("{bottle}: {drops}, by the record of {}{}", own.name, day(own.measured.as_ref())),
    )
}

/// What the drops of a bottle rest on that has no record.
pub(super) fn of_said(bottle: &str, dropper: &Dropper, said: bool) -> Used {
    let drops = significant(dropper.per_ml.best.to_per_millilitre(), 4);
    match said {
        true => used("drops", Origin::Said, format!("{bottle}: {drops} drops/mL, as said")),
        false => {
            let words = format!("{bottle}: {drops} drops/mL, give or take a tenth ({})", USUAL_DROPS.cite);
            used("drops", Origin::Custom, words)
        }
    }
}

/// What margin and strengths rest on.
pub(super) fn of_solutions(answers: &CoatAnswers, plan: &Plan) -> Vec<Used> {
    let mut all = Vec::new();
    if answers.margin.is_none() {
        let cm = significant(plan.request.sheet.border().to_millimetres() / 10.0, 3);
        all.push(used("margin", Origin::Custom, format!("{cm} cm of margin on each side ({})", CUSTOMARY_MARGIN.cite)));
    }
    let request = &plan.request;
    let iron = &request.iron;
    let percent = significant(iron.percent.to_grams_per_100_ml(), 4);
    all.push(match (&answers.iron, iron.bottle.holds) {
        (_, Some(_)) => used("iron", Origin::Book, format!("{}, {percent} %", iron.bottle.name)),
        (Some(_), None) => used("iron", Origin::Said, format!("{}, as said", iron.bottle.name)),
        (None, None) => {
            let fact = if answers.printing_out { PRINTING_OUT_IRON } else { IRON_PERCENT };
            used("iron", Origin::Custom, format!("{} ({})", iron.bottle.name, fact.cite))
        }
    });
    let metals = [Some(&request.metal), request.second.as_ref().map(|(own, _)| own)];
    for (metal, text) in metals.into_iter().flatten().zip(&answers.metals) {
        let strength = with_uncertainty(&metal.strength);
        let usual = usual_cite(text.trim(), answers.printing_out);
        all.push(match (metal.bottle.holds, usual) {
            (Some(_), _) if metal.strength.standard() > 0.0 => {
                used("metal", Origin::Book, format!("{}, {strength} mg/mL (k = 2)", metal.bottle.name))
            }
            (Some(_), _) => {
                let best = significant(metal.strength.best.to_milligrams_per_millilitre(), 4);
                used("metal", Origin::Book, format!("{}, {best} mg/mL, its ± not known", metal.bottle.name))
            }
            (None, Some(cite)) => used("metal", Origin::Custom, format!("{} ({cite})", metal.bottle.name)),
            (None, None) => used("metal", Origin::Said, format!("{}, as said", metal.bottle.name)),
        });
    }
    all
}

/// The source of a usual solution, where only its metal was said.
fn usual_cite(text: &str, printing_out: bool) -> Option<Citation> {
    match (text, printing_out) {
        ("Pd" | "palladium" | "Pt" | "platinum", true) => Some(PRINTING_OUT_METAL.cite),
        ("Pd" | "palladium", false) => Some(USUAL_COMPLEX_PERCENT.cite),
        ("Pt" | "platinum", false) => Some(USUAL_SALT_PERCENT.cite),
        _ => None,
    }
}
