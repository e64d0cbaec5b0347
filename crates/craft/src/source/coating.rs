//! What makers pour: uptakes, margins, drops, and the usual solutions of a coat. Starting points that a maker may replace with a
//! measured value.

use super::{Citation, Fact, Status};

const fn usual<T: Copy>(value: T, what: &'static str) -> Fact<T> {
    Fact { value, cite: Citation::practice(what) }
}

/// What the solution is spread with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spread {
    /// A glass rod, one pool drawn down and back.
    Rod,
    /// A damp brush.
    Brush,
    /// A brush on a paper that drinks.
    ThirstyBrush,
    /// A rod, and the solutions of the printing-out way.
    PrintingOutRod,
}

/// How much makers pour with one tool: the same habit said of the nominal size, customary margin included, and of the coated area.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UptakeHabit {
    /// With what.
    pub spread: Spread,
    /// In all, in mL to 100 cm² of the nominal size; the customary margin is in it.
    pub nominal: f64,
    /// In all, in mL to 100 cm² that are really coated.
    pub coated: f64,
    /// Where that comes from.
    pub cite: Citation,
}

const fn habit(spread: Spread, nominal: f64, coated: f64, what: &'static str) -> UptakeHabit {
    UptakeHabit { spread, nominal, coated, cite: Citation::practice(what) }
}

/// The habits. The second column is the first at 8x10 in with the customary margin; it is a little less at 4x5 (0.32 for a brush) and a
/// little more at 16x20 (0.41), so a margin is never counted twice.
pub const UPTAKE_HABITS: &[UptakeHabit] = &[
    habit(Spread::Rod, 0.30, 0.25, "glass rod on well-sized paper, total of all solutions"),
    habit(Spread::Brush, 0.45, 0.38, "damp brush, total of all solutions: about 22 and 24 drops for 8x10 in"),
    habit(Spread::ThirstyBrush, 0.60, 0.51, "brush on paper that drinks, total of all solutions"),
    UptakeHabit {
        spread: Spread::PrintingOutRod,
        nominal: 0.28,
        coated: 0.235,
        cite: Citation {
            key: "ware-platino-palladiotype",
            place: "recipe for about 60 prints of 8x10 in: 1.44 mL each",
            status: Status::Computed,
        },
    },
];

/// A habit of pouring less, and what it risks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Less {
    /// What is done.
    pub what: &'static str,
    /// In all, in mL to 100 cm² of the nominal size.
    pub nominal: f64,
    /// The same to 100 cm² that are really coated.
    pub coated: f64,
    /// What may happen.
    pub risk: &'static str,
    /// Where that comes from.
    pub cite: Citation,
}

/// Habits of pouring less, from most to least.
pub const LESS: &[Less] = &[
    Less {
        what: "a rod instead of a brush",
        nominal: 0.30,
        coated: 0.25,
        risk: "the paper must be well sized and lie level; lines where the pool stops",
        cite: Citation::practice("glass rod on well-sized paper"),
    },
    Less {
        what: "the least that was seen in a class",
        nominal: 0.20,
        coated: 0.17,
        risk: "weak blacks and blotches; above 8x10 in a spoiled sheet costs more than the drops saved",
        cite: Citation::practice("one recorded class, 40 drops for 11x14 in"),
    },
];

/// The margin on each side that habits said of a nominal size have in them, in mm.
pub const CUSTOMARY_MARGIN: Fact<f64> = usual(10.0, "half a centimetre to a centimetre on each side");
/// Whole drops may be under the need by this part, and by no more.
pub const MOST_UNDER: Fact<f64> = usual(0.02, "a fiftieth, less than a brush keeps back");
/// Drops to the millilitre of a dropper nobody calibrated.
pub const USUAL_DROPS: Fact<f64> = Fact {
    value: 20.0,
    cite: Citation::second_hand("pharmacy-droppers", "official dropper, 20 drops of water to a mL"),
};
/// How far such a dropper may be off, as a part of the count (half width).
pub const USUAL_DROPS_OFF: Fact<f64> =
    Fact { value: 0.10, cite: Citation::second_hand("pharmacy-droppers", "official dropper, ± 2 drops in 20") };
/// The first of two coats has this part of the full strength.
pub const FIRST_COAT: Fact<f64> = usual(0.5, "first coat diluted with as much water");
/// Fewer drops than this in a mix, and one drop is more than a tenth of it.
pub const FEW_DROPS: Fact<f64> = usual(10.0, "one drop left in the glass is a tenth of a 10-drop mix");
/// What is added on top may be this part of the sensitizer before a word is said: it thins the coat and wets the paper.
pub const MUCH_ON_TOP: Fact<f64> = usual(0.25, "a quarter; the usual is a drop or a few to a coat");
/// Usual strength of an iron(III) oxalate solution, in grams per 100 mL.
pub const IRON_PERCENT: Fact<f64> = usual(27.0, "tradition about 27 %, 20 to 27 % are met");
/// Strength of the ammonium iron(III) oxalate solution of the printing-out way, in grams of the trihydrate per 100 mL.
pub const PRINTING_OUT_IRON: Fact<f64> = Fact {
    value: 60.0,
    cite: Citation {
        key: "ware-platino-palladiotype",
        place: "30 g; the 50 mL are from memory",
        status: Status::Memory,
    },
};
/// Metal in the solutions of the printing-out way, in mol/L.
pub const PRINTING_OUT_METAL: Fact<f64> =
    Fact { value: 0.70, cite: Citation::memory("ware1986", "nominal strength 0.7 mol/L") };
/// Iron that reduces one metal(II): two iron(II), one electron each.
pub const IRON_PER_METAL: Fact<f64> = usual(2.0, "stoichiometry of M(II) + 2 Fe(II)");
/// The strongest rung of the ladder of a hexachloroplatinate, in grams of the solid per 100 mL.
pub const LADDER_TOP: Fact<f64> = usual(20.0, "20 % stock, halved to 1.25 %");
/// How often it is halved.
pub const LADDER_HALVINGS: Fact<u32> = usual(4, "10, 5, 2.5 and 1.25 %");
/// The strongest solution of hydrogen peroxide used on top of a coat, in grams per 100 mL.
pub const PEROXIDE_TOP: Fact<f64> = usual(3.0, "a series from 0.5 to 3 %");
/// Chlorate in an iron solution, in grams per 100 mL: the range that is met.
pub const CHLORATE_IRON: Fact<(f64, f64)> = usual((0.3, 1.2), "recipes differ three-fold and more");
/// How far whole drops may miss a dose or a ratio before a word is said, and how far the search may go unless told otherwise.
pub const RATIO_ROUNDED: Fact<f64> = usual(0.02, "a fiftieth");
/// How far the dose of a contrast agent may be off in whole drops, as a part of itself.
pub const DOSE_ROUNDED: Fact<f64> = usual(0.05, "a twentieth, well under a step of contrast");
/// Where the search stops pouring more, as a part over the need.
pub const MOST_OVER: Fact<f64> = usual(0.15, "more than that is another recipe");
/// Humidity at which a coat of the printing-out way is made, in %.
pub const PRINTING_OUT_HUMIDITY: Fact<f64> = usual(70.0, "paper at about 70 % still rattles");
