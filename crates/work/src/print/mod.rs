//! The record of a print: what was poured, how it was made, how it was judged; repeating it and holding it against others.
//!
//! | module | what it holds |
//! |---|---|
//! | `table` | which fields a print has |
//! | `pour` | solutions out of bottles onto a sheet, also where a bottle holds less than was poured |
//! | `coat` | a coat that was made, or spoiled |
//! | `record` | a print that was made |
//! | `note` | what is added later: verdicts, densities, where it is, a picture |
//! | `sheet` | what stands in the book of one print or coat |
//! | `view` | prints as pages and lists show them, and finding them |
//! | `conditions` | a print as something to compare |
//! | `compare` | two prints side by side, and whether an exposure time still stands |
//! | `repeat` | the same print again, with today's bottles |

mod coat;
mod compare;
mod conditions;
mod note;
mod pour;
mod record;
mod repeat;
mod sheet;
mod table;
mod view;

pub(crate) use coat::title as read_title;
pub use coat::{CoatMade, Spoiled, coat, spoil};
pub(crate) use coat::{coat_once, spoil_once};
pub use compare::{Compared, Standing, compare, still_stands};
pub use note::{Picture, add_picture, note, picture};
pub(crate) use pour::read_pour;
pub(crate) use record::record_once;
pub use record::{PrintMade, record};
pub use repeat::{Again, Repeat, Repeated, repeat};
pub use table::{FIELDS, groups};
pub(crate) use view::coats_newest;
pub use view::{CoatView, Poured, PrintView, open_coats, print, prints};
