//! A quartered log as it is sawn: what is parted, what is set aside, and in which rests each part is sawn.
//!
//! # Rests
//! A half is parted standing on its bark, its flat against the stops; what is left of it on the bed is sawn on from there.
//! A quarter lies on its bark with one flat up. Where its first flat is up the other one stands against the stops; where
//! the other one is up nothing does, for the first one then faces away from them.

use super::{Laid, Placed, Sawing, below};
use crate::family::quarter::pack::Pack;
use crate::family::quarter::sectors::{QUARTERS, Sectors, Slice, flat};
use crate::family::quarter::{QuarterShape, Toward};
use crate::site::Lie;
use pithward_geometry::{Body, Face, HalfSpace, PartId, Place, ReplayFault, Resaw, Support};
use pithward_measure::Length;

/// A part that is set aside.
type Aside<'a> = (PartId, Body<'a>);

impl<'a> Sawing<'_, 'a> {
    pub(super) fn quarter(&mut self, shape: &QuarterShape) -> Result<(), ReplayFault> {
        match shape {
            QuarterShape::Sectors(sectors) => self.sectors(sectors),
            QuarterShape::Pack(pack) => self.pack(pack),
        }
    }

    fn sectors(&mut self, sectors: &Sectors) -> Result<(), ReplayFault> {
        let first = self.lay(0, Support::Bark, None);
        let [_, y] = sectors.parted;
        let upper = self.freed_at(&first, y, Toward::Up)?;
        self.stage(&first, [first.axis + y], vec![None]);
        if sectors.has(0) || sectors.has(1) {
            let quarter = self.half(sectors, 0)?;
            self.aside(quarter, sectors, 1);
        }
        if sectors.has(2) || sectors.has(3) {
            self.put_back(upper);
            let quarter = self.half(sectors, 2)?;
            self.aside(quarter, sectors, 3);
        }
        Ok(())
    }

    /// Parts the half that is on the mill, and saws the quarter of this number, which stays on the bed; what was freed.
    fn half(&mut self, sectors: &Sectors, quarter: usize) -> Result<Aside<'a>, ReplayFault> {
        let (toward, _) = QUARTERS[quarter];
        let laid = self.lay(toward.degrees(), Support::Bark, Some(Face::A));
        let plane = flat(toward, sectors.parted, self.kerf);
        let aside = self.freed_at(&laid, plane, toward)?;
        let slices = sectors.slices(quarter, self.kerf);
        let mut slices = slices.iter();
        // The first board comes off the flat that is up.
        let first = slices.next();
        let heights = std::iter::once(laid.axis + plane)
            .chain(first.map(|slice| laid.axis + self.blade(slice)));
        let heights: Vec<i64> = heights.collect();
        let freed = std::iter::once(None).chain(first.map(|slice| Some(self.slice(slice))));
        let freed = freed.collect();
        self.stage(&laid, heights, freed);
        self.rounds(slices, Face::A);
        Ok(aside)
    }

    /// Puts a quarter back and saws it, if there is anything to saw of it.
    fn aside(&mut self, aside: Aside<'a>, sectors: &Sectors, quarter: usize) {
        if sectors.has(quarter) {
            self.put_back(aside);
            let slices = sectors.slices(quarter, self.kerf);
            self.rounds(slices.iter(), Face::B);
        }
    }

    /// Boards off the flats of a quarter, each in a stage of its own; `stops` is the second flat.
    fn rounds<'s>(&mut self, slices: impl Iterator<Item = &'s Slice<'s>>, stops: Face) {
        for slice in slices {
            let (toward, _) = slice.flat;
            let laid = self.lay(toward.degrees(), Support::Bark, slice.is_first.then_some(stops));
            let height = laid.axis + self.blade(slice);
            self.stage(&laid, [height], vec![Some(self.slice(slice))]);
        }
    }

    /// Where the blade passes under a board, along what is up.
    fn blade(&self, slice: &Slice<'_>) -> i64 {
        slice.flat.1 - slice.board.thickness - self.kerf
    }

    fn slice(&self, slice: &Slice<'_>) -> Placed {
        let (toward, face) = slice.flat;
        let (other, edge) = slice.other;
        let (from, to) = toward.planes(face, slice.board.thickness);
        self.placed(toward.lie(other, edge), from, to, slice.board)
    }

    fn pack(&mut self, pack: &Pack) -> Result<(), ReplayFault> {
        let first = self.lay(0, Support::Bark, None);
        let upper = self.freed_at(&first, pack.top, Toward::Up)?;
        let planes: Vec<_> = pack.line.planes(self.kerf).collect();
        let boards = planes.iter().rev();
        let heights: Vec<i64> = std::iter::once(first.axis + pack.top)
            .chain(boards.clone().map(|(from, ..)| first.axis + from - self.kerf))
            .collect();
        let boards =
            boards.map(|(from, to, board)| Some(self.placed(Lie::ROUND, *from, *to, board)));
        let freed = std::iter::once(None).chain(boards).collect();
        self.stage(&first, heights, freed);
        if !pack.below.boards.is_empty() {
            let lie = pack.lie(false, self.kerf);
            let laid = self.lay(Toward::Right.degrees(), Support::Bark, Some(Face::A));
            let line = self.place_line(&pack.below, lie, &laid, (true, true));
            self.straight_down(&line, lie, laid, true);
        }
        if !pack.above.boards.is_empty() {
            self.put_back(upper);
            let lie = pack.lie(true, self.kerf);
            let laid = self.lay(Toward::Left.degrees(), Support::Bark, Some(Face::A));
            let line = self.place_line(&pack.above, lie, &laid, (true, false));
            self.straight_down(&line, lie, laid, false);
        }
        Ok(())
    }

    /// What a pass at a plane frees of the body that is on the mill; where it stands too high above the blade, that.
    fn freed_at(&self, laid: &Laid, plane: i64, toward: Toward) -> Result<Aside<'a>, ReplayFault> {
        let above = Length::nm(laid.top - laid.axis - plane);
        if above > self.mill.deepest_above {
            return Err(ReplayFault::TooDeep {
                place: self.next_stage(),
                pass: 1,
                above: above.inches_f64(),
                limit: self.mill.deepest_above.inches_f64(),
            });
        }
        let HalfSpace { normal, offset } =
            below(self.site, toward.of(self.site), plane + self.kerf);
        let beyond = HalfSpace { normal: normal.map(|c| -c), offset: -offset };
        Ok((self.id(PartId::Freed(self.freed + 1)), self.body.cut(beyond)))
    }

    /// The stage that is being written.
    fn next_stage(&self) -> Place {
        let stage = self.stages.len() + 1;
        match self.order.resaws.len() {
            0 => Place::Log { stage },
            resaw => Place::Resaw { resaw, stage },
        }
    }

    /// Ends the body that was sawn, and puts a part that was set aside on the mill.
    fn put_back(&mut self, (part, body): Aside<'a>) {
        self.done();
        self.order.resaws.push(Resaw { part, stages: Vec::new() });
        self.body = body;
        self.faces.clear();
        self.freed = 0;
    }
}
