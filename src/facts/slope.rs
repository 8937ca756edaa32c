//! How steep the parts of a face are: as its author or its roofs state, and plumb for walls.

use crate::facts::detail::{level_corners, nanometres, rect};
use crate::facts::face::{self, Coordinate, Extent, OPEN_HIGH, OPEN_LOW, Rect};
use crate::model::{Assembly, AssemblyKind, Axis, Band, Detail};
use crate::quantity::{Quantity, unit_named};

/// The slopes of a face.
pub struct Slopes {
    /// Parts that the author states, in the order of the text: where two overlap, the first counts.
    stated: Vec<(Rect, Quantity)>,
    /// The stretches between folds, from the bottom to the top of the face, each with the slope of the assembly whose pieces
    /// lie there.
    sides: Vec<(Extent, Option<Quantity>)>,
    /// The lowest line that water runs to from both sides.
    valley: Option<Coordinate>,
}

impl Slopes {
    pub fn of(detail: &Detail) -> Slopes {
        let stated = detail.slopes.iter().map(|band| (rect(&band.up, &band.along), band.slope)).collect();
        Slopes { stated, sides: sides(detail), valley: valley(detail) }
    }

    /// How steep the face is at a place; without a place along it, anywhere at that height. `None` where it is not stated: on a
    /// roof without a slope.
    pub fn at(&self, up: Coordinate, along: Option<Coordinate>) -> Option<Quantity> {
        let here = |rect: &Rect| rect.up.reaches(up) && along.is_none_or(|along| rect.along.reaches(along));
        match self.stated.iter().find(|(rect, _)| here(rect)) {
            Some((_, slope)) => Some(*slope),
            None => self.sides[self.side(up)].1,
        }
    }

    /// How steep the author or a roof says that the face is between two heights; `None` where neither says anything and it is
    /// taken to be plumb.
    pub fn said(&self, low: Coordinate, high: Coordinate) -> Option<Quantity> {
        let up = Extent { low, high }.inside();
        let stated = self.stated.iter().find(|(rect, _)| rect.up.reaches(up)).map(|(_, slope)| *slope);
        stated.or_else(|| self.sides[self.side(up)].1.filter(|slope| slope.si.is_finite()))
    }

    /// The slope that the author states for the whole of an extent upward.
    pub fn stated_of_all(&self, up: Extent) -> Option<Quantity> {
        let covers = |rect: &Rect| rect.up.low <= up.low && up.high <= rect.up.high;
        self.stated.iter().find(|(rect, _)| covers(rect)).map(|(_, slope)| *slope)
    }

    /// How steep the face is where a rectangle lies: negative where it falls back to the building. Below a valley it is never
    /// negative, since the face falls to the valley there. `None` also where the rectangle spans different slopes.
    pub fn over(&self, place: Rect) -> Option<Quantity> {
        let bands = self.stated.iter().flat_map(|(rect, _)| [rect.up.low, rect.up.high]);
        let sides = self.sides[self.side(place.up.low)..].iter().map(|(side, _)| side.high);
        let sides = sides.take_while(|&at| at < place.up.high);
        let within = bands.filter(|&at| place.up.low < at && at < place.up.high).chain(sides);
        let mut ends: Vec<Coordinate> = within.chain([place.up.low, place.up.high]).collect();
        ends.sort_unstable();
        ends.dedup();
        let along = place.along.inside();
        let mut slopes =
            ends.windows(2).map(|part| self.at(Extent { low: part[0], high: part[1] }.inside(), Some(along)));
        let first = slopes.next()??;
        let alike = slopes.all(|slope| slope.is_some_and(|slope| slope.si == first.si));
        alike.then(|| self.led(place.up, first))
    }

    /// How steep the author says that a band of the face is, toward where its water is to run: below a valley that is up the face.
    pub fn fall(&self, band: &Band) -> Quantity {
        self.led(rect(&band.up, &band.along).up, band.slope)
    }

    /// The slope of a height of the face toward where its water is to run.
    fn led(&self, up: Extent, slope: Quantity) -> Quantity {
        let below = self.valley.is_some_and(|at| up.high <= at);
        if below { Quantity::from_si(slope.si.abs(), slope.unit) } else { slope }
    }

    /// Whether the slope of some part of an extent is not stated.
    pub fn unsaid(&self, up: Extent) -> bool {
        let sides = &self.sides[self.side(up.low)..];
        let sides = sides.iter().take_while(|(side, _)| side.low < up.high);
        sides.filter(|(_, slope)| slope.is_none()).any(|(side, _)| {
            let part = Extent { low: side.low.max(up.low), high: side.high.min(up.high) };
            !self.stated.iter().any(|(rect, _)| rect.up.low <= part.low && part.high <= rect.up.high)
        })
    }

    /// The parts whose slope is known, for the geometry.
    pub fn rises(&self) -> Vec<face::Slope> {
        let part = |up: Extent, along: Extent, slope: Quantity| face::Slope { up, along, rise: slope.si };
        let stated = self.stated.iter().map(|(rect, slope)| part(rect.up, rect.along, *slope));
        let sides = self.sides.iter().filter_map(|(up, slope)| Some(part(*up, Extent::OPEN, (*slope)?)));
        stated.chain(sides).collect()
    }

    /// The index of the stretch that reaches a height.
    fn side(&self, up: Coordinate) -> usize {
        self.sides.partition_point(|(side, _)| side.high <= up).min(self.sides.len() - 1)
    }
}

/// Whether it is a roof or a balcony floor. A floor states its slope only where rain falls on it.
pub fn is_pitched(assembly: &Assembly) -> bool {
    assembly.kind == AssemblyKind::Roof || assembly.kind == AssemblyKind::Floor && assembly.slope.is_some()
}

/// The lowest line across the face that water runs to from both sides.
fn valley(detail: &Detail) -> Option<Coordinate> {
    detail.valleys.iter().filter(|valley| valley.axis == Axis::Up).map(|valley| nanometres(valley.at)).min()
}

/// The stretches between folds: a roof or a balcony has the slope that it states, and anything else is plumb. Neighbors of
/// equal slope are joined.
fn sides(detail: &Detail) -> Vec<(Extent, Option<Quantity>)> {
    let folds = detail.folds.iter().filter(|fold| fold.axis == Axis::Up).map(|fold| nanometres(fold.at));
    let mut ends: Vec<Coordinate> = folds.chain([OPEN_LOW, OPEN_HIGH]).collect();
    ends.sort_unstable();
    ends.dedup();
    let plumb = unit_named("slope").map(|unit| Quantity::of(f64::INFINITY, unit));
    let mut slopes = vec![plumb; ends.len() - 1];
    let roofs = detail.joins.iter().enumerate().filter(|(_, join)| is_pitched(&join.assembly));
    let upright = detail.joins.iter().enumerate().filter(|(_, join)| !is_pitched(&join.assembly));
    let upright = upright.flat_map(|(join, _)| spans(detail, &ends, join)).filter(is_flat).map(|(side, _)| side);
    let upright: Vec<usize> = upright.collect();
    // Of two roofs on one stretch, the first gives the slope.
    for (join, roof) in roofs.collect::<Vec<_>>().into_iter().rev() {
        let slope = roof.assembly.slope.map(|slope| slope.value);
        let spans = spans(detail, &ends, join);
        // A membrane that turns down over the edge of a roof does not make the wall below a roof.
        let bent = !spans.iter().any(is_flat);
        let sides = reach(&spans, ends.len() - 1).into_iter();
        // Nor does one that goes over a parapet make its far face a roof.
        let far = level_corners(detail).filter(|[low, high]| low < high).map(|[_, high]| high);
        let stands = |side: usize| upright.contains(&side) || far == Some(ends[side]);
        sides.filter(|side| !bent || !stands(*side)).for_each(|side| slopes[side] = slope);
    }
    let mut sides: Vec<(Extent, Option<Quantity>)> = Vec::new();
    for (ends, slope) in ends.windows(2).zip(slopes) {
        match sides.last_mut().filter(|(_, last)| last.map(|q| q.si) == slope.map(|q| q.si)) {
            Some((side, _)) => side.high = ends[1],
            None => sides.push((Extent { low: ends[0], high: ends[1] }, slope)),
        }
    }
    sides
}

/// For each piece of an assembly, the first stretch that it lies on, and the one after its last.
fn spans(detail: &Detail, ends: &[Coordinate], join: usize) -> Vec<(usize, usize)> {
    let pieces = detail.pieces.iter().filter(|piece| piece.layer.is_some_and(|at| at.join == join));
    let span =
        |up: Extent| (ends.partition_point(|&end| end <= up.low) - 1, ends.partition_point(|&end| end < up.high));
    pieces.map(|piece| span(rect(&piece.up, &piece.along).up)).collect()
}

/// Whether the piece stays on one side of each fold.
fn is_flat((first, end): &(usize, usize)) -> bool {
    end - first == 1
}

/// The stretches on which an assembly lies. Its pieces that stay on one side of each fold decide; if there are none, all of its
/// pieces do.
fn reach(spans: &[(usize, usize)], sides: usize) -> Vec<usize> {
    let flat = spans.iter().any(is_flat);
    let mut change = vec![0_i64; sides + 2];
    for (first, end) in spans.iter().filter(|span| !flat || is_flat(span)) {
        change[*first] += 1;
        change[*end] -= 1;
    }
    let mut open = 0;
    let covered = change.into_iter().take(sides).map(|change| {
        open += change;
        open > 0
    });
    covered.enumerate().filter(|(_, covered)| *covered).map(|(side, _)| side).collect()
}

#[cfg(test)]
mod tests {
    use super::{Extent, OPEN_HIGH, OPEN_LOW};

    #[test]
    fn a_place_inside_of_an_extent_is_not_its_end() {
        for (low, high) in [(OPEN_LOW, OPEN_HIGH), (OPEN_LOW, -5), (7, OPEN_HIGH), (-10, -8), (3, 900)] {
            let at = Extent { low, high }.inside();
            assert!(low < at && at < high, "{low} {at} {high}");
        }
    }
}
