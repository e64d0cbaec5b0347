//! Large pictures: strips in, strips out.
//!
//! A picture is read in strips of rows, goes through its stages strip by strip, and is written as it comes; nobody ever holds it whole.
//! Memory depends on the width of a picture and not on its height; a scan alone is kept, made smaller, sixteen megapixels of it at most.
//!
//! | module | what it does |
//! |---|---|
//! | `refused` | why a picture is not taken: what was seen, what is taken |
//! | `header` | what a file says of its picture, and the budget it is held to before a pixel is read |
//! | `read` | TIFF, PNG and JPEG: header first, then rows |
//! | `samples` | rows as they lie in the file become 16-bit grey |
//! | `profile` | the embedded ICC profile as tables |
//! | `icc` | ICC profiles that are written: to embed, a device link, the profile of a print |
//! | `scan` | a scan made smaller as it is read: marks, codes of squares and patches on it, and a picture of what was found |
//! | `resample` | another number of pixels: separable filters |
//! | `lut` | a curve as 65,536 entries |
//! | `orient` | quarter turns and mirrors, through a spill file of bounded memory |
//! | `dither` | 16 bits become 8 |
//! | `sheet` | what is to be made: pictures and drawn strips on one sheet of film |
//! | `make` | the strips go through on all cores; the same bytes whatever their number |
//! | `write` | TIFF and PNG, written strip by strip under a name of their own until whole |
//!
//! Nothing here knows what a print is, and nothing computes a curve: both arrive ready.

mod dither;
mod header;
mod icc;
mod lut;
mod make;
mod orient;
mod profile;
mod read;
mod refused;
mod resample;
mod samples;
mod scan;
mod sheet;
mod write;

pub use dither::Dither;
pub use header::{Alpha, Budget, Channels, Depth, FileKind, Header, Ppi, Stated};
pub use icc::{GreyTone, device_link, grey_profile, neutral_white, print_profile};
pub use lut::Lut;
pub use make::{Checkpoint, Checkpoints, Made, NotMade, Progress, Run, make};
pub use orient::Orientation;
pub use read::Picture;
pub use refused::Refused;
pub use resample::{Filter, resample_plane};
pub use samples::Beyond;
pub use scan::{
    Across, Close, CodeMeaning, Colour, MarkCare, MarkSeen, MarkShape, Measured, Overlay, Scan, Strip, Stroke, Surface,
    marks_like, rings_of_four, strips,
};
pub use sheet::{Area, Colours, Drawn, DrawnStrips, Ink, InkRows, Job, NoJob, Output, Placed, SheetSize};
pub use write::{Format, Packing, forget_unfinished, unfinished};
