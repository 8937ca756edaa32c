//! Which expressions are the same.

use std::hash::{BuildHasher, Hash, Hasher};
use std::mem::discriminant;

use foldhash::HashMap;
use foldhash::fast::FixedState;

use crate::facts::vocabulary::Field;
use crate::rules::expression::Code;
use crate::rules::written::Literal;

/// Which of many expressions are the same: thousands are held against each other whenever the program starts.
pub struct Alike<'c> {
    all: Vec<Option<(u64, &'c Code)>>,
    by_print: HashMap<u64, Vec<usize>>,
}

impl<'c> Alike<'c> {
    pub fn of(codes: impl Iterator<Item = Option<&'c Code>>) -> Alike<'c> {
        let all: Vec<_> = codes.map(|code| code.map(|code| (print(code), code))).collect();
        let mut by_print: HashMap<u64, Vec<usize>> = HashMap::default();
        for (at, code) in all.iter().enumerate() {
            if let Some((print, _)) = code {
                by_print.entry(*print).or_default().push(at);
            }
        }
        Alike { all, by_print }
    }

    pub fn same(&self, a: usize, b: usize) -> bool {
        self.all[a].is_some() && self.all[a] == self.all[b]
    }

    /// Whether another is the same.
    pub fn again(&self, at: usize) -> bool {
        let alike = self.all[at].and_then(|(print, _)| self.by_print.get(&print));
        alike.is_some_and(|alike| alike.iter().any(|other| *other != at && self.same(*other, at)))
    }
}

/// The same for the same expression, and mostly for no other.
fn print(code: &Code) -> u64 {
    let mut hasher = FixedState::default().build_hasher();
    add(code, &mut hasher);
    hasher.finish()
}

fn add(code: &Code, hasher: &mut impl Hasher) {
    discriminant(code).hash(hasher);
    match code {
        Code::Literal(literal) => add_literal(literal, hasher),
        Code::Constant(number) | Code::Own(number) => number.hash(hasher),
        Code::Field { depth, path } => add_path(*depth, path, hasher),
        Code::Is { depth, path, word } => {
            add_path(*depth, path, hasher);
            word.hash(hasher);
        }
        Code::Not(inner) | Code::Known(inner) => add(inner, hasher),
        Code::And(parts) | Code::Or(parts) => add_all(parts, hasher),
        Code::List(parts) => add_all(parts, hasher),
        Code::Compare(_, sides) => add_all(&**sides, hasher),
        Code::Same(sides) | Code::Among(sides) | Code::Any(sides) | Code::All(sides) => add_all(&**sides, hasher),
        Code::Least(sides) | Code::Greatest(sides) => add_all(&**sides, hasher),
        Code::Arithmetic(arithmetic) => add_all(&arithmetic.sides, hasher),
        Code::Count(list, condition) => {
            add(list, hasher);
            condition.iter().for_each(|condition| add(condition, hasher));
        }
        Code::Lookup { table, keys } => {
            table.hash(hasher);
            add_all(keys, hasher);
        }
        Code::Shared(number, _) | Code::Asks(number, _) => number.hash(hasher),
    }
}

fn add_all(codes: &[Code], hasher: &mut impl Hasher) {
    codes.iter().for_each(|code| add(code, hasher));
}

fn add_path(depth: usize, path: &[&'static Field], hasher: &mut impl Hasher) {
    depth.hash(hasher);
    path.iter().for_each(|field| field.name.hash(hasher));
}

fn add_literal(literal: &Literal, hasher: &mut impl Hasher) {
    match literal {
        Literal::YesNo(yes) => yes.hash(hasher),
        Literal::Quantity(quantity) => quantity.si.to_bits().hash(hasher),
        Literal::Word(word) => word.hash(hasher),
        Literal::Words(words) => words.hash(hasher),
        Literal::Quantities(quantities) => quantities.iter().for_each(|quantity| quantity.si.to_bits().hash(hasher)),
    }
}
