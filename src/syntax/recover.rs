//! Reads as much of a statement as it can, and reports where it cannot.

use crate::finding::Id;
use crate::syntax::build::{Draft, kind_of};
use crate::syntax::clause::ClauseKind;
use crate::syntax::diagnostics::MOST_OF_A_KIND;
use crate::syntax::form::Form;
use crate::syntax::grammar::{A_QUANTITY, LONGEST, Rule, read, stopped};
use crate::syntax::measure::{habit, want_of};
use crate::syntax::message::{Close, Message, open_quote};
use crate::syntax::quick;
use crate::text::nearest;

/// Reads the head of a statement, that is, the line with its keyword. Returns whether it could be read as far as its names.
pub fn head(draft: &mut Draft<'_>, start: usize, end: usize) -> bool {
    let text = draft.text;
    let rule = draft.form.rule;
    if draft.quick && quick::line(draft, start, end) {
        return true;
    }
    if let Some(line) = read(rule, &text[start..end]) {
        let stopped = start + line.as_span().end();
        draft.line(line, start);
        clauses(draft, stopped, end);
        return true;
    }
    if end - start > LONGEST {
        let span = draft.at(start, word_end(text, start, end));
        draft.refuse(span, Message::StatementTooLong);
    } else {
        let phrase = want_of(draft.form.keyword).phrase;
        complain(draft, start, end, rule, phrase, draft.form.shape);
    }
    false
}

/// Reads clauses from `at` to `end`. Reports a clause that it cannot read, and goes on at the next known word.
pub fn clauses(draft: &mut Draft<'_>, mut at: usize, end: usize) {
    let text = draft.text;
    let before = draft.problems.count(Id::Syntax);
    loop {
        at += text[at..end].len() - text[at..end].trim_start_matches(blank).len();
        if at >= end {
            return;
        }
        if end - at > LONGEST || draft.problems.count(Id::Syntax) - before > MOST_OF_A_KIND {
            draft.doubtful = true;
            return;
        }
        let word_end = word_end(text, at, end);
        let Some(kind) = kind_of(draft.form, &text[at..word_end]) else {
            let skipped = next_clause(draft.form, text, word_end, end);
            stray(draft, at, trimmed(text, at, skipped));
            at = skipped;
            continue;
        };
        match read(kind.rule(), &text[at..end]) {
            Some(pair) => {
                let stopped = at + pair.as_span().end();
                draft.clause(pair, at);
                at = stopped;
            }
            None => {
                if !one_place(draft, kind, at, end) {
                    complain(draft, at, end, kind.rule(), kind.want(true).phrase, kind.shape());
                }
                draft.met.put(kind);
                at = next_clause(draft.form, text, word_end, end);
            }
        }
    }
}

/// Reports a single place where a range is expected, as people write it for a row of fasteners.
fn one_place(draft: &mut Draft<'_>, kind: ClauseKind, at: usize, end: usize) -> bool {
    let text = draft.text;
    let point = match kind {
        ClauseKind::Up => Rule::up_at,
        ClauseKind::Along => Rule::along_at,
        _ => return false,
    };
    let Some(written) = read(point, &text[at..end]) else { return false };
    let stop = at + written.as_span().end();
    let after = text[stop..end].trim_start_matches(blank);
    if !after.is_empty() && kind_of(draft.form, &after[..word_end(after, 0, after.len())]).is_none() {
        return false;
    }
    let words = &text[at..stop];
    draft.refuse(draft.at(at, stop), Message::SinglePlace { words, form: draft.form, kind });
    true
}

/// Reports the required clauses that are missing.
pub fn required(draft: &mut Draft<'_>) {
    // The missing clause may be the one that could not be read.
    if draft.doubtful {
        return;
    }
    for kind in draft.form.required {
        if !draft.met.has(*kind) {
            draft.refuse(draft.span, Message::MissingClause { form: draft.form, kind: *kind });
            draft.met.put(*kind);
        }
    }
}

/// One finding for a statement that stopped short: under the word where reading stopped, or under the last word when the line ends too early.
fn complain(draft: &mut Draft<'_>, start: usize, end: usize, rule: Rule, quantity: &str, shape: &str) {
    let text = draft.text;
    draft.doubtful = true;
    if draft.problems.full(Id::Syntax) {
        return draft.problems.leave_out(Id::Syntax, draft.at(start, end));
    }
    let stopped = stopped(rule, &text[start..end]);
    let mut at = (start + stopped.at).min(end);
    let before = text[start..at].chars().next_back();
    if at < end && before.is_some_and(|c| !blank(c)) && text[at..].starts_with(blank) {
        // If it stopped at the end of a word, that word is the one that was refused.
        at -= before.map_or(0, char::len_utf8);
    }
    let at = at + text[at..end].len() - text[at..end].trim_start_matches(blank).len();
    let named = |expected: &String| if expected == A_QUANTITY { quantity.to_owned() } else { expected.clone() };
    let expected = stopped.expected.iter().map(named).collect::<Vec<_>>().join(" or ");
    let expected = &expected;
    let (from, to) = match at >= end {
        true => last_word(text, start, end),
        // A rule may stop inside a word; the finding points to the whole word.
        false => {
            let first = word_start(text, start, at);
            (first, word_end(text, first, end))
        }
    };
    let words = &text[from..to];
    let message = if open_quote(words) {
        Message::NoClosingQuote { shape }
    } else if at >= end {
        Message::EndsEarly { last: words, expected, shape }
    } else {
        let number = stopped.expected.iter().any(|e| e == A_QUANTITY);
        let habit = number.then(|| habit(words, &text[to..end])).flatten();
        Message::Unexpected { words, expected, shape, habit }
    };
    draft.problems.add(message.at(draft.at(from, to)));
}

/// Reports words that do not begin a clause.
fn stray(draft: &mut Draft<'_>, at: usize, end: usize) {
    let text = draft.text;
    let form = draft.form;
    // A comma ends the words before it, and is not a word.
    let end = if text[at..].starts_with(',') { end.max(at + 1) } else { end };
    let first = &text[at..word_end(text, at, end)];
    let close = nearest(first, form.clauses.iter().filter_map(|kind| kind.word()));
    let close = close.map(|word| Close { word, span: draft.at(at, at + first.len()) });
    draft.refuse(draft.at(at, end), Message::UnknownClause { words: &text[at..end], form, close });
}

/// Where the next clause begins that the form knows by a word; numbers and quotes do not count, since they may belong to
/// what could not be read.
pub fn next_clause(form: &Form, text: &str, mut at: usize, end: usize) -> usize {
    loop {
        at += text[at..end].len() - text[at..end].trim_start_matches(|c| blank(c) || c == ',').len();
        if at >= end {
            return end;
        }
        let word_end = word_end(text, at, end);
        let word = &text[at..word_end];
        if form.clauses.iter().any(|kind| kind.word() == Some(word)) {
            return at;
        }
        at = word_end;
    }
}

pub fn blank(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\r' | '\u{A0}')
}

/// A word ends at a blank or a comma; a text in quotes is one word.
pub fn word_end(text: &str, at: usize, end: usize) -> usize {
    let rest = &text[at..end];
    if let Some(inner) = rest.strip_prefix('"') {
        let mut escaped = false;
        for (n, c) in inner.char_indices() {
            match c {
                '"' if !escaped => return at + n + 2,
                '\\' => escaped = !escaped,
                _ => escaped = false,
            }
        }
        return end;
    }
    // Nearly all words are ASCII, so that bytes are characters.
    let plain = rest.bytes().position(|b| !b.is_ascii() || matches!(b, b' ' | b'\t' | b'\r' | b',' | b'"'));
    match plain {
        None => return end,
        Some(n) if n > 0 && rest.as_bytes()[n].is_ascii() => return at + n,
        _ => {}
    }
    let skip = rest.chars().next().map_or(0, char::len_utf8);
    rest[skip..].find(|c| blank(c) || c == ',' || c == '"').map_or(end, |n| at + skip + n)
}

fn word_start(text: &str, start: usize, at: usize) -> usize {
    text[start..at].rfind(|c| blank(c) || c == ',').map_or(start, |n| {
        let n = start + n;
        n + text[n..].chars().next().map_or(0, char::len_utf8)
    })
}

/// Where the last word begins and ends.
fn last_word(text: &str, start: usize, end: usize) -> (usize, usize) {
    let mut at = start;
    let mut last = (start, end);
    while at < end {
        at += text[at..end].len() - text[at..end].trim_start_matches(|c| blank(c) || c == ',').len();
        if at < end {
            last = (at, word_end(text, at, end));
            at = last.1;
        }
    }
    last
}

fn trimmed(text: &str, start: usize, end: usize) -> usize {
    start + text[start..end].trim_end_matches(|c| blank(c) || c == ',').len()
}
