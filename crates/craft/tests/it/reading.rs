//! Reading: what people type becomes exactly the quantity they meant.

mod formulas;
mod properties;
mod refused;
mod sizes;

use handcoat_craft::measure::{
    Amount, AmountRatio, Bounded, Currency, Digits, DropCount, DropsPerMillilitre, Kind, Length, Mass,
    MassConcentration, MassFraction, MolarMass, Molarity, Money, PercentByVolume, Readable, Span, Temperature, Unit,
    Uptake, Volume, read_digits, read_price_per_mass,
};

use crate::bench::{near, q};

#[test]
fn masses_are_exact_micrograms() {
    const TEXTS: [(&str, i64); 20] = [
        ("4.6g", 4_600_000),
        ("4,6 g", 4_600_000),
        ("350mg", 350_000),
        ("0.1g", 100_000),
        ("0.1 g", 100_000),
        (".5g", 500_000),
        (",5g", 500_000),
        ("+2g", 2_000_000),
        ("1,500 g", 1_500_000),
        ("1.500g", 1_500_000),
        ("0g", 0),
        ("-0 g", 0),
        ("007g", 7_000_000),
        ("1 kg", 1_000_000_000),
        ("0.000001g", 1),
        ("1µg", 1),
        ("1 μg", 1),
        ("0.001 mg", 1),
        (" 2.3g ", 2_300_000),
        ("100kg", 100_000_000_000),
    ];
    for (text, micrograms) in TEXTS {
        assert_eq!(q::<Mass>(text).to_micrograms(), micrograms, "{text}");
    }
    // No sum of tenths drifts, as it would in binary.
    let tenth: Mass = q("0.1g");
    let sum = (0..10).fold(Mass::ZERO, |sum, _| sum.plus(tenth).expect("a sum"));
    assert_eq!(sum, q("1g"));
}

#[test]
fn volumes_are_exact_nanolitres() {
    const TEXTS: [(&str, i64); 9] = [
        ("25 mL", 25_000_000),
        ("25ml", 25_000_000),
        ("0.5L", 500_000_000),
        ("2,5 cL", 25_000_000),
        ("50µL", 50_000),
        ("50 uL", 50_000),
        ("1nL", 1),
        ("0.000001 mL", 1),
        ("1000 L", 1_000_000_000_000),
    ];
    for (text, nanolitres) in TEXTS {
        assert_eq!(q::<Volume>(text).to_nanolitres(), nanolitres, "{text}");
    }
}

#[test]
fn derived_quantities_keep_the_last_bit() {
    // Equal, not near: a product with 0.001 in place of a division would miss some of these.
    assert_eq!(q::<Molarity>("0.519 M").in_unit(), 0.519);
    assert_eq!(q::<Molarity>("519 mM").in_unit(), 0.519);
    assert_eq!(q::<Molarity>("0,519mol/L").in_unit(), 0.519);
    assert_eq!(q::<Molarity>("0.519 mmol/mL").in_unit(), 0.519);
    assert_eq!(q::<MassConcentration>("54 mg/mL").in_unit(), 54.0);
    assert_eq!(q::<MassConcentration>("54g/L").in_unit(), 54.0);
    assert_eq!(q::<MassConcentration>("0.054 g/mL").in_unit(), 54.0);
    assert_eq!(q::<Amount>("13mmol").in_unit(), 0.013);
    assert_eq!(q::<MolarMass>("177.32 g/mol").in_unit(), 177.32);
    assert_eq!(q::<DropsPerMillilitre>("20drops/mL").in_unit(), 20.0);
    assert_eq!(q::<DropsPerMillilitre>("17.5 dr/ml").in_unit(), 17.5);
    assert_eq!(q::<DropCount>("12 drops").to_drops(), 12);
    assert_eq!(q::<DropCount>("1 drop").to_drops(), 1);
    assert_eq!(q::<AmountRatio>("2.2").in_unit(), 2.2);
}

#[test]
fn a_percentage_is_a_strength_or_a_purity() {
    assert_eq!(q::<PercentByVolume>("15 %").in_unit(), 15.0);
    assert_eq!(q::<PercentByVolume>("15").in_unit(), 15.0);
    assert_eq!(q::<PercentByVolume>("1,25%").in_unit(), 1.25);
    assert_eq!(q::<MassFraction>("15 %").in_unit(), 0.15);
    near(q::<MassFraction>("99.9%").in_unit(), 0.999, 2e-16);
    assert_eq!(q::<MassFraction>("100 %").in_unit(), 1.0);
    // A purity of bare 99 might be 99 parts of a whole; it must say per cent.
    assert_eq!(MassFraction::read("99").map_err(|error| error.code()), Err("unit_missing"));
}

#[test]
fn times_are_exact_milliseconds() {
    const TEXTS: [(&str, f64, &str); 13] = [
        ("4:00", 240.0, "4:00"),
        ("4min30s", 270.0, "4:30"),
        ("4min 30s", 270.0, "4:30"),
        ("4 min 30 s", 270.0, "4:30"),
        ("1:02:30", 3750.0, "1:02:30"),
        ("90s", 90.0, "1:30"),
        ("0:05", 5.0, "0:05"),
        ("90:00", 5400.0, "1:30:00"),
        ("1h", 3600.0, "1:00:00"),
        ("1h 30min", 5400.0, "1:30:00"),
        ("1,5 min", 90.0, "1:30"),
        ("0.001s", 0.001, "0:00"),
        ("720h", 2_592_000.0, "720:00:00"),
    ];
    for (text, seconds, clock) in TEXTS {
        let span: Span = q(text);
        near(span.to_seconds(), seconds, 0.0);
        assert_eq!(span.clock(), clock, "{text}");
        // A whole count of seconds is written so that it can be read again.
        if seconds.fract() == 0.0 {
            assert_eq!(q::<Span>(&span.clock()), span);
        }
    }
}

#[test]
fn sums_of_money_are_exact_minor_units() {
    const TEXTS: [(&str, i64, &str); 8] = [
        ("480EUR", 48_000, "EUR"),
        ("480 EUR", 48_000, "EUR"),
        ("48,5 EUR", 4_850, "EUR"),
        ("0.01USD", 1, "USD"),
        ("48€", 4_800, "EUR"),
        ("12.50 £", 1_250, "GBP"),
        ("4800 JPY", 4_800, "JPY"),
        ("1.234KWD", 1_234, "KWD"),
    ];
    for (text, minor, code) in TEXTS {
        let money: Money = q(text);
        assert_eq!((money.to_minor(), money.currency().letters()), (minor, code), "{text}");
    }
}

#[test]
fn a_price_is_for_a_gram_or_for_a_jar() {
    const TEXTS: [(&str, i64); 8] = [
        ("48EUR/g", 11_040),
        ("480 EUR/10g", 11_040),
        ("480EUR / 10 g", 11_040),
        ("48€/g", 11_040),
        ("48000 EUR/kg", 11_040),
        ("24EUR/500mg", 11_040),
        ("4.80EUR/0,1g", 11_040),
        ("0EUR/g", 0),
    ];
    for (text, minor) in TEXTS {
        let price = read_price_per_mass(text).unwrap_or_else(|error| panic!("`{text}`: {error}"));
        assert_eq!(price.cost_of(q("2.3g")).expect("a cost").to_minor(), minor, "{text}");
    }
    // A third of a cent is rounded once, at the end, and a budget is never passed.
    let price = read_price_per_mass("100EUR/3g").expect("a price");
    assert_eq!(price.cost_of(q("1g")).expect("a cost").to_minor(), 3_333);
    assert_eq!(price.cost_of(q("3g")).expect("a cost").to_minor(), 10_000);
    let budget = Money::minor(5_000, Currency::code("EUR").expect("a currency")).expect("a sum");
    assert_eq!(price.mass_for(budget), Some(q("1.5g")));
    assert_eq!(price.mass_for(q("50USD")), None);
    assert_eq!(read_price_per_mass("0EUR/g").expect("a price").mass_for(budget), None);
}

/// One of a unit, as the kind of quantity it measures, in the unit its bounds are given in.
fn one_of(unit: &Unit) -> f64 {
    let text = format!("1 {}", unit.symbol);
    match unit.kind {
        Kind::Mass => q::<Mass>(&text).in_unit(),
        Kind::Volume => q::<Volume>(&text).in_unit(),
        Kind::Molarity => q::<Molarity>(&text).in_unit(),
        Kind::MassConcentration => q::<MassConcentration>(&text).in_unit(),
        Kind::Percent => q::<PercentByVolume>(&text).in_unit(),
        Kind::Amount => q::<Amount>(&text).in_unit(),
        Kind::Drops => q::<DropCount>(&text).in_unit(),
        Kind::DropsPerVolume => q::<DropsPerMillilitre>(&text).in_unit(),
        Kind::MolarMass => q::<MolarMass>(&text).in_unit(),
        Kind::Length => q::<Length>(&text).in_unit(),
        Kind::Uptake => q::<Uptake>(&text).in_unit(),
        Kind::Temperature => q::<Temperature>(&text).in_unit(),
    }
}

#[test]
fn every_unit_reads() {
    for unit in Unit::all() {
        // Masses and volumes are stored a million times finer than their bounds are given in.
        let stored = if matches!(unit.kind, Kind::Mass | Kind::Volume) { 6 } else { 0 };
        let power = unit.power - stored;
        let wanted: f64 = format!("{}e{power}", unit.times).parse().expect("a power of ten");
        near(one_of(unit), wanted, wanted * 1e-15);
        assert_eq!(Unit::written(unit.symbol).map(|found| found.power), Some(unit.power), "{}", unit.symbol);
        let same = Unit::all().iter().filter(|other| other.symbol == unit.symbol).count();
        assert_eq!(same, 1, "{} stands twice", unit.symbol);
    }
    assert!(Unit::written("m").is_none() && Unit::written("G").is_none() && Unit::written("").is_none());
}

/// A number and what follows it, or the code of the refusal.
fn number(text: &str) -> Result<(Digits, &str), &'static str> {
    read_digits("number", "`1`", text).map_err(|error| error.code())
}

#[test]
fn eighteen_digits_are_exact_and_nineteen_are_a_slip() {
    let (digits, rest) = number("12345678901234.567 rest").expect("a number");
    assert_eq!((digits.to_whole(3), digits.to_whole(2), rest), (Some(12_345_678_901_234_567), None, "rest"));
    let (digits, _) = number("123456789012345678").expect("a number");
    assert_eq!(
        (digits.to_whole(0), digits.to_whole(1)),
        (Some(123_456_789_012_345_678), Some(1_234_567_890_123_456_780))
    );
    assert_eq!(digits.to_whole(2), None);
    for text in ["1234567890123456789", "0.1234567890123456789", "0000000000000000001"] {
        assert_eq!(number(text).map(|_| "accepted"), Err("number_too_long"), "{text}");
    }
}

#[test]
fn a_decimal_mark_is_no_digit() {
    // The refusal speaks of more than eighteen digits; here are eighteen.
    let whole = number("1.23456789012345678").map(|(digits, _)| digits.to_whole(17));
    assert_eq!(whole, Ok(Some(123_456_789_012_345_678)));
}
