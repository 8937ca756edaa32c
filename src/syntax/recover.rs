//! Reads a statement as far as it can be read, and says where it cannot.

use crate::finding::Edit;
use crate::syntax::build::{Draft, slot_at};
use crate::syntax::form::{Form, Slot};
use crate::syntax::grammar::{Stopped, read};
use crate::syntax::problem::Problem;
use crate::text::{Span, nearest};

/// Reads the head of a statement: the line with its keyword. Whether it could be read as far as its names.
pub fn head(draft: &mut Draft<'_>, start: usize, end: usize) -> bool {
    let text = draft.text;
    match read(draft.form.rule, &text[start..end]) {
        Ok(line) => {
            let stopped = start + line.as_span().end();
            draft.line(line, start);
            clauses(draft, stopped, end);
            true
        }
        Err(stopped) => {
            complain(draft, start, end, &stopped, start, draft.form.shape);
            false
        }
    }
}

/// Reads clauses from `at` to `end`. One that cannot be read is said, and the next that begins with a known word goes on.
pub fn clauses(draft: &mut Draft<'_>, mut at: usize, end: usize) {
    let text = draft.text;
    loop {
        at += text[at..end].len() - text[at..end].trim_start_matches(blank).len();
        if at >= end {
            return;
        }
        let word_end = word_end(text, at, end);
        let Some(slot) = slot_at(draft.form, &text[at..word_end]) else {
            let skipped = next_clause(draft.form, text, word_end, end);
            stray(draft, at, trimmed(text, at, skipped));
            at = skipped;
            continue;
        };
        match read(slot.rule(), &text[at..end]) {
            Ok(pair) => {
                let stopped = at + pair.as_span().end();
                draft.clause(pair, at);
                at = stopped;
            }
            Err(stopped) => {
                complain(draft, at, end, &stopped, at, slot.shape());
                draft.met.put(slot);
                at = next_clause(draft.form, text, word_end, end);
            }
        }
    }
}

/// Says which of the required clauses are missing.
pub fn required(draft: &mut Draft<'_>) {
    // What is missing may be what could not be read.
    if draft.doubtful {
        return;
    }
    for slot in draft.form.required {
        if !draft.met.has(*slot) {
            let word = draft.form.word;
            let message = if *slot == Slot::Because {
                "this waiver gives no reason".to_owned()
            } else {
                format!("this `{word}` does not say `{}`", slot.shape())
            };
            let finding = Problem::Syntax.at(draft.span, message).fix(format!("Write `{}`.", draft.form.shape));
            draft.problems.add(Problem::Syntax, finding);
            draft.met.put(*slot);
            draft.doubtful = true;
        }
    }
}

/// One finding for a rule that stopped: under the word where it stopped, or under the last word when the line ends too early.
fn complain(draft: &mut Draft<'_>, start: usize, end: usize, stopped: &Stopped, base: usize, shape: &str) {
    let text = draft.text;
    let at = (base + stopped.at).clamp(start, end);
    let at = at + text[at..end].len() - text[at..end].trim_start_matches(blank).len();
    let expected = stopped.expected.join(" or ");
    let (span, message) = if at >= end {
        let last = last_word(text, start, end);
        let message = if expected.is_empty() {
            format!("something is missing after `{}`", &text[last.range()])
        } else {
            format!("{expected} is missing after `{}`", &text[last.range()])
        };
        (Span { file: draft.file, ..last }, message)
    } else {
        // A rule may stop inside a word; the whole word is at fault.
        let first = word_start(text, start, at);
        let last = word_end(text, at, end);
        let words = &text[first..last];
        let open_quote = words.starts_with('"') && !(words.len() > 1 && words.ends_with('"'));
        let message = if open_quote {
            "this text in quotes does not end in its line".to_owned()
        } else if expected.is_empty() {
            format!("`{words}` is not understood here")
        } else {
            format!("`{words}` is not understood here; {expected} is expected")
        };
        (draft.at(first, last), message)
    };
    let finding = Problem::Syntax.at(span, message).fix(format!("Write it like this: `{shape}`."));
    draft.problems.add(Problem::Syntax, finding);
    draft.doubtful = true;
}

/// Words that begin no clause.
fn stray(draft: &mut Draft<'_>, at: usize, end: usize) {
    let text = draft.text;
    let words = &text[at..end];
    let first = &text[at..word_end(text, at, end)];
    let form = draft.form;
    let known: Vec<&str> = form.clauses.iter().filter_map(|slot| slot.word()).collect();
    let span = draft.at(at, end);
    let message = match first.starts_with('"') {
        true => format!("a text in quotes has no place here, or does not end: {}", short(words)),
        false => format!("`{}` is no part of `{}`", short(words), form.word),
    };
    let mut finding = Problem::Syntax.at(span, message);
    if let Some(close) = nearest(first, known.iter().copied()) {
        finding = finding.fix(format!("Write `{close}`."));
        finding.edits.push(Edit { span: draft.at(at, at + first.len()), text: close.to_owned() });
    } else if known.is_empty() {
        finding = finding.fix(format!("Write it like this: `{}`.", form.shape));
    } else {
        finding = finding.fix(format!("`{}` may say: {}.", form.word, known.join(", ")));
    }
    draft.problems.add(Problem::Syntax, finding);
    draft.doubtful = true;
}

/// Words cut to what a message can hold.
pub fn short(words: &str) -> String {
    match words.char_indices().nth(40) {
        Some((cut, _)) => format!("{}…", &words[..cut]),
        None => words.to_owned(),
    }
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
        if form.clauses.iter().any(|slot| slot.word() == Some(word)) {
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
    let skip = rest.chars().next().map_or(0, char::len_utf8);
    rest[skip..].find(|c| blank(c) || c == ',' || c == '"').map_or(end, |n| at + skip + n)
}

fn word_start(text: &str, start: usize, at: usize) -> usize {
    text[start..at].rfind(|c| blank(c) || c == ',').map_or(start, |n| {
        let n = start + n;
        n + text[n..].chars().next().map_or(0, char::len_utf8)
    })
}

fn last_word(text: &str, start: usize, end: usize) -> Span {
    let mut at = start;
    let mut last = (start, end);
    while at < end {
        at += text[at..end].len() - text[at..end].trim_start_matches(blank).len();
        if at < end {
            let stop = word_end(text, at, end);
            last = (at, stop);
            at = stop;
        }
    }
    Span::new(crate::text::FileId::default(), last.0, last.1)
}

fn trimmed(text: &str, start: usize, end: usize) -> usize {
    start + text[start..end].trim_end_matches(|c| blank(c) || c == ',').len()
}
