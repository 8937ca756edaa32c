//! What can be worked out for one assembly: heat, vapor, and which layer does what.

use std::sync::{Arc, OnceLock};

use crate::facts::Assumed;
use crate::facts::layer::{Known, Lack, LayerFacts};
use crate::facts::section::{self, Section, Through};
use crate::model::{Assembly, AssemblyKind, Climate, Control, Indoor};
use crate::physics::{self, HeatFlow, Resistance, Surfaces, ThermalLayer, Ventilation};
use crate::quantity::{Dimension, Unit, base_unit};

/// The facts of one assembly. `layers` is in the order of the assembly's own list, from outside to inside.
pub struct AssemblyFacts {
    pub assembly: Arc<Assembly>,
    pub layers: Vec<LayerFacts>,
    /// R and U over the whole area, frames included.
    /// `None` for what has no resistance at all, such as an assembly without layers.
    pub thermal: Known<Option<Resistance>>,
    /// Properties that some number needs and that are not stated, each once.
    pub lacks: Vec<Lack>,
    pub length_unit: &'static Unit,
    /// The room as the climate states it, for findings that depend on it.
    pub room: Option<String>,
    /// Computed on demand: most files that join an assembly of another file never ask for it.
    sections: OnceLock<Vec<Section>>,
    /// The layer where the sections begin: those outboard of it are vented.
    inner: usize,
    surfaces: Surfaces,
    assumed: Arc<Assumed>,
}

impl AssemblyFacts {
    pub fn derive(assembly: Arc<Assembly>, assumed: &Arc<Assumed>) -> AssemblyFacts {
        let flow = heat_flow(assembly.kind);
        let surfaces = surfaces(&assembly, flow);
        let layers: Vec<LayerFacts> =
            assembly.layers.iter().map(|layer| LayerFacts::derive(layer, flow, assumed)).collect();
        let inner = inboard_of_vent(&layers);
        // With some of its layers left out, the numbers would be those of another assembly.
        let (thermal, lacks) = match assembly.too_large {
            true => (Ok(None), Vec::new()),
            false => (thermal(&layers[inner..], surfaces), lacks(&layers[inner..])),
        };
        let written = assembly.layers.iter().filter_map(|l| l.thickness).map(|t| t.unit);
        let length_unit = written.into_iter().next().unwrap_or_else(|| base_unit(Dimension::Length));
        let room = assembly.climate.as_deref().and_then(room);
        let (sections, assumed) = (OnceLock::new(), Arc::clone(assumed));
        AssemblyFacts { assembly, layers, thermal, lacks, length_unit, room, sections, inner, surfaces, assumed }
    }

    /// The paths that heat and vapor take: one, or between the frames and through them.
    pub fn sections(&self) -> &[Section] {
        self.sections.get_or_init(|| match self.assembly.too_large {
            true => Vec::new(),
            false => section::derive(&self.assembly, &self.layers, self.inner, self.surfaces, &self.assumed),
        })
    }

    /// True if a line of it could not be read, or the material of a layer is unknown.
    pub fn doubtful(&self) -> bool {
        self.assembly.doubtful || (0..self.layers.len()).any(|layer| self.layer_doubtful(layer))
    }

    pub fn layer_doubtful(&self, layer: usize) -> bool {
        let layer = &self.assembly.layers[layer];
        layer.doubtful || layer.material.kind.is_none()
    }

    /// Vapor pressure of the room where its climate fixes it, Pa.
    pub fn indoor_pressure(&self) -> Option<f64> {
        match self.assembly.climate.as_ref()?.indoor? {
            Indoor::Fixed { temperature, humidity } => {
                Some(physics::saturation_pressure(temperature.si - section::FREEZING) * humidity.si)
            }
            Indoor::Class(_) => None,
        }
    }

    pub fn declares(&self, control: Control) -> bool {
        self.assembly.layers.iter().any(|layer| layer.controls().has(control))
    }

    pub fn insulated(&self) -> bool {
        self.layers.iter().any(|layer| layer.insulating)
    }

    /// Months until 1 kg/m2 of water in the middle of a sensitive layer has dried; 120 if ten years are not enough. `None`
    /// where it was not computed. A layer behind a frame can dry around the frame, so the section through the frame counts for
    /// the framed layer alone.
    pub fn drying_months(&self, layer: usize) -> Option<u32> {
        let framed = self.layers[layer].frame.is_some();
        let sections = self.sections().iter().filter(|section| framed || section.through != Through::Frames);
        let years = sections.filter_map(|section| section.year.as_ref());
        let drying = years.flat_map(|year| &year.drying).filter(|(of, _)| *of == layer);
        drying.map(|(_, drying)| drying.months.unwrap_or(NEVER)).max()
    }
}

/// ISO 13788 gives up after ten years.
const NEVER: u32 = 120;

/// `20 C and 40 %`: what is assumed of the room decides as much as the layers do.
fn room(climate: &Climate) -> Option<String> {
    Some(match climate.indoor? {
        Indoor::Fixed { temperature, humidity } => format!("{temperature} and {humidity}"),
        Indoor::Class(class) => format!("humidity class {class} of ISO 13788"),
    })
}

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

/// The index of the innermost vented gap, whose air is taken to be outdoor air; 0 without one.
pub(super) fn inboard_of_vent(layers: &[LayerFacts]) -> usize {
    layers.iter().rposition(|l| l.ventilation == Ventilation::Well).unwrap_or(0)
}

fn thermal(layers: &[LayerFacts], surfaces: Surfaces) -> Known<Option<Resistance>> {
    // No table is published for such studs. No value is better than one that treats them as wood.
    if layers.iter().any(|l| l.frame.as_ref().is_some_and(|f| f.metal && f.effective.is_none())) {
        return Ok(None);
    }
    let part = |layer: &LayerFacts| -> Known<ThermalLayer> {
        if let Some(effective) = layer.frame.as_ref().and_then(|frame| frame.effective) {
            return Ok(ThermalLayer::plain(effective));
        }
        let frame = match &layer.frame {
            Some(frame) => Some(physics::Frame { resistance: frame.resistance.clone()?, share: frame.share }),
            None => None,
        };
        Ok(ThermalLayer { resistance: layer.resistance.clone()?, frame, ventilation: layer.ventilation })
    };
    let parts: Vec<ThermalLayer> = layers.iter().rev().map(part).collect::<Known<_>>()?;
    Ok(physics::resistance(&parts, surfaces).ok())
}

fn lacks(layers: &[LayerFacts]) -> Vec<Lack> {
    let mut lacks: Vec<Lack> = Vec::new();
    for layer in layers {
        // Properties that a metal frame lacks are not needed: the table covers the heat that it conducts, and vapor does not
        // pass through it.
        let of_frame = layer
            .frame
            .iter()
            .filter(|frame| !frame.metal)
            .flat_map(|f| [f.resistance.as_ref().err(), f.sd.as_ref().err()]);
        for lack in [layer.resistance.as_ref().err(), layer.sd.as_ref().err()].into_iter().chain(of_frame).flatten() {
            if !lacks.iter().any(|l| l.property == lack.property && l.material.name == lack.material.name) {
                lacks.push(lack.clone());
            }
        }
    }
    lacks
}
