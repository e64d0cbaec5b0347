//! A session plan in words, once for every door.

use handcoat_craft::measure::Span;
use handcoat_craft::session::{BoundBy, Resource, Step};
use handcoat_figures::{TimelineBar, TimelineRow};

use super::{HandStep, SessionPlan};

/// A length of time as people say it: `2 h 5 min`, `12 min`, `90 s`.
#[must_use]
pub fn duration(span: Span) -> String {
    let seconds = (span.to_milliseconds() + 500) / 1000;
    let (hours, minutes, rest) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    match (hours, minutes, rest) {
        (0, 0, rest) => format!("{rest} s"),
        (0, minutes, 0) => format!("{minutes} min"),
        (0, minutes, rest) => format!("{minutes} min {rest} s"),
        (hours, 0, _) => format!("{hours} h"),
        (hours, minutes, _) => format!("{hours} h {minutes} min"),
    }
}

fn counted(count: usize, one: &str, many: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {many}") }
}

/// Why it cannot be shorter.
#[must_use]
pub fn bound_words(plan: &SessionPlan) -> String {
    let busy = duration(plan.bound.busy);
    match plan.bound.by {
        BoundBy::Print(print) => format!("{} takes that long by itself", plan.name(print)),
        BoundBy::Busy(resource) => {
            let count = plan.means.of(resource);
            let what = match (resource, count) {
                (Resource::Hand, 1) => String::from("the one who works has hands full for"),
                (Resource::Hand, _) => String::from("those who work have hands full for"),
                (resource, 1) => format!("the {resource} is busy for"),
                (Resource::Clearing(bath), _) => format!("the trays of clearing bath {bath} are busy for"),
                (Resource::Wash, _) => String::from("the places in the wash are busy for"),
                (resource, _) => format!("the {resource}s are busy for"),
            };
            format!("{what} {busy} of it, and something must go before and come after")
        }
    }
}

/// The plan in a few sentences.
#[must_use]
pub fn summary(plan: &SessionPlan) -> Vec<String> {
    let total = plan.schedule.total();
    let over = (plan.ratio_to_bound() - 1.0) * 100.0;
    let mut out = vec![format!(
        "{} and {}, from {} to {}: {}.",
        counted(plan.sheets.len(), "print", "prints"),
        counted(plan.means.people.into(), "person", "people"),
        plan.start.after(Span::ZERO),
        plan.start.after(total),
        duration(total)
    )];
    if plan.sheets.len() > 1 {
        out.push(format!("One print after the other would take {}.", duration(plan.one_at_a_time)));
    }
    let reason = bound_words(plan);
    out.push(if over < 0.5 {
        format!("No plan can be shorter: {reason}.")
    } else {
        format!(
            "No plan can be shorter than {}: {reason}. This one is {over:.0} % longer than that.",
            duration(plan.bound.span)
        )
    });
    if !plan.assumed.is_empty() {
        let spans: Vec<String> =
            plan.assumed.iter().map(|(word, span)| format!("{word} {}", duration(*span))).collect();
        out.push(format!("Not said, and taken as usual: {}.", spans.join(", ")));
    }
    out
}

/// What a hand does, and until when; an exposure goes with the frame that is loaded for it.
pub(super) fn step_words(plan: &SessionPlan, own: &HandStep) -> (String, String) {
    let until = plan.start.after(own.due);
    let words = own.step.instruction();
    if own.step != Step::Load {
        return (words, until);
    }
    let exposure = plan.schedule.tasks.iter().find(|task| task.print == own.print && task.step == Step::Expose);
    match exposure {
        Some(task) => {
            let span = plan.sheets.get(own.print).map_or(Span::ZERO, |sheet| sheet.spans.expose);
            let begins = plan.start.after(task.begins);
            (format!("{words}; at {begins} under the lamp for {}", span.clock()), plan.start.after(task.due))
        }
        None => (words, until),
    }
}

/// For each hand what it does, in order: when, which print, what, until when.
#[must_use]
pub fn steps_by_hand(plan: &SessionPlan) -> Vec<(u16, Vec<[String; 4]>)> {
    let steps = plan.hand_steps();
    let hands = steps.iter().map(|own| own.hand).max().unwrap_or(0);
    let of = |hand: u16| {
        let own = steps.iter().filter(move |own| own.hand == hand);
        let row = |own: &HandStep| {
            let (what, until) = step_words(plan, own);
            [plan.start.after(own.at), plan.name(own.print).into(), what, until]
        };
        own.map(row).collect()
    };
    (1..=hands).map(|hand| (hand, of(hand))).collect()
}

/// The rows of the timeline.
#[must_use]
pub fn timeline_rows(plan: &SessionPlan) -> Vec<TimelineRow> {
    let bars = |print: usize| {
        let own = plan.schedule.tasks.iter().filter(move |task| task.print == print);
        own.map(|task| TimelineBar { step: task.step, begins: task.begins, ends: task.ends }).collect()
    };
    let row = |(print, name): (usize, &String)| TimelineRow { name: name.clone(), bars: bars(print) };
    plan.sheets.iter().map(|sheet| &sheet.name).enumerate().map(row).collect()
}
