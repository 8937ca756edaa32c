//! A shortcut for lines as most people write them: ASCII names, decimal numbers or fractions, known units, each clause
//! once. Whatever is unusual is left to the grammar, which stays the definition; so nothing is ever refused here.

mod words;

use crate::syntax::build::{Draft, slot_at};
use crate::syntax::clause::{Slot, Slots, Takes};
use crate::syntax::document::{Clause, Hold, Keyword, Names, Part};
use crate::syntax::form::Form;
use crate::syntax::grammar::LONGEST;
use crate::syntax::measure::{self, want_of};
use crate::syntax::quick::words::Word;
use crate::text::Span;

/// Takes a whole line into the draft, or leaves the draft as it was.
pub fn line(draft: &mut Draft<'_>, start: usize, end: usize) -> bool {
    let text = &draft.text[..end];
    let keyword_end = start + draft.form.word.len();
    if end - start > LONGEST || !matches!(text.as_bytes().get(keyword_end), None | Some(b' ' | b'\t')) {
        return false;
    }
    let mut line = Line {
        text,
        bytes: text.as_bytes(),
        next: Word::after(text.as_bytes(), keyword_end),
        before: keyword_end,
        draft_span: draft.span,
        names: Names::default(),
        // A line that may have no clauses has what its keyword asks for.
        clauses: Vec::with_capacity(if draft.form.clauses.is_empty() { 1 } else { 4 }),
        met: Slots::default(),
    };
    if line.read(draft.form).is_none() {
        return false;
    }
    (draft.names, draft.clauses, draft.met) = (line.names, line.clauses, line.met);
    true
}

struct Line<'a> {
    /// Up to the end of the line.
    text: &'a str,
    bytes: &'a [u8],
    /// What is read next.
    next: Word,
    /// Where what was read last ends.
    before: usize,
    draft_span: Span,
    names: Names,
    clauses: Vec<Part>,
    met: Slots,
}

impl Line<'_> {
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
                let slot = Some(if up { Slot::UpAt } else { Slot::AlongAt });
                let clause = if up { Clause::UpAt(at) } else { Clause::AlongAt(at) };
                self.clauses.push(Part { slot, clause, span });
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
            let slot = slot_at(form, word)?;
            self.clause(slot)?;
        }
        Some(())
    }

    fn clause(&mut self, slot: Slot) -> Option<()> {
        let Word { start, end, .. } = self.next;
        if self.met.has(slot) && !slot.repeats() {
            return None;
        }
        self.met.put(slot);
        if !matches!(slot, Slot::Title | Slot::Thickness) {
            self.go_on(end);
        }
        let clause = match (slot.form().takes, slot) {
            (Takes::Amount(_, make), Slot::Slope) if self.word("level").is_some() => make(measure::level()),
            (Takes::Nothing(make), _) => make(),
            (Takes::Word(word, make), _) => {
                self.word(word)?;
                make()
            }
            (Takes::Name(make), _) => make(self.name()?),
            (Takes::Names(make), _) => make(self.list()?),
            (Takes::Text(make), _) => make(self.quoted()?),
            (Takes::Amount(want, make), _) => make(self.quantity(want)?.0),
            (Takes::Reach(make), _) => make(self.extent()?),
            (Takes::Own, Slot::Joins) => {
                let one = self.name()?;
                let others = if self.word("to").is_some() { self.list()? } else { Vec::new() };
                Clause::Joins(one, others)
            }
            (Takes::Own, Slot::Bonds) => {
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
            (Takes::Own, Slot::Between) => {
                let frame = self.name()?;
                let width = self.quantity(slot.want(true))?.0;
                self.word("at")?;
                Clause::Between { frame, width, spacing: self.quantity(slot.want(false))?.0 }
            }
            (Takes::Own, Slot::Meets) => {
                let one = self.name()?;
                self.word("and")?;
                Clause::Meets(one, self.name()?)
            }
            (Takes::Own | Takes::Air(_), _) => return None,
        };
        let span = self.span(start, self.before);
        self.clauses.push(Part { slot: Some(slot), clause, span });
        Some(())
    }

    fn cups(&mut self, keyword: Keyword) -> Option<()> {
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

    fn amount(&mut self, keyword: Keyword) -> Option<()> {
        let (value, span) = self.quantity(want_of(keyword))?;
        self.push(Clause::Amount(value), span);
        Some(())
    }

    /// Names that may not be words with which clauses begin: the grammar tells what is wrong with those.
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
