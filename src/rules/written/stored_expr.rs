//! How expressions are kept in the prepared form: as one text, whose characters below 128 also stand for counts and kinds. A
//! start of the program reads thousands of expressions, and code that serde derives takes twice as long. They have been checked
//! when the program was built, so that reading them cannot fail.

use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::quantity::{Quantity, UNITS};
use crate::rules::written::{Comparison, Expr, Node, Operation, Word};
use crate::text::Span;

const COMPARISONS: [Comparison; 6] = [
    Comparison::Equal,
    Comparison::NotEqual,
    Comparison::Less,
    Comparison::LessOrEqual,
    Comparison::Greater,
    Comparison::GreaterOrEqual,
];
const OPERATIONS: [Operation; 4] = [Operation::Plus, Operation::Minus, Operation::Times, Operation::Over];

impl Serialize for Expr<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.stored())
    }
}

impl<'de: 's, 's> Deserialize<'de> for Expr<'s> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Expr<'s>, D::Error> {
        let mut reader = ExprReader(<&str>::deserialize(deserializer)?);
        let expr = reader.expr();
        if reader.0.is_empty() { Ok(expr) } else { Err(D::Error::custom("the expression ends early")) }
    }
}

impl Expr<'_> {
    /// The same expression is stored alike, wherever it is written: places are not part of it.
    pub fn stored(&self) -> String {
        let mut stored = String::new();
        self.store(&mut stored);
        stored
    }

    fn store(&self, to: &mut String) {
        match &self.node {
            Node::Quantity(quantity) => {
                let unit = UNITS.iter().position(|unit| unit == quantity.unit);
                to.extend(['\0', small(unit.expect("each unit stands in the table"))]);
                let bits = quantity.si.to_bits();
                to.extend((0..NUMBER).map(|at| small((bits >> (7 * at)) as usize & 127)));
            }
            Node::Text(text) => {
                to.push('\x01');
                store_text(text, to);
            }
            Node::Path(path) => {
                to.extend(['\x02', small(path.len())]);
                path.iter().for_each(|word| store_text(word.text, to));
            }
            Node::List(parts) => store_parts('\x03', parts, to),
            Node::Not(inner) => {
                to.push('\x04');
                inner.store(to);
            }
            Node::And(parts) => store_parts('\x05', parts, to),
            Node::Or(parts) => store_parts('\x06', parts, to),
            Node::Compare(comparison, sides) => {
                to.extend(['\x07', place(&COMPARISONS, comparison)]);
                sides.iter().for_each(|side| side.store(to));
            }
            Node::In { negated, sides } => {
                to.extend(['\x08', small(usize::from(*negated))]);
                sides.iter().for_each(|side| side.store(to));
            }
            Node::Arithmetic(operation, sides) => {
                to.extend(['\x09', place(&OPERATIONS, operation)]);
                sides.iter().for_each(|side| side.store(to));
            }
            Node::Call { name, arguments } => {
                store_parts('\x0a', arguments, to);
                store_text(name.text, to);
            }
        }
    }
}

fn store_parts(kind: char, parts: &[Expr<'_>], to: &mut String) {
    to.extend([kind, small(parts.len())]);
    parts.iter().for_each(|part| part.store(to));
}

fn store_text(text: &str, to: &mut String) {
    to.push(small(text.len()));
    to.push_str(text);
}

fn place<T: PartialEq>(all: &[T], one: &T) -> char {
    small(all.iter().position(|other| other == one).expect("all are listed"))
}

/// A small number as one character of one byte.
fn small(number: usize) -> char {
    let byte = u8::try_from(number).ok().filter(u8::is_ascii);
    char::from(byte.expect("no stock rule has a longer list or word"))
}

/// The characters that the bits of a number take, seven in each.
const NUMBER: usize = 10;

/// What is still to be read.
struct ExprReader<'s>(&'s str);

impl<'s> ExprReader<'s> {
    fn expr(&mut self) -> Expr<'s> {
        let node = match self.small() {
            0 => {
                let unit = &UNITS[self.small()];
                let bits = (0..NUMBER).map(|at| (self.small() as u64) << (7 * at)).sum();
                Node::Quantity(Quantity { si: f64::from_bits(bits), unit })
            }
            1 => Node::Text(self.text()),
            2 => Node::Path((0..self.small()).map(|_| self.word()).collect()),
            3 => Node::List(self.parts()),
            4 => Node::Not(Box::new(self.expr())),
            5 => Node::And(self.parts()),
            6 => Node::Or(self.parts()),
            7 => Node::Compare(COMPARISONS[self.small()], self.sides()),
            8 => Node::In { negated: self.small() == 1, sides: self.sides() },
            9 => Node::Arithmetic(OPERATIONS[self.small()], self.sides()),
            10 => Node::Call { arguments: self.parts(), name: self.word() },
            _ => unreachable!("there is no such expression"),
        };
        Expr { node, span: Span::default() }
    }

    fn parts(&mut self) -> Vec<Expr<'s>> {
        (0..self.small()).map(|_| self.expr()).collect()
    }

    fn sides(&mut self) -> Box<[Expr<'s>; 2]> {
        Box::new([self.expr(), self.expr()])
    }

    fn word(&mut self) -> Word<'s> {
        Word { text: self.text(), span: Span::default() }
    }

    fn text(&mut self) -> &'s str {
        let length = self.small();
        let (text, rest) = self.0.split_at(length);
        self.0 = rest;
        text
    }

    fn small(&mut self) -> usize {
        let first = self.0.as_bytes()[0];
        self.0 = &self.0[1..];
        usize::from(first)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::written::{Quoted, parse};
    use crate::text::FileId;

    #[test]
    fn each_kind_of_expression_is_read_as_it_was_stored() {
        let text = r#"not (role in [pan, "6A"] or kind not in kinds) and count(detail.laps, length < 2 in) > 1
            and a <= b and a >= b and a == b and a != b and (top + 1 mm) * 2 - bottom / 3 > min(1 %, 150 mm)"#;
        let quoted = Quoted::new(FileId::stock_rules(0), text, text.into(), 0..text.len());
        let expr = parse(&quoted, 0..text.len()).unwrap();
        let stored = expr.stored();
        let mut reader = ExprReader(&stored);
        let read = reader.expr();
        assert!(reader.0.is_empty() && read.stored() == stored);
        // That nothing is left out is a test of `pack/load`: rules are the same from their files and from this form.
    }
}
