//! The two cookies: which theme, and which device.

use axum::http::HeaderMap;
use axum::http::header::{COOKIE, HeaderValue};

/// A year.
const LONG: u32 = 31_536_000;

/// The value of a cookie. Only letters, digits and `-` are ever written, so nothing else is read.
pub(crate) fn value(headers: &HeaderMap, name: &str) -> Option<String> {
    let all = headers.get_all(COOKIE).iter().filter_map(|line| line.to_str().ok());
    let mut pairs = all.flat_map(|line| line.split(';')).filter_map(|pair| pair.trim().split_once('='));
    let (_, value) = pairs.find(|(own, _)| *own == name)?;
    let plain = value.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'-');
    plain.then(|| value.into())
}

/// A cookie that no script reads and no other site sends.
pub(crate) fn set(name: &str, value: &str) -> Option<HeaderValue> {
    HeaderValue::from_str(&format!("{name}={value}; Path=/; HttpOnly; SameSite=Strict; Max-Age={LONG}")).ok()
}
