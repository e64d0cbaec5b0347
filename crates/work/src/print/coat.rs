//! A coat that was made, or spoiled.

use handcoat_book::{Acting, Deed, Record, RecordKind, Stamp, Standing};
use handcoat_craft::ledger::{Account, Balances, CoatNumber, Draft};
use handcoat_craft::measure::{Length, Size, shortened};

use super::pour::pour_all;
use super::sheet::{CoatSheet, Sum};
use crate::keep::{SHEETS, find_among, record_body};
use crate::stock::{needed, read};
use crate::{Done, Moment, Question, Refusal, RefusalKind, Remedy, Studio};

/// A coat as it was made.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct CoatMade {
    pub title: Option<String>,
    /// Size of the image, its margin and its paper: known later as what was poured last time.
    pub image: Option<String>,
    pub margin: Option<String>,
    pub paper: Option<String>,
    /// Each `BOTTLE=23` drops, or `BOTTLE=1.15mL`.
    pub pours: Vec<String>,
    pub drops_per_ml: Option<String>,
}

/// A coated sheet that came to nothing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct Spoiled {
    pub coat: Option<String>,
    pub because: Option<String>,
    /// The sheet is thrown away; without, it is kept with the residue.
    pub thrown: bool,
}

/// Records a coat; its metal is on the sheet until it becomes a print or is spoiled.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read. More than a bottle holds by the book is no reason: it was poured.
pub fn coat(studio: &mut Studio, moment: &Moment, answers: &CoatMade) -> Result<Done, Refusal> {
    coat_once(studio, moment, &moment.asked(answers)?, answers)
}

/// The same under a stamp of its own: a step of a session is done once, whatever is known of it when it is tapped again.
pub(crate) fn coat_once(
    studio: &mut Studio,
    moment: &Moment,
    stamp: &Stamp,
    answers: &CoatMade,
) -> Result<Done, Refusal> {
    let acted = studio.book.act(stamp, "coat", |acting| {
        if answers.pours.is_empty() {
            return Err(Refusal::missing(Question::Pour, "palladium stock=23"));
        }
        let name = title(answers.title.as_ref())?;
        let size = read::<Size>(Question::Image, answers.image.as_ref())?;
        let margin = read::<Length>(Question::Margin, answers.margin.as_ref())?;
        let papers = acting.records(RecordKind::Paper)?;
        let paper = match &answers.paper {
            None => None,
            Some(text) => Some(find_among(&papers, RecordKind::Paper, Question::CoatPaper, text)?),
        };
        // A sheet is used when it is coated, whatever becomes of it; only a paper whose sheets were counted in is counted out.
        let sheet_counted = match paper {
            Some(paper) => acting.counts(paper)?.contains_key(SHEETS),
            None => false,
        };
        if let Some(paper) = paper.filter(|_| sheet_counted) {
            acting.count(paper, SHEETS, -1);
        }
        let paper = paper.map(|own| own.name.clone());
        let number = coat_number(acting.next_ordinal(RecordKind::Coat)?)?;
        let mut draft = Draft::default();
        let all = pour_all(
            acting,
            &answers.pours,
            answers.drops_per_ml.as_ref(),
            moment.at,
            Account::Coat(number),
            &mut draft,
        )?;
        let sheet = CoatSheet {
            v: 1,
            at: Some(moment.at),
            image: size.and(answers.image.clone()),
            margin: margin.and(answers.margin.clone()),
            paper,
            pours: all.pours,
            cost: all.cost.into_iter().map(Sum::of).collect(),
            cost_incomplete: all.cost_incomplete,
            sheet_counted,
            ..CoatSheet::default()
        };
        let record = acting.add_record(RecordKind::Coat, &name, &sheet.to_json())?;
        let mut said = vec![format!("Coat {} is recorded: {name}.", record.ordinal)];
        said.extend(all.said);
        Ok::<_, Refusal>(Deed { body: record_body(&record, &said), entry: acting.admit(draft)? })
    })?;
    Ok(Done::of(&acted))
}

/// Records that a coated sheet came to nothing; what is on it goes to the residue, or is lost with it.
///
/// # Errors
/// [`Refusal`] when there is no such coat, or it is a print or spoiled already.
pub fn spoil(studio: &mut Studio, moment: &Moment, answers: &Spoiled) -> Result<Done, Refusal> {
    spoil_once(studio, &moment.asked(answers)?, answers)
}

/// The same under a stamp of its own: a step of a session is done once, whatever is known of it when it is tapped again.
pub(crate) fn spoil_once(studio: &mut Studio, stamp: &Stamp, answers: &Spoiled) -> Result<Done, Refusal> {
    let acted = studio.book.act(stamp, "spoil", |acting| {
        let (mut record, mut sheet) = open_coat(acting, needed(Question::Coat, answers.coat.as_ref(), "5")?)?;
        let because = answers.because.as_deref().map_or("not said", str::trim);
        if because.chars().count() > MOST_REASON || because.chars().any(char::is_control) {
            let cause = format!("the reason has more than {MOST_REASON} characters or more than one line");
            return Err(Refusal::unreadable(
                "field_unreadable",
                Question::Reason,
                cause,
                vec![Remedy::Shorten(Question::Reason)],
            ));
        }
        let to = if answers.thrown { Account::Loss } else { Account::Residue };
        let mut draft = Draft::default();
        let number = coat_number(record.ordinal)?;
        empty(&acting.balances_of([Account::Coat(number)])?, number, to, &mut draft);
        sheet.spoiled = Some(because.into());
        record.facts = sheet.to_json();
        record.standing = Standing::Retired;
        acting.change_record(&record)?;
        let kept = if answers.thrown { "thrown away" } else { "kept with the residue" };
        let said = vec![format!("Coat {} is spoiled ({because}); the sheet is {kept}.", record.ordinal)];
        Ok::<_, Refusal>(Deed { body: record_body(&record, &said), entry: acting.admit(draft)? })
    })?;
    Ok(Done::of(&acted))
}

const MOST_REASON: usize = 120;
const MOST_TITLE: usize = 80;

/// Everything a coat holds goes to another account.
pub(super) fn empty(balances: &Balances, coat: CoatNumber, to: Account, draft: &mut Draft) {
    for (commodity, tally) in balances.held_by(Account::Coat(coat)) {
        draft.move_from(Account::Coat(coat), to, commodity, tally);
    }
}

/// A coat that is neither a print nor spoiled.
pub(super) fn open_coat(acting: &Acting<'_>, written: &str) -> Result<(Record, CoatSheet), Refusal> {
    let about = Question::Coat;
    let record = numbered(acting, RecordKind::Coat, about, written)?;
    let sheet = CoatSheet::of(&record)?;
    let done = match (&sheet.print, &sheet.spoiled) {
        (Some(print), _) => Some(format!("is print {print} already")),
        (None, Some(_)) => Some("was spoiled".into()),
        (None, None) => None,
    };
    match done {
        None => Ok((record, sheet)),
        Some(done) => {
            let cause = format!("coat {} {done}", record.ordinal);
            let others = acting.records(RecordKind::Coat)?.into_iter().rev().take(4);
            let open = others.map(|own| Remedy::Write(about, own.ordinal.to_string()));
            let remedies = open.chain([Remedy::ListCoats]).collect();
            Err(Refusal::rule("coat_used", about, cause, remedies))
        }
    }
}

/// A print or a coat by its number.
pub(super) fn numbered(
    acting: &Acting<'_>,
    kind: RecordKind,
    about: Question,
    written: &str,
) -> Result<Record, Refusal> {
    let number = read_number(about, written)?;
    let found = acting.record(kind, number)?.filter(|own| own.standing != Standing::Undone);
    found.ok_or_else(|| not_there(kind, about, number))
}

pub(super) fn read_number(about: Question, written: &str) -> Result<u32, Refusal> {
    written.trim().parse().ok().filter(|own| *own > 0).ok_or_else(|| {
        let cause = format!("`{}` is no number; expected one such as 17", shortened(written.trim()));
        Refusal::unreadable("count_unreadable", about, cause, vec![Remedy::Write(about, "1".into())])
    })
}

pub(super) fn not_there(kind: RecordKind, about: Question, number: u32) -> Refusal {
    Refusal {
        code: "record_unknown",
        kind: RefusalKind::Missing,
        about: Some(about),
        cause: format!("no {} has the number {number}", kind.word()),
        excerpt: None,
        remedies: vec![Remedy::ListPrints],
    }
}

pub(super) fn coat_number(ordinal: u32) -> Result<CoatNumber, Refusal> {
    CoatNumber::new(ordinal).ok_or_else(|| not_there(RecordKind::Coat, Question::Coat, ordinal))
}

/// What a print or a coat is called; not unique.
pub(crate) fn title(answer: Option<&String>) -> Result<String, Refusal> {
    let about = Question::Title;
    let text = needed(about, answer, "Heron, morning")?.trim();
    if text.is_empty() || text.chars().count() > MOST_TITLE || text.chars().any(char::is_control) {
        let cause = format!("`{}` is no title; expected 1 to {MOST_TITLE} characters in one line", shortened(text));
        return Err(Refusal::unreadable(
            "name_unreadable",
            about,
            cause,
            vec![Remedy::Write(about, "Heron, morning".into())],
        ));
    }
    Ok(text.into())
}
