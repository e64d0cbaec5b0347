//! Beginning the day's printing: a row of questions for each print, what there is to work with, and what goes on already.

use handcoat_work::expose::setups;
use handcoat_work::keep::{RecordKind, kept};
use handcoat_work::session::{
    BeginSession, PrintAnswers, SessionAnswers, SessionLine, begin, check_print, repeated_print, sessions, timers,
};
use handcoat_work::{Question, Refusal};
use maud::{Markup, html};

use super::session::timer_bar;
use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, Way, note, quantity, tick};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::words::when;
use crate::web::{expose, frame};

/// How many sessions are listed.
const LISTED: u32 = 12;
/// As many rows as a page has room for; the command line takes more.
const MOST_ROWS: usize = 20;

/// What is asked of each print.
const ROW: [Ask<'static>; 7] = [
    quantity(
        "repeat",
        Question::Print,
        "Repeat which print?",
        "Its number; what is left open here and below is taken from it.",
    ),
    quantity("title", Question::Title, "What is it called?", ""),
    quantity("image", Question::Image, "How large is the image?", "8x10in."),
    quantity("margin", Question::Margin, "How far does the coat go past it?", "1cm on each side."),
    note("paper", "Which paper?", "By the name it is kept under."),
    quantity("time", Question::Exposure, "How long is it exposed?", "6:00. Left open: as all of them."),
    quantity(
        "pours",
        Question::Pour,
        "What is poured for one coat?",
        "A bottle and its drops, in the order dropped: iron=23; palladium stock=23.",
    ),
];

const WITH: [Ask<'static>; 4] = [
    quantity("people", Question::People, "How many people work?", "Left open: one."),
    quantity("lamps", Question::Lamps, "How many lamps?", "Left open: one."),
    quantity("frames", Question::Frames, "How many frames?", "Left open: one."),
    quantity(
        "trays",
        Question::Trays,
        "How many trays?",
        "Developer, clearing baths and wash. Left open: one for each.",
    ),
];

const MORE: [Ask<'static>; 12] = [
    quantity("exposure", Question::Exposure, "How long is each exposed?", "Where a print does not say it: 6:00."),
    quantity("coat", Question::CoatSpan, "How long do mixing and coating take?", "8min."),
    quantity("dry", Question::DrySpan, "How long does a coat dry?", "30min."),
    quantity("humidify", Question::HumidifySpan, "How long in the humid box?", "0s leaves it out."),
    quantity("load", Question::LoadSpan, "How long does loading the frame take?", "3min."),
    quantity("develop", Question::DevelopSpan, "How long is it developed?", "3min."),
    quantity("clear", Question::ClearSpan, "How long in each clearing bath?", "7min."),
    quantity("wash", Question::WashSpan, "How long is it washed?", "30min."),
    quantity("hang", Question::HangSpan, "How long does it hang?", "0s leaves it out."),
    quantity("baths", Question::Baths, "How many clearing baths?", "1 to 3."),
    tick("double", None, "Coat and dry twice", ""),
    tick("printing_out", None, "Printing-out: rinsed and not developed", ""),
];

/// `GET /session`
pub(in crate::web) fn ask(visit: &Visit) -> Answer {
    let fields = &visit.fields;
    let mut rows = rows_of(fields);
    let wanted = fields.get("prints").and_then(|text| text.trim().parse::<usize>().ok()).unwrap_or(1);
    rows.resize_with(wanted.clamp(rows.len().max(1), MOST_ROWS), Fields::default);
    // What a repeat leaves open is filled in before it is sent: it can be read, and changed.
    let mut refusal = None;
    for (place, row) in rows.iter_mut().enumerate().filter(|(_, row)| row.answer("repeat").is_some()) {
        let found = repeated_print(&visit.studio(), &visit.moment(), &answers_of(row));
        match found {
            Ok(own) => *row = written(&own),
            Err(own) if refusal.is_none() => refusal = Some((Some(place), own)),
            Err(_) => {}
        }
    }
    page(visit, &rows, fields, refusal)
}

/// `POST /session`
pub(in crate::web) fn start(visit: &Visit) -> Answer {
    let fields = &visit.fields;
    let mut rows = rows_of(fields);
    if fields.ticked("more") {
        rows.resize_with((rows.len() + 1).min(MOST_ROWS), Fields::default);
        return page(visit, &rows, fields, None);
    }
    let prints: Vec<PrintAnswers> = rows.iter().filter(|row| !row.is_empty()).map(answers_of).collect();
    let moment = visit.moment();
    for (place, own) in rows.iter().enumerate().filter(|(_, row)| !row.is_empty()) {
        // The book is let go before the page asks for it.
        let checked = check_print(&visit.studio(), &moment, &answers_of(own));
        if let Err(refusal) = checked {
            return page(visit, &rows, fields, Some((Some(place), refusal)));
        }
    }
    let own = |name: &str| fields.answer(name);
    let answers = BeginSession {
        prints,
        plan: SessionAnswers {
            exposure: own("exposure"),
            people: own("people"),
            lamps: own("lamps"),
            frames: own("frames"),
            trays: own("trays"),
            baths: own("baths"),
            double: fields.ticked("double"),
            printing_out: fields.ticked("printing_out"),
            coat: own("coat"),
            dry: own("dry"),
            humidify: own("humidify"),
            load: own("load"),
            develop: own("develop"),
            clear: own("clear"),
            wash: own("wash"),
            hang: own("hang"),
            // The first step may be begun now; the clock on the wall says when that is.
            start: Some(visit.time_of_day()),
            ..SessionAnswers::default()
        },
        lamp: own("lamp"),
        developer: own("developer"),
        bath_names: ["bath_1", "bath_2", "bath_3"].into_iter().map_while(own).collect(),
        tool: own("tool"),
    };
    let begun = begin(&mut visit.studio(), &moment, &visit.reading(), &answers);
    match begun {
        Ok(number) => Ok(Reply::see(format!("/session/{}", number.get()))),
        Err(refusal) => page(visit, &rows, fields, Some((None, refusal))),
    }
}

/// Rows of a form: each begins where a question stands again.
fn rows_of(fields: &Fields) -> Vec<Fields> {
    let named = |name: &str| ROW.iter().any(|ask| ask.name == name);
    let mut rows: Vec<Vec<(&str, &str)>> = Vec::new();
    for (name, value) in fields.pairs().filter(|(name, _)| named(name)) {
        let again = rows.last().is_none_or(|row| row.iter().any(|(own, _)| *own == name));
        if again {
            rows.push(Vec::new());
        }
        if let Some(row) = rows.last_mut() {
            row.push((name, value));
        }
    }
    rows.iter().map(|row| Fields::of(row)).collect()
}

fn answers_of(row: &Fields) -> PrintAnswers {
    let pours = row.answer("pours").unwrap_or_default();
    PrintAnswers {
        title: row.answer("title"),
        image: row.answer("image"),
        margin: row.answer("margin"),
        paper: row.answer("paper"),
        negative: None,
        time: row.answer("time"),
        pours: pours.split(';').map(str::trim).filter(|own| !own.is_empty()).map(String::from).collect(),
        repeat: row.answer("repeat"),
    }
}

fn written(own: &PrintAnswers) -> Fields {
    let pours = own.pours.join("; ");
    let text = |answer: &Option<String>| answer.clone().unwrap_or_default();
    let all = [
        ("repeat", text(&own.repeat)),
        ("title", text(&own.title)),
        ("image", text(&own.image)),
        ("margin", text(&own.margin)),
        ("paper", text(&own.paper)),
        ("time", text(&own.time)),
        ("pours", pours),
    ];
    let all: Vec<(&str, &str)> = all.iter().map(|(name, value)| (*name, value.as_str())).collect();
    Fields::of(&all)
}

/// What is kept of a kind, as choices.
fn names(visit: &Visit, kind: RecordKind) -> Result<Vec<String>, Refusal> {
    Ok(kept(&visit.studio(), kind)?.into_iter().map(|own| own.name).collect())
}

fn choices(names: &[String]) -> Vec<(&str, &str)> {
    std::iter::once(("", "not said")).chain(names.iter().map(|own| (own.as_str(), own.as_str()))).collect()
}

fn page(visit: &Visit, rows: &[Fields], fields: &Fields, refusal: Option<(Option<usize>, Refusal)>) -> Answer {
    let (under_way, running, bases) = {
        let studio = visit.studio();
        (sessions(&studio, LISTED)?, timers(&studio, &visit.reading())?, setups(&studio, visit.now())?)
    };
    let (lamps, baths, tools) =
        (names(visit, RecordKind::Lamp)?, names(visit, RecordKind::Bath)?, names(visit, RecordKind::Tool)?);
    let (lamps, baths, tools) = (choices(&lamps), choices(&baths), choices(&tools));
    let choose = |name, label, all| Ask { name, about: None, label, why: "", way: Way::One(all) };
    let named = [
        choose("lamp", "Which lamp?", &lamps),
        choose("developer", "Which developer?", &baths),
        choose("bath_1", "Which first clearing bath?", &baths),
        choose("bath_2", "Which second?", &baths),
        choose("bath_3", "Which third?", &baths),
        choose("tool", "Which brush or rod?", &tools),
    ];
    let (row, whole) = match &refusal {
        Some((row, refusal)) => (*row, Some(refusal)),
        None => (None, None),
    };
    let whole_here = whole.filter(|_| row.is_none());
    let asked = Asked { form: "day", fields, refusal: whole_here };
    let every: Vec<Ask<'_>> = WITH.iter().chain(&MORE).copied().collect();
    let count = rows.len().max(1);
    let empty = Fields::default();
    let body = html! {
        (frame::title("The day's printing", "Prints side by side, one big step at a time. It goes on where it stood, on any screen."))
        @if under_way.iter().any(|own| !own.ended) { section { h2 { "Under way" } (going(&under_way)) } }
        section {
            h2 { "Begin" }
            (form::post(visit, "/session", &html! {
                (asked.trouble(&every))
                @for (place, own) in rows.iter().chain(std::iter::once(&empty).filter(|_| rows.is_empty())).enumerate() {
                    @let id = format!("p{}", place + 1);
                    @let here = Asked { form: &id, fields: own, refusal: whole.filter(|_| row == Some(place)) };
                    fieldset.rowed {
                        legend { "Print " (place + 1) }
                        (here.trouble(&ROW))
                        (here.all(&ROW))
                    }
                }
                (expose::all_in_force(&bases))
                h3 { "What there is" }
                (asked.all(&WITH))
                @for ask in &named { @if matches!(ask.way, Way::One(all) if all.len() > 1) { (asked.ask(ask)) } }
                details.more open[asked.blames(&MORE)] {
                    summary { "Times, baths and ways " span.soft { "as usual, unless you say so" } }
                    (asked.all(&MORE))
                }
                p.actions {
                    button type="submit" { "Begin now" }
                    @if count < MOST_ROWS { button.quiet type="submit" name="more" value="yes" { "One print more" } }
                }
            }))
        }
        (timer_bar(visit, &running, "/session", true))
        @if under_way.iter().any(|own| own.ended) { section { h2 { "Earlier" } (earlier(&under_way)) } }
    };
    Ok(Reply::page("The day's printing", "/session", body).refusing(whole).with_script("session"))
}

/// Sessions that are not over, for this page and for Today.
pub(in crate::web) fn going(all: &[SessionLine]) -> Markup {
    html! {
        @for own in all.iter().filter(|own| !own.ended) {
            p.actions.going {
                a.btn href=(format!("/session/{}", own.number)) { "Go on with session " (own.number) }
                span { (own.titles.join(", ")) "; " (own.over) " of " (own.titles.len()) " over" }
            }
        }
    }
}

fn earlier(all: &[SessionLine]) -> Markup {
    html! {
        ul.rows {
            @for own in all.iter().filter(|own| own.ended) {
                li { a href=(format!("/session/{}/plan", own.number)) { b { "Session " (own.number) } span { (when(own.begun)) ": " (own.titles.join(", ")) } } }
            }
        }
    }
}
