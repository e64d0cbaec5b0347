//! What is drawn: small SVG drawings, one source for pages and papers.
//!
//! A drawing takes `craft` values and a [`Theme`] and gives an SVG text. On a page ([`Theme::Page`]) colours
//! are the page's own CSS variables, so the safelight theme reaches into drawings too; on paper
//! ([`Theme::Paper`]) they are literal, because what sets the PDF resolves no variables. Every drawing has a
//! title and a description; a table with the same numbers stands beside it wherever it is used.

mod chloride_scale;
mod expose;
mod fonts;
mod letters;
mod pictogram;
mod plot;
mod qr;
mod svg;
mod timeline;
mod tone;
mod uncertainty_bars;

pub use chloride_scale::chloride_scale;
pub use expose::{LadderAim, LadderMark, ladder_plot, wedge_plot};
pub use fonts::{FACES, Face};
pub use letters::{Letters, letters};
pub use pictogram::pictogram;
pub use plot::{Axis, Layer, Look, Plot, PlotWidth, Point, Stroke, Ticks};
pub use qr::{QrError, qr, qr_modules, qr_of_25, qr_small, qr_squares};
pub use svg::Theme;
pub use timeline::{TimelineBar, TimelineRow, TimelineWidth, timeline};
pub use tone::{correction_plot, drift_map, left_plot, residual_plot, response_plot};
pub use uncertainty_bars::{Bar, uncertainty_bars};
