//! An expression that has been checked. All that is left is to look up values and compare them.

mod depends;

use crate::facts::vocabulary::{Field, Value, WordSet};
use crate::model::Name;
use crate::quantity::Dimension;
use crate::rules::constant::Constant;
use crate::rules::expression::Parts;
use crate::rules::written::{Comparison, Literal, Operation};

/// A checked expression. Its types are right, so that evaluation never checks them.
#[derive(Clone, PartialEq)]
pub enum Code {
    Literal(Literal),
    /// A named constant of the rule, by its index.
    Constant(usize),
    /// The thing itself: 0 the innermost of the scopes, 1 the one around it, …
    Own(usize),
    /// A path of fields, which starts at the thing `depth` scopes out.
    Field {
        depth: usize,
        path: Box<[&'static Field]>,
    },
    Not(Box<Code>),
    And(Parts),
    Or(Parts),
    Compare(Comparison, Box<[Code; 2]>),
    /// A field that has to be this word.
    Is {
        depth: usize,
        path: Box<[&'static Field]>,
        word: Name,
    },
    /// Equality of words, texts, things, or yes and no.
    Same(Box<[Code; 2]>),
    /// Whether a word, a quantity or a thing is among several.
    Among(Box<[Code; 2]>),
    /// A list that is written out on the right of `in`.
    List(Box<[Code]>),
    Arithmetic(Box<Arithmetic>),
    Any(Box<[Code; 2]>),
    All(Box<[Code; 2]>),
    Count(Box<Code>, Option<Box<Code>>),
    Least(Box<[Code; 2]>),
    Greatest(Box<[Code; 2]>),
    Lookup {
        table: usize,
        keys: Box<[Code]>,
    },
    Known(Box<Code>),
}

#[derive(Clone, PartialEq)]
pub struct Arithmetic {
    pub operation: Operation,
    pub sides: [Code; 2],
    pub result: Dimension,
    /// The result is shown in the unit of the right side, because its left is a constant of the rule.
    pub right_unit: bool,
}

impl Literal {
    pub fn value(&self) -> Option<Value<'_>> {
        Some(match self {
            Literal::YesNo(yes) => Value::YesNo(*yes),
            Literal::Quantity(quantity) => Value::Quantity(*quantity),
            Literal::Word(word) => Value::Word(word),
            Literal::Words(words) => Value::Words(WordSet::Names(words)),
            Literal::Quantities(_) => return None,
        })
    }

    fn has_word(&self, wanted: &str) -> bool {
        match self {
            Literal::Word(word) => **word == *wanted,
            Literal::Words(words) => words.iter().any(|word| **word == *wanted),
            Literal::YesNo(_) | Literal::Quantity(_) | Literal::Quantities(_) => false,
        }
    }
}

impl Code {
    /// Whether it comes from the rule file alone, without any fact.
    pub fn is_constant(&self) -> bool {
        match self {
            Code::Literal(_) | Code::Constant(_) => true,
            Code::Arithmetic(a) => a.sides.iter().all(Code::is_constant),
            Code::Least(sides) | Code::Greatest(sides) => sides.iter().all(Code::is_constant),
            Code::Lookup { .. } => true,
            _ => false,
        }
    }

    /// Whether it searches a list or a table, which is the most costly thing to do.
    pub fn searches(&self) -> bool {
        let searches =
            |code: &Code| matches!(code, Code::Any(_) | Code::All(_) | Code::Count(..) | Code::Lookup { .. });
        self.holds(&searches)
    }

    /// Whether it compares a field of this name with this word, whether literal or in a constant of the rule.
    pub fn compares(&self, field: &str, word: &str, constants: &[Constant]) -> bool {
        let is_field = |path: &[&'static Field]| path.last().is_some_and(|last| last.name == field);
        let says = |code: &Code| match code {
            Code::Literal(literal) => literal.has_word(word),
            Code::Constant(number) => constants[*number].value.has_word(word),
            _ => false,
        };
        let compares = |code: &Code| match code {
            Code::Is { path, word: wanted, .. } => is_field(path) && **wanted == *word,
            Code::Same(sides) | Code::Among(sides) => {
                let asked = sides.iter().any(|side| matches!(side, Code::Field { path, .. } if is_field(path)));
                asked && sides.iter().any(|side| side.holds(&says))
            }
            _ => false,
        };
        self.holds(&compares)
    }

    /// Whether the expression or some part of it passes the test.
    pub(super) fn holds(&self, wanted: &dyn Fn(&Code) -> bool) -> bool {
        let any = |codes: &[Code]| codes.iter().any(|code| code.holds(wanted));
        wanted(self)
            || match self {
                Code::Literal(_) | Code::Constant(_) | Code::Own(_) => false,
                Code::Field { .. } | Code::Is { .. } => false,
                Code::Not(inner) | Code::Known(inner) => inner.holds(wanted),
                Code::And(parts) | Code::Or(parts) => any(parts),
                Code::List(parts) => any(parts),
                Code::Compare(_, sides) => any(&**sides),
                Code::Same(sides) | Code::Among(sides) | Code::Any(sides) | Code::All(sides) => any(&**sides),
                Code::Least(sides) | Code::Greatest(sides) => any(&**sides),
                Code::Arithmetic(arithmetic) => any(&arithmetic.sides),
                Code::Count(list, condition) => {
                    list.holds(wanted) || condition.as_ref().is_some_and(|inner| inner.holds(wanted))
                }
                Code::Lookup { keys, .. } => any(keys),
            }
    }

    /// Equality of two values, in the form that is fastest to evaluate.
    pub fn equal(sides: [Code; 2]) -> Code {
        match sides {
            [Code::Field { depth, path }, Code::Literal(Literal::Word(word))]
            | [Code::Literal(Literal::Word(word)), Code::Field { depth, path }] => Code::Is { depth, path, word },
            sides => Code::Same(Box::new(sides)),
        }
    }
}
