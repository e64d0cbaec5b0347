//! Answers as a form or an address carries them.

use form_urlencoded::Serializer;

/// Names and answers, in the order they were sent.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Fields(Vec<(String, String)>);

impl Fields {
    /// Takes a query or a form's body apart. Bytes that are no UTF-8 become replacement characters, which no answer holds.
    pub(crate) fn read(bytes: &[u8]) -> Self {
        Self(form_urlencoded::parse(bytes).into_owned().collect())
    }

    /// These answers.
    pub(crate) fn of(pairs: &[(&str, &str)]) -> Self {
        Self(pairs.iter().map(|(name, value)| (String::from(*name), String::from(*value))).collect())
    }

    /// The same, where they were made.
    pub(crate) fn owned(pairs: Vec<(String, String)>) -> Self {
        Self(pairs)
    }

    /// The first answer under a name, as it was written.
    pub(crate) fn get(&self, name: &str) -> Option<&str> {
        self.0.iter().find(|(own, _)| own == name).map(|(_, value)| value.as_str())
    }

    /// The answer under a name; a field left empty is a question left open.
    pub(crate) fn answer(&self, name: &str) -> Option<String> {
        self.get(name).map(str::trim).filter(|text| !text.is_empty()).map(String::from)
    }

    /// All answers under a name.
    pub(crate) fn answers(&self, name: &str) -> Vec<String> {
        let own = self.0.iter().filter(|(own, value)| own == name && !value.trim().is_empty());
        own.map(|(_, value)| value.trim().into()).collect()
    }

    /// Whether a box was ticked.
    pub(crate) fn ticked(&self, name: &str) -> bool {
        self.answer(name).is_some()
    }

    /// Whether nothing was answered.
    pub(crate) fn is_empty(&self) -> bool {
        self.0.iter().all(|(_, value)| value.trim().is_empty())
    }

    /// Names and answers.
    pub(crate) fn pairs(&self) -> impl Iterator<Item = (&str, &str)> {
        self.0.iter().map(|(name, value)| (name.as_str(), value.as_str()))
    }

    /// The same with one answer replaced, or taken back.
    pub(crate) fn with(&self, name: &str, value: Option<&str>) -> Self {
        let mut pairs: Vec<(String, String)> = self.0.iter().filter(|(own, _)| own != name).cloned().collect();
        pairs.extend(value.map(|value| (name.into(), value.into())));
        Self(pairs)
    }

    /// An address with these answers. Open questions are left out, but for the scale: left open on purpose, it is not the studio's
    /// own that is meant.
    pub(crate) fn address(&self, path: &str) -> String {
        let mut query = Serializer::new(String::new());
        query.extend_pairs(self.pairs().filter(|(name, value)| *name == "balance" || !value.trim().is_empty()));
        let query = query.finish();
        if query.is_empty() { path.into() } else { format!("{path}?{query}") }
    }
}
