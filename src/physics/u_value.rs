//! Thermal resistance and transmittance by ISO 6946: series, air layers, frames.

use crate::physics::{Error, Surfaces, Ventilation};

/// A layer for the U-value: plain, or with frames in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThermalLayer {
    /// R, between the frames if there are any, m2 K/W.
    pub resistance: f64,
    pub frame: Option<Frame>,
    pub ventilation: Ventilation,
}

impl ThermalLayer {
    /// A layer without frames or ventilation.
    pub fn plain(resistance: f64) -> ThermalLayer {
        ThermalLayer { resistance, frame: None, ventilation: Ventilation::None }
    }
}

/// Frames within a layer, such as studs in insulation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// R through the frame over the same thickness, m2 K/W.
    pub resistance: f64,
    /// Share of the area, 0 to 1: width over spacing, or more with plates and headers.
    pub share: f64,
}

/// Resistances and transmittances from air to air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resistance {
    /// Upper limit: heat goes straight through, m2 K/W.
    pub upper: f64,
    /// Lower limit: every plane parallel to the surfaces is at one temperature, m2 K/W.
    pub lower: f64,
    /// Their mean, m2 K/W.
    pub mean: f64,
    /// U of the mean, W/(m2 K).
    pub u: f64,
    /// Greatest relative error of the mean, 0 to 1.
    pub error: f64,
    /// U by parallel paths, as US handbooks compute it: the sections' U weighted by area, W/(m2 K).
    pub u_parallel: f64,
}

/// The number of sections doubles with each framed layer.
const MOST_FRAMES: usize = 10;

/// R and U of `parts`, inside first (ISO 6946, 6.7.1 and 6.7.2). Frames of different layers are assumed to cross.
///
/// A well-ventilated layer and all layers outboard of it do not count, and Rse = Rsi (6.9.4); with a slightly ventilated layer,
/// the value lies in between (6.9.3). Errors: `BadLayer`, `BadShare`, `TooManyFrames`, `BadSurface`, `NoResistance`.
pub fn resistance(parts: &[ThermalLayer], surfaces: Surfaces) -> Result<Resistance, Error> {
    let mut surfaces = surfaces.checked()?;
    let mut parts = parts;
    if let Some(end) = parts.iter().position(|p| p.ventilation == Ventilation::Well) {
        (parts, surfaces) = (&parts[..end], surfaces.sheltered());
    }
    let closed = unventilated(parts, surfaces)?;
    for (i, part) in parts.iter().enumerate() {
        if let Ventilation::Slight { openings } = part.ventilation {
            if !(openings.is_finite() && openings >= 0.0) {
                return Err(Error::BadLayer { layer: i, quantity: "area of openings", value: openings });
            }
            let open = resistance(&parts[..i], surfaces.sheltered())?;
            // RT = (1500 - Av)/1000 RTu + (Av - 500)/1000 RTv, 500 <= Av <= 1500
            let share = ((openings - 500.0) / 1000.0).clamp(0.0, 1.0);
            let between = |closed: f64, open: f64| (1.0 - share) * closed + share * open;
            return Ok(of_limits(between(closed.upper, open.upper), between(closed.lower, open.lower)));
        }
    }
    Ok(closed)
}

fn unventilated(parts: &[ThermalLayer], surfaces: Surfaces) -> Result<Resistance, Error> {
    let mut series = surfaces.inside + surfaces.outside;
    let mut lower = series;
    let mut framed = Vec::new();
    for (layer, part) in parts.iter().enumerate() {
        let bad = |value: f64| Error::BadLayer { layer, quantity: "R", value };
        let clear = Some(part.resistance).filter(|r| r.is_finite() && *r >= 0.0).ok_or(bad(part.resistance))?;
        let Some(frame) = part.frame else {
            series += clear;
            lower += clear;
            continue;
        };
        if !(0.0..=1.0).contains(&frame.share) {
            return Err(Error::BadShare { layer, value: frame.share });
        }
        let wood = Some(frame.resistance).filter(|r| r.is_finite() && *r >= 0.0).ok_or(bad(frame.resistance))?;
        framed.push((clear, wood, frame.share));
        // 1/Rj = fa/Raj + fb/Rbj, written so that an R of zero stays zero
        let across = (1.0 - frame.share) * wood + frame.share * clear;
        lower += if across > 0.0 { clear * wood / across } else { 0.0 };
    }
    if framed.len() > MOST_FRAMES {
        return Err(Error::TooManyFrames { frames: framed.len() });
    }
    // 1/RT' = fa/RTa + fb/RTb + ...
    let mut upper_u = 0.0;
    for section in 0..1_usize << framed.len() {
        let (mut area, mut total) = (1.0, series);
        for (bit, (clear, wood, share)) in framed.iter().enumerate() {
            let in_frame = section >> bit & 1 == 1;
            area *= if in_frame { *share } else { 1.0 - share };
            total += if in_frame { *wood } else { *clear };
        }
        if area > 0.0 {
            upper_u += area / total;
        }
    }
    if !(upper_u.is_finite() && lower > 0.0) {
        return Err(Error::NoResistance);
    }
    Ok(of_limits(1.0 / upper_u, lower))
}

fn of_limits(upper: f64, lower: f64) -> Resistance {
    // RT = (RT' + RT'') / 2
    let mean = (upper + lower) / 2.0;
    // e = (RT' - RT'') / (2 RT)
    let error = (upper - lower) / (2.0 * mean);
    Resistance { upper, lower, mean, u: 1.0 / mean, error, u_parallel: 1.0 / upper }
}

/// Direction of the heat that leaves the room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeatFlow {
    /// Through a roof or ceiling.
    Upward,
    /// Through a wall.
    Horizontal,
    /// Through a floor.
    Downward,
}

/// Thickness m; R upward, horizontal, downward, m2 K/W (ISO 6946:2007, Table 2).
const AIR_LAYERS: [(f64, [f64; 3]); 9] = [
    (0.000, [0.00, 0.00, 0.00]),
    (0.005, [0.11, 0.11, 0.11]),
    (0.007, [0.13, 0.13, 0.13]),
    (0.010, [0.15, 0.15, 0.15]),
    (0.015, [0.16, 0.17, 0.17]),
    (0.025, [0.16, 0.18, 0.19]),
    (0.050, [0.16, 0.18, 0.21]),
    (0.100, [0.16, 0.18, 0.22]),
    (0.300, [0.16, 0.18, 0.23]),
];

/// R of an unventilated air layer, m2 K/W, of `thickness` in m, between surfaces of high emissivity; straight lines
/// between the values of the table (ISO 6946:2007, Table 2). Errors: `AirLayer` beyond 0.3 m.
pub fn air_layer(thickness: f64, flow: HeatFlow) -> Result<f64, Error> {
    let column = match flow {
        HeatFlow::Upward => 0,
        HeatFlow::Horizontal => 1,
        HeatFlow::Downward => 2,
    };
    AIR_LAYERS
        .windows(2)
        .find(|w| (w[0].0..=w[1].0).contains(&thickness))
        .map(|w| {
            let ((d0, r0), (d1, r1)) = (w[0], w[1]);
            r0[column] + (r1[column] - r0[column]) * (thickness - d0) / (d1 - d0)
        })
        .ok_or(Error::AirLayer { thickness })
}
