//! One path through an assembly, cut into strips as ISO 13788 requires.

use crate::physics::{Error, HeatFlow, TIGHT_SD};

/// A layer of one path, as heat and vapor meet it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// R, m2 K/W.
    pub resistance: f64,
    /// sd of the condensation calculation, m: the dry-cup value, unless the method requires another.
    pub sd: f64,
    /// True if moisture damages it.
    pub sensitive: bool,
    pub ventilation: Ventilation,
}

impl Layer {
    /// A layer without ventilation that moisture does not damage; `resistance` in m2 K/W, `sd` in m.
    pub fn new(resistance: f64, sd: f64) -> Layer {
        Layer { resistance, sd, sensitive: false, ventilation: Ventilation::None }
    }
}

/// How much outdoor air passes through an air layer (ISO 6946, 6.9).
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ventilation {
    None,
    #[cfg_attr(
        sealed,
        expect(dead_code, reason = "the language states no openings; tests hold the formula against the standard")
    )]
    /// Openings of more than 500 and less than 1500 mm2, given in mm2 per m of length of a wall (or per m2 of a roof).
    Slight {
        openings: f64,
    },
    /// Nothing outboard of it counts.
    Well,
}

/// Surface resistances, m2 K/W.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surfaces {
    pub inside: f64,
    pub outside: f64,
}

impl Surfaces {
    /// Conventional values by direction of heat flow (ISO 6946, Table 7).
    pub fn of(flow: HeatFlow) -> Surfaces {
        let inside = match flow {
            HeatFlow::Upward => 0.10,
            HeatFlow::Horizontal => 0.13,
            HeatFlow::Downward => 0.17,
        };
        Surfaces { inside, outside: 0.04 }
    }

    /// Behind a well-ventilated layer the air is still: Rse = Rsi (ISO 6946, 6.9.4).
    pub(super) fn sheltered(self) -> Surfaces {
        Surfaces { outside: self.inside, ..self }
    }

    pub(super) fn checked(self) -> Result<Surfaces, Error> {
        match [self.inside, self.outside].into_iter().find(|r| !(r.is_finite() && *r >= 0.0)) {
            Some(value) => Err(Error::BadSurface { value }),
            None => Ok(self),
        }
    }
}

/// A place in a slab.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SlabPlace {
    /// The face between layer `n - 1` and layer `n`: 0 is the inner surface, the number of layers the outer one.
    Interface(usize),
    /// Inside a layer, at `depth` between 0 (its inner face) and 1.
    Within { layer: usize, depth: f64 },
}

/// One path through an assembly.
#[derive(Clone, Debug, PartialEq)]
pub struct Slab {
    pub(super) nodes: Vec<Node>,
    surfaces: Surfaces,
    layers: usize,
}

/// A face of a strip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Node {
    /// R from the indoor air to here, m2 K/W.
    pub resistance: f64,
    /// sd from the inner surface to here, m.
    pub sd: f64,
    pub place: SlabPlace,
}

/// Strips of more than this R, m2 K/W, are cut (ISO 13788, 6.3).
const MOST_RESISTANCE: f64 = 0.25;

/// The least sd of a layer, m. With none, water would pass between its faces instantly. The greatest is [`TIGHT_SD`].
const LEAST_SD: f64 = 1e-3;

impl Slab {
    /// A slab of `layers`, inside first. A well-ventilated layer ends it (ISO 13788, 6.2), with Rse = Rsi.
    ///
    /// Errors: `NoLayers`, `BadLayer`, `BadSurface`, `NoResistance`.
    pub fn new(layers: &[Layer], surfaces: Surfaces) -> Result<Slab, Error> {
        Slab::cut(layers, surfaces, None)
    }

    /// The same with a node in the middle of layer `halved`.
    pub(super) fn halved(layers: &[Layer], surfaces: Surfaces, halved: usize) -> Result<Slab, Error> {
        Slab::cut(layers, surfaces, Some(halved))
    }

    fn cut(layers: &[Layer], surfaces: Surfaces, halved: Option<usize>) -> Result<Slab, Error> {
        let mut surfaces = surfaces.checked()?;
        let end = layers.iter().position(|l| l.ventilation == Ventilation::Well);
        if end.is_some() {
            surfaces = surfaces.sheltered();
        }
        let layers = &layers[..end.unwrap_or(layers.len())];
        if layers.is_empty() {
            return Err(Error::NoLayers);
        }
        let strips = |layer: usize| {
            // The small number guards against rounding, so that 0.5 / 0.25 is two strips.
            let n = (layers[layer].resistance / MOST_RESISTANCE - 1e-9).ceil().clamp(1.0, 1000.0) as usize;
            if halved == Some(layer) { n.next_multiple_of(2) } else { n }
        };
        for (i, layer) in layers.iter().enumerate() {
            for (quantity, value) in [("R", layer.resistance), ("sd", layer.sd)] {
                if !(value.is_finite() && value >= 0.0) {
                    return Err(Error::BadLayer { layer: i, quantity, value });
                }
            }
        }
        let mut nodes = Vec::with_capacity(1 + (0..layers.len()).map(strips).sum::<usize>());
        let (mut resistance, mut sd) = (surfaces.inside, 0.0);
        nodes.push(Node { resistance, sd, place: SlabPlace::Interface(0) });
        for (i, layer) in layers.iter().enumerate() {
            let (n, layer_sd) = (strips(i), layer.sd.clamp(LEAST_SD, TIGHT_SD));
            for strip in 1..n {
                let depth = strip as f64 / n as f64;
                nodes.push(Node {
                    resistance: resistance + layer.resistance * depth,
                    sd: sd + layer_sd * depth,
                    place: SlabPlace::Within { layer: i, depth },
                });
            }
            (resistance, sd) = (resistance + layer.resistance, sd + layer_sd);
            nodes.push(Node { resistance, sd, place: SlabPlace::Interface(i + 1) });
        }
        let total = resistance + surfaces.outside;
        if !(total > 0.0 && total.is_finite()) {
            return Err(Error::NoResistance);
        }
        Ok(Slab { nodes, surfaces, layers: layers.len() })
    }

    /// Number of layers that count: those inboard of a well-ventilated one.
    pub fn layers(&self) -> usize {
        self.layers
    }

    /// The surface resistances that count, m2 K/W.
    pub fn surfaces(&self) -> Surfaces {
        self.surfaces
    }

    /// R from air to air, m2 K/W (ISO 6946, 6.7.1).
    pub fn resistance(&self) -> f64 {
        // R = Rsi + R1 + R2 + ... + Rse
        self.outer().resistance + self.surfaces.outside
    }

    /// sd from surface to surface, m.
    pub fn sd(&self) -> f64 {
        self.outer().sd
    }

    /// U, W/(m2 K).
    #[cfg_attr(sealed, expect(dead_code, reason = "tests hold a slab against worked examples"))]
    pub fn u_value(&self) -> f64 {
        1.0 / self.resistance()
    }

    fn outer(&self) -> &Node {
        &self.nodes[self.nodes.len() - 1]
    }
}
