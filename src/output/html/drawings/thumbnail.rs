//! A drawing as a small picture, to be found by eye and not read.

use crate::output::drawing::{self, Area, Role, Scene, Shape};

/// How many times as long as wide a picture is at most. What is longer would be a line in which nothing can be told apart.
const SLENDEREST: f64 = 3.0;

/// The part of a drawing that a small picture shows: its pieces; of long courses and seams, the stretch where pieces end.
pub(super) fn shown(scene: &Scene) -> Area {
    let core = drawing::core(scene);
    let upright = stretch(core.top, core.bottom, core.width(), &ends(scene, |area| [area.top, area.bottom]));
    let level = stretch(core.left, core.right, core.height(), &ends(scene, |area| [area.left, area.right]));
    match (upright, level) {
        (Some((top, bottom)), _) => Area::new(core.left, top, core.right, bottom),
        (None, Some((left, right))) => Area::new(left, core.top, right, core.bottom),
        (None, None) => core,
    }
}

/// The part of a strip between `low` and `high` where ends lie; nothing where the strip is short, or too little would be left.
fn stretch(low: f64, high: f64, wide: f64, ends: &[f64]) -> Option<(f64, f64)> {
    let long = high - low;
    if long <= SLENDEREST * wide {
        return None;
    }
    // Ends at the ends of the strip are breaks.
    let inner = ends.iter().copied().filter(|end| *end > low + 0.1 * long && *end < high - 0.1 * long);
    let (first, last) = inner.fold((high, low), |(first, last), end| (end.min(first), end.max(last)));
    if first > last {
        return None;
    }
    let length = (SLENDEREST * wide).max(1.3 * (last - first)).min(long);
    let start = ((first + last - length) / 2.0).clamp(low, high - length);
    Some((start, start + length))
}

fn ends(scene: &Scene, of: fn(Area) -> [f64; 2]) -> Vec<f64> {
    let mut ends = Vec::new();
    scene.each(&mut |shape| {
        if let Shape::Group { role: Role::Piece(_), shapes, .. } = shape {
            ends.extend(Area::around(shapes).into_iter().flat_map(of));
        }
    });
    ends
}
