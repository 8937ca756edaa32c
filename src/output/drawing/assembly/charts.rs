//! Vapor pressure against vapor resistance, and moisture by month.

use crate::facts::AssemblyFacts;
use crate::output::drawing::assembly::axis::Axis;
use crate::output::drawing::assembly::{BOUND, MONTHS};
use crate::output::drawing::dimension;
use crate::output::drawing::paper::{CUT, MEDIUM, SMALL, WORDS};
use crate::output::drawing::scene::{Anchor, Area, Dash, Ink, Pen, Point, Role, Shape};
use crate::output::drawing::spread::spread;
use crate::physics::{Condensation, Profile, SlabPlace};

/// The least sd that a layer is drawn with, m, as it is computed with.
const LEAST_SD: f64 = 1e-3;

/// Saturation and vapor pressure over the vapor resistance (ISO 13788, figure 3). Returns where it ends.
pub fn pressure(facts: &AssemblyFacts, profile: &Profile, area: Area) -> (Vec<Shape>, f64) {
    let inside_first: Vec<f64> =
        facts.layers.iter().rev().map(|l| l.sd.as_ref().map_or(LEAST_SD, |sd| sd.dry.max(LEAST_SD))).collect();
    let layers = profile.interfaces().count().saturating_sub(1).min(inside_first.len());
    let mut faces = vec![0.0];
    for sd in &inside_first[..layers] {
        faces.push(faces[faces.len() - 1] + sd);
    }
    let sd = |place: SlabPlace| match place {
        SlabPlace::Interface(n) => faces[n.min(layers)],
        SlabPlace::Within { layer, depth } => faces[layer] + depth * inside_first[layer],
    };
    let across = Axis::covering(faces.iter().copied(), 0.01);
    let values = profile.points.iter().flat_map(|p| [p.saturation, p.pressure]);
    let up = Axis::covering(values.chain([0.0]), 100.0);
    let at = |sd: f64, pascal: f64| {
        Point::new(area.left + across.part(sd) * area.width(), area.bottom - up.part(pascal) * area.height())
    };
    let mut shapes = Vec::new();
    let bound = |face: &f64| vec![Point::new(at(*face, 0.0).x, area.top), Point::new(at(*face, 0.0).x, area.bottom)];
    shapes.push(Shape::lines(faces.iter().map(bound).collect(), BOUND));
    let numbers: Vec<(f64, String)> = (0..layers)
        .map(|n| (at((faces[n] + faces[n + 1]) / 2.0, 0.0).x, (facts.layers.len() - n).to_string()))
        .collect();
    shapes.push(dimension::level(&numbers, area.top - 2.0, area.left, area.right, false).0);
    shapes.extend(up.upright(area, "Pa"));
    shapes.extend(across.level(area, "vapor resistance from the inner surface, as sd in m"));
    let saturation: Vec<Point> = profile.points.iter().map(|p| at(sd(p.place), p.saturation)).collect();
    let vapor: Vec<Point> = profile.points.iter().map(|p| at(sd(p.place), p.pressure)).collect();
    let (saturated, end) = (saturation.last().copied(), vapor.last().copied());
    shapes.push(Shape::line(saturation, Pen::solid(CUT, Ink::Black).dashed(Dash::Dashed)));
    shapes.push(Shape::line(vapor, Pen::solid(1.4 * CUT, Ink::Black).dashed(Dash::Chain)));
    for point in profile.points.iter().filter(|p| p.condensing > 0.0) {
        let center = at(sd(point.place), point.pressure);
        shapes.push(Shape::Circle { center, radius: 1.6, pen: Some(Pen::solid(MEDIUM, Ink::Black)), fill: None });
    }
    // Each line has its name at its end.
    let ends: Vec<(Point, &str)> =
        saturated.into_iter().zip(["saturation"]).chain(end.into_iter().zip(["vapor pressure"])).collect();
    let wanted: Vec<f64> = ends.iter().map(|(at, _)| at.y).collect();
    let heights = vec![WORDS + 1.2; ends.len()];
    for ((at, words), y) in ends.iter().zip(spread(&wanted, &heights, area.top)) {
        shapes.push(Shape::text(Point::new(at.x + 2.0, y + WORDS / 2.0), WORDS, *words));
    }
    if profile.condensing() > 0.0 {
        let center = Point::new(area.right + 12.0, area.top + 2.0);
        shapes.push(Shape::Circle { center, radius: 1.6, pen: Some(Pen::solid(MEDIUM, Ink::Black)), fill: None });
        shapes.push(Shape::text(Point::new(area.right + 18.0, center.y + WORDS / 2.0), WORDS, "water condenses"));
    }
    (vec![Shape::group(Role::Other, "vapor pressure", shapes)], area.bottom + 10.0)
}

/// Water held at the end of each month, all places together. Returns where it ends.
pub fn months(condensation: &Condensation, area: Area) -> (Vec<Shape>, f64) {
    if condensation.planes.is_empty() {
        let at = Point::new(area.left, area.top);
        return (vec![Shape::text(at, WORDS, "No month condenses.")], area.top + 4.0);
    }
    let held: Vec<f64> = (0..12).map(|month| 1000.0 * condensation.held(month)).collect();
    let up = Axis::covering(held.iter().copied().chain([0.0]), 1.0);
    let mut shapes = up.upright(area, "g/m2");
    let width = area.width() / 12.0;
    for (month, mass) in held.iter().enumerate() {
        let left = area.left + month as f64 * width;
        let bar = Area::new(left + 1.0, area.bottom - up.part(*mass) * area.height(), left + width - 1.0, area.bottom);
        shapes.push(Shape::polygon(bar.corners(), Some(Pen::solid(MEDIUM, Ink::Black)), Some(Ink::Light)));
        let middle = left + width / 2.0;
        if *mass >= 0.5 {
            let at = Point::new(middle, bar.top - 0.8);
            shapes.push(Shape::text(at, SMALL, format!("{mass:.0}")).anchored(Anchor::Middle));
        }
        let at = Point::new(middle, area.bottom + 1.2 + SMALL);
        shapes.push(Shape::text(at, SMALL, MONTHS[month]).anchored(Anchor::Middle));
    }
    let foot = vec![Point::new(area.left, area.bottom), Point::new(area.right, area.bottom)];
    shapes.push(Shape::line(foot, Pen::solid(MEDIUM, Ink::Black)));
    let words = "water held at the end of the month, all places together";
    shapes.push(Shape::text(Point::new(area.right, area.bottom + 6.0 + SMALL), SMALL, words).anchored(Anchor::End));
    (vec![Shape::group(Role::Other, "moisture by month", shapes)], area.bottom + 10.0)
}
