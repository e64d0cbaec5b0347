//! Beginning the day's printing: what each print is to be, read before anything is kept.

use std::collections::BTreeMap;

use handcoat_book::{RecordKind, SessionNumber};
use handcoat_craft::ledger::ItemCode;
use handcoat_craft::measure::{Readable, Span, shortened};
use handcoat_craft::session::{Course, MOST_PRINTS, Reading, Sheet, Spans};

use super::SessionAnswers;
use super::state::{BATHS, Begun, PourKept, PrintKept, State, kept_spans, not_planned, span_ms};
use crate::keep::Fields;
use crate::print::{FIELDS, Repeat, print, read_pour, read_title, repeat};
use crate::shelf::Shelf;
use crate::{Moment, Question, Refusal, RefusalKind, Remedy, Studio};

/// One print of the day. What is left open is taken from the print it repeats.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct PrintAnswers {
    pub title: Option<String>,
    pub image: Option<String>,
    pub margin: Option<String>,
    pub paper: Option<String>,
    pub negative: Option<String>,
    pub time: Option<String>,
    /// Each `BOTTLE=23` drops, or `BOTTLE=1.15mL`, for one coat.
    pub pours: Vec<String>,
    /// The print it repeats.
    pub repeat: Option<String>,
}

/// The day's printing, before its first step.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct BeginSession {
    pub prints: Vec<PrintAnswers>,
    /// People, lamps, frames, trays and spans; its prints and names are not looked at.
    pub plan: SessionAnswers,
    pub lamp: Option<String>,
    pub developer: Option<String>,
    /// Names of the clearing baths, in their order.
    pub bath_names: Vec<String>,
    pub tool: Option<String>,
}

/// How many of the newest sessions are looked through for one begun under the same key.
const LOOKED_THROUGH: u32 = 20;

/// Begins the day's printing.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, a bottle is not on the shelf, or there is no plan; nothing is begun then.
pub fn begin(
    studio: &mut Studio,
    moment: &Moment,
    reading: &Reading,
    answers: &BeginSession,
) -> Result<SessionNumber, Refusal> {
    moment.stamp()?;
    for row in studio.book.newest_sessions(LOOKED_THROUGH)? {
        if row.body.get("key").and_then(serde_json::Value::as_str) == Some(moment.key.as_str()) {
            return Ok(row.number);
        }
    }
    let state = state(studio, moment, reading, answers)?;
    // A day without a plan is told before anybody puts gloves on.
    Course::begin(state.sheets(), state.means.means()).map_err(|error| not_planned(&error.to_string()))?;
    Ok(studio.book.begin_session(moment.at, &state.to_body())?)
}

fn state(studio: &Studio, moment: &Moment, reading: &Reading, answers: &BeginSession) -> Result<State, Refusal> {
    if answers.prints.is_empty() {
        return Err(Refusal::missing(Question::PrintNamed, "heron; time 6:00; pour palladium stock=23"));
    }
    if answers.prints.len() > MOST_PRINTS {
        let cause =
            format!("{} prints are more than a session holds; expected at most {MOST_PRINTS}", answers.prints.len());
        return Err(not_planned(&cause));
    }
    let plan =
        SessionAnswers { prints: Some(answers.prints.len().to_string()), named: Vec::new(), ..answers.plan.clone() };
    let request = plan.request()?;
    let named: BTreeMap<&'static str, String> =
        [("lamp", &answers.lamp), ("developer", &answers.developer), ("tool", &answers.tool)]
            .into_iter()
            .filter_map(|(key, own)| Some((key, own.clone()?)))
            .chain(BATHS.into_iter().zip(answers.bath_names.iter().cloned()))
            .collect();
    let named = Fields::default().read(FIELDS, &named)?;
    let text = |key: &str| named.text(key).map(String::from);
    let mut prints = Vec::new();
    for (own, sheet) in answers.prints.iter().zip(&request.sheets) {
        let mut print = read_print(studio, moment, own)?;
        print.like = repeated_way(studio, own)?;
        let (mut spans, baths) = as_repeated(&print.like, &plan, sheet);
        if let Some(time) = own_time(studio, moment, own)? {
            spans.expose = time;
        }
        print.spans_ms = kept_spans(&spans);
        (print.coats, print.printing_out, print.baths) = (sheet.coats, sheet.printing_out, baths);
        prints.push(print);
    }
    Ok(State {
        v: 1,
        key: moment.key.clone(),
        start: request.start.after(Span::ZERO),
        clock: Begun::of(reading),
        means: request.means.into(),
        lamp: text("lamp"),
        developer: text("developer"),
        baths: BATHS.into_iter().map_while(text).collect(),
        tool: text("tool"),
        prints,
        events: Vec::new(),
    })
}

/// What a repeated print says of how it was worked, beyond what is asked of each print.
fn repeated_way(studio: &Studio, own: &PrintAnswers) -> Result<BTreeMap<String, String>, Refusal> {
    let Some(number) = &own.repeat else { return Ok(BTreeMap::new()) };
    let first = print(studio, number)?;
    let keys = ["tool", "lamp", "developer", "developing_time", "clearing_time", "washing"].into_iter().chain(BATHS);
    Ok(keys.filter_map(|key| Some((key.into(), first.of(key)?.into()))).collect())
}

/// Spans and baths as the repeated print had them, where nothing else was said.
fn as_repeated(like: &BTreeMap<String, String>, said: &SessionAnswers, sheet: &Sheet) -> (Spans, u8) {
    let named = BATHS.iter().filter(|key| like.contains_key(**key)).count();
    let named = u8::try_from(named).ok().filter(|count| *count > 0 && said.baths.is_none());
    let baths = named.map_or(sheet.baths, |count| count.min(sheet.baths));
    let mut spans = sheet.spans;
    let of = |key: &str, said: &Option<String>| {
        let text = like.get(key).filter(|_| said.is_none())?;
        Span::read(text).ok().filter(|span| *span > Span::ZERO)
    };
    // What was printed out was not developed: that span is its first rinse.
    if let (Some(span), false) = (of("developing_time", &said.develop), sheet.printing_out) {
        spans.develop = span;
    }
    if let Some(span) = of("clearing_time", &said.clear) {
        spans.clear = span_ms(span.to_milliseconds() / u64::from(baths.max(1)));
    }
    if let Some(span) = of("washing", &said.wash) {
        spans.wash = span;
    }
    (spans, baths)
}

/// Whether one print can be begun as it is written.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, or a bottle is not on the shelf.
pub fn check_print(studio: &Studio, moment: &Moment, own: &PrintAnswers) -> Result<(), Refusal> {
    read_print(studio, moment, own)?;
    own_time(studio, moment, own).map(|_| ())
}

/// What is left open of a print, out of the one it repeats.
///
/// # Errors
/// [`Refusal`] when that print is not there, or an answer cannot be read.
pub fn repeated_print(studio: &Studio, moment: &Moment, own: &PrintAnswers) -> Result<PrintAnswers, Refusal> {
    let Some(number) = &own.repeat else { return Ok(own.clone()) };
    let asked = Repeat {
        print: Some(number.clone()),
        image: own.image.clone(),
        margin: own.margin.clone(),
        room_humidity: None,
    };
    let (first, again) = (print(studio, number)?, repeat(studio, &asked, moment.at)?);
    let of = |answer: &Option<String>, key: &str| answer.clone().or_else(|| first.of(key).map(String::from));
    let pours = again.solutions.iter().filter_map(|one| Some(format!("{}={}", one.bottle.as_ref()?, one.drops)));
    // A bottle that is gone has to be named by another: half a coat is none.
    let gone = again.solutions.iter().find(|one| one.bottle.is_none());
    if let (Some(gone), true) = (gone, own.pours.is_empty()) {
        let cause = format!(
            "print {number} was coated with {}, and no such bottle is on the shelf; say what is poured instead",
            gone.then.0
        );
        return Err(Refusal::rule("repeat_bottle_gone", Question::Pour, cause, vec![Remedy::ShowShelf]));
    }
    Ok(PrintAnswers {
        title: own.title.clone().or(Some(first.title.clone())),
        image: of(&own.image, "image"),
        margin: of(&own.margin, "margin"),
        paper: of(&own.paper, "paper"),
        negative: of(&own.negative, "negative"),
        time: own.time.clone().or(again.time),
        pours: if own.pours.is_empty() { pours.collect() } else { own.pours.clone() },
        repeat: own.repeat.clone(),
    })
}

fn own_time(studio: &Studio, moment: &Moment, own: &PrintAnswers) -> Result<Option<Span>, Refusal> {
    let time = repeated_print(studio, moment, own)?.time;
    crate::stock::read::<Span>(Question::Exposure, time.as_ref())
}

fn read_print(studio: &Studio, moment: &Moment, own: &PrintAnswers) -> Result<PrintKept, Refusal> {
    let own = repeated_print(studio, moment, own)?;
    let title = read_title(own.title.as_ref())?;
    let answers: BTreeMap<&'static str, String> =
        [("image", own.image), ("margin", own.margin), ("paper", own.paper), ("negative", own.negative)]
            .into_iter()
            .filter_map(|(key, answer)| Some((key, answer?)))
            .collect();
    let fields = Fields::default().read(FIELDS, &answers)?;
    let text = |key: &str| fields.text(key).map(String::from);
    let shelf = Shelf::here_now(studio)?;
    let droppers = studio.book.records(RecordKind::Dropper)?;
    let mut pours = Vec::new();
    for written in &own.pours {
        let read = read_pour(&shelf, &droppers, written)?;
        pours.push(PourKept {
            code: ItemCode::of(read.item).to_string(),
            name: read.name,
            role: read.role.into(),
            metal: read.metal,
            drops: read.drops,
            volume: read.drops.is_none().then(|| written.rsplit('=').next().unwrap_or_default().trim().into()),
        });
    }
    Ok(PrintKept {
        title,
        image: text("image"),
        margin: text("margin"),
        paper: text("paper"),
        negative: text("negative"),
        repeats: own.repeat.as_ref().and_then(|number| number.trim().parse().ok()),
        more: vec![0; pours.len()],
        pours,
        ..PrintKept::default()
    })
}

impl PrintAnswers {
    /// Reads a print written in one line: its title, then what is known of it, each behind a semicolon.
    ///
    /// # Errors
    /// [`Refusal`] with code `print_line_unreadable` for a part that says nothing known.
    pub fn read(line: &str) -> Result<Self, Refusal> {
        let about = Question::PrintNamed;
        let mut parts = line.split(';').map(str::trim);
        let title = parts.next().filter(|own| !own.is_empty());
        let mut out = Self { title: title.map(String::from), ..Self::default() };
        for part in parts.filter(|part| !part.is_empty()) {
            let (word, rest) = part.split_once(char::is_whitespace).unwrap_or((part, ""));
            let answer = Some(String::from(rest.trim())).filter(|own| !own.is_empty());
            let place = match word {
                "image" => &mut out.image,
                "margin" => &mut out.margin,
                "paper" => &mut out.paper,
                "negative" => &mut out.negative,
                "time" => &mut out.time,
                "repeat" => &mut out.repeat,
                "pour" => {
                    out.pours.extend(answer);
                    continue;
                }
                _ => {
                    let cause = format!(
                        "`{}` says nothing of a print; expected `image`, `margin`, `paper`, `negative`, `time`, `pour` or `repeat` and its answer",
                        shortened(part)
                    );
                    let example =
                        vec![Remedy::Write(about, "heron; image 8x10in; time 6:00; pour palladium stock=23".into())];
                    return Err(Refusal::unreadable("print_line_unreadable", about, cause, example));
                }
            };
            *place = answer;
        }
        Ok(out)
    }
}

/// The session with the number that was written, whether or not there is one.
///
/// # Errors
/// [`Refusal`] with code `session_unknown` for what is no number.
pub fn session_numbered(written: &str) -> Result<SessionNumber, Refusal> {
    let number = written.trim().parse().map(SessionNumber::new);
    number.map_err(|_| {
        unknown(format!("`{}` is no number of a session; expected one such as 3", shortened(written.trim())))
    })
}

pub(super) fn unknown(cause: String) -> Refusal {
    let (kind, about) = (RefusalKind::Missing, Some(Question::Session));
    Refusal { code: "session_unknown", kind, about, cause, excerpt: None, remedies: vec![Remedy::ListSessions] }
}

/// What was written is no place in a list.
#[must_use]
pub fn no_place(about: Question, written: &str) -> Refusal {
    let cause = format!("`{}` is no place in a list; expected 1, 2, 3 …", shortened(written.trim()));
    Refusal::unreadable("count_unreadable", about, cause, vec![Remedy::Write(about, "1".into())])
}
