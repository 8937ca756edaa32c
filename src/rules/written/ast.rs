//! An expression as it was written, with the place of each part in the rule file.

use serde::{Deserialize, Serialize};

use crate::quantity::Quantity;
use crate::text::Span;

#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Expr<'t> {
    #[serde(borrow)]
    pub node: Node<'t>,
    #[serde(skip)]
    pub span: Span,
}

/// A name with its place.
#[derive(Clone, Copy, Debug, Serialize, Deserialize)]
pub struct Word<'t> {
    pub text: &'t str,
    #[serde(skip)]
    pub span: Span,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
pub enum Node<'t> {
    Quantity(Quantity),
    /// A word in double quotes, such as "6A", which could not be written as a name.
    Text(&'t str),
    /// Names joined by `.`.
    Path(#[serde(borrow)] Vec<Word<'t>>),
    List(Vec<Expr<'t>>),
    Not(Box<Expr<'t>>),
    And(Vec<Expr<'t>>),
    Or(Vec<Expr<'t>>),
    Compare(Comparison, Box<[Expr<'t>; 2]>),
    In {
        negated: bool,
        sides: Box<[Expr<'t>; 2]>,
    },
    Arithmetic(Operation, Box<[Expr<'t>; 2]>),
    Call {
        name: Word<'t>,
        arguments: Vec<Expr<'t>>,
    },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Comparison {
    Equal,
    NotEqual,
    Less,
    LessOrEqual,
    Greater,
    GreaterOrEqual,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Operation {
    Plus,
    Minus,
    Times,
    Over,
}

impl Expr<'_> {
    /// Whether it searches a list or a table.
    #[cfg_attr(sealed, allow(dead_code, reason = "the build script asks it"))]
    pub fn searches(&self) -> bool {
        let any = |parts: &[Expr<'_>]| parts.iter().any(Expr::searches);
        match &self.node {
            Node::Call { name, arguments } => matches!(name.text, "any" | "all" | "count" | "lookup") || any(arguments),
            Node::Not(inner) => inner.searches(),
            Node::List(parts) | Node::And(parts) | Node::Or(parts) => any(parts),
            Node::Compare(_, sides) | Node::In { sides, .. } | Node::Arithmetic(_, sides) => any(&**sides),
            Node::Quantity(_) | Node::Text(_) | Node::Path(_) => false,
        }
    }
}

impl Comparison {
    pub fn symbol(self) -> &'static str {
        match self {
            Comparison::Equal => "==",
            Comparison::NotEqual => "!=",
            Comparison::Less => "<",
            Comparison::LessOrEqual => "<=",
            Comparison::Greater => ">",
            Comparison::GreaterOrEqual => ">=",
        }
    }

    pub fn from_symbol(symbol: &str) -> Option<Comparison> {
        use Comparison::*;
        [Equal, NotEqual, Less, LessOrEqual, Greater, GreaterOrEqual].into_iter().find(|c| c.symbol() == symbol)
    }
}

impl Operation {
    pub fn from_symbol(symbol: &str) -> Option<Operation> {
        Some(match symbol {
            "+" => Operation::Plus,
            "-" => Operation::Minus,
            "*" => Operation::Times,
            "/" => Operation::Over,
            _ => return None,
        })
    }
}
