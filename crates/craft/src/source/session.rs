//! How long the steps of a print take and how long a sheet may wait between them: starting points, in minutes. A
//! maker's own times replace them.

use super::{Citation, Fact};

const fn usual<T: Copy>(value: T, what: &'static str) -> Fact<T> {
    Fact { value, cite: Citation::practice(what) }
}

/// Mixing the drops and coating one sheet, in minutes.
pub const COAT_SPAN: Fact<f64> = usual(8.0, "drops counted, sheet coated, brush or rod rinsed");
/// A coated sheet from wet to dry, in minutes: flat until the shine goes, then a fan.
pub const DRYING_SPAN: Fact<f64> = usual(30.0, "half an hour in the dark; 12 to 15 minutes with gentle warmth");
/// A dry sheet in the humid box, in minutes.
pub const HUMIDIFYING_SPAN: Fact<f64> = usual(60.0, "about an hour over a salt, one sheet in stirred air");
/// Sheet and negative into the frame, in minutes.
pub const LOADING_SPAN: Fact<f64> = usual(3.0, "dusting, laying in register, closing the frame");
/// An exposure nobody has said anything of, in minutes.
pub const EXPOSURE_SPAN: Fact<f64> = usual(6.0, "3 to 12 minutes are told of; a wedge says it for a lamp");
/// In the developer, in minutes.
pub const DEVELOPING_SPAN: Fact<f64> = usual(3.0, "the image comes at once; 1 to 3 minutes in all");
/// In each clearing bath, in minutes.
pub const CLEARING_SPAN: Fact<f64> = usual(7.0, "5 to 10 minutes a bath, until the last stays like water");
/// Clearing baths.
pub const CLEARING_BATHS: Fact<u8> = usual(3, "two or three, the oldest first");
/// In the wash, in minutes.
pub const WASHING_SPAN: Fact<f64> = usual(30.0, "15 to 30 minutes in old manuals, 30 to 60 today");
/// Hanging until it can be judged dry, in minutes.
pub const HANGING_SPAN: Fact<f64> = usual(30.0, "20 to 30 minutes in warm air, else overnight");
/// What a hand gives to a step that then goes on by itself, in minutes.
pub const ATTENDING: Fact<f64> = usual(1.0, "laid in, looked at, walked away from");
/// Coated sheets that can dry side by side.
pub const DRYING_PLACES: Fact<u16> = usual(4, "a rack or a table in the dark");
/// Prints one wash tray holds at a time.
pub const WASH_HOLDS: Fact<u16> = usual(4, "moved from time to time, never in a stack that sticks");
/// A dry coated sheet waits no longer than this for its exposure, in minutes.
pub const COATED_KEEPS: Fact<f64> = Fact {
    value: 240.0,
    cite: Citation::second_hand("mathias2000", "description of the process: exposed within about four hours"),
};
/// An exposed sheet waits no longer than this for its developer, in minutes.
pub const EXPOSED_KEEPS: Fact<f64> = usual(10.0, "minutes are best; old manuals give a damp sheet up to an hour");
/// A print may stay this much longer in the developer, in minutes, when no hand is free.
pub const DEVELOPER_OVERSTAY: Fact<f64> = usual(2.0, "it has come to its end; a little longer does no harm");
/// A print may stay this much longer in a clearing bath, in minutes.
pub const CLEARING_OVERSTAY: Fact<f64> = usual(5.0, "within the usual spread of 5 to 15 minutes a bath");
/// A print may stay this much longer in the wash, in minutes.
pub const WASH_OVERSTAY: Fact<f64> = usual(30.0, "half an hour to an hour is washed today");
/// The same timer begun again within so many seconds is one tap of a wet glove.
pub const TAPPED_TWICE: Fact<f64> = usual(3.0, "a second tap comes within a second or two");
/// How much later a step is taken to be when nobody says, in minutes.
pub const LATE_BY: Fact<f64> = usual(5.0, "long enough to matter, short enough to say twice");
