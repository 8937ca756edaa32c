//! The strip with the installation sequence at the foot of a sheet.

use crate::output::drawing::lettering::{lettered, wrap};
use crate::output::drawing::paper::{SMALL, WORDS};
use crate::output::drawing::scene::{Point, Shape};
use crate::output::sequence::InstallationStep;

/// Height of the strip below the views with the installation sequence and the title block: more for a long sequence.
pub(super) const STRIPS: [f64; 5] = [46.0, 54.0, 62.0, 74.0, 90.0];

/// The installation sequence in columns from `left` to `right`, and how high a strip it needs. Each step says behind what its piece goes and
/// what holds it, and where there is room, what it laps over. Without room even for the former, the strip says that this is left out.
pub(super) fn work(steps: &[InstallationStep], left: f64, right: f64) -> (f64, Vec<Shape>) {
    let columns = 3.0;
    let wide = (right - left) / columns - 4.0;
    let mut last = (STRIPS[STRIPS.len() - 1], Vec::new());
    for (title, laps, how) in [(TITLE, true, true), (TITLE, false, true), (SHORT, false, false)] {
        let lines = |(n, step): (usize, &InstallationStep)| {
            let all = step.manner().filter(|_| laps);
            let said: String = all
                .chain(step.how.iter().filter(|_| how && !laps))
                .map(|said| format!(" {}", lettered(said)))
                .collect();
            wrap(&format!("{}  {}{said}", n + 1, lettered(&step.act)), SMALL, wide)
        };
        let lines: Vec<Vec<String>> = steps.iter().enumerate().map(lines).collect();
        // A sheet is made for its views: laps, which these show, do not take their room.
        let most = if laps { STRIPS.len() - 2 } else { STRIPS.len() };
        for deep in STRIPS.into_iter().take(most) {
            let (all, shapes) = columns_of(title, &lines, [left, right], wide, deep - 5.0);
            last = (deep, shapes);
            if all {
                return last;
            }
        }
    }
    last
}

const TITLE: &str = "INSTALLATION SEQUENCE";
const SHORT: &str = "INSTALLATION SEQUENCE, without bonds";

/// Lines in columns of some height, and whether all of them found room.
fn columns_of(title: &str, steps: &[Vec<String>], [left, right]: [f64; 2], wide: f64, high: f64) -> (bool, Vec<Shape>) {
    let mut shapes = vec![Shape::text(Point::new(left, WORDS), WORDS, title).bold()];
    let (mut x, mut y) = (left, 6.5);
    for (n, lines) in steps.iter().enumerate() {
        if y + lines.len() as f64 * 3.1 > high {
            (x, y) = (x + wide + 4.0, 6.5);
            if x + wide > right + 1.0 {
                let more = format!("and {} more", steps.len() - n);
                shapes.push(Shape::text(Point::new(right - 30.0, WORDS), SMALL, more));
                return (false, shapes);
            }
        }
        for line in lines {
            shapes.push(Shape::text(Point::new(x, y + SMALL), SMALL, line.clone()));
            y += 3.1;
        }
        y += 0.8;
    }
    (true, shapes)
}
