//! JSON of the station *session*. Times count in seconds from the beginning; `…_at` is the clock on the wall.

use handcoat_craft::measure::Span;
use handcoat_craft::session::{BoundBy, Judged, Resource, Task};
use handcoat_work::session::{
    PrintStand, SessionLine, SessionPlan, SessionView, TimerView, bound_words, steps_by_hand,
};
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

fn stand(view: &SessionView, own: &PrintStand) -> Value {
    let pours: Vec<Value> = (own.pours.iter())
        .map(|pour| json!({ "bottle": pour.name, "drops": pour.drops, "more": pour.more, "volume": pour.volume }))
        .collect();
    json!({
        "print": own.place + 1,
        "title": own.title,
        "noted": own.seen,
        "step": own.step.map(|step| step.word()),
        "which": own.step.and_then(|step| step.which()),
        "in_hand": own.in_hand,
        "due_s": own.step.map(|_| own.due.to_seconds()),
        "due_at": own.step.map(|_| view.clock(own.due)),
        "span_s": own.step.map(|_| own.span.to_seconds()),
        "hand": own.hand,
        "then": own.then.map(|step| step.word()),
        "pours": pours,
        "spoiled": own.spoiled,
        "sheets_given_up": own.given_up,
        "recorded_as": own.recorded,
    })
}

/// A session as it stands.
pub(crate) fn session(view: &SessionView, caution: Option<&str>) -> Value {
    let turn: Vec<usize> = view.in_turn(None).iter().map(|own| own.place + 1).collect();
    json!({
        "session": view.number,
        "begun": view.begun.to_string(),
        "ended": view.ended,
        "now_s": view.now.to_seconds(),
        "now_at": view.clock(view.now),
        "in_turn": turn,
        "caution": caution,
        "prints": view.prints.iter().map(|own| stand(view, own)).collect::<Vec<_>>(),
    })
}

/// Sessions in a list.
pub(crate) fn sessions(all: &[SessionLine]) -> Value {
    let line = |own: &SessionLine| json!({ "session": own.number, "begun": own.begun.to_string(), "ended": own.ended, "prints": own.titles, "over": own.over });
    json!({ "sessions": all.iter().map(line).collect::<Vec<_>>() })
}

/// Running timers.
pub(crate) fn timers(all: &[TimerView]) -> Value {
    let one = |own: &TimerView| {
        let judged = match own.left.judged {
            Judged::ByBoot => "start_of_machine",
            Judged::ByWallAfterRestart => "wall_after_restart",
            Judged::ByWallOnly => "wall",
        };
        json!({
            "timer": own.number,
            "session": own.session,
            "name": own.name,
            "span_s": own.span.to_seconds(),
            "ran_s": own.left.ran.to_seconds(),
            "left_s": own.left.left.to_seconds(),
            "over_s": own.left.over.to_seconds(),
            "judged_by": judged,
        })
    };
    json!({ "timers": all.iter().map(one).collect::<Vec<_>>() })
}
