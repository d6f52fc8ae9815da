//! Random logs.
use pithward_benches::*;
use pithward_measure::Length;
use pithward_geometry::*;
use pithward_optimizer::*;
fn main() {
    let mut seed = 12345u64;
    let mut rnd = |n: u64| { seed ^= seed << 13; seed ^= seed >> 7; seed ^= seed << 17; (seed >> 11) % n };
    let n: u64 = std::env::args().nth(1).unwrap().parse().unwrap();
    let (mut bad, mut gaps, mut imposs) = (0, 0, 0);
    let mut slow = (0.0, String::new());
    let only = std::env::args().nth(2).map(|a| a.parse::<u64>().unwrap());
    for i in 0..n {
        let small = Length::sixty_fourths(64 * 4 + rnd(64 * 14) as i64);
        let butt = small + Length::sixty_fourths(rnd(64 * 3) as i64);
        let len = Length::sixty_fourths(64 * 12 * 6 + rnd(64 * 12 * 10) as i64);
        let bark = Length::sixty_fourths(rnd(64) as i64);
        let log = Log::new(small, butt, len, bark, bark).unwrap();
        let mut mill = mill();
        mill.kerf = Length::nm(1_000_000 + rnd(3_000_000) as i64);
        mill.step = [Length::sixty_fourths(4), Length::sixty_fourths(2), Length::mm(1)][rnd(3) as usize];
        mill.widest_cut = Length::inches(12 + rnd(20) as i64);
        mill.deepest_above = Length::inches(4 + rnd(12) as i64);
        let mut wants = vec![];
        for _ in 0..1 + rnd(4) {
            let (t, w) = [(1, 4), (1, 6), (1, 8), (2, 4), (2, 6), (2, 8), (4, 4), (6, 6), (6,8)][rnd(9) as usize];
            let lens: Vec<i64> = (0..1 + rnd(3)).map(|_| 4 + rnd(10) as i64).collect();
            let mut lens = lens; lens.sort(); lens.dedup();
            let c = if rnd(3) == 0 { Some(1 + rnd(5) as u32) } else { None };
            let mut w = want(t, w, &lens, c);
            let leg = [0, 0, 8, 16][rnd(4) as usize];
            w.wane = pithward_trade::Wane { thickness: Length::sixty_fourths(leg), width: Length::sixty_fourths(leg) };
            wants.push(w);
        }
        let s = Settings::all(&mill);
        if only.is_some_and(|o| o != i) { continue; }
        let t = std::time::Instant::now();
        match open(&log, &mill, &wants, &s) {
            Ok(Answer::Planned(p)) => { if p.proof.worth_bound > p.plan.worth { gaps += 1; if gaps < 20 { println!("gap {i} {} {} rel {:.4} counts {:?}", p.plan.worth, p.proof.worth_bound, 1.0 - p.plan.worth as f64 / p.proof.worth_bound as f64, wants.iter().map(|w| w.count).collect::<Vec<_>>()); } } }
            Ok(Answer::Impossible(_)) => imposs += 1,
            Err(e) => { bad += 1; if bad < 10 { println!("{i} {e} kerf {:?} step {:?} {log:?} {:?}", mill.kerf, mill.step, wants.iter().map(|w| (w.cuts[0].thickness, w.cuts[0].width, w.wane.width, w.count, w.cuts.iter().map(|c| c.length.feet_f64()).collect::<Vec<_>>())).collect::<Vec<_>>()); } }
        }
        let dt = t.elapsed().as_secs_f64();
        if dt > slow.0 { slow = (dt, format!("{i} {log:?} {:?}", wants.iter().map(|w| (w.cuts[0].thickness, w.cuts[0].width, w.count, w.cuts.len())).collect::<Vec<_>>())); }
    }
    println!("n {n} bad {bad} gaps {gaps} imposs {imposs} slow {slow:?}");
}
