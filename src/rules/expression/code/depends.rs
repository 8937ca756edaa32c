//! What the value of an expression depends on: other statements of the detail, or things in outer scopes.

use super::Code;
use crate::facts::vocabulary::Dependence;

impl Code {
    /// Whether a condition could be true only because some statement could not be read. A size that was read and is too small
    /// stays too small, whatever the exceptions are.
    pub fn could_come_from_unread(&self) -> bool {
        match self {
            Code::Or(parts) => {
                let size = |part: &Code| matches!(part, Code::Compare(..)) && !part.depends_on_detail();
                !parts.iter().any(size) && parts.iter().any(Code::could_come_from_unread)
            }
            other => other.depends_on_detail(),
        }
    }

    /// Whether it depends on the rest of the detail, so that a statement that was not read could change it.
    pub fn depends_on_detail(&self) -> bool {
        let decides = |code: &Code| match code {
            Code::Is { path, word, .. } => path.iter().any(|field| match field.depends {
                Dependence::Never => false,
                Dependence::Always => true,
                Dependence::For(words) => words.contains(&&**word),
            }),
            Code::Field { path, .. } => path.iter().any(|field| field.depends != Dependence::Never),
            // `known` asks whether something is stated, such as weeps.
            Code::Known(_) => true,
            _ => false,
        };
        self.holds(&decides)
    }

    /// The same for the requirement itself, without its exceptions.
    pub fn rests_on_others(&self) -> bool {
        match self {
            Code::And(parts) => parts.iter().any(Code::rests_on_others),
            Code::Not(inner) => {
                !matches!(**inner, Code::And(_) | Code::Or(_) | Code::Known(_))
                    && !inner.searches()
                    && inner.depends_on_detail()
            }
            Code::Or(_) | Code::Known(_) => false,
            other => !other.searches() && other.depends_on_detail(),
        }
    }

    /// Whether it depends on a fact beyond the innermost `scopes` scopes. For a condition on the items of a list: whether it
    /// depends on anything besides the item.
    pub fn reaches_beyond(&self, scopes: usize) -> bool {
        let any = |codes: &[Code]| codes.iter().any(|code| code.reaches_beyond(scopes));
        let list = |sides: &[Code; 2]| sides[0].reaches_beyond(scopes) || sides[1].reaches_beyond(scopes + 1);
        match self {
            Code::Literal(_) | Code::Constant(_) => false,
            Code::Own(depth) | Code::Field { depth, .. } | Code::Is { depth, .. } => *depth > scopes,
            Code::Not(inner) | Code::Known(inner) => inner.reaches_beyond(scopes),
            Code::And(parts) | Code::Or(parts) => any(parts),
            Code::List(parts) => any(parts),
            Code::Compare(_, sides) | Code::Same(sides) | Code::Among(sides) => any(&**sides),
            Code::Least(sides) | Code::Greatest(sides) => any(&**sides),
            Code::Arithmetic(arithmetic) => any(&arithmetic.sides),
            Code::Any(sides) | Code::All(sides) => list(sides),
            Code::Count(of, condition) => {
                of.reaches_beyond(scopes) || condition.as_ref().is_some_and(|inner| inner.reaches_beyond(scopes + 1))
            }
            Code::Lookup { keys, .. } => any(keys),
        }
    }
}
