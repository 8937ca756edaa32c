//! The names that can be meant at one place of an include tree.

use std::sync::Arc;

use foldhash::HashMap;

use crate::finding::Id;
use crate::model::resolve::Reporter;
use crate::model::{
    Assembly, Climate, Controls, Library, Material, MaterialKind, Message, Name, Namespace, Use, Words,
};
use crate::text::Span;

/// What a name can be the name of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ItemKind {
    Material,
    Climate,
    Assembly,
    DetailKind,
    Surface,
    Substance,
    Adhesive,
    Role,
    Rule,
}

impl ItemKind {
    /// Files define it, so another file of the tree may define it too.
    pub fn shared(self) -> bool {
        matches!(self, ItemKind::Material | ItemKind::Climate | ItemKind::Assembly)
    }
}

pub(in crate::model) struct Scope<'a> {
    pub library: Library,
    pub words: &'a Words,
    /// Stand-ins for undefined materials.
    placeholders: HashMap<Name, Arc<Material>>,
}

impl<'a> Scope<'a> {
    pub fn new(base: Arc<Namespace>, words: &'a Words) -> Scope<'a> {
        Scope { library: Library { base, ..Library::default() }, words, placeholders: HashMap::default() }
    }

    /// The material of a name; a stand-in without a kind when it is undefined.
    pub fn material(&mut self, reporter: &mut Reporter<'_>, span: Span) -> Arc<Material> {
        let text = reporter.text(span);
        if let Some(known) = self.library.material(text) {
            return known.clone();
        }
        let (own, base) = (&self.library.own.materials, &self.library.base.materials);
        reporter.unknown(ItemKind::Material, span, own.keys().chain(base.keys()).map(|name| &**name));
        let name = Name::from(text);
        let placeholder = || Arc::new(blank(name.clone(), span));
        self.placeholders.entry(name.clone()).or_insert_with(placeholder).clone()
    }

    /// A material that has to be of some kind for its use.
    pub fn material_for(&mut self, reporter: &mut Reporter<'_>, span: Span, used: Use) -> Arc<Material> {
        let material = self.material(reporter, span);
        let wrong = match (material.kind, used.kind()) {
            (None, _) => false,
            (kind, None) => kind == Some(MaterialKind::Fastener),
            (kind, wanted) => kind != wanted,
        };
        if wrong {
            reporter.report(span, Message::WrongKind { material: &material, used });
        }
        material
    }

    pub fn climate(&mut self, reporter: &mut Reporter<'_>, span: Span) -> Option<Arc<Climate>> {
        if let Some(known) = self.library.climate(reporter.text(span)) {
            return Some(known.clone());
        }
        let (own, base) = (&self.library.own.climates, &self.library.base.climates);
        reporter.unknown(ItemKind::Climate, span, own.keys().chain(base.keys()).map(|name| &**name));
        None
    }

    pub fn assembly(&mut self, reporter: &mut Reporter<'_>, span: Span) -> Option<Arc<Assembly>> {
        if let Some(known) = self.library.assembly(reporter.text(span)) {
            return Some(known.clone());
        }
        let (own, base) = (&self.library.own.assemblies, &self.library.base.assemblies);
        reporter.unknown(ItemKind::Assembly, span, own.keys().chain(base.keys()).map(|name| &**name));
        None
    }

    /// A word of a list that the rules give; an empty list knows nothing and refuses nothing.
    pub fn listed(&self, reporter: &mut Reporter<'_>, kind: ItemKind, span: Span) -> Name {
        let text = reporter.text(span);
        let words = self.words;
        let (known, any) = match kind {
            ItemKind::DetailKind => {
                (words.kinds.get_key_value(text).map(|(name, _)| name.clone()), !words.kinds.is_empty())
            }
            kind => {
                let list = self.list(kind);
                (list.iter().find(|w| &***w == text).cloned(), !list.is_empty())
            }
        };
        if kind == ItemKind::Rule && Id::from_word(text).is_some_and(Id::of_text) {
            reporter.report(span, Message::CannotWaive { rule: text });
        } else if known.is_none() && any {
            let list: Vec<&str> = match kind {
                ItemKind::DetailKind => words.kinds.keys().map(|w| &**w).collect(),
                kind => self.list(kind).iter().map(|w| &**w).collect(),
            };
            reporter.unknown(kind, span, list);
        }
        known.unwrap_or_else(|| Name::from(text))
    }

    fn list(&self, kind: ItemKind) -> &[Name] {
        let words = self.words;
        match kind {
            ItemKind::Surface => &words.surfaces,
            ItemKind::Substance => &words.substances,
            ItemKind::Adhesive => &words.adhesives,
            ItemKind::Role => &words.roles,
            _ => &words.rules,
        }
    }
}

/// A material of which nothing is known but its name.
pub(in crate::model) fn blank(name: Name, span: Span) -> Material {
    Material {
        name,
        kind: None,
        title: None,
        holds: Controls::NONE,
        holds_span: None,
        thickness: None,
        vapor: None,
        conductivity: None,
        resistance: None,
        resistance_per: None,
        density: None,
        air_permeance: None,
        sensitive: false,
        surface: None,
        made_of: None,
        adhesive: None,
        applies_above: None,
        uv_limit: None,
        double_sided: false,
        capped: false,
        vented: false,
        drained: false,
        section: None,
        source: None,
        name_span: span,
    }
}
