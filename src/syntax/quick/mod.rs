//! A shortcut for lines as most people write them: ASCII names, decimal numbers or fractions, known units, each clause once.
//! Anything unusual is left to the grammar, which remains the definition, so that nothing is refused here.

mod clause;
mod words;

use crate::syntax::build::{Draft, kind_of};
use crate::syntax::clause::{ClauseKind, ClauseSet};
use crate::syntax::document::{Clause, Keyword, PlacedClause, StatementNames};
use crate::syntax::form::Form;
use crate::syntax::grammar::LONGEST;
use crate::syntax::measure::{self};
use crate::syntax::quick::words::Word;
use crate::text::Span;

/// Takes a whole line into the draft, or leaves the draft as it was.
pub fn line(draft: &mut Draft<'_>, start: usize, end: usize) -> bool {
    let text = &draft.text[..end];
    let keyword_end = start + draft.form.word.len();
    if end - start > LONGEST || !matches!(text.as_bytes().get(keyword_end), None | Some(b' ' | b'\t')) {
        return false;
    }
    let mut line = LineParser {
        text,
        bytes: text.as_bytes(),
        next: Word::after(text.as_bytes(), keyword_end),
        before: keyword_end,
        draft_span: draft.span,
        names: StatementNames::default(),
        // A statement that may not have clauses has only the value that its keyword requires.
        clauses: Vec::with_capacity(if draft.form.clauses.is_empty() { 1 } else { 4 }),
        met: ClauseSet::default(),
    };
    if line.read(draft.form).is_none() {
        return false;
    }
    (draft.names, draft.clauses, draft.met) = (line.names, line.clauses, line.met);
    true
}

struct LineParser<'a> {
    /// Up to the end of the line.
    text: &'a str,
    bytes: &'a [u8],
    /// The next word to read.
    next: Word,
    /// The end of what was read last.
    before: usize,
    draft_span: Span,
    names: StatementNames,
    clauses: Vec<PlacedClause>,
    met: ClauseSet,
}

impl LineParser<'_> {
    fn read(&mut self, form: &'static Form) -> Option<()> {
        match form.keyword {
            Keyword::Include | Keyword::Sheet | Keyword::Note | Keyword::Section | Keyword::SourceNote => {
                let span = self.quoted()?;
                self.push(Clause::Text(span), span);
            }
            Keyword::Climate | Keyword::Cut | Keyword::Fasten | Keyword::Waive | Keyword::Needs => self.own_name()?,
            Keyword::Surface | Keyword::MadeOf | Keyword::Adhesive | Keyword::ClimateUse => self.own_name()?,
            Keyword::Layer => {
                let material = self.name()?;
                self.no_clause_word(material)?;
                self.names.push(material);
            }
            Keyword::Material => {
                let name = self.name()?;
                self.no_clause_word(name)?;
                self.names.push(name);
                self.own_name()?;
            }
            Keyword::Assembly => {
                self.own_name()?;
                self.own_name()?;
            }
            Keyword::Detail => {
                self.own_name()?;
                let kind = self.name()?;
                if &self.text[kind.range()] == "joins" {
                    return None;
                }
                self.names.push(kind);
            }
            Keyword::Piece => {
                self.own_name()?;
                let material = self.name()?;
                self.no_clause_word(material)?;
                self.names.push(material);
            }
            Keyword::Seal => {
                self.own_name()?;
                self.word("to")?;
                self.own_name()?;
            }
            Keyword::Holds => {
                let names = self.list()?;
                self.push(Clause::Holds(names), self.draft_span);
            }
            Keyword::Outdoor => {
                self.own_name()?;
                let (temperature, from) = self.quantity(&measure::TEMPERATURE)?;
                let (humidity, to) = self.quantity(&measure::HUMIDITY)?;
                self.push(Clause::Air(temperature, humidity), from.to(to));
            }
            Keyword::Grade => {
                self.word("up")?;
                self.amount(form.keyword)?;
            }
            Keyword::WallLine => {
                self.word("up")?;
                self.amount(form.keyword)?;
            }
            Keyword::Slope => {
                let start = self.next.start;
                let upright = self.word("plumb").map(|()| measure::plumb());
                let said = upright.or_else(|| self.word("level").map(|()| measure::level()));
                match said {
                    Some(said) => self.push(Clause::Amount(said), self.span(start, self.before)),
                    None => self.amount(form.keyword)?,
                }
            }
            Keyword::Fold | Keyword::Valley => {
                let start = self.next.start;
                let up = self.word("up").is_some();
                if !up {
                    self.word("along")?;
                }
                let (at, end) = self.quantity(&measure::HEIGHT)?;
                let span = Span { start: start as u32, ..end };
                let kind = Some(if up { ClauseKind::UpAt } else { ClauseKind::AlongAt });
                let clause = if up { Clause::UpAt(at) } else { Clause::AlongAt(at) };
                self.clauses.push(PlacedClause { kind, clause, span });
                if form.keyword == Keyword::Fold {
                    self.own_name()?;
                }
            }
            Keyword::Permeance | Keyword::Mu | Keyword::Permeability | Keyword::AirLayer => self.cups(form.keyword)?,
            Keyword::Thickness
            | Keyword::AirPermeance
            | Keyword::Conductivity
            | Keyword::Density
            | Keyword::AppliesAbove
            | Keyword::UvLimit
            | Keyword::Exposed
            | Keyword::InstalledAt => self.amount(form.keyword)?,
            Keyword::Sensitive | Keyword::DoubleSided | Keyword::Capped | Keyword::Vented | Keyword::Drained => {}
            Keyword::Outside | Keyword::Inside | Keyword::Weeps | Keyword::Sheltered | Keyword::Set => {}
            _ => return None,
        }
        while let Some(word) = self.peek() {
            let kind = kind_of(form, word)?;
            self.clause(kind)?;
        }
        Some(())
    }

    /// Names that may not be words with which clauses begin: the grammar reports what is wrong with those.
    fn no_clause_word(&self, name: Span) -> Option<()> {
        let word = &self.text[name.range()];
        (!CLAUSE_WORDS.contains(&word)).then_some(())
    }
}

/// The grammar's `clause_word`.
const CLAUSE_WORDS: &[&str] = &[
    "of",
    "as",
    "up",
    "along",
    "bonds",
    "over",
    "behind",
    "with",
    "slope",
    "rolled",
    "primed",
    "inside",
    "controls",
    "between",
    "at",
    "to",
    "from",
    "every",
    "for",
    "dry",
    "wet",
    "indoor",
    "outdoor",
    "saturation",
    "vapor",
    "width",
    "depth",
    "on",
    "per",
    "paved",
];

#[cfg(test)]
mod tests {
    use super::CLAUSE_WORDS;

    #[test]
    fn the_words_that_no_material_is_called_are_those_of_the_grammar() {
        let grammar = include_str!("../../../grammar/detail.pest");
        let (_, rest) = grammar.split_once("clause_word = _{").expect("a rule of that name");
        let (list, _) = rest.split_once('}').expect("it ends");
        let words: Vec<&str> = list.split('"').skip(1).step_by(2).collect();
        assert_eq!(words, CLAUSE_WORDS);
    }
}
