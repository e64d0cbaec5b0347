//! The usual first-aid cautions for what this work uses. Common practice, no source; written to be read in a hurry, and never in
//! place of a physician, a poison centre or the supplier's sheet.

/// What happened, and what to do, in order.
pub(super) struct FirstAid {
    pub(super) what: &'static str,
    pub(super) steps: &'static [&'static str],
}

/// The cases, the most urgent first.
pub(super) const CASES: &[FirstAid] = &[
    FirstAid {
        what: "In the eyes",
        steps: &[
            "Rinse at once with plenty of lukewarm running water, lids held open, for at least fifteen minutes; away from the other eye.",
            "Take contact lenses out when that is easy, and go on rinsing.",
            "Then to a physician, with the label or the supplier's sheet in hand.",
        ],
    },
    FirstAid {
        what: "Swallowed",
        steps: &[
            "Rinse the mouth with water and spit it out. Do not make anybody vomit.",
            "Call the poison centre or the emergency number, with the label in hand. Oxalates and dichromates are urgent.",
            "Whoever is unconscious gets nothing to drink and lies on the side.",
        ],
    },
    FirstAid {
        what: "Dust or fumes breathed in",
        steps: &[
            "Into fresh air, sitting upright, at rest.",
            "Wheezing, a tight chest or a swelling face: call the emergency number. With chloroplatinates this can come hours later.",
            "Who has once reacted to chloroplatinate does not go back to it.",
        ],
    },
    FirstAid {
        what: "On the skin",
        steps: &[
            "Take off what is splashed, gloves too.",
            "Wash with plenty of water and soap, also under the nails.",
            "A rash, a burn or a wound that took some: to a physician.",
        ],
    },
    FirstAid {
        what: "Spilled",
        steps: &[
            "Keep others away; gloves and glasses stay on.",
            "Never sweep dry. Wet it, take it up with damp paper, put it into a lidded jar and label it: it is residue and holds metal.",
            "Nothing of it goes down the drain. Then record the loss in the book.",
        ],
    },
    FirstAid {
        what: "Fire",
        steps: &[
            "Out of the room, door shut, call the emergency number.",
            "Only a small fire, and only with the way out behind you, is fought.",
            "Stay out of the smoke, and say which chemicals are in the room.",
        ],
    },
];
