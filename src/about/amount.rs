//! An amount in the units of the other system.

use crate::about::before;
use crate::quantity::{Dimension, Quantity, System, parse_quantity, unit_named};

/// What the number, or its unit, at a place of a text comes to; `None` for what both systems measure alike.
pub fn converted(text: &str, offset: usize) -> Option<String> {
    let start = text[..offset].rfind('\n').map_or(0, |at| at + 1);
    let end = text[offset..].find('\n').map_or(text.len(), |at| offset + at);
    let line = &text[start..end];
    let words: Vec<(usize, &str)> = line.split([' ', '\t', ';', ',']).map(|word| (place(line, word), word)).collect();
    let words: Vec<(usize, &str)> = words.into_iter().filter(|(_, word)| !word.is_empty()).collect();
    let at = words.iter().position(|(from, word)| (*from..=from + word.len()).contains(&(offset - start)))?;
    let amount = |first: usize| {
        let pair = words.get(first..first + 2)?;
        parse_quantity(&[pair[0].1, pair[1].1].join(" ")).ok()
    };
    let quantity = amount(at).or_else(|| amount(at.checked_sub(1)?))?;
    // In a comment or in quotes it is a word like others.
    before(text, offset).filter(|before| !before.in_quotes)?;
    let other = other(quantity)?;
    Some(format!("`{quantity}` is {other}"))
}

fn place(line: &str, word: &str) -> usize {
    word.as_ptr().addr() - line.as_ptr().addr()
}

fn other(quantity: Quantity) -> Option<Quantity> {
    let shown = if quantity.dimension() == Dimension::Length {
        let us = ["in", "ft"].contains(&quantity.unit.symbol);
        Quantity::from_si(quantity.si, unit_named(if us { "mm" } else { "in" })?)
    } else {
        let us = System::Us.show(quantity);
        if us.unit.symbol == quantity.unit.symbol { System::Metric.show(quantity) } else { us }
    };
    (shown.unit.symbol != quantity.unit.symbol).then_some(shown)
}

#[cfg(test)]
mod tests {
    use super::converted;

    #[test]
    fn a_length_is_converted_to_the_other_units() {
        let text = "detail D course joins W {\n  piece a wrap up -3 in to 6 in\n  grade up 254 mm # 254 mm\n  note \"254 mm\"\n}\n";
        let at = |word: &str, nth: usize| converted(text, text.match_indices(word).nth(nth).expect("it is there").0);
        assert_eq!(at("-3", 0).as_deref(), Some("`-3 in` is -76.2 mm"));
        assert_eq!(at("in", 1).as_deref(), Some("`-3 in` is -76.2 mm"));
        assert_eq!(at("254", 0).as_deref(), Some("`254 mm` is 10 in"));
        assert_eq!(at("to", 0), None);
        assert_eq!(at("254", 1), None, "a comment");
        assert_eq!(at("254", 2), None, "words for the drawing");
    }
}
