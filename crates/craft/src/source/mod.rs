//! Constants and facts of the trade, each with where it comes from.
//!
//! Every row carries a [`Citation`]: a key into `SOURCES.bib`, the place in that work, and a [`Status`]
//! that says whether the number was read there. A test refuses a key that is not in the bibliography.

mod citation;
mod compound;
mod element;
mod emergency;
mod glassware;
mod hazard;
mod hazard_statement;
mod incompatible;
mod practice;
mod solubility;
mod solute;

pub use citation::{Citation, Fact, Status};
pub use compound::{Compound, HYDRATES, Hydrates, NAMED};
pub use element::{ELECTRON_MOLAR_MASS, Element, STANDARD_ATOMIC_WEIGHTS, StandardAtomicWeight};
pub use emergency::{EMERGENCY_DEFERS, Emergency, EmergencyLine, emergency};
pub use glassware::{CYLINDERS, Cylinder, LARGEST_CYLINDER_ML, cylinder_for};
pub use hazard::{HazardCodeUnknown, PRECEDENCE, Pictogram, SignalWord, pictograms_shown};
pub use hazard_statement::{HAZARD_STATEMENTS, HazardStatement};
pub use incompatible::{Class, Harm, INCOMPATIBLE, Incompatible};
pub use practice::{
    BOTTLE_FILL, CHLORIDE_EXCESS, CHLORIDE_SHORT, CLINGING_FILM, FILL_RESERVE, LEAST_CHLORIDE, READY_AFTER, RINSE_PART,
    STEPS_WANTED, USUAL_COMPLEX_PERCENT, USUAL_SALT_PERCENT,
};
pub use solubility::{SOLUBILITY, Solubility};
pub use solute::{CRYSTAL_DENSITIES, ION_VOLUMES, SoluteRow};
