//! What the studio has measured of its papers, tools and droppers, as its records keep it. A plan takes it where no answer says
//! otherwise.

use handcoat_book::{Record, RecordKind};
use handcoat_craft::measure::{DropsPerMillilitre, Share, Uncertain, Uptake};
use handcoat_craft::paper::{Dropper, DropperFrom, Tool};

use super::answers::CoatAnswers;
use crate::keep::{Fields, find_among};
use crate::{Question, Refusal, Studio};

/// A dropper with one solution, calibrated.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct DropperFacts {
    /// What it is called.
    pub name: String,
    /// The bottle it belongs to, by its name.
    pub of: String,
    /// Drops to the millilitre, with their standard uncertainty.
    pub drops_per_ml: Uncertain<DropsPerMillilitre>,
    /// Whether that uncertainty is known; without it, none is claimed.
    pub u_known: bool,
    /// The day it was measured, as it is kept.
    pub measured: Option<String>,
}

/// A paper, one side of one lot.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PaperFacts {
    /// What it is called.
    pub name: String,
    /// What it takes to the coated area.
    pub uptake: Option<Uptake>,
}

/// A brush or a rod.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ToolFacts {
    /// What it is called.
    pub name: String,
    /// Which of the sorts whose habits are known; none where its record does not say.
    pub sort: Option<Tool>,
    /// What it lays on the coated area.
    pub uptake: Option<Uptake>,
    /// What of the poured solution reaches the paper, with its standard uncertainty.
    pub share: Option<Uncertain<Share>>,
    /// The day that was measured, as it is kept.
    pub measured: Option<String>,
}

/// What is known before a plan is asked for.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Known {
    /// The paper that was named.
    pub paper: Option<PaperFacts>,
    /// The tool that was named.
    pub tool: Option<ToolFacts>,
    /// The droppers, the newest first.
    pub droppers: Vec<DropperFacts>,
}

impl DropperFacts {
    /// Of a record; none where it names no bottle or no drops.
    pub(crate) fn of(record: &Record) -> Option<Self> {
        let fields = Fields::of(&record.facts);
        let best = fields.quantity::<DropsPerMillilitre>("drops_per_ml").ok().flatten()?;
        let u = fields.number("drops_per_ml_u");
        Some(Self {
            name: record.name.clone(),
            of: fields.text("solution")?.to_owned(),
            drops_per_ml: Uncertain::new(best, u.unwrap_or(0.0)),
            u_known: u.is_some(),
            measured: fields.text("measured").map(String::from),
        })
    }

    /// As a dropper of a plan.
    pub(crate) fn dropper(&self) -> Dropper {
        let from = if self.u_known { DropperFrom::Calibrated(1) } else { DropperFrom::Stated };
        Dropper { per_ml: self.drops_per_ml, from }
    }
}

/// The dropper of a bottle among records in the order they came: the newest one.
pub(crate) fn dropper_of(records: &[Record], bottle: &str) -> Option<DropperFacts> {
    let of = |own: &DropperFacts| own.of.to_lowercase() == bottle.to_lowercase();
    records.iter().rev().filter_map(DropperFacts::of).find(of)
}

impl PaperFacts {
    fn of(record: &Record) -> Result<Self, Refusal> {
        let uptake = Fields::of(&record.facts).quantity::<Uptake>("uptake")?;
        Ok(Self { name: record.name.clone(), uptake })
    }
}

impl ToolFacts {
    fn of(record: &Record) -> Result<Self, Refusal> {
        let fields = Fields::of(&record.facts);
        let share = fields.quantity::<Share>("share")?;
        let share_u = fields.number("share_u").map_or(0.0, |percent| percent / 100.0);
        Ok(Self {
            name: record.name.clone(),
            sort: fields.text("sort").and_then(sort_of),
            uptake: fields.quantity::<Uptake>("uptake")?,
            share: share.map(|best| Uncertain::new(best, share_u)),
            measured: fields.text("measured").map(String::from),
        })
    }
}

/// The sort of a tool by the words of its record.
fn sort_of(words: &str) -> Option<Tool> {
    let words = words.to_lowercase();
    let found = [("rod", Tool::Rod), ("thirsty", Tool::ThirstyBrush), ("brush", Tool::Brush)];
    found.into_iter().find(|(word, _)| words.contains(word)).map(|(_, tool)| tool)
}

impl Known {
    /// What the records say of the paper and the tool that are named, and of all droppers. Without a studio nothing is known.
    pub(super) fn of(answers: &CoatAnswers, studio: Option<&Studio>) -> Result<Self, Refusal> {
        let records = |kind| studio.map_or(Ok(Vec::new()), |studio| studio.book.records(kind)).map_err(Refusal::from);
        let paper = match &answers.paper {
            None => None,
            Some(text) => {
                let here = records(RecordKind::Paper)?;
                Some(PaperFacts::of(find_among(&here, RecordKind::Paper, Question::CoatPaper, text)?)?)
            }
        };
        let tools = records(RecordKind::Tool)?;
        let named = answers.tool.as_deref().filter(|text| Tool::ALL.iter().all(|own| own.word() != text.trim()));
        let tool = match named {
            // Without tools in the book only the words of sorts can be meant: that is said where they are read.
            Some(text) if !tools.is_empty() => {
                Some(ToolFacts::of(find_among(&tools, RecordKind::Tool, Question::Tool, text)?)?)
            }
            _ => None,
        };
        let droppers = records(RecordKind::Dropper)?.iter().rev().filter_map(DropperFacts::of).collect();
        Ok(Self { paper, tool, droppers })
    }

    /// The dropper of a bottle by its name.
    pub(super) fn dropper_of(&self, bottle: &str) -> Option<&DropperFacts> {
        self.droppers.iter().find(|own| own.of.to_lowercase() == bottle.to_lowercase())
    }
}
