//! The whole page: what is seen first, a view for every log, a view for every paper.

use crate::front::{Front, Line, view as front_view};
use crate::log::{Shown, section};
use crate::paper;
use crate::text;
use crate::view::View;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use pithward_draw::{Drawn, hatching, style, thumbnail};
use pithward_geometry::ReplayFault;
use pithward_job::PileJob;
use pithward_optimizer::{LogFate, PilePlan};
use pithward_report::Paper;

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
    let order: Vec<usize> = plan.order.iter().flat_map(|lot| lot.logs.iter().copied()).collect();
    let sawn = |log: usize| match plan.logs.get(log) {
        Some(LogFate::Sawn(sawn)) => Some(sawn),
        _ => None,
    };
    let title = if job.site.is_empty() { text::NO_SITE } else { &job.site };
    let of = match job.date.as_str() {
        "" => title.to_owned(),
        date => format!("{title}, {date}"),
    };
    let mut sections = Vec::with_capacity(order.len());
    let mut lines = Vec::with_capacity(order.len());
    let mut cards = 0;
    for (n, log) in order.iter().enumerate() {
        let (Some(plan), Some(known)) = (sawn(*log), job.logs.get(*log)) else { continue };
        let log_job = job.log_job(*log);
        let number = n + 1;
        let (section, sheets) = section(&Shown {
            number,
            count: order.len(),
            id: &known.id,
            notes: &known.notes,
            of: &of,
            job: &log_job,
            plan,
        })?;
        sections.push(section);
        cards += sheets;
        let drawn = Drawn::of(&log_job.log, &log_job.mill, plan)?;
        lines.push(Line {
            id: &known.id,
            end: thumbnail(&drawn, &format!("end-{number}"), &known.id),
        });
    }
    let left: Vec<&str> = (0..job.logs.len())
        .filter(|log| !order.contains(log))
        .filter_map(|log| job.logs.get(log).map(|known| known.id.as_str()))
        .collect();
    let text = sections.iter().flat_map(|section: &Markup| section.0.bytes()).collect::<Vec<u8>>();
    let key = format!("{:08x}", crc32fast::hash(&text));
    let views: Vec<View> = papers
        .papers
        .iter()
        .map(|(kind, paper)| {
            let (id, name) = kind.names();
            paper::view(id, name, paper, &of)
        })
        .collect();
    let jumps = match views.is_empty() {
        true => &JUMPS[1..],
        false => &JUMPS[..],
    };
    let front = Front { job, plan, title, of: &of, lines: &lines, left: &left, jumps };
    let (front, own) = front_view(&front, &views, cards, &papers.note);
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
                data-count=(text::OF) data-step=(text::STEP_OF) data-next-log=(text::NEXT_LOG) {
                (hatching())
                main {
                    (front)
                    @for section in &sections { (section) }
                    @for view in &views { (view.section()) }
                }
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
    Ok(Page {
        html: closed(&page.into_string()),
        cards: own + cards,
        papers: views.iter().map(|view| (view.name, view.sheets)).collect(),
    })
}

/// Elements of pictures that hold nothing end where they begin: a fifth of the page. Text is escaped, so none of these is text.
fn closed(page: &str) -> String {
    ["polygon", "path", "circle", "line", "rect", "use"]
        .iter()
        .fold(page.to_owned(), |page, name| page.replace(&format!("></{name}>"), "/>"))
}
