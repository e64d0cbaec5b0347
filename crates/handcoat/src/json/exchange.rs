//! What an import would do, for programs.

use handcoat_work::exchange::{Does, DryRun, ImportRow};
use serde_json::{Value, json};

fn row(own: &ImportRow) -> Value {
    match &own.does {
        Does::Shelve { kind, amount, metal } => json!({
            "line": own.line, "name": own.name, "does": "shelve", "kind": kind.word(), "amount": amount, "metal": metal, "why": null,
        }),
        Does::LeaveOut(why) => json!({
            "line": own.line, "name": own.name, "does": "leave_out", "kind": null, "amount": null, "metal": null, "why": why,
        }),
    }
}

/// A dry run.
pub(crate) fn dry_run(own: &DryRun) -> Value {
    let findings: Vec<Value> = own
        .findings
        .iter()
        .map(|found| {
            json!({
                "line": found.line,
                "column": if found.column.is_empty() { Value::Null } else { found.column.clone().into() },
                "seen": found.seen,
                "code": found.code,
                "message": found.message,
                "hint": found.hint,
            })
        })
        .collect();
    json!({
        "would_import": own.findings.is_empty(),
        "separator": own.separator.to_string(),
        "decimal_mark": own.mark.word(),
        "rows": own.rows.iter().map(row).collect::<Vec<_>>(),
        "findings": findings,
    })
}
