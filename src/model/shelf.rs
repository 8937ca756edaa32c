//! What a run shares between its files: each included text is read, parsed and resolved once.

use std::collections::{HashMap, HashSet};
use std::sync::{Arc, Mutex, OnceLock};

use crate::finding::Finding;
use crate::model::builtin::builtin;
use crate::model::resolve::{self, Voice};
use crate::model::{Library, Names, Words};
use crate::syntax::{self, Clause, Document, Keyword, Problem, Problems, unquoted};
use crate::text::{FileId, Source, Span, nearest};

/// Gives the text of an included file by its path (the includer's folder and the include put together, `..` resolved),
/// or says in words why it cannot be had.
pub type Fetch<'a> = dyn Fn(&str) -> Result<Arc<Source>, String> + Sync + 'a;

/// The texts that the files of a run include.
pub struct Shelf<'a> {
    fetch: &'a Fetch<'a>,
    words: &'a Words,
    kept: Mutex<HashMap<String, Arc<Place>>>,
    merged: Mutex<HashMap<Vec<FileId>, Arc<Names>>>,
}

/// One file with all that it includes, resolved.
pub struct Reading {
    pub source: Arc<Source>,
    /// What this file defines, over the names of what it includes.
    pub library: Library,
    /// Of this file's text only: an included file is told of when it is read itself.
    pub findings: Vec<Finding>,
    /// The texts of all that it includes, directly or not.
    pub included: Vec<Arc<Source>>,
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
    source: Arc<Source>,
    document: Document,
    includes: Vec<Include>,
    alone: OnceLock<Alone>,
}

/// An include with what it leads to.
struct Include {
    span: Span,
    path: Result<String, String>,
}

/// A file resolved over the names of what it includes itself.
struct Alone {
    library: Library,
    fragment: bool,
}

impl<'a> Shelf<'a> {
    pub fn new(fetch: &'a Fetch<'a>, words: &'a Words) -> Shelf<'a> {
        Shelf { fetch, words, kept: Mutex::default(), merged: Mutex::default() }
    }

    /// Reads a file and all that it includes. Never fails: what is wrong is a finding.
    pub fn read(&self, source: Arc<Source>) -> Reading {
        let (document, mut findings) = syntax::parse(&source);
        let includes = includes(&document, &source);
        let mut problems = Problems::default();
        let tree = self.tree(&source.name, &includes, &mut problems);
        let fragments: Vec<usize> = (0..tree.len()).filter(|n| self.alone(&tree[*n]).fragment).collect();
        let mut reading = if fragments.is_empty() {
            let base = self.merge(&tree);
            self.told_twice(&source, &includes, &tree, &mut problems);
            let (library, found, fragment) = self.resolve(&source, &document, base);
            problems.list.extend(found);
            Reading { library, fragment, fragments: Vec::new(), ..Reading::of(&source) }
        } else {
            self.together(&source, &document, &tree, &fragments, &mut problems)
        };
        findings.extend(problems.finish(source.id));
        reading.findings = findings;
        reading.included = tree.iter().map(|kept| kept.source.clone()).collect();
        reading
    }

    /// All that the includes lead to, each once, what is included before its includer. Says what leads nowhere.
    fn tree(&self, name: &str, includes: &[Include], problems: &mut Problems) -> Vec<Arc<Kept>> {
        let mut tree: Vec<Arc<Kept>> = Vec::new();
        let mut seen: HashSet<String> = HashSet::from([name.to_owned()]);
        for include in includes {
            match self.follow(include, &mut seen, &mut tree) {
                Ok(leads_back) if !leads_back.contains(name) => {}
                Ok(_) => problems.add(
                    Problem::IncludeFailed,
                    Problem::IncludeFailed
                        .at(include.span, "this include leads back to this file")
                        .fix("Move what both files need into a third one, and let both include that."),
                ),
                Err(why) => {
                    let mut finding =
                        Problem::IncludeFailed.at(include.span, format!("this cannot be included: {why}"));
                    if let Some(close) = include.path.as_ref().ok().and_then(|path| near_builtin(path)) {
                        finding = finding.fix(format!("The built-in library is called \"{close}\"."));
                    }
                    problems.add(Problem::IncludeFailed, finding);
                }
            }
        }
        tree
    }

    /// Adds what an include leads to; gives the paths that were met on the way and known before.
    fn follow(
        &self,
        include: &Include,
        seen: &mut HashSet<String>,
        tree: &mut Vec<Arc<Kept>>,
    ) -> Result<HashSet<String>, String> {
        let path = include.path.clone()?;
        let mut again = HashSet::new();
        if !seen.insert(path.clone()) {
            again.insert(path);
            return Ok(again);
        }
        // Depth first by hand: a chain of includes can be longer than the stack is deep.
        let mut open: Vec<(Arc<Kept>, usize)> = vec![(self.keep(&path)?, 0)];
        while let Some((kept, next)) = open.last_mut() {
            let Some(include) = kept.includes.get(*next) else {
                tree.extend(open.pop().map(|(kept, _)| kept));
                continue;
            };
            *next += 1;
            let Ok(path) = &include.path else { continue };
            if !seen.insert(path.clone()) {
                again.insert(path.clone());
            } else if let Ok(kept) = self.keep(path) {
                // What cannot be included there is told when that file is read itself.
                open.push((kept, 0));
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
            let (document, _) = syntax::parse(&source);
            let includes = includes(&document, &source);
            Ok(Arc::new(Kept { source, document, includes, alone: OnceLock::new() }))
        })
        .clone()
    }

    fn alone<'k>(&self, kept: &'k Kept) -> &'k Alone {
        kept.alone.get_or_init(|| {
            let tree = self.tree(&kept.source.name, &kept.includes, &mut Problems::default());
            let (library, _, fragment) = self.resolve(&kept.source, &kept.document, self.merge(&tree));
            Alone { library, fragment }
        })
    }

    fn resolve(&self, source: &Source, document: &Document, base: Arc<Names>) -> (Library, Vec<Finding>, bool) {
        let mut parts = [resolve::Part { document, voice: Voice::new(source) }];
        let library = resolve::resolve(&mut parts, base, self.words);
        let [part] = parts;
        let fragment = !part.voice.missing.is_empty();
        (library, part.voice.problems.finish(source.id), fragment)
    }

    /// The names of several files as one namespace; what two of them give, the first keeps.
    fn merge(&self, tree: &[Arc<Kept>]) -> Arc<Names> {
        let key: Vec<FileId> = tree.iter().map(|kept| kept.source.id).collect();
        if let Some(known) = self.merged.lock().expect("no thread panics here").get(&key) {
            return known.clone();
        }
        let mut names = Names::default();
        for kept in tree {
            names.add(&self.alone(kept).library.own);
        }
        let mut merged = self.merged.lock().expect("no thread panics here");
        merged.entry(key).or_insert_with(|| Arc::new(names)).clone()
    }

    /// Names that two included files give, told at the include that brings the second.
    fn told_twice(&self, source: &Source, includes: &[Include], tree: &[Arc<Kept>], problems: &mut Problems) {
        if includes.len() < 2 {
            return;
        }
        let mut first: HashMap<(&str, &str), Span> = HashMap::new();
        let mut at = includes.iter().filter(|include| include.path.is_ok());
        let mut include = at.next();
        for kept in tree {
            for (kind, name, span) in self.alone(kept).library.own.all() {
                let Some(earlier) = first.insert((kind, name), span) else { continue };
                let place = include.map_or(Span::new(source.id, 0, 0), |include| include.span);
                problems.add(
                    Problem::DuplicateName,
                    Problem::DuplicateName
                        .at(place, format!("what is included gives the {kind} `{name}` twice"))
                        .about([name.into()])
                        .related(earlier, "here is the first one")
                        .related(span, "and here the second")
                        .fix("Give one of the two another name."),
                );
            }
            // The tree holds an include's own file last of all that the include brings.
            if include.is_some_and(|i| i.path.as_deref() == Ok(kept.source.name.as_str())) {
                include = at.next();
            }
        }
    }

    /// All files of a tree in one namespace: what a fragment lacks, another file of the tree may give.
    fn together(
        &self,
        source: &Arc<Source>,
        document: &Document,
        tree: &[Arc<Kept>],
        fragments: &[usize],
        problems: &mut Problems,
    ) -> Reading {
        let mut parts: Vec<resolve::Part<'_>> = tree
            .iter()
            .map(|kept| resolve::Part { document: &kept.document, voice: Voice::new(&kept.source) })
            .collect();
        parts.push(resolve::Part { document, voice: Voice::new(source) });
        let all = resolve::resolve(&mut parts, Arc::default(), self.words);
        let own = parts.pop().expect("this file was pushed last");
        let fragment = !own.voice.missing.is_empty();
        problems.list.extend(own.voice.problems.finish(source.id));
        let mut found: Vec<Option<Vec<Finding>>> =
            parts.into_iter().zip(tree).map(|(part, kept)| Some(part.voice.problems.finish(kept.source.id))).collect();
        let fragments = fragments
            .iter()
            .map(|n| {
                let source = tree[*n].source.clone();
                let (_, mut findings) = syntax::parse(&source);
                findings.extend(found[*n].take().unwrap_or_default());
                Fragment { library: all.of_file(source.id), source, findings }
            })
            .collect();
        Reading { library: all.of_file(source.id), fragment, fragments, ..Reading::of(source) }
    }
}

impl Reading {
    fn of(source: &Arc<Source>) -> Reading {
        Reading {
            source: source.clone(),
            library: Library::default(),
            findings: Vec::new(),
            included: Vec::new(),
            fragment: false,
            fragments: Vec::new(),
        }
    }
}

/// The includes of a text. A built-in library is meant by its own name, everything else from the includer's folder.
fn includes(document: &Document, source: &Source) -> Vec<Include> {
    let statements = document.items.iter().map(|item| &item.head).filter(|head| head.keyword == Keyword::Include);
    let texts = statements.flat_map(|head| &head.clauses).filter_map(|part| match part.clause {
        Clause::Text(span) => Some(span),
        _ => None,
    });
    texts.map(|span| Include { span, path: path(&unquoted(source.at(span)), &source.name) }).collect()
}

fn path(include: &str, includer: &str) -> Result<String, String> {
    if include.trim().is_empty() {
        return Err("it names no file".into());
    }
    if builtin(include).is_some() {
        return Ok(include.to_owned());
    }
    if include.starts_with('/') || include.contains('\\') || include.contains('\0') || include.get(1..2) == Some(":") {
        return Err("an include is a path from the folder of this file, with `/` between its parts".into());
    }
    let folder = includer.rsplit_once('/').map_or("", |(folder, _)| folder);
    let mut parts: Vec<&str> = Vec::new();
    let rooted = folder.starts_with('/');
    for part in folder.split('/').chain(include.split('/')) {
        match part {
            "" | "." => {}
            ".." if parts.last().is_some_and(|last| *last != "..") => {
                parts.pop();
            }
            part => parts.push(part),
        }
    }
    Ok(format!("{}{}", if rooted { "/" } else { "" }, parts.join("/")))
}

fn near_builtin(path: &str) -> Option<&'static str> {
    let wanted = path.rsplit_once('/').map_or(path, |(_, last)| last);
    let known: Vec<&'static str> = crate::model::builtin::names().collect();
    let last = |name: &'static str| name.rsplit_once('/').map_or(name, |(_, last)| last);
    let close = nearest(wanted, known.iter().map(|name| last(name)))?;
    known.into_iter().find(|name| last(name) == close)
}
