//! What somebody answered about the day's printing, and reading it.

use handcoat_craft::measure::{Readable, Span, shortened};
use handcoat_craft::session::{MOST_PRINTS, Means, Sheet, Spans, TimeOfDay, TraysTooFew};
use handcoat_craft::source::{CLEARING_BATHS, DRYING_PLACES, Fact, HUMIDIFYING_SPAN, WASH_HOLDS};
use handcoat_sheets::PaperSize;

use crate::stock::{read, read_count};
use crate::{Question, Refusal, Remedy};

/// Answers to the questions of a session plan. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct SessionAnswers {
    pub prints: Option<String>,
    pub named: Vec<String>,
    pub exposure: Option<String>,
    pub people: Option<String>,
    pub lamps: Option<String>,
    pub frames: Option<String>,
    pub trays: Option<String>,
    pub baths: Option<String>,
    pub drying_places: Option<String>,
    pub humid_places: Option<String>,
    pub wash_holds: Option<String>,
    pub double: bool,
    pub printing_out: bool,
    pub coat: Option<String>,
    pub dry: Option<String>,
    pub humidify: Option<String>,
    pub load: Option<String>,
    pub develop: Option<String>,
    pub clear: Option<String>,
    pub wash: Option<String>,
    pub hang: Option<String>,
    pub start: Option<String>,
}

/// The answers read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Request {
    pub(super) sheets: Vec<Sheet>,
    pub(super) means: Means,
    pub(super) start: TimeOfDay,
    pub(super) assumed: Assumed,
}

/// Spans nobody has said: what, and how long each was taken to be.
pub(super) type Assumed = Vec<(&'static str, Span)>;

/// The most of anything a studio has: beyond it there is a slip of the pen.
const MOST_MEANS: u32 = 40;
/// When a session begins if nobody says.
const USUAL_START: &str = "10:00";

fn few(about: Question, answer: Option<&String>, usual: u16) -> Result<u16, Refusal> {
    let count = read_count(about, answer, usual.into(), 1..=MOST_MEANS)?;
    Ok(u16::try_from(count).unwrap_or(usual))
}

/// Reads a size of paper.
pub(crate) fn read_paper(answer: Option<&String>) -> Result<PaperSize, Refusal> {
    let Some(text) = answer else { return Ok(PaperSize::default()) };
    PaperSize::from_name(text).ok_or_else(|| {
        let about = Question::PaperSize;
        let cause = format!("`{}` is no size of paper known here; expected `a4` or `letter`", shortened(text));
        Refusal::unreadable("paper_size_unreadable", about, cause, vec![Remedy::Write(about, "a4".into())])
    })
}

impl SessionAnswers {
    fn start(&self) -> Result<TimeOfDay, Refusal> {
        let text = self.start.as_deref().unwrap_or(USUAL_START);
        TimeOfDay::read(text).ok_or_else(|| {
            let about = Question::Start;
            let text = shortened(text);
            let cause = format!("`{text}` is no time of day; expected hours and minutes of 24 hours, as `14:05`");
            Refusal::unreadable("start_unreadable", about, cause, vec![Remedy::Write(about, USUAL_START.into())])
        })
    }

    /// The spans all prints share, and those nobody has said.
    fn spans(&self) -> Result<(Spans, Assumed), Refusal> {
        let mut spans = Spans::usual();
        let mut assumed = Vec::new();
        let humidify = usual_span(&HUMIDIFYING_SPAN);
        if self.printing_out {
            spans.humidify = humidify;
        }
        let asked = [
            ("coat", Question::CoatSpan, &self.coat, &mut spans.coat),
            ("dry", Question::DrySpan, &self.dry, &mut spans.dry),
            ("humidify", Question::HumidifySpan, &self.humidify, &mut spans.humidify),
            ("load", Question::LoadSpan, &self.load, &mut spans.load),
            ("expose", Question::Exposure, &self.exposure, &mut spans.expose),
            ("develop", Question::DevelopSpan, &self.develop, &mut spans.develop),
            ("clear", Question::ClearSpan, &self.clear, &mut spans.clear),
            ("wash", Question::WashSpan, &self.wash, &mut spans.wash),
            ("hang", Question::HangSpan, &self.hang, &mut spans.hang),
        ];
        for (word, about, answer, own) in asked {
            match read::<Span>(about, answer.as_ref())? {
                Some(said) => *own = said,
                None if *own > Span::ZERO => assumed.push((word, *own)),
                None => {}
            }
        }
        if self.printing_out {
            for (word, _) in assumed.iter_mut().filter(|(word, _)| *word == "develop") {
                *word = "first rinse";
            }
        }
        Ok((spans, assumed))
    }

    /// How many clearing baths: as said, or as many as there are trays for, or the usual three.
    fn baths(&self, trays: Option<u16>) -> Result<u8, Refusal> {
        let usual = u32::from(CLEARING_BATHS.value);
        let fits = trays.map_or(usual, |trays| u32::from(trays).saturating_sub(2).clamp(1, usual));
        let count = read_count(Question::Baths, self.baths.as_ref(), fits, 1..=3)?;
        Ok(u8::try_from(count).unwrap_or(CLEARING_BATHS.value))
    }

    fn means(&self, spans: &Spans) -> Result<(Means, u8), Refusal> {
        let trays = self.trays.as_ref().map(|_| few(Question::Trays, self.trays.as_ref(), 5)).transpose()?;
        let baths = self.baths(trays)?;
        let holds = few(Question::WashHolds, self.wash_holds.as_ref(), WASH_HOLDS.value)?;
        let means = Means {
            people: few(Question::People, self.people.as_ref(), 1)?,
            lamps: few(Question::Lamps, self.lamps.as_ref(), 1)?,
            frames: few(Question::Frames, self.frames.as_ref(), 1)?,
            drying: few(Question::DryingPlaces, self.drying_places.as_ref(), DRYING_PLACES.value)?,
            humid: few(Question::HumidPlaces, self.humid_places.as_ref(), 1)?,
            ..Means::default()
        };
        let trays = trays.unwrap_or(u16::from(baths) + 2);
        let means = means.with_trays(trays, baths, holds, spans).map_err(|error| too_few(&error))?;
        Ok((means, baths))
    }

    /// The answers read.
    pub(super) fn request(&self) -> Result<Request, Refusal> {
        let (spans, mut assumed) = self.spans()?;
        let (means, baths) = self.means(&spans)?;
        let start = self.start()?;
        let named = self.named.iter().map(|text| read_named(text)).collect::<Result<Vec<_>, _>>()?;
        let usual = u32::try_from(named.len()).unwrap_or(u32::MAX).max(1);
        let most = u32::try_from(MOST_PRINTS).unwrap_or(u32::MAX);
        let prints = read_count(Question::Prints, self.prints.as_ref(), usual, 1..=most)? as usize;
        let all_said = named.len() >= prints && named.iter().all(|(_, own)| own.is_some());
        // Prints with names first; those nobody has named are numbered.
        let names = named.into_iter().map(Some).chain(std::iter::repeat(None));
        let prints = prints.max(self.named.len());
        let sheet = |(name, place): (Option<(String, Option<Span>)>, usize)| {
            let (name, own) = name.unwrap_or_else(|| (format!("Print {place}"), None));
            let spans = Spans { expose: own.unwrap_or(spans.expose), ..spans };
            Sheet { name, coats: if self.double { 2 } else { 1 }, printing_out: self.printing_out, baths, spans }
        };
        let sheets: Vec<Sheet> = names.zip(1..=prints).map(sheet).collect();
        // An exposure every print has of its own was said.
        if !self.named.is_empty() && all_said {
            assumed.retain(|(word, _)| *word != "expose");
        }
        Ok(Request { sheets, means, start, assumed })
    }
}

fn usual_span(fact: &Fact<f64>) -> Span {
    // Minutes of the table are far within a span; a test of the table reads them all.
    Span::seconds(fact.value * 60.0).unwrap_or(Span::ZERO)
}

/// A name, and behind it the exposure if this print has its own: `heron 8:00`.
fn read_named(text: &str) -> Result<(String, Option<Span>), Refusal> {
    let text = text.trim();
    let about = Question::PrintNamed;
    if text.is_empty() {
        let cause = String::from("a print without a name cannot be told from another");
        let remedies = vec![Remedy::Write(about, "heron 8:00".into())];
        return Err(Refusal::unreadable("name_unreadable", about, cause, remedies));
    }
    let Some((name, last)) = text.rsplit_once(char::is_whitespace) else { return Ok((text.into(), None)) };
    match Span::read(last) {
        Ok(span) => Ok((name.trim().into(), Some(span))),
        Err(error) if last.contains(':') => Err(Refusal::quantity(about, "`heron 8:00`", &error)),
        Err(_) => Ok((text.into(), None)),
    }
}

fn too_few(error: &TraysTooFew) -> Refusal {
    let needed = u16::from(error.baths) + 2;
    let mut remedies = vec![Remedy::Write(Question::Trays, needed.to_string())];
    if error.trays > 2 {
        remedies.push(Remedy::Write(Question::Baths, (error.trays - 2).to_string()));
    }
    Refusal::rule("trays_too_few", Question::Trays, error.to_string(), remedies)
}
