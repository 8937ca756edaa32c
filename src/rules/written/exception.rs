//! The exceptions of a rule, each with its reason: `[[rule.except]]`.

use serde::{Deserialize, Serialize};
use toml::de::DeTable;

use crate::finding::Finding;
use crate::rules::written::{Expr, Node, Quoted, RawRule, TomlReader, Written, parse};
use crate::text::Span;

/// A condition under which the rule does not look at a thing.
#[derive(Clone, Serialize, Deserialize)]
pub struct Exception<'s> {
    #[serde(borrow)]
    pub when: Quoted<'s>,
    pub because: Quoted<'s>,
}

impl<'s> Exception<'s> {
    pub fn read(reader: &mut TomlReader<'s>, table: &DeTable<'s>, span: Span) -> Option<Exception<'s>> {
        const WHAT: &str = "an exception";
        reader.only(table, &["when", "because"], WHAT);
        let [when, because] = ["when", "because"].map(|key| reader.required(table, key, WHAT, span));
        Some(Exception { when: when?, because: because? })
    }
}

impl<'s> RawRule<'s> {
    /// The condition for what the rule looks at: `when`, and none of the exceptions. If it cannot be read, the problems.
    pub fn looked_at(&self) -> Result<Expr<'_>, Vec<Finding>> {
        let (mut parts, mut problems) = (Vec::new(), Vec::new());
        match &self.when {
            None => {}
            Some(Written::Read(expr)) => parts.push(expr.clone()),
            Some(Written::Written(quoted)) => match parse(quoted, 0..quoted.text.len()) {
                Ok(Expr { node: Node::And(all), .. }) => parts.extend(all),
                Ok(expr) => parts.push(expr),
                Err(finding) => problems.push(*finding),
            },
        }
        for Exception { when, .. } in &self.except {
            match parse(when, 0..when.text.len()) {
                Ok(expr) => parts.push(Expr { span: expr.span, node: Node::Not(Box::new(expr)) }),
                Err(finding) => problems.push(*finding),
            }
        }
        match (problems.is_empty(), parts.first().map(|first| first.span)) {
            (true, Some(_)) if parts.len() == 1 => Ok(parts.remove(0)),
            (true, Some(span)) => Ok(Expr { node: Node::And(parts), span }),
            _ => Err(problems),
        }
    }

    /// The same rule without one of its exceptions.
    pub fn without(&self, exception: usize) -> RawRule<'s> {
        let mut rule = self.clone();
        rule.except.remove(exception);
        rule
    }
}
