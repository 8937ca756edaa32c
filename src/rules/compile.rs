//! Checks a rule as written against the known kinds of things, tables and words.

use crate::facts::vocabulary::{Kind, field};
use crate::finding::{Finding, Level};
use crate::model::Words;
use crate::rules::constant::Constant;
use crate::rules::expression::{Code, TypeChecker};
use crate::rules::place::FindingPlace;
use crate::rules::rule::{Requirement, Rule, Wording};
use crate::rules::table::Table;
use crate::rules::template::Template;
use crate::rules::written::{Expr, Quoted, RULE_KEYS, RawRule, Written, parse};
use crate::rules::{Message, WrittenMessage};

/// Checks a rule, or returns all of its problems.
pub fn compile(raw: RawRule<'_>, tables: &[Table], words: &Words) -> Result<Rule, Vec<Finding>> {
    let mut problems = Vec::new();
    compile_into(raw, tables, words, &mut problems).filter(|_| problems.is_empty()).ok_or(problems)
}

/// The same in spite of problems, as long as a rule can be made of it.
pub fn compile_leniently(raw: RawRule<'_>, tables: &[Table], words: &Words) -> Option<Rule> {
    compile_into(raw, tables, words, &mut Vec::new())
}

fn compile_into(mut raw: RawRule<'_>, tables: &[Table], words: &Words, problems: &mut Vec<Finding>) -> Option<Rule> {
    check_id(&raw.id, problems);
    let level = Level::from_word(&raw.level.text);
    if level.is_none() {
        problems.push(Message::NotALevel { word: &raw.level.text }.at(raw.level.whole));
    }
    let Some(about) = Kind::from_word(&raw.about.text) else {
        problems.push(Message::NotAKind { word: &raw.about.text }.at(raw.about.whole));
        return None;
    };
    let mut constants: Vec<Constant> = std::mem::take(&mut raw.constants).into_iter().map(Constant::from).collect();
    for constant in constants.iter().filter(|c| field(about, &c.name).is_some()) {
        problems.push(Message::HidesField { name: &constant.name }.at(constant.name_span));
    }
    let mut checker =
        TypeChecker { unreadable: &raw.unreadable, ..TypeChecker::new(about, &mut constants, tables, words) };
    let when = match raw.except.is_empty() {
        true => raw.when.as_ref().map(|text| condition(text, &mut checker)),
        false => Some(match raw.looked_at() {
            Ok(expr) => checker.yes_no(&expr),
            Err(found) => {
                checker.problems.extend(found);
                None
            }
        }),
    };
    let needs = condition(&raw.needs, &mut checker);
    let says = Template::compile(&raw.says, &mut checker);
    let fix = raw.fix.as_ref().map(|text| Template::compile(text, &mut checker));
    let per = raw.per.as_ref().map(|text| any_value(text, &mut checker));
    let mut found = checker.problems;
    let at = FindingPlace::resolve(raw.at.as_ref(), about, &mut found);
    if found.is_empty() {
        found.extend(constants.iter().filter(|c| !c.used).map(unused));
    }
    problems.extend(found);
    let (when, needs) = (when.map_or(Some(None), |when| when.map(Some))?, needs?);
    let per = per.map_or(Some(None), |per| per.map(Some))?;
    let requirement = Requirement::of(when, needs, constants);
    let wording = Wording { says, fix, at: at?, per, basis: raw.basis.into() };
    Some(Rule::read((&raw.id, &raw.title), level?, about, requirement, wording))
}

fn check_id(id: &Quoted<'_>, problems: &mut Vec<Finding>) {
    let good = id.text.starts_with(|c: char| c.is_ascii_lowercase())
        && id.text.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
    if !good {
        problems.push(Message::NotAnId { id: &id.text }.at(id.whole));
    }
}

pub fn condition(form: &Written<'_, Expr<'_>>, checker: &mut TypeChecker<'_>) -> Option<Code> {
    read_and(form, checker, |checker, expr| checker.yes_no(expr))
}

pub fn any_value(form: &Written<'_, Expr<'_>>, checker: &mut TypeChecker<'_>) -> Option<Code> {
    read_and(form, checker, |checker, expr| checker.check(expr).map(|(code, _)| code))
}

fn read_and<'c>(
    form: &Written<'_, Expr<'_>>,
    checker: &mut TypeChecker<'c>,
    check: impl FnOnce(&mut TypeChecker<'c>, &Expr<'_>) -> Option<Code>,
) -> Option<Code> {
    match form {
        Written::Read(expr) => check(checker, expr),
        Written::Written(text) => match parse(text, 0..text.text.len()) {
            Ok(expr) => check(checker, &expr),
            Err(finding) => {
                checker.problems.push(*finding);
                None
            }
        },
    }
}

/// A constant that nothing uses is either a leftover or a misspelled key.
fn unused(constant: &Constant) -> Finding {
    match crate::text::nearest(&constant.name, RULE_KEYS) {
        Some(_) => WrittenMessage::no_key_of_rules(&constant.name).at(constant.name_span),
        None => Message::UnusedConstant { name: &constant.name }.at(constant.name_span),
    }
}
