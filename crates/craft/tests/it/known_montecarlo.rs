//! Whole plans against a Monte Carlo of the same model, written out a second time.
//!
//! JCGM 101:2008: draw every input from its distribution, calculate, look at the spread. The model here is plain
//! arithmetic on plain numbers, so a slope lost in the propagation would show. Seeds are fixed.

use handcoat_craft::measure::{Mass, MassFraction};
use handcoat_craft::source::{Citation, Element};
use handcoat_craft::stock::{
    Formula, Hydrate, MetalSalt, Plan, Powder, Purity, PurityOf, Request, RoomTaken, WaterIs, molar_mass, room_taken,
};

use crate::bench::{Change, formula, g, into, ml, powder, powder_of, q};

/// A small random generator: a 64-bit congruence, its high bits shifted and rotated out.
pub(crate) struct Pcg {
    state: u64,
    increment: u64,
}

impl Pcg {
    /// One of many streams, started anywhere.
    fn stream(seed: u64, stream: u64) -> Self {
        let mut pcg = Self { state: 0, increment: (stream << 1) | 1 };
        pcg.next();
        pcg.state = pcg.state.wrapping_add(seed);
        pcg.next();
        pcg
    }

    /// Started at `seed`.
    pub(crate) fn seeded(seed: u64) -> Self {
        Self::stream(seed, 54)
    }

    fn next(&mut self) -> u32 {
        let old = self.state;
        self.state = old.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(self.increment);
        let shifted = (((old >> 18) ^ old) >> 27) as u32;
        shifted.rotate_right((old >> 59) as u32)
    }

    /// Evenly in 0..1, never 0 itself.
    fn unit(&mut self) -> f64 {
        (f64::from(self.next()) + 0.5) / 4_294_967_296.0
    }

    /// Evenly within `half_width` of `middle`.
    pub(crate) fn rectangular(&mut self, middle: f64, half_width: f64) -> f64 {
        middle + half_width * (2.0 * self.unit() - 1.0)
    }

    /// Normally distributed.
    pub(crate) fn normal(&mut self, mean: f64, deviation: f64) -> f64 {
        let (radius, turn) = (self.unit(), self.unit());
        mean + deviation * libm::sqrt(-2.0 * libm::log(radius)) * libm::cos(std::f64::consts::TAU * turn)
    }
}

/// Mean and standard deviation.
pub(crate) fn mean_and_deviation(values: &[f64]) -> (f64, f64) {
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let variance = values.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>() / (count - 1.0);
    (mean, libm::sqrt(variance))
}

/// Half the width of the interval about the middle that holds `part` of the values.
pub(crate) fn half_width(mut values: Vec<f64>, part: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    let at = |quantile: f64| values[(quantile * (values.len() - 1) as f64).round() as usize];
    (at(0.5 + part / 2.0) - at(0.5 - part / 2.0)) / 2.0
}

/// The generator itself, tried before anything is compared with it.
fn the_generator_is_the_published_one() {
    // The first numbers of the demonstration program, seed 42 and stream 54.
    const PUBLISHED: Citation = Citation::memory("oneill2014", "output of the demonstration program");
    let mut random = Pcg::stream(42, 54);
    let first = [0xa15c_02b7_u32, 0x7b47_f409, 0xba1d_3330, 0x83d2_f293, 0xbfa4_784b, 0xcbed_606e];
    assert_eq!(first.map(|_| random.next()), first, "{PUBLISHED}");
}

/// A plan to check: the answers, the tolerance of its glass in mL and the step of its balance in g.
struct Case {
    what: &'static str,
    answers: Request,
    glass_ml: f64,
    step_g: f64,
}

fn case(what: &'static str, answers: Request, glass_ml: f64, step: &str) -> Case {
    Case { what, answers: answers.on_balance(step), glass_ml, step_g: q::<Mass>(step).to_grams() }
}

fn assayed(salt: &str, ratio: f64) -> Powder {
    let fraction = MassFraction::ratio(ratio).expect("an assay");
    let salt = MetalSalt::recognise(formula(salt)).expect("a salt");
    Powder::new(salt, Hydrate::AsWritten, Purity::Stated { fraction, of: PurityOf::Metal }).expect("a powder")
}

/// Plans over balances from 0.1 g to 0.1 mg. The tolerances of the glass are typed again from its table.
fn cases() -> Vec<Case> {
    let usual = || into(powder("PdCl2"), "2.3g", "25mL").with_chloride("NaCl", "2g");
    let added = |answers: Request| Request { water_is: WaterIs::Added, ..answers };
    vec![
        case("a tenth of a gram", usual(), 0.34, "0.1g"),
        case("a hundredth", usual(), 0.34, "0.01g"),
        case("a tenth of a milligram", usual(), 0.34, "0.0001g"),
        case("water added", added(usual()), 0.34, "0.01g"),
        case("much in little", added(into(powder("PdCl2"), "6g", "12mL").with_chloride("KCl", "6g")), 0.34, "0.1g"),
        case(
            "a large batch",
            into(powder_of("PdCl2", 99.0), "9g", "100mL").with_chloride("NH4Cl", "5.8g"),
            1.0,
            "0.1g",
        ),
        case("lithium", into(powder("PdCl2"), "4g", "44mL").with_chloride("LiCl", "2.1g"), 0.5, "0.001g"),
        case("a metal assay", into(assayed("PdCl2", 0.595), "3g", "30mL").with_chloride("NaCl", "2g"), 0.5, "0.05g"),
        case("platinum", into(powder("K2PtCl4"), "5g", "25mL"), 0.34, "0.01g"),
        case("platinum, water added", added(into(powder("(NH4)2PtCl4"), "2g", "8mL")), 0.2, "0.01g"),
        case("own glass", Request { glass: Some(q("0.05mL")), ..usual() }, 0.05, "0.01g"),
    ]
}

/// Atomic weights drawn once for a trial, so that an element is the same wherever it stands.
struct Drawn<'a> {
    random: &'a mut Pcg,
    weights: Vec<(Element, f64)>,
}

impl Drawn<'_> {
    fn weight(&mut self, element: Element) -> f64 {
        if let Some((_, weight)) = self.weights.iter().find(|(own, _)| *own == element) {
            return *weight;
        }
        let weight = self.random.rectangular(element.weight().grams_per_mole, element.weight().bound);
        self.weights.push((element, weight));
        weight
    }

    fn molar_mass(&mut self, formula: &Formula) -> f64 {
        formula.counts().iter().map(|&(element, count)| count * self.weight(element)).sum()
    }
}

/// What one trial comes to.
struct Trial {
    molarity: f64,
    metal: f64,
    ratio: f64,
    volume: f64,
}

fn trial(random: &mut Pcg, plan: &Plan, case: &Case, room: Option<RoomTaken>) -> Trial {
    let mut weigh = |grams: f64| {
        let half_step = case.step_g / 2.0;
        random.rectangular(grams, half_step) - random.rectangular(0.0, half_step)
    };
    let salt = weigh(g(plan.batch.salt));
    let chloride = if plan.batch.chloride.is_zero() { 0.0 } else { weigh(g(plan.batch.chloride)) };
    let poured_ml = ml(plan.water_added.unwrap_or(plan.batch.volume.best));
    let poured = random.rectangular(poured_ml, case.glass_ml);
    let volume = poured + room.map_or(0.0, |room| random.rectangular(room.middle_ml(), room.half_width_ml()));
    let powder = &plan.request.powder;
    let metal = powder.salt().metal().element();
    let mut drawn = Drawn { random, weights: Vec::new() };
    let moles = match powder.purity() {
        Purity::Stated { fraction, of: PurityOf::Metal } => salt * fraction.to_ratio() / drawn.weight(metal),
        Purity::Stated { fraction, .. } => salt * fraction.to_ratio() / drawn.molar_mass(powder.salt().formula()),
        Purity::Unstated => salt / drawn.molar_mass(powder.salt().formula()),
    };
    let molarity = moles / volume * 1000.0;
    let ratio = chloride / drawn.molar_mass(plan.request.chloride.formula()) / moles;
    Trial { molarity, metal: molarity * drawn.weight(metal), ratio, volume }
}

/// Asserts that ours is theirs to 1.5 %; both may be nothing.
#[track_caller]
fn agree(what: &str, which: &str, ours: f64, monte_carlo: f64) {
    assert!((ours - monte_carlo).abs() <= 0.015 * monte_carlo + 1e-15, "{what}, {which}: {ours}, but {monte_carlo}");
}

#[test]
fn plans_agree_with_a_monte_carlo() {
    the_generator_is_the_published_one();
    const TRIALS: usize = 100_000;
    for (place, case) in cases().iter().enumerate() {
        let plan = case.answers.clone().plan();
        let (salt, chloride) = (plan.request.powder.salt(), &plan.request.chloride);
        let room = plan.water_added.map(|_| room_taken(salt, plan.batch.salt, chloride, plan.batch.chloride));
        let mut random = Pcg::seeded(place as u64);
        let trials: Vec<Trial> = (0..TRIALS).map(|_| trial(&mut random, &plan, case, room)).collect();
        let spread = |of: fn(&Trial) -> f64| mean_and_deviation(&trials.iter().map(of).collect::<Vec<_>>());
        let (batch, strengths) = (&plan.batch, &plan.batch.strengths);
        let (mean, deviation) = spread(|trial| trial.molarity);
        let best = strengths.molarity.best.to_moles_per_litre();
        assert!((mean - best).abs() < deviation, "{}: {best}, but {mean}", case.what);
        agree(case.what, "strength", strengths.relative.expect("a balance"), deviation / best);
        agree(case.what, "metal", strengths.metal.standard(), spread(|trial| trial.metal).1);
        agree(case.what, "chloride ratio", batch.chloride_to_metal.standard(), spread(|trial| trial.ratio).1);
        agree(case.what, "volume", batch.volume.standard(), spread(|trial| trial.volume).1);
    }
}

#[test]
fn causes_add_up_in_quadrature() {
    for case in cases() {
        let strengths = case.answers.plan().batch.strengths;
        let whole = libm::sqrt(strengths.causes.iter().map(|(_, own)| own * own).sum());
        let relative = strengths.relative.expect("a balance");
        assert!((whole / relative - 1.0).abs() < 1e-12, "{}: {whole}, but {relative}", case.what);
        assert!(strengths.causes.is_sorted_by(|a, b| a.1 >= b.1), "{}: {:?}", case.what, strengths.causes);
    }
}

#[test]
fn a_molar_mass_agrees_with_a_monte_carlo() {
    for text in ["Li2PdCl4", "Na2PtCl6·6H2O", "(NH4)3Fe(C2O4)3·3H2O"] {
        let (salt, mut random) = (formula(text), Pcg::seeded(7));
        let draw = |_| Drawn { random: &mut random, weights: Vec::new() }.molar_mass(&salt);
        let masses: Vec<f64> = (0..50_000).map(draw).collect();
        agree(text, "molar mass", molar_mass(&salt).standard(), mean_and_deviation(&masses).1);
    }
}
