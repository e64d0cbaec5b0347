//! What all requests share: the book, the names we answer to, the secrets of this run.

use std::sync::{Mutex, MutexGuard, PoisonError};

use handcoat_work::{Refusal, Studio};

use super::floor::Hosts;
use super::pairing::Pairing;
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
}

impl Desk {
    /// A desk for this computer alone.
    ///
    /// # Errors
    /// [`Refusal`] when the system gives no random numbers.
    pub fn new(studio: Studio, hosts: Hosts, port: u16) -> Result<Self, Refusal> {
        Ok(Self {
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
