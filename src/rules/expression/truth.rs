//! The result of a condition. What depends on an unstated value is unknown: `false and unknown` is false, `true and unknown` is
//! unknown.

use crate::facts::vocabulary::{Missing, Value};

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Truth {
    No,
    Yes,
    /// What it depends on is not stated.
    Unknown,
    /// It depends on a property that a material does not state; `cause` finds out which.
    Missing,
}

impl Truth {
    pub fn of(yes: bool) -> Truth {
        if yes { Truth::Yes } else { Truth::No }
    }

    pub fn of_missing(missing: Option<Missing<'_>>) -> Truth {
        if missing.is_some() { Truth::Missing } else { Truth::Unknown }
    }

    /// For a value that is not of the expected type because it is unknown.
    pub fn of_unknown(value: &Value<'_>) -> Truth {
        Truth::of_missing(missing(value))
    }

    /// For two values, one of which is unknown. A missing property that has a name comes before one without.
    pub fn of_either(a: &Value<'_>, b: &Value<'_>) -> Truth {
        Truth::of_missing(missing(a).or(missing(b)))
    }

    pub fn opposite(self) -> Truth {
        match self {
            Truth::No => Truth::Yes,
            Truth::Yes => Truth::No,
            unknown => unknown,
        }
    }
}

/// True when all are; false as soon as one is, whatever the others would have been.
pub fn every(parts: impl Iterator<Item = Truth>) -> Truth {
    decide(parts, Truth::No, Truth::Yes)
}

pub fn some(parts: impl Iterator<Item = Truth>) -> Truth {
    decide(parts, Truth::Yes, Truth::No)
}

/// The first part that is `decisive` decides. Otherwise an unknown part makes the whole unknown; if several parts are unknown,
/// one that can name its missing property wins.
fn decide(parts: impl Iterator<Item = Truth>, decisive: Truth, otherwise: Truth) -> Truth {
    let mut all = otherwise;
    for part in parts {
        if part == decisive {
            return decisive;
        }
        all = all.max(part);
    }
    all
}

/// The missing property of an unknown value, if it can be named.
pub fn missing<'a>(value: &Value<'a>) -> Option<Missing<'a>> {
    match value {
        Value::Unknown(missing) => *missing,
        _ => None,
    }
}
