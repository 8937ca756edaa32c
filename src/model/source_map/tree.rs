//! What the includes of a file reach.

use std::sync::Arc;

use foldhash::HashSet;

use crate::model::Message;
use crate::model::include::Include;
use crate::model::message::no_text;
use crate::model::reach::{IncludeReach, reach};
use crate::model::source_map::{IncludedText, Reader};
use crate::syntax::Diagnostics;
use crate::text::{FileId, Span};

/// The most files that may include each other in a row or in a circle. No library needs more, and what each of
/// them brings would be gone through for all before it.
const DEEPEST: usize = 50;

/// What a file includes.
pub(super) struct Tree {
    /// Each text once, included files before their includers.
    pub(super) texts: Vec<Arc<IncludedText>>,
    /// Each include led to a text.
    pub(super) whole: bool,
    /// An include of the file itself that failed.
    pub(super) lost: Option<Span>,
}

impl Reader<'_, '_> {
    /// Every file that the includes reach. Reports includes that fail.
    pub(super) fn tree(&self, name: &str, includes: &[Include], problems: &mut Diagnostics) -> Tree {
        let mut tree = Tree { texts: Vec::new(), whole: true, lost: None };
        let mut seen: HashSet<String> = HashSet::from_iter([name.to_owned()]);
        for include in includes {
            match self.follow(include, &mut seen, &mut tree.texts, &mut tree.whole) {
                Ok(leads_back) if !leads_back.contains(name) => {}
                Ok(_) => problems.add(Message::CircularInclude.at(include.span)),
                Err(why) => {
                    tree.whole = false;
                    tree.lost = Some(include.span);
                    let path = include.path.as_deref().ok();
                    let near = path.and_then(|path| self.map.near.and_then(|near| near(path, name)));
                    let why = no_text::near(&why, near.as_deref());
                    problems.add(Message::FailedInclude { why: &why, path }.at(include.span));
                }
            }
        }
        tree
    }

    /// Adds the files that an include reaches; returns the paths that it met again.
    pub(super) fn follow(
        &self,
        include: &Include,
        seen: &mut HashSet<String>,
        tree: &mut Vec<Arc<IncludedText>>,
        whole: &mut bool,
    ) -> Result<HashSet<String>, String> {
        let path = include.path.clone()?;
        let mut again = HashSet::default();
        if !seen.insert(path.clone()) {
            again.insert(path);
            return Ok(again);
        }
        let first = self.keep(&path)?;
        if self.reach(&first).deep > DEEPEST {
            return Err(no_text::too_deep(DEEPEST));
        }
        let mut met: HashSet<FileId> = tree.iter().map(|kept| kept.source.id).collect();
        if !met.insert(first.source.id) {
            return Ok(again);
        }
        // Depth first by hand, as the reach is found.
        let mut open: Vec<(Arc<IncludedText>, usize)> = vec![(first, 0)];
        while let Some((kept, next)) = open.last_mut() {
            let Some(include) = kept.includes.get(*next) else {
                tree.extend(open.pop().map(|(kept, _)| kept));
                continue;
            };
            *next += 1;
            let Ok(path) = &include.path else {
                *whole = false;
                continue;
            };
            if !seen.insert(path.clone()) {
                again.insert(path.clone());
            } else if let Ok(kept) = self.keep(path) {
                // Through links, it may be a file that was met under another path.
                if met.insert(kept.source.id) {
                    open.push((kept, 0));
                }
            } else {
                // What that file cannot include is reported when it is read itself.
                *whole = false;
            }
        }
        Ok(again)
    }

    pub(super) fn reach(&self, kept: &IncludedText) -> IncludeReach {
        if let Some(known) = kept.reach.get() {
            return *known;
        }
        let leads = |path: &String| match self.keep(path) {
            Ok(kept) => kept.includes.iter().filter_map(|include| include.path.clone().ok()).collect(),
            Err(_) => Vec::new(),
        };
        let known = |path: &String| match self.keep(path) {
            Ok(kept) => kept.reach.get().copied(),
            Err(_) => Some(IncludeReach { circular: false, deep: 0 }),
        };
        // The texts are read before the others have to wait.
        let (mut seen, mut open) = (HashSet::default(), vec![kept.path.clone()]);
        while let Some(path) = open.pop() {
            if known(&path).is_none() && seen.insert(path.clone()) {
                open.extend(leads(&path));
            }
        }
        let _held = self.shelf.reaching.lock().expect("no thread panics here");
        if kept.reach.get().is_none() {
            reach(kept.path.clone(), leads, known, |path, reach| {
                if let Ok(kept) = self.keep(path) {
                    kept.reach.get_or_init(|| reach);
                }
            });
        }
        kept.reach.get().copied().unwrap_or(IncludeReach { circular: false, deep: 1 })
    }
}
