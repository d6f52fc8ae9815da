//! A job of many logs to be drawn: invented, the same in every run.

use crate::yard::Random;
use std::fmt::Write as _;

/// A job file of so many logs in eight shapes and sizes, measured in eighths, so that few are alike.
pub fn job_of(logs: usize) -> String {
    let mut random = Random(8);
    let mut text = String::from(
        "site = \"an invented yard\"\n[worth]\nunit = \"dollars\"\n[sawing]\ntrim = \"2 in\"\n",
    );
    for n in 1..=logs {
        let small = random.within(8 * 10, 8 * 18);
        let butt = small + random.within(4, 20);
        let feet = [8, 10, 12][n % 3];
        let eighths = |figure: i64| format!("{} {}/8 in", figure / 8, figure % 8);
        let _ = write!(text, "[[logs]]\nid = \"{n}\"\nlength = \"{feet} ft 4 in\"\n");
        let _ = write!(text, "small_end = \"{}\"\nbutt = \"{}\"\n", eighths(small), eighths(butt));
        if n % 8 == 0 {
            let toward = 1 + n % 12;
            let _ = writeln!(text, "sweep = {{ depth = \"1 in\", toward = \"{toward} o'clock\" }}");
        }
    }
    for (size, count) in [("6x6x8", logs / 4), ("2x8x12", logs), ("2x6x10", logs)] {
        let _ = write!(
            text,
            "[[wants]]\nsize = \"{size}\"\ncount = {}\nextra = \"0.9 per bf\"\nworth = \"1 per bf\"\n",
            count.max(1)
        );
    }
    text + "[[wants]]\nsize = \"1x6\"\nworth = \"0.8 per bf\"\n[[wants]]\nsize = \"1x4\"\nworth = \"0.7 per bf\"\n"
}
