//! The lines of a file that a finding is about, with marks under the very words.
//!
//! miette draws the frame. It gets the few lines that it shows and not the file: it would read the file from its
//! start once for every finding.

use miette::{
    Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteError, MietteSpanContents, SourceCode,
    SourceSpan, SpanContents, ThemeCharacters, ThemeStyles,
};

use crate::output::Look;
use crate::output::visible::{same_length, visible};
use crate::output::wrap::wrap;
use crate::text::{Source, Span};

/// A mark under some words, with what is to be said of them.
pub struct Mark {
    pub span: Span,
    pub says: Option<String>,
    pub primary: bool,
}

/// The marked lines of one file with a line around them, framed. All marks must lie in that file.
pub fn excerpt(source: &Source, marks: &[Mark], look: Look) -> String {
    let excerpt = Excerpt::of(source, marks);
    let theme = GraphicalTheme {
        characters: if look.unicode { ThemeCharacters::unicode() } else { ThemeCharacters::ascii() },
        styles: if look.color { ThemeStyles::ansi() } else { ThemeStyles::none() },
    };
    let mut framed = String::new();
    // A span outside the excerpt is the only way to fail, and the excerpt was made from the spans.
    let _ = GraphicalReportHandler::new_themed(theme)
        .with_width(look.width)
        .with_context_lines(1)
        .render_report(&mut framed, &excerpt);
    // Before the frame stands miette's own heading, which says nothing here.
    let corner = if look.unicode { "╭─" } else { ",-" };
    match framed.find(corner).map(|at| framed[..at].rfind('\n').map_or(0, |newline| newline + 1)) {
        Some(frame) => framed[frame..].trim_end().lines().map(str::trim_end).collect::<Vec<_>>().join("\n"),
        None => String::new(),
    }
}

/// Lines beyond this many characters are cut down to the part around the first mark.
const LONGEST: usize = 200;
const CUT: &str = "...";

/// The shown lines, as one text of their own.
#[derive(Debug)]
struct Excerpt {
    name: String,
    text: String,
    lines: Vec<ExcerptLine>,
    marks: Vec<LabeledSpan>,
}

#[derive(Debug)]
struct ExcerptLine {
    /// From 0, in the file.
    number: usize,
    /// Bytes in the excerpt's text, without the line break.
    range: std::ops::Range<usize>,
    /// Characters of the file's line that were cut away before it.
    skipped: usize,
}

impl Excerpt {
    fn of(source: &Source, marks: &[Mark]) -> Excerpt {
        let mut excerpt = Excerpt {
            name: same_length(&source.name).into_owned(),
            text: String::new(),
            lines: Vec::new(),
            marks: Vec::new(),
        };
        let first_line = |mark: &Mark| source.lines().line_at((mark.span.start as usize).min(source.text.len()));
        for number in shown_lines(marks.iter().map(first_line), source) {
            let whole = source.lines().range(&source.text, number);
            let here: Vec<&Mark> = marks.iter().filter(|m| first_line(m) == number).collect();
            let start = here.iter().map(|m| m.span.start as usize).min();
            let kept = kept_part(&source.text, whole.clone(), start.unwrap_or(whole.start));
            let from = excerpt.text.len() + if kept.start > whole.start { CUT.len() } else { 0 };
            let begin = excerpt.text.len();
            if kept.start > whole.start {
                excerpt.text.push_str(CUT);
            }
            excerpt.text.push_str(&same_length(&source.text[kept.clone()]));
            if kept.end < whole.end {
                excerpt.text.push_str(CUT);
            }
            if excerpt.text.len() == begin {
                // A mark needs something to stand under.
                excerpt.text.push(' ');
            }
            let range = begin..excerpt.text.len();
            for mark in here {
                excerpt.marks.push(marked(&excerpt.text, range.clone(), from, kept.clone(), mark));
            }
            let skipped = source.text[whole.start..kept.start].chars().count();
            excerpt.lines.push(ExcerptLine { number, range, skipped });
            excerpt.text.push('\n');
        }
        excerpt
    }

    fn line_of(&self, offset: usize) -> usize {
        self.lines.partition_point(|line| line.range.start <= offset).saturating_sub(1)
    }
}

/// The mark on its first line: a mark over a whole block would draw all of the block.
/// It is never empty and ends on a character boundary.
fn marked(
    text: &str,
    line: std::ops::Range<usize>,
    from: usize,
    kept: std::ops::Range<usize>,
    mark: &Mark,
) -> LabeledSpan {
    let place = |offset: usize| from + offset.clamp(kept.start, kept.end) - kept.start;
    let mut start = place(mark.span.start as usize).min(line.end - 1);
    while !text.is_char_boundary(start) {
        start -= 1;
    }
    let next = start + text[start..].chars().next().map_or(1, char::len_utf8);
    let mut end = place(mark.span.end as usize).max(next).min(line.end);
    while !text.is_char_boundary(end) {
        end += 1;
    }
    let says = mark.says.as_deref().map(|says| wrap(&visible(says), "", 60));
    if mark.primary {
        LabeledSpan::new_primary_with_span(says, (start, end - start))
    } else {
        LabeledSpan::new_with_span(says, (start, end - start))
    }
}

/// Each marked line with the one before and after it, unless that is blank; where one or two lines would be left out,
/// they are shown.
fn shown_lines(marked: impl Iterator<Item = usize>, source: &Source) -> Vec<usize> {
    let blank = |line: usize| source.text[source.lines().range(&source.text, line)].trim().is_empty();
    let count = source.lines().count();
    let around = |line: usize| {
        let beside = [line.checked_sub(1), Some(line + 1).filter(|next| *next < count)];
        beside.into_iter().flatten().filter(|line| !blank(*line)).chain([line]).collect::<Vec<_>>()
    };
    let mut lines: Vec<usize> = marked.flat_map(around).collect();
    lines.sort_unstable();
    lines.dedup();
    let mut shown: Vec<usize> = Vec::new();
    for line in lines {
        if let Some(last) = shown.last().copied().filter(|last| line - last <= 3) {
            shown.extend(last + 1..line);
        }
        shown.push(line);
    }
    shown
}

/// The part of a line that is shown: all of it, or `LONGEST` characters from shortly before `at`.
fn kept_part(text: &str, line: std::ops::Range<usize>, at: usize) -> std::ops::Range<usize> {
    if line.len() <= LONGEST || text[line.clone()].chars().count() <= LONGEST {
        return line;
    }
    let mut at = at.clamp(line.start, line.end);
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    let before = text[line.start..at].char_indices().rev().nth(LONGEST / 4).map_or(line.start, |(i, _)| line.start + i);
    let after = text[before..line.end].char_indices().nth(LONGEST).map_or(line.end, |(i, _)| before + i);
    before..after
}

impl SourceCode for Excerpt {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        if self.lines.is_empty() || span.offset() + span.len() > self.text.len() {
            return Err(MietteError::OutOfBounds);
        }
        let (first, last) = (self.line_of(span.offset()), self.line_of(span.offset() + span.len()));
        if before == 0 && after == 0 {
            // Asked for the place that the frame's heading names.
            let line = &self.lines[first];
            let cut = if line.skipped > 0 { CUT.len() } else { 0 };
            let column = self.text[line.range.start..span.offset()].chars().count().saturating_sub(cut) + line.skipped;
            let data = &self.text.as_bytes()[span.offset()..span.offset() + span.len()];
            return Ok(Box::new(MietteSpanContents::new_named(self.name.clone(), data, *span, line.number, column, 1)));
        }
        let (mut from, mut to) = (first, last);
        while from > 0 && self.lines[from - 1].number + 1 == self.lines[from].number {
            from -= 1;
        }
        while to + 1 < self.lines.len() && self.lines[to].number + 1 == self.lines[to + 1].number {
            to += 1;
        }
        // Lines that do not follow each other in the file are separate frames.
        if self.lines[to].number - self.lines[from].number != to - from {
            return Err(MietteError::OutOfBounds);
        }
        let range = self.lines[from].range.start..self.lines[to].range.end;
        let data = &self.text.as_bytes()[range.clone()];
        let span = SourceSpan::from((range.start, range.len()));
        Ok(Box::new(MietteSpanContents::new_named(
            self.name.clone(),
            data,
            span,
            self.lines[from].number,
            0,
            to - from + 1,
        )))
    }
}

impl Diagnostic for Excerpt {
    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(self)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.marks.iter().cloned()))
    }
}

impl std::fmt::Display for Excerpt {
    fn fmt(&self, _: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        Ok(())
    }
}

impl std::error::Error for Excerpt {}
