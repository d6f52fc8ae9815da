//! What was simulated.

use super::{minutes, money::money, share};
use crate::schema::quote::range::{
    DoubtForm, ForecastForm, PricesForm, RangeForm, RecoveryForm, SharesForm, SourceForm,
};
use pithward_day::money::Way;
use pithward_day::range::{Forecast, Range, Source};
use pithward_job::{Doubt, PileJob};

pub(in crate::json) fn range<T, F>(range: &Range<T>, form: impl Fn(&T) -> F) -> RangeForm<F> {
    RangeForm {
        planned: form(&range.planned),
        low: form(&range.low),
        likely: form(&range.likely),
        high: form(&range.high),
    }
}

pub(super) fn forecast(job: &PileJob, forecast: &Forecast) -> ForecastForm {
    let shares = forecast.shares.iter().map(|of| SharesForm {
        source: source(of.source),
        board_feet: share(of.board_feet),
        on_site: share(of.minutes),
        worth: share(of.worth),
    });
    let price = |way: Way| {
        let price = forecast.prices[way.place()].as_ref()?;
        Some(range(price, |figure| money(*figure)))
    };
    ForecastForm {
        on_site: range(&forecast.minutes, |figure| minutes(*figure)),
        price: forecast.price.as_ref().map(|price| range(price, |figure| money(*figure))),
        prices: PricesForm {
            by_hour: price(Way::Hour),
            by_board_foot: price(Way::BoardFoot),
            by_board: price(Way::Board),
            by_share: price(Way::Share),
        },
        in_lumber: forecast.in_lumber.as_ref().map(|lumber| range(lumber, |figure| *figure)),
        board_feet: range(&forecast.board_feet, |figure| *figure),
        blades: range(&forecast.blades, |figure| *figure),
        shares: shares.collect(),
        piles: forecast.piles,
        seed: forecast.seed,
        stopped: forecast.stopped,
        doubt: doubt(&job.doubt),
        recovery: (!job.recovery.is_whole()).then(|| RecoveryForm {
            softwood: share(job.recovery.softwood),
            hardwood: share(job.recovery.hardwood),
            unsure: share(job.recovery.unsure),
            together: share(job.recovery.together),
        }),
    }
}

fn source(source: Source) -> SourceForm {
    match source {
        Source::Diameter => SourceForm::Diameter,
        Source::Shared => SourceForm::Shared,
        Source::Taper => SourceForm::Taper,
        Source::Length => SourceForm::Length,
        Source::Rot => SourceForm::Rot,
        Source::Metal => SourceForm::Metal,
        Source::Day => SourceForm::Day,
        Source::Pace => SourceForm::Pace,
    }
}

fn doubt(doubt: &Doubt) -> DoubtForm {
    let otherwise = doubt.otherwise.iter().map(|(log, measured)| (log.clone(), measured.word()));
    DoubtForm {
        measured: doubt.measured.word(),
        otherwise: otherwise.collect(),
        diameter: doubt.spread.diameter.as_nm(),
        diameter_shared: doubt.spread.shared.as_nm(),
        taper: doubt.spread.taper.as_nm(),
        length: doubt.spread.length.as_nm(),
        rot: share(doubt.rot.share),
        rot_radius: share(doubt.rot.radius),
        rot_length: doubt.rot.length.as_nm(),
        metal: share(doubt.metal.share),
        metal_stretch: doubt.metal.stretch.as_nm(),
        metal_time: minutes(doubt.metal.time.as_secs_f64() / 60.0),
        pace_day: share(doubt.pace_day),
        pace_log: share(doubt.pace_log),
        stated: doubt.stated.clone(),
        learned: doubt.of_mill.clone(),
    }
}
