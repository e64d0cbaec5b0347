//! Words of the pages that more than one of them says.

pub(super) use handcoat_craft::measure::capitalised;
use handcoat_work::ledger::ActRow;
use jiff::Timestamp;
use jiff::tz::TimeZone;

/// Day and time where the machine stands.
pub(super) fn when(at: Timestamp) -> String {
    at.to_zoned_datetime(TimeZone::system()).strftime("%-d %b %Y, %H:%M").to_string()
}

/// The day where the machine stands.
pub(super) fn day(at: Timestamp) -> String {
    at.to_zoned_datetime(TimeZone::system()).strftime("%-d %b %Y").to_string()
}

/// How long ago, as people say it.
pub(super) fn age(days: i64) -> String {
    match days {
        ..=0 => "today".into(),
        1 => "yesterday".into(),
        days => format!("{days} days ago"),
    }
}

/// An act's sort as a list says it.
pub(super) fn kind(row: &ActRow) -> String {
    match row.undoes {
        Some(act) => format!("undo of act {act}"),
        None => row.kind.clone(),
    }
}
