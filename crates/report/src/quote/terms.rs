//! The sheet of terms: what customer and sawyer agree on before the day, with blanks.

use super::bill::way;
use super::{Quoted, words};
use crate::grade_words;
use crate::names;
use crate::paper::Paper;
use pithward_day::money::Way;
use pithward_job::Shared;
use pithward_measure::Length;

/// Topics to agree on, with what the mill's own charges say and blanks for the rest. No legal advice.
pub fn terms_sheet(quoted: &Quoted<'_>) -> Paper {
    let Quoted { job, promise, .. } = *quoted;
    let charges = &job.charges;
    let mut paper = Paper::new(quoted.title("Terms of the day at the mill"));
    paper.caution(
        "This is a list of topics that sawyers and customers agree on, and no legal advice. Liability, insurance, taxes and \
         the sale of lumber differ from place to place: have it checked where you are before you sign it.",
    );
    paper.heading("Who, where, when");
    paper.blanks(&["customer", "owner of the logs", "sawyer", "place", "date, or rain date"]);

    paper.heading("Price");
    let mut price = Vec::new();
    let mut say = |words: Option<String>| price.extend(words);
    say(charges.hour.map(|hour| format!("By the hour: {hour} an hour, {}.", billed(quoted))));
    say(charges.odd_hour.map(|hour| format!("Odd work: {hour} an hour.")));
    say(charges
        .board_foot
        .map(|foot| format!("By the board foot: {foot} a board foot, of {}.", foot_basis(quoted))));
    say(charges
        .stacked_foot
        .map(|foot| format!("Where the sawyer stacks the lumber: {foot} a board foot.")));
    say(charges
        .delivered_foot
        .map(|foot| format!("Where the sawyer delivers the lumber: {foot} a board foot.")));
    for board in &charges.boards {
        say(Some(match board.up_to {
            Some(size) => format!("By the board: {} for each up to {size}.", board.price),
            None => format!("By the board: {} for each larger one.", board.price),
        }));
    }
    say(charges.share.as_ref().map(|share| {
        let of = match share.of.as_slice() {
            [] => "all the lumber".to_owned(),
            of => names::list(&of.iter().map(shared).collect::<Vec<_>>()),
        };
        format!("In lumber: {} of {of} is the sawyer's; all else is the customer's.", share.portion)
    }));
    say(charges.short_log.map(|length| {
        format!("A log shorter than {} is billed as if it were so long.", names::long(job, length))
    }));
    say(charges.thin_log.map(|diameter| {
        let diameter = names::exact(job, diameter);
        format!("A log thinner than {diameter} at the small end is billed as if it were so thick.")
    }));
    if !charges.classes.is_empty() {
        let classes: Vec<String> =
            charges.classes.iter().map(|class| names::exact(job, *class)).collect();
        say(Some(format!("Thicknesses are billed as the next of {}.", names::list(&classes))));
    }
    say(charges.set_up.map(|price| format!("Coming and setting up: {price}.")));
    say(charges.drive.map(|drive| {
        let unit = if drive.per == Length::mm(1_000_000) { "kilometre" } else { "mile" };
        format!("The way there and back: {} a {unit}.", drive.price)
    }));
    say(charges.moving_hour.map(|hour| format!("Moving and cleaning logs: {hour} an hour.")));
    say(charges.relocation.map(|price| format!("Moving the mill on site: {price} each time.")));
    say(charges.least.sum.map(|sum| format!("The least that is billed: {sum}.")));
    say(charges.least.hours.map(|hours| {
        format!("The least hours that are billed: {}.", words::time(hours.as_secs_f64() / 60.0))
    }));
    say(charges.blade.map(|price| format!("A blade that metal ruins: {price}.")));
    say(charges
        .strike
        .map(|price| format!("A blade that must be sharpened after metal: {price}.")));
    if price.is_empty() {
        paper.blanks(&["price, and what it is for", "least that is billed", "a ruined blade"]);
    }
    paper.items(price);
    paper.say("Chosen (tick one), and when it is paid:");
    let stated: Vec<Way> = promise.price.ways().map(|(way, _)| way).collect();
    let ways = if stated.is_empty() { Way::ALL.to_vec() } else { stated };
    paper.ticks(ways.iter().map(|of| way(*of).to_owned()).collect());
    paper.blanks(&["paid when and how", "paid before the day"]);
    if ways.contains(&Way::Share) {
        paper.blanks(&[
            "who chooses the boards that are shared, and in which order",
            "when they are shared, and until when they are fetched",
        ]);
    }

    paper.heading("What is agreed");
    paper.items(
        [
            "The customer owns the logs, or may have them sawn.",
            "The logs lie as the customer's sheet says, so that the saw need not wait. Waiting is work.",
            "Lumber is rough, green and ungraded. Nobody warrants how much comes out, of what grade or strength, or how it \
             dries; the figures of the sheet are expectations.",
            "The sawyer may refuse or stop a log for metal, rot or danger. A log that was begun is billed as far as it was \
             sawn.",
            "Who decides at the mill, and signs what is changed on the list, is named below.",
            "Wind, rain, ice and lightning stop the work; a new day is agreed.",
            "Helpers are the customer's. They do as the sawyer says at the mill, and wear what the sheet names.",
            "The customer keeps children, animals and onlookers away.",
            "Wheels and blocking may mark the ground. What lies beneath it was shown beforehand.",
            "Slabs, edgings and sawdust stay, unless it says otherwise below.",
        ]
        .map(str::to_owned)
        .to_vec(),
    );
    if !job.scale.is_metric() || charges.board_foot.is_some() {
        paper.items(vec![
            "A board foot is 144 cubic inches of the size as it is named, unless it says otherwise above."
                .to_owned(),
        ]);
    }
    paper.caution(grade_words::STAMP);
    paper.heading("To fill in");
    paper.blanks(&[
        "who decides at the mill",
        "helpers, how many",
        "insurance of either side",
        "damage and who answers for it",
        "where slabs and sawdust go",
        "cancelled how long before",
        "other",
    ]);
    paper.say(format!(
        "Reckoned from the list as it stands: {} on site.",
        words::time(promise.hours.hours.on_site())
    ));
    paper.heading("Signed");
    paper.blanks(&["customer, date", "sawyer, date"]);
    paper
}

/// What is shared, in words.
fn shared(of: &Shared) -> String {
    match of {
        Shared::Graded => "the boards that are wanted by grade".to_owned(),
        Shared::Grade(grade) => format!("the boards that are wanted as {grade} or better"),
        Shared::Size(size) => format!("the pieces of {size}"),
    }
}

fn billed(quoted: &Quoted<'_>) -> &'static str {
    match quoted.job.charges.billed() {
        pithward_job::BilledHours::OnSite => "from setting up to packing up, without breaks",
        pithward_job::BilledHours::AtTheSaw => "while there is work at the logs",
    }
}

fn foot_basis(quoted: &Quoted<'_>) -> String {
    use pithward_job::FootBasis;
    match quoted.job.charges.basis {
        FootBasis::Named => "the lumber by its named sizes".to_owned(),
        FootBasis::Sawn => "the lumber as it is sawn".to_owned(),
        FootBasis::Scale(rule) => format!("the scale of the logs by the {rule} rule"),
    }
}
