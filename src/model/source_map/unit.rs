//! A file resolved with its fragments, over the names of what it includes.

use std::sync::Arc;

use foldhash::HashSet;

use crate::model::library::Twice;
use crate::model::resolve::{self, ItemKind, Reporter, defines};
use crate::model::source_map::{Fragment, IncludedText, Reader};
use crate::model::{Library, Name, Namespace};
use crate::syntax::{Diagnostics, Document};
use crate::text::{FileId, Source, Span};

/// An included file resolved with what it includes itself.
pub(super) struct Alone {
    pub(super) library: Library,
    /// Names that it mentions and that its own tree does not give.
    pub(super) missing: Vec<(ItemKind, Name)>,
    /// Fragments that it was resolved with.
    pub(super) taken: Vec<FileId>,
    /// Files that it was resolved over.
    pub(super) base: Vec<FileId>,
}

/// The names of several files as one namespace.
pub(super) struct MergedNames {
    pub(super) names: Arc<Namespace>,
    pub(super) twice: Vec<Twice>,
}

/// A file and its fragments in one namespace.
pub(super) struct ResolvedFile {
    pub(super) library: Library,
    pub(super) missing: Vec<(ItemKind, Name)>,
    /// What is wrong in the file itself.
    pub(super) problems: Diagnostics,
    pub(super) fragments: Vec<Fragment>,
    /// The included files that are complete on their own.
    pub(super) base: Vec<Arc<IncludedText>>,
}

impl Reader<'_, '_> {
    /// An included file over the names of what it includes itself. Never asked for a file that includes itself on some
    /// way: two threads would wait for each other.
    pub(super) fn alone<'k>(&self, kept: &'k IncludedText) -> &'k Alone {
        kept.alone.get_or_init(|| {
            let tree = self.tree(&kept.source.name, &kept.includes, &mut Diagnostics::default()).texts;
            let unit = self.unit(&kept.source, &kept.document, Diagnostics::default(), None, &tree);
            let taken = unit.fragments.iter().map(|part| part.source.id).collect();
            let base = unit.base.iter().map(|kept| kept.source.id).collect();
            Alone { library: unit.library, missing: unit.missing, taken, base }
        })
    }

    /// Resolves a file together with the fragments that it includes, over the names of all else that it includes.
    pub(super) fn unit(
        &self,
        source: &Source,
        document: &Document,
        problems: Diagnostics,
        lost: Option<Span>,
        tree: &[Arc<IncludedText>],
    ) -> ResolvedFile {
        let (fragments, base) = self.parts(source, document, tree);
        let names = self.merge(&base).names.clone();
        let mut parts: Vec<resolve::PendingDocument<'_>> = fragments
            .iter()
            .map(|kept| resolve::PendingDocument {
                document: &kept.document,
                reporter: Reporter::new(&kept.source, kept.problems.clone(), None),
            })
            .collect();
        parts.push(resolve::PendingDocument { document, reporter: Reporter::new(source, problems, lost) });
        let library = resolve::resolve(&mut parts, names, self.map.words);
        let missing = parts.iter_mut().flat_map(|part| std::mem::take(&mut part.reporter.missing)).collect();
        let problems = parts.pop().map_or_else(Diagnostics::default, |own| own.reporter.finish());
        let fragments = parts
            .into_iter()
            .zip(&fragments)
            .map(|(part, kept)| Fragment {
                source: kept.source.clone(),
                library: library.of_file(kept.source.id),
                findings: part.reporter.finish().finish(kept.source.id),
            })
            .collect();
        ResolvedFile { library, missing, problems, fragments, base }
    }

    /// Splits an include tree into fragments, which lack a name that another file of the tree gives, and files that stand
    /// on their own. An undefined name does not make a fragment: it is a mistake, reported once.
    pub(super) fn parts(
        &self,
        source: &Source,
        document: &Document,
        tree: &[Arc<IncludedText>],
    ) -> (Vec<Arc<IncludedText>>, Vec<Arc<IncludedText>>) {
        let circular: Vec<bool> = tree.iter().map(|kept| self.reach(kept).circular).collect();
        let suspects =
            tree.iter().zip(&circular).any(|(kept, circular)| *circular || !self.alone(kept).missing.is_empty());
        let given: HashSet<(ItemKind, &str)> = match suspects {
            false => HashSet::default(),
            true => {
                let others = tree.iter().flat_map(|kept| defines(&kept.document, &kept.source));
                others.chain(defines(document, source)).collect()
            }
        };
        let lacks =
            |kept: &IncludedText| self.alone(kept).missing.iter().any(|(kind, name)| given.contains(&(*kind, &**name)));
        let (mut fragments, mut base): (Vec<Arc<IncludedText>>, Vec<Arc<IncludedText>>) = (Vec::new(), Vec::new());
        let mut known: HashSet<FileId> = HashSet::default();
        for (kept, circular) in tree.iter().zip(circular) {
            // Whatever stands on a fragment reads as that one does here. What is included comes before its includer.
            let stands_on_one = |kept: &IncludedText| self.alone(kept).base.iter().any(|id| known.contains(id));
            match circular || lacks(kept) || stands_on_one(kept) {
                true => {
                    known.insert(kept.source.id);
                    fragments.push(kept.clone());
                }
                false => base.push(kept.clone()),
            }
        }
        // A fragment that a file of the base was resolved with is part of that.
        let taken: HashSet<FileId> = base.iter().flat_map(|kept| &self.alone(kept).taken).copied().collect();
        fragments.retain(|kept| !taken.contains(&kept.source.id));
        (fragments, base)
    }

    /// The names of several files as one namespace; what two of them give, the first keeps.
    pub(super) fn merge(&self, base: &[Arc<IncludedText>]) -> Arc<MergedNames> {
        let key: Vec<FileId> = base.iter().map(|kept| kept.source.id).collect();
        if let Some(known) = self.shelf.merged.lock().expect("no thread panics here").get(&key) {
            return known.clone();
        }
        let (mut names, mut twice) = (Namespace::default(), Vec::new());
        for kept in base {
            twice.extend(names.add(&self.alone(kept).library.own));
        }
        let made = Arc::new(MergedNames { names: Arc::new(names), twice });
        self.shelf.merged.lock().expect("no thread panics here").entry(key).or_insert(made).clone()
    }
}
