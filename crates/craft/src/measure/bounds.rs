//! Bounds declared once.
//!
//! One line declares what a quantity is called, its unit and the range in which it makes sense; out
//! of that line come the check, the words of the error and the generator for property tests.

use core::fmt;

/// A quantity that has a name, a unit and a range outside which it is surely a slip of the pen.
pub trait Bounded: Sized + Copy {
    /// What people call it; used in every error, on every page.
    const NAME: &'static str;
    /// The unit its bounds and [`Bounded::in_unit`] are given in.
    const UNIT: &'static str;
    /// Least accepted value, in [`Bounded::UNIT`].
    const LEAST: f64;
    /// Greatest accepted value, in [`Bounded::UNIT`].
    const MOST: f64;

    /// Makes the quantity from a number in its unit.
    ///
    /// # Errors
    /// [`OutOfBounds`] when the number is not finite or lies outside the declared range.
    fn from_unit(value: f64) -> Result<Self, OutOfBounds>;

    /// The number in its unit.
    fn in_unit(self) -> f64;

    /// A value inside the bounds for `at` in 0..=1, spread over magnitudes: the generator property
    /// tests draw from.
    fn sample(at: f64) -> Self {
        // A range that starts at zero is spread over nine decades below its top.
        let least = if Self::LEAST > 0.0 { Self::LEAST } else { Self::MOST * 1e-9 };
        let at = at.clamp(0.0, 1.0);
        let value = least * libm::pow(Self::MOST / least, at);
        // OK because the value is clamped into the declared range, which every `from_unit` accepts.
        Self::from_unit(value.clamp(Self::LEAST, Self::MOST)).expect("BUG: a value inside the bounds was refused")
    }
}

/// A number outside the range its quantity makes sense in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfBounds {
    /// The quantity's human name.
    pub name: &'static str,
    /// The unit of the three numbers.
    pub unit: &'static str,
    /// What was given.
    pub value: f64,
    /// The least accepted.
    pub least: f64,
    /// The greatest accepted.
    pub most: f64,
}

impl fmt::Display for OutOfBounds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { name, unit, value, least, most } = self;
        let value = super::significant(*value, 6);
        let what = super::with_article(name);
        write!(f, "{what} of {value} {unit} is outside {least} to {most} {unit}")
    }
}

impl core::error::Error for OutOfBounds {}

/// Checks a number against the bounds declared for `Q`.
pub(crate) fn check<Q: Bounded>(value: f64) -> Result<f64, OutOfBounds> {
    if value.is_finite() && value >= Q::LEAST && value <= Q::MOST {
        Ok(value)
    } else {
        Err(OutOfBounds { name: Q::NAME, unit: Q::UNIT, value, least: Q::LEAST, most: Q::MOST })
    }
}

/// Declares a derived (`f64`) quantity: one line of name, unit, constructor, getter and bounds.
macro_rules! quantity {
    ($(#[$doc:meta])* $type:ident, $name:literal, $unit:literal, $new:ident / $get:ident, $least:literal ..= $most:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $type(f64);

        impl $type {
            #[doc = concat!("From ", $unit, ".")]
            ///
            /// # Errors
            #[doc = concat!("[`OutOfBounds`](crate::measure::OutOfBounds) outside ", stringify!($least), " to ", stringify!($most), " ", $unit, ".")]
            pub fn $new(value: f64) -> Result<Self, $crate::measure::OutOfBounds> {
                $crate::measure::bounds::check::<Self>(value).map(Self)
            }

            #[doc = concat!("In ", $unit, ".")]
            #[must_use]
            pub fn $get(self) -> f64 {
                self.0
            }
        }

        impl $crate::measure::Bounded for $type {
            const NAME: &'static str = $name;
            const UNIT: &'static str = $unit;
            const LEAST: f64 = $least;
            const MOST: f64 = $most;

            fn from_unit(value: f64) -> Result<Self, $crate::measure::OutOfBounds> {
                Self::$new(value)
            }

            fn in_unit(self) -> f64 {
                self.0
            }
        }
    };
}
pub(crate) use quantity;

/// Declares an exact (integer) quantity: stored unit, shown unit and bounds.
macro_rules! exact_quantity {
    ($(#[$doc:meta])* $type:ident, $name:literal, stored $stored_unit:literal as $stored:ident / $get_stored:ident, shown $unit:literal as $new:ident / $get:ident with $per_unit:literal, 0 ..= $most:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $type(i64);

        impl $type {
            /// None at all.
            pub const ZERO: Self = Self(0);

            #[doc = concat!("From whole ", $stored_unit, ".")]
            ///
            /// # Errors
            #[doc = concat!("[`OutOfBounds`](crate::measure::OutOfBounds) below zero or above ", stringify!($most), " ", $unit, ".")]
            pub fn $stored(count: i64) -> Result<Self, $crate::measure::OutOfBounds> {
                // The value in the error is for a reader; the comparison itself is exact.
                if (0..=$most * $per_unit).contains(&count) {
                    Ok(Self(count))
                } else {
                    Err($crate::measure::OutOfBounds {
                        name: $name,
                        unit: $unit,
                        value: count as f64 / $per_unit as f64,
                        least: 0.0,
                        most: $most as f64,
                    })
                }
            }

            #[doc = concat!("From ", $unit, ", rounded to whole ", $stored_unit, ".")]
            ///
            /// # Errors
            #[doc = concat!("[`OutOfBounds`](crate::measure::OutOfBounds) when not finite, below zero or above ", stringify!($most), " ", $unit, ".")]
            pub fn $new(value: f64) -> Result<Self, $crate::measure::OutOfBounds> {
                let value = $crate::measure::bounds::check::<Self>(value)?;
                Ok(Self(libm::round(value * $per_unit as f64) as i64))
            }

            #[doc = concat!("In whole ", $stored_unit, ".")]
            #[must_use]
            pub const fn $get_stored(self) -> i64 {
                self.0
            }

            #[doc = concat!("In ", $unit, ".")]
            #[must_use]
            pub fn $get(self) -> f64 {
                self.0 as f64 / $per_unit as f64
            }

            /// Whether there is none.
            #[must_use]
            pub const fn is_zero(self) -> bool {
                self.0 == 0
            }

            /// The difference, or none when `other` is more.
            #[must_use]
            pub fn less(self, other: Self) -> Option<Self> {
                (self.0 >= other.0).then(|| Self(self.0 - other.0))
            }

            /// What `self` has over `other`; zero when it has less.
            #[must_use]
            pub fn excess_over(self, other: Self) -> Self {
                self.less(other).unwrap_or(Self::ZERO)
            }

            /// The sum.
            ///
            /// # Errors
            #[doc = concat!("[`OutOfBounds`](crate::measure::OutOfBounds) above ", stringify!($most), " ", $unit, ".")]
            pub fn plus(self, other: Self) -> Result<Self, $crate::measure::OutOfBounds> {
                Self::$stored(self.0.saturating_add(other.0))
            }

            /// The nearest whole number of `step`s (halves away from zero).
            ///
            /// # Errors
            #[doc = concat!("[`OutOfBounds`](crate::measure::OutOfBounds) when rounding up passes ", stringify!($most), " ", $unit, ".")]
            pub fn to_step(self, step: Self) -> Result<Self, $crate::measure::OutOfBounds> {
                if step.0 == 0 {
                    return Ok(self);
                }
                let steps = (self.0 + step.0 / 2) / step.0;
                Self::$stored(steps.saturating_mul(step.0))
            }

            /// The largest whole number of `step`s that is not more.
            #[must_use]
            pub fn down_to_step(self, step: Self) -> Self {
                if step.0 == 0 { self } else { Self(self.0 / step.0 * step.0) }
            }

            /// The least whole number of `step`s that is not less.
            ///
            /// # Errors
            #[doc = concat!("[`OutOfBounds`](crate::measure::OutOfBounds) when rounding up passes ", stringify!($most), " ", $unit, ".")]
            pub fn up_to_step(self, step: Self) -> Result<Self, $crate::measure::OutOfBounds> {
                if step.0 == 0 {
                    return Ok(self);
                }
                let steps = (self.0 + (step.0 - 1)) / step.0;
                Self::$stored(steps.saturating_mul(step.0))
            }
        }

        impl $crate::measure::Bounded for $type {
            const NAME: &'static str = $name;
            const UNIT: &'static str = $unit;
            const LEAST: f64 = 0.0;
            const MOST: f64 = $most as f64;

            fn from_unit(value: f64) -> Result<Self, $crate::measure::OutOfBounds> {
                Self::$new(value)
            }

            fn in_unit(self) -> f64 {
                self.$get()
            }
        }
    };
}
pub(crate) use exact_quantity;
