//! Assemblies and their layers.

use std::collections::hash_map::Entry;
use std::sync::Arc;

use foldhash::HashMap;

use crate::model::resolve::detail::stated;
use crate::model::resolve::waiver::waiver;
use crate::model::resolve::{Reporter, Scope};
use crate::model::{Assembly, AssemblyKind, Control, Frame, Layer, Message, Use};
use crate::syntax::{Clause, Item, Keyword, Statement};
use crate::text::Span;

/// No real assembly has so many; a file that has them is broken, and every piece would be searched for in all of them.
const MOST_LAYERS: usize = 100;

pub(in crate::model) fn assembly(scope: &mut Scope<'_>, reporter: &mut Reporter<'_>, item: &Item) {
    let Some(name_span) = item.head.names.first else { return };
    let name = reporter.name(name_span);
    reporter.item = Some(name.clone());
    let kind_span = item.head.names.second.unwrap_or(name_span);
    let kind = item
        .head
        .names
        .second
        .and_then(|span| reporter.word("kind of assembly", span, &AssemblyKind::ALL, AssemblyKind::word));
    let mut assembly = Assembly {
        name: name.clone(),
        // Without a kind the least is asked of it.
        kind: kind.unwrap_or(AssemblyKind::Existing),
        title: None,
        climate: None,
        surfaces: None,
        slope: None,
        wall_line: None,
        layers: Vec::new(),
        waivers: Vec::new(),
        doubtful: item.doubtful || kind.is_none(),
        too_large: false,
        name_span,
        kind_span,
        span: item.head.span,
    };
    for part in &item.head.clauses {
        if let Clause::Title(title) = part.clause {
            assembly.title = Some(reporter.unquoted(title));
        }
    }
    let mut sides = Sides::default();
    for statement in &item.body {
        assembly.doubtful |= statement.doubtful;
        match statement.keyword {
            Keyword::Outside => sides.outside = Some((assembly.layers.len(), statement.span)),
            Keyword::Inside => sides.inside = Some((assembly.layers.len(), statement.span)),
            Keyword::ClimateUse => {
                assembly.climate = statement.names.first.and_then(|span| scope.climate(reporter, span));
                assembly.doubtful |= assembly.climate.is_none();
            }
            Keyword::Surfaces => {
                if let Some(Clause::Surfaces(inside, outside)) = statement.clauses.first().map(|part| &part.clause) {
                    assembly.surfaces = Some((inside.si, outside.si));
                }
            }
            Keyword::Layer => {
                if assembly.layers.len() < MOST_LAYERS {
                    assembly.layers.extend(layer(scope, reporter, statement));
                } else if !std::mem::replace(&mut assembly.too_large, true) {
                    assembly.doubtful = true;
                    reporter.report(statement.span, Message::TooManyLayers { most: MOST_LAYERS });
                }
            }
            Keyword::Slope => assembly.slope = stated(statement),
            Keyword::WallLine => assembly.wall_line = stated(statement),
            Keyword::Waive => assembly.waivers.extend(waiver(scope, reporter, statement)),
            _ => {}
        }
    }
    // A climate stands on both sides of these; the others lie in the ground, or stand in for what is there already.
    if !assembly.doubtful && assembly.climate.is_none() {
        let exposed = matches!(assembly.kind, AssemblyKind::Wall | AssemblyKind::Roof | AssemblyKind::Floor);
        assembly.climate = scope.words.climate.clone().filter(|_| exposed);
    }
    if sides.turned(reporter, &mut assembly) {
        assembly.layers.reverse();
    }
    repeated_names(reporter, &assembly);
    reporter.item = None;
    if let Some(first) = scope.library.base.assemblies.get(&name) {
        let first = first.name_span;
        return reporter.duplicate("assembly", name_span, first);
    }
    match scope.library.own.assemblies.entry(name) {
        Entry::Occupied(first) => reporter.duplicate("assembly", name_span, first.get().name_span),
        Entry::Vacant(free) => {
            let assembly = Arc::new(assembly);
            free.insert(assembly.clone());
            scope.library.assemblies.push(assembly);
        }
    }
}

fn layer(scope: &mut Scope<'_>, reporter: &mut Reporter<'_>, statement: &Statement) -> Option<Layer> {
    let material_span = statement.names.first?;
    let material = scope.material_for(reporter, material_span, Use::Layer);
    let mut layer = Layer {
        name: material.name.clone(),
        thickness: material.thickness,
        material,
        controls: Vec::new(),
        between: None,
        doubtful: statement.doubtful,
        material_span,
        span: statement.span,
    };
    for part in &statement.clauses {
        match &part.clause {
            Clause::Amount(thickness) => layer.thickness = Some(*thickness),
            Clause::Role(name) => layer.name = reporter.name(*name),
            Clause::Controls(words) => {
                for span in words {
                    if let Some(control) = reporter.word("control", *span, &Control::ALL, Control::word) {
                        layer.controls.push((control, *span));
                    }
                }
            }
            Clause::Between { frame, width, spacing } => {
                let material = scope.material_for(reporter, *frame, Use::Frame);
                if width.si >= spacing.si {
                    let (width, spacing) = (*width, *spacing);
                    reporter.report(part.span, Message::NoSpaceBetweenFrames { width, spacing });
                } else {
                    layer.between = Some(Frame { material, width: *width, spacing: *spacing, span: part.span });
                }
            }
            _ => {}
        }
    }
    Some(layer)
}

/// Where `outside` and `inside` are written: the number of layers before each.
#[derive(Default)]
struct Sides {
    outside: Option<(usize, Span)>,
    inside: Option<(usize, Span)>,
}

impl Sides {
    /// Whether the layers were written from inside to outside. Reports when that is unclear.
    fn turned(&self, reporter: &mut Reporter<'_>, assembly: &mut Assembly) -> bool {
        let count = assembly.layers.len();
        for (place, span) in [self.outside, self.inside].into_iter().flatten() {
            if place != 0 && place != count && !assembly.doubtful {
                reporter.report(span, Message::SideAmongLayers);
                assembly.doubtful = true;
            }
        }
        match (self.outside, self.inside) {
            (Some((_, outside)), Some((_, inside))) => inside.start < outside.start,
            (Some((place, _)), None) => place != 0,
            (None, Some((place, _))) => place == 0 && count > 0,
            (None, None) => {
                if count > 1 && !assembly.doubtful {
                    reporter.report(assembly.name_span, Message::NoSide { assembly: &assembly.name });
                    assembly.doubtful = true;
                }
                false
            }
        }
    }
}

/// Two layers may be of one material; a name that is given to one of them is its own.
fn repeated_names(reporter: &mut Reporter<'_>, assembly: &Assembly) {
    if assembly.layers.iter().all(|layer| layer.name == layer.material.name) {
        return;
    }
    let mut first: HashMap<&str, (bool, Span)> = HashMap::default();
    for layer in &assembly.layers {
        let given = layer.name != layer.material.name;
        match first.get(&*layer.name) {
            Some((earlier, span)) if given || *earlier => {
                reporter.report(layer.span, Message::DuplicateLayer { name: &layer.name, first: *span });
            }
            Some(_) => {}
            None => drop(first.insert(&layer.name, (given, layer.span))),
        }
    }
}
