//! Wants by grade and by rings, and what is paid by grade.

use super::{SMALL, job, parse, told};
use crate::log_job::PieceWorth;
use pithward_measure::Length;
use pithward_trade::{Grade, RingClass, RingConvention, Species};

const OAK_FACES: &str = include_str!("../../../../../data/jobs/oak-faces.toml");

/// The small job with prices and a unit, and more lines below its last want.
fn priced(lines: &str) -> String {
    let prices = "[worth]\nunit = \"dollars\"\nboard_foot = 0.5\n[[prices]]\nspecies = \"white oak\"\nfas = 2.00\n1_common = 1.2\nbelow = 0\n[[prices]]\nthickness = \"4/4\"\nbelow = 0.3\n";
    format!("{prices}{SMALL}{lines}\n")
}

#[test]
fn a_want_says_its_grade_its_rings_and_that_it_is_paid_by_grade() {
    let job = job(&priced(
        "grade = \"No. 1 Common\"\nrings = [\"rift\", \"quarter\"]\nworth = \"by grade\"\n[sawing]\nring_convention = \"hardwood\"",
    ));
    let oak = Species::find("white oak").ok();
    let want = &job.wants[1];
    assert_eq!(want.grade.least, Some(Grade::No1Common));
    assert_eq!(want.grade.rings, [RingClass::Rift, RingClass::Quarter]);
    let of_oak = job.want_grade(want, oak);
    assert_eq!(of_oak.convention, RingConvention::Hardwood);
    let prices = of_oak.prices.unwrap();
    let of = |grade| prices.of(grade);
    assert_eq!(of(Some(Grade::Fas)), 2_000_000);
    assert_eq!(
        (of(Some(Grade::Selects)), of(Some(Grade::No2ACommon)), of(None)),
        (1_200_000, 0, 0)
    );
    // Of every other wood an inch thick.
    let of_pine = job.want_grade(want, Species::find("eastern white pine").ok()).prices.unwrap();
    assert_eq!(of_pine.of(Some(Grade::Fas)), 300_000);
    // Without a search by grade it is worth what the poorest board of it is, of the poorest wood.
    assert_eq!(want.worth, PieceWorth::BoardFoot(300_000));
    assert_eq!(job.log_job(0).wants[1].weight.worth, PieceWorth::BoardFoot(1_200_000));
    assert_eq!(job.log_job(0).wants[1].grade, of_oak);
    // The other want is paid as ever, and nothing is asked of it.
    assert!(job.log_job(0).wants[0].grade.is_nothing());
    assert_eq!(job.wants[0].worth, PieceWorth::BoardFoot(500_000));
}

#[test]
fn every_fault_of_grades_and_prices_at_once() {
    let text = priced("grade = \"2 common\"\nrings = \"rift\"\nworth = \"by grade\"\nextra = \"0.2 each\"\ncount = 3\n[sawing]\nring_convention = \"halves\"")
        .replace("fas = 2.00", "fas = 1.00\nselect = 1")
        .replace("below = 0.3", "below = \"x\"");
    let found = told(&parse(&text).unwrap_err());
    for (n, said) in [
        "[select] \"select\" is no field of a row of prices; perhaps selects?",
        "[1.00] fas must not be less than what No. 1 Common is worth, and FAS would be at \"1.00\"",
        "[\"x\"] below: \"x\" is no amount",
        "[\"2 common\"] grade: \"2 common\" is no hardwood grade",
        "[\"rift\"] rings: rift is no class where rings are told by halves",
        "[\"0.2 each\"] extra says what pieces beyond the count are worth, and the want is paid by grade",
    ]
    .iter()
    .enumerate()
    {
        assert_eq!(found.len(), 6, "{found:#?}");
        assert!(found.iter().any(|fault| fault.contains(said)), "{n} {said}: {found:#?}");
    }
}

#[test]
fn a_want_that_is_paid_by_grade_has_its_prices() {
    let text = priced("worth = \"by grade\"").replace("thickness = \"4/4\"", "thickness = \"8/4\"");
    let found = told(&parse(&text).unwrap_err());
    assert_eq!(found.len(), 1, "{found:#?}");
    assert!(found[0].ends_with(
        "[\"by grade\"] worth is paid by grade, and no row of [[prices]] is for \"1\" of Pine, eastern white"
    ), "{found:#?}");
    let below = priced("worth = \"by grade\"").replace("below = 0\n", "");
    let found = told(&parse(&below).unwrap_err());
    assert!(found.iter().any(|fault| fault.contains("below is missing")), "{found:#?}");
}

#[test]
fn the_invented_job_for_grade_is_read() {
    let job = job(OAK_FACES);
    assert!(OAK_FACES.contains("Invented") && job.logs.len() == 7);
    assert!(job.logs.iter().all(|log| !log.log.defects().is_empty()));
    let oak = Species::find("white oak").ok();
    let thick = job.prices.of(Length::inches(2), oak).unwrap();
    assert_eq!(thick.of(Some(Grade::Fas)), 3_700_000);
    assert!(job.wants.iter().any(|want| want.grade.rings == [RingClass::Quarter]));
}
