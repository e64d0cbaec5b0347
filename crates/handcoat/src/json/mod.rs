//! What the doors give to programs: plain numbers with the unit in the key.
//!
//! Standard uncertainties (k = 1) end in `_u`, or have `_u` before the unit. Money is `{minor, currency}`.

pub(crate) mod stock;

use handcoat_craft::measure::Money;
use handcoat_work::{Refusal, Remedy};
use serde_json::{Value, json};

/// JSON as text, ending in a newline.
pub(crate) fn lines(value: &Value) -> String {
    format!("{value:#}\n")
}

/// A refusal; the door words its remedies.
pub(crate) fn refusal(refusal: &Refusal, word: impl Fn(&Remedy) -> String) -> Value {
    let remedies: Vec<String> = refusal.remedies.iter().map(word).collect();
    json!({ "error": { "code": refusal.code, "message": refusal.cause, "remedies": remedies } })
}

/// Arguments that could not be read at all.
pub(crate) fn usage(code: &str, message: &str) -> Value {
    let message = message.trim_start_matches("error: ");
    json!({ "error": { "code": code, "message": message, "remedies": ["handcoat --help"] } })
}

/// Money, or null.
pub(crate) fn money(money: Option<Money>) -> Value {
    money.map_or(Value::Null, |sum| json!({ "minor": sum.to_minor(), "currency": sum.currency().letters() }))
}
