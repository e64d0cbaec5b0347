//! What a plan warns of. Warnings never block; refusals are for the impossible.

use alloc::string::String;
use core::fmt;

use super::{Formula, Meetings};
use crate::measure::{
    AmountRatio, Bounded, Mass, MassFraction, MolarMass, Molarity, PercentByVolume, Volume, percent, significant,
};
use crate::source::{
    CHLORATE_APART, CHLORATE_IN_IRON, CHLORATE_SMALL, CHLORIDE_EXCESS, CHLORIDE_SHORT, CLINGING_FILM, LEAST_CHLORIDE,
    Solubility,
};

/// A weighing of fewer than ten balance steps, and what to do instead.
#[derive(Clone, Debug, PartialEq)]
pub struct Coarse {
    /// What is to be weighed.
    pub what: String,
    /// How much.
    pub mass: Mass,
    /// The balance's step.
    pub step: Mass,
    /// Volume at which the same recipe weighs ten steps; none when the volume was not the question.
    pub larger_volume: Option<Volume>,
    /// Or: a stronger solution, measured by mL.
    pub dilution: Option<Dilution>,
}

/// Weigh ten steps, make up, take so many mL of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Dilution {
    /// What to weigh.
    pub weigh: Mass,
    /// The chloride that goes into it too, and how much; none where it dissolves without.
    pub with: Option<(Formula, Mass)>,
    /// What to make it up to.
    pub make_up_to: Volume,
    /// How much of that to take.
    pub take: Volume,
    /// What to make that up to, where it is the whole stock; none where it takes the place of as much of the water.
    pub up_to: Option<Volume>,
}

/// One thing to know before going on.
#[derive(Clone, Debug, PartialEq)]
pub enum Warning {
    /// No purity: figures are for 100 %.
    PurityUnstated,
    /// A purity whose meaning is not known: taken as salt by mass.
    PurityMeaningUnknown,
    /// "Trace metals basis" says nothing about water or salt: figures are for 100 %.
    PurityTraceBasis,
    /// A purity of the salt that looks like its metal content.
    PurityMayBeAssay(MassFraction),
    /// This part of the metal stays in the beaker.
    StaysInBeaker(f64),
    /// Rounding to the scale moved the strength by this part of what was asked.
    AimMissed(f64),
    /// The water is open; as the other hydrate the powder holds this part of the metal less.
    HydrationUnstated {
        /// The hydrate it may be.
        may_be: Formula,
        /// Part of the metal it would hold less.
        less: f64,
    },
    /// The maker says that the water is not known; each water is this part of the metal less.
    HydrationUnknown {
        /// Part of the metal that one water takes away.
        less: f64,
    },
    /// The stated molar mass is not that of the formula.
    MolarMassDisagrees {
        /// As stated.
        stated: MolarMass,
        /// Of the formula.
        computed: MolarMass,
        /// A hydrate it would fit, if any.
        fits: Option<Formula>,
    },
    /// Less chloride than dissolves the powder.
    ChlorideShort(AmountRatio),
    /// More chloride than anyone intends.
    ChlorideExcess(AmountRatio),
    /// Fewer than ten balance steps.
    Coarse(Coarse),
    /// The bottle does not hold it, or leaves no room for the dropper.
    BottleTooSmall {
        /// What it is asked to hold.
        volume: Volume,
        /// What it holds, brim-full.
        bottle: Volume,
    },
    /// Pairs that must not meet.
    Meets(Meetings),
    /// More than this solid dissolves in the water it meets first.
    Solubility {
        /// The row.
        row: &'static Solubility,
        /// What the plan asks for, in grams per 100 g of water.
        asked: f64,
    },
    /// A chloride is named, and this salt needs none.
    ChlorideUnused(Formula),
    /// The glass is stated and no scale: no ± is shown.
    GlassUnused,
    /// The powder on hand is no whole number of the scale's steps: so much is planned of it.
    RoundedToScale {
        /// As it was said.
        asked: Mass,
        /// As the scale shows it, and no more than there is.
        planned: Mass,
    },
    /// A chloride that draws water out of the air, and then weighs more than its chloride.
    ChlorideDrawsWater(Formula),
    /// Crystals may drop out of a cold bottle of this solution.
    MayCrystallise,
    /// Only a whole sealed vial is ever dissolved of this salt.
    SealedVial(Mass),
    /// Which form of a solid it is is open, and with it the moles.
    FormOpen {
        /// As it is named.
        solid: Formula,
        /// The form with the least water, and what it would come to.
        dry: (Formula, Molarity),
        /// The form with the most water, and what it would come to.
        wet: (Formula, Molarity),
    },
    /// Chlorate goes into a solution of its own.
    ChlorateApart(Formula),
    /// Chlorate in the iron all the same.
    ChlorateInIron {
        /// How much.
        grams: Mass,
        /// Grams per 100 mL.
        percent: PercentByVolume,
        /// Whether it is more than a small bottle.
        large: bool,
    },
    /// An oxidiser never meets what burns as a powder.
    NeverDry(Formula),
    /// Acid goes into water.
    AcidToWater,
    /// Peroxide is kept by itself.
    PeroxideAlone,
    /// A strong liquid whose percentage is taken by volume.
    StrongByVolume(Formula),
    /// Rounding moved the strength of a solute by this part of what was asked.
    SoluteMissed {
        /// Which.
        solute: Formula,
        /// By which part.
        off: f64,
    },
}

impl Warning {
    /// Its stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::PurityUnstated => "purity_unstated",
            Self::PurityMeaningUnknown => "purity_meaning_unknown",
            Self::PurityTraceBasis => "purity_trace_basis",
            Self::PurityMayBeAssay(_) => "purity_may_be_assay",
            Self::StaysInBeaker(_) => "stays_in_beaker",
            Self::AimMissed(_) => "aim_missed",
            Self::HydrationUnstated { .. } => "hydration_unstated",
            Self::HydrationUnknown { .. } => "hydration_unknown",
            Self::MolarMassDisagrees { .. } => "molar_mass_disagrees",
            Self::ChlorideShort(_) => "chloride_short",
            Self::ChlorideExcess(_) => "chloride_excess",
            Self::Coarse(_) => "weighing_coarse",
            Self::BottleTooSmall { .. } => "bottle_too_small",
            Self::Meets(meetings) => meetings.row.harm.warning_code(),
            Self::Solubility { .. } => "solubility_exceeded",
            Self::ChlorideUnused(_) => "chloride_unused",
            Self::GlassUnused => "glass_unused",
            Self::RoundedToScale { .. } => "rounded_to_scale",
            Self::ChlorideDrawsWater(_) => "chloride_draws_water",
            Self::MayCrystallise => "may_crystallise",
            Self::SealedVial(_) => "sealed_vial",
            Self::FormOpen { .. } => "form_open",
            Self::ChlorateApart(_) => "chlorate_apart",
            Self::ChlorateInIron { .. } => "chlorate_in_iron",
            Self::NeverDry(_) => "never_dry",
            Self::AcidToWater => "acid_to_water",
            Self::PeroxideAlone => "peroxide_alone",
            Self::StrongByVolume(_) => "strong_by_volume",
            Self::SoluteMissed { .. } => "aim_missed",
        }
    }
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let grams = |mass: &Mass| significant(mass.to_grams(), 4);
        let ml = |volume: &Volume| significant(volume.to_millilitres(), 4);
        match self {
            Self::PurityUnstated => f.write_str("the jar's purity is not stated; figures are for 100 %; read it off the label and state it"),
            Self::PurityMeaningUnknown => {
                f.write_str("what the purity is a percentage of is not known; it is taken as salt by mass; ask the supplier, or say whether it is of salt, metal or trace")
            }
            Self::PurityTraceBasis => f.write_str(
                "a purity on trace metals basis counts other metals only, not water; figures are for 100 % salt; state the salt's own purity if the certificate gives one",
            ),
            Self::PurityMayBeAssay(fraction) => write!(
                f,
                "{} is about what the pure salt holds of metal; taken as purity of the salt, say if it is the metal's",
                percent(fraction.to_ratio())
            ),
            Self::StaysInBeaker(part) => write!(
                f,
                "about {} of the metal stays in the beaker (a film of {} mL) and the bottle is that much weaker; rinse more often or make more",
                percent(*part),
                CLINGING_FILM.value
            ),
            Self::AimMissed(off) => write!(
                f,
                "rounded to the scale the stock is {} {} than asked; weigh on a finer scale or make more",
                percent(libm::fabs(*off)),
                if *off > 0.0 { "stronger" } else { "weaker" }
            ),
            Self::HydrationUnstated { may_be, less } => write!(
                f,
                "the water in the powder is not stated; if it is {may_be} there is {} less metal; state the water, or compare the molar mass on the jar",
                percent(*less)
            ),
            Self::HydrationUnknown { less } => write!(
                f,
                "the water in the powder is not known; it is taken as dry, and each water in it is {} less metal; compare the molar mass on the jar",
                percent(*less)
            ),
            Self::MolarMassDisagrees { stated, computed, fits } => {
                let (stated, computed) = (stated.in_unit(), computed.in_unit());
                write!(
                    f,
                    "the stated molar mass {} g/mol is not the formula's {} g/mol",
                    significant(stated, 6),
                    significant(computed, 6)
                )?;
                match fits {
                    Some(fits) => write!(f, "; it fits {fits}: name that as the salt if the jar says so"),
                    None => f.write_str("; check the formula on the jar"),
                }
            }
            Self::ChlorideShort(ratio) => write!(
                f,
                "only {} added chloride per metal, under {}: powder may stay undissolved; take at least {} per metal",
                significant(ratio.to_ratio(), 4),
                CHLORIDE_SHORT.value,
                LEAST_CHLORIDE.value
            ),
            Self::ChlorideExcess(ratio) => write!(
                f,
                "{} added chloride per metal, over {}: more than the complex can use; {} is enough",
                significant(ratio.to_ratio(), 4),
                significant(CHLORIDE_EXCESS.value, 3),
                LEAST_CHLORIDE.value
            ),
            Self::Coarse(coarse) => {
                let nothing_else = coarse.larger_volume.is_none() && coarse.dilution.is_none();
                write!(
                    f,
                    "{} g of {} is under ten steps of a scale that reads {} g",
                    grams(&coarse.mass),
                    coarse.what,
                    grams(&coarse.step)
                )?;
                if let Some(larger) = &coarse.larger_volume {
                    write!(f, "; make {} mL instead", ml(larger))?;
                }
                if let Some(Dilution { weigh, with, make_up_to, take, up_to }) = &coarse.dilution {
                    let or = if coarse.larger_volume.is_some() { ", or" } else { ";" };
                    write!(f, "{or} weigh {} g", grams(weigh))?;
                    if let Some((chloride, mass)) = with {
                        write!(f, " with {} g of {chloride}", grams(mass))?;
                    }
                    let take = significant(take.to_millilitres(), 3);
                    write!(f, ", make up to {} mL and ", ml(make_up_to))?;
                    match up_to {
                        Some(whole) => write!(f, "make {take} mL of that up to {} mL", ml(whole))?,
                        None => write!(f, "take {take} mL for as much of the water")?,
                    }
                }
                if nothing_else { f.write_str("; weigh on a finer scale") } else { Ok(()) }
            }
            Self::BottleTooSmall { volume, bottle } => {
                let (volume_ml, bottle_ml) = (ml(volume), ml(bottle));
                if volume > bottle {
                    write!(f, "{volume_ml} mL do not fit a bottle of {bottle_ml} mL; take a larger one or make less")
                } else {
                    write!(
                        f,
                        "{volume_ml} mL fill a bottle of {bottle_ml} mL so far that the dropper has no room; take a larger one"
                    )
                }
            }
            Self::Meets(meetings) => write!(f, "{meetings}"),
            Self::Solubility { row, asked } => write!(
                f,
                "{} g of {} per 100 g of water is asked; about {} g dissolve at {} °C; take more water",
                significant(*asked, 3),
                row.formula,
                significant(row.grams_per_100_g_water, 3),
                row.celsius
            ),
            Self::ChlorideUnused(formula) => {
                write!(f, "{formula} is named and not used: this salt dissolves without; say how much if it is wanted")
            }
            Self::GlassUnused => {
                f.write_str("the tolerance of the glass is given and no scale; a ± is shown only where both are known; state the scale too")
            }
            Self::RoundedToScale { asked, planned } => write!(
                f,
                "the scale shows no {} g; {} g is planned, no more than there is",
                grams(asked),
                grams(planned)
            ),
            Self::ChlorideDrawsWater(formula) => write!(
                f,
                "{formula} draws water out of the air and then holds less chloride than it weighs; take it from a tight jar, and a little more of it"
            ),
            Self::MayCrystallise => {
                f.write_str("crystals may drop out in the cold; warm the bottle and shake before counting drops")
            }
            Self::SealedVial(mass) => write!(
                f,
                "dissolve one whole sealed vial of {} g, weighed before and after; never weigh, scrape or put back this salt in the open",
                grams(mass)
            ),
            Self::FormOpen { solid, dry, wet } if dry.0 == wet.0 => write!(
                f,
                "the water in {solid} is not known; {} mol/L holds only for the solid as it is written",
                significant(dry.1.in_unit(), 2)
            ),
            Self::FormOpen { solid, dry, wet } => write!(
                f,
                "the form of {solid} is not stated: anything from {} mol/L ({}) to {} mol/L ({}); keep to the grams, and read the form off the jar",
                significant(wet.1.in_unit(), 2),
                wet.0,
                significant(dry.1.in_unit(), 2),
                dry.0
            ),
            Self::ChlorateApart(chlorate) => write!(
                f,
                "make a {} % solution of {chlorate} by itself and add it by drops when the coat is mixed: it does the same, can be dosed, and iron with chlorate in it can make gas and burst its bottle",
                significant(CHLORATE_APART.value, 2)
            ),
            Self::ChlorateInIron { grams: mass, percent, large } => {
                let (least, most) = CHLORATE_IN_IRON.value;
                write!(
                    f,
                    "if chlorate goes into the iron all the same: {} g of it, {} g per 100 mL, on the label (from {} to {} are met, so the word alone says nothing); a vented cap, never warmed, dated, used up within weeks",
                    grams(mass),
                    significant(percent.in_unit(), 3),
                    significant(least, 2),
                    significant(most, 2)
                )?;
                if *large {
                    write!(f, "; make less than {} mL", significant(CHLORATE_SMALL.value, 2))?;
                }
                Ok(())
            }
            Self::NeverDry(oxidiser) => write!(
                f,
                "{oxidiser} never meets oxalic acid, oxalates, citrates, EDTA, paper or cloth as dry powder: such mixtures catch fire or explode; dissolve each by itself"
            ),
            Self::AcidToWater => f.write_str(
                "pour the acid into the water, slowly, never water into acid; goggles, gloves, moving air; the supplier's sheet goes before this",
            ),
            Self::PeroxideAlone => f.write_str(
                "thin peroxide keeps for days only; vented cap, and never into an iron stock, residues, or back into the strong bottle",
            ),
            Self::StrongByVolume(formula) => write!(
                f,
                "the strength of the {formula} bought is taken as grams per 100 mL; where its label means percent by mass, give its density too"
            ),
            Self::SoluteMissed { solute, off } => write!(
                f,
                "rounded to the scale there is {} {} {solute} than asked; weigh on a finer scale or make more",
                percent(libm::fabs(*off)),
                if *off > 0.0 { "more" } else { "less" }
            ),
        }
    }
}
