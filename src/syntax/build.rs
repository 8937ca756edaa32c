//! From what the grammar recognized to statements and clauses.

use jiff::civil::Date;
use pest::iterators::Pair;

use crate::quantity::{Quantity, unit_named};
use crate::syntax::document::{Clause, Extent, Hold, Keyword, Names, Part, Statement};
use crate::syntax::form::{Form, Slot, Slots};
use crate::syntax::grammar::Rule;
use crate::syntax::measure::{self, Want, measure, want_of};
use crate::syntax::problem::{Problem, Problems, short};
use crate::text::{FileId, Span};

/// A statement while it is read.
pub struct Draft<'a> {
    pub text: &'a str,
    pub file: FileId,
    pub problems: &'a mut Problems,
    pub form: &'static Form,
    pub names: Names,
    pub clauses: Vec<Part>,
    /// Clauses that were met, whether or not they could be read.
    pub met: Slots,
    pub doubtful: bool,
    pub span: Span,
    /// Plain lines may take the shortcut around the grammar.
    pub quick: bool,
}

impl<'a> Draft<'a> {
    pub fn new(text: &'a str, problems: &'a mut Problems, form: &'static Form, span: Span) -> Draft<'a> {
        Draft {
            text,
            file: span.file,
            problems,
            form,
            names: Names::default(),
            clauses: Vec::new(),
            met: Slots::default(),
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

    pub fn refuse(&mut self, problem: Problem, span: Span, message: String) {
        self.problems.add(problem, problem.at(span, message));
        self.doubtful = true;
    }

    /// Takes what the rule of the whole statement recognized. `base` is where its text begins.
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
                Rule::text => self.clauses.push(Part { clause: Clause::Text(span), span }),
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
                    // The value before it was taken for a dry-cup value.
                    if let Some(Part { clause, .. }) = self.clauses.last_mut()
                        && let Clause::Dry(value) = *clause
                    {
                        *clause = Clause::Wet(value);
                    }
                }
                _ => self.clause(pair, base),
            }
            if self.form.rule == Rule::vapor_line {
                for (span, amount) in amounts.drain(..) {
                    self.clauses.push(Part { clause: Clause::Dry(amount), span });
                }
            }
        }
        if keyword == Keyword::Holds {
            self.clauses.push(Part { clause: Clause::Holds(words), span: self.span });
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
            self.clauses.insert(0, Part { clause, span });
        }
    }

    /// Takes one clause; a second one of its kind is refused.
    pub fn clause(&mut self, pair: Pair<'_, Rule>, base: usize) {
        let span = self.place(&pair, base);
        let Some(slot) = self.form.clauses.iter().copied().find(|slot| slot.rule() == pair.as_rule()) else {
            // `fold` has its place in fixed position.
            if let Some(clause) = self.read(pair, base) {
                self.clauses.push(Part { clause, span });
            }
            return;
        };
        if self.met.has(slot) && !slot.repeats() {
            let message = match slot {
                Slot::Title => "this statement has a title already".to_owned(),
                Slot::Thickness => "this layer has a thickness already".to_owned(),
                slot => format!("`{}` stands a second time in this statement", slot.word().unwrap_or_default()),
            };
            self.refuse(Problem::Syntax, span, message);
            return;
        }
        self.met.put(slot);
        if let Some(clause) = self.read(pair, base) {
            self.clauses.push(Part { clause, span });
        }
    }

    fn read(&mut self, pair: Pair<'_, Rule>, base: usize) -> Option<Clause> {
        let rule = pair.as_rule();
        let span = self.place(&pair, base);
        match rule {
            Rule::drip => return Some(Clause::Drip),
            Rule::rolled => return Some(Clause::Rolled),
            Rule::primed => return Some(Clause::Primed),
            Rule::inside => return Some(Clause::Inside),
            Rule::paved => return Some(Clause::Paved),
            Rule::up | Rule::along => {
                let extent = self.extent(pair, base, span)?;
                return Some(if rule == Rule::up { Clause::Up(extent) } else { Clause::Along(extent) });
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
                    let read = self.quantity(place, clause_want(rule, first));
                    amounts[usize::from(!first)] = Some(read?);
                }
                Rule::level => amounts[0] = Some(measure::level()),
                Rule::one => amounts[0] = unit_named(inner.as_str()).map(|unit| Quantity::of(1.0, unit)),
                Rule::welded => hold = Hold::Weld,
                Rule::clamped => hold = Hold::Clamp,
                _ => spans.push(place),
            }
        }
        Some(match (rule, &spans[..], amounts) {
            (Rule::title, [text], _) => Clause::Title(*text),
            (Rule::joins, [first, others @ ..], _) => Clause::Joins(*first, others.to_vec()),
            (Rule::of, [name], _) => Clause::Of(*name),
            (Rule::role, [name], _) => Clause::Role(*name),
            (Rule::with, [name], _) => Clause::With(*name),
            (Rule::on, [name], _) => Clause::On(*name),
            (Rule::because, [text], _) => Clause::Because(*text),
            (Rule::by, [text], _) => Clause::By(*text),
            (Rule::until, [date], _) => Clause::Until(self.date(*date)?),
            (Rule::meets, [a, b], _) => Clause::Meets(*a, *b),
            (Rule::between, [frame], [Some(width), Some(spacing)]) => Clause::Between { frame: *frame, width, spacing },
            (Rule::bonds, _, _) => Clause::Bonds(spans, hold),
            (Rule::over, _, _) => Clause::Over(spans),
            (Rule::behind, _, _) => Clause::Behind(spans),
            (Rule::controls, _, _) => Clause::Controls(spans),
            (Rule::outdoor, _, [Some(t), Some(rh)]) => Clause::Outdoor(t, rh),
            (Rule::indoor, _, [Some(t), Some(rh)]) => Clause::Indoor(t, rh),
            (Rule::up_at, _, [Some(q), _]) => Clause::UpAt(q),
            (Rule::along_at, _, [Some(q), _]) => Clause::AlongAt(q),
            (Rule::slope, _, [Some(q), _]) => Clause::Slope(q),
            (Rule::every, _, [Some(q), _]) => Clause::Every(q),
            (Rule::width, _, [Some(q), _]) => Clause::Width(q),
            (Rule::depth, _, [Some(q), _]) => Clause::Depth(q),
            (Rule::per, _, [Some(q), _]) => Clause::Per(q),
            (Rule::thickness, _, [Some(q), _]) => Clause::Amount(q),
            (Rule::at, _, [Some(q), _]) => Clause::At(q),
            (Rule::days, _, [Some(q), _]) => Clause::Days(q),
            (Rule::vapor, _, [Some(q), _]) => Clause::Vapor(q),
            (Rule::saturation, _, [Some(q), _]) => Clause::Saturation(q),
            _ => return None,
        })
    }

    fn extent(&mut self, pair: Pair<'_, Rule>, base: usize, span: Span) -> Option<Extent> {
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
            self.refuse_extent(low, high, span);
            return None;
        }
        Some(extent)
    }

    /// Says that an extent has no size.
    pub fn refuse_extent(&mut self, low: Quantity, high: Quantity, span: Span) {
        let turned = low.si > high.si;
        let message = if turned {
            format!("this extent runs from {low} to {high}, which is the wrong way round")
        } else {
            format!("this extent runs from {low} to {high}, so nothing is left of it")
        };
        let finding = Problem::EmptyExtent.at(span, message);
        let finding = match turned {
            true => finding.fix(format!("Write the smaller number first: {high} to {low}.")),
            false => finding.fix("Write where it begins and where it ends."),
        };
        self.problems.add(Problem::EmptyExtent, finding);
        self.doubtful = true;
    }

    pub fn quantity(&mut self, span: Span, want: &Want) -> Option<Quantity> {
        match measure(&self.text[span.range()], span, want) {
            Ok(quantity) => Some(quantity),
            Err((problem, finding)) => {
                self.problems.add(problem, *finding);
                self.doubtful = true;
                None
            }
        }
    }

    fn class(&mut self, span: Span) {
        match self.text[span.range()].parse() {
            Ok(class @ 1..=5) => self.clauses.push(Part { clause: Clause::Class(class), span }),
            _ => self.refuse(Problem::WrongUnit, span, "humidity classes run from 1 to 5 (ISO 13788)".to_owned()),
        }
    }

    fn date(&mut self, span: Span) -> Option<Date> {
        let words = &self.text[span.range()];
        // The date library takes more than one spelling; a file has one.
        let plain = words.len() == 10 && words.bytes().all(|b| b.is_ascii_digit() || b == b'-');
        match words.parse::<Date>() {
            Ok(date) if plain => Some(date),
            _ => {
                self.refuse(
                    Problem::Syntax,
                    span,
                    format!("`{}` is no date; write year, month, day: `2027-03-31`", short(words)),
                );
                None
            }
        }
    }

    fn place(&self, pair: &Pair<'_, Rule>, base: usize) -> Span {
        let span = pair.as_span();
        self.at(base + span.start(), base + span.end())
    }
}

/// Whether an extent has a size that survives rounding: lengths in inches and millimetres are told apart, not split.
pub fn wide(low: Quantity, high: Quantity) -> bool {
    high.si - low.si > 1e-7
}

/// What a quantity of a clause has to be; of two, the first or the second.
pub fn clause_want(rule: Rule, first: bool) -> &'static Want {
    match rule {
        Rule::up_at | Rule::along_at => &measure::HEIGHT,
        Rule::slope => &measure::SLOPE,
        Rule::every | Rule::thickness | Rule::between | Rule::width | Rule::depth | Rule::per => &measure::SIZE,
        Rule::at | Rule::vapor | Rule::saturation => &measure::PRESSURE,
        Rule::days => &measure::DAYS,
        Rule::outdoor | Rule::indoor if first => &measure::TEMPERATURE,
        Rule::outdoor | Rule::indoor => &measure::HUMIDITY,
        _ => &measure::HEIGHT,
    }
}

/// The slot of a clause, for forms that have it.
pub fn slot_at(form: &Form, word: &str) -> Option<Slot> {
    form.clauses.iter().copied().find(|slot| slot.begins(word))
}
