//! Which ways a sensitive layer can dry: sums of sd (ISO 13788, 3.1) up to the air on each side.

use crate::physics::{DELTA0, Layer, Ventilation};

/// The ways out of a layer, each up to the room, the outdoors, or a well-ventilated layer on the way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DryingPath {
    pub layer: usize,
    pub outward: Way,
    pub inward: Way,
}

/// What vapor has to cross, as sd in m, by dry-cup and by wet-cup values. Drying happens wet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way {
    pub sd_dry: f64,
    pub sd_wet: f64,
}

impl Way {
    /// Wet-cup permeance, kg/(m2 s Pa); infinite where nothing is in the way.
    pub fn permeance(self) -> f64 {
        // W = delta0 / sd
        DELTA0 / self.sd_wet
    }

    /// Dry-cup permeance, kg/(m2 s Pa); infinite where nothing is in the way.
    pub fn permeance_dry(self) -> f64 {
        DELTA0 / self.sd_dry
    }
}

/// The drying paths of every sensitive layer of `layers`, inside first.
///
/// The layer itself is no part of its paths: they say what its neighbors let through. How slowly it gives its own
/// water away is for [`crate::physics::drying()`].
pub fn drying_paths(layers: &[Layer]) -> Vec<DryingPath> {
    let way = |between: &mut dyn Iterator<Item = &Layer>| {
        let mut way = Way { sd_dry: 0.0, sd_wet: 0.0 };
        for layer in between.take_while(|l| l.ventilation != Ventilation::Well) {
            // sd = sd1 + sd2 + ...
            way = Way { sd_dry: way.sd_dry + layer.sd, sd_wet: way.sd_wet + layer.sd_wet };
        }
        way
    };
    let sensitive = layers.iter().enumerate().filter(|(_, l)| l.sensitive);
    sensitive
        .map(|(i, _)| DryingPath {
            layer: i,
            outward: way(&mut layers[i + 1..].iter()),
            inward: way(&mut layers[..i].iter().rev()),
        })
        .collect()
}
