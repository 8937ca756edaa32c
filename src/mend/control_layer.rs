//! Control layers: what each layer of an assembly is counted on for, and pieces for those that a detail does not draw.

use crate::mend::extent::extent_clause;
use crate::mend::tables::size;
use crate::mend::text::{clause, insert, line_behind, piece};
use crate::mend::title::Title;
use crate::mend::{Context, Cure};
use crate::model::{Control, Extent, Layer, MaterialKind, Piece};
use crate::quantity::Quantity;
use crate::syntax::{ClauseKind, Keyword, Statement};

/// `controls` at each layer of the assembly that can provide what the finding lacks.
pub fn controls(context: &Context<'_>) -> Vec<Cure> {
    let wanted: Vec<Control> = context.finding.message.split([',', ' ']).filter_map(Control::from_word).collect();
    let body = context.item().map_or(&[][..], |item| &item.body);
    let layers = body.iter().filter(|statement| statement.keyword == Keyword::Layer);
    let mut drafts = Vec::new();
    for statement in layers {
        let name = statement.names.first.map_or("", |span| context.source.at(span));
        let Some(material) = context.material(name) else { continue };
        // Cladding sheds most of the rain. It is never counted on to keep out the rest.
        let can = |control: &&Control| {
            material.holds.has(**control)
                && (**control == Control::Thermal || material.kind != Some(MaterialKind::Cladding))
        };
        let serves: Vec<&str> = wanted.iter().filter(can).map(|control| control.word()).collect();
        if !serves.is_empty() {
            let words = serves.join(", ");
            let edit = named(context, statement, &words);
            drafts.push((serves.len(), Cure::new(Title::AssignControls { layer: name, controls: &words }, vec![edit])));
        }
    }
    // A layer that provides all of it comes first.
    drafts.sort_by_key(|(count, _)| std::cmp::Reverse(*count));
    drafts.into_iter().map(|(_, cure)| cure).collect()
}

fn named(context: &Context<'_>, statement: &Statement, words: &str) -> crate::finding::Edit {
    match statement.clauses.iter().find(|part| part.kind == Some(ClauseKind::Controls)) {
        Some(part) => insert(context, part.span.range().end, format!(", {words}")),
        None => clause(context, statement.span, &format!("controls {words}")),
    }
}

/// How many places in the installation sequence are tried.
const MOST_PLACES: usize = 4;

/// Each control layer that is not drawn, as a piece over the one right inboard of it. It goes as far as that one, or has no ends.
pub fn drawn(context: &Context<'_>) -> Vec<Cure> {
    let Some(facts) = context.facts else { return Vec::new() };
    let mut drafts = Vec::new();
    for (join, assembly) in facts.detail.joins.iter().map(|join| &join.assembly).enumerate() {
        let of = |piece: &Piece| piece.layer.filter(|own| own.join == join).map(|own| own.layer);
        let forgotten = |(at, layer): &(usize, &Layer)| {
            !layer.controls.is_empty() && !context.pieces().iter().any(|piece| of(piece) == Some(*at))
        };
        for (at, layer) in assembly.layers.iter().enumerate().filter(forgotten) {
            // The layer may be drawn already, as a piece that lacks only the name of the assembly.
            let same =
                context.pieces().iter().filter(|own| own.layer.is_none() && own.material.name == layer.material.name);
            drafts.extend(same.map(|own| {
                let edit = insert(context, own.material_span.range().end, format!(" of {}", assembly.name));
                Cure::new(Title::AssignPiece { piece: &own.name, assembly: &assembly.name }, vec![edit])
            }));
            let behind = |piece: &&Piece| of(piece).is_some_and(|own| own > at);
            let beside = |piece: &&Piece| of(piece).is_some();
            let inside = context.pieces().iter().any(|piece| !piece.inside && of(piece).is_some_and(|own| own < at))
                && layer.controls.iter().all(|(control, _)| *control != Control::Water);
            let outer = context.pieces().iter().filter(|piece| !piece.inside).filter(behind);
            let Some(base) = outer.min_by_key(|piece| of(piece)).or(context.pieces().iter().find(beside)) else {
                continue;
            };
            let new = New { layer, of: &assembly.name, base, inside };
            for place in places(context, base, inside) {
                for reach in reaches(context, base) {
                    drafts.extend(new.draft(context, place, &reach));
                }
            }
        }
    }
    drafts
}

/// A water control layer that is drawn on a part of the face, drawn on the rest too. The new piece laps the old one.
pub fn rest(context: &Context<'_>) -> Vec<Cure> {
    let (Some(facts), Some(lap)) = (context.facts, size(context, "lap")) else { return Vec::new() };
    let mut drafts = Vec::new();
    for (join, assembly) in facts.detail.joins.iter().map(|join| &join.assembly).enumerate() {
        let of = |piece: &Piece| piece.layer.filter(|own| own.join == join).map(|own| own.layer);
        for (at, layer) in assembly.layers.iter().enumerate() {
            if !layer.controls.iter().any(|(control, _)| *control == Control::Water) {
                continue;
            }
            let base = context.pieces().iter().filter(|own| !own.inside && of(own).is_some_and(|own| own > at));
            let Some(base) = base.min_by_key(|own| of(own)) else { continue };
            let new = New { layer, of: &assembly.name, base, inside: false };
            for own in context.pieces().iter().filter(|own| of(own) == Some(at)) {
                for (word, extent) in [("up", &own.up), ("along", &own.along)] {
                    let moved = |edge: Quantity, by: f64| Quantity::from_si(edge.si + by, edge.unit);
                    let below = extent.low.map(|low| (base, format!(" {word} to {}", moved(low, lap.si))));
                    let above = extent.high.map(|high| (own, format!(" {word} from {}", moved(high, -lap.si))));
                    for (place, reach) in below.into_iter().chain(above) {
                        drafts.extend(new.draft(context, place, &reach));
                    }
                }
            }
        }
    }
    drafts
}

/// A new piece for a layer, over the piece right inboard of it.
struct New<'a> {
    layer: &'a Layer,
    of: &'a str,
    base: &'a Piece,
    inside: bool,
}

impl New<'_> {
    /// Drawn after a piece, and sealed to it where that is another piece than the one right inboard.
    fn draft(&self, context: &Context<'_>, place: &Piece, reach: &str) -> Vec<Cure> {
        let name = context.fresh(&self.layer.name);
        let within = if self.inside { " inside" } else { "" };
        let mut lines = vec![format!("piece {name} {} of {}{reach}{within}", self.layer.material.name, self.of)];
        lines.extend(cuts(context, self.base, &name));
        let edits = |lines: &[String]| -> Option<Vec<_>> {
            lines.iter().map(|line| line_behind(context, place.span, line)).collect()
        };
        let (layer, assembly, after) = (&*self.layer.name, self.of, &*place.name);
        let title = Title::DrawLayer { layer, assembly, after };
        let mut drafts: Vec<Cure> = edits(&lines).map(|edits| Cure::new(title, edits)).into_iter().collect();
        if !self.inside && place.name != self.base.name {
            let sealant = context.stocked("bead", MaterialKind::Sealant);
            if let Some(sealant) = sealant.iter().find(|own| own.holds.has(Control::Water)) {
                lines.push(format!("seal {name} to {} with {}", place.name, sealant.name));
                let title = Title::DrawSealedLayer { layer, assembly, after };
                drafts.extend(edits(&lines).map(|edits| Cure::new(title, edits)));
            }
        }
        drafts
    }
}

/// The pieces that it may come after: the one that it covers, then those installed after that one.
fn places<'a>(context: &Context<'a>, base: &'a Piece, inside: bool) -> Vec<&'a Piece> {
    let first = context.pieces().iter().position(|piece| piece.name == base.name).unwrap_or(0);
    let last = context.pieces().len().saturating_sub(1);
    if inside {
        vec![piece(context, last)]
    } else {
        (first..=last).take(MOST_PLACES).map(|at| piece(context, at)).collect()
    }
}

/// The extents that it may have: down past the foot of the piece that it covers, as that piece has, or without ends.
fn reaches(context: &Context<'_>, base: &Piece) -> Vec<String> {
    let said = |word: &str, extent| extent_clause(word, extent, &[]).map_or(String::new(), |words| format!(" {words}"));
    let past = |edge: Quantity| Some(Quantity::from_si(edge.si - size(context, "overhang")?.si, edge.unit));
    let foot = Extent { low: base.up.low.and_then(past), ..base.up };
    let along = said("along", &base.along);
    let mut reaches =
        vec![format!("{}{along}", said("up", &foot)), format!("{}{along}", said("up", &base.up)), String::new()];
    reaches.dedup();
    reaches
}

fn cuts(context: &Context<'_>, base: &Piece, name: &str) -> Vec<String> {
    let cuts = context.facts.map_or(&[][..], |facts| &facts.detail.cuts);
    let own = cuts.iter().filter(|cut| context.pieces()[cut.piece.index].name == base.name);
    let line = |cut: &crate::model::Cut| {
        let sides = [extent_clause("up", &cut.up, &[]), extent_clause("along", &cut.along, &[])];
        format!("cut {name} {}", sides.into_iter().flatten().collect::<Vec<_>>().join(" "))
    };
    own.map(line).collect()
}
