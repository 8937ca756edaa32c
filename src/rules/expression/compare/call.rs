//! Types of calls: functions that search a list, and `lookup` in a table.

use super::comparable;
use crate::quantity::Dimension;
use crate::rules::expression::check::{Typed, bare};
use crate::rules::expression::{Code, ExprType, Message, TypeChecker, Verb, WordsOf};
use crate::rules::written::{Expr, Word};
use crate::text::Span;

/// The names of the functions of expressions.
const FUNCTIONS: [&str; 7] = ["any", "all", "count", "min", "max", "lookup", "known"];

impl TypeChecker<'_> {
    pub fn call(&mut self, name: Word<'_>, arguments: &[Expr<'_>], span: Span) -> Typed {
        match (name.text, arguments) {
            ("any", [list, condition]) => {
                let (list, condition) = self.quantified(list, condition)?;
                Some((Code::Any(Box::new([list, condition])), ExprType::YesNo))
            }
            ("all", [list, condition]) => {
                let (list, condition) = self.quantified(list, condition)?;
                Some((Code::All(Box::new([list, condition])), ExprType::YesNo))
            }
            ("count", [list, condition]) => {
                let (list, condition) = self.quantified(list, condition)?;
                Some((Code::Count(Box::new(list), Some(Box::new(condition))), ExprType::Quantity(Dimension::Number)))
            }
            ("count", [list]) => {
                let (list, _) = self.items(list)?;
                Some((Code::Count(Box::new(list), None), ExprType::Quantity(Dimension::Number)))
            }
            ("min" | "max", [a, b]) => self.extreme(name.text, [a, b], span),
            ("known", [value]) => Some((Code::Known(Box::new(self.check(value)?.0)), ExprType::YesNo)),
            ("lookup", [table, keys @ ..]) => self.lookup(table, keys, span),
            (function, _) if FUNCTIONS.contains(&function) => self.refuse(span, Message::WrongArguments { function }),
            (unknown, _) => self.refuse(name.span, Message::UnknownFunction { name: unknown, known: &FUNCTIONS }),
        }
    }

    fn items(&mut self, list: &Expr<'_>) -> Option<(Code, crate::facts::vocabulary::Kind)> {
        match self.check(list)? {
            (code, ExprType::FactList(kind)) => Some((code, kind)),
            (_, found) => self.refuse(list.span, Message::NotItems { found }),
        }
    }

    fn quantified(&mut self, list: &Expr<'_>, condition: &Expr<'_>) -> Option<(Code, Code)> {
        let (list, kind) = self.items(list)?;
        self.scopes.push(kind);
        let condition = self.yes_no(condition);
        self.scopes.pop();
        Some((list, condition?))
    }

    fn extreme(&mut self, name: &str, sides: [&Expr<'_>; 2], span: Span) -> Typed {
        let (left, right) = (self.check(sides[0]), self.check(sides[1]));
        let ((left, left_type), (right, right_type)) = (left?, right?);
        match (left_type, right_type) {
            (ExprType::Quantity(a), ExprType::Quantity(b)) if comparable(a, b) => {
                let pair = Box::new([left, right]);
                let code = if name == "min" { Code::Least(pair) } else { Code::Greatest(pair) };
                Some((code, left_type))
            }
            _ => self.mismatch(&[sides[0].clone(), sides[1].clone()], [left_type, right_type], span, Verb::Compare),
        }
    }

    fn lookup(&mut self, table: &Expr<'_>, keys: &[Expr<'_>], span: Span) -> Typed {
        let Some((name, name_span)) = bare(table) else {
            return self.refuse(table.span, Message::TableExpected);
        };
        let Some(number) = self.tables.iter().position(|t| &*t.name == name) else {
            let known: Vec<&str> = self.tables.iter().map(|t| &*t.name).collect();
            return self.refuse(name_span, Message::UnknownTable { name, known: &known });
        };
        let table = &self.tables[number];
        if table.keys.len() != keys.len() {
            let wanted: Vec<&str> = table.keys.iter().map(|k| &*k.name).collect();
            return self.refuse(span, Message::WrongKeys { table: name, keys: &wanted });
        }
        let mut codes = Vec::new();
        for (key, column) in keys.iter().zip(&table.keys) {
            let Some((code, of)) = self.operand(key, Some(column.of)) else { continue };
            let fits = match (column.of, of) {
                (ExprType::Word(list), ExprType::Word(WordsOf::Free)) => self.fits(&code, key, list),
                (ExprType::Word(a), ExprType::Word(b)) => a == b || !a.closed() || !b.closed(),
                (ExprType::Quantity(a), ExprType::Quantity(b)) => comparable(a, b),
                (a, b) => a == b,
            };
            match fits {
                true => codes.push(code),
                false if of == ExprType::Word(WordsOf::Free) && matches!(column.of, ExprType::Word(_)) => {}
                false => {
                    let message =
                        Message::WrongKey { table: name, column: &column.name, expected: column.of, found: of };
                    self.refuse::<()>(key.span, message);
                }
            }
        }
        let value = table.value_type(number);
        (codes.len() == keys.len()).then(|| (Code::Lookup { table: number, keys: codes.into() }, value))
    }
}
