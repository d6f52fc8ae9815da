//! From what a file says to a kept promise: everything is held against everything else, for a file may have been changed.

use super::{
    Boards, CountForm, DoneLog, File, InputFile, Kept, KeptCount, KeptFault, KeptFigures, KeptLog,
    KeptPattern, KeptPile, KeptProduct, KeptRanges, KeptSawing, KeptSawn, KeptWant, Kind, Length,
    LogForm, Lumber, MILLION, MINUTE, Money, PassCount, PatternForm, PileForm, PlanCounts,
    ProductForm, Range, SawingForm, Size, WantForm, Way, WayForm, WoodForm, hours, over,
};

pub(super) fn kept(file: File) -> Result<Kept, KeptFault> {
    let money = |text: &String| {
        Money::parse(text).map_err(|_| KeptFault::value("an amount of money", format!("{text:?}")))
    };
    let moneys = |[planned, low, likely, high]: &[String; 4]| {
        Ok(range([money(planned)?, money(low)?, money(likely)?, money(high)?]))
    };
    let some_money = |text: &Option<String>| text.as_ref().map(money).transpose();
    let (wants, logs) = (file.wants.len(), file.logs.len());
    let in_order = |place: &usize| {
        (*place < logs).then_some(()).ok_or_else(|| KeptFault::value("a log of the order", place))
    };
    file.order.iter().try_for_each(in_order)?;
    let patterns: Vec<KeptPattern> =
        file.patterns.iter().map(|form| pattern(form, wants)).collect::<Result<_, _>>()?;
    let piles = file.piles.iter().map(|form| pile(form, (logs, wants), &patterns));
    Ok(Kept {
        program: file.program,
        at: file.at,
        inputs: file
            .inputs
            .into_iter()
            .map(|(name, bytes, check)| InputFile { name, bytes, check })
            .collect(),
        seed: file.seed,
        agreed: file.agreed.map(WayForm::way),
        wants: file.wants.iter().map(want).collect::<Result<_, _>>()?,
        logs: file.logs.into_iter().map(|form| log(form, wants)).collect::<Result<_, _>>()?,
        order: file.order,
        planned: KeptFigures {
            on_site: over(file.planned.on_site, MINUTE),
            board_feet: file.planned.board_feet,
            by_hour: some_money(&file.planned.by_hour)?,
            by_board_foot: some_money(&file.planned.by_board_foot)?,
            by_board: some_money(&file.planned.by_board)?,
            by_share: some_money(&file.planned.by_share)?,
            in_lumber: file.planned.in_lumber,
        },
        ranges: match file.ranges {
            None => None,
            Some(form) => Some(KeptRanges {
                minutes: range(form.minutes.map(|it| over(it, MINUTE))),
                board_feet: range(form.board_feet),
                price: form.price.as_ref().map(moneys).transpose()?,
                prices: prices(&form.prices, moneys)?,
                in_lumber: form.in_lumber.map(range),
                blades: range(form.blades),
            }),
        },
        lift: over(file.lift, MILLION * MILLION),
        piles: piles.collect::<Result<_, _>>()?,
        patterns,
    })
}

/// The range of the price in every way, as many as the file has.
fn prices(
    form: &[(WayForm, [String; 4])],
    moneys: impl Fn(&[String; 4]) -> Result<Range<Money>, KeptFault>,
) -> Result<[Option<Range<Money>>; Way::ALL.len()], KeptFault> {
    let mut prices = [None; Way::ALL.len()];
    for (way, range) in form {
        prices[way.way().place()] = Some(moneys(range)?);
    }
    Ok(prices)
}

fn range<T>([planned, low, likely, high]: [T; 4]) -> Range<T> {
    Range { planned, low, likely, high }
}

fn size(text: &str) -> Result<Size, KeptFault> {
    Size::parse(text).map_err(|_| KeptFault::value("a size", format!("{text:?}")))
}

fn want(form: &WantForm) -> Result<KeptWant, KeptFault> {
    let count = |form: &CountForm| KeptCount {
        pieces: range(form.pieces),
        safe: form.safe,
        filled: over(form.filled, MILLION),
    };
    Ok(KeptWant {
        size: size(&form.size)?,
        asked: form.asked,
        planned: form.planned,
        promised: form.promised.as_ref().map(count),
    })
}

fn pieces(form: &[(usize, u32)], wants: usize) -> Result<Vec<(usize, u32)>, KeptFault> {
    match form.iter().find(|(want, _)| *want >= wants) {
        Some((want, _)) => Err(KeptFault::value("the want of a piece", want)),
        None => Ok(form.to_vec()),
    }
}

fn log(form: LogForm, wants: usize) -> Result<KeptLog, KeptFault> {
    let passes =
        |widths: &[i64]| widths.iter().map(|it| PassCount { width: over(*it, 1000.0) }).collect();
    let sawing = |form: SawingForm| {
        let product = |form: &ProductForm| {
            pieces(&[(form.want, form.count)], wants)?;
            Ok(KeptProduct {
                want: form.want,
                size: size(&form.size)?,
                sawn: form.sawn.map(Length::nm),
                count: form.count,
            })
        };
        Ok(KeptSawing {
            quarter: form.quarter,
            products: form.products.iter().map(product).collect::<Result<_, _>>()?,
            board_feet: form.board_feet,
            hours: hours(&form.hours),
            counts: PlanCounts {
                length: over(form.counts.length, 1000.0),
                wood: form.counts.wood.map(|wood| match wood {
                    WoodForm::Hardwood => Kind::Hardwood,
                    WoodForm::Softwood => Kind::Softwood,
                }),
                turns: form.counts.turns,
                of_log: passes(&form.counts.of_log),
                of_edging: passes(&form.counts.of_edging),
                batches: form.counts.batches,
                shifts: form.counts.shifts,
                pieces: form.counts.pieces,
            },
        })
    };
    Ok(KeptLog {
        id: form.id,
        species: form.species,
        small_end: Length::nm(form.small_end),
        butt: Length::nm(form.butt),
        length: Length::nm(form.length),
        sawn: form.sawn.map(sawing).transpose()?,
    })
}

fn pattern(form: &PatternForm, wants: usize) -> Result<KeptPattern, KeptFault> {
    let lumber = |[thickness, sawn_thickness, named, sawn]: &[i64; 4]| Lumber {
        thickness: Length::nm(*thickness),
        sawn_thickness: Length::nm(*sawn_thickness),
        named: *named,
        sawn: *sawn,
        boards: None,
    };
    let boards = |(count, text, shared): &(u32, String, bool)| {
        Ok(Boards { count: *count, size: size(text)?, shared: *shared, worth: None })
    };
    let boards: Vec<Boards> = form.boards.iter().map(boards).collect::<Result<_, KeptFault>>()?;
    let mut all: Vec<Lumber> = form.lumber.iter().map(lumber).collect();
    match boards.len() {
        0 => {}
        n if n == all.len() => {
            all.iter_mut().zip(boards).for_each(|(lumber, boards)| lumber.boards = Some(boards));
        }
        n => return Err(KeptFault::value("the boards of a pattern", format!("{n} lines"))),
    }
    Ok(KeptPattern {
        hours: hours(&form.hours),
        log: DoneLog {
            id: String::new(),
            small_end: Length::nm(form.small_end),
            length: Length::nm(form.length),
            lumber: all,
        },
        odd: over(form.odd, MILLION),
        pieces: pieces(&form.pieces, wants)?,
    })
}

fn pile(
    form: &PileForm,
    (logs, wants): (usize, usize),
    patterns: &[KeptPattern],
) -> Result<KeptPile, KeptFault> {
    let mut sawn = Vec::with_capacity(form.logs.len() / 3);
    for of in form.logs.chunks(3) {
        let [log, number, pace] = *of else {
            return Err(KeptFault::value(
                "the logs of a pile",
                format!("{} numbers", form.logs.len()),
            ));
        };
        let place = usize::try_from(log).ok().filter(|log| *log < logs);
        let number = usize::try_from(number).unwrap_or(usize::MAX);
        let (Some(log), Some(pattern)) = (place, patterns.get(number)) else {
            return Err(KeptFault::value("a log of a pile", format!("{of:?}")));
        };
        let lumber = pattern.log.lumber.iter().map(|lumber| lumber.named);
        sawn.push(KeptSawn {
            log,
            pattern: number,
            pace: over(pace, MILLION),
            struck: 0,
            board_feet: lumber.fold(0, i64::saturating_add),
            pieces: None,
        });
    }
    let none = |n: &usize| KeptFault::value("a place in a pile", n);
    for (n, struck) in &form.struck {
        sawn.get_mut(*n).ok_or_else(|| none(n))?.struck = *struck;
    }
    for (n, left, board_feet) in &form.lost {
        let log = sawn.get_mut(*n).ok_or_else(|| none(n))?;
        log.pieces = Some(pieces(left, wants)?);
        log.board_feet = *board_feet;
    }
    Ok(KeptPile { day: over(form.day, MILLION), logs: sawn })
}
