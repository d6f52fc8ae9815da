//! A half-sawn log that is measured again: any figure that a tape gives, in the words in which it was given first.
//!
//! What is not measured again stays as it was. Stations are told from the butt, so they stay there when the length is
//! another. What is sawn stays sawn at its heights over the bed ([`pithward_optimizer::Begun::measured_again`]).
//!
//! | what | as it is typed |
//! |---|---|
//! | an end | one diameter inside the bark: an oval keeps its shape; or two with an `x` between them |
//! | its long axis | the hour of a clock; an end that was oval keeps its own where none is told |
//! | sweep, crook, pith, flare | as in [`crate::as_grown`]; a depth of nothing takes it away |

use crate::as_grown::{AsGrown, Extent};
use crate::fault::{Fault, FaultKind, ResumeFault};
use crate::log_job::LogJob;
use crate::log_request::{BARK, EndAgain, end_again};
use crate::typed::{Asked, Typed};
use pithward_geometry::{Angle, Crook, End, Flaw, Log, LogFault, Sweep, Taped};
use pithward_measure::{Length, Unit};

/// What was measured again, as it was typed.
#[derive(Clone, Debug)]
pub struct AgainRequest {
    /// The small end: one diameter, or two with an `x` between them.
    pub small_end: Typed,
    /// The butt.
    pub butt: Typed,
    /// The length.
    pub length: Typed,
    /// The bark's thickness on one side.
    pub bark: Typed,
    /// Long axes, sweep, crook, pith and flare; the rest of it is not looked at.
    pub as_grown: AsGrown,
}

const SMALL: Asked = Asked {
    help: "write the diameter at the small end, inside the bark, as in 21 1/2 in",
    bare: Unit::Inch,
};
const BUTT: Asked = Asked {
    help: "write the diameter at the butt, inside the bark, as in 24 in",
    bare: Unit::Inch,
};
const LENGTH: Asked = Asked { help: "write the log's length, as in 12 ft 2 in", bare: Unit::Foot };
const MEASURED_HELP: &str = "measure again; what is sawn already must still be in it";
const FLAW_HELP: &str = "measure again; what was told of this log must still be in it";

impl AgainRequest {
    /// Everything, by its name in a sentence.
    fn named(&self) -> [(&'static str, &Typed); 11] {
        let grown = &self.as_grown;
        [
            ("small end", &self.small_end),
            ("butt", &self.butt),
            ("length", &self.length),
            ("bark", &self.bark),
            ("long axis", &grown.long_axis),
            ("long axis at the butt", &grown.long_axis_butt),
            ("sweep", &grown.sweep),
            ("crook", &grown.crook),
            ("pith at the small end", &grown.pith_small),
            ("pith at the butt", &grown.pith_butt),
            ("flare", &grown.flare),
        ]
    }

    /// Whether anything was.
    pub(super) fn is_given(&self) -> bool {
        self.named().into_iter().any(|(_, typed)| typed.is_given())
    }

    /// The log as it was measured again; every fault goes to the others.
    pub(super) fn measure(
        &self,
        job: &mut LogJob,
        changed: &mut Vec<String>,
        faults: &mut Vec<Fault>,
    ) {
        let before = faults.len();
        let given = self.named().into_iter().filter(|(_, typed)| typed.is_given());
        let given: Vec<(&str, &Typed)> = given.collect();
        let Some((_, first)) = given.first() else { return };
        if job.told.scanned.is_some() {
            faults.push(first.fault(ResumeFault::Scanned, "scan it again and open it anew"));
            return;
        }
        let known = taped(job);
        let small = end_again(&self.small_end, SMALL, faults);
        let butt = end_again(&self.butt, BUTT, faults);
        let long = self.length.length(faults, LENGTH, Log::LEAST_LENGTH..=Log::GREATEST_LENGTH);
        let bark = self.bark.length(faults, BARK, Length::ZERO..=Log::GREATEST_BARK);
        let length = long.unwrap_or(known.length);
        let across = |known: &End, again: Option<EndAgain>| match again {
            None => (known.longer, known.shorter),
            Some(EndAgain::Once(diameter)) => {
                let end = thicker(*known, diameter);
                (end.longer, end.shorter)
            }
            Some(EndAgain::Twice { longer, shorter }) => (longer, shorter),
        };
        let (small_end, butt_end) = (across(&known.small, small), across(&known.butt, butt));
        let is_oval = |(longer, shorter): (Length, Length)| longer > shorter;
        let extent = Extent {
            long: Some(length),
            small: Some(small_end),
            butt: Some(butt_end),
            twice: (is_oval(small_end), is_oval(butt_end)),
        };
        let parts = self.as_grown.parts(faults);
        let grown = parts.read(&extent, faults);
        if faults.len() > before {
            return;
        }
        let axes = grown.long_axis.map(|(small, butt)| [small, butt]);
        let end = |n: usize,
                   known: &End,
                   (longer, shorter): (Length, Length),
                   again: Option<EndAgain>| {
            let told = axes.map(|axes| axes[n]);
            let was = (known.longer > known.shorter).then_some(known.clock);
            let clock = told.or(was);
            // Nobody says in which direction the longer one lies: the mean counts.
            let twice = matches!(again, Some(EndAgain::Twice { .. }));
            let mean = (longer + shorter).half();
            let (longer, shorter) =
                if clock.is_none() && twice { (mean, mean) } else { (longer, shorter) };
            let clock = clock.unwrap_or(known.clock);
            End { longer, shorter, clock, bark: bark.unwrap_or(known.bark), ..*known }
        };
        let (mut small, mut butt) =
            (end(0, &known.small, small_end, small), end(1, &known.butt, butt_end, butt));
        let pith = |end: &mut End, pith: Option<(Length, Angle)>| {
            (end.pith_off, end.pith_clock) = pith.unwrap_or_default();
        };
        if parts.pith_small.is_some() {
            pith(&mut small, grown.pith_small);
        }
        if parts.pith_butt.is_some() {
            pith(&mut butt, grown.pith_butt);
        }
        let place = |station| moved(station, known.length, length);
        let sweep = if parts.sweep.is_some() {
            grown.sweep
        } else {
            known.sweep.map(|sweep| Sweep { at: place(sweep.at), ..sweep })
        };
        let crook = if parts.crook.is_some() {
            grown.crook
        } else {
            known.crook.map(|crook| Crook { at: place(crook.at), ..crook })
        };
        let flare = if parts.flare.is_some() { grown.flare } else { known.flare };
        let taped = Taped { length, small, butt, sweep, crook, flare };
        let again = match Log::taped(&taped) {
            Ok(again) => again,
            Err(fault) => {
                let told = parts.fault_of(fault);
                faults.push(told.unwrap_or_else(|| self.no_log(fault, first)));
                return;
            }
        };
        for named in &mut job.told.flaws {
            for flaw in &mut named.flaws {
                flaw.from = place(flaw.from);
                flaw.to = place(flaw.to);
            }
        }
        let flaws: Vec<Flaw> =
            job.told.flaws.iter().flat_map(|named| named.flaws.clone()).collect();
        if let Some(fault) = flaws.iter().find_map(|flaw| flaw.fault(&again)) {
            faults.push(first.fault(ResumeFault::from(fault), FLAW_HELP));
            return;
        }
        let again = if flaws.is_empty() { again } else { again.with_flaws(flaws) };
        let again = again.with_defects(job.log.defects().to_vec());
        job.told.taped = Some(taped).filter(|_| again.sections().is_some());
        job.log = again;
        changed.extend(given.iter().map(|(what, typed)| {
            let text = typed.text.as_deref().unwrap_or_default().trim();
            format!("the {what} is {text} by a new measurement")
        }));
    }

    /// Figures that could each be read, but are no log together.
    fn no_log(&self, fault: LogFault, first: &Typed) -> Fault {
        let typed = match fault {
            LogFault::Bark(_) => &self.bark,
            LogFault::Length(_) | LogFault::Part { .. } => &self.length,
            LogFault::Butt(_) | LogFault::Oval { end: "butt", .. } => &self.butt,
            LogFault::SmallEnd(_) | LogFault::Oval { .. } => &self.small_end,
            _ => first,
        };
        let typed = if typed.is_given() { typed } else { first };
        typed.fault(FaultKind::from(fault), MEASURED_HELP)
    }
}

/// What a tape said of a log; of one that is round and straight, of its ends.
fn taped(job: &LogJob) -> Taped {
    let log = &job.log;
    let end = |diameter: Length, bark: Length| End {
        longer: diameter,
        shorter: diameter,
        clock: Angle::ZERO,
        pith_off: Length::ZERO,
        pith_clock: Angle::ZERO,
        bark,
    };
    job.told.taped.unwrap_or_else(|| Taped {
        length: log.length(),
        small: end(log.small_end(), log.bark_small()),
        butt: end(log.butt(), log.bark_butt()),
        sweep: None,
        crook: None,
        flare: None,
    })
}

/// Where a place is told from the small end when the log has another length, and the place is as far from the butt as it was.
/// What begins at the small end still does.
fn moved(station: Length, was: Length, length: Length) -> Length {
    if station == Length::ZERO {
        return station;
    }
    (station + (length - was)).max(Length::ZERO)
}

/// An end of another diameter: its shorter one, the longer in the same share.
fn thicker(end: End, diameter: Length) -> End {
    let share = diameter / end.shorter;
    let longer = Length::from_inches_f64_down(end.longer.inches_f64() * share).max(diameter);
    let longer = if end.longer == end.shorter { diameter } else { longer };
    End { longer, shorter: diameter, ..end }
}

#[cfg(test)]
mod tests {
    use super::{moved, thicker};
    use pithward_geometry::{Angle, End};
    use pithward_measure::Length;

    #[test]
    fn a_place_stays_as_far_from_the_butt() {
        let [was, longer, shorter] = [12, 13, 11].map(Length::feet);
        assert_eq!(moved(Length::feet(8), was, longer), Length::feet(9));
        assert_eq!(moved(Length::feet(8), was, shorter), Length::feet(7));
        assert_eq!(moved(was, was, shorter), shorter);
        for length in [longer, shorter] {
            assert_eq!(moved(Length::ZERO, was, length), Length::ZERO, "the small end stays");
        }
        assert_eq!(moved(Length::inches(6), was, shorter), Length::ZERO);
    }

    #[test]
    fn one_diameter_of_an_oval_keeps_its_shape() {
        let [longer, shorter] = [24, 20].map(Length::inches);
        let end = End {
            longer,
            shorter,
            clock: Angle::degrees(60),
            pith_off: Length::ZERO,
            pith_clock: Angle::ZERO,
            bark: Length::ZERO,
        };
        let again = thicker(end, Length::inches(10));
        assert_eq!((again.longer, again.shorter), (Length::inches(12), Length::inches(10)));
        assert_eq!(again.clock, end.clock);
    }
}
