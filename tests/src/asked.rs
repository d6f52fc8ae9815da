//! Random jobs and requests as people write them, each made from one number.

use crate::random::Random;

/// The ways in which a random log is grown.
const SHAPES: [&str; 5] = ["round", "oval", "bowed", "flared", "flawed"];

/// A random job file of so many logs, of all kinds but those of a scan, and its list.
pub fn job(number: u64, logs: usize) -> String {
    let mut random = Random::new(number);
    let mut text = String::from(
        "site = \"an invented yard\"\nnotes = \"seed <&> \\\"\"\n[worth]\nunit = \"dollars\"\n[sawing]\ntrim = \"2 in\"\n",
    );
    match random.within(0, 5) {
        0 => text += "methods = [\"around\"]\n",
        1 => text += "methods = [\"boxed\", \"through\"]\n",
        2 => text += "methods = [\"quarter\"]\n",
        _ => {}
    }
    for n in 1..=logs {
        text += &log(&mut random, n);
    }
    let counted = random.within(1, 4);
    text += &format!(
        "[[wants]]\nsize = \"2x6x6\"\ncount = {counted}\nextra = \"0.5 per bf\"\nworth = \"1 per bf\"\n"
    );
    text += "[[wants]]\nsize = \"1x4\"\nlengths = \"4/6/8\"\nworth = \"0.8 per bf\"\n";
    if random.one_in(2) {
        text +=
            "[[wants]]\nsize = \"4x4x8\"\ncount = 1\nheart = \"boxed\"\nworth = \"1.5 per bf\"\n";
    }
    if random.one_in(3) {
        text += "[[wants]]\nsize = \"1x6\"\nlengths = \"6\"\nrings = [\"quarter\", \"rift\"]\nworth = \"2 per bf\"\n";
    }
    text
}

fn log(random: &mut Random, n: usize) -> String {
    let small = random.within(28, 60);
    let butt = small + random.within(0, 12);
    let feet = random.within(6, 9);
    let quarters = |figure: i64| format!("{} {}/4 in", figure / 4, figure % 4);
    let mut text = format!("[[logs]]\nid = \"L{n}\"\nlength = \"{feet} ft 4 in\"\n");
    if random.one_in(2) {
        text += "species = \"white oak\"\n";
    }
    match random.pick(&SHAPES) {
        "oval" => {
            text += &format!(
                "small_end = [\"{}\", \"{}\"]\nbutt = \"{}\"\nlong_axis = \"{} o'clock\"\n",
                quarters(small),
                quarters(small - random.within(2, 8)),
                quarters(butt),
                random.within(1, 12)
            );
            return text;
        }
        "bowed" => {
            let (depth, toward) = (random.within(2, 7), random.within(1, 12));
            text +=
                &format!("sweep = {{ depth = \"{depth}/4 in\", toward = \"{toward} o'clock\" }}\n");
        }
        "flared" => text += "flare = { extra = \"3 in\", length = \"18 in\" }\n",
        "flawed" => {
            text += "flaws = [\"rot radius 1 in from butt length 2 ft\"]\n";
            text += "knots = [\"2:30 3 ft 2 in 2 in\"]\n";
        }
        _ => {}
    }
    text + &format!("small_end = \"{}\"\nbutt = \"{}\"\n", quarters(small), quarters(butt))
}
