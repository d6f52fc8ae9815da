//! What is ahead: with nothing done, with all done, and between.

use super::*;
use crate::kept::tests::{job, promised};
use crate::kept::{Kept, KeptPile};
use crate::money::{Price, Way};
use pithward_job::PileJob;
use pithward_measure::{Size, Width};
use pithward_tally::{
    BladeChange, BladeEnd, Doing, LogSoFar, LogState, Piece, SizeCount, SoFar, Spent, Stretch,
    WantSoFar,
};

type Time = jiff::ZonedDateTime;

fn time() -> Time {
    "2026-05-02T08:00:00-04:00[America/New_York]".parse().unwrap()
}

/// A tally in which nothing was said yet.
fn nothing(job: &PileJob) -> SoFar {
    let log = |(n, log): (usize, &pithward_job::JobLog)| LogSoFar {
        id: log.id.clone(),
        in_job: Some(n),
        state: LogState::Waiting,
        from: None,
        to: None,
        seconds: 0,
        pieces: Vec::new(),
        as_planned: false,
        found: Vec::new(),
    };
    let want = |(n, want): (usize, &pithward_job::JobWant)| WantSoFar {
        in_job: Some(n),
        size: want.size,
        count: want.count,
        asked: want.count,
        given: 0,
        board_feet: 0,
    };
    SoFar {
        logs: job.logs.iter().enumerate().map(log).collect(),
        wants: job.wants.iter().enumerate().map(want).collect(),
        ..SoFar::default()
    }
}

/// The first of the order are done as in a pile, set up and not yet packed up.
fn as_in(job: &PileJob, kept: &Kept, pile: &KeptPile, logs: usize) -> SoFar {
    let mut so_far = nothing(job);
    so_far.days = 1;
    so_far.spent.setting_up = 60 * 20;
    for place in kept.order.iter().take(logs) {
        let log = so_far.logs.iter_mut().find(|log| log.id == kept.logs[*place].id).unwrap();
        log.state = LogState::Done;
        log.from = Some(time());
        let Some(sawn) = pile.logs.iter().find(|sawn| sawn.log == *place) else { continue };
        let pattern = &kept.patterns[sawn.pattern];
        log.seconds = crate::money::seconds(pattern.hours.minutes * pile.day * sawn.pace);
        so_far.spent.sawing += log.seconds;
        let mut left = sawn.board_feet;
        for (want, count) in kept.pieces_of(sawn) {
            // Of which length is all the same here: what is left of the board feet is in the last of them.
            so_far.wants[*want].given += count;
            let size = job.wants[*want].size;
            let size = Size {
                width: Width::Exactly(size.width.least()),
                length: Some(job.wants[*want].lengths[0]),
                ..size
            };
            let what = SizeCount { count: *count, typed: size.to_string(), size, note: None };
            left -= what.board_feet();
            log.pieces.push(Piece { entry: 1, at: time(), what, to: vec![(*want, *count)] });
        }
        // Boards that nobody wants, so that the board feet are those of the pile.
        let inch = pithward_measure::Length::inches(1);
        let long = pithward_measure::Length::nm(
            i64::try_from(i128::from(left.max(0)) * 144 * i128::from(inch.as_nm()) / 1_000_000)
                .unwrap(),
        );
        let size = Size {
            thickness: inch,
            width: Width::Exactly(inch),
            length: Some(long),
            ..job.wants[0].size
        };
        let what = SizeCount { count: 1, typed: String::new(), size, note: None };
        log.pieces.push(Piece { entry: 1, at: time(), what, to: Vec::new() });
    }
    so_far
}

#[test]
fn with_nothing_done_it_is_the_quote() {
    for more in ["", "[lumber]\n[doubt]\nrot = 0.3\nmetal = 0.3\n"] {
        let job = job(8, more);
        let (kept, forecast) = promised(&job, 60);
        let kept = Kept::read(&kept.write()).unwrap();
        let ahead = Ahead::of(&job, &kept, &nothing(&job), Some(Way::Hour));
        assert_eq!((ahead.basis, ahead.logs_to_go), (Basis::Promise, kept.order.len()));
        assert!((ahead.effective - 60.0).abs() < 1e-9);
        let near = |one: f64, other: f64| assert!((one - other).abs() < 1e-3, "{one} {other}");
        for range in [ahead.on_site, ahead.to_go] {
            near(range.low, forecast.minutes.low);
            near(range.likely, forecast.minutes.likely);
            near(range.high, forecast.minutes.high);
            near(range.planned, forecast.minutes.planned);
        }
        assert_eq!(ahead.price, forecast.price);
        assert_eq!(ahead.blades, forecast.blades);
        let feet =
            |range: crate::range::Range<i64>| [range.low, range.likely, range.high, range.planned];
        for (one, other) in feet(ahead.board_feet).into_iter().zip(feet(forecast.board_feet)) {
            // Every pile is lifted as a whole, and rounded down.
            assert!((one - other).abs() <= 2, "{one} {other}");
        }
        for (want, of) in ahead.wants.iter().zip(&forecast.wants) {
            assert_eq!((want.pieces, want.asked), (of.pieces, of.asked));
            assert!((want.filled - of.filled).abs() < 1e-9);
            assert!(
                want.chance >= 0.9 && want.stands == Some(Stands::Holds)
                    || want.promised == Some(0)
            );
        }
        assert!((0.88..=0.95).contains(&ahead.in_time.unwrap()), "{:?}", ahead.in_time);
    }
}

#[test]
fn with_all_done_it_is_what_happened() {
    let job = job(8, "");
    let (kept, _) = promised(&job, 40);
    let mut so_far = as_in(&job, &kept, &kept.piles[3], kept.logs.len());
    so_far.spent.packing_up = 60 * 10;
    so_far.stretches.push(Stretch {
        doing: Doing::PackingUp,
        log: None,
        from: time(),
        to: time(),
        seconds: 600,
        open: false,
    });
    so_far.blades.push(BladeChange {
        entry: 9,
        at: time(),
        end: BladeEnd::Ruined,
        why: None,
        log: Some(0),
    });
    let ahead = Ahead::of(&job, &kept, &so_far, Some(Way::Hour));
    assert_eq!((ahead.basis, ahead.logs_to_go), (Basis::Happened, 0));
    let Spent { setting_up, sawing, packing_up, .. } = so_far.spent;
    let minutes = (setting_up + sawing + packing_up) as f64 / 60.0;
    for range in
        [ahead.on_site.low, ahead.on_site.likely, ahead.on_site.high, ahead.on_site.planned]
    {
        assert!((range - minutes).abs() < 1e-9);
    }
    assert!(ahead.to_go.high < 1e-9 && ahead.until_the_end.high < 1e-9);
    // The same rules price the same day.
    let done = worked(&job, Some(&kept), &so_far);
    assert_eq!((done.blades, done.strikes), (1, 0));
    let bill = Price::of(&done, &job.charges).by_hour.unwrap().unwrap();
    let price = ahead.price.unwrap();
    assert_eq!((price.low, price.likely, price.high), (bill.total, bill.total, bill.total));
    assert_eq!(ahead.board_feet.low, so_far.board_feet());
    assert_eq!(ahead.blades.high, 2);
    for want in &ahead.wants {
        assert_eq!((want.pieces.low, want.pieces.high), (want.given, want.given));
        assert!(matches!(want.stands, Some(Stands::Kept | Stands::Broken)));
    }
}

/// A day as one of the piles goes is held by what the others say of it after half of the logs, about as often as they say.
#[test]
fn what_is_ahead_comes_as_often_as_it_is_said() {
    let job = job(10, "");
    let (all, _) = promised(&job, 120);
    let (mut held, mut feet, mut narrower, mut said) = (0, 0, 0, 0);
    let days = 60;
    for n in 0..days {
        let truth = all.piles[n].clone();
        let mut kept = all.clone();
        kept.piles.remove(n);
        let so_far = as_in(&job, &all, &truth, 5);
        let ahead = Ahead::of(&job, &kept, &so_far, None);
        let after = as_in(&job, &all, &truth, all.logs.len());
        // The rest as this pile goes: its own minutes, and what comes around them.
        let one = Kept { piles: vec![truth.clone()], ..all.clone() };
        let alone = Ahead::of(&job, &one, &nothing(&job), None);
        let set_up = job.yard.set_up(&job.pace);
        let metal: f64 = truth.logs.iter().map(|log| f64::from(log.struck)).sum::<f64>();
        if metal > 0.0 {
            continue;
        }
        said += 1;
        let minutes = alone.on_site.likely - set_up + 20.0;
        held += usize::from((ahead.on_site.low..=ahead.on_site.high).contains(&minutes));
        let lifted =
            rest::lifted(after.board_feet() - so_far.board_feet(), all.lift) + so_far.board_feet();
        feet += usize::from((ahead.board_feet.low..=ahead.board_feet.high).contains(&lifted));
        let before = Ahead::of(&job, &kept, &nothing(&job), None);
        let wide = |ahead: &Ahead| ahead.on_site.high - ahead.on_site.low;
        narrower += usize::from(wide(&ahead) < wide(&before));
        assert!(ahead.effective >= 20.0, "{}", ahead.effective);
    }
    // Eight in ten, within three standard errors of so many days.
    let share = |n: usize| n as f64 / said as f64;
    assert!((0.64..=0.96).contains(&share(held)), "{held} of {said}");
    assert!(share(feet) >= 0.64, "{feet} of {said}");
    assert!(share(narrower) > 0.9, "{narrower} of {said}");
}

#[test]
fn a_slow_day_is_expected_to_stay_slow() {
    let job = job(10, "");
    let (kept, forecast) = promised(&job, 60);
    let of = |pace: f64| {
        let pile = KeptPile { day: pace, ..kept.piles[0].clone() };
        let mut pile = pile;
        pile.logs.iter_mut().for_each(|log| log.pace = 1.0);
        Ahead::of(&job, &kept, &as_in(&job, &kept, &pile, 5), Some(Way::Hour))
    };
    let (slow, usual, quick) = (of(1.25), of(1.0), of(0.8));
    // Of five logs at a fifth each and a day at a tenth, five ninths of what is seen is the day's.
    assert!((1.08..1.18).contains(&slow.pace), "{}", slow.pace);
    assert!((0.97..1.03).contains(&usual.pace), "{}", usual.pace);
    assert!(quick.pace < 0.95 && quick.to_go.likely < slow.to_go.likely);
    assert!(
        slow.price.unwrap().likely.as_ten_thousandths()
            > usual.price.unwrap().likely.as_ten_thousandths()
    );
    assert!(slow.on_site.likely > forecast.minutes.likely);
    assert!(slow.in_time.unwrap() < usual.in_time.unwrap());
}

#[test]
fn a_day_beyond_all_piles_is_told_to_be_a_guess() {
    let job = job(10, "");
    let (kept, _) = promised(&job, 60);
    let mut so_far = as_in(&job, &kept, &kept.piles[0], 6);
    assert_eq!(Ahead::of(&job, &kept, &so_far, None).basis, Basis::Weighed);
    // Half of what was off the saw is gone.
    for log in &mut so_far.logs {
        log.pieces.truncate(1);
        log.pieces.iter_mut().for_each(|piece| piece.what.count = 1);
    }
    let ahead = Ahead::of(&job, &kept, &so_far, None);
    assert_eq!(ahead.basis, Basis::Far);
    assert!(ahead.effective >= 20.0);
    // Without any piles the plan is asked, and says so.
    let none = Kept { piles: Vec::new(), patterns: Vec::new(), ranges: None, ..kept };
    let ahead = Ahead::of(&job, &none, &so_far, Some(Way::BoardFoot));
    assert_eq!((ahead.basis, ahead.in_time), (Basis::Plan, None));
    assert!(ahead.to_go.low > 0.0 && ahead.price.is_some());
}

/// A yard in which the mill moves once: told or not, a move that lies behind is not ahead, and one at hand has the rest of its
/// minutes before it.
#[test]
fn moves_of_the_mill_are_ahead_until_they_are_told() {
    let mut job = job(6, "");
    let (kept, _) = promised(&job, 10);
    job.yard.moves = 1;
    let ahead = |so_far: &SoFar| Ahead::of(&job, &kept, so_far, Some(Way::Hour));
    let two = as_in(&job, &kept, &kept.piles[0], 2);
    let before = ahead(&two).to_go.likely;
    let each = job.yard.set_up(&job.pace) + job.pace.day.pack_up.as_secs_f64() / 60.0;
    let moving = |minutes: i64| Stretch {
        doing: Doing::MovingMill,
        log: None,
        from: time(),
        to: time(),
        seconds: 60 * minutes,
        open: false,
    };
    let mut at_hand = two.clone();
    (at_hand.moves, at_hand.spent.moving_mill) = (1, 600);
    at_hand.stretches.push(moving(10));
    let left = ahead(&at_hand);
    assert!((before - left.to_go.likely - 10.0).abs() < 1e-6, "{before} {}", left.to_go.likely);
    // What it took already counts for the day on site.
    assert!((left.on_site.likely - ahead(&two).on_site.likely).abs() < 1e-6);
    let mut moved = at_hand.clone();
    moved.stretches.push(Stretch { doing: Doing::Sawing, ..moving(1) });
    let behind = ahead(&moved).to_go.likely;
    assert!((before - behind - each).abs() < 1e-6, "{before} {behind} {each}");
}

/// Two of four logs took 30 min each. By number the others take 60 min. By wood: ends of 10 and 12 in and twice the length of
/// the others' make (244 x 2) / 244 = 2 times as much for each: 120 min.
#[test]
fn without_a_promise_the_logs_that_are_done_say_how_long_the_others_take() {
    let mut job = job(4, "");
    let inches = pithward_measure::Length::inches;
    let none = pithward_measure::Length::ZERO;
    let log_of =
        |long| pithward_geometry::Log::new(inches(10), inches(12), long, none, none).unwrap();
    for (n, log) in job.logs.iter_mut().enumerate() {
        let long = if n < 2 { 100 } else { 200 };
        log.log = log_of(inches(long));
    }
    let mut so_far = nothing(&job);
    assert_eq!(Unplanned::of(&job, &so_far), None);
    for log in &mut so_far.logs[..2] {
        (log.state, log.seconds) = (LogState::Done, 1800);
    }
    let guess = Unplanned::of(&job, &so_far).unwrap();
    assert_eq!(guess.logs, 2);
    assert!((guess.least - 60.0).abs() < 1e-9 && (guess.most - 120.0).abs() < 1e-9, "{guess:?}");
    // A third of what it was thought to take is behind the log on the mill.
    (so_far.logs[2].state, so_far.logs[2].seconds) = (LogState::OnTheMill, 600);
    let guess = Unplanned::of(&job, &so_far).unwrap();
    assert!((guess.least - 50.0).abs() < 1e-9, "{guess:?}");
    for log in &mut so_far.logs {
        (log.state, log.seconds) = (LogState::Done, 1800);
    }
    assert_eq!(Unplanned::of(&job, &so_far), None);
}

#[test]
fn a_changed_list_is_asked_as_it_is_now() {
    let job = job(8, "");
    let (kept, _) = promised(&job, 40);
    let mut so_far = as_in(&job, &kept, &kept.piles[1], 4);
    let given = so_far.wants[1].given;
    so_far.wants[1].count = Some(given);
    so_far.wants.push(WantSoFar {
        in_job: None,
        size: Size::parse("4x4x8").unwrap(),
        count: Some(2),
        asked: None,
        given: 0,
        board_feet: 0,
    });
    let ahead = Ahead::of(&job, &kept, &so_far, None);
    assert!((ahead.wants[1].filled - 1.0).abs() < 1e-9);
    assert!(
        ahead.wants[1].promised.unwrap() <= given && ahead.wants[1].stands == Some(Stands::Kept)
    );
    let new = ahead.wants[3];
    assert_eq!((new.promised, new.stands, new.pieces.high), (None, None, 0));
    assert!(new.filled < 1e-9);
}

#[test]
fn the_same_on_any_number_of_threads() {
    let job = job(6, "");
    let (kept, _) = promised(&job, 30);
    let so_far = as_in(&job, &kept, &kept.piles[2], 3);
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| Ahead::of(&job, &kept, &so_far, Some(Way::Hour)))
    };
    assert_eq!(on(1), on(3));
}
