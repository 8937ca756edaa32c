//! Shapes of a drawing, as what a file will hold of them.

use crate::model::Detail;
use crate::output::drawing::dxf::codes::Codes;
use crate::output::drawing::dxf::entity::Writer;
use crate::output::drawing::dxf::file::Block;
use crate::output::drawing::dxf::hidden::Cover;
use crate::output::drawing::dxf::layer::{Layer, Names};
use crate::output::drawing::dxf::pattern::pattern;
use crate::output::drawing::dxf::placing::{Placing, darkness, outlined, round};
use crate::output::drawing::hatch::Hatch;
use crate::output::drawing::scene::{Anchor, Area, Dash, Ink, Point, Role, Shape};

/// What is drawn, in the unit of the file and with y up, from the first to the last.
pub struct Figures<'a> {
    detail: &'a Detail,
    /// A mm of the building.
    real: f64,
    list: Vec<(Layer, Figure)>,
}

/// What a mm of paper, and one of the building, is in the file.
#[derive(Clone, Copy)]
pub(super) struct Sizes {
    pub(super) paper: f64,
    pub(super) real: f64,
}

pub(super) enum Figure {
    Line {
        points: Vec<Point>,
        closed: bool,
        dash: Dash,
        ink: Ink,
    },
    Circle {
        center: Point,
        radius: f64,
    },
    Disk {
        center: Point,
        radius: f64,
    },
    /// An area in one tone, or hatched by a pattern.
    Fill {
        runs: Vec<Vec<Point>>,
        hatch: Option<(Hatch, Sizes)>,
    },
    Text {
        at: Point,
        height: f64,
        anchor: Anchor,
        words: String,
    },
    Length {
        ends: [Point; 2],
        words: String,
        parts: Vec<(Layer, Figure)>,
    },
}

impl<'a> Figures<'a> {
    /// In a file in which a mm of the building is so long.
    pub fn of(detail: &'a Detail, real: f64) -> Figures<'a> {
        Figures { detail, real, list: Vec::new() }
    }

    /// Shapes in mm of paper, laid into an area of the file.
    pub fn add(&mut self, shapes: &[Shape], area: Area, factor: f64) {
        let to = Placing { x: area.left, y: area.bottom, factor };
        for shape in shapes {
            self.shape(shape, Layer::Words, to);
        }
    }

    fn shape(&mut self, shape: &Shape, layer: Layer, to: Placing) {
        match shape {
            Shape::Group { role, shapes, .. } => {
                let layer = Layer::of(*role, self.detail).unwrap_or(layer);
                match role {
                    Role::Length => self.length(shapes, to),
                    Role::Hatch(hatch) => self.hatch(*hatch, shapes, to),
                    Role::Mark(_) => shapes.iter().for_each(|shape| self.shape(&outlined(shape), layer, to)),
                    _ => shapes.iter().for_each(|shape| self.shape(shape, layer, to)),
                }
            }
            Shape::Path { runs, closed, pen, fill } => {
                let runs: Vec<Vec<Point>> = runs.iter().filter(|run| run.len() > 1).map(|run| to.run(run)).collect();
                if let Some(ink) = fill {
                    self.cover(layer, runs.clone());
                    if *ink != Ink::White {
                        let of =
                            if layer == Layer::Water && *ink == Ink::Warm { Layer::WaterBehind } else { tone(layer) };
                        self.list.push((of, Figure::Fill { runs: runs.clone(), hatch: None }));
                    }
                }
                let Some(pen) = pen.filter(|pen| pen.ink != Ink::White && Some(pen.ink) != *fill) else { return };
                let of = match pen.ink {
                    Ink::Warm if layer == Layer::Water => Layer::WaterBehind,
                    // The strokes of a tone.
                    Ink::Light | Ink::Pale if layer != Layer::Water => Layer::Hatches,
                    _ => layer,
                };
                for points in runs {
                    self.line(of, Figure::Line { points, closed: *closed, dash: pen.dash, ink: pen.ink });
                }
            }
            Shape::Circle { center, radius, pen, fill } => {
                let (center, radius) = (to.point(*center), radius * to.factor);
                if fill.is_some() {
                    self.cover(layer, vec![round(center, radius)]);
                }
                match fill {
                    Some(ink) if *ink != Ink::White => self.list.push((layer, Figure::Disk { center, radius })),
                    _ if pen.is_some() => self.list.push((layer, Figure::Circle { center, radius })),
                    _ => {}
                }
            }
            Shape::Text { at, height, anchor, words, .. } => {
                let (at, height) = (to.point(*at), height * to.factor);
                self.list.push((layer, Figure::Text { at, height, anchor: *anchor, words: words.clone() }));
            }
        }
    }

    /// A line that is drawn in two tones, as tapes are, is one line: its darkest.
    fn line(&mut self, layer: Layer, figure: Figure) {
        let Figure::Line { points, ink, .. } = &figure else { return };
        let same = self.list.iter_mut().rev().take(MANY).find(|(_, other)| match other {
            Figure::Line { points: known, .. } => known == points,
            _ => false,
        });
        match same {
            Some((_, Figure::Line { ink: tone, .. })) if darkness(*tone) >= darkness(*ink) => {}
            Some(other) => *other = (layer, figure),
            None => self.list.push((layer, figure)),
        }
    }

    /// What lies beneath is left out; but what is written on the building hides nothing of it.
    fn cover(&mut self, layer: Layer, runs: Vec<Vec<Point>>) {
        let Some(cover) = Cover::new(runs).filter(|_| layer.is_built()) else { return };
        let before = std::mem::take(&mut self.list);
        for (layer, figure) in before {
            match figure {
                Figure::Line { mut points, closed, dash, ink } => {
                    if closed {
                        points.push(points[0]);
                    }
                    let mut left = cover.leaves(&points);
                    let whole = left.len() == 1 && left[0].len() == points.len();
                    if closed && whole {
                        left[0].pop();
                    }
                    self.list.extend(
                        left.into_iter()
                            .map(|points| (layer, Figure::Line { points, closed: closed && whole, dash, ink })),
                    );
                }
                Figure::Circle { center, .. } | Figure::Disk { center, .. } if cover.covers(center) => {}
                other => self.list.push((layer, other)),
            }
        }
    }

    /// The outline comes first in its group.
    fn hatch(&mut self, hatch: Hatch, shapes: &[Shape], to: Placing) {
        let Some((Shape::Path { runs, .. }, strokes)) = shapes.split_first() else { return };
        let runs: Vec<Vec<Point>> = runs.iter().map(|run| to.run(run)).collect();
        self.cover(Layer::Hatches, runs.clone());
        match pattern(hatch) {
            Some(_) => {
                let sizes = Sizes { paper: to.factor, real: self.real };
                self.list.push((Layer::Hatches, Figure::Fill { runs, hatch: Some((hatch, sizes)) }));
            }
            None => strokes.iter().for_each(|stroke| self.shape(stroke, Layer::Hatches, to)),
        }
    }

    /// A dimension keeps its drawn parts, for programs that do not draw dimensions themselves.
    fn length(&mut self, shapes: &[Shape], to: Placing) {
        let Some(Shape::Path { runs, .. }) = shapes.first() else { return };
        let Some([p, q]) = runs.last().map(Vec::as_slice) else { return };
        let ends = [to.point(*p), to.point(*q)];
        let words = shapes.iter().find_map(|shape| match shape {
            Shape::Text { words, .. } => Some(words.clone()),
            _ => None,
        });
        let mut parts = Figures::of(self.detail, self.real);
        shapes.iter().for_each(|shape| parts.shape(shape, Layer::Dimensions, to));
        self.list
            .push((Layer::Dimensions, Figure::Length { ends, words: words.unwrap_or_default(), parts: parts.list }));
    }

    /// What holds all of it.
    pub fn area(&self) -> Area {
        let points = self.list.iter().flat_map(|(_, figure)| match figure {
            Figure::Line { points, .. } => points.clone(),
            Figure::Circle { center, radius } | Figure::Disk { center, radius } => round(*center, *radius),
            Figure::Fill { runs, .. } => runs.concat(),
            Figure::Text { at, .. } => vec![*at],
            Figure::Length { ends, .. } => ends.to_vec(),
        });
        let point = |p: Point| Area::new(p.x, p.y, p.x, p.y);
        points.map(point).reduce(Area::with).unwrap_or(Area::new(0.0, 0.0, 1.0, 1.0))
    }

    /// Writes them into the model; returns the blocks that they use.
    pub fn write(&self, codes: &mut Codes, names: &Names) -> Vec<Block> {
        let mut blocks = Vec::new();
        let mut to = Writer::new(codes, names);
        for (layer, figure) in &self.list {
            to.figure(*layer, figure, &mut blocks);
        }
        blocks
    }
}

/// Lines of one piece in several tones follow each other closely.
const MANY: usize = 8;

/// Areas in a tone have a layer of their own, but for signs.
fn tone(layer: Layer) -> Layer {
    match layer {
        Layer::Water | Layer::Findings | Layer::Words | Layer::Hatches => layer,
        _ => Layer::Tones,
    }
}
