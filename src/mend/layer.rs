//! Layers of the joined assemblies: what each is meant to control, and pieces for those that a detail does not draw.

use crate::mend::data::size;
use crate::mend::past::written;
use crate::mend::text::{clause, insert, line_behind, piece};
use crate::mend::{Case, Cure};
use crate::model::{Control, Extent, Layer, MaterialKind, Piece};
use crate::quantity::Quantity;
use crate::syntax::{ClauseKind, Keyword, Statement};

/// `controls` at a layer of the assembly that can serve, for what the finding names.
pub fn controls(case: &Case<'_>) -> Vec<Cure> {
    let wanted: Vec<Control> = case.finding.message.split([',', ' ']).filter_map(Control::from_word).collect();
    let body = case.item().map_or(&[][..], |item| &item.body);
    let layers = body.iter().filter(|statement| statement.keyword == Keyword::Layer);
    let mut drafts = Vec::new();
    for statement in layers {
        let name = statement.names.first.map_or("", |span| case.source.at(span));
        let Some(material) = case.materials.iter().find(|material| &*material.name == name) else { continue };
        // Cladding sheds most of the rain, and is never the layer that keeps the rest out.
        let can = |control: &&Control| {
            material.holds.has(**control)
                && (**control == Control::Thermal || material.kind != Some(MaterialKind::Cladding))
        };
        let serves: Vec<&str> = wanted.iter().filter(can).map(|control| control.word()).collect();
        if !serves.is_empty() {
            let words = serves.join(", ");
            let edit = named(case, statement, &words);
            drafts.push((serves.len(), Cure::new(format!("Let {name} control {words}"), vec![edit])));
        }
    }
    // What one layer does alone needs no second.
    drafts.sort_by_key(|(count, _)| std::cmp::Reverse(*count));
    drafts.into_iter().map(|(_, cure)| cure).collect()
}

fn named(case: &Case<'_>, statement: &Statement, words: &str) -> crate::finding::Edit {
    match statement.clauses.iter().find(|part| part.kind == Some(ClauseKind::Controls)) {
        Some(part) => insert(case, part.span.range().end, format!(", {words}")),
        None => clause(case, statement.span, &format!("controls {words}")),
    }
}

/// So many pieces are tried as the one that the new one comes after.
const MOST_PLACES: usize = 4;

/// Each control layer that no piece stands for, drawn over the piece that lies right behind it: as far as that one, or everywhere.
pub fn drawn(case: &Case<'_>) -> Vec<Cure> {
    let Some(facts) = case.facts else { return Vec::new() };
    let mut drafts = Vec::new();
    for (join, assembly) in facts.detail.joins.iter().map(|join| &join.assembly).enumerate() {
        let of = |piece: &Piece| piece.layer.filter(|own| own.join == join).map(|own| own.layer);
        let forgotten = |(at, layer): &(usize, &Layer)| {
            !layer.controls.is_empty() && !case.pieces().iter().any(|piece| of(piece) == Some(*at))
        };
        for (at, layer) in assembly.layers.iter().enumerate().filter(forgotten) {
            // A piece of that material may only lack the name of the assembly.
            let same =
                case.pieces().iter().filter(|own| own.layer.is_none() && own.material.name == layer.material.name);
            drafts.extend(same.map(|own| {
                let edit = insert(case, own.material_span.range().end, format!(" of {}", assembly.name));
                Cure::new(format!("Write of {} at {}", assembly.name, own.name), vec![edit])
            }));
            let behind = |piece: &&Piece| of(piece).is_some_and(|own| own > at);
            let beside = |piece: &&Piece| of(piece).is_some();
            let inside = case.pieces().iter().any(|piece| !piece.inside && of(piece).is_some_and(|own| own < at))
                && layer.controls.iter().all(|(control, _)| *control != Control::Water);
            let outer = case.pieces().iter().filter(|piece| !piece.inside).filter(behind);
            let Some(base) = outer.min_by_key(|piece| of(piece)).or(case.pieces().iter().find(beside)) else {
                continue;
            };
            let new = New { layer, of: &assembly.name, base, inside };
            for place in places(case, base, inside) {
                for reach in reaches(case, base) {
                    drafts.extend(new.draft(case, place, &reach));
                }
            }
        }
    }
    drafts
}

/// A sheet of the water control layer that is drawn in part, for the rest of the face: it laps what is there.
pub fn rest(case: &Case<'_>) -> Vec<Cure> {
    let (Some(facts), Some(lap)) = (case.facts, size(case, "lap")) else { return Vec::new() };
    let mut drafts = Vec::new();
    for (join, assembly) in facts.detail.joins.iter().map(|join| &join.assembly).enumerate() {
        let of = |piece: &Piece| piece.layer.filter(|own| own.join == join).map(|own| own.layer);
        for (at, layer) in assembly.layers.iter().enumerate() {
            if !layer.controls.iter().any(|(control, _)| *control == Control::Water) {
                continue;
            }
            let base = case.pieces().iter().filter(|own| !own.inside && of(own).is_some_and(|own| own > at));
            let Some(base) = base.min_by_key(|own| of(own)) else { continue };
            let new = New { layer, of: &assembly.name, base, inside: false };
            for own in case.pieces().iter().filter(|own| of(own) == Some(at)) {
                for (word, extent) in [("up", &own.up), ("along", &own.along)] {
                    let moved = |edge: Quantity, by: f64| Quantity::from_si(edge.si + by, edge.unit);
                    let below = extent.low.map(|low| (base, format!(" {word} to {}", moved(low, lap.si))));
                    let above = extent.high.map(|high| (own, format!(" {word} from {}", moved(high, -lap.si))));
                    for (place, reach) in below.into_iter().chain(above) {
                        drafts.extend(new.draft(case, place, &reach));
                    }
                }
            }
        }
    }
    drafts
}

/// A piece to be drawn for a layer, over the piece that lies right behind it.
struct New<'a> {
    layer: &'a Layer,
    of: &'a str,
    base: &'a Piece,
    inside: bool,
}

impl New<'_> {
    /// Drawn after a piece; with a bead where that is not the one that it covers.
    fn draft(&self, case: &Case<'_>, place: &Piece, reach: &str) -> Vec<Cure> {
        let name = case.fresh(&self.layer.name);
        let within = if self.inside { " inside" } else { "" };
        let mut lines = vec![format!("piece {name} {} of {}{reach}{within}", self.layer.material.name, self.of)];
        lines.extend(cuts(case, self.base, &name));
        let edits = |lines: &[String]| -> Option<Vec<_>> {
            lines.iter().map(|line| line_behind(case, place.span, line)).collect()
        };
        let title = format!("Draw {} of {} after {}", self.layer.name, self.of, place.name);
        let mut drafts: Vec<Cure> = edits(&lines).map(|edits| Cure::new(title.clone(), edits)).into_iter().collect();
        if !self.inside && place.name != self.base.name {
            let sealant = case.stocked("bead", MaterialKind::Sealant);
            if let Some(sealant) = sealant.iter().find(|own| own.holds.has(Control::Water)) {
                lines.push(format!("seal {name} to {} with {}", place.name, sealant.name));
                let title = format!("{title}, and seal it to {}", place.name);
                drafts.extend(edits(&lines).map(|edits| Cure::new(title, edits)));
            }
        }
        drafts
    }
}

/// Behind the piece that it covers, or behind what was laid on that one first.
fn places<'a>(case: &Case<'a>, base: &'a Piece, inside: bool) -> Vec<&'a Piece> {
    let first = case.pieces().iter().position(|piece| piece.name == base.name).unwrap_or(0);
    let last = case.pieces().len().saturating_sub(1);
    if inside { vec![piece(case, last)] } else { (first..=last).take(MOST_PLACES).map(|at| piece(case, at)).collect() }
}

/// As far as the piece that it covers, a little past its foot, or everywhere.
fn reaches(case: &Case<'_>, base: &Piece) -> Vec<String> {
    let said = |word: &str, extent| written(word, extent, &[]).map_or(String::new(), |words| format!(" {words}"));
    let past = |edge: Quantity| Some(Quantity::from_si(edge.si - size(case, "overhang")?.si, edge.unit));
    let foot = Extent { low: base.up.low.and_then(past), ..base.up };
    let along = said("along", &base.along);
    let mut reaches =
        vec![format!("{}{along}", said("up", &foot)), format!("{}{along}", said("up", &base.up)), String::new()];
    reaches.dedup();
    reaches
}

fn cuts(case: &Case<'_>, base: &Piece, name: &str) -> Vec<String> {
    let cuts = case.facts.map_or(&[][..], |facts| &facts.detail.cuts);
    let own = cuts.iter().filter(|cut| case.pieces()[cut.piece.index].name == base.name);
    let line = |cut: &crate::model::Cut| {
        let sides = [written("up", &cut.up, &[]), written("along", &cut.along, &[])];
        format!("cut {name} {}", sides.into_iter().flatten().collect::<Vec<_>>().join(" "))
    };
    own.map(line).collect()
}
