//! A studio to test with.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicU32, Ordering};

use handcoat_work::shelf::{ItemView, Receive, receive, shelf};
use handcoat_work::{Moment, Studio};

pub(crate) struct TestStudio {
    pub(crate) folder: tempfile::TempDir,
    pub(crate) studio: Studio,
}

impl TestStudio {
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let studio = Studio::create(&folder.path().join("studio.handcoat")).expect("a new book");
        Self { folder, studio }
    }

    /// A jar with these facts.
    pub(crate) fn jar(&mut self, formula: &str, mass: &str, name: &str) {
        let answers = Receive {
            formula: Some(formula.into()),
            mass: Some(mass.into()),
            name: Some(name.into()),
            purity: Some("99%".into()),
            hydrate: Some("none".into()),
            price: Some("480EUR".into()),
            ..Receive::default()
        };
        receive(&mut self.studio, &now(), &answers).expect("received");
    }

    /// What is on the shelf under this name.
    pub(crate) fn item(&self, name: &str) -> ItemView {
        let items = shelf(&self.studio, now().at).expect("the shelf");
        items.into_iter().find(|item| item.name == name).unwrap_or_else(|| panic!("nothing is called {name}"))
    }

    pub(crate) fn sound(&self) {
        let checked = self.studio.check().expect("the check runs");
        assert!(checked.damage.is_empty(), "{:?}", checked.damage);
    }

    /// The same book, opened anew.
    pub(crate) fn reopen(&mut self) {
        self.studio = Studio::open(&self.folder.path().join("studio.handcoat")).expect("opened again");
    }
}

/// A moment of its own, under a key nobody used before.
pub(crate) fn now() -> Moment {
    static COUNT: AtomicU32 = AtomicU32::new(0);
    let count = COUNT.fetch_add(1, Ordering::Relaxed);
    Moment {
        at: "2026-03-14T10:00:00Z".parse().expect("a time"),
        who: "test".into(),
        key: format!("test-key-{count:06}"),
    }
}

/// A moment so many days after the first, under a key nobody used before.
pub(crate) fn day(days: i64) -> Moment {
    let own = now();
    Moment { at: own.at + jiff::SignedDuration::from_hours(24 * days), ..own }
}

/// An answer that was given.
pub(crate) fn some(text: &str) -> Option<String> {
    Some(text.into())
}

/// Fields of a record as they are typed.
pub(crate) fn fields(own: &[(&'static str, &str)]) -> BTreeMap<&'static str, String> {
    own.iter().map(|(key, text)| (*key, (*text).into())).collect()
}
