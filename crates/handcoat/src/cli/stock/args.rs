//! The arguments of `handcoat stock …`; their comments are the help.

use std::path::PathBuf;

use clap::{Args, Subcommand};
use handcoat_work::stock::{Answers, LadderAnswers};

use super::label::{HazardsArgs, LabelArgs};
use super::shelf_args::{
    CountArgs, DiluteArgs, LookArgs, LoseArgs, MixArgs, PourArgs, ReceiveArgs, RetireArgs, ShelfArgs, SplitArgs,
    SweepArgs, TestArgs,
};

#[derive(Debug, Subcommand)]
pub(in crate::cli) enum StockCommand {
    /// Say what to weigh and measure for a stock, and what it will be
    Plan(Box<PlanArgs>),
    /// Plan the halving ladder of a contrast salt
    Ladder(LadderArgs),
    /// Say what so many percent of a solid come to, for each form it may be
    Strength(StrengthArgs),
    /// Say what a formula weighs and what it is made of
    Formula(FormulaArgs),
    /// Name the pairs among substances that must not meet
    Pairs(PairsArgs),
    /// Compare powders and ready-made solutions: money per gram of metal, and per mL of stock
    Compare(CompareArgs),
    /// Receive a jar of powder, or a bottle somebody else mixed
    Receive(Box<ReceiveArgs>),
    /// Record a bottle mixed from a jar, as it was weighed
    Mix(Box<MixArgs>),
    /// Show what is on the shelf, and what is due
    Shelf(ShelfArgs),
    /// Record water added to a bottle
    Dilute(DiluteArgs),
    /// Record a part of a bottle filled into a new one
    Split(SplitArgs),
    /// Record one bottle filled up from another
    Pour(PourArgs),
    /// Record powder swept from the glass into a vial of its own
    Sweep(SweepArgs),
    /// Record something lost, or kept as residue
    Lose(LoseArgs),
    /// Count what is really there
    Count(CountArgs),
    /// Record a look at a bottle
    Look(LookArgs),
    /// Record a test of a bottle
    Test(TestArgs),
    /// Print labels for jars and bottles
    Label(LabelArgs),
    /// Enter what the supplier's sheet says of hazards
    Hazards(HazardsArgs),
    /// Put away what is empty or not used any more
    Retire(RetireArgs),
}

const PLAN_EXAMPLES: &str = "\
Examples:
  handcoat stock plan --salt PdCl2 --make 60mL --balance 0.01g
  handcoat stock plan --salt PdCl2 --hydrate none --purity 99% --salt-mass 4.8g --balance 0.1g --price-salt 48EUR/g
  handcoat stock plan --salt PdCl2 --make 60mL --balance 0.01g --weighed 5.92g --bottle 100mL
  handcoat stock plan --salt K2PtCl4 --salt-mass 5g --balance 0.01g --sheet vial.pdf
  handcoat stock plan --salt 'ferric oxalate' --percent 27 --form unknown --and 'oxalic acid=2%' --make 100mL --balance 0.1g
  handcoat stock plan --salt 'hydrochloric acid' --percent 0.5 --from-stock 37% --stock-density 1.18g/mL --make 1L

How much: --make, --salt-mass, --bottle or --budget. How strong: 15 % of the complex for palladium and 20 g of \
powder per 100 mL for platinum, unless you say otherwise. ± is k = 2; without --balance nothing is rounded.

Any other solid or acid makes a solution: iron, chlorate, developers, clearing baths, by formula or plain name. Its strength is \
--percent, grams of the pure solid as it lies in the jar per 100 mL of finished solution, or --molarity where its form is known.";

#[derive(Debug, Args)]
#[command(after_help = PLAN_EXAMPLES)]
pub(in crate::cli) struct PlanArgs {
    /// Which powder, as a formula: PdCl2, K2PtCl4, (NH4)2PtCl4, Na2PtCl6·6H2O; for another solution also its plain name
    #[arg(long, value_name = "FORMULA")]
    pub(in crate::cli) salt: Option<String>,
    /// Of a solution: grams of the solid per 100 mL
    #[arg(long, value_name = "PERCENT")]
    pub(in crate::cli) percent: Option<String>,
    /// Of a solution: the form --percent is stated for, when it is not the jar's: anhydrous, hexahydrate, a number of waters
    #[arg(long, value_name = "FORM")]
    pub(in crate::cli) percent_as: Option<String>,
    /// Of a solution: what else goes in, 'oxalic acid=2%', 'KClO3=0.3g', a purity behind it (may be repeated)
    #[arg(long, value_name = "SOLUTE=AMOUNT")]
    pub(in crate::cli) and: Vec<String>,
    /// Of a strong liquid that is thinned: its strength, 37% or 12M; percent is by volume unless --stock-density is given
    #[arg(long, value_name = "STRENGTH")]
    pub(in crate::cli) from_stock: Option<String>,
    /// Of a strong liquid: its density; then its percent is by mass
    #[arg(long, value_name = "DENSITY")]
    pub(in crate::cli) stock_density: Option<String>,
    /// Alkali chloride that dissolves it: NaCl, KCl, NH4Cl, LiCl, CsCl
    #[arg(long, value_name = "FORMULA")]
    pub(in crate::cli) with: Option<String>,
    /// Finished volume (with --added: water added)
    #[arg(long, value_name = "VOLUME")]
    pub(in crate::cli) make: Option<String>,
    /// Strength in g of the anhydrous complex per 100 mL
    #[arg(long, value_name = "PERCENT")]
    pub(in crate::cli) percent_complex: Option<String>,
    /// Strength in moles of metal per litre
    #[arg(long, value_name = "MOLARITY")]
    pub(in crate::cli) molarity: Option<String>,
    /// Strength in g of powder, as weighed, per 100 mL
    #[arg(long = "salt-per-100ml", value_name = "PERCENT")]
    pub(in crate::cli) salt_per_100ml: Option<String>,
    /// Strength in mg of metal per mL
    #[arg(long = "metal-per-ml", value_name = "MG_PER_ML")]
    pub(in crate::cli) metal_per_ml: Option<String>,
    /// Powder to use
    #[arg(long, value_name = "MASS")]
    pub(in crate::cli) salt_mass: Option<String>,
    /// Bottle it goes into; alone, the volume that fits it
    #[arg(long, value_name = "VOLUME")]
    pub(in crate::cli) bottle: Option<String>,
    /// Money for powder: the plan takes what it buys by the gram at --price-salt, rounded down to the scale
    #[arg(long, value_name = "MONEY")]
    pub(in crate::cli) budget: Option<String>,
    /// Moles of added chloride per mole of metal
    #[arg(long, value_name = "RATIO")]
    pub(in crate::cli) chloride_ratio: Option<String>,
    /// Chloride to use
    #[arg(long, value_name = "MASS")]
    pub(in crate::cli) chloride_mass: Option<String>,
    /// Purity on the jar
    #[arg(long, value_name = "PERCENT")]
    pub(in crate::cli) purity: Option<String>,
    /// What the purity is a percentage of: salt, metal, trace or unknown
    #[arg(long, value_name = "MEANING")]
    pub(in crate::cli) purity_of: Option<String>,
    /// Waters in the powder: none, a number, a form such as hexahydrate, or unknown
    #[arg(long, visible_alias = "form", value_name = "WATERS")]
    pub(in crate::cli) hydrate: Option<String>,
    /// Molar mass on the jar, to be compared with the formula
    #[arg(long, value_name = "G_PER_MOL")]
    pub(in crate::cli) stated_molar_mass: Option<String>,
    /// Price of the powder: 48EUR/g, or a jar's price for its content, 480EUR/10g, which is shared out by the gram
    #[arg(long, value_name = "PRICE")]
    pub(in crate::cli) price_salt: Option<String>,
    /// Smallest step the scale shows
    #[arg(long, value_name = "MASS")]
    pub(in crate::cli) balance: Option<String>,
    /// Tolerance of the measuring glass, ± [default: class B cylinder]
    #[arg(long, value_name = "VOLUME")]
    pub(in crate::cli) glass: Option<String>,
    /// How often the beaker is rinsed [default: 2]
    #[arg(long, value_name = "COUNT")]
    pub(in crate::cli) rinses: Option<String>,
    /// Another substance the stock will meet (may be repeated)
    #[arg(long, value_name = "FORMULA")]
    pub(in crate::cli) meets: Vec<String>,
    /// Powder really on the pan: 5.92g, or load less tare, 8.12g-2.20g (of a vial: full less empty)
    #[arg(long, value_name = "MASS")]
    pub(in crate::cli) weighed: Option<String>,
    /// Chloride really in the beaker: 3.6g, or load less tare, 5.8g-2.2g
    #[arg(long, value_name = "MASS")]
    pub(in crate::cli) chloride_weighed: Option<String>,
    /// The solution is mixed already
    #[arg(long)]
    pub(in crate::cli) mixed: bool,
    /// The volume is water added and not made up; the final volume is an estimate
    #[arg(long)]
    pub(in crate::cli) added: bool,
    /// Write the bench sheet to this PDF file
    #[arg(long, value_name = "FILE")]
    pub(in crate::cli) sheet: Option<PathBuf>,
    /// Studio named on the sheet
    #[arg(long, value_name = "NAME")]
    pub(in crate::cli) studio: Option<String>,
    /// Day on the sheet, as 2026-03-14 [default: today]
    #[arg(long, value_name = "DATE")]
    pub(in crate::cli) day: Option<String>,
    /// Mark the sheet as sample data of an invented studio
    #[arg(long)]
    pub(in crate::cli) invented: bool,
    /// Print JSON
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  handcoat stock ladder --salt Na2PtCl6·6H2O --from 20% --keep 10mL --rungs 5")]
pub(in crate::cli) struct LadderArgs {
    /// Which powder, as a formula
    #[arg(long, value_name = "FORMULA")]
    pub(in crate::cli) salt: Option<String>,
    /// Waters in the powder: none, a number, or unknown
    #[arg(long, value_name = "WATERS")]
    pub(in crate::cli) hydrate: Option<String>,
    /// Purity on the jar
    #[arg(long, value_name = "PERCENT")]
    pub(in crate::cli) purity: Option<String>,
    /// What the purity is a percentage of: salt, metal, trace or unknown
    #[arg(long, value_name = "MEANING")]
    pub(in crate::cli) purity_of: Option<String>,
    /// Strength of the first rung, g of powder per 100 mL [default: 20%]
    #[arg(long, value_name = "PERCENT")]
    pub(in crate::cli) from: Option<String>,
    /// Powder to use, or what the vial holds; the ladder is made of it
    #[arg(long, value_name = "MASS")]
    pub(in crate::cli) salt_mass: Option<String>,
    /// What to have left of each rung [default: 10mL]
    #[arg(long, value_name = "VOLUME")]
    pub(in crate::cli) keep: Option<String>,
    /// How many rungs [default: 5]
    #[arg(long, value_name = "COUNT")]
    pub(in crate::cli) rungs: Option<String>,
    /// Smallest step the scale shows
    #[arg(long, value_name = "MASS")]
    pub(in crate::cli) balance: Option<String>,
    /// Print JSON
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  handcoat stock strength 'Fe2(C2O4)3' --percent 27\n  handcoat stock strength Na2PdCl4 --hydrate 3 --percent 15"
)]
pub(in crate::cli) struct StrengthArgs {
    /// The solid, as a formula
    #[arg(value_name = "FORMULA")]
    pub(in crate::cli) solid: Option<String>,
    /// Grams of it per 100 mL
    #[arg(long, value_name = "PERCENT")]
    pub(in crate::cli) percent: Option<String>,
    /// Waters in the solid: none, a number, or unknown
    #[arg(long, value_name = "WATERS")]
    pub(in crate::cli) hydrate: Option<String>,
    /// Print JSON
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  handcoat stock formula 'Na2PtCl6·6H2O'")]
pub(in crate::cli) struct FormulaArgs {
    /// The formula
    #[arg(value_name = "FORMULA")]
    pub(in crate::cli) formula: String,
    /// Print JSON
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  handcoat stock pairs Na2PtCl6 '(NH4)3Fe(C2O4)3'")]
pub(in crate::cli) struct PairsArgs {
    /// Two or more substances, as formulas
    #[arg(value_name = "FORMULA")]
    pub(in crate::cli) substances: Vec<String>,
    /// Print JSON
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

impl PlanArgs {
    /// The answers, unread.
    pub(in crate::cli) fn answers(&self) -> Answers {
        Answers {
            salt: self.salt.clone(),
            with: self.with.clone(),
            make: self.make.clone(),
            percent_complex: self.percent_complex.clone(),
            molarity: self.molarity.clone(),
            salt_per_100ml: self.salt_per_100ml.clone(),
            metal_per_ml: self.metal_per_ml.clone(),
            percent: self.percent.clone(),
            percent_as: self.percent_as.clone(),
            and: self.and.clone(),
            from_stock: self.from_stock.clone(),
            stock_density: self.stock_density.clone(),
            salt_mass: self.salt_mass.clone(),
            bottle: self.bottle.clone(),
            budget: self.budget.clone(),
            chloride_ratio: self.chloride_ratio.clone(),
            chloride_mass: self.chloride_mass.clone(),
            purity: self.purity.clone(),
            purity_of: self.purity_of.clone(),
            hydrate: self.hydrate.clone(),
            stated_molar_mass: self.stated_molar_mass.clone(),
            price: self.price_salt.clone(),
            balance: self.balance.clone(),
            glass: self.glass.clone(),
            rinses: self.rinses.clone(),
            meets: self.meets.clone(),
            weighed: self.weighed.clone(),
            chloride_weighed: self.chloride_weighed.clone(),
            mixed: self.mixed,
            added: self.added,
        }
    }
}

impl LadderArgs {
    /// The answers, unread.
    pub(super) fn answers(&self) -> LadderAnswers {
        LadderAnswers {
            salt: self.salt.clone(),
            hydrate: self.hydrate.clone(),
            purity: self.purity.clone(),
            purity_of: self.purity_of.clone(),
            salt_mass: self.salt_mass.clone(),
            from: self.from.clone(),
            keep: self.keep.clone(),
            rungs: self.rungs.clone(),
            balance: self.balance.clone(),
        }
    }
}

const COMPARE_EXAMPLES: &str = "\
Example:
  handcoat stock compare --powder 'PdCl2 480EUR/10g 99%' --powder 'K2PdCl4 290EUR/10g 98%' --solution 'Na2PdCl4 190EUR/100mL 15%'

A powder is formula, price and purity; a solution is formula, price and grams per 100 mL. Alkali chloride, shipping and time are
not counted.";

#[derive(Debug, Args)]
#[command(after_help = COMPARE_EXAMPLES)]
pub(in crate::cli) struct CompareArgs {
    /// A powder for sale (may be repeated)
    #[arg(long = "powder", value_name = "OFFER")]
    pub(in crate::cli) powders: Vec<String>,
    /// A ready-made solution for sale (may be repeated)
    #[arg(long = "solution", value_name = "OFFER")]
    pub(in crate::cli) solutions: Vec<String>,
    /// Strength to compare at [default: the usual one of the metal]
    #[arg(long = "metal-per-ml", value_name = "MG_PER_ML")]
    pub(in crate::cli) metal_per_ml: Option<String>,
    /// Answer as JSON
    #[arg(long)]
    pub(in crate::cli) json: bool,
}
