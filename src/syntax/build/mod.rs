//! Makes statements and clauses from what the grammar recognized.

mod value;

use pest::iterators::Pair;

use crate::quantity::{Quantity, unit_named};
use crate::syntax::clause::{ClauseKind, ClauseSet, Takes};
use crate::syntax::diagnostics::Diagnostics;
use crate::syntax::document::{Clause, Hold, Keyword, PlacedClause, Statement, StatementNames};
use crate::syntax::form::Form;
use crate::syntax::grammar::Rule;
use crate::syntax::measure::{self, want_of};
use crate::syntax::message::Message;
use crate::text::{FileId, Span};
pub use value::wide;

/// A statement while it is being read.
pub struct Draft<'a> {
    pub text: &'a str,
    pub file: FileId,
    pub problems: &'a mut Diagnostics,
    pub form: &'static Form,
    pub names: StatementNames,
    pub clauses: Vec<PlacedClause>,
    /// The clauses seen so far, whether or not they could be read.
    pub met: ClauseSet,
    pub doubtful: bool,
    pub span: Span,
    /// Plain lines may take the shortcut around the grammar.
    pub quick: bool,
}

impl<'a> Draft<'a> {
    pub fn new(text: &'a str, problems: &'a mut Diagnostics, form: &'static Form, span: Span) -> Draft<'a> {
        Draft {
            text,
            file: span.file,
            problems,
            form,
            names: StatementNames::default(),
            clauses: Vec::new(),
            met: ClauseSet::default(),
            doubtful: false,
            span,
            quick: false,
        }
    }

    pub fn finish(self) -> Statement {
        Statement {
            keyword: self.form.keyword,
            names: self.names,
            clauses: self.clauses,
            doubtful: self.doubtful,
            span: self.span,
        }
    }

    pub fn at(&self, start: usize, end: usize) -> Span {
        Span::new(self.file, start, end)
    }

    /// Reports a problem, and marks the statement as doubtful: it may not be what its author meant.
    pub fn refuse(&mut self, span: Span, message: Message<'_>) {
        self.problems.add(message.at(span));
        self.doubtful = true;
    }

    /// Takes the result of the grammar rule for the whole statement. `base` is where its text begins.
    pub fn line(&mut self, line: Pair<'_, Rule>, base: usize) {
        let mut amounts: Vec<(Span, Quantity)> = Vec::new();
        let mut words: Vec<Span> = Vec::new();
        let mut refused = false;
        let keyword = self.form.keyword;
        for pair in line.into_inner() {
            let span = self.place(&pair, base);
            match pair.as_rule() {
                Rule::name | Rule::material | Rule::kind | Rule::zone if keyword == Keyword::Holds => words.push(span),
                Rule::name | Rule::material | Rule::kind | Rule::zone => self.names.push(span),
                Rule::text => self.clauses.push(PlacedClause { kind: None, clause: Clause::Text(span), span }),
                Rule::class => self.class(span),
                Rule::quantity | Rule::rise => {
                    let second = !amounts.is_empty() || refused;
                    let want = match keyword {
                        Keyword::Indoor | Keyword::Outdoor if second => &measure::HUMIDITY,
                        Keyword::Indoor | Keyword::Outdoor => &measure::TEMPERATURE,
                        keyword => want_of(keyword),
                    };
                    match self.quantity(span, want) {
                        Some(quantity) => amounts.push((span, quantity)),
                        None => refused = true,
                    }
                }
                Rule::level => amounts.push((span, measure::level())),
                Rule::plumb => amounts.push((span, measure::plumb())),
                Rule::dry => {}
                Rule::wet => {
                    // The value before it was read as a dry-cup value.
                    if let Some(PlacedClause { kind: None, clause, .. }) = self.clauses.last_mut()
                        && let Clause::Dry(value) = *clause
                    {
                        *clause = Clause::Wet(value);
                    }
                }
                _ => self.clause(pair, base),
            }
            if self.form.rule == Rule::vapor_line {
                for (span, amount) in amounts.drain(..) {
                    self.clauses.push(PlacedClause { kind: None, clause: Clause::Dry(amount), span });
                }
            }
        }
        if keyword == Keyword::Holds {
            self.clauses.push(PlacedClause { kind: None, clause: Clause::Holds(words), span: self.span });
        }
        let clause = match amounts[..] {
            _ if refused => None,
            [(_, first), (_, second)] if keyword == Keyword::Surfaces => Some(Clause::Surfaces(first, second)),
            [(_, first), (_, second)] => Some(Clause::Air(first, second)),
            [(_, amount)] => Some(Clause::Amount(amount)),
            _ => None,
        };
        if let Some(clause) = clause {
            let span = amounts.iter().map(|(span, _)| *span).reduce(Span::to).unwrap_or(self.span);
            // Its clauses come after it.
            self.clauses.insert(0, PlacedClause { kind: None, clause, span });
        }
    }

    /// Takes one clause; refuses a duplicate.
    pub fn clause(&mut self, pair: Pair<'_, Rule>, base: usize) {
        let span = self.place(&pair, base);
        let Some(kind) = ClauseKind::of_rule(pair.as_rule()) else { return };
        // The place of a fold has a fixed position in the statement, so it is not a clause that could be a duplicate.
        let free = self.form.clauses.contains(&kind);
        if free && self.met.has(kind) && !kind.repeats() {
            self.refuse(span, Message::DuplicateClause { kind });
            return;
        }
        if free {
            self.met.put(kind);
        }
        if let Some(clause) = self.read(kind, pair, base) {
            self.clauses.push(PlacedClause { kind: Some(kind), clause, span });
        }
    }

    fn read(&mut self, kind: ClauseKind, pair: Pair<'_, Rule>, base: usize) -> Option<Clause> {
        let takes = kind.form().takes;
        match takes {
            Takes::Nothing(make) | Takes::Word(_, make) => return Some(make()),
            Takes::Extent(make) => {
                let span = self.place(&pair, base);
                return self.extent(pair, base, span).map(make);
            }
            _ => {}
        }
        let mut spans = Vec::new();
        let mut hold = Hold::Adhesive;
        let mut amounts = [None, None];
        for (n, inner) in pair.into_inner().enumerate() {
            let place = self.place(&inner, base);
            match inner.as_rule() {
                Rule::quantity | Rule::rise => {
                    let first = n == spans.len() && amounts[0].is_none();
                    let read = self.quantity(place, kind.want(first));
                    amounts[usize::from(!first)] = Some(read?);
                }
                Rule::level => amounts[0] = Some(measure::level()),
                Rule::one => amounts[0] = unit_named(inner.as_str()).map(|unit| Quantity::of(1.0, unit)),
                Rule::welded => hold = Hold::Weld,
                Rule::clamped => hold = Hold::Clamp,
                _ => spans.push(place),
            }
        }
        Some(match (takes, &spans[..], amounts) {
            (Takes::Name(make) | Takes::Text(make), [span], _) => make(*span),
            (Takes::StatementNames(make), _, _) => make(spans),
            (Takes::Amount(_, make), _, [Some(quantity), _]) => make(quantity),
            (Takes::Air(make), _, [Some(temperature), Some(humidity)]) => make(temperature, humidity),
            (Takes::Own, [first, others @ ..], _) if kind == ClauseKind::Joins => {
                Clause::Joins(*first, others.to_vec())
            }
            (Takes::Own, _, _) if kind == ClauseKind::Bonds => Clause::Bonds(spans, hold),
            (Takes::Own, [date], _) if kind == ClauseKind::Until => Clause::Until(self.date(*date)?),
            (Takes::Own, [one, other], _) if kind == ClauseKind::Meets => Clause::Meets(*one, *other),
            (Takes::Own, [frame], [Some(width), Some(spacing)]) => Clause::Between { frame: *frame, width, spacing },
            _ => return None,
        })
    }

    fn place(&self, pair: &Pair<'_, Rule>, base: usize) -> Span {
        let span = pair.as_span();
        self.at(base + span.start(), base + span.end())
    }
}

/// The kind of a clause by its word, for forms that may have it.
pub fn kind_of(form: &Form, word: &str) -> Option<ClauseKind> {
    form.clauses.iter().copied().find(|kind| kind.begins(word))
}
