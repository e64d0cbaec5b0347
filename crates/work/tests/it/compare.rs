//! Offers side by side.

use handcoat_work::stock::{CompareAnswers, compare};

#[test]
fn metal_is_compared_and_not_powder() {
    let answers = CompareAnswers {
        powders: vec!["PdCl2·2H2O 400EUR/10g 100%".into(), "PdCl2 480EUR/10g 99%".into()],
        solutions: vec!["Na2PdCl4 190EUR/100mL 15%".into()],
        metal_per_ml: Some("54.26mg/mL".into()),
    };
    let found = compare(&answers).expect("all can be read");
    let by = |start: &str| found.iter().find(|own| own.written.starts_with(start)).expect("it is there");
    // 10 g at 99 % and 0.60017 of palladium (weights of IUPAC 2021): 80.79 EUR per gram.
    assert!((by("PdCl2 480").offer.per_gram() - 480.0 / (10.0 * 0.99 * 0.60017)).abs() < 0.01);
    // The dihydrate is cheaper by the gram of powder and holds a sixth less.
    assert!((by("PdCl2·2H2O").offer.per_gram() - 400.0 / (10.0 * 0.49884)).abs() < 0.02);
    assert!((by("PdCl2 480").offer.per_millilitre(by("PdCl2 480").strength) - 80.788 * 0.05426).abs() < 0.001);
    // 15 % is 54.26 mg/mL without water and 45.84 with three; nothing is said, so the middle, and that is said.
    assert!(by("Na2PdCl4").water_open);
    assert!((by("Na2PdCl4").offer.per_gram() - 190.0 / 5.005).abs() < 0.05);
    let order: Vec<f64> = found.iter().map(|own| own.offer.per_gram()).collect();
    assert!(order.is_sorted(), "{order:?}");
}
