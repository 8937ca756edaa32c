//! Quantities from text: the numbers and units of the language, for detail files and rule files alike.

use crate::quantity::{Quantity, unit_named};

/// Why a text is no quantity.
#[derive(Clone, Debug, PartialEq)]
pub enum NumberError {
    NotANumber,
    UnknownUnit(String),
    /// Larger than anything a building has, or not finite.
    OutOfRange,
}

/// Nothing about a building needs numbers beyond this; a file that writes them is broken.
const LARGEST: f64 = 1e12;

/// `12`, `-25`, `12.5`, `1/2`, `3-1/2`, `-3-1/2`.
pub fn parse_number(text: &str) -> Result<f64, NumberError> {
    let (sign, body) = match text.strip_prefix('-') {
        Some(rest) => (-1.0, rest),
        None => (1.0, text),
    };
    if let Some(whole) = whole(body) {
        return Ok(sign * whole);
    }
    let value = match body.split_once('-') {
        Some((whole, part)) => digits(whole)? + ratio(part)?,
        None if body.contains('/') => ratio(body)?,
        None => digits(body)?,
    };
    if value.is_finite() && value <= LARGEST { Ok(sign * value) } else { Err(NumberError::OutOfRange) }
}

fn digits(text: &str) -> Result<f64, NumberError> {
    if let Some(whole) = whole(text) {
        return Ok(whole);
    }
    let plain = !text.is_empty()
        && text.bytes().all(|b| b.is_ascii_digit() || b == b'.')
        && text.as_bytes()[0] != b'.'
        && !text.ends_with('.');
    if plain { text.parse().map_err(|_| NumberError::NotANumber) } else { Err(NumberError::NotANumber) }
}

/// Most numbers are whole and short. So many digits always fit, are never out of range, and need no search for the nearest
/// float.
fn whole(text: &str) -> Option<f64> {
    let mut whole: u64 = 0;
    for byte in text.bytes() {
        if !byte.is_ascii_digit() {
            return None;
        }
        whole = whole.wrapping_mul(10).wrapping_add(u64::from(byte - b'0'));
    }
    (1..=12).contains(&text.len()).then_some(whole as f64)
}

fn ratio(text: &str) -> Result<f64, NumberError> {
    let (over, under) = text.split_once('/').ok_or(NumberError::NotANumber)?;
    let (over, under) = (digits(over)?, digits(under)?);
    if under == 0.0 { Err(NumberError::OutOfRange) } else { Ok(over / under) }
}

/// A number with its unit: `150 mm`, `3-1/2 in`, `8 ft 6 in`, `R 14`, `4:12`, `6 deg`, `40 %`, `3` (a plain number).
pub fn parse_quantity(text: &str) -> Result<Quantity, NumberError> {
    let words: Vec<&str> = text.split_whitespace().collect();
    match words[..] {
        [slope] if slope.contains(':') => {
            let (rise, run) = slope.split_once(':').ok_or(NumberError::NotANumber)?;
            let (rise, run) = (parse_number(rise)?, parse_number(run)?);
            if run == 0.0 {
                return Err(NumberError::OutOfRange);
            }
            Ok(Quantity::of(rise / run, unit_named("slope").expect("in the table")))
        }
        [number] => match number.strip_suffix('%') {
            Some(number) => Ok(Quantity::of(parse_number(number)?, unit_named("%").expect("in the table"))),
            None => Ok(Quantity::of(parse_number(number)?, unit_named("").expect("in the table"))),
        },
        [first, second] => match unit_named(first) {
            Some(unit) if unit.prefix => Ok(Quantity::of(parse_number(second)?, unit)),
            _ => {
                let number = parse_number(first)?;
                match unit_named(second) {
                    Some(unit) if !unit.prefix && unit.symbol != "slope" => Ok(Quantity::of(number, unit)),
                    _ => Err(NumberError::UnknownUnit(second.to_string())),
                }
            }
        },
        [rise, over, "per", run] => {
            let unit = unit_named(&format!("{over} per {run}"));
            let unit = unit.ok_or_else(|| NumberError::UnknownUnit(run.to_owned()))?;
            Ok(Quantity::of(parse_number(rise)?, unit))
        }
        [feet, "ft", inches, "in"] => {
            let (feet, inches) = (parse_number(feet)?, parse_number(inches)?);
            if inches < 0.0 {
                return Err(NumberError::NotANumber);
            }
            let whole = if feet < 0.0 { feet - inches / 12.0 } else { feet + inches / 12.0 };
            Ok(Quantity::of(whole, unit_named("ft").expect("in the table")))
        }
        _ => Err(NumberError::NotANumber),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn si(text: &str) -> f64 {
        parse_quantity(text).unwrap().si
    }

    #[test]
    fn numbers_of_both_systems() {
        assert_eq!(parse_number("3-1/2"), Ok(3.5));
        assert_eq!(parse_number("-3-1/2"), Ok(-3.5));
        assert_eq!(parse_number("1/2"), Ok(0.5));
        for bad in ["", "-", ".5", "5.", "1/0", "1e308", "NaN", "inf", "--1", "1-2"] {
            assert!(parse_number(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn quantities_turn_into_si_and_back_into_words() {
        // 8 ft 6 in = 102 in = 2.5908 m, by the definition of the inch.
        assert!((si("8 ft 6 in") - 2.5908).abs() < 1e-12);
        assert!((si("-8 ft 6 in") + 2.5908).abs() < 1e-12);
        assert!((si("6 in") - 0.1524).abs() < 1e-12);
        assert!((si("1 perm") - 57.2135e-12).abs() < 1e-18);
        assert!((si("R 1") - 0.17611).abs() < 1e-5);
        assert!((si("32 F") - 273.15).abs() < 1e-9);
        assert!((si("4:12") - 1.0 / 3.0).abs() < 1e-12);
        assert!((si("45 deg") - 1.0).abs() < 1e-12);
        // A quarter of an inch over twelve inches is 1:48.
        assert!((si("1/4 in per ft") - 1.0 / 48.0).abs() < 1e-12);
        assert!((si("20 mm per m") - 0.02).abs() < 1e-12);
        for text in [
            "150 mm",
            "3-1/2 in",
            "8 ft 6 in",
            "-2 ft",
            "R 14",
            "4:12",
            "50 perm",
            "2.5 %",
            "-1/16 in",
            "0 mm",
            "12",
            "1/4 in per ft",
            "20 mm per m",
        ] {
            assert_eq!(parse_quantity(text).unwrap().to_string(), text);
        }
    }
}
