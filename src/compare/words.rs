//! How values of two details are written, and by which name the submittal calls an issued piece.

use std::collections::BTreeMap;

use crate::compare::Change;
use crate::facts::nanometres;
use crate::model::{Extent, Name};
use crate::quantity::Quantity;

/// Notes a value that has changed.
pub fn differ(changes: &mut Vec<Change>, what: &str, before: String, after: String) {
    if before != after {
        changes.push(Change::new(what, before, after));
    }
}

/// The name that the submittal has for an issued one.
pub fn now<'a>(name: &'a Name, renamed: &'a BTreeMap<Name, Name>) -> &'a Name {
    renamed.get(name).unwrap_or(name)
}

/// Ends in nanometres: a length is the same in any unit.
pub fn key(extent: &Extent) -> (Option<i64>, Option<i64>) {
    (extent.low.map(nanometres), extent.high.map(nanometres))
}

pub fn extent(extent: &Extent) -> String {
    match (extent.low, extent.high) {
        (None, None) => "through".into(),
        (Some(low), None) => format!("from {low}"),
        (None, Some(high)) => format!("to {high}"),
        (Some(low), Some(high)) => format!("{low} to {high}"),
    }
}

pub fn shown(value: Option<Quantity>) -> String {
    value.map_or("not stated".into(), |value| value.to_string())
}

pub fn height(value: Option<Quantity>) -> String {
    value.map_or("not stated".into(), |value| format!("at {value}"))
}
