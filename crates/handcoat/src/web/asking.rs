//! Questions made from a table of fields, so that what is asked on a page is said in one place with the flags of the command line.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use handcoat_craft::source::Sign;
use handcoat_work::keep::{RecordKind, kept, kinds};
use handcoat_work::{Field, Form, Refusal, Studio};

use super::fields::Fields;
use super::form::{Ask, Way};
use super::words::capitalised;

/// Names of what is kept, by kind: said beside a field as plain words, because a list of the browser's own would light a darkroom.
pub(super) type Names = BTreeMap<RecordKind, Vec<String>>;

/// How many names stand beside a field.
const MOST_NAMES: usize = 12;

/// What is kept and has a name.
pub(super) fn names(studio: &Studio) -> Result<Names, Refusal> {
    let own = |kind: &RecordKind| {
        let names = kept(studio, *kind)?.into_iter().map(|own| own.name).collect();
        Ok((*kind, names))
    };
    kinds().iter().map(own).collect()
}

/// A field as it is asked for.
pub(super) struct Asking {
    field: &'static Field,
    label: String,
    why: String,
}

impl Asking {
    /// With the names that could be meant.
    pub(super) fn of(field: &'static Field, names: &Names) -> Self {
        let own = match field.form {
            Form::Record(kind) => names.get(&kind).map(Vec::as_slice).unwrap_or_default(),
            _ => &[],
        };
        let why = match (own, field.form) {
            (_, Form::Signs) => String::new(),
            ([], _) => format!("For example {}.", field.example),
            (own, _) => {
                let more = if own.len() > MOST_NAMES { ", …" } else { "" };
                format!("Kept: {}{more}.", own.iter().take(MOST_NAMES).cloned().collect::<Vec<_>>().join(", "))
            }
        };
        Self { field, label: capitalised(field.label), why }
    }

    /// As a form asks it.
    pub(super) fn ask(&self) -> Ask<'_> {
        let way = if self.field.form == Form::Signs { Way::Any(signs()) } else { Way::Words };
        Ask { name: self.field.key, about: Some(self.field.question()), label: &self.label, why: &self.why, way }
    }
}

/// Every sign: its word, and how it is said.
pub(super) fn signs() -> &'static [(&'static str, &'static str)] {
    static SIGNS: OnceLock<Vec<(&'static str, &'static str)>> = OnceLock::new();
    SIGNS.get_or_init(|| Sign::all().iter().map(|sign| (sign.word(), sign.words())).collect())
}

/// What a form said about these fields; several boxes of one name are one answer, and a field that the form has and nobody filled is
/// unknown.
pub(super) fn answers(
    fields: &Fields,
    table: impl IntoIterator<Item = &'static Field>,
) -> BTreeMap<&'static str, String> {
    table.into_iter().map(|field| (field.key, fields.answers(field.key).join(", "))).collect()
}

/// What is known, as a form begins with it; each sign ticks its own box.
pub(super) fn known(all: &[(&'static Field, String)]) -> Vec<(String, String)> {
    let one = |(field, text): &(&'static Field, String)| -> Vec<(String, String)> {
        let parts: Vec<&str> = match field.form {
            Form::Signs => text.split([',', ' ']).filter(|word| !word.is_empty()).collect(),
            _ => vec![text],
        };
        parts.into_iter().map(|part| (field.key.into(), part.into())).collect()
    };
    all.iter().flat_map(one).collect()
}
