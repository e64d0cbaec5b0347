//! Codes that let a device in: short enough to type, good once and for ten minutes, and few tries.

use std::collections::VecDeque;
use std::time::{Duration, Instant};

use handcoat_work::Refusal;

use super::secret::{random, same};

/// How long a code is good.
pub const GOOD_FOR: Duration = Duration::from_secs(600);

/// Wrong codes within [`WINDOW`] before no more are looked at.
const MOST_WRONG: usize = 5;
const WINDOW: Duration = Duration::from_secs(60);

/// Thirty-two signs no two of which look alike on a screen across the room.
const SIGNS: &[u8; 32] = b"23456789ABCDEFGHJKLMNPQRSTUVWXYZ";

/// The code of the moment, and the wrong ones that were tried.
#[derive(Debug)]
pub struct Pairing {
    code: Option<(String, Instant)>,
    wrong: VecDeque<Instant>,
}

/// What became of a code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tried {
    /// It is the one, and is used up.
    Right,
    /// It is not, or it was used or has expired.
    Wrong,
    /// Too many wrong ones in the last minute: it was not even looked at.
    TooMany,
}

impl Pairing {
    /// With a first code.
    ///
    /// # Errors
    /// [`Refusal`] when the system gives no random numbers.
    pub fn begin(now: Instant) -> Result<Self, Refusal> {
        let mut own = Self { code: None, wrong: VecDeque::new() };
        own.renew(now)?;
        Ok(own)
    }

    /// Puts a fresh code in the place of whatever was there.
    ///
    /// # Errors
    /// [`Refusal`] when the system gives no random numbers.
    pub fn renew(&mut self, now: Instant) -> Result<&str, Refusal> {
        // 256 is a multiple of 32: every sign is equally likely. Eight signs are 40 bits, at five tries a minute for ten minutes.
        let code = random::<8>()?.iter().map(|byte| char::from(SIGNS[usize::from(byte % 32)])).collect();
        Ok(&self.code.insert((code, now)).0)
    }

    /// The code, as long as it is good.
    #[must_use]
    pub fn code(&self, now: Instant) -> Option<&str> {
        let (code, since) = self.code.as_ref()?;
        (now.saturating_duration_since(*since) < GOOD_FOR).then_some(code)
    }

    /// Tries a code as somebody typed it: spaces, hyphens and small letters do not matter.
    pub fn attempt(&mut self, typed: &str, now: Instant) -> Tried {
        while self.wrong.front().is_some_and(|at| now.saturating_duration_since(*at) >= WINDOW) {
            self.wrong.pop_front();
        }
        if self.wrong.len() >= MOST_WRONG {
            return Tried::TooMany;
        }
        let typed: String = typed.chars().filter(char::is_ascii_alphanumeric).map(|c| c.to_ascii_uppercase()).collect();
        let right = self.code(now).is_some_and(|code| same(code.as_bytes(), typed.as_bytes()));
        if right {
            self.code = None;
            Tried::Right
        } else {
            self.wrong.push_back(now);
            Tried::Wrong
        }
    }
}

/// A code in two halves, as it is read aloud.
#[must_use]
pub(crate) fn spaced(code: &str) -> String {
    match code.split_at_checked(4) {
        Some((first, second)) => format!("{first} {second}"),
        None => code.into(),
    }
}
