//! Density, lightness and colour against the values of other libraries and the exact constants of the standards. Tables that a library computed
//! are in `tests/known/colours.csv`, made by the script beside it.

use handcoat_craft::colour::{
    Lab, Srgb8, White, Xyz, density, lightness, relative_luminance, srgb8_to_light, uncertain_lightness,
};
use handcoat_craft::measure::{Bounded, Lightness, PrintDensity, Uncertain};
use handcoat_craft::source::{Citation, Status};

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

const COLOURS: &str = include_str!("../../../../tests/known/colours.csv");

/// The words of each row of a name; there are as many as said.
fn rows(name: &str, count: usize) -> Vec<Vec<&'static str>> {
    let found: Vec<Vec<&str>> = COLOURS
        .lines()
        .filter_map(|line| line.split_once(',').filter(|(own, _)| *own == name))
        .map(|(_, words)| words.split(',').collect())
        .collect();
    assert_eq!(found.len(), count, "{name}");
    found
}

fn numbers(words: &[&str]) -> Vec<f64> {
    words.iter().map(|own| own.parse().expect("a number")).collect()
}

fn lab([l_star, a_star, b_star]: [f64; 3]) -> Lab {
    Lab { l_star, a_star, b_star }
}

/// colour-science, every twentieth of a density.
#[test]
fn densities_have_the_lightness_that_a_library_computes() {
    for row in rows("lightness", 85) {
        let row = numbers(&row);
        near(lightness(of(row[0])).to_l_star(), row[1], 1e-9);
    }
}

/// colour-science, beside each of four whites, of which three are called D50 by somebody; and back.
#[test]
fn surfaces_have_the_colour_that_a_library_computes() {
    let whites = [
        ("icc-d50", White::IccD50),
        ("chromaticity-d50", White::ChromaticityD50),
        ("tabulated-d50", White::TabulatedD50),
        ("chromaticity-d65", White::ChromaticityD65),
    ];
    for row in rows("lab", 76) {
        let (_, white) = whites.iter().find(|(name, _)| *name == row[0]).expect("a white");
        let own = numbers(&row[1..]);
        let xyz = Xyz { x: own[0], y: own[1], z: own[2] };
        let found = xyz.to_lab(*white);
        for (found, expected) in [found.l_star, found.a_star, found.b_star].into_iter().zip(&own[3..]) {
            near(found, *expected, 1e-9);
        }
        let back = found.to_xyz(*white);
        for (found, expected) in [back.x, back.y, back.z].into_iter().zip(&own[..3]) {
            near(found, *expected, 1e-12);
        }
    }
    // The three are different whites: one paper is 0.03 of b* apart.
    let paper = Xyz { x: 0.80, y: 0.83, z: 0.66 };
    let blues = [White::IccD50, White::ChromaticityD50, White::TabulatedD50].map(|white| paper.to_lab(white).b_star);
    assert!((blues[0] - blues[1]).abs() > 0.01 && (blues[0] - blues[2]).abs() > 0.02, "{blues:?}");
}

type Pair = ([f64; 3], [f64; 3], f64);

/// Sharma, Wu and Dalal 2005, table 1, as bundled with a library; printed to four places. Pairs 9 to 15 stand on either side of the
/// hue's turn.
const SHARMA: [Pair; 34] = [
    ([50.0, 2.6772, -79.7751], [50.0, 0.0, -82.7485], 2.0425),
    ([50.0, 3.1571, -77.2803], [50.0, 0.0, -82.7485], 2.8615),
    ([50.0, 2.8361, -74.02], [50.0, 0.0, -82.7485], 3.4412),
    ([50.0, -1.3802, -84.2814], [50.0, 0.0, -82.7485], 1.0),
    ([50.0, -1.1848, -84.8006], [50.0, 0.0, -82.7485], 1.0),
    ([50.0, -0.9009, -85.5211], [50.0, 0.0, -82.7485], 1.0),
    ([50.0, 0.0, 0.0], [50.0, -1.0, 2.0], 2.3669),
    ([50.0, -1.0, 2.0], [50.0, 0.0, 0.0], 2.3669),
    ([50.0, 2.49, -0.001], [50.0, -2.49, 0.0009], 7.1792),
    ([50.0, 2.49, -0.001], [50.0, -2.49, 0.001], 7.1792),
    ([50.0, 2.49, -0.001], [50.0, -2.49, 0.0011], 7.2195),
    ([50.0, 2.49, -0.001], [50.0, -2.49, 0.0012], 7.2195),
    ([50.0, -0.001, 2.49], [50.0, 0.0009, -2.49], 4.8045),
    ([50.0, -0.001, 2.49], [50.0, 0.001, -2.49], 4.8045),
    ([50.0, -0.001, 2.49], [50.0, 0.0011, -2.49], 4.7461),
    ([50.0, 2.5, 0.0], [50.0, 0.0, -2.5], 4.3065),
    ([50.0, 2.5, 0.0], [73.0, 25.0, -18.0], 27.1492),
    ([50.0, 2.5, 0.0], [61.0, -5.0, 29.0], 22.8977),
    ([50.0, 2.5, 0.0], [56.0, -27.0, -3.0], 31.903),
    ([50.0, 2.5, 0.0], [58.0, 24.0, 15.0], 19.4535),
    ([50.0, 2.5, 0.0], [50.0, 3.1736, 0.5854], 1.0),
    ([50.0, 2.5, 0.0], [50.0, 3.2972, 0.0], 1.0),
    ([50.0, 2.5, 0.0], [50.0, 1.8634, 0.5757], 1.0),
    ([50.0, 2.5, 0.0], [50.0, 3.2592, 0.335], 1.0),
    ([60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387], 1.2644),
    ([63.0109, -31.0961, -5.8663], [62.8187, -29.7946, -4.0864], 1.263),
    ([61.2901, 3.7196, -5.3901], [61.4292, 2.248, -4.962], 1.8731),
    ([35.0831, -44.1164, 3.7933], [35.0232, -40.0716, 1.5901], 1.8645),
    ([22.7233, 20.0904, -46.694], [23.0331, 14.973, -42.5619], 2.0373),
    ([36.4612, 47.858, 18.3852], [36.2715, 50.5065, 21.2231], 1.4146),
    ([90.8027, -2.0831, 1.441], [91.1528, -1.6435, 0.0447], 1.4441),
    ([90.9257, -0.5406, -0.9208], [88.6381, -0.8985, -0.7239], 1.5381),
    ([6.7747, -0.2908, -2.4247], [5.8714, -0.0985, -2.2286], 0.6377),
    ([2.0776, 0.0795, -1.135], [0.9033, -0.0636, -0.5514], 0.9082),
];

#[test]
fn differences_of_2000_are_those_that_were_published() {
    const CITE: Citation = Citation::second_hand("sharma2005", "table 1");
    assert_eq!(CITE.status, Status::SeenSecondHand);
    for (one, other, difference) in SHARMA {
        near(lab(one).difference_2000(lab(other)), difference, 5.1e-5);
        near(lab(other).difference_2000(lab(one)), difference, 5.1e-5);
    }
}

/// colour-science, which agrees with scikit-image to 1e-9 on these.
#[test]
fn differences_are_those_that_two_libraries_compute() {
    for row in rows("difference", 100) {
        let row = numbers(&row);
        let (one, other) = (lab([row[0], row[1], row[2]]), lab([row[3], row[4], row[5]]));
        near(one.difference_1976(other), row[6], 1e-9);
        near(one.difference_2000(other), row[7], 1e-8);
    }
}

/// colour-science. Codes 10 and 11 stand on either side of the junction.
#[test]
fn codes_have_the_light_that_a_library_computes() {
    for row in rows("light", 256) {
        let row = numbers(&row);
        near(srgb8_to_light(row[0] as u8), row[1], 1e-12);
    }
    // A scan's 128 taken for a reflectance is no density: that of its light is.
    near(-libm::log10(srgb8_to_light(128)), 0.6658, 5e-5);
}

/// lcms through Pillow, with its own sRGB, to a code of 8 bits.
#[test]
fn codes_have_the_colour_of_the_connection_space() {
    for row in rows("icc", 26) {
        let own = numbers(&row);
        let codes = Srgb8 { red: own[0] as u8, green: own[1] as u8, blue: own[2] as u8 };
        let found = codes.to_icc().to_lab(White::IccD50);
        for (found, expected) in
            [found.l_star * 2.55, found.a_star + 128.0, found.b_star + 128.0].into_iter().zip(&own[3..])
        {
            near(found, *expected, 1.0);
        }
    }
    let white = Srgb8 { red: 255, green: 255, blue: 255 }.to_icc().to_lab(White::IccD50);
    near(white.difference_1976(lab([100.0, 0.0, 0.0])), 0.0, 1e-6);
}

/// Little CMS 2.19 through Pillow 13.0.0, sRGB to L*a*b* of D50, relative colorimetric, in 8 bits: a code of those is up to 0.2 L* or half an a*
/// off, which comes to two codes of sRGB on the way back.
const SRGB_AND_LAB_8: [([u8; 3], [u8; 3]); 4] = [
    ([64, 64, 64], [69, 128, 128]),
    ([128, 128, 128], [137, 128, 128]),
    ([200, 180, 160], [190, 133, 141]),
    ([60, 50, 40], [55, 131, 136]),
];

#[test]
fn lab_comes_back_to_the_srgb_it_was() {
    for (srgb, [l, a, b]) in SRGB_AND_LAB_8 {
        let axis = |own: u8| f64::from(own) - 128.0;
        let lab = Lab { l_star: f64::from(l) / 2.55, a_star: axis(a), b_star: axis(b) };
        let Srgb8 { red, green, blue } = Srgb8::of_lab(lab);
        for (own, other) in [red, green, blue].into_iter().zip(srgb) {
            assert!(own.abs_diff(other) <= 2, "{lab:?} comes to {red}, {green}, {blue} and was {srgb:?}");
        }
    }
    for code in 0..=u8::MAX {
        let own = Srgb8 { red: code, green: 255 - code, blue: code / 2 };
        assert_eq!(Srgb8::of_lab(own.to_icc().to_lab(White::IccD50)), own, "there and back is not where it was");
    }
    let beyond = Srgb8::of_lab(Lab { l_star: 120.0, a_star: 0.0, b_star: 100.0 });
    assert_eq!((beyond.red, Srgb8::of_lab(Lab { l_star: -5.0, a_star: 0.0, b_star: 0.0 }).red), (255, 0));
}
