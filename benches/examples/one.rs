//! One.
use pithward_benches::*;
use pithward_optimizer::*;
fn main() {
    let a: Vec<i64> = std::env::args().skip(1).map(|a| a.parse().unwrap()).collect();
    let log = log(a[0], a[1]);
    let mill = mill();
    let mut wants = eight_sizes([8, 10, 12]);
    if a.len() > 3 { wants[5] = want(2, 8, &[12], Some(a[3] as u32)); } if a.len() > 4 { wants[4] = want(2, 6, &[8], Some(a[4] as u32)); }
    let s = Settings::all(&mill);
    for _ in 0..a[2] { 
        let t = std::time::Instant::now();
        let r = open(&log, &mill, &wants, &s); 
        eprintln!("{:?}", t.elapsed());
        if let Ok(Answer::Planned(p)) = r { eprintln!("{} {} {} lps {} {:?}", p.plan.worth, p.proof.worth_bound, p.proof.states, p.proof.programs, p.methods.iter().map(|m| m.worth/1000000).collect::<Vec<_>>()); } }
}
