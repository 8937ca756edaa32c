//! Shapes of a drawing as those of a file: where they lie, and what stands for disks and tones.

use crate::output::drawing::scene::{Ink, Point, Shape};

/// From mm of paper with y down to the file.
#[derive(Clone, Copy)]
pub struct Placing {
    pub x: f64,
    pub y: f64,
    pub factor: f64,
}

impl Placing {
    pub fn point(self, p: Point) -> Point {
        Point::new(self.x + p.x * self.factor, self.y - p.y * self.factor)
    }

    pub fn run(self, run: &[Point]) -> Vec<Point> {
        run.iter().map(|p| self.point(*p)).collect()
    }
}

/// A disk would hide the number in it, which has its color.
pub fn outlined(shape: &Shape) -> Shape {
    match shape {
        Shape::Circle { center, radius, pen, .. } => {
            Shape::Circle { center: *center, radius: *radius, pen: *pen, fill: Some(Ink::White) }
        }
        Shape::Path { runs, closed: true, pen, fill: Some(_) } => {
            Shape::Path { runs: runs.clone(), closed: true, pen: *pen, fill: Some(Ink::White) }
        }
        other => other.clone(),
    }
}

pub fn darkness(ink: Ink) -> u8 {
    match ink {
        Ink::Black => 6,
        Ink::Water | Ink::Warm => 5,
        Ink::Dark => 4,
        Ink::Gray => 3,
        Ink::Light => 2,
        Ink::Pale => 1,
        Ink::White => 0,
    }
}

/// Sides of what stands for a circle that covers something.
const SIDES: u32 = 36;

pub fn round(center: Point, radius: f64) -> Vec<Point> {
    let corner = |n: u32| {
        let (sin, cos) = (f64::from(n) / f64::from(SIDES) * std::f64::consts::TAU).sin_cos();
        Point::new(center.x + radius * cos, center.y + radius * sin)
    };
    (0..SIDES).map(corner).collect()
}
