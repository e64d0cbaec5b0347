//! Fields that were read, and reading them back.

use std::collections::BTreeMap;

use handcoat_book::BookError;
use handcoat_craft::measure::Readable;
use serde_json::{Map, Value};

use crate::Refusal;
use crate::field::{Field, number};

/// Fields by key; one that is not there is unknown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Fields(BTreeMap<String, String>);

impl Fields {
    /// Reads answers against a table. An answer of nothing, or `unknown`, makes a field unknown again.
    pub(crate) fn read(
        &self,
        table: &'static [Field],
        answers: &BTreeMap<&'static str, String>,
    ) -> Result<Self, Refusal> {
        let mut read = self.clone();
        for field in table {
            if let Some(text) = answers.get(field.key) {
                match field.read(text)? {
                    Some(kept) => read.0.insert(field.key.into(), kept),
                    None => read.0.remove(field.key),
                };
            }
        }
        Ok(read)
    }

    /// The fields of a record.
    pub(crate) fn of(facts: &Value) -> Self {
        let fields = facts.get("fields").and_then(Value::as_object);
        let texts = fields.into_iter().flatten().filter_map(|(key, own)| Some((key.clone(), own.as_str()?.to_owned())));
        Self(texts.collect())
    }

    pub(crate) fn to_json(&self) -> Value {
        Value::Object(self.0.iter().map(|(key, own)| (key.clone(), own.clone().into())).collect::<Map<_, _>>())
    }

    pub(crate) fn text(&self, key: &str) -> Option<&str> {
        self.0.get(key).map(String::as_str)
    }

    pub(crate) fn set(&mut self, key: &str, text: String) {
        self.0.insert(key.into(), text);
    }

    /// A quantity; it could be read when it was written, so anything else is damage.
    pub(crate) fn quantity<Q: Readable>(&self, key: &str) -> Result<Option<Q>, Refusal> {
        let read =
            |text: &str| Q::read(text).map_err(|_| BookError::unreadable("a field of a record", text.to_owned()));
        Ok(self.text(key).map(read).transpose()?)
    }

    pub(crate) fn number(&self, key: &str) -> Option<f64> {
        self.text(key).and_then(number)
    }

    pub(crate) fn whole(&self, key: &str) -> Option<u32> {
        self.text(key).and_then(|text| text.parse().ok())
    }
}
