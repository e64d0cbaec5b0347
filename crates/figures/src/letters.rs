//! A line of words in pixels, for what is printed on film: how much of each pixel its letters cover.

use tiny_skia::{FillRule, Mask, Path, PathBuilder, Transform};
use ttf_parser::gsub::{SingleSubstitution, SubstitutionSubtable};
use ttf_parser::{Face, GlyphId, OutlineBuilder, Tag};

use super::fonts::FACES;

/// A line of words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Letters {
    /// Pixels across.
    pub width: u32,
    /// And down.
    pub height: u32,
    /// How much of each pixel is covered, 0 to 255, row by row.
    pub coverage: Vec<u8>,
    /// The words that had room.
    pub words: String,
}

/// A line longer than this is cut before it is measured.
const MOST_CHARACTERS: usize = 200;
/// What stands for words that had no room.
const CUT: char = '…';
/// Pixels around a letter, for edges that reach into the next.
const AROUND: f32 = 2.0;

struct Pen(PathBuilder);

impl OutlineBuilder for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to(x, y);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to(x, y);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.0.quad_to(x1, y1, x, y);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.0.cubic_to(x1, y1, x2, y2, x, y);
    }

    fn close(&mut self) {
        self.0.close();
    }
}

/// A line of so many pixels from the top of its letters to the foot of those that reach down, in the sans of the pages. Where it is longer than
/// `most` its letters become smaller, down to the part `least` of their size; what is longer still is cut. None where not one letter has room.
#[must_use]
pub fn letters(text: &str, height: u32, most: u32, least: f64) -> Option<Letters> {
    let file = FACES.iter().find(|own| own.family == "Alegreya Sans" && own.weight == 500)?;
    let face = Face::parse(file.bytes, 0).ok()?;
    let mut words: Vec<char> = text.chars().filter(|own| !own.is_control()).take(MOST_CHARACTERS).collect();
    let units = |words: &[char]| words.iter().map(|own| advance(&face, *own)).sum::<u32>();
    let tall = f64::from(i32::from(face.ascender()) - i32::from(face.descender())).max(1.0);
    let wide = |words: &[char], scale: f64| f64::from(units(words)) * scale;
    let full = f64::from(height) / tall;
    let fitting = f64::from(most) / f64::from(units(&words).max(1));
    let scale = full.min(fitting.max(full * least));
    if wide(&words, scale) > f64::from(most) {
        words.push(CUT);
        while wide(&words, scale) > f64::from(most) && words.len() > 1 {
            words.remove(words.len() - 2);
        }
    }
    let width = wide(&words, scale).ceil().min(f64::from(most)) as u32;
    let height = ((tall * scale).ceil() as u32).min(height);
    if width == 0 || height == 0 || words.iter().all(|own| *own == CUT) {
        return None;
    }
    let mut own = Letters { width, height, coverage: vec![0; width as usize * height as usize], words: String::new() };
    let mut along = 0;
    for letter in &words {
        let place = (f64::from(along) * scale) as f32;
        own.add(&face, glyph(&face, *letter), place, scale as f32);
        along += advance(&face, *letter);
    }
    own.words = words.into_iter().collect();
    Some(own)
}

/// Its glyph; a question mark where the face has none. Of figures the lining one: marks and lengths are read figure by figure, and those of
/// running text are of three heights.
fn glyph(face: &Face<'_>, letter: char) -> GlyphId {
    let own = face.glyph_index(letter).or_else(|| face.glyph_index('?')).unwrap_or_default();
    let lining = letter.is_ascii_digit().then(|| lining(face, own)).flatten();
    lining.unwrap_or(own)
}

/// What the face has for a glyph under the tag `lnum`.
fn lining(face: &Face<'_>, own: GlyphId) -> Option<GlyphId> {
    let table = face.tables().gsub?;
    let features = table.features.into_iter().filter(|own| own.tag == Tag::from_bytes(b"lnum"));
    let lookups = features.flat_map(|own| own.lookup_indices.into_iter()).filter_map(|own| table.lookups.get(own));
    let single = |subtable: SubstitutionSubtable<'_>| match subtable {
        SubstitutionSubtable::Single(SingleSubstitution::Format1 { coverage, delta }) => {
            coverage.get(own).map(|_| GlyphId(own.0.wrapping_add_signed(delta)))
        }
        SubstitutionSubtable::Single(SingleSubstitution::Format2 { coverage, substitutes }) => {
            coverage.get(own).and_then(|place| substitutes.get(place))
        }
        _ => None,
    };
    lookups.flat_map(|own| own.subtables.into_iter::<SubstitutionSubtable<'_>>()).find_map(single)
}

fn advance(face: &Face<'_>, letter: char) -> u32 {
    u32::from(face.glyph_hor_advance(glyph(face, letter)).unwrap_or(0))
}

fn outline(face: &Face<'_>, glyph: GlyphId) -> Option<Path> {
    let mut pen = Pen(PathBuilder::new());
    face.outline_glyph(glyph, &mut pen)?;
    pen.0.finish()
}

impl Letters {
    /// Fills one letter, in a small picture of its own so that long lines are no matter.
    fn add(&mut self, face: &Face<'_>, glyph: GlyphId, place: f32, scale: f32) {
        // A blank has no outline.
        let Some(path) = outline(face, glyph) else { return };
        let bounds = path.bounds();
        let begin = (place + bounds.left() * scale - AROUND).floor().max(0.0);
        let end = place + bounds.right() * scale + AROUND;
        let Some(mut mask) = Mask::new((end - begin).ceil().max(1.0) as u32, self.height) else { return };
        let foot = f32::from(face.ascender()) * scale;
        let transform = Transform::from_row(scale, 0.0, 0.0, -scale, place - begin, foot);
        mask.fill_path(&path, FillRule::Winding, true, transform);
        let across = mask.width() as usize;
        for (row, from) in self.coverage.chunks_mut(self.width as usize).zip(mask.data().chunks(across)) {
            row.iter_mut().skip(begin as usize).zip(from).for_each(|(to, from)| *to = (*to).max(*from));
        }
    }
}
