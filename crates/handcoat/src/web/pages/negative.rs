//! Negatives: those that are kept, the jobs that make them, one of them with its curve, set-up and prints.

use std::path::Path;

use handcoat_craft::measure::fixed;
use handcoat_craft::source::BORDER_MM;
use handcoat_work::expose::one_setup;
use handcoat_work::keep::RecordKind;
use handcoat_work::ledger::acts_on_record;
use handcoat_work::negative::{
    ANSWER_FIELDS, FileStanding, JobChange, JobStanding, JobView, Making, NegativeView, as_made, change_job,
    file_standings, job, job_number, jobs, negatives, negatives_put_away, one_negative, put_away_job, queue_job,
    sha256_of, stop_job,
};
use handcoat_work::tone::PROOF_SAYS;
use handcoat_work::{Question, Refusal};
use maud::{Markup, html};
use serde_json::Value;

use super::proof::side_by_side;
use super::today::acts_list;
use crate::apart;
use crate::cli::left;
use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{expose, frame, pictures, queue, words};

/// Jobs that are looked at, and of those that are over so many shown.
const MOST_JOBS: u32 = 60;
const MOST_OVER: usize = 5;
const HISTORY: u32 = 12;
/// A picture of fewer bytes is read while a page waits, to know it by its SHA-256.
const MOST_HASHED: u64 = 64 << 20;
/// Long side of a small picture in pixels.
const SMALL: u32 = 640;

const FIND: &[Ask<'static>] = &[form::words(
    "find",
    Question::Negative,
    "Find a negative",
    "Its mark, as it stands in letters in the border or as the code of squares reads on the print; or its name or number.",
)];

/// `GET /negative`
pub(in crate::web) fn list(visit: &Visit) -> Answer {
    let asked = visit.fields.answer("find").unwrap_or_default();
    let mut refusal = None;
    if !asked.trim().is_empty() {
        match one_negative(&visit.studio(), &asked, visit.now()) {
            Ok(own) => return Ok(Reply::see(format!("/negative/{}", own.number))),
            Err(own) if own.code == "record_unknown" => refusal = Some(own),
            Err(own) => return Err(own),
        }
    }
    let (all, kept, away) = {
        let studio = visit.studio();
        (jobs(&studio, MOST_JOBS, apart::worker())?, negatives(&studio, visit.now())?, negatives_put_away(&studio)?)
    };
    let body = html! {
        (frame::title("Negatives", "A picture and a curve become a file for ink on film."))
        p.actions { a.btn href="/negative/new" { "Make a negative" } a.btn.quiet href="/keep/negative" { "Write down a negative I have" } }
        (jobs_list(visit, &all))
        @if kept.is_empty() && away.is_empty() {
            p.lead { "No negative is kept yet." }
            p.why { "Put a picture into the folder " (visit.desk.pictures().display()) ", or send it from here; take the curve of your set-up; and print the file on film at the size it says." }
        } @else {
            h2 { "Kept" }
            (search(visit, refusal.as_ref()))
            ul.shelf { @for own in &kept { li.sheet { (entry(own)) } } }
            @if !away.is_empty() {
                details.more { summary { "Put away: " (away.len()) }
                    ul { @for (number, name) in &away { li { a href=(format!("/negative/{number}")) { "Negative " (number) ", " (name) } } } }
                }
            }
        }
    };
    Ok(Reply::page("Negatives", "/negative", body).with_script("jobs"))
}

fn search(visit: &Visit, refusal: Option<&Refusal>) -> Markup {
    let asked = Asked { form: "find", fields: &visit.fields, refusal };
    html! { form.row method="get" action="/negative" role="search" { (asked.all(FIND)) p.actions { button.quiet type="submit" { "Find" } } } }
}

fn entry(own: &NegativeView) -> Markup {
    html! {
        a.name href=(format!("/negative/{}", own.number)) { (own.name) }
        @match own.made.first() {
            Some(made) => {
                p.number { b { (size(made)) } }
                @if let Some(film) = film(made) { p.soft { (film) } }
                p.soft { (made.curve.from) ", " (words::day(made.at)) }
            }
            None => p.soft { "Entered by hand" },
        }
        @if own.doubts.stale { p.soft { "Its curve is stale." } }
    }
}

/// What the print will show, or the film where only that was kept.
fn size(made: &Making) -> String {
    match made.facts.image_millimetres {
        Some(own) => format!("Image {}", sides(own)),
        None => format!("Film {}", sides(made.facts.millimetres)),
    }
}

/// The film around an image whose size is known.
fn film(made: &Making) -> Option<String> {
    made.facts.image_millimetres.map(|_| format!("on film of {}", sides(made.facts.millimetres)))
}

fn sides((across, down): (f64, f64)) -> String {
    format!("{} × {} mm", fixed(across, 0), fixed(down, 0))
}

/// Jobs that are open, interrupted or failed, and the newest that are over.
fn jobs_list(visit: &Visit, all: &[JobView]) -> Markup {
    let going = |own: &&JobView| matches!(own.standing, JobStanding::Running | JobStanding::Waiting);
    let open = all.iter().any(|own| going(&own));
    let mut over = 0;
    let shown: Vec<&JobView> = all
        .iter()
        .filter(|own| {
            over += usize::from(!going(own) && own.standing != JobStanding::Interrupted);
            going(own) || own.standing == JobStanding::Interrupted || over <= MOST_OVER
        })
        .collect();
    html! {
        section id="jobs" data-going[open] {
            @if !shown.is_empty() {
                h2 { "Jobs" }
                ul.jobs { @for own in shown { li.sheet { (job_shown(visit, own)) } } }
                @if open { p { a href="/negative" { "Refresh" } } }
            }
        }
    }
}

fn job_shown(visit: &Visit, own: &JobView) -> Markup {
    let name =
        |path: &str| Path::new(path).file_name().map(|own| own.to_string_lossy().into_owned()).unwrap_or_default();
    let (done, of) = own.rows;
    let button = |act: &str, word: &str| {
        let action = format!("/negative/jobs/{}/{act}", own.number);
        form::post(
            visit,
            &action,
            &html! { button.quiet type="submit" aria-label=(format!("{word} job {}", own.number)) { (word) } },
        )
    };
    html! {
        p { b { (name(&own.target)) } " from " (name(&own.source)) }
        @match own.standing {
            JobStanding::Running => {
                (bar(done, of))
                p.soft { @if of > 0 { "Row " (done) " of " (of) } @else { "Begins" } @if let Some(seconds) = own.left_seconds { ", " (left(seconds)) " left" } }
                (button("stop", "Stop"))
            }
            JobStanding::Waiting => { p.soft { "Waits for its turn" } (button("stop", "Stop")) }
            JobStanding::Interrupted => { p.soft { "Interrupted" @if of > 0 { " at row " (done) " of " (of) } "; it goes on from there." } (button("resume", "Resume")) (button("away", "Put away")) }
            JobStanding::Stopped => { p.soft { "Stopped" @if of > 0 { " at row " (done) " of " (of) } "." } (button("resume", "Resume")) (button("away", "Put away")) }
            JobStanding::Failed => {
                @if let Some((code, cause)) = &own.refused { p title=(code) { (words::capitalised(cause)) "." } }
                @if let Some(address) = changed(visit, own) { p { a href=(address) { "Change the answers" } } }
                @match own.way_on() {
                    // Under its own name it would fail for ever.
                    Some(JobChange { target: Some(target), .. }) => (button("another", &format!("Make it as {}", name(&target)))),
                    Some(JobChange { name: Some(name), .. }) => (button("another", &format!("Keep it as {name}"))),
                    _ => (button("resume", "Try again")),
                }
                (button("away", "Put away"))
            }
            JobStanding::Made => p.soft { "Made" @if let Some(number) = own.negative { ": " a href=(format!("/negative/{number}")) { "negative " (number) } } "." },
        }
    }
}

/// Where the answers of a job are asked anew; nowhere when its picture does not lie in the folder.
fn changed(visit: &Visit, own: &JobView) -> Option<String> {
    let name = Path::new(&own.source).file_name()?.to_str()?;
    let there = pictures::picture(visit.desk.pictures(), name).ok()?;
    (std::path::absolute(there).ok()?.as_path() == Path::new(&own.source)).then_some(())?;
    let response = own.asked.curve.response?.to_string();
    let mut fields = Fields::default().with("picture", Some(name)).with("curve", Some(&response));
    fields = fields.with("name", own.asked.name.as_deref());
    if own.target.ends_with(".png") {
        fields = fields.with("png", Some("yes"));
    }
    let answers = serde_json::to_value(&own.asked.answers).ok()?;
    for field in ANSWER_FIELDS {
        match answers.get(field.key) {
            Some(Value::String(text)) => fields = fields.with(field.key, Some(text)),
            Some(Value::Bool(true)) => fields = fields.with(field.key, Some("yes")),
            _ => {}
        }
    }
    Some(fields.address("/negative/new"))
}

/// How far it is, drawn: a browser's own bar shines in colours of its own.
fn bar(done: u32, of: u32) -> Markup {
    let percent = u64::from(done.min(of)) * 100 / u64::from(of.max(1));
    html! {
        svg.bar viewBox="0 0 100 4" preserveAspectRatio="none" role="img" aria-label=(format!("{percent} %")) {
            rect.ground width="100" height="4" {}
            rect.done width=(percent) height="4" {}
        }
    }
}

/// `POST /negative/jobs/{number}/{act}`
pub(in crate::web) fn act(visit: &Visit) -> Answer {
    let number = job_number(visit.segment(2))?;
    match visit.segment(3) {
        "stop" => {
            stop_job(&mut visit.studio(), number, apart::worker(), visit.now())?;
        }
        "away" => {
            put_away_job(&mut visit.studio(), number, apart::worker())?;
        }
        how => {
            if how == "another" {
                let mut studio = visit.studio();
                let change = job(&studio, number, apart::worker())?.way_on().unwrap_or_default();
                change_job(&mut studio, number, &change, apart::worker())?;
            }
            queue_job(&mut visit.studio(), number, apart::worker(), visit.now())?;
            queue::go(&visit.desk);
        }
    }
    Ok(Reply::see("/negative#jobs"))
}

/// `GET /negative/{number}`
pub(in crate::web) fn show(visit: &Visit) -> Answer {
    let (own, acts, base) = {
        let studio = visit.studio();
        let own = one_negative(&studio, visit.segment(1), visit.now())?;
        let acts = acts_on_record(&studio, RecordKind::Negative, own.number, HISTORY)?;
        // A set-up that was taken back since has no base exposure to tell.
        let setup = own.made.first().and_then(|made| made.setup.as_ref()).map(|own| own.1.clone());
        let base = setup.and_then(|name| one_setup(&studio, &name, visit.now()).ok()).and_then(|own| own.base);
        (own, acts, base)
    };
    let here = format!("/negative/{}", own.number);
    // Looked at once, and while nobody waits for the book: it may have to be read.
    let standings = file_standings(&own);
    let standing = standings.first().copied();
    let body = html! {
        (frame::title(&own.name, &format!("Negative {}", own.number)))
        @if own.put_away { p.note { "It is put away: what is known of it stays, and it is not offered for new prints." } }
        @for sentence in own.doubts.sentences() { p.note { (words::capitalised(&sentence)) "." } }
        div.two {
            section {
                @match own.made.first() {
                    Some(made) => (newest(visit, &here, &own, made, standing)),
                    None => p.lead { "It was entered by hand; no file of it was made here." },
                }
                @if let Some(base) = &base { h2 { "Base exposure" } (expose::in_force(base)) }
                @let made_here = !own.made.is_empty();
                dl.facts.even { @for (field, text) in own.known.iter().filter(|own| !(made_here && said_already(own.0.key))) { dt { (field.label) } dd { (text) } } }
                @if !own.put_away { p { a href=(format!("/keep/negative/{}", own.number)) { "Change what is written of it" } } }
            }
            section {
                @if standing == Some(FileStanding::AsMade) {
                    figure.picture { span.lit { img src=(format!("{here}/small")) alt=(format!("The negative {}, small", own.name)) loading="lazy"; } figcaption.why { "As it lies in the file: ink side up, to be laid down on the paper." } }
                }
                h2 { "Prints from it" }
                @if own.prints.is_empty() && own.put_away { p.soft { "None." } }
                @else if own.prints.is_empty() { p.soft { "None yet. Name it when you record a print, and that print leads back to this file and its curve." } }
                @else { ul { @for (number, title) in &own.prints { li { a href=(format!("/print/{number}")) { "Print " (number) ", " (title) } } } } }
            }
        }
        @if let Some((fields, number)) = own.made.first().and_then(|made| proof_fields(visit, made)) {
            section {
                h2 { "As it would print" }
                (side_by_side(&fields, number))
                p.why { "The whole picture, without crop and border, before any metal is spent. " (words::capitalised(PROOF_SAYS)) ". " a href=(fields.address("/negative/proof")) { "More of the proof" } }
            }
        }
        @if own.made.len() > 1 {
            details.more { summary { "Earlier files: " (own.made.len() - 1) }
                ul { @for (made, standing) in own.made.iter().zip(&standings).skip(1) {
                    li { (words::when(made.at)) ": " (size(made)) ", " (made.curve.from) ", " (made.file) @if let Some(says) = standing.says() { ". " (words::capitalised(says)) } "." }
                } }
            }
        }
        section { h2 { "What was done with it" } (acts_list(visit, &acts, usize::MAX)) }
    };
    Ok(Reply::page(own.name.clone(), "/negative", body))
}

/// The newest file: what it is, what to know of it, and where it is.
fn newest(visit: &Visit, here: &str, own: &NegativeView, made: &Making, standing: Option<FileStanding>) -> Markup {
    let there = standing == Some(FileStanding::AsMade);
    let says = standing.and_then(FileStanding::says);
    // What is doubted today stands above; what was doubted that day is not said twice.
    let warnings = made.facts.warnings.iter().filter(|said| !own.doubts.said.iter().any(|doubt| doubt.0 == said.0));
    let lines = made
        .lines
        .iter()
        .filter(|own| !own.starts_with("Note:") && !own.starts_with("Mark:") && !own.contains(&made.facts.sha256));
    html! {
        p.number { b { (size(made)) } }
        @if let Some(film) = film(made) { p.soft { (film) } }
        @if let Some(says) = says { p.note { (words::capitalised(says)) ". To have it again, make it again: its picture and its curve are below." } }
        @for (_, warning) in warnings { p.note { (words::capitalised(warning)) "." } }
        p.actions {
            @if there && pictures::negative(visit.desk.pictures(), &made.file).is_some() { a.btn href=(format!("{here}/file")) { "Download the file" } }
            @else if there { "The file is at " (made.file) " on this computer." }
            @if !own.put_away { a.btn.quiet href=(recorded(&own.name, made)) { "Record a print from it" } }
            @if let Some(image) = image(made).filter(|_| !own.put_away) { a.btn.quiet href=(Fields::default().with("image", Some(&image)).with("margin", margin(made).as_deref()).with("setup", made.setup.as_ref().map(|own| own.1.as_str())).address("/coat")) { "Coat for it" } }
            @if let Some(response) = made.curve.response { a.btn.quiet href=(format!("/tone/{response}")) { "Response " (response) } }
        }
        @if !own.put_away { (printing(made)) }
        h2 { "What it is" }
        ul { @for line in lines { li { (line) } } }
        dl.facts.even {
            @if !made.facts.mark.is_empty() { dt { "mark" } dd { (made.facts.mark) } }
            dt { "made" } dd { (words::when(made.at)) }
            dt { "file" } dd { (made.file) }
            dt { "picture" } dd { (made.source) }
            dt { "curve" } dd { (made.curve.from) ", " (made.curve.points.len()) " points are kept" }
            @if let Some((number, name)) = &made.setup { dt { "set-up" } dd { a href=(format!("/keep/setup/{number}")) { (name) } } }
            @if let Some((number, name)) = other_setup(made) { dt { "set-up of its curve" } dd { a href=(format!("/keep/setup/{number}")) { (name) } } }
        }
        details.more { summary { "Its SHA-256, and the picture's" } p.code { (made.facts.sha256) } p.code { (made.facts.source_sha256) } }
    }
}

/// The set-up of its curve, where it was made for another.
fn other_setup(made: &Making) -> Option<&(u32, String)> {
    made.curve.of_setup.as_ref().filter(|of| made.setup.as_ref().is_some_and(|own| own.0 != of.0))
}

/// What a proof of a file is asked with: its picture, where it still lies in the folder, and the response of its curve.
fn proof_fields(visit: &Visit, made: &Making) -> Option<(Fields, u32)> {
    let response = made.curve.response?;
    let name = Path::new(&made.source).file_name()?.to_str()?;
    let there = pictures::picture(visit.desk.pictures(), name).ok()?;
    // One that was changed after the file was made is another picture under its name, unless its bytes say otherwise. What is on record is kept
    // to the second.
    let about = std::fs::metadata(&there).ok()?;
    let changed = jiff::Timestamp::try_from(about.modified().ok()?).ok()?;
    if changed.as_second() > made.at.as_second() {
        let small = Some(&there).filter(|_| about.len() < MOST_HASHED)?;
        sha256_of(small).ok().filter(|own| *own == made.facts.source_sha256)?;
    }
    Some((Fields::default().with("picture", Some(name)).with("curve", Some(&response.to_string())), response))
}

/// The image as a form takes it.
pub(super) fn image(made: &Making) -> Option<String> {
    made.facts.image_millimetres.map(|(across, down)| format!("{}x{}mm", fixed(across, 0), fixed(down, 0)))
}

/// How far past the image the border lies, and with it the coat.
fn border_mm() -> String {
    format!("{} mm", fixed(BORDER_MM.value, 0))
}

/// What is coated past the image, where a border lies there.
pub(super) fn margin(made: &Making) -> Option<String> {
    (!made.answers.no_border).then(|| border_mm().replace(' ', ""))
}

/// A record of a print that begins with this negative.
fn recorded(name: &str, made: &Making) -> String {
    let fields = Fields::default().with("negative", Some(name)).with("title", Some(name));
    let fields = fields.with("setup", made.setup.as_ref().map(|own| own.1.as_str()));
    fields.with("image", image(made).as_deref()).with("margin", margin(made).as_deref()).address("/print/new")
}

/// From the file to the film: what printers' drivers change unasked, and how it is seen that they did.
fn printing(made: &Making) -> Markup {
    html! {
        h2 { "To print it" }
        ol {
            li { "Print it at 100 %, not fitted to the page, and without colour management: a driver that changes size or tones changes the negative." }
            @if made.answers.no_mirror { li { "It is not mirrored." } } @else { li { "It is mirrored already: leave the driver's own mirror off. The ink side lies on the paper." } }
            li { "Lay the film so that its coated side takes the ink, and let it dry before it touches the paper." }
            @if !made.answers.no_border { li { "Where the border has a rule, measure it on the film; its length stands beside it. What it comes to is asked with the next negative: “" (words::capitalised(label("rule_measured"))) "”" @if !made.facts.mark.is_empty() { ", and “" (words::capitalised(label("rule_on"))) "”: " b { (made.facts.mark) } } "." } li { "Coat " (border_mm()) " past the image where the border lies." } }
        }
    }
}

/// A question as the form puts it.
fn label(key: &str) -> &'static str {
    ANSWER_FIELDS.iter().find(|own| own.key == key).map_or("the rule", |own| own.label)
}

/// Fields that a file of the negative says better.
fn said_already(key: &str) -> bool {
    ["size", "curve", "source"].contains(&key)
}

/// The newest file of the negative a page is about.
fn made(visit: &Visit) -> Result<Making, Refusal> {
    let own = one_negative(&visit.studio(), visit.segment(1), visit.now())?;
    own.made.into_iter().next().ok_or_else(|| pictures::no_file(&own.name))
}

/// `GET /negative/{number}/small`
pub(in crate::web) fn small(visit: &Visit) -> Answer {
    let made = made(visit)?;
    as_made(&made)?;
    let sha256 = made.facts.sha256.clone();
    let bytes = visit.desk.small(&sha256, || apart::small_picture(Path::new(&made.file), SMALL))?;
    Ok(Reply::Passing { media: "image/png", bytes })
}

/// `GET /negative/{number}/file`
pub(in crate::web) fn file(visit: &Visit) -> Answer {
    let made = made(visit)?;
    // One that is gone is told as gone, and not as one that lies elsewhere.
    as_made(&made)?;
    let path = pictures::negative(visit.desk.pictures(), &made.file).ok_or_else(|| pictures::no_file(&made.file))?;
    let name = path.file_name().map(|own| own.to_string_lossy().into_owned()).unwrap_or_default();
    let media = if name.ends_with(".png") { "image/png" } else { "image/tiff" };
    Ok(Reply::File { path, name, media })
}
