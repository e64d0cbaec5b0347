//! A chart that was read: pasted or out of a file, fitted, looked at, and kept or taken along as files.

use handcoat_craft::source::LOOKED_AT_MOST;
use handcoat_craft::tone::Target;
use handcoat_work::keep::{RecordKind, kept};
use handcoat_work::tone::{
    ChartAnswers, ResponseOfSetup, ScanFacts, ToneRead, curve_csv, fit_chart, keep_response, one_response,
    pasted_chart, report, responses,
};
use handcoat_work::{Question, Refusal};
use maud::{Markup, html};

use super::receive::folded;
use super::tone::codes_note;
use super::tone::facts;
use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, Way, note};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{frame, tone};

/// How many of the newest responses are looked through for the newest of each set-up.
const MOST_RESPONSES: u32 = 40;
/// A table of readings longer than this is another file: a form carries it on.
const MOST_BYTES: usize = 48 * 1024;

pub(super) const READINGS: &[Ask<'static>] = &[Ask {
    name: "readings",
    about: Some(Question::Table),
    label: "Paste the readings",
    why: "Input is the value that was sent: 0 is darkest, 1 is paper white; `%` may stand behind it. A table with the heads input and l_star or density, and x_mm and y_mm where you know where the patches lie; or two numbers to a \
          line, input and L*: 0.35 48.2.",
    way: Way::Lines,
}];

pub(super) const MARK: &[Ask<'static>] = &[Ask {
    name: "decimal_mark",
    about: Some(Question::DecimalMark),
    label: "Which decimal mark does the table have?",
    why: "",
    way: Way::One(&[("", "point, 48.2"), ("comma", "comma, 48,2")]),
}];

const TARGET: &[Ask<'static>] = &[Ask {
    name: "target",
    about: Some(Question::Target),
    label: "How shall tones be spaced?",
    why: "Between the paper's own black and its own white; every target reaches both.",
    way: Way::One(&[
        ("", "equal steps of lightness"),
        ("density", "equal steps of density"),
        ("soft-whites", "the lightest fifth bends into the white"),
        ("soft-blacks", "the darkest fifth bends into the black"),
    ]),
}];

/// Fields that belong to one request, and to the keeping.
const OWN: [&str; 6] = ["token", "key", "act", "do", "note", "file"];

/// `GET /tone/new`
pub(in crate::web) fn ask(visit: &Visit) -> Answer {
    let fields = &visit.fields;
    // Nothing asked is nothing refused.
    let found = looked_at(fields).then(|| fitted(visit, fields)).transpose();
    match &found {
        Ok(read) => page(visit, fields, read.as_ref(), None),
        Err(refusal) => page(visit, fields, None, Some(refusal)),
    }
}

/// Whether the readings of an address are fitted for a look at it: there are some, and so few that any address may ask for it. A form asks with
/// its token.
pub(super) fn looked_at(fields: &Fields) -> bool {
    let lines = |own: String| own.split(['\n', '\r']).filter(|line| !line.trim().is_empty()).count();
    fields.answer("readings").map(lines).is_some_and(|own| own <= LOOKED_AT_MOST.value)
}

/// What is said where readings wait for the form.
pub(super) fn waiting(fields: &Fields, button: &str) -> Markup {
    html! {
        @if fields.answer("readings").is_some() { p.lead { "The readings are there; so many are fitted once you press " b { (button) } "." } }
    }
}

/// A file that came with a form, as text; it goes before what was pasted.
pub(super) fn with_file(visit: &Visit) -> Result<Fields, Refusal> {
    let Some(bytes) = visit.picture.as_ref().filter(|own| !own.is_empty()) else { return Ok(visit.fields.clone()) };
    let text = std::str::from_utf8(bytes).ok().filter(|own| own.len() <= MOST_BYTES);
    let text = text.ok_or_else(|| Refusal::missing(Question::Table, "chart.csv"))?;
    Ok(visit.fields.with("readings", Some(text.trim_start_matches('\u{feff}'))))
}

/// Readings as a table.
pub(super) fn table(fields: &Fields) -> Result<String, Refusal> {
    pasted_chart(&fields.answer("readings").ok_or_else(|| Refusal::missing(Question::Table, "0.35 48.2"))?)
}

pub(super) fn answers(fields: &Fields) -> ChartAnswers {
    ChartAnswers { decimal_mark: fields.answer("decimal_mark"), target: fields.answer("target") }
}

fn fitted(visit: &Visit, fields: &Fields) -> Result<ToneRead, Refusal> {
    // The book is free again while the fit is made.
    let prior = fields.answer("prior").map(|own| one_response(&visit.studio(), &own, visit.now())).transpose()?;
    fit_chart(&answers(fields), table(fields)?.as_bytes(), prior.as_ref().map(|own| &own.read))
}

/// `POST /tone/new`
pub(in crate::web) fn take(visit: &Visit) -> Answer {
    let fields = match with_file(visit) {
        Ok(fields) => fields,
        Err(refusal) => return page(visit, &visit.fields, None, Some(&refusal)),
    };
    let found = fitted(visit, &fields);
    let read = match found {
        Ok(read) => read,
        Err(refusal) => return page(visit, &fields, None, Some(&refusal)),
    };
    match fields.get("do").unwrap_or_default() {
        "curve" => Ok(Reply::Table { name: "curve.csv".into(), text: curve_csv(&read) }),
        "report" => {
            let studio = visit.studio().settings()?.studio;
            let facts = facts(visit, "Response".into(), fields.answer("setup"), studio);
            Ok(Reply::Sheet { name: "response.pdf", bytes: report(&read, &facts)? })
        }
        "keep" => {
            // Readings that were changed since are no longer those of the scan.
            let scan = fields.answer("scan").and_then(|own| ScanFacts::read(own.as_bytes()).ok());
            let scan = scan.filter(|own| fields.answer("readings").is_some_and(|table| own.is_of(&table)));
            let place = ResponseOfSetup { setup: fields.answer("setup"), note: fields.answer("note"), scan };
            let done = keep_response(&mut visit.studio(), &visit.moment(), &place, &read);
            match done {
                Ok(done) => {
                    let to = done.record.map_or("/tone".into(), |number| format!("/tone/{number}"));
                    Ok(Reply::after(&done, &to))
                }
                Err(refusal) => page(visit, &fields, Some(&read), Some(&refusal)),
            }
        }
        _ => page(visit, &fields, Some(&read), None),
    }
}

/// A field for a file; what is dropped on it goes the same way.
pub(super) fn file_field(form: &str) -> Markup {
    let (id, why) = (format!("{form}-file"), format!("{form}-file-why"));
    html! {
        div.ask {
            label for=(id) { "Or drop the file here" }
            input id=(id) type="file" name="file" accept=".csv,.txt,.tsv,.cgats,text/plain,text/csv" aria-describedby=(why);
            p.why id=(why) { "CSV, or a CGATS.17 text with INPUT and LAB_L or D_VIS. It goes before what was pasted." }
        }
    }
}

/// What a form carries on, unseen.
pub(super) fn carried(fields: &Fields) -> Markup {
    let carried = fields.pairs().filter(|(name, value)| !OWN.contains(name) && !value.trim().is_empty());
    html! { @for (name, value) in carried { input type="hidden" name=(name) value=(value); } }
}

fn page(visit: &Visit, fields: &Fields, read: Option<&ToneRead>, refusal: Option<&Refusal>) -> Answer {
    let asked = Asked { form: "chart", fields, refusal };
    let names: Vec<String> = kept(&visit.studio(), RecordKind::Setup)?.into_iter().map(|own| own.name).collect();
    // The only set-up there is needs no choosing.
    let chosen = match names.as_slice() {
        [only] if fields.get("setup").is_none() => fields.with("setup", Some(only)),
        _ => fields.clone(),
    };
    let mut choices: Vec<(&str, &str)> = names.iter().map(|own| (own.as_str(), own.as_str())).collect();
    choices.push(("", "no set-up"));
    let setups = [Ask {
        name: "setup",
        about: Some(Question::Setup),
        label: "Of which set-up?",
        why: "A curve belongs to paper lot, coat, lamp, developer, film, printer and ink together.",
        way: Way::One(&choices),
    }];
    let earlier = earlier_choices(visit, &chosen)?;
    let ticks: Vec<(&str, &str)> = earlier.iter().map(|own| (own.0.as_str(), own.1.as_str())).collect();
    let priors = [Ask {
        name: "prior",
        about: Some(Question::Response),
        label: "Is an earlier response known?",
        why: "Fewer patches then say as much; where the readings contradict it, it is left aside.",
        way: Way::Any(&ticks),
    }];
    let first = Asked { fields: &chosen, ..asked };
    let every = [READINGS, MARK, TARGET, &setups[..], &priors[..]].concat();
    let target = fields.answer("target").unwrap_or_default();
    let says = Target::ALL.into_iter().find(|own| own.word() == target).unwrap_or_default().says();
    // Trouble with keeping stands beside the keeping.
    let keeping = read.is_some() && refusal.is_some();
    let body = html! {
        (frame::title("Read a chart", "The patches of a chart, read on the dry print: what this set-up prints, and the curve that corrects it."))
        div.two {
            (form::post_with_file(visit, "/tone/new#sheet", &html! {
                (first.all(&setups))
                @if !ticks.is_empty() { (first.all(&priors)) }
                (asked.all(READINGS))
                (file_field("chart"))
                (folded(&asked, "Decimal mark", MARK))
                (folded(&asked, "Target", TARGET))
                p.actions { button type="submit" name="do" value="fit" { "Fit it" } a.btn.quiet href="/tone/levels" { "A chart to print: 31 inputs and their places, CSV" } }
            }))
            div {
                h2.unseen #sheet { "What it comes to" }
                @if !keeping { (asked.trouble(&every)) }
                @match read {
                    Some(read) => {
                        @if let Some(scan) = fields.answer("scan").and_then(|own| ScanFacts::read(own.as_bytes()).ok()) { (codes_note(&scan)) }
                        (tone::found(read))
                        (keep_form(visit, fields, refusal))
                        (tone::drawn(read))
                    }
                    None => div.sheet {
                        @if refusal.is_none() { (waiting(fields, "Fit it")) }
                        p.soft { "Curve, band and correction stand here as soon as the readings are known: five inputs at least, both ends among them; 21 and more say much." }
                        p.soft { "Target: " (says) "." }
                    },
                }
            }
        }
    };
    Ok(Reply::page("Read a chart", "/tone", body).refusing(refusal))
}

/// The newest response of the chosen set-up, or of each where none is chosen; and one that is ticked already.
fn earlier_choices(visit: &Visit, fields: &Fields) -> Result<Vec<(String, String)>, Refusal> {
    let (setup, ticked) = (fields.answer("setup"), fields.answer("prior"));
    let all = responses(&visit.studio(), None, MOST_RESPONSES, None, visit.now())?;
    let mut seen: Vec<u32> = Vec::new();
    let mut choices = Vec::new();
    for own in &all {
        let number = own.number.to_string();
        let Some((of, name)) = &own.setup else { continue };
        let newest = !seen.contains(of) && setup.as_ref().is_none_or(|own| own == name);
        if newest || ticked.as_ref() == Some(&number) {
            seen.push(*of);
            choices.push((number, format!("Response {} of {name} is known", own.number)));
        }
    }
    Ok(choices)
}

fn keep_form(visit: &Visit, fields: &Fields, refusal: Option<&Refusal>) -> Markup {
    let asks = [note("note", "A note", "Rainy week, new ink.")];
    let asked = Asked { form: "keep", fields, refusal };
    form::post(
        visit,
        "/tone/new#sheet",
        &html! {
            (carried(fields))
            (asked.trouble(&asks))
            (asked.all(&asks))
            p.actions {
                button type="submit" name="do" value="keep" { "Keep it" }
                button.quiet type="submit" name="do" value="curve" { "The curve, CSV" }
                button.quiet type="submit" name="do" value="report" { "To print" }
            }
            @if fields.answer("setup").is_none() { p.why { "It is kept of no set-up; choose one beside the readings and fit again to change that." } }
        },
    )
}
