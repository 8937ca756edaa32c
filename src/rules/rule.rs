//! A rule whose every part has been checked, ready to be asked.

use std::ops::{Deref, DerefMut};
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Arc, OnceLock};

use crate::facts::vocabulary::{Field, Item, Kind, Type, Value, field};
use crate::finding::{Basis, Finding, Level};
use crate::model::{Name, Words};
use crate::rules::constant::Constant;
use crate::rules::expression::{Checker, Code, shared};
use crate::rules::stock::Grounds;
use crate::rules::table::Table;
use crate::rules::template::Template;
use crate::rules::written::{Expr, Form, Head, Quoted, RULE_KEYS, RawAsks, RawRule, RawTells, parse, read_prepared};
use crate::rules::{Message, WrittenMessage};
use crate::text::Span;

/// What it asks is its target: of a stock rule it is read when somebody asks for it, since most rules are not about a text
/// that is reviewed.
pub struct Rule {
    pub id: Name,
    pub title: Name,
    pub level: Level,
    pub about: Kind,
    /// A project has switched it off.
    pub off: bool,
    /// The id in its file.
    pub span: Span,
    /// What a project has changed, and why.
    pub adjusted: Vec<String>,
    asks: OnceLock<Asks>,
    tells: OnceLock<Tells>,
    stored: Option<Stored>,
}

/// Where a stock rule is read from.
struct Stored {
    /// The common conditions that have to be true for it to look at a thing, a bit for each.
    conditions: u128,
    asks: &'static [u8],
    tells: &'static [u8],
    grounds: Arc<Grounds>,
    /// How often it has been held against those conditions.
    came_up: AtomicU32,
}

/// What a rule asks.
pub struct Asks {
    /// The condition for looking at a thing; without one, every thing of the kind.
    pub when: Option<Code>,
    /// What has to be so.
    pub needs: Code,
    /// `when` searches lists and `needs` does not, so that it is asked first: most things are as they have to be.
    pub needs_first: bool,
    /// It finds fault with something that is not there. In a detail that could not be read whole that proves nothing.
    pub about_absence: bool,
    pub constants: Vec<Constant>,
}

/// What it says of a thing that fails it.
pub struct Tells {
    pub says: Template,
    pub fix: Option<Template>,
    pub at: Place,
    /// Findings with the same value of this become one.
    pub per: Option<Code>,
    pub basis: Arc<[Basis]>,
}

/// So often a stock rule is held against the conditions that it shares with others before it is read: that costs as much as
/// some dozens of such answers.
const OFTEN: u32 = 50;

const TESTED: &str = "what is built in has been tested";

impl Rule {
    /// A stock rule, of which no more than its head is read.
    pub fn stored(head: &Head<'static>, grounds: &Arc<Grounds>) -> Rule {
        let Head { id, title, level, about, conditions, asks, tells, .. } = head;
        Rule {
            id: id.text.as_ref().into(),
            title: title.text.as_ref().into(),
            level: Level::from_word(&level.text).expect(TESTED),
            about: Kind::from_word(&about.text).expect(TESTED),
            off: false,
            span: id.whole,
            adjusted: Vec::new(),
            asks: OnceLock::new(),
            tells: OnceLock::new(),
            stored: Some(Stored {
                conditions: *conditions,
                asks,
                tells,
                grounds: grounds.clone(),
                came_up: AtomicU32::new(0),
            }),
        }
    }

    /// The shared conditions that have to be true for it to look at a thing, a bit for each.
    pub fn conditions(&self) -> u128 {
        self.stored.as_ref().map_or_else(|| self.when.as_ref().map_or(0, shared), |stored| stored.conditions)
    }

    /// Whether what it asks has been read.
    pub fn is_read(&self) -> bool {
        self.asks.get().is_some()
    }

    /// Whether it holds a field of this name against this word, for any thing that it looks at.
    pub fn compares(&self, field: &str, word: &str) -> bool {
        let conditions = self.when.iter().chain([&self.needs]);
        conditions.into_iter().any(|code| code.compares(field, word, &self.constants))
    }

    /// Whether to ask it at once: it has been read, or has come up so often that to hold it against shared conditions first
    /// has cost more than to read it.
    pub fn is_wanted(&self) -> bool {
        let often = |stored: &Stored| stored.came_up.fetch_add(1, Ordering::Relaxed) >= OFTEN;
        self.is_read() || self.stored.as_ref().is_none_or(often)
    }

    fn asks(&self) -> &Asks {
        self.asks.get_or_init(|| self.stored.as_ref().expect(TESTED).asks(self.about))
    }

    pub fn tells(&self) -> &Tells {
        self.tells.get_or_init(|| self.stored.as_ref().expect(TESTED).tells(self.about, &self.constants))
    }

    pub fn tells_mut(&mut self) -> &mut Tells {
        self.tells();
        self.tells.get_mut().expect(TESTED)
    }
}

impl Deref for Rule {
    type Target = Asks;

    fn deref(&self) -> &Asks {
        self.asks()
    }
}

impl DerefMut for Rule {
    fn deref_mut(&mut self) -> &mut Asks {
        self.asks();
        self.asks.get_mut().expect(TESTED)
    }
}

impl Stored {
    fn asks(&self, about: Kind) -> Asks {
        let RawAsks { when, needs, constants } = read_prepared(self.asks);
        // All are used somewhere.
        let used = |constant| Constant { used: true, ..Constant::from(constant) };
        let mut constants: Vec<Constant> = constants.into_iter().map(used).collect();
        let mut checker = self.grounds.checker(about, &mut constants);
        let when = when.as_ref().map(|form| condition(form, &mut checker).expect(TESTED));
        let needs = condition(&needs, &mut checker).expect(TESTED);
        Asks::of(when, needs, constants)
    }

    fn tells(&self, about: Kind, constants: &[Constant]) -> Tells {
        let RawTells { says, fix, at, per, basis } = read_prepared(self.tells);
        let mut constants = constants.to_vec();
        let mut checker = self.grounds.checker(about, &mut constants);
        Tells {
            says: Template::compile(&says, &mut checker),
            fix: fix.as_ref().map(|fix| Template::compile(fix, &mut checker)),
            per: per.as_ref().map(|per| any_value(per, &mut checker).expect(TESTED)),
            at: Place::resolve(at.as_ref(), about, &mut Vec::new()).expect(TESTED),
            basis: basis.into(),
        }
    }
}

impl Asks {
    fn of(when: Option<Code>, needs: Code, constants: Vec<Constant>) -> Asks {
        Asks {
            needs_first: when.as_ref().is_some_and(Code::searches) && !needs.searches(),
            about_absence: needs.could_be() || when.as_ref().is_some_and(Code::rests_on_others),
            when,
            needs,
            constants,
        }
    }
}

/// Where a finding points: a path of fields from the fact, then a part of what it reaches.
#[derive(PartialEq)]
pub struct Place {
    path: Vec<&'static Field>,
    part: Option<&'static str>,
}

/// Checks a rule, or returns all of its problems.
pub fn compile(raw: RawRule<'_>, tables: &[Table], words: &Words) -> Result<Rule, Vec<Finding>> {
    let mut problems = Vec::new();
    compile_into(raw, tables, words, &mut problems).filter(|_| problems.is_empty()).ok_or(problems)
}

fn compile_into(raw: RawRule<'_>, tables: &[Table], words: &Words, problems: &mut Vec<Finding>) -> Option<Rule> {
    check_id(&raw.id, problems);
    let level = Level::from_word(&raw.level.text);
    if level.is_none() {
        problems.push(Message::NotALevel { word: &raw.level.text }.at(raw.level.whole));
    }
    let Some(about) = Kind::from_word(&raw.about.text) else {
        problems.push(Message::NotAKind { word: &raw.about.text }.at(raw.about.whole));
        return None;
    };
    let mut constants: Vec<Constant> = raw.constants.into_iter().map(Constant::from).collect();
    for constant in constants.iter().filter(|c| field(about, &c.name).is_some()) {
        problems.push(Message::HidesField { name: &constant.name }.at(constant.name_span));
    }
    let mut checker = Checker {
        scopes: vec![about],
        constants: &mut constants,
        unreadable: &raw.unreadable,
        tables,
        words,
        common: &[],
        problems: Vec::new(),
    };
    let when = raw.when.as_ref().map(|text| condition(text, &mut checker));
    let needs = condition(&raw.needs, &mut checker);
    let says = Template::compile(&raw.says, &mut checker);
    let fix = raw.fix.as_ref().map(|text| Template::compile(text, &mut checker));
    let per = raw.per.as_ref().map(|text| any_value(text, &mut checker));
    let mut found = checker.problems;
    let at = Place::resolve(raw.at.as_ref(), about, &mut found);
    if found.is_empty() {
        found.extend(constants.iter().filter(|c| !c.used).map(unused));
    }
    problems.extend(found);
    let (when, needs) = (when.map_or(Some(None), |when| when.map(Some))?, needs?);
    let per = per.map_or(Some(None), |per| per.map(Some))?;
    Some(Rule {
        id: raw.id.text.as_ref().into(),
        title: raw.title.text.as_ref().into(),
        level: level?,
        about,
        off: false,
        span: raw.id.whole,
        adjusted: Vec::new(),
        asks: Asks::of(when, needs, constants).into(),
        tells: Tells { says, fix, at: at?, per, basis: raw.basis.into() }.into(),
        stored: None,
    })
}

fn check_id(id: &Quoted<'_>, problems: &mut Vec<Finding>) {
    let good = id.text.starts_with(|c: char| c.is_ascii_lowercase())
        && id.text.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
    if !good {
        problems.push(Message::NotAnId { id: &id.text }.at(id.whole));
    }
}

fn condition(form: &Form<'_, Expr<'_>>, checker: &mut Checker<'_>) -> Option<Code> {
    read_and(form, checker, |checker, expr| checker.yes_no(expr))
}

fn any_value(form: &Form<'_, Expr<'_>>, checker: &mut Checker<'_>) -> Option<Code> {
    read_and(form, checker, |checker, expr| checker.check(expr).map(|(code, _)| code))
}

fn read_and<'c>(
    form: &Form<'_, Expr<'_>>,
    checker: &mut Checker<'c>,
    check: impl FnOnce(&mut Checker<'c>, &Expr<'_>) -> Option<Code>,
) -> Option<Code> {
    match form {
        Form::Read(expr) => check(checker, expr),
        Form::Written(text) => match parse(text, 0..text.text.len()) {
            Ok(expr) => check(checker, &expr),
            Err(finding) => {
                checker.problems.push(*finding);
                None
            }
        },
    }
}

/// A constant that nothing uses is either left over or a key that was misspelt.
fn unused(constant: &Constant) -> Finding {
    match crate::text::nearest(&constant.name, RULE_KEYS) {
        Some(_) => WrittenMessage::no_key_of_rules(&constant.name).at(constant.name_span),
        None => Message::UnusedConstant { name: &constant.name }.at(constant.name_span),
    }
}

impl Place {
    /// `over`, `over.up`, `.grade`, or nothing: the fact itself. The last name is a part before it is a field; of
    /// several things the first carries the finding.
    fn resolve(text: Option<&Quoted<'_>>, about: Kind, problems: &mut Vec<Finding>) -> Option<Place> {
        let mut place = Place { path: Vec::new(), part: None };
        let Some(quoted) = text.filter(|quoted| !quoted.text.trim().is_empty()) else { return Some(place) };
        let (mut kind, mut start) = (about, 0);
        let names: Vec<&str> = quoted.text.split('.').collect();
        for (at, name) in names.iter().enumerate() {
            let span = quoted.span(start, start + name.len());
            start += name.len() + 1;
            let last = at + 1 == names.len();
            if name.is_empty() && at == 0 && !last || *name == kind.word() && place.path.is_empty() && at == 0 {
                continue;
            }
            let part = kind.places().iter().find(|part| **part == *name);
            match (part, field(kind, name).map(|f| (f, f.of))) {
                (Some(part), _) if last => place.part = Some(part),
                (_, Some((step, Type::Item(next) | Type::Items(next)))) => {
                    place.path.push(step);
                    kind = next;
                }
                (_, found) => {
                    let message = match found {
                        Some(_) => Message::NoPlace { kind, name },
                        None => Message::UnknownPlace { kind, name },
                    };
                    problems.push(message.at(span));
                    return None;
                }
            }
        }
        Some(place)
    }

    /// The thing that carries the finding, and its words. A thing that is not there leaves the finding at the fact.
    pub fn find<'a>(&self, fact: Item<'a>) -> (Item<'a>, Span) {
        let mut item = fact;
        for step in &self.path {
            match step.get(item) {
                Value::Item(next) => item = next,
                Value::Items(several) => match several.get(0) {
                    Some(first) => item = first,
                    None => return (fact, fact.span()),
                },
                _ => return (fact, fact.span()),
            }
        }
        (item, self.part.map_or_else(|| item.span(), |part| item.place(part)))
    }
}
