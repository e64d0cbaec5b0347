//! Density and lightness against the values of another library and the exact constants of the standard.

use handcoat_craft::colour::{density, lightness, relative_luminance, uncertain_lightness};
use handcoat_craft::measure::{Bounded, Lightness, PrintDensity, Uncertain};

use crate::bench::near;

fn of(value: f64) -> PrintDensity {
    PrintDensity::density(value).expect("a density")
}

fn light(value: f64) -> Lightness {
    Lightness::l_star(value).expect("a lightness")
}

/// CIE 1976 L*, Yn = 100: colour-science 0.4.7 (computed); tolerance 1e-8.
const ROWS: [(f64, f64, f64); 20] = [
    (0.0, 1.0, 100.0),
    (0.04, 0.912_010_839_356, 96.492_781_656_6),
    (0.05, 0.891_250_938_134, 95.632_672_662_2),
    (0.1, 0.794_328_234_724, 91.429_772_462_9),
    (0.15, 0.707_945_784_384, 87.385_108_823_5),
    (0.3, 0.501_187_233_627, 76.142_075_228_0),
    (0.45, 0.354_813_389_234, 66.121_710_988_6),
    (0.6, 0.251_188_643_151, 57.191_051_959_7),
    (0.75, 0.177_827_941_004, 49.231_593_722_1),
    (0.9, 0.125_892_541_179, 42.137_719_100_8),
    (1.0, 0.1, 37.842_430_469_9),
    (1.2, 0.063_095_734_448, 30.180_431_784_2),
    (1.35, 0.044_668_359_215, 25.158_353_151_1),
    (1.4, 0.039_810_717_055, 23.608_766_936_5),
    (1.45, 0.035_481_338_923, 22.117_521_672_2),
    (1.5, 0.031_622_776_602, 20.682_420_858_0),
    (1.6, 0.025_118_864_315, 17.972_276_949_7),
    (1.8, 0.015_848_931_925, 13.137_882_605_5),
    (2.0, 0.01, 8.991_442_404_4),
    (2.1, 0.007_943_282_347, 7.175_137_524_7),
];

#[test]
fn densities_have_the_lightness_of_the_table() {
    for (d, y, l) in ROWS.into_iter().chain([(2.5, 0.003_162_277_660, 2.856_473_698_3), (3.0, 0.001, 0.903_296_296_3)])
    {
        near(relative_luminance(of(d)), y, 1e-12);
        near(lightness(of(d)).to_l_star(), l, 1e-8);
        near(density(light(l)).expect("a density").to_density(), d, 1e-9);
    }
}

/// Inverse values of the same library, and where the line meets the cube root: L* = 8 exactly, at D = 2.052740242546.
#[test]
fn lightnesses_have_the_density_of_the_table() {
    const ROWS: [(f64, f64); 9] = [
        (1.0, 2.955_830_229_5),
        (5.0, 2.256_860_225_2),
        (16.0, 1.677_924_032_7),
        (20.0, 1.524_466_465_4),
        (30.0, 1.205_100_472_6),
        (50.0, 0.734_742_161_1),
        (70.0, 0.389_878_614_0),
        (90.0, 0.117_456_371_9),
        (95.0, 0.057_405_031_3),
    ];
    for (l, d) in ROWS {
        near(density(light(l)).expect("a density").to_density(), d, 1e-9);
    }
    near(density(light(8.0)).expect("a density").to_density(), 2.052_740_242_546, 1e-11);
    near(lightness(of(2.052_740_242_546)).to_l_star(), 8.0, 1e-9);
    near(relative_luminance(density(light(50.0)).expect("a density")), 0.184_186_518_512, 1e-11);
    assert!(density(light(0.0)).is_err() && density(light(120.0)).is_err());
}

#[test]
fn every_density_has_a_lightness_and_comes_back() {
    for part in 0..=1000 {
        let d = of(-0.2 + 4.2 * f64::from(part) / 1000.0);
        let l = lightness(d);
        near(density(l).expect("a density").to_density(), d.to_density(), 1e-9);
    }
    near(lightness(of(PrintDensity::LEAST)).to_l_star(), 119.3, 0.1);
}

/// The ± of a lightness is that of its density times the slope, on both legs (finite difference).
#[test]
fn the_uncertainty_follows_the_slope() {
    for d in [0.05, 0.7, 1.45, 2.3] {
        let slope = (lightness(of(d + 1e-5)).to_l_star() - lightness(of(d - 1e-5)).to_l_star()) / 2e-5;
        let own = uncertain_lightness(&Uncertain::new(of(d), 0.02));
        near(own.standard(), slope.abs() * 0.02, 1e-6);
    }
}
