//! Properties that a material lacks: reported once, where the file uses the material.

use std::sync::Arc;

use foldhash::HashSet;

use crate::facts::FileFacts;
use crate::finding::{Finding, Id};
use crate::model::{Name, is_builtin};
use crate::review::message::define_own;
use crate::text::{Source, Span};

/// Each detail that needs a property asks for it.
pub(super) fn report_once(findings: &mut Vec<Finding>) {
    let mut seen: HashSet<(Span, String)> = HashSet::default();
    findings.retain(|finding| {
        &*finding.rule != Id::MissingProperty.word() || seen.insert((finding.span, finding.message.clone()))
    });
}

/// A property that is missing in a library file is reported where this file uses the material: that is where its author
/// looks, and the library may be one that ships with the tool.
pub(super) fn place_where_used(finding: &mut Finding, facts: &FileFacts, source: &Source, included: &[Arc<Source>]) {
    if finding.span.file == source.id || &*finding.rule != Id::MissingProperty.word() {
        return;
    }
    let Some(name) = finding.subject.first() else { return };
    let in_details = facts.details.iter().flat_map(|facts| {
        let detail = &facts.detail;
        let pieces = detail.pieces.iter().map(|p| (&p.material.name, p.material_span));
        let beads = detail.seals.iter().map(|s| (&s.sealant.name, s.sealant_span));
        let fields = detail.fastenings.iter().map(|f| (&f.fastener.name, f.fastener_span));
        let joins = detail.joins.iter().map(|j| (&j.assembly.name, j.span));
        let item = detail.name.clone();
        pieces.chain(beads).chain(fields).chain(joins).map(move |(material, span)| (material, span, item.clone()))
    });
    let in_assemblies = facts.assemblies.iter().flat_map(|facts| {
        facts.assembly.layers.iter().flat_map(|layer| {
            let frame = layer.between.iter().map(|frame| (&frame.material.name, frame.span));
            let item = facts.assembly.name.clone();
            std::iter::once((&layer.material.name, layer.material_span))
                .chain(frame)
                .map(move |(m, s)| (m, s, item.clone()))
        })
    });
    let home: Option<(Span, Name)> =
        in_assemblies.chain(in_details).find(|(used, ..)| *used == name).map(|(_, span, item)| (span, item));
    if let Some((span, item)) = home {
        if included.iter().any(|text| text.id == finding.span.file && is_builtin(&text.name)) {
            finding.fix = Some(define_own(name).into());
        }
        finding.span = span;
        finding.item = Some(item);
    }
}
