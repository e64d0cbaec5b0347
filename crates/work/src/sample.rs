//! An invented studio, filled through the same acts a maker uses. Nothing in it is anybody's.

mod chart;
mod light;
mod picture;
mod scan;
mod tone;

use std::collections::BTreeMap;

use jiff::Timestamp;

pub use chart::{sample_chart, sample_paper};
pub use picture::sample_picture;
pub use scan::sample_scan;

use crate::keep::{Keep, RecordKind, keep};
use crate::print::{CoatMade, PrintMade, Spoiled, coat, note, record, spoil};
use crate::shelf::{
    Count, EnterHazards, Look, Lose, Mix, Receive, Split, Sweep, TestOf, count, enter_hazards, look, lose, mix,
    receive, split, sweep, test,
};
use crate::{Done, Moment, Refusal, Studio};

/// Its name; every page shows it.
pub const STUDIO: &str = "Lapwing Weir Studio (invented)";

/// More acts than the sample has.
const LATEST: i64 = 99;

/// How old the first act of the sample is, in days.
const OLDEST: i64 = 40;

fn some(text: &str) -> Option<String> {
    Some(text.into())
}

/// Fills a new book, the newest acts a little before `now`.
///
/// # Errors
/// [`Refusal`] when the book cannot be written; the sample's own answers are sound, which a test holds.
pub fn fill(studio: &mut Studio, now: Timestamp) -> Result<(), Refusal> {
    studio.book.set_fact("studio", STUDIO)?;
    let mut filling = Filling { studio, now, count: 0 };
    filling.jars()?;
    filling.bottles()?;
    filling.later()?;
    filling.beside()?;
    filling.prints()?;
    filling.light()
}

/// Kind, name, how many came, and fields of something that is kept.
type Thing<'t> = (RecordKind, &'t str, Option<&'t str>, &'t [(&'static str, &'t str)]);

/// The sample under way; each act has its day and a key of its own.
struct Filling<'s> {
    studio: &'s mut Studio,
    now: Timestamp,
    count: u32,
}

impl Filling<'_> {
    fn days_ago<A>(
        &mut self,
        days: i64,
        answers: &A,
        act: impl FnOnce(&mut Studio, &Moment, &A) -> Result<Done, Refusal>,
    ) -> Result<Done, Refusal> {
        self.count += 1;
        // The later the act, the nearer to the end of its day, and none of them after now.
        let seconds = days * 86_400 + (LATEST - i64::from(self.count)) * 420;
        let at = Timestamp::from_second(self.now.as_second() - seconds).unwrap_or(self.now);
        let moment = Moment { at, who: "sample".into(), key: format!("sample-act-{:04}", self.count) };
        act(self.studio, &moment, answers)
    }

    fn jars(&mut self) -> Result<(), Refusal> {
        let jar = |formula: &str, mass: &str, name: &str, price: &str| Receive {
            formula: some(formula),
            mass: some(mass),
            name: some(name),
            price: some(price),
            currency: some("EUR"),
            purity: some("99%"),
            supplier: some("Alder Salts (invented)"),
            balance: some("0.01g"),
            ..Receive::default()
        };
        let palladium =
            Receive { hydrate: some("none"), lot: some("AS-1107"), ..jar("PdCl2", "12g", "palladium chloride", "732") };
        self.days_ago(OLDEST, &palladium, receive)?;
        self.days_ago(
            OLDEST,
            &Receive { lot: some("AS-0988"), ..jar("K2PtCl4", "5g", "platinum vial", "395") },
            receive,
        )?;
        self.days_ago(OLDEST, &jar("NaCl", "250g", "plain salt", "4"), receive)?;
        let hazards = EnterHazards {
            item: some("palladium chloride"),
            supplier: some("Alder Salts (invented)"),
            date: some("2026-01-20"),
            signal_word: some("Danger"),
            statements: ["H290", "H302", "H317", "H318"].map(String::from).to_vec(),
            pictograms: ["GHS05", "GHS07"].map(String::from).to_vec(),
            of_pure_substance: false,
        };
        self.days_ago(OLDEST, &hazards, enter_hazards)?;
        Ok(())
    }

    fn bottles(&mut self) -> Result<(), Refusal> {
        let spring = Mix {
            from: some("palladium chloride"),
            mass: some("3.97g"),
            chloride_from: some("plain salt"),
            chloride: some("2.61g"),
            make: some("43.5mL"),
            name: some("spring palladium"),
            balance: some("0.01g"),
            capacity: some("50mL"),
            empty: some("61.20g"),
            full: some("110.05g"),
            ..Mix::default()
        };
        self.days_ago(30, &spring, mix)?;
        let swept = Sweep { from: some("palladium chloride"), mass: some("0.04g"), into: some("swept palladium") };
        self.days_ago(30, &swept, sweep)?;
        self.days_ago(28, &Look { bottle: some("spring palladium"), verdict: some("clear") }, look)?;
        let iron = Receive {
            formula: some("Fe2(C2O4)3"),
            volume: some("100mL"),
            percent: some("27%"),
            name: some("ferric oxalate"),
            price: some("38"),
            currency: some("EUR"),
            capacity: some("125mL"),
            ..Receive::default()
        };
        self.days_ago(35, &iron, receive)?;
        let tested = TestOf { bottle: some("ferric oxalate"), test: some("ferrous"), verdict: some("passed") };
        self.days_ago(34, &tested, test)?;
        let old = Receive {
            formula: some("unknown"),
            level: some("40%"),
            capacity: some("60mL"),
            name: some("old brown bottle"),
            note: some("found behind the lamp; the label is gone"),
            ..Receive::default()
        };
        self.days_ago(20, &old, receive)?;
        Ok(())
    }

    fn later(&mut self) -> Result<(), Refusal> {
        let travel = Split { bottle: some("spring palladium"), volume: some("10mL"), name: some("travel palladium") };
        self.days_ago(12, &travel, split)?;
        let spill = Lose { item: some("travel palladium"), amount: some("1.5mL"), residue: true };
        self.days_ago(9, &spill, lose)?;
        let weighed =
            Count { item: some("spring palladium"), gross: some("97.9g"), balance: some("0.1g"), ..Count::default() };
        self.days_ago(3, &weighed, count)?;
        let fresh = Mix {
            from: some("palladium chloride"),
            mass: some("2.28g"),
            chloride_from: some("plain salt"),
            chloride: some("1.51g"),
            make: some("25mL"),
            name: some("fresh palladium"),
            balance: some("0.01g"),
            capacity: some("30mL"),
            ..Mix::default()
        };
        self.days_ago(0, &fresh, mix)?;
        Ok(())
    }

    /// What is kept beside the shelf.
    fn beside(&mut self) -> Result<(), Refusal> {
        let made = self.day(15);
        let things: [Thing<'_>; 12] = [
            (
                RecordKind::Paper,
                "cotton rag 300",
                Some("25"),
                &[("lot", "A7"), ("side", "felt"), ("sheet", "28x38cm"), ("price", "2.40EUR"), ("low", "20")],
            ),
            (RecordKind::Paper, "kozo thin", Some("8"), &[("lot", "K-02"), ("price", "3.10EUR"), ("low", "5")]),
            (RecordKind::Tool, "wide brush", None, &[("sort", "brush"), ("width", "5cm"), ("uptake", "0.38mL/100cm2")]),
            (
                RecordKind::Dropper,
                "palladium dropper",
                None,
                &[("solution", "spring palladium"), ("drops_per_ml", "21.3drops/mL"), ("drops_per_ml_u", "0.3")],
            ),
            (
                RecordKind::Dropper,
                "iron dropper",
                None,
                &[("solution", "ferric oxalate"), ("drops_per_ml", "20.4drops/mL"), ("drops_per_ml_u", "0.3")],
            ),
            (
                RecordKind::Lamp,
                "tube bank",
                None,
                &[("sort", "UV tubes"), ("distance", "12cm"), ("warm_up", "5:00"), ("hours", "118")],
            ),
            (
                RecordKind::Bath,
                "oxalate developer",
                None,
                &[("work", "developer"), ("holds", "potassium oxalate, 25 %"), ("volume", "2L"), ("made", &made)],
            ),
            (
                RecordKind::Bath,
                "citric 1",
                None,
                &[
                    ("work", "clearing"),
                    ("holds", "citric acid, 1 %"),
                    ("place", "1"),
                    ("volume", "1L"),
                    ("made", &made),
                ],
            ),
            (
                RecordKind::Bath,
                "EDTA 1",
                None,
                &[
                    ("work", "clearing"),
                    ("holds", "tetrasodium EDTA, 2 %"),
                    ("place", "2"),
                    ("volume", "1L"),
                    ("made", &made),
                ],
            ),
            (RecordKind::Negative, "heron", None, &[("source", "ink on film"), ("size", "8x10in"), ("range", "1.85")]),
            (RecordKind::Negative, "weir gate", None, &[("source", "in-camera"), ("size", "4x5in"), ("range", "1.6")]),
            (RecordKind::Supply, "gloves", Some("12"), &[("unit", "pairs"), ("low", "15")]),
        ];
        for (kind, name, came, fields) in things {
            let answers = Keep {
                name: some(name),
                came: came.map(String::from),
                fields: fields.iter().map(|(key, text)| (*key, (*text).into())).collect(),
            };
            self.days_ago(14, &answers, |studio, moment, answers| keep(studio, moment, kind, answers))?;
        }
        Ok(())
    }

    /// Three prints, one of them judged, one sheet spoiled, one coat that waits.
    fn prints(&mut self) -> Result<(), Refusal> {
        let pours = |drops: u32| vec![format!("ferric oxalate={drops}"), format!("spring palladium={drops}")];
        let usual: [(&'static str, &str); 13] = [
            ("margin", "1cm"),
            ("paper", "cotton rag 300"),
            ("side", "felt"),
            ("tool", "wide brush"),
            ("coats", "1"),
            ("lamp", "tube bank"),
            ("distance", "12cm"),
            ("developer", "oxalate developer"),
            ("developer_temperature", "20C"),
            ("developing_time", "2:00"),
            ("bath_1", "citric 1"),
            ("bath_2", "EDTA 1"),
            ("washing", "30:00"),
        ];
        let with = |own: &[(&'static str, &str)]| -> BTreeMap<&'static str, String> {
            usual.iter().chain(own).map(|(key, text)| (*key, (*text).into())).collect()
        };
        let heron = PrintMade {
            title: some("Heron, morning"),
            pours: pours(24),
            fields: with(&[
                ("image", "8x10in"),
                ("negative", "heron"),
                ("room_humidity", "55%"),
                ("room_temperature", "20C"),
                ("time", "6:00"),
                ("clearing_time", "20:00"),
                ("wet", "a little thin"),
            ]),
            ..PrintMade::default()
        };
        self.days_ago(13, &heron, record)?;
        let verdict: BTreeMap<&'static str, String> =
            [("dry", "good, shadows open"), ("density_paper", "0.07"), ("density_black", "1.42"), ("where", "box 3")]
                .map(|(key, text)| (key, text.to_owned()))
                .into();
        self.days_ago(12, &verdict, |studio, moment, answers| note(studio, moment, "1", answers))?;
        let again = PrintMade {
            title: some("Heron, evening"),
            pours: pours(24),
            repeats: some("1"),
            fields: with(&[
                ("image", "8x10in"),
                ("negative", "heron"),
                ("room_humidity", "38%"),
                ("room_temperature", "19C"),
                ("time", "6:00"),
                ("clearing_time", "12:00"),
                ("dry", "lighter than the first, veiled"),
                ("faults", "lighter"),
            ]),
            ..PrintMade::default()
        };
        self.days_ago(5, &again, record)?;
        let of = |title: &str, drops: u32, image: &str| CoatMade {
            title: some(title),
            pours: pours(drops),
            image: some(image),
            margin: some("1cm"),
            paper: some("cotton rag 300"),
            ..CoatMade::default()
        };
        let slip = of("Weir gate", 8, "4x5in");
        self.days_ago(2, &slip, coat)?;
        let dropped = Spoiled { coat: some("1"), because: some("a hair in the coat"), thrown: false };
        self.days_ago(2, &dropped, spoil)?;
        self.days_ago(2, &slip, coat)?;
        let gate = PrintMade {
            title: some("Weir gate"),
            coats: vec!["2".into()],
            fields: with(&[("image", "4x5in"), ("negative", "weir gate"), ("room_humidity", "52%"), ("time", "7:30")]),
            ..PrintMade::default()
        };
        self.days_ago(2, &gate, record)?;
        let waits = of("Heron, third", 24, "8x10in");
        self.days_ago(0, &waits, coat)?;
        Ok(())
    }

    /// The day so many days ago.
    fn day(&self, days: i64) -> String {
        let at = Timestamp::from_second(self.now.as_second() - days * 86_400).unwrap_or(self.now);
        crate::Day::of_instant(at).to_string()
    }
}
