//! Why a row of steps on a scan is not read.

use handcoat_craft::measure::fixed;
use handcoat_craft::source::{ROW_BACK, ROW_BOX_OFF, ROW_LEAST_PX, ROW_MOST_BLUR, ROW_TURN, SCAN_LEAST_CONTRAST};

use crate::{Question, Refusal, Remedy};

/// What speaks against it.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum NotRead {
    /// No row of even steps, in the box or on all of the scan.
    None {
        /// Whether a box was said.
        boxed: bool,
    },
    /// So many rows.
    Several(usize),
    /// So many steps by their length, and so many said.
    Count {
        /// By the edges.
        seen: usize,
        /// Of the tablet.
        said: u8,
    },
    /// The ends of the box lie so far off places of edges, in steps.
    BoxOff(f64),
    /// Turned in its box, degrees.
    Skewed(f64),
    /// So few pixels to a step.
    Coarse(f64),
    /// So much blur, in steps.
    Blurred(f64),
    /// A step of this number is not whole on the scan.
    Cut(u8),
    /// Its tones are this little apart, L*.
    Flat(f64),
    /// Tones at an end of the scale: whether the dark one, and how many steps.
    Clipped(bool, usize),
    /// A step of this number is darker than the one before it by so much, L*.
    Order(u8, f64),
}

impl NotRead {
    fn code(&self) -> &'static str {
        match self {
            Self::None { .. } => "wedge_not_found",
            Self::Several(_) => "wedge_several",
            Self::Count { .. } => "wedge_count",
            Self::BoxOff(_) => "wedge_box_off",
            Self::Skewed(_) => "wedge_skewed",
            Self::Coarse(_) => "wedge_coarse",
            Self::Blurred(_) => "wedge_blurred",
            Self::Cut(_) => "wedge_cut_off",
            Self::Flat(_) => "wedge_flat",
            Self::Clipped(..) => "wedge_clipped",
            Self::Order(..) => "wedge_order",
        }
    }

    fn cause(&self) -> String {
        match self {
            Self::None { boxed: true } => "there are no five edges at even distances in the box; expected a row of steps of one length, dark at \
                one end, along the longer side of the box. Look at its place"
                .into(),
            Self::None { boxed: false } => "no long row of steps with paper around it was found on the scan; expected steps of one length, the first \
                dark against white paper. Say where it lies"
                .into(),
            Self::Several(count) => format!("{count} rows of steps lie on the scan; expected one. Say where the one to read lies"),
            Self::Count { seen, said } => format!(
                "by the length of its steps the row has room for {seen}, and {said} are said; expected as many. Say how many steps the wedge has, or put the \
                 box at its ends"
            ),
            Self::BoxOff(off) => format!(
                "no paper is seen before the first step, and the ends of the box lie {} of a step off its edges; expected {} at most. Put them at the outer \
                 edges of the first and the last step",
                fixed(*off, 2),
                fixed(ROW_BOX_OFF.value, 2)
            ),
            Self::Skewed(turn) => format!(
                "the row is turned by {}° in its box; expected {}° at most. Lay the print straight on the glass",
                fixed(*turn, 1),
                fixed(ROW_TURN.value.0, 0)
            ),
            Self::Coarse(own) => format!(
                "a step is {} pixels long as the scan is read; expected {} at least. Cut the scan to the wedge, or scan at more to the inch",
                fixed(*own, 1),
                fixed(ROW_LEAST_PX.value, 0)
            ),
            Self::Blurred(own) => format!(
                "edges between steps are soft: a blur of {} of a step, expected {} at most. Lay the print flat on the glass; if the print itself is soft, \
                 press wedge and paper closer",
                fixed(*own, 2),
                fixed(ROW_MOST_BLUR.value, 2)
            ),
            Self::Cut(step) => format!(
                "step {step} is not whole on the scan; expected all of them, those that print white too. Scan all of the wedge, or say how many steps it has"
            ),
            Self::Flat(own) => format!(
                "the darkest and the lightest step are {} L* apart; expected {} at least. Expose longer, or scan without any correction of tones",
                fixed(*own, 1),
                fixed(SCAN_LEAST_CONTRAST.value, 0)
            ),
            Self::Clipped(dark, count) => format!(
                "{count} steps are at the {} end of the scale, so their tone is not known; expected none. Scan without automatic correction of tones, with a wider range",
                if *dark { "dark" } else { "light" }
            ),
            Self::Order(step, by) => format!(
                "step {step} is darker than the one before it by {} L*; expected steps that grow lighter, {} L* back at most. The coat is too uneven to read, or \
                 this is no step wedge",
                fixed(*by, 1),
                fixed(ROW_BACK.value, 0)
            ),
        }
    }

    /// In the words of the house.
    pub(super) fn refusal(&self) -> Refusal {
        let boxed = || Remedy::Write(Question::ScanBox, "10%,5%,80%x12%".into());
        let remedies = match self {
            Self::None { .. } | Self::Several(_) | Self::BoxOff(_) => vec![boxed(), Remedy::ScanAgain],
            Self::Count { seen, .. } => vec![Remedy::Write(Question::StepCount, seen.to_string()), boxed()],
            Self::Cut(step) => {
                vec![Remedy::ScanAgain, Remedy::Write(Question::StepCount, step.saturating_sub(1).to_string())]
            }
            _ => vec![Remedy::ScanAgain],
        };
        Refusal::rule(self.code(), Question::Scan, self.cause(), remedies)
    }
}
