//! Where rain is stopped in each cell: it goes through what does not hold it, from outside in.

use crate::facts::face::budget::{Budget, TooLarge};
use crate::facts::face::{Cells, Coordinate, Extent, Face, Joints, LayerEnd, Piece};
use crate::model::{Control, MaterialKind};

/// The water line of every cell. Pieces outboard of it shelter nothing, and drops run on the rest.
#[derive(Clone, Debug)]
pub struct WaterLine {
    natures: Vec<Nature>,
    /// For each cell, how many pieces of its outer stack lie at the line or inboard of it.
    depths: Vec<u32>,
    grade: Option<Coordinate>,
}

/// What a piece does with rain, and rain with it.
#[derive(Clone, Copy, Debug, Default)]
struct Nature {
    /// It has to be kept dry.
    protected: Protected,
    /// Rain goes through it.
    open: bool,
    /// Water does it harm.
    suffers: bool,
    /// It is of a layer that controls water.
    layer: bool,
    /// It holds water. A batten outboard of it may get wet.
    holds: bool,
    /// It carries a cladding.
    batten: bool,
    /// It fills the space under a membrane, which does not count as standing clear of the wall because of it.
    fills: bool,
    /// A flashing tight to the water control layer.
    part: bool,
    /// A frame of no assembly, such as the angle that carries a veneer.
    carries: bool,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Protected {
    #[default]
    No,
    BelowGrade,
    Yes,
}

impl WaterLine {
    pub fn new(face: &Face, cells: &Cells, joints: &Joints, budget: &mut Budget) -> Result<WaterLine, TooLarge> {
        budget.spend(face.pieces.len() * (2 + face.pieces.len() / 64))?;
        let ends = face.pieces.iter().filter(|p| p.is_of_water_layer()).filter_map(|p| p.layer);
        let mut shown: Vec<usize> = ends.map(|end| end.assembly).collect();
        shown.sort_unstable();
        shown.dedup();
        let nature = |piece| Nature::of(face, joints, &shown, piece);
        let natures: Vec<Nature> = (0..face.pieces.len()).map(nature).collect();
        let mut line = WaterLine { natures, depths: Vec::new(), grade: face.grade };
        if line.natures.iter().all(|nature| !nature.open && nature.protected == Protected::No) {
            return Ok(line);
        }
        line.depths.reserve(cells.columns() * cells.rows());
        for column in 0..cells.columns() {
            let mut last: Option<(&[u32], u32)> = None;
            for row in 0..cells.rows() {
                let stack = cells.stack(column, row);
                budget.spend(1 + stack.len())?;
                // Up a column stacks are often the same.
                let depth = match last {
                    Some((same, depth)) if same == stack && line.grade.is_none() => depth,
                    _ => {
                        budget.spend(2 * stack.len())?;
                        line.depth(stack, cells.row(row)) as u32
                    }
                };
                last = Some((stack, depth));
                line.depths.push(depth);
            }
        }
        Ok(line)
    }

    /// The pieces of a cell's outer stack at the line and inboard of it; the last of them is the line.
    pub fn stack<'a>(&self, cells: &'a Cells, column: usize, row: usize) -> &'a [u32] {
        let whole = cells.stack(column, row);
        self.depths.get(cells.cell(column, row)).map_or(whole, |&depth| &whole[..depth as usize])
    }

    /// Whether rain has to be kept off it at this height.
    pub fn protects(&self, piece: usize, up: Extent) -> bool {
        self.protected(piece as u32, up)
    }

    /// Whether rain goes through it at this height and does it no harm.
    pub fn lets_through(&self, piece: usize, up: Extent) -> bool {
        let nature = self.natures[piece];
        !nature.suffers && (nature.open || self.protected(piece as u32, up))
    }

    /// Whether a drop on this piece of a stack is behind the water control layer: no piece of the layer is at this place or
    /// inboard of it, and some piece is outboard.
    pub fn is_behind(&self, stack: &[u32], at: usize) -> bool {
        let layer = |pieces: &[u32]| pieces.iter().any(|&p| self.natures[p as usize].layer);
        let Some((inboard, outboard)) = stack.split_at_checked(at + 1) else { return false };
        !self.natures[stack[at] as usize].part && !layer(inboard) && layer(outboard)
    }

    /// How many pieces lie at the line or inboard of it.
    fn depth(&self, stack: &[u32], up: Extent) -> usize {
        let layer_within = |at: usize| stack[..at].iter().any(|&p| self.natures[p as usize].is_of_line());
        for (at, &piece) in stack.iter().enumerate().rev() {
            let nature = self.natures[piece as usize];
            let protected = self.protected(piece, up);
            if protected {
                let wetted = nature.batten && stack[..at].iter().any(|&p| self.natures[p as usize].holds);
                if !wetted && !layer_within(at) {
                    return at + 1;
                }
            } else if !nature.open && !self.is_screen(stack, at, up) {
                return at + 1;
            }
        }
        stack.len().min(1)
    }

    /// Whether the piece at this place is only a screen: a piece of a water control layer lies farther inboard, with something
    /// open between the two. Of two pieces of a water control layer the outer one is the line, unless what stands between is
    /// outboard of that layer. Over the angle that carries a veneer a flashing that is tight to the layer above it stays the line.
    fn is_screen(&self, stack: &[u32], at: usize, up: Extent) -> bool {
        let Nature { layer: own, part, .. } = self.natures[stack[at] as usize];
        let mut open = false;
        stack[..at].iter().rev().any(|&piece| {
            let nature = self.natures[piece as usize];
            let protected = self.protected(piece, up);
            if nature.layer && open {
                return true;
            }
            open |= (nature.open || protected) && !nature.fills && !(own && protected) && !(part && nature.carries);
            false
        })
    }

    fn protected(&self, piece: u32, up: Extent) -> bool {
        match self.natures[piece as usize].protected {
            Protected::Yes => true,
            Protected::BelowGrade => self.grade.is_some_and(|grade| up.high <= grade),
            Protected::No => false,
        }
    }
}

impl Nature {
    /// Of the water control layer, or a flashing tight to it: below the foot of a sheet the flashing that it laps goes on in its place.
    fn is_of_line(&self) -> bool {
        self.layer || self.part
    }

    /// What `face` says of a piece. A water control layer without a piece on the face protects nothing that could be judged.
    fn of(face: &Face, joints: &Joints, shown: &[usize], index: usize) -> Nature {
        let piece = &face.pieces[index];
        let layer = piece.is_of_water_layer();
        let holds = piece.holds.has(Control::Water);
        let protected = if piece.suffers() {
            Protected::Yes
        } else if !face.stands_behind_water(piece) || piece.layer.is_none_or(|own| !shown.contains(&own.assembly)) {
            Protected::No
        } else if face.is_footing(piece) {
            Protected::BelowGrade
        } else {
            Protected::Yes
        };
        // A frame or a board that its author seals with a bead, such as wood trim, is there to stop water. A bead on insulation
        // is only its adhesive.
        let sealed = matches!(piece.kind, Some(MaterialKind::Frame | MaterialKind::Board))
            && !piece.holds.has(Control::Thermal)
            && joints.sealed_to(index).next().is_some();
        let stands_free = sealed || matches!(piece.kind, Some(MaterialKind::Mass | MaterialKind::Unit));
        let open = protected == Protected::Yes
            || !layer
                && (face.stands_before_water(piece) || !holds && !piece.controls.has(Control::Water) && !stands_free);
        let before = |p: usize| {
            let kind = face.pieces[p].kind;
            kind == Some(MaterialKind::Cladding) && !face.pieces[p].holds.has(Control::Water)
                || kind == Some(MaterialKind::Gap)
        };
        let batten = piece.is(MaterialKind::Frame) && joints.contact.of(index).any(before);
        let flashes = piece.serves_as_flashing() || matches!(piece.kind, Some(MaterialKind::Tape | MaterialKind::Coat));
        let tight = || joints.contact.of(index).any(|p| face.pieces[p].is_of_water_layer());
        let part = !layer && holds && flashes && tight();
        let carries = piece.is(MaterialKind::Frame) && piece.layer.is_none();
        Nature { protected, open, suffers: piece.suffers(), layer, holds, batten, fills: piece.fills, part, carries }
    }
}

impl Face {
    /// The mass of a foundation, inboard of its water control layer.
    pub fn is_footing(&self, piece: &Piece) -> bool {
        let foundation = |assembly: usize| self.joins.get(assembly).is_some_and(|joined| joined.foundation);
        piece.is(MaterialKind::Mass) && piece.layer.is_some_and(|own| foundation(own.assembly))
    }

    /// Whether it belongs to a layer inboard of the one that controls water and does not hold water itself. The concrete of a
    /// wall or a roof does not replace the water control layer that the assembly names; that of a stem wall does.
    pub fn stands_behind_water(&self, piece: &Piece) -> bool {
        let stands_in = piece.holds.has(Control::Water) && (!piece.is(MaterialKind::Mass) || self.is_footing(piece));
        let sheds = piece.controls.has(Control::Water) || stands_in;
        !sheds && !piece.is(MaterialKind::Gap) && self.beside_water(piece, |[outmost, _], own| outmost < own)
    }

    /// Whether it belongs to a layer outboard of the one that controls water.
    fn stands_before_water(&self, piece: &Piece) -> bool {
        !piece.controls.has(Control::Water) && self.beside_water(piece, |[_, inmost], own| own < inmost)
    }

    fn beside_water(&self, piece: &Piece, so: impl Fn([usize; 2], usize) -> bool) -> bool {
        let water = |own: LayerEnd| self.joins.get(own.assembly).and_then(|joined| joined.water);
        piece.layer.is_some_and(|own| water(own).is_some_and(|water| so(water, own.layer)))
    }
}
