//! One sheet's way through the day, as blocks of steps that follow each other without a wait.

use alloc::string::String;
use alloc::vec::Vec;

use super::{Hand, Resource, Step};
use crate::measure::Span;
use crate::source::{
    ATTENDING, CLEARING_OVERSTAY, CLEARING_SPAN, COAT_SPAN, COATED_KEEPS, DEVELOPER_OVERSTAY, DEVELOPING_SPAN,
    DRYING_SPAN, EXPOSED_KEEPS, EXPOSURE_SPAN, Fact, LOADING_SPAN, WASH_OVERSTAY, WASHING_SPAN,
};

/// How long each step of a print takes. A step of no time is left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "each is the span of the step of the same name")]
pub struct Spans {
    pub coat: Span,
    pub dry: Span,
    pub humidify: Span,
    pub load: Span,
    pub expose: Span,
    pub develop: Span,
    pub clear: Span,
    pub wash: Span,
    pub hang: Span,
}

/// Minutes of a table as a span.
pub(super) fn minutes(fact: &Fact<f64>) -> Span {
    // OK because every span of the table is a few minutes or hours; a test reads them all.
    Span::seconds(fact.value * 60.0).expect("BUG: a span of the table is out of bounds")
}

impl Spans {
    /// The usual spans, without the humid box and without hanging.
    #[must_use]
    pub fn usual() -> Self {
        Self {
            coat: minutes(&COAT_SPAN),
            dry: minutes(&DRYING_SPAN),
            humidify: Span::ZERO,
            load: minutes(&LOADING_SPAN),
            expose: minutes(&EXPOSURE_SPAN),
            develop: minutes(&DEVELOPING_SPAN),
            clear: minutes(&CLEARING_SPAN),
            wash: minutes(&WASHING_SPAN),
            hang: Span::ZERO,
        }
    }
}

/// One print to be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// What it is called.
    pub name: String,
    /// Coats, one or two.
    pub coats: u8,
    /// Printed out: exposed as soon as it is dry or damp enough, and rinsed instead of developed.
    pub printing_out: bool,
    /// Clearing baths, up to three.
    pub baths: u8,
    /// How long its steps take.
    pub spans: Spans,
}

/// A step inside a block; times in milliseconds from the beginning of the block when nothing overstays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Phase {
    pub(super) step: Step,
    pub(super) from: u64,
    pub(super) length: u64,
    /// How much longer the sheet may stay in its place until somebody takes it on.
    pub(super) overstay: u64,
}

/// A resource held for a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Demand {
    pub(super) resource: Resource,
    /// For which phase of the block; it begins with it.
    pub(super) phase: usize,
    pub(super) length: u64,
    /// Held until the sheet is taken on, however long that is.
    pub(super) holds: bool,
}

/// Steps that follow each other without a wait, but for what may stay where it is a little longer.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Block {
    pub(super) phases: Vec<Phase>,
    pub(super) demands: Vec<Demand>,
    /// The longest wait before it, after the block before.
    pub(super) limit: Option<u64>,
}

impl Block {
    pub(super) fn length(&self) -> u64 {
        self.phases.last().map_or(0, |phase| phase.from + phase.length)
    }

    fn add(&mut self, step: Step, span: Span) {
        let (from, length) = (self.length(), span.to_milliseconds());
        if length == 0 {
            return;
        }
        let phase = self.phases.len();
        self.phases.push(Phase { step, from, length, overstay: overstay(step) });
        let attended = match step.hand() {
            Hand::Throughout => length,
            Hand::AtTheStart => minutes(&ATTENDING).to_milliseconds().min(length),
            Hand::Not => 0,
        };
        let demand = |resource, length, holds| Demand { resource, phase, length, holds };
        if attended > 0 {
            self.demands.push(demand(Resource::Hand, attended, false));
        }
        match (step, self.demands.iter_mut().find(|own| own.resource == Resource::Frame)) {
            // The frame that was loaded goes under the lamp.
            (Step::Expose, Some(frame)) => frame.length += length,
            (Step::Expose, None) => self.demands.push(demand(Resource::Frame, length, false)),
            _ => {}
        }
        self.demands.extend(step.place().map(|resource| demand(resource, length, overstay(step) > 0)));
    }

    /// What is left of it after its first step, and whether anything is.
    pub(super) fn without_first(&self) -> Option<Self> {
        let cut = self.phases.get(1)?.from;
        let phases = self.phases.iter().skip(1).map(|own| Phase { from: own.from - cut, ..*own }).collect();
        let rest = |own: &Demand| match own.phase.checked_sub(1) {
            Some(phase) => Some(Demand { phase, ..*own }),
            // What lasts beyond the first step goes on with the second.
            None => own.length.checked_sub(cut).filter(|left| *left > 0).map(|length| Demand { length, ..*own }),
        };
        Some(Self { phases, demands: self.demands.iter().filter_map(rest).collect(), limit: None })
    }
}

fn overstay(step: Step) -> u64 {
    let fact = match step {
        Step::Develop | Step::Rinse => &DEVELOPER_OVERSTAY,
        Step::Clear(_) => &CLEARING_OVERSTAY,
        Step::Wash => &WASH_OVERSTAY,
        _ => return 0,
    };
    minutes(fact).to_milliseconds()
}

impl Sheet {
    /// Its blocks, in order.
    pub(super) fn blocks(&self) -> Vec<Block> {
        let spans = &self.spans;
        let mut out: Vec<Block> = Vec::new();
        let mut block = Block::default();
        let close = |block: &mut Block, out: &mut Vec<Block>, limit: Option<u64>| {
            if block.phases.is_empty() {
                // Nothing came between: its limit stands before what comes next.
                return;
            }
            out.push(core::mem::take(block));
            block.limit = limit;
        };
        let coats = self.coats.max(1);
        for coat in 1..=coats {
            block.add(Step::Coat(coat), spans.coat);
            block.add(Step::Dry(coat), spans.dry);
            if coat < coats {
                close(&mut block, &mut out, None);
            }
        }
        if !self.printing_out {
            close(&mut block, &mut out, Some(minutes(&COATED_KEEPS).to_milliseconds()));
        }
        block.add(Step::Humidify, spans.humidify);
        block.add(Step::Load, spans.load);
        block.add(Step::Expose, spans.expose);
        close(&mut block, &mut out, Some(minutes(&EXPOSED_KEEPS).to_milliseconds()));
        block.add(if self.printing_out { Step::Rinse } else { Step::Develop }, spans.develop);
        for bath in 1..=self.baths.min(3) {
            block.add(Step::Clear(bath), spans.clear);
        }
        block.add(Step::Wash, spans.wash);
        block.add(Step::Hang, spans.hang);
        close(&mut block, &mut out, None);
        out
    }
}
