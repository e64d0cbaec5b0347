//! A chart for film: its size and seed, through a curve or not; the file to print, and what each patch is.

use std::sync::atomic::AtomicBool;

use handcoat_work::keep::{RecordKind, kept};
use handcoat_work::negative::{Hooks, curve_of_response};
use handcoat_work::tone::{
    ChartOf, ChartPrintAnswers, ReportFacts, chart_print_csv, chart_setup, chart_sheet, chart_steps, make_chart,
    one_response, responses,
};
use handcoat_work::{Day, Question, Refusal};
use maud::html;

use super::negative_new::curve_words;
use super::receive::folded;
use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, Way, quantity, words};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{frame, pictures, secret};

/// Responses that are offered.
const MOST: u32 = 12;
/// Seeds that are suggested: short enough to be written on a print.
const SEEDS: u32 = 100_000;
/// The word of the short strip among the sizes.
const STRIP: &str = "strip";

const SIZE: &[Ask<'static>] = &[Ask {
    name: "levels",
    about: Some(Question::ChartLevels),
    label: "How large?",
    why: "More patches say more. Each lies several times on the sheet, so that coat and dust are told from tone.",
    way: Way::One(&[
        (STRIP, "strip: 9 levels twice, for a new lot or lamp; 4 × 5 in"),
        ("12", "12 levels four times; 4 × 5 in"),
        ("24", "24 levels three times; 5 × 7 in"),
        ("", "40 levels twice; 5 × 7 in"),
        ("96", "96 levels twice; 8 × 10 in"),
    ]),
}];

const SEED: &[Ask<'static>] = &[words(
    "seed",
    Question::Seed,
    "Seed of the order",
    "Drawn at random; any whole number does. The print says it itself, so it need not be written down.",
)];

const FINE: &[Ask<'static>] = &[
    Ask {
        name: "note",
        about: None,
        label: "Words for its line of letters",
        why: "Set-up, lot and day stand in it already.",
        way: Way::Words,
    },
    words(
        "ink",
        Question::InkColour,
        "In one ink?",
        "#204060, say, or none; that of the set-up when nothing is written.",
    ),
    quantity(
        "ppi",
        Question::Ppi,
        "How many pixels to the inch?",
        "720, unless you say otherwise: what your printer takes.",
    ),
    quantity(
        "sheet",
        Question::ChartSheet,
        "How large is the sheet of film?",
        "8x10in, if the file shall be of its size; that of the chart otherwise.",
    ),
];

/// `GET /tone/chart`
pub(in crate::web) fn ask(visit: &Visit) -> Answer {
    page(visit, &visit.fields, None)
}

/// `POST /tone/chart`
pub(in crate::web) fn make(visit: &Visit) -> Answer {
    match made(visit) {
        Ok(reply) => Ok(reply),
        Err(refusal) => page(visit, &visit.fields, Some(&refusal)),
    }
}

fn made(visit: &Visit) -> Answer {
    let fields = &visit.fields;
    let levels = fields.answer("levels");
    let strip = levels.as_deref() == Some(STRIP);
    let answers = ChartPrintAnswers {
        levels: levels.filter(|_| !strip),
        seed: fields.answer("seed"),
        sheet: fields.answer("sheet"),
        ppi: fields.answer("ppi"),
        ink: fields.answer("ink"),
        note: fields.answer("note"),
        day: Some(Day::of_instant(visit.now()).to_string()),
        strip,
        ..ChartPrintAnswers::default()
    };
    let (curve, of) = {
        let studio = visit.studio();
        let view = fields.answer("curve").map(|own| one_response(&studio, &own, visit.now())).transpose()?;
        let setup = fields.answer("setup").map(|own| chart_setup(&studio, &own, visit.now())).transpose()?;
        (view.map(|own| (own.number, curve_of_response(&own))), ChartOf { book: studio.settings()?.studio, setup })
    };
    if let Some(paper) = fields.get("do").and_then(|own| own.strip_prefix("sheet-")) {
        let facts = ReportFacts {
            title: "Chart for film".into(),
            setup: of.setup.as_ref().map(|own| own.name.clone()),
            studio: of.book.clone(),
            day: Day::of_instant(visit.now()),
            invented: false,
            paper: Some(paper.into()),
        };
        let bytes = chart_sheet(&answers, curve.as_ref().map(|own| &own.1), &of, &facts)?;
        return Ok(Reply::Sheet { name: "chart-for-film.pdf", bytes });
    }
    let (cancel, mut chart) = (AtomicBool::new(false), None);
    let hooks = Hooks::of(&|_, _| {}, &cancel);
    let through = curve.as_ref().map(|own| format!("-response-{}", own.0)).unwrap_or_default();
    let name = |levels: &str, seed: &str| format!("chart-{levels}-seed-{seed}{through}.tif");
    let named = name(
        if strip { STRIP } else { answers.levels.as_deref().unwrap_or("40") },
        answers.seed.as_deref().unwrap_or("1"),
    );
    let named = pictures::clean(&named).unwrap_or_else(|| "chart.tif".into());
    let path = pictures::film(visit.desk.pictures(), &named, |unfinished| {
        chart = Some(make_chart(&answers, unfinished, curve.as_ref().map(|own| &own.1), &of, &hooks)?);
        Ok(())
    })?;
    let name = path.file_name().map(|own| own.to_string_lossy().into_owned()).unwrap_or(named);
    match (fields.get("do"), chart) {
        (Some("table"), Some(chart)) => {
            let stem = name.rsplit_once('.').map_or(name.as_str(), |own| own.0);
            Ok(Reply::Table { name: format!("{stem}.csv"), text: chart_print_csv(&chart.layout) })
        }
        _ => Ok(Reply::File { path, name, media: "image/tiff" }),
    }
}

/// The fields with a seed, where none was said.
fn seeded(fields: &Fields) -> Result<Fields, Refusal> {
    if fields.get("seed").is_some() {
        return Ok(fields.clone());
    }
    let seed = 1 + u32::from_le_bytes(secret::random::<4>()?) % SEEDS;
    Ok(fields.with("seed", Some(&seed.to_string())))
}

fn page(visit: &Visit, fields: &Fields, refusal: Option<&Refusal>) -> Answer {
    let fields = &seeded(fields)?;
    let all = responses(&visit.studio(), None, MOST, None, visit.now())?;
    let mut choices = vec![(String::new(), String::from("no curve: a first chart, or a new one"))];
    choices.extend(all.iter().map(|own| (own.number.to_string(), curve_words(own))));
    let choices: Vec<(&str, &str)> = choices.iter().map(|own| (own.0.as_str(), own.1.as_str())).collect();
    let setups: Vec<(u32, String)> =
        kept(&visit.studio(), RecordKind::Setup)?.into_iter().map(|own| (own.number, own.name)).collect();
    // Whose curve it goes through is the set-up it is printed with; the only one there is needs no choosing.
    let of_curve = fields.answer("curve").and_then(|own| all.iter().find(|other| other.number.to_string() == own));
    let of_curve = of_curve.and_then(|own| own.setup.as_ref()).map(|own| own.1.clone());
    let only = setups.first().filter(|_| setups.len() == 1).map(|own| own.1.clone());
    // An address may name it by its number.
    let named = fields.answer("setup").and_then(|own| setups.iter().find(|other| other.0.to_string() == own));
    let fields = &match (fields.get("setup"), named) {
        (_, Some((_, name))) => fields.with("setup", Some(name)),
        (None, None) => fields.with("setup", of_curve.or(only).as_deref()),
        (Some(_), None) => fields.clone(),
    };
    let mut names: Vec<(&str, &str)> = setups.iter().map(|own| (own.1.as_str(), own.1.as_str())).collect();
    names.push(("", "no set-up"));
    let setup = [Ask {
        name: "setup",
        about: Some(Question::Setup),
        label: "Printed with which set-up?",
        why: "Its name and the lot of its paper stand on the chart, and its ink is taken.",
        way: Way::One(&names),
    }];
    let curve = [Ask {
        name: "curve",
        about: Some(Question::Response),
        label: "Through a curve?",
        why: "A chart through a curve says how well the curve does; without one, what the set-up prints.",
        way: Way::One(&choices),
    }];
    let asked = Asked { form: "chart", fields, refusal };
    let every = [SIZE, &setup[..], SEED, &curve[..], FINE].concat();
    let body = html! {
        (frame::title("A chart for film", "The file to print on film. Its print is scanned, and no number is typed."))
        (asked.trouble(&every))
        div.two {
            (form::post(visit, "/tone/chart", &html! {
                @if !setups.is_empty() { (asked.all(&setup)) }
                (asked.all(SIZE))
                @if !all.is_empty() { (asked.all(&curve)) }
                (asked.all(SEED))
                (folded(&asked, "Ink, words, pixels and sheet", FINE))
                p.actions {
                    button type="submit" name="do" value="film" { "The file for film, TIFF" }
                    button.quiet type="submit" name="do" value="sheet-a4" { "How to print and scan it, A4" }
                    button.quiet type="submit" name="do" value="sheet-letter" { "Letter" }
                    button.quiet type="submit" name="do" value="table" { "What each patch is, CSV" }
                }
                p.why { "The file also stays in the folder of negatives on this computer." }
            }))
            section {
                h2 { "Then" }
                ol {
                    @for (word, text) in chart_steps(&ChartPrintAnswers::default()).iter().filter(|own| own.0 != "Read") { li { b { (word) } ": " (text) } }
                    li { a.lone href="/tone/read" { "Read the scan" } }
                }
            }
        }
    };
    Ok(Reply::page("A chart for film", "/tone", body).refusing(refusal))
}
