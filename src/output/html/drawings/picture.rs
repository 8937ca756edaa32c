//! Drawings as pictures of a page.

use maud::{Markup, PreEscaped, html};

use crate::output::drawing::{self, Area, Role, Scales, Scene, Shape};

/// The scale of a drawing on screen, and what measures it on paper.
pub fn scaled(scene: &Scene, scales: Scales) -> Markup {
    html! { span.true { ", " (scales.written(scene.scale)) " as drawn" } span.shrunk { ", to the scale of its bar" } }
}

/// The name of a scale bar on the page.
pub(super) fn bar(scales: Scales, scale: f64) -> String {
    match scales {
        Scales::Metric => format!("bar-{scale}"),
        Scales::Inch => format!("bar-{scale}-in"),
    }
}

/// A drawing whose pieces have a name of their own, for the thumbnail.
pub(super) fn whole(name: &str, scene: &Scene) -> Markup {
    let is_piece = |shape: &Shape| matches!(shape, Shape::Group { role: Role::Piece(_), .. });
    let first = scene.shapes.iter().position(is_piece).unwrap_or(0);
    let last = scene.shapes.iter().rposition(is_piece).map_or(first, |last| last + 1);
    let drawn = |shapes: &[Shape]| PreEscaped(drawing::fragment(shapes, scene.scale));
    html! {
        g id=(name) {
            (drawn(&scene.shapes[..first])) g id=(core_of(name)) { (drawn(&scene.shapes[first..last])) } (drawn(&scene.shapes[last..]))
        }
    }
}

pub(super) fn core_of(name: &str) -> String {
    format!("{name}-core")
}

/// Shapes where they are shown. A browser copies what it shows by its name, so that only what is wanted again has one.
pub fn plain(shapes: &[Shape], scale: f64) -> Markup {
    PreEscaped(drawing::fragment(shapes, scale))
}

/// What stands on the page already.
pub fn used(name: &str) -> Markup {
    html! { use href=(format!("#{name}")) {} }
}

/// A drawing with its scale bar; as wide as on paper where there is room.
pub(super) fn picture(scene: &Scene, scales: Scales, note: &str, id: &str, drawn: Markup) -> Markup {
    html! {
        div.drawing tabindex="0" role="group" aria-labelledby=(format!("{id}-title")) {
            svg role="img" viewBox=(part(scene, Area::new(0.0, 0.0, scene.width, scene.height + drawing::BAR * scene.scale))) width=(paper(scene)) font-family="sans-serif" stroke-linejoin="round" aria-labelledby=(format!("{id}-title {id}-words")) {
                title id=(format!("{id}-title")) { (scene.title) }
                desc id=(format!("{id}-words")) { (scene.description) (note) }
                use href=(format!("#{}", bar(scales, scene.scale))) y=(format!("{:.1}", units(scene, scene.height))) {}
                (drawn)
            }
        }
    }
}

/// A drawing that is shown once.
pub fn inline(scene: &Scene, id: &str) -> Markup {
    html! {
        svg role="img" viewBox=(part(scene, Area::new(0.0, 0.0, scene.width, scene.height))) width=(paper(scene)) font-family="sans-serif" stroke-linejoin="round" aria-labelledby=(format!("{id}-title {id}-words")) {
            title id=(format!("{id}-title")) { (scene.title) }
            desc id=(format!("{id}-words")) { (scene.description) }
            (plain(&scene.shapes, scene.scale))
        }
    }
}

fn paper(scene: &Scene) -> String {
    format!("{:.1}mm", scene.width / scene.scale)
}

/// A part of a drawing as a view box of the page.
pub fn part(scene: &Scene, area: Area) -> String {
    let [left, top, wide, high] = [area.left, area.top, area.width(), area.height()].map(|length| units(scene, length));
    format!("{left:.1} {top:.1} {wide:.1} {high:.1}")
}

/// A length of a drawing in the units of the page.
fn units(scene: &Scene, length: f64) -> f64 {
    length / scene.scale * drawing::GRID
}
