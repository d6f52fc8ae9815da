//! What the tests of this folder share.

/// A fixed sequence that looks like chance.
#[derive(Debug)]
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    /// A whole number from 0 to below the end.
    pub(crate) fn below(&mut self, end: i64) -> i64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963);
        i64::try_from(self.0 >> 33).unwrap_or(0) % end
    }
}
