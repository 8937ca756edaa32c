//! Lines and lengths as the data of a path.

use std::fmt::Write;

use crate::output::drawing::scene::Point;

/// Runs of lines as the data of a path: from each point the step to the next, which is shorter to write.
pub(super) struct PathData {
    pub(super) data: String,
    /// Parts of a millimeter of the building that are counted; written as hundredths of one, or whole.
    factor: f64,
    hundredths: bool,
    /// Where a page goes on from: there a run begins as far from the end of the last.
    at: Option<[i64; 2]>,
}

impl PathData {
    pub(super) fn new(factor: f64, hundredths: bool) -> PathData {
        PathData { data: String::new(), factor, hundredths, at: None }
    }

    pub(super) fn run(&mut self, run: &[Point], closed: bool) {
        let Some((first, rest)) = run.split_first() else { return };
        let start = self.start(*first);
        let mut last = start;
        for (n, point) in rest.iter().enumerate() {
            let at = self.counted(*point);
            let step = [at[0] - last[0], at[1] - last[1]];
            last = at;
            self.step(n, step);
        }
        self.data.push_str(if closed { "Z" } else { "" });
        self.at = Some(if closed { start } else { last });
    }

    pub(super) fn dot(&mut self, center: Point) {
        if self.hundredths {
            self.data.push_str(&format!("M{} {}h.01", number(center.x), number(center.y)));
        } else {
            self.at = Some(self.start(center));
            self.data.push_str("h0");
        }
    }

    /// Two half circles; only a page has them.
    pub(super) fn ring(&mut self, center: Point, radius: f64) {
        let r = (radius * self.factor).round() as i64;
        self.at = Some(self.start(Point::new(center.x - radius, center.y)));
        write!(self.data, "a{r} {r} 0 1 0 {} 0a{r} {r} 0 1 0-{} 0", 2 * r, 2 * r)
            .expect("a text takes what is written");
    }

    fn start(&mut self, point: Point) -> [i64; 2] {
        let at = self.counted(point);
        let from = self.at.filter(|_| !self.hundredths);
        self.data.push(if from.is_some() { 'm' } else { 'M' });
        let from = from.unwrap_or([0, 0]);
        self.pair([at[0] - from[0], at[1] - from[1]]);
        at
    }

    /// The step to the next point of a run.
    fn step(&mut self, n: usize, [x, y]: [i64; 2]) {
        if self.hundredths {
            self.data.push_str(if n == 0 { "l" } else { "" });
            if n > 0 && x >= 0 {
                self.data.push(' ');
            }
            return self.pair([x, y]);
        }
        let is_letter = |c: char| c.is_ascii_alphabetic();
        match [x, y] {
            [_, 0] => {
                self.data.push('h');
                put(x, &mut self.data);
            }
            [0, _] => {
                self.data.push('v');
                put(y, &mut self.data);
            }
            _ => {
                // After the two numbers of a slanted line another may follow without its letter.
                let follows = self.data.rfind(is_letter).is_some_and(|at| self.data[at..].starts_with('l'));
                match follows {
                    true if x >= 0 => self.data.push(' '),
                    true => {}
                    false => self.data.push('l'),
                }
                self.pair([x, y]);
            }
        }
    }

    fn pair(&mut self, [x, y]: [i64; 2]) {
        let write = if self.hundredths { put_hundredths } else { put };
        write(x, &mut self.data);
        if y >= 0 {
            self.data.push(' ');
        }
        write(y, &mut self.data);
    }

    fn counted(&self, point: Point) -> [i64; 2] {
        [point.x, point.y].map(|value| if value.is_finite() { (value * self.factor).round() as i64 } else { 0 })
    }
}

fn put(value: i64, data: &mut String) {
    write!(data, "{value}").expect("a text takes what is written");
}

/// Hundredths of a millimetre of the building are enough.
pub(super) fn number(value: f64) -> String {
    let value = if value.is_finite() { value } else { 0.0 };
    let text = format!("{value:.2}");
    match text.trim_end_matches('0').trim_end_matches('.') {
        "-0" => "0".to_owned(),
        text => text.to_owned(),
    }
}

/// The same of a whole number of hundredths. A drawing has thousands of them, and to write fractions takes several times as long.
fn put_hundredths(value: i64, data: &mut String) {
    let (whole, part) = (value.unsigned_abs() / 100, value.unsigned_abs() % 100);
    let sign = if value < 0 { "-" } else { "" };
    let written = match part {
        0 => write!(data, "{sign}{whole}"),
        part if part % 10 == 0 => write!(data, "{sign}{whole}.{}", part / 10),
        part => write!(data, "{sign}{whole}.{part:02}"),
    };
    written.expect("a text takes what is written");
}
