//! The value of an expression, and the truth of a condition.

use crate::facts::vocabulary::{Field, Missing, Value};
use crate::quantity::{Dimension, Quantity};
use crate::rules::expression::code::Arithmetic;
use crate::rules::expression::operate::{compare, same, same_item};
use crate::rules::expression::truth::{Truth, every, missing, some};
use crate::rules::expression::{Code, Env};
use crate::rules::written::{Comparison, Literal};

/// The value of an expression.
pub fn value<'a>(code: &'a Code, env: &Env<'_, 'a>) -> Value<'a> {
    match code {
        Code::Literal(literal) => literal.value().unwrap_or(Value::ABSENT),
        Code::Constant(number) => env.constants[*number].value.value().unwrap_or(Value::ABSENT),
        Code::Own(depth) => Value::Fact(env.out(*depth)),
        Code::Field { depth, path } => field(*depth, path, env),
        Code::Arithmetic(arithmetic) => calculate(arithmetic, env),
        Code::Count(list, condition) => count(list, condition.as_deref(), env),
        Code::Least(sides) | Code::Greatest(sides) => match quantities(sides, env) {
            Ok((a, b)) => {
                let least = matches!(code, Code::Least(_));
                Value::Quantity(if (a.si <= b.si) == least { a } else { b })
            }
            Err(missing) => Value::Unknown(missing),
        },
        Code::Lookup { table, keys } => {
            let keys: Vec<Value<'a>> = keys.iter().map(|key| value(key, env)).collect();
            match keys.iter().find(|key| matches!(key, Value::Unknown(_))) {
                Some(unknown) => *unknown,
                None => env.tables[*table].find(&keys).and_then(|row| row.value.value()).unwrap_or(Value::ABSENT),
            }
        }
        Code::Known(inner) => Value::YesNo(!matches!(of_subject(inner, env), Value::Unknown(_))),
        condition => match truth(condition, env) {
            Truth::No => Value::YesNo(false),
            Truth::Yes => Value::YesNo(true),
            Truth::Unknown => Value::ABSENT,
            Truth::Missing => Value::Unknown(cause(condition, env)),
        },
    }
}

/// The value at the end of a path of fields, which starts at the thing `depth` scopes out.
fn field<'a>(depth: usize, path: &[&'static Field], env: &Env<'_, 'a>) -> Value<'a> {
    if let ([own], 0) = (path, depth) {
        return own.get(env.item);
    }
    let mut item = env.out(depth);
    let Some((last, before)) = path.split_last() else { return Value::ABSENT };
    for step in before {
        match step.get(item) {
            Value::Fact(next) => item = next,
            Value::Unknown(missing) => return Value::Unknown(missing),
            _ => return Value::ABSENT,
        }
    }
    last.get(item)
}

/// The value of a subject. Nearly all subjects are fields, which are tried first.
fn of_subject<'a>(subject: &'a Code, env: &Env<'_, 'a>) -> Value<'a> {
    match subject {
        Code::Field { depth, path } => field(*depth, path, env),
        other => value(other, env),
    }
}

/// The truth of a whole condition. The loop over its parts is here, because the first part settles most rules.
#[inline]
pub fn truth_of_parts<'a>(code: &'a Code, env: &Env<'_, 'a>) -> Truth {
    match code {
        Code::And(parts) => every(parts.in_order().map(|part| truth(part, env))),
        one => truth(one, env),
    }
}

/// The truth of a condition. Nearly all of the time of judging is spent here, so that this function handles the frequent cases
/// alone.
pub(super) fn truth<'a>(code: &'a Code, env: &Env<'_, 'a>) -> Truth {
    match code {
        Code::Not(inner) => truth(inner, env).opposite(),
        Code::And(parts) => every(parts.in_order().map(|part| truth(part, env))),
        Code::Or(parts) => some(parts.in_order().map(|part| truth(part, env))),
        Code::Is { depth, path, word } => match field(*depth, path, env) {
            Value::Word(found) | Value::Text(found) => Truth::of(found == &**word),
            other => Truth::of_unknown(&other),
        },
        Code::Field { depth, path } => match field(*depth, path, env) {
            Value::YesNo(yes) => Truth::of(yes),
            other => Truth::of_unknown(&other),
        },
        Code::Known(inner) => Truth::of(!matches!(of_subject(inner, env), Value::Unknown(_))),
        seldom => truth_of_more(seldom, env),
    }
}

/// The other cases: conditions on more than one value, or on the items of a list.
#[inline(never)]
fn truth_of_more<'a>(code: &'a Code, env: &Env<'_, 'a>) -> Truth {
    match code {
        Code::Any(pair) => match value(&pair[0], env) {
            Value::FactList(items) => {
                some(env.all_that_may(&pair[1], items).map(|item| truth(&pair[1], &env.inside(item))))
            }
            other => Truth::of_unknown(&other),
        },
        Code::All(pair) => match value(&pair[0], env) {
            Value::FactList(items) => every(env.each(items).map(|item| truth(&pair[1], &env.inside(item)))),
            other => Truth::of_unknown(&other),
        },
        Code::Compare(comparison, sides) => match quantities(sides, env) {
            Ok((a, b)) => Truth::of(compare(*comparison, a, b)),
            Err(missing) => Truth::of_missing(missing),
        },
        Code::Same(sides) => match (value(&sides[0], env), value(&sides[1], env)) {
            (a @ Value::Unknown(_), b) | (a, b @ Value::Unknown(_)) => Truth::of_either(&a, &b),
            (a, b) => Truth::of(same(&a, &b)),
        },
        Code::Among(sides) => among(&sides[0], &sides[1], env),
        other => match value(other, env) {
            Value::YesNo(yes) => Truth::of(yes),
            other => Truth::of_unknown(&other),
        },
    }
}

/// The property that a condition is missing. This is seldom needed, so it is found by evaluating the condition a second time,
/// and no truth value has to carry it.
pub fn cause<'a>(code: &'a Code, env: &Env<'_, 'a>) -> Option<Missing<'a>> {
    if truth(code, env) != Truth::Missing {
        return None;
    }
    let of_value = |part: &'a Code| missing(&value(part, env));
    match code {
        Code::Not(inner) => cause(inner, env),
        Code::And(parts) | Code::Or(parts) => parts.iter().find_map(|part| cause(part, env)),
        Code::Any(pair) | Code::All(pair) => match value(&pair[0], env) {
            Value::FactList(items) => items.iter().find_map(|item| cause(&pair[1], &env.inside(item))),
            other => missing(&other),
        },
        Code::Is { depth, path, .. } => missing(&field(*depth, path, env)),
        Code::Among(sides) => match &sides[1] {
            Code::List(elements) => std::iter::once(&sides[0]).chain(elements).find_map(of_value),
            _ => sides.iter().find_map(of_value),
        },
        Code::Compare(_, sides) | Code::Same(sides) => sides.iter().find_map(of_value),
        value => of_value(value),
    }
}

/// Two quantities, or what is missing for the first unknown one.
fn quantities<'a>(sides: &'a [Code; 2], env: &Env<'_, 'a>) -> Result<(Quantity, Quantity), Option<Missing<'a>>> {
    match (value(&sides[0], env), value(&sides[1], env)) {
        (Value::Quantity(a), Value::Quantity(b)) => Ok((a, b)),
        (Value::Unknown(missing), _) | (_, Value::Unknown(missing)) => Err(missing),
        _ => Err(None),
    }
}

fn count<'a>(list: &'a Code, condition: Option<&'a Code>, env: &Env<'_, 'a>) -> Value<'a> {
    let items = match value(list, env) {
        Value::FactList(items) => items,
        other => return Value::Unknown(missing(&other)),
    };
    let mut count = 0;
    for item in env.each(items) {
        let inside = env.inside(item);
        match condition.map_or(Truth::Yes, |condition| truth(condition, &inside)) {
            Truth::Yes => count += 1,
            Truth::No => {}
            Truth::Unknown => return Value::ABSENT,
            Truth::Missing => return Value::Unknown(condition.and_then(|condition| cause(condition, &inside))),
        }
    }
    Value::Quantity(Quantity::in_base_unit(f64::from(count), Dimension::Number))
}

fn among<'a>(left: &'a Code, right: &'a Code, env: &Env<'_, 'a>) -> Truth {
    let wanted = value(left, env);
    match right {
        Code::List(elements) => {
            if let Value::Unknown(missing) = wanted {
                return Truth::of_missing(missing);
            }
            some(elements.iter().map(|element| match value(element, env) {
                Value::Unknown(missing) => Truth::of_missing(missing),
                element => Truth::of(same(&wanted, &element)),
            }))
        }
        Code::Constant(number) if matches!(env.constants[*number].value, Literal::Quantities(_)) => {
            match (&env.constants[*number].value, wanted) {
                (Literal::Quantities(list), Value::Quantity(wanted)) => {
                    Truth::of(list.iter().any(|element| compare(Comparison::Equal, wanted, *element)))
                }
                (_, other) => Truth::of_unknown(&other),
            }
        }
        _ => match (wanted, value(right, env)) {
            (Value::Word(word), Value::Words(words)) => Truth::of(words.has(word)),
            (Value::Fact(item), Value::FactList(items)) => Truth::of(items.iter().any(|other| same_item(item, other))),
            (wanted, several) => Truth::of_either(&wanted, &several),
        },
    }
}

fn calculate<'a>(arithmetic: &'a Arithmetic, env: &Env<'_, 'a>) -> Value<'a> {
    let (a, b) = match quantities(&arithmetic.sides, env) {
        Ok(sides) => sides,
        Err(missing) => return Value::Unknown(missing),
    };
    arithmetic.of(a, b).map_or(Value::ABSENT, Value::Quantity)
}
