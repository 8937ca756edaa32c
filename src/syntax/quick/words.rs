//! The words of a plain line: names, quantities, extents, texts in quotes. Each is read completely, or the line is left to the
//! grammar.

use crate::quantity::{Dimension, Quantity, base_unit, parse_number, unit_named};
use crate::syntax::build::wide;
use crate::syntax::document::{Clause, Extent, PlacedClause};
use crate::syntax::measure::{self, Want};
use crate::syntax::quick::LineParser;
use crate::syntax::scan::among;
use crate::text::Span;

/// From a byte that is not blank up to a blank, a comma or the end of the line; empty at a comma and at the end.
#[derive(Clone, Copy)]
pub(super) struct Word {
    pub(super) start: usize,
    pub(super) end: usize,
    /// Whether it consists of the characters of names.
    pub(super) name: bool,
}

impl Word {
    pub(super) fn after(line: &[u8], mut start: usize) -> Word {
        while matches!(line.get(start), Some(b' ' | b'\t')) {
            start += 1;
        }
        let mut name = line.get(start).is_some_and(u8::is_ascii_alphabetic);
        let mut end = start;
        while let Some(byte) = line.get(end)
            && !matches!(byte, b' ' | b'\t' | b',')
        {
            name &= NAMES[usize::from(*byte)];
            end += 1;
        }
        Word { start, end, name }
    }
}

/// The bytes of names.
const NAMES: [bool; 256] = among(b"-._0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz");

impl LineParser<'_> {
    pub(super) fn extent(&mut self) -> Option<Extent> {
        let mut extent = Extent::default();
        if self.word("to").is_some() {
            extent.high = Some(self.quantity(&measure::HEIGHT)?.0);
            return Some(extent);
        }
        let from = self.word("from").is_some();
        let low = self.quantity(&measure::HEIGHT)?.0;
        extent.low = Some(low);
        match self.word("to") {
            Some(()) => {
                let high = self.quantity(&measure::HEIGHT)?.0;
                extent.high = Some(high);
                wide(low, high).then_some(extent)
            }
            None => from.then_some(extent),
        }
    }

    /// A number and its unit, or feet and inches.
    pub(super) fn quantity(&mut self, want: &Want) -> Option<(Quantity, Span)> {
        let start = self.next.start;
        let number = parse_number(self.peek()?).ok()?;
        self.go_on(self.next.end);
        let mut quantity = Quantity::of(number, base_unit(Dimension::Number));
        if !want.dimensions.contains(&Dimension::Number) {
            let unit = unit_named(self.peek()?).filter(|unit| !unit.prefix && unit.symbol != "slope")?;
            quantity = Quantity::of(number, unit);
            self.go_on(self.next.end);
            if unit.symbol == "ft" && self.bytes.get(self.next.start).is_some_and(u8::is_ascii_digit) {
                let inches = parse_number(self.peek()?).ok()?;
                self.go_on(self.next.end);
                self.word("in")?;
                let whole = if number < 0.0 { number - inches / 12.0 } else { number + inches / 12.0 };
                quantity = Quantity::of(whole, unit);
            }
        }
        let good = want.dimensions.contains(&quantity.dimension()) && (want.least..=want.most).contains(&quantity.si);
        good.then(|| (quantity, self.span(start, self.before)))
    }

    pub(super) fn own_name(&mut self) -> Option<()> {
        let name = self.name()?;
        self.names.push(name);
        Some(())
    }

    pub(super) fn name(&mut self) -> Option<Span> {
        let Word { start, end, name } = self.next;
        name.then(|| {
            self.go_on(end);
            self.span(start, end)
        })
    }

    pub(super) fn list(&mut self) -> Option<Vec<Span>> {
        let mut names = Vec::with_capacity(2);
        loop {
            names.push(self.name()?);
            if !self.comma() {
                return Some(names);
            }
        }
    }

    pub(super) fn quoted(&mut self) -> Option<Span> {
        let start = self.next.start;
        let inner = self.bytes[start..].strip_prefix(b"\"")?;
        // A lone carriage return ends a line for the grammar, though it does not for `Lines`.
        let length = inner.iter().position(|b| matches!(b, b'"' | b'\\' | b'\r' | b'\n'))?;
        if inner[length] != b'"' {
            return None;
        }
        let end = start + length + 2;
        self.go_on(end);
        // A text in quotes that is followed by something without a blank is left to the grammar.
        matches!(self.bytes.get(end), None | Some(b' ' | b'\t')).then(|| self.span(start, end))
    }

    pub(super) fn word(&mut self, word: &str) -> Option<()> {
        let Word { start, end, .. } = self.next;
        (self.bytes[start..end] == *word.as_bytes()).then(|| self.go_on(end))
    }

    pub(super) fn comma(&mut self) -> bool {
        let comma = self.bytes.get(self.next.start) == Some(&b',');
        if comma {
            self.go_on(self.next.start + 1);
        }
        comma
    }

    /// The next word; `None` at the end of the line.
    pub(super) fn peek(&self) -> Option<&str> {
        let Word { start, end, .. } = self.next;
        (start < self.bytes.len()).then(|| &self.text[start..end])
    }

    /// Goes on at `at`; everything before it has been read.
    pub(super) fn go_on(&mut self, at: usize) {
        self.before = at;
        self.next = Word::after(self.bytes, at);
    }

    pub(super) fn push(&mut self, clause: Clause, span: Span) {
        self.clauses.push(PlacedClause { kind: None, clause, span });
    }

    pub(super) fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.draft_span.file, start, end)
    }
}
