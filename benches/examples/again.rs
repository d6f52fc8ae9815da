//! x
#![allow(clippy::print_stdout, clippy::disallowed_methods, reason = "a bench")]
use pithward_geometry::Log;
use pithward_measure::Length;
use pithward_optimizer::*;
use std::time::Instant;

struct R(u64);
impl R {
    fn u(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        (z >> 11) as f64 / (1u64 << 53) as f64
    }
    fn n(&mut self) -> f64 {
        (0..12).map(|_| self.u()).sum::<f64>() - 6.0
    }
}
fn vary(pile: &Pile, seed: u64, sd: f64) -> Vec<PileLog> {
    let mut r = R(seed * 7919);
    let shared = r.n() * sd / 2.0;
    pile.logs.iter().map(|of| {
        let d = shared + r.n() * sd;
        let t = r.n() * sd / 2.0;
        let len = r.n() * 1.0;
        let small = of.log.small_end().inches_f64() + d;
        let butt = (of.log.butt().inches_f64() + d + t).max(small);
        let l = of.log.length().inches_f64() + len;
        let log = Log::new(Length::from_inches_f64(small), Length::from_inches_f64(butt), Length::from_inches_f64(l), of.log.bark_small(), of.log.bark_butt()).unwrap();
        PileLog { log, menu: of.menu }
    }).collect()
}
fn cpu() -> f64 {
    let text = std::fs::read_to_string("/proc/self/stat").unwrap();
    let f: Vec<&str> = text.rsplit(')').next().unwrap().split_whitespace().collect();
    (f[11].parse::<f64>().unwrap() + f[12].parse::<f64>().unwrap()) * 10.0
}
fn main() {
    let job = pithward_job::read_job(std::path::Path::new("data/jobs/farmyard.toml"), "JOB").unwrap();
    let pile = job.pile();
    let args: Vec<f64> = std::env::args().skip(1).map(|a| a.parse().unwrap()).collect();
    let (sd, teach, test, real) = (args[0], args[1] as u64, args[2] as u64, args[3] as u64);
    let logs = |seed: u64| -> Vec<Log> { vary(&pile, seed, sd).into_iter().map(|of| of.log).collect() };
    let start = cpu();
    let keep = |_: &PileLog, plan: &LogPlan| plan.order.pieces.len();
    let mut again = Again::new(&pile, &keep).unwrap();
    println!("new {:.0} ms, {} searches", cpu() - start, again.searches());
    let start = cpu();
    let piles: Vec<Vec<Log>> = (0..teach).map(|n| logs(2000 + n)).collect();
    let refs: Vec<&Vec<Log>> = piles.iter().collect();
    again.teach(&refs);
    println!("teach {teach}: {:.0} ms, {} searches, {} patterns", cpu() - start, again.searches(), again.patterns());
    let start = cpu();
    let plans: Vec<_> = (0..test).map(|n| again.plan(&logs(n), &[])).collect();
    println!("plan {test}: {:.0} ms", cpu() - start);
    let start = cpu();
    let again_plans: Vec<_> = (0..test).map(|n| again.plan(&logs(n), &[])).collect();
    println!("plan {test} once more: {:.0} ms", cpu() - start);
    assert!(plans.iter().zip(&again_plans).all(|(a, b)| a.worth == b.worth));
    let (mut sums, mut bf, mut off) = ((0.0, 0.0), (0.0, 0.0), 0u32);
    for n in 0..real {
        let of = vary(&pile, n, sd);
        let real = plan_pile(&Pile { logs: of, ..pile.clone() }, &()).unwrap();
        let plan = &plans[n as usize];
        sums.0 += plan.worth as f64; sums.1 += real.worth as f64;
        bf.0 += plan.board_feet as f64; bf.1 += real.board_feet as f64;
        off += plan.tally.iter().zip(&real.tally).map(|(a, b)| a.given.abs_diff(b.given)).sum::<u32>();
    }
    println!("{real} piles: worth {:.4}, board feet {:.4}, counts off by {off} in all", sums.0 / sums.1, bf.0 / bf.1);
}
