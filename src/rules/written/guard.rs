//! Guards: which words a thing must have to fail a rule, read off the conditions of the rule before any type is known. Where a
//! name turns out not to be a word, `rules/sieve`, which knows the fields, drops the guard.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::rules::written::{Allowed, Comparison, Expr, Literal, Node, RawRule, Word, Written, parse};

/// The subject that gives a word and the words that it may be, by the print of the subject.
pub type Guards<'t> = BTreeMap<Vec<u8>, (Expr<'t>, Allowed)>;

/// Yes and no as words: for yes-or-no fields, and for whether a value is known.
pub const YES: &str = "yes";
pub const NO: &str = "no";

impl<'s> RawRule<'s> {
    /// The guards of a rule. A thing that they do not allow cannot fail it: the rule does not look at it, or the thing has what
    /// the rule needs. A condition that cannot be read gives no guards.
    pub fn guards(&self) -> Guards<'_> {
        let when = if self.when.is_none() && self.except.is_empty() { None } else { self.looked_at().ok() };
        let needs = match &self.needs {
            Written::Read(expr) => Some(expr.clone()),
            Written::Written(quoted) => parse(quoted, 0..quoted.text.len()).ok(),
        };
        // A thing fails if `when` is true and `needs` is false.
        let sides = [when.map(|when| self.of(&when, false)), needs.map(|needs| self.of(&needs, true))];
        sides.into_iter().flatten().reduce(all).unwrap_or_default()
    }

    /// The guards without which a condition cannot be true or, with `negated`, cannot be false.
    fn of<'t>(&self, condition: &Expr<'t>, negated: bool) -> Guards<'t> {
        let one = |subject: &Expr<'t>, named: NamedWords, not: bool| match self.mentions(subject) {
            true => Guards::new(),
            false => {
                let NamedWords { words, constants } = named;
                Guards::from([(subject.print(), (subject.clone(), Allowed { words, not, constants }))])
            }
        };
        match &condition.node {
            Node::Not(inner) => self.of(inner, !negated),
            Node::And(parts) | Node::Or(parts) => {
                let every = matches!(condition.node, Node::And(_)) != negated;
                let parts = parts.iter().map(|part| self.of(part, negated));
                parts.reduce(if every { all } else { any }).unwrap_or_default()
            }
            Node::Compare(comparison @ (Comparison::Equal | Comparison::NotEqual), sides) => {
                let not = negated != (*comparison == Comparison::NotEqual);
                self.words(sides).map_or_else(Guards::new, |words| one(&sides[0], words, not))
            }
            Node::In { negated: not_in, sides } => match (&sides[0].node, &sides[1].node) {
                // Whether a field of several words holds one, as in `water in holds`, is a subject of its own, with yes or no.
                (Node::Path(_), Node::Path(_)) if !self.mentions(&sides[1]) => {
                    let is_in = Expr { node: Node::In { negated: false, sides: sides.clone() }, ..*condition };
                    one(&is_in, NamedWords::yes(), negated != *not_in)
                }
                _ => self.words(sides).map_or_else(Guards::new, |words| one(&sides[0], words, negated != *not_in)),
            },
            Node::Path(_) => one(condition, NamedWords::yes(), negated),
            Node::Call { name, arguments }
                if name.text == "known" && matches!(arguments[..], [Expr { node: Node::Path(_), .. }]) =>
            {
                one(condition, NamedWords::yes(), negated)
            }
            Node::Quantity(_) | Node::Text(_) | Node::List(_) | Node::Compare(..) => Guards::new(),
            Node::Arithmetic(..) | Node::Call { .. } => Guards::new(),
        }
    }

    /// The words on the right of a field.
    fn words(&self, sides: &[Expr<'_>; 2]) -> Option<NamedWords> {
        let [Expr { node: Node::Path(_), .. }, wanted] = sides else { return None };
        let elements = if let Node::List(elements) = &wanted.node { elements } else { std::slice::from_ref(wanted) };
        let mut named = NamedWords::default();
        elements.iter().all(|element| self.add_named(element, &mut named)).then_some(named)
    }

    /// Adds a word, or the words of a constant; false for anything else.
    fn add_named(&self, expr: &Expr<'_>, named: &mut NamedWords) -> bool {
        let name = match &expr.node {
            Node::Text(text) => text,
            Node::Path(path) if path.len() == 1 => path[0].text,
            _ => return false,
        };
        let of_constant = self.constants.iter().find(|constant| *constant.name == *name);
        match of_constant.map(|constant| &constant.value).filter(|_| matches!(expr.node, Node::Path(_))) {
            None => {
                named.words.insert(name.into());
                !self.unreadable.iter().any(|known| known == name)
            }
            Some(Literal::Word(word)) => named.add_constant(name, std::slice::from_ref(word)),
            Some(Literal::Words(words)) => named.add_constant(name, words),
            Some(Literal::YesNo(_) | Literal::Quantity(_) | Literal::Quantities(_)) => false,
        }
    }

    /// Whether a subject mentions a constant of the rule, where a field is expected.
    fn mentions(&self, subject: &Expr<'_>) -> bool {
        let named = |word: &Word<'_>| {
            self.constants.iter().any(|constant| *constant.name == *word.text)
                || self.unreadable.iter().any(|name| name == word.text)
        };
        match &subject.node {
            Node::Path(path) => path.first().is_some_and(named),
            Node::Call { arguments, .. } => arguments.iter().any(|part| self.mentions(part)),
            Node::In { sides, .. } => sides.iter().any(|part| self.mentions(part)),
            _ => false,
        }
    }
}

/// The words that a condition names.
#[derive(Default)]
struct NamedWords {
    words: BTreeSet<Arc<str>>,
    /// The constants that some of them come from.
    constants: BTreeSet<Arc<str>>,
}

impl NamedWords {
    fn yes() -> NamedWords {
        NamedWords { words: [YES.into()].into(), ..NamedWords::default() }
    }

    fn add_constant(&mut self, name: &str, words: &[Arc<str>]) -> bool {
        self.constants.insert(name.into());
        self.words.extend(words.iter().cloned());
        true
    }
}

/// The guards of two conditions that both have to be true.
fn all<'t>(mut guards: Guards<'t>, others: Guards<'t>) -> Guards<'t> {
    for (print, (subject, allowed)) in others {
        let known = guards.get(&print).map(|(_, known)| known.both(&allowed));
        guards.insert(print, (subject, known.unwrap_or(allowed)));
    }
    guards
}

/// The guards of two conditions of which either has to be true.
fn any<'t>(guards: Guards<'t>, others: Guards<'t>) -> Guards<'t> {
    let both = |(print, (subject, allowed)): (Vec<u8>, (Expr<'t>, Allowed))| {
        let (_, other) = others.get(&print)?;
        Some((print, (subject, allowed.either(other))))
    };
    guards.into_iter().filter_map(both).collect()
}

impl Expr<'_> {
    /// The same expression has the same print, wherever it is written: places are not part of it.
    fn print(&self) -> Vec<u8> {
        postcard::to_allocvec(self).expect("expressions can be written into memory")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::written::read;
    use crate::text::{FileId, Source};

    /// The allowed words of each subject, as in `kind: tape sheet` and `role: not pan`.
    fn guards(conditions: &str) -> Vec<String> {
        let text =
            format!("[[rule]]\nid = 'r'\ntitle = 't'\nlevel = 'note'\nabout = 'piece'\nsays = 's'\n{conditions}\n");
        let source = Arc::new(Source::new(FileId::firm_rules(0), "r.toml", text));
        let (file, problems) = read(&source);
        assert!(problems.is_empty());
        let path = |path: &[Word<'_>]| path.iter().map(|word| word.text).collect::<Vec<_>>().join(".");
        let shown = |(subject, allowed): &(Expr<'_>, Allowed)| {
            let subject = match &subject.node {
                Node::Path(words) => path(words),
                Node::Call { arguments, .. } => match &arguments[0].node {
                    Node::Path(words) => format!("known({})", path(words)),
                    other => panic!("{other:?}"),
                },
                Node::In { sides, .. } => match [&sides[0].node, &sides[1].node] {
                    [Node::Path(word), Node::Path(words)] => format!("{} in {}", path(word), path(words)),
                    other => panic!("{other:?}"),
                },
                other => panic!("{other:?}"),
            };
            let words: Vec<&str> = allowed.words.iter().map(|word| &**word).collect();
            format!("{subject}: {}{}", if allowed.not { "not " } else { "" }, words.join(" "))
        };
        let mut shown: Vec<String> = file.rules[0].guards().values().map(shown).collect();
        shown.sort();
        shown
    }

    #[test]
    fn what_has_to_be_for_all_parts_guards_a_rule() {
        let when = "when = 'kind in kinds and not (role == pan or role == end-dam) and not inside and known(bottom) and top > limit'";
        let rest = "needs = 'length >= limit'\nkinds = ['tape', 'sheet']\nlimit = '2 in'";
        assert_eq!(
            guards(&format!("{when}\n{rest}")),
            ["inside: not yes", "kind: sheet tape", "known(bottom): yes", "role: not end-dam pan"]
        );
    }

    #[test]
    fn of_alternatives_only_what_all_of_them_ask_for_guards_it() {
        let when = |when: &str| guards(&format!("when = '{when}'\nneeds = 'length > 2 in'"));
        assert_eq!(when("role == pan and drip or role == apron and kind == sheet"), ["role: apron pan"]);
        assert_eq!(when("role != pan or role == apron"), ["role: not pan"]);
        assert_eq!(when("not (role in [pan, apron] and role in [pan, sill])"), ["role: not pan"]);
        assert!(when("drip or top > 2 in").is_empty());
    }

    #[test]
    fn what_it_is_content_with_guards_it_too() {
        assert_eq!(guards("when = 'role != pan'\nneeds = 'role != apron and kind == sheet'"), ["role: not pan"]);
        assert_eq!(guards("needs = 'role != apron'"), ["role: apron"]);
        assert_eq!(guards("needs = 'role == apron or drip'"), ["drip: not yes", "role: not apron"]);
    }

    #[test]
    fn what_is_let_pass_guards_it_like_its_when() {
        let except = "needs = 'length > 2 in'\n[[rule.except]]\nwhen = 'kind == tape'\nbecause = 'it sticks'";
        assert_eq!(guards(&format!("when = 'drip'\n{except}")), ["drip: yes", "kind: not tape"]);
    }

    #[test]
    fn one_look_tells_whether_a_thing_has_a_word() {
        let when = "when = 'water in holds and not (air in controls)'";
        assert_eq!(
            guards(&format!("{when}\nneeds = 'top > 2 in'")),
            ["air in controls: not yes", "water in holds: yes"]
        );
    }

    #[test]
    fn sizes_and_constants_guard_nothing() {
        let rest = "needs = 'wide >= 2 in'\nwide = '3 in'\nalso = true";
        assert!(guards(&format!("when = 'also and wide > 2 in and top == own.bottom'\n{rest}")).is_empty());
    }
}
