//! Conditions that several rules ask of one thing alike (`over.kind == sheet`, `shingled`), found out once for each thing.
//! Where rules ask for different words in one place, one look there answers all of them.

mod alike;
mod memo;
mod words;

pub use memo::ConditionCache;
pub use words::{NO, WordConditions, YES};

use std::sync::Arc;

use crate::rules::expression::Code;
use alike::Alike;
use words::Asked;

/// No more conditions than this are shared within a kind.
const MOST: usize = 128;

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

/// A part, and after it the conditions that it is put together from.
fn gather<'c>(part: &'c Code, into: &mut Vec<&'c Code>) {
    into.push(part);
    within(part).iter().for_each(|part| gather(part, into));
}

/// Marks them in the same order. A mark hides nothing that would have to be marked in its turn.
fn mark_all(part: &mut Code, numbers: &mut dyn Iterator<Item = Option<Number>>) {
    mark(part, numbers.next().flatten());
    within_mut(part).iter_mut().for_each(|part| mark_all(part, numbers));
}

/// One table for both, so that what is marked is what was gathered.
macro_rules! within {
    ($code:expr, $of_inner:path) => {
        match $code {
            Code::And(parts) | Code::Or(parts) => parts,
            Code::Not(inner) | Code::Shared(_, inner) => $of_inner(inner),
            // What stands in these is not asked of the thing itself, or is no condition.
            Code::Any(_) | Code::All(_) | Code::Count(..) | Code::Known(_) => Default::default(),
            Code::Compare(..) | Code::Same(_) | Code::Among(_) | Code::List(_) => Default::default(),
            Code::Arithmetic(_) | Code::Least(_) | Code::Greatest(_) | Code::Lookup { .. } => Default::default(),
            Code::Literal(_) | Code::Constant(_) | Code::Own(_) => Default::default(),
            Code::Field { .. } | Code::Is { .. } | Code::Asks(..) => Default::default(),
        }
    };
}

/// The conditions that a condition is put together from with `and`, `or` and `not`.
fn within(code: &Code) -> &[Code] {
    within!(code, within)
}

fn within_mut(code: &mut Code) -> &mut [Code] {
    within!(code, within_mut)
}

/// The number of a shared condition, and what answers it together with others.
type Number = (u8, Option<Arc<WordConditions>>);

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

/// What answers a condition together with all that depend on the same word.
fn together<'c>(numbered: Vec<(usize, &'c Asked<'c>)>) -> impl FnMut(&Asked<'_>) -> Arc<WordConditions> {
    let mut words: Vec<Arc<WordConditions>> = Vec::new();
    move |asked_here| {
        if let Some(known) = words.iter().find(|words| words.subject == asked_here.subject) {
            return known.clone();
        }
        let of_word = numbered.iter().filter(|(_, asked)| asked.subject == asked_here.subject);
        let made = Arc::new(WordConditions::of(&asked_here.subject, &of_word.copied().collect::<Vec<_>>()));
        words.push(made.clone());
        made
    }
}

/// The same for conditions that have their numbers already. Also gives those on the detail alone, a bit for each.
pub fn numbered(conditions: Vec<(u8, Code)>) -> (Vec<(u8, Code)>, u128) {
    let of_detail = conditions.iter().filter(|(_, condition)| condition.is_of_detail());
    let of_detail = of_detail.fold(0, |bits, (number, _)| bits | 1 << number);
    let words: Vec<Option<Arc<WordConditions>>> = {
        let asked: Vec<Option<Asked<'_>>> = conditions.iter().map(|(_, condition)| Asked::of(condition)).collect();
        let numbered = conditions.iter().zip(&asked);
        let numbered = numbered.filter_map(|((number, _), asked)| Some((usize::from(*number), asked.as_ref()?)));
        let mut together = together(numbered.collect());
        asked.iter().map(|asked| asked.as_ref().map(&mut together)).collect()
    };
    let marked = conditions.into_iter().zip(words).map(|((number, condition), words)| match words {
        Some(words) => (number, Code::Asks(number, words)),
        None => (number, Code::Shared(number, Box::new(condition))),
    });
    (marked.collect(), of_detail)
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
    use crate::rules::written::Literal;

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
    fn a_condition_on_the_detail_alone_is_shared_however_few_ask_it() {
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
    fn what_compares_a_fact_with_others_in_its_detail_depends_on_the_fact() {
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
    fn conditions_within_alternatives_are_shared_too() {
        let known = |name| Code::Known(Box::new(Code::Field { depth: 0, path: path(name) }));
        let either = |parts: [Code; 2]| Code::Or(parts.into_iter().collect());
        let mut codes = [
            Code::Not(Box::new(either([is("kind", "tape"), known("slope")]))),
            either([Code::And([is("kind", "board"), known("clearance")].into_iter().collect()), known("slope")]),
        ];
        share(&mut codes.iter_mut().collect::<Vec<_>>());
        let [Code::Not(first), Code::Or(second)] = &codes else { panic!("neither is asked twice") };
        let (Code::Or(first), Code::And(nested)) = (&**first, &second[0]) else { panic!("nor is what holds the rest") };
        assert!(matches!((&first[0], &nested[0]), (Code::Asks(..), Code::Asks(..))), "both ask for the kind");
        assert!(matches!((&first[1], &second[1]), (Code::Shared(a, _), Code::Shared(b, _)) if a == b));
        assert!(matches!(nested[1], Code::Known(_)), "asked once only");
    }
}
