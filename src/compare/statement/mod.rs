//! What an item says, statement by statement: so that no change of the language's words goes unseen, whether or not a fact
//! follows from it.

mod explained;
mod words;

use std::collections::BTreeMap;

use foldhash::HashMap;

use crate::compare::Change;
use crate::model::Name;
use explained::Explained;
use words::{in_one_unit, item, tokens};

/// A statement by what it says, whatever its layout, its units and the order of its clauses.
#[derive(Clone, Debug, PartialEq)]
pub struct PlainStatement {
    /// As it is written, without breaks.
    pub shown: String,
    words: Vec<String>,
    /// The words in one order.
    sorted: Vec<String>,
}

/// An item of a text: its head, and the statements in its block.
#[derive(Clone, Debug)]
pub struct ItemText {
    pub head: PlainStatement,
    pub body: Vec<PlainStatement>,
}

impl PlainStatement {
    fn of(words: Vec<String>) -> Option<PlainStatement> {
        if words.is_empty() {
            return None;
        }
        let shown = words.join(" ").replace(" ,", ",");
        let words = in_one_unit(words);
        let mut sorted = words.clone();
        sorted.sort();
        Some(PlainStatement { shown, words, sorted })
    }

    pub fn keyword(&self) -> &str {
        &self.words[0]
    }

    /// The name that it is about, where it has one.
    pub fn name(&self) -> &str {
        self.words.get(1).map_or("", String::as_str)
    }

    fn renamed(&self, names: &BTreeMap<Name, Name>) -> PlainStatement {
        let words = self.words.iter().map(|word| names.get(word.as_str()).map_or(word.clone(), |new| new.to_string()));
        let words: Vec<String> = words.collect();
        let mut sorted = words.clone();
        sorted.sort();
        PlainStatement { shown: self.shown.clone(), words, sorted }
    }
}

/// The items of a text. A block within a block belongs to its statement.
pub fn items(text: &str) -> impl Iterator<Item = ItemText> {
    let mut tokens = tokens(text).peekable();
    std::iter::from_fn(move || item(&mut tokens))
}

/// Statements that differ and that no other change covers.
pub fn differences(
    before: &ItemText,
    after: &ItemText,
    names: &BTreeMap<Name, Name>,
    explained: &[Change],
) -> Vec<Change> {
    let heads = (before.head.renamed(names), after.head.clone());
    let old: Vec<(PlainStatement, &PlainStatement)> = before.body.iter().map(|s| (s.renamed(names), s)).collect();
    let mut taken = vec![false; old.len()];
    let mut same: HashMap<&[String], Vec<usize>> = HashMap::default();
    for (at, (statement, _)) in old.iter().enumerate().rev() {
        same.entry(&statement.sorted).or_default().push(at);
    }
    let mut new: Vec<&PlainStatement> = Vec::new();
    for statement in &after.body {
        match same.get_mut(&*statement.sorted).and_then(Vec::pop) {
            Some(at) => taken[at] = true,
            None => new.push(statement),
        }
    }
    // What is left of each keyword and name, in order.
    let key = |statement: &PlainStatement| {
        let name = if named(statement) { statement.name() } else { "" };
        (statement.keyword().to_owned(), name.to_owned())
    };
    let mut alike: HashMap<(String, String), Vec<usize>> = HashMap::default();
    for (at, (statement, _)) in old.iter().enumerate().rev().filter(|(at, _)| !taken[*at]) {
        alike.entry(key(statement)).or_default().push(at);
    }
    let explained = Explained::of(explained);
    let mut changes = Vec::new();
    let title = |statement: &PlainStatement| statement.words.iter().find(|word| word.starts_with('"')).cloned();
    // The name of the item is a change by itself; the rest are its kind and what it joins.
    let rest = |statement: &PlainStatement| -> String {
        statement.words.iter().skip(2).filter(|word| !word.starts_with('"')).cloned().collect::<Vec<_>>().join(" ")
    };
    for (what, old, new) in [
        ("title", title(&heads.0), title(&heads.1)),
        ("kind and joined assemblies", Some(rest(&heads.0)), Some(rest(&heads.1))),
    ] {
        let said = explained.about.contains("kind");
        if old != new && !(said && what.starts_with("kind")) {
            let shown = |value: Option<String>| value.unwrap_or_else(|| "none".to_owned());
            changes.push(Change::new(what, shown(old), shown(new)));
        }
    }
    for statement in new {
        let was = alike.get_mut(&key(statement)).and_then(Vec::pop).map(|at| {
            taken[at] = true;
            old[at].1
        });
        if explained.covers(statement) {
            continue;
        }
        let what = what(statement);
        changes.push(match was {
            Some(was) => Change::new(what, was.shown.clone(), statement.shown.clone()),
            None => Change::added(what, statement.shown.clone()),
        });
    }
    let lost = old.iter().zip(taken).filter(|((old, _), taken)| !taken && !explained.covers(old));
    changes.extend(lost.map(|((_, written), _)| Change::gone(what(written), written.shown.clone())));
    changes
}

/// Statements about a name; of the others, one with another value takes the place of the first.
fn named(statement: &PlainStatement) -> bool {
    matches!(statement.keyword(), "piece" | "layer" | "cut" | "seal" | "fasten" | "outdoor" | "needs" | "waive")
}

fn what(statement: &PlainStatement) -> String {
    match named(statement) {
        true => format!("{} {}", statement.keyword(), statement.name()),
        false => statement.keyword().to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::{differences, items};
    use std::collections::BTreeMap;

    fn explained(before: &str, after: &str) -> Vec<String> {
        let first = |text| items(text).next().expect("an item");
        let (before, after) = (first(before), first(after));
        let changes = differences(&before, &after, &BTreeMap::from([("old".into(), "new".into())]), &[]);
        changes.into_iter().map(|c| format!("{}: {:?} {:?}", c.what, c.issued, c.submitted)).collect()
    }

    #[test]
    fn layout_units_and_the_order_of_clauses_are_no_change() {
        let one = "detail D k joins A {\n  piece a b up 0 mm to 15 cm rolled # x\n  note \"a { ; # b\"\n}";
        let other = "# y\ndetail D k joins A { piece a b { rolled; up 0 mm\n to 150 mm }; note \"a { ; # b\" }";
        assert_eq!(explained(one, other), [""; 0]);
        assert_eq!(explained("detail D k { piece old m bonds old }", "detail D k { piece new m bonds new }"), [""; 0]);
    }

    #[test]
    fn each_statement_that_differs_is_reported_once() {
        let one = "detail D k \"A\" { sheet \"1\"\n note \"x\"\n fold up 0 mm base\n cut a up 0 mm to 1 m }";
        let other = "detail D k \"B\" { sheet \"2\"\n fold up 1 mm base\n note \"x\"\n note \"y\" }";
        let shown = |text: &str| format!("Some({text:?})");
        assert_eq!(
            explained(one, other),
            [
                format!("title: {} {}", shown("\"A\""), shown("\"B\"")),
                format!("sheet: {} {}", shown("sheet \"1\""), shown("sheet \"2\"")),
                format!("fold: {} {}", shown("fold up 0 mm base"), shown("fold up 1 mm base")),
                format!("note: None {}", shown("note \"y\"")),
                format!("cut a: {} None", shown("cut a up 0 mm to 1 m")),
            ]
        );
    }
}
