//! Quantities, checked against what is expected at their place.

use std::borrow::Cow;

use crate::quantity::{Dimension, NumberError, Quantity, UNITS, parse_quantity, unit_named, units_of};
use crate::syntax::document::Keyword;
use crate::syntax::message::{Close, Message};
use crate::text::{Span, only_nearest};

/// What is expected at a place. Limits are in SI units, both included.
#[derive(Debug)]
pub struct Want {
    pub dimensions: &'static [Dimension],
    /// `a length such as \`150 mm\``
    pub phrase: &'static str,
    pub least: f64,
    pub most: f64,
    /// The range in words.
    pub range: &'static str,
}

const fn want(
    dimension: &'static [Dimension],
    phrase: &'static str,
    least: f64,
    most: f64,
    range: &'static str,
) -> Want {
    Want { dimensions: dimension, phrase, least, most, range }
}

use Dimension::*;

/// A length smaller than any part of a building. A value that has to be more than zero is at least this.
const TINY: f64 = 1e-9;

pub static HEIGHT: Want =
    want(&[Length], "a length such as `150 mm`", -1e5, 1e5, "a place within 100 km of zero on the face");
pub static SIZE: Want = want(&[Length], "a length such as `12 mm`", TINY, 1e3, "more than zero and at most 1 km");
pub static DAYS: Want = want(&[Duration], "a number of days such as `90 days`", 0.0, 8.64e8, "0 to 10,000 days");
pub static TEMPERATURE: Want = want(&[Temperature], "a temperature such as `20 C`", 123.15, 423.15, "-150 C to 150 C");
pub static HUMIDITY: Want = want(&[Ratio], "a relative humidity such as `50 %`", 0.0, 1.0, "0 % to 100 %");
pub static SLOPE: Want =
    want(&[Slope, Ratio], "a slope such as `4:12`, `2 %` or `6 deg`", -100.0, 100.0, "a slope less steep than plumb");
pub static PRESSURE: Want = want(&[Pressure], "a pressure such as `75 Pa`", 0.0, 1e6, "0 to 1 MPa");
pub static SURFACE: Want =
    want(&[Number, Resistance], "a surface resistance in m2 K/W such as `0.13`", 0.0, 10.0, "0 to 10 m2 K/W");
static PERMEANCE: Want = want(&[Permeance], "a permeance such as `50 perm`", 0.0, 1e-3, "zero or more");
static MU: Want = want(&[Number], "a plain number such as `20`", TINY, 1e9, "more than zero");
static PERMEABILITY: Want = want(&[Permeability], "a permeability such as `2 perm.in`", 0.0, 1e-3, "zero or more");
static AIR_LAYER: Want = want(&[Length], "a length such as `0.02 m`", 0.0, 1e9, "zero or more");
static CONDUCTIVITY: Want = want(
    &[Conductivity],
    "a conductivity such as `0.13 W/m.K`",
    TINY,
    1e5,
    "more than zero and less than any metal has",
);
static RESISTANCE: Want = want(&[Resistance], "a resistance such as `R 14` or `RSI 2.5`", 0.0, 1e4, "zero or more");
static DENSITY: Want = want(&[Density], "a density such as `500 kg/m3`", TINY, 3e4, "the density of a real material");
static AIR_FLOW: Want = want(&[AirFlow], "an air flow such as `0.02 L/s.m2`", 0.0, 1e3, "zero or more");

/// The slope of a face that lies flat.
pub fn level() -> Quantity {
    Quantity::of(0.0, unit_named("slope").expect("in the table"))
}

/// The slope of a plumb face: an infinite rise over no run.
pub fn plumb() -> Quantity {
    Quantity::of(f64::INFINITY, unit_named("slope").expect("in the table"))
}

/// What the value of a property or of a one-quantity statement has to be.
pub fn want_of(keyword: Keyword) -> &'static Want {
    match keyword {
        Keyword::Thickness | Keyword::Layer => &SIZE,
        Keyword::Permeance => &PERMEANCE,
        Keyword::Mu => &MU,
        Keyword::Permeability => &PERMEABILITY,
        Keyword::AirLayer => &AIR_LAYER,
        Keyword::Conductivity => &CONDUCTIVITY,
        Keyword::Resistance => &RESISTANCE,
        Keyword::Density => &DENSITY,
        Keyword::AirPermeance => &AIR_FLOW,
        Keyword::AppliesAbove | Keyword::InstalledAt => &TEMPERATURE,
        Keyword::UvLimit | Keyword::Exposed => &DAYS,
        Keyword::Surfaces => &SURFACE,
        Keyword::Slope => &SLOPE,
        _ => &HEIGHT,
    }
}

/// Reads words as a quantity of the kind that is expected at this place.
///
/// # Errors
/// For words that are not a number, a number without its unit, a unit that is unknown or of another kind, and a number that is
/// out of range.
pub fn measure<'a>(words: &'a str, span: Span, want: &'a Want) -> Result<Quantity, Box<Message<'a>>> {
    let quantity = parse_quantity(&apart(words)).map_err(|error| match error {
        NumberError::NotANumber if words.contains(',') => Message::DecimalComma { words },
        NumberError::NotANumber => Message::NotANumber { words, want, habit: habit(words, "") },
        NumberError::OutOfRange => Message::OutOfRange { words, range: None },
        NumberError::UnknownUnit(unit) => {
            let start = words.rfind(&unit).unwrap_or(0);
            let unit = words.get(start..start + unit.len()).unwrap_or(words);
            let from = span.start as usize + start;
            let span = Span::new(span.file, from, from + unit.len());
            Message::UnknownUnit { unit, want, close: near(unit, want).map(|word| Close { word, span }) }
        }
    })?;
    let dimension = quantity.dimension();
    if !want.dimensions.contains(&dimension) {
        return Err(Message::WrongDimension { words, dimension, want }.into());
    }
    if !(want.least..=want.most).contains(&quantity.si) {
        return Err(Message::OutOfRange { words, range: Some(want.range) }.into());
    }
    Ok(quantity)
}

/// The words with a space between number and unit, which people leave out, as in `150mm`.
fn apart(words: &str) -> Cow<'_, str> {
    match words.find(|c: char| c.is_alphabetic() || c == '°') {
        Some(unit) if unit > 0 && words.as_bytes()[unit - 1].is_ascii_digit() => {
            Cow::Owned(format!("{} {}", &words[..unit], &words[unit..]))
        }
        _ => Cow::Borrowed(words),
    }
}

/// Whether a unit is suggested. The others are other spellings of these, or have a form of their own.
fn shown(symbol: &&str) -> bool {
    !matches!(*symbol, "" | "slope" | "day" | "perms")
}

/// The units that can be written at a place.
pub fn units(want: &Want) -> impl Iterator<Item = &'static str> {
    want.dimensions.iter().flat_map(|dimension| units_of(*dimension)).map(|unit| unit.symbol).filter(shown)
}

/// Ways of writing numbers on drawings that the language does not have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Habit {
    /// `1'-6"`
    FeetAndInches,
    /// `½`
    FractionSign,
    /// A dash, or a blank after the minus.
    Minus,
    /// `1 1/2`
    MixedNumber,
}

/// The habit that some words show; `after` is the text that follows them.
pub fn habit(words: &str, after: &str) -> Option<Habit> {
    let sign = |c: char| matches!(c, '\'' | '"' | '\u{2018}' | '\u{2019}' | '\u{201d}' | '\u{2032}' | '\u{2033}');
    let minus = |c: char| matches!(c, '-' | '\u{2012}'..='\u{2014}' | '\u{2212}');
    if words.contains(sign) || after.starts_with(sign) {
        Some(Habit::FeetAndInches)
    } else if words.contains(|c: char| matches!(c, '¼' | '½' | '¾' | '\u{2150}'..='\u{215e}')) {
        Some(Habit::FractionSign)
    } else if words.strip_prefix(minus).is_some_and(|number| number.is_empty() || !words.starts_with('-')) {
        Some(Habit::Minus)
    } else if words.split_once('/').is_some_and(|(a, b)| a.parse::<u32>().is_ok() && b.parse::<u32>().is_ok()) {
        Some(Habit::MixedNumber)
    } else {
        None
    }
}

/// A unit written out in full.
fn in_full(unit: &str) -> Option<&'static str> {
    let unit = unit.to_ascii_lowercase();
    Some(match unit.strip_suffix('s').unwrap_or(&unit) {
        "inch" | "inche" => "in",
        "foot" | "feet" => "ft",
        "millimeter" | "millimetre" => "mm",
        "centimeter" | "centimetre" => "cm",
        "meter" | "metre" => "m",
        _ => return None,
    })
}

/// The unit that was probably meant, out of those that fit.
fn near(unit: &str, want: &Want) -> Option<&'static str> {
    let fitting: Vec<&str> = want.dimensions.iter().flat_map(|d| units_of(*d)).map(|u| u.symbol).collect();
    let fits = |full: &&str| fitting.contains(full);
    let near = only_nearest(unit, fitting.iter().copied().filter(shown));
    in_full(unit).filter(fits).or(near).or_else(|| {
        let plain = unit.trim_start_matches('°');
        fitting
            .iter()
            .copied()
            .chain(UNITS.iter().map(|u| u.symbol))
            .find(|u| u.eq_ignore_ascii_case(plain) && !u.is_empty())
    })
}
