//! Figures as entities of a file.

use crate::output::drawing::dxf::codes::{Codes, words};
use crate::output::drawing::dxf::figure::{Figure, Sizes};
use crate::output::drawing::dxf::file::{Block, MODEL};
use crate::output::drawing::dxf::layer::{Layer, Names};
use crate::output::drawing::dxf::pattern::{Family, pattern};
use crate::output::drawing::hatch::Hatch;
use crate::output::drawing::scene::{Anchor, Dash, Point};

pub(super) struct Writer<'a> {
    codes: &'a mut Codes,
    names: &'a Names,
    owner: String,
}

impl<'a> Writer<'a> {
    /// Into the model.
    pub(super) fn new(codes: &'a mut Codes, names: &'a Names) -> Writer<'a> {
        Writer { codes, names, owner: MODEL.to_owned() }
    }

    fn begin(&mut self, kind: &str, layer: Layer, class: &str) {
        let (owner, name) = (self.owner.clone(), words(self.names.of(layer)));
        self.codes.entity(kind, &owner, &name, class);
    }

    pub(super) fn figure(&mut self, layer: Layer, figure: &Figure, blocks: &mut Vec<Block>) {
        match figure {
            Figure::Line { points, closed, dash, .. } => self.line(layer, points, *closed, *dash),
            Figure::Circle { center, radius } => {
                self.begin("CIRCLE", layer, "AcDbCircle");
                self.codes.point(10, *center);
                self.codes.real(40, *radius);
            }
            Figure::Disk { center, radius } => {
                self.fill(layer, "SOLID", 1);
                self.codes.all(&[(92, "1"), (93, "1"), (72, "2")]);
                self.codes.real(10, center.x);
                self.codes.real(20, center.y);
                self.codes.real(40, *radius);
                self.codes.all(&[(50, "0.0"), (51, "360.0"), (73, "1"), (97, "0")]);
                self.codes.all(&[(75, "0"), (76, "1"), (98, "0")]);
            }
            Figure::Fill { runs, hatch } => self.area(layer, runs, *hatch),
            Figure::Text { at, height, anchor, words: text } => {
                self.begin("TEXT", layer, "AcDbText");
                self.codes.point(10, *at);
                self.codes.real(40, *height);
                self.codes.put(1, words(text));
                self.codes.put(7, "Standard");
                self.codes.put(
                    72,
                    match anchor {
                        Anchor::Start => 0,
                        Anchor::Middle => 1,
                        Anchor::End => 2,
                    },
                );
                if *anchor != Anchor::Start {
                    self.codes.point(11, *at);
                }
                self.codes.put(100, "AcDbText");
            }
            Figure::Length { ends, words: text, parts } => self.length(layer, *ends, text, parts, blocks),
        }
    }

    fn line(&mut self, layer: Layer, points: &[Point], closed: bool, dash: Dash) {
        let (kind, class) = if points.len() == 2 { ("LINE", "AcDbLine") } else { ("LWPOLYLINE", "AcDbPolyline") };
        let (owner, name, handle) = (self.owner.clone(), words(self.names.of(layer)), self.codes.handle());
        self.codes.all(&[(0, kind), (5, &handle), (330, &owner), (100, "AcDbEntity"), (8, &name)]);
        let broken = match dash {
            Dash::Solid => None,
            Dash::Dashed | Dash::Wet => Some("DASHED"),
            Dash::Chain => Some("CHAIN"),
            Dash::Dotted => Some("DOTTED"),
        };
        if let Some(name) = broken {
            self.codes.put(6, name);
        }
        self.codes.put(100, class);
        if let [p, q] = points {
            self.codes.point(10, *p);
            self.codes.point(11, *q);
            return;
        }
        self.codes.put(90, points.len());
        self.codes.put(70, u8::from(closed));
        for p in points {
            self.codes.real(10, p.x);
            self.codes.real(20, p.y);
        }
    }

    fn fill(&mut self, layer: Layer, name: &str, runs: usize) {
        self.begin("HATCH", layer, "AcDbHatch");
        self.codes.point(10, Point::new(0.0, 0.0));
        self.codes.all(&[(210, "0.0"), (220, "0.0"), (230, "1.0"), (2, name)]);
        self.codes.put(70, u8::from(name == "SOLID"));
        self.codes.put(71, 0);
        self.codes.put(91, runs);
    }

    fn area(&mut self, layer: Layer, runs: &[Vec<Point>], hatch: Option<(Hatch, Sizes)>) {
        let named = hatch.and_then(|(hatch, sizes)| pattern(hatch).map(|(name, lines)| (name, lines, sizes)));
        let (name, lines, sizes) = named.unwrap_or(("SOLID", &[], Sizes { paper: 1.0, real: 1.0 }));
        self.fill(layer, name, runs.len());
        for run in runs {
            self.codes.all(&[(92, "3"), (72, "0"), (73, "1")]);
            self.codes.put(93, run.len());
            for p in run {
                self.codes.real(10, p.x);
                self.codes.real(20, p.y);
            }
            self.codes.put(97, 0);
        }
        self.codes.all(&[(75, "0"), (76, if name == "SOLID" { "1" } else { "2" })]);
        if name != "SOLID" {
            self.codes.all(&[(52, "0.0"), (41, "1.0"), (77, "0")]);
            self.codes.put(78, lines.len());
            let along = runs.first().map_or(0.0, |run| direction(run));
            lines.iter().for_each(|family| self.family(family, along, sizes));
        }
        self.codes.put(98, 0);
    }

    fn family(&mut self, family: &Family, along: f64, sizes: Sizes) {
        let degrees = family.degrees + along;
        let (sin, cos) = degrees.to_radians().sin_cos();
        let apart = family.apart * if family.real { sizes.real } else { sizes.paper };
        let shift = family.shift * sizes.paper;
        self.codes.real(53, degrees);
        let off = family.off * sizes.paper;
        for (code, value) in
            [(43, -off * sin), (44, off * cos), (45, shift * cos - apart * sin), (46, shift * sin + apart * cos)]
        {
            self.codes.real(code, value);
        }
        self.codes.put(79, family.dashes.len());
        family.dashes.iter().for_each(|dash| self.codes.real(49, dash * sizes.paper));
    }

    fn length(
        &mut self,
        layer: Layer,
        [p, q]: [Point; 2],
        text: &str,
        parts: &[(Layer, Figure)],
        blocks: &mut Vec<Block>,
    ) {
        let name = format!("*D{}", blocks.len() + 1);
        let measured = (q.x - p.x).hypot(q.y - p.y);
        self.begin("DIMENSION", layer, "AcDbDimension");
        self.codes.put(2, &name);
        self.codes.point(10, q);
        self.codes.point(11, Point::new((p.x + q.x) / 2.0, (p.y + q.y) / 2.0));
        self.codes.all(&[(70, "33"), (71, "5")]);
        self.codes.real(42, measured);
        // A plain length is measured, and goes along when the drawing is changed.
        let plain = text.parse().is_ok_and(|written: f64| (written - measured).abs() < 1e-6);
        self.codes.put(1, if plain { String::new() } else { words(text) });
        self.codes.all(&[(3, "Standard"), (100, "AcDbAlignedDimension")]);
        self.codes.point(13, p);
        self.codes.point(14, q);
        let mut block = Block::new(name, self.codes);
        let mut own = Codes::default();
        std::mem::swap(&mut own.text, &mut self.codes.text);
        let outer = std::mem::replace(&mut self.owner, block.record.clone());
        parts.iter().for_each(|(layer, figure)| self.figure(*layer, figure, blocks));
        self.owner = outer;
        block.entities = std::mem::replace(&mut self.codes.text, own.text);
        blocks.push(block);
    }
}

/// The direction of a layer: that of its longest edge, degrees.
fn direction(run: &[Point]) -> f64 {
    let edges = run.iter().enumerate().map(|(n, p)| (*p, run[(n + 1) % run.len()]));
    let longest =
        edges.max_by(|a, b| (a.1.x - a.0.x).hypot(a.1.y - a.0.y).total_cmp(&(b.1.x - b.0.x).hypot(b.1.y - b.0.y)));
    longest.map_or(0.0, |(p, q)| (q.y - p.y).atan2(q.x - p.x).to_degrees().rem_euclid(180.0))
}
