//! What the mill charged when the job was promised.
//!
//! # Units
//! Amounts of money are texts with their currency, lengths nanometres, times seconds, board feet and percentages millionths.

use std::time::Duration;

use pithward_job::{
    BilledHours, BoardPrice, Charges, Drive, FootBasis, HourStep, Item, Least, OddWork, Part,
    Percent, Portion, RoundWay, Share, Shared,
};
use pithward_measure::{Length, Money};
use pithward_trade::{Grade, LogRule};
use serde::{Deserialize, Serialize};

use super::{KeptFault, money, size};

/// What is stated nowhere is left out.
#[derive(Serialize, Deserialize)]
pub(super) struct ChargesForm {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    hour: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    odd_hour: Option<String>,
    /// Thin, thick, quarter, beams.
    odd: [bool; 4],
    #[serde(default, skip_serializing_if = "Option::is_none")]
    moving_hour: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    billed: Option<BilledForm>,
    round_hours: (u64, RoundForm),
    #[serde(default, skip_serializing_if = "Option::is_none")]
    board_foot: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    stacked_foot: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    delivered_foot: Option<String>,
    basis: BasisForm,
    classes: Vec<i64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    short_log: Option<i64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    thin_log: Option<i64>,
    /// The price of a board, and up to which size.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    boards: Vec<(String, Option<String>)>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    share: Option<ShareForm>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    set_up: Option<String>,
    /// The price, and for how far.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    drive: Option<(String, i64)>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    relocation: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    strike: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    blade: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    least_hours: Option<u64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    least_board_feet: Option<i64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    least_sum: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    discount: Option<PartForm>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    tax: Option<i64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    taxed: Option<Vec<String>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    round_total: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    deposit: Option<PartForm>,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum BilledForm {
    OnSite,
    AtTheSaw,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum RoundForm {
    Nearest,
    Up,
    Down,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum BasisForm {
    Named,
    Sawn,
    International,
    Scribner,
    Doyle,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum PartForm {
    Share(i64),
    Sum(String),
}

/// Part and whole, and what is shared.
#[derive(Serialize, Deserialize)]
struct ShareForm {
    portion: (i64, i64),
    of: Vec<SharedForm>,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum SharedForm {
    Graded,
    Grade(String),
    Size(String),
}

pub(super) fn charges_form(charges: &Charges) -> ChargesForm {
    let text = |money: Option<Money>| money.map(|money| money.to_string());
    let part = |part: Option<Part>| {
        part.map(|part| match part {
            Part::Share(share) => PartForm::Share(share.as_millionths()),
            Part::Sum(sum) => PartForm::Sum(sum.to_string()),
        })
    };
    let OddWork { thin, thick, quarter, beams } = charges.odd;
    let HourStep { to, way } = charges.hour_step;
    let Least { hours, board_feet, sum } = charges.least;
    ChargesForm {
        hour: text(charges.hour),
        odd_hour: text(charges.odd_hour),
        odd: [thin, thick, quarter, beams],
        moving_hour: text(charges.moving_hour),
        billed: charges.hours_of.map(|billed| match billed {
            BilledHours::OnSite => BilledForm::OnSite,
            BilledHours::AtTheSaw => BilledForm::AtTheSaw,
        }),
        round_hours: (
            to.as_secs(),
            match way {
                RoundWay::Nearest => RoundForm::Nearest,
                RoundWay::Up => RoundForm::Up,
                RoundWay::Down => RoundForm::Down,
            },
        ),
        board_foot: text(charges.board_foot),
        stacked_foot: text(charges.stacked_foot),
        delivered_foot: text(charges.delivered_foot),
        basis: match charges.basis {
            FootBasis::Named => BasisForm::Named,
            FootBasis::Sawn => BasisForm::Sawn,
            FootBasis::Scale(LogRule::International) => BasisForm::International,
            FootBasis::Scale(LogRule::Scribner) => BasisForm::Scribner,
            FootBasis::Scale(LogRule::Doyle) => BasisForm::Doyle,
        },
        classes: charges.classes.iter().map(|class| class.as_nm()).collect(),
        short_log: charges.short_log.map(Length::as_nm),
        thin_log: charges.thin_log.map(Length::as_nm),
        boards: charges
            .boards
            .iter()
            .map(|board| (board.price.to_string(), board.up_to.map(|size| size.to_string())))
            .collect(),
        share: charges.share.as_ref().map(share_form),
        set_up: text(charges.set_up),
        drive: charges.drive.map(|drive| (drive.price.to_string(), drive.per.as_nm())),
        relocation: text(charges.relocation),
        strike: text(charges.strike),
        blade: text(charges.blade),
        least_hours: hours.map(|hours| hours.as_secs()),
        least_board_feet: board_feet,
        least_sum: text(sum),
        discount: part(charges.discount),
        tax: charges.tax.map(Percent::as_millionths),
        taxed: charges
            .taxed
            .as_ref()
            .map(|items| items.iter().map(|item| item.word().to_owned()).collect()),
        round_total: text(charges.total_step),
        deposit: part(charges.deposit),
    }
}

fn share_form(share: &Share) -> ShareForm {
    let shared = |of: &Shared| match of {
        Shared::Graded => SharedForm::Graded,
        Shared::Grade(grade) => SharedForm::Grade(grade.name().to_owned()),
        Shared::Size(size) => SharedForm::Size(size.to_string()),
    };
    ShareForm { portion: share.portion.parts(), of: share.of.iter().map(shared).collect() }
}

fn share(form: &ShareForm) -> Result<Share, KeptFault> {
    let (part, whole) = form.portion;
    let shared = |of: &SharedForm| {
        Ok(match of {
            SharedForm::Graded => Shared::Graded,
            SharedForm::Grade(name) => {
                let grade = Grade::parse(name);
                Shared::Grade(grade.ok_or_else(|| KeptFault::value("a grade", name))?)
            }
            SharedForm::Size(text) => Shared::Size(size(text)?),
        })
    };
    let portion = Portion::new(part, whole);
    Ok(Share {
        portion: portion
            .ok_or_else(|| KeptFault::value("the sawyer's part", format!("{part} of {whole}")))?,
        of: form.of.iter().map(shared).collect::<Result<_, KeptFault>>()?,
    })
}

pub(super) fn charges(form: &ChargesForm) -> Result<Charges, KeptFault> {
    let some = |text: &Option<String>| text.as_ref().map(price).transpose();
    let [thin, thick, quarter, beams] = form.odd;
    let (to, way) = form.round_hours;
    if to == 0 {
        return Err(KeptFault::value("what hours are rounded to", to));
    }
    let classes: Vec<Length> = form.classes.iter().map(|class| Length::nm(*class)).collect();
    if !classes.is_sorted() || classes.iter().any(|class| *class <= Length::ZERO) {
        return Err(KeptFault::value("the thicknesses that are billed", format!("{classes:?}")));
    }
    let word = |word: &String| {
        let item = Item::ALL.into_iter().find(|item| item.word() == word);
        item.ok_or_else(|| KeptFault::value("what is taxed", format!("{word:?}")))
    };
    let drive = |(text, per): &(String, i64)| {
        let per = Length::nm(*per);
        let is_way = per > Length::ZERO;
        let way = is_way
            .then_some(per)
            .ok_or_else(|| KeptFault::value("a way that is paid", per.as_nm()));
        Ok(Drive { price: price(text)?, per: way? })
    };
    let board = |(text, up_to): &(String, Option<String>)| {
        let up_to = up_to.as_ref().map(|text| size(text)).transpose()?;
        Ok(BoardPrice { price: price(text)?, up_to })
    };
    Ok(Charges {
        hour: some(&form.hour)?,
        odd_hour: some(&form.odd_hour)?,
        odd: OddWork { thin, thick, quarter, beams },
        moving_hour: some(&form.moving_hour)?,
        hours_of: form.billed.map(|billed| match billed {
            BilledForm::OnSite => BilledHours::OnSite,
            BilledForm::AtTheSaw => BilledHours::AtTheSaw,
        }),
        hour_step: HourStep {
            to: Duration::from_secs(to),
            way: match way {
                RoundForm::Nearest => RoundWay::Nearest,
                RoundForm::Up => RoundWay::Up,
                RoundForm::Down => RoundWay::Down,
            },
        },
        board_foot: some(&form.board_foot)?,
        stacked_foot: some(&form.stacked_foot)?,
        delivered_foot: some(&form.delivered_foot)?,
        basis: match form.basis {
            BasisForm::Named => FootBasis::Named,
            BasisForm::Sawn => FootBasis::Sawn,
            BasisForm::International => FootBasis::Scale(LogRule::International),
            BasisForm::Scribner => FootBasis::Scale(LogRule::Scribner),
            BasisForm::Doyle => FootBasis::Scale(LogRule::Doyle),
        },
        classes,
        short_log: form.short_log.map(Length::nm),
        thin_log: form.thin_log.map(Length::nm),
        boards: form.boards.iter().map(board).collect::<Result<_, KeptFault>>()?,
        share: form.share.as_ref().map(share).transpose()?,
        set_up: some(&form.set_up)?,
        drive: form.drive.as_ref().map(drive).transpose()?,
        relocation: some(&form.relocation)?,
        strike: some(&form.strike)?,
        blade: some(&form.blade)?,
        least: Least {
            hours: form.least_hours.map(Duration::from_secs),
            board_feet: form.least_board_feet,
            sum: some(&form.least_sum)?,
        },
        discount: form.discount.as_ref().map(part).transpose()?,
        tax: form.tax.map(percent).transpose()?,
        taxed: match &form.taxed {
            None => None,
            Some(words) => Some(words.iter().map(word).collect::<Result<_, _>>()?),
        },
        total_step: some(&form.round_total)?,
        deposit: form.deposit.as_ref().map(part).transpose()?,
    })
}

/// An amount that is not less than nothing.
fn price(text: &String) -> Result<Money, KeptFault> {
    match money(text)? {
        negative if negative.as_ten_thousandths() < 0 => {
            Err(KeptFault::value("a charge", format!("{text:?}")))
        }
        price => Ok(price),
    }
}

fn percent(millionths: i64) -> Result<Percent, KeptFault> {
    match millionths {
        0..=Percent::WHOLE => Ok(Percent::millionths(millionths)),
        other => Err(KeptFault::value("a percentage", other)),
    }
}

fn part(form: &PartForm) -> Result<Part, KeptFault> {
    Ok(match form {
        PartForm::Share(share) => Part::Share(percent(*share)?),
        PartForm::Sum(text) => Part::Sum(price(text)?),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use pithward_job::parse_outfit;

    const MILL: &str = "name = \"invented\"\nkerf = \"0.1 in\"\nstep = \"1/16 in\"\nlargest_diameter = \"32 in\"\n\
        longest = \"20 ft\"\nshortest = \"4 ft\"\nwidest_cut = \"26 in\"\ndeepest_above = \"14 in\"\nlowest_blade = \"1 in\"\n\
        [charges]\n";

    fn read(rules: &str) -> Charges {
        let text = format!("{MILL}{rules}");
        parse_outfit(text.as_bytes(), "mill.toml", "--mill").unwrap().charges
    }

    const ALL: &str = "hour = \"75.25 USD/h\"\nodd_hour = \"110 USD/h\"\nodd_work = \"thin/quarter\"\n\
        moving_hour = \"50 USD/h\"\nbilled = \"at the saw\"\nround_hours = \"15 min up\"\nboard_foot = \"0.4525 USD/bf\"\n\
        basis = \"scribner\"\nthickness_classes = [\"1 in\", \"2 in\", \"3 1/16 in\"]\nshort_log = \"8 ft\"\nthin_log = \"12 in\"\n\
        set_up = \"25 USD\"\ndrive = \"1.50 USD/mile\"\nrelocation = \"40 USD\"\nmetal_strike = \"10 USD\"\n\
        ruined_blade = \"40 USD\"\nminimum = [\"4 h\", \"300 bf\", \"200 USD\"]\ndiscount = \"5 %\"\ntax = 7.25\n\
        taxed = \"sawing/blades\"\nround_total = \"0.05 USD\"\ndeposit = \"100 USD\"\n";

    #[test]
    fn charges_read_as_they_were_written() {
        for rules in [
            "",
            "hour = \"80 EUR/h\"\ndrive = \"0.90 EUR/km\"\ndiscount = \"50 EUR\"\ndeposit = \"20 %\"\n",
            "hour = \"80 USD/h\"\nround_hours = \"30 min down\"\nbilled = \"on site\"\n",
            "board_foot = \"0.5 USD/bf\"\nbasis = \"international\"\n",
            "board_foot = \"0.5 USD/bf\"\nbasis = \"doyle\"\n",
            "board_foot = \"0.5 USD/bf\"\nbasis = \"sawn\"\n",
            "board = [\"4 GBP up to 4x8x20\", \"6 GBP\"]\n",
            "share = \"half\"\nshared = \"1 common\"\n",
            "share = \"40 %\"\nshared = [\"graded\", \"8/4\"]\n",
            ALL,
        ] {
            let told = read(rules);
            let text = serde_json::to_string(&charges_form(&told)).unwrap();
            let form: ChargesForm = serde_json::from_str(&text).unwrap();
            assert_eq!(charges(&form).unwrap(), told, "{rules}");
            assert!(told.differences(&charges(&form).unwrap()).is_empty());
        }
    }

    #[test]
    fn what_no_mill_charges_is_refused() {
        let text = serde_json::to_string(&charges_form(&read(ALL))).unwrap();
        for (from, to) in [
            ("\"75.25 USD\"", "\"-1 USD\""),
            ("\"75.25 USD\"", "\"75\""),
            ("[900,\"up\"]", "[0,\"up\"]"),
            ("\"tax\":7250000", "\"tax\":-1"),
            ("\"sawing\"", "\"talking\""),
            ("1609344000000", "0"),
            ("[25400000,", "[99900000,"),
        ] {
            assert!(text.contains(from), "{from} in {text}");
            let form: ChargesForm = serde_json::from_str(&text.replacen(from, to, 1)).unwrap();
            assert!(matches!(charges(&form), Err(KeptFault::Value { .. })), "{to}");
        }
    }

    #[test]
    fn every_rule_that_is_another_is_named() {
        let all = read(ALL);
        let fields: Vec<&str> =
            ALL.lines().filter_map(|line| Some(line.split_once(" = ")?.0)).collect();
        assert_eq!(all.differences(&Charges::default()).len(), fields.len());
        for field in all.differences(&Charges::default()) {
            assert!(fields.contains(&field), "{field}");
        }
        let other = Charges { tax: None, short_log: None, ..all.clone() };
        assert_eq!(all.differences(&other), ["short_log", "tax"]);
    }
}
