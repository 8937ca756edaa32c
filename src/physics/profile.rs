//! Temperatures and vapor pressures through a slab in a steady state.

use crate::physics::{Air, DELTA0, Error, Slab, SlabPlace, saturation_pressure};

/// A steady state, inside first.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    /// Heat flow density outward, W/m2.
    pub heat_flow: f64,
    /// Vapor flow density from the room into the slab, and out of it on the other side, kg/(m2 s).
    pub vapor_in: f64,
    pub vapor_out: f64,
    /// Faces of layers and of the strips into which thick ones are cut.
    pub points: Vec<Point>,
}

/// The state at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    pub place: SlabPlace,
    /// C.
    pub temperature: f64,
    /// Pa.
    pub saturation: f64,
    /// The resulting vapor pressure, at most `saturation`, Pa.
    pub pressure: f64,
    /// Condensate that forms here, kg/(m2 s).
    pub condensing: f64,
}

impl Profile {
    /// The points between layers and on the two surfaces: one more than there are layers.
    pub fn interfaces(&self) -> impl Iterator<Item = &Point> {
        self.points.iter().filter(|p| matches!(p.place, SlabPlace::Interface(_)))
    }

    /// Condensate of the whole slab, kg/(m2 s).
    pub fn condensing(&self) -> f64 {
        self.points.iter().map(|p| p.condensing).sum()
    }
}

/// The steady state of a dry slab between two airs (ISO 13788, 6.4).
pub fn profile(slab: &Slab, indoor: Air, outdoor: Air) -> Result<Profile, Error> {
    let (indoor, outdoor) = (indoor.checked()?, outdoor.checked()?);
    let mut string = TautString::new(slab.nodes.len());
    let saturation: Vec<f64> =
        slab.nodes.iter().map(|n| saturation_pressure(temperature_at(slab, n.resistance, indoor, outdoor))).collect();
    string.pull(slab, indoor.pressure, outdoor.pressure, &saturation, |_| false);
    let points = slab.nodes.iter().enumerate().map(|(i, node)| Point {
        place: node.place,
        temperature: temperature_at(slab, node.resistance, indoor, outdoor),
        saturation: saturation[i],
        pressure: string.pressure[i],
        condensing: string.condensing[i],
    });
    Ok(Profile {
        // q = (ti - te) / R
        heat_flow: (indoor.temperature - outdoor.temperature) / slab.resistance(),
        vapor_in: string.vapor_in,
        vapor_out: string.vapor_out,
        points: points.collect(),
    })
}

/// Temperature in C at a place `resistance` m2 K/W away from the indoor air (ISO 13788, 6.4.1).
pub(super) fn temperature_at(slab: &Slab, resistance: f64, indoor: Air, outdoor: Air) -> f64 {
    // t = ti - R/RT (ti - te)
    indoor.temperature - resistance / slab.resistance() * (indoor.temperature - outdoor.temperature)
}

/// Vapor pressures as a string over sd, taut below the saturation pressures (ISO 13788, 6.4.2).
///
/// Vapor is lost only by condensing, where the string touches saturation. So the string is convex over sd, and it is the
/// highest such curve: the lower hull of the pressures at both surfaces and the saturation points between. A wet node holds the
/// string at saturation, whether water condenses or evaporates there.
pub(super) struct TautString {
    /// Pa, at each node.
    pub pressure: Vec<f64>,
    /// Condensation, negative for evaporation, at each node, kg/(m2 s).
    pub condensing: Vec<f64>,
    pub vapor_in: f64,
    pub vapor_out: f64,
    knots: Vec<usize>,
}

/// Flows below this, kg/(m2 s), are rounding errors: at most 0.03 mg/m2 in a year.
const NO_FLOW: f64 = 1e-15;

impl TautString {
    pub fn new(nodes: usize) -> TautString {
        TautString {
            pressure: vec![0.0; nodes],
            condensing: vec![0.0; nodes],
            vapor_in: 0.0,
            vapor_out: 0.0,
            knots: Vec::with_capacity(nodes),
        }
    }

    /// Pulls the string between `inside` and `outside`, Pa. A surface colder than the dew point counts as just saturated: water
    /// that runs down the surface does not enter the slab.
    pub fn pull(&mut self, slab: &Slab, inside: f64, outside: f64, saturation: &[f64], wet: impl Fn(usize) -> bool) {
        let last = slab.nodes.len() - 1;
        let sd = |i: usize| slab.nodes[i].sd;
        self.pressure.copy_from_slice(saturation);
        self.pressure[0] = inside.min(saturation[0]);
        self.pressure[last] = outside.min(saturation[last]);
        self.condensing.fill(0.0);

        let pressure = &mut self.pressure;
        self.knots.clear();
        self.knots.push(0);
        let mut held = 1;
        for next in 1..=last {
            while self.knots.len() > held {
                let (a, b) = (self.knots[self.knots.len() - 2], self.knots[self.knots.len() - 1]);
                let rise = (pressure[b] - pressure[a]) * (sd(next) - sd(b));
                if rise < (pressure[next] - pressure[b]) * (sd(b) - sd(a)) {
                    break;
                }
                self.knots.pop();
            }
            self.knots.push(next);
            if wet(next) {
                held = self.knots.len();
            }
        }

        let mut before = 0.0;
        for pair in self.knots.windows(2) {
            let (a, b) = (pair[0], pair[1]);
            let slope = (pressure[b] - pressure[a]) / (sd(b) - sd(a));
            for i in a + 1..b {
                pressure[i] = pressure[a] + slope * (sd(i) - sd(a));
            }
            // g = -delta0 dp/dsd
            let flow = -DELTA0 * slope;
            if a == 0 {
                self.vapor_in = flow;
            } else {
                // Vapor that comes in and does not go out condenses.
                let rate: f64 = before - flow;
                self.condensing[a] = if rate.abs() < NO_FLOW { 0.0 } else { rate };
            }
            before = flow;
        }
        self.vapor_out = before;
    }
}
