//! Bills and charges.

use super::seconds;
use crate::schema::quote::money::{
    BillFaultForm, BillForm, BilledForm, BoardPriceForm, ChargeForm, ChargesForm, DriveForm,
    FootBasisForm, InLumberForm, LineForm, MoneyForm, PriceForm, PricedForm, QuantityForm,
    ShareForm, SizeShareForm,
};
use pithward_day::money::{Bill, BillFault, Charge, InLumber, Line, Quantity, Way};
use pithward_day::promise::Promise;
use pithward_job::{BilledHours, Charges, FootBasis};
use pithward_measure::{Length, Money};

pub(in crate::json) fn money(money: Money) -> MoneyForm {
    let currency = money.currency().to_string();
    let amount = money.to_string();
    MoneyForm { amount: amount.trim_end_matches(&currency).trim_end().to_owned(), currency }
}

pub(super) fn price(promise: &Promise) -> PriceForm {
    let price = &promise.price;
    let way = |way: Way| {
        price.by(way).map(|way| match way {
            Ok(own) => PricedForm::Bill(Box::new(bill(own))),
            Err(faults) => {
                PricedForm::Faults(faults.iter().map(|one| fault(promise, one)).collect())
            }
        })
    };
    PriceForm {
        by_hour: way(Way::Hour),
        by_board_foot: way(Way::BoardFoot),
        by_board: way(Way::Board),
        by_share: way(Way::Share),
        board_feet_an_hour: price.board_feet_an_hour,
    }
}

fn fault(promise: &Promise, fault: &BillFault) -> BillFaultForm {
    let log = match fault {
        // What was done lists the logs in the order of sawing.
        BillFault::NoScale { log, .. } => promise.hours.order.get(*log).copied(),
        BillFault::NoLog | BillFault::NotCounted | BillFault::TooMuch => None,
        BillFault::NoBoardPrice { .. } => None,
    };
    BillFaultForm { log, says: fault.to_string() }
}

pub(in crate::json) fn bill(bill: &Bill) -> BillForm {
    BillForm {
        lines: bill.lines.iter().map(line).collect(),
        sum: money(bill.sum),
        discount: money(bill.discount),
        taxable: money(bill.taxable),
        tax: money(bill.tax),
        rounding: money(bill.rounding),
        total: money(bill.total),
        deposit: money(bill.deposit),
        due: money(bill.due),
        time: seconds(bill.seconds),
        for_short_logs: bill.for_short_logs,
        in_lumber: bill.in_lumber.as_ref().map(in_lumber),
        an_hour: bill.an_hour.map(money),
        a_board_foot: bill.a_board_foot.map(money),
    }
}

fn in_lumber(lumber: &InLumber) -> InLumberForm {
    InLumberForm {
        portion: lumber.portion.parts().into(),
        shared: lumber.shared,
        board_feet: lumber.board_feet,
        sizes: lumber
            .sizes
            .iter()
            .map(|size| SizeShareForm {
                size: size.size.to_string(),
                count: size.count,
                sawyers: size.sawyers,
                board_feet: size.board_feet,
            })
            .collect(),
        rest: lumber.rest,
        worth: lumber.worth,
    }
}

fn line(line: &Line) -> LineForm {
    let class = match line.charge {
        Charge::BoardFeet { class } => class.map(Length::as_nm),
        _ => None,
    };
    LineForm {
        charge: charge(line.charge),
        class,
        up_to: match line.charge {
            Charge::Boards { up_to } => up_to.map(|size| size.to_string()),
            _ => None,
        },
        quantity: match line.quantity {
            Quantity::Seconds(time) => QuantityForm::Time(seconds(time)),
            Quantity::BoardFeet(feet) => QuantityForm::BoardFeet(feet),
            Quantity::Way { way, per } => {
                QuantityForm::Way { length: way.as_nm(), per: per.as_nm() }
            }
            Quantity::Count(count) => QuantityForm::Count(count),
            Quantity::Sum => QuantityForm::Sum,
        },
        price: money(line.price),
        amount: money(line.amount),
        taxed: line.taxed,
    }
}

fn charge(charge: Charge) -> ChargeForm {
    match charge {
        Charge::Hours => ChargeForm::Hours,
        Charge::OddHours => ChargeForm::OddHours,
        Charge::LeastHours => ChargeForm::LeastHours,
        Charge::BoardFeet { .. } => ChargeForm::BoardFeet,
        Charge::LeastBoardFeet => ChargeForm::LeastBoardFeet,
        Charge::Boards { .. } => ChargeForm::Boards,
        Charge::Moving => ChargeForm::Moving,
        Charge::SetUp => ChargeForm::SetUp,
        Charge::Drive => ChargeForm::Drive,
        Charge::Relocation => ChargeForm::Relocation,
        Charge::Strike => ChargeForm::Strike,
        Charge::Blade => ChargeForm::Blade,
        Charge::LeastSum => ChargeForm::LeastSum,
    }
}

pub(super) fn charges(charges: &Charges) -> ChargesForm {
    let least_time = charges.least.hours.map(|time| i64::try_from(time.as_millis()));
    ChargesForm {
        hour: charges.hour.map(money),
        odd_hour: charges.odd_hour.map(money),
        moving_hour: charges.moving_hour.map(money),
        billed: match charges.billed() {
            BilledHours::OnSite => BilledForm::OnSite,
            BilledHours::AtTheSaw => BilledForm::AtTheSaw,
        },
        board_foot: charges.board_foot.map(money),
        stacked_foot: charges.stacked_foot.map(money),
        delivered_foot: charges.delivered_foot.map(money),
        basis: match charges.basis {
            FootBasis::Named => FootBasisForm::Named,
            FootBasis::Sawn => FootBasisForm::Sawn,
            FootBasis::Scale(_) => FootBasisForm::Scale,
        },
        rule: match charges.basis {
            FootBasis::Scale(rule) => Some(rule.to_string()),
            FootBasis::Named | FootBasis::Sawn => None,
        },
        classes: charges.classes.iter().map(|class| class.as_nm()).collect(),
        short_log: charges.short_log.map(Length::as_nm),
        thin_log: charges.thin_log.map(Length::as_nm),
        boards: charges
            .boards
            .iter()
            .map(|board| BoardPriceForm {
                price: money(board.price),
                up_to: board.up_to.map(|size| size.to_string()),
            })
            .collect(),
        share: charges.share.as_ref().map(|share| ShareForm {
            portion: share.portion.parts().into(),
            of: share.of.iter().map(ToString::to_string).collect(),
        }),
        set_up: charges.set_up.map(money),
        drive: charges
            .drive
            .map(|drive| DriveForm { price: money(drive.price), per: drive.per.as_nm() }),
        relocation: charges.relocation.map(money),
        strike: charges.strike.map(money),
        blade: charges.blade.map(money),
        least_time: least_time.map(|time| time.unwrap_or(i64::MAX)),
        least_board_feet: charges.least.board_feet,
        least_sum: charges.least.sum.map(money),
    }
}
