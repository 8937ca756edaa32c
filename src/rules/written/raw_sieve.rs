//! The guards of all rules about one kind of thing, by what gives the words: one look at a word tells which rules it rules out. The
//! build script makes it of the stock rules, and the program of those of a firm.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::rules::written::Allowed;
use crate::rules::written::{Expr, Node, RawRule, RuleSet};

/// What gives a word, and which rules each word rules out.
#[derive(Serialize, Deserialize)]
pub struct RawSubject<'s> {
    /// A field, or `known` of one.
    #[serde(borrow)]
    pub subject: Expr<'s>,
    /// It is the same for all that lies in one detail.
    pub of_detail: bool,
    /// The constants that stand for words there.
    pub constants: BTreeSet<Arc<str>>,
    /// The rules that ask for it.
    pub asks: RuleSet,
    pub rules_out: Vec<(Arc<str>, RuleSet)>,
    /// What every other word rules out.
    pub otherwise: RuleSet,
}

/// Of the rules about one kind, in the order of their numbers. What is asked of the detail comes first, then what most rules ask.
pub fn sieve<'r, 's: 'r>(rules: impl Iterator<Item = &'r RawRule<'s>>) -> Vec<RawSubject<'r>> {
    let mut subjects: BTreeMap<Vec<u8>, Asked<'r>> = BTreeMap::new();
    for (number, rule) in rules.enumerate() {
        for (print, (subject, allowed)) in rule.guards() {
            let asked = subjects.entry(print).or_insert_with(|| Asked { subject, by: Vec::new() });
            asked.by.push((number, allowed));
        }
    }
    let mut subjects: Vec<RawSubject<'r>> = subjects.into_values().map(Asked::subject).collect();
    // The order of the prints stays where as many ask.
    subjects.sort_by_key(|subject| (!subject.of_detail, std::cmp::Reverse(subject.asks.len())));
    subjects
}

/// What gives a word, and the rules that ask for it.
struct Asked<'t> {
    subject: Expr<'t>,
    by: Vec<(usize, Allowed)>,
}

impl<'t> Asked<'t> {
    fn subject(self) -> RawSubject<'t> {
        let by = || self.by.iter();
        let without = |allows: &dyn Fn(&Allowed) -> bool| -> RuleSet {
            by().filter(|(_, allowed)| !allows(allowed)).map(|(rule, _)| *rule).collect()
        };
        let words: BTreeSet<Arc<str>> = by().flat_map(|(_, allowed)| allowed.words.iter().cloned()).collect();
        RawSubject {
            of_detail: of_detail(&self.subject),
            constants: by().flat_map(|(_, allowed)| allowed.constants.iter().cloned()).collect(),
            asks: by().map(|(rule, _)| *rule).collect(),
            otherwise: without(&|allowed| allowed.not),
            rules_out: words.into_iter().map(|word| (word.clone(), without(&|a| a.allows(&word)))).collect(),
            subject: self.subject,
        }
    }
}

fn of_detail(subject: &Expr<'_>) -> bool {
    match &subject.node {
        Node::Path(path) => path.len() > 1 && path[0].text == "detail",
        Node::Call { arguments, .. } => arguments.iter().all(of_detail),
        _ => false,
    }
}
