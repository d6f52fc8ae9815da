//! Orders altered in one step, in every way.

use pithward_geometry::{
    Angle, Face, FlawKind, FlawKinds, Heart, Mill, PartId, Piece, SawingOrder, Span, Stage, Support,
};
use pithward_measure::Length;

/// An order with one step altered, and which kind of alteration it is.
#[derive(Clone, Debug)]
pub struct Tampered {
    /// The kind of alteration.
    pub kind: String,
    /// The order as altered.
    pub order: SawingOrder,
}

fn altered(
    order: &SawingOrder,
    all: &mut Vec<Tampered>,
    kind: &str,
    change: impl FnOnce(&mut SawingOrder),
) {
    let mut copy = order.clone();
    change(&mut copy);
    if copy != *order {
        all.push(Tampered { kind: kind.to_owned(), order: copy });
    }
}

/// Whose stages.
#[derive(Clone, Copy, Debug)]
enum Of {
    Log,
    Resaw(usize),
    Edging(usize),
}

/// The stages of the log, of one part that is put back, or of one edging.
fn stages(order: &mut SawingOrder, of: Of) -> &mut Vec<Stage> {
    match of {
        Of::Log => &mut order.stages,
        Of::Resaw(n) => &mut order.resaws[n].stages,
        Of::Edging(n) => &mut order.edgings[n].stages,
    }
}

/// Every part of an order.
fn ids(order: &SawingOrder) -> Vec<PartId> {
    let number = |n: usize| u32::try_from(n).expect("few parts");
    let of = |stages: &[Stage]| {
        let passes: usize = stages.iter().map(|stage| stage.passes.len()).sum();
        (1..=number(passes)).map(PartId::Freed).chain([PartId::Left]).collect::<Vec<_>>()
    };
    let resaws = order.resaws.iter().enumerate();
    let resawn = resaws.flat_map(|(n, resaw)| {
        of(&resaw.stages).into_iter().map(move |id| id.of_resaw(number(n + 1)))
    });
    of(&order.stages).into_iter().chain(resawn).collect()
}

/// Every single step of an order altered in every way.
pub fn tamperings(order: &SawingOrder, mill: &Mill) -> Vec<Tampered> {
    let mut all = Vec::new();
    let places = std::iter::once(Of::Log)
        .chain((0..order.resaws.len()).map(Of::Resaw))
        .chain((0..order.edgings.len()).map(Of::Edging));
    for place in places {
        let what = match place {
            Of::Log => "log",
            Of::Resaw(_) => "resaw",
            Of::Edging(_) => "edging",
        };
        let list = stages(&mut order.clone(), place).clone();
        for (s, stage) in list.iter().enumerate() {
            for p in 0..stage.passes.len() {
                passes(order, mill, &mut all, what, (place, s, p));
            }
            rests(order, &mut all, what, (place, s), &stage.rest);
            if stage.passes.len() > 1 {
                for p in 1..stage.passes.len() {
                    altered(order, &mut all, &format!("{what}: two passes swapped"), |o| {
                        stages(o, place)[s].passes.swap(p - 1, p);
                    });
                }
            }
            altered(order, &mut all, &format!("{what}: a stage dropped"), |o| {
                stages(o, place).remove(s);
            });
            altered(order, &mut all, &format!("{what}: a stage twice"), |o| {
                let again = stages(o, place)[s].clone();
                stages(o, place).insert(s, again);
            });
            if s > 0 {
                altered(order, &mut all, &format!("{what}: two stages swapped"), |o| {
                    stages(o, place).swap(s - 1, s);
                });
            }
        }
    }
    for n in 0..order.resaws.len() {
        resaw(order, &mut all, n);
    }
    for n in 0..order.edgings.len() {
        edging(order, &mut all, n);
    }
    for n in 0..order.pieces.len() {
        piece(order, &mut all, n);
        rules(order, &mut all, n);
    }
    frame(order, &mut all);
    all
}

/// The frame of all planes.
fn frame(order: &SawingOrder, all: &mut Vec<Tampered>) {
    for by in [90_000, 180_000, 270_000, 1_000, -1_000, 10] {
        altered(order, all, "frame: turned", |o| {
            o.frame.turn = Angle::millidegrees(o.frame.turn.as_millidegrees() + by);
        });
    }
    for by in [Length::feet(100), Length::inches(1), Length::sixty_fourths(4), Length::nm(100_000)]
    {
        for by in [by, -by] {
            altered(order, all, "frame: drift across", |o| o.frame.drift_u += by);
            altered(order, all, "frame: drift upward", |o| o.frame.drift_h += by);
        }
    }
}

/// What a piece claims of its pith and of the flaws that it may hold.
fn rules(order: &SawingOrder, all: &mut Vec<Tampered>, n: usize) {
    let inch = Length::inches(1);
    let free = [Length::ZERO, inch, inch * 4].map(|clear| Heart::Free { clear });
    let boxed = [Length::ZERO, inch, inch * 4].map(|within| Heart::Boxed { within });
    for heart in [Heart::Any].into_iter().chain(free).chain(boxed) {
        altered(order, all, "piece: another rule for the pith", |o| {
            o.pieces[n].claim.heart = heart;
        });
    }
    for kind in FlawKind::ALL {
        altered(order, all, "piece: one more flaw tolerated", |o| {
            o.pieces[n].claim.tolerates = o.pieces[n].claim.tolerates.with(kind);
        });
    }
    altered(order, all, "piece: no flaw tolerated", |o| {
        o.pieces[n].claim.tolerates = FlawKinds::NONE;
    });
}

fn passes(
    order: &SawingOrder,
    mill: &Mill,
    all: &mut Vec<Tampered>,
    what: &str,
    (place, s, p): (Of, usize, usize),
) {
    let step = mill.step;
    let by = [Length::sixty_fourths(4), Length::nm(100_000), step, Length::mm(1)];
    for by in by.into_iter().flat_map(|by| [by, -by]) {
        let pass = move |o: &mut SawingOrder| stages(o, place)[s].passes[p];
        altered(order, all, &format!("{what}: exact and printed height moved"), |o| {
            let height = pass(o).height + by;
            stages(o, place)[s].passes[p] =
                pithward_geometry::Pass { height, printed: height.round_to(step) };
        });
        // A height that prints alike is caught by what it frees, not by its print.
        altered(order, all, &format!("{what}: exact height moved"), |o| {
            stages(o, place)[s].passes[p].height += by;
        });
        altered(order, all, &format!("{what}: printed height moved"), |o| {
            stages(o, place)[s].passes[p].printed += by;
        });
    }
    altered(order, all, &format!("{what}: a pass dropped"), |o| {
        stages(o, place)[s].passes.remove(p);
    });
    altered(order, all, &format!("{what}: a pass twice"), |o| {
        let again = stages(o, place)[s].passes[p];
        stages(o, place)[s].passes.insert(p, again);
    });
}

fn rests(
    order: &SawingOrder,
    all: &mut Vec<Tampered>,
    what: &str,
    (place, s): (Of, usize),
    rest: &pithward_geometry::Rest,
) {
    for degrees in [90, 180, 270, 1, -1] {
        altered(order, all, &format!("{what}: turned otherwise"), |o| {
            let turn = &mut stages(o, place)[s].rest.turn;
            *turn = Angle::millidegrees(turn.as_millidegrees() + degrees * 1000);
        });
    }
    for by in [Length::sixty_fourths(8), Length::nm(100_000)].into_iter().flat_map(|by| [by, -by]) {
        altered(order, all, &format!("{what}: raised otherwise"), |o| {
            stages(o, place)[s].rest.lift += by;
        });
    }
    let supports =
        [Support::Bark, Support::SawnEdge].into_iter().chain(Face::ALL.map(Support::Face));
    for on in supports.filter(|on| *on != rest.on) {
        altered(order, all, &format!("{what}: on {on:?}, not {:?}", rest.on), |o| {
            stages(o, place)[s].rest.on = on;
        });
    }
    for face in Face::ALL {
        altered(order, all, &format!("{what}: another face against the stops"), |o| {
            stages(o, place)[s].rest.against = Some(face);
        });
    }
    altered(order, all, &format!("{what}: no face against the stops"), |o| {
        stages(o, place)[s].rest.against = None;
    });
}

fn resaw(order: &SawingOrder, all: &mut Vec<Tampered>, n: usize) {
    for part in ids(order) {
        altered(order, all, "resaw: another part", |o| o.resaws[n].part = part);
    }
    altered(order, all, "resaw: dropped", |o| {
        o.resaws.remove(n);
    });
    altered(order, all, "resaw: twice", |o| {
        let again = o.resaws[n].clone();
        o.resaws.push(again);
    });
    if n > 0 {
        altered(order, all, "resaw: two swapped", |o| o.resaws.swap(n - 1, n));
    }
}

fn edging(order: &SawingOrder, all: &mut Vec<Tampered>, n: usize) {
    for part in ids(order) {
        altered(order, all, "edging: another part", |o| o.edgings[n].part = part);
    }
    for batch in 0..=u32::try_from(order.edgings.len()).expect("few edgings") + 1 {
        altered(order, all, "edging: another batch", |o| o.edgings[n].batch = batch);
    }
    altered(order, all, "edging: dropped", |o| {
        o.edgings.remove(n);
    });
    altered(order, all, "edging: twice", |o| {
        let again = o.edgings[n].clone();
        o.edgings.push(again);
    });
}

fn piece(order: &SawingOrder, all: &mut Vec<Tampered>, n: usize) {
    let (sixteenth, foot) = (Length::sixty_fourths(4), Length::feet(1));
    let tenth = Length::nm(100_000);
    for by in [sixteenth, tenth, -tenth, -sixteenth] {
        let shifted = |span: Span| Span::new(span.from + by, span.to + by);
        altered(order, all, "piece: shifted across", |o| {
            o.pieces[n].claim.u = shifted(o.pieces[n].claim.u);
        });
        altered(order, all, "piece: shifted upward", |o| {
            o.pieces[n].claim.h = shifted(o.pieces[n].claim.h);
        });
        altered(order, all, "piece: wider", |o| o.pieces[n].claim.u.to += by);
        altered(order, all, "piece: wider", |o| o.pieces[n].claim.u.from += by);
        altered(order, all, "piece: thicker", |o| o.pieces[n].claim.h.to += by);
        altered(order, all, "piece: thicker", |o| o.pieces[n].claim.h.from += by);
        altered(order, all, "piece: wane", |o| {
            o.pieces[n].claim.wane_u = (o.pieces[n].claim.wane_u + by).max(Length::ZERO);
        });
        altered(order, all, "piece: wane", |o| {
            o.pieces[n].claim.wane_h = (o.pieces[n].claim.wane_h + by).max(Length::ZERO);
        });
    }
    for by in [foot * 30, foot * 4, foot, sixteenth, -sixteenth, -foot, -foot * 4, -foot * 30] {
        altered(order, all, "piece: along", |o| o.pieces[n].claim.z.from += by);
        altered(order, all, "piece: along", |o| o.pieces[n].claim.z.to += by);
        altered(order, all, "piece: along", |o| {
            let z = o.pieces[n].claim.z;
            o.pieces[n].claim.z = Span::new(z.from + by, z.to + by);
        });
    }
    for degrees in [90, 180, 270, 1] {
        altered(order, all, "piece: turned", |o| {
            let turn = &mut o.pieces[n].claim.turn;
            *turn = Angle::millidegrees(turn.as_millidegrees() + degrees * 1000);
        });
    }
    for id in ids(order) {
        altered(order, all, "piece: from another part", |o| o.pieces[n].part = id);
    }
    let ids = (1..=4).map(PartId::Freed).chain([PartId::Left]);
    for id in ids {
        altered(order, all, "piece: another strip", |o| o.pieces[n].strip = Some(id));
    }
    altered(order, all, "piece: another strip", |o| o.pieces[n].strip = None);
    altered(order, all, "piece: twice", |o| {
        let again: Piece = o.pieces[n].clone();
        o.pieces.push(again);
    });
}
