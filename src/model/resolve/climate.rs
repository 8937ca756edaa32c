//! Climates.

use std::collections::hash_map::Entry;
use std::sync::Arc;

use crate::model::resolve::{Reporter, Scope};
use crate::model::{Climate, DesignCondition, DryingPeriod, Indoor, MONTHS, Message, Outdoor};
use crate::quantity::Quantity;
use crate::syntax::{Clause, Item, Keyword, Statement};
use crate::text::Span;

pub(in crate::model) fn climate(scope: &mut Scope<'_>, reporter: &mut Reporter<'_>, item: &Item) {
    let Some(name_span) = item.head.names.first else { return };
    let name = reporter.name(name_span);
    reporter.item = Some(name.clone());
    let title = item.head.clauses.iter().find_map(|part| match part.clause {
        Clause::Title(title) => Some(reporter.unquoted(title)),
        _ => None,
    });
    let mut climate = Climate {
        name: name.clone(),
        title,
        zone: None,
        indoor: None,
        months: None,
        design: None,
        drying: None,
        source: None,
        name_span,
    };
    let mut months: [Option<(Outdoor, Span)>; 12] = [None; 12];
    let mut doubtful = item.doubtful;
    for statement in &item.body {
        doubtful |= statement.doubtful;
        match statement.keyword {
            Keyword::Zone => climate.zone = statement.names.first.map(|span| zone(reporter, span)),
            Keyword::Indoor => climate.indoor = indoor(statement),
            Keyword::Outdoor => doubtful |= !month(reporter, &mut months, statement),
            Keyword::Design => climate.design = design(statement),
            Keyword::Drying => climate.drying = drying(statement),
            Keyword::SourceNote => {
                climate.source = statement.clauses.iter().find_map(|part| match part.clause {
                    Clause::Text(text) => Some(reporter.unquoted(text)),
                    _ => None,
                });
            }
            _ => {}
        }
    }
    let given = months.iter().flatten().count();
    if given == 12 {
        climate.months = Some(months.map(|month| month.expect("all twelve are there").0));
    } else if given > 0 && !doubtful {
        let missing: Vec<&str> =
            MONTHS.iter().zip(&months).filter(|(_, m)| m.is_none()).map(|(name, _)| *name).collect();
        reporter.report(name_span, Message::MonthsMissing { climate: &name, given, missing: &missing });
    }
    reporter.item = None;
    if let Some(first) = scope.library.base.climates.get(&name) {
        let first = first.name_span;
        return reporter.duplicate("climate", name_span, first);
    }
    match scope.library.own.climates.entry(name) {
        Entry::Occupied(first) => reporter.duplicate("climate", name_span, first.get().name_span),
        Entry::Vacant(free) => {
            let climate = Arc::new(climate);
            free.insert(climate.clone());
            scope.library.climates.push(climate);
        }
    }
}

/// `0` to `8`, with `A` moist, `B` dry or `C` marine behind it where the codes have that.
fn zone(reporter: &mut Reporter<'_>, span: Span) -> crate::model::Name {
    let text = reporter.text(span);
    let known = matches!(text.as_bytes(), [b'0'..=b'8'] | [b'0'..=b'8', b'A' | b'B' | b'C']);
    if !known {
        reporter.report(span, Message::UnknownZone { zone: text });
    }
    crate::model::Name::from(text)
}

fn indoor(statement: &Statement) -> Option<Indoor> {
    statement.clauses.iter().find_map(|part| match part.clause {
        Clause::Air(temperature, humidity) => Some(Indoor::Fixed { temperature, humidity }),
        Clause::Class(class) => Some(Indoor::Class(class)),
        _ => None,
    })
}

/// Whether the month could be taken.
fn month(reporter: &mut Reporter<'_>, months: &mut [Option<(Outdoor, Span)>; 12], statement: &Statement) -> bool {
    let Some(span) = statement.names.first else { return false };
    let Some(name) = reporter.word("month", span, &MONTHS, |month| month) else { return false };
    let Some(Clause::Air(temperature, humidity)) = statement.clauses.first().map(|part| &part.clause) else {
        return false;
    };
    let place = MONTHS.iter().position(|month| *month == name).expect("found above");
    if let Some((_, first)) = months[place] {
        reporter.duplicate("month", span, first);
        return true;
    }
    months[place] = Some((Outdoor { temperature: *temperature, humidity: *humidity }, span));
    true
}

fn design(statement: &Statement) -> Option<DesignCondition> {
    let (mut outdoor, mut indoor) = (None, None);
    for part in &statement.clauses {
        match part.clause {
            Clause::Outdoor(temperature, humidity) => outdoor = Some(Outdoor { temperature, humidity }),
            Clause::Indoor(temperature, humidity) => indoor = Some(Outdoor { temperature, humidity }),
            _ => {}
        }
    }
    Some(DesignCondition { outdoor: outdoor?, indoor: indoor?, days: days(statement)? })
}

fn drying(statement: &Statement) -> Option<DryingPeriod> {
    let (mut vapor, mut saturation) = (None, None);
    for part in &statement.clauses {
        match part.clause {
            Clause::Vapor(pressure) => vapor = Some(pressure),
            Clause::Saturation(pressure) => saturation = Some(pressure),
            _ => {}
        }
    }
    Some(DryingPeriod { vapor: vapor?, saturation: saturation?, days: days(statement)? })
}

fn days(statement: &Statement) -> Option<Quantity> {
    statement.clauses.iter().find_map(|part| match part.clause {
        Clause::Days(days) => Some(days),
        _ => None,
    })
}
