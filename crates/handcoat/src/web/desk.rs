//! What all requests share: the book, the names we answer to, the secrets of this run.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use handcoat_work::{Refusal, Studio};

use super::floor::Hosts;
use super::pairing::Pairing;
use super::pictures;
use super::queue::Queue;
use super::secret::Secret;

/// One open book and the doors to it.
#[derive(Debug)]
pub struct Desk {
    studio: Mutex<Studio>,
    pub(crate) hosts: Hosts,
    port: u16,
    /// Stands in every form.
    pub(crate) form_secret: Secret,
    /// Stands in the form of the pairing page, which anybody in the local network may see.
    pub(crate) pairing_secret: Secret,
    pairing: Option<Mutex<Pairing>>,
    /// The folder of pictures.
    pictures: PathBuf,
    pub(super) queue: Queue,
    small: Mutex<BTreeMap<String, Vec<u8>>>,
    scanning: Mutex<()>,
}

/// Small pictures that are kept at hand.
const MOST_SMALL: usize = 40;

impl Desk {
    /// A desk for this computer alone.
    ///
    /// # Errors
    /// [`Refusal`] when the system gives no random numbers.
    pub fn new(studio: Studio, hosts: Hosts, port: u16) -> Result<Self, Refusal> {
        Ok(Self {
            pictures: pictures::beside(studio.path()),
            queue: Queue::default(),
            small: Mutex::default(),
            scanning: Mutex::default(),
            studio: Mutex::new(studio),
            hosts,
            port,
            form_secret: Secret::fresh()?,
            pairing_secret: Secret::fresh()?,
            pairing: None,
        })
    }

    /// The same, open to paired devices of the local network.
    #[must_use]
    pub fn with_pairing(self, pairing: Pairing) -> Self {
        Self { pairing: Some(Mutex::new(pairing)), ..self }
    }

    /// The same with the pictures in this folder.
    #[must_use]
    pub fn with_pictures(self, folder: PathBuf) -> Self {
        Self { pictures: folder, ..self }
    }

    /// The folder of pictures.
    pub(crate) fn pictures(&self) -> &Path {
        &self.pictures
    }

    /// The book, for work that takes long and holds it only now and then.
    pub(crate) fn book(&self) -> &Mutex<Studio> {
        &self.studio
    }

    /// Held while a scan is read: one at a time.
    pub(crate) fn scanning(&self) -> MutexGuard<'_, ()> {
        self.scanning.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A small picture by the SHA-256 of the large one: at hand, or made.
    pub(crate) fn small(
        &self,
        sha256: &str,
        make: impl FnOnce() -> Result<Vec<u8>, Refusal>,
    ) -> Result<Vec<u8>, Refusal> {
        let at_hand = || self.small.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(own) = at_hand().get(sha256) {
            return Ok(own.clone());
        }
        let made = make()?;
        let mut all = at_hand();
        if all.len() >= MOST_SMALL {
            all.clear();
        }
        all.insert(sha256.into(), made.clone());
        Ok(made)
    }

    /// The book. One at a time: SQLite has one writer anyway, and a page takes a few milliseconds.
    pub(crate) fn studio(&self) -> MutexGuard<'_, Studio> {
        // A page that panicked while it held the book left no transaction open: dropping it rolled it back.
        self.studio.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The codes that let a device in; none when only this computer is served.
    pub(crate) fn pairing(&self) -> Option<MutexGuard<'_, Pairing>> {
        self.pairing.as_ref().map(|own| own.lock().unwrap_or_else(PoisonError::into_inner))
    }

    /// Where a device of the local network finds us.
    pub(crate) fn addresses(&self) -> Vec<String> {
        self.hosts.beyond_this_computer().map(|name| format!("http://{name}")).collect()
    }

    /// Cookies know no ports: two studios on one computer must not take each other's.
    pub(crate) fn device_cookie(&self) -> String {
        format!("handcoat-device-{}", self.port)
    }
}
