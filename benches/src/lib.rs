//! The logs, mills and wants that the benches plan: invented, the same in every run.

pub mod against;
pub mod calibrated;
pub mod drawn;
pub mod grid;
pub mod half_sawn;
pub mod knotty;
pub mod thumb;
pub mod yard;

use pithward_geometry::{Log, Mill};
use pithward_measure::{Length, board_feet_micro};
use pithward_optimizer::{Cut, Want};
use pithward_trade::Wane;

/// A mill in the usual range of published figures.
pub fn mill() -> Mill {
    Mill {
        toe_board: None,
        name: "bench".to_owned(),
        kerf: Length::nm(2_540_000),
        step: Length::sixty_fourths(4),
        largest_diameter: Length::inches(40),
        longest: Length::feet(21),
        shortest: Length::feet(4),
        widest_cut: Length::inches(40),
        deepest_above: Length::inches(16),
        lowest_blade: Length::inches(1),
        crosscut_kerf: Length::sixty_fourths(8),
        edging_batch: 6,
    }
}

/// A tapered log with half an inch of bark.
///
/// # Panics
/// When these are no log's measures.
pub fn log(small_end_in: i64, length_ft: i64) -> Log {
    let small = Length::inches(small_end_in);
    let butt = small + Length::sixty_fourths(8) * length_ft;
    let bark = Length::sixty_fourths(32);
    Log::new(small, butt, Length::feet(length_ft), bark, bark).expect("a bench's log is a log")
}

/// Eight sizes in three lengths, as many as come.
pub fn eight_sizes(lengths_ft: [i64; 3]) -> Vec<Want> {
    [(1, 4), (1, 6), (1, 8), (2, 4), (2, 6), (2, 8), (2, 10), (6, 6)]
        .into_iter()
        .map(|(t, w)| want(t, w, &lengths_ft, None))
        .collect()
}

/// One size in full inches and feet.
pub fn want(thickness_in: i64, width_in: i64, lengths_ft: &[i64], count: Option<u32>) -> Want {
    let cut = |feet: &i64| {
        let (thickness, width, length) =
            (Length::inches(thickness_in), Length::inches(width_in), Length::feet(*feet));
        let board_feet = board_feet_micro(thickness, width, length);
        let (worth, extra) =
            if count.is_some() { (10 * board_feet, 0) } else { (board_feet, board_feet) };
        Cut { thickness, width, length, take: length, board_feet, worth, extra }
    };
    Want {
        heart: pithward_geometry::Heart::Any,
        tolerates: pithward_geometry::FlawKinds::NONE,
        grading: None,
        rings: None,
        count,
        wane: Wane::NONE,
        cuts: lengths_ft.iter().map(cut).collect(),
    }
}

/// One thickness in random width, four inches and wider by whole inches, in every whole foot.
pub fn random_width(thickness_in: i64, widest_in: i64, longest_ft: i64) -> Want {
    let lengths: Vec<i64> = (6..=longest_ft).collect();
    let mut random = want(thickness_in, 4, &lengths, None);
    for width in 5..=widest_in {
        random.cuts.extend(want(thickness_in, width, &lengths, None).cuts);
    }
    random
}

#[cfg(test)]
mod tests {
    use super::*;
    use pithward_optimizer::{Answer, Settings, open, plan_pile};

    /// The sawyer by rules of thumb is no straw man: replay confirms every order of his, half of the wood
    /// becomes lumber, and most of the list is filled.
    #[test]
    fn by_thumb_most_of_the_list_is_sawn_and_confirmed() {
        for seed in 0..20 {
            let pile = yard::yard(100, seed);
            let by_thumb = thumb::saw(&pile).expect("replay confirms what is sawn by thumb");
            let sawn: Vec<_> = by_thumb.logs.iter().flatten().collect();
            let (mut given, mut asked) = (0, 0);
            for (demand, pieces) in pile.demands.iter().zip(&by_thumb.given) {
                if let Some(count) = demand.count {
                    assert!(*pieces <= count, "seed {seed}: nothing is sawn beyond a count");
                    given += pieces;
                    asked += count;
                }
            }
            let size = |span: pithward_geometry::Span| span.size().inches_f64();
            let volume =
                |claim: &pithward_geometry::Claim| size(claim.u) * size(claim.h) * size(claim.z);
            let pieces = sawn.iter().flat_map(|(order, _)| &order.pieces);
            let lumber: f64 = pieces.map(|piece| volume(&piece.claim)).sum();
            let solid: f64 = pile.logs.iter().map(|log| log.log.volume()).sum();
            assert!(lumber > 0.5 * solid, "seed {seed}: {:.3} of the solid", lumber / solid);
            assert!(2 * given > asked, "seed {seed}: {given} of {asked} pieces");
            println!("seed {seed}: {given} of {asked} pieces, {:.3} of the solid", lumber / solid);
        }
    }

    #[test]
    fn the_program_never_fills_less_of_the_list_than_rules_of_thumb() {
        for seed in 0..4 {
            let pile = yard::yard(24, seed);
            let plan = plan_pile(&pile, &()).expect("a bench's pile is planned");
            let against = against::Against::new(&pile, &plan).expect("replay confirms both");
            println!("pile {seed}\n{against}");
            let (by_thumb, planned) = against.whole();
            assert!(
                planned.first + planned.worth >= by_thumb.first + by_thumb.worth,
                "seed {seed}: {planned:?} against {by_thumb:?}"
            );
            assert!(
                planned.listed >= by_thumb.listed,
                "seed {seed}: {planned:?} against {by_thumb:?}"
            );
        }
    }

    /// Seconds blur on a busy machine; the states that a search makes do not. The limits stand a quarter above
    /// what was counted when they were set, so a change that makes planning slower shows.
    #[test]
    fn planning_makes_no_more_states_than_it_did() {
        let sizes = eight_sizes([8, 10, 12]);
        let mut counted = sizes.clone();
        counted[5] = want(2, 8, &[12], Some(6));
        let mill = mill();
        for (log, wants, limit) in [
            (log(12, 12), &sizes, 7_000),
            (log(24, 12), &sizes, 150_000),
            (log(36, 20), &sizes, 1_450_000),
            (log(24, 12), &counted, 1_200_000),
            (yard::bowed_log(1), &sizes, 2_500_000),
        ] {
            let answer =
                open(&log, &mill, wants, &Settings::all(&mill)).expect("a bench's log is planned");
            let Answer::Planned(planned) = answer else { panic!("a bench's log can be sawn") };
            let states = planned.proof.states;
            assert!(states <= limit, "{:?}: {states} states, at most {limit}", log.small_end());
        }
    }

    /// At the mill an answer is asked for at once: what a half-sawn log of 24 in takes, over every way to open it and
    /// whatever is found. The limit stands a quarter above what was counted when it was set.
    #[test]
    fn a_half_sawn_log_makes_no_more_states_than_it_did() {
        let mill = mill();
        let mut most = 0;
        for case in half_sawn::cases(24) {
            for found in half_sawn::Found::ALL {
                let log = found.in_log(&case.log);
                let half =
                    pithward_optimizer::HalfSawn { begun: &case.begun, plan: Some(&case.plan) };
                let settings = Settings::all(&mill);
                let answer = pithward_optimizer::resume(&log, &mill, &case.wants, &settings, half);
                let Ok(pithward_optimizer::ResumeAnswer::Resumed(resumed)) = answer else {
                    panic!("{}, {found:?}: {answer:?}", case.name)
                };
                assert!(Some(resumed.plan.worth) >= resumed.as_it_stands, "{}", case.name);
                most = most.max(resumed.states);
            }
        }
        println!("{most} states at most");
        assert!(most <= HALF_SAWN_STATES, "{most} states, at most {HALF_SAWN_STATES}");
    }

    /// States of the search for a half-sawn log.
    const HALF_SAWN_STATES: u64 = 550_000;

    /// Bowed ovals: the gap is one for the ways of laying each log that were looked at.
    #[test]
    fn a_pile_of_bowed_ovals_is_planned_closely() {
        let plan = plan_pile(&yard::crooked(6, 1), &()).expect("a bench's pile is planned");
        let (proof, gap) = (&plan.proof, plan.gap_millionths().expect("it is not stopped"));
        println!("{} searches, {} states, a gap of {gap} millionths", proof.searches, proof.states);
        assert!(gap <= 10_000, "a gap of {gap} millionths");
        assert!(proof.states <= 9_000_000, "{} states", proof.states);
    }

    /// The same over piles, and how far the bound is from the plan.
    #[test]
    fn planning_a_pile_makes_no_more_searches_than_it_did() {
        for (logs, searches, states) in
            [(40, 1_200, 1_100_000), (100, 2_700, 4_200_000), (300, 7_500, 10_500_000)]
        {
            let plan = plan_pile(&yard::yard(logs, 1), &()).expect("a bench's pile is planned");
            let proof = &plan.proof;
            let gap = plan.gap_millionths().expect("it is not stopped");
            let made = (proof.searches, proof.states);
            println!("{logs} logs: {made:?} searches and states, a gap of {gap} millionths");
            assert!(
                made.0 <= searches && made.1 <= states,
                "{logs} logs: {made:?} searches and states, at most {searches} and {states}"
            );
            assert!(gap <= 2_000, "{logs} logs: a gap of {gap} millionths");
        }
    }

    #[test]
    fn the_baseline_never_finds_more_than_the_exact_planes() {
        let sizes = eight_sizes([8, 10, 12]);
        let mill = mill();
        for log in [log(9, 10), log(14, 12), log(24, 12)] {
            let settings = Settings {
                methods: vec![pithward_optimizer::Method::ThroughTurned],
                ..Settings::all(&mill)
            };
            let Ok(Answer::Planned(planned)) = open(&log, &mill, &sizes, &settings) else {
                panic!("it can be sawn")
            };
            let grid = grid::through(&log, mill.kerf, &sizes, Length::sixty_fourths(1));
            assert!(grid <= planned.plan.worth, "{grid} against {}", planned.plan.worth);
            assert!(grid * 10 > planned.plan.worth * 8, "the baseline is no straw man: {grid}");
        }
    }
}
