//! Quantities as people write them.

use std::fmt;

use crate::quantity::Quantity;

impl fmt::Display for Quantity {
    /// `150 mm`, `3-1/2 in`, `8 ft 6 in`, `R 14`, `4:12`, `50 perm`, `2.5 %`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let number = self.number();
        match self.unit.symbol {
            "" => f.write_str(&decimal(number)),
            "in" => write!(f, "{} in", fraction(number)),
            "ft" => feet(f, number),
            "in per ft" => write!(f, "{} in per ft", fraction(number)),
            "slope" if number.is_infinite() => f.write_str("plumb"),
            "slope" => write!(f, "{}:12", decimal(number * 12.0)),
            symbol if self.unit.prefix => write!(f, "{symbol} {}", decimal(number)),
            symbol => write!(f, "{} {symbol}", decimal(number)),
        }
    }
}

/// At most three decimals from 1 up, three significant digits below, no trailing zeros.
fn decimal(number: f64) -> String {
    if number == 0.0 || !number.is_finite() {
        return if number == 0.0 { "0".into() } else { number.to_string() };
    }
    let size = number.abs();
    if !(1e-4..1e15).contains(&size) {
        return format!("{number:.2e}");
    }
    let places = match size {
        s if s >= 100.0 => 1,
        s if s >= 1.0 => 2,
        s => (2 - s.log10().floor() as i32).clamp(0, 9) as usize,
    };
    let text = format!("{number:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_string() } else { text }
}

/// Inches in sixteenths where they are that, in decimals elsewhere.
fn fraction(number: f64) -> String {
    let sixteenths = (number * 16.0).round();
    if (number * 16.0 - sixteenths).abs() > 1e-6 || sixteenths.abs() > 1e9 {
        return decimal(number);
    }
    let (sign, count) = (if sixteenths < 0.0 { "-" } else { "" }, sixteenths.abs() as i64);
    let (whole, mut over, mut under) = (count / 16, count % 16, 16);
    while over != 0 && over % 2 == 0 {
        (over, under) = (over / 2, under / 2);
    }
    match (whole, over) {
        (w, 0) => format!("{sign}{w}"),
        (0, o) => format!("{sign}{o}/{under}"),
        (w, o) => format!("{sign}{w}-{o}/{under}"),
    }
}

fn feet(f: &mut fmt::Formatter<'_>, number: f64) -> fmt::Result {
    let inches = number * 12.0;
    let whole = (inches.abs() / 12.0 + 1e-9).floor();
    let rest = inches.abs() - whole * 12.0;
    let sign = if number < 0.0 { "-" } else { "" };
    match (whole, fraction(if rest.abs() < 1e-9 { 0.0 } else { rest }).as_str()) {
        (w, "0") => write!(f, "{sign}{w} ft"),
        (0.0, inches) => write!(f, "{sign}{inches} in"),
        (w, inches) => write!(f, "{sign}{w} ft {inches} in"),
    }
}
