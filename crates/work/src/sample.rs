//! An invented studio, filled through the same acts a maker uses. Nothing in it is anybody's.

use jiff::Timestamp;

use crate::shelf::{
    Count, EnterHazards, Look, Lose, Mix, Receive, Split, Sweep, TestOf, count, enter_hazards, look, lose, mix,
    receive, split, sweep, test,
};
use crate::{Done, Moment, Refusal, Studio};

/// Its name; every page shows it.
pub const STUDIO: &str = "Lapwing Weir Studio (invented)";

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
    filling.later()
}

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
        let seconds = days * 86_400 - i64::from(self.count) * 420;
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
}
