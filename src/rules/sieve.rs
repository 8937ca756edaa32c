//! A sieve: the words of a thing rule out most rules before any of them is evaluated or even read.

use crate::facts::vocabulary::Value;
use crate::model::Name;
use crate::rules::expression::{Code, Env, ExprType, TypeChecker, value};
use crate::rules::written::{NO, RawSubject, RuleSet, YES};

/// The sieve of the rules about one kind.
#[derive(Default, PartialEq)]
pub struct Sieve {
    /// Subjects that are the same for everything in one detail.
    of_detail: Vec<Subject>,
    of_thing: Vec<Subject>,
}

/// The field that gives a word, and which rules each word rules out.
#[derive(PartialEq)]
struct Subject {
    code: Code,
    /// The rules whose conditions use it.
    asks: RuleSet,
    rules_out: Vec<(Name, RuleSet)>,
    otherwise: RuleSet,
}

impl Sieve {
    /// It rules nothing out.
    pub const NONE: Sieve = Sieve { of_detail: Vec::new(), of_thing: Vec::new() };

    /// A subject that turns out not to be a word, or is compared with something else, rules nothing out.
    pub fn of(subjects: Vec<RawSubject<'_>>, checker: &mut TypeChecker<'_>) -> Sieve {
        let mut sieve = Sieve::default();
        for raw in subjects {
            let Some(code) = word_given(&raw, checker) else { continue };
            let RawSubject { asks, rules_out, otherwise, of_detail, .. } = raw;
            let into = if of_detail { &mut sieve.of_detail } else { &mut sieve.of_thing };
            into.push(Subject { code, asks, rules_out, otherwise });
        }
        sieve
    }

    /// Removes the rules that the detail of a thing rules out.
    pub fn by_detail<'a>(&'a self, env: &Env<'_, 'a>, rules: &mut RuleSet) {
        narrow(&self.of_detail, env, rules);
    }

    /// Removes the rules that the thing itself rules out.
    pub fn by_thing<'a>(&'a self, env: &Env<'_, 'a>, rules: &mut RuleSet) {
        narrow(&self.of_thing, env, rules);
    }
}

fn narrow<'a>(subjects: &'a [Subject], env: &Env<'_, 'a>, rules: &mut RuleSet) {
    for subject in subjects {
        if !rules.meets(&subject.asks) {
            continue;
        }
        match value(&subject.code, env) {
            Value::Word(word) | Value::Text(word) => rules.remove(subject.ruled_out_by(word)),
            Value::YesNo(yes) => rules.remove(subject.ruled_out_by(if yes { YES } else { NO })),
            // An unknown value rules nothing out.
            _ => {}
        }
    }
}

impl Subject {
    fn ruled_out_by(&self, word: &str) -> &RuleSet {
        self.rules_out.iter().find(|(known, _)| **known == *word).map_or(&self.otherwise, |(_, rules)| rules)
    }
}

/// The code of a field, if it is compared with words alone.
fn word_given(raw: &RawSubject<'_>, checker: &mut TypeChecker<'_>) -> Option<Code> {
    let (code, of) = checker.check(&raw.subject)?;
    let mut words = raw.rules_out.iter().map(|(word, _)| word);
    let are_words = match of {
        ExprType::YesNo => words.all(|word| [YES, NO].contains(&&**word)),
        ExprType::Word(list) => {
            let in_list = |word: &Name| list.closed() && list.has(word, checker.words, checker.tables);
            // A name that is in the list is a word, whatever else it could name.
            words.all(|word| in_list(word) || !checker.stands(word)) && !raw.constants.iter().any(in_list)
        }
        ExprType::Text => words.all(|word| !checker.stands(word)),
        _ => false,
    };
    are_words.then_some(code)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::vocabulary::Kind;
    use crate::rules::written::{RawRule, read, sieve};
    use crate::rules::{Pack, stock_sources};

    #[test]
    fn all_words_that_stock_rules_ask_for_rule_rules_out() {
        let pack = Pack::load(&[]).unwrap();
        let sources = stock_sources();
        let rules: Vec<RawRule<'_>> = sources.iter().flat_map(|source| read(source).0.rules).collect();
        for kind in Kind::ALL {
            let mut checker = TypeChecker::new(kind, &mut [], &pack.tables, &pack.words);
            for raw in sieve(rules.iter().filter(|rule| rule.about.text == kind.word())) {
                let of = checker.check(&raw.subject).map(|(_, of)| of);
                let gives_words = matches!(of, Some(ExprType::YesNo | ExprType::Word(_) | ExprType::Text));
                assert_eq!(word_given(&raw, &mut checker).is_some(), gives_words, "{:?}", raw.subject);
            }
        }
    }
}
