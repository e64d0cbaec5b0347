//! Words of a record, so that any field can be asked for.
//!
//! Every word of every value is kept twice: alone, and with its field before it (`paper=cotton`). A question is split in the same way, so
//! that a mark such as `.` or `·` on either side changes nothing.

use serde_json::Value;

use crate::{Record, RecordKind};

/// The words of a record.
pub(crate) fn of(record: &Record) -> String {
    let mut words = format!("kind={}", record.kind.word());
    put(&mut words, "number", &record.ordinal.to_string());
    put(&mut words, "name", &record.name);
    walk(&mut words, "", &record.facts);
    words
}

/// A question for [`of`]: every word of it must be there, each as the beginning of one. None when nothing is asked.
pub(crate) fn query(kind: RecordKind, asked: &str) -> Option<String> {
    let mut query = format!("\"kind={}\"", kind.word());
    let mut any = false;
    for term in asked.split_whitespace() {
        let (field, rest) = term.split_once(':').map_or((None, term), |(field, rest)| (Some(field), rest));
        let field = field.map(|own| parts(own).collect::<Vec<_>>().join("_"));
        for part in parts(rest) {
            any = true;
            let exact = part.bytes().all(|byte| byte.is_ascii_digit());
            let word = field.as_ref().filter(|own| !own.is_empty()).map_or(part.clone(), |own| format!("{own}={part}"));
            // A number is asked for whole: `number:1` is not print 17.
            query.push_str(&format!(" \"{word}\"{}", if exact { "" } else { "*" }));
        }
    }
    any.then_some(query)
}

fn walk(words: &mut String, field: &str, value: &Value) {
    match value {
        Value::Object(map) => map.iter().for_each(|(key, own)| walk(words, key, own)),
        // Pairs of numbers are a curve; nobody asks for one of its points, and there are a thousand.
        Value::Array(list) if list.first().is_some_and(Value::is_array) => {}
        Value::Array(list) => list.iter().for_each(|own| walk(words, field, own)),
        Value::String(text) => put(words, field, text),
        Value::Number(number) => put(words, field, &number.to_string()),
        Value::Bool(true) => put(words, field, "yes"),
        Value::Bool(false) | Value::Null => {}
    }
}

fn put(words: &mut String, field: &str, text: &str) {
    for part in parts(text) {
        words.push(' ');
        words.push_str(&part);
        if !field.is_empty() {
            words.push(' ');
            words.push_str(&field.to_lowercase());
            words.push('=');
            words.push_str(&part);
        }
    }
}

/// Runs of letters and digits, in lower case. An underscore belongs to a name of a field.
fn parts(text: &str) -> impl Iterator<Item = String> + '_ {
    text.split(|own: char| !own.is_alphanumeric() && own != '_').filter(|own| !own.is_empty()).map(str::to_lowercase)
}
