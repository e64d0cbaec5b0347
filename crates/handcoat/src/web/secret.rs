//! Random words that nobody can guess, and comparing them without telling by the time it takes.

use handcoat_work::{Refusal, RefusalKind, Remedy, TokenHash};
use sha2::{Digest, Sha256};

/// A random word of 256 bits, in hexadecimal.
#[derive(Clone, PartialEq, Eq)]
pub(crate) struct Secret(String);

// A secret is not printed by accident.
impl std::fmt::Debug for Secret {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Secret(…)")
    }
}

impl Secret {
    /// A fresh one.
    ///
    /// # Errors
    /// [`Refusal`] with code `random_missing` when the system gives no random numbers.
    pub(crate) fn fresh() -> Result<Self, Refusal> {
        Ok(Self(hexadecimal(&random::<32>()?)))
    }

    /// Its text, for a form or a cookie.
    pub(crate) fn text(&self) -> &str {
        &self.0
    }

    /// Whether this is it. Takes as long for a near miss as for a far one.
    pub(crate) fn is(&self, offered: &str) -> bool {
        same(self.0.as_bytes(), offered.as_bytes())
    }

    /// What of it may be kept.
    pub(crate) fn hash(&self) -> TokenHash {
        hash(&self.0)
    }
}

/// The hash under which a device's token is looked for.
pub(crate) fn hash(token: &str) -> TokenHash {
    TokenHash::new(Sha256::digest(token.as_bytes()).into())
}

/// The first eight bytes of a file's SHA-256, for its name.
pub(crate) fn mark(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes)).chars().take(16).collect()
}

/// A fresh key for one act, which begins with its door; the act under it is done once.
pub(crate) fn key(door: &str) -> Result<String, Refusal> {
    Ok(format!("{door}-{}", hexadecimal(&random::<12>()?)))
}

/// Equal bytes, every one looked at.
pub(crate) fn same(one: &[u8], other: &[u8]) -> bool {
    let differing = one.iter().zip(other).fold(0_u8, |sum, (one, other)| sum | (one ^ other));
    one.len() == other.len() && std::hint::black_box(differing) == 0
}

/// Random bytes.
pub(crate) fn random<const N: usize>() -> Result<[u8; N], Refusal> {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes).map_err(|error| Refusal {
        code: "random_missing",
        kind: RefusalKind::Failed,
        about: None,
        cause: format!("the system gives no random number: {error}"),
        excerpt: None,
        remedies: vec![Remedy::TryAgain],
    })?;
    Ok(bytes)
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
