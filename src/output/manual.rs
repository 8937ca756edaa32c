//! The rules for people to read: a list, one rule with its basis and examples, and what rules can ask for.

use std::collections::BTreeMap;
use std::io::{self, Write};

use toml::de::DeTable;

use crate::facts::vocabulary::Kind;
use crate::finding::{PAGES, Page};
use crate::output::part::{columns, part};
use crate::output::wrap::wrap;
use crate::output::{Look, visible, words};
use crate::rules::{Pack, Rule, Table, fields_of};

/// Every rule with its level and title, by topic: the folder that its file is in.
///
/// # Errors
/// Those of `out`.
pub fn rule_list(pack: &Pack, look: Look, out: &mut dyn Write) -> io::Result<()> {
    let width = pack.rules.iter().map(|rule| rule.id.chars().count()).max().unwrap_or(0);
    // A screen reader gets the same as sentences, without columns.
    let first = |id: &str, level: &str| match look.narrate {
        true => format!("{id}, {level}: "),
        false => format!("  {id:<width$}  {level:<8} "),
    };
    for (topic, rules) in by_topic(pack) {
        match look.narrate {
            true => writeln!(out, "{}: {}.", visible(topic), words::counted(rules.len(), "rule"))?,
            false => writeln!(out, "{} ({})", visible(topic), rules.len())?,
        }
        for rule in rules {
            let level = if rule.off { "off" } else { rule.level.word() };
            let adjusted = if rule.adjusted.is_empty() { "" } else { " (adjusted)" };
            let first = first(&rule.id, level);
            writeln!(out, "{}", wrap(&visible(&format!("{}{adjusted}", rule.title)), &first, look.width))?;
        }
        writeln!(out)?;
    }
    writeln!(out, "About the text, rule files, settings and lists")?;
    for page in &PAGES {
        let first = first(page.id, page.level.word());
        writeln!(out, "{}", wrap(page.title, &first, look.width))?;
    }
    writeln!(out, "\n{}. `headlap rules show RULE` shows one of them whole.", words::counted(pack.rules.len(), "rule"))
}

/// The rules of each topic. A firm's folder is a topic of its own.
pub fn by_topic(pack: &Pack) -> BTreeMap<&str, Vec<&Rule>> {
    let mut topics: BTreeMap<&str, Vec<&Rule>> = BTreeMap::new();
    for rule in &pack.rules {
        topics.entry(pack.topic(rule)).or_default().push(rule);
    }
    topics
}

/// All that a rule says, with the tables that it looks into.
///
/// # Errors
/// Those of `out`.
pub fn rule_page(pack: &Pack, rule: &Rule, look: Look, out: &mut dyn Write) -> io::Result<()> {
    let source = pack.sources().get(&rule.span.file);
    let written = source.map(|source| written(&source.text, &rule.id)).unwrap_or_default();
    let indent = if look.narrate { "" } else { "  " };
    writeln!(out, "{}: {}", rule.id, visible(&rule.title))?;
    let mut part = |name: &str, text: &str| part(name, text, look, out);
    let level = if rule.off { "off" } else { rule.level.word() };
    part("Level", level)?;
    part("About", &format!("each {}", rule.about.word()))?;
    for (name, key) in [("Says", "says"), ("To do", "fix")] {
        if let Some((_, text)) = written.iter().find(|(written, _)| written == key) {
            part(name, &visible(&without_conversions(&one_line(text))))?;
        }
    }
    for (index, basis) in rule.wording().basis.iter().enumerate() {
        part(if index == 0 { "Basis" } else { "" }, &words::basis(basis))?;
    }
    for adjusted in &rule.adjusted {
        part("Adjusted", &visible(adjusted))?;
    }
    for example in &pack.examples(rule) {
        let heading = if example.fails { "An example that fails" } else { "An example that passes" };
        let cured = example.cured.as_ref().map(|cured| ("The same, cured", cured));
        for (heading, text) in [(heading, &example.text)].into_iter().chain(cured) {
            writeln!(out, "\n{indent}{heading}:")?;
            for line in text.text.trim_matches('\n').lines() {
                match look.narrate {
                    true => writeln!(out, "{}", wrap(&visible(line), "", look.width))?,
                    false => writeln!(out, "{}", format!("    {}", visible(line)).trim_end())?,
                }
            }
        }
    }
    writeln!(out, "\n{indent}How it is written:")?;
    conditions(pack, rule, &written, look, out)?;
    for table in tables_of(pack, rule) {
        writeln!(out)?;
        table_page(table, look, out)?;
    }
    Ok(())
}

/// What a rule asks and with which limits, for those who write rules.
fn conditions(
    pack: &Pack,
    rule: &Rule,
    written: &[(String, String)],
    look: Look,
    out: &mut dyn Write,
) -> io::Result<()> {
    let mut part = |name: &str, text: &str| part(name, text, look, out);
    for (name, key) in [("When", "when"), ("Needs", "needs")] {
        if let Some((_, text)) = written.iter().find(|(written, _)| written == key) {
            part(name, &visible(&one_line(text)))?;
        }
    }
    for exception in pack.exceptions(rule) {
        part("Except", &visible(&one_line(&exception.when.text)))?;
        part("Because", &visible(&one_line(&exception.because.text)))?;
    }
    for (index, constant) in rule.constants.iter().enumerate() {
        let name = if index == 0 { "With" } else { "" };
        part(name, &visible(&format!("{} = {}", constant.name, constant.value.show())))?;
    }
    if let Some(source) = pack.sources().get(&rule.span.file) {
        part("File", &format!("{}, line {}", visible(&source.name), source.position(rule.span.start as usize).line))?;
    }
    Ok(())
}

/// Long conditions are written on several lines.
pub fn one_line(text: &str) -> String {
    text.lines().map(str::trim).collect::<Vec<_>>().join(" ")
}

/// A sentence with `{b}` for `{a * (b / a)}`, which is how a rule writes that `b` is shown in the unit of `a`.
fn without_conversions(sentence: &str) -> String {
    let mut shown = String::with_capacity(sentence.len());
    for part in sentence.split_inclusive('}') {
        let (text, expression) = part.strip_suffix('}').and_then(|part| part.rsplit_once('{')).unwrap_or((part, ""));
        let converted =
            expression.split_once(" * (").and_then(|(unit, rest)| rest.strip_suffix(&format!(" / {unit})")));
        match converted {
            Some(value) => shown.push_str(&format!("{text}{{{value}}}")),
            None => shown.push_str(part),
        }
    }
    shown
}

/// What a finding means that no rule makes.
///
/// # Errors
/// Those of `out`.
pub fn text_page(page: &Page, look: Look, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{}: {}", page.id, page.title)?;
    for (name, text) in [("Level", page.level.word()), ("Means", page.says), ("To do", page.fix)] {
        part(name, text, look, out)?;
    }
    match page.unread {
        true => part("Accepted", "it cannot be waived or put on a list of known findings", look, out),
        false => Ok(()),
    }
}

/// A table with the status of each row. What it does not list it has no opinion of.
fn table_page(table: &Table, look: Look, out: &mut dyn Write) -> io::Result<()> {
    let title = if table.title.is_empty() { String::new() } else { format!(": {}", visible(&table.title)) };
    let (indent, inner) = if look.narrate { ("", "") } else { ("  ", "    ") };
    writeln!(out, "{}", wrap(&format!("Table {}{title}", visible(&table.name)), indent, look.width))?;
    for basis in &table.basis {
        writeln!(out, "{}", wrap(&words::basis(basis), inner, look.width))?;
    }
    let head: Vec<String> =
        table.keys.iter().map(|key| key.name.to_string()).chain(["value".into(), "known".into()]).collect();
    let rows = table.rows.iter().map(|row| {
        let keys = row.keys.iter().map(|key| key.as_ref().map_or("any".to_owned(), |key| key.show()));
        keys.chain([row.value.show(), row.known.word().to_owned()]).collect::<Vec<String>>()
    });
    let rows: Vec<Vec<String>> = match look.narrate {
        // Nobody hears the head of a column.
        true => rows.map(|row| row.iter().zip(&head).map(|(cell, name)| format!("{name} {cell}")).collect()).collect(),
        false => [head].into_iter().chain(rows).collect(),
    };
    columns(&rows, inner, look, out)?;
    writeln!(out, "{inner}Where the table has no row, the rule reports nothing.")
}

/// What rules may ask of one kind of thing, or of every kind.
///
/// # Errors
/// Those of `out`.
pub fn field_list(pack: &Pack, kinds: &[Kind], look: Look, out: &mut dyn Write) -> io::Result<()> {
    for (number, kind) in kinds.iter().enumerate() {
        if number > 0 {
            writeln!(out)?;
        }
        writeln!(out, "{}", kind.word())?;
        let fields = fields_of(*kind, &pack.words);
        let width = fields.iter().map(|field| field.name.len()).max().unwrap_or(0);
        for field in fields {
            let about = if field.about.is_empty() { String::new() } else { format!(": {}", field.about) };
            let text = visible(&format!("{}{about}", field.of)).into_owned();
            match look.narrate {
                true => part(field.name, &text, look, out)?,
                false => writeln!(out, "{}", wrap(&text, &format!("  {:<width$}  ", field.name), look.width))?,
            }
        }
        if !kind.places().is_empty() {
            let first = if look.narrate { "Parts for `at`: " } else { "  parts for `at`: " };
            writeln!(out, "{}", wrap(&kind.places().join(", "), first, look.width))?;
        }
    }
    Ok(())
}

/// The texts of a rule as its file has them.
fn written(file: &str, id: &str) -> Vec<(String, String)> {
    let (table, _) = DeTable::parse_recoverable(file);
    let rules = table.get_ref().get("rule").and_then(|rules| rules.get_ref().as_array());
    let tables = rules.into_iter().flat_map(|rules| rules.iter()).filter_map(|rule| rule.get_ref().as_table());
    let of = |table: &DeTable<'_>| {
        let texts = table
            .iter()
            .filter_map(|(key, value)| Some((key.get_ref().to_string(), value.get_ref().as_str()?.to_owned())));
        texts.collect::<Vec<_>>()
    };
    tables.map(of).find(|texts| texts.iter().any(|(key, text)| key == "id" && text == id)).unwrap_or_default()
}

/// The tables that the expressions of a rule look into.
pub fn tables_of<'a>(pack: &'a Pack, rule: &Rule) -> Vec<&'a Table> {
    let source = pack.sources().get(&rule.span.file);
    let written = source.map(|source| written(&source.text, &rule.id)).unwrap_or_default();
    pack.tables.iter().filter(|table| asks(&written, &table.name)).collect()
}

/// Whether an expression of the rule looks into a table.
fn asks(written: &[(String, String)], table: &str) -> bool {
    let names = |text: &str| {
        text.split("lookup(").skip(1).any(|rest| {
            rest.trim_start().strip_prefix(table).is_some_and(|rest| rest.trim_start().starts_with([',', ')']))
        })
    };
    written.iter().any(|(_, text)| names(text))
}
