//! Materials.

use std::collections::hash_map::Entry;
use std::sync::Arc;

use crate::model::resolve::scope::blank;
use crate::model::resolve::{ItemKind, Reporter, Scope};
use crate::model::{Control, Controls, Material, MaterialKind, Message, Name, VaporUnit, VaporValue};
use crate::quantity::{Dimension, Quantity};
use crate::syntax::{Clause, Item, Keyword, PlacedClause, Statement};
use crate::text::Span;

pub(in crate::model) fn material(scope: &mut Scope<'_>, reporter: &mut Reporter<'_>, item: &Item) {
    let Some(name_span) = item.head.names.first else { return };
    let name = reporter.name(name_span);
    reporter.item = Some(name.clone());
    let mut material = blank(name.clone(), name_span);
    material.kind = item
        .head
        .names
        .second
        .and_then(|span| reporter.word("kind of material", span, &MaterialKind::ALL, MaterialKind::word));
    let mut vapor: Option<Span> = None;
    for part in &item.head.clauses {
        if let Clause::Title(title) = part.clause {
            material.title = Some(reporter.unquoted(title));
        }
    }
    for statement in &item.body {
        property(scope, reporter, &mut material, &mut vapor, statement);
    }
    // Nothing else is known of how it conducts heat.
    if let (None, Some((resistance, per))) = (material.conductivity, material.resistance_per)
        && resistance.si > 0.0
    {
        material.conductivity = Some(Quantity::in_base_unit(per.si / resistance.si, Dimension::Conductivity));
    }
    if material.surface.is_none() {
        material.surface = material.made_of.as_deref().and_then(bare_surface).map(Name::from);
    }
    // What could not be read may be the very property that a rule would miss.
    if item.doubtful || item.body.iter().any(|statement| statement.doubtful) {
        material.kind = None;
    }
    reporter.item = None;
    if let Some(first) = scope.library.base.materials.get(&name) {
        let first = first.name_span;
        return reporter.duplicate("material", name_span, first);
    }
    match scope.library.own.materials.entry(name) {
        Entry::Occupied(first) => reporter.duplicate("material", name_span, first.get().name_span),
        Entry::Vacant(free) => {
            let material = Arc::new(material);
            free.insert(material.clone());
            scope.library.materials.push(material);
        }
    }
}

/// What is bare shows the substance that it is made of.
fn bare_surface(substance: &str) -> Option<&'static str> {
    match substance {
        "wood" | "treated-wood" => Some("wood"),
        "concrete" => Some("concrete"),
        "mortar" => Some("masonry"),
        "aluminum" | "copper" | "galvanized-steel" | "steel" | "stainless-steel" | "zinc" | "lead" => Some("metal"),
        "polystyrene" => Some("foam"),
        _ => None,
    }
}

fn property(
    scope: &mut Scope<'_>,
    reporter: &mut Reporter<'_>,
    material: &mut Material,
    vapor: &mut Option<Span>,
    statement: &Statement,
) {
    let amount = statement.clauses.iter().find_map(|part| match part.clause {
        Clause::Amount(amount) => Some(amount),
        _ => None,
    });
    let text = statement.clauses.iter().find_map(|part| match part.clause {
        Clause::Text(text) => Some(text),
        _ => None,
    });
    let unit = match statement.keyword {
        Keyword::Permeance => Some(VaporUnit::Permeance),
        Keyword::Mu => Some(VaporUnit::Mu),
        Keyword::Permeability => Some(VaporUnit::Permeability),
        Keyword::AirLayer => Some(VaporUnit::AirLayer),
        _ => None,
    };
    if let Some(unit) = unit {
        if let Some(first) = *vapor {
            return reporter.report(statement.span, Message::VaporTwice { first });
        }
        *vapor = Some(statement.span);
        material.vapor = cups(reporter, unit, statement);
        return;
    }
    match statement.keyword {
        Keyword::Holds => {
            let Some(PlacedClause { clause: Clause::Holds(words), .. }) = statement.clauses.first() else { return };
            material.holds = controls(reporter, words);
            material.holds_span = Some(statement.span);
        }
        Keyword::Thickness => material.thickness = amount,
        Keyword::Conductivity => material.conductivity = amount,
        Keyword::Resistance => {
            let per = statement.clauses.iter().find_map(|part| match part.clause {
                Clause::Per(thickness) => Some(thickness),
                _ => None,
            });
            match (amount, per) {
                (Some(resistance), Some(per)) => material.resistance_per = Some((resistance, per)),
                (amount, _) => material.resistance = amount,
            }
        }
        Keyword::Density => material.density = amount,
        Keyword::AirPermeance => {
            material.air_permeance = amount;
            check_pressure(reporter, material, statement);
        }
        Keyword::Sensitive => material.sensitive = true,
        Keyword::DoubleSided => material.double_sided = true,
        Keyword::Capped => material.capped = true,
        Keyword::Vented => material.vented = true,
        Keyword::Drained => material.drained = true,
        Keyword::Surface => {
            material.surface = statement.names.first.map(|span| scope.listed(reporter, ItemKind::Surface, span));
        }
        Keyword::MadeOf => {
            material.made_of = statement.names.first.map(|span| scope.listed(reporter, ItemKind::Substance, span));
        }
        Keyword::Adhesive => {
            material.adhesive = statement.names.first.map(|span| scope.listed(reporter, ItemKind::Adhesive, span));
        }
        Keyword::AppliesAbove => material.applies_above = amount,
        Keyword::UvLimit => material.uv_limit = amount,
        Keyword::Section => material.section = text.map(|span| reporter.unquoted(span)),
        Keyword::SourceNote => material.source = text.map(|span| reporter.unquoted(span)),
        _ => {}
    }
}

pub(in crate::model) fn controls(reporter: &mut Reporter<'_>, words: &[Span]) -> Controls {
    words.iter().filter_map(|span| reporter.word("control", *span, &Control::ALL, Control::word)).collect()
}

/// Values are compared at one pressure difference; another would be another number.
fn check_pressure(reporter: &mut Reporter<'_>, material: &mut Material, statement: &Statement) {
    for part in &statement.clauses {
        if let Clause::At(pressure) = part.clause
            && (pressure.si - 75.0).abs() > 1.0
        {
            reporter.report(part.span, Message::OtherPressure { pressure });
            material.air_permeance = None;
        }
    }
}

/// `Q`, or `Q dry, Q wet` in either order.
fn cups(reporter: &mut Reporter<'_>, unit: VaporUnit, statement: &Statement) -> Option<VaporValue> {
    let mut dry: Vec<Quantity> = Vec::new();
    let mut wet: Vec<Quantity> = Vec::new();
    for part in &statement.clauses {
        match part.clause {
            Clause::Dry(value) => dry.push(value),
            Clause::Wet(value) => wet.push(value),
            _ => {}
        }
    }
    match (&dry[..], &wet[..]) {
        ([dry], []) => Some(VaporValue { unit, dry: *dry, wet: None }),
        ([], [only]) => Some(VaporValue { unit, dry: *only, wet: Some(*only) }),
        ([dry], [wet]) => Some(VaporValue { unit, dry: *dry, wet: Some(*wet) }),
        ([], []) => None,
        _ => {
            reporter.report(statement.span, Message::DryAndWet);
            None
        }
    }
}
