//! A form that brings a file: RFC 7578, as browsers send it. Read out of memory, within the bounds the floor sets.

use crate::web::fields::Fields;

/// Longest boundary, as RFC 2046 has it.
const MOST_BOUNDARY: usize = 70;

/// More parts than this are no form of the house.
const MOST_PARTS: usize = 16;

/// The boundary a content type names; none where it is no `multipart/form-data`.
pub(super) fn boundary(content_type: &[u8]) -> Option<String> {
    let text = std::str::from_utf8(content_type).ok()?;
    let (kind, rest) = text.split_once(';')?;
    if !kind.trim().eq_ignore_ascii_case("multipart/form-data") {
        return None;
    }
    let named = rest.split(';').find_map(|own| {
        let (name, value) = own.trim().split_once('=')?;
        name.eq_ignore_ascii_case("boundary").then(|| value.trim_matches('"'))
    })?;
    let sound = (1..=MOST_BOUNDARY).contains(&named.len()) && named.bytes().all(|byte| byte.is_ascii_graphic());
    sound.then(|| named.into())
}

/// The answers, and the bytes of the one file; a file nobody chose is none. None when the parts cannot be told apart.
pub(super) fn read(body: &[u8], boundary: &str) -> Option<(Fields, Option<Vec<u8>>)> {
    let line = format!("--{boundary}");
    let between = format!("\r\n{line}");
    let mut rest = body.strip_prefix(line.as_bytes())?;
    let (mut answers, mut file) = (Vec::new(), None);
    for _ in 0..MOST_PARTS {
        if rest.starts_with(b"--") {
            let answers: Vec<(&str, &str)> =
                answers.iter().map(|(name, value): &(String, String)| (name.as_str(), value.as_str())).collect();
            return Some((Fields::of(&answers), file));
        }
        let part = rest.strip_prefix(b"\r\n")?;
        let (head, after) = cut(part, b"\r\n\r\n")?;
        let (content, next) = cut(after, between.as_bytes())?;
        rest = next;
        let (name, file_name) = disposition(std::str::from_utf8(head).ok()?)?;
        if file_name.is_some() {
            // One picture to a form: of several the first.
            if file.is_none() && !content.is_empty() {
                file = Some(content.to_vec());
            }
        } else {
            answers.push((name, String::from_utf8_lossy(content).into_owned()));
        }
    }
    None
}

/// What stands before a mark, and what after it.
fn cut<'b>(bytes: &'b [u8], mark: &[u8]) -> Option<(&'b [u8], &'b [u8])> {
    let at = find(bytes, mark)?;
    Some((bytes.get(..at)?, bytes.get(at + mark.len()..)?))
}

/// Where a mark stands first.
pub(super) fn find(bytes: &[u8], mark: &[u8]) -> Option<usize> {
    let first = mark.first()?;
    let mut from = 0;
    // By its first byte, so that a picture is gone through once.
    while let Some(step) = bytes.get(from..)?.iter().position(|byte| byte == first) {
        let at = from + step;
        if bytes.get(at..)?.starts_with(mark) {
            return Some(at);
        }
        from = at + 1;
    }
    None
}

/// The name of a part, and the name of its file when it is one; empty where it says none.
pub(super) fn disposition(head: &str) -> Option<(String, Option<String>)> {
    let line = head.lines().find_map(|line| {
        let (name, value) = line.split_once(':')?;
        name.trim().eq_ignore_ascii_case("content-disposition").then_some(value)
    })?;
    let name = line.split(';').find_map(|own| own.trim().strip_prefix("name=\"")?.strip_suffix('"'))?;
    let is_file = line.split(';').any(|own| own.trim().to_ascii_lowercase().starts_with("filename"));
    // A name may hold a `;`, so it is looked for in the line; browsers write a quote in it as %22.
    let named = || line.split_once("filename=\"").and_then(|own| own.1.split('"').next()).unwrap_or_default();
    Some((name.into(), is_file.then(|| named().replace("%22", "\""))))
}
