//! How much room words take.

use crate::output::visible;
use crate::quantity::parse_quantity;

/// An upper bound of the width of words, for letters of a height. The reader's font is not known, so the widths are
/// those of a wide one.
pub fn width(words: &str, height: f64) -> f64 {
    let size = height / 0.72;
    words.chars().map(|c| em(c) * size).sum()
}

/// A sentence as it is lettered: names that stand in backticks elsewhere stand in quotation marks on a drawing.
pub fn lettered(sentence: &str) -> String {
    visible(sentence).replace('`', "'")
}

/// Breaks words into lines of at most `most` mm, never before a unit. A word that is too long by itself is broken anywhere.
pub fn wrap(words: &str, height: f64, most: f64) -> Vec<String> {
    let mut lines = vec![String::new()];
    // The width of the last line, as `width` adds it up.
    let mut reached = 0.0;
    let longer =
        |reached: f64, words: &str| words.chars().fold(reached, |reached, c| reached + em(c) * (height / 0.72));
    for word in words_of(words) {
        let line = lines.last_mut().expect("there is always a line");
        let gap = if line.is_empty() { "" } else { " " };
        let joined = longer(longer(reached, gap), &word);
        if joined <= most {
            line.push_str(gap);
            line.push_str(&word);
            reached = joined;
            continue;
        }
        if !line.is_empty() {
            lines.push(String::new());
            reached = 0.0;
        }
        for c in word.chars() {
            let line = lines.last_mut().expect("there is always a line");
            if !line.is_empty() && reached + em(c) * height / 0.72 > most {
                lines.push(String::new());
                reached = 0.0;
            }
            lines.last_mut().expect("there is always a line").push(c);
            reached += em(c) * (height / 0.72);
        }
    }
    lines
}

/// Words, each number with its unit as one.
fn words_of(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let unit = word.trim_end_matches([',', '.', ';', ':', ')']);
        let follows = words.last().is_some_and(|last| {
            let number = last.trim_start_matches('(');
            number.ends_with(|c: char| c.is_ascii_digit()) && parse_quantity(&format!("1 {unit}")).is_ok()
        });
        match words.last_mut() {
            Some(last) if follows && !unit.starts_with(|c: char| c.is_ascii_digit()) => {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

fn em(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | 't' | 'f' | 'r' | '.' | ',' | ':' | ';' | '!' | '|' | '\'' | '(' | ')' | '[' | ']' | ' ' => {
            0.42
        }
        'm' | 'w' | 'M' | 'W' | '@' | '%' | '…' | '—' => 1.0,
        c if c.is_ascii_uppercase() => 0.72,
        c if (c as u32) < 0x1100 => 0.65,
        _ => 1.1,
    }
}

#[cfg(test)]
mod tests {
    use super::{width, wrap};
    use crate::output::drawing::paper::WORDS;

    #[test]
    fn lines_keep_within_their_width_and_lose_nothing() {
        let words = "The wrap laps the strip by 25 mm; an-extraordinarily-long-name-without-any-blank follows";
        let lines = wrap(words, WORDS, 40.0);
        assert!(lines.iter().all(|line| width(line, WORDS) <= 40.0), "{lines:?}");
        let letters = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
        assert_eq!(letters(&lines.concat()), letters(words));
    }

    #[test]
    fn no_line_begins_with_a_unit() {
        let words = "from 38 mm to 140 mm, 500 kg/m3, (12.5 mm) and 1/2 in. up";
        for most in 10..60 {
            for line in wrap(words, WORDS, f64::from(most)) {
                let starts = ["mm", "kg/m3", "in."].iter().any(|unit| line.starts_with(unit));
                assert!(!starts || most < 24, "{line} at {most}");
            }
        }
    }
}
