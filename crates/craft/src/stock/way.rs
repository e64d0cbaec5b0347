//! The ways on after a weighing, and the one rule over all of them.

use super::{Batch, MetalSalt, Warning};
use crate::measure::{Mass, Money, Volume};

/// One way on.
#[derive(Clone, Debug, PartialEq)]
pub enum Way {
    /// Put this much powder back from the clean paper.
    PutBack(Mass),
    /// Weigh this much more powder.
    WeighMore(Mass),
    /// Make up to another volume, at the strength of the plan.
    MakeUpTo {
        /// That volume.
        volume: Volume,
        /// Chloride that keeps the ratio, over what is in the beaker.
        chloride_to_add: Mass,
        /// Chloride that must be added to reach the bare need, up to the next step of the scale.
        chloride_must_add: Mass,
        /// Whether the bottle holds it; none when the bottle is not known.
        bottle_holds: Option<bool>,
    },
    /// Keep the volume and write the new strength on the label.
    KeepAndRelabel,
    /// Dilute the mixed solution to the strength on the label.
    Dilute {
        /// Water to add.
        water: Volume,
        /// What it comes to.
        volume: Volume,
        /// Whether the bottle holds it; none when the bottle is not known.
        bottle_holds: Option<bool>,
    },
    /// Put this much chloride back from the clean paper.
    PutBackChloride(Mass),
    /// Weigh this much more chloride.
    WeighMoreChloride(Mass),
    /// Bring powder and volume into proportion with the chloride.
    FollowChloride {
        /// Powder in all.
        salt: Mass,
        /// Volume to make up to.
        volume: Volume,
        /// Whether the bottle holds it; none when the bottle is not known.
        bottle_holds: Option<bool>,
    },
    /// Leave the chloride as it is.
    KeepChloride,
}

impl Way {
    /// Whether powder is moved dry and in the open: weighed out of its jar, or put back into it.
    #[must_use]
    pub fn moves_dry_powder(&self) -> bool {
        match self {
            Self::PutBack(_) | Self::WeighMore(_) | Self::FollowChloride { .. } => true,
            Self::MakeUpTo { .. }
            | Self::KeepAndRelabel
            | Self::Dilute { .. }
            | Self::PutBackChloride(_)
            | Self::WeighMoreChloride(_)
            | Self::KeepChloride => false,
        }
    }

    /// The one rule over every way: what comes in a sealed vial is never opened dry, weighed out or put back.
    #[must_use]
    pub fn is_permitted(&self, salt: &MetalSalt) -> bool {
        !(salt.is_chloroplatinate() && self.moves_dry_powder())
    }
}

/// A way, with the batch it leads to and what that costs.
#[derive(Clone, Debug, PartialEq)]
pub struct WayOut {
    /// The way.
    pub way: Way,
    /// What comes of it.
    pub batch: Batch,
    /// What the powder in it costs.
    pub cost: Option<Money>,
    /// What that is over the plan; zero when it is less.
    pub extra_cost: Option<Money>,
    /// Chloride short or far over, if this way leads there.
    pub warning: Option<Warning>,
    /// Where it leads to a shortage: chloride to add at least, up to the next step of the scale.
    pub cure: Option<Mass>,
}

impl WayOut {
    /// What this way puts into stock over the plan; none when it costs no more, or without a price.
    #[must_use]
    pub fn more_in_stock(&self) -> Option<Money> {
        self.extra_cost.filter(|extra| extra.to_minor() > 0)
    }
}
