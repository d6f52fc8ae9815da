//! The patterns that are known, whatever pile they were found in.

use super::{Classes, Hidden, Keep};
use crate::column::Columns;
use crate::family::Shape;
use crate::looks::Giving;
use crate::master::{Pattern, Pricer};
use crate::open::{Made, log_plan};
use crate::pile::classes::Mark;
use crate::pile::{Pile, PileLog};
use crate::plan::{LogPlan, Product};
use crate::site::Site;
use crate::want::Want;
use pithward_geometry::{Claim, Log, Span, View};
use pithward_measure::Length;
use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

/// A way to get what a pattern gives.
pub(super) struct Way<T> {
    /// What it gives, by its place in [`Known::gives`].
    pub(super) give: usize,
    pub(super) mark: Arc<Mark>,
    /// The log that it was found in.
    log: PileLog,
    /// The place of that log in the pile.
    place: usize,
    /// As it was sawn there; nothing where the mill cannot.
    sawn: OnceLock<Option<Sawn<T>>>,
}

/// A pattern as it was sawn.
pub(super) struct Sawn<T> {
    pub(super) kept: Arc<T>,
    pub(super) products: Vec<Product>,
    /// Where each of them lies.
    claims: Vec<Claim>,
    /// Of the log.
    length: Length,
    /// What another round log must have for them.
    needs: Vec<Need>,
}

/// What a round log must have for one piece of a pattern, wherever about the pith it lies.
#[derive(Clone, Copy, Debug)]
struct Need {
    /// So long it must be, from the butt.
    long: Length,
    /// So far from the butt the piece ends, inches.
    to: f64,
    /// The radius that must be wood there, inches: to the piece's farthest corner, or as much of it as was wood.
    radius: f64,
}

/// A log that is thicker by more is not taken to be sawn so: its halves and quarters may not clear the head.
const MOST_THICKER: Length = Length::inches(1);

/// All of them.
pub(super) struct Known<T> {
    /// What patterns give, no two the same.
    pub(super) gives: Vec<Pattern>,
    pub(super) ways: Vec<Way<T>>,
    /// For every menu its ways.
    of_menu: Vec<Vec<usize>>,
    /// For everything that is given its ways.
    of_give: Vec<Vec<usize>>,
    places: BTreeMap<Given, usize>,
}

/// What a pattern gives: effort, and want, worth, extra and pieces of each kind of piece.
type Given = (i64, Vec<(usize, i64, i64, u32)>);

fn given(pattern: &Pattern) -> Given {
    let pieces = pattern.pieces.iter();
    (pattern.effort, pieces.map(|p| (p.want, p.worth, p.extra, p.pieces)).collect())
}

impl<T> Known<T> {
    pub(super) fn new(menus: usize) -> Self {
        let (gives, ways, of_give) = (Vec::new(), Vec::new(), Vec::new());
        Self { gives, ways, of_menu: vec![Vec::new(); menus], of_give, places: BTreeMap::new() }
    }

    /// One more way.
    pub(super) fn learn(
        &mut self,
        pattern: Pattern,
        mark: Arc<Mark>,
        (place, log): (usize, PileLog),
    ) {
        let next = self.gives.len();
        let give = *self.places.entry(given(&pattern)).or_insert(next);
        if give == next {
            self.gives.push(pattern);
            self.of_give.push(Vec::new());
        }
        let way = self.ways.len();
        self.of_give[give].push(way);
        self.of_menu[mark.menu].push(way);
        self.ways.push(Way { give, mark, log, place, sawn: OnceLock::new() });
    }

    /// Whether something is known of just this shape of a log, or of one that is thinner and shorter by no more than that.
    pub(super) fn knows(&self, menu: usize, (place, log): (usize, &Log), less: Length) -> bool {
        let sizes = |log: &Log| [log.small_end(), log.butt(), log.length()];
        let near = |other: &Log| {
            let mut sizes = sizes(log).into_iter().zip(sizes(other));
            less > Length::ZERO && sizes.all(|(own, other)| other <= own && own <= other + less)
        };
        let known =
            |way: &Way<T>| way.place == place && (way.log.log == *log || near(&way.log.log));
        self.of_menu[menu].iter().any(|way| known(&self.ways[*way]))
    }

    fn suits(&self, classes: &Classes<'_>, class: usize, way: usize, keep: &Keep<'_, T>) -> bool {
        let known = &self.ways[way];
        let Way { mark, log, place, .. } = known;
        let of = &classes.all[class];
        match mark.only {
            // What boards of a log with defects look like is known of that log alone.
            Some(_)
                if mark.giving.is_some() && of.members[0] != *place && has_defects(log, of.log) =>
            {
                false
            }
            // Quarters, and boards whose rings matter: in round wood they lie about the pith, however thick it is.
            Some(_) if log.log.is_round() => {
                let sawn = || known.sawn.get_or_init(|| Sawn::new(classes.pile, known, keep));
                let thicker = of.log.log.butt() - log.log.butt();
                of.log.log.is_round()
                    && thicker <= MOST_THICKER
                    && (of.log.log == log.log
                        || sawn().as_ref().is_some_and(|sawn| sawn.fits(&of.log.log)))
            }
            // In a log that is not round quarters lie otherwise than in any other.
            Some(_) if matches!(mark.found.shape, Shape::Quarter(_)) => of.log == log,
            // Of a log that is not round and clean, what was found in a thinner and shorter shape lies in a thicker one too.
            Some(_) => {
                let (own, other) = (&of.log.log, &log.log);
                let larger = own.small_end() >= other.small_end()
                    && own.butt() >= other.butt()
                    && own.length() >= other.length();
                of.members[0] == *place && larger
            }
            None => classes.suits(mark, class),
        }
    }

    /// For every way the classes that it is the first to suit, of those that give the same.
    pub(super) fn suitable_ways(
        &self,
        classes: &Classes<'_>,
        keep: &Keep<'_, T>,
    ) -> Vec<(usize, Vec<usize>)> {
        let mut of: Vec<Vec<usize>> = vec![Vec::new(); self.ways.len()];
        let mut known = vec![usize::MAX; self.gives.len()];
        for class in 0..classes.all.len() {
            for way in &self.of_menu[classes.all[class].log.menu] {
                let give = self.ways[*way].give;
                if known[give] != class && self.suits(classes, class, *way, keep) {
                    known[give] = class;
                    of[*way].push(class);
                }
            }
        }
        of.into_iter().enumerate().filter(|(_, of)| !of.is_empty()).collect()
    }

    /// For everything that is given the classes that can give it.
    pub(super) fn suitable(
        &self,
        classes: &Classes<'_>,
        keep: &Keep<'_, T>,
    ) -> Vec<(usize, Vec<usize>)> {
        let mut of: Vec<Vec<usize>> = vec![Vec::new(); self.gives.len()];
        for (way, classes) in self.suitable_ways(classes, keep) {
            of[self.ways[way].give].extend(classes);
        }
        of.into_iter().enumerate().filter(|(_, of)| !of.is_empty()).collect()
    }

    /// What is given as it was sawn, by the first way that suits a class and that the mill can saw.
    pub(super) fn sawn(
        &self,
        classes: &Classes<'_>,
        class: usize,
        give: usize,
        keep: &Keep<'_, T>,
    ) -> Option<&Sawn<T>> {
        let ways = self.of_give[give].iter().filter(|way| self.suits(classes, class, **way, keep));
        ways.filter_map(|way| {
            let way = &self.ways[*way];
            way.sawn.get_or_init(|| Sawn::new(classes.pile, way, keep)).as_ref()
        })
        .next()
    }

    /// What is given without the pieces that are lost.
    pub(super) fn without(
        &self,
        wants: &[Want],
        give: usize,
        sawn: &Sawn<T>,
        lost: &[usize],
    ) -> Pattern {
        let left = sawn.products.iter().enumerate().filter(|(n, _)| !lost.contains(n));
        let pieces = left.map(|(_, product)| {
            let (worth, extra) = product.worths(wants);
            (product.cut.want.0, worth, extra)
        });
        Pattern::new(self.gives[give].effort, pieces)
    }
}

/// Whether one of two logs has a defect.
fn has_defects(one: &PileLog, other: &PileLog) -> bool {
    [one, other].iter().any(|of| !of.log.defects().is_empty())
}

impl Need {
    /// Of a piece of a round log, which takes so much of its length.
    fn new(log: &Log, claim: &Claim, take: Length) -> Self {
        let far = |span: Span| span.from.inches_f64().abs().max(span.to.inches_f64().abs());
        let (u, h) = (far(claim.u), far(claim.h));
        let from = log.length() - claim.z.to;
        let wood = log.wood_radius(claim.z.from.inches_f64().max(0.0));
        Self {
            long: from + take,
            to: (log.length() - claim.z.from).inches_f64(),
            radius: (u * u + h * h).sqrt().min(wood),
        }
    }
}

impl<T> Sawn<T> {
    fn new(pile: &Pile, way: &Way<T>, keep: &Keep<'_, T>) -> Option<Self> {
        let (log, wants) = (&way.log, &pile.menus[way.log.menu]);
        let view = View::new(&log.log, way.mark.frame);
        let columns = Columns::new(&view, pile.mill.crosscut_kerf, wants);
        let site = Site::new(&view, &pile.mill, &columns);
        let giving = way.mark.giving.as_ref().unwrap_or(&Giving::Worth);
        match log_plan(&site, (wants, giving), &pile.settings, &way.mark.found) {
            Ok(Made::Plan(plan)) => {
                let LogPlan { products, order, .. } = plan.as_ref();
                let claims = order.pieces.iter().map(|piece| &piece.claim);
                let needs = products.iter().zip(claims).filter_map(|(product, claim)| {
                    let cut = wants.get(product.cut.want.0)?.cuts.get(product.cut.cut)?;
                    Some(Need::new(&log.log, claim, cut.take))
                });
                Some(Self {
                    needs: needs.collect(),
                    kept: Arc::new(keep(log, &plan)),
                    products: products.clone(),
                    claims: order.pieces.iter().map(|piece| piece.claim).collect(),
                    length: log.log.length(),
                })
            }
            Ok(Made::Unsawable(_)) => None,
            Err(fault) => {
                // A fault of this program: the log is sawn by another pattern, and tests hear of it.
                debug_assert!(false, "{fault}");
                None
            }
        }
    }

    /// Whether all pieces lie in the wood of another round log.
    fn fits(&self, log: &Log) -> bool {
        let long = log.length().inches_f64();
        self.needs.iter().all(|need| {
            log.length() >= need.long && log.wood_radius(long - need.to) >= need.radius - 1e-9
        })
    }

    /// The pieces that lie in what is hidden, by their places.
    pub(super) fn lost(&self, hidden: &[&Hidden]) -> Vec<usize> {
        let lost = |n: &usize| hidden.iter().any(|it| it.takes(&self.claims[*n], self.length));
        (0..self.claims.len()).filter(lost).collect()
    }
}
