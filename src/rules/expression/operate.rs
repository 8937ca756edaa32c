//! Operations on two values: comparison, equality, arithmetic.

use crate::facts::vocabulary::{Fact, Value};
use crate::quantity::{Quantity, base_unit};
use crate::rules::expression::code::Arithmetic;
use crate::rules::written::{Comparison, Operation};

/// Compares two quantities of one dimension.
#[inline]
pub fn compare(comparison: Comparison, a: Quantity, b: Quantity) -> bool {
    // Sums of written numbers are off by a few units in the last place. This must not matter where a limit is met exactly.
    let slack = 1e-9 * (a.si.abs().max(b.si.abs()) + a.unit.factor.min(b.unit.factor));
    let equal = (a.si - b.si).abs() <= slack;
    match comparison {
        Comparison::Equal => equal,
        Comparison::NotEqual => !equal,
        Comparison::Less => a.si < b.si && !equal,
        Comparison::LessOrEqual => a.si < b.si || equal,
        Comparison::Greater => a.si > b.si && !equal,
        Comparison::GreaterOrEqual => a.si > b.si || equal,
    }
}

/// Whether two values of one type are the same. Two things are the same if they have the same place and the same name.
#[inline]
pub fn same(a: &Value<'_>, b: &Value<'_>) -> bool {
    match (a, b) {
        (Value::Word(a) | Value::Text(a), Value::Word(b) | Value::Text(b)) => a == b,
        (Value::YesNo(a), Value::YesNo(b)) => a == b,
        (Value::Quantity(a), Value::Quantity(b)) => compare(Comparison::Equal, *a, *b),
        (Value::Fact(a), Value::Fact(b)) => same_item(*a, *b),
        _ => false,
    }
}

#[inline]
pub fn same_item(a: Fact<'_>, b: Fact<'_>) -> bool {
    a.kind() == b.kind() && a.span() == b.span() && a.name() == b.name()
}

impl Arithmetic {
    /// The result for two known sides, in the unit in which it is shown; `None` if it is not finite.
    pub fn of(&self, a: Quantity, b: Quantity) -> Option<Quantity> {
        let si = match self.operation {
            Operation::Plus => a.si + b.si,
            Operation::Minus => a.si - b.si,
            Operation::Times => a.si * b.si,
            Operation::Over => a.si / b.si,
        };
        if !si.is_finite() {
            return None;
        }
        let (first, second) = if self.right_unit { (b.unit, a.unit) } else { (a.unit, b.unit) };
        let fitting = [first, second].into_iter().find(|unit| unit.dimension == self.result);
        Some(Quantity::from_si(si, fitting.unwrap_or_else(|| base_unit(self.result))))
    }
}
