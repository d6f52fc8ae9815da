//! What one log holds, by every rule.

use pithward_geometry::Log;
use pithward_measure::Length;
use pithward_trade::{
    Confidence, CubicFeet, DiameterRounding, LogRule, LogRuleFault, Scale, Species, cubic, scale,
};

use crate::fault::Fault;
use crate::log_job::{BarkSource, Told};
use crate::log_request::{LogRequest, MeasuredLog};

/// A request to scale one log.
#[derive(Clone, Debug)]
pub struct ScaleRequest {
    /// The log; its trim is taken off before it is scaled.
    pub log: LogRequest,
    /// Diameters are rounded down to whole inches, not to the nearest.
    pub round_down: bool,
}

/// What one log holds.
#[derive(Clone, Debug)]
pub struct LogScales {
    /// The log, inside its bark.
    pub log: Log,
    /// Its species, where it was named.
    pub species: Option<&'static Species>,
    /// Where the thickness of the bark comes from.
    pub bark: BarkSource,
    /// The diameters were taped over the bark; `log` has it taken off.
    pub taped_over_bark: bool,
    /// Taken off the length before the log is scaled by a rule.
    pub trim: Length,
    /// How the small end becomes whole inches.
    pub rounding: DiameterRounding,
    /// By each rule, or why that rule does not scale this log.
    pub rules: Vec<(LogRule, Result<Scale, LogRuleFault>)>,
    /// Solid wood by the mean of the two ends' areas, the whole length.
    pub smalian: CubicFeet,
    /// Solid wood of the straight taper, the whole length.
    pub cone: CubicFeet,
    /// Weight of the wood, where the species' is known.
    pub weight: Option<GreenWeight>,
    /// What was said of its shape and its flaws.
    pub told: Told,
}

/// What the green wood of a log weighs, its bark left out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GreenWeight {
    /// Pounds, of the straight taper.
    pub pounds: f64,
    /// Pounds per cubic foot, the species' average.
    pub pounds_per_cubic_foot: f64,
    /// How far that average is to be trusted.
    pub confidence: Confidence,
}

impl ScaleRequest {
    /// The log by every rule.
    ///
    /// # Errors
    /// Every fault of the request.
    pub fn into_scales(self) -> Result<LogScales, Vec<Fault>> {
        let mut faults = Vec::new();
        let Some(measured) = self.log.measure(&mut faults) else { return Err(faults) };
        let MeasuredLog { log, species, bark, trim, told, .. } = measured;
        let rounding =
            if self.round_down { DiameterRounding::Down } else { DiameterRounding::Nearest };
        let counted = log.length() - trim;
        let rules = [LogRule::Doyle, LogRule::Scribner, LogRule::International]
            .map(|rule| (rule, scale(rule, log.small_end(), counted, rounding)))
            .to_vec();
        let (small, butt, length) = (log.small_end(), log.butt(), log.length());
        let cone = cubic::cone_frustum(small, butt, length);
        let weight =
            species.and_then(|species| species.green_lb_per_ft3).map(|figure| GreenWeight {
                pounds: cone.get() * figure.value,
                pounds_per_cubic_foot: figure.value,
                confidence: figure.confidence,
            });
        Ok(LogScales {
            species,
            bark,
            taped_over_bark: self.log.over_bark.on,
            trim,
            rounding,
            rules,
            smalian: cubic::smalian(small, butt, length),
            cone,
            weight,
            log,
            told,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::ScaleRequest;
    use crate::log_request::tests::request;

    #[test]
    fn the_rules_by_their_tables() {
        let mut log = request("16 in", "18 in", "12 ft 6 in");
        log.species.text = Some("white oak".to_owned());
        log.trim.text = Some("6 in".to_owned());
        let scales = ScaleRequest { log, round_down: false }.into_scales().unwrap();
        let board_feet: Vec<_> =
            scales.rules.iter().map(|(_, scale)| scale.unwrap().board_feet).collect();
        // Purdue FNR-191 (Doyle); USFS volume library (Scribner); FPL-GTR-1 (International).
        assert_eq!(board_feet, [108, 120, 130]);
        assert!(scales.smalian > scales.cone);
        let weight = scales.weight.unwrap();
        assert!((weight.pounds / weight.pounds_per_cubic_foot - scales.cone.get()).abs() < 1e-9);
    }

    #[test]
    fn a_rule_that_does_not_cover_the_log_leaves_the_others() {
        let scales = ScaleRequest { log: request("60", "62", "24"), round_down: true };
        let scales = scales.into_scales().unwrap();
        let covered: Vec<_> = scales.rules.iter().map(|(_, scale)| scale.is_ok()).collect();
        assert_eq!(covered, [true, false, true]);
        assert!(scales.weight.is_none());
        assert!(ScaleRequest { log: request("", "", ""), round_down: true }.into_scales().is_err());
    }
}
