//! Hazard statements: the codes of a supplier's sheet and the phrases that belong to them.
//!
//! The phrases are a standard and are given as such, word for word, without the places where a sheet names an organ or
//! a route. A code that is not in the list is refused; it is never shortened to one that is.

use super::hazard::plain;
use super::{Citation, HazardCodeUnknown};

/// A hazard statement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HazardStatement {
    /// Its code, as `H290` or `H301+H311`.
    pub code: &'static str,
    /// Its phrase in English.
    pub text: &'static str,
    /// Source.
    pub cite: Citation,
}

impl HazardStatement {
    /// The statement of a code. Spaces do not matter; letters behind the number do (`H360Fd` is not `H360FD`).
    ///
    /// # Errors
    /// [`HazardCodeUnknown`] for a code that is not in the list.
    pub fn from_code(code: &str) -> Result<&'static Self, HazardCodeUnknown> {
        let exact = |own: &&Self| code.chars().filter(|c| !c.is_whitespace()).eq(own.code.chars());
        // In other case only where no two codes differ by case alone: `h290` is clear, `h360fd` is not.
        let upper = plain(code);
        let mut alike = HAZARD_STATEMENTS.iter().filter(|own| own.code.to_ascii_uppercase() == upper);
        let single = alike.next().filter(|_| alike.next().is_none());
        HAZARD_STATEMENTS.iter().find(exact).or(single).ok_or_else(|| HazardCodeUnknown {
            written: code.into(),
            expected: "a hazard statement such as `H290`, `H360FD` or `H301+H311`",
        })
    }

    /// Whether it says what the code of one statement says: `H301+H311` has `H311`.
    #[must_use]
    pub fn has(&self, code: &str) -> bool {
        self.code.split('+').any(|own| own == code)
    }
}

const fn ghs(code: &'static str, text: &'static str) -> HazardStatement {
    HazardStatement { code, text, cite: Citation::memory("un-ghs", "annex 3, section 1") }
}

const fn clp(code: &'static str, text: &'static str) -> HazardStatement {
    HazardStatement { code, text, cite: Citation::memory("clp", "annex III and annex VI, 1.1.2.1.2") }
}

/// The list, in the order of a sheet; statements said together after those said alone.
pub const HAZARD_STATEMENTS: &[HazardStatement] = &[
    ghs("H200", "Unstable explosive"),
    ghs("H201", "Explosive; mass explosion hazard"),
    ghs("H202", "Explosive; severe projection hazard"),
    ghs("H203", "Explosive; fire, blast or projection hazard"),
    ghs("H204", "Fire or projection hazard"),
    ghs("H205", "May mass explode in fire"),
    ghs("H206", "Fire, blast or projection hazard; increased risk of explosion if desensitizing agent is reduced"),
    ghs("H207", "Fire or projection hazard; increased risk of explosion if desensitizing agent is reduced"),
    ghs("H208", "Fire hazard; increased risk of explosion if desensitizing agent is reduced"),
    ghs("H220", "Extremely flammable gas"),
    ghs("H221", "Flammable gas"),
    ghs("H222", "Extremely flammable aerosol"),
    ghs("H223", "Flammable aerosol"),
    ghs("H224", "Extremely flammable liquid and vapour"),
    ghs("H225", "Highly flammable liquid and vapour"),
    ghs("H226", "Flammable liquid and vapour"),
    ghs("H227", "Combustible liquid"),
    ghs("H228", "Flammable solid"),
    ghs("H229", "Pressurized container: may burst if heated"),
    ghs("H230", "May react explosively even in the absence of air"),
    ghs("H231", "May react explosively even in the absence of air at elevated pressure and/or temperature"),
    ghs("H232", "May ignite spontaneously if exposed to air"),
    ghs("H240", "Heating may cause an explosion"),
    ghs("H241", "Heating may cause a fire or explosion"),
    ghs("H242", "Heating may cause a fire"),
    ghs("H250", "Catches fire spontaneously if exposed to air"),
    ghs("H251", "Self-heating; may catch fire"),
    ghs("H252", "Self-heating in large quantities; may catch fire"),
    ghs("H260", "In contact with water releases flammable gases which may ignite spontaneously"),
    ghs("H261", "In contact with water releases flammable gas"),
    ghs("H270", "May cause or intensify fire; oxidizer"),
    ghs("H271", "May cause fire or explosion; strong oxidizer"),
    ghs("H272", "May intensify fire; oxidizer"),
    ghs("H280", "Contains gas under pressure; may explode if heated"),
    ghs("H281", "Contains refrigerated gas; may cause cryogenic burns or injury"),
    ghs("H290", "May be corrosive to metals"),
    ghs("H300", "Fatal if swallowed"),
    ghs("H301", "Toxic if swallowed"),
    ghs("H302", "Harmful if swallowed"),
    ghs("H303", "May be harmful if swallowed"),
    ghs("H304", "May be fatal if swallowed and enters airways"),
    ghs("H305", "May be harmful if swallowed and enters airways"),
    ghs("H310", "Fatal in contact with skin"),
    ghs("H311", "Toxic in contact with skin"),
    ghs("H312", "Harmful in contact with skin"),
    ghs("H313", "May be harmful in contact with skin"),
    ghs("H314", "Causes severe skin burns and eye damage"),
    ghs("H315", "Causes skin irritation"),
    ghs("H316", "Causes mild skin irritation"),
    ghs("H317", "May cause an allergic skin reaction"),
    ghs("H318", "Causes serious eye damage"),
    ghs("H319", "Causes serious eye irritation"),
    ghs("H320", "Causes eye irritation"),
    ghs("H330", "Fatal if inhaled"),
    ghs("H331", "Toxic if inhaled"),
    ghs("H332", "Harmful if inhaled"),
    ghs("H333", "May be harmful if inhaled"),
    ghs("H334", "May cause allergy or asthma symptoms or breathing difficulties if inhaled"),
    ghs("H335", "May cause respiratory irritation"),
    ghs("H336", "May cause drowsiness or dizziness"),
    ghs("H340", "May cause genetic defects"),
    ghs("H341", "Suspected of causing genetic defects"),
    ghs("H350", "May cause cancer"),
    ghs("H351", "Suspected of causing cancer"),
    ghs("H360", "May damage fertility or the unborn child"),
    ghs("H361", "Suspected of damaging fertility or the unborn child"),
    ghs("H362", "May cause harm to breast-fed children"),
    ghs("H370", "Causes damage to organs"),
    ghs("H371", "May cause damage to organs"),
    ghs("H372", "Causes damage to organs through prolonged or repeated exposure"),
    ghs("H373", "May cause damage to organs through prolonged or repeated exposure"),
    ghs("H400", "Very toxic to aquatic life"),
    ghs("H401", "Toxic to aquatic life"),
    ghs("H402", "Harmful to aquatic life"),
    ghs("H410", "Very toxic to aquatic life with long lasting effects"),
    ghs("H411", "Toxic to aquatic life with long lasting effects"),
    ghs("H412", "Harmful to aquatic life with long lasting effects"),
    ghs("H413", "May cause long lasting harmful effects to aquatic life"),
    ghs("H420", "Harms public health and the environment by destroying ozone in the upper atmosphere"),
    ghs("H300+H310", "Fatal if swallowed or in contact with skin"),
    ghs("H300+H330", "Fatal if swallowed or if inhaled"),
    ghs("H310+H330", "Fatal in contact with skin or if inhaled"),
    ghs("H300+H310+H330", "Fatal if swallowed, in contact with skin or if inhaled"),
    ghs("H301+H311", "Toxic if swallowed or in contact with skin"),
    ghs("H301+H331", "Toxic if swallowed or if inhaled"),
    ghs("H311+H331", "Toxic in contact with skin or if inhaled"),
    ghs("H301+H311+H331", "Toxic if swallowed, in contact with skin or if inhaled"),
    ghs("H302+H312", "Harmful if swallowed or in contact with skin"),
    ghs("H302+H332", "Harmful if swallowed or if inhaled"),
    ghs("H312+H332", "Harmful in contact with skin or if inhaled"),
    ghs("H302+H312+H332", "Harmful if swallowed, in contact with skin or if inhaled"),
    ghs("H315+H320", "Causes skin and eye irritation"),
    clp("H350i", "May cause cancer by inhalation"),
    clp("H360F", "May damage fertility"),
    clp("H360D", "May damage the unborn child"),
    clp("H360FD", "May damage fertility. May damage the unborn child"),
    clp("H360Fd", "May damage fertility. Suspected of damaging the unborn child"),
    clp("H360Df", "May damage the unborn child. Suspected of damaging fertility"),
    clp("H361f", "Suspected of damaging fertility"),
    clp("H361d", "Suspected of damaging the unborn child"),
    clp("H361fd", "Suspected of damaging fertility. Suspected of damaging the unborn child"),
    clp("EUH031", "Contact with acids liberates toxic gas"),
    clp("EUH032", "Contact with acids liberates very toxic gas"),
    clp("EUH066", "Repeated exposure may cause skin dryness or cracking"),
    clp("EUH071", "Corrosive to the respiratory tract"),
];
