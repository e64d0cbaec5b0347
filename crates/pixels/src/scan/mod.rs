//! A scan, made smaller as it is read, and what is looked for on it: marks by their shape, codes of squares, the tones of patches.
//!
//! A flat-bed scan holds far more pixels than tones need, so whole squares of them are averaged while the rows go by, and everything else
//! happens on the smaller picture. Places are in its pixels, the middle of the first being 0.5, 0.5.
//!
//! | module | what it does |
//! |---|---|
//! | `reduce` | rows become the smaller picture |
//! | `light` | what codes mean: a profile, or what is taken for one |
//! | `blobs` | dark spots, with their moments |
//! | `marks` | spots that look like a mark, and rings of four of them |
//! | `row` | long dark strips, and the tones along one |
//! | `squares` | a code of squares whose place is known |
//! | `measure` | the tone of a patch, edges and middles of marks |
//! | `surface` | light that falls off over the sheet |
//! | `overlay` | a picture of what was found |

mod blobs;
mod light;
mod marks;
mod measure;
mod overlay;
mod reduce;
mod row;
mod squares;
mod surface;

pub use light::CodeMeaning;
pub use marks::{MarkCare, MarkSeen, MarkShape, marks_like, rings_of_four};
pub use measure::{Close, Measured};
pub use overlay::{Colour, Overlay, Stroke};
pub use row::{Across, Strip, strips};
pub use surface::Surface;

use crate::header::Ppi;

use light::{Light, Lights};

/// A scan, smaller than its file.
#[derive(Debug)]
pub struct Scan {
    width: usize,
    height: usize,
    /// Pixels of the file to one of ours, each way.
    factor: u32,
    ppi: Option<Ppi>,
    /// One plane of grey, or red, green and blue.
    planes: Vec<Vec<u16>>,
    /// Of a picture in colour: how light each pixel is, by its codes.
    luma: Option<Vec<u16>>,
    light: Light,
    lights: Lights,
    /// L* by the upper bits of a neutral code.
    lightness: Vec<f32>,
}

/// Bits of a code that the table of lightness does not go by.
const BELOW_BITS: u32 = 4;

impl Scan {
    /// Pixels across.
    #[must_use]
    pub fn width(&self) -> usize {
        self.width
    }

    /// Pixels down.
    #[must_use]
    pub fn height(&self) -> usize {
        self.height
    }

    /// Pixels of the file to one of these, each way.
    #[must_use]
    pub fn factor(&self) -> u32 {
        self.factor
    }

    /// Pixels to the inch of the file, where it says so.
    #[must_use]
    pub fn ppi(&self) -> Option<Ppi> {
        self.ppi
    }

    /// Whether it has colour.
    #[must_use]
    pub fn has_colour(&self) -> bool {
        self.luma.is_some()
    }

    /// Whether its tones come through its own profile.
    #[must_use]
    pub fn through_profile(&self) -> bool {
        self.light.is_profile()
    }

    /// How light each pixel is, by its code.
    fn tones(&self) -> &[u16] {
        self.luma.as_deref().or(self.planes.first().map(Vec::as_slice)).unwrap_or_default()
    }

    fn tone(&self, column: usize, row: usize) -> u16 {
        self.tones().get(row * self.width + column).copied().unwrap_or(0)
    }

    /// L* of a neutral code.
    fn l_star(&self, code: u16) -> f64 {
        let at = usize::from(code >> BELOW_BITS);
        let entry = |at: usize| f64::from(self.lightness.get(at).copied().unwrap_or(100.0));
        let between = f64::from(code & ((1 << BELOW_BITS) - 1)) / f64::from(1 << BELOW_BITS);
        entry(at) + (entry(at + 1) - entry(at)) * between
    }

    /// Columns and rows of the pixels in a box, cut at the edges.
    fn within(&self, low: (f64, f64), high: (f64, f64)) -> (std::ops::Range<usize>, std::ops::Range<usize>) {
        let cut = |from: f64, to: f64, most: usize| {
            let end = |own: f64| own.clamp(0.0, most as f64) as usize;
            end(from.floor())..end(to.ceil())
        };
        (cut(low.0, high.0, self.width), cut(low.1, high.1, self.height))
    }
}
