//! A page says all that its papers say, as text, and as many sheets as it has.

use std::path::Path;

use pithward_day::promise::Promise;
use pithward_day::range::{Asked, ByHours, forecast};
use pithward_job::parse_job;
use pithward_optimizer::plan_pile;
use pithward_page::{Page, PaperKind, Papers, pile_page};
use pithward_report::{Block, Paper, Quoted, customer_sheet, quote_page, terms_sheet, work_order};

const AWKWARD: &str = include_str!("../../../tests/pages/awkward.toml");

/// The page of the awkward job, with some of its papers, with ranges from so many piles.
fn page(piles: u32) -> (Page, Vec<Paper>) {
    let job = parse_job(AWKWARD.as_bytes(), "awkward.toml", "JOB", Path::new(""))
        .expect("the job has no fault");
    let pile = job.pile();
    let plan = plan_pile(&pile, &()).expect("its plan replays");
    let promise = Promise::of(&job, &plan, None).expect("its plan replays");
    let asked = Asked { piles, learned: 24, ..Asked::default() };
    let ranges = forecast(&job, &plan, &ByHours::of(&job), &asked, &()).expect("a sound mill");
    let forecast = (piles > 0).then_some(&ranges);
    let quoted = Quoted { job: &job, pile: &pile, plan: &plan, promise: &promise, forecast };
    let papers = vec![
        (PaperKind::Quote, quote_page(&quoted)),
        (PaperKind::Customer, customer_sheet(&quoted)),
        (PaperKind::Terms, terms_sheet(&quoted)),
        (PaperKind::WorkOrder, work_order(&quoted)),
    ];
    let all = papers.iter().map(|(_, paper)| paper.clone()).collect();
    let page = pile_page(&job, &plan, &Papers { papers, note: "<b>".to_owned() })
        .expect("its plan replays");
    (page, all)
}

/// Text as it stands in HTML.
fn escaped(words: &str) -> String {
    words.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

/// All words of a paper.
fn words(paper: &Paper) -> Vec<String> {
    let mut all = vec![paper.title().to_owned()];
    for block in paper.blocks() {
        match block {
            Block::Say(words) | Block::Caution(words) => all.push(words.clone()),
            Block::Items(many) | Block::Ticks(many) => all.extend(many.iter().cloned()),
            Block::Table(table) => {
                all.extend(table.columns().iter().map(|(head, _)| head.clone()));
                all.extend(table.rows().iter().flatten().cloned());
            }
            // They begin with a capital on the page.
            Block::Heading(words) => all.push(words.chars().skip(1).collect()),
            Block::Blanks(labels) => {
                all.extend(labels.iter().map(|label| label.chars().skip(1).collect()));
            }
        }
    }
    all
}

#[test]
fn every_word_of_a_paper_is_on_the_page_as_text() {
    let (page, papers) = page(0);
    for paper in &papers {
        for words in words(paper) {
            assert!(page.html.contains(&escaped(&words)), "{words}");
        }
    }
    // What people typed is text: there is one script, one style sheet, and no element that nobody wrote.
    for (markup, count) in
        [("<script", 1), ("</script", 1), ("<style", 1), ("</style", 1), ("<img", 0), ("<b>", 0)]
    {
        assert_eq!(page.html.matches(markup).count(), count, "{markup}");
    }
}

#[test]
fn it_says_how_many_sheets_it_has() {
    let (page, papers) = page(0);
    let views: Vec<&str> = page.html.split("<section class=\"view ").skip(1).collect();
    let sheets = |view: &str| view.matches("<div class=\"sheet\"").count();
    let stated = |view: &str| {
        let (_, rest) = view.split_once("data-sheets=\"")?;
        rest.split_once('"')?.0.parse::<usize>().ok()
    };
    assert_eq!(views.len(), 1 + 4 + papers.len(), "a view for the job, each log, each paper");
    for view in &views {
        assert_eq!(stated(view), Some(sheets(view)));
    }
    let cards: usize = views.iter().take(5).map(|view| sheets(view)).sum();
    assert_eq!(cards, page.cards);
    let of_papers: Vec<usize> = views.iter().skip(5).map(|view| sheets(view)).collect();
    assert_eq!(of_papers, page.papers.iter().map(|(_, sheets)| *sheets).collect::<Vec<_>>());
}

#[test]
fn ranges_are_drawn_where_there_are_some() {
    let drawn = |page: &Page| page.html.matches("<td class=\"drawn\"><svg").count();
    assert_eq!(drawn(&page(0).0), 0);
    // Three wants on the quote and on the customer's sheet; hours, two prices, board feet and blades.
    assert_eq!(drawn(&page(8).0), 3 + 3 + 5);
}

#[test]
fn the_same_job_is_the_same_page() {
    assert_eq!(page(0).0.html, page(0).0.html);
}
