//! From powder to a bottle of known strength.
//!
//! A [`Formula`] gives molar masses; a [`MetalSalt`] is a formula the trade makes stock from; a
//! [`Powder`] is that salt with the facts of its jar. [`Plan::make`] turns three answers (which powder,
//! how much, which scale) into what to weigh; [`AsWeighed::after`] takes what was really weighed and lays
//! the ways on side by side.

mod balance;
mod batch;
mod chloride;
mod complex;
pub mod formula;
mod holding;
mod hydrate;
mod identity;
mod keeping;
mod ladder;
mod level;
mod made;
mod meeting;
mod molar_mass;
mod offer;
mod plan;
mod powder;
mod room;
pub mod solution;
mod strength;
mod warning;
mod water;
mod way;
mod weighed;

pub use balance::Balance;
pub use batch::{AgainstNeed, Batch, Cause, Strengths};
pub use chloride::{Alkali, AlkaliChloride, ChlorideChoice, ChlorideError};
pub use complex::{Metal, MetalSalt, SaltError, SaltKind};
pub use formula::{Formula, FormulaError};
pub use holding::{
    concentration, kept_metal, metal_in_powder, metal_in_solution, metal_of_mass, metal_of_volume, molarity_of,
    percent_of, thinned_u,
};
pub use hydrate::{Hydrate, HydrateError, Hydration, form_word, waters_of_form};
pub use identity::{formula_of_name, hydrates_met, named, prepared};
pub use keeping::{keeping, keeping_of};
pub use ladder::{Ladder, Rung};
pub use level::{Gauge, GaugeError, density_of};
pub use meeting::{Meeting, Meetings, classes, grouped, meetings};
pub use molar_mass::{Weights, mass_fraction, molar_mass};
pub use offer::Offer;
pub use plan::{BuysNothing, Goal, Nothing, Plan, PlanError, Request, WaterIs, check_assay, usual_strength};
pub use powder::{LeftOpen, Powder, Purity, PurityOf};
pub use room::{RoomTaken, room_taken};
pub use strength::{FormStrength, Forms, FormsError, Strength, strengths_by_form};
pub use warning::{Coarse, Dilution, Warning};
pub use water::{Recovery, Water, share_out};
pub use way::{Way, WayOut};
pub use weighed::{AsWeighed, Off, Weighed};
