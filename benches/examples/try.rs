//! Try.
use pithward_benches::*;
use pithward_optimizer::*;
fn main() {
    for (d, l, lens) in [(24, 12, [8, 10, 12]),  (10, 12, [8, 10, 12])] {
        let log = log(d, l);
        let mill = mill();
        for counted in [false, true] {
        let mut wants = eight_sizes(lens);
        if counted { wants[5] = want(2, 8, &[12], Some(6)); wants[4] = want(2,6,&[8],Some(3)); }
        let s = Settings::all(&mill);
        for m in Method::ALL { let t = std::time::Instant::now(); let r = open(&log, &mill, &wants, &Settings{methods: vec![m], ..s.clone()}); println!("  {m:?} {:?} {}", t.elapsed(), match r { Ok(Answer::Planned(p)) => format!("{} / {} states {} lps {}", p.plan.worth, p.proof.worth_bound, p.proof.states, p.proof.programs), Ok(Answer::Impossible(o)) => format!("{o:?}"), Err(e) => e.to_string() }); }
        let t = std::time::Instant::now();
        let n = 5;
        let mut a = None;
        for _ in 0..0 { a = Some(open(&log, &mill, &wants, &s)); }
        let dt = t.elapsed() / n;
        match open(&log, &mill, &wants, &s) {
            Ok(Answer::Planned(p)) => {
                println!("{d} {l} {dt:?} {} worth {} bound {} bf {} bfb {} states {} lps {} tally {:?}", p.plan.method.name(), p.plan.worth, p.proof.worth_bound, p.plan.board_feet, p.proof.board_feet_bound, p.proof.states, p.proof.programs, p.plan.tally.iter().map(|t| t.given+t.extra).collect::<Vec<_>>());
                for m in &p.methods { println!("   {} {} bf {} passes {} turns {}", m.method.name(), m.worth, m.board_feet, m.passes, m.turns); }
                println!("   {:?}", p.obstacles);
            }
            Ok(Answer::Impossible(o)) => println!("impossible {o:?}"),
            Err(e) => println!("ERR {e}"),
        }
        }
    }
}
