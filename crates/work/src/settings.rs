//! What a studio says of itself: its name, the number to call, its scale. No acts; the newest answer holds.

use handcoat_book::Device;
use handcoat_craft::measure::shortened;
use jiff::Timestamp;

use crate::stock::read_balance;
use crate::{Question, Refusal, Remedy, Studio};

pub use handcoat_book::TokenHash;

/// Longest answer; a frame has room for it.
const MOST: usize = 60;

/// The settings of a studio. `None` is not said.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Settings {
    /// What the studio is called.
    pub studio: Option<String>,
    /// The number to call in an emergency, where the studio is.
    pub emergency_number: Option<String>,
    /// Smallest step of the scale that is used when nothing else is said, `0.01g`.
    pub balance: Option<String>,
}

impl Studio {
    /// The settings as they stand.
    ///
    /// # Errors
    /// [`Refusal`] when the book cannot be read.
    pub fn settings(&self) -> Result<Settings, Refusal> {
        let said = |name: &str| Ok::<_, Refusal>(self.book.fact(name)?.filter(|text| !text.is_empty()));
        Ok(Settings { studio: said("studio")?, emergency_number: said("emergency_number")?, balance: said("balance")? })
    }

    /// Keeps what is said here; what is left open stays as it was, an empty answer takes it back.
    ///
    /// # Errors
    /// [`Refusal`] when an answer does not fit on a line, the scale cannot be read, or the book cannot be written; nothing is
    /// kept then.
    pub fn keep_settings(&mut self, settings: &Settings) -> Result<(), Refusal> {
        line(Question::Studio, settings.studio.as_deref(), "Weir Yard")?;
        line(Question::EmergencyNumber, settings.emergency_number.as_deref(), "112")?;
        read_balance(settings.balance.as_ref().filter(|text| !text.trim().is_empty()))?;
        for (name, answer) in [
            ("studio", &settings.studio),
            ("emergency_number", &settings.emergency_number),
            ("balance", &settings.balance),
        ] {
            if let Some(text) = answer {
                self.book.set_fact(name, text.trim())?;
            }
        }
        Ok(())
    }

    /// Lets a device in from the local network.
    ///
    /// # Errors
    /// [`Refusal`] when its name does not fit on a line or the book cannot be written.
    pub fn admit_device(&mut self, hash: TokenHash, name: &str, at: Timestamp) -> Result<(), Refusal> {
        line(Question::Name, Some(name), "phone")?;
        let name = Some(name.trim()).filter(|name| !name.is_empty()).unwrap_or("device");
        self.book.admit_device(hash, name, at)?;
        Ok(())
    }

    /// The name of the device whose token has this hash.
    ///
    /// # Errors
    /// [`Refusal`] when the book cannot be read.
    pub fn device(&self, hash: TokenHash) -> Result<Option<String>, Refusal> {
        Ok(self.book.device(hash)?.map(|device| device.name))
    }

    /// Number, name and first day of every device that is let in.
    ///
    /// # Errors
    /// [`Refusal`] when the book cannot be read.
    pub fn devices(&self) -> Result<Vec<(i64, String, Timestamp)>, Refusal> {
        let row = |device: Device| (device.number, device.name, device.since);
        Ok(self.book.devices()?.into_iter().map(row).collect())
    }

    /// Lets a device in no more; nothing when there is none with this number.
    ///
    /// # Errors
    /// [`Refusal`] when the book cannot be written.
    pub fn forget_device(&mut self, number: i64) -> Result<(), Refusal> {
        self.book.forget_device(number)?;
        Ok(())
    }
}

/// An answer that must fit on one line; an empty one does.
fn line(about: Question, answer: Option<&str>, example: &str) -> Result<(), Refusal> {
    match answer.map(str::trim) {
        Some(text) if text.chars().count() > MOST || text.chars().any(char::is_control) => {
            let cause = format!("`{}` is too long for one line; expected at most {MOST} characters", shortened(text));
            Err(Refusal::unreadable("name_unreadable", about, cause, vec![Remedy::Write(about, example.into())]))
        }
        _ => Ok(()),
    }
}
