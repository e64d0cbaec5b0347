//! Constants and facts of the trade, each with where it comes from.
//!
//! Every row carries a [`Citation`]: a key into `SOURCES.bib`, the place in that work, and a [`Status`]
//! that says whether the number was read there. A test refuses a key that is not in the bibliography.

mod citation;
mod coating;
mod compound;
mod condition;
mod correction;
mod drops;
mod element;
mod emergency;
mod exposure;
mod fault;
mod glassware;
mod hazard;
mod hazard_statement;
mod incompatible;
mod keeping;
mod negative;
mod practice;
mod prepared;
mod salt_box;
mod session;
mod solubility;
mod solute;
mod testing;
mod tone;
mod water;

pub use citation::{Citation, Fact, Status};
pub use coating::{
    CHLORATE_IRON, CUSTOMARY_MARGIN, DOSE_ROUNDED, FEW_DROPS, FIRST_COAT, IRON_PER_METAL, IRON_PERCENT,
    LADDER_HALVINGS, LADDER_TOP, LESS, Less, MOST_OVER, MOST_UNDER, MUCH_ON_TOP, PEROXIDE_TOP, PRINTING_OUT_HUMIDITY,
    PRINTING_OUT_IRON, PRINTING_OUT_METAL, RATIO_ROUNDED, Spread, UPTAKE_HABITS, USUAL_DROPS, USUAL_DROPS_OFF,
    UptakeHabit,
};
pub use compound::{Compound, HYDRATES, Hydrates, NAMED};
pub use condition::{Condition, Sign};
pub use correction::{
    FEW_PATCHES, MUCH_DRIFT, MUCH_NOISE, NEXT_ALIKE, NEXT_LEVELS, NEXT_MOST, NEXT_WORTH, NOT_THROUGH, NOTHING_GAINED,
    PATCH_AREA, PATCH_WORTH, PLAIN_FAR, ROWS_TOGETHER, SOFT_CONTRAST, SOFT_PART, UNUSED_INPUT, WITHIN_NOISE,
};
pub use drops::{AIR_DENSITY, DROP_OF_WATER, DROPPER_ERROR, WATER_TEMPERATURE_OFF, WEIGHTS_DENSITY};
pub use element::{ELECTRON_MOLAR_MASS, Element, STANDARD_ATOMIC_WEIGHTS, StandardAtomicWeight};
pub use emergency::{EMERGENCY_DEFERS, Emergency, EmergencyLine, emergency};
pub use exposure::{
    BASE_TRUSTED_DAYS, BLACK_WITHIN, BLACK_WITHIN_RANGE, BORROWED_SCALES, BORROWED_SLOPE_OFF, BorrowedScale,
    ContrastBy, DOSE_ALIKE, EYE_TIME, LAMP_TRUSTED_HOURS, LEAST_SCALE_U, LEAST_TONES, LEVEL_SPAN, LEVEL_STEP,
    OUT_OF_ORDER, POOLED_FREEDOM, READING_U, SCALE_WITHOUT_AGENT, SHOULDER_PART, STRIPS_MOST, TOE_ABOVE, Tablet,
    USUAL_TABLET,
};
pub use fault::{BASE_TIME_STANDS_ON, Cause, Notable, Way, causes, notable, opposite};
pub use glassware::{ABOVE_THE_TABLE, CYLINDERS, Cylinder, LARGEST_CYLINDER_ML, cylinder_for};
pub use hazard::{HazardCodeUnknown, PRECEDENCE, Pictogram, SignalWord, pictograms_shown};
pub use hazard_statement::{HAZARD_STATEMENTS, HazardStatement};
pub use incompatible::{Class, Harm, INCOMPATIBLE, Incompatible};
pub use keeping::{CLEARS_PER_LITRE, KEEPING, Keeping, Keeps, THIN_PERCENT};
pub use negative::{
    BORDER_GAP_MM, BORDER_MM, CODE_MM, LEAST_SOURCE_PPI, MM_PER_INCH, MUCH_ENLARGED, PPI_RANGE, RULE_MM, STEP_SEEN,
    TICK_MM, USUAL_PPI, WEDGE_LEAST_MM, WEDGE_STEP_MM, WEDGE_STEPS,
};
pub use practice::{
    AIM_MISSED, AREA_TRIED, ASSAY_NEAR, ASSAY_SLACK, BOTTLE_FILL, BOTTLE_MARKS, CHLORATE_APART, CHLORATE_IN_IRON,
    CHLORATE_SMALL, CHLORIDE_EXCESS, CHLORIDE_SHORT, CHLORIDE_SOLUTION_ML, CLEARLY_WEAKER, CLINGING_FILM,
    COLD_CRYSTALS, COMPLEX_SHRINKS, EYE_LEVEL, FILL_RESERVE, GLASS_TOLERANCE_MOST, LEAST_CHLORIDE, LEAST_RINSE,
    MEASURED_POUR, MOLAR_MASS_AGREES, POSSIBLE_DENSITY, POURED_MARKS, READY_AFTER, RECOVERED_ENOUGH, RINSE_MARK,
    RINSE_PART, SOLUTION_DENSITY, SOLUTION_PART, STEPS_WANTED, STRENGTH_AS_PLANNED, TELLING_METAL, UNKNOWN_ROOM,
    UNKNOWN_SOLID_ROOM, USUAL_COMPLEX_PERCENT, USUAL_SALT_PERCENT,
};
pub use prepared::{PREPARED, Prepared, Role};
pub use salt_box::{BOX_LOAD, BOX_OFF, BOX_RANGE, BOX_SALTS, BoxSalt};
pub use session::{
    ATTENDING, CLEARING_BATHS, CLEARING_OVERSTAY, CLEARING_SPAN, COAT_SPAN, COATED_KEEPS, DEVELOPER_OVERSTAY,
    DEVELOPING_SPAN, DRYING_PLACES, DRYING_SPAN, EXPOSED_KEEPS, EXPOSURE_SPAN, HANGING_SPAN, HUMIDIFYING_SPAN, LATE_BY,
    LOADING_SPAN, TAPPED_TWICE, WASH_HOLDS, WASH_OVERSTAY, WASHING_SPAN,
};
pub use solubility::{SOLUBILITY, Solubility};
pub use solute::{CRYSTAL_DENSITIES, ION_VOLUMES, SoluteRow};
pub use testing::{TESTS, Testing};
pub use tone::{
    ASIDE_MOST, CONTRAST_DRIFT, CURVES_EXPECTED, DRIFTS, END_INPUTS, Expected, FACTOR_DRIFT, FACTOR_EXPECTED,
    FACTOR_LENGTH, FACTOR_MARGIN, FIELD_EXPECTED, FIELD_LENGTH_EXPECTED, FIT_OFF_MOST, LEAST_INPUTS,
    LEAST_LIGHTNESS_SPAN, LOOKED_AT_MOST, MEAN_WORSE, MEMORY_MOST, MOST_PATCHES, NOISE_EXPECTED, NOISE_LEAST,
    OUTLIER_PART, OUTLIER_SIZE, PRIOR_DOUBT, SAYS_NOTHING, SHEET_SHARED, STARTS, Starts, TONES_APART, WHITE_WRITTEN,
};
pub use water::{WATER_DENSITY, WATER_DENSITY_RANGE};
