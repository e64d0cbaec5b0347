//! What is added to a print later: verdicts, densities, where it is, a picture. Its number and what was poured never change.

use std::collections::BTreeMap;

use handcoat_book::{Deed, Photo, RecordKind};

use super::coat::numbered;
use super::record::{link_negative, negative_named};
use super::sheet::PrintSheet;
use super::table::FIELDS;
use crate::keep::record_body;
use crate::studio::digest;
use crate::{Done, Moment, Question, Refusal, RefusalKind, Remedy, Studio};

/// A picture as it came.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// What sort: `image/jpeg`, `image/png`.
    pub media: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// Larger pictures are made smaller before they are kept: the book is one file.
const MOST_BYTES: usize = 20_000_000;

/// Writes fields of a print; an answer of nothing makes one unknown again.
///
/// # Errors
/// [`Refusal`] when there is no such print, or an answer cannot be read.
pub fn note(
    studio: &mut Studio,
    moment: &Moment,
    print: &str,
    answers: &BTreeMap<&'static str, String>,
) -> Result<Done, Refusal> {
    let acted = studio.book.act(&moment.asked(&(print, answers))?, "print_note", |acting| {
        let mut record = numbered(acting, RecordKind::Print, Question::Print, print)?;
        if answers.is_empty() {
            return Err(Refusal::missing(super::record::question("dry"), "good, shadows open"));
        }
        let mut sheet = PrintSheet::of(&record)?;
        let (was, mut now) = (sheet.fields(), sheet.fields().read(FIELDS, answers)?);
        let mut of_negative = Vec::new();
        if answers.contains_key("negative") {
            sheet.negative_made = None;
            let found = now.text("negative").map(|own| negative_named(acting, own)).transpose()?.flatten();
            if let Some(negative) = found {
                now.set("negative", negative.name.clone());
                of_negative = link_negative(acting, &mut sheet, &negative, moment.at)?;
            }
        }
        sheet.fields = now.to_json();
        record.facts = sheet.to_json();
        acting.change_record(&record)?;
        let mut said = FIELDS
            .iter()
            .filter(|field| answers.contains_key(field.key))
            .map(|field| {
                let now = now.text(field.key).unwrap_or("unknown");
                match was.text(field.key).filter(|was| *was != now) {
                    Some(was) => format!("Print {}, {}: {now}; before: {was}.", record.ordinal, field.label),
                    None => format!("Print {}, {}: {now}.", record.ordinal, field.label),
                }
            })
            .collect::<Vec<_>>();
        said.extend(of_negative);
        Ok::<_, Refusal>(Deed { body: record_body(&record, &said), entry: None })
    })?;
    Ok(Done::of(&acted))
}

/// Keeps a picture of a print, byte for byte.
///
/// # Errors
/// [`Refusal`] when there is no such print, or the bytes are no JPEG or PNG of a size a book can carry.
pub fn add_picture(studio: &mut Studio, moment: &Moment, print: &str, bytes: &[u8]) -> Result<Done, Refusal> {
    let about = Question::Photo;
    if bytes.len() > MOST_BYTES {
        let cause = format!("the picture has {} bytes; a book carries up to {MOST_BYTES} each", bytes.len());
        return Err(Refusal::rule("photo_too_large", about, cause, vec![Remedy::SmallerPicture]));
    }
    let media = match bytes {
        [0xff, 0xd8, 0xff, ..] => "image/jpeg",
        [0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a, ..] => "image/png",
        _ => {
            let cause = "the file is no JPEG and no PNG by its first bytes".into();
            return Err(Refusal::unreadable("photo_unreadable", about, cause, vec![Remedy::SmallerPicture]));
        }
    };
    let photo = Photo { sha256: digest(bytes), media: media.into(), bytes: bytes.to_vec() };
    let acted = studio.book.act(&moment.asked(&(print, &photo.sha256))?, "picture", |acting| {
        let mut record = numbered(acting, RecordKind::Print, Question::Print, print)?;
        let mut sheet = PrintSheet::of(&record)?;
        acting.add_photo(&photo, moment.at)?;
        let said = if sheet.photos.contains(&photo.sha256) {
            vec![format!("Print {} had this picture already.", record.ordinal)]
        } else {
            sheet.photos.push(photo.sha256.clone());
            record.facts = sheet.to_json();
            acting.change_record(&record)?;
            vec![format!("Print {} has a picture: {}.", record.ordinal, photo.sha256)]
        };
        Ok::<_, Refusal>(Deed { body: record_body(&record, &said), entry: None })
    })?;
    Ok(Done::of(&acted))
}

/// A picture by the SHA-256 of its bytes.
///
/// # Errors
/// [`Refusal`] when there is none, or the book cannot be read.
pub fn picture(studio: &Studio, sha256: &str) -> Result<Picture, Refusal> {
    let found = studio.book.photo(sha256)?;
    found.map(|own| Picture { media: own.media, bytes: own.bytes }).ok_or_else(|| Refusal {
        code: "photo_unknown",
        kind: RefusalKind::Missing,
        about: Some(Question::Photo),
        cause: "no such picture is in the book".into(),
        excerpt: None,
        remedies: vec![Remedy::ListPrints],
    })
}
