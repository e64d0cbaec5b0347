//! Properties of reading: nothing panics, bounds hold, what is written can be read again.

use handcoat_craft::measure::{
    AgentDose, Amount, AmountRatio, Area, Bounded, DeveloperDose, DropCount, DropsPerMillilitre, GramsPer100MlWater,
    IntegratorUnits, Length, Lightness, LogRange, Mass, MassConcentration, MassDensity, MassFraction, MolarMass,
    Molarity, Money, PercentByMass, PercentByVolume, PrintDensity, ReadError, Readable, ReadingNoise, RelativeHumidity,
    Share, Size, Span, StepDensity, Temperature, Uptake, Volume, read_price_per_mass, read_price_per_volume,
};
use handcoat_craft::source::Element;
use handcoat_craft::stock::{Formula, classes, molar_mass};
use proptest::strategy::{Just, Strategy, Union};
use proptest::test_runner::TestCaseError;
use proptest::{collection, prop_assert, prop_assert_eq, proptest};

/// Reads a text as everything there is.
fn read_all(text: &str) -> Result<(), TestCaseError> {
    fn one<Q: Readable>(text: &str) -> Option<ReadError> {
        Q::read(text).err()
    }
    let errors = [
        one::<Mass>(text),
        one::<Volume>(text),
        one::<Molarity>(text),
        one::<MassConcentration>(text),
        one::<Amount>(text),
        one::<MolarMass>(text),
        one::<DropCount>(text),
        one::<DropsPerMillilitre>(text),
        one::<PercentByVolume>(text),
        one::<MassFraction>(text),
        one::<AmountRatio>(text),
        one::<Span>(text),
        one::<Size>(text),
        one::<Length>(text),
        one::<Uptake>(text),
        one::<Temperature>(text),
        one::<Share>(text),
        one::<RelativeHumidity>(text),
        one::<AgentDose>(text),
        one::<StepDensity>(text),
        one::<PrintDensity>(text),
        one::<ReadingNoise>(text),
        one::<LogRange>(text),
        one::<IntegratorUnits>(text),
        one::<DeveloperDose>(text),
        one::<Money>(text),
        read_price_per_mass(text).err(),
        read_price_per_volume(text).err(),
    ];
    for error in errors.into_iter().flatten() {
        prop_assert!(!error.code().is_empty() && !error.to_string().is_empty());
    }
    read_formula(text)
}

/// Reads a text as a formula: an error points into the text, a formula can be written and weighed.
fn read_formula(text: &str) -> Result<(), TestCaseError> {
    match text.parse::<Formula>() {
        Ok(formula) => {
            let written = formula.to_string();
            let again: Formula = written.parse().map_err(|error| TestCaseError::fail(format!("{written}: {error}")))?;
            prop_assert_eq!(again.charge(), formula.charge());
            prop_assert!(molar_mass(&formula).best.to_grams_per_mole() > 0.0);
            prop_assert!(!formula.subscripted().is_empty());
            let _ = (classes(&formula), formula.dry());
        }
        Err(error) => {
            prop_assert!(!error.code().is_empty() && !error.to_string().is_empty());
            if let Some(at) = error.at() {
                // A slice at these bytes exists only if both ends lie on characters inside the text.
                prop_assert!(text.get(at.clone()).is_some(), "`{text}`: {at:?}");
                prop_assert!(!at.is_empty(), "`{text}`: {error:?} points between characters");
            }
        }
    }
    Ok(())
}

/// Pieces that formulas are made of, in any order.
fn formula_like() -> impl Strategy<Value = String> {
    let pieces = [
        "Pd", "Cl", "Na", "Pt", "H", "O", "N", "C", "Fe", "K", "Xe", "Q", "h", "x", "1", "2", "4", "6", "0", "10", "₂",
        "₀", "²", "(", ")", "[", "]", "{", "}", "·", ".", ",", "*", "½", "/", "^", "+", "-", "−", "⁺", "⁻", " ", "H2O",
        "6H2O", "é",
    ];
    collection::vec(Union::new(pieces.map(Just)), 0..14).prop_map(|parts| parts.concat())
}

/// Pieces that quantities, times and prices are made of, in any order.
fn number_like() -> impl Strategy<Value = String> {
    let pieces = [
        "0",
        "1",
        "5",
        "9",
        "12",
        "999999",
        "000",
        ".",
        ",",
        "-",
        "−",
        "+",
        " ",
        "\u{a0}",
        "'",
        "_",
        ":",
        "/",
        "g",
        "mg",
        "kg",
        "µg",
        "mL",
        "L",
        "M",
        "mol/L",
        "mg/mL",
        "%",
        "drops",
        "drops/mL",
        "g/mol",
        "h",
        "min",
        "s",
        "x",
        "×",
        "in",
        "cm",
        "C",
        "F",
        "mL/100cm2",
        "EUR",
        "JPY",
        "€",
        "$",
        "e",
        "½",
        "\u{feff}",
        "é",
    ];
    collection::vec(Union::new(pieces.map(Just)), 0..10).prop_map(|parts| parts.concat())
}

/// A formula made by rule, with the composition counted along the way.
#[derive(Clone, Debug)]
struct Made {
    text: String,
    counts: Vec<(Element, f64)>,
}

impl Made {
    fn joined(parts: Vec<Self>) -> Self {
        let text = parts.iter().map(|part| part.text.as_str()).collect();
        Self { text, counts: parts.into_iter().flat_map(|part| part.counts).collect() }
    }

    fn times(mut self, count: u32, opened: &str, closed: &str) -> Self {
        let written = if count == 1 { String::new() } else { count.to_string() };
        self.text = format!("{opened}{}{closed}{written}", self.text);
        for (_, own) in &mut self.counts {
            *own *= f64::from(count);
        }
        self
    }

    fn count(&self, element: Element) -> f64 {
        self.counts.iter().filter(|(own, _)| *own == element).map(|(_, count)| count).sum()
    }
}

const ELEMENTS: [Element; 8] =
    [Element::PD, Element::PT, Element::CL, Element::NA, Element::H, Element::O, Element::FE, Element::C];

fn made() -> impl Strategy<Value = Made> {
    let atom = (Union::new(ELEMENTS.map(Just)), 1..13_u32).prop_map(|(element, count)| {
        Made { text: element.to_string(), counts: vec![(element, 1.0)] }.times(count, "", "")
    });
    atom.prop_recursive(3, 12, 3, |inner| {
        let bracket = Union::new([("(", ")"), ("[", "]"), ("{", "}")].map(Just));
        (collection::vec(inner, 1..4), 1..5_u32, bracket)
            .prop_map(|(parts, count, (opened, closed))| Made::joined(parts).times(count, opened, closed))
    })
}

/// Waters in quarters, as text and as a number; none is no part at all.
fn waters() -> impl Strategy<Value = (String, f64)> {
    (0..49_u32, Union::new(["·", "*", ".", " · "].map(Just))).prop_map(|(quarters, dot)| {
        let waters = f64::from(quarters) / 4.0;
        if quarters == 0 { (String::new(), 0.0) } else { (format!("{dot}{waters}H2O"), waters) }
    })
}

fn stays_in_bounds<Q: Bounded>(at: f64) -> Result<(), TestCaseError> {
    let value = Q::sample(at).in_unit();
    prop_assert!((Q::LEAST..=Q::MOST).contains(&value), "{} of {value} {}", Q::NAME, Q::UNIT);
    let again = Q::from_unit(value).map_err(|error| TestCaseError::fail(error.to_string()))?;
    prop_assert_eq!(again.in_unit(), value);
    // One step past either end is refused.
    for past in [Q::LEAST - 1.0, Q::MOST * 1.001, f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        prop_assert!(Q::from_unit(past).is_err(), "{} of {past}", Q::NAME);
    }
    Ok(())
}

proptest! {
    #[test]
    fn no_text_panics(text in ".{0,40}") {
        read_all(&text)?;
    }

    #[test]
    fn no_formula_like_text_panics(text in formula_like()) {
        read_all(&text)?;
    }

    #[test]
    fn no_number_like_text_panics(text in number_like()) {
        read_all(&text)?;
    }

    #[test]
    fn samples_stay_in_bounds(inside in 0.0..=1.0_f64) {
        for at in [inside, 0.0, 1.0] {
            stays_in_bounds::<Mass>(at)?;
            stays_in_bounds::<Volume>(at)?;
            stays_in_bounds::<Amount>(at)?;
            stays_in_bounds::<MolarMass>(at)?;
            stays_in_bounds::<Molarity>(at)?;
            stays_in_bounds::<MassConcentration>(at)?;
            stays_in_bounds::<MassDensity>(at)?;
            stays_in_bounds::<PercentByVolume>(at)?;
            stays_in_bounds::<PercentByMass>(at)?;
            stays_in_bounds::<GramsPer100MlWater>(at)?;
            stays_in_bounds::<MassFraction>(at)?;
            stays_in_bounds::<AmountRatio>(at)?;
            stays_in_bounds::<DropCount>(at)?;
            stays_in_bounds::<DropsPerMillilitre>(at)?;
            stays_in_bounds::<Span>(at)?;
            stays_in_bounds::<Length>(at)?;
            stays_in_bounds::<Area>(at)?;
            stays_in_bounds::<Uptake>(at)?;
            stays_in_bounds::<Share>(at)?;
            stays_in_bounds::<RelativeHumidity>(at)?;
            stays_in_bounds::<AgentDose>(at)?;
            stays_in_bounds::<StepDensity>(at)?;
            stays_in_bounds::<PrintDensity>(at)?;
            stays_in_bounds::<ReadingNoise>(at)?;
            stays_in_bounds::<LogRange>(at)?;
            stays_in_bounds::<IntegratorUnits>(at)?;
            stays_in_bounds::<DeveloperDose>(at)?;
            stays_in_bounds::<Lightness>(at)?;
        }
    }

    #[test]
    fn every_microgram_can_be_written_and_read(micrograms in 0..=100_000_000_000_i64) {
        let text = format!("{}.{:06}g", micrograms / 1_000_000, micrograms % 1_000_000);
        prop_assert_eq!(Mass::read(&text).map(Mass::to_micrograms), Ok(micrograms));
        prop_assert_eq!(Mass::read(&text.replace('.', ",")).map(Mass::to_micrograms), Ok(micrograms));
        prop_assert_eq!(Mass::read(&format!("{micrograms} µg")).map(Mass::to_micrograms), Ok(micrograms));
        let shortest = Mass::micrograms(micrograms).map(|mass| format!("{} g", mass.to_grams()));
        prop_assert_eq!(shortest.map(|text| Mass::read(&text).map(Mass::to_micrograms)), Ok(Ok(micrograms)));
    }

    #[test]
    fn every_second_can_be_written_and_read(seconds in 0..2_592_000_u32) {
        let span = Span::seconds(f64::from(seconds)).map_err(|error| TestCaseError::fail(error.to_string()))?;
        prop_assert_eq!(Span::read(&span.clock()), Ok(span));
    }

    #[test]
    fn a_formula_is_counted_right_and_survives_being_written(made in made(), (dot, waters) in waters()) {
        let text = format!("{}{dot}", made.text);
        // Twelve of twelve of twelve lead is too heavy; that is a refusal of its own.
        let formula = match text.parse::<Formula>() {
            Ok(formula) => formula,
            Err(error) => {
                prop_assert_eq!(error.code(), "formula_too_heavy", "`{}`", text);
                return Ok(());
            }
        };
        prop_assert_eq!((formula.waters(), formula.charge()), (waters, 0));
        for element in ELEMENTS {
            let water = if element == Element::H { 2.0 } else if element == Element::O { 1.0 } else { 0.0 };
            prop_assert_eq!(formula.count(element), made.count(element) + water * waters, "{} in `{}`", element, text);
            prop_assert_eq!(formula.dry().count(element), made.count(element), "{} in `{}`, dry", element, text);
        }
        let again: Formula = formula.to_string().parse().map_err(|_| TestCaseError::fail(text))?;
        prop_assert_eq!(again, formula);
    }
}
