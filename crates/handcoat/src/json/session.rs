//! JSON of the station *session*. Times count in seconds from the beginning; `…_at` is the clock on the wall.

use handcoat_craft::measure::Span;
use handcoat_craft::session::{BoundBy, Resource, Task};
use handcoat_work::session::{SessionPlan, bound_words, steps_by_hand};
use serde_json::{Value, json};

fn resource(own: Resource) -> &'static str {
    match own {
        Resource::Hand => "hand",
        Resource::DryingPlace => "drying_place",
        Resource::HumidBox => "humid_place",
        Resource::Frame => "frame",
        Resource::Lamp => "lamp",
        Resource::Developer => "developer_tray",
        Resource::Clearing(1) => "clearing_1_tray",
        Resource::Clearing(2) => "clearing_2_tray",
        Resource::Clearing(_) => "clearing_3_tray",
        Resource::Wash => "wash_place",
    }
}

fn task(plan: &SessionPlan, own: &Task) -> Value {
    let uses: Vec<Value> = (own.uses.iter())
        .map(|used| {
            json!({
                "resource": resource(used.resource),
                "which": used.unit + 1,
                "begins_s": used.begins.to_seconds(),
                "ends_s": used.ends.to_seconds(),
            })
        })
        .collect();
    json!({
        "print": own.print + 1,
        "name": plan.name(own.print),
        "step": own.step.word(),
        "which": own.step.which(),
        "begins_s": own.begins.to_seconds(),
        "due_s": own.due.to_seconds(),
        "ends_s": own.ends.to_seconds(),
        "begins_at": plan.start.after(own.begins),
        "due_at": plan.start.after(own.due),
        "uses": uses,
    })
}

/// A plan.
pub(crate) fn planned(plan: &SessionPlan) -> Value {
    let tasks: Vec<Value> = plan.schedule.tasks.iter().map(|own| task(plan, own)).collect();
    let hands: Vec<Value> = (steps_by_hand(plan).into_iter())
        .map(|(hand, steps)| {
            let steps: Vec<Value> = (steps.into_iter())
                .map(|[at, print, what, until]| json!({ "at": at, "print": print, "what": what, "until": until }))
                .collect();
            json!({ "hand": hand, "steps": steps })
        })
        .collect();
    let (by, busy) = match plan.bound.by {
        BoundBy::Print(_) => ("print", None),
        BoundBy::Busy(own) => (resource(own), Some(plan.bound.busy.to_seconds())),
    };
    let means = &plan.means;
    let assumed: serde_json::Map<String, Value> = plan
        .assumed
        .iter()
        .map(|(word, span)| (format!("{}_s", word.replace(' ', "_")), json!(span.to_seconds())))
        .collect();
    json!({
        "prints": plan.sheets.iter().map(|sheet| &sheet.name).collect::<Vec<_>>(),
        "begins_at": plan.start.after(Span::ZERO),
        "ends_at": plan.start.after(plan.schedule.total()),
        "total_s": plan.schedule.total().to_seconds(),
        "one_at_a_time_s": plan.one_at_a_time.to_seconds(),
        "bound_s": plan.bound.span.to_seconds(),
        "bound_by": by,
        "bound_busy_s": busy,
        "bound_reason": bound_words(plan),
        "ratio_to_bound": plan.ratio_to_bound(),
        "means": {
            "people": means.people,
            "lamps": means.lamps,
            "frames": means.frames,
            "drying_places": means.drying,
            "humid_places": means.humid,
            "developer_trays": means.developer,
            "clearing_trays": means.clearing,
            "wash_places": means.wash,
        },
        "assumed": assumed,
        "tasks": tasks,
        "hands": hands,
    })
}
