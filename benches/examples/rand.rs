//! One.
use pithward_benches::*;
use pithward_optimizer::*;
fn main() {
    let a: Vec<i64> = std::env::args().skip(1).map(|a| a.parse().unwrap()).collect();
    let log = log(a[0], a[1]);
    let mill = mill();
    let wants = vec![random_width(1, a[0], a[1]), want(2, 6, &(6..=a[1]).collect::<Vec<_>>(), if a[2] == 0 { None } else { Some(a[2] as u32) })];
    let s = Settings::all(&mill);
    let t = std::time::Instant::now();
    let r = open(&log, &mill, &wants, &s); 
    eprintln!("{:?}", t.elapsed());
    if let Ok(Answer::Planned(p)) = r { eprintln!("{} {} {} lps {}", p.plan.worth, p.proof.worth_bound, p.proof.states, p.proof.programs); }
}
