//! What was typed, each under its name: the names are those of a job file's fields where it has such.

use super::Files;
use crate::as_grown::AsGrown;
use crate::fault::{Fault, FaultKind, PlanFileFault};
use crate::place::Place;
use crate::resume::{AgainRequest, ResumeRequest};
use crate::sawing_request::{OpenRequest, SawingRequest};
use crate::stem::{BuckRequest, BuckingRequest};
use crate::typed::{Switch, Typed, TypedList, TypedPath};
use pithward_measure::Excerpt;
use std::collections::BTreeMap;

/// What was typed: under each name its texts, in order; of what is only said or not, an empty one.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Words(pub BTreeMap<String, Vec<String>>);

/// A field of a request.
enum Slot<'a> {
    One(&'a mut Typed),
    Many(&'a mut TypedList),
    Each(&'a mut Vec<Typed>),
    Flag(&'a mut Switch),
    Path(&'a mut TypedPath),
}

/// The fields of a request, each with its name.
type Slots<'a> = Vec<(&'static str, Slot<'a>)>;

impl Words {
    pub(super) fn of_open(request: &OpenRequest) -> Self {
        Self::written(open_slots(&mut request.clone()))
    }

    pub(super) fn of_buck(request: &BuckRequest) -> Self {
        Self::written(buck_slots(&mut request.clone()))
    }

    /// What was said of a half-sawn log.
    pub fn of_resume(request: &ResumeRequest) -> Self {
        Self::written(resume_slots(&mut request.clone()))
    }

    /// The request for one log.
    pub(super) fn open(&self, files: Files) -> Result<OpenRequest, Vec<Fault>> {
        let mut request = OpenRequest::new("", "", "", &[]);
        self.fill(open_slots(&mut request))?;
        request.sawing.log.files = files;
        Ok(request)
    }

    /// The request for a stem.
    pub(super) fn buck(&self, files: Files) -> Result<BuckRequest, Vec<Fault>> {
        let OpenRequest { sawing, wants } = OpenRequest::new("", "", "", &[]);
        let none = |name| Typed::new(name, None);
        let bucking = BuckingRequest {
            chain_kerf: none("chain_kerf"),
            log_lengths: Vec::new(),
            shortest: none("shortest"),
            longest: none("longest"),
        };
        let cut_out = TypedList { name: "cut_out", texts: Vec::new() };
        let mut request = BuckRequest { sawing, wants, cut_out, bucking };
        self.fill(buck_slots(&mut request))?;
        request.sawing.log.files = files;
        Ok(request)
    }

    /// What was said of a half-sawn log.
    ///
    /// # Errors
    /// Names that nothing has there.
    pub fn resume(&self) -> Result<ResumeRequest, Vec<Fault>> {
        let none = |name| Typed::new(name, None);
        let list = |name| TypedList { name, texts: Vec::new() };
        let mut request = ResumeRequest {
            sawn: none("sawn"),
            cuts: list("cuts"),
            finished: list("finished"),
            found: list("found"),
            left: list("left"),
            also: list("also"),
            again: AgainRequest {
                small_end: none("small_end"),
                butt: none("butt"),
                length: none("length"),
                bark: none("bark"),
                as_grown: AsGrown::nothing(),
            },
        };
        self.fill(resume_slots(&mut request))?;
        Ok(request)
    }

    fn written(slots: Slots<'_>) -> Self {
        let mut words = BTreeMap::new();
        for (name, slot) in slots {
            let texts: Vec<String> = match slot {
                Slot::One(typed) => typed.text.iter().cloned().collect(),
                Slot::Many(list) => list.texts.clone(),
                Slot::Each(all) => all.iter().filter_map(|typed| typed.text.clone()).collect(),
                Slot::Flag(switch) => switch.on.then(String::new).into_iter().collect(),
                Slot::Path(path) => {
                    path.path.iter().map(|path| path.to_string_lossy().into_owned()).collect()
                }
            };
            if !texts.is_empty() {
                words.insert(name.to_owned(), texts);
            }
        }
        Self(words)
    }

    /// Fills the fields of a request; every name that it does not have is a fault, and every text too many.
    fn fill(&self, slots: Slots<'_>) -> Result<(), Vec<Fault>> {
        let mut faults = Vec::new();
        let names: Vec<&str> = slots.iter().map(|(name, _)| *name).collect();
        for name in self.0.keys().filter(|name| !names.contains(&name.as_str())) {
            faults.push(fault(
                name,
                PlanFileFault::NoSuchWord,
                format!("it has {}", names.join(", ")),
            ));
        }
        for (name, slot) in slots {
            let texts = self.0.get(name).map_or(&[][..], Vec::as_slice);
            let one = matches!(slot, Slot::One(_) | Slot::Flag(_) | Slot::Path(_));
            if let (true, Some(second)) = (one, texts.get(1)) {
                let kind = PlanFileFault::TwoWords { got: Excerpt::new(second) };
                faults.push(fault(name, kind, "keep one text".to_owned()));
            }
            match slot {
                Slot::One(typed) => *typed = Typed::new(name, texts.first().cloned()),
                Slot::Many(list) => *list = TypedList { name, texts: texts.to_vec() },
                Slot::Each(all) => {
                    *all = texts.iter().map(|text| Typed::new(name, Some(text.clone()))).collect();
                }
                Slot::Flag(switch) => *switch = Switch { name, on: !texts.is_empty() },
                Slot::Path(path) => {
                    *path = TypedPath { name, path: texts.first().map(Into::into) };
                }
            }
        }
        if faults.is_empty() { Ok(()) } else { Err(faults) }
    }
}

fn fault(name: &str, kind: PlanFileFault, help: String) -> Fault {
    let field = format!("asked.typed.{}", Excerpt::new(name));
    Fault {
        field,
        kind: Box::new(FaultKind::PlanFile(kind)),
        help: help.into(),
        place: Place::Nowhere,
    }
}

fn open_slots(request: &mut OpenRequest) -> Slots<'_> {
    let mut slots = sawing_slots(&mut request.sawing);
    slots.push(("wants", Slot::Many(&mut request.wants)));
    slots
}

fn buck_slots(request: &mut BuckRequest) -> Slots<'_> {
    let BuckRequest { sawing, wants, cut_out, bucking } = request;
    let mut slots = sawing_slots(sawing);
    slots.extend([
        ("wants", Slot::Many(wants)),
        ("cut_out", Slot::Many(cut_out)),
        ("chain_kerf", Slot::One(&mut bucking.chain_kerf)),
        ("log_lengths", Slot::Each(&mut bucking.log_lengths)),
        ("shortest", Slot::One(&mut bucking.shortest)),
        ("longest", Slot::One(&mut bucking.longest)),
    ]);
    slots
}

fn sawing_slots(request: &mut SawingRequest) -> Slots<'_> {
    let SawingRequest { log, mill, policy, lengths, pieces, tolerance, methods, taper } = request;
    let grown = &mut log.as_grown;
    vec![
        ("small_end", Slot::One(&mut log.small_end)),
        ("butt", Slot::One(&mut log.butt)),
        ("length", Slot::One(&mut log.length)),
        ("species", Slot::One(&mut log.species)),
        ("bark", Slot::One(&mut log.bark)),
        ("over_bark", Slot::Flag(&mut log.over_bark)),
        ("trim", Slot::One(&mut log.trim)),
        ("long_axis", Slot::One(&mut grown.long_axis)),
        ("long_axis_butt", Slot::One(&mut grown.long_axis_butt)),
        ("sweep", Slot::One(&mut grown.sweep)),
        ("crook", Slot::One(&mut grown.crook)),
        ("pith_small", Slot::One(&mut grown.pith_small)),
        ("pith_butt", Slot::One(&mut grown.pith_butt)),
        ("flare", Slot::One(&mut grown.flare)),
        ("flaws", Slot::Many(&mut grown.flaws)),
        ("seen", Slot::Many(&mut grown.seen)),
        ("shape", Slot::One(&mut grown.shape)),
        ("unit", Slot::One(&mut grown.unit)),
        ("up", Slot::One(&mut grown.up)),
        ("mill", Slot::Path(mill)),
        ("sizes", Slot::One(&mut policy.sizes)),
        ("final_moisture", Slot::One(&mut policy.final_moisture)),
        ("planing", Slot::One(&mut policy.planing)),
        ("sawing_deviation", Slot::One(&mut policy.sawing_deviation)),
        ("undersize", Slot::One(&mut policy.undersize)),
        ("lengths", Slot::One(lengths)),
        ("heart", Slot::One(&mut pieces.heart)),
        ("centred", Slot::One(&mut pieces.centred)),
        ("clear", Slot::One(&mut pieces.clear)),
        ("tolerates", Slot::One(&mut pieces.tolerates)),
        ("tolerance", Slot::One(tolerance)),
        ("methods", Slot::Many(methods)),
        ("taper", Slot::One(taper)),
    ]
}

fn resume_slots(request: &mut ResumeRequest) -> Slots<'_> {
    let ResumeRequest { sawn, cuts, finished, found, left, also, again } = request;
    let grown = &mut again.as_grown;
    vec![
        ("sawn", Slot::One(sawn)),
        ("cuts", Slot::Many(cuts)),
        ("finished", Slot::Many(finished)),
        ("found", Slot::Many(found)),
        ("left", Slot::Many(left)),
        ("also", Slot::Many(also)),
        ("small_end", Slot::One(&mut again.small_end)),
        ("butt", Slot::One(&mut again.butt)),
        ("length", Slot::One(&mut again.length)),
        ("bark", Slot::One(&mut again.bark)),
        ("long_axis", Slot::One(&mut grown.long_axis)),
        ("long_axis_butt", Slot::One(&mut grown.long_axis_butt)),
        ("sweep", Slot::One(&mut grown.sweep)),
        ("crook", Slot::One(&mut grown.crook)),
        ("pith_small", Slot::One(&mut grown.pith_small)),
        ("pith_butt", Slot::One(&mut grown.pith_butt)),
        ("flare", Slot::One(&mut grown.flare)),
    ]
}

#[cfg(test)]
mod tests {
    use super::Words;
    use crate::asked::Files;
    use crate::sawing_request::OpenRequest;

    #[test]
    fn what_was_typed_is_read_as_it_was() {
        let mut open = OpenRequest::new("22 in", "24 1/2", "12 ft", &["2x8x12=6", "1x6"]);
        open.sawing.log.over_bark.on = true;
        open.sawing.log.species.text = Some("white oak".to_owned());
        open.sawing.methods.texts = vec!["around".to_owned(), "boxed".to_owned()];
        let words = Words::of_open(&open);
        assert_eq!(words.0["wants"], ["2x8x12=6", "1x6"]);
        assert_eq!(words.0["over_bark"], [""]);
        let again = words.open(Files::OnDisk).unwrap();
        assert_eq!(Words::of_open(&again), words);
    }

    #[test]
    fn a_name_that_no_request_has_is_told() {
        let mut words = Words::of_open(&OpenRequest::new("22", "24", "12", &["1x6"]));
        words.0.insert("smal".to_owned(), vec!["22 in".to_owned()]);
        words.0.insert("butt".to_owned(), vec!["24".to_owned(), "25".to_owned()]);
        let faults = words.open(Files::OnDisk).unwrap_err();
        let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
        assert_eq!(said.len(), 2, "{said:?}");
        assert!(said[0].contains("smal") && said[1].contains("\"25\""), "{said:?}");
    }
}
