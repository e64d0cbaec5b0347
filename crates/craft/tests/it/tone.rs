//! A response from a chart: what it makes of clean readings, of drift, of wild readings, of saturated ends and of an earlier fit.

use handcoat_craft::measure::{Length, Lightness, LightnessSpread, ToneInput};
use handcoat_craft::tone::{
    Correction, Memory, PatchReading, Place, PriorUse, Response, Target, ToneError, ToneFit, fit, same_print,
    same_readings, verify,
};

use crate::bench::near;
use crate::known_montecarlo::Pcg;

/// How a print answers: two coats of different speed over each other, which is of no family with one sigmoid.
fn two_coats(x: f64) -> f64 {
    let rise = |middle: f64, steep: f64| 1.0 / (1.0 + libm::exp(steep * (x - middle)));
    let density = 0.07 + 0.9 * rise(0.42, 9.0) + 0.5 * rise(0.62, 7.0);
    l_star(density)
}

/// Black is reached long before the end, and held.
fn saturated(x: f64) -> f64 {
    l_star(0.06 + 1.4 / (1.0 + libm::exp(14.0 * (x - 0.65))))
}

fn l_star(density: f64) -> f64 {
    let y = libm::pow(10.0, -density);
    if y > 216.0 / 24389.0 { 116.0 * libm::cbrt(y) - 16.0 } else { y * 24389.0 / 27.0 }
}

/// A chart of so many levels on a sheet, its patches in an order that has nothing to do with their level.
struct Chart {
    count: usize,
    noise: f64,
    /// Lighter from left to right by so much over the sheet, L*.
    slope: f64,
    placed: bool,
    seed: u64,
}

impl Chart {
    fn printed(&self, truth: impl Fn(f64) -> f64) -> Vec<PatchReading> {
        let mut dice = Pcg::seeded(self.seed);
        let mut order: Vec<usize> = (0..self.count).collect();
        for k in (1..self.count).rev() {
            order.swap(k, (dice.rectangular(0.5, 0.5) * (k + 1) as f64) as usize);
        }
        let columns = libm::ceil(libm::sqrt(self.count as f64 * 1.4)) as usize;
        let one = |level: usize, dice: &mut Pcg| {
            let (place, x) = (order[level], level as f64 / (self.count - 1) as f64);
            let (across, down) = (20.0 * (place % columns) as f64, 20.0 * (place / columns) as f64);
            let drift = self.slope * (across / (20.0 * columns as f64) - 0.5);
            let value = truth(x) + drift + dice.normal(0.0, self.noise);
            let at = |own: f64| Length::millimetres(own).expect("a length");
            PatchReading {
                input: ToneInput::part(x).expect("an input"),
                lightness: Lightness::l_star(value).expect("a lightness"),
                place: self.placed.then(|| Place { across: at(across), down: at(down) }),
                spread: None,
            }
        };
        (0..self.count).map(|level| one(level, &mut dice)).collect()
    }
}

fn sheet(count: usize, noise: f64, slope: f64, placed: bool) -> Chart {
    Chart { count, noise, slope, placed, seed: 7 }
}

/// Differences to the truth once the ends agree: what a correction would leave.
fn off(response: &Response, truth: impl Fn(f64) -> f64) -> f64 {
    let (black, white) = (truth(0.0), truth(1.0));
    let rows = response.lightness().iter().enumerate().map(|(row, own)| {
        let real = truth(Response::input_of(row));
        let part = (real - black) / (white - black);
        own - real - (1.0 - part) * (response.black() - black) - part * (response.white() - white)
    });
    let (squares, count) = rows.fold((0.0, 0.0), |(sum, count), own| (sum + own * own, count + 1.0));
    libm::sqrt(squares / count)
}

fn fitted(readings: &[PatchReading]) -> ToneFit {
    fit(readings, None).expect("a fit")
}

fn moved(readings: &mut [PatchReading], place: usize, by: f64) {
    let own = &mut readings[place].lightness;
    *own = Lightness::l_star(own.to_l_star() + by).expect("a lightness");
}

#[test]
fn a_clean_chart_is_followed_in_families_it_was_not_made_for() {
    for truth in [two_coats, saturated] {
        let found = fitted(&sheet(31, 0.0, 0.0, true).printed(truth));
        assert!(off(&found.response, truth) < 0.15, "{}", off(&found.response, truth));
        assert!(found.outliers.is_empty() && found.quality.noise < 0.2, "{:?}", found.quality);
        assert!(found.response.lightness().is_sorted());
    }
}

#[test]
fn straight_and_bent_papers_without_noise_are_followed_too() {
    let papers: [fn(f64) -> f64; 4] = [
        |x| 20.0 + 70.0 * x,
        |x| 20.0 + 70.0 * libm::pow(x, 1.5),
        |x| 20.0 + 70.0 * libm::pow(x, 2.2),
        |x| 20.0 + 70.0 * libm::pow(x, 0.7),
    ];
    for (noise, placed) in [(0.0, true), (0.02, true), (0.1, true), (0.1, false)] {
        for paper in papers {
            let found = fitted(&sheet(31, noise, 0.0, placed).printed(paper));
            assert!(off(&found.response, paper) < 0.15 + noise, "{noise} {}", off(&found.response, paper));
            // No meter is so good that nothing is left.
            assert!(found.quality.noise >= 0.05);
        }
    }
}

#[test]
fn drift_over_the_sheet_is_told_from_tone_where_places_are_known() {
    let known = fitted(&sheet(41, 0.2, 6.0, true).printed(two_coats));
    let unknown = fitted(&sheet(41, 0.2, 6.0, false).printed(two_coats));
    assert!(unknown.quality.field.is_none() && unknown.drift.iter().all(|own| *own == 0.0));
    assert!(2.0 * off(&known.response, two_coats) < off(&unknown.response, two_coats));
    assert!(known.quality.expected < unknown.quality.expected);
    // From one side of the sheet to the other it is most of the six L* that are there.
    let span = known.drift.iter().copied().fold(f64::NEG_INFINITY, f64::max)
        - known.drift.iter().copied().fold(f64::INFINITY, f64::min);
    assert!((3.5..7.0).contains(&span), "{span}");
    // What no single sheet can tell stands in the ± of each tone.
    let least = known.response.standard().iter().copied().fold(f64::INFINITY, f64::min);
    assert!(known.quality.sheet_u > 0.5 && least > 0.5 * known.quality.sheet_u, "{:?} {least}", known.quality);
}

#[test]
fn wild_readings_are_left_aside_and_change_little() {
    let chart = sheet(31, 0.3, 1.0, true);
    let clean = chart.printed(two_coats);
    let mut wild = clean.clone();
    for (place, by) in [(6, 6.0), (17, -5.0), (25, 5.0)] {
        moved(&mut wild, place, by);
    }
    let (without, with) = (fitted(&clean), fitted(&wild));
    assert_eq!(with.outliers, [6, 17, 25]);
    assert!(without.outliers.is_empty());
    assert!(off(&with.response, two_coats) < off(&without.response, two_coats) + 0.15);
}

#[test]
fn a_reading_that_is_known_to_be_coarse_counts_less() {
    let mut readings = sheet(21, 0.2, 0.0, false).printed(two_coats);
    moved(&mut readings, 10, 1.5);
    let taken = fitted(&readings);
    readings[10].spread = Some(LightnessSpread::l_star(4.0).expect("a spread"));
    let coarse = fitted(&readings);
    let near_it = |own: &ToneFit| own.response.lightness()[128] - two_coats(0.5);
    assert!(near_it(&coarse).abs() < near_it(&taken).abs(), "{} {}", near_it(&coarse), near_it(&taken));
    assert!(coarse.outliers.is_empty(), "{:?}", coarse.outliers);
}

#[test]
fn the_same_readings_give_the_same_bits() {
    let readings = sheet(31, 0.3, 2.0, true).printed(two_coats);
    assert_eq!(fitted(&readings), fitted(&readings));
    // And in another order the same curve, but for rounding.
    let mut turned = readings.clone();
    turned.reverse();
    for (a, b) in fitted(&readings).response.lightness().iter().zip(fitted(&turned).response.lightness()) {
        near(*a, *b, 0.01);
    }
}

#[test]
fn an_earlier_fit_helps_a_later_sheet_with_few_patches() {
    let earlier = fitted(&sheet(96, 0.3, 1.0, true).printed(two_coats));
    // A day later everything comes a little darker, by the power of the input.
    let later = |x: f64| two_coats(libm::pow(x, 1.05));
    let few = Chart { seed: 11, ..sheet(9, 0.3, 1.0, true) }.printed(later);
    let alone = fitted(&few);
    let with = fit(&few, Some(&earlier.memory)).expect("a fit");
    assert_eq!((alone.prior, with.prior), (PriorUse::None, PriorUse::Used));
    assert!(off(&with.response, later) < off(&alone.response, later));
    assert!(off(&with.response, later) < off(&earlier.response, later));
    assert!(with.quality.expected < alone.quality.expected);
    // What was written down and read back is the same.
    let read = Memory::new(earlier.memory.values().to_vec(), earlier.memory.covariance().to_vec());
    assert_eq!(read.as_ref(), Some(&earlier.memory));
    assert_eq!(Memory::new(vec![0.0; 3], Vec::new()), None);
}

#[test]
fn an_earlier_fit_of_another_set_up_is_contradicted() {
    let earlier = fitted(&sheet(96, 0.3, 1.0, true).printed(saturated));
    let readings = sheet(31, 0.3, 1.0, true).printed(two_coats);
    let with = fit(&readings, Some(&earlier.memory)).expect("a fit");
    assert_eq!(with.prior, PriorUse::Contradicted);
    assert_eq!(with.response, fitted(&readings).response);
}

#[test]
fn readings_without_a_response_are_refused() {
    let flat = sheet(21, 0.1, 0.0, true).printed(|_| 50.0);
    assert!(matches!(fit(&flat, None), Err(ToneError::NoTones { .. })));
    let turned = sheet(21, 0.1, 0.0, true).printed(|x| two_coats(1.0 - x));
    assert_eq!(fit(&turned, None), Err(ToneError::Upside));
    let few = sheet(4, 0.1, 0.0, true).printed(two_coats);
    assert_eq!(fit(&few, None), Err(ToneError::TooFewInputs { found: 4, least: 5 }));
    let dark: Vec<PatchReading> = sheet(31, 0.1, 0.0, true).printed(two_coats).into_iter().take(20).collect();
    assert!(matches!(fit(&dark, None), Err(ToneError::EndsMissing { .. })));
}

#[test]
fn the_shift_of_an_end_stands_by_itself_and_a_chart_without_the_curve_is_told() {
    let chart = sheet(31, 0.2, 0.0, true);
    let read = fitted(&chart.printed(two_coats));
    let correction = Correction::of(&read, Target::Lightness).expect("a correction");
    let sent = |tone: f64| correction.send(ToneInput::part(tone).expect("a tone")).to_part();
    let second = Chart { seed: 11, ..sheet(31, 0.2, 0.0, true) };
    // The second print is darker all over by 1.5 L*, which moves no tone against another.
    let through = verify(&second.printed(|tone| two_coats(sent(tone)) - 1.5), &correction, &read.memory);
    let through = through.expect("a print");
    assert!(through.within_noise() && !through.without_curve, "{} {}", through.rms, through.noise);
    for end in [through.black, through.white] {
        near(end.shift, -1.5, 0.6);
        assert!(end.standard > 0.05 && (end.shift + 1.5).abs() < 3.0 * end.standard, "{end:?}");
    }
    let (first, last) = (through.left.first().expect("rows"), through.left.last().expect("rows"));
    assert!(first.off.abs() < 1e-9 && last.off.abs() < 1e-9);
    // The same chart once more, as it was sent the first time.
    let without = verify(&second.printed(two_coats), &correction, &read.memory).expect("a print");
    assert!(without.without_curve && without.rms > 3.0, "{}", without.rms);
    // Another paper through the curve is wrong too, and no chart without it.
    let other = verify(&second.printed(|tone| saturated(sent(tone))), &correction, &read.memory).expect("a print");
    assert!(!other.without_curve && !other.within_noise(), "{}", other.rms);
}

#[test]
fn an_exact_print_through_an_exact_curve_leaves_nothing() {
    let chart = sheet(41, 0.0, 0.0, true);
    let first = fitted(&chart.printed(two_coats));
    let curve = Correction::of(&first, Target::Lightness).expect("a curve");
    let sent = |tone: f64| curve.send(ToneInput::part(tone).expect("a tone")).to_part();
    let print = chart.printed(|tone| two_coats(sent(tone)));
    let checked = verify(&print, &curve, &first.memory).expect("a print");
    assert!(checked.rms < 0.05 && checked.within_noise(), "{} {}", checked.rms, checked.noise);
    // More patches on another day never make things worse, and what is expected of them is no better than what is known today.
    let inputs: Vec<ToneInput> =
        [0.0, 0.2, 0.4, 0.6, 0.8, 1.0].into_iter().map(|own| ToneInput::part(own).expect("an input")).collect();
    assert!(first.expected_after(&[]) > first.quality.expected);
    assert!(first.expected_after(&inputs) < first.expected_after(&[]));
}

#[test]
fn an_end_whose_only_reading_is_left_aside_is_known_no_better_than_the_rest_tells() {
    let clean = sheet(31, 0.3, 1.0, true).printed(two_coats);
    let plain = fitted(&clean);
    // Outward: the paper may do what the reading says, so the band reaches it. Inward it may stand still, and no response falls.
    for (place, by, least) in [(30, 9.0, 4.0), (0, -9.0, 4.0), (30, -9.0, 0.6), (0, 9.0, 0.46)] {
        let mut wild = clean.clone();
        moved(&mut wild, place, by);
        let found = fitted(&wild);
        assert_eq!(found.outliers, [place]);
        let row = if place == 0 { 0 } else { 256 };
        let (own, was) = (found.response.standard()[row], plain.response.standard()[row]);
        let without: Vec<PatchReading> =
            wild.iter().enumerate().filter(|own| own.0 != place).map(|own| *own.1).collect();
        let bare = fitted(&without).response.standard()[row];
        assert!(own > least && own > was && own > 0.97 * bare, "{place} {by}: {own}, {was}, {bare}");
        let light = found.response.lightness()[row];
        assert!((light - two_coats(row as f64 / 256.0)).abs() < 2.0 * own);
        if by.abs() > 0.0 && (by > 0.0) == (place == 30) {
            let read = wild[place].lightness.to_l_star();
            assert!((light - read).abs() < 2.0 * own + 1.0, "{light} ± {own} reaches {read}");
            assert!(found.quality.expected > 3.0 * plain.quality.expected);
            // Of the tones between the ends no less is known.
            near(found.response.standard()[128], plain.response.standard()[128], 0.05);
            let curve = |of: &ToneFit| Correction::of(of, Target::Lightness).expect("a correction");
            assert!(curve(&found).expected_rms() > 3.0 * curve(&plain).expected_rms());
        }
    }
    // An end that was read twice is read.
    let mut twice = clean.clone();
    twice.push(PatchReading { place: None, ..clean[30] });
    moved(&mut twice, 30, 9.0);
    let found = fitted(&twice);
    assert_eq!(found.outliers, [30]);
    assert!(found.response.standard()[256] < 0.8, "{}", found.response.standard()[256]);
}

#[test]
fn a_chart_is_told_from_another_by_its_readings() {
    let one = sheet(21, 0.3, 1.0, true).printed(two_coats);
    let other = Chart { seed: 11, ..sheet(21, 0.3, 1.0, true) }.printed(two_coats);
    let mut more = one.clone();
    more.extend(other.iter().take(5));
    let part: Vec<PatchReading> = one.iter().rev().take(9).copied().collect();
    for same in [&one, &more, &part] {
        assert!(same_readings(&one, same) && same_readings(same, &one) && same_print(same, &one));
    }
    assert!(!same_readings(&one, &other) && !same_print(&one, &other) && !same_readings(&one, &[]));
    let moved_place = |own: &PatchReading| PatchReading { place: other[0].place, ..*own };
    assert!(!same_readings(&one, &one.iter().map(moved_place).collect::<Vec<_>>()));
    // Nobody knows the places, or other inputs were sent: the print is the same.
    assert!(same_readings(&one, &one.iter().map(|own| PatchReading { place: None, ..*own }).collect::<Vec<_>>()));
    let sent = |own: &PatchReading| PatchReading { input: other[3].input, ..*own };
    let sent: Vec<PatchReading> = one.iter().map(sent).collect();
    assert!(same_print(&one, &sent) && !same_readings(&one, &sent));
    // What stands once does not stand twice.
    assert!(!same_readings(&one, &[one[3], one[3]]));
}
