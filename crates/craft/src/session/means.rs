//! What there is to work with.

use super::{Resource, Spans};
use crate::source::{DRYING_PLACES, WASH_HOLDS};

/// How many of each there are; at least one of each that is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Means {
    /// People who work.
    pub people: u16,
    /// Places where a coated sheet can dry.
    pub drying: u16,
    /// Sheets the humid box takes at a time.
    pub humid: u16,
    /// Contact frames.
    pub frames: u16,
    /// Lamps.
    pub lamps: u16,
    /// Trays of developer.
    pub developer: u16,
    /// Trays of each clearing bath.
    pub clearing: [u16; 3],
    /// Prints the wash takes at a time.
    pub wash: u16,
}

/// Fewer trays than baths.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the developer, {baths} clearing {} and the wash want {} trays, and there are {trays}",
    if *baths == 1 { "bath" } else { "baths" }, baths + 2)]
pub struct TraysTooFew {
    /// Trays there are.
    pub trays: u16,
    /// Clearing baths wanted.
    pub baths: u8,
}

impl Default for Means {
    fn default() -> Self {
        Self {
            people: 1,
            drying: DRYING_PLACES.value,
            humid: 1,
            frames: 1,
            lamps: 1,
            developer: 1,
            clearing: [1; 3],
            wash: WASH_HOLDS.value,
        }
    }
}

impl Means {
    /// How many there are of one.
    #[must_use]
    pub fn of(&self, resource: Resource) -> u16 {
        match resource {
            Resource::Hand => self.people,
            Resource::DryingPlace => self.drying,
            Resource::HumidBox => self.humid,
            Resource::Frame => self.frames,
            Resource::Lamp => self.lamps,
            Resource::Developer => self.developer,
            Resource::Clearing(bath) => {
                self.clearing.get(usize::from(bath).saturating_sub(1)).copied().unwrap_or_default()
            }
            Resource::Wash => self.wash,
        }
    }

    /// With so many trays: one for the developer, one for each clearing bath, one for the wash, which holds `holds`
    /// prints. Every tray more goes where prints would queue longest.
    ///
    /// # Errors
    /// [`TraysTooFew`] when a bath has no tray.
    pub fn with_trays(self, trays: u16, baths: u8, holds: u16, spans: &Spans) -> Result<Self, TraysTooFew> {
        let baths = baths.min(3);
        let needed = u16::from(baths) + 2;
        let extra = trays.checked_sub(needed).ok_or(TraysTooFew { trays, baths })?;
        let mut out = Self { developer: 1, clearing: [0; 3], wash: holds, ..self };
        for own in out.clearing.iter_mut().take(usize::from(baths)) {
            *own = 1;
        }
        for _ in 0..extra {
            // Time per place, compared by cross products; the earlier bath wins a tie.
            let mut longest = (spans.develop.to_milliseconds(), u64::from(out.developer), Resource::Developer);
            let clearing = (1..=baths).map(Resource::Clearing).map(|own| (spans.clear, own));
            for (span, resource) in clearing.chain([(spans.wash, Resource::Wash)]) {
                let (span, places) = (span.to_milliseconds(), u64::from(out.of(resource)).max(1));
                if span * longest.1 > longest.0 * places {
                    longest = (span, places, resource);
                }
            }
            match longest.2 {
                Resource::Clearing(bath) => {
                    if let Some(own) = out.clearing.get_mut(usize::from(bath).saturating_sub(1)) {
                        *own += 1;
                    }
                }
                Resource::Wash => out.wash = out.wash.saturating_add(holds),
                _ => out.developer += 1,
            }
        }
        Ok(out)
    }
}
