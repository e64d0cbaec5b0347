//! Exposure tests of the invented studio: three wedges with growing doses on one paper, and strips on another whose lot changed since.

use std::collections::BTreeMap;

use super::{Filling, some};
use crate::Refusal;
use crate::expose::{EyeAnswers, StripAnswers, TestOfSetup, Tested, WedgeAnswers, keep_test};
use crate::keep::{Keep, RecordKind, change, keep};

/// Its two set-ups.
pub(super) const COTTON: &str = "cotton, palladium, tubes";
pub(super) const KOZO: &str = "kozo, palladium, tubes";

/// Invented readings under 21 steps of 0.15 from 0.05, each wedge with its dose and the days since.
const WEDGES: [(&str, i64, &str); 3] = [
    (
        "none",
        11,
        "1.40 1.39 1.39 1.35 1.34 1.29 1.25 1.17 1.08 0.95 0.81 0.67 0.52 0.41 0.30 0.24 0.19 0.15 0.12 0.10 0.09",
    ),
    (
        "0.5mg/mL",
        10,
        "1.40 1.40 1.39 1.37 1.34 1.31 1.24 1.15 1.03 0.89 0.72 0.56 0.44 0.30 0.23 0.18 0.15 0.11 0.08 0.09 0.08",
    ),
    (
        "2mg/mL",
        6,
        "1.41 1.41 1.40 1.38 1.35 1.30 1.22 1.09 0.92 0.73 0.54 0.37 0.26 0.19 0.13 0.10 0.09 0.08 0.08 0.06 0.08",
    ),
];

fn fields(own: &[(&'static str, &str)]) -> BTreeMap<&'static str, String> {
    own.iter().map(|(key, text)| (*key, (*text).into())).collect()
}

impl Filling<'_> {
    /// Set-ups and their tests.
    pub(super) fn light(&mut self) -> Result<(), Refusal> {
        let shared = [
            ("metal", "Pd"),
            ("agent", "hexachloroplatinate"),
            ("lamp", "tube bank"),
            ("distance", "12cm"),
            ("developer", "oxalate developer"),
            ("film", "clear film, 0.1 mm"),
            ("printer", "the wide one"),
            ("ink", "black only"),
        ];
        for (name, paper, tool) in [(COTTON, "cotton rag 300", Some("wide brush")), (KOZO, "kozo thin", None)] {
            let mut own = fields(&shared);
            own.insert("paper", paper.into());
            own.extend(tool.map(|tool| ("tool", tool.into())));
            let answers = Keep { name: some(name), fields: own, came: None };
            self.days_ago(12, &answers, |studio, moment, answers| keep(studio, moment, RecordKind::Setup, answers))?;
        }
        let answers = WedgeAnswers { test_time: some("8:00"), ..WedgeAnswers::default() };
        for (dose, days, prints) in WEDGES {
            let mut table = String::from("step_density,print_density\n");
            for (place, print) in prints.split(' ').enumerate() {
                table.push_str(&format!("{:.2},{print}\n", 0.05 + 0.15 * place as f64));
            }
            let place = TestOfSetup { setup: some(COTTON), dose: some(dose), ..TestOfSetup::default() };
            self.days_ago(days, &place, |studio, moment, place| {
                keep_test(studio, moment, place, &Tested::Wedge(&answers, table.as_bytes()))
            })?;
        }
        let place = TestOfSetup { setup: some(KOZO), note: some("no wedge at hand"), ..TestOfSetup::default() };
        let strips =
            StripAnswers { first: some("2:00"), until: some("8:00"), tapped: some("6"), ..StripAnswers::default() };
        self.days_ago(9, &place, |studio, moment, place| keep_test(studio, moment, place, &Tested::Strip(&strips)))?;
        let place = TestOfSetup { setup: some(KOZO), dose: some("1mg/mL"), ..TestOfSetup::default() };
        let eye = EyeAnswers {
            test_time: some("8:00"),
            last_black: some("4"),
            last_tone: some("15"),
            ..EyeAnswers::default()
        };
        self.days_ago(8, &place, |studio, moment, place| keep_test(studio, moment, place, &Tested::Eye(&eye)))?;
        self.tone()?;
        // A new lot came, and the base exposure of the old one is suspect.
        let lot = Keep { fields: fields(&[("lot", "K-03")]), ..Keep::default() };
        self.days_ago(1, &lot, |studio, moment, lot| change(studio, moment, RecordKind::Paper, "kozo thin", lot))?;
        Ok(())
    }
}
