//! Parts of a whole that the coat is reckoned with: what reaches the paper, the dampness of air, a dose.

use super::bounds::quantity;

quantity!(
    /// What of the poured solution ends on the paper.
    Share, "share", "of the whole", part / of_whole, 0.01 ..= 1.0
);
quantity!(
    /// Relative humidity of air.
    RelativeHumidity, "relative humidity", "%", percent / to_percent, 0.0 ..= 100.0
);
quantity!(
    /// Contrast agent in a millilitre of sensitizer.
    AgentDose, "contrast dose", "mg/mL", milligrams_per_millilitre / to_milligrams_per_millilitre, 0.0001 ..= 500.0
);
