//! Dark spots of a picture, with the moments of their area.

/// A run of dark pixels in a row.
#[derive(Clone, Copy)]
struct Run {
    row: u32,
    from: u32,
    to: u32,
}

/// Sums over the pixels of a spot: of 1, x, y, their squares, products and cubes.
#[derive(Clone, Copy, Default)]
struct Sums {
    area: f64,
    x: f64,
    y: f64,
    xx: f64,
    xy: f64,
    yy: f64,
    xxx: f64,
    xxy: f64,
    xyy: f64,
    yyy: f64,
}

/// A dark spot.
#[derive(Clone, Copy, Debug)]
pub(super) struct Blob {
    /// Pixels.
    pub(super) area: f64,
    /// Its middle.
    pub(super) middle: (f64, f64),
    /// The direction in which it is longest, towards its thinner end.
    pub(super) towards: (f64, f64),
    /// Standard deviation along, as a multiple of that across.
    pub(super) length: f64,
    /// The area as a part of that of an ellipse with the same standard deviations.
    pub(super) fill: f64,
    /// Third moment along, over the third power of the standard deviation.
    pub(super) skew: f64,
}

impl Sums {
    fn add(&mut self, run: Run) {
        let y = f64::from(run.row) + 0.5;
        let (mut count, mut one, mut two, mut three) = (0.0, 0.0, 0.0, 0.0);
        for column in run.from..run.to {
            let x = f64::from(column) + 0.5;
            count += 1.0;
            one += x;
            two += x * x;
            three += x * x * x;
        }
        self.area += count;
        self.x += one;
        self.y += count * y;
        self.xx += two;
        self.xy += one * y;
        self.yy += count * y * y;
        self.xxx += three;
        self.xxy += two * y;
        self.xyy += one * y * y;
        self.yyy += count * y * y * y;
    }

    fn blob(&self) -> Option<Blob> {
        let n = self.area;
        let (x, y) = (self.x / n, self.y / n);
        let (a, b, c) = (self.xx / n - x * x, self.xy / n - x * y, self.yy / n - y * y);
        let spread = ((a - c) * (a - c) / 4.0 + b * b).sqrt();
        let (long, short) = (0.5 * (a + c) + spread, 0.5 * (a + c) - spread);
        if short.is_nan() || short <= 0.0 {
            return None;
        }
        let turn = 0.5 * (2.0 * b).atan2(a - c);
        let (ux, uy) = (turn.cos(), turn.sin());
        // Third moments about the middle.
        let xxx = self.xxx / n - 3.0 * x * self.xx / n + 2.0 * x * x * x;
        let yyy = self.yyy / n - 3.0 * y * self.yy / n + 2.0 * y * y * y;
        let xxy = self.xxy / n - 2.0 * x * self.xy / n - y * self.xx / n + 2.0 * x * x * y;
        let xyy = self.xyy / n - 2.0 * y * self.xy / n - x * self.yy / n + 2.0 * x * y * y;
        let third = ux * ux * ux * xxx + 3.0 * ux * ux * uy * xxy + 3.0 * ux * uy * uy * xyy + uy * uy * uy * yyy;
        let skew = third / (long * long.sqrt());
        let sign = if skew < 0.0 { -1.0 } else { 1.0 };
        Some(Blob {
            area: n,
            middle: (x, y),
            towards: (sign * ux, sign * uy),
            length: (long / short).sqrt(),
            fill: n / (4.0 * std::f64::consts::PI * (long * short).sqrt()),
            skew: skew.abs(),
        })
    }
}

/// The root of a label, with the way to it shortened.
fn root(above: &mut [u32], mut label: u32) -> u32 {
    let at = |above: &[u32], label: u32| above.get(label as usize).copied().unwrap_or(label);
    while at(above, label) != label {
        let up = at(above, at(above, label));
        if let Some(own) = above.get_mut(label as usize) {
            *own = up;
        }
        label = up;
    }
    label
}

/// Spots darker than a code, of areas between two; neighbours touch at a corner too. What reaches the edge of the picture is none.
pub(super) fn blobs(tones: &[u16], width: usize, below: u16, areas: std::ops::Range<f64>) -> Vec<Blob> {
    let mut runs: Vec<(Run, u32)> = Vec::new();
    let mut above: Vec<u32> = Vec::new();
    let (mut before, mut here) = (0..0, 0..0);
    for (row, codes) in tones.chunks_exact(width.max(1)).enumerate() {
        let start = runs.len();
        let mut column = 0;
        while let Some(from) = codes.iter().skip(column).position(|own| *own < below).map(|own| own + column) {
            let to = codes.iter().skip(from).position(|own| *own >= below).map_or(width, |own| own + from);
            column = to;
            let run = Run { row: row as u32, from: from as u32, to: to as u32 };
            let mut label = None;
            // Runs of the row above that end before this one begins touch no later one either.
            while runs.get(before.start).is_some_and(|own| before.start < before.end && own.0.to < run.from) {
                before.start += 1;
            }
            for at in before.clone() {
                let Some((other, own)) = runs.get(at).copied() else { break };
                if other.from > run.to {
                    break;
                }
                let own = root(&mut above, own);
                let joined = label.map_or(own, |label: u32| label.min(own));
                for old in [label.unwrap_or(own), own] {
                    if let Some(up) = above.get_mut(old as usize) {
                        *up = joined;
                    }
                }
                label = Some(joined);
            }
            let label = label.unwrap_or_else(|| {
                above.push(above.len() as u32);
                above.len() as u32 - 1
            });
            runs.push((run, label));
        }
        here.start = start;
        here.end = runs.len();
        before = here.clone();
    }
    let mut sizes = vec![0.0; above.len()];
    let mut roots: Vec<u32> = Vec::with_capacity(runs.len());
    for (run, label) in &runs {
        let own = root(&mut above, *label);
        roots.push(own);
        if let Some(size) = sizes.get_mut(own as usize) {
            // What reaches an edge is cut there.
            let last = tones.len() / width.max(1) - 1;
            let cut = run.from == 0 || run.to as usize == width || run.row == 0 || run.row as usize == last;
            *size += if cut { f64::INFINITY } else { f64::from(run.to - run.from) };
        }
    }
    // Sums only of those that may be something.
    let mut sums: Vec<Option<Sums>> = sizes.iter().map(|own| areas.contains(own).then(Sums::default)).collect();
    for ((run, _), own) in runs.iter().zip(roots) {
        if let Some(Some(sums)) = sums.get_mut(own as usize) {
            sums.add(*run);
        }
    }
    sums.iter().flatten().filter_map(Sums::blob).collect()
}
