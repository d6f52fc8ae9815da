//! The same log, mill and wants give the same answer to the last digit, on every run and on any thread.

use pithward_optimizer::{Settings, open};
use pithward_tests::random::Case;

fn answer(case: &Case) -> String {
    format!("{:?}", open(&case.log, &case.mill, &case.wants, &Settings::all(&case.mill)))
}

#[test]
fn the_same_answer_twice_and_on_four_threads() {
    let cases: Vec<Case> = (2_000_000..2_000_060).map(Case::new).collect();
    let first: Vec<String> = cases.iter().map(answer).collect();
    let again: Vec<String> = cases.iter().rev().map(answer).rev().collect();
    assert!(first == again, "a second run, in another order, gives another answer");
    let by_thread: Vec<Vec<String>> = std::thread::scope(|scope| {
        let workers: Vec<_> = (0..4)
            .map(|_| scope.spawn(|| cases.iter().map(answer).collect::<Vec<String>>()))
            .collect();
        workers.into_iter().map(|worker| worker.join().expect("planning does not panic")).collect()
    });
    for (n, answers) in by_thread.iter().enumerate() {
        assert!(first == *answers, "thread {n} gives another answer");
    }
    // Not the same because there is nothing in them.
    assert!(first.iter().filter(|answer| answer.contains("Planned")).count() > 30);
}
