//! A stock plan: answers left, the sheet that follows right. The address is the plan.

use handcoat_craft::ledger::ItemKind;
use handcoat_craft::measure::{Mass, significant};
use handcoat_craft::stock::{WayOut, prepared};
use handcoat_work::shelf::{ItemView, shelf};
use handcoat_work::stock::{
    AnyPlan, Planned, SheetFacts, any_sheet, plan_any, solution_title, solution_weigh_rows, title, weigh_rows,
};
use handcoat_work::{Day, Refusal};
use maud::{Markup, html};

use super::plan_asks::{FIRST, GOAL, JAR, SOLUTION, WEIGHED, WORK, answers};
use super::receive::folded;
use crate::web::fields::Fields;
use crate::web::form::{Ask, Asked};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{frame, stock};

/// Answers that say how much, how strong and what was weighed: a way on has its own.
const SAYS_HOW_MUCH: [&str; 14] = [
    "make",
    "percent_complex",
    "molarity",
    "salt_per_100ml",
    "metal_per_ml",
    "salt_mass",
    "budget",
    "chloride_ratio",
    "chloride_mass",
    "weighed",
    "chloride_weighed",
    "mixed",
    "added",
    "act",
];

/// `GET /stock/plan`
pub(in crate::web) fn page(visit: &Visit) -> Answer {
    let (jars, scale) = {
        let studio = visit.studio();
        (shelf(&studio, visit.now())?, studio.settings()?.balance)
    };
    let fields = with_scale(&visit.fields, scale.as_deref());
    // Nothing asked is nothing refused.
    let planned = (!visit.fields.is_empty()).then(|| plan_any(&answers(&fields)));
    let refusal = planned.as_ref().and_then(|planned| planned.as_ref().err());
    let sound = planned.as_ref().and_then(|planned| planned.as_ref().ok());
    let asked = Asked { form: "plan", fields: &fields, refusal };
    let every: Vec<Ask<'_>> = [FIRST, GOAL, SOLUTION, JAR, WORK, WEIGHED].concat();
    let body = html! {
        (frame::title("Plan a stock", "From the powder to a bottle of known strength. Change any answer; the sheet follows."))
        div.two {
            form method="get" action="/stock/plan#sheet" data-follow {
                (jar_links(&jars, &fields))
                (asked.all(FIRST))
                (folded(&asked, "How much, how strong", GOAL))
                (folded(&asked, "Iron, developer, clearing bath, chlorate", SOLUTION))
                (folded(&asked, "What the jar says", JAR))
                (folded(&asked, "Chloride, glass, rinses", WORK))
                (folded(&asked, "What was really weighed", WEIGHED))
                p.actions { button type="submit" { "Work it out" } }
            }
            div {
                h2.unseen #sheet { "The sheet" }
                p.unseen #status role="status" aria-live="polite" data-live { (status(sound, refusal)) }
                div #trouble data-live { (asked.trouble(&every)) }
                div #result data-live { @if let Some(planned) = sound { (result(planned, &fields)) } @else { (nothing_yet()) } }
            }
        }
    };
    Ok(Reply::page("Plan a stock", "/stock/plan", body).refusing(refusal).with_script("live"))
}

/// The scale of the studio, where this plan says nothing of one.
fn with_scale(fields: &Fields, scale: Option<&str>) -> Fields {
    match scale {
        Some(scale) if fields.get("balance").is_none() => fields.with("balance", Some(scale)),
        _ => fields.clone(),
    }
}

/// The jars that are there and something is made of: one tap fills in what their labels say.
fn jar_links(items: &[ItemView], fields: &Fields) -> Markup {
    let jars: Vec<&ItemView> = items.iter().filter(|item| item.kind != ItemKind::Bottle && is_made_up(item)).collect();
    html! {
        @if !jars.is_empty() {
            p.jars {
                "From the shelf:"
                @for jar in jars {
                    @let said = [("salt", &jar.facts.formula), ("purity", &jar.facts.purity), ("purity_of", &jar.facts.purity_of), ("hydrate", &jar.facts.hydrate)];
                    @let filled = said.iter().fold(fields.clone(), |all, (name, value)| all.with(name, value.as_deref()));
                    " " span.jar { a href=(filled.address("/stock/plan")) { (jar.name) } span.soft { "(" (jar.amount) ")" } }
                }
            }
        }
    }
}

/// A metal salt, or something a studio dissolves.
pub(super) fn is_made_up(item: &ItemView) -> bool {
    item.metal.is_some() || item.formula.as_ref().is_some_and(|formula| prepared(formula).is_some())
}

/// One line for those who hear the page and do not see it.
fn status(planned: Option<&AnyPlan>, refusal: Option<&Refusal>) -> String {
    match (planned, refusal) {
        (Some(planned), _) => {
            let (title, rows) = match planned {
                AnyPlan::Metal(planned) => (title(&planned.plan), weigh_rows(&planned.plan)),
                AnyPlan::Solution(plan) => (solution_title(plan), solution_weigh_rows(plan)),
            };
            let rows: Vec<String> =
                rows.into_iter().take(2).map(|row| format!("{} {} {}", row.label, row.value, row.unit)).collect();
            format!("{title}: {}.", rows.join("; "))
        }
        (None, Some(refusal)) => format!("No plan yet: {}.", refusal.cause),
        (None, None) => String::new(),
    }
}

fn nothing_yet() -> Markup {
    html! {
        div.sheet {
            p.soft { "The sheet stands here as soon as the powder and the volume are known: what to weigh, what it will be, and how sure that is." }
        }
    }
}

fn result(planned: &AnyPlan, fields: &Fields) -> Markup {
    html! {
        @match planned {
            AnyPlan::Metal(planned) => {
                // Who stands at the scale with too much on the pan reads the ways on first.
                @if planned.as_weighed.is_some() { h3.unseen { "As weighed" } }
                (stock::weighed(planned, &|out| taken(planned, out, fields)))
                (stock::sheet(planned))
            }
            AnyPlan::Solution(plan) => { (stock::solution(plan)) }
        }
        p.actions { a.btn.quiet href=(fields.address("/stock/plan/sheet")) { "Bench sheet to print" } }
    }
}

/// The plan of a way on: so much powder and chloride in so much solution, all else as it was. Where water was added and nothing made up
/// there is none, and of a mixed solution the work is done.
fn taken(planned: &Planned, out: &WayOut, fields: &Fields) -> Option<String> {
    let plan = &planned.plan;
    if plan.water_added.is_some() || planned.as_weighed.as_ref()?.weighed.mixed {
        return None;
    }
    let grams = |own: Mass| format!("{}g", significant(own.to_grams(), 7));
    let chloride = plan.request.balance.and_then(|own| out.batch.chloride.to_step(own.step()).ok());
    let chloride = chloride.unwrap_or(out.batch.chloride);
    let asked = fields.pairs().filter(|(name, _)| !SAYS_HOW_MUCH.contains(name));
    let way = Fields::of(&asked.collect::<Vec<_>>())
        .with("salt_mass", Some(&grams(out.batch.salt)))
        .with("make", Some(&format!("{}mL", significant(out.batch.volume.best.to_millilitres(), 5))))
        .with("chloride_mass", (!chloride.is_zero()).then(|| grams(chloride)).as_deref());
    Some(format!("{}#sheet", way.address("/stock/plan")))
}

/// `GET /stock/plan/sheet`
pub(in crate::web) fn sheet(visit: &Visit) -> Answer {
    let settings = visit.studio().settings()?;
    let fields = with_scale(&visit.fields, settings.balance.as_deref());
    let planned = plan_any(&answers(&fields))?;
    let day = Day::of(jiff::ZonedDateTime::now().date());
    // The book is free again: setting a page takes longer than reading one.
    let facts = SheetFacts { studio: settings.studio, day, invented: false };
    Ok(Reply::Sheet { name: "bench-sheet.pdf", bytes: any_sheet(&planned, &facts)? })
}
