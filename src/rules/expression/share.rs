//! Conditions that several rules ask of one thing alike (`over.kind == sheet`, `shingled`), found out once for each thing.
//! Where rules ask for different words in one place, one look there answers all of them.

use std::cell::{Cell, RefCell};
use std::hash::{BuildHasher, Hash, Hasher};
use std::sync::Arc;

use foldhash::HashMap;
use foldhash::fast::FixedState;

use crate::facts::vocabulary::{Field, Type};
use crate::model::Name;
use crate::rules::expression::Code;
use crate::rules::written::Literal;

/// What a field that is true or not gives, as a word.
pub const YES: &str = "yes";
pub const NO: &str = "no";

/// No more conditions than this are shared within a kind.
const MOST: usize = 128;

/// What is known already of one thing: a bit for each shared condition.
#[derive(Default)]
pub struct Memo {
    known: Cell<u128>,
    yes: Cell<u128>,
}

impl Memo {
    pub fn get(&self, condition: u8) -> Option<bool> {
        let bit = 1 << condition;
        (self.known.get() & bit != 0).then(|| self.yes.get() & bit != 0)
    }

    /// Whether one of these conditions, a bit for each, is known to be false.
    pub fn denies(&self, conditions: u128) -> bool {
        self.known.get() & !self.yes.get() & conditions != 0
    }

    /// Goes on to another thing, for which no more than these conditions are what they were.
    pub fn keep(&self, conditions: u128) {
        self.known.set(self.known.get() & conditions);
        self.yes.set(self.yes.get() & conditions);
    }

    /// Of these conditions, a bit for each, the ones in `yes` are true.
    pub fn put(&self, conditions: u128, yes: u128) {
        self.known.set(self.known.get() | conditions);
        self.yes.set(self.yes.get() | yes);
    }
}

/// All shared conditions on one word, or on one yes or no.
#[derive(PartialEq)]
pub struct Words {
    /// What gives it: a field, or a lookup.
    pub subject: Code,
    /// A bit for each condition.
    pub conditions: u128,
    /// The conditions that are true for this word.
    answers: Vec<(Name, u128)>,
    /// Those that are true for every other word.
    otherwise: u128,
    /// Each condition by itself.
    alone: Vec<(u8, Code)>,
}

impl Words {
    /// The condition of this number, as it was before others were answered with it.
    pub fn alone(&self, number: u8) -> &Code {
        let same = self.alone.iter().find(|(known, _)| *known == number);
        same.map_or(&self.subject, |(_, condition)| condition)
    }

    /// The conditions that are true for this word.
    pub fn answer(&self, word: &str) -> u128 {
        self.answers.iter().find(|(known, _)| **known == *word).map_or(self.otherwise, |(_, yes)| *yes)
    }
}

/// Marks the parts that several of the conditions of one kind have in common, those that ask for words in one place, and
/// those on the detail alone. Gives the last, a bit for each: what is known of a detail holds for all that lies in it.
/// Parts that hold a constant are left alone: every rule has its own.
pub fn share(conditions: &mut [&mut Code]) -> u128 {
    let mut all: Vec<&Code> = Vec::new();
    conditions.iter().flat_map(|code| parts(code)).for_each(|part| gather(part, &mut all));
    let numbers = numbers(&all);
    let of_detail = all.iter().zip(&numbers).filter(|(part, _)| part.is_of_detail());
    let of_detail = of_detail.filter_map(|(_, number)| number.as_ref()).fold(0, |bits, (number, _)| bits | 1 << number);
    let mut numbers = numbers.into_iter();
    conditions.iter_mut().flat_map(|code| parts_mut(code)).for_each(|part| mark_all(part, &mut numbers));
    of_detail
}

/// A part, and after it the conditions that it is put together from with `and`, `or` and `not`.
fn gather<'c>(part: &'c Code, into: &mut Vec<&'c Code>) {
    into.push(part);
    let mut whole = part;
    while let Code::Not(inner) = whole {
        whole = inner;
    }
    if let Code::And(parts) | Code::Or(parts) = whole {
        parts.iter().for_each(|part| gather(part, into));
    }
}

/// Marks them in the same order. A mark hides nothing that would have to be marked in its turn.
fn mark_all(part: &mut Code, numbers: &mut dyn Iterator<Item = Option<Number>>) {
    mark(part, numbers.next().flatten());
    let mut whole = part;
    while let Code::Not(inner) | Code::Shared(_, inner) = whole {
        whole = inner;
    }
    if let Code::And(parts) | Code::Or(parts) = whole {
        parts.iter_mut().for_each(|part| mark_all(part, numbers));
    }
}

/// The number of a shared condition, and what answers it together with others.
type Number = (u8, Option<Arc<Words>>);

fn mark(part: &mut Code, number: Option<Number>) {
    *part = match (number, std::mem::replace(part, Code::Own(0))) {
        (None, alone) => alone,
        (Some((number, None)), inner) => Code::Shared(number, Box::new(inner)),
        (Some((number, Some(words))), _) => Code::Asks(number, words),
    };
}

/// For each part its number, and what answers it together with others.
fn numbers(all: &[&Code]) -> Vec<Option<Number>> {
    let asked: Vec<Option<Asked<'_>>> = all.iter().map(|code| Asked::of(code)).collect();
    let (parts, subjects) =
        (Alike::of(all.iter().map(|code| Some(*code))), Alike::of(asked.iter().map(|a| Some(&a.as_ref()?.subject))));
    let mut firsts: Vec<usize> = Vec::new();
    let mut number = |at: usize| {
        if let Some(known) = firsts.iter().position(|first| parts.same(*first, at)) {
            return Some(known);
        }
        let often = all[at].is_of_detail() || parts.again(at) || subjects.again(at);
        let wanted = firsts.len() < MOST && !all[at].holds_constant() && often;
        wanted.then(|| {
            firsts.push(at);
            firsts.len() - 1
        })
    };
    let numbers: Vec<Option<usize>> = (0..all.len()).map(&mut number).collect();
    let numbered = firsts.iter().enumerate().filter_map(|(number, first)| Some((number, asked[*first].as_ref()?)));
    let mut together = together(numbered.collect());
    numbers.iter().zip(&asked).map(|(n, asked)| Some(((*n)? as u8, asked.as_ref().map(&mut together)))).collect()
}

/// What answers a condition together with all that hang on the same word.
fn together<'c>(numbered: Vec<(usize, &'c Asked<'c>)>) -> impl FnMut(&Asked<'_>) -> Arc<Words> {
    let mut words: Vec<Arc<Words>> = Vec::new();
    move |asked_here| {
        if let Some(known) = words.iter().find(|words| words.subject == asked_here.subject) {
            return known.clone();
        }
        let of_word = numbered.iter().filter(|(_, asked)| asked.subject == asked_here.subject);
        let made = Arc::new(Words::of(&asked_here.subject, &of_word.copied().collect::<Vec<_>>()));
        words.push(made.clone());
        made
    }
}

/// The same for conditions that have their numbers already: their places. Also gives those on the detail alone, a bit for each.
pub fn numbered(conditions: Vec<Code>) -> (Vec<Code>, u128) {
    let of_detail = conditions.iter().enumerate().filter(|(_, condition)| condition.is_of_detail());
    let of_detail = of_detail.fold(0, |bits, (number, _)| bits | 1 << number);
    let words: Vec<Option<Arc<Words>>> = {
        let asked: Vec<Option<Asked<'_>>> = conditions.iter().map(Asked::of).collect();
        let numbered = asked.iter().enumerate().filter_map(|(number, asked)| Some((number, asked.as_ref()?)));
        let mut together = together(numbered.collect());
        asked.iter().map(|asked| asked.as_ref().map(&mut together)).collect()
    };
    let marked = conditions.into_iter().zip(words).enumerate().map(|(number, (condition, words))| match words {
        Some(words) => Code::Asks(number as u8, words),
        None => Code::Shared(number as u8, Box::new(condition)),
    });
    (marked.collect(), of_detail)
}

/// Which of many expressions are the same: thousands are held against each other whenever the program starts.
struct Alike<'c> {
    all: Vec<Option<(u64, &'c Code)>>,
    by_print: HashMap<u64, Vec<usize>>,
}

impl<'c> Alike<'c> {
    fn of(codes: impl Iterator<Item = Option<&'c Code>>) -> Alike<'c> {
        let all: Vec<_> = codes.map(|code| code.map(|code| (print(code), code))).collect();
        let mut by_print: HashMap<u64, Vec<usize>> = HashMap::default();
        for (at, code) in all.iter().enumerate() {
            if let Some((print, _)) = code {
                by_print.entry(*print).or_default().push(at);
            }
        }
        Alike { all, by_print }
    }

    fn same(&self, a: usize, b: usize) -> bool {
        self.all[a].is_some() && self.all[a] == self.all[b]
    }

    /// Whether another is the same.
    fn again(&self, at: usize) -> bool {
        let alike = self.all[at].and_then(|(print, _)| self.by_print.get(&print));
        alike.is_some_and(|alike| alike.iter().any(|other| *other != at && self.same(*other, at)))
    }
}

/// The same for the same expression, and mostly for no other.
fn print(code: &Code) -> u64 {
    let hasher = RefCell::new(FixedState::default().build_hasher());
    let add = |part: &Code| {
        let mut hasher = hasher.borrow_mut();
        let mut path_of = |depth: &usize, path: &[&'static Field]| {
            depth.hash(&mut *hasher);
            path.iter().for_each(|field| field.name.hash(&mut *hasher));
        };
        match part {
            Code::Field { depth, path } => path_of(depth, path),
            Code::Is { depth, path, word } => {
                path_of(depth, path);
                word.hash(&mut *hasher);
            }
            Code::Literal(Literal::Word(word)) => word.hash(&mut *hasher),
            Code::Literal(Literal::Quantity(quantity)) => quantity.si.to_bits().hash(&mut *hasher),
            other => std::mem::discriminant(other).hash(&mut *hasher),
        }
        false
    };
    code.holds(&add);
    hasher.into_inner().finish()
}

/// A condition that hangs on nothing but one word, or one yes or no.
struct Asked<'c> {
    code: &'c Code,
    /// What gives it.
    subject: Code,
    words: Vec<&'c str>,
    /// True for all but these words.
    not: bool,
}

impl<'c> Asked<'c> {
    fn of(code: &'c Code) -> Option<Asked<'c>> {
        match code {
            Code::Is { depth, path, word } => {
                let subject = Code::Field { depth: *depth, path: path.clone() };
                Some(Asked { code, subject, words: vec![word], not: false })
            }
            Code::Field { path, .. } if path.last().is_some_and(|field| field.of == Type::YesNo) => {
                Some(Asked { code, subject: code.clone(), words: vec![YES], not: false })
            }
            Code::Not(inner) => Asked::of(inner).map(|asked| Asked { code, not: !asked.not, ..asked }),
            Code::Same(sides) | Code::Among(sides) => {
                let (subject @ (Code::Field { .. } | Code::Lookup { .. }), wanted) = (&sides[0], &sides[1]) else {
                    return None;
                };
                let elements = if let Code::List(elements) = wanted { elements } else { std::slice::from_ref(wanted) };
                let word = |element: &'c Code| {
                    if let Code::Literal(Literal::Word(word)) = element { Some(&**word) } else { None }
                };
                let words = elements.iter().map(word).collect::<Option<_>>()?;
                Some(Asked { code, subject: subject.clone(), words, not: false })
            }
            _ => None,
        }
    }
}

impl Words {
    /// From the conditions on this word, with their numbers.
    fn of(subject: &Code, asked: &[(usize, &Asked<'_>)]) -> Words {
        let true_of = |holds: &dyn Fn(&Asked<'_>) -> bool| {
            asked.iter().filter(|(_, asked)| holds(asked)).fold(0, |all, (number, _)| all | 1 << number)
        };
        let mut answers: Vec<(Name, u128)> = Vec::new();
        for word in asked.iter().flat_map(|(_, asked)| &asked.words) {
            if answers.iter().all(|(known, _)| **known != **word) {
                answers.push(((*word).into(), true_of(&|asked| asked.words.contains(word) != asked.not)));
            }
        }
        let (conditions, otherwise) = (true_of(&|_| true), true_of(&|asked| asked.not));
        let alone = asked.iter().map(|(number, asked)| (*number as u8, asked.code.clone())).collect();
        Words { subject: subject.clone(), conditions, answers, otherwise, alone }
    }
}

/// The shared conditions that all have to be true for a condition to be true, a bit for each.
pub fn shared(code: &Code) -> u128 {
    let bit = |part: &Code| if let Code::Shared(number, _) | Code::Asks(number, _) = part { 1 << number } else { 0 };
    parts(code).iter().map(bit).fold(0, |all, bit| all | bit)
}

/// What has to be true for a condition to be true.
pub fn parts(code: &Code) -> &[Code] {
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
    use crate::facts::vocabulary::{Field, Kind, field};

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
    fn what_hangs_on_the_detail_alone_is_shared_however_few_ask_it() {
        let detail = |name: &str| [path("detail")[0], field(Kind::Detail, name).unwrap()].into();
        let known = |path| Code::Known(Box::new(Code::Field { depth: 0, path }));
        let mut codes =
            [known(path("slope")), known(detail("installed-at")), known(detail("grade")), is("role", "pan")];
        assert_eq!(share(&mut codes.iter_mut().collect::<Vec<_>>()), 0b11);
        assert!(matches!(codes, [Code::Known(_), Code::Shared(0, _), Code::Shared(1, _), Code::Is { .. }]));
    }

    #[test]
    fn no_more_are_shared_than_there_are_bits() {
        let wide = |n: usize| Code::Known(Box::new(among("role", &[&format!("role-{n}")])));
        let mut codes: Vec<Code> = (0..=MOST).flat_map(|n| [wide(n), wide(n)]).collect();
        share(&mut codes.iter_mut().collect::<Vec<_>>());
        let (last, before) = (&codes[2 * MOST..], &codes[..2 * MOST]);
        assert!(last.iter().all(|code| matches!(code, Code::Known(_))));
        assert!(before.iter().enumerate().all(|(at, code)| shared(code) == 1 << (at / 2)));
    }

    #[test]
    fn what_compares_the_thing_with_others_in_its_detail_hangs_on_the_thing() {
        let pieces =
            || Code::Field { depth: 0, path: [path("detail")[0], field(Kind::Detail, "pieces").unwrap()].into() };
        let is_it = || Code::Same(Box::new([Code::Own(0), Code::Own(1)]));
        for code in [
            Code::Among(Box::new([Code::Own(0), pieces()])),
            Code::Any(Box::new([pieces(), is_it()])),
            Code::All(Box::new([pieces(), is_it()])),
        ] {
            assert!(!code.is_of_detail());
        }
    }

    #[test]
    fn what_stands_within_alternatives_is_shared_too() {
        let known = |name| Code::Known(Box::new(Code::Field { depth: 0, path: path(name) }));
        let either = |parts: [Code; 2]| Code::Or(parts.into());
        let mut codes = [
            Code::Not(Box::new(either([is("kind", "tape"), known("slope")]))),
            either([Code::And([is("kind", "board"), known("clearance")].into()), known("slope")]),
        ];
        share(&mut codes.iter_mut().collect::<Vec<_>>());
        let [Code::Not(first), Code::Or(second)] = &codes else { panic!("neither is asked twice") };
        let (Code::Or(first), Code::And(nested)) = (&**first, &second[0]) else { panic!("nor is what holds the rest") };
        assert!(matches!((&first[0], &nested[0]), (Code::Asks(..), Code::Asks(..))), "both ask for the kind");
        assert!(matches!((&first[1], &second[1]), (Code::Shared(a, _), Code::Shared(b, _)) if a == b));
        assert!(matches!(nested[1], Code::Known(_)), "asked once only");
    }

    #[test]
    fn of_another_thing_only_what_is_kept_is_known() {
        let memo = Memo::default();
        memo.put(0b111, 0b101);
        memo.keep(0b011);
        assert_eq!([0, 1, 2].map(|condition| memo.get(condition)), [Some(true), Some(false), None]);
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
