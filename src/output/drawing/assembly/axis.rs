//! A scale of numbers along the side of a chart.

use crate::output::drawing::paper::{BEYOND, LEADER, SMALL};
use crate::output::drawing::scene::{Anchor, Area, Ink, Pen, Point, Role, Shape};

/// From a round number to a round number.
pub struct Axis {
    pub low: f64,
    pub high: f64,
    step: f64,
}

impl Axis {
    /// Covers all values with round steps, at least `least` from end to end.
    pub fn covering(values: impl Iterator<Item = f64>, least: f64) -> Axis {
        let finite = values.filter(|v| v.is_finite());
        let (low, high) = finite.fold((f64::MAX, f64::MIN), |(low, high), v| (low.min(v), high.max(v)));
        let (low, high) = if low > high { (0.0, least) } else { (low, high.max(low + least)) };
        let rough = (high - low) / 5.0;
        let power = 10f64.powf(rough.log10().floor());
        let step = [1.0, 2.0, 5.0, 10.0].into_iter().map(|m| m * power).find(|s| *s >= rough).unwrap_or(rough);
        Axis { low: (low / step).floor() * step, high: (high / step).ceil() * step, step }
    }

    /// Where a value lies, from 0 to 1.
    pub fn part(&self, value: f64) -> f64 {
        (value - self.low) / (self.high - self.low)
    }

    fn ticks(&self) -> impl Iterator<Item = f64> + '_ {
        let count = ((self.high - self.low) / self.step).round() as usize;
        (0..=count).map(|n| self.low + n as f64 * self.step)
    }

    fn words(&self, value: f64) -> String {
        let places = (-self.step.log10().floor()).clamp(0.0, 6.0) as usize;
        let text = format!("{value:.places$}");
        if text.trim_start_matches('-').chars().all(|c| c == '0' || c == '.') { "0".to_owned() } else { text }
    }

    /// Along the left side of a chart, with its unit above.
    pub fn upright(&self, area: Area, unit: &str) -> Vec<Shape> {
        let mut shapes = vec![Shape::line(
            vec![Point::new(area.left, area.top), Point::new(area.left, area.bottom)],
            Pen::solid(BEYOND, Ink::Black),
        )];
        for value in self.ticks() {
            let y = area.bottom - self.part(value) * area.height();
            shapes.push(Shape::line(
                vec![Point::new(area.left - 1.5, y), Point::new(area.left, y)],
                Pen::solid(LEADER, Ink::Black),
            ));
            let at = Point::new(area.left - 2.2, y + SMALL / 2.0);
            shapes.push(Shape::text(at, SMALL, self.words(value)).anchored(Anchor::End));
        }
        let at = Point::new(area.left - 14.0, (area.top + area.bottom) / 2.0);
        shapes.push(Shape::text(at, SMALL, unit).anchored(Anchor::End).bold());
        vec![Shape::group(Role::Dimension, "", shapes)]
    }

    /// Along the foot of a chart, with words after it.
    pub fn level(&self, area: Area, words: &str) -> Vec<Shape> {
        let mut shapes = vec![Shape::line(
            vec![Point::new(area.left, area.bottom), Point::new(area.right, area.bottom)],
            Pen::solid(BEYOND, Ink::Black),
        )];
        for value in self.ticks() {
            let x = area.left + self.part(value) * area.width();
            shapes.push(Shape::line(
                vec![Point::new(x, area.bottom), Point::new(x, area.bottom + 1.5)],
                Pen::solid(LEADER, Ink::Black),
            ));
            let at = Point::new(x, area.bottom + 2.2 + SMALL);
            shapes.push(Shape::text(at, SMALL, self.words(value)).anchored(Anchor::Middle));
        }
        shapes.push(
            Shape::text(Point::new(area.right, area.bottom + 4.8 + 2.0 * SMALL), SMALL, words).anchored(Anchor::End),
        );
        vec![Shape::group(Role::Dimension, "", shapes)]
    }
}

#[cfg(test)]
mod tests {
    use super::Axis;

    #[test]
    fn an_axis_runs_from_round_to_round() {
        let axis = Axis::covering([-7.3, 19.2].into_iter(), 5.0);
        assert_eq!((axis.low, axis.high), (-10.0, 20.0));
        assert_eq!(axis.ticks().count(), 4);
        assert!((axis.part(5.0) - 0.5).abs() < 1e-12);
        assert_eq!(axis.words(-0.0), "0");
    }
}
