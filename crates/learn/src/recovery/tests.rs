use super::*;
use pithward_job::PlanCounts;

fn log(planned: u32, came: u32) -> Outcome {
    let feet = |pieces: u32| i64::from(pieces) * 8_000_000;
    Outcome { planned, came, planned_feet: feet(planned), came_feet: feet(came) }
}

fn observed(logs: impl IntoIterator<Item = (Option<Kind>, Outcome)>) -> Observed {
    let logs = logs.into_iter().enumerate().map(|(n, (wood, outcome))| LogDone {
        job: 0,
        id: n.to_string(),
        day: 0,
        counts: PlanCounts { wood, ..PlanCounts::default() },
        minutes: None,
        changes: 0,
        outcome: Some(outcome),
    });
    Observed { logs: logs.collect(), ..Observed::default() }
}

#[test]
fn where_nothing_is_lost_nothing_is_taken_off() {
    for logs in [1, 5, 200] {
        let all = of_logs(&vec![log(8, 8); logs]).unwrap();
        assert_eq!((all.share.of, all.share.high), (1.0, 1.0));
        assert!(all.share.low > 0.94);
    }
    assert_eq!(of_logs(&[]), None);
    assert_eq!(Recovered::of(&Observed::default()), Recovered::default());
}

#[test]
fn few_losses_move_it_little_and_many_logs_say_it() {
    let share = |logs: usize| of_logs(&vec![log(8, 7); logs]).unwrap().share;
    let (few, many) = (share(3), share(300));
    assert!(few.of > 0.94 && (many.of - 0.875).abs() < 0.012, "{few:?} {many:?}");
    assert!(many.unsure < 0.4 * few.unsure);
    assert!(few.low < few.of && few.of <= few.high);
}

/// Alike, each log has the same share; apart, one in eight is lost as a whole.
#[test]
fn logs_that_are_lost_as_a_whole_say_less() {
    let alike = of_logs(&vec![log(8, 7); 40]).unwrap();
    let apart: Vec<Outcome> = (0..40).map(|n| log(8, if n % 8 == 0 { 0 } else { 8 })).collect();
    let apart = of_logs(&apart).unwrap();
    assert!(apart.together > 0.4 && alike.together < 0.05, "{apart:?} {alike:?}");
    assert!(apart.share.unsure > 1.3 * alike.share.unsure, "{apart:?} {alike:?}");
}

/// Two logs of two and one of three pieces, by the beta-binomial distribution written out by hand with a = 4.5 and b = 0.5
/// (r = 0.9, q = 1/6): (a/5)(a+1)/6 for both of two, 2 (a/5)(b/6)... for one of two, and so on.
#[test]
fn likelihoods_are_those_worked_by_hand() {
    let (a, b) = (4.5, 0.5);
    let both = a / 5.0 * (a + 1.0) / 6.0;
    let one = a / 5.0 * b / 6.0;
    let two_of_three = a / 5.0 * (a + 1.0) / 6.0 * b / 7.0;
    let logs = [log(2, 2), log(2, 1), log(3, 2)];
    let got = Factors::of(&logs).likely(0.9, 1.0 / 6.0);
    let hand: f64 = libm::log(both * one * two_of_three);
    assert!((got - hand).abs() < 1e-12, "{got} {hand}");
}

#[test]
fn each_wood_has_its_own_where_there_are_logs_enough() {
    let soft = |n: usize| vec![(Some(Kind::Softwood), log(10, 10)); n];
    let hard = |n: usize| vec![(None, log(10, 8)); n];
    let few = Recovered::of(&observed(soft(9).into_iter().chain(hard(30))));
    assert_eq!((few.softwood, few.hardwood), (None, None));
    let both = few.recovery().unwrap();
    assert_eq!(both.softwood.to_bits(), both.hardwood.to_bits());
    let enough = Recovered::of(&observed(soft(30).into_iter().chain(hard(30)))).recovery().unwrap();
    assert!(enough.softwood >= 1.0 && enough.hardwood < 0.85);
}

#[test]
fn board_feet_at_other_sizes_count_as_feet() {
    let logs = [
        Outcome { came_feet: 66_000_000, ..log(8, 4) },
        Outcome { came_feet: 62_000_000, ..log(8, 6) },
    ];
    let feet = feet(&logs).unwrap();
    assert!((feet.of - 1.0).abs() < 1e-12);
    // sqrt(2 (2² + 2²)) / 128
    assert!((feet.unsure - 4.0 / 128.0).abs() < 1e-12, "{}", feet.unsure);
}
