use super::{CountRequest, METHOD_WORDS, OpenRequest, PieceRules, SawingRequest, TAPER_WORDS};
use crate::fault::Fault;
use crate::log_job::MillSource;
use crate::log_request::tests::request as log;
use crate::size_policy::tests::request as policy;
use crate::typed::{Typed, TypedList, TypedPath};
use pithward_measure::{Length, Width};
use pithward_optimizer::{CutId, Method, Taper, WantId};
use pithward_trade::SizePolicy;
use proptest::prelude::*;

fn sawing(small_end: &str, butt: &str, length: &str) -> SawingRequest {
    SawingRequest {
        log: log(small_end, butt, length),
        mill: TypedPath { name: "--mill", path: None },
        policy: policy([None; 5]),
        lengths: Typed::new("--lengths", None),
        pieces: PieceRules::none(),
        tolerance: Typed::new("--tolerance", None),
        methods: TypedList { name: "--method", texts: Vec::new() },
        taper: Typed::new("--taper", None),
    }
}

fn open(wants: &[&str]) -> OpenRequest {
    OpenRequest {
        sawing: sawing("22 in", "24 1/2 in", "12 ft"),
        wants: TypedList { name: "--want", texts: wants.iter().map(|w| (*w).to_owned()).collect() },
    }
}

fn count(size: &str) -> CountRequest {
    let size = Typed::new("SIZE", Some(size.to_owned()));
    CountRequest { sawing: sawing("22 in", "24 1/2 in", "12 ft"), size }
}

fn said<T: std::fmt::Debug>(job: Result<T, Vec<Fault>>) -> Vec<String> {
    let faults = job.unwrap_err();
    assert!(faults.iter().all(|fault| !fault.help.is_empty()));
    faults.iter().map(Fault::to_string).collect()
}

#[test]
fn a_job_from_a_tape_and_a_list() {
    let mut request = open(&["2x8x12=6", "1x6"]);
    request.sawing.log.species.text = Some("white oak".to_owned());
    let job = request.into_job().unwrap();
    assert_eq!(job.mill_source, MillSource::Generic);
    assert_eq!(job.policy, SizePolicy::Full);
    assert_eq!((job.settings.tolerance, job.settings.methods.len()), (job.mill.step, 6));
    assert_eq!(job.wants[0].lengths, [Length::feet(12)]);
    assert_eq!(job.wants[1].lengths, [6, 7, 8, 9, 10, 11, 12].map(Length::feet));
    let wants = job.optimizer_wants();
    // 16 board feet, and ten times that within the count.
    let cut = wants[0].cuts[0];
    assert_eq!((cut.board_feet, cut.worth, cut.extra), (16_000_000, 160_000_000, 0));
    assert_eq!((wants[0].count, wants[1].count), (Some(6), None));
    let cut = wants[1].cuts[0];
    assert_eq!((cut.board_feet, cut.worth, cut.extra), (3_000_000, 3_000_000, 3_000_000));
    assert!(job.counting_wants().iter().flat_map(|w| &w.cuts).all(|cut| cut.worth == 1_000_000));
}

#[test]
fn lengths_come_from_the_size_the_want_the_request_or_the_log() {
    let mut request = open(&["2x6x10", "2x8,lengths=7/9", "1x6=4+", "25x150 mm"]);
    request.sawing.log.trim = Typed::new("--trim", Some("2 in".to_owned()));
    let job = request.clone().into_job().unwrap();
    assert_eq!(job.wants[1].lengths, [7, 9].map(Length::feet));
    assert_eq!(job.wants[2].lengths, [6, 7, 8, 9, 10, 11].map(Length::feet));
    assert_eq!(job.wants[3].lengths, [1800, 2100, 2400, 2700, 3000, 3300, 3600].map(Length::mm));
    let cut = job.optimizer_wants()[2].cuts[0];
    assert_eq!((cut.take, cut.extra), (Length::inches(74), cut.board_feet));
    request.sawing.lengths.text = Some("8/16".to_owned());
    let job = request.into_job().unwrap();
    assert_eq!(job.wants[0].lengths, [Length::feet(10)]);
    assert_eq!(job.wants[2].lengths, [8, 16].map(Length::feet));
    // A log that is shorter than any usual length still has one to say so.
    let mut short = open(&["1x6"]);
    short.sawing.log.length.text = Some("5 ft".to_owned());
    assert_eq!(short.into_job().unwrap().wants[0].lengths, [Length::feet(6)]);
}

#[test]
fn random_widths_up_to_the_butt() {
    let job = open(&["4/4x20up", "1x30up", "25x550up mm"]).into_job().unwrap();
    let widths = |want: usize| -> Vec<Length> {
        let wants = job.optimizer_wants();
        let all = wants[want].cuts.iter().filter(|cut| cut.length < Length::mm(1900));
        all.map(|cut| cut.width).collect()
    };
    assert_eq!(widths(0), [20, 21, 22, 23, 24].map(Length::inches));
    assert_eq!(widths(1), [Length::inches(30)]);
    assert_eq!(widths(2), [550, 575, 600].map(Length::mm));
    for (want, line) in job.optimizer_wants().iter().enumerate() {
        for (cut, sawn) in line.cuts.iter().enumerate() {
            let size = job.named_size(CutId { want: WantId(want), cut }).unwrap();
            assert_eq!((size.width, size.length), (Width::Exactly(sawn.width), Some(sawn.length)));
        }
        assert_eq!(job.named_size(CutId { want: WantId(want), cut: line.cuts.len() }), None);
    }
    // The standard lists 8, 10 and 12 in of boards, and no odd width between.
    let mut dressed = open(&["1x8up"]);
    dressed.sawing.policy = policy([Some("dressed"), None, None, None, None]);
    let job = dressed.into_job().unwrap();
    let cuts = &job.optimizer_wants()[0].cuts;
    assert!(cuts.iter().any(|cut| cut.board_feet == 5_000_000));
    assert!(cuts.iter().all(|cut| cut.width < Length::inches(24)));
}

#[test]
fn a_count_takes_the_full_length_and_one_size() {
    let mut request = count("2x6");
    request.sawing.log.length.text = Some("12 ft 9 in".to_owned());
    assert_eq!(request.into_job().unwrap().0.wants[0].lengths, [Length::feet(12)]);
    assert_eq!(count("2x6x8").into_job().unwrap().0.wants[0].lengths, [Length::feet(8)]);
    assert_eq!(
        said(count("4/4=6").into_job()),
        [
            "SIZE: \"4/4=6\" has a count, and here the most are counted that the log gives",
            "SIZE: \"4/4=6\" has no one width, so its pieces cannot be counted",
        ]
    );
    let size = Typed::new("SIZE", None);
    assert_eq!(said(CountRequest { size, ..count("") }.into_job()), ["SIZE is missing"]);
}

#[test]
fn every_fault_of_a_request_at_once() {
    let mut request = open(&["2x6x12=0", "2x6x12=8", "2x6x12", "2xx", "3x6,wane=2 in"]);
    request.sawing.log.small_end.text = Some("24 fot".to_owned());
    request.sawing.methods.texts = vec!["throgh".to_owned(), "boxed".to_owned()];
    request.sawing.tolerance.text = Some("1/64 in".to_owned());
    request.sawing.lengths.text = Some("8/900".to_owned());
    request.sawing.policy.planing.text = Some("1/8".to_owned());
    let said = said(request.into_job());
    let expected = [
        "--small: \"24 fot\" is not a length",
        "--want: a count must be a whole number between 1 and 10000, got \"0\"",
        "--want: \"2x6x12\" asks for the same as \"2x6x12=8\" before it",
        "--want: \"2xx\" is not a size",
        "--planing is only for finished sizes",
        "--lengths must be between 6 in and 100 ft, got \"900\"",
        "--method: \"throgh\" is no method; perhaps through?",
        "--tolerance must be between 1/16 in and 1/2 in, got \"1/64 in\"",
        "--want: wane must be under half of the piece: 2 in is not under half of 3 in",
    ];
    assert_eq!(said.len(), expected.len(), "{said:#?}");
    for (said, expected) in said.iter().zip(expected) {
        assert!(said.starts_with(expected), "{said}");
    }
    let wane = open(&["3x6,wane=2 in", "2x6,wane=1 in"]);
    let said = super::tests::said(wane.into_job());
    assert_eq!(said.len(), 2);
    assert!(said[0].contains("2 in is not under half of 3 in"), "{said:?}");
}

#[test]
fn a_size_without_a_target_is_told_once_and_a_missing_species_too() {
    let mut request = open(&["2x7", "50x150 mm"]);
    request.sawing.policy = policy([Some("dressed"), None, None, None, None]);
    let found = said(request.into_job());
    assert_eq!(found.len(), 2);
    assert!(found[0].contains("has no dressed size"), "{found:?}");
    let mut request = open(&["2x7", "1x6"]);
    let all = [Some("finished"), Some("8"), Some("1/8"), Some("1/32"), Some("5")];
    request.sawing.policy = policy(all);
    let found = said(request.clone().into_job());
    assert_eq!(found.len(), 1);
    assert!(found[0].starts_with("--species: a finished size needs the species"), "{found:?}");
    request.sawing.log.species.text = Some("nosuch".to_owned());
    assert_eq!(said(request.clone().into_job()).len(), 1);
    request.sawing.log.species.text = Some("white oak".to_owned());
    let job = request.into_job().unwrap();
    assert!(job.wants[1].target.thickness > Length::inches(1));
}

#[test]
fn the_taper_by_its_words() {
    let mut request = open(&["1x6"]);
    assert_eq!(request.clone().into_job().unwrap().settings.taper, Taper::Level);
    for (word, taper) in TAPER_WORDS {
        request.sawing.taper.text = Some(format!(" {word}"));
        assert_eq!(request.clone().into_job().unwrap().settings.taper, taper);
    }
    request.sawing.taper.text = Some("leval".to_owned());
    assert_eq!(
        said(request.into_job()),
        ["--taper: \"leval\" is no way to lay a taper; perhaps level?"]
    );
}

#[test]
fn methods_by_their_words() {
    assert_eq!(METHOD_WORDS.map(|(_, method)| method), Method::ALL);
    let mut request = open(&["1x6"]);
    request.sawing.methods.texts =
        vec!["boxed".to_owned(), "through".to_owned(), "boxed".to_owned()];
    let job = request.into_job().unwrap();
    assert_eq!(job.settings.methods, [Method::Through, Method::BoxedHeart]);
    assert_eq!(said(open(&[]).into_job()), ["--want is missing"]);
    // Where none is named the wants decide: rings that stand on the face ask for quarters.
    for (want, quarter) in [
        ("1x6", false),
        ("1x6,rings=quarter", true),
        ("1x6,rings=rift/quarter", true),
        ("1x6,rings=flat/quarter", false),
        ("1x6,rings=rift", false),
    ] {
        let job = open(&[want]).into_job().unwrap();
        assert_eq!(job.settings.methods.contains(&Method::Quarter), quarter, "{want}");
        assert!(Method::USUAL.iter().all(|method| job.settings.methods.contains(method)));
    }
}

proptest! {
    #[test]
    fn prop_no_request_panics(
        texts in proptest::collection::vec(prop_oneof![any::<String>(), "[0-9x=/ a-z,.-]{0,12}"], 12),
    ) {
        let [a, b, c, d, e, f, g, h, i, j, k, l] = &texts[..] else { panic!() };
        let mut request = open(&[a, b]);
        request.sawing = sawing(c, d, e);
        request.sawing.lengths.text = Some(f.clone());
        request.sawing.tolerance.text = Some(g.clone());
        request.sawing.methods.texts = vec![h.clone()];
        request.sawing.policy = policy([Some("finished"), Some(i), Some(j), Some(k), Some(l)]);
        let faults = request.into_job().unwrap_err();
        prop_assert!(faults.iter().all(|f| f.to_string().len() > 10 && !f.help.is_empty()));
    }

    /// Any log and any size that are accepted make wants that the search can take.
    #[test]
    fn prop_accepted_wants_are_sound(
        small in 1_i64..120, taper in 0_i64..10, feet in 1_i64..100,
        size in prop_oneof!["[1-9]x[1-9]", "[4-9]/4", "[1-9]x[1-9]up", "[1-9][0-9]x[1-9]0up mm"],
    ) {
        let mut request = open(&[&format!("{size}=3+")]);
        request.sawing = sawing(&small.to_string(), &(small + taper).min(120).to_string(), &feet.to_string());
        if let Ok(job) = request.into_job() {
            for want in job.optimizer_wants() {
                prop_assert!(!want.cuts.is_empty());
                for cut in want.cuts {
                    prop_assert!(cut.worth >= cut.extra && cut.extra >= 0 && cut.board_feet > 0);
                    prop_assert!(cut.take >= cut.length && cut.thickness > Length::ZERO);
                }
            }
        }
    }
}
