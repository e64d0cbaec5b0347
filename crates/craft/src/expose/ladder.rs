//! The contrast ladder: exposure scale against the logarithm of the dose, from a maker's own wedges.
//!
//! A straight line of the scale over the doublings of the dose, by weighted least squares. What others report comes in as a first
//! opinion on height and slope with wide ± (Bayesian linear regression with a normal prior): with no wedge of one's own it is all there
//! is, and each own wedge takes away from it in proportion to how well it is known. When own wedges scatter more than their ± say, the
//! ± of the line grows by the ratio (Birge, *Phys. Rev.* 40 (1932) 207, from memory). Nothing is said beyond the doses that were read.

use alloc::vec;
use alloc::vec::Vec;

use super::{ExposeError, Exposure};
use crate::measure::{AgentDose, DeveloperDose, LogRange, OutOfBounds, Span, Uncertain};
use crate::numerics::LeastSquares;
use crate::source::{BORROWED_SCALES, BORROWED_SLOPE_OFF, ContrastBy, DOSE_ALIKE, LEAST_SCALE_U, SCALE_WITHOUT_AGENT};

/// A dose of what shortens the scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Dose {
    /// In the coat, to a millilitre of sensitizer.
    InCoat(AgentDose),
    /// In the developer, to a litre of it.
    InDeveloper(DeveloperDose),
}

impl Dose {
    /// The number in its unit.
    #[must_use]
    pub fn in_unit(self) -> f64 {
        match self {
            Self::InCoat(own) => own.to_milligrams_per_millilitre(),
            Self::InDeveloper(own) => own.to_grams_per_litre(),
        }
    }

    /// Its unit.
    #[must_use]
    pub fn unit(self) -> &'static str {
        match self {
            Self::InCoat(_) => "mg/mL",
            Self::InDeveloper(_) => "g/L",
        }
    }

    /// A dose of the kind an agent is given in.
    ///
    /// # Errors
    /// [`OutOfBounds`] for a number no dose has.
    pub fn of(by: ContrastBy, value: f64) -> Result<Self, OutOfBounds> {
        match by {
            ContrastBy::DichromateInDeveloper => DeveloperDose::grams_per_litre(value).map(Self::InDeveloper),
            ContrastBy::Hexachloroplatinate | ContrastBy::Chlorate | ContrastBy::Peroxide => {
                AgentDose::milligrams_per_millilitre(value).map(Self::InCoat)
            }
        }
    }
}

/// One wedge of one's own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LadderWedge {
    /// The dose; none for a wedge without the agent.
    pub dose: Option<Dose>,
    /// The exposure scale it gave.
    pub scale: Uncertain<LogRange>,
    /// The base time it gave, when it is known.
    pub base: Option<Uncertain<Span>>,
}

/// A scale that the ladder says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Predicted {
    /// The scale.
    pub scale: Uncertain<LogRange>,
    /// How much of it rests on what others report, from 0 (nothing) to 1 (all).
    pub borrowed: f64,
}

/// What a negative asks for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wanted {
    /// This dose.
    Dose {
        /// The dose.
        dose: Dose,
        /// Its standard uncertainty, as a part of it.
        relative: f64,
        /// The scale there.
        at: Predicted,
        /// The base time there, when own wedges tell it.
        base: Option<Uncertain<Span>>,
    },
    /// Less agent than the least dose that is known: none at all, or a trace.
    NoAgent {
        /// The scale without agent.
        without: Uncertain<LogRange>,
        /// Whether that is what others report.
        borrowed: bool,
    },
    /// The negative has more than the paper takes even without agent: change the negative.
    SofterNegative {
        /// What the paper takes at most.
        most: Uncertain<LogRange>,
        /// Whether that is what others report.
        borrowed: bool,
    },
    /// The negative has less than the paper takes at the largest dose that is known: change the negative.
    HarderNegative {
        /// What the paper takes at least.
        least: Predicted,
    },
}

/// The line, and what it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Ladder {
    by: ContrastBy,
    line: LeastSquares,
    /// Doublings are counted from here.
    centre: f64,
    /// Least and largest dose, in doublings from the centre.
    reach: (f64, f64),
    /// Variance of height and slope of what others report.
    prior: Option<(f64, f64)>,
    /// How much the variance grows for scatter beyond the ±; 1 at least.
    spread: f64,
    without: Option<(Uncertain<LogRange>, bool)>,
    times: Vec<(f64, f64, f64)>,
    own: usize,
}

fn doublings(dose: Dose) -> f64 {
    libm::log2(dose.in_unit())
}

fn weight(u: f64) -> f64 {
    let u = u.max(LEAST_SCALE_U.value);
    1.0 / (u * u)
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

/// Weighted mean of scales, as an estimate.
fn together(scales: &[Uncertain<LogRange>]) -> Option<Result<Uncertain<LogRange>, OutOfBounds>> {
    let sum: f64 = scales.iter().map(|own| weight(own.standard())).sum();
    let scaled: f64 = scales.iter().map(|own| weight(own.standard()) * own.best.to_log_h()).sum();
    (!scales.is_empty()).then(|| Ok(Uncertain::new(LogRange::log_h(scaled / sum)?, libm::sqrt(1.0 / sum))))
}

impl Ladder {
    /// Fits own wedges with one agent; `borrowed` lets what others report stand in as far as own wedges leave room.
    ///
    /// # Errors
    /// [`ExposeError`] when neither own wedges nor others say enough, when doses are mixed up, and when more agent does not shorten
    /// the scale.
    pub fn fit(by: ContrastBy, wedges: &[LadderWedge], borrowed: bool) -> Result<Self, ExposeError> {
        let kind = |dose: Dose| matches!(dose, Dose::InDeveloper(_)) == (by == ContrastBy::DichromateInDeveloper);
        if !wedges.iter().filter_map(|own| own.dose).all(kind) {
            return Err(ExposeError::DoseOfAnotherKind);
        }
        let dosed: Vec<(f64, &LadderWedge)> =
            wedges.iter().filter_map(|own| Some((doublings(own.dose?), own))).collect();
        let others: Vec<_> = BORROWED_SCALES.iter().filter(|row| borrowed && row.by == by).collect();
        let their: Vec<f64> = others.iter().map(|row| libm::log2(row.dose)).collect();
        let own: Vec<f64> = dosed.iter().map(|own| own.0).collect();
        let all = [their.as_slice(), own.as_slice()].concat();
        if all.is_empty() {
            return Err(ExposeError::LadderEmpty);
        }
        let centre = mean(if their.is_empty() { &own } else { &their });
        let (mut rows, mut y, mut weights, mut prior) = (Vec::new(), Vec::new(), Vec::new(), None);
        if let Some(first) = others.first() {
            let grid: Vec<Vec<f64>> = their.iter().map(|x| vec![1.0, x - centre]).collect();
            let scales: Vec<f64> = others.iter().map(|row| row.scale).collect();
            let line = LeastSquares::fit(&grid, &scales, None).ok_or(ExposeError::LadderEmpty)?;
            let [height, slope] = line.coefficients.as_slice() else {
                return Err(ExposeError::LadderEmpty);
            };
            let slope_u = slope.abs() * BORROWED_SLOPE_OFF.value;
            prior = Some((first.u * first.u, slope_u * slope_u));
            rows.extend([vec![1.0, 0.0], vec![0.0, 1.0]]);
            y.extend([*height, *slope]);
            weights.extend([1.0 / (first.u * first.u), 1.0 / (slope_u * slope_u)]);
        }
        for (x, wedge) in &dosed {
            rows.push(vec![1.0, x - centre]);
            y.push(wedge.scale.best.to_log_h());
            weights.push(weight(wedge.scale.standard()));
        }
        let line = LeastSquares::fit(&rows, &y, Some(&weights)).ok_or(ExposeError::LadderEmpty)?;
        let reach = all
            .iter()
            .map(|x| x - centre)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), x| (least.min(x), most.max(x)));
        let zero: Vec<Uncertain<LogRange>> =
            wedges.iter().filter(|own| own.dose.is_none()).map(|own| own.scale).collect();
        let without = match together(&zero) {
            Some(own) => Some((own?, false)),
            None if borrowed => {
                let (least, most) = SCALE_WITHOUT_AGENT.value;
                let middle = LogRange::log_h((least + most) / 2.0)?;
                Some((Uncertain::new(middle, (most - least) / 2.0 / libm::sqrt(3.0)), true))
            }
            None => None,
        };
        let times = dosed.iter().filter_map(|(x, wedge)| {
            let base = wedge.base?;
            let u = base.relative()? / core::f64::consts::LN_10;
            Some((x - centre, libm::log10(base.best.to_seconds()), u))
        });
        let ladder = Self {
            by,
            spread: line.residual_variance().unwrap_or(1.0).max(1.0),
            centre,
            reach,
            prior,
            without,
            times: times.collect(),
            own: dosed.len(),
            line,
        };
        if ladder.slope() < 0.0 { Ok(ladder) } else { Err(ExposeError::LadderFlat) }
    }

    /// What the scale loses (below zero) with each doubling of the dose.
    fn slope(&self) -> f64 {
        self.line.coefficients.get(1).copied().unwrap_or(0.0)
    }

    /// How many own wedges with agent it rests on.
    #[must_use]
    pub fn own(&self) -> usize {
        self.own
    }

    /// Change of scale with a doubling of the dose, below zero, and its standard uncertainty.
    #[must_use]
    pub fn per_doubling(&self) -> (f64, f64) {
        (self.slope(), libm::sqrt(self.line.covariance(1, 1).unwrap_or(0.0) * self.spread))
    }

    /// The least and the largest dose it speaks of.
    ///
    /// # Errors
    /// [`OutOfBounds`] never for doses that were read.
    pub fn doses(&self) -> Result<(Dose, Dose), OutOfBounds> {
        Ok((self.dose(self.reach.0)?, self.dose(self.reach.1)?))
    }

    fn dose(&self, x: f64) -> Result<Dose, OutOfBounds> {
        Dose::of(self.by, libm::pow(2.0, x + self.centre))
    }

    fn predict(&self, x: f64) -> Result<Predicted, ExposeError> {
        let (scale, variance) = self.line.predict(&[1.0, x]);
        let borrowed = self.prior.map_or(0.0, |(height, slope)| (variance / (height + slope * x * x)).min(1.0));
        Ok(Predicted { scale: Uncertain::new(LogRange::log_h(scale)?, libm::sqrt(variance * self.spread)), borrowed })
    }

    /// The scale at a dose; none beyond the doses that are known.
    ///
    /// # Errors
    /// [`ExposeError`] for a dose of another kind.
    pub fn scale_at(&self, dose: Dose) -> Result<Option<Predicted>, ExposeError> {
        if matches!(dose, Dose::InDeveloper(_)) != (self.by == ContrastBy::DichromateInDeveloper) {
            return Err(ExposeError::DoseOfAnotherKind);
        }
        let x = doublings(dose) - self.centre;
        // What was read itself may miss its own logarithm by the last bit.
        let inside = x >= self.reach.0 - 1e-9 && x <= self.reach.1 + 1e-9;
        if inside { self.predict(x).map(Some) } else { Ok(None) }
    }

    /// The dose whose scale is the range of a negative, or what is to be changed instead.
    ///
    /// # Errors
    /// [`ExposeError::OutOfBounds`] when a number comes out that nothing has.
    pub fn wanted(&self, range: Uncertain<LogRange>) -> Result<Wanted, ExposeError> {
        let asked = range.best.to_log_h();
        let (softest, hardest) = (self.predict(self.reach.0)?, self.predict(self.reach.1)?);
        if asked > softest.scale.best.to_log_h() {
            return Ok(match self.without {
                Some((without, borrowed)) if asked <= without.best.to_log_h() => Wanted::NoAgent { without, borrowed },
                Some((most, borrowed)) => Wanted::SofterNegative { most, borrowed },
                None => Wanted::SofterNegative { most: softest.scale, borrowed: softest.borrowed > 0.0 },
            });
        }
        if asked < hardest.scale.best.to_log_h() {
            return Ok(Wanted::HarderNegative { least: hardest });
        }
        let height = self.line.coefficients.first().copied().unwrap_or(0.0);
        let x = ((asked - height) / self.slope()).clamp(self.reach.0, self.reach.1);
        let at = self.predict(x)?;
        let off = libm::sqrt(at.scale.standard() * at.scale.standard() + range.standard() * range.standard());
        let relative = core::f64::consts::LN_2 * off / self.slope().abs();
        Ok(Wanted::Dose { dose: self.dose(x)?, relative, at, base: self.base_at(x)? })
    }

    /// The base time by own wedges: a line over the doublings, or that of the one dose that was timed; none outside of them.
    fn base_at(&self, x: f64) -> Result<Option<Uncertain<Span>>, ExposeError> {
        let places = || self.times.iter().map(|own| own.0);
        let (least, most) = (places().fold(f64::INFINITY, f64::min), places().fold(f64::NEG_INFINITY, f64::max));
        let second = Span::seconds(1.0)?;
        let alike = libm::log2(1.0 + DOSE_ALIKE.value);
        if !(x >= least - alike && x <= most + alike) {
            return Ok(None);
        }
        // A dose that prints alike is read at the dose that was timed, not beyond it.
        let x = x.clamp(least, most);
        let logs: Vec<f64> = self.times.iter().map(|own| own.1).collect();
        let weights: Vec<f64> = self.times.iter().map(|own| weight(own.2)).collect();
        let level = most - least <= alike;
        let row = |x: f64| if level { vec![1.0] } else { vec![1.0, x] };
        let rows: Vec<Vec<f64>> = places().map(row).collect();
        let Some(fit) = LeastSquares::fit(&rows, &logs, Some(&weights)) else { return Ok(None) };
        let (power, variance) = fit.predict(&row(x));
        let spread = fit.residual_variance().unwrap_or(1.0).max(1.0);
        second.times_ten_to(power, libm::sqrt(variance * spread)).map(Some)
    }
}
