//! Looking values up and comparing them. What nobody knows stays unknown: `false and unknown` is false, `true and
//! unknown` is unknown.

use crate::facts::vocabulary::{Field, Item, Missing, Value};
use crate::quantity::{Quantity, System, base_unit};
use crate::rules::constant::Constant;
use crate::rules::expression::ast::{Comparison, Operation};
use crate::rules::expression::code::Arithmetic;
use crate::rules::expression::{Code, Literal, Memo};
use crate::rules::table::Table;

/// What an expression is evaluated in: the thing in question and, around it, the things that a rule came by.
#[derive(Clone, Copy)]
pub struct Env<'e, 'a> {
    pub item: Item<'a>,
    pub outer: Option<&'e Env<'e, 'a>>,
    pub constants: &'a [Constant],
    pub tables: &'a [Table],
    /// What is known of the thing; nothing is noted of the things that a rule comes by.
    pub memo: Option<&'e Memo>,
    /// The system that numbers are told in, when a project has chosen one.
    pub units: Option<System>,
}

/// Nobody said; and the property that a material would have to give, if that is the cause.
#[derive(Clone, Copy, Debug)]
pub struct Unknown<'a>(pub Option<Missing<'a>>);

pub type Known<'a, T> = Result<T, Unknown<'a>>;

const NOBODY_SAID: Unknown<'static> = Unknown(None);

/// The value of an expression.
pub fn value<'a>(code: &'a Code, env: &Env<'_, 'a>) -> Known<'a, Value<'a>> {
    let found = match code {
        Code::Literal(literal) => return literal.value().ok_or(NOBODY_SAID),
        Code::Constant(number) => return env.constants[*number].value.value().ok_or(NOBODY_SAID),
        Code::Own(depth) => Value::Item(env.out(*depth)),
        Code::Field { depth, path } => field(*depth, path, env),
        Code::Arithmetic(arithmetic) => Value::Quantity(calculate(arithmetic, env)?),
        Code::Count(list, condition) => {
            let mut count = 0;
            for item in items(list, env)? {
                count += usize::from(match condition {
                    Some(condition) => truth(condition, &env.inside(item))?,
                    None => true,
                });
            }
            Value::Quantity(Quantity::in_base_unit(count as f64, crate::quantity::Dimension::Number))
        }
        Code::Least(sides) | Code::Greatest(sides) => {
            let (a, b) = (quantity(&sides[0], env)?, quantity(&sides[1], env)?);
            let least = matches!(code, Code::Least(_));
            Value::Quantity(if (a.si <= b.si) == least { a } else { b })
        }
        Code::Lookup { table, keys } => {
            let keys = keys.iter().map(|key| value(key, env)).collect::<Result<Vec<_>, _>>()?;
            match env.tables[*table].find(&keys) {
                Some(row) => return row.value.value().ok_or(NOBODY_SAID),
                None => return Err(NOBODY_SAID),
            }
        }
        other => Value::YesNo(truth(other, env)?),
    };
    known(found)
}

/// A field of the thing `depth` scopes out, or of what the fields before it lead to.
fn field<'a>(depth: usize, path: &[&'static Field], env: &Env<'_, 'a>) -> Value<'a> {
    let mut item = env.out(depth);
    let Some((last, before)) = path.split_last() else { return Value::ABSENT };
    for step in before {
        match (step.get)(item) {
            Value::Item(next) => item = next,
            Value::Unknown(missing) => return Value::Unknown(missing),
            _ => return Value::ABSENT,
        }
    }
    (last.get)(item)
}

fn known(value: Value<'_>) -> Known<'_, Value<'_>> {
    match value {
        Value::Unknown(missing) => Err(Unknown(missing)),
        known => Ok(known),
    }
}

/// The truth of a condition.
pub fn truth<'a>(code: &'a Code, env: &Env<'_, 'a>) -> Known<'a, bool> {
    match code {
        Code::Not(inner) => truth(inner, env).map(|yes| !yes),
        Code::And(parts) => every(parts.iter().map(|part| truth(part, env))),
        Code::Or(parts) => some(parts.iter().map(|part| truth(part, env))),
        Code::Any(pair) => some(items(&pair[0], env)?.into_iter().map(|item| truth(&pair[1], &env.inside(item)))),
        Code::All(pair) => every(items(&pair[0], env)?.into_iter().map(|item| truth(&pair[1], &env.inside(item)))),
        Code::Compare(comparison, sides) => {
            let (a, b) = (quantity(&sides[0], env)?, quantity(&sides[1], env)?);
            Ok(compare(*comparison, a, b))
        }
        Code::Same(sides) => match &**sides {
            // Nearly all comparisons are of this form, and nearly all of the time of a review goes by here.
            [Code::Field { depth, path }, Code::Literal(Literal::Word(word))] => match field(*depth, path, env) {
                Value::Word(found) => Ok(found == &**word),
                found => known(found).map(|found| same(&found, &Value::Word(word))),
            },
            [a, b] => both(value(a, env), value(b, env)).map(|(a, b)| same(&a, &b)),
        },
        Code::Among(sides) => among(&sides[0], &sides[1], env),
        Code::Known(inner) => Ok(value(inner, env).is_ok()),
        Code::Shared(number, inner) => match env.memo.and_then(|memo| memo.get(*number)) {
            Some(yes) => Ok(yes),
            None => {
                let found = truth(inner, env);
                if let (Ok(yes), Some(memo)) = (&found, env.memo) {
                    memo.put(*number, *yes);
                }
                found
            }
        },
        Code::Field { depth, path } => match field(*depth, path, env) {
            Value::YesNo(yes) => Ok(yes),
            Value::Unknown(missing) => Err(Unknown(missing)),
            _ => Err(NOBODY_SAID),
        },
        other => match value(other, env)? {
            Value::YesNo(yes) => Ok(yes),
            _ => Err(NOBODY_SAID),
        },
    }
}

impl<'e, 'a> Env<'e, 'a> {
    fn out(&self, depth: usize) -> Item<'a> {
        let mut env = self;
        for _ in 0..depth {
            env = env.outer.unwrap_or(env);
        }
        env.item
    }

    fn inside(&'e self, item: Item<'a>) -> Env<'e, 'a> {
        Env { item, outer: Some(self), memo: None, ..*self }
    }
}

/// True when all are; false as soon as one is, whatever the others would have been.
fn every<'a>(parts: impl Iterator<Item = Known<'a, bool>>) -> Known<'a, bool> {
    decide(parts, false)
}

fn some<'a>(parts: impl Iterator<Item = Known<'a, bool>>) -> Known<'a, bool> {
    decide(parts, true)
}

/// The first part that equals `decisive` decides. Else an unknown part leaves it unknown, and one whose missing
/// property has a name is told before one without.
fn decide<'a>(parts: impl Iterator<Item = Known<'a, bool>>, decisive: bool) -> Known<'a, bool> {
    let mut unknown: Option<Unknown<'a>> = None;
    for part in parts {
        match part {
            Ok(yes) if yes == decisive => return Ok(decisive),
            Ok(_) => {}
            Err(why) if unknown.is_none_or(|known| known.0.is_none()) => unknown = Some(why),
            Err(_) => {}
        }
    }
    unknown.map_or(Ok(!decisive), Err)
}

fn both<'a, T>(a: Known<'a, T>, b: Known<'a, T>) -> Known<'a, (T, T)> {
    match (a, b) {
        (Ok(a), Ok(b)) => Ok((a, b)),
        (Err(Unknown(None)), Err(b)) => Err(b),
        (Err(a), _) => Err(a),
        (_, Err(b)) => Err(b),
    }
}

fn quantity<'a>(code: &'a Code, env: &Env<'_, 'a>) -> Known<'a, Quantity> {
    match value(code, env)? {
        Value::Quantity(quantity) => Ok(quantity),
        _ => Err(NOBODY_SAID),
    }
}

fn items<'a>(code: &'a Code, env: &Env<'_, 'a>) -> Known<'a, Vec<Item<'a>>> {
    match value(code, env)? {
        Value::Items(items) => Ok(items),
        _ => Err(NOBODY_SAID),
    }
}

fn compare(comparison: Comparison, a: Quantity, b: Quantity) -> bool {
    // Sums of written numbers are off by a few units in the last place; nobody means that when a limit is met exactly.
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

/// Whether two values of one type are the same. Things are the same when they stand at one place under one name.
pub fn same(a: &Value<'_>, b: &Value<'_>) -> bool {
    match (a, b) {
        (Value::Word(a) | Value::Text(a), Value::Word(b) | Value::Text(b)) => a == b,
        (Value::YesNo(a), Value::YesNo(b)) => a == b,
        (Value::Quantity(a), Value::Quantity(b)) => compare(Comparison::Equal, *a, *b),
        (Value::Item(a), Value::Item(b)) => same_item(*a, *b),
        _ => false,
    }
}

fn same_item(a: Item<'_>, b: Item<'_>) -> bool {
    a.kind() == b.kind() && a.span() == b.span() && a.name() == b.name()
}

fn among<'a>(left: &'a Code, right: &'a Code, env: &Env<'_, 'a>) -> Known<'a, bool> {
    let wanted = value(left, env);
    match right {
        Code::Field { depth, path } => match (wanted, field(*depth, path, env)) {
            (Ok(Value::Word(word)), Value::Words(words)) => Ok(words.has(word)),
            (wanted, found) => among_known(wanted, known(found)),
        },
        Code::List(elements) => {
            let wanted = wanted?;
            some(elements.iter().map(|element| value(element, env).map(|element| same(&wanted, &element))))
        }
        Code::Constant(number) if matches!(env.constants[*number].value, Literal::Quantities(_)) => {
            let Literal::Quantities(list) = &env.constants[*number].value else { return Err(NOBODY_SAID) };
            let wanted = wanted?;
            Ok(list.iter().any(|element| same(&wanted, &Value::Quantity(*element))))
        }
        _ => among_known(wanted, value(right, env)),
    }
}

fn among_known<'a>(wanted: Known<'a, Value<'a>>, several: Known<'a, Value<'a>>) -> Known<'a, bool> {
    match both(wanted, several)? {
        (Value::Word(word), Value::Words(words)) => Ok(words.has(word)),
        (Value::Item(item), Value::Items(items)) => Ok(items.iter().any(|other| same_item(item, *other))),
        _ => Err(NOBODY_SAID),
    }
}

fn calculate<'a>(arithmetic: &'a Arithmetic, env: &Env<'_, 'a>) -> Known<'a, Quantity> {
    let (a, b) = (quantity(&arithmetic.sides[0], env)?, quantity(&arithmetic.sides[1], env)?);
    let si = match arithmetic.operation {
        Operation::Plus => a.si + b.si,
        Operation::Minus => a.si - b.si,
        Operation::Times => a.si * b.si,
        Operation::Over => a.si / b.si,
    };
    if !si.is_finite() {
        return Err(NOBODY_SAID);
    }
    let (first, second) = if arithmetic.right_unit { (b.unit, a.unit) } else { (a.unit, b.unit) };
    let unit = [first, second]
        .into_iter()
        .find(|unit| unit.dimension == arithmetic.result)
        .unwrap_or_else(|| base_unit(arithmetic.result));
    Ok(Quantity::from_si(si, unit))
}
