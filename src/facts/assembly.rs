//! What can be worked out of one assembly: heat, vapor, and which layer does what.

use std::sync::Arc;

use crate::facts::layer::{Known, Lack, LayerFacts};
use crate::facts::section::{self, Section, Through};
use crate::facts::vapor;
use crate::model::{Assembly, AssemblyKind, Control, MaterialKind};
use crate::physics::{self, HeatFlow, Part, Resistance, Surfaces, Ventilation};
use crate::quantity::{Dimension, Unit, base_unit};

/// The facts of one assembly. `layers` counts as the assembly's own list does, outside first.
pub struct AssemblyFacts {
    pub assembly: Arc<Assembly>,
    pub layers: Vec<LayerFacts>,
    /// R and U over the whole area, frames included.
    /// `None` for what has no resistance at all, such as an assembly without layers.
    pub thermal: Known<Option<Resistance>>,
    /// The paths that heat and vapor take: one, or between the frames and through them.
    pub sections: Vec<Section>,
    /// Properties that some number would need and nobody gave, each once.
    pub lacks: Vec<Lack>,
    pub length_unit: &'static Unit,
}

impl AssemblyFacts {
    pub fn derive(assembly: Arc<Assembly>) -> AssemblyFacts {
        let flow = heat_flow(assembly.kind);
        let surfaces = surfaces(&assembly, flow);
        let layers: Vec<LayerFacts> = assembly.layers.iter().map(|layer| LayerFacts::derive(layer, flow)).collect();
        let inner = inboard_of_vent(&layers);
        let thermal = thermal(&layers[inner..], surfaces);
        let sections = section::derive(&assembly, &layers, inner, surfaces);
        let lacks = lacks(&layers[inner..]);
        let written = assembly.layers.iter().filter_map(|l| l.thickness).map(|t| t.unit);
        let length_unit = written.into_iter().next().unwrap_or_else(|| base_unit(Dimension::Length));
        AssemblyFacts { assembly, layers, thermal, sections, lacks, length_unit }
    }

    /// Some line of it could not be read, or a layer's material is unknown.
    pub fn doubtful(&self) -> bool {
        self.assembly.doubtful || (0..self.layers.len()).any(|layer| self.layer_doubtful(layer))
    }

    pub fn layer_doubtful(&self, layer: usize) -> bool {
        let layer = &self.assembly.layers[layer];
        layer.doubtful || layer.material.kind.is_none()
    }

    /// The layer that insulates most; a framed one is taken before others, since it sits in the structure.
    pub fn insulation(&self) -> Option<usize> {
        let resistance = |i: usize| self.layers[i].resistance.as_ref().copied().unwrap_or(0.0);
        let candidates = || (0..self.layers.len()).filter(|i| self.layers[*i].insulating);
        let most = |framed: bool| {
            candidates()
                .filter(|i| self.layers[*i].frame.is_some() == framed)
                .max_by(|a, b| resistance(*a).total_cmp(&resistance(*b)))
        };
        most(true).or_else(|| most(false))
    }

    /// The innermost vented gap, which stands for the outdoor air and all that lies outboard of it; else the first layer.
    pub fn first_inner(&self) -> usize {
        inboard_of_vent(&self.layers)
    }

    /// Layers on the warm side of the insulation.
    pub fn inboard(&self) -> std::ops::Range<usize> {
        self.insulation().map_or(0..0, |i| i + 1..self.layers.len())
    }

    /// Layers on the cold side of the insulation, up to a vented gap.
    pub fn outboard(&self) -> std::ops::Range<usize> {
        self.insulation().map_or(0..0, |i| self.first_inner().min(i)..i)
    }

    /// The layer of the range that lets the least vapor through (dry-cup), or what is needed to tell.
    pub fn tightest(&self, range: std::ops::Range<usize>) -> Option<Known<usize>> {
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

    /// R of the unframed insulation outboard of the framed layer, m2 K/W.
    pub fn continuous_insulation(&self) -> Known<f64> {
        let Some(framed) = self.layers.iter().position(|l| l.frame.is_some()) else { return Ok(0.0) };
        let range = self.first_inner().min(framed)..framed;
        range.filter(|i| self.layers[*i].insulating).map(|i| self.layers[i].resistance.clone()).sum()
    }

    /// Depth of the first framed layer from outside, m.
    pub fn frame_depth(&self) -> Option<f64> {
        self.layers.iter().find(|l| l.frame.is_some()).and_then(|l| l.thickness)
    }

    /// A cladding with a vented gap behind it.
    pub fn vented_cladding(&self) -> bool {
        let gap = self.layers.iter().position(|l| l.ventilation == Ventilation::Well);
        gap.is_some_and(|gap| (0..gap).any(|i| self.material_kind(i) == Some(MaterialKind::Cladding)))
    }

    pub fn declares(&self, control: Control) -> bool {
        self.assembly.layers.iter().any(|layer| layer.controls().has(control))
    }

    pub fn insulated(&self) -> bool {
        self.layers.iter().any(|layer| layer.insulating)
    }

    /// Class of a layer by its dry-cup permeance at its thickness.
    pub fn class(&self, layer: usize) -> Known<&'static str> {
        self.layers[layer].sd.as_ref().map(|sd| vapor::class(vapor::permeance(sd.dry))).map_err(Lack::clone)
    }

    /// Permeance of the way from a layer outward, kg/(Pa s m2) by wet-cup values, to the outdoors or to the first vented
    /// gap; infinite when nothing is in the way. The layer itself is no part of its way.
    pub fn dries_out(&self, layer: usize) -> Known<f64> {
        self.way((0..layer).rev())
    }

    /// The same inward, to the room or to the first vented gap.
    pub fn dries_in(&self, layer: usize) -> Known<f64> {
        self.way(layer + 1..self.layers.len())
    }

    fn way(&self, layers: impl Iterator<Item = usize>) -> Known<f64> {
        let closed = layers.take_while(|i| self.layers[*i].ventilation != Ventilation::Well);
        let sd: f64 =
            closed.map(|i| self.layers[i].sd.as_ref().map(|sd| sd.wet).map_err(Lack::clone)).sum::<Known<f64>>()?;
        Ok(vapor::permeance(sd))
    }

    /// Months until 1 kg/m2 in the middle of a sensitive layer is gone; ten years when that is not enough. `None` where it was
    /// not computed. What lies behind a frame dries around it, so only the framed layer itself is judged by its frame as well.
    pub fn drying_months(&self, layer: usize) -> Option<u32> {
        let framed = self.layers[layer].frame.is_some();
        let sections = self.sections.iter().filter(|section| framed || section.through != Through::Frames);
        let years = sections.filter_map(|section| section.year.as_ref());
        let drying = years.flat_map(|year| &year.drying).filter(|(of, _)| *of == layer);
        drying.map(|(_, drying)| drying.months.unwrap_or(NEVER)).max()
    }

    fn material_kind(&self, layer: usize) -> Option<MaterialKind> {
        self.assembly.layers[layer].material.kind
    }
}

/// ISO 13788 gives up after ten years.
const NEVER: u32 = 120;

fn heat_flow(kind: AssemblyKind) -> HeatFlow {
    match kind {
        AssemblyKind::Roof => HeatFlow::Upward,
        AssemblyKind::Floor => HeatFlow::Downward,
        _ => HeatFlow::Horizontal,
    }
}

fn surfaces(assembly: &Assembly, flow: HeatFlow) -> Surfaces {
    assembly.surfaces.map_or_else(|| Surfaces::of(flow), |(inside, outside)| Surfaces { inside, outside })
}

/// The index of the innermost vented gap, which stands for the outdoor air, or 0.
fn inboard_of_vent(layers: &[LayerFacts]) -> usize {
    layers.iter().rposition(|l| l.ventilation == Ventilation::Well).unwrap_or(0)
}

fn thermal(layers: &[LayerFacts], surfaces: Surfaces) -> Known<Option<Resistance>> {
    let part = |layer: &LayerFacts| -> Known<Part> {
        let frame = match &layer.frame {
            Some(frame) => Some(physics::Frame { resistance: frame.resistance.clone()?, share: frame.share }),
            None => None,
        };
        Ok(Part { resistance: layer.resistance.clone()?, frame, ventilation: layer.ventilation })
    };
    let parts: Vec<Part> = layers.iter().rev().map(part).collect::<Known<_>>()?;
    Ok(physics::resistance(&parts, surfaces).ok())
}

fn lacks(layers: &[LayerFacts]) -> Vec<Lack> {
    let mut lacks: Vec<Lack> = Vec::new();
    for layer in layers {
        let of_frame = layer.frame.iter().flat_map(|f| [f.resistance.as_ref().err(), f.sd.as_ref().err()]);
        for lack in [layer.resistance.as_ref().err(), layer.sd.as_ref().err()].into_iter().chain(of_frame).flatten() {
            if !lacks.iter().any(|l| l.property == lack.property && l.material.name == lack.material.name) {
                lacks.push(lack.clone());
            }
        }
    }
    lacks
}
