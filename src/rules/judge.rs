//! Evaluates rules on facts.

use std::cell::Cell;

use crate::facts::vocabulary::{Fact, Kind, Missing, Value};
use crate::finding::{Finding, Step};
use crate::rules::expression::{CandidateCache, Code, Env, Truth, cause, truth_of_parts, value};
use crate::rules::written::RuleSet;
use crate::rules::{Message, Pack, Rule};

/// The findings of a pack on some things: one for each thing that fails a rule, unsorted, and not yet merged by cause. Where a
/// rule needed a property that a material does not state, there is one `missing-property` note for each material and property.
pub fn judge<'a>(pack: &'a Pack, items: impl IntoIterator<Item = Fact<'a>>) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut missing = Vec::new();
    // The rules about a kind that the sieve leaves, for the detail and for the thing.
    let (mut of_detail, mut left) = (RuleSet::default(), RuleSet::default());
    let lists = CandidateCache::default();
    let mut before: Option<Fact<'a>> = None;
    let steps = Cell::new(MOST_STEPS);
    // `for_each` lets chained and nested iterators run as plain nested loops.
    items.into_iter().for_each(|item| {
        let kind = item.kind();
        if !pack.asks_about(kind) || item.doubtful() {
            return;
        }
        let together = before.replace(item).is_some_and(|before| lie_together(before, item));
        if !together {
            lists.forget();
            steps.set(MOST_STEPS);
        } else if steps.get() == 0 {
            return;
        }
        let (tables, units) = (&pack.tables[..], pack.units);
        let mut env = Env { item, outer: None, constants: &[], tables, lists: &lists, units, steps: &steps };
        let (about, sieve) = (pack.about(kind), pack.sieve(kind));
        if !together {
            of_detail.copy(&about.asked);
            sieve.by_detail(&env, &mut of_detail);
        }
        left.copy(&of_detail);
        sieve.by_thing(&env, &mut left);
        left.add(&about.adjusted);
        let in_doubt = item.detail().is_some_and(|detail| detail.doubtful);
        for rule in pack.among(kind, &left) {
            if in_doubt && rule.about_absence() {
                continue;
            }
            env.constants = &rule.constants;
            let truth = fails(rule, &env);
            if steps.get() == 0 {
                // A result that was cut short proves nothing.
                findings.push(too_large(item, &rule.id));
                return;
            }
            match truth {
                Truth::Yes => findings.push(finding_of(rule, &env)),
                Truth::No | Truth::Unknown => {}
                Truth::Missing => note(why(rule, &env), &mut missing),
            }
        }
    });
    findings.extend(missing.into_iter().map(|missing| missing_property(&missing)));
    findings
}

/// The rules that look at a thing, whether or not it fails them.
pub fn looking_at<'a>(pack: &'a Pack, item: Fact<'a>) -> Vec<&'a Rule> {
    let steps = Cell::new(MOST_STEPS);
    let (lists, tables) = (CandidateCache::default(), &pack.tables);
    let mut env = Env { item, outer: None, constants: &[], tables, lists: &lists, units: pack.units, steps: &steps };
    let rules = pack.among(item.kind(), &pack.about(item.kind()).asked);
    rules
        .filter(|rule| {
            env.constants = &rule.constants;
            rule.when.as_ref().is_none_or(|when| truth_of_parts(when, &env) == Truth::Yes)
        })
        .collect()
}

/// The most items of lists that rules may look at, for all things of one kind in a detail or for one thing elsewhere. It takes
/// about a second. The stock rules need some ten thousand for a large detail.
const MOST_STEPS: u64 = 20_000_000;

fn too_large(item: Fact<'_>, rule: &str) -> Finding {
    let span = item.detail().map_or(item.span(), |facts| facts.detail.name_span);
    Message::TooManySteps { rule, kind: item.kind(), most: MOST_STEPS }.at(span).item(item.home())
}

/// Whether two things are of one kind and lie in one detail.
fn lie_together(a: Fact<'_>, b: Fact<'_>) -> bool {
    match (a.detail(), b.detail()) {
        (Some(one), Some(other)) => std::ptr::eq(one, other) && a.kind() == b.kind(),
        _ => false,
    }
}

/// Whether the rule looks at a thing and the thing fails what the rule needs. Either part can settle it if the other is
/// unknown.
fn fails<'a>(rule: &'a Rule, env: &Env<'_, 'a>) -> Truth {
    if rule.needs_first && truth_of_parts(rule.needs(), env) == Truth::Yes {
        return Truth::No;
    }
    let looked_at = rule.when.as_ref().map_or(Truth::Yes, |when| truth_of_parts(when, env));
    if looked_at == Truth::No {
        return Truth::No;
    }
    match truth_of_parts(rule.needs(), env) {
        Truth::Yes => Truth::No,
        // If the need fails, `looked_at` decides. If the need is unknown, the side that names a missing property wins.
        needs => looked_at.max(needs),
    }
}

/// The missing property of a rule; that of `when` comes before that of `needs`.
fn why<'a>(rule: &'a Rule, env: &Env<'_, 'a>) -> Option<Missing<'a>> {
    rule.when.iter().chain([rule.needs()]).find_map(|part| cause(part, env))
}

fn finding_of<'a>(rule: &'a Rule, env: &Env<'_, 'a>) -> Finding {
    let fact = env.item;
    let author = fact.length_unit();
    let wording = rule.wording();
    let says = wording.says.fill(env, author);
    let (carrier, span) = wording.at.find(fact);
    let mut finding = Finding::new(&rule.id, &rule.title, rule.level, span, says.text);
    finding.rule = rule.id.clone();
    finding.title = rule.title.clone();
    finding.item = fact.home();
    finding.subject = says.items.iter().map(|item| item.name()).collect();
    if finding.subject.is_empty() {
        finding.subject.push(carrier.name());
    }
    finding.values = says.values.into_iter().map(|(name, value)| (name, value.into())).collect();
    finding.fix = wording
        .fix
        .as_ref()
        .map(|fix| fix.fill(env, author))
        .filter(|sentence| sentence.complete)
        .map(|sentence| sentence.text.into());
    finding.basis = wording.basis.clone();
    finding.trail =
        fact.trail().into_iter().map(|step| Step { span: Some(step.span), message: step.message.into() }).collect();
    finding.cause = wording.per.as_ref().and_then(|per| group(per, env)).map(String::into_boxed_str);
    // The definition of a material explains nothing about the detail that uses it.
    for item in says.items.into_iter().filter(|item| item.kind() != Kind::Material) {
        finding.relate(item.span(), format!("{} {}", item.kind().word(), item.name()));
    }
    finding
}

/// A key for grouping: equal values have equal texts.
fn group<'a>(per: &'a Code, env: &Env<'_, 'a>) -> Option<String> {
    Some(match value(per, env) {
        Value::Fact(item) => format!("{} {:?}", item.name(), item.span()),
        Value::Word(text) | Value::Text(text) => text.to_string(),
        Value::Quantity(quantity) => quantity.si.to_string(),
        Value::YesNo(yes) => yes.to_string(),
        Value::Words(words) => words.words().join(" "),
        Value::FactList(items) => items.iter().map(|i| format!("{} {:?} ", i.name(), i.span())).collect(),
        Value::Unknown(_) => return None,
    })
}

fn note<'a>(cause: Option<Missing<'a>>, missing: &mut Vec<Missing<'a>>) {
    let Some(cause) = cause else { return };
    // An undefined name was reported already.
    let said = !cause.of.is_known()
        || missing.iter().any(|m| {
            m.property == cause.property && m.of.name_span() == cause.of.name_span() && m.of.name() == cause.of.name()
        });
    if !said {
        missing.push(cause);
    }
}

fn missing_property(missing: &Missing<'_>) -> Finding {
    let Missing { of, property } = missing;
    Message::MissingProperty { name: of.name(), word: of.word(), property }.at(of.name_span())
}
