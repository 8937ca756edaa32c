//! Where the insulation of an assembly lies: between its frames, outboard of them, and what is on its two sides.

use std::ops::Range;

use crate::facts::AssemblyFacts;
use crate::facts::layer::{Known, Lack};
use crate::facts::vapor;
use crate::model::{AssemblyKind, Control, Controls, MaterialKind};
use crate::physics::{self, Ventilation};

impl AssemblyFacts {
    /// A layer that insulates between frames. A fill that no other layer could support is one as well: its author left the
    /// frame out.
    pub fn is_cavity(&self, layer: usize) -> bool {
        self.layers[layer].insulating && (self.layers[layer].frame.is_some() || self.lacks_frame(layer))
    }

    /// A fill without `between` behind a board, where no layer states a frame and none is massive enough to stand by itself.
    /// Fill outboard of all boards is held by battens.
    pub fn lacks_frame(&self, layer: usize) -> bool {
        let carried = |i: usize| {
            self.layers[i].frame.is_some()
                || matches!(self.material_kind(i), Some(MaterialKind::Mass | MaterialKind::Frame) | None)
        };
        let fill = self.material_kind(layer) == Some(MaterialKind::Fill);
        let sheathed = (0..layer).any(|i| self.material_kind(i) == Some(MaterialKind::Board));
        // A line that could not be read may be the one that states the frame.
        fill && sheathed && !self.doubtful() && !(0..self.layers.len()).any(carried)
    }

    /// The outermost cavity insulation that air passes.
    fn airy(&self) -> Option<usize> {
        (0..self.layers.len()).find(|i| self.is_cavity(*i) && !self.layers[*i].airtight)
    }

    /// The layer that insulates most. Cavity insulation goes first, because it is in the plane of the structure.
    pub fn insulation(&self) -> Option<usize> {
        let resistance = |i: usize| self.layers[i].resistance.as_ref().copied().unwrap_or(0.0);
        let candidates = || (0..self.layers.len()).filter(|i| self.layers[*i].insulating);
        let most = |cavity: bool| {
            candidates()
                .filter(|i| self.is_cavity(*i) == cavity)
                .max_by(|a, b| resistance(*a).total_cmp(&resistance(*b)))
        };
        most(true).or_else(|| most(false))
    }

    /// The innermost vented gap, whose air is taken to be outdoor air, so that layers outboard of it do not count; without one,
    /// the first layer.
    pub fn first_inner(&self) -> usize {
        super::assembly::inboard_of_vent(&self.layers)
    }

    /// Layers on the warm side of the insulation. Foam between the frames retards vapor itself and is included.
    pub fn inboard(&self) -> Range<usize> {
        self.insulation().map_or(0..0, |i| {
            let foam = self.layers[i].airtight && self.is_cavity(i);
            (if foam { i } else { i + 1 })..self.layers.len()
        })
    }

    /// Layers on the cold side of the insulation, up to a vented gap.
    pub fn outboard(&self) -> Range<usize> {
        self.insulation().map_or(0..0, |i| self.first_inner().min(i)..i)
    }

    /// The layer of the range that lets the least vapor through (dry-cup), or the property that is missing.
    pub fn tightest(&self, range: Range<usize>) -> Option<Known<usize>> {
        let mut tightest: Option<(usize, f64)> = None;
        for i in range {
            match &self.layers[i].sd {
                Ok(sd) if tightest.is_none_or(|(_, most)| sd.dry > most) => tightest = Some((i, sd.dry)),
                Ok(_) => {}
                Err(lack) => return Some(Err(lack.clone())),
            }
        }
        tightest.map(|(i, _)| Ok(i))
    }

    /// The board that sheathes the frame: the first board outboard of the insulation that moisture damages, or the
    /// board nearest to the insulation.
    pub fn sheathing(&self) -> Option<usize> {
        let boards = || self.outboard().rev().filter(|i| self.material_kind(*i) == Some(MaterialKind::Board));
        let sheathing = |i: &usize| !self.layers[*i].insulating;
        boards()
            .filter(sheathing)
            .find(|i| self.assembly.layers[*i].material.sensitive)
            .or_else(|| boards().find(sheathing))
    }

    /// Labeled R that keeps the sheathing warm, m2 K/W: the insulation outboard of the first cavity insulation that air passes,
    /// foam against the sheathing with it; where foam alone fills the cavities, all of it.
    pub fn continuous_insulation(&self) -> Known<f64> {
        let framed = (0..self.layers.len()).find(|i| self.layers[*i].frame.is_some() || self.is_cavity(*i));
        let foam = || (0..self.layers.len()).rev().find(|i| self.is_cavity(*i)).map(|i| i + 1);
        let end = self.airy().or_else(foam).or(framed).unwrap_or(0);
        self.labeled_outboard(end)
    }

    /// Labeled R of the insulation outboard of a layer, up to a vented gap, m2 K/W.
    pub fn labeled_outboard(&self, layer: usize) -> Known<f64> {
        let range = self.first_inner().min(layer)..layer;
        range.filter(|i| self.layers[*i].insulating).map(|i| self.layers[i].labeled.clone()).sum()
    }

    /// Depth of the framed layers, m: that of the studs, whose foam and batts are layers of their own.
    pub fn frame_depth(&self) -> Option<f64> {
        let cavity = || (0..self.layers.len()).filter(|i| self.is_cavity(*i));
        let depth = |i: usize| self.layers[i].thickness;
        let first = cavity().next();
        // Adjacent layers share one depth of studs. Layers that lie apart have frames of their own.
        let run = first.map(|first| (first..self.layers.len()).take_while(|i| self.is_cavity(*i)));
        run.map(|run| run.filter_map(depth).sum())
            .or_else(|| self.layers.iter().find(|l| l.frame.is_some()).and_then(|l| l.thickness))
    }

    /// Whether the wall can dry behind its cladding, by air or through loose joints: a vented gap, the air space behind a
    /// veneer, or vinyl siding on its own hangers, as IRC R202 names them (from memory).
    pub fn vented_cladding(&self) -> bool {
        let Some(cladding) = self.assembly.layers.iter().position(|l| l.material.kind == Some(MaterialKind::Cladding))
        else {
            return false;
        };
        let surface = self.assembly.layers[cladding].material.surface.as_deref();
        let mut gaps =
            (cladding + 1..self.layers.len()).take_while(|i| self.material_kind(*i) == Some(MaterialKind::Gap));
        let drains = |i: usize| surface == Some("masonry") && self.assembly.layers[i].material.drained;
        surface == Some("vinyl")
            || self.layers.iter().skip(cladding).any(|l| l.ventilation == Ventilation::Well)
            || gaps.any(drains)
    }

    /// Class of a layer by its dry-cup permeance at its thickness.
    pub fn class(&self, layer: usize) -> Known<&'static str> {
        self.layers[layer].sd.as_ref().map(|sd| vapor::class(vapor::permeance(sd.dry))).map_err(Lack::clone)
    }

    /// Permeance of the drying path from a layer outward, to the outdoors or to the first vented gap, in kg/(Pa s m2) by
    /// wet-cup values. It is infinite where no layer is in the way. The layer itself does not count.
    pub fn dries_out(&self, layer: usize) -> Known<f64> {
        self.way((0..layer).rev())
    }

    /// The same inward, to the room or to the first vented gap.
    pub fn dries_in(&self, layer: usize) -> Known<f64> {
        self.way(layer + 1..self.layers.len())
    }

    fn way(&self, layers: impl Iterator<Item = usize>) -> Known<f64> {
        physics::drying_permeance(layers.map(|i| {
            let layer = &self.layers[i];
            (layer.ventilation, layer.sd.as_ref().map(|sd| sd.wet).map_err(Lack::clone))
        }))
    }

    /// The controls that an assembly of this kind needs and that no layer has. A floor gets no rain, and below grade a vapor
    /// retarder keeps out damp as well.
    pub fn undeclared(&self) -> Controls {
        let is_due = |control| match (self.assembly.kind, control) {
            (AssemblyKind::Floor, Control::Water) => false,
            (AssemblyKind::Foundation, Control::Water) => !self.declares(Control::Vapor),
            (_, Control::Thermal) => self.insulated(),
            _ => true,
        };
        let due = [Control::Water, Control::Air, Control::Thermal].into_iter().filter(|control| is_due(*control));
        due.filter(|control| !self.declares(*control)).collect()
    }

    pub(super) fn material_kind(&self, layer: usize) -> Option<MaterialKind> {
        self.assembly.layers[layer].material.kind
    }
}
