//! What to do when something went wrong at the bench: the cautions of a wall page and of a web page.
//!
//! Usual first aid in few words. It replaces no training, no supplier's sheet and no doctor.

use super::Citation;

/// One kind of accident.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Emergency {
    /// What happened, in a word or two.
    pub when: &'static str,
    /// What is done at once.
    pub do_first: &'static str,
    /// What is done next, in order.
    pub then: &'static [&'static str],
    /// Source.
    pub cite: Citation,
}

const fn usual(when: &'static str, do_first: &'static str, then: &'static [&'static str]) -> Emergency {
    Emergency { when, do_first, then, cite: Citation::practice("first aid at the bench") }
}

/// The line under the rows, wherever they are shown.
pub const EMERGENCY_DEFERS: EmergencyLine = EmergencyLine {
    text: "Local rules, the suppliers' safety sheets and a doctor decide; this page comes after them.",
    cite: Citation::practice("deference to those who are answerable"),
};

/// A sentence and where it comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EmergencyLine {
    /// The sentence.
    pub text: &'static str,
    /// Source.
    pub cite: Citation,
}

/// The rows, in the order in which seconds count.
#[must_use]
pub fn emergency() -> &'static [Emergency] {
    ROWS
}

const ROWS: &[Emergency] = &[
    usual(
        "Eyes",
        "Rinse at once with plenty of lukewarm running water, for at least 15 minutes, lids held open.",
        &[
            "Take out contact lenses if that is easy, and go on rinsing.",
            "Do not rub. Get medical help, even if it feels better.",
        ],
    ),
    usual(
        "Skin",
        "Take off what is wet. Rinse with plenty of running water for at least 15 minutes.",
        &[
            "A burn, a blister or a wound: get medical help.",
            "A rash, also days later: stop that work and see a doctor. It can be an allergy, and allergies stay.",
        ],
    ),
    usual(
        "Swallowed",
        "Call the poison centre or the emergency number now. Rinse the mouth and spit out.",
        &[
            "Do not make anyone vomit. Give nothing to drink unless they tell you to.",
            "Keep the bottle or its label at hand and read it to them.",
        ],
    ),
    usual(
        "Dust or fumes breathed in",
        "Go out into fresh air and sit upright. Wheezing or short of breath: call the emergency number.",
        &[
            "Platinum salts: at any wheeze, sneezing fit or rash leave the room, stop the work and see a doctor \
             before you touch them again.",
            "It can come hours later, also at night: have somebody look in on you.",
        ],
    ),
    usual(
        "Spill",
        "Keep others away. Gloves and glasses on. Wipe it up wet, with damp paper.",
        &[
            "Never sweep or blow dry powder: damp it first.",
            "Papers and gloves go into a closed bag, marked with what is in it, to hazardous waste. Nothing down the drain.",
        ],
    ),
    usual(
        "Fire",
        "Everybody out, doors shut. Call the fire service.",
        &[
            "Fight it only if it is small, your way out is behind you and you know how.",
            "Tell them what stands in the room: acids, oxidisers, metal salts, solvents.",
        ],
    ),
];
