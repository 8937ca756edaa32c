//! Sentences with values in them: `{over} laps {under} by {length}`.

use crate::facts::vocabulary::{Fact, Kind, Value};
use crate::model::Name;
use crate::quantity::{Dimension, Quantity, System, Unit, unit_named};
use crate::rules::expression::{Code, Env, TypeChecker, value};
use crate::rules::written::{SentencePart, Written, read_sentence};
use crate::text::set_off;

/// A sentence whose expressions have been checked.
#[derive(PartialEq)]
pub struct Template {
    parts: Vec<TemplatePart>,
}

#[derive(PartialEq)]
enum TemplatePart {
    Text(Box<str>),
    Shown {
        code: Code,
        name: Name,
    },
    /// Left out where something in it is unknown.
    Aside(Template),
}

/// A sentence about one thing.
#[derive(Default)]
pub struct Sentence<'a> {
    pub text: String,
    /// The things that it names, in its order, each once.
    pub items: Vec<Fact<'a>>,
    /// The quantities that it shows, by the expression that gave them.
    pub values: Vec<(Name, String)>,
    /// True if everything in it was known.
    pub complete: bool,
}

impl Template {
    /// Checks the expressions of a sentence, after reading it if need be.
    pub fn compile(sentence: &Written<'_, Vec<SentencePart<'_>>>, checker: &mut TypeChecker<'_>) -> Template {
        match sentence {
            Written::Read(pieces) => Template::of(pieces, checker),
            Written::Written(quoted) => {
                let (pieces, problems) = read_sentence(quoted);
                checker.problems.extend(problems);
                Template::of(&pieces, checker)
            }
        }
    }

    fn of(pieces: &[SentencePart<'_>], checker: &mut TypeChecker<'_>) -> Template {
        let mut part = |piece: &SentencePart<'_>| match piece {
            SentencePart::Text(text) => Some(TemplatePart::Text(text.as_ref().into())),
            SentencePart::Shown { expr, name } => {
                checker.check(expr).map(|(code, _)| TemplatePart::Shown { code, name: (*name).into() })
            }
            SentencePart::Aside(pieces) => Some(TemplatePart::Aside(Template::of(pieces, checker))),
        };
        Template { parts: pieces.iter().filter_map(&mut part).collect() }
    }

    /// Fills it in for the thing in `env`; lengths of the rule are also given in the author's system of units.
    pub fn fill<'a>(&'a self, env: &Env<'_, 'a>, author: &'static Unit) -> Sentence<'a> {
        let mut sentence = Sentence { complete: true, ..Sentence::default() };
        for part in &self.parts {
            match part {
                TemplatePart::Text(text) => sentence.text.push_str(text),
                TemplatePart::Shown { code, name } => sentence.show(code, name, env, author),
                TemplatePart::Aside(aside) => sentence.add(aside.fill(env, author)),
            }
        }
        sentence
    }
}

/// The most things of a list that are named; the rest are counted.
const MOST_NAMED: usize = 20;

impl<'a> Sentence<'a> {
    fn show(&mut self, code: &'a Code, name: &Name, env: &Env<'_, 'a>, author: &'static Unit) {
        match value(code, env) {
            Value::Quantity(quantity) => {
                let shown = show_quantity(quantity, code, author, env.units);
                self.text.push_str(&shown);
                if !self.values.iter().any(|(known, _)| known == name) {
                    self.values.push((name.clone(), shown));
                }
            }
            Value::Fact(item) => self.name(item),
            Value::FactList(items) => {
                let count = items.count();
                // If sentences about each of a thousand pieces named all thousand, that would be a million names.
                let (named, others) =
                    if count > MOST_NAMED { (MOST_NAMED - 1, count - MOST_NAMED + 1) } else { (count, 0) };
                for (at, item) in items.iter().take(named).enumerate() {
                    self.text.push_str(separator(at, count));
                    self.name(item);
                }
                if others > 0 {
                    self.text.push_str(&format!(" and {others} others"));
                }
            }
            Value::Words(words) => {
                let words = words.words();
                if words.is_empty() {
                    self.text.push_str("nothing");
                }
                for (at, word) in words.iter().enumerate() {
                    self.text.push_str(separator(at, words.len()));
                    self.text.push_str(word);
                }
            }
            Value::Word(text) | Value::Text(text) => self.text.push_str(text),
            Value::YesNo(yes) => self.text.push_str(if yes { "yes" } else { "no" }),
            Value::Unknown(_) => {
                self.complete = false;
                self.text.push_str("unknown");
            }
        }
    }

    fn add(&mut self, aside: Sentence<'a>) {
        if aside.complete {
            self.text.push_str(&aside.text);
            self.items.extend(aside.items);
            self.values.extend(aside.values);
        }
    }

    fn name(&mut self, item: Fact<'a>) {
        let name = item.name();
        if said_already(&self.text, &name) {
            self.text.truncate(self.text.trim_end().len());
        } else {
            let within_code = self.text.matches('`').count() % 2 == 1;
            self.text.push_str(&if within_code { name.to_string() } else { in_sentence(item, &name) });
        }
        if !self.items.iter().any(|known| known.span() == item.span() && known.name() == item.name()) {
            self.items.push(item);
        }
    }
}

/// What a file names goes in backticks; a detail and an assembly go by a number, and a kind of detail and a rule are words.
fn in_sentence(item: Fact<'_>, name: &Name) -> String {
    match item.kind() {
        Kind::Assembly | Kind::Detail | Kind::Need | Kind::Waiver => name.to_string(),
        _ => set_off(name),
    }
}

/// Whether the noun that leads up to a name says as much: the pan that is called `pan`, the drip edge called `edge`.
fn said_already(text: &str, name: &str) -> bool {
    let Some((_, noun)) = text.rsplit_once("the ") else { return false };
    let (noun, name) = (noun.trim_end(), name.replace('-', " "));
    let last = noun.rsplit(' ').next().unwrap_or(noun);
    noun.split(' ').count() <= 2 && [noun, last].iter().any(|said| said.eq_ignore_ascii_case(&name))
}

/// What goes before the word at `at` in a list of `count`.
fn separator(at: usize, count: usize) -> &'static str {
    match at {
        0 => "",
        n if n + 1 == count => " and ",
        _ => ", ",
    }
}

/// A value of a fact in the unit of its author; a constant in the author's system, with what the rule writes beside it;
/// a result in inches rounded up to 1/8 in, so that following the advice is enough.
fn show_quantity(quantity: Quantity, code: &Code, author: &'static Unit, units: Option<System>) -> String {
    let inches = is_imperial(quantity.unit);
    match code {
        _ if quantity.dimension() != Dimension::Length => {
            units.map_or(quantity, |units| units.show(quantity)).to_string()
        }
        code if code.is_constant() && inches != is_imperial(author) => {
            format!("{} ({quantity})", in_other_system(quantity, !inches))
        }
        Code::Arithmetic(_) if inches => eighths(quantity, 0.0).to_string(),
        _ => quantity.to_string(),
    }
}

fn is_imperial(unit: &Unit) -> bool {
    matches!(unit.symbol, "in" | "ft" | "mil")
}

fn in_other_system(quantity: Quantity, imperial: bool) -> Quantity {
    let unit = |symbol: &str| unit_named(symbol).expect("in the unit table");
    let metres = quantity.si;
    let (unit, step) = match (imperial, metres.abs() < 0.003) {
        (true, true) => (unit("mil"), 1.0),
        (true, false) => return eighths(Quantity::from_si(metres, unit("in")), 0.16),
        (false, true) => (unit("mm"), 0.01),
        (false, false) => (unit("mm"), 1.0),
    };
    Quantity::of((Quantity::from_si(metres, unit).number() / step).round() * step, unit)
}

/// Inches rounded to the next eighth away from zero, or to the nearest one if it is within `slack` of an eighth (102 mm is the
/// trade's 4 in). Sixteenths stay as they are.
fn eighths(quantity: Quantity, slack: f64) -> Quantity {
    let inch = unit_named("in").expect("in the unit table");
    let count = Quantity::from_si(quantity.si, inch).number() * 8.0;
    if (count * 2.0 - (count * 2.0).round()).abs() < 1e-6 {
        return quantity;
    }
    let rounded =
        if (count - count.round()).abs() < slack { count.round() } else { count.abs().ceil() * count.signum() };
    let unit = if quantity.unit.symbol == "ft" { quantity.unit } else { inch };
    Quantity::from_si(rounded / 8.0 * inch.factor, unit)
}
