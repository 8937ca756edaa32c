//! One statement with the block of clauses that it may have, and what can be recovered from an unreadable one.

use crate::syntax::build::{Draft, kind_of};
use crate::syntax::document::{Keyword, Statement};
use crate::syntax::form::{Form, ITEMS, form_of, home};
use crate::syntax::message::Message;
use crate::syntax::parser::brace::{rest_of_block, skip_block};
use crate::syntax::parser::{Parser, Tokens};
use crate::syntax::recover::{self, word_end};
use crate::syntax::scan::Token;
use crate::text::{FileId, Span};

impl Parser<'_> {
    pub(super) fn statement(&mut self, form: &'static Form, start: usize, end: usize) -> Statement {
        let mut read = true;
        self.statement_or(form, start, end, &mut read)
    }

    /// A statement with its own block of clauses, if one follows. `read` becomes false if not even its names could be read.
    pub(super) fn statement_or(&mut self, form: &'static Form, start: usize, end: usize, read: &mut bool) -> Statement {
        let is_item = form.keyword.is_item();
        let span = Span::new(self.file, start, end);
        let mut draft = Draft::new(self.text, &mut self.problems, form, span);
        draft.quick = self.quick;
        *read = recover::head(&mut draft, start, end);
        if !is_item && let Some(Token::Open(at)) = self.tokens.peek().copied() {
            if form.clauses.is_empty() {
                draft.problems.add(Message::TakesNoBlock { word: form.word }.at(draft.at(at, at + 1)));
                skip_block(&mut self.tokens, self.text);
            } else {
                self.tokens.next();
                own_block(&mut self.tokens, &mut draft, at);
            }
        }
        if *read {
            recover::required(&mut draft);
        } else if is_item {
            draft.names.first = lost_name(self.text, self.file, form, start, end);
            let rest = recover::next_clause(form, self.text, word_end(self.text, start, end), end);
            recover::clauses(&mut draft, rest, end);
        }
        draft.finish()
    }

    /// Reads the names and clauses of an item whose keyword was misspelled, as far as possible without the rule of the grammar.
    pub(super) fn misspelt(&mut self, form: &'static Form, start: usize, end: usize) -> Statement {
        let mut draft = Draft::new(self.text, &mut self.problems, form, Span::new(self.file, start, end));
        let mut at = word_end(self.text, start, end);
        while let Some(name) = name_after(self.text, self.file, at, end)
            && draft.names.second.is_none()
            && !matches!(form.keyword, Keyword::Set | Keyword::Include)
            && kind_of(form, &self.text[name.range()]).is_none()
        {
            draft.names.push(name);
            at = name.range().end;
        }
        if !form.clauses.is_empty() {
            recover::clauses(&mut draft, at, end);
        }
        draft.doubtful = true;
        draft.finish()
    }
}

/// Reads the clauses that a statement has in a block of its own.
fn own_block(tokens: &mut std::iter::Peekable<Tokens<'_>>, draft: &mut Draft<'_>, open: usize) {
    let text = draft.text;
    let before = draft.clauses.len();
    loop {
        match tokens.peek().copied() {
            Some(Token::Head { start, end }) => {
                let word = &text[start..word_end(text, start, end)];
                let other = form_of(ITEMS, word).is_some() || home(word).is_some();
                if other && kind_of(draft.form, word).is_none() {
                    let apart = text[draft.span.range().end..open].contains('\n');
                    if apart && draft.clauses.len() == before {
                        // A block on lines of its own that begins with another statement does not belong to this one.
                        draft.refuse(draft.at(open, open + 1), Message::StrayOpening);
                        return rest_of_block(tokens, text, 1);
                    }
                    break;
                }
                tokens.next();
                recover::clauses(draft, start, end);
            }
            Some(Token::Open(at)) => {
                draft.refuse(draft.at(at, at + 1), Message::StrayOpening);
                skip_block(tokens, text);
            }
            Some(Token::Close(_)) => {
                tokens.next();
                return;
            }
            Some(Token::Comment { .. }) => {
                tokens.next();
            }
            None => break,
        }
    }
    draft.problems.add(Message::NoClosing { last: "clause" }.at(draft.at(open, open + 1)));
}

/// The name that an unreadable statement would have defined.
pub(super) fn lost_name(text: &str, file: FileId, form: &Form, start: usize, end: usize) -> Option<Span> {
    let named = matches!(
        form.keyword,
        Keyword::Piece | Keyword::Climate | Keyword::Material | Keyword::Assembly | Keyword::Detail
    );
    let name = name_after(text, file, word_end(text, start, end), end)?;
    (named && kind_of(form, &text[name.range()]).is_none()).then_some(name)
}

/// The word after `at`, when it is a name.
fn name_after(text: &str, file: FileId, at: usize, end: usize) -> Option<Span> {
    let start = at + text[at..end].len() - text[at..end].trim_start_matches(recover::blank).len();
    let stop = word_end(text, start, end);
    let name = text[start..stop].starts_with(char::is_alphabetic);
    name.then(|| Span::new(file, start, stop))
}
