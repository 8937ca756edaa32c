//! Parses a text into an expression. A text that is not an expression gives one finding, at the word where it stops making
//! sense.

use pest::Parser;
use pest::error::{ErrorVariant, InputLocation};
use pest::iterators::{Pair, Pairs};

use crate::finding::Finding;
use crate::quantity::{UNITS, parse_quantity};
use crate::rules::written::message::Refusal;
use crate::rules::written::{Comparison, Expr, Message, Node, Operation, Quoted, Word};
use crate::text::Span;

#[derive(pest_derive::Parser)]
#[grammar = "../grammar/rule.pest"]
struct Grammar;

/// No rule needs more; a file that nests deeper is broken, and the parser would run out of stack on it.
const DEEPEST: usize = 40;
const LONGEST: usize = 20_000;

/// Reads an expression that is the whole of `quoted`, or, given a range, a part of it.
pub fn parse<'t>(quoted: &'t Quoted<'_>, part: std::ops::Range<usize>) -> Result<Expr<'t>, Refusal> {
    let reader = ExpressionParser { quoted, start: part.start };
    let text = &quoted.text[part];
    if text.trim().is_empty() {
        return Message::NoExpression.refuse(reader.span(0, text.len()));
    }
    reader.refuse_size(text)?;
    reader.by_grammar(text)
}

/// Operands and the operators between them, in written order.
type Operands<'t> = std::iter::Peekable<Pairs<'t, Rule>>;

fn goes_on(row: &mut Operands<'_>, word: Rule) -> bool {
    row.peek().is_some_and(|part| part.as_rule() == word)
}

struct ExpressionParser<'t, 's> {
    quoted: &'t Quoted<'s>,
    /// Where the expression begins within the quoted text.
    start: usize,
}

impl<'t> ExpressionParser<'t, '_> {
    fn span(&self, from: usize, to: usize) -> Span {
        self.quoted.span(self.start + from, self.start + to)
    }

    fn by_grammar(&self, text: &'t str) -> Result<Expr<'t>, Refusal> {
        let pair = Grammar::parse(Rule::expression, text)
            .map_err(|error| Box::new(self.explain(text, error)))?
            .next()
            .and_then(|whole| whole.into_inner().next())
            .expect("the grammar gives one expression");
        self.expr(pair)
    }

    fn place(&self, pair: &Pair<'_, Rule>) -> Span {
        let span = pair.as_span();
        self.span(span.start(), span.end())
    }

    fn refuse_size(&self, text: &str) -> Result<(), Refusal> {
        let mut depth = 0_usize;
        for (at, c) in text.char_indices() {
            match c {
                '(' | '[' => depth += 1,
                ')' | ']' => depth = depth.saturating_sub(1),
                _ => {}
            }
            if depth > DEEPEST {
                return Message::TooDeep.refuse(self.span(at, at + 1));
            }
        }
        if text.len() > LONGEST {
            return Message::TooLong.refuse(self.span(0, 0));
        }
        Ok(())
    }

    fn expr(&self, pair: Pair<'t, Rule>) -> Result<Expr<'t>, Refusal> {
        let span = self.place(&pair);
        let node = match pair.as_rule() {
            Rule::either => return self.either(&mut pair.into_inner().peekable()),
            Rule::group => {
                let inner = pair.into_inner().next().expect("a group holds an expression");
                return Ok(Expr { span, ..self.expr(inner)? });
            }
            Rule::list => Node::List(pair.into_inner().map(|p| self.expr(p)).collect::<Result<_, _>>()?),
            Rule::quantity => self.quantity(&pair, span)?,
            Rule::text => {
                let text = pair.as_str();
                Node::Text(&text[1..text.len() - 1])
            }
            Rule::reference => self.reference(pair)?,
            other => unreachable!("{other:?} is no operand of the grammar"),
        };
        Ok(Expr { node, span })
    }

    /// Names joined by `.`, or a name with arguments.
    fn reference(&self, pair: Pair<'t, Rule>) -> Result<Node<'t>, Refusal> {
        let mut path = Vec::new();
        for part in pair.into_inner() {
            if part.as_rule() == Rule::arguments {
                let arguments = part.into_inner().map(|p| self.expr(p)).collect::<Result<_, _>>()?;
                return Ok(Node::Call { name: path.remove(0), arguments });
            }
            path.push(Word { text: part.as_str(), span: self.place(&part) });
        }
        Ok(Node::Path(path))
    }

    fn either(&self, row: &mut Operands<'t>) -> Result<Expr<'t>, Refusal> {
        self.chain(row, Rule::or, Node::Or, |row| self.chain(row, Rule::and, Node::And, |row| self.negation(row)))
    }

    /// Parts with the same word between them.
    fn chain(
        &self,
        row: &mut Operands<'t>,
        word: Rule,
        join: fn(Vec<Expr<'t>>) -> Node<'t>,
        part: impl Fn(&mut Operands<'t>) -> Result<Expr<'t>, Refusal>,
    ) -> Result<Expr<'t>, Refusal> {
        let first = part(row)?;
        if !goes_on(row, word) {
            return Ok(first);
        }
        let mut parts = vec![first];
        while goes_on(row, word) {
            row.next();
            parts.push(part(row)?);
        }
        let span = parts[0].span.to(parts[parts.len() - 1].span);
        Ok(Expr { node: join(parts), span })
    }

    fn negation(&self, row: &mut Operands<'t>) -> Result<Expr<'t>, Refusal> {
        let (mut nots, mut start) = (0, None);
        while let Some(not) = row.next_if(|part| part.as_rule() == Rule::not) {
            nots += 1;
            start.get_or_insert(self.place(&not));
        }
        let body = self.comparison(row)?;
        match start.filter(|_| nots % 2 == 1) {
            Some(start) => Ok(Expr { span: start.to(body.span), node: Node::Not(Box::new(body)) }),
            None => Ok(body),
        }
    }

    fn comparison(&self, row: &mut Operands<'t>) -> Result<Expr<'t>, Refusal> {
        let left = self.sum(row)?;
        let Some(operator) = row.next_if(|part| part.as_rule() == Rule::operator) else { return Ok(left) };
        let right = self.sum(row)?;
        if let Some(second) = row.peek().filter(|part| part.as_rule() == Rule::operator) {
            return Message::TwoComparisons.refuse(self.place(second));
        }
        let span = left.span.to(right.span);
        let sides = Box::new([left, right]);
        let node = match Comparison::from_symbol(operator.as_str()) {
            Some(comparison) => Node::Compare(comparison, sides),
            None => Node::In { negated: operator.as_str().starts_with("not"), sides },
        };
        Ok(Expr { node, span })
    }

    fn sum(&self, row: &mut Operands<'t>) -> Result<Expr<'t>, Refusal> {
        self.arithmetic(row, Rule::sign, |row| self.arithmetic(row, Rule::scale, |row| self.operand(row)))
    }

    fn arithmetic(
        &self,
        row: &mut Operands<'t>,
        rank: Rule,
        part: impl Fn(&mut Operands<'t>) -> Result<Expr<'t>, Refusal>,
    ) -> Result<Expr<'t>, Refusal> {
        let mut left = part(row)?;
        let mut parts = 1;
        while let Some(sign) = row.next_if(|part| part.as_rule() == rank) {
            let right = part(row)?;
            parts += 1;
            if parts > DEEPEST {
                return Message::TooManyParts.refuse(right.span);
            }
            let operation = Operation::from_symbol(sign.as_str()).expect("the grammar knows four operations");
            let span = left.span.to(right.span);
            left = Expr { node: Node::Arithmetic(operation, Box::new([left, right])), span };
        }
        Ok(left)
    }

    fn operand(&self, row: &mut Operands<'t>) -> Result<Expr<'t>, Refusal> {
        self.expr(row.next().expect("in the grammar, an operand follows whatever joins two"))
    }

    fn quantity(&self, pair: &Pair<'t, Rule>, span: Span) -> Result<Node<'t>, Refusal> {
        let text = pair.as_str();
        match parse_quantity(text) {
            Ok(quantity) => Ok(Node::Quantity(quantity)),
            Err(error) => Message::NotAQuantity { text, error }.refuse(span),
        }
    }

    fn explain(&self, text: &str, error: pest::error::Error<Rule>) -> Finding {
        let at = match error.location {
            InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
        };
        let wants_value = match &error.variant {
            ErrorVariant::ParsingError { positives, .. } => positives.iter().any(|r| {
                !matches!(
                    r,
                    Rule::and | Rule::or | Rule::operator | Rule::sign | Rule::scale | Rule::arguments | Rule::EOI
                )
            }),
            ErrorVariant::CustomError { .. } => false,
        };
        let (from, to) = word_at(text, at);
        let word = &text[from..to];
        let message = match word {
            "" => Message::EndsEarly { wants_value },
            unit if UNITS.iter().any(|u| u.symbol == unit) && text[..from].ends_with(|c: char| c.is_ascii_digit()) => {
                Message::NoSpaceBeforeUnit
            }
            "=" => Message::SingleEquals,
            word => Message::Unexpected { word, wants_value },
        };
        message.at(self.span(from, to))
    }
}

/// The word or sign at a byte; an empty range at the end of the text.
fn word_at(text: &str, at: usize) -> (usize, usize) {
    let rest = &text[at..];
    let from = at + (rest.len() - rest.trim_start().len());
    let is_word = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | '.');
    let length = match text[from..].chars().next() {
        None => return (text.trim_end().len(), text.trim_end().len()),
        Some(c) if is_word(c) => text[from..].find(|c| !is_word(c)).unwrap_or(text.len() - from),
        Some(c) => c.len_utf8(),
    };
    (from, from + length)
}
