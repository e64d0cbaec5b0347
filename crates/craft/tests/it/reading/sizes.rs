//! Sizes, lengths, uptakes, humidities, temperatures and prices by volume.

use handcoat_craft::measure::{
    AgentDose, Length, Readable, RelativeHumidity, Share, Size, Temperature, Uptake, read_price_per_volume,
};

use crate::bench::{near, q};

#[test]
fn lengths_are_millimetres_and_an_inch_is_25_4_of_them() {
    for (text, mm) in [("1cm", 10.0), ("10 mm", 10.0), ("0,5in", 12.7), ("10in", 254.0), ("0cm", 0.0)] {
        assert_eq!(q::<Length>(text).to_millimetres(), mm, "{text}");
    }
}

#[test]
fn a_size_is_two_sides_and_the_first_may_leave_its_unit_to_the_second() {
    const TEXTS: [(&str, f64, f64); 7] = [
        ("8x10in", 203.2, 254.0),
        ("8 x 10 in", 203.2, 254.0),
        ("8×10in", 203.2, 254.0),
        ("8in x 10in", 203.2, 254.0),
        ("20x25cm", 200.0, 250.0),
        ("200X250mm", 200.0, 250.0),
        ("20cm x 250mm", 200.0, 250.0),
    ];
    for (text, width, height) in TEXTS {
        let size: Size = q(text);
        assert_eq!((size.width.to_millimetres(), size.height.to_millimetres()), (width, height), "{text}");
    }
    near(q::<Size>("8x10in").area().expect("an area").to_square_centimetres(), 516.128, 1e-9);
}

#[test]
fn what_is_no_size_says_so() {
    const TEXTS: [(&str, &str); 9] = [
        ("", "value_missing"),
        ("8in", "size_malformed"),
        ("8by10in", "size_malformed"),
        ("8x10", "unit_missing"),
        ("8x10g", "unit_of_another_kind"),
        ("8x10ft", "unit_unknown"),
        ("x10in", "value_missing"),
        ("8x-10in", "value_negative"),
        ("8x900in", "value_out_of_bounds"),
    ];
    for (text, code) in TEXTS {
        assert_eq!(Size::read(text).map_err(|error| error.code()), Err(code), "{text}");
    }
}

#[test]
fn uptakes_shares_humidities_and_doses_carry_their_unit() {
    assert_eq!(q::<Uptake>("0.38mL/100cm2").to_millilitres_per_100_cm2(), 0.38);
    assert_eq!(q::<Uptake>("0,38 ml/100cm²").to_millilitres_per_100_cm2(), 0.38);
    assert_eq!(q::<Uptake>("38mL/m2").to_millilitres_per_100_cm2(), 0.38);
    assert_eq!(q::<Share>("90%").of_whole(), 0.9);
    assert_eq!(q::<RelativeHumidity>("55 %").to_percent(), 55.0);
    assert_eq!(q::<AgentDose>("0.5mg/mL").to_milligrams_per_millilitre(), 0.5);
    assert_eq!(Uptake::read("0.38mL").map_err(|error| error.code()), Err("unit_of_another_kind"));
    assert_eq!(Share::read("0.9").map_err(|error| error.code()), Err("unit_missing"));
    assert_eq!(RelativeHumidity::read("101%").map_err(|error| error.code()), Err("value_out_of_bounds"));
}

#[test]
fn temperatures_are_celsius_or_fahrenheit_and_may_lie_below_zero() {
    for (text, celsius) in
        [("20C", 20.0), ("20 °C", 20.0), ("68F", 20.0), ("68 °F", 20.0), ("-5C", -5.0), ("-40F", -40.0)]
    {
        near(q::<Temperature>(text).to_celsius(), celsius, 1e-12);
    }
    assert_eq!(Temperature::read("20").map_err(|error| error.code()), Err("unit_missing"));
    assert_eq!(Temperature::read("293K").map_err(|error| error.code()), Err("unit_unknown"));
    near(q::<Temperature>("20C").to_kelvin(), 293.15, 1e-12);
}

#[test]
fn a_price_by_volume_is_for_a_bottle_or_a_millilitre() {
    for (text, minor) in [("190EUR/100mL", 437), ("190 EUR / 0.1L", 437), ("1.90EUR/mL", 437), ("0EUR/mL", 0)] {
        let price = read_price_per_volume(text).unwrap_or_else(|error| panic!("`{text}`: {error}"));
        assert_eq!(price.cost_of(q("2.3mL")).expect("a cost").to_minor(), minor, "{text}");
    }
    for (text, code) in
        [("190EUR", "price_per_missing"), ("190EUR/0mL", "price_per_missing"), ("190EUR/g", "unit_of_another_kind")]
    {
        assert_eq!(read_price_per_volume(text).map_err(|error| error.code()), Err(code), "{text}");
    }
}
