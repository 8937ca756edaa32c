//! The sieve of one kind of thing: the guards of all rules about it, by the field that gives the word, so that one look at a
//! word rules out many rules. The build script makes it for the stock rules; the program makes it for those of a firm.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::rules::written::Allowed;
use crate::rules::written::{Expr, Node, RawRule, RuleSet};

/// A field that gives a word, and which rules each word rules out.
#[derive(Serialize, Deserialize)]
pub struct RawSubject<'s> {
    /// A field, or `known` of one.
    #[serde(borrow)]
    pub subject: Expr<'s>,
    /// Whether it is the same for everything in one detail.
    pub of_detail: bool,
    /// The constants that some of the words come from.
    pub constants: BTreeSet<Arc<str>>,
    /// The rules whose guards use it.
    pub asks: RuleSet,
    pub rules_out: Vec<(Arc<str>, RuleSet)>,
    /// The rules that any other word rules out.
    pub otherwise: RuleSet,
}

/// The sieve of the rules about one kind, in the order of their numbers. Subjects of the detail come first, then those that
/// most rules use.
pub fn sieve<'r, 's: 'r>(rules: impl Iterator<Item = &'r RawRule<'s>>) -> Vec<RawSubject<'r>> {
    let mut subjects: BTreeMap<Vec<u8>, Asked<'r>> = BTreeMap::new();
    for (number, rule) in rules.enumerate() {
        for (print, (subject, allowed)) in rule.guards() {
            let asked = subjects.entry(print).or_insert_with(|| Asked { subject, by: Vec::new() });
            asked.by.push((number, allowed));
        }
    }
    let mut subjects: Vec<RawSubject<'r>> = subjects.into_values().map(Asked::subject).collect();
    // The sort is stable: subjects of as many rules stay in the order of their prints.
    subjects.sort_by_key(|subject| (!subject.of_detail, std::cmp::Reverse(subject.asks.len())));
    subjects
}

/// A field that gives a word, and the rules that use it.
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
