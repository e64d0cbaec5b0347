//! The questions of a stock plan: three first, the others folded.

use handcoat_work::Question;
use handcoat_work::stock::Answers;

use crate::web::fields::Fields;
use crate::web::form::{Ask, Way, quantity, tick, words};

/// Enough for a plan.
pub(super) const FIRST: &[Ask<'static>] = &[
    words(
        "salt",
        Question::Powder,
        "Which powder?",
        "Its formula: PdCl2, K2PtCl4, (NH4)2PtCl4, Na2PtCl6·6H2O. Of another solution also its name: ferric oxalate, citric acid.",
    ),
    quantity("make", Question::Volume, "How much?", "60 mL of finished stock. By powder, bottle or money: below."),
    quantity(
        "balance",
        Question::Balance,
        "Which scale?",
        "Its smallest step, 0.01 g. Without one nothing is rounded and no ± is known.",
    ),
];

/// Other ways to say how much, and how strong.
pub(super) const GOAL: &[Ask<'static>] = &[
    quantity("salt_mass", Question::SaltMass, "How much powder?", "5.4 g."),
    quantity("bottle", Question::Bottle, "Into which bottle?", "100 mL; alone, the volume that fits it."),
    quantity("budget", Question::Budget, "For how much money?", "400 EUR, at the price of the powder."),
    quantity(
        "price",
        Question::Price,
        "What does the powder cost?",
        "48 EUR/g, or a jar's price for its content: 480 EUR/10 g.",
    ),
    quantity(
        "percent_complex",
        Question::PercentComplex,
        "How strong, in % of the complex?",
        "15 % for palladium, unless you say otherwise.",
    ),
    quantity("molarity", Question::Molarity, "Or in mol/L?", "0.51 M."),
    quantity(
        "salt_per_100ml",
        Question::SaltPer100Ml,
        "Or in g of powder per 100 mL?",
        "20 % for platinum, unless you say otherwise.",
    ),
    quantity("metal_per_ml", Question::MetalPerMl, "Or in mg of metal per mL?", "54 mg/mL."),
];

/// Solutions without palladium or platinum.
pub(super) const SOLUTION: &[Ask<'static>] = &[
    quantity(
        "percent",
        Question::Percent,
        "How strong?",
        "27 %, in grams of the solid per 100 mL; left open, what is usual.",
    ),
    words(
        "percent_as",
        Question::PercentAs,
        "Of which form is that?",
        "anhydrous, hexahydrate, a number of waters; left open, the form in the jar.",
    ),
    words("and", Question::And, "What else goes in?", "oxalic acid=2%, or KClO3=0.3g."),
    words("from_stock", Question::FromStock, "Is it a strong liquid? How strong?", "37 % or 12 M; then it is thinned."),
    quantity(
        "stock_density",
        Question::StockDensity,
        "How dense is that liquid?",
        "1.18 g/mL; then its percentage is by mass.",
    ),
];

/// What the jar says.
pub(super) const JAR: &[Ask<'static>] = &[
    quantity("purity", Question::Purity, "How pure is the powder?", "99 %, as the jar says."),
    Ask {
        name: "purity_of",
        about: Some(Question::PurityOf),
        label: "What does the purity mean?",
        why: "",
        way: Way::One(&[
            ("", "not said"),
            ("salt", "of the salt"),
            ("metal", "of the metal"),
            ("trace", "trace metals basis"),
            ("unknown", "nobody knows"),
        ]),
    },
    words("hydrate", Question::Hydrate, "How many waters?", "none, a number, a form such as hexahydrate, or unknown."),
    quantity(
        "stated_molar_mass",
        Question::MolarMass,
        "Which molar mass is on the jar?",
        "177.3 g/mol; it is compared with the formula.",
    ),
];

/// The chloride, the glass, the way of working.
pub(super) const WORK: &[Ask<'static>] = &[
    Ask {
        name: "with",
        about: Some(Question::Chloride),
        label: "With which chloride?",
        why: "Sodium chloride gives the usual stock; the others other tones and other solubilities.",
        way: Way::One(&[
            ("", "plain salt, NaCl"),
            ("KCl", "KCl"),
            ("NH4Cl", "NH₄Cl"),
            ("LiCl", "LiCl"),
            ("CsCl", "CsCl"),
        ]),
    },
    quantity(
        "chloride_ratio",
        Question::ChlorideRatio,
        "How much chloride per metal?",
        "2.2, in moles; left open, what is surely enough.",
    ),
    quantity("chloride_mass", Question::ChlorideMass, "Or how much chloride?", "3.7 g."),
    quantity("glass", Question::Glass, "How far may the glass be off?", "0.5 mL; left open, a class B cylinder."),
    quantity("rinses", Question::Rinses, "How many rinses?", "Two, unless you say otherwise."),
    words(
        "meets",
        Question::Meets,
        "What will the stock meet?",
        "A formula, such as NaClO: a warning if they must not.",
    ),
    tick("added", Some(Question::Added), "Water is added and not made up", "Then the final volume is an estimate."),
];

/// What was really weighed.
pub(super) const WEIGHED: &[Ask<'static>] = &[
    quantity("weighed", Question::Weighed, "What was on the pan?", "5.92 g, or load less tare: 8.12g-2.20g."),
    quantity(
        "chloride_weighed",
        Question::ChlorideWeighed,
        "How much chloride is in the beaker?",
        "3.6 g, or load less tare.",
    ),
    tick("mixed", Some(Question::Mixed), "It is mixed already", "Then nothing can be put back."),
];

/// The answers of an address.
pub(super) fn answers(fields: &Fields) -> Answers {
    Answers {
        salt: fields.answer("salt"),
        with: fields.answer("with"),
        make: fields.answer("make"),
        percent_complex: fields.answer("percent_complex"),
        molarity: fields.answer("molarity"),
        salt_per_100ml: fields.answer("salt_per_100ml"),
        metal_per_ml: fields.answer("metal_per_ml"),
        percent: fields.answer("percent"),
        percent_as: fields.answer("percent_as"),
        and: fields.answers("and"),
        from_stock: fields.answer("from_stock"),
        stock_density: fields.answer("stock_density"),
        salt_mass: fields.answer("salt_mass"),
        bottle: fields.answer("bottle"),
        budget: fields.answer("budget"),
        chloride_ratio: fields.answer("chloride_ratio"),
        chloride_mass: fields.answer("chloride_mass"),
        purity: fields.answer("purity"),
        purity_of: fields.answer("purity_of"),
        hydrate: fields.answer("hydrate"),
        stated_molar_mass: fields.answer("stated_molar_mass"),
        price: fields.answer("price"),
        balance: fields.answer("balance"),
        glass: fields.answer("glass"),
        rinses: fields.answer("rinses"),
        meets: fields.answers("meets"),
        weighed: fields.answer("weighed"),
        chloride_weighed: fields.answer("chloride_weighed"),
        mixed: fields.ticked("mixed"),
        added: fields.ticked("added"),
    }
}
