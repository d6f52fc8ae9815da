//! The size policy as a person chooses it, and what a finished size needs besides.

use pithward_measure::{Excerpt, Length, Unit};
use pithward_trade::{
    Direction, Finish, FinishFault, SizePolicy, Species, TargetFault, nearest_word, shrinkage,
    z_for_undersize,
};

use crate::fault::{Fault, FaultKind, Misread};
use crate::typed::{Asked, Typed, percentage};

/// The three policies by their words.
pub const POLICIES: [&str; 3] = ["full", "dressed", FINISHED];

/// The policy that needs to know how the wood shrinks.
pub(crate) const FINISHED: &str = "finished";

const POLICY_HELP: &str = "write full (sawn exactly as named), dressed (sawn so that it dresses to the softwood \
    standard) or finished (the named size is the dry, planed one)";
const MOISTURE_HELP: &str =
    "write the moisture that the wood is dried to, in percent of its dry mass, as in 8";
const PLANING: Asked = Asked {
    help: "write what planing takes off both faces together, as in 1/8 in or 3 mm",
    bare: Unit::Inch,
};
const DEVIATION: Asked = Asked {
    help: "write how far boards stray from their size, one standard deviation, as in 1/32 in",
    bare: Unit::Inch,
};
const UNDERSIZE_HELP: &str = "write how many boards in a hundred may come out scant, as in 5";
const SPECIES_HELP: &str = "name the species of the log, or choose full or dressed sizes";

/// Largest length that is read here; what makes sense is judged by the finish itself.
const LARGEST: Length = Length::feet(10);

/// A size policy as it was typed.
#[derive(Clone, Debug)]
pub struct PolicyRequest {
    /// One of [`POLICIES`]; `full` where nothing is typed, which is then an assumption to be stated.
    pub sizes: Typed,
    /// Percent, for finished sizes.
    pub final_moisture: Typed,
    /// What planing takes off, for finished sizes.
    pub planing: Typed,
    /// Standard deviation of sawing, for finished sizes.
    pub sawing_deviation: Typed,
    /// Percent of boards that may come out scant, for finished sizes.
    pub undersize: Typed,
}

impl PolicyRequest {
    /// The policy for logs of one species, once everything that it needs could be read; every fault goes to the others.
    ///
    /// `species_typed` says that the species has been judged already, so that its lack is no news.
    pub(crate) fn choose(
        &self,
        species: Option<&Species>,
        species_typed: &Typed,
        faults: &mut Vec<Fault>,
    ) -> Option<SizePolicy> {
        let before = faults.len();
        let word = self.word(faults)?;
        if word == FINISHED {
            shrinks(species, species_typed, faults);
        }
        let policy = self.under(word, faults)?;
        (word != FINISHED || faults.len() == before).then_some(policy)
    }

    /// The word of the policy.
    pub(crate) fn word(&self, faults: &mut Vec<Fault>) -> Option<&'static str> {
        if self.sizes.is_given() { self.sizes.read(faults, policy_word) } else { Some("full") }
    }

    /// The policy of a word, whatever the species.
    pub(crate) fn under(&self, word: &'static str, faults: &mut Vec<Fault>) -> Option<SizePolicy> {
        if word == FINISHED {
            return self.finished(faults).map(SizePolicy::Finished);
        }
        for typed in [&self.final_moisture, &self.planing, &self.sawing_deviation, &self.undersize]
        {
            if typed.text.is_some() {
                let kind = FaultKind::NotFinished { policy: word };
                let help = format!("add {} finished, or leave this out", self.sizes.name);
                faults.push(typed.fault(kind, help));
            }
        }
        Some(if word == "full" { SizePolicy::Full } else { SizePolicy::Dressed })
    }

    fn finished(&self, faults: &mut Vec<Fault>) -> Option<Finish> {
        let before = faults.len();
        let needed = |typed: &Typed, help, faults: &mut Vec<Fault>| {
            if !typed.is_given() {
                faults.push(typed.fault(FaultKind::FinishedNeeds, help));
            }
        };
        needed(&self.final_moisture, MOISTURE_HELP.into(), faults);
        let final_moisture_pct = self.final_moisture.read(faults, |text| {
            let moisture = percentage(MOISTURE_HELP)(text)?;
            shrinkage::shrink_pct(0.0, moisture)
                .map_err(|fault| Misread::new(fault, 0..0, MOISTURE_HELP))?;
            Ok(moisture)
        });
        needed(&self.planing, self.planing.help(PLANING), faults);
        let planing = self.planing.read(faults, |text| {
            let planing = self.planing.length_of(text, PLANING, Some(-LARGEST..=LARGEST))?;
            sound(Finish { planing, ..NOTHING })
                .map_err(|f| Misread::new(f, 0..0, self.planing.help(PLANING)))?;
            Ok(planing)
        });
        let deviation = &self.sawing_deviation;
        needed(deviation, deviation.help(DEVIATION), faults);
        let sawing_deviation = deviation.read(faults, |text| {
            let sawing_deviation =
                deviation.length_of(text, DEVIATION, Some(-LARGEST..=LARGEST))?;
            sound(Finish { sawing_deviation, ..NOTHING })
                .map_err(|f| Misread::new(f, 0..0, deviation.help(DEVIATION)))?;
            Ok(sawing_deviation)
        });
        needed(&self.undersize, UNDERSIZE_HELP.into(), faults);
        let z = self.undersize.read(faults, |text| {
            let undersize = percentage(UNDERSIZE_HELP)(text)?;
            z_for_undersize(undersize).map_err(|fault| Misread::new(fault, 0..0, UNDERSIZE_HELP))
        });
        if faults.len() > before {
            return None;
        }
        Some(Finish {
            final_moisture_pct: final_moisture_pct?,
            planing: planing?,
            z: z?,
            sawing_deviation: sawing_deviation?,
        })
    }
}

/// Whether it is known how the wood of a log shrinks, as finished sizes need; if not, a fault.
pub(crate) fn shrinks(species: Option<&Species>, typed: &Typed, faults: &mut Vec<Fault>) {
    if !typed.is_given() {
        let kind = FaultKind::Target(TargetFault::SpeciesNeeded);
        faults.push(typed.fault(kind, SPECIES_HELP));
    }
    if let Some(species) = species.filter(|species| !shrinkage_is_known(species)) {
        let fault = TargetFault::NoShrinkage { species: species.name.clone() };
        faults.push(typed.fault(fault, SPECIES_HELP));
    }
}

/// Whether the tables say how much the wood of a species shrinks.
pub(crate) fn shrinkage_is_known(species: &Species) -> bool {
    species.total_shrinkage_pct(Direction::Tangential).is_some()
}

/// A finish that changes nothing.
const NOTHING: Finish = Finish {
    final_moisture_pct: shrinkage::FIBER_SATURATION_PCT,
    planing: Length::ZERO,
    z: 0.0,
    sawing_deviation: Length::ZERO,
};

fn sound(finish: Finish) -> Result<(), FinishFault> {
    finish.check()
}

fn policy_word(text: &str) -> Result<&'static str, Misread> {
    POLICIES.into_iter().find(|word| *word == text.trim()).ok_or_else(|| {
        let (got, nearest) = (Excerpt::new(text), nearest_word(text, &POLICIES));
        let kind = FaultKind::Unknown { what: "size policy", got, nearest };
        Misread::new(kind, 0..0, POLICY_HELP)
    })
}

#[cfg(test)]
pub(crate) mod tests {
    use super::PolicyRequest;
    use crate::fault::Fault;
    use crate::typed::Typed;
    use pithward_measure::Length;
    use pithward_trade::{SizePolicy, Species};

    pub(crate) fn request(texts: [Option<&str>; 5]) -> PolicyRequest {
        let [sizes, final_moisture, planing, sawing_deviation, undersize] =
            texts.map(|text| text.map(str::to_owned));
        PolicyRequest {
            sizes: Typed::new("--sizes", sizes),
            final_moisture: Typed::new("--final-moisture", final_moisture),
            planing: Typed::new("--planing", planing),
            sawing_deviation: Typed::new("--sawing-deviation", sawing_deviation),
            undersize: Typed::new("--undersize", undersize),
        }
    }

    fn choose(request: &PolicyRequest, species: Option<&str>) -> Result<SizePolicy, Vec<String>> {
        let mut faults = Vec::new();
        let typed = Typed::new("--species", species.map(str::to_owned));
        let species = species.map(|name| Species::find(name).unwrap());
        let policy = request.choose(species, &typed, &mut faults);
        assert!(faults.iter().all(|fault| !fault.help.is_empty()));
        policy.ok_or_else(|| faults.iter().map(Fault::to_string).collect())
    }

    #[test]
    fn the_three_policies() {
        let none = [None; 4];
        let with = |word| {
            let [a, b, c, d] = none;
            request([word, a, b, c, d])
        };
        assert_eq!(choose(&with(None), None), Ok(SizePolicy::Full));
        assert_eq!(choose(&with(Some("full")), None), Ok(SizePolicy::Full));
        assert_eq!(choose(&with(Some("dressed")), None), Ok(SizePolicy::Dressed));
        let all = request([Some("finished"), Some("8%"), Some("1/8"), Some("1/32 in"), Some("5")]);
        let Ok(SizePolicy::Finished(finish)) = choose(&all, Some("white oak")) else { panic!() };
        assert_eq!(finish.planing, Length::sixty_fourths(8));
        assert!((finish.z - 1.65).abs() < 0.01 && (finish.final_moisture_pct - 8.0).abs() < 1e-9);
    }

    #[test]
    fn every_fault_at_once() {
        let check = |texts, expected: &[&str]| {
            assert_eq!(choose(&request(texts), None).unwrap_err(), expected);
        };
        check(
            [Some("finishd"), None, None, None, None],
            &["--sizes: \"finishd\" is no size policy; perhaps finished?"],
        );
        check(
            [Some("finished"), Some("80"), Some("2 in"), Some("nan"), None],
            &[
                "--species: a finished size needs the species of the log, because every species \
                 shrinks differently",
                "--final-moisture: final moisture must be between 0 % and 30 %, got 80 %",
                "--planing: planing must be between 0 in and 1 in, got 2 in",
                "--sawing-deviation: \"nan\" is not a length: \"nan\" is no number; write one such \
                 as 24 1/2 in, 12 ft 4 in or 620 mm",
                "--undersize is missing, and finished sizes cannot do without it",
            ],
        );
        let mut faults = Vec::new();
        let stray = request([None, Some("8"), None, None, Some("5")]);
        stray.choose(None, &Typed::new("--species", None), &mut faults);
        assert_eq!(
            faults.iter().map(Fault::to_string).collect::<Vec<_>>(),
            [
                "--final-moisture is only for finished sizes, and the sizes are full",
                "--undersize is only for finished sizes, and the sizes are full",
            ]
        );
    }
}
