//! From what a file says to a kept promise: everything is held against everything else, for a file may have been changed.

use pithward_job::InputFile;
use pithward_measure::Money;

use super::charges::charges;
use super::log::log;
use super::pile::{pattern, pile};
use super::{CountForm, File, KeptFault, MILLION, MINUTE, WantForm, WayForm, money, over, size};
use crate::kept::{Kept, KeptCount, KeptFigures, KeptPattern, KeptRanges, KeptWant};
use crate::money::Way;
use crate::range::Range;

pub(super) fn kept(file: File) -> Result<Kept, KeptFault> {
    let some_money = |text: &Option<String>| -> Result<Option<Money>, KeptFault> {
        text.as_ref().map(money).transpose()
    };
    let moneys = |[planned, low, likely, high]: &[String; 4]| {
        Ok(range([money(planned)?, money(low)?, money(likely)?, money(high)?]))
    };
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
        charges: file.charges.as_ref().map(charges).transpose()?,
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
