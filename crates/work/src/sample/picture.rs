//! An invented picture: a jar, an apple and a bowl before a wall, drawn by numbers, with a ramp of all tones below. Nobody's photograph.

/// Pixels of the picture.
const SIZE: (u32, u32) = (1080, 864);
/// Rows of the ramp at its lower edge.
const RAMP: u32 = 72;

/// The picture as a TIFF of 16-bit grey without a profile, 300 pixels to the inch.
#[must_use]
pub fn sample_picture() -> Vec<u8> {
    let (width, height) = SIZE;
    let mut samples = Vec::with_capacity(2 * (width * height) as usize);
    for y in 0..height {
        for x in 0..width {
            let tone = if y >= height - RAMP { f64::from(x) / f64::from(width - 1) } else { scene(x, y) };
            samples.extend(((tone.clamp(0.0, 1.0) * 65535.0 + 0.5) as u16).to_le_bytes());
        }
    }
    tiff(SIZE, 16, 300, &samples)
}

/// A TIFF of grey without a profile, in one strip; `bits` are those of a sample.
pub(super) fn tiff((width, height): (u32, u32), bits: u32, ppi: u32, samples: &[u8]) -> Vec<u8> {
    let mut out = b"II*\0\x08\0\0\0".to_vec();
    // Tag, type (3 short, 4 long, 5 ratio), value; the two numbers of the ratio lie behind the directory.
    let entries: [(u16, u16, u32); 11] = [
        (256, 4, width),
        (257, 4, height),
        (258, 3, bits),
        (259, 3, 1),
        (262, 3, 1),
        (273, 4, 160),
        (277, 3, 1),
        (278, 4, height),
        (279, 4, samples.len() as u32),
        (282, 5, 150),
        (283, 5, 150),
    ];
    out.extend((entries.len() as u16).to_le_bytes());
    for (tag, sort, value) in entries {
        out.extend([tag.to_le_bytes(), sort.to_le_bytes()].concat());
        out.extend([1_u32.to_le_bytes(), value.to_le_bytes()].concat());
    }
    out.resize(150, 0);
    out.extend([ppi.to_le_bytes(), 1_u32.to_le_bytes()].concat());
    out.resize(160, 0);
    out.extend_from_slice(samples);
    out
}

/// How far within an ellipse a place lies: 1 in its middle, 0 on its rim, and below outside.
fn within(x: f64, y: f64, centre: (f64, f64), radius: (f64, f64)) -> f64 {
    let (dx, dy) = ((x - centre.0) / radius.0, (y - centre.1) / radius.1);
    1.0 - dx * dx - dy * dy
}

/// The tone of a place above the ramp. Light comes from the upper left.
fn scene(x: u32, y: u32) -> f64 {
    let (x, y) = (f64::from(x) / f64::from(SIZE.0), f64::from(y) / f64::from(SIZE.1));
    // A wall that darkens to the right, a table that lightens to the front.
    let mut tone = if y < 0.58 { 0.62 - 0.42 * x - 0.15 * y } else { 0.30 + 0.7 * (y - 0.58) - 0.12 * x };
    for (centre, radius) in [((0.36, 0.70), (0.20, 0.05)), ((0.64, 0.79), (0.19, 0.05)), ((0.86, 0.74), (0.14, 0.04))] {
        tone *= 1.0 - 0.75 * within(x, y, centre, radius).max(0.0);
    }
    // A jar: a bright stripe, and a dark side.
    if (0.18..0.38).contains(&x) && (0.22..0.68).contains(&y) {
        let across = (x - 0.28) / 0.10;
        let stripe = (-((across + 0.45) / 0.12).powi(2)).exp();
        tone = 0.34 * (1.0 - across * across).max(0.0).sqrt() + 0.05 + 0.55 * stripe;
    }
    // A bowl, bright outside, and an apple.
    let bowl = within(x, y, (0.78, 0.60), (0.16, 0.15));
    if bowl > 0.0 && y > 0.58 {
        tone = 0.42 + 0.55 * bowl.sqrt() * (1.0 - 2.0 * (x - 0.70)).clamp(0.0, 1.0);
    }
    let apple = within(x, y, (0.55, 0.66), (0.10, 0.125));
    if apple > 0.0 {
        let lit = within(x, y, (0.515, 0.61), (0.16, 0.19)).max(0.0);
        let gloss = within(x, y, (0.51, 0.59), (0.022, 0.022)).max(0.0);
        tone = 0.03 + 0.55 * lit + 0.42 * gloss * apple.sqrt();
    }
    tone
}
