//! An item with its block, statement by statement.

use super::{Parser, USUAL_BODY};
use crate::finding::Id;
use crate::syntax::document::{Item, Keyword};
use crate::syntax::form::{Form, body, form_of};
use crate::syntax::message::Message;
use crate::syntax::parser::statement::lost_name;
use crate::syntax::recover::word_end;
use crate::syntax::scan::Token;

impl Parser<'_> {
    /// An item with its block. With `misspelt`, its keyword could not be read (which was reported), but the rest can.
    pub(super) fn item(&mut self, form: &'static Form, start: usize, end: usize, misspelt: bool) {
        let head = if misspelt { self.misspelt(form, start, end) } else { self.statement(form, start, end) };
        let doubtful = head.doubtful;
        let span = head.span;
        self.seen = 0;
        self.document.items.push(Item { head, body: Vec::new(), lost: Vec::new(), doubtful, span });
        match self.tokens.peek().copied() {
            Some(Token::Open(at)) if form.keyword == Keyword::Include => {
                self.complain(at, at + 1, Message::TakesNoBlock { word: form.word });
                self.skip_block();
            }
            Some(Token::Open(at)) => {
                self.tokens.next();
                self.block(Some(at));
            }
            _ if form.keyword == Keyword::Include => {}
            // If its statements follow anyway, they report the missing brace.
            Some(Token::Head { start, end }) if self.belongs(form, start, end) => {}
            _ => {
                self.unfinished();
                self.complain(start, end, Message::NeedsBlock { word: form.word });
            }
        }
    }

    /// The statements of the last item up to its closing brace.
    pub(super) fn block(&mut self, open: Option<usize>) {
        let Some(item) = self.document.items.last_mut() else { return };
        let keyword = item.head.keyword;
        item.body.reserve(USUAL_BODY);
        loop {
            match self.tokens.peek().copied() {
                None => {
                    self.unclosed(open);
                    return;
                }
                Some(Token::Close(at)) => {
                    self.tokens.next();
                    self.extend(at + 1);
                    return;
                }
                Some(Token::Open(at)) => {
                    self.complain(at, at + 1, Message::StrayOpening);
                    self.skip_block();
                }
                Some(Token::Head { start, end }) => {
                    let word = &self.text[start..word_end(self.text, start, end)];
                    let form = form_of(body(keyword), word);
                    if self.begins_item(form, word, end) {
                        self.unclosed(open);
                        return;
                    }
                    self.tokens.next();
                    self.extend(end);
                    match form {
                        Some(form) => self.inside(keyword, form, start, end),
                        None => self.unknown(keyword, start, end),
                    }
                }
                Some(Token::Comment { .. }) => {
                    self.tokens.next();
                }
            }
        }
    }

    fn inside(&mut self, item: Keyword, form: &'static Form, start: usize, end: usize) {
        let mut read = true;
        let statement = self.statement_or(form, start, end, &mut read);
        let Some(holder) = self.document.items.last_mut() else { return };
        if !read {
            holder.doubtful = true;
            if let Some(name) = lost_name(self.text, self.file, form, start, end) {
                holder.lost.push((form.keyword, name));
            }
            return;
        }
        let bit = 1u64 << form.keyword as u64;
        let again = form.once && self.seen & bit != 0;
        self.seen |= bit;
        if again && self.problems.full(Id::Syntax) {
            return self.problems.leave_out(Id::Syntax, statement.span);
        }
        if again && let Some(earlier) = holder.body.iter().find(|earlier| earlier.keyword == form.keyword) {
            let message = Message::DuplicateStatement { word: form.word, item, first: earlier.span };
            return self.problems.add(message.at(statement.span));
        }
        holder.body.push(statement);
    }
}
