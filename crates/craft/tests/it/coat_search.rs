//! The search for whole drops against trying all there is: ten thousand small cases from one seed, counted with whole numbers.

use handcoat_craft::coat::{Asked, Found, OnTopAsked, Part, search};

/// PCG32 (O'Neill 2014), so that the cases are the same on every machine.
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u32 {
        let old = self.0;
        self.0 = old.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let shifted = (((old >> 18) ^ old) >> 27) as u32;
        shifted.rotate_right((old >> 59) as u32)
    }

    fn up_to(&mut self, most: u32) -> u32 {
        self.next() % (most + 1)
    }
}

/// A case: parts as whole numbers of a whole, so that ratios can be compared without rounding.
struct Case {
    asked: Asked,
    weights: Vec<i128>,
    whole: i128,
    /// Allowed error in thousandths.
    error: i128,
    /// Dose in micrograms per mL, rungs in micrograms per mL.
    dose: Option<(i128, Vec<i128>)>,
}

fn case(dice: &mut Dice) -> Case {
    // Two solutions as a rule, sometimes three, as in iron and two metals; four now and then.
    let count = [2, 2, 3, 2, 3, 2, 2, 4][dice.up_to(7) as usize];
    let weights: Vec<i128> = (0..count).map(|_| i128::from(1 + dice.up_to(8))).collect();
    let whole: i128 = weights.iter().sum();
    let drop = |dice: &mut Dice| 30_000 + 5_000 * i64::from(dice.up_to(8));
    let parts = weights.iter().map(|&own| Part { drop_nl: drop(dice), share: own as f64 / whole as f64 }).collect();
    let least_nl = 100_000 + 50_000 * i64::from(dice.up_to(if count > 3 { 6 } else { 12 }));
    let most_nl = least_nl + 25_000 * i64::from(dice.up_to(10));
    let error = i128::from([5, 10, 20, 50, 100, 200][dice.up_to(5) as usize]);
    let dose = (dice.up_to(2) == 0).then(|| {
        let rungs = (0..3).map(|rung| 100_000_i128 >> rung).collect::<Vec<_>>();
        (i128::from(200 + 100 * dice.up_to(90)), rungs)
    });
    let on_top = dose.as_ref().map(|(dose, rungs)| OnTopAsked {
        drop_nl: drop(dice),
        rungs: rungs.iter().map(|&own| own as f64 / 1000.0).collect(),
        dose: *dose as f64 / 1000.0,
    });
    let asked = Asked { parts, on_top, least_nl, most_nl, error: error as f64 / 1000.0 };
    Case { asked, weights, whole, error, dose }
}

/// The error of a part as an exact fraction: |n v whole − total w| / (total w).
fn larger((a, b): (i128, i128), (c, d): (i128, i128)) -> (i128, i128) {
    if a * d >= c * b { (a, b) } else { (c, d) }
}

struct Tried {
    drops: Vec<i64>,
    total: i64,
    on_top: Option<i64>,
    error: (i128, i128),
}

/// All counts of all parts, none left out.
fn all_counts(case: &Case, drops: &mut Vec<i64>, found: &mut Vec<Tried>) {
    let Some(part) = case.asked.parts.get(drops.len()) else {
        let total: i64 = drops.iter().zip(&case.asked.parts).map(|(count, part)| count * part.drop_nl).sum();
        if total < case.asked.least_nl || total > case.asked.most_nl {
            return;
        }
        let mut error = (0, 1);
        for ((count, part), weight) in drops.iter().zip(&case.asked.parts).zip(&case.weights) {
            let (own, wanted) = (i128::from(count * part.drop_nl) * case.whole, i128::from(total) * weight);
            error = larger(error, ((own - wanted).abs(), wanted));
        }
        match (&case.dose, &case.asked.on_top) {
            (Some((dose, rungs)), Some(agent)) => {
                for rung in rungs {
                    for count in 1..=80_i64 {
                        let (own, wanted) = (i128::from(count * agent.drop_nl) * rung, i128::from(total) * dose);
                        let both = larger(error, ((own - wanted).abs(), wanted));
                        found.push(Tried { drops: drops.clone(), total, on_top: Some(count), error: both });
                    }
                }
            }
            _ => found.push(Tried { drops: drops.clone(), total, on_top: None, error }),
        }
        return;
    };
    // No count is left out but those that alone pour too much.
    let poured: i64 = drops.iter().zip(&case.asked.parts).map(|(count, part)| count * part.drop_nl).sum();
    for count in 1..=(case.asked.most_nl - poured).max(0) / part.drop_nl {
        drops.push(count);
        all_counts(case, drops, found);
        drops.pop();
    }
}

fn less((a, b): (i128, i128), (c, d): (i128, i128)) -> std::cmp::Ordering {
    (a * d).cmp(&(c * b))
}

/// The best of all: within the error by amounts, or else the nearest.
fn best(case: &Case) -> Option<(Tried, bool)> {
    let mut all = Vec::new();
    all_counts(case, &mut Vec::new(), &mut all);
    let within = |own: &Tried| own.error.0 * 1000 <= own.error.1 * case.error;
    let amounts = |own: &Tried| (own.total, own.on_top.unwrap_or(0));
    let (inside, outside): (Vec<Tried>, Vec<Tried>) = all.into_iter().partition(within);
    let by_amounts = |one: &Tried, other: &Tried| {
        amounts(one).cmp(&amounts(other)).then(less(one.error, other.error)).then(one.drops.cmp(&other.drops))
    };
    let by_error = |one: &Tried, other: &Tried| {
        less(one.error, other.error).then(amounts(one).cmp(&amounts(other))).then(one.drops.cmp(&other.drops))
    };
    match inside.into_iter().min_by(by_amounts) {
        Some(found) => Some((found, true)),
        None => outside.into_iter().min_by(by_error).map(|found| (found, false)),
    }
}

#[test]
fn the_search_finds_what_trying_everything_finds() {
    let mut dice = Dice(0x000C_0A7E_D000);
    let (mut within, mut nearest, mut none, mut agents) = (0, 0, 0, 0);
    for place in 0..10_000 {
        let case = case(&mut dice);
        let (found, known) = (search(&case.asked), best(&case));
        match (&found, &known) {
            (None, None) => none += 1,
            (Some(found), Some((known, inside))) => {
                check(place, &case, found, known, *inside);
                within += usize::from(*inside);
                nearest += usize::from(!*inside);
                agents += usize::from(known.on_top.is_some());
            }
            other => panic!("case {place}: {:?} against {:?} of {:?}", found, other.1.is_some(), case.asked),
        }
    }
    assert!(within > 2_000 && nearest > 500 && none > 50 && agents > 1_000, "{within} {nearest} {none} {agents}");
}

fn check(place: usize, case: &Case, found: &Found, known: &Tried, inside: bool) {
    let said = || {
        format!("case {place}: {:?} gives {found:?}; all counts give {:?} {:?}", case.asked, known.drops, known.on_top)
    };
    assert_eq!(found.within, inside, "{}", said());
    assert_eq!(found.total_nl, known.total, "{}", said());
    assert_eq!(found.on_top.map(|(_, count)| i64::from(count)), known.on_top, "{}", said());
    let error = known.error.0 as f64 / known.error.1 as f64;
    assert!((found.error - error).abs() < 1e-9, "{}", said());
    assert_eq!(found.drops.iter().map(|&count| i64::from(count)).collect::<Vec<_>>(), known.drops, "{}", said());
}
