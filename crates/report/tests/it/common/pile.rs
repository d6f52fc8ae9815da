//! Piles that the tests of this crate plan: invented logs, the same in every run.

use super::{length, mill};
use pithward_geometry::{FlawKinds, Log, Mill};
use pithward_job::{
    BarkSource, Bucking, Charges, Doubt, GradePrices, GradeTerms, HeartRule, JobLog, JobWant,
    Lumber, MillSource, Pace, PieceWorth, PileJob, Stores, Told, WorthTerms, Yard,
};
use pithward_measure::{Length, Scale, Size};
use pithward_optimizer::{Pile, PilePlan, Settings, plan_pile};
use pithward_trade::{RingConvention, SizePolicy, Species, WaneLimit};

/// What puts one more piece of the list before all else, board feet in millionths.
const FIRST: i64 = 2_000_000_000;

/// A log: its name, species, small end, butt and length.
pub(crate) fn log(id: &str, species: &str, small: &str, butt: &str, long: &str) -> JobLog {
    let species = Species::find(species).unwrap();
    let [small, butt, long] = [small, butt, long].map(length);
    let bark = [small, butt].map(|diameter| species.bark_thickness(diameter));
    JobLog {
        id: id.to_owned(),
        log: Log::new(small, butt, long, bark[0], bark[1]).unwrap(),
        species: Some(species),
        bark: BarkSource::Species,
        taped_over_bark: false,
        two_diameters: false,
        told: Told::default(),
        notes: String::new(),
    }
}

/// So many logs of two woods, from a plain generator of numbers.
pub(crate) fn logs(n: u64) -> Vec<JobLog> {
    let mut state = 88_172_645_463_325_252_u64;
    let mut next = |below: u64| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        state % below
    };
    let species = ["white oak", "red pine"];
    (1..=n)
        .map(|n| {
            let small = 36 + next(30);
            let butt = small + 2 + next(6);
            let feet = [8, 10, 12, 12, 14][usize::try_from(next(5)).unwrap()];
            let quarters = |n: u64| format!("{} {}/4 in", n / 4, n % 4).replace(" 0/4", "");
            let species = species[usize::from(next(3) == 0)];
            log(
                &format!("L{n:02}"),
                species,
                &quarters(small),
                &quarters(butt),
                &format!("{feet} ft 4 in"),
            )
        })
        .collect()
}

/// A want such as `2x8x12=6` or `1x6`; one without a length takes every even foot from 8 ft to 14 ft. The first of
/// the list weighs most.
pub(crate) fn wants(texts: &[&str]) -> Vec<JobWant> {
    let counted = i64::try_from(texts.len()).unwrap();
    let one = |(n, text): (i64, &&str)| {
        let (size, count) = match text.split_once('=') {
            Some((size, count)) => (size, Some(count.parse().unwrap())),
            None => (*text, None),
        };
        let size = Size::parse(size).unwrap();
        JobWant {
            size,
            count,
            lengths: size
                .length
                .map_or_else(|| (4..8).map(|n| Length::feet(2 * n)).collect(), |one| vec![one]),
            open_lengths: size.length.is_none(),
            wane: WaneLimit::Legs(Length::ZERO),
            heart: HeartRule::Any,
            tolerates: FlawKinds::NONE,
            worth: PieceWorth::BoardFoot(1_000_000),
            extra: None,
            first: if count.is_some() { FIRST * (counted - n) } else { 0 },
            species: Vec::new(),
            grade: GradeTerms::default(),
            blocking: false,
        }
    };
    (0..).zip(texts).map(one).collect()
}

/// A job over some logs, on the invented mill.
pub(crate) fn pile_job(logs: Vec<JobLog>, list: &[&str]) -> PileJob {
    pile_job_on(mill(), Scale::Sixteenths, logs, wants(list))
}

/// The same on another mill.
pub(crate) fn pile_job_on(
    mill: Mill,
    scale: Scale,
    logs: Vec<JobLog>,
    wants: Vec<JobWant>,
) -> PileJob {
    PileJob {
        file: "yard.toml".to_owned(),
        inputs: Vec::new(),
        site: "an invented yard".to_owned(),
        date: "12 June".to_owned(),
        notes: String::new(),
        settings: Settings::of_a_pile(&mill),
        methods_named: false,
        stems: Vec::new(),
        bucking: Bucking::on(&mill),
        cuts: None,
        mill,
        mill_source: MillSource::File("mill.toml".to_owned()),
        pace: Pace::default(),
        charges: Charges::default(),
        yard: Yard::default(),
        stores: Stores::default(),
        recovery: pithward_job::Recovery::default(),
        lumber: Lumber::default(),
        scale,
        policy: SizePolicy::Full,
        trim: if scale.is_metric() { Length::mm(50) } else { length("3 in") },
        lengths: None,
        worth: WorthTerms::default(),
        doubt: Doubt::default(),
        prices: GradePrices::default(),
        ring_convention: RingConvention::default(),
        logs,
        wants,
        asked: None,
    }
}

/// The pile of a job, and its plan.
pub(crate) fn planned_pile(job: &PileJob) -> (Pile, PilePlan) {
    let pile = job.pile();
    let plan = plan_pile(&pile, &()).unwrap();
    (pile, plan)
}
