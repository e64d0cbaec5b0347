//! The refusal of a table that cannot be read whole.

use handcoat_exchange::{CellFinding, Fault};

use crate::{Excerpt, Question, Refusal, RefusalKind, Remedy};

/// The first of what was found in a table, with how many more there are; none where nothing was. `wanted` are the columns in words.
pub(crate) fn found(findings: &[CellFinding], wanted: &str, example: &str) -> Option<Refusal> {
    let finding = findings.first()?;
    let about = Question::Table;
    let column = if finding.column.is_empty() { String::new() } else { format!(", column {}", finding.column) };
    let cause = match &finding.fault {
        Fault::ColumnMissing => format!("there is no column `{}`; expected {wanted} in the first line", finding.seen),
        _ => finding.to_string(),
    };
    let more = match findings.len() - 1 {
        0 => String::new(),
        count => format!(" (and {count} more)"),
    };
    let remedies = match finding.fault {
        Fault::OtherMark(declared) => vec![Remedy::Write(Question::DecimalMark, declared.other().word().into())],
        _ => vec![Remedy::Write(about, example.into())],
    };
    let excerpt = (!finding.column.is_empty())
        .then(|| Box::new(Excerpt { text: finding.seen.clone(), chars: 0..finding.seen.chars().count() }));
    Some(Refusal {
        code: finding.fault.code(),
        kind: RefusalKind::Unreadable,
        about: Some(about),
        cause: format!("line {}{column}: {cause}{more}", finding.line),
        excerpt,
        remedies,
    })
}
