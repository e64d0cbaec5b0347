//! TIFF and BigTIFF: strips and tiles, plain, LZW, deflate and PackBits, planes together or apart.
//!
//! Written after *TIFF Revision 6.0* (Adobe, 1992) and its supplements for tiles, deflate and floating-point predictors.

mod fields;
mod layout;
mod predictor;
mod rows;
mod unpack;

pub(crate) use layout::Tiff;
pub(crate) use rows::Unpacking;
