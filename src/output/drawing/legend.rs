//! The signs that a drawing uses, explained in its corner: each that is on it, and no other.

use std::collections::BTreeSet;

use crate::output::drawing::mark;
use crate::output::drawing::page;
use crate::output::drawing::paper::{BEYOND, CASING, CUT, FOLD, GRADE, LEADER, MEDIUM, MEMBRANE, SMALL, WATER};
use crate::output::drawing::scene::{Dash, Ink, Pen, Point, Role, Shape, Symbol};
use crate::output::drawing::section::step_sign;
use crate::output::drawing::subject::Subject;
use crate::output::drawing::water::{self, Fate};

/// Width of a legend, mm. With sixteen signs it is 30 high.
pub const WIDTH: f64 = 55.0;

/// Distance of its lines, and of its two columns.
const ROW: f64 = 3.0;
const COLUMN: f64 = WIDTH / 2.0;

/// Where the signs end.
const SIGN: f64 = 6.0;

/// From the upper left corner; and how high it is.
pub fn legend(subject: &Subject, views: &[&[Shape]]) -> (Vec<Shape>, f64) {
    let symbols = symbols(subject, views);
    let mut shapes = vec![Shape::text(Point::new(0.0, SMALL), SMALL, "SIGNS").bold()];
    let mut put = |at: Point, sign: Vec<Shape>, words: &str| {
        shapes.extend(sign.into_iter().map(|shape| shape.moved(at.x, at.y)));
        shapes.push(Shape::text(Point::new(at.x + SIGN + 0.7, at.y + SMALL / 2.0), SMALL, words));
    };
    let rows = symbols.len().div_ceil(2);
    for (n, symbol) in symbols.iter().enumerate() {
        let at = Point::new((n / rows) as f64 * COLUMN, TOP + (n % rows) as f64 * ROW);
        let (sign, words) = explained(*symbol, held_ink(views));
        put(at, vec![Shape::group(Role::Symbol(*symbol), "", sign)], words);
    }
    let mut end = TOP + rows as f64 * ROW;
    use Symbol::{Liquid, Metal, SelfAdhered, Sheet, Tape};
    if [Sheet, Tape, SelfAdhered, Metal, Liquid].iter().any(|membrane| symbols.contains(membrane)) {
        let edge = |y: f64| line(y, Pen::solid(CUT, Ink::Black));
        put(Point::new(0.0, end), vec![edge(-0.8), edge(0.8)], "membrane gaps exaggerated");
        end += ROW;
    }
    (vec![Shape::group(Role::Other, "legend", shapes)], end - ROW / 2.0)
}

/// The middle of its first line.
const TOP: f64 = 4.8;

/// What is to be explained of some views.
pub fn symbols(subject: &Subject, views: &[&[Shape]]) -> BTreeSet<Symbol> {
    let mut seen = BTreeSet::new();
    views
        .iter()
        .flat_map(|shapes| shapes.iter())
        .for_each(|shape| shape.each(&mut |shape| look(subject, shape, &mut seen)));
    seen
}

fn look(subject: &Subject, shape: &Shape, seen: &mut BTreeSet<Symbol>) {
    let Shape::Group { role, words, shapes } = shape else { return };
    if shapes.is_empty() || shapes.iter().all(is_empty) {
        return;
    }
    match role {
        Role::Symbol(symbol) => {
            seen.insert(*symbol);
        }
        Role::Label(_) | Role::BeadName => {
            seen.insert(Symbol::Note);
        }
        Role::Mark(number) => {
            let entry = subject.marks.iter().find(|entry| entry.number == *number);
            seen.extend(entry.map(|entry| mark::symbol(entry.finding)));
        }
        Role::Drop => seen.extend(shapes.iter().filter_map(water_symbol)),
        Role::Bond => {
            seen.insert(Symbol::Adhered);
        }
        Role::Bead => {
            seen.insert(Symbol::Bead);
        }
        Role::Fastening => {
            seen.insert(Symbol::Fastener);
        }
        Role::Weep => {
            seen.insert(Symbol::Weep);
        }
        Role::Covered => {
            seen.insert(if words.ends_with("not given") { Symbol::Ledge } else { Symbol::Hidden });
        }
        Role::Fold => {
            seen.insert(Symbol::Fold);
        }
        Role::Break => {
            seen.insert(Symbol::CutOff);
        }
        Role::Other if words.starts_with("cut of") => {
            seen.insert(Symbol::CutHere);
        }
        _ => {}
    }
}

/// The symbol of a line of water.
fn water_symbol(shape: &Shape) -> Option<Symbol> {
    match shape {
        Shape::Path { pen: Some(pen), closed: false, .. } if pen.dash == Dash::Wet => Some(Symbol::Wrong),
        Shape::Path { pen: Some(pen), closed: false, .. } if pen.ink == Ink::Water => Some(Symbol::Water),
        Shape::Path { pen: Some(pen), closed: false, .. } if pen.ink == Ink::Light => Some(Symbol::Quiet),
        _ => None,
    }
}

/// Water that is held where it may be has the color of other water there.
fn held_ink(views: &[&[Shape]]) -> Ink {
    let mut ink = Ink::Water;
    let bar = |shape: &Shape| matches!(shape, Shape::Path { pen: Some(pen), .. } if pen.ink == Ink::Warm);
    views.iter().flat_map(|shapes| shapes.iter()).for_each(|shape| {
        shape.each(&mut |shape| {
            if let Shape::Group { role: Role::Symbol(Symbol::Held), shapes, .. } = shape
                && shapes.iter().any(bar)
            {
                ink = Ink::Warm;
            }
        });
    });
    ink
}

fn is_empty(shape: &Shape) -> bool {
    match shape {
        Shape::Path { runs, .. } => runs.iter().all(Vec::is_empty),
        Shape::Group { shapes, .. } => shapes.iter().all(is_empty),
        _ => false,
    }
}

fn line(y: f64, pen: Pen) -> Shape {
    Shape::line(vec![Point::new(0.0, y), Point::new(SIGN, y)], pen)
}

/// A sign as it is drawn, around the middle of its row, and what it means.
fn explained(symbol: Symbol, held: Ink) -> (Vec<Shape>, &'static str) {
    let middle = Point::new(SIGN / 2.0, 0.0);
    let strip = |pen: Pen| line(0.0, pen);
    let two =
        |outer: f64, inner: f64, ink: Ink| vec![strip(Pen::solid(outer, Ink::Black)), strip(Pen::solid(inner, ink))];
    let tip = |pen: Pen, fill: Ink| {
        let corner = |x: f64, y: f64| Point::new(middle.x + 1.6 * x, 1.6 * y);
        let corners = vec![corner(1.0, 0.0), corner(0.0, 1.0), corner(-1.0, 0.0), corner(0.0, -1.0)];
        vec![Shape::polygon(corners, Some(pen), Some(fill))]
    };
    let circle =
        |radius: f64, pen: Pen, fill: Option<Ink>| vec![Shape::Circle { center: middle, radius, pen: Some(pen), fill }];
    let turn = water::turn(Point::new(middle.x - 4.2, 0.0), Some(Point::new(1.0, 0.0)));
    let part = |wanted: Symbol| {
        turn.iter()
            .filter(move |s| matches!(s, Shape::Group { role, .. } if *role == Role::Symbol(wanted)))
            .cloned()
            .collect()
    };
    match symbol {
        Symbol::Note => (circle(1.5, Pen::solid(BEYOND, Ink::Black), None), "piece, step"),
        Symbol::Error => (tip(Pen::solid(MEMBRANE, Ink::Black), Ink::Black), "error"),
        Symbol::Warning => (tip(Pen::solid(MEMBRANE, Ink::Black), Ink::White), "warning"),
        Symbol::Remark => (tip(Pen::solid(BEYOND, Ink::Black), Ink::White), "note"),
        Symbol::Settled => (tip(Pen::solid(MEDIUM, Ink::Black).dashed(Dash::Dotted), Ink::White), "waived"),
        Symbol::Step => (step_sign(Point::new(middle.x, 0.5), "", 0.75), "water step"),
        Symbol::Water => (vec![strip(Pen::solid(WATER, Ink::Water))], "water"),
        Symbol::Quiet => (vec![strip(Pen::solid(BEYOND, Ink::Light))], "other water"),
        Symbol::Wrong => (vec![strip(Pen { width: WATER, ink: Ink::Warm, dash: Dash::Wet })], "water astray"),
        Symbol::Ring => (circle(1.5, Pen::solid(CUT, Ink::Warm), None), "goes astray"),
        Symbol::TurnsIn => (part(Symbol::TurnsIn), "turns in"),
        Symbol::Drips => (water::sign(Fate::Drips, Point::new(SIGN - 1.5, 0.0), Ink::Water), "drips off"),
        Symbol::Held => (water::sign(Fate::Trapped, Point::new(SIGN - 1.5, 0.0), held), "is held"),
        Symbol::Wets => (water::sign(Fate::Wets, Point::new(middle.x, 0.6), Ink::Warm), "wets"),
        Symbol::Sheet => (vec![strip(Pen::solid(MEMBRANE, Ink::Black))], "sheet"),
        Symbol::Tape => (two(1.1, 0.6, Ink::White), "tape"),
        Symbol::SelfAdhered => (two(1.2, 0.7, Ink::Light), "self-adhered"),
        Symbol::Metal => {
            let bent = vec![Point::new(0.0, -0.8), Point::new(SIGN - 2.0, -0.8), Point::new(SIGN - 2.0, 1.0)];
            (vec![Shape::line(bent, Pen::solid(MEMBRANE, Ink::Black))], "metal")
        }
        Symbol::Liquid => {
            let dots = strip(Pen::solid(MEMBRANE, Ink::Black).dashed(Dash::Dotted));
            (vec![strip(Pen::solid(1.1, Ink::Pale)), dots], "liquid")
        }
        Symbol::Adhered => {
            let tick = |n: f64| vec![Point::new(0.4 + n, 0.7), Point::new(1.0 + n, -0.7)];
            let ticks = (0..4).map(|n| tick(1.6 * f64::from(n))).collect();
            (vec![Shape::lines(ticks, Pen::solid(LEADER, Ink::Black))], "adhered")
        }
        Symbol::Bead => (circle(0.8, Pen::solid(BEYOND, Ink::Black), Some(Ink::Gray)), "bead, gasket"),
        Symbol::Fastener => {
            let run = |x: f64, y: f64, to: f64, end: f64| vec![vec![Point::new(x, y), Point::new(to, end)]];
            let head = Shape::lines(run(0.8, -1.2, 0.8, 1.2), Pen::solid(GRADE, Ink::Black));
            let shank = Shape::lines(run(0.8, 0.0, 6.0, 0.0), Pen::solid(CUT, Ink::Black));
            let casing = Shape::lines(run(0.8, 0.0, 6.0, 0.0), Pen::solid(CASING, Ink::White));
            (vec![casing, shank, head], "fasteners")
        }
        Symbol::Weep => {
            let corners = [(0.2, -1.0), (1.0, -1.0), (1.0, 1.0), (0.2, 1.0)].map(|(x, y)| Point::new(x, y)).to_vec();
            let arrow = vec![
                vec![Point::new(2.0, 0.0), Point::new(5.8, 0.0)],
                vec![Point::new(4.4, -0.8), Point::new(5.8, 0.0), Point::new(4.4, 0.8)],
            ];
            // From outside the open joint is seen, in section the way out of it.
            let joint = Shape::polygon(corners, None, Some(Ink::Black));
            (vec![joint, Shape::lines(arrow, Pen::solid(MEDIUM, Ink::Water))], "weep")
        }
        Symbol::Ledge => (vec![strip(Pen::solid(BEYOND, Ink::Dark).dashed(Dash::Dashed))], "not given"),
        Symbol::Hidden => (vec![strip(Pen::solid(BEYOND, Ink::Gray).dashed(Dash::Dashed))], "hidden edge"),
        Symbol::Fold => (vec![strip(FOLD)], "fold"),
        Symbol::CutOff => {
            let broken = page::zigzag(Point::new(0.0, 0.0), Point::new(SIGN, 0.0));
            (vec![Shape::line(broken, Pen::solid(LEADER, Ink::Dark))], "cut off")
        }
        Symbol::CutHere => {
            let head = vec![Point::new(3.4, 0.0), Point::new(5.0, 0.0), Point::new(4.2, 1.6)];
            let stroke =
                Shape::line(vec![Point::new(1.0, 0.0), Point::new(5.0, 0.0)], Pen::solid(MEMBRANE, Ink::Black));
            (vec![stroke, Shape::polygon(head, None, Some(Ink::Black))], "section cut")
        }
        Symbol::Enlarged => (circle(1.6, Pen::solid(MEDIUM, Ink::Black), None), "enlarged"),
        Symbol::Failing => {
            let corners = [(0.4, -1.1), (6.0, -1.1), (6.0, 1.1), (0.4, 1.1)].map(|(x, y)| Point::new(x, y)).to_vec();
            (vec![Shape::polygon(corners, Some(Pen::solid(CUT, Ink::Black)), Some(Ink::White))], "fails")
        }
    }
}
