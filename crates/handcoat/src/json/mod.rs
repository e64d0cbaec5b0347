//! What the doors give to programs: plain numbers with the unit in the key.
//!
//! Standard uncertainties (k = 1) end in `_u`, or have `_u` before the unit. Money is `{minor, currency}`.

pub(crate) mod chart;
pub(crate) mod coat;
pub(crate) mod exchange;
pub(crate) mod expose;
pub(crate) mod ledger;
pub(crate) mod negative;
pub(crate) mod print;
pub(crate) mod session;
pub(crate) mod solution;
pub(crate) mod stock;
pub(crate) mod tone;

use handcoat_craft::measure::Money;
use handcoat_work::{Question, Refusal, Remedy};
use serde_json::{Value, json};

use crate::cli::Usage;

/// JSON as text, ending in a newline.
pub(crate) fn lines(value: &Value) -> String {
    format!("{value:#}\n")
}

/// A refusal; the door names the argument it is about and words its remedies. `seen` is the answer as it was given
/// and `seen_at` the characters of it the trouble is in, where one place is meant.
pub(crate) fn refusal(
    refusal: &Refusal,
    name: impl Fn(Question) -> &'static str,
    word: impl Fn(&Remedy) -> String,
) -> Value {
    let remedies: Vec<String> = refusal.remedies.iter().map(word).collect();
    let excerpt = refusal.excerpt.as_ref();
    json!({ "error": {
        "code": refusal.code,
        "argument": refusal.about.map(name),
        "message": refusal.cause,
        "seen": excerpt.map(|excerpt| &excerpt.text),
        "seen_at": excerpt.map(|excerpt| [excerpt.chars.start, excerpt.chars.end]),
        "remedies": remedies,
    } })
}

/// Arguments that could not be taken apart at all; the same keys.
pub(crate) fn usage(usage: &Usage) -> Value {
    json!({ "error": {
        "code": usage.code,
        "argument": usage.argument,
        "message": usage.cause,
        "seen": usage.seen,
        "seen_at": null,
        "remedies": usage.remedies,
    } })
}

/// Money, or null.
pub(crate) fn money(money: Option<Money>) -> Value {
    money.map_or(Value::Null, |sum| json!({ "minor": sum.to_minor(), "currency": sum.currency().letters() }))
}
