//! The stops of the tour. All figures and the studio are invented.

/// Name of the invented studio.
pub(super) const STUDIO: &str = "Lapwing Weir Studio (invented)";

/// Stands in a stop's arguments for the book the tour makes.
pub(super) const BOOK: &str = "BOOK";

/// The day on its sheets.
pub(super) const DAY: &str = "2026-03-14";

/// One stop: a command line, and what to look at.
pub(super) struct Stop {
    /// Stem of the files it leaves.
    pub(super) name: &'static str,
    /// Heading.
    pub(super) title: &'static str,
    /// What to look at.
    pub(super) look: &'static str,
    /// Arguments after the program's name.
    pub(super) arguments: &'static [&'static str],
    /// Stem of its bench sheet, if it prints one.
    pub(super) sheet: Option<&'static str>,
    /// How it must end: some stops show a refusal.
    pub(super) exit_code: u8,
}

const POWDER: [&str; 8] = ["--salt", "PdCl2", "--hydrate", "none", "--purity", "99%", "--price-salt", "61EUR/g"];

/// Joins the shared answers of the palladium stops to the command and to what is particular.
macro_rules! palladium {
    ($($more:literal),*) => {
        &[
            "stock", "plan", POWDER[0], POWDER[1], POWDER[2], POWDER[3], POWDER[4], POWDER[5], POWDER[6], POWDER[7],
            "--make", "40mL", "--bottle", "50mL", "--balance", "0.01g" $(, $more)*
        ]
    };
}

pub(super) const STOPS: &[Stop] = &[
    Stop {
        name: "1-plan",
        title: "From powder to a plan",
        look: "Three answers make a plan: which powder, how much, which scale. The rest are facts of the jar.",
        arguments: palladium!(),
        sheet: Some("bench-sheet"),
        exit_code: 0,
    },
    Stop {
        name: "2-as-weighed",
        title: "It poured suddenly",
        look: "0.32 g too much on the pan, before any water: the ways out stand side by side, each with its cost.",
        arguments: palladium!("--weighed", "3.97g"),
        sheet: Some("bench-sheet-as-weighed"),
        exit_code: 0,
    },
    Stop {
        name: "3-after-mixing",
        title: "Noticed only after mixing",
        look: "The same overshoot, already in solution: dilute to the label, or keep it and relabel.",
        arguments: palladium!("--weighed", "3.97g", "--mixed"),
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "4-water-added",
        title: "Water added, and nothing made up",
        look: "The solids take their room: the volume is an estimate, the stock weaker than it would be at the mark.",
        arguments: palladium!("--added"),
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "5-coarse-scale",
        title: "A kitchen scale",
        look: "Under ten steps of the scale the plan proposes a larger volume, and where there is water enough, a solution measured by mL.",
        arguments: &["stock", "plan", "--salt", "PdCl2", "--make", "8mL", "--balance", "0.1g", "--with", "KCl"],
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "6-platinum-vial",
        title: "Platinum comes in a vial",
        look: "A chloroplatinate is never weighed out. Full less empty, this one held 2.06 g and not 2 g: the one way on is to make up.",
        arguments: &[
            "stock",
            "plan",
            "--salt",
            "K2PtCl4",
            "--purity",
            "99.9%",
            "--salt-mass",
            "2g",
            "--balance",
            "0.01g",
            "--weighed",
            "14.37g-12.31g",
        ],
        sheet: Some("bench-sheet-vial"),
        exit_code: 0,
    },
    Stop {
        name: "7-ladder",
        title: "The halving ladder",
        look: "Each rung is one part of the rung above and one part of distilled water.",
        arguments: &["stock", "ladder", "--salt", "Na2PtCl6·6H2O", "--from", "20%", "--keep", "8mL", "--rungs", "5"],
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "8-ill-defined",
        title: "A percentage of what?",
        look: "Iron(III) oxalate does not say its water, so the answer is a range and not a number.",
        arguments: &["stock", "strength", "Fe2(C2O4)3", "--percent", "27"],
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "9-pairs",
        title: "What must not meet",
        look: "Pairs are recognised from formulas, before they are mixed.",
        arguments: &["stock", "pairs", "Na2PtCl6", "(NH4)3Fe(C2O4)3", "KClO3"],
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "10-refusal",
        title: "A slip of the pen",
        look: "A refusal says what it saw, what it expected and what to type instead. Nothing is lost.",
        arguments: &["stock", "plan", "--salt", "pdcl2", "--make", "60mL"],
        sheet: None,
        exit_code: 2,
    },
    Stop {
        name: "11-book",
        title: "A book of one's own",
        look: "One file. An existing one is never written over, and a foreign one never adopted.",
        arguments: &["new", BOOK],
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "12-receive",
        title: "A jar comes",
        look: "What the jar says is kept; what it does not say stays unknown. From here on every milligram and every cent has an account.",
        arguments: &[
            "stock",
            "receive",
            "PdCl2",
            "--mass",
            "12g",
            "--hydrate",
            "none",
            "--purity",
            "99%",
            "--price",
            "732",
            "--currency",
            "EUR",
            "--lot",
            "LW-7",
            "--name",
            "palladium chloride",
            "--balance",
            "0.01g",
            "--at",
            "2026-03-14T09:00Z",
            "--book",
            BOOK,
        ],
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "13-mix",
        title: "A bottle is mixed",
        look: "As it was weighed: the overshoot was made more of. Metal and money follow the powder; the bottle's weights serve every later count.",
        arguments: &[
            "stock",
            "mix",
            "--from",
            "palladium chloride",
            "--mass",
            "3.97g",
            "--chloride",
            "2.61g",
            "--make",
            "43.5mL",
            "--name",
            "spring stock",
            "--balance",
            "0.01g",
            "--capacity",
            "50mL",
            "--empty",
            "61.20g",
            "--full",
            "110.05g",
            "--at",
            "2026-03-14T10:30Z",
            "--book",
            BOOK,
        ],
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "14-sweep",
        title: "What fell on the glass",
        look: "It goes into a vial of its own and is used first.",
        arguments: &[
            "stock",
            "sweep",
            "--from",
            "palladium chloride",
            "--mass",
            "0.04g",
            "--at",
            "2026-03-14T10:40Z",
            "--book",
            BOOK,
        ],
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "15-count",
        title: "How much is left?",
        look: "The bottle on the scale, three weeks on. What is missing beyond the ± stands as unexplained, with its metal and its money.",
        arguments: &[
            "stock",
            "count",
            "spring stock",
            "--gross",
            "88.3g",
            "--balance",
            "0.1g",
            "--at",
            "2026-04-04T17:00Z",
            "--book",
            BOOK,
        ],
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "16-undo",
        title: "No, that was another bottle",
        look: "An act is taken back by its reversal; both stay in the book.",
        arguments: &["undo", "4", "--at", "2026-04-04T17:02Z", "--book", BOOK],
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "17-lose",
        title: "A spill",
        look: "It was wiped up wet and is kept for the refiner.",
        arguments: &[
            "stock",
            "lose",
            "spring stock",
            "--amount",
            "2mL",
            "--residue",
            "--at",
            "2026-04-04T17:10Z",
            "--book",
            BOOK,
        ],
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "18-shelf",
        title: "The shelf",
        look: "What there is, with its ±, and what is due.",
        arguments: &["stock", "shelf", "--at", "2026-04-04T18:00Z", "--book", BOOK],
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "19-where",
        title: "Where did my jar go?",
        look: "To the microgram: the rows add up to what came in.",
        arguments: &["ledger", "where", "palladium chloride", "--book", BOOK],
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "20-balance",
        title: "Every account",
        look: "The supplier's and the owner's too, so that each metal, each currency and each item's contents sum to zero.",
        arguments: &["ledger", "balance", "--metal-price", "Pd 38EUR/g", "--book", BOOK],
        sheet: None,
        exit_code: 0,
    },
    Stop {
        name: "21-check",
        title: "The book holds against itself",
        look: "Replayed from the first act it gives what it shows.",
        arguments: &["check", "--strict", "--book", BOOK],
        sheet: None,
        exit_code: 0,
    },
];
