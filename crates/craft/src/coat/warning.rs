//! What should be known before dropping. Nothing here blocks.

use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::fmt;

use super::contrast::{Agent, Contrast};
use super::plan::{Plan, one_drop};
use super::reckon::IronToMetal;
use super::whole::Coat;
use super::{CoatError, Coats, IronMolarity};
use crate::measure::{Share, percent, significant};
use crate::paper::DropperFrom;
use crate::source::{
    CHLORATE_IRON, COLD_CRYSTALS, DOSE_ROUNDED, Element, FEW_DROPS, IRON_PER_METAL, LESS, MUCH_ON_TOP,
    PRINTING_OUT_HUMIDITY, RATIO_ROUNDED,
};
use crate::stock::{Formula, Meetings, grouped, meetings};

/// Something to know.
#[derive(Clone, Debug, PartialEq)]
pub enum Warning {
    /// The form of the iron salt is not known, and its strength with it.
    IronFormUnknown(IronMolarity),
    /// There is surely less iron than the metal needs, or may be.
    IronShort(IronToMetal),
    /// The water of a metal salt is open.
    MetalFormOpen(String),
    /// Nobody calibrated a dropper.
    DropperUsual,
    /// One drop is a large part of the scarcest solution.
    FewDrops(String, Share),
    /// Whole drops miss a wanted part by so much.
    RatioRounded(f64),
    /// Whole drops miss the dose by so much.
    DoseRounded(f64),
    /// So large a part of the sensitizer is added on top of it.
    MuchOnTop(f64),
    /// The search found nothing within what was asked.
    NotWithin(f64),
    /// Less is poured than anybody is known to.
    VeryLittle,
    /// Substances in this mix do harm together.
    Meets(Meetings),
    /// Chlorate and iron oxalate in one bottle.
    ChlorateIron,
    /// A chlorate iron outside what is met.
    ChlorateUnusual(f64),
    /// A hexachloroplatinate in a coat with platinum.
    AgentWithPlatinum,
    /// A platinum stock that may crystallise in the cold.
    MayCrystallise,
    /// The first coat must dry.
    DryBetween,
    /// Paper must be damp for the printing-out way.
    DampPaper,
    /// What these solutions do to people.
    Care,
}

impl Warning {
    /// The stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::IronFormUnknown(_) => "iron_form_unknown",
            Self::IronShort(_) => "iron_short",
            Self::MetalFormOpen(_) => "metal_form_open",
            Self::DropperUsual => "dropper_not_calibrated",
            Self::FewDrops(..) => "few_drops",
            Self::RatioRounded(_) => "ratio_rounded",
            Self::DoseRounded(_) => "dose_rounded",
            Self::MuchOnTop(_) => "much_on_top",
            Self::NotWithin(_) => "not_within",
            Self::VeryLittle => "very_little",
            Self::Meets(meetings) => meetings.row.harm.warning_code(),
            Self::ChlorateIron => "chlorate_iron_gases",
            Self::ChlorateUnusual(_) => "chlorate_unusual",
            Self::AgentWithPlatinum => "agent_with_platinum",
            Self::MayCrystallise => "may_crystallise",
            Self::DryBetween => "dry_between",
            Self::DampPaper => "damp_paper",
            Self::Care => "care",
        }
    }
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let two = |value: f64| significant(value, 2);
        match self {
            Self::IronFormUnknown(molarity) => {
                let (least, most) = molarity.solid;
                write!(
                    f,
                    "the form of the iron salt is not known: its solution is anything from {} to {} mol/L",
                    two(least.to_moles_per_litre()),
                    two(most.to_moles_per_litre())
                )
            }
            Self::IronShort(ratio) if ratio.most < IRON_PER_METAL.value => write!(
                f,
                "{} iron to each metal at most, and two are needed: metal stays behind; take stronger iron or weaker metal",
                significant(ratio.most, 3)
            ),
            Self::IronShort(ratio) => write!(
                f,
                "between {} and {} iron to each metal, and two are needed: it may be too little; find out the form of the iron salt",
                significant(ratio.least, 3),
                significant(ratio.most, 3)
            ),
            Self::MetalFormOpen(name) => {
                write!(f, "the water in the salt of {name} is not said, so its metal may be a sixth less than the label lets one think")
            }
            Self::DropperUsual => {
                f.write_str("drops are taken as 20 to the mL, give or take a tenth: count drops of each solution into 10 mL once")
            }
            Self::FewDrops(name, part) => {
                write!(f, "one drop more or less of {name} is {} of it; weaker solutions or a larger mix are surer", percent(part.of_whole()))
            }
            Self::RatioRounded(error) => {
                write!(f, "whole drops miss a wanted part by {}; ask for a ratio to be kept to have them looked for", percent(*error))
            }
            Self::DoseRounded(error) => {
                let side = if *error > 0.0 { "more" } else { "less" };
                write!(f, "whole drops give {} {side} contrast agent than was asked; a weaker solution of it would be nearer", percent(error.abs()))
            }
            Self::MuchOnTop(part) => {
                let part = percent(*part);
                write!(f, "the contrast agent adds {part} to the sensitizer: it thins the coat and the paper may not take it; a stronger solution of it or a smaller dose adds less")
            }
            Self::NotWithin(error) => {
                write!(f, "no whole drops keep within what was asked; the nearest miss a part by {}", percent(*error))
            }
            Self::VeryLittle => f.write_str("this is less than anybody is known to pour: expect weak blacks and blotches"),
            Self::Meets(meetings) => write!(f, "{meetings}"),
            Self::ChlorateIron => f.write_str(
                "chlorate in an iron solution gives off gas within months: little at a time, never in a closed bottle, the grams on its label",
            ),
            Self::ChlorateUnusual(grams) => {
                let (least, most) = CHLORATE_IRON.value;
                write!(f, "{} g of chlorate in 100 mL is outside the {least} to {most} g that are met; look at the label", two(*grams))
            }
            Self::AgentWithPlatinum => {
                f.write_str("a hexachloroplatinate does little in a mix with platinum; it is for palladium")
            }
            Self::MayCrystallise => {
                f.write_str("crystals may drop out of the platinum in the cold; warm the bottle and shake before counting drops")
            }
            Self::Care => f.write_str(
                "gloves, no food, no dust: iron oxalates are poisonous, salts of palladium and platinum can make allergic; the suppliers' sheets decide",
            ),
            Self::DryBetween => f.write_str("let the first coat dry fully before the second"),
            Self::DampPaper => {
                write!(f, "the printing-out way wants paper at about {} % relative humidity", PRINTING_OUT_HUMIDITY.value)
            }
        }
    }
}

pub(super) fn all(plan: &Plan) -> Result<Vec<Warning>, CoatError> {
    let request = &plan.request;
    let mut out = Vec::new();
    out.extend(pairs(plan).into_iter().map(Warning::Meets));
    if let Some(Contrast::Chlorate(iron, _)) = &request.contrast {
        out.push(Warning::ChlorateIron);
        let (grams, (least, most)) = (iron.chlorate.to_grams_per_100_ml(), CHLORATE_IRON.value);
        out.extend((grams < least || grams > most).then_some(Warning::ChlorateUnusual(grams)));
    }
    if plan.iron_to_metal.least < IRON_PER_METAL.value {
        out.push(Warning::IronShort(plan.iron_to_metal));
    }
    let molarity = request.iron.molarity()?;
    out.extend((!molarity.known).then_some(Warning::IronFormUnknown(molarity)));
    let stocks = || [Some(&request.metal), request.second.as_ref().map(|(stock, _)| stock)].into_iter().flatten();
    out.extend(stocks().filter(|own| own.water_open).map(|own| Warning::MetalFormOpen(own.bottle.name.clone())));
    let not_within = plan.coats.iter().any(|coat| coat.within == Some(false));
    if not_within {
        out.push(Warning::NotWithin(plan.ratio_error().max(dose_error(plan).abs())));
    } else if plan.ratio_error() > RATIO_ROUNDED.value
        && request.second.is_some()
        && plan.coats.iter().all(|coat| coat.within.is_none())
    {
        out.push(Warning::RatioRounded(plan.ratio_error()));
    }
    if !not_within && dose_error(plan).abs() > DOSE_ROUNDED.value {
        out.push(Warning::DoseRounded(dose_error(plan)));
    }
    let on_top = plan.coats.iter().map(Coat::on_top_part).fold(0.0, f64::max);
    out.extend((on_top > MUCH_ON_TOP.value + 1e-9).then_some(Warning::MuchOnTop(on_top)));
    if let Some((name, part)) = one_drop(plan)
        && part.of_whole() * FEW_DROPS.value > 1.0
    {
        out.push(Warning::FewDrops(name.to_string(), part));
    }
    let least = LESS.iter().map(|less| plan.need.with_less(less)).fold(f64::INFINITY, f64::min);
    out.extend((plan.need.pour_ml < least * (1.0 - RATIO_ROUNDED.value)).then_some(Warning::VeryLittle));
    if let Some(Contrast::OnTop(agent, _)) = &request.contrast
        && matches!(agent.agent, Agent::Hexachloroplatinate(..))
        && stocks().any(|own| own.element == Element::PT)
    {
        out.push(Warning::AgentWithPlatinum);
    }
    let crystals = stocks().any(|own| {
        let potassium = own.solid.as_ref().is_some_and(|solid| solid.count(Element::K) > 0.0);
        let strong = own.percent.is_some_and(|percent| percent.to_grams_per_100_ml() >= COLD_CRYSTALS.value);
        own.element == Element::PT && potassium && strong
    });
    out.extend(crystals.then_some(Warning::MayCrystallise));
    let used = |place: usize| plan.coats.iter().flat_map(|coat| &coat.pours).any(|pour| pour.dropper == place);
    let unknown = |(place, own): (usize, &crate::paper::Dropper)| own.from == DropperFrom::Usual && used(place);
    out.extend(request.droppers.iter().enumerate().any(unknown).then_some(Warning::DropperUsual));
    out.extend(matches!(request.coats, Coats::Double(_)).then_some(Warning::DryBetween));
    out.extend(request.printing_out.then_some(Warning::DampPaper));
    out.push(Warning::Care);
    Ok(out)
}

fn dose_error(plan: &Plan) -> f64 {
    let errors = plan.coats.iter().filter_map(|coat| coat.dose_error);
    errors.fold(0.0, |most: f64, own| if own.abs() > most.abs() { own } else { most })
}

/// Pairs in the mix that do harm. Chlorate and the iron's oxalate are spoken of by a warning of their own; iron and peroxide meet
/// in every such coat, a drop in a glass and not in a bottle.
fn pairs(plan: &Plan) -> Vec<Meetings> {
    let request = &plan.request;
    let mut solids: Vec<&Formula> = Vec::from([&request.iron.solid]);
    solids.extend(request.metal.solid.as_ref());
    solids.extend(request.second.as_ref().and_then(|(stock, _)| stock.solid.as_ref()));
    if let Some(Contrast::OnTop(agent, _)) = &request.contrast
        && let Agent::Hexachloroplatinate(solid, _) = &agent.agent
    {
        solids.push(solid);
    }
    let mut found = Vec::new();
    for (place, one) in solids.iter().enumerate() {
        for other in solids.iter().skip(place + 1) {
            found.extend(meetings(one, other));
        }
    }
    grouped(found)
}
