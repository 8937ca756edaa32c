//! Tests every rule on its own examples, so that the manual, which shows them, cannot go stale.

use crate::finding::Finding;
use crate::rules::written::{Example, Quoted};
use crate::rules::{Message, Pack, Rule};
use crate::text::Span;

/// How a rule did on its examples.
#[derive(Debug)]
pub struct Tested {
    pub fails: usize,
    pub passes: usize,
    /// Failing examples that show the cure.
    pub cures: usize,
    /// What is wrong, each at its place in the rule file.
    pub problems: Vec<Finding>,
}

/// Put before an example that includes nothing itself, so that examples can be short.
const INCLUDE: &str = "include \"stock.detail\"\n";

/// Tests a rule of a pack. `review` gives all findings of one text, reviewed with that pack and without waivers
/// being counted as cures; their spans lie in that text.
pub fn test_rule(pack: &Pack, rule: &Rule, review: &dyn Fn(&str) -> Vec<Finding>) -> Tested {
    let examples = pack.examples(rule);
    let (failing, passing): (Vec<&Example>, Vec<&Example>) = examples.iter().partition(|e| e.fails);
    let mut tested = Tested {
        fails: failing.len(),
        passes: passing.len(),
        cures: failing.iter().filter(|example| example.cured.is_some()).count(),
        problems: Vec::new(),
    };
    for (that, examples) in [("fails", &failing), ("passes", &passing)] {
        if examples.is_empty() {
            tested.problems.push(Message::NoExample { rule: &rule.id, that }.at(rule.span));
        }
    }
    for example in &examples {
        tested.problems.extend(test_example(pack, rule, example, review));
    }
    tested
}

/// The exceptions of a rule that none of its examples needs: every example passes without them as well. `review` gives all
/// findings of one text, reviewed with the given pack.
pub fn idle_exceptions(pack: &Pack, rule: &Rule, review: &dyn Fn(&Pack, &str) -> Vec<Finding>) -> Vec<Finding> {
    let exceptions = pack.exceptions(rule);
    if exceptions.is_empty() {
        return Vec::new();
    }
    let without = pack.without_exceptions(rule);
    let examples = pack.examples(rule);
    let passing =
        examples.iter().filter_map(|example| if example.fails { example.cured.as_ref() } else { Some(&example.text) });
    let found: Vec<Finding> = passing.flat_map(|text| review(&without, &whole_text(text))).collect();
    let needed = |number: usize| found.iter().any(|finding| *finding.rule == *without.rules[number].id);
    let idle = exceptions.iter().enumerate().filter(|(number, _)| !needed(*number));
    idle.map(|(_, exception)| Message::IdleException { rule: &rule.id }.at(exception.when.whole)).collect()
}

/// The text of an example as it is reviewed.
pub fn whole_text(example: &Quoted<'_>) -> String {
    let text = &example.text;
    let includes = text.lines().any(|line| line.trim_start().starts_with("include"));
    if includes { text.to_string() } else { format!("{INCLUDE}{text}") }
}

fn test_example(pack: &Pack, rule: &Rule, example: &Example, review: &dyn Fn(&str) -> Vec<Finding>) -> Vec<Finding> {
    let findings = review(&whole_text(&example.text));
    let mut problems = unread(pack, &example.text, &findings);
    let fired = findings.iter().find(|finding| finding.rule == rule.id);
    match (example.fails, fired) {
        (true, None) => problems.push(Message::FindsNothing { rule: &rule.id }.at(example.text.whole)),
        (false, Some(finding)) => {
            let message = Message::FindsFault { rule: &rule.id, message: &finding.message };
            problems.push(message.at(place(&example.text, finding.span)));
        }
        _ => {}
    }
    if let Some(cured) = &example.cured {
        problems.extend(test_cure(pack, rule, cured, &findings, review));
    }
    problems
}

/// A cure removes the finding and brings no other, of whatever rule and level.
fn test_cure(
    pack: &Pack,
    rule: &Rule,
    cured: &Quoted<'_>,
    before: &[Finding],
    review: &dyn Fn(&str) -> Vec<Finding>,
) -> Vec<Finding> {
    let after = review(&whole_text(cured));
    let mut problems = unread(pack, cured, &after);
    let of = |findings: &[Finding], id: &str| findings.iter().filter(|f| &*f.rule == id).count();
    let mut judged: Vec<&str> = Vec::new();
    for finding in &after {
        let id: &str = &finding.rule;
        if judged.contains(&id) || pack.rule(id).is_none() && id != "missing-property" {
            continue;
        }
        judged.push(id);
        let message = if id == &*rule.id {
            Message::NotCured { rule: id, message: &finding.message }
        } else if of(&after, id) > of(before, id) {
            Message::CureBringsFinding { rule: id, message: &finding.message }
        } else {
            continue;
        };
        problems.push(message.at(place(cured, finding.span)));
    }
    problems
}

/// The parts of an example's text that cannot be read.
fn unread(pack: &Pack, example: &Quoted<'_>, findings: &[Finding]) -> Vec<Finding> {
    let strange = findings.iter().filter(|f| pack.rule(&f.rule).is_none() && &*f.rule != "missing-property");
    let finding =
        |finding: &Finding| Message::UnreadExample { message: &finding.message }.at(place(example, finding.span));
    strange.map(finding).collect()
}

/// Where a span of the reviewed text is in the rule file.
fn place(example: &Quoted<'_>, span: Span) -> Span {
    let before = whole_text(example).len() - example.text.len();
    let at = |offset: u32| (offset as usize).saturating_sub(before).min(example.text.len());
    example.span(at(span.start), at(span.end))
}
