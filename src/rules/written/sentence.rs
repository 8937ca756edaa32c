//! Sentences with values in them: `{over} laps {under} by {length}`.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};

use crate::finding::Finding;
use crate::rules::written::{Expr, Message, Quoted, parse};

#[derive(Clone, Debug, Serialize, Deserialize)]
pub enum SentencePart<'s> {
    Text(#[serde(borrow)] Cow<'s, str>),
    Shown {
        expr: Expr<'s>,
        /// The expression as it is written.
        name: &'s str,
    },
    /// Left out where something in it is unknown.
    Aside(Vec<SentencePart<'s>>),
}

/// Reads the expressions in the braces; `{{` and `}}` stand for braces. Text in brackets is an aside. Also gives what is wrong.
pub fn read_sentence<'t>(quoted: &'t Quoted<'_>) -> (Vec<SentencePart<'t>>, Vec<Finding>) {
    let text = &*quoted.text;
    let (mut pieces, mut problems, mut plain, mut at) = (Vec::new(), Vec::new(), String::new(), 0);
    let mut outside = None;
    let piece = |plain: &mut String| SentencePart::Text(std::mem::take(plain).into());
    while let Some(c) = text[at..].chars().next() {
        let rest = &text[at..];
        if rest.starts_with("{{") || rest.starts_with("}}") {
            plain.push(c);
            at += 2;
        } else if c == '{' {
            let Some(length) = rest.find('}') else {
                problems.push(Message::NoClosingBrace.at(quoted.span(at, at + 1)));
                break;
            };
            pieces.push(piece(&mut plain));
            match parse(quoted, at + 1..at + length) {
                Ok(expr) => pieces.push(SentencePart::Shown { expr, name: text[at + 1..at + length].trim() }),
                Err(finding) => problems.push(*finding),
            }
            at += length + 1;
        } else if c == '[' && outside.is_none() {
            pieces.push(piece(&mut plain));
            outside = Some(std::mem::take(&mut pieces));
            at += 1;
        } else if c == ']'
            && let Some(before) = outside.take()
        {
            pieces.push(piece(&mut plain));
            let aside = SentencePart::Aside(std::mem::replace(&mut pieces, before));
            pieces.push(aside);
            at += 1;
        } else if c == '}' {
            problems.push(Message::NoOpeningBrace.at(quoted.span(at, at + 1)));
            at += 1;
        } else {
            plain.push(c);
            at += c.len_utf8();
        }
    }
    pieces.push(piece(&mut plain));
    if let Some(mut before) = outside {
        let end = text.len();
        problems.push(Message::NoClosingBracket.at(quoted.span(end - 1, end)));
        before.append(&mut pieces);
        pieces = before;
    }
    (pieces, problems)
}
