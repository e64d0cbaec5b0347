//! Coated areas, shares on the paper, calibrations: what must hold whatever the numbers.

use handcoat_craft::measure::{Bounded, DropCount, DropsPerMillilitre, Share, Size, Uncertain, Uptake};
use handcoat_craft::paper::{
    Dropper, DropperFrom, Margin, Run, ShareError, SharesWeighed, Sheet, Taken, Tool, UptakeRule, WaterDrops, Weighings,
};
use handcoat_craft::source::LESS;
use handcoat_craft::stock::Balance;

use crate::bench::{near, q};

fn with_margin(size: &str, margin: &str) -> Sheet {
    Sheet { image: q(size), margin: Margin::Real(q(margin)) }
}

#[test]
fn trap_5_the_coated_area_is_larger_than_the_negative() {
    let sheet = with_margin("8x10in", "1cm");
    near(sheet.coated().expect("an area").to_square_centimetres(), 22.32 * 27.4, 1e-9);
    near(sheet.coated().expect("an area").to_square_centimetres(), 611.568, 1e-9);
    near(sheet.nominal().expect("an area").to_square_centimetres(), 516.128, 1e-9);
    assert_eq!(with_margin("8x10in", "0cm").coated(), sheet.nominal());
}

#[test]
fn the_margin_is_never_counted_twice() {
    let nominal = Sheet { image: q("8x10in"), margin: Margin::Customary };
    let real = with_margin("8x10in", "1cm");
    for tool in Tool::ALL {
        let rule = UptakeRule::Habit { tool, printing_out: false };
        let (of_nominal, of_real) = (rule.need(&nominal).expect("a need"), rule.need(&real).expect("a need"));
        assert!(of_nominal.of_nominal && !of_real.of_nominal);
        assert_eq!(of_nominal.coated, of_real.coated);
        // The same habit said two ways: within two hundredths of each other.
        near(of_real.sensitizer_ml / of_nominal.sensitizer_ml, 1.0, 0.02);
    }
}

#[test]
fn trap_6_half_the_share_is_twice_the_drops() {
    let sheet = with_margin("8x10in", "1cm");
    let on_paper: Uptake = q("0.34mL/100cm2");
    let of = |share: &str| {
        let share = Uncertain::new(q::<Share>(share), 0.02);
        UptakeRule::Measured { on_paper, share }.need(&sheet).expect("a need")
    };
    let (all, half) = (of("90%"), of("45%"));
    near(half.pour_ml / all.pour_ml, 2.0, 1e-12);
    assert_eq!(half.sensitizer_ml, all.sensitizer_ml);
    near(all.pour_ml, 611.568 / 100.0 * 0.34 / 0.9, 1e-9);
    near(half.pour_rel.expect("a ±"), 0.02 / 0.45, 1e-12);
}

#[test]
fn a_share_is_what_the_paper_gained_of_all_that_was_gained() {
    let pair = |before: &str, after: &str| Weighings { before: q(before), after: q(after) };
    let weighed = SharesWeighed {
        paper: pair("20.00g", "21.80g"),
        brush: pair("31.00g", "31.15g"),
        glass: pair("40.00g", "40.05g"),
        balance: Balance::with_step(q("0.01g")).expect("a scale"),
    };
    let share = weighed.share().expect("a share");
    near(share.best.of_whole(), 0.9, 1e-12);
    // First order by hand: each gain has u = 0.01/√6; s = p/(p+b+g).
    let (u, p, all) = (0.01 / libm::sqrt(6.0), 1.8, 2.0);
    let by_hand = u * f64::hypot((all - p) / (all * all), p / (all * all)).hypot(p / (all * all));
    near(share.standard(), by_hand, 1e-12);
    let uptake = weighed.uptake(with_margin("8x10in", "1cm").coated().expect("an area"), Some(q("1g/mL")));
    near(uptake.expect("an uptake").best.to_millilitres_per_100_cm2(), 1.8 / 6.115_68, 1e-9);
    let none = SharesWeighed { paper: pair("20g", "20g"), ..weighed };
    assert!(matches!(none.share(), Err(ShareError::NothingOnPaper(_))));
    let wet = SharesWeighed { brush: pair("31g", "30g"), ..weighed };
    assert!(matches!(wet.share(), Err(ShareError::BrushGaveWater)));
}

/// More runs with one glass make the counting surer and nothing else: ten runs of 200 drops to 10 mL are known to the tolerance of
/// the glass, a fiftieth (rectangular), and hardly better than one.
#[test]
fn a_glass_does_not_get_surer_by_being_filled_again() {
    let run = Run { drops: DropCount::drops(200).expect("drops"), taken: Taken::Volume(q("10mL")) };
    let of =
        |runs: usize, known: &WaterDrops| Dropper::calibrated(&vec![run; runs], known).expect("a dropper").relative();
    let (root_3, counting) = (libm::sqrt(3.0), 0.5 / 200.0 / libm::sqrt(3.0));
    for runs in [1, 2, 10, 100] {
        let usual = (0.02 / root_3).hypot(counting / libm::sqrt(runs as f64));
        near(of(runs, &WaterDrops::default()), usual, 1e-12);
        let fine = WaterDrops { glass: Some(q("0.05mL")), ..WaterDrops::default() };
        near(of(runs, &fine), (0.005 / root_3).hypot(counting / libm::sqrt(runs as f64)), 1e-12);
    }
    // A scale likewise: load and tare to half a step each, the same in each run.
    let run = Run { drops: DropCount::drops(200).expect("drops"), taken: Taken::Mass(q("10g")) };
    let known = WaterDrops {
        density: Some(Uncertain::new(q("1g/mL"), 0.0)),
        balance: Balance::with_step(q("0.1g")),
        ..WaterDrops::default()
    };
    let ten = Dropper::calibrated(&[run; 10], &known).expect("a dropper").relative();
    near(ten, (0.005 * libm::sqrt(2.0) / root_3).hypot(counting / libm::sqrt(10.0)), 1e-6);
}

#[test]
fn trap_4_a_drop_is_what_its_dropper_gives() {
    let usual = Dropper::usual();
    assert_eq!(usual.from, DropperFrom::Usual);
    near(usual.relative(), 0.1 / libm::sqrt(3.0), 1e-12);
    let run = |drops: u32, volume: &str| Run {
        drops: DropCount::drops(drops).expect("drops"),
        taken: Taken::Volume(q(volume)),
    };
    let fine = Dropper::calibrated(&[run(250, "10mL")], &WaterDrops::default()).expect("a dropper");
    near(fine.drop_ml(), 0.04, 1e-12);
    assert!(fine.relative() < usual.relative());
    // Runs that differ are known by their spread: 24 and 26, mean 25, standard deviation of the mean 1.
    let runs = [run(240, "10mL"), run(260, "10mL")];
    let twice = Dropper::calibrated(&runs, &WaterDrops::default()).expect("a dropper");
    near(twice.per_ml.best.in_unit(), 25.0, 1e-12);
    // The glass was off by the same part both times, a fiftieth at most.
    near(twice.relative(), (1.0_f64 / 25.0).hypot(0.02 / libm::sqrt(3.0)), 1e-9);
    assert_eq!(twice.from, DropperFrom::Calibrated(2));
    assert!(Dropper::calibrated(&[], &WaterDrops::default()).is_err());
    assert!(Dropper::calibrated(&[run(0, "10mL")], &WaterDrops::default()).is_err());
    assert_eq!(Dropper::stated(q::<DropsPerMillilitre>("18drops/mL")).relative(), 0.0);
}

#[test]
fn less_is_less_on_every_sheet() {
    for sheet in [with_margin("4x5in", "1cm"), Sheet { image: q::<Size>("8x10in"), margin: Margin::Customary }] {
        let brush = UptakeRule::Habit { tool: Tool::Brush, printing_out: false }.need(&sheet).expect("a need");
        let mut before = brush.sensitizer_ml;
        for less in LESS {
            assert!(brush.with_less(less) < before && !less.risk.is_empty());
            before = brush.with_less(less);
        }
    }
}
