use pithward_optimizer::*;
use pithward_tests::random::Case;
fn main() {
    let mut kinds = std::collections::BTreeMap::<String, usize>::new();
    let a: Vec<u64> = std::env::args().skip(1).map(|a| a.parse().unwrap()).collect();
    if a.len() == 2 {
        for n in a[0]..a[1] {
            let c = Case::new(n);
            if let Ok(Answer::Impossible(o)) =
                open(&c.log, &c.mill, &c.wants, &Settings::all(&c.mill))
            {
                let mut k: Vec<String> = o
                    .iter()
                    .map(|o| {
                        format!("{o:?}")
                            .chars()
                            .take_while(|c| c.is_alphabetic())
                            .collect::<String>()
                            + &if let Obstacle::NoPiece { why, .. } = o {
                                format!("{why:?}")
                                    .chars()
                                    .take_while(|c| c.is_alphabetic())
                                    .collect()
                            } else {
                                String::new()
                            }
                    })
                    .collect();
                k.sort();
                k.dedup();
                let fits = c
                    .wants
                    .iter()
                    .any(|w| w.cuts.iter().any(|x| pithward_tests::check::fits_at_all(&c, w, x)));
                let k = k.join(",") + if fits { " FITS" } else { "" };
                let e = kinds.entry(k.clone()).or_default();
                *e += 1;
                if *e < 4 && fits && !k.contains("TooL") && !k.contains("TooThick") {
                    println!("{n} {k}");
                }
            }
        }
        println!("{kinds:#?}");
    } else {
        let c = Case::new(a[0]);
        println!("{:?}\n{:?}\n{:#?}", c.log, c.mill, c.wants);
        println!("{:#?}", open(&c.log, &c.mill, &c.wants, &Settings::all(&c.mill)));
    }
}
