//! Logs that are not round and straight, and plans of them made by hand.

use super::{job_on, length, mill};
use pithward_geometry::{
    Angle, Body, Claim, Crook, End, Face, Flare, Flaw, FlawKinds, Frame, Heart, Log, Mill, PartId,
    Pass, Piece, Pose, ReplayFault, Rest, SawingOrder, Setting, Span, Stage, Support, Sweep, Taped,
    lift_to_level, replay,
};
use pithward_job::{LogJob, NamedFlaw, Told};
use pithward_measure::{Length, Scale};
use pithward_optimizer::{
    CutId, Fate, LogPlan, Method, Part, Planned, Product, Proof, Rests, Tally, WantId,
};

/// An end: two diameters, the longer toward these degrees, the pith off by so much toward these.
pub(crate) fn end(longer: &str, shorter: &str, clock: i32, pith: (&str, i32), bark: &str) -> End {
    let [longer, shorter, pith_off, bark] = [longer, shorter, pith.0, bark].map(length);
    let (clock, pith_clock) = (Angle::degrees(clock), Angle::degrees(pith.1));
    End { longer, shorter, clock, pith_off, pith_clock, bark }
}

/// A straight log of 12 ft 4 in with these ends.
pub(crate) fn taped(small: End, butt: End) -> Taped {
    Taped { length: length("12 ft 4 in"), small, butt, sweep: None, crook: None, flare: None }
}

/// A round log, 14 in at the small end and 15 1/2 in at the butt, that bows toward these degrees.
pub(crate) fn bowed(depth: &str, clock: i32) -> Taped {
    let small = end("14 in", "14 in", 0, ("0 in", 0), "1/2 in");
    let butt = end("15 1/2 in", "15 1/2 in", 0, ("0 in", 0), "1/2 in");
    let sweep =
        Sweep { depth: length(depth), clock: Angle::degrees(clock), at: length("6 ft 2 in") };
    Taped { sweep: Some(sweep), ..taped(small, butt) }
}

/// All at once: oval, bowed and bent, the pith off the middle, flared.
pub(crate) fn crooked() -> Taped {
    let small = end("16 in", "14 1/2 in", 60, ("1 in", 120), "1/2 in");
    let butt = end("18 in", "16 1/2 in", 75, ("3/4 in", 100), "5/8 in");
    Taped {
        sweep: Some(Sweep {
            depth: length("1 1/2 in"),
            clock: Angle::degrees(150),
            at: length("5 ft"),
        }),
        crook: Some(Crook {
            depth: length("1/2 in"),
            clock: Angle::degrees(270),
            at: length("8 ft"),
        }),
        flare: Some(Flare { length: length("18 in"), extra: length("3 in") }),
        ..taped(small, butt)
    }
}

/// A job of such a log on the invented mill.
pub(crate) fn real_job(taped: Taped, flaws: Vec<NamedFlaw>, wants: &[&str]) -> LogJob {
    real_job_on(mill(), taped, flaws, wants)
}

/// The same on another mill.
pub(crate) fn real_job_on(
    mill: Mill,
    taped: Taped,
    flaws: Vec<NamedFlaw>,
    wants: &[&str],
) -> LogJob {
    let inside: Vec<Flaw> = flaws.iter().flat_map(|named| named.flaws.clone()).collect();
    let log = Log::taped(&taped).unwrap().with_flaws(inside);
    let taped = log.sections().map(|_| taped);
    let like = job_on(mill, Scale::Sixteenths, "14 in", "15 in", "12 ft 4 in", wants);
    let told = Told { taped, flaws, ..Told::default() };
    LogJob { widest: log.butt(), log, told, ..like }
}

/// A flaw as it was written, and what it is.
pub(crate) fn flaw(words: &str, flaw: Flaw) -> NamedFlaw {
    NamedFlaw { kind: flaw.kind, words: words.to_owned(), flaws: vec![flaw] }
}

/// [`try_by_hand`] where it can be sawn.
#[track_caller]
pub(crate) fn by_hand(job: &LogJob, frame: Frame, off_butt: Length) -> Planned {
    try_by_hand(job, frame, off_butt).unwrap()
}

/// A plan made by hand along a frame: a cant 6 in wide, and from it two planks of 2 in on either side of the axis, each
/// of the job's first want and cut so far from the butt; where replay does not confirm it, why.
pub(crate) fn try_by_hand(
    job: &LogJob,
    frame: Frame,
    off_butt: Length,
) -> Result<Planned, ReplayFault> {
    let (log, kerf) = (&job.log, job.mill.kerf);
    let inch = Length::inches;
    let turn = |degrees| Angle::millidegrees(frame.turn.as_millidegrees() + degrees * 1000);
    let mut order = SawingOrder { frame, ..SawingOrder::default() };
    let mut body = Body::whole(log);
    let top = inch(2) + kerf.half();
    let planks = vec![top, top - inch(2) - kerf, top - inch(4) - kerf * 2];
    for (degrees, on, against, planes) in [
        (0, Support::Bark, None, vec![inch(3)]),
        (180, Support::Face(Face::A), None, vec![inch(3)]),
        (90, Support::Bark, Some(Face::A), planks.clone()),
    ] {
        let lift = lift_to_level(&body, &frame, turn(degrees)).unwrap();
        let rest = Rest { turn: turn(degrees), lift, on, against };
        let pose = Pose::of(&body, &frame, &rest).unwrap();
        let axis = Length::from_inches_f64(pose.axis_height());
        let pass = |plane: &Length| Pass {
            height: axis + *plane,
            printed: (axis + *plane).round_to(job.mill.step),
        };
        let passes: Vec<Pass> = planes.iter().map(pass).collect();
        body = body.cut(pose.below(passes.last().unwrap().height.inches_f64()));
        order.stages.push(Stage { rest, passes });
    }
    let wants = job.optimizer_wants();
    let cut = wants[0].cuts[0];
    let end = log.length() - off_butt;
    for (n, pair) in (4..).zip(planks.windows(2)) {
        let claim = Claim {
            turn: turn(90),
            u: Span::new(inch(-3), inch(3)),
            h: Span::new(pair[1] + kerf, pair[0]),
            z: Span::new(end - cut.take, end),
            wane_u: wants[0].wane.width,
            wane_h: wants[0].wane.thickness,
            heart: Heart::Any,
            tolerates: FlawKinds::NONE,
        };
        order.pieces.push(Piece { part: PartId::Freed(n), strip: None, claim });
    }
    let product = Product { cut: CutId { want: WantId(0), cut: 0 }, extra: false, loss: 0 };
    let fates = [
        (PartId::Freed(1), Fate::Slab),
        (PartId::Freed(2), Fate::Slab),
        (PartId::Freed(3), Fate::Slab),
        (PartId::Freed(4), Fate::Square(vec![0])),
        (PartId::Freed(5), Fate::Square(vec![1])),
        (PartId::Left, Fate::Slab),
    ];
    let board_feet = cut.board_feet * 2;
    let plan = LogPlan {
        method: Method::TwoSidedCant,
        replayed: replay(log, &job.mill, &order, Setting::Exact)?,
        order,
        products: vec![product; 2],
        looks: Vec::new(),
        parts: fates.into_iter().map(|(id, fate)| Part { id, fate }).collect(),
        tally: vec![Tally { wanted: job.wants[0].count, given: 2, extra: 0 }],
        worth: board_feet,
        board_feet,
        share_of_solid: 0.3,
        rests: Rests {
            tried: 36,
            ruled_out: 0,
            best: Some(board_feet),
            worst: Some((Frame::LEVEL, board_feet - board_feet / 10)),
        },
        later: None,
    };
    let proof = Proof {
        methods: vec![Method::TwoSidedCant],
        worth_bound: board_feet,
        board_feet_bound: board_feet,
        programs: 1,
        states: 1,
    };
    Ok(Planned { plan, proof, methods: Vec::new(), obstacles: Vec::new() })
}
