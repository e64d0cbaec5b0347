//! Measurements that are written into the record of a dropper, a tool, a paper, so that the next coat rests on them.

use std::collections::BTreeMap;

use handcoat_book::{Acting, Deed, Record, RecordKind};
use handcoat_craft::measure::{Share, Uncertain, Uptake, significant};
use handcoat_craft::paper::Dropper;

use super::calibrate::Shared;
use crate::keep::{Fields, Keep, changed_in, fields_of, find_among, kept_in, record_body};
use crate::{Day, Done, Moment, Question, Refusal, Remedy, Studio};

/// Digits that are kept of a measurement: more than any of them is good for.
const DIGITS: usize = 6;

/// Which dropper was calibrated, and with what.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct KeepDropper {
    /// Its name; a new one is kept under it.
    pub name: String,
    /// The bottle it is for; one that is kept already has its own.
    pub solution: Option<String>,
}

/// Which tool the share was measured with, and on what.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct KeepShare {
    /// The tool's name; a new one is kept under it.
    pub name: String,
    /// The paper, if what it took is to be kept as its own.
    pub paper: Option<String>,
}

/// Writes a calibration into the record of a dropper.
///
/// # Errors
/// [`Refusal`] when no bottle is named and none was before, when it is not on the shelf, or the name is none.
pub fn keep_dropper(
    studio: &mut Studio,
    moment: &Moment,
    whose: &KeepDropper,
    found: &Dropper,
) -> Result<Done, Refusal> {
    let kind = RecordKind::Dropper;
    let here = studio.book.records(kind)?;
    let own = find_among(&here, kind, Question::Name, &whose.name).ok();
    let solution = own.and_then(|own| Fields::of(&own.facts).text("solution").map(String::from));
    if whose.solution.is_none() && solution.is_none() {
        let field = fields_of(kind).iter().find(|field| field.key == "solution");
        let about = field.map_or(Question::Name, |field| field.question());
        return Err(Refusal::missing(about, "palladium stock"));
    }
    let mut fields = BTreeMap::from([
        ("drops_per_ml", format!("{}drops/mL", significant(found.per_ml.best.to_per_millilitre(), DIGITS))),
        ("drops_per_ml_u", significant(found.per_ml.standard(), DIGITS)),
        ("measured", Day::of_instant(moment.at).to_string()),
    ]);
    fields.extend(whose.solution.clone().map(|solution| ("solution", solution)));
    let there = own.is_some();
    let acted = studio.book.act(&moment.asked(&(whose, found))?, "change", |acting| {
        let (record, said) = put(acting, kind, &whose.name, there, fields)?;
        Ok::<_, Refusal>(Deed { body: record_body(&record, &said), entry: None })
    })?;
    Ok(Done::of(&acted))
}

/// Writes a share into the record of a tool; what the paper took, where its size was said, into that of the paper if one is named, and
/// into the tool's if none is.
///
/// # Errors
/// [`Refusal`] when the paper is not kept, when it is named and no image was measured, or the name is none.
pub fn keep_share(studio: &mut Studio, moment: &Moment, whose: &KeepShare, found: &Shared) -> Result<Done, Refusal> {
    let kind = RecordKind::Tool;
    let here = studio.book.records(kind)?;
    let there = find_among(&here, kind, Question::Name, &whose.name).is_ok();
    let mut fields =
        BTreeMap::from([("share", percent(found.share.best)), ("measured", Day::of_instant(moment.at).to_string())]);
    fields.extend(share_u(&found.share).map(|u| ("share_u", u)));
    let uptake = found.uptake.map(|(_, uptake)| per_area(&uptake));
    let mut of_paper = None;
    match (&whose.paper, uptake) {
        (Some(paper), Some(uptake)) => {
            let papers = studio.book.records(RecordKind::Paper)?;
            let paper = find_among(&papers, RecordKind::Paper, Question::MeasuredOn, paper)?.name.clone();
            of_paper = Some((paper, BTreeMap::from([("uptake", uptake)])));
        }
        (Some(_), None) => {
            let cause = "what the paper took is to be kept, and it is not said how large the image was";
            let remedies =
                vec![Remedy::Write(Question::Image, "8x10in".into()), Remedy::LeaveOut(Question::MeasuredOn)];
            return Err(Refusal::unreadable("answer_missing", Question::Image, cause.into(), remedies));
        }
        (None, uptake) => fields.extend(uptake.map(|uptake| ("uptake", uptake))),
    }
    let acted = studio.book.act(&moment.asked(&(whose, found))?, "change", |acting| {
        let (record, mut said) = put(acting, kind, &whose.name, there, fields)?;
        if let Some((paper, fields)) = of_paper {
            said.extend(put(acting, RecordKind::Paper, &paper, true, fields)?.1);
        }
        Ok::<_, Refusal>(Deed { body: record_body(&record, &said), entry: None })
    })?;
    Ok(Done::of(&acted))
}

fn percent(share: Share) -> String {
    format!("{}%", significant(share.of_whole() * 100.0, DIGITS))
}

fn share_u(share: &Uncertain<Share>) -> Option<String> {
    (share.standard() > 0.0).then(|| significant(share.standard() * 100.0, DIGITS))
}

fn per_area(uptake: &Uncertain<Uptake>) -> String {
    format!("{}mL/100cm2", significant(uptake.best.to_millilitres_per_100_cm2(), DIGITS))
}

fn put(
    acting: &mut Acting<'_>,
    kind: RecordKind,
    name: &str,
    there: bool,
    fields: BTreeMap<&'static str, String>,
) -> Result<(Record, Vec<String>), Refusal> {
    let answers = Keep { name: (!there).then(|| name.to_owned()), fields, came: None };
    if there { changed_in(acting, kind, name, &answers) } else { kept_in(acting, kind, &answers) }
}
