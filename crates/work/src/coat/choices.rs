//! What a coat can be planned with: papers and tools of the records, bottles of the shelf by what they do.

use handcoat_book::RecordKind;
use handcoat_craft::ledger::ItemKind;
use handcoat_craft::measure::significant;
use handcoat_craft::stock::Formula;
use jiff::Timestamp;

use crate::role::Role;
use crate::shelf::{ItemView, shelf};
use crate::{Refusal, Studio};

/// A name and a few words about it.
pub type Choice = (String, String);

/// Everything there is to choose from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Choices {
    /// Papers that are kept.
    pub papers: Vec<Choice>,
    /// Brushes and rods that are kept.
    pub tools: Vec<Choice>,
    /// Bottles of iron.
    pub iron: Vec<Choice>,
    /// Bottles of palladium or platinum.
    pub metals: Vec<Choice>,
    /// Bottles of contrast agents, chlorate in iron among them.
    pub agents: Vec<Choice>,
}

/// What there is to choose from.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn choices(studio: &Studio, now: Timestamp) -> Result<Choices, Refusal> {
    let kept = |kind, key: &str| -> Result<Vec<Choice>, Refusal> {
        let records = studio.book.records(kind)?;
        let row = |record: &handcoat_book::Record| {
            let words = crate::keep::Fields::of(&record.facts).text(key).map(String::from).unwrap_or_default();
            (record.name.clone(), words)
        };
        Ok(records.iter().map(row).collect())
    };
    let mut all = Choices {
        papers: kept(RecordKind::Paper, "uptake")?,
        tools: kept(RecordKind::Tool, "sort")?,
        ..Choices::default()
    };
    for item in shelf(studio, now)?.iter().filter(|item| item.kind == ItemKind::Bottle) {
        let choice = (item.name.clone(), words(item));
        let agent = |formula: &Formula| Role::of(Some(formula)) == Role::Agent;
        let dissolved_agent = item.dissolved.iter().any(|own| agent(&own.formula));
        match Role::of(item.formula.as_ref()) {
            Role::Iron => {
                if dissolved_agent {
                    all.agents.push(choice.clone());
                }
                all.iron.push(choice);
            }
            Role::Metal => all.metals.push(choice),
            Role::Agent => all.agents.push(choice),
            Role::Other if dissolved_agent => all.agents.push(choice),
            Role::Other => {}
        }
    }
    Ok(all)
}

/// Strength and what is left.
fn words(item: &ItemView) -> String {
    let strength = match item.dissolved.as_slice() {
        [] => item.percent.map(|own| format!("{} %", significant(own.to_grams_per_100_ml(), 3))),
        all => Some(all.iter().map(crate::shelf::Solute::short).collect::<Vec<_>>().join("; ")),
    };
    strength.into_iter().chain([item.amount.clone()]).collect::<Vec<_>>().join(", ")
}
