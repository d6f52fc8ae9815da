//! Where a strip's rings stand as they must: held against the angle of the rings itself, place by place.

use pithward_geometry::{
    Angle, End, FlawKinds, Frame, Heart, Log, PieceBox, Quarter, RingSpan, Span, Sweep, Taped,
    View, ring_angle,
};
use pithward_measure::Length;

const SIXTEENTH: Length = Length::sixty_fourths(4);

/// Two logs: one round, one bowed with its pith off the middle, more so at the butt.
fn logs() -> [Log; 2] {
    let inch = Length::inches;
    let end = |off: Length, clock: i32| End {
        longer: inch(20),
        shorter: inch(18),
        clock: Angle::degrees(30),
        pith_off: off,
        pith_clock: Angle::degrees(clock),
        bark: Length::ZERO,
    };
    let sweep = Sweep { depth: inch(1), clock: Angle::degrees(200), at: inch(50) };
    let taped = Taped {
        length: inch(100),
        small: end(inch(1), 70),
        butt: end(SIXTEENTH * 24, 10),
        sweep: Some(sweep),
        crook: None,
        flare: None,
    };
    let round = Log::new(inch(18), inch(19), inch(100), Length::ZERO, Length::ZERO).unwrap();
    [round, Log::taped(&taped).unwrap()]
}

#[test]
fn a_place_is_one_where_the_rings_stand_so_wherever_the_strip_is_cut() {
    let (mut allowed, mut refused) = (0, 0);
    for log in logs() {
        for frame in [
            Frame::turned(Angle::degrees(25)),
            Frame { drift_u: SIXTEENTH * 12, ..Frame::turned(Angle::degrees(110)) },
        ] {
            let view = View::new(&log, frame);
            for (from, to) in [(0, 30), (30, 60), (45, 90), (60, 90)] {
                let span = RingSpan { from: Angle::degrees(from), to: Angle::degrees(to) };
                for (n, quarter) in [Quarter::First, Quarter::Second].into_iter().enumerate() {
                    for plane in [-90, -40, -9, 0, 14, 33, 70, 111] {
                        for width in [8, 16, 24, 64, 112] {
                            let planes = (SIXTEENTH * plane, SIXTEENTH * (plane + 16));
                            let turn = if n == 0 { 0 } else { 90_000 };
                            let turn = Angle::millidegrees(frame.turn.as_millidegrees() + turn);
                            let strip = Strip { log: &log, frame, turn, planes, width };
                            let (yes, no) = check(&view, &strip, quarter, span);
                            allowed += yes;
                            refused += no;
                        }
                    }
                }
            }
        }
    }
    println!("{allowed} places allowed, {refused} refused");
    assert!(allowed > 5_000 && refused > 5_000, "{allowed} allowed, {refused} refused");
}

struct Strip<'a> {
    log: &'a Log,
    frame: Frame,
    turn: Angle,
    planes: (Length, Length),
    /// Sixteenths.
    width: i64,
}

impl Strip<'_> {
    /// The least and the greatest angle that a piece of the strip has, wherever it begins within the stretch; and whether
    /// one of them holds the pith.
    fn angles(&self, at: Length, stretch: (Length, Length)) -> Option<(i32, i32, bool)> {
        let basis = self.frame.turned_to(self.turn, self.log.length()).unwrap();
        let (mut least, mut most, mut holds) = (i32::MAX, i32::MIN, false);
        for n in 0..=40 {
            let z = stretch.0 + Length::nm((stretch.1 - stretch.0).as_nm() * n / 40);
            let piece = PieceBox {
                basis,
                u: Span::new(at, at + SIXTEENTH * self.width),
                h: Span::new(self.planes.0, self.planes.1),
                z: Span::new(z, self.log.length()),
            };
            let angle = ring_angle(self.log, &piece)?;
            least = least.min(angle.middle.as_millidegrees());
            most = most.max(angle.middle.as_millidegrees());
            holds |= angle.holds_pith;
        }
        Some((least, most, holds))
    }
}

/// Places of a strip that are allowed and refused, each held against the angles of its pieces.
fn check(view: &View<'_>, strip: &Strip<'_>, quarter: Quarter, span: RingSpan) -> (u32, u32) {
    let stretch = (Length::inches(10), Length::inches(90));
    let hazards = view.hazards(stretch, FlawKinds::NONE, Heart::Any, Some(&[span]));
    let basis = strip.frame.turned_to(strip.turn, strip.log.length()).unwrap();
    let (u, h) = (view.origin_toward(basis.u), view.origin_toward(basis.h));
    let planes = (strip.planes.0.as_nm() - h, strip.planes.1.as_nm() - h);
    let limit = Length::inches(12).as_nm();
    let width = (SIXTEENTH * strip.width).as_nm();
    let places = hazards.places(quarter, planes, width, (-limit - u, limit - u));
    assert!(places.windows(2).all(|two| two[0].1 < two[1].0), "{places:?}");
    let (from, to) = (span.from.as_millidegrees(), span.to.as_millidegrees());
    let (mut yes, mut no) = (0, 0);
    for n in -60..60 {
        let at = SIXTEENTH * (3 * n);
        let Some((least, most, holds)) = strip.angles(at, stretch) else { continue };
        let local = at.as_nm() - u;
        if places.iter().any(|(low, high)| (*low..=*high).contains(&local)) {
            let within = from <= least && (most < to || to == 90_000);
            assert!(within && !holds, "{least} to {most} is not {from} to {to}, holds {holds}");
            yes += 1;
        } else {
            no += 1;
            // With room to spare it is never refused; on both sides of the pith within one stretch it may be.
            let room = from + 1_500 * i32::from(from > 0);
            let ceiling = if to == 90_000 { i32::MAX } else { to - 1_500 };
            let kept = room <= least && most <= ceiling && !holds;
            assert!(!kept || most > 88_000 || least < 2_000, "{least} to {most} is refused");
        }
    }
    // The very ends of a range are allowed too.
    for (low, high) in places {
        for edge in [low, high].into_iter().filter(|edge| edge.abs() < limit - u.abs()) {
            let (least, most, holds) = strip.angles(Length::nm(edge + u), stretch).unwrap();
            assert!(from <= least && (most < to || to == 90_000) && !holds, "{least} to {most}");
        }
    }
    (yes, no)
}
