//! What comes of a condition. What is not stated stays unknown: `false and unknown` is false, `true and unknown` is unknown.

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

    /// Of a value that is not of the type that was due, and so unknown.
    pub fn of_unknown(value: &Value<'_>) -> Truth {
        Truth::of_missing(missing(value))
    }

    /// Of two values, one of which is unknown. A missing property that has a name comes before one without.
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

/// The first part that is `decisive` decides. Else an unknown part leaves it unknown, and one whose missing property has
/// a name comes before one without.
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

/// What a value that is not known is missing, if that has a name.
pub fn missing<'a>(value: &Value<'a>) -> Option<Missing<'a>> {
    match value {
        Value::Unknown(missing) => *missing,
        _ => None,
    }
}
