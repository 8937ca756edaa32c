//! From heights and places on the face to the paper, with long dull stretches broken out.

use crate::facts::face::{Coordinate, OPEN_HIGH, OPEN_LOW};
use crate::output::drawing::scale::Scales;

/// One axis of a drawing: positions on paper in mm from its low end.
#[derive(Clone, Debug)]
pub struct Ruler {
    stretches: Vec<Stretch>,
    /// Edges that are no open end, in mm of the building, ascending.
    pub edges: Vec<f64>,
}

#[derive(Clone, Copy, Debug)]
pub struct Stretch {
    /// mm of the building.
    pub real: [f64; 2],
    /// mm of paper.
    pub paper: [f64; 2],
    /// Drawn shorter than it is.
    pub broken: bool,
}

/// A stretch without an edge is drawn to scale up to this length, mm of the building.
const LONGEST: f64 = 350.0;

/// What a longer one is drawn as.
const BROKEN: f64 = 150.0;

/// What is shown of a piece that runs off the detail, mm of paper.
const BEYOND: f64 = 16.0;

/// What is shown where nothing carries it, mm of paper.
const CLOSE: f64 = 1.5;

/// The largest scale at which the edges fit into `most` mm of paper.
pub fn scale(edges: &[Coordinate], most: f64, scales: Scales) -> f64 {
    let edges = finite(edges);
    let real: f64 = edges.windows(2).map(|pair| drawn(pair[1] - pair[0])).sum();
    scales.all().iter().copied().find(|scale| real / scale + 2.0 * BEYOND <= most).unwrap_or(scales.last())
}

impl Ruler {
    /// Long dull stretches are drawn short, unless all is drawn `whole`.
    pub fn new(edges: &[Coordinate], scale: f64, whole: bool) -> Ruler {
        let edges = finite(edges);
        let (first, last) = (edges.first().copied().unwrap_or(0.0), edges.last().copied().unwrap_or(0.0));
        let mut stops = vec![first - BEYOND * scale];
        stops.extend(&edges);
        stops.push(last + BEYOND * scale);
        stops.dedup();
        let mut at = 0.0;
        let stretches = stops
            .windows(2)
            .map(|pair| {
                let real = pair[1] - pair[0];
                let inner = pair[0] >= first && pair[1] <= last;
                let paper = if inner && !whole { drawn(real) } else { real } / scale;
                let stretch = Stretch {
                    real: [pair[0], pair[1]],
                    paper: [at, at + paper],
                    broken: inner && !whole && real > LONGEST,
                };
                at += paper;
                stretch
            })
            .collect();
        Ruler { stretches, edges }
    }

    /// The same with little of what runs off its high end.
    pub fn ending_close(mut self, scale: f64) -> Ruler {
        if let Some(last) = self.stretches.last_mut() {
            last.real[1] = last.real[0] + CLOSE * scale;
            last.paper[1] = last.paper[0] + CLOSE;
        }
        self
    }

    /// Where a coordinate lies; an open end lies at the end of the ruler.
    pub fn at(&self, coordinate: Coordinate) -> f64 {
        match coordinate {
            OPEN_LOW => 0.0,
            OPEN_HIGH => self.length(),
            c => self.at_mm(millimetres(c)),
        }
    }

    /// The same in mm of the building.
    pub fn at_mm(&self, real: f64) -> f64 {
        let within = self.stretches.iter().find(|s| real <= s.real[1]).or(self.stretches.last());
        within.map_or(0.0, |s| {
            let [from, to] = s.paper;
            let part = (real - s.real[0]) / (s.real[1] - s.real[0]);
            (from + part * (to - from)).clamp(0.0, self.length())
        })
    }

    pub fn length(&self) -> f64 {
        self.stretches.last().map_or(0.0, |s| s.paper[1])
    }

    /// The stretches that are drawn too short.
    pub fn breaks(&self) -> impl Iterator<Item = &Stretch> {
        self.stretches.iter().filter(|s| s.broken)
    }

    /// The shown ends, mm of the building.
    pub fn window(&self) -> [f64; 2] {
        match (self.stretches.first(), self.stretches.last()) {
            (Some(first), Some(last)) => [first.real[0], last.real[1]],
            _ => [0.0, 0.0],
        }
    }
}

fn drawn(real: f64) -> f64 {
    if real > LONGEST { BROKEN } else { real }
}

fn finite(edges: &[Coordinate]) -> Vec<f64> {
    let mut edges: Vec<Coordinate> = edges.iter().copied().filter(|e| *e != OPEN_LOW && *e != OPEN_HIGH).collect();
    edges.sort_unstable();
    edges.dedup();
    edges.into_iter().map(millimetres).collect()
}

pub fn millimetres(coordinate: Coordinate) -> f64 {
    coordinate as f64 * 1e-6
}

#[cfg(test)]
mod tests {
    use super::{BEYOND, BROKEN, Ruler, scale};
    use crate::facts::face::{MILLIMETRE, OPEN_HIGH, OPEN_LOW};
    use crate::output::drawing::scale::Scales;

    #[test]
    fn stretches_are_true_but_for_long_ones() {
        let edges = [0, 100, 1500, 1600].map(|mm| mm * MILLIMETRE);
        let ruler = Ruler::new(&edges, 5.0, false);
        let between = |a: usize, b: usize| ruler.at(edges[b]) - ruler.at(edges[a]);
        assert!((between(0, 1) - 20.0).abs() < 1e-9);
        assert!((between(1, 2) - BROKEN / 5.0).abs() < 1e-9);
        assert!((between(2, 3) - 20.0).abs() < 1e-9);
        assert_eq!(ruler.breaks().count(), 1);
        assert_eq!(ruler.at(OPEN_LOW), 0.0);
        assert!((ruler.at(OPEN_HIGH) - (70.0 + 2.0 * BEYOND)).abs() < 1e-9);
    }

    #[test]
    fn the_largest_scale_that_fits_is_taken() {
        let edges = [0, 300].map(|mm| mm * MILLIMETRE);
        assert_eq!(scale(&edges, 2.0 * BEYOND + 150.0, Scales::Metric), 2.0);
        assert_eq!(scale(&edges, 2.0 * BEYOND + 149.0, Scales::Metric), 5.0);
        assert_eq!(scale(&edges, 2.0 * BEYOND + 149.0, Scales::Inch), 4.0);
        assert_eq!(scale(&[], 100.0, Scales::Metric), 2.0);
    }
}
