//! Conditions that several rules ask of one thing alike (`over.kind == sheet`, `shingled`), found out once for each thing.
//! Where rules ask one field for different words, one look at the field answers all of them.

use std::cell::Cell;
use std::sync::Arc;

use crate::facts::vocabulary::Field;
use crate::model::Name;
use crate::rules::expression::{Code, Literal};

/// No more conditions than this are shared within a kind.
const MOST: usize = 64;

/// What is known already of one thing: a bit for each shared condition.
#[derive(Default)]
pub struct Memo {
    known: Cell<u64>,
    yes: Cell<u64>,
}

impl Memo {
    pub fn get(&self, condition: u8) -> Option<bool> {
        let bit = 1 << condition;
        (self.known.get() & bit != 0).then(|| self.yes.get() & bit != 0)
    }

    /// Whether one of these conditions, a bit for each, is known to be false.
    pub fn denies(&self, conditions: u64) -> bool {
        self.known.get() & !self.yes.get() & conditions != 0
    }

    /// Of these conditions, a bit for each, the ones in `yes` are true.
    pub fn put(&self, conditions: u64, yes: u64) {
        self.known.set(self.known.get() | conditions);
        self.yes.set(self.yes.get() | yes);
    }
}

/// All shared conditions on the word of one field.
#[derive(PartialEq)]
pub struct Words {
    pub path: Box<[&'static Field]>,
    /// A bit for each condition.
    pub conditions: u64,
    /// The conditions that are true when the field is this word.
    answers: Vec<(Name, u64)>,
    /// Those that are true for every other word.
    otherwise: u64,
}

impl Words {
    /// The conditions that are true when the field is this word.
    pub fn answer(&self, word: &str) -> u64 {
        self.answers.iter().find(|(known, _)| **known == *word).map_or(self.otherwise, |(_, yes)| *yes)
    }
}

/// Marks the parts that several of the conditions of one kind have in common, and those that ask one field for words.
/// Parts that hold a constant are left alone: every rule has its own.
pub fn share(conditions: &mut [&mut Code]) {
    let numbers = numbers(&conditions.iter().flat_map(|code| parts(code)).collect::<Vec<_>>());
    for (part, number) in conditions.iter_mut().flat_map(|code| parts_mut(code)).zip(numbers) {
        *part = match (number, std::mem::replace(part, Code::Own(0))) {
            (None, alone) => alone,
            (Some((number, None)), inner) => Code::Shared(number, Box::new(inner)),
            (Some((number, Some(words))), _) => Code::Asks(number, words),
        };
    }
}

/// For each part its number, and what answers it together with others.
fn numbers(all: &[&Code]) -> Vec<Option<(u8, Option<Arc<Words>>)>> {
    let asked: Vec<Option<Asked<'_>>> = all.iter().map(|part| Asked::of(part)).collect();
    let mut firsts: Vec<usize> = Vec::new();
    let mut number = |at: usize| {
        if let Some(known) = firsts.iter().position(|first| all[*first] == all[at]) {
            return Some(known);
        }
        let of_one_field =
            |a: usize, b: usize| matches!((&asked[a], &asked[b]), (Some(a), Some(b)) if a.path == b.path);
        let again = |other: usize| other != at && (all[other] == all[at] || of_one_field(other, at));
        let wanted = firsts.len() < MOST && !all[at].holds_constant() && (0..all.len()).any(again);
        wanted.then(|| {
            firsts.push(at);
            firsts.len() - 1
        })
    };
    let numbers: Vec<Option<usize>> = (0..all.len()).map(&mut number).collect();
    let mut words: Vec<Arc<Words>> = Vec::new();
    let mut together = |asked_here: &Asked<'_>| {
        if let Some(known) = words.iter().find(|words| *words.path == *asked_here.path) {
            return known.clone();
        }
        let of_field = firsts.iter().enumerate().filter_map(|(number, first)| Some((number, asked[*first].as_ref()?)));
        let of_field: Vec<_> = of_field.filter(|(_, asked)| asked.path == asked_here.path).collect();
        let made = Arc::new(Words::of(asked_here.path, &of_field));
        words.push(made.clone());
        made
    };
    numbers.iter().zip(&asked).map(|(n, asked)| Some(((*n)? as u8, asked.as_ref().map(&mut together)))).collect()
}

/// A condition that hangs on nothing but the word of a field.
struct Asked<'c> {
    path: &'c [&'static Field],
    words: Vec<&'c Name>,
    /// True for all but these words.
    not: bool,
}

impl<'c> Asked<'c> {
    fn of(code: &'c Code) -> Option<Asked<'c>> {
        match code {
            Code::Is { depth: 0, path, word } => Some(Asked { path, words: vec![word], not: false }),
            Code::Not(inner) => Asked::of(inner).map(|asked| Asked { not: !asked.not, ..asked }),
            Code::Among(sides) => {
                let (Code::Field { depth: 0, path }, Code::List(elements)) = (&sides[0], &sides[1]) else {
                    return None;
                };
                let word = |element: &'c Code| {
                    if let Code::Literal(Literal::Word(word)) = element { Some(word) } else { None }
                };
                Some(Asked { path, words: elements.iter().map(word).collect::<Option<_>>()?, not: false })
            }
            _ => None,
        }
    }
}

impl Words {
    /// From the conditions on this field, with their numbers.
    fn of(path: &[&'static Field], asked: &[(usize, &Asked<'_>)]) -> Words {
        let true_of = |holds: &dyn Fn(&Asked<'_>) -> bool| {
            asked.iter().filter(|(_, asked)| holds(asked)).fold(0, |all, (number, _)| all | 1 << number)
        };
        let mut answers: Vec<(Name, u64)> = Vec::new();
        for word in asked.iter().flat_map(|(_, asked)| &asked.words) {
            if answers.iter().all(|(known, _)| known != *word) {
                answers.push(((*word).clone(), true_of(&|asked| asked.words.contains(word) != asked.not)));
            }
        }
        Words { path: path.into(), conditions: true_of(&|_| true), answers, otherwise: true_of(&|asked| asked.not) }
    }
}

/// The shared conditions that all have to be true for a condition to be true, a bit for each.
pub fn shared(code: &Code) -> u64 {
    let bit = |part: &Code| if let Code::Shared(number, _) | Code::Asks(number, _) = part { 1 << number } else { 0 };
    parts(code).iter().map(bit).fold(0, |all, bit| all | bit)
}

fn parts(code: &Code) -> &[Code] {
    match code {
        Code::And(parts) => parts,
        one => std::slice::from_ref(one),
    }
}

fn parts_mut(code: &mut Code) -> &mut [Code] {
    match code {
        Code::And(parts) => parts,
        one => std::slice::from_mut(one),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::vocabulary::{Kind, field};

    fn path(name: &str) -> Box<[&'static Field]> {
        [field(Kind::Piece, name).unwrap()].into()
    }

    fn is(name: &str, word: &str) -> Code {
        Code::Is { depth: 0, path: path(name), word: word.into() }
    }

    fn among(name: &str, words: &[&str]) -> Code {
        let field = Code::Field { depth: 0, path: path(name) };
        let words = words.iter().map(|word| Code::Literal(Literal::Word((*word).into())));
        Code::Among(Box::new([field, Code::List(words.collect())]))
    }

    #[test]
    fn one_look_at_a_field_answers_every_condition_on_its_word() {
        let not = |code| Code::Not(Box::new(code));
        let mut codes =
            [is("kind", "tape"), among("kind", &["sheet", "tape"]), not(is("kind", "board")), is("role", "pan")];
        share(&mut codes.iter_mut().collect::<Vec<_>>());
        let [Code::Asks(0, words), Code::Asks(1, _), Code::Asks(2, _), Code::Is { .. }] = &codes else {
            panic!("three ask for the kind, and the role is asked once only");
        };
        assert_eq!(words.conditions, 0b111);
        let answers = ["tape", "sheet", "board", "flashing"].map(|word| words.answer(word));
        assert_eq!(answers, [0b111, 0b110, 0b000, 0b100]);
        assert_eq!(codes.each_ref().map(shared), [0b001, 0b010, 0b100, 0]);
    }

    #[test]
    fn a_condition_is_denied_once_it_is_known_to_be_false() {
        let memo = Memo::default();
        assert!(!memo.denies(0b111), "nothing is known yet");
        memo.put(0b011, 0b001);
        assert_eq!([0, 1, 2].map(|condition| memo.get(condition)), [Some(true), Some(false), None]);
        assert_eq!([0b001, 0b010, 0b101].map(|conditions| memo.denies(conditions)), [false, true, false]);
    }
}
