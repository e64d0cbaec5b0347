//! A wedge read with a densitometer: typed step by step, pasted, or out of a file. The address holds the readings.

use handcoat_work::expose::{
    InkRead, TabletAnswers, WedgeAnswers, WedgeRead, ink, next_test, pasted, plain, readings_fit, step_densities,
    stepwise, tablet, wedge,
};
use handcoat_work::{Question, Refusal};
use maud::{Markup, html};

use super::expose::{Keeping, for_setup, keep_form, with_test};
use super::expose_scan;
use super::receive::folded;
use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, Way, quantity, tick};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{expose, frame};

/// A table of readings longer than this is another file.
const MOST_BYTES: usize = 1024 * 1024;
/// The two tablets most makers have: steps, and what they are apart.
pub(super) const TABLETS: [(&str, &str, &str); 2] =
    [("21", "0.15", "21 steps of 0.15"), ("31", "0.10", "31 steps of 0.10")];

const TEST: &[Ask<'static>] =
    &[quantity("test_time", Question::TestTime, "How long was it exposed?", "4:00. The wedge lay on clear film.")];

const FIRST_STEP: &[Ask<'static>] = &[quantity(
    "first_step",
    Question::FirstStep,
    "How dense is step 1 of the wedge?",
    "0.05, unless its sheet says otherwise.",
)];

const CRITERIA: &[Ask<'static>] = &[
    quantity("test_units", Question::TestUnits, "Or what did an integrator count?", "120, instead of a time."),
    quantity("black_within", Question::BlackWithin, "How near to Dmax is full black?", "0.03; from 0.02 to 0.05."),
    Ask {
        name: "shoulder",
        about: Some(Question::Shoulder),
        label: "The dark end of the scale is 90 % of what?",
        why: "Compare only scales that are counted alike.",
        way: Way::One(&[("", "of what is above the base"), ("absolute", "of all the density")]),
    },
    quantity(
        "reading_u",
        Question::ReadingNoise,
        "How well is one reading known?",
        "0.01 (one standard uncertainty); steps read twice tell it themselves.",
    ),
    tick("wet", None, "The print was read wet", "Prints dry darker or duller; only a dry one is judged."),
];

const STEPS_OF: &[Ask<'static>] = &[Ask {
    name: "steps_of",
    about: None,
    label: "What are the steps made of?",
    why: "Only silver measures the light; ink ranks.",
    way: Way::One(&[("", "silver, a bought wedge"), ("ink", "ink, printed on film")]),
}];

const PASTED: &[Ask<'static>] = &[Ask {
    name: "readings",
    about: Some(Question::Table),
    label: "Paste the readings",
    why: "Two numbers to a line, step and print: 0.05 1.43. Or one, the print under steps 1, 2, 3 … Or a table with heads step_density and print_density.",
    way: Way::Lines,
}];

const MARK: &[Ask<'static>] = &[Ask {
    name: "decimal_mark",
    about: Some(Question::DecimalMark),
    label: "Which decimal mark does the file have?",
    why: "",
    way: Way::One(&[("", "point, 1.43"), ("comma", "comma, 1,43")]),
}];

/// `GET /expose/wedge`
pub(in crate::web) fn page(visit: &Visit) -> Answer {
    show(visit, None, visit.fields.get("seen"))
}

/// `POST /expose/wedge`: a file; what was read of it goes into the address.
pub(in crate::web) fn take(visit: &Visit) -> Answer {
    match from_file(visit) {
        Ok(to) => Ok(Reply::see(to)),
        Err(refusal) => show(visit, Some(&refusal), None),
    }
}

fn from_file(visit: &Visit) -> Result<String, Refusal> {
    let fields = &visit.fields;
    let missing = || Refusal::missing(Question::Table, "wedge.csv");
    let bytes = visit.picture.as_ref().filter(|own| own.len() <= MOST_BYTES).ok_or_else(missing)?;
    let answers = WedgeAnswers { decimal_mark: fields.answer("decimal_mark"), ..wedge_answers(fields) };
    let readings = if is_ink(fields) {
        let read = ink(&answers, bytes)?;
        readings_fit(read.prints.len())?;
        read.prints.iter().map(|own| format!("{}\n", own.to_density())).collect()
    } else {
        let read = wedge(&answers, bytes)?;
        readings_fit(read.readings.len())?;
        plain(&read.readings)
    };
    let kept = fields.pairs().filter(|(name, _)| !["token", "key", "decimal_mark", "how", "readings"].contains(name));
    let pairs: Vec<(&str, &str)> = kept.chain([("how", "paste"), ("readings", readings.as_str())]).collect();
    Ok(format!("{}#sheet", Fields::of(&pairs).address("/expose/wedge")))
}

/// What a form says of a wedge.
pub(super) fn wedge_answers(fields: &Fields) -> WedgeAnswers {
    WedgeAnswers {
        test_time: fields.answer("test_time"),
        test_units: fields.answer("test_units"),
        shoulder: fields.answer("shoulder"),
        black_within: fields.answer("black_within"),
        reading_noise: fields.answer("reading_u"),
        decimal_mark: None,
        wet: fields.ticked("wet"),
    }
}

pub(super) fn is_ink(fields: &Fields) -> bool {
    fields.answer("steps_of").is_some_and(|own| own == "ink")
}

pub(super) fn tablet_of(fields: &Fields) -> TabletAnswers {
    let (steps, increment, _) = chosen(fields);
    TabletAnswers {
        first_step: fields.answer("first_step"),
        increment: Some(increment.into()),
        steps: Some(steps.into()),
    }
}

pub(super) fn chosen(fields: &Fields) -> (&'static str, &'static str, &'static str) {
    let [usual, ..] = TABLETS;
    let own = fields.get("tablet");
    TABLETS.into_iter().find(|other| own == Some(other.0)).unwrap_or(usual)
}

/// Readings as a table, out of what was pasted or typed; none where nothing was.
pub(super) fn table(fields: &Fields) -> Result<Option<String>, Refusal> {
    let tablet = tablet(&tablet_of(fields))?;
    let ink = is_ink(fields);
    if let Some(text) = fields.answer("readings") {
        return pasted(&text, &tablet, ink).map(Some);
    }
    let prints: Vec<Option<String>> = (1..=tablet.steps()).map(|step| fields.answer(&format!("d{step}"))).collect();
    if prints.iter().all(Option::is_none) {
        return Ok(None);
    }
    stepwise(&prints, &tablet, ink).map(Some)
}

/// What was read.
enum Read {
    Silver(Box<WedgeRead>),
    Ink(InkRead),
}

fn read(fields: &Fields) -> Result<Option<Read>, Refusal> {
    let Some(table) = table(fields)? else { return Ok(None) };
    let answers = wedge_answers(fields);
    Ok(Some(match is_ink(fields) {
        true => Read::Ink(ink(&answers, table.as_bytes())?),
        false => Read::Silver(Box::new(wedge(&answers, table.as_bytes())?)),
    }))
}

/// The page; `of_file` is why a file or a scan was not read, `seen` the picture of what was found on a scan.
pub(super) fn show(visit: &Visit, of_file: Option<&Refusal>, seen: Option<&str>) -> Answer {
    let fields = &visit.fields;
    let found = if of_file.is_some() { Ok(None) } else { read(fields) };
    let refusal = of_file.or_else(|| found.as_ref().err());
    let asked = Asked { form: "wedge", fields, refusal };
    let said = fields.get("how").unwrap_or("type");
    let how = if of_file.is_some() && said != "scan" { "file" } else { said };
    let seen = seen.filter(|own| own.len() == 64 && own.bytes().all(|own| own.is_ascii_hexdigit()));
    let every = [TEST, STEPS_OF, FIRST_STEP, CRITERIA, PASTED, MARK, expose_scan::ROW].concat();
    let tab = |word: &str, says: &str| {
        html! { a.btn.quiet href=(fields.with("how", Some(word)).with("token", None).with("key", None).with("act", None).address("/expose/wedge")) aria-current=[(how == word).then_some("true")] { (says) } }
    };
    let asks = html! {
        input type="hidden" name="how" value=(how);
        (for_setup(fields))
        (asked.all(TEST))
        @match how {
            "paste" => (asked.all(PASTED)),
            "file" => {
                div.ask {
                    label for="wedge-file" { "The file" }
                    input #wedge-file type="file" name="file" accept=".csv,.txt,.tsv,.cgats,text/plain,text/csv" aria-describedby="wedge-file-why";
                    p.why #wedge-file-why { "CSV with the columns step_density and print_density, or a CGATS.17 text." }
                }
                (asked.all(MARK))
            }
            "scan" => (expose_scan::asks(visit, &asked)),
            _ => (typed(fields)?),
        }
        @if how == "scan" { (folded(&asked, "The wedge", FIRST_STEP)) }
        @else { (folded(&asked, "The wedge", &[STEPS_OF, FIRST_STEP].concat())) }
        @if let Some(seen) = seen {
            input type="hidden" name="seen" value=(seen);
            @if let Some(told) = fields.get("told") { input type="hidden" name="told" value=(told); }
        }
        (folded(&asked, "Criteria and readings", CRITERIA))
        p.actions { button type="submit" { "Read it" } }
    };
    let sound = found.as_ref().ok().and_then(Option::as_ref);
    let body = html! {
        (frame::title("Read a wedge", "Densities under the steps of a wedge that lay on clear film, read off the dry print."))
        nav.actions aria-label="How the readings come" { (tab("type", "Type them")) (tab("paste", "Paste them")) (tab("file", "A file")) (tab("scan", "A scan")) }
        div.two {
            @if how == "file" { (form::post_with_file(visit, "/expose/wedge", &asks)) }
            @else if how == "scan" { div { (form::post_with_file(visit, "/expose/wedge/scan/upload#sheet", &asks)) (expose_scan::lying(visit)) } }
            @else { form method="get" action="/expose/wedge#sheet" data-follow { (asks) } }
            div {
                h2.unseen #sheet { "What it comes to" }
                p.unseen #status role="status" aria-live="polite" data-live { (status(sound, refusal)) }
                div #trouble data-live { (asked.trouble(&every)) }
                div #result data-live {
                    @match sound {
                        Some(own) => (result(visit, own)?),
                        None if how == "scan" => div.sheet { p.soft { "The densities of the steps come into the form, beside a picture of what was found. Look at both." } },
                        None => div.sheet { p.soft { "Time, scale and curve stand here as soon as four steps are read and the time of the test is known." } },
                    }
                }
                @if let Some(seen) = seen { (expose_scan::picture(seen, fields, of_file.is_none())) }
            }
        }
    };
    Ok(Reply::page("Read a wedge", "/expose", body).refusing(refusal).with_script("live"))
}

fn result(visit: &Visit, own: &Read) -> Result<Markup, Refusal> {
    let found = match own {
        Read::Silver(own) => own.base.is_some(),
        Read::Ink(_) => true,
    };
    let next = match own {
        Read::Silver(own) => next_test(own.fit.ends.black, own.fit.ends.white, &own.test),
        Read::Ink(_) => None,
    };
    // The readings are those of the print that was; the next has its own.
    let again =
        visit.fields.pairs().filter(|(name, _)| ["how", "tablet", "first_step", "steps_of", "setup"].contains(name));
    let again = Fields::of(&again.collect::<Vec<_>>());
    Ok(html! {
        @match own { Read::Silver(own) => (expose::wedge(own)), Read::Ink(own) => (expose::ink(own)) }
        @if let Some(next) = next {
            p.actions { a.btn href=(with_test(&again, &next).address("/expose/wedge")) { "Expose it for " (next.words()) } }
        }
        h3 { "Keep it" }
        (keep_form(visit, &Keeping { way: "wedge", found }, &visit.fields, None)?)
    })
}

fn status(read: Option<&Read>, refusal: Option<&Refusal>) -> String {
    match (read, refusal) {
        (Some(Read::Silver(own)), _) => match &own.base {
            Some(base) => format!("Base exposure {}.", handcoat_work::expose::exposed_words(base)),
            None => "It did not bracket.".into(),
        },
        (Some(Read::Ink(_)), _) => "The steps are ranked.".into(),
        (None, Some(refusal)) => format!("Nothing yet: {}.", refusal.cause),
        (None, None) => String::new(),
    }
}

/// A field for each step.
fn typed(fields: &Fields) -> Result<Markup, Refusal> {
    let (steps, _, _) = chosen(fields);
    // A first step that cannot be read is said beside its own field; the steps are then shown as usual.
    let tablet = tablet(&tablet_of(fields)).or_else(|_| tablet(&TabletAnswers::default()))?;
    Ok(html! {
        fieldset {
            legend { "Print density under each step" }
            p.actions {
                @for (own, _, says) in TABLETS {
                    a.btn.quiet href=(fields.with("tablet", Some(own)).address("/expose/wedge")) aria-current=[(own == steps).then_some("true")] { (says) }
                }
            }
            input type="hidden" name="tablet" value=(steps);
            ol.steps-read {
                @for (place, density) in step_densities(&tablet).into_iter().enumerate() {
                    @let name = format!("d{}", place + 1);
                    li {
                        label for=(format!("wedge-{name}")) { "Step " (place + 1) " " span.soft { (density) } }
                        input id=(format!("wedge-{name}")) name=(name) type="text" inputmode="decimal" autocomplete="off" value=(fields.get(&name).unwrap_or_default());
                    }
                }
            }
        }
    })
}
