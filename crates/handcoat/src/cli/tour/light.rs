//! The stops of light: a set-up, wedges with two doses, strips, the base exposure in force, the ladder. The readings are invented.

use super::stops::{BOOK, PAPER, Stop};

/// Readings an invented wedge gave without agent, and with some. Each is left in the folder under its name.
pub(super) const READINGS: [(&str, &str); 2] = [
    (
        "wedge-plain.csv",
        "step_density,print_density\n0.05,1.40\n0.20,1.39\n0.35,1.39\n0.50,1.35\n0.65,1.34\n0.80,1.29\n0.95,1.25\n1.10,1.17\n1.25,1.08\n\
         1.40,0.95\n1.55,0.81\n1.70,0.67\n1.85,0.52\n2.00,0.41\n2.15,0.30\n2.30,0.24\n2.45,0.19\n2.60,0.15\n2.75,0.12\n2.90,0.10\n3.05,0.09\n",
    ),
    (
        "wedge-dosed.csv",
        "step_density,print_density\n0.05,1.41\n0.20,1.41\n0.35,1.40\n0.50,1.38\n0.65,1.35\n0.80,1.30\n0.95,1.22\n1.10,1.09\n1.25,0.92\n\
         1.40,0.73\n1.55,0.54\n1.70,0.37\n1.85,0.26\n2.00,0.19\n2.15,0.13\n2.30,0.10\n2.45,0.09\n2.60,0.08\n2.75,0.08\n2.90,0.06\n3.05,0.08\n",
    ),
];

const SETUP: &str = "cotton, palladium, tubes";

macro_rules! stop {
    ($paper:expr, $name:literal, $title:literal, $look:literal, $($word:expr),+ $(,)?) => {
        Stop { name: $name, title: $title, look: $look, arguments: &[$($word),+, "--book", BOOK], sheet: $paper, exit_code: 0 }
    };
}

pub(super) const LIGHT: &[Stop] = &[
    stop!(
        None,
        "41-setup",
        "What belongs together",
        "Paper, coat, lamp, film and ink as one set-up: an exposure that was found belongs to all of it.",
        "keep",
        "setup",
        SETUP,
        "--paper",
        "cotton rag 300",
        "--metal",
        "Pd",
        "--agent",
        "hexachloroplatinate",
        "--lamp",
        "tube bank",
        "--film",
        "clear film, 0.1 mm",
        "--at",
        "2026-04-12T09:00Z"
    ),
    stop!(
        None,
        "42-wedge",
        "What the paper does with light",
        "Time and scale each with its ± and the words of its criterion; the other criterion stands beside, for it is another time.",
        "expose",
        "wedge",
        "wedge-plain.csv",
        "--test-time",
        "8:00",
        "--keep",
        "--setup",
        SETUP,
        "--dose",
        "none",
        "--at",
        "2026-04-12T11:00Z"
    ),
    stop!(
        None,
        "43-dosed",
        "The same with a drop of platinum",
        "A wedge with another dose stands on the same ladder and leaves the base exposure of the set-up as it is.",
        "expose",
        "wedge",
        "wedge-dosed.csv",
        "--test-time",
        "8:00",
        "--keep",
        "--setup",
        SETUP,
        "--dose",
        "2mg/mL",
        "--at",
        "2026-04-12T12:00Z"
    ),
    stop!(
        None,
        "44-ladder",
        "How much for this negative",
        "Own wedges against what others report: the borrowed part is said at every dose and shrinks with each wedge.",
        "expose",
        "ladder",
        "--setup",
        SETUP,
        "--range",
        "1.6"
    ),
    stop!(
        None,
        "45-strip-kept",
        "Without a wedge",
        "What a maker tapped is kept like any other test.",
        "expose",
        "strip",
        "--first",
        "2:00",
        "--until",
        "8:00",
        "--tapped",
        "5",
        "--keep",
        "--note",
        "another evening, no wedge at hand",
        "--at",
        "2026-04-19T18:00Z"
    ),
    stop!(
        None,
        "46-new-lot",
        "A new lot comes",
        "The paper is the same by name; its lot is another.",
        "keep",
        "paper",
        "cotton rag 300",
        "--change",
        "--lot",
        "B2",
        "--at",
        "2026-04-26T09:00Z"
    ),
    stop!(
        None,
        "47-base",
        "Is that time still good?",
        "The base exposure in force, which test it comes from, and what has changed since.",
        "expose",
        "list"
    ),
    stop!(
        Some("exposure-strips"),
        "48-strips",
        "Strips to take to the lamp",
        "Seconds to add, large enough to be read beside the lamp, a box for each.",
        "expose",
        "sheet",
        "--first",
        "2:00",
        "--until",
        "8:00",
        "--studio",
        "Lapwing Weir Studio (invented)",
        "--day",
        "2026-04-26",
        "--invented",
        "-o",
        PAPER
    ),
    stop!(
        Some("exposure-test"),
        "49-test",
        "A wedge on paper",
        "The curve with its ±, the readings beside it: the same drawing as on the page.",
        "expose",
        "sheet",
        "1",
        "--studio",
        "Lapwing Weir Studio (invented)",
        "--day",
        "2026-04-26",
        "--invented",
        "-o",
        PAPER
    ),
    stop!(
        Some("response"),
        "50-response",
        "What this paper does with tones",
        "31 patches on one sheet: the curve, the coat that drifts over the sheet told from it, one wrong reading left aside, and what is sent for each tone.",
        "tone",
        "fit",
        "chart.csv",
        "--pdf",
        PAPER,
        "--studio",
        "Lapwing Weir Studio (invented)",
        "--day",
        "2026-04-27",
        "--invented",
        "--keep",
        "--setup",
        SETUP,
        "--note",
        "first chart",
        "--at",
        "2026-04-27T10:00Z"
    ),
    stop!(
        None,
        "51-verify",
        "A print through the curve",
        "What is left, tone by tone, and how much of it is noise; the readings are new ones of the same response.",
        "tone",
        "verify",
        "corrected.csv",
        "--of",
        "1",
        "--keep",
        "--update",
        "--at",
        "2026-04-27T15:00Z"
    ),
    stop!(
        None,
        "52-next-patches",
        "Is more worth its paper?",
        "Which levels lower the expected error most for a square centimetre of coated paper.",
        "tone",
        "next",
        "1"
    ),
];
