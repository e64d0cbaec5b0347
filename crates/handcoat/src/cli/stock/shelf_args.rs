//! The arguments of the acts on jars and bottles; their comments are the help.

use clap::Args;
use handcoat_work::shelf::{Count, Dilute, Look, Lose, Mix, Pour, Receive, Retire, Split, Sweep, TestOf};

use crate::cli::book::{ActArgs, BookArgs};

const RECEIVE_EXAMPLES: &str = "\
Examples:
  handcoat stock receive PdCl2 --mass 10g --purity 99% --hydrate none --price 480 --currency EUR
  handcoat stock receive Na2PdCl4 --volume 50mL --percent 15% --name 'bought palladium'
  handcoat stock receive unknown --level 60% --capacity 100mL --name 'old brown bottle'

A mass says that it is a jar of powder. A volume, a level or weights say that it is a bottle of solution.";

#[derive(Debug, Args)]
#[command(after_help = RECEIVE_EXAMPLES)]
pub(in crate::cli) struct ReceiveArgs {
    /// What it is, as a formula or plain name, or `unknown`; of a solution, the solid that is dissolved
    formula: String,
    /// What to call it aloud [default: its name]
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// Powder in the jar: 10g, or load less tare, 52.31g-42.30g
    #[arg(long, value_name = "MASS")]
    mass: Option<String>,
    /// Solution in the bottle, measured
    #[arg(long, value_name = "VOLUME")]
    volume: Option<String>,
    /// How full the bottle is, by eye, with --capacity
    #[arg(long, value_name = "PERCENT")]
    level: Option<String>,
    /// Bottle and solution together on the scale, with --empty
    #[arg(long, value_name = "MASS")]
    gross: Option<String>,
    /// The empty vessel, with its cap and dropper
    #[arg(long, value_name = "MASS")]
    empty: Option<String>,
    /// What the bottle holds when full
    #[arg(long, value_name = "VOLUME")]
    capacity: Option<String>,
    /// Density of the solution: 1.12g/mL [default: unknown, 1.0 to 1.2]
    #[arg(long, value_name = "DENSITY")]
    density: Option<String>,
    /// Purity on the jar
    #[arg(long, value_name = "PERCENT")]
    purity: Option<String>,
    /// What the purity is a percentage of: salt, metal, trace or unknown
    #[arg(long, value_name = "MEANING")]
    purity_of: Option<String>,
    /// Waters in the solid: none, a number, a form such as hexahydrate, or unknown
    #[arg(long, visible_alias = "form", value_name = "WATERS")]
    hydrate: Option<String>,
    /// Strength on the label, in g of the solid per 100 mL
    #[arg(long, value_name = "PERCENT")]
    percent: Option<String>,
    /// Strength on the label, in mol/L
    #[arg(long, value_name = "MOLARITY")]
    molarity: Option<String>,
    /// Strength on the label, in mg of metal per mL
    #[arg(long = "metal-per-ml", value_name = "MG_PER_ML")]
    metal_per_ml: Option<String>,
    /// What all of it cost
    #[arg(long, value_name = "SUM")]
    price: Option<String>,
    /// In which currency, by its three letters
    #[arg(long, value_name = "CODE")]
    currency: Option<String>,
    /// Who sold it
    #[arg(long, value_name = "NAME")]
    supplier: Option<String>,
    /// The supplier's lot
    #[arg(long, value_name = "LOT")]
    lot: Option<String>,
    /// The day it came
    #[arg(long, value_name = "DAY")]
    day: Option<String>,
    /// Smallest step of the scale it was weighed on
    #[arg(long, value_name = "MASS")]
    balance: Option<String>,
    /// Anything else
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
    #[command(flatten)]
    pub(in crate::cli) act: ActArgs,
}

impl ReceiveArgs {
    pub(super) fn answers(&self) -> Receive {
        Receive {
            formula: Some(self.formula.clone()),
            name: self.name.clone(),
            mass: self.mass.clone(),
            volume: self.volume.clone(),
            level: self.level.clone(),
            gross: self.gross.clone(),
            empty: self.empty.clone(),
            capacity: self.capacity.clone(),
            density: self.density.clone(),
            purity: self.purity.clone(),
            purity_of: self.purity_of.clone(),
            hydrate: self.hydrate.clone(),
            percent: self.percent.clone(),
            molarity: self.molarity.clone(),
            metal_per_ml: self.metal_per_ml.clone(),
            price: self.price.clone(),
            currency: self.currency.clone(),
            supplier: self.supplier.clone(),
            lot: self.lot.clone(),
            day: self.day.clone(),
            balance: self.balance.clone(),
            note: self.note.clone(),
        }
    }
}

const MIX_EXAMPLES: &str = "\
Examples:
  handcoat stock mix --from 'palladium(II) chloride' --mass 5.42g --chloride 3.7g --make 60mL --balance 0.01g
  handcoat stock mix --from 'iron jar' --mass 27g --and 'oxalic acid=2g' --make 100mL --balance 0.1g

Plan it first with `handcoat stock plan`; this records what was really weighed.";

#[derive(Debug, Args)]
#[command(after_help = MIX_EXAMPLES)]
pub(in crate::cli) struct MixArgs {
    /// The jar the powder came from, by name or code
    #[arg(long, value_name = "JAR")]
    from: Option<String>,
    /// Powder taken from it: 5.42g, or load less tare, 7.62g-2.20g
    #[arg(long, value_name = "MASS")]
    mass: Option<String>,
    /// Solution taken from it, when it is a bottle: a strong acid, a chlorate solution
    #[arg(long, value_name = "VOLUME")]
    volume: Option<String>,
    /// What else went into a solution without palladium or platinum: jar or bottle, and how much (may be repeated)
    #[arg(long, value_name = "ITEM=AMOUNT")]
    and: Vec<String>,
    /// A vial of swept powder that went in whole (may be repeated)
    #[arg(long = "vial", value_name = "VIAL")]
    vials: Vec<String>,
    /// Alkali chloride, when its jar is not on the shelf [default: NaCl]
    #[arg(long, value_name = "FORMULA")]
    with: Option<String>,
    /// Its jar, by name or code
    #[arg(long, value_name = "JAR")]
    chloride_from: Option<String>,
    /// Chloride weighed in
    #[arg(long, value_name = "MASS")]
    chloride: Option<String>,
    /// What it was made up to
    #[arg(long, value_name = "VOLUME")]
    make: Option<String>,
    /// What to call the bottle [default: its metal]
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// The empty bottle, with its cap and dropper
    #[arg(long, value_name = "MASS")]
    empty: Option<String>,
    /// The full bottle
    #[arg(long, value_name = "MASS")]
    full: Option<String>,
    /// What the bottle holds when full
    #[arg(long, value_name = "VOLUME")]
    capacity: Option<String>,
    /// Smallest step of the scale
    #[arg(long, value_name = "MASS")]
    balance: Option<String>,
    /// Tolerance of the measuring glass, ± [default: class B cylinder]
    #[arg(long, value_name = "VOLUME")]
    glass: Option<String>,
    /// The day it was mixed
    #[arg(long, value_name = "DAY")]
    day: Option<String>,
    #[command(flatten)]
    pub(in crate::cli) act: ActArgs,
}

impl MixArgs {
    pub(super) fn answers(&self) -> Mix {
        Mix {
            from: self.from.clone(),
            mass: self.mass.clone(),
            volume: self.volume.clone(),
            and: self.and.clone(),
            vials: self.vials.clone(),
            with: self.with.clone(),
            chloride_from: self.chloride_from.clone(),
            chloride: self.chloride.clone(),
            make: self.make.clone(),
            name: self.name.clone(),
            empty: self.empty.clone(),
            full: self.full.clone(),
            capacity: self.capacity.clone(),
            balance: self.balance.clone(),
            glass: self.glass.clone(),
            day: self.day.clone(),
        }
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct DiluteArgs {
    /// The bottle, by name or code
    bottle: String,
    /// Distilled water added
    #[arg(long, value_name = "VOLUME")]
    water: Option<String>,
    #[command(flatten)]
    pub(in crate::cli) act: ActArgs,
}

impl DiluteArgs {
    pub(super) fn answers(&self) -> Dilute {
        Dilute { bottle: Some(self.bottle.clone()), water: self.water.clone() }
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct SplitArgs {
    /// The bottle, by name or code
    bottle: String,
    /// How much goes into a bottle of its own
    #[arg(long, value_name = "VOLUME")]
    volume: Option<String>,
    /// What to call that
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    #[command(flatten)]
    pub(in crate::cli) act: ActArgs,
}

impl SplitArgs {
    pub(super) fn answers(&self) -> Split {
        Split { bottle: Some(self.bottle.clone()), volume: self.volume.clone(), name: self.name.clone() }
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct PourArgs {
    /// The bottle that is poured from, by name or code
    #[arg(long, value_name = "BOTTLE")]
    from: Option<String>,
    /// The bottle that is filled up
    #[arg(long, value_name = "BOTTLE")]
    into: Option<String>,
    /// How much [default: all of it]
    #[arg(long, value_name = "VOLUME")]
    volume: Option<String>,
    #[command(flatten)]
    pub(in crate::cli) act: ActArgs,
}

impl PourArgs {
    pub(super) fn answers(&self) -> Pour {
        Pour { from: self.from.clone(), into: self.into.clone(), volume: self.volume.clone() }
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct SweepArgs {
    /// The jar the powder is from, by name or code
    #[arg(long, value_name = "JAR")]
    from: Option<String>,
    /// What the swept powder weighs
    #[arg(long, value_name = "MASS")]
    mass: Option<String>,
    /// The vial it goes into, there already or new
    #[arg(long, value_name = "VIAL")]
    into: Option<String>,
    #[command(flatten)]
    pub(in crate::cli) act: ActArgs,
}

impl SweepArgs {
    pub(super) fn answers(&self) -> Sweep {
        Sweep { from: self.from.clone(), mass: self.mass.clone(), into: self.into.clone() }
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct LoseArgs {
    /// Jar, bottle or vial
    item: String,
    /// How much: grams of powder, millilitres of solution
    #[arg(long, value_name = "AMOUNT")]
    amount: Option<String>,
    /// It was wiped up and is kept for the refiner
    #[arg(long)]
    residue: bool,
    #[command(flatten)]
    pub(in crate::cli) act: ActArgs,
}

impl LoseArgs {
    pub(super) fn answers(&self) -> Lose {
        Lose { item: Some(self.item.clone()), amount: self.amount.clone(), residue: self.residue }
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct RetireArgs {
    /// Jar, bottle or vial
    item: String,
    /// What is left in it is kept for the refiner and not lost
    #[arg(long)]
    residue: bool,
    #[command(flatten)]
    pub(in crate::cli) act: ActArgs,
}

impl RetireArgs {
    pub(super) fn answers(&self) -> Retire {
        Retire { item: Some(self.item.clone()), residue: self.residue }
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct CountArgs {
    /// Jar, bottle or vial
    item: String,
    /// Powder there is: 4.1g, or load less tare, 46.4g-42.3g
    #[arg(long, value_name = "MASS")]
    mass: Option<String>,
    /// Solution there is, measured
    #[arg(long, value_name = "VOLUME")]
    volume: Option<String>,
    /// How full the bottle is, by eye
    #[arg(long, value_name = "PERCENT")]
    level: Option<String>,
    /// Vessel and contents together on the scale
    #[arg(long, value_name = "MASS")]
    gross: Option<String>,
    /// Smallest step of the scale
    #[arg(long, value_name = "MASS")]
    balance: Option<String>,
    /// What is missing is water that went off
    #[arg(long)]
    evaporated: bool,
    #[command(flatten)]
    pub(in crate::cli) act: ActArgs,
}

impl CountArgs {
    pub(super) fn answers(&self) -> Count {
        Count {
            item: Some(self.item.clone()),
            mass: self.mass.clone(),
            volume: self.volume.clone(),
            level: self.level.clone(),
            gross: self.gross.clone(),
            balance: self.balance.clone(),
            evaporated: self.evaporated,
        }
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct LookArgs {
    /// The bottle, by name or code
    bottle: String,
    /// What is seen: clear, or sediment
    verdict: String,
    #[command(flatten)]
    pub(in crate::cli) act: ActArgs,
}

impl LookArgs {
    pub(super) fn answers(&self) -> Look {
        Look { bottle: Some(self.bottle.clone()), verdict: Some(self.verdict.clone()) }
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct TestArgs {
    /// The bottle, by name or code
    bottle: String,
    /// How it ended: passed, or failed
    verdict: String,
    /// Which test: ferrous, works-at-all, 'fog strip', or a name of your own
    #[arg(long, value_name = "TEST", default_value = "ferrous")]
    test: String,
    #[command(flatten)]
    pub(in crate::cli) act: ActArgs,
}

impl TestArgs {
    pub(super) fn answers(&self) -> TestOf {
        TestOf { bottle: Some(self.bottle.clone()), test: Some(self.test.clone()), verdict: Some(self.verdict.clone()) }
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct ShelfArgs {
    /// The shelf with what is due at another time than now: 2026-03-14T10:30Z
    #[arg(long, value_name = "INSTANT")]
    pub(in crate::cli) at: Option<String>,
    #[command(flatten)]
    pub(in crate::cli) whose: BookArgs,
}
