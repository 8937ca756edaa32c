//! Clauses of a plain line, by the table of their forms.

use super::LineParser;
use crate::syntax::clause::{ClauseKind, Takes};
use crate::syntax::document::{Clause, Hold, Keyword, PlacedClause};
use crate::syntax::measure::{self, want_of};
use crate::syntax::quick::words::Word;

impl LineParser<'_> {
    pub(super) fn clause(&mut self, kind: ClauseKind) -> Option<()> {
        let Word { start, end, .. } = self.next;
        if self.met.has(kind) && !kind.repeats() {
            return None;
        }
        self.met.put(kind);
        if !matches!(kind, ClauseKind::Title | ClauseKind::Thickness) {
            self.go_on(end);
        }
        let clause = match (kind.form().takes, kind) {
            (Takes::Amount(_, make), ClauseKind::Slope) if self.word("level").is_some() => make(measure::level()),
            (Takes::Nothing(make), _) => make(),
            (Takes::Word(word, make), _) => {
                self.word(word)?;
                make()
            }
            (Takes::Name(make), _) => make(self.name()?),
            (Takes::StatementNames(make), _) => make(self.list()?),
            (Takes::Text(make), _) => make(self.quoted()?),
            (Takes::Amount(want, make), _) => make(self.quantity(want)?.0),
            (Takes::Extent(make), _) => make(self.extent()?),
            (Takes::Own, ClauseKind::Joins) => {
                let one = self.name()?;
                let others = if self.word("to").is_some() { self.list()? } else { Vec::new() };
                Clause::Joins(one, others)
            }
            (Takes::Own, ClauseKind::Bonds) => {
                let names = self.list()?;
                let hold = if self.word("welded").is_some() {
                    Hold::Weld
                } else if self.word("clamped").is_some() {
                    Hold::Clamp
                } else {
                    Hold::Adhesive
                };
                Clause::Bonds(names, hold)
            }
            (Takes::Own, ClauseKind::Between) => {
                let frame = self.name()?;
                let width = self.quantity(kind.want(true))?.0;
                self.word("at")?;
                Clause::Between { frame, width, spacing: self.quantity(kind.want(false))?.0 }
            }
            (Takes::Own, ClauseKind::Meets) => {
                let one = self.name()?;
                self.word("and")?;
                Clause::Meets(one, self.name()?)
            }
            (Takes::Own | Takes::Air(_), _) => return None,
        };
        let span = self.span(start, self.before);
        self.clauses.push(PlacedClause { kind: Some(kind), clause, span });
        Some(())
    }

    pub(super) fn cups(&mut self, keyword: Keyword) -> Option<()> {
        loop {
            let (value, span) = self.quantity(want_of(keyword))?;
            let wet = self.word("wet").is_some();
            if !wet {
                self.word("dry");
            }
            self.push(if wet { Clause::Wet(value) } else { Clause::Dry(value) }, span);
            match (self.comma(), self.clauses.len()) {
                (true, 1) => {}
                (true, _) => return None,
                (false, _) => return Some(()),
            }
        }
    }

    pub(super) fn amount(&mut self, keyword: Keyword) -> Option<()> {
        let (value, span) = self.quantity(want_of(keyword))?;
        self.push(Clause::Amount(value), span);
        Some(())
    }
}
