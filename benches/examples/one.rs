//! One.
use pithward_benches::*;
use pithward_optimizer::*;
fn main() {
    let a: Vec<i64> = std::env::args().skip(1).map(|a| a.parse().unwrap()).collect();
    let log = log(a[0], a[1]);
    let mill = mill();
    let wants = eight_sizes([8, 10, 12]);
    let s = Settings::all(&mill);
    for _ in 0..a[2] { 
        let t = std::time::Instant::now();
        let r = open(&log, &mill, &wants, &s); 
        eprintln!("{:?}", t.elapsed());
        if let Ok(Answer::Planned(p)) = r { eprintln!("{} {}", p.plan.worth, p.proof.states); } }
}
