//! How to go on where braces do not match: which of them is missing or too many, and where the next item begins.

use crate::syntax::document::Keyword;
use crate::syntax::form::{Form, ITEMS, body, form_of, home};
use crate::syntax::message::Message;
use crate::syntax::parser::statement::lost_name;
use crate::syntax::parser::{Parser, Tokens};
use crate::syntax::recover::word_end;
use crate::syntax::scan::{Scanner, Token};
use crate::text::Span;

impl Parser<'_> {
    /// Whether the statements from here to the next brace repeat statements that the item above has. They then belong to
    /// another item, whose first line is missing.
    pub(super) fn begins_another(&self, start: usize) -> bool {
        let Some(item) = self.document.items.last() else { return true };
        let forms = body(item.head.keyword);
        let name = |span: Span| &self.text[span.range()];
        for token in Tokens(Scanner::of(&self.text[start..])) {
            let Token::Head { start: from, end: to } = token else { return false };
            let (from, to) = (start + from, start + to);
            let Some(form) = form_of(forms, &self.text[from..word_end(self.text, from, to)]) else { return false };
            let own = lost_name(self.text, self.file, form, from, to);
            let repeats = item
                .body
                .iter()
                .filter(|there| there.keyword == form.keyword)
                .any(|there| form.once || own.is_some() && own.map(name) == there.names.first.map(name));
            if repeats {
                return true;
            }
        }
        false
    }

    /// Reads statements whose item has lost its first line, up to their closing brace, and reports them as one mistake.
    pub(super) fn headless(&mut self, start: usize, end: usize, word: &str) {
        let mut count = 0;
        while let Some(token) = self.tokens.peek().copied() {
            match token {
                Token::Head { start, end } if home(&self.text[start..word_end(self.text, start, end)]).is_none() => {
                    break;
                }
                Token::Head { .. } => count += 1,
                Token::Open(_) => {
                    self.skip_block();
                    continue;
                }
                Token::Close(_) | Token::Comment { .. } => {}
            }
            self.tokens.next();
            if matches!(token, Token::Close(_)) {
                break;
            }
        }
        let item = home(word).unwrap_or(Keyword::Detail);
        self.complain(start, end, Message::NoItemAbove { word, count, item });
    }

    pub(super) fn belongs(&self, form: &Form, start: usize, end: usize) -> bool {
        let word = &self.text[start..word_end(self.text, start, end)];
        form_of(ITEMS, word).is_none() && form_of(body(form.keyword), word).is_some()
    }

    /// Whether a statement up to `end` begins an item although a block is open, whose closing brace was forgotten. `inside` is
    /// what its word means within the block.
    pub(super) fn begins_item(&self, inside: Option<&Form>, word: &str, end: usize) -> bool {
        match inside {
            // Within an assembly, `climate` names a climate; as an item it has a block.
            Some(form) if form.keyword == Keyword::ClimateUse => {
                matches!(Tokens(Scanner::of(&self.text[end..])).next(), Some(Token::Open(_)))
            }
            Some(_) => false,
            None => form_of(ITEMS, word).is_some(),
        }
    }

    /// Continues the last item, whose block was closed too early or never opened.
    pub(super) fn reopen(&mut self) {
        let Some(item) = self.document.items.last() else { return };
        let (head, end, item) = (item.head.span, item.span, item.head.keyword);
        let stop = end.range().end;
        let closed = self.text.as_bytes().get(stop.wrapping_sub(1)) == Some(&b'}') && end.end > head.end;
        if closed {
            self.complain(stop - 1, stop, Message::ClosedEarly { item });
        } else {
            self.complain(head.range().start, head.range().end, Message::NoOpening { item });
        }
        self.block(None);
    }

    pub(super) fn unclosed(&mut self, open: Option<usize>) {
        self.unfinished();
        if let Some(at) = open {
            self.complain(at, at + 1, Message::NoClosing { last: "statement" });
        }
    }

    /// Marks the last item as unfinished: its author is still writing, and what it lacks may come.
    pub(super) fn unfinished(&mut self) {
        if let Some(item) = self.document.items.last_mut() {
            item.doubtful = true;
        }
    }

    pub(super) fn skip_block(&mut self) {
        skip_block(&mut self.tokens, self.text);
    }
}

/// Skips a block and all blocks in it, without recursion; an item that begins in column 1 ends it.
pub(super) fn skip_block(tokens: &mut std::iter::Peekable<Tokens<'_>>, text: &str) {
    rest_of_block(tokens, text, 0);
}

/// The same from inside of `depth` blocks.
pub(super) fn rest_of_block(tokens: &mut std::iter::Peekable<Tokens<'_>>, text: &str, mut depth: usize) {
    while let Some(token) = tokens.peek().copied() {
        match token {
            Token::Open(_) => depth += 1,
            Token::Close(_) => depth = depth.saturating_sub(1),
            Token::Head { start, end } => {
                let first_column = start == 0 || text.as_bytes()[start - 1] == b'\n';
                if first_column && form_of(ITEMS, &text[start..word_end(text, start, end)]).is_some() {
                    return;
                }
            }
            Token::Comment { .. } => {}
        }
        tokens.next();
        if depth == 0 {
            return;
        }
    }
}
