//! The paths that vapor takes through an assembly, each computed through the year and the design condition.

use crate::facts::Assumed;
use crate::facts::layer::{Known, Lack, LayerFacts};
use crate::facts::vapor::AirLayer;
use crate::model::{self, Assembly, Climate, Layer, MaterialKind};
use crate::physics::{
    self, Air, Condensation, DesignPeriod, Drying, DryingPeriod, HumidityClass, Indoor, Profile, Slab, SlabPlace,
    Spell, SurfaceFactor, Surfaces, Wetting, Year,
};

/// One path from the room to the outdoors (or to a vented gap). A framed assembly has two.
#[derive(Clone, Debug)]
pub struct Section {
    pub through: Through,
    /// Twelve months by ISO 13788, with the month that decides.
    pub year: Option<YearFacts>,
    /// The result of the design condition, if the climate gives one.
    pub design: Option<Spell>,
    /// What it leaves in the layers.
    pub design_retained: Option<Retained>,
}

/// Condensate that stays in the layers, kg/m2; what runs off in a drained gap does not count.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Retained {
    pub peak: f64,
    pub residue: f64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Through {
    /// The only path.
    Whole,
    BetweenFrames,
    Frames,
}

/// What a year does to a section.
#[derive(Clone, Debug)]
pub struct YearFacts {
    pub condensation: Condensation,
    pub retained: Retained,
    /// The month with the most condensate, or the coldest: January is 0.
    pub month: usize,
    /// Temperatures and pressures in that month.
    pub profile: Profile,
    pub surface: SurfaceFactor,
    /// For each sensitive layer (as the assembly counts, outside first): how long 1 kg/m2 in its middle stays.
    pub drying: Vec<(usize, Drying)>,
}

impl Through {
    pub fn words(self) -> &'static str {
        match self {
            Through::Whole => "through the assembly",
            Through::BetweenFrames => "between the frames",
            Through::Frames => "through the frames",
        }
    }
}

/// Water of the drying clause, kg/m2 (ISO 13788, clause 7).
const WETTING: f64 = 1.0;

/// The sections of the layers from `inner` on. None where a value is missing: no value is made up.
pub fn derive(
    assembly: &Assembly,
    layers: &[LayerFacts],
    inner: usize,
    surfaces: Surfaces,
    assumed: &Assumed,
) -> Vec<Section> {
    // Vapor does not pass through metal, and the heat that it conducts is not a path of its own.
    let frames = || layers[inner..].iter().filter_map(|layer| layer.frame.as_ref());
    let paths: &[Through] = match (frames().next(), frames().any(|frame| !frame.metal)) {
        (None, _) => &[Through::Whole],
        (Some(_), false) => &[Through::BetweenFrames],
        (Some(_), true) => &[Through::BetweenFrames, Through::Frames],
    };
    paths.iter().filter_map(|through| section(assembly, layers, inner, surfaces, *through, assumed)).collect()
}

fn section(
    assembly: &Assembly,
    layers: &[LayerFacts],
    inner: usize,
    surfaces: Surfaces,
    through: Through,
    assumed: &Assumed,
) -> Option<Section> {
    let path = path(assembly, layers, inner, through).ok()?;
    let slab = Slab::new(&path, surfaces).ok()?;
    let climate = assembly.climate.as_deref();
    let count = assembly.layers.len();
    let drained = drained(assembly);
    let year = climate.and_then(|climate| year_of(climate, assumed)).and_then(|year| {
        let condensation = physics::condensation(&slab, &year).ok()?;
        let month = worst_month(&condensation, &year);
        let at = year.months()[month];
        let sensitive = path.iter().enumerate().filter(|(_, layer)| layer.sensitive);
        let drying = sensitive
            .filter_map(|(i, _)| {
                let wetting = Wetting { layer: i, mass: WETTING, start: wetted(&year, assumed) };
                physics::drying(&path, surfaces, &year, wetting).ok().map(|drying| (count - 1 - i, drying))
            })
            .collect();
        Some(YearFacts {
            profile: physics::profile(&slab, at.indoor, at.outdoor).ok()?,
            surface: physics::surface_factor(&slab, &year).ok()?,
            retained: retained_of_year(&condensation, &drained),
            condensation,
            month,
            drying,
        })
    });
    let design = climate.and_then(|climate| design(&slab, climate));
    let design_retained = design.as_ref().map(|spell| retained_of_spell(spell, &drained));
    Some(Section { through, year, design, design_retained })
}

/// The inner faces of layers outboard of a drained gap, which rain wets as well: condensate there runs down and out at the
/// foot. Wood and moisture-sensitive materials are left out, since they absorb it.
fn drained(assembly: &Assembly) -> Vec<SlabPlace> {
    let outer = assembly.layers.iter().position(|layer| !is_weathered(layer)).unwrap_or(0);
    let drained = outer > 0 && assembly.layers[outer].material.drained;
    drained.then(|| SlabPlace::Interface(assembly.layers.len() - outer)).into_iter().collect()
}

fn is_weathered(layer: &Layer) -> bool {
    let material = &layer.material;
    matches!(material.kind, Some(MaterialKind::Cladding | MaterialKind::Mass))
        && !material.sensitive
        && material.surface.as_deref().is_some_and(|surface| surface != "wood")
}

fn retained_of_year(condensation: &Condensation, drained: &[SlabPlace]) -> Retained {
    let planes = || condensation.planes.iter().filter(|plane| !drained.contains(&plane.place));
    let held = |month: usize| planes().map(|plane| plane.held[month]).sum::<f64>();
    Retained { peak: (0..12).map(held).fold(0.0, f64::max), residue: condensation.last().map_or(0.0, held) }
}

/// The method gives one drying amount for all places together, so that the residue is one number as well.
fn retained_of_spell(spell: &Spell, drained: &[SlabPlace]) -> Retained {
    let peak = spell.planes.iter().filter(|plane| !drained.contains(&plane.place)).map(|plane| plane.mass).sum::<f64>();
    Retained { peak, residue: spell.residue.min(peak) }
}

/// The layers of one path as physics counts them, inside first. The innermost vented gap ends it.
pub fn path(assembly: &Assembly, layers: &[LayerFacts], inner: usize, through: Through) -> Known<Vec<physics::Layer>> {
    let pairs = assembly.layers.iter().zip(layers).skip(inner).rev();
    pairs
        .map(|(layer, facts)| {
            if facts.ventilation == physics::Ventilation::Well {
                return Ok(physics::Layer {
                    ventilation: facts.ventilation,
                    ..physics::Layer::new(0.0, physics::AIR_LAYER_SD)
                });
            }
            let frame = facts.frame.as_ref().filter(|_| through == Through::Frames);
            let (resistance, sd): (&Known<f64>, &Known<AirLayer>) =
                frame.map_or((&facts.resistance, &facts.sd), |frame| (&frame.resistance, &frame.sd));
            let sd = sd.as_ref().map_err(Lack::clone)?;
            let in_frame = layer.between.as_ref().filter(|_| frame.is_some());
            let sensitive = in_frame.map_or(layer.material.sensitive, |f| f.material.sensitive);
            Ok(physics::Layer {
                resistance: resistance.clone()?,
                sd: sd.dry,
                sensitive,
                ventilation: facts.ventilation,
            })
        })
        .collect()
}

/// The year of a climate with twelve months and a room.
pub fn year_of(climate: &Climate, assumed: &Assumed) -> Option<Year> {
    let months = climate.months.as_ref()?;
    let outdoor: Vec<Air> = months.iter().map(air).collect::<Option<_>>()?;
    let indoor = match climate.indoor? {
        model::Indoor::Fixed { temperature, humidity } => {
            Indoor::Fixed(air(&model::Outdoor { temperature, humidity })?)
        }
        model::Indoor::Class(class) => {
            Indoor::Class { class: HumidityClass::new(class).ok()?, temperature: assumed.room - FREEZING }
        }
    };
    Year::new(&outdoor, indoor).ok()
}

/// Kelvin at 0 C.
pub(super) const FREEZING: f64 = 273.15;

fn air(of: &model::Outdoor) -> Option<Air> {
    Air::humid(of.temperature.si - FREEZING, of.humidity.si).ok()
}

fn design(slab: &Slab, climate: &Climate) -> Option<Spell> {
    const DAY: f64 = 86_400.0;
    let given = climate.design?;
    let period = DesignPeriod { indoor: air(&given.indoor)?, outdoor: air(&given.outdoor)?, days: given.days.si / DAY };
    let drying = climate.drying.map(|d| DryingPeriod {
        pressure: d.vapor.si,
        saturation: d.saturation.si,
        days: d.days.si / DAY,
    });
    physics::design_period(slab, period, drying).ok()
}

/// The month that adds the most water; where none does, the coldest.
fn worst_month(condensation: &Condensation, year: &Year) -> usize {
    let wettest = (0..12).max_by(|a, b| condensation.change(*a).total_cmp(&condensation.change(*b)));
    wettest.filter(|month| condensation.change(*month) > 0.0).unwrap_or_else(|| coldest(year))
}

fn coldest(year: &Year) -> usize {
    let temperature = |month: &usize| year.months()[*month].outdoor.temperature;
    (0..12).min_by(|a, b| temperature(a).total_cmp(&temperature(b))).unwrap_or(0)
}

/// The month in which a layer gets wet, which the standard does not fix.
fn wetted(year: &Year, assumed: &Assumed) -> usize {
    (coldest(year) + 12 - assumed.wet_before_coldest % 12) % 12
}
