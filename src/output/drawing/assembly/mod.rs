//! An assembly: its layers to scale with the temperature, vapor pressure against vapor resistance, and moisture by month.

mod axis;
mod charts;
mod fault;
mod stack;

pub use fault::{layer_clouds, layers};

use crate::facts::AssemblyFacts;
use crate::facts::section::Section;
use crate::output::drawing::dimension;
use crate::output::drawing::hatch::{Hatch, hatch, hatch_of};
use crate::output::drawing::lettering::wrap;
use crate::output::drawing::page::MARGIN;
use crate::output::drawing::paper::{BEYOND, CUT, LINE, MEDIUM, SMALL, TITLE, WORDS};
use crate::output::drawing::scene::{Area, Dash, Ink, Pen, Point, Role, Scene, Shape};
use crate::output::visible;
use crate::physics::{Profile, SlabPlace};
use axis::Axis;
use stack::{Stack, lies};

pub const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

const WIDTH: f64 = 180.0;
const LEFT: f64 = 24.0;
const RIGHT: f64 = 118.0;
const LAYERS_HEIGHT: f64 = 42.0;

/// Layers that lie on each other take more height.
const LYING_HEIGHT: f64 = 68.0;

/// The least width of a layer, mm of paper.
const THINNEST: f64 = 1.3;

/// The drawing of an assembly. What cannot be computed is not drawn, and the drawing says what is lacking.
pub fn assembly(facts: &AssemblyFacts) -> Scene {
    let said = &facts.assembly;
    let title = said.title.as_deref().map_or(String::new(), |title| format!(": {title}"));
    let title = visible(&format!("{}, {}{title}", said.name, said.kind.word())).into_owned();
    let mut shapes = Vec::new();
    let mut at = MARGIN + TITLE;
    for line in wrap(&title, TITLE, WIDTH - 2.0 * MARGIN) {
        shapes.push(Shape::text(Point::new(MARGIN, at), TITLE, line).bold());
        at += TITLE * 1.6;
    }
    let section = governing_section(facts);
    let profile = section.and_then(|s| s.year.as_ref().map(|y| &y.profile).or(s.design.as_ref().map(|d| &d.profile)));
    for line in wrap(&caption(facts, section), SMALL, WIDTH - 2.0 * MARGIN) {
        shapes.push(Shape::text(Point::new(MARGIN, at - 1.0), SMALL, line).inked(Ink::Dark));
        at += SMALL * 1.7;
    }

    let top = at + 12.0;
    let bounds = bounds(facts);
    let height = if lies(facts) { LYING_HEIGHT } else { LAYERS_HEIGHT };
    let stack = Stack::new(facts, Area::new(LEFT, top, RIGHT, top + height));
    let area = stack.area;
    shapes.extend(drawn(facts, &bounds, stack));
    let (list, listed) = list(facts, top - 4.0);
    shapes.extend(list);
    if let Some(profile) = profile {
        shapes.extend(temperature(facts, profile, &bounds, stack));
    }
    at = (area.bottom + if stack.lies() { 13.0 } else { 8.0 }).max(listed + 4.0);

    if let (Some(section), Some(profile)) = (section, profile) {
        let (charts, end) = charts::pressure(facts, profile, Area::new(LEFT, at + 12.0, RIGHT, at + 58.0));
        shapes.extend(charts);
        at = end;
        if let Some(year) = &section.year {
            let (bars, end) = charts::months(&year.condensation, Area::new(LEFT, at + 10.0, RIGHT, at + 38.0));
            shapes.extend(bars);
            at = end;
        }
    } else {
        for line in lacking(facts) {
            shapes.push(Shape::text(Point::new(MARGIN, at + WORDS), WORDS, line));
            at += LINE;
        }
    }
    let description = description(facts, section);
    Scene { width: WIDTH, height: at + MARGIN, scale: 1.0, title: format!("Assembly {title}"), description, shapes }
}

/// The path that gets wettest, or the first.
pub fn governing_section(facts: &AssemblyFacts) -> Option<&Section> {
    let peak = |section: &Section| section.year.as_ref().map_or(0.0, |year| year.condensation.peak);
    facts.sections().iter().rev().max_by(|a, b| peak(a).total_cmp(&peak(b)))
}

fn caption(facts: &AssemblyFacts, section: Option<&Section>) -> String {
    let mut words = match &facts.thermal {
        Ok(Some(r)) => format!("R {:.2} m2K/W, U {:.3} W/m2K (ISO 6946); ", r.mean, r.u),
        _ => String::new(),
    };
    if let Some(section) = section {
        words.push_str(section.through.words());
        match &section.year {
            Some(year) => words.push_str(&format!(" in {} (ISO 13788); ", MONTHS[year.month])),
            None => words.push_str(", design condition; "),
        }
    }
    let inside = Stack::new(facts, Area::new(0.0, 0.0, 1.0, 1.0)).words();
    words.push_str(&format!("{inside}; layers to scale, thin ones drawn thicker"));
    words
}

fn description(facts: &AssemblyFacts, section: Option<&Section>) -> String {
    let layers: Vec<&str> = facts.assembly.layers.iter().map(|l| &*l.name).collect();
    let mut words = format!("Layers, outside first: {}.", visible(&layers.join(", ")));
    if let Some(year) = section.and_then(|s| s.year.as_ref()) {
        words.push_str(&match year.condensation.peak {
            0.0 => " No month condenses.".to_owned(),
            peak => format!(
                " Condensate at most {:.0} g/m2, left after the year {:.0} g/m2.",
                1000.0 * peak,
                1000.0 * year.condensation.residue
            ),
        });
    }
    words
}

/// Faces of the layers on paper from 0 to 1, inside first.
fn bounds(facts: &AssemblyFacts) -> Vec<f64> {
    let width = RIGHT - LEFT;
    let thickness: Vec<f64> = facts.layers.iter().rev().map(|l| l.thickness.unwrap_or(0.0)).collect();
    let whole: f64 = thickness.iter().sum::<f64>().max(1e-6);
    let room = width - THINNEST * thickness.len() as f64;
    let mut at = 0.0;
    let mut bounds = vec![0.0];
    for layer in thickness {
        at += (THINNEST + room.max(0.0) * layer / whole) / width;
        bounds.push(at);
    }
    let last = at.max(1e-9);
    bounds.iter().map(|b| b / last).collect()
}

fn drawn(facts: &AssemblyFacts, bounds: &[f64], stack: Stack) -> Vec<Shape> {
    let area = stack.area;
    let whole: f64 = facts.layers.iter().filter_map(|layer| layer.thickness).sum();
    let scale = (1000.0 * whole / stack.thickness(area)).max(1.0);
    let mut shapes = Vec::new();
    let mut numbers = Vec::new();
    for (n, layer) in facts.assembly.layers.iter().rev().enumerate() {
        let part = stack.between(bounds[n], bounds[n + 1]);
        let kind = hatch_of(&layer.material);
        let thin = stack.thickness(part) < 2.0 * THINNEST;
        let mut drawn = if thin && kind != Hatch::Air {
            vec![Shape::polygon(part.corners(), None, Some(Ink::Gray))]
        } else {
            hatch(part, kind, stack.runs(), scale)
        };
        drawn.push(Shape::polygon(part.corners(), Some(Pen::solid(MEDIUM, Ink::Black)), None));
        let number = facts.layers.len() - n;
        shapes.push(Shape::group(Role::Piece(number - 1), visible(&layer.name), drawn));
        numbers.push((part.center(), number.to_string()));
    }
    if stack.lies() {
        // From the top down.
        numbers.sort_by(|a, b| a.0.y.total_cmp(&b.0.y));
        let at = |(middle, number): (Point, String)| (Point::new(area.left, middle.y), number);
        let numbers: Vec<(Point, String)> = numbers.into_iter().map(at).collect();
        shapes.push(dimension::levels(&numbers, area.left - 8.0, area.top - 4.0));
    } else {
        let numbers: Vec<(f64, String)> = numbers.into_iter().map(|(middle, number)| (middle.x, number)).collect();
        shapes.push(dimension::level(&numbers, area.top - 2.5, area.left, area.right, false).0);
    }
    shapes
}

/// The layers by number, outside first, as the assembly is written; and where the list ends.
fn list(facts: &AssemblyFacts, top: f64) -> (Vec<Shape>, f64) {
    let mut shapes = Vec::new();
    let mut at = top;
    for (n, layer) in facts.assembly.layers.iter().enumerate() {
        let thickness = layer.thickness.map_or(String::new(), |t| format!(", {t}"));
        let named = &facts.assembly.layers[n].material.title;
        let name = named.as_deref().map_or(layer.name.to_string(), |title| format!("{title} ({})", layer.name));
        let words = visible(&format!("{} {name}{thickness}", n + 1)).into_owned();
        for line in wrap(&words, WORDS, WIDTH - RIGHT - 8.0 - MARGIN) {
            at += LINE;
            shapes.push(Shape::text(Point::new(RIGHT + 8.0, at), WORDS, line));
        }
        // Where one ends and the next begins.
        at += LINE / 4.0;
    }
    (shapes, at)
}

fn temperature(facts: &AssemblyFacts, profile: &Profile, bounds: &[f64], stack: Stack) -> Vec<Shape> {
    let temperatures = profile.points.iter().map(|p| p.temperature);
    let scale = Axis::covering(temperatures, 5.0);
    let area = stack.area;
    let place = |place: SlabPlace| match place {
        SlabPlace::Interface(n) => bounds[n.min(facts.layers.len())],
        SlabPlace::Within { layer, depth } => bounds[layer] + depth * (bounds[layer + 1] - bounds[layer]),
    };
    let points = profile.points.iter().map(|p| stack.at(place(p.place), scale.part(p.temperature)));
    let points: Vec<Point> = points.collect();
    let mut shapes = if stack.lies() { scale.level(area, "temperature, °C") } else { scale.upright(area, "°C") };
    // White under it keeps it apart from the hatches.
    shapes.push(Shape::line(points.clone(), Pen::solid(3.0 * CUT, Ink::White)));
    shapes.push(Shape::line(points, Pen::solid(1.4 * CUT, Ink::Black)));
    if !stack.lies() {
        shapes.push(Shape::text(Point::new(area.left, area.bottom + 4.0), SMALL, "temperature"));
    }
    shapes
}

/// What keeps the moisture from being computed.
fn lacking(facts: &AssemblyFacts) -> Vec<String> {
    if facts.assembly.climate.is_none() {
        return vec!["No climate is stated, so nothing was computed through the year.".to_owned()];
    }
    let line = |lack: &crate::facts::Lack| {
        format!("Not computed: {} states no {}.", visible(&lack.material.name), lack.property)
    };
    facts.lacks.iter().map(line).collect()
}

/// A thin chain line for bounds of layers in charts.
pub const BOUND: Pen = Pen { width: BEYOND, ink: Ink::Light, dash: Dash::Solid };
