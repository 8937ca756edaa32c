//! Every rule is held against the examples that it carries: the manual that cannot go stale.

use crate::finding::Finding;
use crate::model::Name;
use crate::rules::file::Example;
use crate::rules::problem::problem;
use crate::rules::{Pack, Rule};
use crate::text::Span;

/// How a rule did on its examples.
#[derive(Debug)]
pub struct Tested {
    pub rule: Name,
    pub fails: usize,
    pub passes: usize,
    /// What is wrong, each at its place in the rule file.
    pub problems: Vec<Finding>,
}

/// Stands before an example that includes nothing itself, so that it can be short.
const INCLUDE: &str = "include \"stock.detail\"\n";

/// Tests the rules of a pack. `review` gives all findings of one text, reviewed with that pack and without waivers
/// being counted as cures; their spans lie in that text.
pub fn test(pack: &Pack, review: &dyn Fn(&str) -> Vec<Finding>) -> Vec<Tested> {
    pack.rules.iter().map(|rule| test_rule(pack, rule, review)).collect()
}

pub fn test_rule(pack: &Pack, rule: &Rule, review: &dyn Fn(&str) -> Vec<Finding>) -> Tested {
    let examples = pack.examples(rule);
    let (failing, passing): (Vec<&Example>, Vec<&Example>) = examples.iter().partition(|e| e.fails);
    let mut tested =
        Tested { rule: rule.id.clone(), fails: failing.len(), passes: passing.len(), problems: Vec::new() };
    for (kind, examples) in [("fails", &failing), ("passes", &passing)] {
        if examples.is_empty() {
            let message = format!("the rule {} has no example that {kind}", rule.id);
            tested.problems.push(problem("rule-example", rule.span, message));
        }
    }
    for example in &examples {
        tested.problems.extend(test_example(pack, rule, example, review));
    }
    tested
}

/// The text of an example as it is reviewed.
pub fn whole_text(example: &Example) -> String {
    let text = &example.text.text;
    let includes = text.lines().any(|line| line.trim_start().starts_with("include"));
    if includes { text.to_string() } else { format!("{INCLUDE}{text}") }
}

fn test_example(pack: &Pack, rule: &Rule, example: &Example, review: &dyn Fn(&str) -> Vec<Finding>) -> Vec<Finding> {
    let text = whole_text(example);
    let before = text.len() - example.text.text.len();
    let place = |span: Span| {
        let at = |offset: u32| (offset as usize).saturating_sub(before).min(example.text.text.len());
        example.text.span(at(span.start), at(span.end))
    };
    let findings = review(&text);
    let mut problems = Vec::new();
    for finding in findings.iter().filter(|f| pack.rule(&f.rule).is_none() && &*f.rule != "missing-property") {
        let message = format!("this example cannot be read as meant: {}", finding.message);
        problems.push(problem("rule-example", place(finding.span), message));
    }
    let fired = findings.iter().find(|finding| finding.rule == rule.id);
    match (example.fails, fired) {
        (true, None) => {
            let message = format!("{} finds nothing wrong with this example, which is to fail", rule.id);
            problems.push(problem("rule-example", example.text.whole, message));
        }
        (false, Some(finding)) => {
            let message = format!("{} finds fault with this example, which is to pass: {}", rule.id, finding.message);
            problems.push(problem("rule-example", place(finding.span), message));
        }
        _ => {}
    }
    problems
}
