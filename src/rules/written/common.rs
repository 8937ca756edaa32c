//! Conditions that several stock rules about one kind of thing ask alike, found when the program is built. They are kept once
//! for all of them, and what one of them denies need not even be read.

use std::collections::{BTreeMap, HashMap};

use serde::{Deserialize, Serialize};

use crate::rules::written::{Comparison, Expr, Node, RawRule, Word, Written};

/// Of one kind.
pub struct CommonConditions<'s> {
    pub about: String,
    /// What stands within another comes before it.
    pub conditions: Vec<Expr<'s>>,
}

/// The same as they are kept: each is read on demand.
#[derive(Clone, Serialize, Deserialize)]
pub struct StoredConditions<'s> {
    #[serde(borrow)]
    pub about: &'s str,
    /// Each with the number of the first that depends on the same word. What gives that word answers all of them.
    pub conditions: Vec<(&'s [u8], u8)>,
}

/// There is a bit for each.
const MOST: usize = 128;

/// Leaves numbers in the place of the conditions that rules have in common.
pub fn share<'r, 't: 'r>(rules: impl Iterator<Item = &'r mut RawRule<'t>>) -> Vec<CommonConditions<'t>> {
    let mut kinds: BTreeMap<String, Vec<&mut RawRule<'t>>> = BTreeMap::new();
    for rule in rules {
        kinds.entry(rule.about.text.to_string()).or_default().push(rule);
    }
    kinds.into_iter().map(|(about, rules)| of_kind(about, rules)).collect()
}

fn of_kind<'t>(about: String, mut rules: Vec<&mut RawRule<'t>>) -> CommonConditions<'t> {
    let mut seen = ConditionCounts::default();
    rules.iter().for_each(|rule| seen.look(rule));
    let mut chosen = seen.chosen();
    chosen.sort_by(|a, b| (a.0.len(), &a.0).cmp(&(b.0.len(), &b.0)));
    let numbers: Numbers =
        chosen.iter().enumerate().map(|(number, (print, _))| (print.clone(), number as u8)).collect();
    for rule in &mut rules {
        let constants = names(rule);
        let forms = rule.when.iter_mut().chain([&mut rule.needs]);
        forms.filter_map(read_mut).flat_map(parts_mut).for_each(|part| mark(part, &constants, &numbers));
    }
    let mut conditions: Vec<Expr<'t>> = chosen.into_iter().map(|(_, condition)| condition).collect();
    conditions.iter_mut().for_each(|condition| within(condition, &mut |part| mark(part, &[], &numbers)));
    CommonConditions { about, conditions }
}

/// By what stands in them.
type Numbers = HashMap<Vec<u8>, u8>;

/// The conditions of one kind, and how often they are asked.
#[derive(Default)]
struct ConditionCounts<'t> {
    conditions: BTreeMap<Vec<u8>, (Expr<'t>, usize)>,
    /// What gives the word, or the yes and no, that a condition depends on.
    subjects: HashMap<Vec<u8>, usize>,
}

/// A condition that keeps a rule from being asked at all counts for so many.
const AT_FIRST: usize = 3;

impl<'t> ConditionCounts<'t> {
    fn look(&mut self, rule: &RawRule<'t>) {
        let constants = names(rule);
        for (form, weight) in rule.when.iter().map(|when| (when, AT_FIRST)).chain([(&rule.needs, 1)]) {
            if let Written::Read(expr) = form {
                parts(expr).iter().for_each(|part| self.add(part, weight, &constants));
            }
        }
    }

    /// A part, and the conditions that it is put together from with `and`, `or` and `not`.
    fn add(&mut self, part: &Expr<'t>, weight: usize, constants: &[String]) {
        if !mentions(part, constants) {
            self.conditions.entry(print(part)).or_insert_with(|| (part.clone(), 0)).1 += weight;
            if let Some(subject) = subject(part) {
                *self.subjects.entry(print(subject)).or_default() += 1;
            }
        }
        let mut whole = part;
        while let Node::Not(inner) = &whole.node {
            whole = inner;
        }
        if let Node::And(parts) | Node::Or(parts) = &whole.node {
            parts.iter().for_each(|part| self.add(part, 1, constants));
        }
    }

    /// Those that are worth a number, the most asked first.
    fn chosen(self) -> Vec<(Vec<u8>, Expr<'t>)> {
        let again = |condition: &Expr<'_>| subject(condition).is_some_and(|subject| self.subjects[&print(subject)] > 1);
        let worth = |(_, (condition, often)): &(Vec<u8>, (Expr<'t>, usize))| *often > 1 || again(condition);
        let mut chosen: Vec<_> = self.conditions.into_iter().filter(worth).collect();
        chosen.sort_by_key(|(_, (_, often))| std::cmp::Reverse(*often));
        chosen.truncate(MOST);
        chosen.into_iter().map(|(print, (condition, _))| (print, condition)).collect()
    }
}

/// What is the same has the same print: places are not part of it.
fn print(expr: &Expr<'_>) -> Vec<u8> {
    postcard::to_allocvec(expr).expect("expressions can be written into memory")
}

fn subject<'e, 't>(condition: &'e Expr<'t>) -> Option<&'e Expr<'t>> {
    match &condition.node {
        Node::Path(_) => Some(condition),
        Node::Not(inner) => subject(inner),
        Node::Compare(Comparison::Equal | Comparison::NotEqual, sides) | Node::In { sides, .. } => Some(&sides[0]),
        _ => None,
    }
}

fn names(rule: &RawRule<'_>) -> Vec<String> {
    rule.constants.iter().map(|constant| constant.name.to_string()).chain(rule.unreadable.iter().cloned()).collect()
}

/// Whether one of these names stands in it: every rule has constants of its own.
fn mentions(expr: &Expr<'_>, names: &[String]) -> bool {
    let named = |word: &Word<'_>| names.iter().any(|name| name == word.text);
    let any = |parts: &[Expr<'_>]| parts.iter().any(|part| mentions(part, names));
    match &expr.node {
        Node::Quantity(_) | Node::Text(_) | Node::Common(_) => false,
        Node::Path(path) => path.first().is_some_and(named),
        Node::Not(inner) => mentions(inner, names),
        Node::List(parts) | Node::And(parts) | Node::Or(parts) => any(parts),
        Node::Compare(_, sides) | Node::In { sides, .. } | Node::Arithmetic(_, sides) => any(&**sides),
        Node::Call { arguments, .. } => any(arguments),
    }
}

fn mark(part: &mut Expr<'_>, constants: &[String], numbers: &Numbers) {
    let number = if mentions(part, constants) { None } else { numbers.get(&print(part)) };
    match number {
        Some(number) => part.node = Node::Common(*number),
        None => within(part, &mut |part| mark(part, constants, numbers)),
    }
}

/// What a condition is put together from with `and`, `or` and `not`.
fn within<'e, 't>(condition: &'e mut Expr<'t>, each: &mut dyn FnMut(&'e mut Expr<'t>)) {
    match &mut condition.node {
        Node::Not(inner) if matches!(inner.node, Node::Not(_) | Node::And(_) | Node::Or(_)) => within(inner, each),
        Node::And(parts) | Node::Or(parts) => parts.iter_mut().for_each(each),
        _ => {}
    }
}

fn parts<'e, 't>(expr: &'e Expr<'t>) -> &'e [Expr<'t>] {
    match &expr.node {
        Node::And(parts) => parts,
        _ => std::slice::from_ref(expr),
    }
}

fn parts_mut<'e, 't>(expr: &'e mut Expr<'t>) -> &'e mut [Expr<'t>] {
    match expr.node {
        Node::And(ref mut parts) => parts,
        _ => std::slice::from_mut(expr),
    }
}

fn read_mut<'e, T>(form: &'e mut Written<'_, T>) -> Option<&'e mut T> {
    if let Written::Read(read) = form { Some(read) } else { None }
}

impl Expr<'_> {
    /// Whether a number of a common condition stands in it.
    #[cfg_attr(sealed, allow(dead_code, reason = "the build script asks it"))]
    pub fn holds_common(&self) -> bool {
        match &self.node {
            Node::Common(_) => true,
            Node::Not(inner) => inner.holds_common(),
            Node::And(parts) | Node::Or(parts) => parts.iter().any(Expr::holds_common),
            _ => false,
        }
    }
}

impl<'s> CommonConditions<'s> {
    /// The conditions as they are kept, with the numbers of the first ones that depend on the same words.
    pub fn kept(&self) -> Vec<(Vec<u8>, u8)> {
        let subjects: Vec<Option<Vec<u8>>> = self.conditions.iter().map(|one| subject(one).map(print)).collect();
        let first = |number: usize| {
            let same = subjects[number].as_ref().and_then(|own| subjects.iter().position(|s| s.as_ref() == Some(own)));
            same.unwrap_or(number) as u8
        };
        self.conditions.iter().enumerate().map(|(number, one)| (print(one), first(number))).collect()
    }

    /// Those that all have to be true for a condition to be true, a bit for each.
    pub fn asked_by(condition: &Written<'_, Expr<'_>>) -> u128 {
        let Written::Read(expr) = condition else { return 0 };
        let bit = |part: &Expr<'_>| if let Node::Common(number) = part.node { 1 << number } else { 0 };
        parts(expr).iter().map(bit).fold(0, |all, bit| all | bit)
    }

    /// Puts the conditions in the places of their numbers.
    pub fn put_back(&self, rule: &mut RawRule<'s>) {
        let forms = rule.when.iter_mut().chain([&mut rule.needs]);
        forms.filter_map(read_mut).for_each(|expr| self.put_into(expr));
    }

    fn put_into(&self, expr: &mut Expr<'s>) {
        if let Node::Common(number) = expr.node {
            *expr = self.conditions[number as usize].clone();
        }
        within(expr, &mut |part| self.put_into(part));
    }
}
