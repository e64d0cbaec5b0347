//! What can be done with something on the shelf: one table of acts, each with its questions.

use handcoat_craft::ledger::ItemKind;
use handcoat_work::shelf::{
    Count, Dilute, EnterHazards, Look, Lose, Pour, Retire, Split, Sweep, TestOf, count, dilute, enter_hazards, look,
    lose, pour, retire, split, sweep, test,
};
use handcoat_work::{Done, Moment, Question, Refusal, Studio};

use crate::web::fields::Fields;
use crate::web::form::{Ask, Way, quantity, tick, words};

/// A button of a form: the answer it gives, and what it says.
pub(super) type Button = (&'static str, &'static str, &'static str);

/// Does an act on the item with this code.
type Run = fn(&mut Studio, &Moment, &str, &Fields) -> Result<Done, Refusal>;

/// An act as the page of an item offers it.
pub(super) struct Deed {
    /// Its place in the address.
    pub(super) word: &'static str,
    /// What it says when folded.
    pub(super) title: &'static str,
    /// Why one would.
    pub(super) why: &'static str,
    /// What it can be done with.
    pub(super) kinds: &'static [ItemKind],
    /// Its questions.
    pub(super) asks: &'static [Ask<'static>],
    /// Its buttons; the first is the usual one.
    pub(super) buttons: &'static [Button],
    pub(super) run: Run,
}

const BOTTLE: &[ItemKind] = &[ItemKind::Bottle];
const POWDERS: &[ItemKind] = &[ItemKind::Jar, ItemKind::Vial];
const ALL: &[ItemKind] = &ItemKind::ALL;

const SCALE: Ask<'static> =
    quantity("balance", Question::Balance, "Which scale?", "Its smallest step, 0.01 g; the count is known no better.");
const RESIDUE: Ask<'static> = tick(
    "residue",
    None,
    "It is kept for the refiner",
    "Wipes and sludge still hold metal; the ledger then shows it as residue.",
);

/// What a label takes from a supplier's sheet.
const SHEET: &[Ask<'static>] = &[
    words("supplier", Question::Supplier, "Whose sheet is it?", "The supplier's name, as on the sheet."),
    words("date", Question::SheetDate, "Which date is on it?", "2026-01-20; of two sheets the newer one holds."),
    Ask {
        name: "signal_word",
        about: Some(Question::SignalWord),
        label: "Which signal word has it?",
        why: "",
        way: Way::One(&[("Danger", "Danger"), ("Warning", "Warning"), ("", "none")]),
    },
    words(
        "statements",
        Question::HazardStatement,
        "What does it say of hazards?",
        "The codes with a comma between them: H290, H302, H317.",
    ),
    Ask {
        name: "pictograms",
        about: Some(Question::Pictogram),
        label: "Which pictograms does it show?",
        why: "The signs in red diamonds.",
        way: Way::Any(&[
            ("GHS01", "exploding bomb"),
            ("GHS02", "flame"),
            ("GHS03", "flame over circle"),
            ("GHS04", "gas cylinder"),
            ("GHS05", "corrosion"),
            ("GHS06", "skull and crossbones"),
            ("GHS07", "exclamation mark"),
            ("GHS08", "health hazard"),
            ("GHS09", "environment"),
        ]),
    },
    tick(
        "of_pure_substance",
        None,
        "It is the sheet of the pure substance",
        "And not of what is in this vessel; the label then says so.",
    ),
];

/// All of them, the everyday ones first.
pub(super) const DEEDS: &[Deed] = &[
    Deed {
        word: "look",
        title: "Look through the glass",
        why: "After its rest a stock is clear and of deep colour; powder at the bottom is metal that is not in the coat.",
        kinds: BOTTLE,
        asks: &[],
        buttons: &[("verdict", "clear", "It is clear"), ("verdict", "sediment", "There is sediment")],
        run: |studio, moment, code, fields| {
            look(studio, moment, &Look { bottle: Some(code.into()), verdict: fields.answer("verdict") })
        },
    },
    Deed {
        word: "test",
        title: "Record a test",
        why: "Iron solutions turn in the light; a drop on a strip tells before a print does.",
        kinds: BOTTLE,
        asks: &[words(
            "test",
            Question::Test,
            "Which test?",
            "ferrous, works-at-all, fog strip, or a word of your own.",
        )],
        buttons: &[("verdict", "passed", "It passed"), ("verdict", "failed", "It failed")],
        run: |studio, moment, code, fields| {
            let (test_name, verdict) = (fields.answer("test"), fields.answer("verdict"));
            test(studio, moment, &TestOf { bottle: Some(code.into()), test: test_name, verdict })
        },
    },
    Deed {
        word: "count",
        title: "Count what is there",
        why: "One of the three ways is enough. What differs stands in the ledger as unexplained.",
        kinds: BOTTLE,
        asks: &[
            quantity(
                "gross",
                Question::Gross,
                "What does it weigh with its bottle?",
                "Its empty weight must be known: 186.4 g.",
            ),
            quantity("volume", Question::Volume, "Or how much was measured?", "37 mL, in a cylinder."),
            quantity(
                "level",
                Question::Level,
                "Or how full is it by eye?",
                "60 %, when the size of the bottle is known.",
            ),
            SCALE,
            tick(
                "evaporated",
                Some(Question::Evaporated),
                "Only water went off",
                "Then the metal is all there and the stock is stronger.",
            ),
        ],
        buttons: &[("", "", "Keep the count")],
        run: counted,
    },
    Deed {
        word: "count",
        title: "Count what is there",
        why: "Either way is enough. What differs stands in the ledger as unexplained.",
        kinds: POWDERS,
        asks: &[
            quantity("mass", Question::JarMass, "How much powder is there?", "4.1 g, or load less tare: 46.4g-42.3g."),
            quantity(
                "gross",
                Question::Gross,
                "Or what does it weigh with its jar?",
                "When its empty weight is known.",
            ),
            SCALE,
        ],
        buttons: &[("", "", "Keep the count")],
        run: counted,
    },
    Deed {
        word: "dilute",
        title: "Add water",
        why: "The metal stays and the volume grows; the label is out of date afterwards.",
        kinds: BOTTLE,
        asks: &[quantity("water", Question::Water, "How much distilled water was added?", "2.5 mL.")],
        buttons: &[("", "", "Record the water")],
        run: |studio, moment, code, fields| {
            dilute(studio, moment, &Dilute { bottle: Some(code.into()), water: fields.answer("water") })
        },
    },
    Deed {
        word: "split",
        title: "Fill a part into a bottle of its own",
        why: "Its metal and its share of the cost go with it.",
        kinds: BOTTLE,
        asks: &[
            quantity("volume", Question::Volume, "How much?", "10 mL."),
            words(
                "name",
                Question::Name,
                "What is the new bottle called?",
                "A name to say aloud; left open, this one's with a number.",
            ),
        ],
        buttons: &[("", "", "Record the new bottle")],
        run: |studio, moment, code, fields| {
            let (volume, name) = (fields.answer("volume"), fields.answer("name"));
            split(studio, moment, &Split { bottle: Some(code.into()), volume, name })
        },
    },
    Deed {
        word: "pour",
        title: "Pour it into another bottle",
        why: "Only stocks of the same solid; the other bottle takes metal, volume and cost.",
        kinds: BOTTLE,
        // Into which bottle is asked with the bottles that are there.
        asks: &[quantity("volume", Question::Volume, "How much?", "5 mL; left open, all of it.")],
        buttons: &[("", "", "Record the pouring")],
        run: |studio, moment, code, fields| {
            let (into, volume) = (fields.answer("into"), fields.answer("volume"));
            pour(studio, moment, &Pour { from: Some(code.into()), into, volume })
        },
    },
    Deed {
        word: "sweep",
        title: "Sweep spilled powder into a vial",
        why: "It is not clean enough for the jar and goes into the next stock first.",
        kinds: &[ItemKind::Jar],
        asks: &[
            quantity("mass", Question::PowderWeighed, "How much was swept up?", "0.03 g, or load less tare."),
            words("into", Question::Into, "Into which vial?", "Its name, there already or new; left open, a new one."),
        ],
        buttons: &[("", "", "Record the vial")],
        run: |studio, moment, code, fields| {
            let (mass, into) = (fields.answer("mass"), fields.answer("into"));
            sweep(studio, moment, &Sweep { from: Some(code.into()), mass, into })
        },
    },
    Deed {
        word: "lose",
        title: "Record a loss",
        why: "A spill that is known is better than a count that is not explained.",
        kinds: ALL,
        asks: &[
            quantity("amount", Question::Amount, "How much?", "Grams of powder, millilitres of solution."),
            RESIDUE,
        ],
        buttons: &[("", "", "Record the loss")],
        run: |studio, moment, code, fields| {
            let (amount, residue) = (fields.answer("amount"), fields.ticked("residue"));
            lose(studio, moment, &Lose { item: Some(code.into()), amount, residue })
        },
    },
    Deed {
        word: "hazards",
        title: "Enter the supplier's sheet",
        why: "Copied from the sheet and never guessed; the label and the emergency page say whose it is and of which date.",
        kinds: ALL,
        asks: SHEET,
        buttons: &[("", "", "Keep what the sheet says")],
        run: |studio, moment, code, fields| {
            let statements = fields.answer("statements").unwrap_or_default();
            let answers = EnterHazards {
                item: Some(code.into()),
                supplier: fields.answer("supplier"),
                date: fields.answer("date"),
                signal_word: fields.answer("signal_word"),
                statements: statements.split([',', ';', ' ']).filter(|own| !own.is_empty()).map(String::from).collect(),
                pictograms: fields.answers("pictograms"),
                of_pure_substance: fields.ticked("of_pure_substance"),
            };
            enter_hazards(studio, moment, &answers)
        },
    },
    Deed {
        word: "retire",
        title: "Put it away for good",
        why: "Empty, or not used any more. It leaves the shelf; the ledger keeps it.",
        kinds: ALL,
        asks: &[RESIDUE],
        buttons: &[("", "", "Put it away")],
        run: |studio, moment, code, fields| {
            retire(studio, moment, &Retire { item: Some(code.into()), residue: fields.ticked("residue") })
        },
    },
];

fn counted(studio: &mut Studio, moment: &Moment, code: &str, fields: &Fields) -> Result<Done, Refusal> {
    let answers = Count {
        item: Some(code.into()),
        mass: fields.answer("mass"),
        volume: fields.answer("volume"),
        level: fields.answer("level"),
        gross: fields.answer("gross"),
        balance: fields.answer("balance"),
        evaporated: fields.ticked("evaporated"),
    };
    count(studio, moment, &answers)
}
