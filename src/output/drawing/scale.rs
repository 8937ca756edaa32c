//! The scales at which an office draws details, and how it writes them.

/// Offices that count in feet and inches draw so many inches to the foot; the others one to a round number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Scales {
    Metric,
    Inch,
}

/// Scales for details (ISO 5455), and smaller ones for what no detail should be.
const METRIC: [f64; 9] = [2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0];

/// 6 in, 3 in, 1-1/2 in, 1 in, 3/4 in, 1/2 in, 1/4 in, 1/8 in, 1/16 in to the foot (practice), then 40 ft and 100 ft to the inch.
const INCH: [f64; 11] = [2.0, 4.0, 8.0, 12.0, 16.0, 24.0, 48.0, 96.0, 192.0, 480.0, 1200.0];

/// Inches of a foot, and the smallest part of an inch that a scale is written in.
const FOOT: f64 = 12.0;
const PARTS: u32 = 16;

impl Scales {
    /// Those of who counts in a unit.
    pub fn of(unit: &str) -> Scales {
        if matches!(unit, "in" | "ft") { Scales::Inch } else { Scales::Metric }
    }

    /// From the largest to the smallest.
    pub fn all(self) -> &'static [f64] {
        match self {
            Scales::Metric => &METRIC,
            Scales::Inch => &INCH,
        }
    }

    /// The smallest scale of all.
    pub fn last(self) -> f64 {
        self.all()[self.all().len() - 1]
    }

    /// `1:5`, or `3" = 1'-0"`.
    pub fn written(self, scale: f64) -> String {
        match self {
            Scales::Metric => format!("1:{scale}"),
            Scales::Inch if scale <= 1.0 => "full size".to_owned(),
            Scales::Inch if scale > FOOT * f64::from(PARTS) => format!("1\" = {}'-0\"", scale / FOOT),
            Scales::Inch => format!("{}\" = 1'-0\"", inches(FOOT / scale)),
        }
    }

    /// A length that a bar of a scale measures: on paper, and on the building as it is written.
    pub fn bar(self, scale: f64) -> (f64, String) {
        match self {
            Scales::Metric => (50.0, format!("{:.0} mm", 50.0 * scale)),
            Scales::Inch => (50.8, format!("{:.0} in", 2.0 * scale)),
        }
    }
}

/// `1-1/2`
fn inches(length: f64) -> String {
    let sixteenths = (length * f64::from(PARTS)).round() as u32;
    let (whole, rest) = (sixteenths / PARTS, sixteenths % PARTS);
    let common = 1 << rest.trailing_zeros().min(PARTS.trailing_zeros());
    match (whole, rest) {
        (_, 0) => whole.to_string(),
        (0, _) => format!("{}/{}", rest / common, PARTS / common),
        _ => format!("{whole}-{}/{}", rest / common, PARTS / common),
    }
}

#[cfg(test)]
mod tests {
    use super::Scales;

    #[test]
    fn scales_are_written_as_their_offices_write_them() {
        let written: Vec<String> = Scales::Inch.all().iter().map(|scale| Scales::Inch.written(*scale)).collect();
        let wanted = ["6", "3", "1-1/2", "1", "3/4", "1/2", "1/4", "1/8", "1/16"].map(|n| format!("{n}\" = 1'-0\""));
        assert_eq!(written[..9], wanted);
        assert_eq!(written[9..], ["1\" = 40'-0\"", "1\" = 100'-0\""]);
        assert_eq!(Scales::Inch.written(1.0), "full size");
        assert_eq!(Scales::Metric.written(5.0), "1:5");
        assert_eq!(Scales::Inch.bar(4.0), (50.8, "8 in".to_owned()));
        assert_eq!(Scales::Metric.bar(5.0), (50.0, "250 mm".to_owned()));
    }
}
