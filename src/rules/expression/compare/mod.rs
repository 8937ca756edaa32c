//! Types of operations with two sides or with arguments: comparisons, `in`, arithmetic, calls.

mod call;

use crate::model::Name;
use crate::quantity::Dimension;
use crate::rules::expression::check::{Typed, bare};
use crate::rules::expression::code::Arithmetic;
use crate::rules::expression::{Code, ExprType, Message, TypeChecker, Verb, WordsOf};
use crate::rules::written::{Comparison, Expr, Literal, Node, Operation};
use crate::text::Span;

impl TypeChecker<'_> {
    pub fn compare(&mut self, comparison: Comparison, sides: &[Expr<'_>; 2], span: Span) -> Typed {
        let ((left, left_type), (right, right_type)) = self.sides(sides)?;
        let pair = [left, right];
        if let (ExprType::Quantity(a), ExprType::Quantity(b)) = (left_type, right_type) {
            if !comparable(a, b) {
                return self.mismatch(sides, [left_type, right_type], span, Verb::Compare);
            }
            return Some((Code::Compare(comparison, Box::new(pair)), ExprType::YesNo));
        }
        let equal = match (left_type, right_type) {
            (ExprType::Word(a), ExprType::Word(b)) => self.same_list(a, b, &pair, sides)?,
            (ExprType::Text, ExprType::Text | ExprType::Word(WordsOf::Free))
            | (ExprType::Word(WordsOf::Free), ExprType::Text) => true,
            (ExprType::YesNo, ExprType::YesNo) => true,
            (ExprType::Fact(a), ExprType::Fact(b)) => a == b,
            _ => false,
        };
        if !equal {
            return self.mismatch(sides, [left_type, right_type], span, Verb::Compare);
        }
        match comparison {
            Comparison::Equal => Some((Code::equal(pair), ExprType::YesNo)),
            Comparison::NotEqual => Some((Code::Not(Box::new(Code::equal(pair))), ExprType::YesNo)),
            comparison => self.refuse(span, Message::OrderOfOthers { comparison }),
        }
    }

    /// Both sides; a bare name takes its list of words from the other side.
    fn sides(&mut self, sides: &[Expr<'_>; 2]) -> Option<((Code, ExprType), (Code, ExprType))> {
        let [left, right] = sides;
        let right_first = bare(left).is_some_and(|(name, _)| !self.stands(name));
        if right_first && bare(right).is_none_or(|(name, _)| self.stands(name)) {
            let right = self.check(right)?;
            return Some((self.operand(left, Some(right.1))?, right));
        }
        let Some(left) = self.check(left) else {
            // The type of the left side is unknown, so a bare name on the right may be one of its words and is not reported.
            if bare(right).is_none() {
                self.check(right);
            }
            return None;
        };
        let right = self.operand(right, Some(left.1));
        Some((left, right?))
    }

    /// Whether two words can be equal at all; free words have to be in the other side's list.
    fn same_list(&mut self, a: WordsOf, b: WordsOf, codes: &[Code; 2], sides: &[Expr<'_>; 2]) -> Option<bool> {
        match (a, b) {
            (WordsOf::Free, list) => self.fits(&codes[0], &sides[0], list).then_some(true),
            (list, WordsOf::Free) => self.fits(&codes[1], &sides[1], list).then_some(true),
            (a, b) => Some(a == b || !a.closed() || !b.closed()),
        }
    }

    /// Checks the words of a literal or a constant against a list; false if one was refused.
    fn fits(&mut self, code: &Code, expr: &Expr<'_>, list: WordsOf) -> bool {
        let (words, span) = match code {
            Code::Literal(Literal::Word(word)) => (std::slice::from_ref(word), expr.span),
            Code::Constant(number) => {
                let constant = &mut self.constants[*number];
                constant.lists.push(list);
                match &constant.value {
                    Literal::Word(word) => (std::slice::from_ref(word), constant.span),
                    Literal::Words(words) => (&**words, constant.span),
                    _ => return true,
                }
            }
            _ => return true,
        };
        let strangers = words.iter().filter(|word| !list.has(word, self.words, self.tables));
        let strangers: Vec<Name> = strangers.cloned().collect();
        for word in &strangers {
            self.no_such_word::<()>(word, span, list);
        }
        strangers.is_empty()
    }

    pub fn among(&mut self, negated: bool, sides: &[Expr<'_>; 2], span: Span) -> Typed {
        let code = match &sides[1].node {
            Node::List(elements) => self.among_written(&sides[0], elements, span)?,
            _ => {
                let ((left, left_type), (right, right_type)) = self.sides(sides)?;
                let fits = match (left_type, right_type) {
                    (ExprType::Word(a), ExprType::Words(b)) => {
                        let codes = [left, right];
                        let fits = self.same_list(a, b, &codes, sides)?;
                        let [left, right] = codes;
                        (fits, left, right)
                    }
                    (ExprType::Quantity(a), ExprType::Quantities(b)) => (comparable(a, b), left, right),
                    (ExprType::Fact(a), ExprType::FactList(b)) => (a == b, left, right),
                    _ => (false, left, right),
                };
                let (true, left, right) = fits else {
                    return self.mismatch(sides, [left_type, right_type], span, Verb::Among);
                };
                Code::Among(Box::new([left, right]))
            }
        };
        Some((if negated { Code::Not(Box::new(code)) } else { code }, ExprType::YesNo))
    }

    fn among_written(&mut self, left: &Expr<'_>, elements: &[Expr<'_>], span: Span) -> Option<Code> {
        if elements.is_empty() {
            return self.refuse(span, Message::EmptyList);
        }
        let (code, left_type) = self.check(left)?;
        let mut list = Vec::new();
        for element in elements {
            let Some((element_code, element_type)) = self.operand(element, Some(left_type)) else { continue };
            let fits = match (left_type, element_type) {
                (ExprType::Word(_), ExprType::Word(WordsOf::Free)) | (ExprType::Text, ExprType::Word(_)) => {
                    match left_type {
                        ExprType::Word(words) => self.fits(&element_code, element, words),
                        _ => true,
                    }
                }
                (ExprType::Word(a), ExprType::Word(b)) => a == b || !a.closed() || !b.closed(),
                (ExprType::Quantity(a), ExprType::Quantity(b)) => comparable(a, b),
                (ExprType::Fact(a), ExprType::Fact(b)) => a == b,
                _ => false,
            };
            match fits {
                true => list.push(element_code),
                false if element_type == ExprType::Word(WordsOf::Free) && matches!(left_type, ExprType::Word(_)) => {}
                false => {
                    self.refuse::<()>(element.span, Message::UnlikeElement { left: left_type, element: element_type });
                }
            }
        }
        (list.len() == elements.len()).then(|| Code::Among(Box::new([code, Code::List(list.into())])))
    }

    pub fn arithmetic(&mut self, operation: Operation, sides: &[Expr<'_>; 2], span: Span) -> Typed {
        let (left, right) = (self.check(&sides[0]), self.check(&sides[1]));
        let ((left, left_type), (right, right_type)) = (left?, right?);
        let (verb, result) = match (left_type, right_type) {
            (ExprType::Quantity(a), ExprType::Quantity(b)) => {
                let result = match operation {
                    Operation::Plus => a.plus(b),
                    Operation::Minus => a.minus(b),
                    Operation::Times => a.times(b),
                    Operation::Over => a.over(b),
                };
                (Verb::Calculate(operation), result)
            }
            _ => (Verb::Use, None),
        };
        let Some(result) = result else {
            return self.mismatch(sides, [left_type, right_type], span, verb);
        };
        let right_unit = left.is_constant() && !right.is_constant();
        let code = Code::Arithmetic(Box::new(Arithmetic { operation, sides: [left, right], result, right_unit }));
        Some((code, ExprType::Quantity(result)))
    }

    /// Two sides that do not go together.
    fn mismatch<T>(&mut self, sides: &[Expr<'_>; 2], types: [ExprType; 2], span: Span, verb: Verb) -> Option<T> {
        let sides = [(types[0], sides[0].span), (types[1], sides[1].span)];
        self.refuse(span, Message::Mismatch { verb, sides })
    }
}

/// A slope and a percentage are both a rise over a run; everything else is compared with its own kind.
fn comparable(a: Dimension, b: Dimension) -> bool {
    let ratio = |d| matches!(d, Dimension::Slope | Dimension::Ratio);
    a == b || (ratio(a) && ratio(b))
}
