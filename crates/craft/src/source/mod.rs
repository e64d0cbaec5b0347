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
mod keeping;
mod practice;
mod prepared;
mod solubility;
mod solute;
mod testing;

pub use citation::{Citation, Fact, Status};
pub use compound::{Compound, HYDRATES, Hydrates, NAMED};
pub use element::{ELECTRON_MOLAR_MASS, Element, STANDARD_ATOMIC_WEIGHTS, StandardAtomicWeight};
pub use emergency::{EMERGENCY_DEFERS, Emergency, EmergencyLine, emergency};
pub use glassware::{ABOVE_THE_TABLE, CYLINDERS, Cylinder, LARGEST_CYLINDER_ML, cylinder_for};
pub use hazard::{HazardCodeUnknown, PRECEDENCE, Pictogram, SignalWord, pictograms_shown};
pub use hazard_statement::{HAZARD_STATEMENTS, HazardStatement};
pub use incompatible::{Class, Harm, INCOMPATIBLE, Incompatible};
pub use keeping::{KEEPING, Keeping, Keeps, THIN_PERCENT};
pub use practice::{
    AIM_MISSED, ASSAY_NEAR, ASSAY_SLACK, BOTTLE_FILL, BOTTLE_MARKS, CHLORATE_APART, CHLORATE_IN_IRON, CHLORATE_SMALL,
    CHLORIDE_EXCESS, CHLORIDE_SHORT, CHLORIDE_SOLUTION_ML, CLEARLY_WEAKER, CLINGING_FILM, COLD_CRYSTALS,
    COMPLEX_SHRINKS, EYE_LEVEL, FILL_RESERVE, GLASS_TOLERANCE_MOST, LEAST_CHLORIDE, LEAST_RINSE, MEASURED_POUR,
    MOLAR_MASS_AGREES, POURED_MARKS, READY_AFTER, RECOVERED_ENOUGH, RINSE_MARK, RINSE_PART, SOLUTION_DENSITY,
    SOLUTION_PART, STEPS_WANTED, STRENGTH_AS_PLANNED, UNKNOWN_ROOM, UNKNOWN_SOLID_ROOM, USUAL_COMPLEX_PERCENT,
    USUAL_SALT_PERCENT,
};
pub use prepared::{PREPARED, Prepared, Role};
pub use solubility::{SOLUBILITY, Solubility};
pub use solute::{CRYSTAL_DENSITIES, ION_VOLUMES, SoluteRow};
pub use testing::{TESTS, Testing};
