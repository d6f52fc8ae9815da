//! Shows one random case and its answer: `cargo run -p pithward-tests --example case -- 157`.

use pithward_optimizer::{Settings, open};
use pithward_tests::random::Case;

#[allow(clippy::print_stdout, reason = "a program whose result is its standard output")]
fn main() {
    for number in std::env::args().skip(1) {
        let case = Case::new(number.parse().expect("the number of a case"));
        println!("{case:#?}");
        println!("{:#?}", open(&case.log, &case.mill, &case.wants, &Settings::all(&case.mill)));
    }
}
