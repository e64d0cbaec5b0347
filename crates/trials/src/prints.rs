//! A studio with many prints, made through the same acts a maker uses, to see how a long book behaves.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use handcoat_work::keep::{Keep, RecordKind, keep};
use handcoat_work::print::{CoatMade, FIELDS, PrintMade, coat, record};
use handcoat_work::shelf::{Receive, Retire, receive, retire};
use handcoat_work::{Done, Refusal, Studio};

use crate::{Dice, moment};

/// Prints to one pair of bottles; then both are put away and new ones come, as in a studio.
const TO_A_PAIR: u64 = 2000;
/// Seconds between two prints.
const APART: i64 = 5400;

const PAPERS: [&str; 5] = ["cotton rag 300", "cotton rag 160", "kozo 70", "gampi 20", "wove 240"];
const LAMPS: [&str; 2] = ["tube bank", "diode panel"];
const TITLES: [&str; 8] = ["Heron", "Tern", "Lapwing weir", "Gate in snow", "Alder", "Harbour wall", "Reeds", "Ford"];
const VERDICTS: [&str; 4] = ["good, shadows open", "a little thin", "harsh", "as wished"];
const FAULTS: [&str; 4] = ["veil", "black-specks", "weak-blacks", "mottled"];

fn some(text: &str) -> Option<String> {
    Some(text.into())
}

/// The studio under way.
struct Filling {
    studio: Studio,
    dice: Dice,
    acts: u64,
    seconds: i64,
}

impl Filling {
    fn act<A>(
        &mut self,
        answers: &A,
        act: impl FnOnce(&mut Studio, &handcoat_work::Moment, &A) -> Result<Done, Refusal>,
    ) -> Result<Done, String> {
        self.acts += 1;
        let moment = moment(&format!("prints-{:09}", self.acts), self.seconds);
        act(&mut self.studio, &moment, answers).map_err(|refusal| format!("act {}: {}", self.acts, refusal.cause))
    }

    fn things(&mut self) -> Result<(), String> {
        let one = |name: &str, fields: &[(&'static str, &str)], came: Option<&str>| Keep {
            name: some(name),
            fields: fields.iter().map(|(key, text)| (*key, (*text).into())).collect(),
            came: came.map(String::from),
        };
        for (place, name) in PAPERS.iter().enumerate() {
            let lot = format!("lot {place}");
            self.keep(
                RecordKind::Paper,
                &one(name, &[("lot", &lot), ("price", "2.40EUR"), ("low", "10")], Some("1000000")),
            )?;
        }
        for name in LAMPS {
            self.keep(RecordKind::Lamp, &one(name, &[("hours", "120"), ("distance", "12cm")], None))?;
        }
        for (name, work) in [("oxalate", "developer"), ("citric 1", "clearing"), ("EDTA 1", "clearing")] {
            self.keep(RecordKind::Bath, &one(name, &[("work", work), ("made", "2024-10-01")], None))?;
        }
        self.keep(RecordKind::Tool, &one("wide brush", &[], None))?;
        self.keep(RecordKind::Negative, &one("heron", &[("range", "1.8")], None))
    }

    fn keep(&mut self, kind: RecordKind, answers: &Keep) -> Result<(), String> {
        self.act(answers, |studio, moment, answers| keep(studio, moment, kind, answers)).map(|_| ())
    }

    fn bottles(&mut self, pair: u64) -> Result<(), String> {
        for (formula, percent, name) in [("Na2PdCl4", "15%", "palladium"), ("Fe2(C2O4)3", "27%", "iron")] {
            if pair > 0 {
                let old = Retire { item: Some(format!("{name} {}", pair - 1)), ..Retire::default() };
                self.act(&old, retire)?;
            }
            let new = Receive {
                formula: some(formula),
                percent: some(percent),
                volume: some("5L"),
                price: some("2400EUR"),
                name: Some(format!("{name} {pair}")),
                ..Receive::default()
            };
            self.act(&new, receive)?;
        }
        Ok(())
    }

    fn print(&mut self, number: u64) -> Result<(), String> {
        let pair = number / TO_A_PAIR;
        if number.is_multiple_of(TO_A_PAIR) {
            self.bottles(pair)?;
        }
        self.seconds += APART;
        let drops = 12 + self.dice.below(20);
        let pours = vec![format!("iron {pair}={drops}"), format!("palladium {pair}={drops}")];
        let word = |dice: &mut Dice, from: &[&str]| dice.pick(from).map(|own| (*own).to_owned()).unwrap_or_default();
        let title = format!("{}, {}", word(&mut self.dice, &TITLES), 1 + self.dice.below(40));
        let minutes = 3 + self.dice.below(12);
        let mut fields: BTreeMap<&'static str, String> = BTreeMap::new();
        for field in FIELDS {
            let text = match field.key {
                "paper" => word(&mut self.dice, &PAPERS),
                "lamp" => word(&mut self.dice, &LAMPS),
                "developer" => "oxalate".into(),
                "bath_1" => "citric 1".into(),
                "bath_2" => "EDTA 1".into(),
                "bath_3" | "negative_range" | "edition" | "units" => continue,
                "time" => format!("{minutes}:{:02}", 5 * self.dice.below(12)),
                "dry" => word(&mut self.dice, &VERDICTS),
                "faults" if self.dice.once_in(3) => word(&mut self.dice, &FAULTS),
                "faults" => continue,
                "room_humidity" => format!("{}%", 40 + self.dice.below(30)),
                _ => field.example.into(),
            };
            fields.insert(field.key, text);
        }
        let mut made = PrintMade { title: Some(title.clone()), pours, fields, ..PrintMade::default() };
        // Every tenth was coated before and waited.
        if number.is_multiple_of(10) {
            let coated = CoatMade { title: Some(title), pours: std::mem::take(&mut made.pours), ..CoatMade::default() };
            let done = self.act(&coated, coat)?;
            made.coats = done.record.into_iter().map(|own| own.to_string()).collect();
        }
        self.act(&made, record).map(|_| ())
    }
}

/// Makes a studio with so many prints in a folder that is there, and gives the path of its book.
///
/// # Errors
/// What could not be done, as words.
pub fn many_prints(folder: &Path, count: u64) -> Result<PathBuf, String> {
    let book = folder.join("prints.handcoat");
    let studio = Studio::create(&book).map_err(|refusal| refusal.cause)?;
    let mut filling = Filling { studio, dice: Dice::new(17), acts: 0, seconds: 0 };
    filling.things()?;
    for number in 0..count {
        filling.print(number)?;
    }
    Ok(book)
}
