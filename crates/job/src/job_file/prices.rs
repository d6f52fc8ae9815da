//! What is paid by grade, `[[prices]]`.

use pithward_measure::Excerpt;
use pithward_trade::Grade;
use pithward_trade::grade::Prices;

use crate::fault::{Fault, FaultKind};
use crate::file::{Fields, Form, Right};
use crate::grade_text::{GradePrices, PriceRow, thickness};
use crate::typed::Typed;
use crate::worth_text::{GREATEST_WORTH, amount};

use super::wants::{AMOUNT, SPECIES, species};

/// The most rows; more is no list that anybody keeps in mind.
const MOST_ROWS: usize = 200;

/// The fields of the grades, in the order of [`Grade::ALL`].
const GRADES: [&str; Grade::ALL.len()] =
    ["fas", "f1f", "selects", "1_common", "2a_common", "3a_common", "3b_common"];

const PRICES: Form = Form {
    of: "a row of prices",
    fields: &[
        "species",
        "thickness",
        "fas",
        "f1f",
        "selects",
        "1_common",
        "2a_common",
        "3a_common",
        "3b_common",
        "below",
    ],
};

const TABLES: Right = Right {
    what: "a list, each row of prices below its own [[prices]]",
    help: "write [[prices]] and below it what a board foot of each grade is worth, as in fas = 2.40",
    bare: false,
};
const THICKNESS: Right =
    Right { what: "a thickness in quotes", help: "for instance thickness = \"4/4\"", bare: false };

const BELOW_HELP: &str =
    "write what a board foot of a board below all grades is worth, as in below = 0.20, or 0";
const FALL_HELP: &str = "state no more for a poorer grade than for a better one";

/// The rows; `None` where one has a fault.
pub(super) fn read(job: &Fields<'_>, faults: &mut Vec<Fault>) -> Option<GradePrices> {
    let before = faults.len();
    let tables = job.tables("prices", TABLES, faults).unwrap_or_default();
    if tables.len() > MOST_ROWS {
        let at = job.key_at("prices").unwrap_or_else(|| job.head());
        let kind = FaultKind::TooMany { most: MOST_ROWS, got: tables.len() };
        faults
            .push(Typed::absent("prices", job.file, at).fault(kind, "leave out what nobody buys"));
    }
    let rows = tables.into_iter().take(MOST_ROWS).filter_map(|table| {
        let fields = Fields::of(job.file, table, &PRICES, faults);
        row(&fields, faults)
    });
    let rows = rows.collect();
    (faults.len() == before).then_some(GradePrices { rows })
}

fn row(fields: &Fields<'_>, faults: &mut Vec<Fault>) -> Option<PriceRow> {
    let before = faults.len();
    let species = species(&fields.list("species", SPECIES, faults), faults);
    let of = fields.typed("thickness", THICKNESS, faults);
    let thickness = of.read(faults, |text| thickness(&of, text));
    let price = |text: &str| amount(text, 0, GREATEST_WORTH);
    let typed = GRADES.map(|grade| fields.typed(grade, AMOUNT, faults));
    let stated = typed.each_ref().map(|typed| typed.read(faults, price));
    let below = fields.typed("below", AMOUNT, faults);
    let below = below.require(faults, BELOW_HELP, price);
    if faults.len() > before {
        return None;
    }
    let prices = Prices::new(stated, below?);
    if let Some((better, _)) = prices.rises_below() {
        // One that is not stated is worth what the next poorer one is, so this one is.
        let [this, poorer @ ..] = &typed[better as usize..] else { return None };
        let stated = Grade::ALL.into_iter().skip(better as usize + 1).zip(poorer);
        let next = stated.into_iter().find(|(_, typed)| typed.is_given());
        let poorer = next.map_or("a board below all grades", |(grade, _)| grade.name());
        let got = Excerpt::new(this.text.as_deref().unwrap_or_default());
        faults.push(this.fault(FaultKind::PriceRises { better, poorer, got }, FALL_HELP));
        return None;
    }
    Some(PriceRow { species, thickness, prices })
}
