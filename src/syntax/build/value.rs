//! Values of clauses: extents, quantities, classes, days.

use jiff::civil::Date;
use pest::iterators::Pair;

use super::Draft;
use crate::quantity::Quantity;
use crate::syntax::document::{Clause, Extent, PlacedClause};
use crate::syntax::grammar::Rule;
use crate::syntax::measure::{self, Want, measure};
use crate::syntax::message::Message;
use crate::text::Span;

/// Whether an extent is wider than rounding errors. Lengths in inches and millimeters are compared, so that two equal ones may
/// differ in the last digits.
pub fn wide(low: Quantity, high: Quantity) -> bool {
    high.si - low.si > 1e-7
}

impl Draft<'_> {
    pub(super) fn extent(&mut self, pair: Pair<'_, Rule>, base: usize, span: Span) -> Option<Extent> {
        let mut extent = Extent::default();
        let mut good = true;
        for end in pair.into_inner() {
            let read = self.quantity(self.place(&end, base), &measure::HEIGHT);
            good &= read.is_some();
            match end.as_rule() {
                Rule::low => extent.low = read,
                _ => extent.high = read,
            }
        }
        if !good {
            return None;
        }
        if let (Some(low), Some(high)) = (extent.low, extent.high)
            && !wide(low, high)
        {
            self.refuse(span, Message::EmptyExtent { low, high });
            return None;
        }
        Some(extent)
    }

    pub fn quantity(&mut self, span: Span, want: &Want) -> Option<Quantity> {
        match measure(&self.text[span.range()], span, want) {
            Ok(quantity) => Some(quantity),
            Err(message) => {
                self.problems.add(message.at(span));
                self.doubtful = true;
                None
            }
        }
    }

    pub(super) fn class(&mut self, span: Span) {
        match self.text[span.range()].parse() {
            Ok(class @ 1..=5) => self.clauses.push(PlacedClause { kind: None, clause: Clause::Class(class), span }),
            _ => self.refuse(span, Message::NoHumidityClass),
        }
    }

    pub(super) fn date(&mut self, span: Span) -> Option<Date> {
        let words = &self.text[span.range()];
        // The date library accepts several spellings, and the language only one.
        let plain = words.len() == 10 && words.bytes().all(|b| b.is_ascii_digit() || b == b'-');
        match words.parse::<Date>() {
            Ok(date) if plain => Some(date),
            _ => {
                self.refuse(span, Message::NotADate { words });
                None
            }
        }
    }
}
