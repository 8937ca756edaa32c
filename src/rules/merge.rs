//! Merges rule files: a firm's rules are added to the stock ones, or replace them.

use crate::finding::Finding;
use crate::model::{DetailKind, Name, Words};
use crate::rules::Message;
use crate::rules::assumed::AssumedTable;
use crate::rules::written::{Quoted, RawFile, RawKind, RawRule, RawTable};
use crate::text::Span;

/// Files that were read and whose names were resolved; nothing else is checked yet. The flag marks a firm's own.
#[derive(Default)]
pub struct MergedFiles<'s> {
    pub rules: Vec<(bool, RawRule<'s>)>,
    pub tables: Vec<(bool, RawTable<'s>)>,
    kinds: Vec<RawKind<'s>>,
    surfaces: Vec<Quoted<'s>>,
    substances: Vec<Quoted<'s>>,
    adhesives: Vec<Quoted<'s>>,
    roles: Vec<Quoted<'s>>,
    pub assumed: Option<AssumedTable>,
    pub replaced: Vec<(Name, Span)>,
}

impl<'s> MergedFiles<'s> {
    pub fn add(&mut self, file: RawFile<'s>, firm: bool, problems: &mut Vec<Finding>) {
        let names = file.rules.iter().map(|rule| (&rule.id, rule.replaces));
        let names = names.chain(file.tables.iter().map(|table| (&table.name, table.replaces)));
        let replacing = names.filter(|(_, replaces)| firm && *replaces);
        self.replaced.extend(replacing.map(|(name, _)| (name.text.as_ref().into(), name.whole)));
        for rule in file.rules {
            let (name, replaces) = (rule.id.clone(), rule.replaces);
            place(&mut self.rules, rule, firm, "rule", (&name, replaces), |r| &r.id, problems);
        }
        for table in file.tables {
            let (name, replaces) = (table.name.clone(), table.replaces);
            place(&mut self.tables, table, firm, "table", (&name, replaces), |t| &t.name, problems);
        }
        for kind in file.kinds {
            match self.kinds.iter().find(|known| known.name.text == kind.name.text) {
                Some(known) => problems.push(twice("kind", &kind.name, &known.name, false)),
                None => self.kinds.push(kind),
            }
        }
        match (file.assumed, &self.assumed) {
            (Some(again), Some(first)) => problems.push(Message::AssumedTwice { first: first.span }.at(again.span)),
            (Some(table), None) => self.assumed = Some(table.into()),
            (None, _) => {}
        }
        self.surfaces.extend(file.surfaces);
        self.substances.extend(file.substances);
        self.adhesives.extend(file.adhesives);
        self.roles.extend(file.roles);
    }

    pub fn words(&self) -> Words {
        let names = |list: &[Quoted<'_>]| {
            let mut names: Vec<Name> = list.iter().map(|q| q.text.as_ref().into()).collect();
            names.sort();
            names.dedup();
            names
        };
        let kind = |kind: &RawKind<'_>| {
            (kind.name.text.as_ref().into(), DetailKind { title: kind.title.text.to_string(), weather: kind.weather })
        };
        let mut rules: Vec<Name> = self.rules.iter().map(|(_, r)| r.id.text.as_ref().into()).collect();
        rules.sort();
        Words {
            kinds: self.kinds.iter().map(kind).collect(),
            surfaces: names(&self.surfaces),
            substances: names(&self.substances),
            adhesives: names(&self.adhesives),
            roles: names(&self.roles),
            rules,
            climate: None,
        }
    }
}

/// Adds a named thing, or replaces a stock one by the firm's own that says `replaces`.
fn place<'s, T>(
    list: &mut Vec<(bool, T)>,
    new: T,
    firm: bool,
    what: &str,
    (name, replaces): (&Quoted<'s>, bool),
    name_of: impl for<'t> Fn(&'t T) -> &'t Quoted<'s>,
    problems: &mut Vec<Finding>,
) {
    let known = list.iter().position(|(_, old)| name_of(old).text == name.text);
    match known {
        Some(at) if firm && replaces && !list[at].0 => list[at] = (true, new),
        Some(at) => problems.push(twice(what, name, name_of(&list[at].1), firm && !list[at].0)),
        None if replaces => {
            let known: Vec<&str> = list.iter().map(|(_, old)| &*name_of(old).text).collect();
            problems.push(Message::NothingToReplace { what, name: &name.text, known: &known }.at(name.whole));
        }
        None => list.push((firm, new)),
    }
}

fn twice(what: &str, name: &Quoted<'_>, first: &Quoted<'_>, may_replace: bool) -> Finding {
    Message::Duplicate { what, name: &name.text, first: first.whole, may_replace }.at(name.whole)
}
