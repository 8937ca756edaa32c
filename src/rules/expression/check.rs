//! The type check of expressions, before any detail is read. It finds undefined names, comparisons of a length with a
//! permeance, and words that are in no list.

use crate::facts::vocabulary::{Field, Kind, field, fields};
use crate::finding::Finding;
use crate::model::Words;
use crate::rules::constant::Constant;
use crate::rules::expression::{Code, ExprType, Message, Parts, WordsOf};
use crate::rules::table::Table;
use crate::rules::written::{Expr, Literal, Node, Word};
use crate::text::Span;

/// What an expression may refer to, and the problems so far.
pub struct TypeChecker<'c> {
    /// The kinds of the things in scope, the rule's own first.
    pub scopes: Vec<Kind>,
    pub constants: &'c mut [Constant],
    /// Constants whose values cannot be read, which was reported: uses of them fail silently.
    pub unreadable: &'c [String],
    pub tables: &'c [Table],
    pub words: &'c Words,
    pub problems: Vec<Finding>,
}

pub type Typed = Option<(Code, ExprType)>;

impl<'c> TypeChecker<'c> {
    pub fn new(about: Kind, constants: &'c mut [Constant], tables: &'c [Table], words: &'c Words) -> TypeChecker<'c> {
        TypeChecker { scopes: vec![about], constants, unreadable: &[], tables, words, problems: Vec::new() }
    }
}

impl TypeChecker<'_> {
    /// An expression of any type; `None` when it has a problem, which is noted.
    pub fn check(&mut self, expr: &Expr<'_>) -> Typed {
        match &expr.node {
            Node::Quantity(quantity) => {
                Some((Code::Literal(Literal::Quantity(*quantity)), ExprType::Quantity(quantity.dimension())))
            }
            Node::Text(text) => Some((Code::Literal(Literal::Word((*text).into())), ExprType::Word(WordsOf::Free))),
            Node::Path(path) => self.path(path),
            Node::List(_) => self.refuse(expr.span, Message::ListAlone),
            Node::Not(inner) => Some((Code::Not(Box::new(self.yes_no(inner)?)), ExprType::YesNo)),
            Node::And(parts) => Some((Code::And(self.each_yes_no(parts)?), ExprType::YesNo)),
            Node::Or(parts) => Some((Code::Or(self.each_yes_no(parts)?), ExprType::YesNo)),
            Node::Compare(comparison, sides) => self.compare(*comparison, sides, expr.span),
            Node::In { negated, sides } => self.among(*negated, sides, expr.span),
            Node::Arithmetic(operation, sides) => self.arithmetic(*operation, sides, expr.span),
            Node::Call { name, arguments } => self.call(*name, arguments, expr.span),
        }
    }

    /// An expression that has to be yes or no.
    pub fn yes_no(&mut self, expr: &Expr<'_>) -> Option<Code> {
        match self.check(expr)? {
            (code, ExprType::YesNo) => Some(code),
            (_, found) => self.refuse(expr.span, Message::NotYesNo { found }),
        }
    }

    /// All parts are checked, so that each can show its problem.
    fn each_yes_no(&mut self, parts: &[Expr<'_>]) -> Option<Parts> {
        let mut checked = Vec::with_capacity(parts.len());
        checked.extend(parts.iter().filter_map(|part| self.yes_no(part)));
        (checked.len() == parts.len()).then(|| checked.into_boxed_slice().into())
    }

    /// One side of an operation. Where the words of the other side are known, a bare name may be one of them.
    pub fn operand(&mut self, expr: &Expr<'_>, beside: Option<ExprType>) -> Typed {
        let list = match beside {
            Some(ExprType::Word(list) | ExprType::Words(list)) => Some(list),
            Some(ExprType::Text) => Some(WordsOf::Free),
            _ => None,
        };
        let (Some((name, span)), Some(list)) = (bare(expr), list) else { return self.check(expr) };
        let word = |name: &str| Some((Code::Literal(Literal::Word(name.into())), ExprType::Word(list)));
        if list.closed() && list.has(name, self.words, self.tables) {
            return word(name);
        }
        if self.stands(name) {
            return self.check(expr);
        }
        if !list.closed() {
            return word(name);
        }
        self.no_such_word(name, span, list)
    }

    pub fn no_such_word<T>(&mut self, word: &str, span: Span, list: WordsOf) -> Option<T> {
        let list = list.list(self.words, self.tables).unwrap_or_default();
        let constants: Vec<&str> = self.constants.iter().map(|constant| &*constant.name).collect();
        let finding = Message::UnknownWord { word, list: &list, constants: &constants }.at(span);
        self.problems.push(finding);
        None
    }

    /// Whether a bare name is a constant, a field, or the thing itself.
    pub fn stands(&self, name: &str) -> bool {
        self.constants.iter().any(|c| &*c.name == name)
            || self.unreadable.iter().any(|known| known == name)
            || self.in_scope(name).is_some()
    }

    fn in_scope(&self, name: &str) -> Option<(usize, Kind, Option<&'static Field>)> {
        self.scopes
            .iter()
            .rev()
            .enumerate()
            .find_map(|(depth, kind)| match field(*kind, name) {
                Some(field) => Some((depth, *kind, Some(field))),
                None if kind.word() == name => Some((depth, *kind, None)),
                None => None,
            })
            // Inside a list of the rule's own kind, `own` is what the rule is about.
            .or_else(|| (name == "own").then(|| (self.scopes.len() - 1, self.scopes[0], None)))
    }

    fn path(&mut self, path: &[Word<'_>]) -> Typed {
        let Word { text: first, span: first_span } = path[0];
        if let Some(number) = self.constants.iter().position(|c| &*c.name == first) {
            if let Some(second) = path.get(1) {
                return self.refuse(second.span, Message::FieldOfConstant { name: first });
            }
            let constant = &mut self.constants[number];
            constant.used = true;
            return Some((Code::Constant(number), ExprType::of(&constant.value)));
        }
        if self.unreadable.iter().any(|name| name == first) {
            return None;
        }
        let Some((depth, own_kind, start)) = self.in_scope(first) else {
            return match first {
                "yes" | "no" if path.len() == 1 => {
                    Some((Code::Literal(Literal::YesNo(first == "yes")), ExprType::YesNo))
                }
                _ => self.no_such_name(first, first_span),
            };
        };
        let mut steps: Vec<&'static Field> = Vec::with_capacity(path.len());
        steps.extend(start);
        let mut kind = Some(own_kind).filter(|_| start.is_none());
        let mut of = start.map_or(ExprType::Fact(own_kind), |field| field.of.into());
        if let ExprType::Fact(of) = of {
            kind = Some(of);
        }
        for (at, Word { text: name, span }) in path.iter().enumerate().skip(1) {
            let Some(owner) = kind else {
                return self.refuse(*span, Message::FieldOfValue { name: path[at - 1].text, of });
            };
            let Some(step) = field(owner, name) else {
                return self.refuse(*span, Message::UnknownField { name, kind: owner });
            };
            steps.push(step);
            of = step.of.into();
            kind = if let ExprType::Fact(kind) = of { Some(kind) } else { None };
        }
        let code = if steps.is_empty() { Code::Own(depth) } else { Code::Field { depth, path: steps.into() } };
        Some((code, of))
    }

    fn no_such_name(&mut self, name: &str, span: Span) -> Typed {
        let kind = *self.scopes.last().expect("the rule's own kind is in scope");
        let known = self.scopes.iter().flat_map(|kind| fields(*kind).map(|f| f.name));
        let known: Vec<&str> = known.chain(self.constants.iter().map(|c| &*c.name)).collect();
        let message = match self.hidden_minus(name) {
            Some(sides) => Message::HiddenMinus { name, kind, sides },
            None => Message::UnknownName { name, kind, known: &known },
        };
        let finding = message.at(span);
        self.problems.push(finding);
        None
    }

    /// `limit-length` where both `limit` and `length` are names.
    fn hidden_minus<'n>(&self, name: &'n str) -> Option<(&'n str, &'n str)> {
        name.match_indices('-')
            .map(|(at, _)| (&name[..at], &name[at + 1..]))
            .find(|(left, right)| self.stands(left) && self.stands(right))
    }

    pub fn refuse<T>(&mut self, span: Span, message: Message<'_>) -> Option<T> {
        self.problems.push(message.at(span));
        None
    }
}

/// The name of an expression that is one bare name.
pub fn bare<'t>(expr: &Expr<'t>) -> Option<(&'t str, Span)> {
    match &expr.node {
        Node::Path(path) if path.len() == 1 => Some((path[0].text, path[0].span)),
        _ => None,
    }
}
