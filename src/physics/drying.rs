//! How long a layer that got wet stays wet (ISO 13788, clause 7).

use crate::physics::condensation::WaterStore;
use crate::physics::error::at_least_zero;
use crate::physics::{Error, Layer, Slab, SlabPlace, Surfaces, Year};

/// Water put into the middle of a layer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wetting {
    pub layer: usize,
    /// kg/m2; the standard takes 1.
    pub mass: f64,
    /// The month that begins with it, 0 to 11.
    pub start: usize,
}

/// How it dries.
#[derive(Clone, Debug, PartialEq)]
pub struct Drying {
    /// Months until the middle of the layer is dry; none if ten years are not enough.
    pub months: Option<u32>,
    /// Months until no water is left at any place; none if ten years are not enough.
    pub months_all: Option<u32>,
    /// Other places where water condenses before all is dry, inside first, and the most held at the end of a month
    /// there, kg/m2.
    pub elsewhere: Vec<(SlabPlace, f64)>,
}

/// The standard stops after ten years.
const MOST_MONTHS: u32 = 120;

/// Drying of `wetting` in the slab of `layers`, inside first.
///
/// Errors: those of [`Slab::new`]; `NoSuchLayer` for one that does not exist or lies outboard of a well-ventilated
/// layer; `Months` for a start beyond December; `Negative`.
pub fn drying(layers: &[Layer], surfaces: Surfaces, year: &Year, wetting: Wetting) -> Result<Drying, Error> {
    let slab = Slab::halved(layers, surfaces, wetting.layer)?;
    let middle = SlabPlace::Within { layer: wetting.layer, depth: 0.5 };
    let missing = Error::NoSuchLayer { layer: wetting.layer, layers: slab.layers() };
    let middle = slab.nodes.iter().position(|n| n.place == middle).ok_or(missing)?;
    if wetting.start > 11 {
        return Err(Error::Months { given: wetting.start + 1 });
    }
    let mut store = WaterStore::new(&slab, year);
    store.mass[middle] = at_least_zero("mass of water", wetting.mass)?;

    let (mut months, mut months_all) = (None, None);
    let mut most = vec![0.0; slab.nodes.len()];
    for month in 1..=MOST_MONTHS {
        store.pass((wetting.start + month as usize - 1) % 12);
        for (most, mass) in most.iter_mut().zip(&store.mass) {
            *most = f64::max(*most, *mass);
        }
        if months.is_none() && store.mass[middle] <= 0.0 {
            months = Some(month);
        }
        if store.total() <= 0.0 {
            months_all = Some(month);
            break;
        }
    }
    let elsewhere = slab.nodes.iter().zip(most).enumerate().filter(|(i, (_, most))| *i != middle && *most > 0.0);
    Ok(Drying { months, months_all, elsewhere: elsewhere.map(|(_, (node, most))| (node.place, most)).collect() })
}
