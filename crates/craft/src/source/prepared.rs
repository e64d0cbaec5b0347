//! What a studio dissolves besides its metals: names, usual strengths, and what to mind.

use super::Citation;

/// What a solution is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Makes the paper sensitive.
    Iron,
    /// Changes the contrast.
    Contrast,
    /// Brings out the picture.
    Developer,
    /// Takes the iron out of the paper.
    Clearing,
    /// An acid that goes into other solutions.
    Acid,
    /// Shifts the colour.
    Toner,
}

impl Role {
    /// It in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Iron => "sensitizer iron",
            Self::Contrast => "contrast solution",
            Self::Developer => "developer",
            Self::Clearing => "clearing bath",
            Self::Acid => "acid",
            Self::Toner => "toning solution",
        }
    }
}

/// One substance that is dissolved in the trade.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prepared {
    /// Its formula: without water where several forms are sold, else as it is sold.
    pub formula: &'static str,
    /// Plain names, in small letters.
    pub names: &'static [&'static str],
    /// What it is for.
    pub role: Role,
    /// Grams per 100 mL that are taken when nothing is said; none where nobody should guess.
    pub usual_percent: Option<f64>,
    /// What workers take, in words.
    pub range: &'static str,
    /// Hours of rest before it is used.
    pub rest_h: f64,
    /// Whether it comes as a strong solution and not as a powder.
    pub liquid: bool,
    /// What to mind, before anything is done with it.
    pub care: &'static str,
    /// Where all that comes from.
    pub cite: Citation,
}

const DUST: &str = "Poisonous when swallowed or breathed as dust. Gloves and glasses; no dust; no food in the room.";
const IRRITANT: &str = "Keep it from eyes and skin; no dust.";

const fn practice(what: &'static str) -> Citation {
    Citation::practice(what)
}

/// The table. Usual strengths are starting points a maker may replace.
pub const PREPARED: &[Prepared] = &[
    Prepared {
        formula: "Fe2(C2O4)3",
        names: &["ferric oxalate", "iron oxalate", "iron(iii) oxalate"],
        role: Role::Iron,
        usual_percent: Some(27.0),
        range: "20 to 27 %",
        rest_h: 24.0,
        liquid: false,
        care: DUST,
        cite: practice(
            "about 27 %; 24.8 % in a re-creation; 20 % in manuals of the 19th century; slow to dissolve, overnight",
        ),
    },
    Prepared {
        formula: "(NH4)3Fe(C2O4)3·3H2O",
        names: &[
            "ammonium iron oxalate",
            "ammonium ferric oxalate",
            "ferric ammonium oxalate",
            "ammonium iron(iii) oxalate",
        ],
        role: Role::Iron,
        usual_percent: Some(60.0),
        range: "30 g to 50 mL",
        rest_h: 4.0,
        liquid: false,
        care: DUST,
        cite: practice("30 g made up to 50 mL; the mass is published, the volume is not"),
    },
    Prepared {
        formula: "H2C2O4",
        names: &["oxalic acid"],
        role: Role::Acid,
        usual_percent: Some(2.0),
        range: "0 to 3 % in an iron solution",
        rest_h: 0.0,
        liquid: false,
        care: DUST,
        cite: practice("1.2 to 3 g per 100 mL of iron solution"),
    },
    Prepared {
        formula: "KClO3",
        names: &["potassium chlorate"],
        role: Role::Contrast,
        usual_percent: Some(1.0),
        range: "1 %; 3 % by some",
        rest_h: 0.0,
        liquid: false,
        care: "Strong oxidiser. Never dry with paper, cloth, sugar, oxalic acid, oxalates, citric acid, EDTA, sulfur or metal \
               powder: such mixtures catch fire or explode. Clean paper and spatula, small amounts, wipe up wet.",
        cite: practice("kept apart from the iron and added by drops"),
    },
    Prepared {
        formula: "K2Cr2O7",
        names: &["potassium dichromate"],
        role: Role::Contrast,
        usual_percent: None,
        range: "drops of a 1 to 6 % solution, in a developer or in the coat",
        rest_h: 0.0,
        liquid: false,
        care: "It causes cancer and allergy, kills in small amounts and is an oxidiser: other ways to contrast are better, and some \
               countries restrict it. Gloves and mask; never as dust; never dry with oxalic acid, oxalates, citrates, EDTA or paper.",
        cite: practice("dichromate as a means to contrast"),
    },
    Prepared {
        formula: "K2C2O4",
        names: &["potassium oxalate"],
        role: Role::Developer,
        usual_percent: Some(27.0),
        range: "25 to 33 %, near saturation",
        rest_h: 1.0,
        liquid: false,
        care: DUST,
        cite: practice("25 to 33 %; 27 % in old manuals"),
    },
    Prepared {
        formula: "(NH4)2C6H6O7",
        names: &["ammonium citrate", "diammonium citrate"],
        role: Role::Developer,
        usual_percent: Some(20.0),
        range: "20 to 25 %",
        rest_h: 1.0,
        liquid: false,
        care: IRRITANT,
        cite: practice("citrate developers"),
    },
    Prepared {
        formula: "(NH4)3C6H5O7",
        names: &["triammonium citrate"],
        role: Role::Developer,
        usual_percent: Some(20.0),
        range: "20 to 25 %",
        rest_h: 1.0,
        liquid: false,
        care: IRRITANT,
        cite: practice("citrate developers"),
    },
    Prepared {
        formula: "Na3C6H5O7",
        names: &["sodium citrate", "trisodium citrate"],
        role: Role::Developer,
        usual_percent: Some(20.0),
        range: "20 to 25 %",
        rest_h: 1.0,
        liquid: false,
        care: IRRITANT,
        cite: practice("citrate developers"),
    },
    Prepared {
        formula: "C6H8O7",
        names: &["citric acid"],
        role: Role::Clearing,
        usual_percent: Some(1.0),
        range: "1 to 2 %, as the first bath",
        rest_h: 0.0,
        liquid: false,
        care: IRRITANT,
        cite: practice("first clearing bath"),
    },
    Prepared {
        formula: "Na2C10H14N2O8",
        names: &["disodium edta", "disodium edetate"],
        role: Role::Clearing,
        usual_percent: Some(5.0),
        range: "about 5 %, as the first bath",
        rest_h: 0.0,
        liquid: false,
        care: IRRITANT,
        cite: practice("first bath of a sequence of chelates"),
    },
    Prepared {
        formula: "Na4C10H12N2O8",
        names: &["tetrasodium edta", "tetrasodium edetate"],
        role: Role::Clearing,
        usual_percent: Some(3.0),
        range: "1.5 to 5 %, with or without 2.5 to 3 % sulfite, after an acid bath",
        rest_h: 0.0,
        liquid: false,
        care: "Its solution is alkaline and hurts the eyes. Glasses and gloves; no dust.",
        cite: practice("15 to 30 g per litre; 5 % in a sequence of chelates"),
    },
    Prepared {
        formula: "Na2SO3",
        names: &["sodium sulfite"],
        role: Role::Clearing,
        usual_percent: Some(2.5),
        range: "2.5 to 3 %",
        rest_h: 0.0,
        liquid: false,
        care: "Never together with an acid, nor its bath straight after an acid one without a rinse: sulfur dioxide, which can set off asthma.",
        cite: practice("25 to 30 g per litre beside EDTA"),
    },
    Prepared {
        formula: "HCl",
        names: &["hydrochloric acid"],
        role: Role::Clearing,
        usual_percent: None,
        range: "0.3 to 0.7 %; older practice, gentler baths exist",
        rest_h: 0.0,
        liquid: true,
        care: "It burns skin, eyes and airways. Goggles, gloves, moving air. Water first, then the acid into the water, slowly: never \
               the other way round. Never near sulfite, bleach or chlorate.",
        cite: practice("one part of strong acid to 60 of water; 0.3 %"),
    },
    Prepared {
        formula: "H2O2",
        names: &["hydrogen peroxide"],
        role: Role::Contrast,
        usual_percent: Some(3.0),
        range: "0.5 to 3 %, added by drops",
        rest_h: 0.0,
        liquid: true,
        care: "Above 8 % it bleaches and burns the skin. Gloves and glasses. Never back into the strong bottle, never into an iron \
               stock or residues: it froths and can burst them. Vented cap.",
        cite: practice("0.5 to 3 % as a restrainer"),
    },
    Prepared {
        formula: "HAuCl4",
        names: &["gold chloride", "chloroauric acid"],
        role: Role::Toner,
        usual_percent: Some(1.0),
        range: "0.2 to 5 %, a few drops in the coat or a bath",
        rest_h: 0.0,
        liquid: false,
        care: "It burns and can make allergic; it eats metal spatulas and draws water. Dissolve the whole ampoule. Never with ammonia: \
               gold and ammonia form an explosive.",
        cite: practice("gold solutions of many strengths are in use"),
    },
];
