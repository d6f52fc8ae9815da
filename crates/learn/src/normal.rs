//! The normal distribution, where only a bound of a figure is known.

/// The density at `z`.
fn density(z: f64) -> f64 {
    libm::exp(-0.5 * z * z) / (std::f64::consts::TAU).sqrt()
}

/// The chance of more than `z`.
pub(crate) fn above(z: f64) -> f64 {
    0.5 * libm::erfc(z / std::f64::consts::SQRT_2)
}

/// How fast the chance of more than `z` falls off, as a share of itself: density over chance. For large `z` it comes near `z`.
pub(crate) fn hazard(z: f64) -> f64 {
    // Past this the chance is too small to divide by; `z + 1/z` is within a thousandth there.
    if z > 20.0 { z + 1.0 / z } else { density(z) / above(z) }
}

/// Between this many standard deviations below and above the mean lie four of five.
pub(crate) const FOUR_OF_FIVE: f64 = 1.281_551_565_544_600_4;

#[cfg(test)]
mod tests {
    use super::*;

    /// Abramowitz and Stegun, Handbook of Mathematical Functions, table 26.1, from memory: Q(1) and Q(1.28155).
    #[test]
    fn published_chances() {
        assert!((above(1.0) - 0.158_655_253_9).abs() < 1e-9);
        assert!((above(FOUR_OF_FIVE) - 0.1).abs() < 1e-12);
        assert!((hazard(0.0) - (2.0 / std::f64::consts::PI).sqrt()).abs() < 1e-12);
        assert!((hazard(20.0) - hazard(20.000_001)).abs() < 1e-3);
        assert!(hazard(-30.0) < 1e-100);
    }
}
