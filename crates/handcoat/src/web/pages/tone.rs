//! Tone: the responses that are kept, by set-up and with what makes them doubtful; one of them with its curve; which patches come next.

use handcoat_craft::measure::{percent, significant};
use handcoat_craft::tone::Standing;
use handcoat_figures::{PlotWidth, Theme, correction_plot};
use handcoat_work::keep::RecordKind;
use handcoat_work::ledger::acts_on_record;
use handcoat_work::tone::{
    LevelAnswers, NextAnswers, ReportFacts, ResponseView, ScanFacts, chart_levels, curve_csv, curve_link, curve_to_use,
    followed_by, next, next_levels, one_response, outside_name, report, response_profile, responses,
};
use handcoat_work::{Day, Question};
use maud::{Markup, PreEscaped, html};

use super::today::acts_list;
use super::tone_loop::around;
use crate::web::fields::Fields;
use crate::web::form::{Ask, Asked, quantity};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{frame, tone, words};

/// How many of the newest responses are listed.
const MOST: u32 = 40;
const HISTORY: u32 = 12;
/// As it is registered for ICC profiles.
const ICC: &str = "application/vnd.iccprofile";

/// `GET /tone`
pub(in crate::web) fn list(visit: &Visit) -> Answer {
    let all = responses(&visit.studio(), None, MOST, None, visit.now())?;
    let mut setups: Vec<Option<&(u32, String)>> = Vec::new();
    for own in &all {
        let name = own.setup.as_ref();
        if !setups.iter().any(|other| other.map(|own| own.0) == name.map(|own| own.0)) {
            setups.push(name);
        }
    }
    let body = html! {
        (frame::title("Tone", "What this paper prints for each input, and the curve that makes it print what is wanted."))
        (around(visit, &all)?)
        @if all.is_empty() { p.soft { "No response is kept yet." } }
        @for setup in setups {
            section {
                h2 { @match setup { Some((_, name)) => (name), None => "Of no set-up" } }
                ul.shelf {
                    @for own in all.iter().filter(|own| own.setup.as_ref().map(|own| own.0) == setup.map(|own| own.0)) { li.sheet { (entry(&all, own)) } }
                }
            }
        }
    };
    Ok(Reply::page("Tone", "/tone", body))
}

fn entry(all: &[ResponseView], own: &ResponseView) -> Markup {
    let chosen = curve_to_use(all, own.setup.as_ref().map(|own| own.0)) == Some(own.number);
    html! {
        a.name href=(format!("/tone/{}", own.number)) { "Response " (own.number) }
        p.number { "within " b { (significant(own.read.correction.expected_rms(), 2)) } " L*" }
        p.soft { (own.read.rows.len()) " patches, " (words::day(own.at)) ", " (tone::standing_words(own.standing())) }
        @if let Some(next) = followed_by(all, own.number) { p.soft { "Followed by " a href=(format!("/tone/{next}")) { "response " (next) } "." } }
        @if let Some(checked) = &own.checked { p.soft { (words::capitalised(&tone::checked_line(checked))) "." } }
        (tone::doubts(own))
        @if chosen { p.actions { a.btn.quiet href=(negative_with(own.number)) { "Make a negative with it" } } }
    }
}

/// `GET /tone/{number}`
pub(in crate::web) fn show(visit: &Visit) -> Answer {
    let (own, acts) = {
        let studio = visit.studio();
        let own = one_response(&studio, visit.segment(1), visit.now())?;
        let acts = acts_on_record(&studio, RecordKind::Response, own.number, HISTORY)?;
        (own, acts)
    };
    let title = format!("Response {}", own.number);
    let at = format!("/tone/{}", own.number);
    let lead = own.setup.as_ref().map_or("Of no set-up.", |own| own.1.as_str());
    let body = html! {
        (frame::title(&title, lead))
        (tone::doubts(&own))
        @if let Some(checked) = &own.checked { p.note { (words::capitalised(&tone::checked_line(checked))) "." } }
        p.actions {
            @if own.standing() == Standing::Stale {
                a.btn href=(read_anew(&own)) { "Read a new chart, with response " (own.number) " known" }
                a.btn.quiet href=(format!("{at}/curve")) { "The curve, CSV" }
                a.btn.quiet href=(format!("{at}/verify")) { "I printed through it" }
            } @else if own.checked.is_none() {
                a.btn href=(format!("/tone/chart?curve={}", own.number)) { "Make a chart through it" }
                a.btn.quiet href=(format!("{at}/verify")) { "I printed through it" }
                a.btn.quiet href=(format!("{at}/curve")) { "The curve, CSV" }
            } @else {
                a.btn href=(negative_with(own.number)) { "Make a negative with it" }
                a.btn.quiet href=(format!("{at}/curve")) { "The curve, CSV" }
                a.btn.quiet href=(format!("{at}/next")) { "Which patches next?" }
                a.btn.quiet href=(format!("{at}/verify")) { "I printed through it again" }
            }
            a.btn.quiet href=(format!("{at}/report")) { "To print, A4" }
            a.btn.quiet href=(format!("{at}/report?page=letter")) { "Letter" }
        }
        p.why { @if own.standing() == Standing::Stale { "Next: a chart on the set-up as it now is; with this as the earlier response fewer patches say as much." } @else if own.checked.is_none() { "Next: send a chart through the curve, print it on this set-up, read it dry. That print says what the curve is worth." } @else { "Next: negatives through this curve." } }
        @if let Some(scan) = &own.scan { (codes_note(scan)) }
        dl.facts.even {
            dt { "kept" } dd { (words::when(own.at)) }
            @if let Some(follows) = own.follows { dt { "comes from" } dd { "response " (follows) " and a print through it" } }
            @if let Some(ink) = own.ink.as_ref().filter(|own| *own != "none") { dt { "printed in the ink" } dd { (ink) } }
            @if let Some(note) = &own.note { dt { "note" } dd { (note) } }
        }
        p { "For other programs: " a href=(format!("{at}/link")) { "the curve as an ICC device link" } ", " a href=(format!("{at}/profile")) { "what the print is, as a grey ICC profile" } ". " a href=(format!("/negative/proof?curve={}", own.number)) { "See a picture as it would print" } "." }
        h2.unseen { "What it comes to" }
        (tone::found(&own.read))
        (tone::drawn(&own.read))
        @if let Some(scan) = &own.scan { (of_scan(scan)) }
        section { h2 { "What was done with it" } (acts_list(visit, &acts, usize::MAX)) }
    };
    Ok(Reply::page(title, "/tone", body))
}

/// What a scan without a profile leaves open: the tones are as right as what its codes were taken for.
pub(super) fn codes_note(scan: &ScanFacts) -> Markup {
    html! {
        @if scan.profile_sha256.is_none() && scan.codes_by == "srgb" {
            p.note { "Its scan has no profile and was read as sRGB. Where the scanner writes other codes all tones are off together, by far more than what stands below: a step strip beside the print, or the scanner's profile, tells." }
        }
    }
}

/// What is known of the scan its readings come from.
fn of_scan(scan: &ScanFacts) -> Markup {
    html! {
        details.more {
            summary { "The scan it was read from " span.soft { (scan.file) } }
            dl.facts.even {
                @if let Some(ppi) = scan.ppi { dt { "pixels to the inch" } dd { (significant(ppi, 4)) } }
                dt { "lies turned by" } dd { (significant(scan.turn_degrees, 3)) "°" }
                dt { "its codes were taken" } dd { (scan.codes_by) }
                dt { "blur of its edges" } dd { (significant(scan.blur_mm, 2)) " mm" }
                @if let Some(part) = scan.light_fall_part { dt { "the lamp falls off by" } dd { (percent(part)) @if scan.light_evened { ", made even" } } }
                dt { "patches to look at" }
                dd { @if scan.flagged.is_empty() { "none" } @else { @for (place, own) in scan.flagged.iter().enumerate() { @if place > 0 { "; " } (own.patch) ": " (own.flags.join(", ")) } } }
            }
            p.why { "SHA-256 of the file:" }
            p.code { (scan.sha256) }
        }
    }
}

/// Where a negative is made through this curve.
fn negative_with(number: u32) -> String {
    format!("/negative/new?curve={number}")
}

/// Where a chart is read on the same set-up, with this as the earlier response.
fn read_anew(own: &ResponseView) -> String {
    let fields = Fields::default().with("prior", Some(&own.number.to_string()));
    fields.with("setup", own.setup.as_ref().map(|own| own.1.as_str())).address("/tone/new")
}

/// `GET /tone/{number}/curve`
pub(in crate::web) fn curve(visit: &Visit) -> Answer {
    let own = one_response(&visit.studio(), visit.segment(1), visit.now())?;
    Ok(Reply::Table { name: format!("curve-{}.csv", own.number), text: curve_csv(&own.read) })
}

/// `GET /tone/{number}/link`
pub(in crate::web) fn link(visit: &Visit) -> Answer {
    let own = one_response(&visit.studio(), visit.segment(1), visit.now())?;
    let bytes = curve_link(&own.read, &called("Curve", &own)).bytes;
    Ok(Reply::Small { name: format!("curve-{}.icc", own.number), media: ICC, bytes })
}

/// `GET /tone/{number}/profile`
pub(in crate::web) fn profile(visit: &Visit) -> Answer {
    let own = one_response(&visit.studio(), visit.segment(1), visit.now())?;
    let bytes = response_profile(&own.read, &called("Print", &own)).bytes;
    Ok(Reply::Small { name: format!("print-{}.icc", own.number), media: ICC, bytes })
}

fn called(what: &str, own: &ResponseView) -> String {
    outside_name(what, Some(own.number), own.setup.as_ref().map(|own| own.1.as_str()))
}

/// `GET /tone/{number}/report`
pub(in crate::web) fn to_print(visit: &Visit) -> Answer {
    let (own, studio) = {
        let studio = visit.studio();
        (one_response(&studio, visit.segment(1), visit.now())?, studio.settings()?.studio)
    };
    let facts = facts(visit, format!("Response {}", own.number), own.setup.map(|own| own.1), studio);
    Ok(Reply::Sheet { name: "response.pdf", bytes: report(&own.read, &facts)? })
}

/// What a report says beyond the fit.
pub(super) fn facts(visit: &Visit, title: String, setup: Option<String>, studio: Option<String>) -> ReportFacts {
    let day = Day::of_instant(visit.now());
    ReportFacts { title, setup, studio, day, invented: false, paper: visit.fields.answer("page") }
}

const NEXT: &[Ask<'static>] = &[
    quantity(
        "patch",
        Question::PatchSide,
        "How wide is a patch, its border with it?",
        "10mm; each costs its coated paper.",
    ),
    quantity("most", Question::PatchMost, "How many at most?", "12, unless you say otherwise."),
];

/// `GET /tone/{number}/next`
pub(in crate::web) fn which_next(visit: &Visit) -> Answer {
    let own = one_response(&visit.studio(), visit.segment(1), visit.now())?;
    let fields = &visit.fields;
    let answers = NextAnswers { patch: fields.answer("patch"), most: fields.answer("most") };
    let found = next(&answers, &own.read.fit);
    let table = fields.address(&format!("/tone/{}/levels", own.number));
    let refusal = found.as_ref().err();
    let asked = Asked { form: "next", fields, refusal };
    let at = format!("/tone/{}", own.number);
    let body = html! {
        (frame::title("Which patches next?", &format!("Response {}: those that lower the expected error most for the paper coated for them.", own.number)))
        @if own.checked.is_none() {
            p.note { "No print through this curve was read yet; that says more than more patches. " a href=(format!("{at}/verify")) { "I printed through it" } }
        }
        div.two {
            form method="get" action=(format!("{at}/next#sheet")) data-follow {
                (asked.all(NEXT))
                p.actions { button type="submit" { "Say which" } a.btn.quiet href=(at) { "Back to the response" } }
            }
            div {
                h2.unseen #sheet { "The patches" }
                p.unseen #status role="status" aria-live="polite" data-live { @if let Ok(own) = &found { (own.patches.len()) " patches." } }
                div #trouble data-live { (asked.trouble(NEXT)) }
                div #result data-live { @if let Ok(own) = &found { (tone::next(own)) @if !own.patches.is_empty() { p.actions { a.btn.quiet href=(table) { "These patches and their places, CSV" } } } } }
                div.sheet {
                    h3 { "The curve as it stands" }
                    div.drawing { (PreEscaped(correction_plot(&own.read.correction, PlotWidth::Phone, Theme::Page))) }
                }
                p.why { "Read them like a chart, with this as the earlier response." }
            }
        }
    };
    Ok(Reply::page("Which patches next?", "/tone", body).refusing(refusal).with_script("live"))
}

/// `GET /tone/levels`
pub(in crate::web) fn levels(visit: &Visit) -> Answer {
    let fields = &visit.fields;
    let answers =
        LevelAnswers { count: fields.answer("most"), patch: fields.answer("patch"), sheet: fields.answer("sheet") };
    Ok(Reply::Table { name: "chart.csv".into(), text: chart_levels(&answers)? })
}

/// `GET /tone/{number}/levels`
pub(in crate::web) fn next_patches_table(visit: &Visit) -> Answer {
    let own = one_response(&visit.studio(), visit.segment(1), visit.now())?;
    let fields = &visit.fields;
    let answers = NextAnswers { patch: fields.answer("patch"), most: fields.answer("most") };
    let found = next(&answers, &own.read.fit)?;
    let places = LevelAnswers { count: None, patch: fields.answer("patch"), sheet: fields.answer("sheet") };
    Ok(Reply::Table { name: format!("next-{}.csv", own.number), text: next_levels(&places, &found)? })
}
