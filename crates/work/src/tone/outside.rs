//! The curve to the outside: as an ICC device link other programs can send a picture through, and the response as the profile of what the
//! print is. Each says how far the file lies from the curve it was made of.

use handcoat_craft::colour::{Lab, White, Xyz};
use handcoat_craft::measure::{Bounded, ToneInput};
use handcoat_craft::source::OUTSIDE_ROWS;
use handcoat_pixels::{device_link, neutral_white, print_profile};

use super::read::ToneRead;

/// A file for other programs.
#[derive(Clone, Debug, PartialEq)]
pub struct ForOthers {
    /// The file.
    pub bytes: Vec<u8>,
    /// How far its table lies from the curve at most: codes of 65,535 of a device link, L* of a profile.
    pub off: f64,
}

const FULL: f64 = 65535.0;

fn part(own: f64) -> Option<ToneInput> {
    ToneInput::part(own.clamp(ToneInput::LEAST, ToneInput::MOST)).ok()
}

fn rows() -> impl Iterator<Item = f64> {
    let last = (OUTSIDE_ROWS.value - 1) as f64;
    (0..OUTSIDE_ROWS.value).map(move |row| row as f64 / last)
}

/// A table as it is written, and read along straight lines.
struct Written(Vec<f64>);

impl Written {
    fn of(parts: &[f64]) -> Self {
        Self(parts.iter().map(|own| (own * FULL).round() / FULL).collect())
    }

    fn at(&self, x: f64) -> f64 {
        let along = x * self.0.len().saturating_sub(1) as f64;
        let row = along as usize;
        let here = self.0.get(row).copied().unwrap_or(0.0);
        let next = self.0.get(row + 1).copied().unwrap_or(here);
        here + (next - here) * (along - row as f64)
    }
}

fn most(off: impl Fn(f64) -> f64) -> f64 {
    (0..=u16::MAX).map(|code| off(f64::from(code) / FULL)).fold(0.0, f64::max)
}

/// The correction as a device link from grey to grey: wanted tone in, what is sent out.
#[must_use]
pub fn curve_link(read: &ToneRead, name: &str) -> ForOthers {
    let send = |own: f64| part(own).map_or(own, |own| read.correction.send(own).to_part());
    let out: Vec<f64> = rows().map(send).collect();
    let written = Written::of(&out);
    let off = most(|tone| FULL * (written.at(tone) - send(tone)).abs());
    ForOthers { bytes: device_link(name, &out), off }
}

/// The response as a grey profile: input in, luminance of the print out; its white is the paper's.
#[must_use]
pub fn response_profile(read: &ToneRead, name: &str) -> ForOthers {
    let response = &read.fit.response;
    let light = |own: f64| part(own).map_or(0.0, |own| response.at(own).best.to_l_star());
    let luminance = |l_star: f64| Lab { l_star, a_star: 0.0, b_star: 0.0 }.to_xyz(White::IccD50).y;
    // No table has less than nothing in it.
    let white = luminance(response.white()).max(f64::MIN_POSITIVE);
    let relative: Vec<f64> = rows().map(|own| luminance(light(own)) / white).collect();
    let written = Written::of(&relative);
    let lightness = |luminance: f64| Xyz { x: 0.0, y: luminance, z: 0.0 }.to_lab(White::IccD50).l_star;
    let off = most(|input| (lightness(written.at(input) * white) - light(input)).abs());
    ForOthers { bytes: print_profile(name, &relative, neutral_white(white)), off }
}

/// What these files call themselves.
#[must_use]
pub fn outside_name(what: &str, number: Option<u32>, setup: Option<&str>) -> String {
    let number = number.map_or(String::new(), |own| format!(" of response {own}"));
    let setup = setup.map_or(String::new(), |own| format!(", {own}"));
    format!("{what}{number}{setup}")
}
