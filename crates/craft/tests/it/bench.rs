//! A bench to plan at: the answers most tests share, changed one at a time.

use handcoat_craft::measure::{Mass, MassFraction, Readable, Volume, read_price_per_mass};
use handcoat_craft::stock::{
    AlkaliChloride, Balance, ChlorideChoice, Formula, Goal, Hydrate, MetalSalt, Plan, Powder, Purity, PurityOf,
    Request, Strength, WaterIs, usual_strength,
};

/// A quantity from its text.
pub(crate) fn q<Q: Readable>(text: &str) -> Q {
    Q::read(text).unwrap_or_else(|error| panic!("`{text}`: {error}"))
}

/// A formula from its text.
pub(crate) fn formula(text: &str) -> Formula {
    text.parse().unwrap_or_else(|error| panic!("`{text}`: {error}"))
}

/// A powder of unstated purity.
pub(crate) fn powder(salt: &str) -> Powder {
    Powder::new(MetalSalt::recognise(formula(salt)).expect("a salt"), Hydrate::AsWritten, Purity::Unstated)
        .expect("a powder")
}

/// A powder of stated purity by mass of salt.
pub(crate) fn powder_of(salt: &str, percent: f64) -> Powder {
    let fraction = MassFraction::ratio(percent / 100.0).expect("a purity");
    let purity = Purity::Stated { fraction, of: PurityOf::Salt };
    Powder::new(MetalSalt::recognise(formula(salt)).expect("a salt"), Hydrate::AsWritten, purity).expect("a powder")
}

/// Answers for so much powder made up to so much.
pub(crate) fn into(powder: Powder, mass: &str, volume: &str) -> Request {
    request(powder, Goal::Into(q(volume), q(mass)))
}

/// Answers for a goal, everything else left open.
pub(crate) fn request(powder: Powder, goal: Goal) -> Request {
    Request {
        powder,
        chloride: AlkaliChloride::plain_salt(),
        chloride_named: false,
        chloride_choice: ChlorideChoice::Enough,
        goal,
        water_is: WaterIs::MadeUp,
        balance: None,
        glass: None,
        price: None,
        bottle: None,
        rinses: 2,
        stated_molar_mass: None,
        meets: Vec::new(),
    }
}

pub(crate) trait Change: Sized {
    fn with_chloride(self, formula: &str, mass: &str) -> Self;
    fn on_balance(self, step: &str) -> Self;
    fn at_price(self, price: &str) -> Self;
    fn in_bottle(self, volume: &str) -> Self;
    fn plan(self) -> Plan;
}

impl Change for Request {
    fn with_chloride(self, text: &str, mass: &str) -> Self {
        let chloride = AlkaliChloride::recognise(formula(text)).expect("a chloride");
        Self { chloride, chloride_choice: ChlorideChoice::Mass(q(mass)), ..self }
    }

    fn on_balance(self, step: &str) -> Self {
        Self { balance: Balance::with_step(q(step)), ..self }
    }

    fn at_price(self, price: &str) -> Self {
        Self { price: Some(read_price_per_mass(price).expect("a price")), ..self }
    }

    fn in_bottle(self, volume: &str) -> Self {
        Self { bottle: Some(q(volume)), ..self }
    }

    fn plan(self) -> Plan {
        Plan::make(self).expect("a plan")
    }
}

/// So many mL at the usual strength.
pub(crate) fn usual(powder: Powder, volume: &str) -> Request {
    let strength: Strength = usual_strength(&powder);
    request(powder, Goal::Make(q(volume), strength))
}

/// Mass in g.
pub(crate) fn g(mass: Mass) -> f64 {
    mass.to_grams()
}

/// Volume in mL.
pub(crate) fn ml(volume: Volume) -> f64 {
    volume.to_millilitres()
}

/// Asserts closeness, saying both numbers.
#[track_caller]
pub(crate) fn near(value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{value} is not {expected} ± {tolerance}");
}

/// Whether a plan warns of `code`.
pub(crate) fn warns(plan: &Plan, code: &str) -> bool {
    plan.warnings.iter().any(|warning| warning.code() == code)
}
