//! Negatives in the book: each file that was made with its picture, its settings and its curve, and what prints from it lead back to.

use handcoat_book::{Acting, BookError, Deed, Record, RecordKind, Stamp, Standing};
use handcoat_craft::measure::{fixed, shortened};
use handcoat_craft::tone::{Doubt, SetupPart, Standing as Curve};
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::answers::NegativeAnswers;
use super::apart::{FileFacts, KeptCurve};
use super::mark::mark_in;
use super::rule::rule_read;
use crate::field::Field;
use crate::keep::{Fields, Keep, fields_of, kept_in, plain_name, record_body};
use crate::tone::{one_response, response_within};
use crate::{Done, Question, Refusal, RefusalKind, Remedy, Studio};

/// One file of a negative, as it was made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Making {
    /// When.
    pub at: Timestamp,
    /// Name of the picture.
    pub source: String,
    /// Where the file is.
    pub file: String,
    /// What the file came to, with the picture's SHA-256.
    pub facts: FileFacts,
    /// Every setting.
    pub answers: NegativeAnswers,
    /// The curve, point by point.
    pub curve: KeptCurve,
    /// When the file was last written, as its folder says: one with another time is looked at as a whole. None of what was made before that was kept.
    #[serde(default)]
    pub written: Option<Timestamp>,
    /// Number and name of the set-up it is for: the one that was said, or that of its response.
    pub setup: Option<(u32, String)>,
    /// What was said of it.
    pub lines: Vec<String>,
}

impl Making {
    /// By how much its lengths were corrected: one where they were not. Of what was made before that was kept, by the figure it was made by.
    pub(super) fn rule_correction(&self) -> f64 {
        let kept = || self.curve.setup.as_ref().and_then(|own| own.rule_measured.as_ref());
        let figure = || self.answers.rule_measured.as_ref().or_else(kept);
        let read = || rule_read(Question::RuleMeasured, figure()?, 1.0).ok().map(|own| own.1.correction());
        self.facts.rule_correction.or_else(read).unwrap_or(1.0)
    }

    /// Lengths of the rules it carries in millimetres; none where that was not kept.
    pub(super) fn rules_mm(&self) -> Option<Vec<f64>> {
        self.facts.rules_mm.clone().or_else(|| self.answers.no_border.then(Vec::new))
    }
}

/// What leads from a print to its negative, as it was when the print was recorded.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct NegativeLink {
    /// Number of the negative.
    pub number: u32,
    /// SHA-256 of the file that was the newest.
    pub sha256: String,
    /// Where its curve is from, in words.
    pub curve: String,
    /// The response its curve is of.
    pub response: Option<u32>,
    /// Number and name of the set-up it is for.
    pub setup: Option<(u32, String)>,
    /// Those of the set-up of that response, where it is another.
    #[serde(default)]
    pub curve_setup: Option<(u32, String)>,
}

impl NegativeLink {
    /// In words, without the name.
    #[must_use]
    pub fn words(&self) -> String {
        let head: String = self.sha256.chars().take(12).collect();
        let of = match (&self.setup, self.curve.contains(" of ") && self.curve_setup.is_none()) {
            (Some((_, name)), false) => format!(", set-up {name}"),
            _ => String::new(),
        };
        format!("negative {}, file {head}…, curve: {}{of}", self.number, self.curve)
    }
}

/// A negative.
#[derive(Clone, Debug, PartialEq)]
pub struct NegativeView {
    /// Its number.
    pub number: u32,
    /// Its name.
    pub name: String,
    /// Whether it was put away: its film is gone, and what was printed from it leads back to it all the same.
    pub put_away: bool,
    /// What is known of it otherwise.
    pub known: Vec<(&'static Field, String)>,
    /// Its files, the newest first; none of what was only entered.
    pub made: Vec<Making>,
    /// How the response of the newest stands by now.
    pub doubts: CurveDoubts,
    /// Prints made from it: number and title, the newest first.
    pub prints: Vec<(u32, String)>,
}

/// Longest name that is made of a file's.
const MOST_NAME: usize = 60;
/// Prints that are looked through for those of one negative.
const MOST_PRINTS: u32 = 200;

/// A name for the negative of a file.
pub(super) fn name_of(file: &str) -> String {
    let stem = std::path::Path::new(file).file_stem().map(|own| own.to_string_lossy().into_owned()).unwrap_or_default();
    let plain: String = stem.chars().map(|own| if own.is_control() { ' ' } else { own }).take(MOST_NAME).collect();
    let plain = plain.trim();
    if plain.is_empty() || plain.bytes().all(|own| own.is_ascii_digit()) {
        return format!("negative {plain}").trim().chars().take(MOST_NAME).collect();
    }
    plain.into()
}

/// Keeps a file that was made: with the negative of that name, or as a new one.
pub(super) fn keep_made(studio: &mut Studio, stamp: &Stamp, name: &str, mut making: Making) -> Result<Done, Refusal> {
    let acted = studio.book.act(stamp, "negative", |acting| {
        making.setup = making.curve.for_setup();
        let here = acting.records(RecordKind::Negative)?;
        let found = here.into_iter().find(|own| own.name.to_lowercase() == name.trim().to_lowercase());
        let (mut record, is_new) = match found {
            Some(record) => {
                // Looked at before the work too; meanwhile another may have taken the name.
                taken_by(&record)?.admits(Some(making.facts.source_sha256.as_str()).filter(|own| !own.is_empty()))?;
                (record, false)
            }
            None => {
                let keep = Keep { name: Some(name.into()), ..Keep::default() };
                (kept_in(acting, RecordKind::Negative, &keep)?.0, true)
            }
        };
        let mut fields = Fields::of(&record.facts);
        let (across, down) = making.facts.image_millimetres.unwrap_or(making.facts.millimetres);
        fields.set("size", format!("{}x{}mm", fixed(across, 1), fixed(down, 1)));
        fields.set("curve", making.curve.from.clone());
        if fields.text("source").is_none() {
            fields.set("source", making.source.clone());
        }
        let mut all = makings(&record)?;
        all.push(making.clone());
        record.facts["fields"] = fields.to_json();
        record.facts["made"] =
            serde_json::to_value(&all).map_err(|_| BookError::unreadable("a negative", String::new()))?;
        acting.change_record(&record)?;
        let name = &record.name;
        let said = vec![match (is_new, all.len()) {
            (true, _) => format!("Negative {} is kept: {name}.", record.ordinal),
            (false, times) => {
                format!("Negative {} ({name}) has another file, its {}.", record.ordinal, ordinal(times))
            }
        }];
        Ok::<_, Refusal>(Deed { body: record_body(&record, &said), entry: None })
    })?;
    Ok(Done::of(&acted))
}

/// A negative that has the name another file is to be kept under.
#[derive(Clone, Debug, PartialEq)]
pub struct NameTaken {
    number: u32,
    name: String,
    /// The picture of its newest file: name and SHA-256; none of what was entered by hand.
    made: Option<(String, String)>,
}

/// The negative in use that a file would be kept with: by the name that is said, or by that of the file.
///
/// # Errors
/// [`Refusal`] when what is said is no name, or the book cannot be read.
pub fn name_taken(studio: &Studio, said: Option<&str>, target: &str) -> Result<Option<NameTaken>, Refusal> {
    let name = match said {
        Some(own) => plain_name(RecordKind::Negative, Question::KeptName, own)?,
        None => name_of(target),
    };
    let here = studio.book.records(RecordKind::Negative)?;
    let Some(record) = here.into_iter().find(|own| same(&own.name, &name)) else { return Ok(None) };
    Ok(Some(taken_by(&record)?))
}

fn taken_by(record: &Record) -> Result<NameTaken, Refusal> {
    let made = makings(record)?.pop().map(|own| (own.source, own.facts.source_sha256));
    Ok(NameTaken { number: record.ordinal, name: record.name.clone(), made })
}

impl NameTaken {
    /// Whether a file of the picture with this SHA-256 belongs to it; none where that could not be read, which the job tells.
    ///
    /// # Errors
    /// [`Refusal`] when it was entered by hand, or is of another picture: what prints lead back to is not changed by a name.
    pub fn admits(&self, sha256: Option<&str>) -> Result<(), Refusal> {
        let about = Question::KeptName;
        let what = match (&self.made, sha256) {
            (None, _) => "was entered by hand".to_owned(),
            (Some((_, own)), Some(sha256)) if !own.is_empty() && own != sha256 => {
                let source = self.made.as_ref().map_or("", |own| own.0.as_str());
                format!("is of another picture, `{source}`")
            }
            _ => return Ok(()),
        };
        let cause = format!(
            "negative {}, `{}`, {what}; its prints lead back to it, and another picture is kept under a name of its own",
            self.number, self.name
        );
        let another = Remedy::Write(about, format!("{} 2", self.name));
        Err(Refusal::rule("negative_name_taken", about, cause, vec![another]))
    }
}

/// A place in words: `first`, `21st`.
fn ordinal(place: usize) -> String {
    match (place, place % 100, place % 10) {
        (1, ..) => "first".into(),
        (2, ..) => "second".into(),
        (3, ..) => "third".into(),
        (_, 11..=13, _) => format!("{place}th"),
        (.., 1) => format!("{place}st"),
        (.., 2) => format!("{place}nd"),
        (.., 3) => format!("{place}rd"),
        _ => format!("{place}th"),
    }
}

/// The files of a negative, in the order they were made.
pub(super) fn makings(record: &Record) -> Result<Vec<Making>, Refusal> {
    let made = record.facts.get("made").cloned().unwrap_or(Value::Array(Vec::new()));
    Ok(serde_json::from_value(made).map_err(|error| BookError::unreadable("a negative", error.to_string()))?)
}

/// SHA-256 of each file of a negative, by its facts.
pub(crate) fn files_of(facts: &Value) -> Vec<String> {
    let made = facts.get("made").and_then(Value::as_array).into_iter().flatten();
    made.filter_map(|own| Some(own.pointer("/facts/sha256")?.as_str()?.to_owned())).collect()
}

/// Whether a file of a negative was made for a set-up, or through a curve of it.
pub(crate) fn made_for(record: &Record, setup: u32) -> bool {
    let is = |own: Option<(u32, String)>| own.is_some_and(|own| own.0 == setup);
    makings(record).is_ok_and(|all| all.into_iter().any(|own| is(own.setup) || is(own.curve.of_setup)))
}

/// What a print keeps of its negative; nothing of one whose file was not made here.
pub(crate) fn link_to(record: &Record) -> Result<Option<NegativeLink>, Refusal> {
    Ok(makings(record)?.pop().map(|own| NegativeLink {
        number: record.ordinal,
        sha256: own.facts.sha256,
        curve: own.curve.from,
        response: own.curve.response,
        curve_setup: own.curve.of_setup.filter(|of| own.setup.as_ref().is_some_and(|setup| setup.0 != of.0)),
        setup: own.setup,
    }))
}

/// What speaks by now against the response behind a link, within an act.
pub(crate) fn link_doubts_within(
    acting: &Acting<'_>,
    link: &NegativeLink,
    now: Timestamp,
) -> Result<Vec<String>, Refusal> {
    let Some(number) = link.response else { return Ok(Vec::new()) };
    let doubts = match response_within(acting, number, now)? {
        Some(own) => CurveDoubts { said: own.doubt_words(), stale: own.standing() == Curve::Stale },
        None => CurveDoubts { said: vec![(GONE, gone(number))], stale: true },
    };
    Ok(doubts.sentences().collect())
}

/// Code of a doubt of ours: the response was taken back.
const GONE: &str = "response_gone";

fn gone(number: u32) -> String {
    format!("response {number} is not in the book any more")
}

/// How the response behind a negative stands by now.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CurveDoubts {
    /// What speaks against it, with codes.
    pub said: Vec<(&'static str, String)>,
    /// Whether it is not to be used any more before a chart was read anew.
    pub stale: bool,
}

impl CurveDoubts {
    /// Each in a sentence without its end.
    pub fn sentences(&self) -> impl Iterator<Item = String> + '_ {
        // What was not checked yet is not stale for that: each doubt says its own.
        let begins = |code: &str| if makes_stale(code) { "its curve is stale" } else { "of its curve" };
        self.said.iter().map(move |own| format!("{}: {}", begins(own.0), own.1))
    }
}

/// Whether a doubt with this code is about what has changed, and not about what was never looked at.
fn makes_stale(code: &str) -> bool {
    [Doubt::Changed(SetupPart::Paper).code(), GONE].contains(&code)
}

/// How the response behind a negative stands by now; of a curve that is of none nothing is said.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn link_doubts(studio: &Studio, response: Option<u32>, now: Timestamp) -> Result<CurveDoubts, Refusal> {
    let Some(number) = response else { return Ok(CurveDoubts::default()) };
    match one_response(studio, &number.to_string(), now) {
        Ok(own) => Ok(CurveDoubts { said: own.doubt_words(), stale: own.standing() == Curve::Stale }),
        Err(refusal) if refusal.code == "record_unknown" => {
            Ok(CurveDoubts { said: vec![(GONE, gone(number))], stale: true })
        }
        Err(refusal) => Err(refusal),
    }
}

/// Every negative in use, the newest first.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn negatives(studio: &Studio, now: Timestamp) -> Result<Vec<NegativeView>, Refusal> {
    let records = studio.book.records(RecordKind::Negative)?;
    records.iter().rev().map(|own| view(studio, own, now)).collect()
}

/// Number and name of each negative that was put away, the newest first.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn negatives_put_away(studio: &Studio) -> Result<Vec<(u32, String)>, Refusal> {
    let all = studio.book.records_ever(RecordKind::Negative)?.into_iter().rev();
    Ok(all.filter(|own| own.standing != Standing::Here).map(|own| (own.ordinal, own.name)).collect())
}

/// One negative, by its name or number, or by the mark in its border: what the letters say, or all that the code of squares says. One that was
/// put away is found as well.
///
/// # Errors
/// [`Refusal`] when it is not there, or the book cannot be read.
pub fn one_negative(studio: &Studio, written: &str, now: Timestamp) -> Result<NegativeView, Refusal> {
    let all = studio.book.records_ever(RecordKind::Negative)?;
    let Some(record) = find_negative(&all, written)? else { return Err(unknown(&all, written)) };
    let mut own = view(studio, record, now)?;
    let asked = format!("negative:{}", own.name.split_whitespace().collect::<Vec<_>>().join(" negative:"));
    let prints = studio.book.search_records(RecordKind::Print, &asked, MOST_PRINTS, None)?;
    own.prints = prints
        .into_iter()
        .filter(|print| print.standing == Standing::Here)
        .filter(|print| Fields::of(&print.facts).text("negative").is_some_and(|it| same(it, &own.name)))
        // Another may have had its name before, or has it by now.
        .filter(|print| linked_to(&print.facts).is_none_or(|it| it == own.number))
        .map(|print| (print.ordinal, print.name))
        .collect();
    Ok(own)
}

/// The negative that what somebody wrote leads to: its name, its number, or the mark of one of its files. Of two that lead there one in use goes
/// before one that was put away, and the newer before the older.
pub(crate) fn find_negative<'r>(all: &'r [Record], written: &str) -> Result<Option<&'r Record>, Refusal> {
    let (mut by_use, text): (Vec<&Record>, _) = (all.iter().rev().collect(), written.trim());
    // What sorts keeps the order of those that are alike.
    by_use.sort_by_key(|own| own.standing != Standing::Here);
    let named = by_use.iter().find(|own| same(&own.name, text));
    if let Some(own) = named.or_else(|| by_use.iter().find(|own| own.ordinal.to_string() == text)) {
        return Ok(Some(own));
    }
    let Some(mark) = mark_in(written) else { return Ok(None) };
    for record in by_use {
        if makings(record)?.iter().any(|own| own.facts.mark == mark) {
            return Ok(Some(record));
        }
    }
    Ok(None)
}

/// That no negative is found by what was written; those in use are named.
fn unknown(all: &[Record], written: &str) -> Refusal {
    let about = Question::Negative;
    let named = all.iter().rev().filter(|own| own.standing == Standing::Here).take(4);
    let remedies = named.map(|own| Remedy::Write(about, own.name.clone())).chain([Remedy::ListNegatives]).collect();
    Refusal {
        code: "record_unknown",
        kind: RefusalKind::Missing,
        about: Some(about),
        cause: format!(
            "a negative called `{}` is not in the book, nor one with that number or mark",
            shortened(written.trim())
        ),
        excerpt: None,
        remedies,
    }
}

/// The number of the negative that a print leads back to, by its facts.
fn linked_to(facts: &Value) -> Option<u32> {
    u32::try_from(facts.pointer("/negative_made/number")?.as_u64()?).ok()
}

fn same(one: &str, other: &str) -> bool {
    one.to_lowercase() == other.to_lowercase()
}

fn view(studio: &Studio, record: &Record, now: Timestamp) -> Result<NegativeView, Refusal> {
    let fields = Fields::of(&record.facts);
    let mut made = makings(record)?;
    made.reverse();
    let known = fields_of(record.kind).iter().filter_map(|field| Some((field, fields.text(field.key)?.to_owned())));
    Ok(NegativeView {
        number: record.ordinal,
        name: record.name.clone(),
        put_away: record.standing != Standing::Here,
        known: known.collect(),
        doubts: link_doubts(studio, made.first().and_then(|own| own.curve.response), now)?,
        made,
        prints: Vec::new(),
    })
}
