//! The whole page: what is seen first, a view for every log, a view for every paper.

use crate::front::{Front, Line, view as front_view};
use crate::log::{Section, Shown, section};
use crate::paper;
use crate::text;
use crate::view::View;
use maud::{DOCTYPE, PreEscaped, html};
use pithward_draw::{hatching, style};
use pithward_geometry::ReplayFault;
use pithward_job::{LogJob, PileJob};
use pithward_optimizer::{LogFate, LogPlan, PilePlan, Tally};
use pithward_report::{Paper, log_want_called, want_called};
use rayon::prelude::*;

const STYLE: &str = include_str!("page.css");
const SCRIPT: &str = include_str!("page.js");

/// What stands in the first view below the order of the logs.
const JUMPS: [(&str, &str); 4] = [
    ("papers", text::PAPERS),
    ("list", text::SUMMARY),
    ("print", text::PRINT),
    ("marks", text::MARKS),
];

/// A paper by what it is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaperKind {
    /// The sawyer's own page of the quote.
    Quote,
    /// What is promised to the customer.
    Customer,
    /// What is agreed.
    Terms,
    /// What is taken along.
    Pack,
    /// Which log when.
    WorkOrder,
    /// What the day came to.
    Bill,
}

impl PaperKind {
    /// Its name in the page's address, and what it is called.
    fn names(self) -> (&'static str, &'static str) {
        match self {
            Self::Quote => ("quote", text::QUOTE),
            Self::Customer => ("customer", text::CUSTOMER),
            Self::Terms => ("terms", text::TERMS),
            Self::Pack => ("pack", text::PACK),
            Self::WorkOrder => ("work-order", text::WORK_ORDER),
            Self::Bill => ("bill", text::BILL),
        }
    }
}

/// The papers that go with the cards.
#[derive(Clone, Debug, Default)]
pub struct Papers {
    /// Each of them, in the order in which they are offered.
    pub papers: Vec<(PaperKind, Paper)>,
    /// What is said of all of them, as where their ranges come from; may be empty.
    pub note: String,
}

/// A page, and what it takes to print it.
#[derive(Clone, Debug)]
pub struct Page {
    /// The page: one file of HTML that needs nothing beside it.
    pub html: String,
    /// On how many sheets the list, the order and the cards of all logs are printed.
    pub cards: usize,
    /// Every paper with the number of its sheets.
    pub papers: Vec<(&'static str, usize)>,
}

/// A pile and its plan as one page, with papers. Marks belong to a plan: of another one there are none.
///
/// # Errors
/// A plan that cannot be gone through, because it does not replay.
pub fn pile_page(job: &PileJob, plan: &PilePlan, papers: &Papers) -> Result<Page, ReplayFault> {
    let order = order(plan);
    let title = if job.site.is_empty() { text::NO_SITE } else { &job.site };
    let of = match job.date.as_str() {
        "" => title.to_owned(),
        date => format!("{title}, {date}"),
    };
    let count = order.len();
    let section = |(n, log): (usize, &usize)| {
        let (log_job, plan) = (job.log_job(*log), sawn(plan, *log)?);
        let known = job.logs.get(*log)?;
        let shown = Shown {
            number: n + 1,
            count,
            id: &known.id,
            notes: &known.notes,
            of: &of,
            job: &log_job,
            plan,
            made: 0,
        };
        Some(section(&shown))
    };
    // Logs are drawn side by side, and stand in their order.
    let sections: Vec<Option<Result<Section, ReplayFault>>> =
        order.par_iter().enumerate().map(section).collect();
    let sections = sections.into_iter().flatten().collect::<Result<Vec<Section>, _>>()?;
    let left: Vec<&str> = (0..job.logs.len())
        .filter(|log| !order.contains(log))
        .filter_map(|log| job.logs.get(log).map(|known| known.id.as_str()))
        .collect();
    let wants = plan.tally.iter().enumerate().take(job.wants.len());
    let wants: Vec<_> = wants.map(|(n, tally)| (want_called(job, n), *tally)).collect();
    let (date, notes) = (job.date.as_str(), job.notes.as_str());
    Ok(page(&Whole { title, of: &of, date, notes, wants, left, sections }, papers))
}

/// One log and its plan as a page. `id` is what it is called, and so many of its passes are made already.
///
/// # Errors
/// A plan that cannot be gone through, because it does not replay.
pub fn log_page(job: &LogJob, plan: &LogPlan, id: &str, made: usize) -> Result<Page, ReplayFault> {
    let of = format!("{} {id}", text::LOG);
    let shown = Shown { number: 1, count: 1, id, notes: "", of: &of, job, plan, made };
    let sections = vec![section(&shown)?];
    let wants = plan.tally.iter().enumerate();
    let wants = wants.map(|(n, tally)| (log_want_called(job, n), *tally)).collect();
    let left = Vec::new();
    let whole = Whole { title: &of, of: &of, date: "", notes: "", wants, left, sections };
    Ok(page(&whole, &Papers::default()))
}

/// The logs in the order of sawing.
pub(crate) fn order(plan: &PilePlan) -> Vec<usize> {
    plan.order.iter().flat_map(|lot| lot.logs.iter().copied()).collect()
}

/// The plan of a log that is sawn.
pub(crate) fn sawn(plan: &PilePlan, log: usize) -> Option<&LogPlan> {
    match plan.logs.get(log) {
        Some(LogFate::Sawn(sawn)) => Some(sawn),
        _ => None,
    }
}

/// What a page is made of, but for its papers.
struct Whole<'a> {
    title: &'a str,
    of: &'a str,
    date: &'a str,
    notes: &'a str,
    wants: Vec<(String, Tally)>,
    left: Vec<&'a str>,
    sections: Vec<Section>,
}

fn page(whole: &Whole<'_>, papers: &Papers) -> Page {
    let Whole { title, of, date, notes, wants, left, sections } = whole;
    let lines: Vec<Line<'_>> =
        sections.iter().map(|section| Line { id: &section.id, end: &section.end }).collect();
    let cards = sections.iter().map(|section| section.sheets).sum::<usize>();
    let mut hash = crc32fast::Hasher::new();
    for section in sections {
        hash.update(section.markup.0.as_bytes());
    }
    let key = format!("{:08x}", hash.finalize());
    let views: Vec<View> = papers
        .papers
        .iter()
        .map(|(kind, paper)| {
            let (id, name) = kind.names();
            paper::view(id, name, paper, of)
        })
        .collect();
    let jumps = match views.is_empty() {
        true => &JUMPS[1..],
        false => &JUMPS[..],
    };
    let front = Front { title, of, date, notes, wants, lines: &lines, left, jumps };
    let (front, own) = front_view(&front, &views, cards, &papers.note);
    let main = html! {
        (front)
        @for section in sections { (section.markup) }
        @for view in &views { (view.section()) }
    };
    let main = compact(&main.into_string());
    let said = format!("--say-at:'{} ';--say-off:'{}: '", text::AT, text::COMES_OFF);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) }
                style { (PreEscaped(style())) (PreEscaped(STYLE)) }
            }
            body data-key=(key) data-go-on=(text::GO_ON) data-begin=(text::BEGIN) data-all-done=(text::ALL_DONE)
                data-count=(text::OF) data-step=(text::STEP_OF) data-next-log=(text::NEXT_LOG) style=(said) {
                (hatching())
                main { (PreEscaped(main)) }
                nav.walker hidden aria-label=(text::WALK) {
                    button.back type="button" { (text::BACK) }
                    button.all type="button" { (text::ALL) }
                    button.next type="button" { (text::NEXT) }
                    button.onward type="button" hidden {}
                }
                script { (PreEscaped(SCRIPT)) }
            }
        }
    };
    Page {
        html: page.into_string(),
        cards: own + cards,
        papers: views.iter().map(|view| (view.name, view.sheets)).collect(),
    }
}

/// Markup without what a page can do without, a seventh of it: elements of pictures that hold nothing end where they begin, a
/// title that says what the label says is left out, and corners are told to the hundredth of an inch, that is to a whole number.
/// All text is escaped, so `="` stands in tags alone.
fn compact(markup: &str) -> String {
    let closed = ["polygon", "path", "circle", "line", "rect", "use"]
        .iter()
        .fold(markup.to_owned(), |all, name| all.replace(&format!("></{name}>"), "/>"));
    let mut left = closed.as_str();
    let mut all = String::with_capacity(left.len());
    while let Some((before, rest)) = left.split_once("=\"") {
        let Some((value, after)) = rest.split_once('"') else { break };
        left = after;
        let (head, name) = before.rsplit_once(' ').unwrap_or(("", before));
        match name {
            "data-piece" => all.push_str(head),
            "class" if value.is_empty() => all.push_str(head),
            "points" => all.push_str(&format!("{before}=\"{}\"", whole(value))),
            _ => all.push_str(&format!("{before}=\"{value}\"")),
        }
        let title = format!("><title>{value}</title>");
        if let Some(after) = left.strip_prefix(&title).filter(|_| name == "aria-label") {
            all.push('>');
            left = after;
        }
    }
    all.push_str(left);
    all
}

/// The corners of a polygon in whole numbers.
fn whole(points: &str) -> String {
    let number = |text: &str| match text.parse::<f64>() {
        Ok(number) if number.abs() >= 0.5 => format!("{number:.0}"),
        Ok(_) => "0".to_owned(),
        Err(_) => text.to_owned(),
    };
    let corner = |corner: &str| corner.split(',').map(number).collect::<Vec<_>>().join(",");
    points.split(' ').map(corner).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_is_told_in_fewer_letters() {
        let markup = "<p class=\"\">=&quot;</p><svg aria-label=\"a b\"><title>a b</title><polygon class=\"piece\" \
                      data-piece=\"3\" points=\"-0.40,12.50 7.00,-3.51\"></polygon></svg>";
        assert_eq!(
            compact(markup),
            "<p>=&quot;</p><svg aria-label=\"a b\"><polygon class=\"piece\" points=\"0,12 7,-4\"/></svg>"
        );
        assert_eq!(compact("<b title=\"x\">y</b><i lang=\"en"), "<b title=\"x\">y</b><i lang=\"en");
    }
}
