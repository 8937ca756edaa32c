//! Where a finding points.

use crate::facts::vocabulary::{Fact, Field, Kind, Type, Value, field};
use crate::finding::Finding;
use crate::rules::Message;
use crate::rules::written::Quoted;
use crate::text::Span;

/// A path of fields from the fact, then a part of what it reaches.
#[derive(PartialEq)]
pub struct FindingPlace {
    path: Vec<&'static Field>,
    part: Option<&'static str>,
}

impl FindingPlace {
    /// Reads `over`, `over.up`, `.grade`, or nothing, which is the fact itself. A last name that could be a part of the text or
    /// a field is the part. Where it names several things, the first carries the finding.
    pub fn resolve(text: Option<&Quoted<'_>>, about: Kind, problems: &mut Vec<Finding>) -> Option<FindingPlace> {
        let mut place = FindingPlace { path: Vec::new(), part: None };
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
                (_, Some((step, Type::Fact(next) | Type::FactList(next)))) => {
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

    /// The thing that carries the finding, and its words. Where the thing does not exist, the finding points to the fact.
    pub fn find<'a>(&self, fact: Fact<'a>) -> (Fact<'a>, Span) {
        let mut item = fact;
        for step in &self.path {
            match step.get(item) {
                Value::Fact(next) => item = next,
                Value::FactList(several) => match several.get(0) {
                    Some(first) => item = first,
                    None => return (fact, fact.span()),
                },
                _ => return (fact, fact.span()),
            }
        }
        (item, self.part.map_or_else(|| item.span(), |part| item.place(part)))
    }
}
