//! The messages of the reader of texts, each with its id, its words and what to do about it.

use crate::finding::{Finding, Id};
use crate::quantity::{Dimension, Quantity};
use crate::syntax::clause::ClauseKind;
use crate::syntax::diagnostics::short;
use crate::syntax::document::Keyword;
use crate::syntax::form::{Form, ITEMS, body, with_article};
use crate::syntax::measure::{Habit, Want, units};
use crate::text::Span;

/// What is wrong with a text. The code that finds it builds the variant; its wording is here.
#[derive(Clone, Debug)]
pub enum Message<'a> {
    // Items, and the braces around their statements.
    UnknownItem {
        words: &'a str,
        close: Option<Close>,
    },
    UnknownStatement {
        words: &'a str,
        item: Keyword,
        close: Option<Close>,
    },
    WrongItem {
        word: &'a str,
        home: Keyword,
        item: Keyword,
    },
    NoItemAbove {
        word: &'a str,
        count: usize,
        item: Keyword,
    },
    DuplicateStatement {
        word: &'a str,
        item: Keyword,
        first: Span,
    },
    StrayOpening,
    StrayClosing,
    NoOpening {
        item: Keyword,
    },
    NoClosing {
        last: &'static str,
    },
    ClosedEarly {
        item: Keyword,
    },
    NeedsBlock {
        word: &'a str,
    },
    TakesNoBlock {
        word: &'a str,
    },
    // Words of a statement.
    Unexpected {
        words: &'a str,
        expected: &'a str,
        shape: &'a str,
        habit: Option<Habit>,
    },
    EndsEarly {
        last: &'a str,
        expected: &'a str,
        shape: &'a str,
    },
    NoClosingQuote {
        shape: &'a str,
    },
    StatementTooLong,
    StrayCharacter {
        name: &'a str,
        letter: char,
    },
    // Clauses.
    UnknownClause {
        words: &'a str,
        form: &'a Form,
        close: Option<Close>,
    },
    DuplicateClause {
        kind: ClauseKind,
    },
    MissingClause {
        form: &'a Form,
        kind: ClauseKind,
    },
    SinglePlace {
        words: &'a str,
        form: &'a Form,
        kind: ClauseKind,
    },
    // Values.
    NotANumber {
        words: &'a str,
        want: &'a Want,
        habit: Option<Habit>,
    },
    DecimalComma {
        words: &'a str,
    },
    UnknownUnit {
        unit: &'a str,
        want: &'a Want,
        close: Option<Close>,
    },
    WrongDimension {
        words: &'a str,
        dimension: Dimension,
        want: &'a Want,
    },
    OutOfRange {
        words: &'a str,
        range: Option<&'a str>,
    },
    EmptyExtent {
        low: Quantity,
        high: Quantity,
    },
    NoHumidityClass,
    NotADate {
        words: &'a str,
    },
    /// Instead of the messages beyond those that are listed.
    More {
        count: usize,
    },
}

/// The known word nearest to what was written, and the words that it replaces.
#[derive(Clone, Copy, Debug)]
pub struct Close {
    pub word: &'static str,
    pub span: Span,
}

impl Message<'_> {
    /// The finding at the words at fault.
    pub fn at(self, span: Span) -> Finding {
        let syntax = |message: String| Id::Syntax.at(span, message);
        match self {
            Message::UnknownItem { words, close: Some(close) } => {
                nearest(syntax(format!("unknown statement `{}`", short(words))), close)
            }
            Message::UnknownItem { words, close: None } => syntax(format!("unknown statement `{}`", short(words)))
                .fix(format!("Begin a statement with one of {}.", listed(ITEMS))),
            Message::UnknownStatement { words, item, close } => {
                let finding = syntax(format!("unknown statement `{}` in {}", short(words), with_article(item)));
                match close {
                    Some(close) => nearest(finding, close),
                    None => finding.fix(format!("It can hold: {}.", listed(body(item)))),
                }
            }
            Message::WrongItem { word, home, item } => {
                syntax(format!("`{word}` belongs in {}, not in {}", with_article(home), with_article(item)))
                    .fix(format!("It can hold: {}.", listed(body(item))))
            }
            Message::NoItemAbove { word, count, item } => {
                let form = ITEMS.iter().find(|form| form.keyword == item);
                let (name, shape) = form.map_or(("item", ""), |form| (form.word, form.shape));
                let finding = syntax(match count {
                    1 => format!("`{word}` belongs in {}, but no {name} begins above it", with_article(item)),
                    _ => {
                        format!("these {count} statements belong in {} whose first line is missing", with_article(item))
                    }
                });
                finding.fix(format!("Write `{}` above them.", shape.replace(" … }", "")))
            }
            Message::DuplicateStatement { word, item, first } => {
                syntax(format!("duplicate `{word}` in {}", with_article(item)))
                    .related(first, "here is the first one")
                    .fix("Keep one of the two.")
            }
            Message::StrayOpening => syntax("this `{` opens a block that belongs to no statement".into()),
            Message::StrayClosing => {
                syntax("this `}` has no matching `{`".into()).fix("Delete it, or add the missing `{` above.")
            }
            Message::NoOpening { item } => syntax(format!("the block of {} has no opening `{{`", with_article(item)))
                .fix("Write `{` at the end of this line."),
            Message::NoClosing { last } => {
                syntax("this block has no closing `}`".into()).fix(format!("Write `}}` after its last {last}."))
            }
            Message::ClosedEarly { item } => {
                syntax(format!("this `}}` ends {}, but more of its statements follow", with_article(item)))
                    .fix("Delete this brace.")
            }
            Message::NeedsBlock { word } => {
                syntax(format!("this {word} needs a block")).fix("Write its statements in `{ }` after it.")
            }
            Message::TakesNoBlock { word } => syntax(format!("`{word}` takes no block")),

            Message::Unexpected { words, expected, shape, habit } => {
                let finding = syntax(match expected {
                    "" => format!("unexpected `{}`", short(words)),
                    expected => format!("unexpected `{}`; expected {expected}", short(words)),
                });
                finding.fix(habit.map_or_else(|| like_this(shape), |habit| habit.cure().to_owned()))
            }
            Message::EndsEarly { last, expected, shape } => {
                let finding = syntax(match expected {
                    "" => format!("something is missing after `{}`", short(last)),
                    expected => format!("expected {expected} after `{}`", short(last)),
                });
                finding.fix(like_this(shape))
            }
            Message::NoClosingQuote { shape } => syntax(NO_CLOSING_QUOTE.into()).fix(like_this(shape)),
            Message::StatementTooLong => syntax("the statement that begins here is too long".into()),
            Message::StrayCharacter { name, letter } => {
                let code = u32::from(letter);
                syntax(format!("a {name} (U+{code:04X}) does not end a line; expected a line break"))
                    .fix("Replace it with a line break.")
            }

            Message::UnknownClause { words, form, close } => unknown_clause(span, words, form, close),
            Message::DuplicateClause { kind: ClauseKind::Title } => syntax("this statement already has a title".into()),
            Message::DuplicateClause { kind: ClauseKind::Thickness } => {
                syntax("this layer already has a thickness".into())
            }
            Message::DuplicateClause { kind } => {
                syntax(format!("duplicate `{}` in this statement", kind.word().unwrap_or_default()))
            }
            Message::MissingClause { form, kind } => {
                let finding = syntax(match kind {
                    ClauseKind::Because => "this waiver gives no reason".into(),
                    kind => format!("this `{}` is missing `{} …`", form.word, kind.word().unwrap_or_default()),
                });
                finding.fix(format!("Write `{}`.", form.shape))
            }
            Message::SinglePlace { words, form, kind } => single_place(span, words, form, kind),

            Message::NotANumber { words, want, habit } => {
                let mut finding = syntax(format!("`{}` is not a number; expected {}", short(words), want.phrase));
                finding.fix = habit.map(|habit| habit.cure().into());
                finding
            }
            Message::DecimalComma { words } => syntax(format!(
                "`{}` has a comma; expected a decimal point, and no separator between thousands",
                short(words)
            )),
            Message::UnknownUnit { unit, want, close } => {
                let finding =
                    Id::WrongUnit.at(span, format!("`{}` is not a unit; expected {}", short(unit), want.phrase));
                match close {
                    Some(close) => nearest(finding, close),
                    None => with_units(finding, want),
                }
            }
            Message::WrongDimension { words, dimension, want } => {
                let words = short(words);
                let message = match dimension {
                    Dimension::Number => format!("`{words}` has no unit; expected {}", want.phrase),
                    other => format!("`{words}` is {}; expected {}", other.phrase(), want.phrase),
                };
                with_units(Id::WrongUnit.at(span, message), want)
            }
            Message::OutOfRange { words, range } => {
                let expected = range.map(|range| format!("; expected {range}")).unwrap_or_default();
                Id::WrongUnit.at(span, format!("`{}` is out of range{expected}", short(words)))
            }
            Message::EmptyExtent { low, high } if low.si > high.si => Id::EmptyExtent
                .at(span, format!("this extent runs backward, from {low} to {high}"))
                .fix(format!("Write the smaller number first: {high} to {low}.")),
            Message::EmptyExtent { low, high } => Id::EmptyExtent
                .at(span, format!("this extent runs from {low} to {high}, so it is empty"))
                .fix("Write where it begins and where it ends."),
            Message::NoHumidityClass => Id::WrongUnit.at(span, "humidity classes run from 1 to 5 (ISO 13788)"),
            Message::NotADate { words } => {
                syntax(format!("`{}` is not a date; expected year, month and day such as `2027-03-31`", short(words)))
            }

            Message::More { count } => Id::LeftOut
                .at(
                    span,
                    match count {
                        1 => "1 more error from here on is not listed".to_owned(),
                        more => format!("{more} more errors from here on are not listed"),
                    },
                )
                .fix("Fix the first ones, then check again."),
        }
    }
}

const NO_CLOSING_QUOTE: &str = "this quoted text has no closing quote on its line";

fn unknown_clause(span: Span, words: &str, form: &Form, close: Option<Close>) -> Finding {
    let finding = Id::Syntax.at(
        span,
        if open_quote(words) {
            NO_CLOSING_QUOTE.to_owned()
        } else if words.trim() == "," {
            format!("unexpected comma in `{}`", form.word)
        } else if words.starts_with('"') {
            format!("unexpected {} in `{}`", short(words), form.word)
        } else {
            format!("unexpected `{}` in `{}`", short(words), form.word)
        },
    );
    let first = words.split([' ', '\t', ',']).next().unwrap_or_default();
    let known: Vec<&str> = form.clauses.iter().filter_map(|kind| kind.word()).collect();
    match close {
        Some(close) => nearest(finding, close),
        None if matches!(first, "welded" | "clamped") => {
            finding.fix(format!("Write it after the pieces that it applies to: `bonds PIECE {first}`."))
        }
        None if words.trim() == "," => finding.fix("Delete it. Commas stand between names, not between clauses."),
        None if matches!(first, "from" | "to") && known.contains(&"up") => {
            finding.fix("Write `up` before it for heights, or `along` for places from left to right.")
        }
        None if known.is_empty() => finding.fix(like_this(form.shape)),
        None => finding.fix(format!("`{}` can have: {}.", form.word, known.join(", "))),
    }
}

/// `words` are `up 100 mm`.
fn single_place(span: Span, words: &str, form: &Form, kind: ClauseKind) -> Finding {
    let blank = |c: char| c.is_whitespace();
    let (word, place) = words.split_once(blank).unwrap_or((words, ""));
    let place = place.trim_start_matches(blank);
    let mut fix = format!("Write `{word} from {place}`, `{word} to {place}`, or both ends as in `{}`.", kind.shape());
    if form.keyword == Keyword::Fasten {
        fix += &format!(" A single row is a narrow band: at 100 mm, `{word} 90 mm to 110 mm`.");
    }
    let message = format!("`{}` is a single place; expected a range for `{}`", short(words), form.word);
    Id::Syntax.at(span, message).fix(fix)
}

/// Whether words begin with a quote that does not close.
pub fn open_quote(words: &str) -> bool {
    let Some(inner) = words.strip_prefix('"') else { return false };
    let mut letters = inner.chars();
    while let Some(letter) = letters.next() {
        match letter {
            '"' => return false,
            '\\' => drop(letters.next()),
            _ => {}
        }
    }
    true
}

impl Habit {
    /// How the language writes it.
    fn cure(self) -> &'static str {
        match self {
            Habit::FeetAndInches => "Write feet and inches as `1 ft 6 in`.",
            Habit::FractionSign => "Write a fraction with a slash: `1-1/2`.",
            Habit::Minus => "Write a minus as `-`, with no space before the number: `-25`.",
            Habit::MixedNumber => "Join a whole number to its fraction: `1-1/2`.",
        }
    }
}

fn nearest(finding: Finding, Close { word, span }: Close) -> Finding {
    finding.fix(format!("Write `{word}`.")).edit(span, word)
}

fn with_units(mut finding: Finding, want: &Want) -> Finding {
    let units: Vec<String> = units(want).map(|unit| format!("`{unit}`")).collect();
    finding.fix =
        (!units.is_empty()).then(|| format!("Write the number with one of the units {}.", units.join(", ")).into());
    finding
}

fn like_this(shape: &str) -> String {
    format!("Write it like this: `{shape}`.")
}

fn listed(forms: &[Form]) -> String {
    forms.iter().map(|form| form.word).collect::<Vec<_>>().join(", ")
}
