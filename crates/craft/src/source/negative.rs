//! What a negative for ink on film needs: how fine its picture must be, and what stands in its border.

use super::{Citation, Fact};

const fn usual<T: Copy>(value: T, what: &'static str) -> Fact<T> {
    Fact { value, cite: Citation::practice(what) }
}

/// Millimetres of an inch: exact, by its definition.
pub const MM_PER_INCH: Fact<f64> =
    Fact { value: 25.4, cite: Citation::memory("thompson2008", "appendix B.8: 1 in is 2.54 E-02 m, exactly") };
/// Pixels to the inch when nothing is said.
pub const USUAL_PPI: Fact<f64> = usual(720.0, "the step of many ink printers, or its double");
/// Pixels to the inch that are made.
pub const PPI_RANGE: Fact<(f64, f64)> = usual((72.0, 5760.0), "from a proof on a screen to the finest step of a head");
/// A picture with fewer of its own pixels to the inch of the print is seen to be soft.
pub const LEAST_SOURCE_PPI: Fact<f64> =
    usual(180.0, "a print in the hand shows about 360; below half of it edges are soft to the naked eye");
/// Enlarged more than this, edges are what the filter makes of them.
pub const MUCH_ENLARGED: Fact<f64> = usual(4.0, "twice that of a picture of 360 to the inch made at 720");
/// A step between neighbouring tones of an 8-bit picture that may be seen as a step, as a part of the whole range of ink.
pub const STEP_SEEN: Fact<f64> = usual(0.015, "a strong curve on 8 bits shows bands; about four of 255 steps at once");
/// Steps of the border wedge.
pub const WEDGE_STEPS: Fact<usize> = usual(11, "tenths of the tone scale, both ends with them");
/// Width of the border around a picture, mm.
pub const BORDER_MM: Fact<f64> = usual(14.0, "room for a wedge that a meter of 4 mm can read, and to hold the film");
/// Side of a step of the border wedge at most, mm.
pub const WEDGE_STEP_MM: Fact<f64> = usual(8.0, "a meter of 4 mm, with room around it");
/// A border wedge with smaller steps cannot be read, mm.
pub const WEDGE_LEAST_MM: Fact<f64> = usual(3.0, "the smallest openings of meters");
/// Distance of what stands in the border from the picture, mm.
pub const BORDER_GAP_MM: Fact<f64> = usual(2.0, "so that nothing touches the picture when it is trimmed");
/// Length and width of a corner tick, mm.
pub const TICK_MM: Fact<(f64, f64)> = usual((5.0, 0.2), "long enough for a ruler laid from one to the other");
/// A colour of which red, green and blue are all at least this of 65,535 prints no ink.
pub const INK_NONE: Fact<u16> =
    usual(60_000, "lighter than nine tenths in all three, a printer lays down next to nothing");
/// Length of the rule that is measured on the film, mm.
pub const RULE_MM: Fact<f64> = usual(100.0, "0.3 mm on it, read with a ruler, is 0.3 %");
/// Length of the rule where the long one has no room, mm.
pub const RULE_SHORT_MM: Fact<f64> = usual(50.0, "half of it, on pictures of four inches and less");
/// Squares a side of the code in the border, what is left free around it with them.
pub const CODE_SQUARES: Fact<u32> = Fact {
    value: 29,
    cite: Citation::memory("iso18004", "version 1 has 21 squares a side, and four are left free on each side"),
};
/// Side of one of its squares at most, mm.
pub const CODE_SQUARE_MM: Fact<f64> = usual(
    0.51,
    "ink spreads and paper blurs by a tenth or two of a millimetre, and a print is to be read; a fiftieth of an inch is whole pixels of most printers",
);
/// The same where the border is no wider for it, mm.
pub const CODE_SQUARE_LEAST_MM: Fact<f64> = usual(0.44, "what has room in the border; read from a sharp print");
/// Distance of the code, what is left free around it with it, from the picture, mm.
pub const CODE_GAP_MM: Fact<f64> =
    usual(1.0, "all dark squares then lie within 14 mm of the picture, and the small ones within 12");
/// Length and height of the figures at the rule, mm.
pub const LABEL_MM: Fact<(f64, f64)> = usual((14.0, 3.0), "a length with its unit in letters of eight points");
/// Height of the line of words in the border, from the top of its letters to the foot of those that reach down, mm.
pub const LINE_MM: Fact<f64> = usual(3.5, "letters of ten points, read at arm's length");
/// A line of words shorter than this says nothing, mm.
pub const LINE_LEAST_MM: Fact<f64> = usual(20.0, "about a dozen letters");
/// As long as this the line stands above the picture, where it is read without turning the sheet, mm.
pub const LINE_ENOUGH_MM: Fact<f64> = usual(60.0, "a name, a curve and a size");
/// Letters become smaller than the line down to this part of it before words are left out.
pub const LETTER_LEAST: Fact<f64> = usual(0.55, "about six points, the smallest that is read without a glass");
/// An error of the rule below this is left as it is.
pub const RULE_SAID: Fact<f64> = usual(0.003, "what a ruler reads on 100 mm");
/// The same of the short rule.
pub const RULE_SHORT_SAID: Fact<f64> = usual(0.006, "the same 0.3 mm on half the length");
/// An error of the rule beyond this is no error of a printer.
pub const RULE_MOST: Fact<f64> = usual(0.05, "a driver that fits to the page is off by more, and is set otherwise");
/// Pictures on one sheet of film, copies with them.
pub const MOST_PLACED: Fact<usize> = usual(100, "small pictures on a large sheet");
/// Distance of pictures from the edge of the film when nothing is said, mm.
pub const FILM_MARGIN_MM: Fact<f64> = usual(5.0, "what printers leave blank at the edge");
/// Distance between pictures on the film when nothing is said, mm.
pub const FILM_GAP_MM: Fact<f64> = usual(4.0, "room for scissors");
/// Where a code of 8 bits is more than this part of the tone scale, its dots may be seen.
pub const DITHER_SEEN: Fact<f64> = usual(0.015, "the same step that is seen in a picture of 8 bits");
/// A film that holds less than the paper asks for by more than this, in log exposure.
pub const RANGE_SHORT: Fact<f64> = usual(0.05, "a sixth of a stop, what wedges of one paper differ by");
/// Steps of a strip of one ink.
pub const INK_STEPS: Fact<usize> = usual(21, "twentieths of the ink, both ends with them");
/// Height of a strip of one ink, mm.
pub const INK_STRIP_MM: Fact<f64> = usual(12.0, "a meter of 4 mm, and an eye");
/// Length of a strip of one ink when nothing is said, mm.
pub const INK_LENGTH_MM: Fact<f64> = usual(190.0, "21 steps of 9 mm, on film of 8 by 10 inches");
/// Most inks on one sheet.
pub const MOST_INKS: Fact<usize> = usual(12, "strips on a sheet of 8 by 10 inches");
/// Longest side of a small picture of a sheet, pixels.
pub const PREVIEW_PX: Fact<u32> = usual(1200, "a screen");
/// Longest side of a proof where nobody says another, pixels.
pub const PROOF_PX: Fact<u32> = usual(1600, "a screen");
/// Longest side of a proof at most, pixels.
pub const PROOF_MOST_PX: Fact<u32> = usual(3000, "a large screen; a proof is for looking at");
/// Entries of a curve that other programs read.
pub const OUTSIDE_ROWS: Fact<usize> =
    usual(4096, "so many Little CMS has itself when it joins curves: none is lost by that, and more would be");
