//! Plans of random piles: confirmed again log by log, counted again, the same on any number of threads, and
//! never below what another plan of the same wood proves.
//!
//! 150 small piles and three larger ones; `PITHWARD_PILES=5000` for more small ones, `PITHWARD_FIRST` to begin
//! elsewhere.

use pithward_optimizer::{Pile, PilePlan, plan_pile};
use pithward_tests::check_pile;
use pithward_tests::random_pile::Scope;

fn number(variable: &str, otherwise: u64) -> u64 {
    std::env::var(variable).map_or(otherwise, |text| text.parse().expect("a whole number"))
}

/// A plan that holds.
fn planned(pile: &Pile) -> Result<PilePlan, String> {
    let plan = plan_pile(pile, &()).map_err(|fault| fault.to_string())?;
    check_pile::plan(pile, &plan)?;
    Ok(plan)
}

/// Plans one pile and others that must not contradict it.
fn judge(pile: &Pile) -> Result<PilePlan, String> {
    let plan = planned(pile)?;
    let within = |other: &PilePlan, what: &str, may_be_more: bool| {
        let (value, bound) = (other.proof.value, plan.proof.bound.unwrap_or(i64::MIN));
        if value > bound {
            return Err(format!("{what}: worth {value}, the bound is {bound}"));
        }
        let (value, bound) = (plan.proof.value, other.proof.bound.unwrap_or(i64::MIN));
        if may_be_more && value > bound {
            return Err(format!("{what}: the bound is {bound}, the plan was worth {value}"));
        }
        Ok(())
    };

    // The same logs from the last to the first.
    let mut turned = pile.clone();
    turned.logs.reverse();
    within(&planned(&turned)?, "logs in another order", true)?;

    // Every second log of a wood that has another name: alike logs now stand in two classes.
    let mut renamed = pile.clone();
    renamed.menus.extend(pile.menus.clone());
    for log in renamed.logs.iter_mut().step_by(2) {
        log.menu += pile.menus.len();
    }
    within(&planned(&renamed)?, "woods of two names", true)?;

    // A log less, and the last line of the list gone: never worth more than the whole may be.
    let mut less = pile.clone();
    less.logs.pop();
    if !less.logs.is_empty() {
        within(&planned(&less)?, "a log less", false)?;
    }
    let mut shorter = pile.clone();
    shorter.demands.pop();
    shorter.menus.iter_mut().for_each(|menu| drop(menu.pop()));
    if !shorter.demands.is_empty() {
        within(&planned(&shorter)?, "a want less", false)?;
    }
    Ok(plan)
}

#[test]
fn plans_of_random_piles_hold() {
    let (first, piles) = (number("PITHWARD_FIRST", 0), number("PITHWARD_PILES", 150));
    let mut faults = Vec::new();
    let (mut pieces, mut sawn, mut logs, mut short, mut proven) = (0, 0, 0, 0, 0);
    for n in first..first + piles {
        let pile = Scope::SMALL.pile(n);
        match judge(&pile) {
            Err(why) => faults.push((n, why)),
            Ok(plan) => {
                logs += pile.logs.len();
                sawn += check_pile::plans(&plan).count();
                pieces +=
                    check_pile::plans(&plan).map(|(_, plan)| plan.products.len()).sum::<usize>();
                short += plan.shortages.len();
                proven += usize::from(plan.proof.bound == Some(plan.proof.value));
            }
        }
    }
    println!(
        "{piles} piles: {sawn} of {logs} logs sawn, {pieces} pieces, {short} shortages, {proven} proven to the last \
         millionth, {} faults",
        faults.len()
    );
    for (n, why) in faults.iter().take(20) {
        println!("pile {n}: {why}");
    }
    assert!(faults.is_empty(), "{} of {piles} piles, the first {:?}", faults.len(), faults[0]);
    assert!(piles < 100 || (sawn * 2 > logs && short > 20), "the piles must be worth checking");
}

/// The same where boards are graded and logs have knots: 20 piles, `PITHWARD_GRADED=500` for more.
#[test]
fn plans_by_grade_hold() {
    let (first, piles) = (number("PITHWARD_FIRST", 0), number("PITHWARD_GRADED", 20));
    let (mut graded, mut short) = (0, 0);
    for n in first..first + piles {
        let pile = Scope::GRADED.pile(n);
        let plan = judge(&pile).unwrap_or_else(|why| panic!("pile {n}: {why}"));
        let looks = check_pile::plans(&plan).flat_map(|(_, plan)| &plan.looks);
        graded += looks.filter(|look| look.grade.is_some()).count();
        short += plan.shortages.len();
    }
    println!("{piles} piles: {graded} pieces graded, {short} shortages");
    assert!(piles < 20 || graded > 100, "the piles must be worth checking");
}

#[test]
fn plans_of_larger_piles_hold() {
    let scopes = [(Scope::MORNING, 0), (Scope::MORNING, 1), (Scope::DAY, 0)];
    for (scope, n) in scopes {
        let pile = scope.pile(n);
        let plan = judge(&pile).unwrap_or_else(|why| panic!("pile {n}: {why}"));
        let proof = &plan.proof;
        println!(
            "pile {n}: {} logs, {} wants, gap {:?} millionths, {} shortages, {} searches, {} programs",
            pile.logs.len(),
            pile.demands.len(),
            plan.gap_millionths(),
            plan.shortages.len(),
            proof.searches,
            proof.programs,
        );
    }
}

#[test]
fn the_same_plan_on_one_thread_and_on_several() {
    let piles: Vec<Pile> =
        (500..512).map(|n| Scope::SMALL.pile(n)).chain([Scope::MORNING.pile(7)]).collect();
    let plans = |threads: usize| -> Vec<String> {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| piles.iter().map(|pile| format!("{:?}", plan_pile(pile, &()))).collect())
    };
    let alone = plans(1);
    assert!(alone.iter().all(|plan| plan.starts_with("Ok")));
    for threads in [2, 3] {
        for (n, (one, other)) in alone.iter().zip(plans(threads)).enumerate() {
            assert!(*one == other, "pile {n} has another plan on {threads} threads");
        }
    }
}
