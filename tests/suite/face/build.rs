//! Faces with names, so that tests read like details.

use headlap::facts::face::*;
use headlap::model::{Axis, Control, Controls, FoldKind, MaterialKind};

pub const OPEN: (f64, f64) = (f64::NEG_INFINITY, f64::INFINITY);

pub fn from(low: f64) -> (f64, f64) {
    (low, f64::INFINITY)
}

pub fn to(high: f64) -> (f64, f64) {
    (f64::NEG_INFINITY, high)
}

pub fn mm(length: f64) -> Coordinate {
    match length {
        f64::NEG_INFINITY => OPEN_LOW,
        f64::INFINITY => OPEN_HIGH,
        _ => (length * MILLIMETRE as f64).round() as Coordinate,
    }
}

pub fn extent((low, high): (f64, f64)) -> Extent {
    Extent { low: mm(low), high: mm(high) }
}

/// A face without pieces that takes for granted what the stock rules do.
pub fn empty() -> Face {
    Face { limits: crate::review::assumed().limits, ..Face::default() }
}

/// A face in the making; pieces are spoken of by name.
#[derive(Default)]
pub struct Build {
    pub face: Face,
    pub names: Vec<&'static str>,
}

impl Build {
    pub fn new() -> Build {
        Build { face: empty(), names: Vec::new() }
    }

    /// A material of the worked faces: concrete, plywood, wrap, tape, flashing, window, or a sensitive, air-holding board.
    pub fn piece(mut self, name: &'static str, material: &str, up: (f64, f64)) -> Build {
        let both: Controls = [Control::Water, Control::Air].into_iter().collect();
        let air = Controls::NONE.with(Control::Air);
        let (kind, holds, sensitive) = match material {
            "conc" => (MaterialKind::Mass, air, false),
            "ply" => (MaterialKind::Board, Controls::NONE, true),
            "wrap" => (MaterialKind::Sheet, both, false),
            "tape" => (MaterialKind::Tape, both, false),
            "flash" => (MaterialKind::Flashing, both, false),
            "win" => (MaterialKind::Unit, both, false),
            "air" => (MaterialKind::Gap, Controls::NONE, false),
            "boards" => (MaterialKind::Cladding, Controls::NONE, false),
            "stud" => (MaterialKind::Frame, Controls::NONE, true),
            "coat" => (MaterialKind::Coat, both, false),
            "foam" => (MaterialKind::Fill, Controls::NONE.with(Control::Thermal), false),
            "poly" => (MaterialKind::Sheet, Controls::NONE.with(Control::Vapor).with(Control::Air), false),
            _ => panic!("no material {material}"),
        };
        let rect = Rect { up: extent(up), along: Extent::OPEN };
        self.face.pieces.push(Piece { rect, holds, sensitive, kind: Some(kind), ..Piece::default() });
        self.names.push(name);
        self
    }

    pub fn along(self, along: (f64, f64)) -> Build {
        self.last(|p, _| p.rect.along = extent(along))
    }

    pub fn bonds(self, onto: &[&str]) -> Build {
        self.last(|p, ids| p.bonds = ids(onto).into_iter().map(Bonding::from).collect())
    }

    pub fn over(self, others: &[&str]) -> Build {
        self.last(|p, ids| p.over = ids(others))
    }

    pub fn behind(self, others: &[&str]) -> Build {
        self.last(|p, ids| p.behind = ids(others))
    }

    pub fn drip(self) -> Build {
        self.last(|p, _| p.drip = true)
    }

    pub fn inside(self) -> Build {
        self.last(|p, _| p.inside = true)
    }

    /// The end of a layer of assembly 0 or 1 that carries these controls.
    pub fn of(self, assembly: usize, controls: &[Control]) -> Build {
        let controls: Controls = controls.iter().copied().collect();
        self.last(|p, _| {
            p.layer = Some(LayerEnd { assembly, layer: 0 });
            p.controls = controls;
        })
    }

    pub fn joins(mut self, assemblies: &[&[Control]]) -> Build {
        self.face.joins = assemblies.iter().map(|c| Joined::from(c.iter().copied().collect::<Controls>())).collect();
        self
    }

    pub fn cut(mut self, piece: &str, up: (f64, f64), along: (f64, f64)) -> Build {
        let rect = Rect { up: extent(up), along: extent(along) };
        self.face.cuts.push(Cut { piece: self.id(piece), rect });
        self
    }

    pub fn seal(mut self, first: &str, second: &str, at: Option<(Axis, f64)>) -> Build {
        let at = at.map(|(axis, at)| (axis, mm(at)));
        self.face.seals.push(Seal { first: self.id(first), second: self.id(second), at, width: 0 });
        self
    }

    pub fn fasten(mut self, piece: &str, up: (f64, f64)) -> Build {
        let rect = Rect { up: extent(up), along: Extent::OPEN };
        self.face.fasten.push(Fasten { piece: self.id(piece), rect, after: self.names.len() });
        self
    }

    pub fn fold(mut self, axis: Axis, at: f64, kind: FoldKind) -> Build {
        self.face.folds.push(Fold { axis, at: mm(at), kind });
        self
    }

    pub fn sheltered(mut self, above: f64) -> Build {
        self.face.sheltered = vec![extent(from(above))];
        self
    }

    pub fn id(&self, name: &str) -> usize {
        self.names.iter().position(|n| *n == name).unwrap_or_else(|| panic!("no piece {name}"))
    }

    pub fn derive(&self) -> FaceFacts {
        derive(&self.face).expect("a small face")
    }

    /// Laps as the worked faces print them.
    pub fn laps(&self) -> Vec<String> {
        let mut lines: Vec<String> = self.derive().laps.iter().map(|l| self.lap(l)).collect();
        lines.sort();
        lines
    }

    fn lap(&self, lap: &Lap) -> String {
        let length = lap.length as f64 / MILLIMETRE as f64;
        let mut line =
            format!("lap {} over {}, {}, {length} mm", self.names[lap.over], self.names[lap.under], lap.run.word());
        if lap.run == Run::Head {
            line += if lap.shingled { ", shingled" } else { ", not shingled" };
        }
        if lap.sealed {
            line += ", sealed";
        }
        line
    }

    /// Drops as the worked faces print them: one line for each end of an event.
    pub fn drops(&self) -> Vec<String> {
        let drops = self.derive().drops;
        let mut lines = Vec::new();
        for event in &drops.events {
            let pieces: Vec<&str> = event.pieces.iter().flatten().map(|&p| self.names[p]).collect();
            let mut line = format!("drop: {}", event.event.word());
            if !pieces.is_empty() {
                line += &format!(" ({})", pieces.join(", "));
            }
            if matches!(event.event, Event::Reverse | Event::Joint | Event::Relies) {
                lines.extend(event.ends.iter().map(|e| format!("{line}, ends {}", e.end.word())));
            } else {
                lines.push(line);
            }
        }
        lines.sort();
        lines
    }

    pub fn impossible(&self) -> Vec<String> {
        let stacks = self.derive().impossible;
        let line = |s: &ImpossibleStack| {
            let mut names: Vec<&str> = s.pieces.iter().map(|&p| self.names[p]).collect();
            names.sort();
            format!("impossible stack: {}", names.join(", "))
        };
        stacks.iter().map(line).collect()
    }

    /// The trail of one end of one event, in short.
    pub fn trail(&self, event: Event, pieces: &[&str], end: End) -> Vec<String> {
        let drops = self.derive().drops;
        let mut ids = pieces.iter().map(|p| self.id(p));
        let ids = [ids.next(), ids.next()];
        let event = drops.events.iter().find(|e| e.event == event && e.pieces == ids).expect("the event");
        let end = event.ends.iter().find(|e| e.end == end).expect("the end");
        let height = |up: Coordinate| match up {
            OPEN_LOW => "bottom".to_string(),
            OPEN_HIGH => "top".to_string(),
            _ => format!("{}", up as f64 / MILLIMETRE as f64),
        };
        drops.trail(end).iter().map(|s| format!("{:?} {} {}", s.kind, self.names[s.piece], height(s.up))).collect()
    }

    fn last(mut self, change: impl FnOnce(&mut Piece, &dyn Fn(&[&str]) -> Vec<usize>)) -> Build {
        let mut piece = self.face.pieces.pop().expect("a piece to speak of");
        change(&mut piece, &|names| names.iter().map(|n| self.id(n)).collect());
        self.face.pieces.push(piece);
        self
    }
}
