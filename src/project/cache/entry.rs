//! The outcome of one file as it is kept.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::finding::{Edit, Finding, Level, Related, Said, Step, Waived};
use crate::project::cache::stamp::Stamp;
use crate::review::{Interface, Outcome};
use crate::rules::Pack;
use crate::text::{FileId, Source, Span};

/// A file, the texts that it was reviewed with, and what came of it. Keys are short: there are thousands.
#[derive(Serialize, Deserialize)]
pub struct CacheEntry {
    /// The name of the file, as findings show it. It stands first: see `beginning`.
    #[serde(rename = "n")]
    pub name: String,
    /// The print of its text.
    #[serde(rename = "t")]
    pub text: String,
    #[serde(rename = "s", default, skip_serializing_if = "Option::is_none")]
    pub stamp: Option<Stamp>,
    /// All that it includes, by their numbers in the table.
    #[serde(rename = "i", default, skip_serializing_if = "Vec::is_empty")]
    pub includes: Vec<u32>,
    /// What its details join, by numbers of the table.
    #[serde(rename = "j", default, skip_serializing_if = "Vec::is_empty")]
    pub joined: Vec<u32>,
    /// The day, when the outcome depends on it.
    #[serde(rename = "d", default, skip_serializing_if = "Option::is_none")]
    pub day: Option<String>,
    #[serde(rename = "f", default, skip_serializing_if = "Vec::is_empty")]
    findings: Vec<CachedFinding>,
}

/// What the line of a file begins with, and that of no other file.
pub fn beginning(name: &str) -> String {
    format!("{{\"n\":{},", serde_json::Value::from(name))
}

/// The file by its number, 0 for the file itself and then its includes; the first byte and the one behind the last.
type CachedSpan = (u32, u32, u32);

#[derive(Serialize, Deserialize)]
struct CachedFinding {
    rule: String,
    title: String,
    level: String,
    message: String,
    at: CachedSpan,
    item: Option<String>,
    subject: Vec<String>,
    values: Vec<(String, String)>,
    fix: Option<String>,
    edits: Vec<(CachedSpan, String)>,
    /// It has the basis of its rule.
    based: bool,
    related: Vec<(CachedSpan, String)>,
    trail: Vec<(Option<CachedSpan>, String)>,
    waived: Option<(String, Option<String>, Option<String>)>,
}

impl CacheEntry {
    /// Nothing, when an outcome depends on more than the texts of the file and its includes. What stands in tables is
    /// still empty.
    pub fn of(
        source: &Source,
        text: String,
        stamp: Option<Stamp>,
        day: Option<String>,
        outcome: &Outcome,
        pack: &Pack,
    ) -> Option<CacheEntry> {
        let alone = outcome.whole && !outcome.fragment && outcome.fragments.is_empty() && outcome.wanted.is_empty();
        if !alone {
            return None;
        }
        let numbers: Vec<FileId> =
            std::iter::once(source.id).chain(outcome.included.iter().map(|source| source.id)).collect();
        let findings = outcome.findings.iter().map(|finding| CachedFinding::of(finding, &numbers, pack));
        let findings = findings.collect::<Option<_>>()?;
        let (includes, joined) = (Vec::new(), Vec::new());
        Some(CacheEntry { name: source.name.clone(), text, stamp, includes, joined, day, findings })
    }

    /// As it is kept.
    pub fn line(&self) -> String {
        serde_json::to_string(self).expect("words and numbers only")
    }

    /// There was nothing to say of it.
    pub fn silent(&self) -> bool {
        self.findings.is_empty()
    }

    /// The outcome, with the numbers that the texts have in this run. Nothing, when the entry makes no sense.
    pub fn outcome(
        &self,
        source: &Arc<Source>,
        included: Vec<Arc<Source>>,
        interfaces: Vec<Arc<Interface>>,
        pack: &Pack,
    ) -> Option<Outcome> {
        let numbers: Vec<&Source> = std::iter::once(source).chain(&included).map(|source| &**source).collect();
        let findings = self.findings.iter().map(|kept| kept.finding(&numbers, pack)).collect::<Option<Vec<_>>>()?;
        let dated = self.day.is_some();
        let outcome = Outcome { findings, interfaces, dated, whole: true, ..Outcome::default() };
        Some(outcome.with_texts(source, included))
    }
}

impl CachedFinding {
    fn of(finding: &Finding, numbers: &[FileId], pack: &Pack) -> Option<CachedFinding> {
        let place = |span: Span| -> Option<CachedSpan> {
            let file = numbers.iter().position(|id| *id == span.file)?;
            Some((file as u32, span.start, span.end))
        };
        let based = !finding.basis.is_empty();
        if based && pack.rule(&finding.rule).is_none_or(|rule| rule.wording().basis != finding.basis) {
            return None;
        }
        let related = finding.related.iter().map(|r| Some((place(r.span)?, r.message.to_string())));
        let trail = finding.trail.iter().map(|step| match step.span {
            Some(span) => Some((Some(place(span)?), step.message.to_string())),
            None => Some((None, step.message.to_string())),
        });
        let edits = finding.edits.iter().map(|edit| Some((place(edit.span)?, edit.text.clone())));
        let waived = |w: &Waived| (w.because.clone(), w.by.clone(), w.until.map(|date| date.to_string()));
        Some(CachedFinding {
            rule: finding.rule.to_string(),
            title: finding.title.to_string(),
            level: finding.level.word().to_owned(),
            message: finding.message.clone(),
            at: place(finding.span)?,
            item: finding.item.as_deref().map(str::to_owned),
            subject: finding.subject.iter().map(|name| name.to_string()).collect(),
            values: finding.values.iter().map(|(name, value)| (name.to_string(), value.to_string())).collect(),
            fix: finding.fix.as_deref().map(str::to_owned),
            edits: edits.collect::<Option<_>>()?,
            based,
            related: related.collect::<Option<_>>()?,
            trail: trail.collect::<Option<_>>()?,
            waived: finding.waived.as_deref().map(waived),
        })
    }

    fn finding(&self, numbers: &[&Source], pack: &Pack) -> Option<Finding> {
        let span = |(file, start, end): CachedSpan| -> Option<Span> {
            let source = numbers.get(file as usize)?;
            source.text.get(start as usize..end as usize)?;
            Some(Span { file: source.id, start, end })
        };
        let related = self
            .related
            .iter()
            .map(|(at, message)| Some(Related { span: span(*at)?, message: message.as_str().into() }));
        let trail = self.trail.iter().map(|(at, message)| {
            let span = match at {
                Some(at) => Some(span(*at)?),
                None => None,
            };
            Some(Step { span, message: message.as_str().into() })
        });
        let edits = self.edits.iter().map(|(at, text)| Some(Edit { span: span(*at)?, text: text.clone() }));
        let waived = match &self.waived {
            None => None,
            Some((because, by, until)) => Some(Box::new(Waived {
                because: because.clone(),
                by: by.clone(),
                until: match until {
                    Some(date) => Some(date.parse().ok()?),
                    None => None,
                },
            })),
        };
        Some(Finding::from(Said {
            rule: self.rule.as_str().into(),
            title: self.title.as_str().into(),
            level: Level::from_word(&self.level)?,
            message: self.message.clone(),
            span: span(self.at)?,
            item: self.item.as_deref().map(Arc::from),
            subject: self.subject.iter().map(|name| name.as_str().into()).collect(),
            values: self.values.iter().map(|(name, value)| (name.as_str().into(), value.as_str().into())).collect(),
            fix: self.fix.as_deref().map(Arc::from),
            edits: edits.collect::<Option<_>>()?,
            basis: if self.based { pack.rule(&self.rule)?.wording().basis.clone() } else { Arc::default() },
            related: related.collect::<Option<_>>()?,
            cause: None,
            trail: trail.collect::<Option<_>>()?,
            waived,
            listed: false,
        }))
    }
}
