//! A coat to plan: the usual solutions, changed one at a time.

use handcoat_craft::coat::{
    Agent, Bottle, ChlorateIron, Coats, Contrast, Iron, MetalStock, OnTop, Plan, Ratio, RatioBy, Request, Role,
    Rounding,
};
use handcoat_craft::measure::{AgentDose, PercentByVolume, Uncertain, Volume, read_price_per_volume};
use handcoat_craft::paper::{Dropper, Margin, Sheet, Tool, UptakeRule};
use handcoat_craft::source::Element;
use handcoat_craft::stock::{Hydrate, Strength, kept_metal, metal_in_solution};

use crate::bench::{formula, q};

/// A dropper of twenty to the millilitre, exactly.
pub(crate) fn twenty() -> Dropper {
    Dropper::stated(q("20drops/mL"))
}

pub(crate) fn bottle(name: &str) -> Bottle {
    Bottle { name: name.into(), dropper: 0, price: None, holds: None }
}

/// Iron(III) oxalate of 27 %, its water not known.
pub(crate) fn iron() -> Iron {
    Iron {
        bottle: bottle("ferric oxalate"),
        solid: formula("Fe2(C2O4)3"),
        hydrate: Hydrate::Unknown,
        percent: q("27%"),
    }
}

/// So many grams of a dry salt to 100 mL.
pub(crate) fn metal(salt: &str, percent: &str) -> MetalStock {
    let (solid, percent) = (formula(salt), q::<PercentByVolume>(percent));
    let hydrate = if solid.waters() > 0.0 { Hydrate::AsWritten } else { Hydrate::Stated(0.0) };
    let strength = metal_in_solution(&solid, hydrate, Strength::SaltPer100Ml(percent)).expect("a form").expect("metal");
    MetalStock {
        bottle: bottle(salt),
        element: kept_metal(&solid).expect("a metal"),
        solid: Some(solid),
        strength: Uncertain::new(strength.best, 0.0),
        water_open: false,
        percent: Some(percent),
    }
}

pub(crate) fn palladium() -> MetalStock {
    metal("Na2PdCl4", "15%")
}

pub(crate) fn platinum() -> MetalStock {
    metal("K2PtCl4", "20%")
}

/// An image with the customary margin, brushed, iron and palladium.
pub(crate) fn coat(image: &str) -> Request {
    Request {
        sheet: Sheet { image: q(image), margin: Margin::Customary },
        uptake: UptakeRule::Habit { tool: Tool::Brush, printing_out: false },
        droppers: vec![twenty()],
        iron: iron(),
        metal: palladium(),
        second: None,
        contrast: None,
        coats: Coats::Single,
        sheets: 1,
        loss: None,
        rounding: Rounding::Plain,
        printing_out: false,
    }
}

pub(crate) trait Coating: Sized {
    fn margin(self, margin: &str) -> Self;
    fn with(self, tool: Tool) -> Self;
    fn uptake(self, uptake: &str) -> Self;
    fn and_platinum(self, first: f64, second: f64, by: RatioBy) -> Self;
    fn on_top(self, agent: Agent, dose: &str) -> Self;
    fn chlorate(self, grams: &str, dose: &str) -> Self;
    fn within(self, error: &str) -> Self;
    fn priced(self, iron: &str, metal: &str) -> Self;
    fn holding(self, iron: &str, metal: &str) -> Self;
    fn plan(self) -> Plan;
}

impl Coating for Request {
    fn margin(mut self, margin: &str) -> Self {
        self.sheet.margin = Margin::Real(q(margin));
        self
    }

    fn with(self, tool: Tool) -> Self {
        Self { uptake: UptakeRule::Habit { tool, printing_out: false }, ..self }
    }

    fn uptake(self, uptake: &str) -> Self {
        Self { uptake: UptakeRule::Stated(q(uptake)), ..self }
    }

    fn and_platinum(self, first: f64, second: f64, by: RatioBy) -> Self {
        Self { second: Some((platinum(), Ratio { first, second, by })), ..self }
    }

    fn on_top(self, agent: Agent, dose: &str) -> Self {
        let on_top = OnTop { rungs: agent.usual_rungs(), agent, bottle: bottle("agent"), platinum: None };
        Self { contrast: Some(Contrast::OnTop(on_top, q::<AgentDose>(dose))), ..self }
    }

    fn chlorate(self, grams: &str, dose: &str) -> Self {
        let iron = ChlorateIron { bottle: bottle("chlorate iron"), chlorate: q(grams) };
        Self { contrast: Some(Contrast::Chlorate(iron, q(dose))), ..self }
    }

    fn within(self, error: &str) -> Self {
        Self { rounding: Rounding::Within(q(error)), ..self }
    }

    fn priced(mut self, iron: &str, metal: &str) -> Self {
        let price = |text: &str| read_price_per_volume(text).ok();
        self.iron.bottle.price = price(iron);
        self.metal.bottle.price = price(metal);
        self
    }

    fn holding(mut self, iron: &str, metal: &str) -> Self {
        self.iron.bottle.holds = Some(q::<Volume>(iron));
        self.metal.bottle.holds = Some(q::<Volume>(metal));
        self
    }

    fn plan(self) -> Plan {
        Plan::make(self).expect("a plan")
    }
}

/// Drops of a role in the last coat.
pub(crate) fn drops(plan: &Plan, role: Role) -> u32 {
    let coat = plan.coats.last().expect("a coat");
    coat.pours.iter().filter(|pour| pour.role == role).map(|pour| pour.drops.to_drops()).sum()
}

/// Milligrams of an element on a sheet, with their standard uncertainty.
pub(crate) fn mg(plan: &Plan, element: Element) -> (f64, f64) {
    let own = plan.metals.iter().find(|own| own.element == element).expect("the metal");
    (own.mass.best.to_grams() * 1000.0, own.mass.standard() * 1000.0)
}

/// Whether a plan warns of `code`.
pub(crate) fn tells(plan: &Plan, code: &str) -> bool {
    plan.warnings.iter().any(|warning| warning.code() == code && !warning.to_string().is_empty())
}
