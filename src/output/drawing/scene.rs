//! What is on a drawing, before any file format.

use crate::output::drawing::hatch::Hatch;
use crate::output::drawing::lettering;

/// A drawing in millimetres of the building, x to the right and y down.
///
/// On paper it is smaller by `scale` (5 for 1:5); text and pens are sized for paper, so in the scene they are larger by
/// as much.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    pub width: f64,
    pub height: f64,
    pub scale: f64,
    /// What the drawing is, in a few words.
    pub title: String,
    /// What it shows, for those who do not see it.
    pub description: String,
    pub shapes: Vec<Shape>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    pub x: f64,
    pub y: f64,
}

/// An upright rectangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// Runs of straight lines; closed ones bound areas, and an area within an area is a hole.
    Path {
        runs: Vec<Vec<Point>>,
        closed: bool,
        pen: Option<Pen>,
        fill: Option<Ink>,
    },
    Circle {
        center: Point,
        radius: f64,
        pen: Option<Pen>,
        fill: Option<Ink>,
    },
    /// `at` lies on the line that the letters stand on.
    Text {
        at: Point,
        height: f64,
        anchor: Anchor,
        bold: bool,
        ink: Ink,
        words: String,
    },
    /// Shapes that are one thing, with the words that a reader gets for it.
    Group {
        role: Role,
        words: String,
        shapes: Vec<Shape>,
    },
}

/// What a group stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// A piece, by index.
    Piece(usize),
    /// A piece's name beside the drawing.
    Label(usize),
    /// A finding, by the number that its mark shows.
    Mark(usize),
    /// The point that a mark points at.
    Anchor(usize),
    /// The way of a drop.
    Drop,
    Dimension,
    /// The dimension of one length: the last run of its first shape is its line.
    Length,
    /// A hatch, behind the outline of what it fills.
    Hatch(Hatch),
    /// The seen edges of a piece.
    Outline(usize),
    /// Edges that something covers.
    Covered,
    Fold,
    Bond,
    Bead,
    Fastening,
    Weep,
    Ground,
    /// Where the drawing is cut off.
    Break,
    /// A sign that the legend of a sheet explains.
    Symbol(Symbol),
    Other,
}

/// What a legend explains, in the order in which it does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Symbol {
    /// A piece, by the step in which it is installed.
    Note,
    Error,
    Warning,
    Remark,
    /// A finding that is waived or known.
    Settled,
    /// A step of the way that water takes.
    Step,
    Water,
    /// Water that shares its fate with one that is drawn in full.
    Quiet,
    Wrong,
    Ring,
    TurnsIn,
    Drips,
    Held,
    Wets,
    Sheet,
    Tape,
    SelfAdhered,
    Metal,
    Liquid,
    Adhered,
    Bead,
    Fastener,
    Weep,
    Ledge,
    Hidden,
    Fold,
    CutOff,
    CutHere,
    Enlarged,
    Failing,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    pub width: f64,
    pub ink: Ink,
    pub dash: Dash,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dash {
    Solid,
    /// Hidden edges (ISO 128-2, line type 02).
    Dashed,
    /// Axes and folds (line type 04).
    Chain,
    Dotted,
    /// Water behind what should keep it out: 3 mm of paper and 1.5.
    Wet,
}

/// Few inks, each told from the others by lightness alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    Black,
    Dark,
    Gray,
    Light,
    Pale,
    White,
    /// Water where it may be.
    Water,
    /// Water where it may not be, and the mark that is lit.
    Warm,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    Start,
    Middle,
    End,
}

impl Point {
    pub fn new(x: f64, y: f64) -> Point {
        Point { x, y }
    }

    fn times(self, factor: f64) -> Point {
        Point::new(self.x * factor, self.y * factor)
    }
}

impl Area {
    pub fn new(left: f64, top: f64, right: f64, bottom: f64) -> Area {
        Area { left, top, right, bottom }
    }

    pub fn width(self) -> f64 {
        self.right - self.left
    }

    pub fn height(self) -> f64 {
        self.bottom - self.top
    }

    pub fn center(self) -> Point {
        Point::new((self.left + self.right) / 2.0, (self.top + self.bottom) / 2.0)
    }

    pub fn contains(self, at: Point) -> bool {
        (self.left..=self.right).contains(&at.x) && (self.top..=self.bottom).contains(&at.y)
    }

    /// What holds all points of lines, dots and words; nothing when there are none.
    pub fn around(shapes: &[Shape]) -> Option<Area> {
        let mut area: Option<Area> = None;
        let mut add = |p: Point, by: f64| {
            let own = Area::new(p.x - by, p.y - by, p.x + by, p.y + by);
            area = Some(area.map_or(own, |a| a.with(own)));
        };
        for shape in shapes {
            shape.each(&mut |shape| match shape {
                Shape::Path { runs, .. } => runs.iter().flatten().for_each(|p| add(*p, 0.0)),
                Shape::Circle { center, radius, .. } => add(*center, *radius),
                Shape::Text { .. } => shape.room().into_iter().flat_map(Area::corners).for_each(|p| add(p, 0.0)),
                Shape::Group { .. } => {}
            });
        }
        area
    }

    pub fn with(self, other: Area) -> Area {
        Area::new(
            self.left.min(other.left),
            self.top.min(other.top),
            self.right.max(other.right),
            self.bottom.max(other.bottom),
        )
    }

    /// A straight line runs through it.
    pub fn meets(self, a: Point, b: Point) -> bool {
        let (mut from, mut to) = (0.0f64, 1.0f64);
        for (start, step, low, high) in
            [(a.x, b.x - a.x, self.left, self.right), (a.y, b.y - a.y, self.top, self.bottom)]
        {
            if step.abs() < 1e-12 {
                if start <= low || start >= high {
                    return false;
                }
                continue;
            }
            let (enters, leaves) = ((low - start) / step, (high - start) / step);
            from = from.max(enters.min(leaves));
            to = to.min(enters.max(leaves));
        }
        from < to
    }

    /// They share more than an edge.
    pub fn overlaps(self, other: Area) -> bool {
        self.left < other.right && other.left < self.right && self.top < other.bottom && other.top < self.bottom
    }

    pub fn corners(self) -> Vec<Point> {
        vec![
            Point::new(self.left, self.top),
            Point::new(self.right, self.top),
            Point::new(self.right, self.bottom),
            Point::new(self.left, self.bottom),
        ]
    }
}

impl Pen {
    pub fn solid(width: f64, ink: Ink) -> Pen {
        Pen { width, ink, dash: Dash::Solid }
    }

    pub fn dashed(self, dash: Dash) -> Pen {
        Pen { dash, ..self }
    }
}

impl Shape {
    pub fn line(points: Vec<Point>, pen: Pen) -> Shape {
        Shape::Path { runs: vec![points], closed: false, pen: Some(pen), fill: None }
    }

    pub fn lines(runs: Vec<Vec<Point>>, pen: Pen) -> Shape {
        Shape::Path { runs, closed: false, pen: Some(pen), fill: None }
    }

    pub fn polygon(points: Vec<Point>, pen: Option<Pen>, fill: Option<Ink>) -> Shape {
        Shape::Path { runs: vec![points], closed: true, pen, fill }
    }

    pub fn text(at: Point, height: f64, words: impl Into<String>) -> Shape {
        Shape::Text { at, height, anchor: Anchor::Start, bold: false, ink: Ink::Black, words: words.into() }
    }

    pub fn anchored(self, to: Anchor) -> Shape {
        match self {
            Shape::Text { at, height, bold, ink, words, .. } => {
                Shape::Text { at, height, anchor: to, bold, ink, words }
            }
            other => other,
        }
    }

    pub fn bold(self) -> Shape {
        match self {
            Shape::Text { at, height, anchor, ink, words, .. } => {
                Shape::Text { at, height, anchor, bold: true, ink, words }
            }
            other => other,
        }
    }

    pub fn inked(self, ink: Ink) -> Shape {
        match self {
            Shape::Text { at, height, anchor, bold, words, .. } => Shape::Text { at, height, anchor, bold, ink, words },
            other => other,
        }
    }

    /// The room that words take, from the line they stand on up.
    pub fn room(&self) -> Option<Area> {
        let Shape::Text { at, height, anchor, words, .. } = self else { return None };
        let width = lettering::width(words, *height);
        let left = match anchor {
            Anchor::Start => at.x,
            Anchor::Middle => at.x - width / 2.0,
            Anchor::End => at.x - width,
        };
        Some(Area::new(left, at.y - height, left + width, at.y))
    }

    pub fn group(role: Role, words: impl Into<String>, shapes: Vec<Shape>) -> Shape {
        Shape::Group { role, words: words.into(), shapes }
    }

    /// All that it is made of, from the first drawn to the last; groups before their contents.
    pub fn each(&self, visit: &mut dyn FnMut(&Shape)) {
        visit(self);
        if let Shape::Group { shapes, .. } = self {
            shapes.iter().for_each(|shape| shape.each(visit));
        }
    }

    /// The same somewhere else.
    pub fn moved(mut self, x: f64, y: f64) -> Shape {
        self.each_place(&mut |p| *p = Point::new(p.x + x, p.y + y));
        self
    }

    pub fn each_place(&mut self, change: &mut dyn FnMut(&mut Point)) {
        match self {
            Shape::Path { runs, .. } => runs.iter_mut().flatten().for_each(change),
            Shape::Circle { center: at, .. } | Shape::Text { at, .. } => change(at),
            Shape::Group { shapes, .. } => shapes.iter_mut().for_each(|s| s.each_place(change)),
        }
    }

    fn enlarge(&mut self, factor: f64) {
        let pen_times = |pen: &mut Option<Pen>| {
            if let Some(pen) = pen {
                pen.width *= factor;
            }
        };
        match self {
            Shape::Path { runs, pen, .. } => {
                runs.iter_mut().flatten().for_each(|p| *p = p.times(factor));
                pen_times(pen);
            }
            Shape::Circle { center, radius, pen, .. } => {
                *center = center.times(factor);
                *radius *= factor;
                pen_times(pen);
            }
            Shape::Text { at, height, .. } => {
                *at = at.times(factor);
                *height *= factor;
            }
            Shape::Group { shapes, .. } => shapes.iter_mut().for_each(|s| s.enlarge(factor)),
        }
    }
}

impl Scene {
    /// A scene laid out in millimetres of paper at a scale, brought to millimetres of the building.
    /// Shapes that are laid over a drawing have no paper of their own.
    pub fn empty() -> Scene {
        let (title, description) = (String::new(), String::new());
        Scene { width: 0.0, height: 0.0, scale: 1.0, title, description, shapes: Vec::new() }
    }

    pub fn at_scale(mut self, scale: f64) -> Scene {
        self.shapes.iter_mut().for_each(|shape| shape.enlarge(scale));
        Scene { width: self.width * scale, height: self.height * scale, scale, ..self }
    }

    pub fn each(&self, visit: &mut dyn FnMut(&Shape)) {
        self.shapes.iter().for_each(|shape| shape.each(visit));
    }

    /// The groups of one role, in drawing order.
    pub fn groups(&self, wanted: Role) -> Vec<&[Shape]> {
        fn look<'a>(shapes: &'a [Shape], wanted: Role, found: &mut Vec<&'a [Shape]>) {
            for shape in shapes {
                if let Shape::Group { role, shapes, .. } = shape {
                    if *role == wanted {
                        found.push(shapes);
                    }
                    look(shapes, wanted, found);
                }
            }
        }
        let mut found = Vec::new();
        look(&self.shapes, wanted, &mut found);
        found
    }
}
