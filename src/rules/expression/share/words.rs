//! Conditions on one word: one look at it answers all of them.

use crate::facts::vocabulary::Type;
use crate::model::Name;
use crate::rules::expression::Code;
use crate::rules::written::Literal;

/// What a field that is true or not gives, as a word.
pub const YES: &str = "yes";
pub const NO: &str = "no";

/// All shared conditions on one word, or on one yes or no.
#[derive(PartialEq)]
pub struct WordConditions {
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

impl WordConditions {
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

/// A condition on nothing but one word, or one yes or no.
pub struct Asked<'c> {
    code: &'c Code,
    /// What gives it.
    pub subject: Code,
    words: Vec<&'c str>,
    /// True for all but these words.
    not: bool,
}

impl<'c> Asked<'c> {
    pub fn of(code: &'c Code) -> Option<Asked<'c>> {
        match code {
            Code::Is { depth, path, word } => {
                let subject = Code::Field { depth: *depth, path: path.clone() };
                Some(Asked { code, subject, words: vec![word], not: false })
            }
            Code::Field { path, .. } => {
                let yes_no = path.last().is_some_and(|field| field.of == Type::YesNo);
                yes_no.then(|| Asked { code, subject: code.clone(), words: vec![YES], not: false })
            }
            Code::Not(inner) => Asked::of(inner).map(|asked| Asked { code, not: !asked.not, ..asked }),
            Code::Same(sides) | Code::Among(sides) => {
                let [subject, wanted] = &**sides;
                let words = gives_word(subject).then(|| words_in(wanted)).flatten()?;
                Some(Asked { code, subject: subject.clone(), words, not: false })
            }
            // These depend on more than one word, or on none.
            Code::And(_) | Code::Or(_) | Code::Any(_) | Code::All(_) | Code::Count(..) => None,
            Code::Compare(..) | Code::Arithmetic(_) | Code::Least(_) | Code::Greatest(_) | Code::Known(_) => None,
            Code::Literal(_) | Code::Constant(_) | Code::Own(_) | Code::List(_) | Code::Lookup { .. } => None,
            // Marked before.
            Code::Shared(..) | Code::Asks(..) => None,
        }
    }
}

fn gives_word(code: &Code) -> bool {
    matches!(code, Code::Field { .. } | Code::Lookup { .. })
}

/// The words that are written out on the right side of a condition.
fn words_in(wanted: &Code) -> Option<Vec<&str>> {
    let elements = if let Code::List(elements) = wanted { elements } else { std::slice::from_ref(wanted) };
    let words = elements.iter().map(|element| match element {
        Code::Literal(Literal::Word(word)) => Some(&**word),
        _ => None,
    });
    words.collect()
}

impl WordConditions {
    /// From the conditions on this word, with their numbers.
    pub fn of(subject: &Code, asked: &[(usize, &Asked<'_>)]) -> WordConditions {
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
        WordConditions { subject: subject.clone(), conditions, answers, otherwise, alone }
    }
}
