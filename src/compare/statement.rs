//! What an item says, statement by statement: so that no change of the language's words goes unseen, whether or not a fact
//! follows from it.

use std::collections::BTreeMap;
use std::iter::Peekable;

use foldhash::{HashMap, HashSet};

use crate::compare::Change;
use crate::model::Name;
use crate::quantity::parse_quantity;

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

fn item<'t>(tokens: &mut Peekable<impl Iterator<Item = &'t str>>) -> Option<ItemText> {
    let mut open: Option<ItemText> = None;
    let (mut depth, mut words) = (0_usize, Vec::new());
    while let Some(token) = tokens.next() {
        match token {
            "{" => {
                depth += 1;
                if depth == 1 {
                    open =
                        PlainStatement::of(std::mem::take(&mut words)).map(|head| ItemText { head, body: Vec::new() });
                }
            }
            "}" => {
                depth = depth.saturating_sub(1);
                if depth <= 1 {
                    close(&mut words, &mut open);
                }
                if depth == 0 && open.is_some() {
                    return open;
                }
            }
            "\n" | ";" if depth >= 2 || tokens.peek() == Some(&"{") => {}
            "\n" | ";" if open.is_some() => close(&mut words, &mut open),
            "\n" | ";" => {
                if let Some(head) = PlainStatement::of(std::mem::take(&mut words)) {
                    return Some(ItemText { head, body: Vec::new() });
                }
            }
            word => words.push(word.to_owned()),
        }
    }
    close(&mut words, &mut open);
    open
}

fn close(words: &mut Vec<String>, open: &mut Option<ItemText>) {
    if let Some(item) = open {
        item.body.extend(PlainStatement::of(std::mem::take(words)));
    }
}

/// Words, texts in quotes, braces and breaks; comments are none, and breaks in a row are one.
fn tokens(text: &str) -> impl Iterator<Item = &str> {
    let (mut at, mut broken) = (0, false);
    std::iter::from_fn(move || {
        loop {
            let rest = &text[at..];
            let first = rest.chars().next()?;
            let length = match first {
                '#' => rest.find('\n').unwrap_or(rest.len()),
                '"' => quoted(rest),
                '{' | '}' | ';' | ',' | '\n' => 1,
                _ if first.is_whitespace() => first.len_utf8(),
                _ => rest.find(|c: char| c.is_whitespace() || "#\"{};,".contains(c)).unwrap_or(rest.len()),
            };
            at += length;
            let token = match first {
                '\n' => !std::mem::replace(&mut broken, true),
                '#' => false,
                _ => !first.is_whitespace(),
            };
            if token {
                broken = first == '\n';
                return Some(&rest[..length]);
            }
        }
    })
}

fn quoted(rest: &str) -> usize {
    let mut escaped = false;
    for (at, letter) in rest.char_indices().skip(1) {
        match letter {
            '\n' => return at,
            '"' if !escaped => return at + 1,
            _ => escaped = letter == '\\' && !escaped,
        }
    }
    rest.len()
}

/// A number and its unit become one word, the same for the same length.
fn in_one_unit(words: Vec<String>) -> Vec<String> {
    let mut said = Vec::with_capacity(words.len());
    let mut at = 0;
    while at < words.len() {
        let number = |word: &str| word.trim_start_matches('-').starts_with(|c: char| c.is_ascii_digit());
        let pair = words.get(at + 1).map(|unit| format!("{} {unit}", words[at]));
        let read = |text: &str| parse_quantity(text).ok().map(|q| format!("{:?} {:.9e}", q.dimension(), q.si));
        if number(&words[at]) || matches!(words[at].as_str(), "R" | "RSI") {
            if let Some(quantity) = pair.as_deref().and_then(read) {
                said.push(quantity);
                at += 2;
                continue;
            }
            said.push(read(&words[at]).unwrap_or_else(|| words[at].clone()));
        } else {
            said.push(words[at].clone());
        }
        at += 1;
    }
    said
}

/// Statements that differ and that no change tells of yet.
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
    // The name of the item is told by itself; the rest are its kind and what it joins.
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

/// What other changes tell of, which say it better than a statement would.
struct Explained<'c> {
    about: HashSet<&'c str>,
    layers: bool,
}

impl<'c> Explained<'c> {
    fn of(changes: &'c [Change]) -> Explained<'c> {
        let about: HashSet<&str> = changes.iter().filter_map(|change| change.what.split(',').next()).collect();
        let layers = about.iter().any(|what| what.starts_with("layer ") || what.starts_with("order of layers"));
        Explained { about, layers }
    }

    fn covers(&self, statement: &PlainStatement) -> bool {
        match statement.keyword() {
            "seal" => self.about.contains("bead"),
            "fasten" => self.about.contains("fasteners"),
            "exposed" => self.about.contains("days uncovered"),
            "grade" => self.about.contains("finished grade"),
            "layer" => self.layers,
            _ => self.about.contains(&*what(statement)),
        }
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
    fn each_statement_that_differs_is_told_once() {
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
