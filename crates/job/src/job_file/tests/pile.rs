//! What a job becomes in the numbers that the search needs.

use super::{SMALL, job, with};
use crate::log_job::PieceWorth;
use crate::pile_job::PileJob;
use crate::typed::{Switch, Typed};
use crate::{LogRequest, NeedRequest, OpenRequest};
use pithward_measure::Length;
use pithward_optimizer::{Effort, Taper, Want, WantId};

/// Every log's own wants are its menu, to the last number.
#[track_caller]
fn cards_agree(job: &PileJob) {
    let pile = job.pile();
    for (n, log) in pile.logs.iter().enumerate() {
        let card = job.log_job(n);
        let menu = &pile.menus[log.menu];
        assert_eq!(card.log, log.log);
        assert_eq!(&card.optimizer_wants(), menu);
        for (want, wanted) in menu.iter().enumerate() {
            for cut in 0..wanted.cuts.len() {
                let id = pithward_optimizer::CutId { want: WantId(want), cut };
                let size = card.named_size(id).unwrap();
                assert_eq!(size.length, Some(wanted.cuts[cut].length));
            }
        }
    }
    for (n, demand) in pile.demands.iter().enumerate() {
        for menu in &pile.menus {
            assert_eq!(menu[n].count, demand.count);
            assert!(menu[n].cuts.iter().all(|cut| cut.extra <= cut.worth));
        }
    }
}

fn worth(want: &Want) -> Vec<(i64, i64)> {
    want.cuts.iter().map(|cut| (cut.worth, cut.extra)).collect()
}

#[test]
fn one_menu_for_each_wood_in_the_order_of_the_logs() {
    let text = with("count = 4", "count = 4\nspecies = \"eastern white pine\"");
    let job = job(&text);
    let pile = job.pile();
    assert_eq!(pile.logs.iter().map(|log| log.menu).collect::<Vec<_>>(), [0, 1]);
    assert_eq!(pile.menus.len(), 2);
    // The oak is not accepted by the first want, and serves the second.
    assert!(pile.menus[0][0].cuts.is_empty() && !pile.menus[0][1].cuts.is_empty());
    assert_eq!(pile.menus[1][0].cuts.len(), 1);
    assert!(!job.log_job(0).wants[0].accepted && job.log_job(1).wants[0].accepted);
    // Usual lengths up to the longest log, and the same for all woods.
    let lengths: Vec<Length> = pile.menus[1][1].cuts.iter().map(|cut| cut.length).collect();
    assert_eq!(lengths, (6..=12).map(Length::feet).collect::<Vec<_>>());
    cards_agree(&job);
    // A log without a species serves only wants that take any.
    let unnamed = text.replacen("species = \"white oak\"\n", "", 1);
    assert!(super::job(&unnamed).pile().menus[0][0].cuts.is_empty());
}

#[test]
fn without_any_worth_a_board_foot_is_worth_one() {
    let pile = job(SMALL).pile();
    assert_eq!(job(SMALL).worth.unit, "board feet");
    // 8 board feet, and nine times that because it is the only counted want.
    assert_eq!(worth(&pile.menus[0][0]), [(80_000_000, 0)]);
    assert_eq!((pile.demands[0].first, pile.demands[1].first), (72_000_000, 0));
    assert_eq!(worth(&pile.menus[0][1])[0], (3_000_000, 3_000_000));
    assert_eq!(pile.effort, Effort::default());
}

#[test]
fn worth_by_the_piece_by_the_board_foot_and_beyond_the_count() {
    let terms = "[worth]\nunit = \"dollars\"\nboard_foot = 0.60\nhour = 45\nturn_seconds = 90\n";
    let with = |lines: &str| {
        let text = with("count = 4", &format!("count = 4\n{lines}"));
        job(&format!("{text}{terms}"))
    };
    let plain = with("");
    assert_eq!(worth(&plain.pile().menus[0][0]), [(48_000_000, 0)]);
    assert_eq!(plain.pile().effort, Effort { pass: 750_000, turn: 1_125_000 });
    for (lines, expected) in [
        ("worth = \"3.50 each\"", (35_000_000, 0)),
        ("worth = \"3.50 each\"\nextra = \"welcome\"", (35_000_000, 3_500_000)),
        ("worth = \"0.80 per bf\"\nextra = \"2.00 each\"", (64_000_000, 2_000_000)),
        ("extra = \"0.40 per bf\"", (48_000_000, 3_200_000)),
        ("extra = \"0 each\"", (48_000_000, 0)),
        ("extra = \"no\"", (48_000_000, 0)),
    ] {
        let job = with(lines);
        assert_eq!(worth(&job.pile().menus[0][0]), [expected], "{lines}");
        cards_agree(&job);
    }
    assert_eq!(with("extra = \"0 each\"").wants[0].extra, None);
    assert_eq!(with("extra = \"welcome\"").wants[0].extra, Some(PieceWorth::BoardFoot(600_000)));
}

#[test]
fn the_list_comes_first_in_its_order() {
    let text = format!("{SMALL}count = 10\n[[wants]]\nsize = \"6x6x10\"\ncount = 2\n");
    let job = job(&text);
    let firsts: Vec<i64> = job.wants.iter().map(|want| want.first).collect();
    // 30 board feet at the end; a 1x6 of 12 ft has 6, a 2x6x8 has 8.
    assert_eq!(firsts, [4 * 270_000_000, 2 * 270_000_000, 270_000_000]);
    cards_agree(&job);
}

#[test]
fn random_widths_run_up_to_the_thickest_log_of_the_wood() {
    let text = format!("{SMALL}[[wants]]\nsize = \"4/4x6up\"\nlengths = \"8\"\n");
    let text = text.replace("eastern white pine", "white oak");
    let job = job(&text);
    let pile = job.pile();
    assert_eq!(pile.menus.len(), 1);
    // 6 in to 16 in, the thicker log's butt, for the thinner log as well.
    assert_eq!(pile.menus[0][2].cuts.len(), 11);
    assert_eq!(job.log_job(1).widest, Length::inches(16));
    cards_agree(&job);
}

#[test]
fn finished_sizes_go_by_the_wood() {
    let sawing = "[sawing]\nsizes = \"finished\"\nfinal_moisture = 8\nplaning = \"1/8 in\"\n\
        sawing_deviation = \"1/32 in\"\nundersize = \"5 %\"\ntrim = \"2 in\"\ntolerance = \"1/8 in\"\n\
        methods = [\"boxed\", \"through\"]\ntaper = \"search\"\n";
    let job = job(&format!("{SMALL}{sawing}"));
    let pile = job.pile();
    let [oak, pine] = [0, 1].map(|menu| pile.menus[menu][0].cuts[0]);
    assert!(oak.width > pine.width && pine.width > Length::inches(6));
    assert_eq!(oak.take, Length::inches(98));
    assert_eq!(
        (pile.settings.methods.len(), pile.settings.tolerance, pile.settings.taper),
        (2, Length::sixty_fourths(8), Taper::Searched)
    );
    cards_agree(&job);
}

#[test]
fn one_size_is_counted_over_the_pile() {
    let job = job(&format!("{SMALL}[worth]\nunit = \"pounds\"\nboard_foot = 1\nhour = 30\n"));
    let count = |size: &str| job.counting_job(&Typed::new("SIZE", Some(size.to_owned())));
    let counted = count("2x6x8").unwrap();
    let pile = counted.pile();
    assert_eq!((pile.logs.len(), pile.menus.len(), pile.effort), (2, 2, Effort::default()));
    for menu in &pile.menus {
        assert_eq!((menu.len(), menu[0].count), (1, None));
        assert_eq!(worth(&menu[0]), [(1_000_000, 1_000_000)]);
    }
    assert_eq!(pile.demands[0].first, 0);
    cards_agree(&counted);
    let said = |size: &str| count(size).unwrap_err()[0].to_string();
    assert_eq!(said("2x6"), "SIZE: \"2x6\" has no length, and the logs are of many lengths");
    assert!(said("2x6x8=4").contains("has a count"));
    assert!(said("4/4x6upx8").contains("no one width"));
    assert!(said("2xx").contains("is not a size"));
    assert!(said("2x6x8,wane=1 in").contains("wane must be under half"));
    assert_eq!(
        job.counting_job(&Typed::new("SIZE", None)).unwrap_err()[0].to_string(),
        "SIZE is missing"
    );
    // Logs that are all of one length, and a job that names lengths.
    let alike = super::job(&SMALL.replace("12 ft 4 in", "10 ft 2 in"));
    let counted = alike.counting_job(&Typed::new("SIZE", Some("2x6".to_owned()))).unwrap();
    assert_eq!(counted.wants[0].lengths, [Length::feet(10)]);
    let named = super::job(&format!("{SMALL}[sawing]\nlengths = [8, 10]\n"));
    let counted = named.counting_job(&Typed::new("SIZE", Some("2x6".to_owned()))).unwrap();
    assert_eq!(counted.wants[0].lengths, [8, 10].map(Length::feet));
}

fn kind(small_end: &str, butt: Option<&str>, length: &str, species: Option<&str>) -> LogRequest {
    let typed = |name, text: Option<&str>| Typed::new(name, text.map(str::to_owned));
    LogRequest {
        small_end: typed("--small", Some(small_end)),
        butt: typed("--butt", butt),
        length: typed("--length", Some(length)),
        species: typed("--species", species),
        bark: typed("--bark", None),
        over_bark: Switch { name: "--over-bark", on: false },
        trim: typed("--trim", None),
        as_grown: crate::AsGrown::nothing(),
        files: crate::Files::OnDisk,
    }
}

#[test]
fn logs_of_one_kind_for_a_list_that_was_typed() {
    let sawing = |butt| {
        let mut open = OpenRequest::new("14", "16", "8 ft", &[]).sawing;
        open.log = kind("14", butt, "8 ft", None);
        open
    };
    let wants = |texts: &[&str]| crate::TypedList {
        name: "--want",
        texts: texts.iter().map(|text| (*text).to_owned()).collect(),
    };
    let request =
        NeedRequest { sawing: sawing(None), wants: wants(&["2x6x8=40", "1x6=4+", "1x4"]) };
    let need = request.into_job().unwrap();
    assert!(need.tapered && need.left_out.is_empty());
    // 1 in in 8 ft.
    assert_eq!(need.pile.logs[0].log.butt(), Length::inches(15));
    assert_eq!(
        need.pile.demands.iter().map(|d| d.count).collect::<Vec<_>>(),
        [Some(40), Some(4), None]
    );
    assert!(need.pile.menus[0][1].cuts[0].extra > 0 && need.pile.menus[0][0].cuts[0].extra == 0);
    cards_agree(&need.job);
    let given = NeedRequest { sawing: sawing(Some("17")), wants: wants(&["2x6x8=40"]) };
    let given = given.into_job().unwrap();
    assert!(!given.tapered && given.pile.logs[0].log.butt() == Length::inches(17));
    let none = NeedRequest { sawing: sawing(None), wants: wants(&["1x6", "1x4"]) };
    assert_eq!(
        none.into_job().unwrap_err()[0].to_string(),
        "--want: no want has a count, and logs are counted for counts alone"
    );
    let wrong = NeedRequest { sawing: sawing(Some("12")), wants: wants(&["2x6x8=0"]) };
    assert_eq!(wrong.into_job().unwrap_err().len(), 2);
}

#[test]
fn logs_of_one_kind_for_the_list_of_a_job() {
    let pine = "count = 4\nspecies = \"eastern white pine\"";
    let job = job(&format!("{}[sawing]\ntrim = \"3 in\"\n", with("count = 4", pine)));
    let need = job.needing(&kind("12", None, "16 ft 6 in", Some("eastern white pine"))).unwrap();
    assert!(need.tapered && need.left_out.is_empty() && need.job.logs.len() == 1);
    // What nobody named the length of is taken as long as the kind gives it.
    assert_eq!(need.job.wants[1].lengths.last(), Some(&Length::feet(16)));
    assert_eq!(need.pile.menus[0][0].cuts[0].take, Length::inches(99));
    cards_agree(&need.job);
    let said = |kind: &LogRequest| {
        let faults = job.needing(kind).unwrap_err();
        faults.iter().map(ToString::to_string).collect::<Vec<_>>()
    };
    let oak = kind("12", None, "16 ft", Some("white oak"));
    assert_eq!(said(&oak), ["--species: no want that has a count accepts this wood"]);
    assert_eq!(said(&kind("12 fot", Some("9"), "16 ft", Some("pin"))).len(), 2);
    let open = super::job(SMALL.replace("count = 4\n", "").as_str());
    let faults = open.needing(&oak).unwrap_err();
    assert!(faults[0].to_string().contains("no want has a count"), "{}", faults[0]);
    // A line for another wood is left out.
    let text = SMALL.replace("size = \"1x6\"", "size = \"1x6\"\nspecies = \"white oak\"");
    let need = super::job(&text).needing(&kind("12", None, "12 ft", None)).unwrap();
    assert_eq!((need.job.wants.len(), need.left_out.len()), (1, 1));
}
