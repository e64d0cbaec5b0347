//! Why a scan is not read.

use handcoat_craft::measure::fixed;
use handcoat_craft::source::{
    SCAN_LEAST_CONTRAST, SCAN_LEAST_PX_PER_MM, SCAN_MOST_BLUR_MM, SCAN_MOST_FALL, SCAN_MOST_OFF_MM, SCAN_MOST_SKEW,
    SCAN_MOST_TAPER, SCAN_MOST_UNEVEN,
};

use crate::{Question, Refusal, RefusalKind, Remedy};

/// What speaks against it.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum NotRead {
    /// Nothing on it looks like a drop.
    NoMarks,
    /// So many spots look like a drop, and no four of them run round a sheet.
    FewMarks(usize),
    /// So many rings of drops.
    Several(usize),
    /// The drops run the other way round.
    Mirrored,
    /// A mark or a patch is not whole on it.
    Cut,
    /// So few pixels to a millimetre.
    Coarse(f64),
    /// So much blur, mm.
    Blurred(f64),
    /// Corners so far from right angles, degrees, and opposite sides so different, as a part.
    Skewed(f64, f64),
    /// The code cannot be read.
    Code,
    /// The code is of another thing.
    Foreign(String),
    /// The code is of a later program.
    Later(u32),
    /// Marks and code are of different charts, or so many of so many check cells are wrong.
    Disagree(String),
    /// Marks lie so far off, mm.
    Bent(f64),
    /// Paper and black are this little apart, L*.
    Flat(f64),
    /// The light falls off by so much, as a part.
    Fall(f64),
    /// Bare paper differs by so much from a light that falls off evenly, L*.
    Uneven(f64),
    /// Tones at an end of the scale: whether the dark one, and how many patches.
    Clipped(bool, usize),
    /// Copies of one level disagree by so much, L*.
    Copies(f64),
    /// Tones do not follow the inputs: the rank correlation.
    Order(f64),
}

impl NotRead {
    fn code(&self) -> &'static str {
        match self {
            Self::NoMarks => "scan_no_marks",
            Self::FewMarks(_) => "scan_few_marks",
            Self::Several(_) => "scan_several_charts",
            Self::Mirrored => "scan_mirrored",
            Self::Cut => "scan_cut_off",
            Self::Coarse(_) => "scan_coarse",
            Self::Blurred(_) => "scan_blurred",
            Self::Skewed(..) => "scan_skewed",
            Self::Code => "scan_code_unreadable",
            Self::Foreign(_) => "scan_code_foreign",
            Self::Later(_) => "scan_code_later",
            Self::Disagree(_) => "scan_disagrees",
            Self::Bent(_) => "scan_bent",
            Self::Flat(_) => "scan_flat",
            Self::Fall(_) => "scan_light_falls",
            Self::Uneven(_) => "scan_light_uneven",
            Self::Clipped(..) => "scan_clipped",
            Self::Copies(_) => "scan_copies_disagree",
            Self::Order(_) => "scan_order",
        }
    }

    fn cause(&self) -> String {
        match self {
            Self::NoMarks => "no drop was found on the scan; expected a print of a chart with its four drops, dark on light paper, at 150 to \
                600 pixels to the inch. Scan the whole chart, as a positive"
                .into(),
            Self::FewMarks(1) => {
                "one spot looks like a drop; expected four that run round the chart. Scan all of it, and keep its corners free".into()
            }
            Self::FewMarks(count) => format!(
                "{count} spots look like a drop, and no four of them run round a chart; expected one in each corner. Scan all of it, and keep its corners free"
            ),
            Self::Several(count) => format!("{count} charts lie on the scan; expected one. Cut the scan into one for each, or scan each by itself"),
            Self::Mirrored => "the drops run round the wrong way: the scan is mirrored, or the film lay with its ink side up. Turn the scan over \
                left to right; if the film lay the wrong way, print the chart again"
                .into(),
            Self::Cut => "a corner or a patch of the chart lies beyond the edge of the scan; expected all of it, with a little around it. Scan again".into(),
            Self::Coarse(own) => format!(
                "there are {} pixels to a millimetre of the chart ({} to the inch); expected {} at least. Scan at 300 to the inch",
                fixed(*own, 1),
                fixed(own * 25.4, 0),
                fixed(SCAN_LEAST_PX_PER_MM.value, 1)
            ),
            Self::Blurred(own) => format!(
                "edges on the scan are soft: a blur of {} mm, expected {} at most. Lay the print flat on the glass; if the print itself is soft, press \
                 film and paper closer",
                fixed(*own, 2),
                fixed(SCAN_MOST_BLUR_MM.value, 2)
            ),
            Self::Skewed(angle, taper) => format!(
                "the chart is out of square: its corners by {}°, opposite sides by {} %; expected {}° and {} % at most. Lay the print flat and scan it, \
                 no photograph from the side",
                fixed(*angle, 1),
                fixed(100.0 * taper, 1),
                fixed(SCAN_MOST_SKEW.value, 0),
                fixed(100.0 * SCAN_MOST_TAPER.value, 0)
            ),
            Self::Code => "the four drops were found and the code of squares cannot be read; expected it dark on clean paper. Wipe the glass and scan \
                at 300 to the inch"
                .into(),
            Self::Foreign(text) => format!("the code of squares says `{text}`; expected that of a chart of this program"),
            Self::Later(version) => {
                format!("the chart is of layout {version}, made by a later program; expected layout 1: read it with that program")
            }
            Self::Disagree(what) => format!("marks and code of the chart disagree: {what}. The print is damaged, or parts of it are of another chart; scan again"),
            Self::Bent(own) => format!(
                "marks lie {} mm off their places; expected {} at most. Lay the print flat under the lid",
                fixed(*own, 2),
                fixed(SCAN_MOST_OFF_MM.value, 2)
            ),
            Self::Flat(own) => format!(
                "paper and black are {} L* apart; expected {} at least. Expose longer, or scan without any correction of tones",
                fixed(*own, 1),
                fixed(SCAN_LEAST_CONTRAST.value, 0)
            ),
            Self::Fall(own) => format!(
                "the light falls off by {} % over the chart; expected {} % at most. Scan it on a flat-bed scanner under its lid, no photograph by a window",
                fixed(100.0 * own, 0),
                fixed(100.0 * SCAN_MOST_FALL.value, 0)
            ),
            Self::Uneven(own) => format!(
                "bare paper between the patches differs by {} L* from place to place; expected {} at most beside a light that falls off evenly. \
                 Clear the paper, wipe the glass, keep other light away, and scan again",
                fixed(*own, 2),
                fixed(SCAN_MOST_UNEVEN.value, 1)
            ),
            Self::Clipped(dark, count) => format!(
                "{count} patches are {} of the scale, so their tone is not known; expected none. Scan without automatic correction of tones, with a wider range",
                if *dark { "at the dark end" } else { "or paper at the light end" }
            ),
            Self::Copies(own) => format!(
                "patches of one level differ by {} L* from each other in the middle; expected copies alike. The coat is too uneven to read, or the places are wrong",
                fixed(*own, 1)
            ),
            Self::Order(own) => format!(
                "tones do not rise with their inputs (rank correlation {}); expected a chart that was printed as it was made",
                fixed(*own, 2)
            ),
        }
    }

    /// In the words of the house.
    pub(super) fn refusal(&self) -> Refusal {
        let remedies = match self {
            Self::Later(_) => vec![Remedy::LaterProgram],
            _ => vec![Remedy::ScanAgain],
        };
        Refusal {
            code: self.code(),
            kind: RefusalKind::Refused,
            about: Some(Question::Scan),
            cause: self.cause(),
            excerpt: None,
            remedies,
        }
    }
}
