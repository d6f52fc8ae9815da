//! Through and through and one cant on a round section, against a public set whose best values are proven.
//!
//! Source: `data/benchmarks/roundlog` and `roundlog_known.csv`; each value was proven by a dynamic program and by a
//! general constraint solver (CP-SAT) that share no code with this one.
//!
//! # Where the set's rules differ from ours
//! * Its planes lie on whole units, 0 at the lowest point of the circle; ours anywhere. So ours may only be worth
//!   more.
//! * It floors the usable width to whole units. That changes nothing: sizes and kerf are whole.
//! * Its cant is as high as one wanted width and holds only boards of that width, within a rectangle; ours may be as
//!   high as a sum of widths, and its planks may be ripped and follow the round. So ours may only be worth more.
//! * Neither turns a piece of these sizes: those that we would turn (both sides 3 in or more) are square here.
//! * In the set a corner may lie on the circle itself; ours keeps a nanometre from the edge of the wood, so its log is
//!   made [`EDGE`] thicker.
//!
//! What ours is worth is bounded from above by `pithward_tests::dense`, read leniently.

use pithward_measure::Length;
use pithward_optimizer::{Answer, Method, Settings, open};
use pithward_tests::dense::{Reading, Section, Size};
use pithward_tests::{cylinder, roomy_mill, table, want};

/// One instance of the set and its units per inch.
fn instance(name: &str) -> Section {
    let text = table::text(&format!("roundlog/{name}.txt"));
    let mut rows = text.lines().map(|line| -> Vec<i64> {
        line.split_whitespace().map(|field| field.parse().expect("whole numbers")).collect()
    });
    let head = rows.next().expect("a first line");
    let sizes: Vec<Size> =
        rows.map(|row| Size { thickness: row[0], width: row[1], value: row[2] }).collect();
    assert_eq!(
        sizes.len(),
        usize::try_from(head[2]).expect("a count"),
        "{name}: as many sizes as it says"
    );
    Section { diameter: head[0], kerf: head[1], sizes }
}

/// What a corner on the very edge of the wood needs, in diameter.
const EDGE: Length = Length::nm(4);

/// What we make of an instance: the worth of a method.
fn ours(section: &Section, unit: i64, method: Method) -> i64 {
    let inches = |units: i64| Length::sixty_fourths(64 / unit * units);
    let length = Length::feet(8);
    let wants: Vec<_> = section
        .sizes
        .iter()
        .map(|size| {
            let mut want = want(inches(size.thickness), inches(size.width), length);
            (want.cuts[0].worth, want.cuts[0].extra) = (size.value, size.value);
            want
        })
        .collect();
    let mill = roomy_mill(inches(section.kerf));
    let settings = Settings { methods: vec![method], ..Settings::all(&mill) };
    match open(&cylinder(inches(section.diameter) + EDGE, length), &mill, &wants, &settings) {
        Ok(Answer::Planned(planned)) => planned.plan.worth,
        answer => panic!("{answer:?}"),
    }
}

#[test]
fn the_published_set_is_reached_and_no_bound_is_passed() {
    let (mut through_better, mut cant_better, mut pinned) = (0, 0, 0);
    let rows = table::rows("roundlog_known.csv");
    assert_eq!(rows.len(), 20, "the whole set");
    for row in rows {
        let (name, unit) = (&row[0], row[1].parse::<i64>().unwrap());
        let [through, one_cant] = [&row[2], &row[3]].map(|field| field.parse::<i64>().unwrap());
        let section = instance(name);

        // The grid search of these tests, by the set's own rules: it must prove what is published.
        assert_eq!(
            section.through(Reading::Strict),
            through,
            "{name}: through and through on the grid"
        );
        assert_eq!(section.cant_of_one_width(), one_cant, "{name}: with one cant on the grid");

        // A finer grid bounds closer; the coarse set takes it easily.
        let fine = section.finer(if unit < 32 { 8 } else { 2 });
        let ours_through = ours(&section, unit, Method::ThroughTurned);
        let most = fine.through(Reading::Lenient);
        assert!(
            ours_through >= through,
            "{name}: through and through {ours_through}, published {through}"
        );
        assert!(
            ours_through <= most,
            "{name}: through and through {ours_through}, no plan is worth over {most}"
        );

        let ours_cant = ours(&section, unit, Method::FourSidedCant);
        let coarse = section.finer(if unit < 32 { 2 } else { 1 });
        let most_cant = coarse.cant(Reading::Lenient, true).max(most);
        assert!(
            ours_cant.max(ours_through) >= one_cant,
            "{name}: with one cant {ours_cant}, published {one_cant}"
        );
        assert!(
            ours_cant <= most_cant,
            "{name}: with one cant {ours_cant}, no plan is worth over {most_cant}"
        );

        through_better += usize::from(ours_through > through);
        cant_better += usize::from(ours_cant > one_cant);
        pinned += usize::from(ours_through == most);
        println!(
            "{name}: through and through {ours_through} (published {through}, at most {most}); \
             with one cant {ours_cant} (published {one_cant}, at most {most_cant})"
        );
    }
    println!(
        "planes off the grid are worth more in {through_better} of 20, cants in {cant_better} of 20; \
         {pinned} of 20 meet their upper bound through and through"
    );
    assert!(through_better > 0 && pinned > 10);
}
