//! How a project adjusts the rules: another limit, another level, or a rule switched off, each with its reason.

use std::sync::Arc;

use toml::de::DeTable;

use crate::finding::{Basis, Finding, Known, Level};
use crate::model::Name;
use crate::rules::assumed::AssumedTable;
use crate::rules::constant::Constant;
use crate::rules::expression::ExprType;
use crate::rules::written::{ASSUMED, Literal, TomlReader, read_literal};
use crate::rules::{Message, Pack, Rule};
use crate::text::{Source, Span};

/// One `[adjust.RULE]` of a project's file.
#[derive(Clone, Debug)]
pub struct Adjustment {
    pub rule: Name,
    pub rule_span: Span,
    pub because: String,
    pub level: Option<Level>,
    pub off: bool,
    /// Constants with their new values, and where the name and the value are in the text.
    pub constants: Vec<(Name, Span, Literal, Span)>,
}

impl Adjustment {
    /// `least = 50 mm, level = note`
    pub fn change(&self) -> String {
        let constants = self.constants.iter().map(|(name, _, value, _)| format!("{name} = {}", value.show()));
        let level = self.level.map(|level| format!("level = {}", level.word()));
        constants.chain(level).chain(self.off.then(|| "off".to_owned())).collect::<Vec<_>>().join(", ")
    }
}

/// Reads the table `adjust` of a project's file: a table for each rule.
pub fn read_adjustments(source: &Arc<Source>, adjust: &DeTable<'_>) -> Result<Vec<Adjustment>, Vec<Finding>> {
    let mut reader = TomlReader { source, problems: Vec::new() };
    let mut adjustments = Vec::new();
    for (key, value) in adjust.iter() {
        let rule_span = reader.span(key.span());
        match value.get_ref().as_table() {
            Some(table) => adjustments.extend(read(&mut reader, key.get_ref(), rule_span, table)),
            None => reader.problems.push(Message::AdjustmentNotATable { rule: key.get_ref() }.at(rule_span)),
        }
    }
    reader.problems.sort_by_key(|f| f.span);
    if reader.problems.is_empty() { Ok(adjustments) } else { Err(reader.problems) }
}

fn read(reader: &mut TomlReader<'_>, rule: &str, rule_span: Span, table: &DeTable<'_>) -> Option<Adjustment> {
    let before = reader.problems.len();
    let refuse = |reader: &mut TomlReader<'_>, span, message: Message<'_>| reader.problem(message.at(span));
    let mut adjustment = Adjustment {
        rule: rule.into(),
        rule_span,
        because: String::new(),
        level: None,
        off: false,
        constants: Vec::new(),
    };
    for (key, value) in table.iter() {
        let (name, key_span, span) = (&**key.get_ref(), reader.span(key.span()), reader.span(value.span()));
        match (name, value.get_ref().as_str(), value.get_ref().as_bool()) {
            ("because", Some(text), _) if text.contains(char::is_alphanumeric) => adjustment.because = text.to_string(),
            ("because", ..) => refuse(reader, span, Message::BecauseNotAReason),
            ("off", _, Some(off)) => adjustment.off = off,
            ("off", ..) => refuse(reader, span, Message::OffNotYesNo),
            ("level", text, _) => match text.and_then(Level::from_word) {
                Some(level) => adjustment.level = Some(level),
                None => refuse(reader, span, Message::LevelNotALevel),
            },
            _ => match read_literal(value, reader) {
                Ok(literal) => adjustment.constants.push((name.into(), key_span, literal, span)),
                Err(finding) => reader.problems.push(*finding),
            },
        }
    }
    if !table.contains_key("because") {
        refuse(reader, rule_span, Message::NoReason { rule });
    }
    (reader.problems.len() == before).then_some(adjustment)
}

impl Pack {
    /// Applies adjustments. If some cannot be made, changes nothing and returns all of their problems.
    pub fn adjust(&mut self, adjustments: &[Adjustment]) -> Result<(), Vec<Finding>> {
        let problems: Vec<Finding> = adjustments.iter().flat_map(|a| self.refusals(a)).collect();
        if !problems.is_empty() {
            return Err(problems);
        }
        for adjustment in adjustments {
            if *adjustment.rule == *ASSUMED {
                self.assumed_table = self.assuming(adjustment);
                if let Ok(assumed) = self.assumed_table.settle(&self.words) {
                    self.assumed = Arc::new(assumed);
                }
            }
            if let Some(rule) = self.rules.iter_mut().find(|rule| rule.id == adjustment.rule) {
                apply(rule, adjustment);
            }
        }
        self.index();
        Ok(())
    }

    fn refusals(&self, adjustment: &Adjustment) -> Vec<Finding> {
        if *adjustment.rule == *ASSUMED {
            return self.assumed_refusals(adjustment);
        }
        let Some(rule) = self.rule(&adjustment.rule) else {
            let known: Vec<&str> = self.rules.iter().map(|rule| &*rule.id).collect();
            let message = Message::UnknownRule { name: &adjustment.rule, known: &known };
            return vec![message.at(adjustment.rule_span)];
        };
        adjustment.constants.iter().filter_map(|constant| self.refusal(rule, constant)).collect()
    }

    /// The assumed values as adjusted.
    fn assuming(&self, adjustment: &Adjustment) -> AssumedTable {
        let mut table = self.assumed_table.clone();
        let mut changes = Vec::new();
        for (name, name_span, value, span) in &adjustment.constants {
            let known = table.constants.iter_mut().find(|constant| constant.name == *name);
            match known {
                Some(constant) => {
                    changes.push(format!("{name} {} instead of {}", value.show(), constant.value.show()));
                    (constant.value, constant.span) = (value.clone(), *span);
                }
                None => table.constants.push(Constant {
                    name: name.clone(),
                    name_span: *name_span,
                    value: value.clone(),
                    span: *span,
                    lists: Vec::new(),
                    used: true,
                }),
            }
        }
        table.adjusted.push(format!("{}: {}", changes.join(", "), adjustment.because));
        table
    }

    fn assumed_refusals(&self, adjustment: &Adjustment) -> Vec<Finding> {
        if adjustment.level.is_some() || adjustment.off {
            return vec![Message::AssumedHasNoLevel.at(adjustment.rule_span)];
        }
        self.assuming(adjustment).settle(&self.words).err().unwrap_or_default()
    }

    fn refusal(&self, rule: &Rule, (name, name_span, value, span): &(Name, Span, Literal, Span)) -> Option<Finding> {
        let constants = rule.constants_in_use();
        let Some(constant) = constants.iter().find(|c| c.name == *name) else {
            let known: Vec<&str> = constants.iter().map(|c| &*c.name).chain(["because", "level", "off"]).collect();
            return Some(Message::UnknownConstant { rule: &rule.id, name, known: &known }.at(*name_span));
        };
        let (expected, found) = (constant.of(), ExprType::of(value));
        if expected != found {
            let value = (&*constant.value.show(), constant.span);
            return Some(Message::WrongValue { rule: &rule.id, name, found, expected, value }.at(*span));
        }
        let words: &[Name] = match value {
            Literal::Word(word) => std::slice::from_ref(word),
            Literal::Words(words) => words,
            _ => &[],
        };
        let lists = || constant.lists.iter();
        let stranger = words.iter().find_map(|w| Some((w, lists().find(|l| !l.has(w, &self.words, &self.tables))?)));
        stranger.map(|(word, list)| {
            let known = list.list(&self.words, &self.tables).unwrap_or_default();
            Message::WordNotInList { word, known: &known }.at(*span)
        })
    }
}

fn apply(rule: &mut Rule, adjustment: &Adjustment) {
    let mut changes = Vec::new();
    for (name, _, value, _) in &adjustment.constants {
        if let Some(constant) = rule.constants.iter_mut().find(|c| c.name == *name) {
            changes.push(format!("{name} {} instead of {}", value.show(), constant.value.show()));
            constant.value = value.clone();
        }
    }
    if let Some(level) = adjustment.level {
        changes.push(format!("{} instead of {}", level.word(), rule.level.word()));
        rule.level = level;
    }
    if adjustment.off {
        changes.push("switched off".to_string());
        rule.off = true;
    }
    // Each finding shows the reason, so that no one mistakes a project's limit for the published one.
    let says = format!("{}: {}", changes.join(", "), adjustment.because);
    let own = Basis { source: "this project".into(), clause: None, says: Some(says.clone()), known: Known::Practice };
    let wording = rule.wording_mut();
    Arc::make_mut(&mut wording.basis).push(own);
    rule.adjusted.push(says);
}
