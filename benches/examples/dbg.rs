//! Dbg.
use pithward_benches::*;
use pithward_geometry::*;
use pithward_optimizer::*;
fn main() {
    let log = log(12, 12);
    let mill = mill();
    let wants = vec![want(2, 6, &[12], None)];
    match open(&log, &mill, &wants, &Settings{methods: vec![Method::Through], ..Settings::all(&mill)}) { Ok(Answer::Planned(p)) => println!("{:#?}", p.plan.order), Ok(o) => println!("{o:?}"), Err(e) => println!("{e}") }
    let _ = Body::whole(&log);
}
