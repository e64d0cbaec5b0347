//! A silver wedge on clear film, read with a densitometer: density against log exposure, and what follows from it.
//!
//! The light under a step is that of the clear film divided by ten to the density of the step, so log H counts down from the clear film
//! by the density of the step. Readings are brought into order by isotonic regression, and a monotone cubic goes through them. What is
//! asked of the curve is asked again with each reading moved up and down by √3 of its standard uncertainty: with weights of 1/6, 2/3, 1/6
//! that is the normal distribution to its fifth moment (Gauss-Hermite quadrature with three points), kinks of the regression included.
//! The variances add. The darkest of several black steps is rather too dark than too light; the bias of that is not corrected, but stands
//! in the ± (GUM F.2.4.5). A Monte Carlo in the tests compares. The calibration of the wedge itself is taken as exact.

use alloc::vec::Vec;

use super::ink::tones;
use super::warning::{self, Warning};
use super::{ExposeError, Exposure};
use crate::measure::{Bounded, COVERAGE, LogRange, PrintDensity, ReadingNoise, StepDensity, Uncertain};
use crate::numerics::{Direction, Pchip, isotonic};
use crate::source::{
    BLACK_WITHIN, BLACK_WITHIN_RANGE, LEVEL_SPAN, LEVEL_STEP, POOLED_FREEDOM, READING_U, SHOULDER_PART, TOE_ABOVE,
};

/// Of which density the dark end of the scale takes its nine tenths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shoulder {
    /// Of what is above the base.
    Net,
    /// Of all of it.
    Absolute,
}

/// Whether a print was read dry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DryOrWet {
    /// It was.
    Dry,
    /// It was not.
    Wet,
}

/// How the curve is judged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Criteria {
    /// The dark end of the exposure scale.
    pub shoulder: Shoulder,
    black_within: f64,
}

impl Default for Criteria {
    fn default() -> Self {
        Self { shoulder: Shoulder::Net, black_within: BLACK_WITHIN.value }
    }
}

impl Criteria {
    /// Full black is within this density of the greatest, from 0.02 to 0.05.
    ///
    /// # Errors
    /// [`ExposeError::BlackWithin`] outside.
    pub fn new(shoulder: Shoulder, black_within: PrintDensity) -> Result<Self, ExposeError> {
        let (asked, (least, most)) = (black_within.to_density(), BLACK_WITHIN_RANGE.value);
        if (least..=most).contains(&asked) {
            Ok(Self { shoulder, black_within: asked })
        } else {
            Err(ExposeError::BlackWithin { asked, least, most })
        }
    }

    /// How near to the greatest density full black is.
    #[must_use]
    pub fn black_within(&self) -> f64 {
        self.black_within
    }
}

/// How far a reading scatters, and how that is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Noise {
    /// The maker says it.
    Stated(ReadingNoise),
    /// Out of replicates with so many degrees of freedom.
    Replicates(ReadingNoise, usize),
    /// Nobody knows; what is usual stands in.
    Usual(ReadingNoise),
}

impl Noise {
    /// The standard uncertainty of one reading.
    #[must_use]
    pub fn reading(self) -> ReadingNoise {
        match self {
            Self::Stated(own) | Self::Replicates(own, _) | Self::Usual(own) => own,
        }
    }
}

/// Readings under the steps of a silver wedge, which measures log H.
#[derive(Clone, Debug, PartialEq)]
pub struct SilverWedge {
    /// From the densest step to the thinnest, so that log H rises: density of the step, mean of its readings, their count.
    steps: Vec<(StepDensity, f64, usize)>,
    noise: Noise,
}

/// One step as it was read and as the curve has it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReadStep {
    /// Density of the step.
    pub step: StepDensity,
    /// Mean of the readings.
    pub mean: PrintDensity,
    /// How many there are.
    pub count: usize,
    /// The curve there.
    pub fitted: PrintDensity,
}

/// Which ends the wedge shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ends {
    /// Full black lasts for at least a third of a stop, and the two darkest steps are alike.
    pub black: bool,
    /// Paper white does.
    pub white: bool,
}

/// What a wedge says.
#[derive(Clone, Debug, PartialEq)]
pub struct WedgeFit {
    /// Steps from the thinnest to the densest.
    pub steps: Vec<ReadStep>,
    /// The lightest tone of the curve.
    pub base: Uncertain<PrintDensity>,
    /// The darkest.
    pub dmax: Uncertain<PrintDensity>,
    /// Which ends it shows.
    pub ends: Ends,
    /// How it was judged.
    pub criteria: Criteria,
    /// Whether it was read dry.
    pub state: DryOrWet,
    /// From the lightest to the darkest useful tone; none when the wedge did not bracket.
    pub scale: Option<Uncertain<LogRange>>,
    /// How far below the exposure through clear film black is first reached; none when the wedge did not bracket.
    pub black_below: Option<Uncertain<LogRange>>,
    /// How far below it nine tenths are reached, the other criterion; none when the wedge did not bracket.
    pub shoulder_below: Option<Uncertain<LogRange>>,
    /// What should be known.
    pub warnings: Vec<Warning>,
}

/// What is asked of a curve, in the order base, dmax, toe, shoulder, black; the last three as log H below clear film.
type Asked = [f64; 5];

impl SilverWedge {
    /// Readings as pairs of step density and print density, in any order; the same step more than once is a replicate.
    ///
    /// # Errors
    /// [`ExposeError::TooFewSteps`] for fewer than four different steps.
    pub fn new(readings: &[(StepDensity, PrintDensity)], noise: Option<ReadingNoise>) -> Result<Self, ExposeError> {
        let mut sorted: Vec<(StepDensity, f64)> =
            readings.iter().map(|(step, print)| (*step, print.to_density())).collect();
        sorted.sort_by(|a, b| b.0.to_density().total_cmp(&a.0.to_density()).then(a.1.total_cmp(&b.1)));
        let mut steps = Vec::new();
        let (mut squares, mut freedom) = (0.0, 0);
        for group in sorted.chunk_by(|a, b| a.0 == b.0) {
            let Some((step, _)) = group.first() else { continue };
            let mean = group.iter().map(|own| own.1).sum::<f64>() / group.len() as f64;
            squares += group.iter().map(|own| (own.1 - mean) * (own.1 - mean)).sum::<f64>();
            freedom += group.len() - 1;
            steps.push((*step, mean, group.len()));
        }
        if steps.len() < 4 {
            return Err(ExposeError::TooFewSteps(steps.len()));
        }
        let within = |own: f64| ReadingNoise::density(own.clamp(ReadingNoise::LEAST, ReadingNoise::MOST));
        let noise = match noise {
            Some(own) => Noise::Stated(own),
            None if freedom >= POOLED_FREEDOM.value => {
                Noise::Replicates(within(libm::sqrt(squares / freedom as f64))?, freedom)
            }
            None => Noise::Usual(within(READING_U.value)?),
        };
        Ok(Self { steps, noise })
    }

    /// How far a reading scatters.
    #[must_use]
    pub fn noise(&self) -> Noise {
        self.noise
    }

    /// The curve through readings in order: the means, or the means with one of them moved.
    fn curve(&self, moved: Option<(usize, f64)>) -> Option<(Pchip, Vec<f64>)> {
        let x: Vec<f64> = self.steps.iter().map(|own| -own.0.to_density()).collect();
        let by = |place: usize| moved.filter(|own| own.0 == place).map_or(0.0, |own| own.1);
        let means: Vec<f64> = self.steps.iter().enumerate().map(|(place, own)| own.1 + by(place)).collect();
        let weights: Vec<f64> = self.steps.iter().map(|own| own.2 as f64).collect();
        let fitted = isotonic(&means, Some(&weights), Direction::Up)?.values;
        Some((Pchip::through(&x, &fitted).ok()?, fitted))
    }

    fn ask(curve: &Pchip, fitted: &[f64], criteria: Criteria) -> Option<Asked> {
        let (base, dmax) = (*fitted.first()?, *fitted.last()?);
        let dark = match criteria.shoulder {
            Shoulder::Net => base + SHOULDER_PART.value * (dmax - base),
            Shoulder::Absolute => SHOULDER_PART.value * dmax,
        };
        let below = |density: f64| curve.first_at(density).map(|own| -own);
        Some([base, dmax, below(base + TOE_ABOVE.value)?, below(dark)?, below(dmax - criteria.black_within)?])
    }

    /// Base, greatest density, exposure scale and where black is first reached.
    ///
    /// # Errors
    /// [`ExposeError`] when there is no picture in the readings, or it runs the other way.
    pub fn fit(&self, criteria: Criteria, state: DryOrWet) -> Result<WedgeFit, ExposeError> {
        let read: Vec<f64> = self.steps.iter().rev().map(|own| own.1).collect();
        let few = || ExposeError::TooFewSteps(self.steps.len());
        let (curve, fitted) = self.curve(None).ok_or_else(few)?;
        let span = fitted.last().copied().unwrap_or(0.0) - fitted.first().copied().unwrap_or(0.0);
        tones(span, &read)?;
        let asked = Self::ask(&curve, &fitted, criteria).ok_or_else(few)?;
        let [base, dmax, toe, shoulder, black] = asked;
        // Base, dmax, scale, black and shoulder; each reading moved up and down.
        let shown = |own: Asked| [own[0], own[1], own[2] - own[3], own[4], own[3]];
        let (mut squares, mut bent) = ([0.0; 5], [0.0; 5]);
        for (place, step) in self.steps.iter().enumerate() {
            let u = self.noise.reading().to_density() / libm::sqrt(step.2 as f64);
            let moved = |by: f64| {
                let (curve, fitted) = self.curve(Some((place, by)))?;
                Self::ask(&curve, &fitted, criteria).map(shown)
            };
            let (here, by) = (shown(asked), u * libm::sqrt(3.0));
            let (up, down) = (moved(by).unwrap_or(here), moved(-by).unwrap_or(here));
            for (k, (up, down)) in up.into_iter().zip(down).enumerate() {
                let (up, down) = (up - here[k], down - here[k]);
                let shift = (up + down) / 6.0;
                squares[k] += (up * up + down * down) / 6.0 - shift * shift;
                bent[k] += shift;
            }
        }
        for (sum, bias) in squares.iter_mut().zip(bent) {
            *sum += bias * bias;
        }
        let [u_base, u_dmax, u_scale, u_black, u_shoulder] = squares.map(libm::sqrt);
        let (x, _) = curve.points();
        let (densest, thinnest) = (-x.first().copied().unwrap_or(0.0), -x.last().copied().unwrap_or(0.0));
        // The last two steps of an end are alike, or it goes on beyond them; and it lasts.
        let by_chance = COVERAGE * core::f64::consts::SQRT_2 * self.noise.reading().to_density();
        let level = LEVEL_STEP.value.max(by_chance);
        let alike = |a: Option<&f64>, b: Option<&f64>| a.zip(b).is_some_and(|(a, b)| (a - b).abs() <= level);
        let mut lightest = fitted.iter();
        let mut darkest = fitted.iter().rev();
        let ends = Ends {
            black: black - thinnest >= LEVEL_SPAN.value && alike(darkest.next(), darkest.next()),
            white: densest - toe >= LEVEL_SPAN.value && alike(lightest.next(), lightest.next()),
        };
        let both = ends.black && ends.white;
        let range = |value: f64, u: f64| Ok::<_, ExposeError>(Uncertain::new(LogRange::log_h(value)?, u));
        let steps = self.steps.iter().zip(&fitted).rev().map(|((step, mean, count), fitted)| {
            let of = PrintDensity::density;
            Ok(ReadStep { step: *step, mean: of(*mean)?, count: *count, fitted: of(*fitted)? })
        });
        let mut fit = WedgeFit {
            steps: steps.collect::<Result<_, ExposeError>>()?,
            base: Uncertain::new(PrintDensity::density(base)?, u_base),
            dmax: Uncertain::new(PrintDensity::density(dmax)?, u_dmax),
            ends,
            criteria,
            state,
            scale: if both { Some(range(toe - shoulder, u_scale)?) } else { None },
            black_below: if both { Some(range(black, u_black)?) } else { None },
            shoulder_below: if both { Some(range(shoulder, u_shoulder)?) } else { None },
            warnings: Vec::new(),
        };
        fit.warnings = warning::all(self, &fit, state, criteria.shoulder);
        Ok(fit)
    }
}

impl WedgeFit {
    /// Whether both ends are there.
    #[must_use]
    pub fn bracketed(&self) -> bool {
        self.ends.black && self.ends.white
    }

    /// Time or count through clear film to full black, from that of the test; none when the wedge did not bracket.
    ///
    /// # Errors
    /// [`ExposeError::OutOfBounds`] beyond what can be set.
    pub fn base_exposure<E: Exposure>(&self, test: E) -> Result<Option<Uncertain<E>>, ExposeError> {
        let from = |own: &Uncertain<LogRange>| test.times_ten_to(-own.best.to_log_h(), own.standard());
        self.black_below.as_ref().map(from).transpose()
    }

    /// The same to nine tenths of the greatest density, the other criterion: always shorter.
    ///
    /// # Errors
    /// [`ExposeError::OutOfBounds`] beyond what can be set.
    pub fn shoulder_exposure<E: Exposure>(&self, test: E) -> Result<Option<Uncertain<E>>, ExposeError> {
        let from = |own: &Uncertain<LogRange>| test.times_ten_to(-own.best.to_log_h(), own.standard());
        self.shoulder_below.as_ref().map(from).transpose()
    }
}
