//! Where stems are cut: against every way to cut small ones, against plain buckings, and what is said of the cuts against
//! the stem itself.

use pithward_geometry::{Angle, Crook, End, Log, Sweep, Taped, confirm};
use pithward_measure::Length;
use pithward_optimizer::{
    Answer, BuckTerms, Bucked, Demand, Effort, LogFate, Method, PartKind, Pile, PileLog, PileStem,
    Settings, Want, buck, open, plan_pile,
};
use pithward_tests::random::Random;
use pithward_tests::{check_pile, random_shape, roomy_mill, want};

const KERF: Length = Length::sixty_fourths(24);

fn inches(inches: i64) -> Length {
    Length::inches(inches)
}

/// A pile without logs, and a list.
fn pile(wants: Vec<Want>) -> Pile {
    let mill = roomy_mill(Length::sixty_fourths(6));
    let demands =
        wants.iter().map(|want| Demand { count: want.count, first: 0, blocking: false }).collect();
    Pile {
        settings: Settings { methods: Method::OF_A_PILE.to_vec(), ..Settings::all(&mill) },
        mill,
        logs: Vec::new(),
        menus: vec![wants],
        demands,
        effort: Effort::default(),
    }
}

fn terms(lengths: &[Length]) -> BuckTerms {
    BuckTerms {
        chain_kerf: KERF,
        lengths: Some(lengths.to_vec()),
        shortest: Length::feet(1),
        longest: Length::feet(100),
    }
}

/// Wants of one to two sections in one to three lengths, some with a count.
fn wants(random: &mut Random, counted: bool) -> Vec<Want> {
    let sections = [(64, 256), (64, 384), (128, 256), (128, 384), (96, 320)];
    let mut wants = Vec::new();
    for _ in 0..random.within(1, 2) {
        let (thickness, width) = random.pick(&sections);
        let section = (Length::sixty_fourths(thickness), Length::sixty_fourths(width));
        let mut one = want(section.0, section.1, inches(random.within(30, 80)));
        for _ in 0..random.within(0, 2) {
            one.cuts.extend(want(section.0, section.1, inches(random.within(30, 80))).cuts);
        }
        one.cuts.sort_by_key(|cut| cut.take);
        one.cuts.dedup_by_key(|cut| cut.take);
        if counted && random.one_in(2) {
            one.count = u32::try_from(random.within(1, 6)).ok();
            one.cuts.iter_mut().for_each(|cut| {
                cut.extra = cut.worth;
                cut.worth *= 4;
            });
        }
        wants.push(one);
    }
    wants
}

/// A round stem with a taper.
fn round(random: &mut Random) -> Log {
    let small = Length::nm(25_400) * random.within(6_000, 9_000);
    let butt = small + Length::nm(25_400) * random.within(0, 5_000);
    let length = Length::nm(25_400) * random.within(110_000, 220_000);
    Log::new(small, butt, length, Length::ZERO, Length::ZERO).expect("a stem")
}

fn lengths(random: &mut Random, most: i64) -> Vec<Length> {
    let mut lengths: Vec<Length> =
        (0..random.within(1, most)).map(|_| inches(random.within(45, 110))).collect();
    lengths.sort_unstable();
    lengths.dedup();
    lengths
}

/// What the log between two places of a stem, from the butt, gives by itself.
fn alone(pile: &Pile, stem: &Log, from: Length, to: Length) -> i64 {
    let log = stem.bucked(stem.length() - to, stem.length() - from).expect("within the stem");
    match open(&log, &pile.mill, &pile.menus[0], &pile.settings)
        .expect("settings that suit the mill")
    {
        Answer::Planned(planned) => planned.plan.worth,
        Answer::Impossible(_) => 0,
    }
}

/// The most that a sound stretch gives, by trying every row of lengths. In round wood that tapers no waste below a log
/// helps it.
fn every_row(pile: &Pile, stem: &Log, lengths: &[Length], (from, to): (Length, Length)) -> i64 {
    let fits = lengths.iter().filter(|length| from + **length <= to);
    let with = |length: &Length| {
        let end = from + *length;
        alone(pile, stem, from, end) + every_row(pile, stem, lengths, (end + KERF, to))
    };
    fits.map(with).max().unwrap_or(0)
}

/// All that is said of the cuts of stems, held against the stems.
fn check(stems: &[PileStem], terms: &BuckTerms, bucked: &Bucked) -> Result<(), String> {
    let mut place = 0;
    for (stem, cut) in stems.iter().zip(&bucked.cuts.stems) {
        let end = stem.log.length();
        let is_log = |kind: &PartKind| matches!(kind, PartKind::Log(_));
        let parts = &cut.parts;
        let mut at = Length::ZERO;
        for (n, part) in parts.iter().enumerate() {
            let beside_log = n > 0 && (is_log(&parts[n - 1].what) || is_log(&part.what));
            let expected = if beside_log { at + terms.chain_kerf } else { at };
            // What is left may be nothing but the kerf itself.
            if part.from != expected || part.from >= part.to {
                return Err(format!("part {n} begins at {:?}, not {expected:?}", part.from));
            }
            at = part.to;
            let in_cut_out = |(from, to): &(Length, Length)| part.from >= *from && part.to <= *to;
            let meets = |(from, to): &(Length, Length)| part.from < *to && part.to > *from;
            match part.what {
                PartKind::Log(log) => {
                    if stem.cut_out.iter().any(meets) {
                        return Err(format!("log {log} holds what is cut out"));
                    }
                    if log != place {
                        return Err(format!("log {log} stands at {place}"));
                    }
                    place += 1;
                    let cut = stem.log.bucked(end - part.to, end - part.from);
                    if cut.as_ref() != Ok(&bucked.pile.logs[log].log) {
                        return Err(format!("log {log} is not what is cut there"));
                    }
                    let long = part.to - part.from;
                    let lengths = terms.lengths.as_deref().unwrap_or_default();
                    let shortest = lengths.iter().min().copied().unwrap_or(terms.shortest);
                    if long < shortest || long > terms.longest {
                        return Err(format!("log {log} is {long:?} long"));
                    }
                }
                PartKind::CutOut if !stem.cut_out.iter().any(in_cut_out) => {
                    return Err(format!("part {n} was not to be cut out"));
                }
                PartKind::TooShort | PartKind::LeftOver if stem.cut_out.iter().any(meets) => {
                    return Err(format!("part {n} is cut out"));
                }
                _ => {}
            }
        }
        let last_is_log = parts.last().is_some_and(|part| is_log(&part.what));
        if at != end && !(last_is_log && end - at <= terms.chain_kerf) {
            return Err(format!("the parts end at {at:?}, the stem at {end:?}"));
        }
    }
    if place != bucked.pile.logs.len() {
        return Err("a log from nowhere".to_owned());
    }
    for (fate, log) in bucked.plan.logs.iter().zip(&bucked.pile.logs) {
        if let LogFate::Sawn(plan) = fate {
            confirm(&log.log, &bucked.pile.mill, &plan.order, bucked.pile.settings.tolerance)
                .map_err(|fault| fault.to_string())?;
        }
    }
    Ok(())
}

#[test]
fn round_stems_are_cut_as_well_as_every_way() {
    let mut random = Random::new(4_711);
    let mut cut_in_two = 0;
    for n in 0..40 {
        let pile = pile(wants(&mut random, false));
        let log = round(&mut random);
        let lengths = lengths(&mut random, 3);
        let cut_out = random.one_in(2).then(|| {
            let from = inches(random.within(40, 90));
            (from, from + inches(random.within(1, 20)))
        });
        let sound = match cut_out {
            Some((from, to)) => vec![(Length::ZERO, from), (to, log.length())],
            None => vec![(Length::ZERO, log.length())],
        };
        let most: i64 =
            sound.iter().map(|stretch| every_row(&pile, &log, &lengths, *stretch)).sum();
        let cut_out = cut_out.into_iter().collect();
        let stem = PileStem { log, menu: 0, cut_out, breaks: Vec::new() };
        let terms = terms(&lengths);
        let bucked = buck(&pile, std::slice::from_ref(&stem), &terms, &())
            .expect("settings that suit the mill");
        let what = format!("case {n}: {stem:?} {lengths:?}");
        check(&[stem], &terms, &bucked).unwrap_or_else(|why| panic!("{why}, {what}"));
        check_pile::plan(&bucked.pile, &bucked.plan).unwrap_or_else(|why| panic!("{why}, {what}"));
        assert_eq!(bucked.plan.worth, most, "{what}");
        let bound = bucked.cuts.proof.bound.expect("nobody stopped it");
        assert!(bound >= most && bound <= most + 10, "{bound} above {most}, {what}");
        cut_in_two += usize::from(bucked.pile.logs.len() > 1);
    }
    assert!(cut_in_two > 15, "only {cut_in_two} were cut");
}

/// Logs one behind the other, as a person cuts them who thinks of no want.
fn plain(log: &Log, lengths: &[Length]) -> Vec<PileLog> {
    let mut at = Length::ZERO;
    let mut logs = Vec::new();
    while let Some(length) = lengths.iter().rev().find(|length| at + **length <= log.length()) {
        let end = log.length();
        let cut = log.bucked(end - at - *length, end - at).expect("within the stem");
        logs.push(PileLog { log: cut, menu: 0 });
        at += *length + KERF;
    }
    logs
}

#[test]
fn no_plain_bucking_is_better_where_wants_are_counted() {
    let mut random = Random::new(90);
    let mut better = 0;
    for n in 0..25 {
        let pile = pile(wants(&mut random, true));
        let log = round(&mut random);
        let lengths = lengths(&mut random, 3);
        let stem = PileStem { log: log.clone(), menu: 0, cut_out: Vec::new(), breaks: Vec::new() };
        let bucked =
            buck(&pile, &[stem], &terms(&lengths), &()).expect("settings that suit the mill");
        let rules = lengths.iter().map(std::slice::from_ref).chain([lengths.as_slice()]);
        let mut best = 0;
        for rule in rules {
            let plain = Pile { logs: plain(&log, rule), ..pile.clone() };
            let plan = plan_pile(&plain, &()).expect("settings that suit the mill");
            assert!(plan.proof.value <= bucked.plan.proof.value, "case {n}: {rule:?} is better");
            best = best.max(plan.proof.value);
        }
        let bound = bucked.cuts.proof.bound.expect("nobody stopped it");
        assert!(bucked.plan.proof.value <= bound, "case {n}");
        better += usize::from(best < bucked.plan.proof.value);
    }
    assert!(better > 3, "choosing gained in {better} cases");
}

#[test]
fn stems_as_they_grow_are_cut_as_is_said() {
    let mut cut = 0;
    for n in 0..12 {
        let mut random = Random::new(1_000 + n);
        let taped = random_shape::taped(&mut random);
        let Ok(log) = Log::taped(&taped) else { continue };
        let length = log.length();
        let share = |hundredths: i64| Length::nm(length.as_nm() / 100 * hundredths);
        let part = |random: &mut Random| share(random.within(30, 48));
        let mut lengths = vec![part(&mut random), part(&mut random)];
        lengths.sort_unstable();
        let mut wants = wants(&mut random, true);
        for cut in wants.iter_mut().flat_map(|want| &mut want.cuts) {
            cut.take = cut.take.min(lengths[0]);
            cut.length = cut.take;
        }
        let cut_out = random.one_in(3).then(|| (share(45), share(52)));
        let breaks = vec![share(40)];
        let stem = PileStem { log, menu: 0, cut_out: cut_out.into_iter().collect(), breaks };
        let terms = terms(&lengths);
        let pile = pile(wants);
        let bucked = buck(&pile, &[stem.clone(), stem.clone()], &terms, &()).expect("it suits");
        let stems = [stem.clone(), stem];
        check(&stems, &terms, &bucked).unwrap_or_else(|why| panic!("case {n}: {why}"));
        cut += usize::from(!bucked.pile.logs.is_empty());
    }
    assert!(cut > 6, "only {cut} were cut");
}

fn end(across: i64) -> End {
    End {
        longer: inches(across),
        shorter: inches(across),
        clock: Angle::ZERO,
        pith_off: Length::ZERO,
        pith_clock: Angle::ZERO,
        bark: Length::ZERO,
    }
}

/// A stem for three logs of 6 ft that bends so much at 6 1/2 ft from the butt.
fn bent(depth: i64) -> PileStem {
    let (length, at) = (inches(226), inches(78));
    let crook = Crook { depth: inches(depth), clock: Angle::ZERO, at: length - at };
    let (small, butt, sweep): (End, End, Option<Sweep>) = (end(10), end(11), None);
    let taped = Taped { length, small, butt, sweep, crook: Some(crook), flare: None };
    let log = Log::taped(&taped).expect("a stem");
    PileStem { log, menu: 0, cut_out: Vec::new(), breaks: vec![at] }
}

fn begins(bucked: &Bucked) -> Vec<Length> {
    let parts = bucked.cuts.stems[0].parts.iter();
    parts.filter(|part| matches!(part.what, PartKind::Log(_))).map(|part| part.from).collect()
}

#[test]
fn it_pays_to_cut_at_a_sharp_crook_and_not_at_a_slight_one() {
    let lengths = [Length::feet(6)];
    let pile = pile(vec![want(inches(1), inches(6), Length::feet(6))]);
    let stem = bent(8);
    let terms = terms(&lengths);
    let sharp = buck(&pile, std::slice::from_ref(&stem), &terms, &()).expect("it suits");
    assert!(begins(&sharp).contains(&inches(78)), "{:?}", begins(&sharp));
    let blind = PileStem { breaks: Vec::new(), ..stem };
    let blind = buck(&pile, &[blind], &terms, &()).expect("it suits");
    assert!(blind.plan.worth < sharp.plan.worth, "the crook is in a log then");
    // Where 12 ft are wanted, a slight crook is in the log.
    let lengths = [Length::feet(6), Length::feet(12)];
    let long = self::pile(vec![want(inches(1), inches(6), Length::feet(12)), {
        let mut short = want(inches(1), inches(6), Length::feet(6));
        short.cuts[0].worth /= 4;
        short.cuts[0].extra /= 4;
        short
    }]);
    let slight = buck(&long, &[bent(1)], &self::terms(&lengths), &()).expect("it suits");
    let parts = &slight.cuts.stems[0].parts;
    assert!(parts.iter().any(|part| part.from < inches(78) && part.to > inches(78)), "{parts:?}");
}
