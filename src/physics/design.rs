//! One steady design condition and the drying period after it, as in DIN 4108-3, annex A.

use crate::physics::error::at_least_zero;
use crate::physics::{Air, DELTA0, Error, Profile, Slab, SlabPlace, profile};

/// A steady condition and how long it lasts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DesignPeriod {
    pub indoor: Air,
    pub outdoor: Air,
    pub days: f64,
}

/// The period in which the water has to dry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DryingPeriod {
    /// Vapor pressure on both sides, Pa.
    pub pressure: f64,
    /// Saturation pressure at the wet places, Pa.
    pub saturation: f64,
    pub days: f64,
}

/// The result of a design condition.
#[derive(Clone, Debug, PartialEq)]
pub struct Spell {
    pub profile: Profile,
    pub planes: Vec<WetPlane>,
    /// Water when the condition ends, all places together, kg/m2.
    pub mass: f64,
    /// Evaporation as the drying period begins, kg/(m2 s); zero where nothing is wet.
    pub drying_rate: f64,
    /// The water that could evaporate in the drying period if all places stayed wet, kg/m2.
    pub drying_potential: f64,
    /// The water left after the drying period; all of it if there is no such period, kg/m2.
    pub residue: f64,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WetPlane {
    pub place: SlabPlace,
    /// kg/(m2 s).
    pub rate: f64,
    /// Water when the condition ends, kg/m2.
    pub mass: f64,
}

/// Condensation in a design condition, and its drying.
///
/// While it dries, the innermost wet place loses vapor inward and the outermost one outward. Those between lose none until
/// these are dry. Errors: those of [`profile()`]; `Negative`.
pub fn design_period(slab: &Slab, period: DesignPeriod, drying: Option<DryingPeriod>) -> Result<Spell, Error> {
    let seconds = at_least_zero("number of days", period.days)? * 86_400.0;
    let profile = profile(slab, period.indoor, period.outdoor)?;
    let wet = profile.points.iter().enumerate().filter(|(_, p)| p.condensing > 0.0);
    // M = g t
    let mut water: Vec<(f64, f64)> = wet.map(|(i, p)| (slab.nodes[i].sd, p.condensing * seconds)).collect();
    let planes = profile.points.iter().filter(|p| p.condensing > 0.0);
    let planes =
        planes.map(|p| WetPlane { place: p.place, rate: p.condensing, mass: p.condensing * seconds }).collect();
    // The sum of nothing is -0.0.
    let total = |water: &[(f64, f64)]| water.iter().fold(0.0, |sum, (_, mass)| sum + mass);
    let mass = total(&water);
    let (mut drying_rate, mut drying_potential) = (0.0, 0.0);
    if let Some(drying) = drying {
        let rates = evaporation(slab, drying, &water)?;
        drying_rate = rates.0 + rates.1;
        drying_potential = drying_rate * at_least_zero("number of days", drying.days)? * 86_400.0;
        evaporate(slab, drying, &mut water)?;
    }
    Ok(Spell { profile, planes, mass, drying_rate, drying_potential, residue: total(&water) })
}

/// Evaporation of the innermost wet place inward and of the outermost outward, kg/(m2 s).
fn evaporation(slab: &Slab, drying: DryingPeriod, water: &[(f64, f64)]) -> Result<(f64, f64), Error> {
    let excess =
        at_least_zero("saturation pressure", drying.saturation)? - at_least_zero("vapor pressure", drying.pressure)?;
    let (Some((first, _)), Some((last, _))) = (water.first(), water.last()) else { return Ok((0.0, 0.0)) };
    // g = delta0 (psat - p) / sd
    let flow = |sd: f64| DELTA0 * excess.max(0.0) / sd;
    Ok((flow(*first), flow(slab.sd() - last)))
}

/// Subtracts what evaporates in the period from `water`, pairs of sd from inside and mass.
fn evaporate(slab: &Slab, drying: DryingPeriod, water: &mut Vec<(f64, f64)>) -> Result<(), Error> {
    let mut left = drying.days * 86_400.0;
    while left > 0.0 && !water.is_empty() {
        let (inward, outward) = evaporation(slab, drying, water)?;
        let last = water.len() - 1;
        let (until_first, until_last) = if last == 0 {
            let until = water[0].1 / (inward + outward);
            (until, until)
        } else {
            (water[0].1 / inward, water[last].1 / outward)
        };
        let step = left.min(until_first).min(until_last);
        water[0].1 -= inward * step;
        water[last].1 -= outward * step;
        left -= step;
        if step == until_last {
            water.pop();
        }
        if step == until_first && !water.is_empty() && last > 0 {
            water.remove(0);
        }
    }
    Ok(())
}
