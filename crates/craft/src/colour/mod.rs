//! How light a density looks: CIE 1976 lightness L* of a reflection density. And colours, where a scan has them.
//!
//! CIE 15 (L* of relative luminance Y, with the exact constants 216/24389 and 24389/27 of the junction) and ISO 5-1 (density is the
//! negative logarithm of the reflectance), from memory. A visual density is taken for -log10 Y, which holds for neutral tones.

mod lab;
mod srgb;

pub use lab::{Lab, White, Xyz};
pub use srgb::{Srgb8, icc_to_rgb_light, light_to_srgb, rgb_light_to_icc, srgb_to_light, srgb8_to_light};

use crate::measure::{Lightness, OutOfBounds, PrintDensity, Uncertain};

/// Above this luminance L* goes by the cube root, below it by a straight line.
const JUNCTION: f64 = 216.0 / 24389.0;
/// Slope of the straight line.
const KAPPA: f64 = 24389.0 / 27.0;

fn luminance(density: f64) -> f64 {
    libm::pow(10.0, -density)
}

fn l_star(y: f64) -> f64 {
    if y > JUNCTION { 116.0 * libm::cbrt(y) - 16.0 } else { KAPPA * y }
}

/// Lightness of a bare density, for curves whose ends are only being looked for.
pub(crate) fn l_star_of(density: f64) -> f64 {
    l_star(luminance(density))
}

/// Relative luminance of a print density, white being 1.
#[must_use]
pub fn relative_luminance(density: PrintDensity) -> f64 {
    luminance(density.to_density())
}

/// The lightness of a print density.
#[must_use]
pub fn lightness(density: PrintDensity) -> Lightness {
    // OK because densities from -0.2 to 4 have lightnesses from 0.09 to 119.
    Lightness::l_star(l_star(luminance(density.to_density())))
        .expect("BUG: the lightness of a density is out of bounds")
}

/// The print density of a lightness.
///
/// # Errors
/// [`OutOfBounds`] for a lightness darker than density 4, or lighter than density -0.2.
pub fn density(lightness: Lightness) -> Result<PrintDensity, OutOfBounds> {
    let own = lightness.to_l_star();
    let root = (own + 16.0) / 116.0;
    let cube = root * root * root;
    let y = if cube > JUNCTION { cube } else { own / KAPPA };
    // No light at all has no density; the bounds say so of what is as good as none.
    PrintDensity::density(if y > 0.0 { -libm::log10(y) } else { f64::INFINITY })
}

/// The lightness of a density that is uncertain (first order).
#[must_use]
pub fn uncertain_lightness(density: &Uncertain<PrintDensity>) -> Uncertain<Lightness> {
    let y = luminance(density.best.to_density());
    let by_y = if y > JUNCTION { 116.0 / 3.0 * libm::cbrt(y) } else { KAPPA * y };
    Uncertain::new(lightness(density.best), by_y * core::f64::consts::LN_10 * density.standard())
}
