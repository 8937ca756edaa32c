//! The parts that `and` or `or` joins to a condition, and the order in which they are evaluated.

use std::ops::{Deref, DerefMut};

use crate::rules::expression::Code;

/// The parts as they are written. Any of them may settle the whole and the result does not depend on their order, so the
/// cheapest are evaluated first.
#[derive(Clone, PartialEq)]
pub struct Parts {
    written: Box<[Code]>,
    /// The indices of the parts in the order of evaluation; `None` for the order in which they are written.
    asked: Option<Box<[u8]>>,
}

impl Parts {
    pub fn in_order(&self) -> impl Iterator<Item = &Code> {
        let asked = self.asked.as_deref();
        (0..self.written.len()).map(move |at| &self.written[asked.map_or(at, |asked| usize::from(asked[at]))])
    }
}

/// The cost of a part, of which the lowest goes first. Searching a list costs most.
fn cost(part: &Code) -> u8 {
    match part {
        Code::Is { .. } | Code::Field { .. } => 0,
        Code::Not(inner) | Code::Known(inner) => cost(inner),
        part if part.searches() => 2,
        _ => 1,
    }
}

impl From<Box<[Code]>> for Parts {
    fn from(written: Box<[Code]>) -> Parts {
        let costs: Vec<u8> = written.iter().map(cost).collect();
        let asked = (!costs.is_sorted() && costs.len() <= usize::from(u8::MAX)).then(|| {
            let mut asked: Box<[u8]> = (0..costs.len() as u8).collect();
            asked.sort_by_key(|part| costs[usize::from(*part)]);
            asked
        });
        Parts { written, asked }
    }
}

impl FromIterator<Code> for Parts {
    fn from_iter<I: IntoIterator<Item = Code>>(parts: I) -> Parts {
        parts.into_iter().collect::<Box<[Code]>>().into()
    }
}

impl Deref for Parts {
    type Target = [Code];

    fn deref(&self) -> &[Code] {
        &self.written
    }
}

impl DerefMut for Parts {
    fn deref_mut(&mut self) -> &mut [Code] {
        &mut self.written
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::written::Literal;

    fn word(name: &str) -> Code {
        Code::Literal(Literal::Word(name.into()))
    }

    #[test]
    fn what_goes_through_a_list_is_asked_last() {
        let any = || Code::Not(Box::new(Code::Any(Box::new([word("list"), word("inner")]))));
        let parts: Parts = [any(), word("a"), any(), word("b")].into_iter().collect();
        let asked: Vec<bool> = parts.in_order().map(Code::searches).collect();
        assert_eq!(asked, [false, false, true, true]);
        assert!(parts[0].searches() && parts[1] == word("a"), "they stay as they are written");
        assert!(parts.in_order().next() == Some(&word("a")));
    }
}
