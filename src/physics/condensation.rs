//! A year of condensation and evaporation by ISO 13788, clause 6.

use crate::physics::profile::{TautString, temperature_at};
use crate::physics::{Error, Slab, SlabPlace, Year, saturation_pressure};

/// Condensation in a slab during twelve months. Masses in kg/m2.
#[derive(Clone, Debug, PartialEq)]
pub struct Condensation {
    /// The month that the count starts with; none if no month condenses.
    pub start: Option<usize>,
    /// The places that hold more than a milligram on a square meter at some month's end, inside first.
    pub planes: Vec<Plane>,
    /// The most water held at the end of a month, at all places together, and that month.
    pub peak: f64,
    pub peak_month: Option<usize>,
    /// Water still held when the twelve months are over.
    pub residue: f64,
    pub outlook: Outlook,
}

/// One place that gets wet. Both lists start with January, whichever month the count starts with.
#[derive(Clone, Debug, PartialEq)]
pub struct Plane {
    pub place: SlabPlace,
    /// What each month adds; negative for what evaporates.
    pub change: [f64; 12],
    /// The water held at the end of each month.
    pub held: [f64; 12],
}

/// What becomes of the water when the same year repeats.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outlook {
    /// No month condenses.
    Dry,
    /// Water condenses and is gone again within the year.
    Dries,
    /// Some water is always there, but it does not grow from year to year: `residue` is what is left when the count starts
    /// again.
    Remains { residue: f64 },
    /// Water accumulates: every year adds `per_year`.
    Accumulates { per_year: f64 },
}

impl Condensation {
    /// Water added by `month` at all places, kg/m2.
    pub fn change(&self, month: usize) -> f64 {
        self.planes.iter().map(|p| p.change[month]).sum()
    }

    /// The month that the count ends with; none if no month condenses.
    pub fn last(&self) -> Option<usize> {
        self.start.map(|start| (start + 11) % 12)
    }

    /// Water held at the end of `month` at all places, kg/m2.
    pub fn held(&self, month: usize) -> f64 {
        self.planes.iter().map(|p| p.held[month]).sum()
    }
}

/// Less than this is dry, kg/m2: a milligram on a square meter.
const DRY: f64 = 1e-6;

/// The year is repeated until nothing changes, at most this many times.
const MOST_YEARS: usize = 100;

/// Condensation through `year` (ISO 13788, 6.4 and 6.5).
///
/// The count starts dry with the first month that condenses after one that does not; with several such seasons, it starts with
/// the one whose count ends driest, since only that one can have begun dry. If all twelve condense, it starts in January. Where
/// a place would end a month below zero, the standard sets it to zero. Here the month is divided at the moment when that place
/// is dry, and goes on without it. With one wet place the result is the same; with several, no water is created.
pub fn condensation(slab: &Slab, year: &Year) -> Result<Condensation, Error> {
    let mut store = WaterStore::new(slab, year);
    let condenses: [bool; 12] = std::array::from_fn(|month| {
        store.mass.fill(0.0);
        store.pass(month);
        store.total() > DRY
    });
    let starts = (0..12).filter(|&m| condenses[m] && !condenses[(m + 11) % 12]);
    let starts: Vec<usize> = if condenses == [true; 12] { vec![0] } else { starts.collect() };

    let mut best: Option<(f64, usize)> = None;
    for &start in &starts {
        store.mass.fill(0.0);
        (0..12).for_each(|k| store.pass((start + k) % 12));
        if best.is_none_or(|(residue, _)| store.total() < residue) {
            best = Some((store.total(), start));
        }
    }
    Ok(best.map_or(DRY_YEAR, |(_, start)| count(slab, &mut store, start)))
}

const DRY_YEAR: Condensation =
    Condensation { start: None, planes: Vec::new(), peak: 0.0, peak_month: None, residue: 0.0, outlook: Outlook::Dry };

fn count(slab: &Slab, store: &mut WaterStore, start: usize) -> Condensation {
    let nodes = slab.nodes.len();
    let mut planes: Vec<Option<Plane>> = vec![None; nodes];
    let mut before = vec![0.0; nodes];
    store.mass.fill(0.0);
    for k in 0..12 {
        let month = (start + k) % 12;
        store.pass(month);
        for (i, node) in slab.nodes.iter().enumerate() {
            let held = store.mass[i];
            if held > 0.0 || before[i] > 0.0 {
                let plane = planes[i].get_or_insert(Plane { place: node.place, change: [0.0; 12], held: [0.0; 12] });
                (plane.change[month], plane.held[month]) = (held - before[i], held);
            }
        }
        before.copy_from_slice(&store.mass);
    }
    // Places that are never wet would only clutter a table.
    let wet = |plane: &Plane| plane.held.iter().any(|held| *held > DRY);
    let planes: Vec<Plane> = planes.into_iter().flatten().filter(wet).collect();
    let mut result = Condensation { start: Some(start), planes, ..DRY_YEAR };
    for month in (start..start + 12).map(|m| m % 12) {
        if result.held(month) > result.peak {
            (result.peak, result.peak_month) = (result.held(month), Some(month));
        }
    }
    result.residue = result.last().map_or(0.0, |last| result.held(last));
    result.outlook = match result {
        _ if result.planes.is_empty() => return DRY_YEAR,
        _ if result.residue <= DRY => Outlook::Dries,
        _ => outlook(store, start),
    };
    result
}

/// Goes on from the end of the first year. More water to begin with never means less at the end, so the water held when a year
/// begins can only grow. Its growth settles at nothing or at a yearly amount.
fn outlook(store: &mut WaterStore, start: usize) -> Outlook {
    let mut growth = store.total();
    for _ in 1..MOST_YEARS {
        let before = store.total();
        (0..12).for_each(|k| store.pass((start + k) % 12));
        let last = std::mem::replace(&mut growth, store.total() - before);
        if growth < DRY {
            return Outlook::Remains { residue: store.total() };
        }
        if (growth - last).abs() < 1e-3 * DRY {
            break;
        }
    }
    Outlook::Accumulates { per_year: growth }
}

/// The water at each node as the months pass.
pub(super) struct WaterStore<'a> {
    slab: &'a Slab,
    year: &'a Year,
    /// Saturation pressure at each node, one month after the other, Pa.
    saturation: Vec<f64>,
    string: TautString,
    /// kg/m2.
    pub mass: Vec<f64>,
}

impl<'a> WaterStore<'a> {
    pub fn new(slab: &'a Slab, year: &'a Year) -> WaterStore<'a> {
        let nodes = slab.nodes.len();
        let mut saturation = Vec::with_capacity(12 * nodes);
        for month in year.months() {
            let at = |r: f64| saturation_pressure(temperature_at(slab, r, month.indoor, month.outdoor));
            saturation.extend(slab.nodes.iter().map(|n| at(n.resistance)));
        }
        WaterStore { slab, year, saturation, string: TautString::new(nodes), mass: vec![0.0; nodes] }
    }

    /// Water held now at all places, kg/m2.
    pub fn total(&self) -> f64 {
        self.mass.iter().sum()
    }

    /// Advances by one month.
    pub fn pass(&mut self, month: usize) {
        let nodes = self.slab.nodes.len();
        let means = &self.year.months()[month];
        let saturation = &self.saturation[month * nodes..(month + 1) * nodes];
        let mut left = means.seconds();
        // Whenever a place is dry, the pressures fall everywhere, so each place dries once in a month at most.
        for _ in 0..=nodes {
            let mass = &mut self.mass;
            self.string.pull(self.slab, means.indoor.pressure, means.outdoor.pressure, saturation, |i| mass[i] > 0.0);
            let rates = &self.string.condensing;
            let until_dry = rates.iter().zip(&*mass).filter(|(g, _)| **g < 0.0).map(|(g, m)| m / -g);
            let step = until_dry.fold(left, f64::min);
            for (m, g) in mass.iter_mut().zip(rates) {
                // M = M + g t
                *m += g * step;
                if *g < 0.0 && *m < 1e-12 {
                    *m = 0.0;
                }
            }
            left -= step;
            if left <= 0.0 {
                break;
            }
        }
    }
}
