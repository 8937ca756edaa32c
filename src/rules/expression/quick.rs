//! Expressions read by hand, twenty times faster than the grammar reads them: a start of the program reads a thousand. What
//! is not plain is left to the grammar, which defines the language and explains mistakes. A test holds the two together.

use crate::rules::expression::ast::{Comparison, Expr, Node, Operation};
use crate::rules::expression::parse::{DEEPEST, Reader};

/// The expression that a text is, or nothing where the grammar has to be asked.
pub fn quick<'t>(reader: &Reader<'t, '_>, text: &'t str) -> Option<Expr<'t>> {
    let mut quick = Quick { reader, text, at: 0 };
    let expr = quick.either()?;
    quick.gap();
    (quick.at == text.len()).then_some(expr)
}

struct Quick<'t, 'r, 's> {
    reader: &'r Reader<'t, 's>,
    text: &'t str,
    at: usize,
}

impl<'t> Quick<'t, '_, '_> {
    fn byte(&self) -> Option<u8> {
        self.byte_at(self.at)
    }

    fn byte_at(&self, at: usize) -> Option<u8> {
        self.text.as_bytes().get(at).copied()
    }

    fn while_byte(&mut self, fits: impl Fn(u8) -> bool) -> bool {
        let from = self.at;
        while self.byte().is_some_and(&fits) {
            self.at += 1;
        }
        self.at > from
    }

    fn gap(&mut self) -> bool {
        self.while_byte(|byte| matches!(byte, b' ' | b'\t' | b'\n' | b'\r'))
    }

    /// After a gap.
    fn sign(&mut self, sign: &str) -> bool {
        let from = self.at;
        self.gap();
        let found = self.text.as_bytes()[self.at..].starts_with(sign.as_bytes());
        self.at = if found { self.at + sign.len() } else { from };
        found
    }

    /// After a gap, and not the beginning of a name.
    fn word(&mut self, word: &str) -> bool {
        let from = self.at;
        let found = self.sign(word) && !self.byte().is_some_and(in_name);
        if !found {
            self.at = from;
        }
        found
    }

    fn either(&mut self) -> Option<Expr<'t>> {
        self.chain("or", Node::Or, |quick| quick.chain("and", Node::And, Quick::negation))
    }

    fn chain(
        &mut self,
        word: &str,
        join: fn(Vec<Expr<'t>>) -> Node<'t>,
        part: impl Fn(&mut Self) -> Option<Expr<'t>>,
    ) -> Option<Expr<'t>> {
        let first = part(self)?;
        if !self.word(word) {
            return Some(first);
        }
        let mut parts = vec![first, part(self)?];
        while self.word(word) {
            parts.push(part(self)?);
        }
        let span = parts[0].span.to(parts[parts.len() - 1].span);
        Some(Expr { node: join(parts), span })
    }

    fn negation(&mut self) -> Option<Expr<'t>> {
        self.gap();
        let start = self.at;
        if !self.word("not") {
            return self.comparison();
        }
        let start = self.reader.span(start, self.at);
        // Twice is a matter for the grammar.
        let body = self.comparison()?;
        Some(Expr { span: start.to(body.span), node: Node::Not(Box::new(body)) })
    }

    fn comparison(&mut self) -> Option<Expr<'t>> {
        let left = self.sum()?;
        let comparison = ["==", "!=", "<=", ">=", "<", ">"].into_iter().find(|sign| self.sign(sign));
        let before = self.at;
        let negated = comparison.is_none() && self.word("not");
        if comparison.is_none() && !self.word("in") {
            self.at = before;
            return (!negated).then_some(left);
        }
        let right = self.sum()?;
        let span = left.span.to(right.span);
        let sides = Box::new([left, right]);
        let node = match comparison.and_then(Comparison::from_symbol) {
            Some(comparison) => Node::Compare(comparison, sides),
            None => Node::In { negated, sides },
        };
        Some(Expr { node, span })
    }

    fn sum(&mut self) -> Option<Expr<'t>> {
        let product = |quick: &mut Self| quick.arithmetic(["*", "/"], Quick::operand);
        self.arithmetic(["+", "-"], product)
    }

    fn arithmetic(&mut self, signs: [&str; 2], part: impl Fn(&mut Self) -> Option<Expr<'t>>) -> Option<Expr<'t>> {
        let mut left = part(self)?;
        for _ in 1..DEEPEST {
            let Some(sign) = signs.into_iter().find(|sign| self.sign(sign)) else { return Some(left) };
            let right = part(self)?;
            let span = left.span.to(right.span);
            let operation = Operation::from_symbol(sign)?;
            left = Expr { node: Node::Arithmetic(operation, Box::new([left, right])), span };
        }
        None
    }

    fn operand(&mut self) -> Option<Expr<'t>> {
        self.gap();
        let start = self.at;
        let first = self.byte()?;
        let second = self.byte_at(start + 1);
        let node = match first {
            b'(' => {
                self.at += 1;
                let inner = self.either()?;
                self.sign(")").then_some(())?;
                return Some(Expr { span: self.reader.span(start, self.at), ..inner });
            }
            b'[' => {
                self.at += 1;
                Node::List(self.row("]")?)
            }
            b'"' => {
                let length = self.text[start + 1..].find(['"', '\n', '\r'])?;
                self.at += length + 2;
                (self.byte_at(self.at - 1) == Some(b'"')).then_some(())?;
                Node::Text(&self.text[start + 1..self.at - 1])
            }
            b'R' if matches!(second, Some(b' ' | b'\t' | b'\n' | b'\r' | b'S')) => return None,
            b'0'..=b'9' => self.quantity()?,
            b'-' if second.is_some_and(|byte| byte.is_ascii_digit()) => self.quantity()?,
            _ => self.reference()?,
        };
        Some(Expr { node, span: self.reader.span(start, self.at) })
    }

    /// Expressions with commas between them, up to the bracket.
    fn row(&mut self, end: &str) -> Option<Vec<Expr<'t>>> {
        let mut row = Vec::new();
        while !self.sign(end) {
            row.push(self.either()?);
            if !self.sign(",") {
                self.sign(end).then_some(())?;
                break;
            }
            // A list may have a comma at its end, arguments may not.
            if end == ")" && self.sign(end) {
                return None;
            }
        }
        Some(row)
    }

    /// A number with what follows it: `150 mm`, `40 %`, `4:12`, `8 ft 6 in`, `3-1/2 in`.
    fn quantity(&mut self) -> Option<Node<'t>> {
        let start = self.at;
        self.number()?;
        match self.byte() {
            Some(b'%') => self.at += 1,
            Some(b':') => {
                self.at += 1;
                self.number()?;
            }
            _ => {
                let end = self.at;
                if !(self.gap() && self.unit()) {
                    self.at = end;
                }
            }
        }
        self.reader.plain_quantity(&self.text[start..self.at])
    }

    fn number(&mut self) -> Option<()> {
        let digits = |quick: &mut Self| quick.while_byte(|byte| byte.is_ascii_digit());
        self.at += usize::from(self.byte() == Some(b'-'));
        digits(self).then_some(())?;
        let end = self.at;
        if self.byte() == Some(b'.') {
            self.at += 1;
        } else {
            if self.byte() == Some(b'-') {
                self.at += 1;
                digits(self);
            }
            if self.byte() != Some(b'/') {
                self.at = end;
                return Some(());
            }
            self.at += 1;
        }
        if !digits(self) {
            self.at = end;
        }
        Some(())
    }

    fn unit(&mut self) -> bool {
        let start = self.at;
        if self.byte() == Some(b'%') {
            self.at += 1;
            return true;
        }
        let fits = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'.' | b'/');
        if !self.byte().is_some_and(|byte| byte.is_ascii_alphabetic()) {
            return false;
        }
        let joins = ["and", "or", "not"].into_iter().any(|word| {
            let found = self.word(word);
            self.at = start;
            found
        });
        if joins {
            return false;
        }
        self.while_byte(fits);
        if &self.text[start..self.at] == "ft" {
            let end = self.at;
            let inches = self.gap() && self.number().is_some() && self.gap() && self.word("in");
            if !inches {
                self.at = end;
            }
        }
        true
    }

    /// A name, names with dots between them, or a name with arguments.
    fn reference(&mut self) -> Option<Node<'t>> {
        let first = self.name()?;
        if self.byte() == Some(b'(') {
            self.at += 1;
            return Some(Node::Call { name: first, arguments: self.row(")")? });
        }
        let mut path = vec![first];
        while self.byte() == Some(b'.') {
            self.at += 1;
            path.push(self.name()?);
        }
        Some(Node::Path(path))
    }

    fn name(&mut self) -> Option<(&'t str, crate::text::Span)> {
        let start = self.at;
        self.byte().filter(u8::is_ascii_alphabetic)?;
        self.while_byte(in_name);
        let name = &self.text[start..self.at];
        let plain = !matches!(name, "and" | "or" | "not" | "in") && self.byte().is_none_or(|byte| byte.is_ascii());
        plain.then(|| (name, self.reader.span(start, self.at)))
    }
}

/// Letters beyond ASCII are left to the grammar.
fn in_name(byte: u8) -> bool {
    byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_')
}
