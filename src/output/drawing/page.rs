//! What stands around a drawing: its name, the names of pieces, the list of findings.

use crate::model::{Detail, Fastening, Seal};
use crate::output::drawing::lettering::wrap;
use crate::output::drawing::mark;
use crate::output::drawing::paper::{BEYOND, LINE, SMALL, TITLE, WORDS};
use crate::output::drawing::scene::{Area, Ink, Pen, Point, Role, Scene, Shape};
use crate::output::drawing::subject::Subject;
use crate::output::visible;

/// Free paper around everything, mm.
pub const MARGIN: f64 = 5.0;

/// `B1, base-of-wall: Board wall on the stem wall`
pub fn name(detail: &Detail) -> String {
    let title = detail.title.as_deref().map_or(String::new(), |title| format!(": {title}"));
    visible(&format!("{}, {}{title}", detail.name, detail.kind)).into_owned()
}

/// What the drawing shows, for those who do not see it.
pub fn description(subject: &Subject, pieces: &[usize]) -> String {
    let names: Vec<String> = pieces.iter().map(|p| accessible_name(subject, *p)).collect();
    let findings = match subject.marks.len() {
        0 => "No findings.".to_owned(),
        1 => "One finding is marked.".to_owned(),
        n => format!("{n} findings are marked."),
    };
    format!("Pieces in order of installation: {}. {findings}", names.join("; "))
}

/// `3 strip, flash-tape`; the number is its step in the installation sequence.
pub fn accessible_name(subject: &Subject, piece: usize) -> String {
    let of = &subject.detail.pieces[piece];
    visible(&format!("{} {}, {}", subject.steps[piece], of.name, of.material.name)).into_owned()
}

/// `Butyl sealant between flap and low`.
pub fn seal_name(subject: &Subject, seal: &Seal) -> String {
    let [first, second] = [&seal.first, &seal.second].map(|piece| &subject.detail.pieces[piece.index].name);
    visible(&format!("{} between {first} and {second}", seal.sealant.called())).into_owned()
}

/// `One staple with plastic cap through wrap`.
pub fn fastening_name(subject: &Subject, fastening: &Fastening) -> String {
    let piece = &subject.detail.pieces[fastening.piece.index].name;
    visible(&format!("{} through {piece}", fastening.fastener.called())).into_owned()
}

/// The title of what it is made of, its name in the text, and how it is fixed: `Vapor-open wrap (flap), rolled`.
pub fn label(subject: &Subject, piece: usize) -> String {
    let of = &subject.detail.pieces[piece];
    let mut words = visible(&format!("{} ({})", of.material.called(), of.name)).into_owned();
    for (_, word) in
        [(of.rolled, "rolled"), (of.primed, "primed"), (of.inside, "inside face")].iter().filter(|(is, _)| *is)
    {
        words.push_str(&format!(", {word}"));
    }
    words
}

/// A view of a detail by itself, in mm of paper from its upper left corner.
pub struct View {
    pub name: &'static str,
    pub shapes: Vec<Shape>,
    pub width: f64,
    pub height: f64,
    pub scale: f64,
    /// Where height 0 lies, of a wall that is not bent.
    pub datum: Option<f64>,
    /// Where place 0 along the wall lies, of a drawing that runs along it.
    pub middle: Option<f64>,
    /// What it shows, besides its scale.
    pub caption: String,
    /// What is said of it below its title on a sheet, and in the head of a drawing by itself.
    pub explained: Vec<String>,
    /// Numbers of the findings that have no place on it.
    pub unplaced: Vec<usize>,
}

/// A view with the name of the detail above it, and its notes and findings below.
pub fn around(subject: &Subject, view: View, title: String, description: String) -> Scene {
    let width = (view.width + 2.0 * MARGIN).max(150.0);
    let mut caption = format!("{}, {}; {}", view.name, subject.scales().written(view.scale), view.caption);
    if !view.explained.is_empty() {
        caption.push_str(&format!(". {}", view.explained.join(" ")));
    }
    let (mut shapes, top) = heading(subject, &caption, width);
    shapes.extend(view.shapes.into_iter().map(|shape| shape.moved(MARGIN, top)));
    let (foot, height) = foot(subject, &view.unplaced, top + view.height + 4.0, width);
    shapes.extend(foot);
    Scene { width, height, scale: 1.0, title, description, shapes }.at_scale(view.scale)
}

/// A view by itself, for a page that tells name and findings in its own words.
pub fn bare(view: View, title: String, description: String) -> Scene {
    let View { shapes, width, height, scale, .. } = view;
    Scene { width: width + 2.0, height: height + 2.0, scale: 1.0, title, description, shapes }.at_scale(scale)
}

/// The part of a scene in which its pieces lie, with some paper around: what a thumbnail shows.
pub fn core(scene: &Scene) -> Area {
    let mut core: Option<Area> = None;
    scene.each(&mut |shape| {
        if let Shape::Group { role: Role::Piece(_), shapes, .. } = shape
            && let Some(area) = Area::around(shapes)
        {
            core = Some(core.map_or(area, |core| core.with(area)));
        }
    });
    let core = core.unwrap_or(Area::new(0.0, 0.0, scene.width, scene.height));
    let more = 5.0 * scene.scale;
    Area::new(core.left - more, core.top - more, core.right + more, core.bottom + more)
}

/// The head of the sheet: name of the detail, what the view is, the sheet it stands on. Returns where it ends.
fn heading(subject: &Subject, caption: &str, width: f64) -> (Vec<Shape>, f64) {
    let detail = subject.detail;
    let inner = width - 2.0 * MARGIN;
    let mut at = MARGIN + TITLE;
    let mut shapes = Vec::new();
    for line in wrap(&name(detail), TITLE, inner).into_iter().take(3) {
        shapes.push(Shape::text(Point::new(MARGIN, at), TITLE, line).bold());
        at += TITLE * 1.6;
    }
    let sheet = detail.sheet.as_deref().map_or(String::new(), |sheet| format!("Sheet {}. ", visible(sheet)));
    for line in wrap(&format!("{sheet}{caption}"), SMALL, inner) {
        shapes.push(Shape::text(Point::new(MARGIN, at - 1.0), SMALL, line).inked(Ink::Dark));
        at += SMALL * 1.7;
    }
    (shapes, at)
}

/// The foot of the sheet: notes and findings. Returns where the sheet ends.
fn foot(subject: &Subject, unplaced: &[usize], top: f64, width: f64) -> (Vec<Shape>, f64) {
    let inner = width - 2.0 * MARGIN;
    let mut shapes = Vec::new();
    let mut at = top;
    for note in &subject.detail.notes {
        for line in wrap(&format!("Note: {}", visible(note)), WORDS, inner) {
            shapes.push(Shape::text(Point::new(MARGIN, at + WORDS), WORDS, line));
            at += LINE;
        }
    }
    if subject.marks.is_empty() {
        shapes.push(Shape::text(Point::new(MARGIN, at + WORDS), WORDS, "No findings."));
        return (shapes, at + LINE + MARGIN);
    }
    at += 1.0;
    let rule = vec![Point::new(MARGIN, at), Point::new(width - MARGIN, at)];
    shapes.push(Shape::line(rule, Pen::solid(BEYOND, Ink::Dark)));
    let (list, end) = mark::list(subject.marks, unplaced, MARGIN, at + 2.5, inner, false);
    shapes.extend(list);
    (shapes, end + MARGIN - 1.8)
}

/// A straight line with a kink every so often (ISO 128-2, line type 01 with zigzags).
pub fn zigzag(from: Point, to: Point) -> Vec<Point> {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let length = (dx * dx + dy * dy).sqrt();
    let at = |along: f64, aside: f64| {
        let (ux, uy) = (dx / length.max(1e-9), dy / length.max(1e-9));
        Point::new(from.x + along * ux - aside * uy, from.y + along * uy + aside * ux)
    };
    let kinks = (length / 22.0).round().clamp(1.0, 30.0);
    let mut points = vec![from];
    for n in 0..kinks as usize {
        let middle = (n as f64 + 0.5) * length / kinks;
        points.extend([at(middle - 0.8, 0.0), at(middle - 0.35, -1.3), at(middle + 0.35, 1.3), at(middle + 0.8, 0.0)]);
    }
    points.push(to);
    points
}
