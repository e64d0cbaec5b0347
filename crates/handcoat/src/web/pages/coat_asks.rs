//! The questions of a coat: the image and the solutions first, the others folded.

use handcoat_work::Question;
use handcoat_work::coat::{Choice, Choices, CoatAnswers};

use crate::web::fields::Fields;
use crate::web::form::{Ask, Way, note, quantity, tick, words};

/// What it is for.
pub(super) const FIRST: &[Ask<'static>] = &[
    quantity("image", Question::Image, "How large is the image?", "8x10in, or 20x25cm."),
    quantity(
        "margin",
        Question::Margin,
        "How far does the coat go past it?",
        "1 cm on each side; left open, the customary margin.",
    ),
];

/// What the sheet and the record are called.
pub(super) const TITLE: &[Ask<'static>] =
    &[note("title", "What is it for?", "Heron, morning: stands on the sheet and in the record.")];

/// Solutions that are no bottles of the shelf.
pub(super) const BY_FORMULA: &[Ask<'static>] = &[
    words(
        "metal_by",
        Question::CoatMetal,
        "Which metal?",
        "Formula and strength: Na2PdCl4 15% anhydrous, K2PtCl4 20%, with a price as 190EUR/100mL.",
    ),
    words("iron_by", Question::CoatIron, "Which iron?", "27%, or Fe2(C2O4)3 27% 30EUR/100mL."),
    words("hydrate", Question::Hydrate, "How many waters has the iron salt?", "none, a number, or unknown."),
];

/// Two metals.
pub(super) const RATIO: &[Ask<'static>] = &[
    words("ratio", Question::MetalRatio, "First to second?", "1:1, or 70:30."),
    Ask {
        name: "ratio_by",
        about: Some(Question::RatioBy),
        label: "What does that count?",
        why: "Equal volumes of the usual solutions are not equal moles.",
        way: Way::One(&[("", "not said"), ("volume", "volume"), ("moles", "moles"), ("weight", "weight of metal")]),
    },
];

/// The dose, and agents that are no bottles.
pub(super) const DOSE: &[Ask<'static>] = &[
    words(
        "contrast_by",
        Question::ContrastAgent,
        "Or which agent?",
        "KClO3 0.4% in iron, which takes the place of plain iron; H2O2 3% goes on top.",
    ),
    quantity("dose", Question::Dose, "How much of it?", "1 mg/mL, milligrams to a mL of sensitizer."),
];

/// How much is poured.
pub(super) const POURED: &[Ask<'static>] = &[
    quantity(
        "uptake",
        Question::Uptake,
        "How much does the paper take?",
        "0.38mL/100cm2 of coated area; left open, by the records or the habit of the tool.",
    ),
    quantity("share", Question::PaperShare, "What part of it reaches the paper?", "85 %, as weighed."),
    quantity("share_off", Question::ShareOff, "± of that part?", "2 % (k = 2)."),
    quantity(
        "drops",
        Question::DropSize,
        "Drops per mL?",
        "20, for every bottle without a dropper of its own in the records.",
    ),
    quantity(
        "within",
        Question::KeepWithin,
        "Keep every ratio and the dose within?",
        "2 %: whole drops are looked for that do.",
    ),
];

/// How many.
pub(super) const SHEETS: &[Ask<'static>] = &[
    quantity("sheets", Question::Sheets, "How many sheets?", "One, unless you say otherwise."),
    quantity("loss", Question::Loss, "How many are lost?", "20 % of those wanted."),
    tick("double", None, "Two coats", "The first thinned with water."),
    quantity("first_coat", Question::FirstCoat, "How strong is the first coat?", "50 %, unless you say otherwise."),
    tick("printing_out", None, "The printing-out way", "Ammonium salts, damp paper, a rod."),
];

/// Words of a choice: its name, and in brackets what is known of it.
pub(super) fn labelled(all: &[Choice]) -> Vec<(String, String)> {
    let label = |(name, words): &Choice| match words.as_str() {
        "" => (name.clone(), name.clone()),
        words => (name.clone(), format!("{name} ({words})")),
    };
    all.iter().map(label).collect()
}

/// The lists a page offers.
pub(super) struct Offered {
    pub(super) papers: Vec<(String, String)>,
    pub(super) tools: Vec<(String, String)>,
    pub(super) metals: Vec<(String, String)>,
    pub(super) iron: Vec<(String, String)>,
    pub(super) agents: Vec<(String, String)>,
}

impl Offered {
    pub(super) fn of(choices: &Choices) -> Self {
        let more = |first: &[(&str, &str)], own: &[Choice], last: &[(&str, &str)]| -> Vec<(String, String)> {
            let text = |all: &[(&str, &str)]| -> Vec<(String, String)> {
                all.iter().map(|(word, says)| (String::from(*word), String::from(*says))).collect()
            };
            [text(first), labelled(own), text(last)].concat()
        };
        Self {
            papers: more(&[("", "not said")], &choices.papers, &[]),
            tools: more(
                &[("", "the usual one")],
                &choices.tools,
                &[("brush", "any brush"), ("rod", "any glass rod"), ("thirsty", "brush on paper that drinks")],
            ),
            metals: more(
                &[],
                &choices.metals,
                &[("Pd", "usual palladium, no bottle"), ("Pt", "usual platinum, no bottle")],
            ),
            iron: more(&[("", "the usual iron, no bottle")], &choices.iron, &[]),
            agents: more(
                &[("", "none")],
                &choices.agents,
                &[("Na2PtCl6", "hexachloroplatinate ladder, no bottle"), ("H2O2", "peroxide ladder, no bottle")],
            ),
        }
    }
}

/// A question that can be answered in a list and by formula: a refusal stands beside the one that was answered.
pub(super) fn blamed<'a>(fields: &Fields, asks: &[Ask<'a>]) -> Vec<Ask<'a>> {
    let by = |list: &str| match list {
        "metal" => Some("metal_by"),
        "iron" => Some("iron_by"),
        "contrast" => Some("contrast_by"),
        _ => None,
    };
    let written = |name: &str| fields.answer(name).is_some();
    let of = |ask: &Ask<'a>| {
        let elsewhere = by(ask.name).is_some_and(written)
            || (ask.name.ends_with("_by") && ask.name != "ratio_by" && !written(ask.name));
        Ask { about: ask.about.filter(|_| !elsewhere), ..*ask }
    };
    asks.iter().map(of).collect()
}

/// A list as a question takes it.
pub(super) fn borrowed(all: &[(String, String)]) -> Vec<(&str, &str)> {
    all.iter().map(|(word, says)| (word.as_str(), says.as_str())).collect()
}

/// The answers of an address. What is written by formula goes before what is ticked.
pub(super) fn answers(fields: &Fields) -> CoatAnswers {
    CoatAnswers {
        image: fields.answer("image"),
        margin: fields.answer("margin"),
        paper: fields.answer("paper"),
        tool: fields.answer("tool"),
        uptake: fields.answer("uptake"),
        share: fields.answer("share"),
        share_off: fields.answer("share_off"),
        drops_per_ml: fields.answers("drops"),
        metals: [fields.answers("metal"), fields.answers("metal_by")].concat(),
        ratio: fields.answer("ratio"),
        ratio_by: fields.answer("ratio_by"),
        iron: fields.answer("iron_by").or_else(|| fields.answer("iron")),
        hydrate: fields.answer("hydrate"),
        contrast: fields.answer("contrast_by").or_else(|| fields.answer("contrast")),
        dose: fields.answer("dose"),
        first_coat: fields.answer("first_coat"),
        double: fields.ticked("double"),
        sheets: fields.answer("sheets"),
        loss: fields.answer("loss"),
        within: fields.answer("within"),
        printing_out: fields.ticked("printing_out"),
    }
}
