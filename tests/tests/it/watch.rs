//! Whoever waits for the plan of a pile: what he is told, and that he may stop it at any time.

use pithward_optimizer::{Pile, PilePlan, Progress, Watch, plan_pile};
use pithward_tests::check_pile;
use pithward_tests::random_pile::Scope;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};

/// Writes down what he is told, and stops after so many questions.
struct Waiting {
    told: Mutex<Vec<Progress>>,
    asked: AtomicU64,
    patience: u64,
}

impl Waiting {
    fn new(patience: u64) -> Self {
        Self { told: Mutex::new(Vec::new()), asked: AtomicU64::new(0), patience }
    }
}

impl Watch for Waiting {
    fn tell(&self, progress: Progress) {
        self.told.lock().expect("nobody panics while he writes").push(progress);
    }

    fn stopped(&self) -> bool {
        self.asked.fetch_add(1, Ordering::Relaxed) >= self.patience
    }
}

/// On one thread, so that the order in which he is told is the order in which things happen.
fn alone(pile: &Pile, watch: &Waiting) -> PilePlan {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(1).build().expect("one thread");
    pool.install(|| plan_pile(pile, watch)).expect("a pile is planned")
}

#[test]
fn progress_goes_from_nothing_to_all_and_never_back() {
    for number in 0..3 {
        let pile = Scope::MORNING.pile(number);
        let waiting = Waiting::new(u64::MAX);
        let plan = alone(&pile, &waiting);
        let told = waiting.told.into_inner().unwrap();
        assert!(!told.is_empty(), "pile {number}: he is told nothing");
        assert!(told.iter().all(|p| (0.0..=1.0).contains(&p.share)), "pile {number}: {told:?}");
        for two in told.windows(2) {
            assert!(two[0].share <= two[1].share, "pile {number}: it falls: {two:?}");
        }
        assert!(!plan.stopped, "pile {number}: nobody stopped it");
        // Whoever looks on changes nothing.
        let unseen = plan_pile(&pile, &()).expect("a pile is planned");
        assert_eq!(format!("{plan:?}"), format!("{unseen:?}"), "pile {number}");
    }
}

#[test]
fn a_plan_that_is_stopped_anywhere_holds() {
    let pile = Scope::MORNING.pile(1);
    let waiting = Waiting::new(u64::MAX);
    let whole = alone(&pile, &waiting);
    let questions = waiting.asked.load(Ordering::Relaxed);
    assert!(questions > 20, "he is asked {questions} times");
    let (mut sawn, mut proven) = (0, 0);
    for part in 0..=20 {
        let waiting = Waiting::new(questions * part / 21);
        let plan = alone(&pile, &waiting);
        assert!(plan.stopped, "after {part} of 21 parts");
        check_pile::plan(&pile, &plan)
            .unwrap_or_else(|why| panic!("after {part} of 21 parts: {why}"));
        if let Some(bound) = plan.proof.bound {
            proven += 1;
            assert!(bound >= whole.proof.value, "after {part} of 21 parts: a bound below the plan");
        }
        assert!(
            plan.proof.value <= whole.proof.bound.expect("nobody stopped it"),
            "after {part} of 21 parts: over the bound"
        );
        sawn += usize::from(check_pile::plans(&plan).count() > 0);
        let late = waiting.asked.load(Ordering::Relaxed) - questions * part / 21;
        assert!(late < questions / 2 + 200, "asked {late} times more after he stopped it");
    }
    println!("{sawn} of 21 stopped plans saw something, {proven} prove something");
    assert!(sawn > 10, "a plan that is stopped late has something to show");
}
