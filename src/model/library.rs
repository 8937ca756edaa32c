//! All that the include tree of one file names.

use std::sync::Arc;

use foldhash::HashMap;

use crate::model::{Assembly, Climate, Detail, Material, Name};
use crate::text::{FileId, Span};

/// By name. Each piece of each detail is looked up here, which the usual hasher makes slow.
pub(in crate::model) type NameMap<T> = HashMap<Name, T>;

/// What one file defines, in the order of its text, over the names of all that it includes.
/// What is included is shared by the files that include it, not copied.
#[derive(Clone, Debug, Default)]
pub struct Library {
    pub materials: Vec<Arc<Material>>,
    pub climates: Vec<Arc<Climate>>,
    pub assemblies: Vec<Arc<Assembly>>,
    pub details: Vec<Arc<Detail>>,
    pub sets: Vec<Arc<Set>>,
    /// Names of this file.
    pub(in crate::model) own: Namespace,
    /// Names of what it includes.
    pub(in crate::model) base: Arc<Namespace>,
}

/// One flat namespace for each kind of item.
#[derive(Clone, Debug, Default)]
pub struct Namespace {
    pub(in crate::model) materials: NameMap<Arc<Material>>,
    pub(in crate::model) climates: NameMap<Arc<Climate>>,
    pub(in crate::model) assemblies: NameMap<Arc<Assembly>>,
    /// Where the name of each detail stands.
    pub(in crate::model) details: NameMap<Span>,
}

/// Stock materials whose names were changed: who still writes the old one means the new one.
const RENAMED: [(&str, &str); 2] = [("wrap-tight", "wrap-coated"), ("smart-retarder", "responsive-retarder")];

impl Library {
    /// A material of this file or of one that it includes.
    pub fn material(&self, name: &str) -> Option<&Arc<Material>> {
        let given = |name: &str| self.own.materials.get(name).or_else(|| self.base.materials.get(name));
        given(name).or_else(|| RENAMED.iter().find(|(old, _)| *old == name).and_then(|(_, new)| given(new)))
    }

    pub fn climate(&self, name: &str) -> Option<&Arc<Climate>> {
        self.own.climates.get(name).or_else(|| self.base.climates.get(name))
    }

    pub fn assembly(&self, name: &str) -> Option<&Arc<Assembly>> {
        self.own.assemblies.get(name).or_else(|| self.base.assemblies.get(name))
    }

    /// Every material that the file may name, its own and the included ones, in alphabetical order.
    pub fn all_materials(&self) -> Vec<&Arc<Material>> {
        let mut all: Vec<_> = self.own.materials.values().chain(self.base.materials.values()).collect();
        all.sort_by(|a, b| a.name.cmp(&b.name));
        all
    }

    /// Every assembly that the file may name, in alphabetical order.
    pub fn all_assemblies(&self) -> Vec<&Arc<Assembly>> {
        let mut all: Vec<_> = self.own.assemblies.values().chain(self.base.assemblies.values()).collect();
        all.sort_by(|a, b| a.name.cmp(&b.name));
        all
    }

    /// Every climate that the file may name, in alphabetical order.
    pub fn all_climates(&self) -> Vec<&Arc<Climate>> {
        let mut all: Vec<_> = self.own.climates.values().chain(self.base.climates.values()).collect();
        all.sort_by(|a, b| a.name.cmp(&b.name));
        all
    }
}

impl Library {
    /// The items that one file of a tree defines, with the names of the whole tree.
    pub(in crate::model) fn of_file(&self, file: FileId) -> Library {
        Library {
            materials: self.materials.iter().filter(|m| m.name_span.file == file).cloned().collect(),
            climates: self.climates.iter().filter(|c| c.name_span.file == file).cloned().collect(),
            assemblies: self.assemblies.iter().filter(|a| a.name_span.file == file).cloned().collect(),
            details: self.details.iter().filter(|d| d.name_span.file == file).cloned().collect(),
            sets: self.sets.iter().filter(|s| s.span.file == file).cloned().collect(),
            own: self.own.clone(),
            base: self.base.clone(),
        }
    }
}

/// A name that two files give.
#[derive(Clone, Debug)]
pub(in crate::model) struct Twice {
    pub kind: &'static str,
    pub name: Name,
    pub first: Span,
    pub second: Span,
}

impl Namespace {
    /// Takes over the names that it does not have yet, and gives those that it has from another place, in the order of
    /// the text.
    pub(in crate::model) fn add(&mut self, other: &Namespace) -> Vec<Twice> {
        let mut twice = take(&mut self.materials, &other.materials, "material", |m| m.name_span);
        twice.extend(take(&mut self.climates, &other.climates, "climate", |c| c.name_span));
        twice.extend(take(&mut self.assemblies, &other.assemblies, "assembly", |a| a.name_span));
        twice.extend(take(&mut self.details, &other.details, "detail", |span| *span));
        twice.sort_by_key(|twice| twice.second);
        twice
    }
}

fn take<T: Clone>(into: &mut NameMap<T>, from: &NameMap<T>, kind: &'static str, place: fn(&T) -> Span) -> Vec<Twice> {
    let mut twice = Vec::new();
    for (name, value) in from {
        match into.get(name).map(place) {
            None => drop(into.insert(name.clone(), value.clone())),
            Some(first) if first == place(value) => {}
            Some(first) => twice.push(Twice { kind, name: name.clone(), first, second: place(value) }),
        }
    }
    twice
}

/// What a drawing set has to contain.
#[derive(Clone, Debug)]
pub struct Set {
    pub title: Option<String>,
    pub needs: Vec<Need>,
    pub span: Span,
}

#[derive(Clone, Debug)]
pub struct Need {
    pub kind: Name,
    /// One or two assemblies, in either order.
    pub assemblies: Vec<Arc<Assembly>>,
    pub span: Span,
}
