//! What a run shares between its files: each included text is read, parsed and resolved once.

use std::sync::{Arc, Mutex, OnceLock};

use foldhash::{HashMap, HashSet};

use crate::finding::Finding;
use crate::model::builtin::builtin;
use crate::model::include::{Include, includes};
use crate::model::library::Twice;
use crate::model::message::why;
use crate::model::reach::{Reach, reach};
use crate::model::resolve::{self, ItemKind, Voice, defines};
use crate::model::{Library, Message, Name, Names, Words};
use crate::syntax::{self, Document, Problems};
use crate::text::{FileId, Source, Span};

/// Gives the text of an included file by its path (the includer's folder and the include put together, `..` resolved),
/// or says why it is not available.
pub type Fetch<'a> = dyn Fn(&str) -> Result<Arc<Source>, String> + Sync + 'a;

/// Gives the name of a file beside an include that leads nowhere, for a slip of the hand. Told the path, and the includer.
pub type Near<'a> = dyn Fn(&str, &str) -> Option<String> + Sync + 'a;

/// The texts that the files of a run include.
pub struct Shelf<'a> {
    fetch: &'a Fetch<'a>,
    near: Option<&'a Near<'a>>,
    words: &'a Words,
    kept: Mutex<HashMap<String, Arc<Place>>>,
    merged: Mutex<HashMap<Vec<FileId>, Arc<Merged>>>,
    /// Held while reaches are found: what one thread has found in part would mislead another.
    reaching: Mutex<()>,
}

/// So many files may lie in a row, each including the next, or in a circle. Nobody files a library so, and what each of
/// them brings would be gone through for all before it.
const DEEPEST: usize = 50;

/// One file with all that it includes, resolved.
pub struct Reading {
    pub source: Arc<Source>,
    /// What this file defines, over the names of what it includes.
    pub library: Library,
    /// Of this file's text only: an included file reports its own when it is read.
    pub findings: Vec<Finding>,
    /// The texts of all that it includes, directly or not.
    pub included: Vec<Arc<Source>>,
    /// Each include of its tree led to a text.
    pub whole: bool,
    /// Some of its names have to come from a file that includes it, so that alone it proves nothing.
    pub fragment: bool,
    /// Included fragments, as they read in this file's tree.
    pub fragments: Vec<Fragment>,
}

/// A fragment read with the names of its includer.
pub struct Fragment {
    pub source: Arc<Source>,
    pub library: Library,
    pub findings: Vec<Finding>,
}

/// Where an included text is put by whoever needs it first; or why it cannot be had.
type Place = OnceLock<Result<Arc<Kept>, String>>;

/// An included text.
struct Kept {
    path: String,
    source: Arc<Source>,
    document: Document,
    /// What was found when it was read.
    problems: Problems,
    includes: Vec<Include>,
    reach: OnceLock<Reach>,
    alone: OnceLock<Alone>,
}

/// An included file resolved with what it includes itself.
struct Alone {
    library: Library,
    /// Names that it mentions and that its own tree does not give.
    missing: Vec<(ItemKind, Name)>,
    /// Fragments that it was resolved with.
    taken: Vec<FileId>,
    /// Files that it was resolved over.
    base: Vec<FileId>,
}

/// The names of several files as one namespace.
struct Merged {
    names: Arc<Names>,
    twice: Vec<Twice>,
}

/// What a file includes.
struct Tree {
    /// Each text once, included files before their includers.
    texts: Vec<Arc<Kept>>,
    /// Each include led to a text.
    whole: bool,
    /// An include of the file itself that failed.
    lost: Option<Span>,
}

/// A file and its fragments in one namespace.
struct Unit {
    library: Library,
    missing: Vec<(ItemKind, Name)>,
    /// What is wrong in the file itself.
    problems: Problems,
    fragments: Vec<Fragment>,
    /// The included files that are complete on their own.
    base: Vec<Arc<Kept>>,
}

impl<'a> Shelf<'a> {
    pub fn new(fetch: &'a Fetch<'a>, words: &'a Words) -> Shelf<'a> {
        let (kept, merged, reaching) = (Mutex::default(), Mutex::default(), Mutex::default());
        Shelf { fetch, near: None, words, kept, merged, reaching }
    }

    /// With somebody who knows what lies beside an include that leads nowhere.
    pub fn guessing(self, near: &'a Near<'a>) -> Shelf<'a> {
        Shelf { near: Some(near), ..self }
    }

    /// Reads a file and all that it includes. Never fails: what is wrong is a finding.
    pub fn read(&self, source: Arc<Source>) -> Reading {
        let (document, mut problems) = syntax::read(&source);
        let includes = includes(&document, &source);
        let Tree { texts: tree, whole, lost } = self.tree(&source.name, &includes, &mut problems);
        let mut unit = self.unit(&source, &document, problems, lost, &tree);
        self.told_twice(&includes, &unit.base, &mut unit.problems);
        Reading {
            library: if unit.fragments.is_empty() { unit.library } else { unit.library.of_file(source.id) },
            findings: unit.problems.finish(source.id),
            included: tree.iter().map(|kept| kept.source.clone()).collect(),
            whole,
            fragment: !unit.missing.is_empty(),
            fragments: unit.fragments,
            source,
        }
    }

    /// Every file that the includes reach. Reports includes that fail.
    fn tree(&self, name: &str, includes: &[Include], problems: &mut Problems) -> Tree {
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
                    let near = path.and_then(|path| self.near.and_then(|near| near(path, name)));
                    let why = near.map_or_else(|| why.clone(), |near| format!("{why}; `{near}` is there"));
                    problems.add(Message::FailedInclude { why: &why, path }.at(include.span));
                }
            }
        }
        tree
    }

    /// Adds the files that an include reaches; returns the paths that it met again.
    fn follow(
        &self,
        include: &Include,
        seen: &mut HashSet<String>,
        tree: &mut Vec<Arc<Kept>>,
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
            return Err(why::too_deep(DEEPEST));
        }
        let mut met: HashSet<FileId> = tree.iter().map(|kept| kept.source.id).collect();
        if !met.insert(first.source.id) {
            return Ok(again);
        }
        // Depth first by hand, as the reach is found.
        let mut open: Vec<(Arc<Kept>, usize)> = vec![(first, 0)];
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

    /// The text of a path, fetched and parsed by whoever comes first.
    fn keep(&self, path: &str) -> Result<Arc<Kept>, String> {
        let cell = self.kept.lock().expect("no thread panics here").entry(path.to_owned()).or_default().clone();
        cell.get_or_init(|| {
            let source = match builtin(path) {
                Some(source) => source,
                None => (self.fetch)(path)?,
            };
            let (document, problems) = syntax::read(&source);
            let includes = includes(&document, &source);
            let (reach, alone) = (OnceLock::new(), OnceLock::new());
            Ok(Arc::new(Kept { path: path.to_owned(), source, document, problems, includes, reach, alone }))
        })
        .clone()
    }

    /// An included file over the names of what it includes itself. Never asked for a file that includes itself on some
    /// way: two threads would wait for each other.
    fn alone<'k>(&self, kept: &'k Kept) -> &'k Alone {
        kept.alone.get_or_init(|| {
            let tree = self.tree(&kept.source.name, &kept.includes, &mut Problems::default()).texts;
            let unit = self.unit(&kept.source, &kept.document, Problems::default(), None, &tree);
            let taken = unit.fragments.iter().map(|part| part.source.id).collect();
            let base = unit.base.iter().map(|kept| kept.source.id).collect();
            Alone { library: unit.library, missing: unit.missing, taken, base }
        })
    }

    fn reach(&self, kept: &Kept) -> Reach {
        if let Some(known) = kept.reach.get() {
            return *known;
        }
        let leads = |path: &String| match self.keep(path) {
            Ok(kept) => kept.includes.iter().filter_map(|include| include.path.clone().ok()).collect(),
            Err(_) => Vec::new(),
        };
        let known = |path: &String| match self.keep(path) {
            Ok(kept) => kept.reach.get().copied(),
            Err(_) => Some(Reach { circular: false, deep: 0 }),
        };
        // The texts are read before the others have to wait.
        let (mut seen, mut open) = (HashSet::default(), vec![kept.path.clone()]);
        while let Some(path) = open.pop() {
            if known(&path).is_none() && seen.insert(path.clone()) {
                open.extend(leads(&path));
            }
        }
        let _held = self.reaching.lock().expect("no thread panics here");
        if kept.reach.get().is_none() {
            reach(kept.path.clone(), leads, known, |path, reach| {
                if let Ok(kept) = self.keep(path) {
                    kept.reach.get_or_init(|| reach);
                }
            });
        }
        kept.reach.get().copied().unwrap_or(Reach { circular: false, deep: 1 })
    }

    /// Resolves a file together with the fragments that it includes, over the names of all else that it includes.
    fn unit(
        &self,
        source: &Source,
        document: &Document,
        problems: Problems,
        lost: Option<Span>,
        tree: &[Arc<Kept>],
    ) -> Unit {
        let (fragments, base) = self.parts(source, document, tree);
        let names = self.merge(&base).names.clone();
        let mut parts: Vec<resolve::Part<'_>> = fragments
            .iter()
            .map(|kept| resolve::Part {
                document: &kept.document,
                voice: Voice::new(&kept.source, kept.problems.clone(), None),
            })
            .collect();
        parts.push(resolve::Part { document, voice: Voice::new(source, problems, lost) });
        let library = resolve::resolve(&mut parts, names, self.words);
        let missing = parts.iter_mut().flat_map(|part| std::mem::take(&mut part.voice.missing)).collect();
        let problems = parts.pop().map_or_else(Problems::default, |own| own.voice.finish());
        let fragments = parts
            .into_iter()
            .zip(&fragments)
            .map(|(part, kept)| Fragment {
                source: kept.source.clone(),
                library: library.of_file(kept.source.id),
                findings: part.voice.finish().finish(kept.source.id),
            })
            .collect();
        Unit { library, missing, problems, fragments, base }
    }

    /// Splits an include tree into fragments, which lack a name that another file of the tree gives, and files that stand
    /// on their own. An undefined name does not make a fragment: it is a mistake, reported once.
    fn parts(&self, source: &Source, document: &Document, tree: &[Arc<Kept>]) -> (Vec<Arc<Kept>>, Vec<Arc<Kept>>) {
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
        let lacks = |kept: &Kept| self.alone(kept).missing.iter().any(|(kind, name)| given.contains(&(*kind, &**name)));
        let (mut fragments, mut base): (Vec<Arc<Kept>>, Vec<Arc<Kept>>) = (Vec::new(), Vec::new());
        let mut known: HashSet<FileId> = HashSet::default();
        for (kept, circular) in tree.iter().zip(circular) {
            // Whatever stands on a fragment reads as that one does here. What is included comes before its includer.
            let stands_on_one = |kept: &Kept| self.alone(kept).base.iter().any(|id| known.contains(id));
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
    fn merge(&self, base: &[Arc<Kept>]) -> Arc<Merged> {
        let key: Vec<FileId> = base.iter().map(|kept| kept.source.id).collect();
        if let Some(known) = self.merged.lock().expect("no thread panics here").get(&key) {
            return known.clone();
        }
        let (mut names, mut twice) = (Names::default(), Vec::new());
        for kept in base {
            twice.extend(names.add(&self.alone(kept).library.own));
        }
        let made = Arc::new(Merged { names: Arc::new(names), twice });
        self.merged.lock().expect("no thread panics here").entry(key).or_insert(made).clone()
    }

    /// Names that two included files define, reported at the include of the second.
    fn told_twice(&self, includes: &[Include], base: &[Arc<Kept>], problems: &mut Problems) {
        let merged = self.merge(base);
        if merged.twice.is_empty() {
            return;
        }
        let brought: Vec<HashSet<FileId>> = includes
            .iter()
            .map(|include| {
                let (mut seen, mut tree) = (HashSet::default(), Vec::new());
                let _ = self.follow(include, &mut seen, &mut tree, &mut true);
                tree.iter().map(|kept| kept.source.id).collect()
            })
            .collect();
        let mut bringer: HashMap<FileId, Option<&Include>> = HashMap::default();
        for twice in &merged.twice {
            let file = twice.second.file;
            let find =
                || includes.iter().zip(&brought).rfind(|(_, tree)| tree.contains(&file)).map(|(include, _)| include);
            let Some(include) = *bringer.entry(file).or_insert_with(find) else { continue };
            let (phrase, name) = (twice.kind, &twice.name);
            let message = Message::DuplicateInIncludes { phrase, name, first: twice.first, second: twice.second };
            problems.add(message.at(include.span));
        }
    }
}
